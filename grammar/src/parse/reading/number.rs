//! Numbers and what stands behind them.

use super::{Quantity, Reader, Sign, Token, TokenKind, Word, complaint, figure::figure};
use crate::{
    quantity::Dimension,
    unit::{self, Misspelt, Scale, UnitSymbol},
};

/// A number that is being read, from byte `start` to byte `end`.
#[derive(Clone, Copy)]
pub(super) struct Figure {
    pub(super) start: u32,
    pub(super) end: u32,
    pub(super) value: f64,
}

/// The word behind a number.
#[derive(Clone, Copy)]
pub(super) struct Behind {
    pub(super) token: Token,
    /// How many tokens it and the blank before it are.
    pub(super) tokens: usize,
    pub(super) glued: bool,
}

impl Reader<'_> {
    /// A number; `start` is before the token when a point stands before it.
    pub(super) fn number(&mut self, start: u32, token: Token) {
        let value = figure(self.slice(start, token.end));
        let mut number = Figure { start, end: token.end, value };
        self.at += 1;
        if self.starts {
            self.indent = token.start - self.line_start;
            return self.bare(number);
        }
        if self.date_of_parts(number) || self.digit_first(number) {
            return;
        }
        self.digits(&mut number);
        if self.aught(number) || self.percent(number) || self.hyphened(number) {
            return;
        }
        match self.behind() {
            Some(behind) => self.with_word(number, behind),
            None if self.inch_mark(number) => {}
            None => self.bare(number),
        }
    }

    fn bare(&mut self, number: Figure) {
        if !number.value.is_finite() {
            return self.out_of_range(number.start, number.end);
        }
        let quantity = Quantity { value: number.value, dimension: Dimension::Number, unit: "" };
        self.push_quantity(Sign::Number, number.start, number.end, quantity);
    }

    fn out_of_range(&mut self, start: u32, end: u32) {
        let complaint = complaint::number_range(self.span(start, end), self.slice(start, end));
        self.complain(complaint);
        self.push(Sign::Spoiled, start, end);
    }

    /// The word that may be this number's unit. A word that begins a path, or joins a statement's parts, is not.
    pub(super) fn behind(&self) -> Option<Behind> {
        let (tokens, glued) = match self.kind(0)? {
            TokenKind::Word => (1, true),
            TokenKind::Space if self.kind(1) == Some(TokenKind::Word) => (2, false),
            _ => return None,
        };
        let path =
            self.kind(tokens) == Some(TokenKind::Dot) && self.kind(tokens + 1) == Some(TokenKind::Word);
        let token = self.token(self.at + tokens - 1)?;
        (glued || !path).then_some(Behind { token, tokens, glued })
    }

    /// Whether the token `offset` further on is a unit, a blank before it or not.
    pub(super) fn unit_follows(&self, offset: usize) -> bool {
        let blank = usize::from(self.kind(offset) == Some(TokenKind::Space));
        let token = self.token(self.at + offset + blank).filter(|token| token.kind == TokenKind::Word);
        token.is_some_and(|token| unit::by_spelling(self.slice(token.start, token.end)).is_some())
    }

    fn with_word(&mut self, number: Figure, behind: Behind) {
        let word = self.slice(behind.token.start, behind.token.end);
        let joins = Word::inside(word) != Word::Plain && (word != "in" || !self.inches);
        if joins && !behind.glued {
            return self.bare(number);
        }
        if self.split_prefix(number, behind, word) {
            return;
        }
        if let Some(unit) = unit::by_spelling(word) {
            self.at += behind.tokens;
            let (end, unit) = self.unit_goes_on(number.start, behind.token.end, unit);
            return self.quantity(number, end, unit);
        }
        if self.trapped(number, behind, word) {
            return;
        }
        if is_times(word) {
            return self.parallel(number, behind, word);
        }
        let meant = unit::misspelt(word);
        if meant.is_none() && !behind.glued {
            return self.bare(number);
        }
        self.at += behind.tokens;
        self.wrong_unit(number, behind, word, meant);
    }

    /// A number with its unit, up to byte `end`.
    pub(super) fn quantity(&mut self, number: Figure, end: u32, unit: &'static UnitSymbol) {
        let text = self.slice(number.start, number.end);
        let value =
            if unit.scale == Scale::Awg { aughts(text).unwrap_or(number.value) } else { number.value };
        if unit.scale == Scale::Awg && !is_gauge(value) {
            let complaint =
                complaint::bad_gauge(self.span(number.start, end), self.slice(number.start, end), text);
            self.complain(complaint);
            return self.push(Sign::Spoiled, number.start, end);
        }
        match unit.quantity(value) {
            Some(quantity) => self.push_quantity(Sign::Quantity, number.start, end, quantity),
            None => self.out_of_range(number.start, end),
        }
    }

    fn wrong_unit(&mut self, number: Figure, behind: Behind, word: &str, meant: Option<Misspelt>) {
        let text = self.slice(number.start, number.end);
        let whole = self.span(number.start, behind.token.end);
        if let Some((right, unit)) = resistor_code(text, word).filter(|_| behind.glued) {
            let found = self.slice(number.start, behind.token.end);
            self.complain(complaint::resistor_code(whole, found, &format!("{right} {}", unit.symbol)));
            let value = right.parse().unwrap_or(number.value);
            return self.quantity(Figure { value, ..number }, behind.token.end, unit);
        }
        let place = self.span(behind.token.start, behind.token.end);
        self.complain(complaint::unknown_unit(whole, place, text, word, meant));
        match meant {
            Some(Misspelt::Case(unit) | Misspelt::LongForm(unit) | Misspelt::Typo(unit)) => {
                self.quantity(number, behind.token.end, unit);
            }
            _ => self.push(Sign::Spoiled, number.start, behind.token.end),
        }
    }

    /// `2/0 AWG`, and `3/8 in`: two numbers with a solidus and no blank before a unit that takes such.
    fn aught(&mut self, number: Figure) -> bool {
        if !self.is_solidus(0) || self.kind(1) != Some(TokenKind::Number) {
            return false;
        }
        let Some(bottom) = self.token(self.at + 1) else { return false };
        self.at += 2;
        let below = self.slice(bottom.start, bottom.end);
        let whole = Figure { end: bottom.end, ..number };
        let unit = self.behind().and_then(|behind| {
            Some((behind, unit::by_spelling(self.slice(behind.token.start, behind.token.end))?))
        });
        match unit {
            Some((behind, unit)) if unit.scale == Scale::Awg && below == "0" => {
                self.at += behind.tokens;
                let value = over_zero(number.value);
                self.quantity(Figure { value, ..whole }, behind.token.end, unit);
            }
            Some((behind, unit)) if unit.symbol == "in" && (self.inches || behind.glued) => {
                self.at += behind.tokens;
                let value = number.value / figure(below);
                self.quantity(Figure { value, ..whole }, behind.token.end, unit);
            }
            None if below == "0" && (1.0..=4.0).contains(&number.value) && self.on_a_wire() => {
                self.aught_alone(whole);
            }
            _ => {
                self.at -= 2;
                return false;
            }
        }
        true
    }

    /// Whether the line being read is a wire's or a harness's, where no number stands alone.
    fn on_a_wire(&self) -> bool {
        let first = self.out.all.get(self.first).map(|first| first.sign);
        matches!(first, Some(Sign::Word(Word::Wire | Word::Harness | Word::Cable)))
    }

    /// `1/0` alone can only be a gauge.
    fn aught_alone(&mut self, number: Figure) {
        let found = self.slice(number.start, number.end);
        self.complain(complaint::aught_alone(self.span(number.start, number.end), found));
        match unit::by_spelling("AWG") {
            Some(unit) => self.quantity(Figure { value: 1.0 - number.value, ..number }, number.end, unit),
            None => self.push(Sign::Spoiled, number.start, number.end),
        }
    }

    fn percent(&mut self, number: Figure) -> bool {
        let tokens = match (self.kind(0), self.kind(1)) {
            (Some(TokenKind::Percent), _) => 1,
            (Some(TokenKind::Space), Some(TokenKind::Percent)) => 2,
            _ => return false,
        };
        let (Some(unit), Some(sign)) = (unit::by_spelling("%"), self.token(self.at + tokens - 1)) else {
            return false;
        };
        self.at += tokens;
        self.quantity(number, sign.end, unit);
        true
    }

    /// `4-way`.
    fn hyphened(&mut self, number: Figure) -> bool {
        let (Some(TokenKind::Minus), Some(TokenKind::Word)) = (self.kind(0), self.kind(1)) else {
            return false;
        };
        let Some(word) = self.token(self.at + 1) else { return false };
        let Some(unit) = meant_unit(self.slice(word.start, word.end)) else { return false };
        self.at += 2;
        let right = format!("{} {}", self.slice(number.start, number.end), unit.symbol);
        let found = self.slice(number.start, word.end);
        self.complain(complaint::unit_by_hyphen(self.span(number.start, word.end), found, &right));
        self.quantity(number, word.end, unit);
        true
    }

    /// A quote or prime right behind a number was meant as inches or feet.
    fn inch_mark(&mut self, number: Figure) -> bool {
        let Some(mark) = self.token(self.at) else { return false };
        let first = self.slice(mark.start, mark.end).chars().next().unwrap_or(' ');
        let symbol = match (mark.kind, first) {
            (TokenKind::Text | TokenKind::OpenText, _) | (TokenKind::Unknown, '″' | '”') => "in",
            (TokenKind::Unknown, '\'' | '′' | '’') => "ft",
            _ => return false,
        };
        let Some(unit) = unit::by_spelling(symbol) else { return false };
        let end = mark.start + u32::try_from(first.len_utf8()).unwrap_or(0);
        let right = format!("{} {symbol}", self.slice(number.start, number.end));
        let (whole, found) = (self.span(number.start, end), self.slice(number.start, end));
        self.complain(complaint::inch_mark(whole, self.span(mark.start, end), found, &right));
        self.at += 1;
        self.quantity(number, end, unit);
        true
    }

    /// `AWG 12`, `AWG12`, `AWG 2/0`. Gives whether it was one.
    pub(super) fn gauge_before_number(&mut self, token: Token, text: &str) -> bool {
        let digits = text.get(3..).unwrap_or("");
        let Some(unit) = unit::by_spelling("AWG") else { return false };
        let (mut end, tokens, start) = match (digits.is_empty(), self.kind(1), self.kind(2)) {
            (false, ..) if digits.bytes().all(|byte| byte.is_ascii_digit()) => {
                (token.end, 1, token.start + 3)
            }
            (true, Some(TokenKind::Space), Some(TokenKind::Number)) => match self.token(self.at + 2) {
                Some(number) => (number.end, 3, number.start),
                None => return false,
            },
            _ => return false,
        };
        let zero = self.token(self.at + tokens + 1).filter(|zero| {
            zero.kind == TokenKind::Number
                && self.is_solidus(tokens)
                && self.slice(zero.start, zero.end) == "0"
        });
        let tokens = tokens + if zero.is_some() { 2 } else { 0 };
        if matches!(self.kind(tokens), Some(TokenKind::Dot | TokenKind::Word)) {
            return false;
        }
        self.at += tokens;
        let digits = self.slice(start, end);
        let value = match zero {
            Some(_) => over_zero(figure(digits)),
            None => aughts(digits).unwrap_or_else(|| figure(digits)),
        };
        end = zero.map_or(end, |zero| zero.end);
        if text.starts_with('a') {
            let (whole, place) = (self.span(token.start, end), self.span(token.start, token.start + 3));
            let number = self.slice(start, end);
            self.complain(complaint::unknown_unit(whole, place, number, "awg", Some(Misspelt::Case(unit))));
        }
        let number = Figure { start: token.start, end, value };
        self.quantity(number, end, unit);
        true
    }
}

