//! A text into the tokens of the published grammar, by its productions and rules. The pieces are those of the lexer, so
//! that every token of the page is a whole number of them.

use wattle_grammar::{
    lexer::lex,
    quantity::Dimension,
    token::{Token, TokenKind},
    unit,
};

use super::{
    constraint,
    lines::Lines,
    notation::Expression,
    shape::{Productions, ends, is_a},
};

/// The tokens that are made of names and numbers, in the order of the page.
const COMPOSED: [&str; 5] = ["PATH", "QUANTITY", "PAIR", "NAME", "NUMBER"];

/// A token of the published grammar.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Symbol<'t> {
    /// The name of its production; a mark that stands in quotes has none.
    pub name: &'static str,
    pub text: &'t str,
}

/// Reads a text, or says which rule it breaks.
pub(crate) fn read<'t>(all: &Productions, text: &'t str) -> Result<Vec<Symbol<'t>>, String> {
    let tokens = lex(text);
    let mut reader = Reader {
        all,
        text,
        tokens: &tokens,
        lines: Lines::new(text, &tokens),
        symbols: Vec::new(),
        at: 0,
        inches: true,
        on_a_wire: false,
    };
    while reader.at < tokens.len() {
        reader.step()?;
    }
    let symbols = reader.symbols;
    Ok(symbols)
}

struct Reader<'g, 'k, 't> {
    all: &'g Productions,
    text: &'t str,
    tokens: &'k [Token],
    lines: Lines<'k>,
    symbols: Vec<Symbol<'t>>,
    at: usize,
    /// Whether `in` behind a blank is the inch here.
    inches: bool,
    /// Whether the outermost statement is about wires.
    on_a_wire: bool,
}