/// The unit that a word is or is a long form of.
fn meant_unit(word: &str) -> Option<&'static UnitSymbol> {
    unit::by_spelling(word).or_else(|| match unit::misspelt(word) {
        Some(Misspelt::Case(unit) | Misspelt::LongForm(unit)) => Some(unit),
        _ => None,
    })
}

/// `x` or `x18` behind a number.
fn is_times(word: &str) -> bool {
    word.strip_prefix(['x', 'X']).is_some_and(|rest| rest.bytes().all(|byte| byte.is_ascii_digit()))
}

/// The gauge number of `1/0` to `4/0`: 0 to -3. Other numbers over 0 are no gauge.
fn over_zero(number: f64) -> f64 {
    if number >= 1.0 { 1.0 - number } else { f64::NAN }
}

/// `00`, `000` and `0000` as other spellings of `2/0`, `3/0` and `4/0`.
fn aughts(text: &str) -> Option<f64> {
    let count = u8::try_from(text.len()).ok()?;
    (count >= 2 && text.bytes().all(|byte| byte == b'0')).then(|| 1.0 - f64::from(count))
}

fn is_gauge(number: f64) -> bool {
    (unit::THICKEST_AWG..=unit::THINNEST_AWG).contains(&number) && number.fract() == 0.0
}

/// `4k7` is 4.7 kΩ, `0R22` is 0.22 Ω (IEC 60062): the number so meant, and its unit.
fn resistor_code(number: &str, word: &str) -> Option<(String, &'static UnitSymbol)> {
    let digits = word.get(1..).filter(|digits| digits.bytes().all(|byte| byte.is_ascii_digit()))?;
    let symbol = match word.chars().next()? {
        'R' => "Ω",
        'k' | 'K' if !digits.is_empty() => "kΩ",
        'M' if !digits.is_empty() => "MΩ",
        _ => return None,
    };
    let point = if digits.is_empty() { "" } else { "." };
    Some((format!("{number}{point}{digits}"), unit::by_spelling(symbol)?))
}