impl<'t> Reader<'_, '_, 't>
where
    't: 't,
{
    fn step(&mut self) -> Result<(), String> {
        let kind = self.tokens[self.at].kind;
        match kind {
            TokenKind::Space | TokenKind::Comment => self.at += 1,
            TokenKind::Newline | TokenKind::Semicolon => self.line_end(),
            TokenKind::Word | TokenKind::Number => return self.composed(),
            TokenKind::Plus | TokenKind::Minus => return self.sign(),
            TokenKind::OpenText | TokenKind::Unknown => {
                return Err(format!("no token: {}", self.slice(self.at)));
            }
            _ => return self.mark(kind),
        }
        Ok(())
    }

    fn line_end(&mut self) {
        let behind_comma = self.symbols.last().is_some_and(|symbol| symbol.text == ",");
        if self.lines.ends(self.at, behind_comma) {
            self.symbols.push(Symbol { name: "END", text: self.slice(self.at) });
        }
        self.at += 1;
    }

    /// A token of the lexer that is one of the page, too.
    fn mark(&mut self, kind: TokenKind) -> Result<(), String> {
        let name = name_of(kind);
        let text = self.slice(self.at);
        if !name.is_empty() && !is_a(self.all, name, text) {
            return Err(format!("{text} is no {name}"));
        }
        if kind == TokenKind::Comma && self.symbol_before() == "NUMBER" && self.touches_numbers() {
            return Err("a comma between two numbers".to_owned());
        }
        if kind == TokenKind::Text
            && self.symbol_before() == "NUMBER"
            && self.kind_before() == Some(TokenKind::Number)
        {
            return Err("a text right behind a number".to_owned());
        }
        constraint::of_token(name, text)?;
        self.push(name, 1);
        Ok(())
    }

    /// The longest token that names and numbers make here.
    fn composed(&mut self) -> Result<(), String> {
        let first = self.lines.begins;
        let begin = self.tokens[self.at].start as usize;
        let mut best = ("", begin);
        for name in COMPOSED {
            if first && matches!(name, "QUANTITY" | "PAIR") {
                continue;
            }
            let expression = Expression::Name(name.to_owned());
            let candidates = ends(self.all, &expression, self.text, begin);
            let fitting = candidates.into_iter().filter(|end| self.may_end(name, *end));
            let longest = fitting.max().unwrap_or(begin);
            if longest > best.1 {
                best = (name, longest);
            }
        }
        let (name, end) = best;
        if name.is_empty() {
            return Err(format!("no token: {}", self.slice(self.at)));
        }
        self.take(name, end, first)
    }

    fn take(&mut self, name: &'static str, end: usize, first: bool) -> Result<(), String> {
        let text = &self.text[self.tokens[self.at].start as usize..end];
        constraint::of_token(name, text)?;
        let count = self.tokens[self.at..].iter().take_while(|token| token.end as usize <= end).count();
        if first && self.is_outermost() {
            self.on_a_wire = matches!(text, "wire" | "harness" | "cable");
        }
        if first {
            self.inches = !matches!(text, "expect" | "reading");
        }
        let next = self.at + count;
        if self.is_cut(text, next) {
            return Err(format!("a word is cut behind {text}"));
        }
        if name == "QUANTITY" && self.goes_on(text, next) {
            return Err(format!("the unit of {text} goes on"));
        }
        if name == "NUMBER" && self.on_a_wire && self.thick_gauge(text, next) {
            return Err(format!("a gauge without its unit: {text}/0"));
        }
        if name == "NUMBER" && !first && self.near_unit(next) {
            return Err(format!("almost a unit behind {text}"));
        }
        self.push(name, count);
        Ok(())
    }

    /// Whether a token of this name may end at this byte: with a piece of the lexer, and by the
    /// rules of whole words, paths and inches.
    fn may_end(&self, name: &str, end: usize) -> bool {
        let Ok(piece) = self.tokens.binary_search_by_key(&end, |token| token.end as usize) else {
            return false;
        };
        if name != "QUANTITY" {
            return true;
        }
        let inch = self.slice(piece) == "in" && self.kind(piece - 1) == Some(TokenKind::Space);
        let aught = self.slice(piece + 1) == "/" && self.slice(piece + 2) == "0";
        if aught && self.slice(self.at).starts_with("AWG") {
            return false;
        }
        !self.goes_on_as_path(piece) && (self.inches || !inch) && !self.is_cut(&self.text[..end], piece + 1)
    }

    /// Whether `.` and a word stand right behind a piece.
    fn goes_on_as_path(&self, piece: usize) -> bool {
        self.kind(piece + 1) == Some(TokenKind::Dot) && self.kind(piece + 2) == Some(TokenKind::Word)
    }

    /// Whether a word or number touches what was taken. Only `6S2P` is cut.
    fn is_cut(&self, text: &str, next: usize) -> bool {
        let touches = matches!(self.kind(next), Some(TokenKind::Word | TokenKind::Number));
        let pack = text.ends_with('S')
            && self.kind(next) == Some(TokenKind::Number)
            && self.kind(next + 1) == Some(TokenKind::Word)
            && self.slice(next + 1) == "P";
        touches && !text.ends_with('%') && !pack
    }

    /// Whether no block is open.
    fn is_outermost(&self) -> bool {
        let count = |mark: &str| self.symbols.iter().filter(|symbol| symbol.text == mark).count();
        count("{") <= count("}")
    }

    /// `2/0` with no unit behind it, after what was taken as its first number.
    fn thick_gauge(&self, text: &str, next: usize) -> bool {
        let over = self.kind(next) == Some(TokenKind::Slash) && self.slice(next) == "/";
        let zero = self.kind(next + 1) == Some(TokenKind::Number) && self.slice(next + 1) == "0";
        let number: f64 = text.replace('_', "").parse().unwrap_or(0.0);
        let behind = next + 2 + usize::from(self.kind(next + 2) == Some(TokenKind::Space));
        let unit =
            self.kind(behind) == Some(TokenKind::Word) && unit::by_spelling(self.slice(behind)).is_some();
        over && zero && (1.0..=4.0).contains(&number) && !unit
    }

    /// Whether behind a quantity stands what only a careless hand writes there: `DC`, the square of `mm`, the `N` of a torque.
    fn goes_on(&self, text: &str, next: usize) -> bool {
        let unit = text.char_indices().find_map(|(at, _)| unit::by_spelling(&text[at..]));
        let word = next + usize::from(self.kind(next) == Some(TokenKind::Space));
        let Some(unit) = unit.filter(|_| self.kind(word + 1) != Some(TokenKind::Dot)) else { return false };
        match (unit.symbol, self.slice(word)) {
            ("mm", "2") => self.value_ends(word + 1),
            ("m", "N") => true,
            (_, "DC" | "dc" | "AC" | "ac") => {
                matches!(unit.dimension, Dimension::Voltage | Dimension::Current)
            }
            _ => false,
        }
    }

    /// Whether nothing behind a piece belongs to it.
    fn value_ends(&self, next: usize) -> bool {
        use TokenKind::{CloseBrace, Comma, Comment, Newline, OpenBrace, Semicolon, Space, Word};
        let ends = |kind| {
            matches!(kind, None | Some(Newline | Semicolon | CloseBrace | OpenBrace | Comma | Comment))
        };
        match (self.kind(next), self.kind(next + 1)) {
            (Some(Space), Some(Word)) => unit::by_spelling(self.slice(next + 1)).is_none(),
            (Some(Space), behind) => ends(behind),
            (kind, _) => ends(kind),
        }
    }

    fn near_unit(&self, next: usize) -> bool {
        let words = self.kind(next) == Some(TokenKind::Space) && self.kind(next + 1) == Some(TokenKind::Word);
        if !words || self.goes_on_as_path(next + 1) {
            return false;
        }
        let word = self.slice(next + 1);
        let other =
            ["dead", "spare", "runtime", "any-fault"].contains(&word) || is_a(self.all, "joining", word);
        let times =
            word.strip_prefix(['x', 'X']).is_some_and(|rest| rest.bytes().all(|byte| byte.is_ascii_digit()));
        let apart =
            word == "p" && self.kind(next + 2) == Some(TokenKind::Space) && self.slice(next + 3) == "F";
        let trap = unit::trap(self.slice(next - 1), word, false).is_some();
        !other && (trap || times || apart || unit::misspelt(word).is_some())
    }

    /// The rule of signs.
    fn sign(&mut self) -> Result<(), String> {
        let ends_value = |kind| {
            use TokenKind::{CloseParen, Date, Number, Percent, Text, Word};
            matches!(kind, Number | Word | CloseParen | Percent | Text | Date)
        };
        let plus = self.tokens[self.at].kind == TokenKind::Plus;
        let behind = self.kind_before().is_some_and(ends_value);
        let before = match self.kind(self.at + 1) {
            Some(TokenKind::Number) => true,
            Some(TokenKind::Word | TokenKind::OpenParen) => !plus,
            _ => false,
        };
        let blank =
            |kind: Option<TokenKind>| kind.is_none_or(|kind| kind.is_trivia() || kind == TokenKind::Newline);
        if before && !behind {
            self.push("SIGN", 1);
        } else if blank(self.kind_before()) && blank(self.kind(self.at + 1)) {
            self.push(if plus { "PLUS" } else { "MINUS" }, 1);
        } else {
            return Err("a sign without blanks".to_owned());
        }
        Ok(())
    }

    fn push(&mut self, name: &'static str, count: usize) {
        let (start, end) = (self.tokens[self.at].start, self.tokens[self.at + count - 1].end);
        self.symbols.push(Symbol { name, text: &self.text[start as usize..end as usize] });
        for _ in 0..count {
            self.lines.pass(self.at);
            self.at += 1;
        }
    }

    fn kind(&self, at: usize) -> Option<TokenKind> {
        self.tokens.get(at).map(|token| token.kind)
    }

    fn kind_before(&self) -> Option<TokenKind> {
        self.at.checked_sub(1).and_then(|at| self.kind(at))
    }

    fn symbol_before(&self) -> &'static str {
        self.symbols.last().map_or("", |symbol| symbol.name)
    }

    fn touches_numbers(&self) -> bool {
        self.kind_before() == Some(TokenKind::Number) && self.kind(self.at + 1) == Some(TokenKind::Number)
    }

    fn slice(&self, at: usize) -> &'t str {
        self.tokens.get(at).map_or("", |token| &self.text[token.start as usize..token.end as usize])
    }
}

/// The name on the page of a token that is one piece of the lexer; empty for a mark in quotes.
fn name_of(kind: TokenKind) -> &'static str {
    match kind {
        TokenKind::Text => "TEXT",
        TokenKind::Date => "DATE",
        TokenKind::DotDot => "RANGE",
        TokenKind::PlusMinus => "SPREAD",
        TokenKind::AtLeast => "ATLEAST",
        TokenKind::AtMost => "ATMOST",
        TokenKind::Times => "TIMES",
        TokenKind::Slash => "OVER",
        _ => "",
    }
}
