//! Numbers and units as other notations write them: taken for what was meant, with a complaint.

use super::{
    Reader, Sign, Token, TokenKind, Word, complaint,
    figure::figure,
    number::{Behind, Figure},
    texts::calendar_date,
};
use crate::unit;

impl Reader<'_> {
    /// Digits that go on behind the number: a decimal comma, groups of three, a point too many.
    pub(super) fn digits(&mut self, number: &mut Figure) {
        let grouped = self.commas(number) || self.quotes(number) || self.blanks(number);
        if !grouped && !self.points(number) {
            self.other_base(number);
        }
    }

    fn number_at(&self, offset: usize) -> Option<Token> {
        self.token(self.at + offset).filter(|token| token.kind == TokenKind::Number)
    }

    /// `3,5`, `1,000` and `1,000,000`: commas with digits on both sides and no blank.
    fn commas(&mut self, number: &mut Figure) -> bool {
        let mut groups = 0;
        while self.kind(0) == Some(TokenKind::Comma)
            && let Some(part) = self.number_at(1)
            && (groups == 0 || part.end - part.start == 3)
        {
            groups += 1;
            self.at += 2;
            number.end = part.end;
        }
        let text = self.slice(number.start, number.end);
        match groups {
            0 => return false,
            1 if !text.contains('.') => {
                self.complain(complaint::decimal_comma(self.span(number.start, number.end), text));
                number.value = figure(&text.replacen(',', ".", 1));
            }
            _ => self.grouped(number, ','),
        }
        true
    }

    /// `5'000`.
    fn quotes(&mut self, number: &mut Figure) -> bool {
        let quote = self.token(self.at).filter(|token| self.slice(token.start, token.end) == "'");
        let part = self.number_at(1).filter(|part| part.end - part.start == 3);
        let (Some(_), Some(part)) = (quote, part) else { return false };
        self.at += 2;
        number.end = part.end;
        self.grouped(number, '\'');
        true
    }

    /// `5 000 mAh` outside blocks, where no number stands alone: only groups that begin with a zero, since a forgotten
    /// unit leaves two numbers side by side, too.
    fn blanks(&mut self, number: &mut Figure) -> bool {
        let short = self.slice(number.start, number.end).len() <= 3 && self.blocks == 0;
        let Some(part) = self.number_at(1).filter(|_| short && self.kind(0) == Some(TokenKind::Space)) else {
            return false;
        };
        let group = self.slice(part.start, part.end);
        let digits = group.len() == 3 && group.bytes().all(|byte| byte.is_ascii_digit());
        if !digits || !group.starts_with('0') || !self.unit_follows(2) {
            return false;
        }
        self.at += 2;
        number.end = part.end;
        self.grouped(number, ' ');
        true
    }

    fn grouped(&mut self, number: &mut Figure, mark: char) {
        let found = self.slice(number.start, number.end);
        let plain = found.replace('\u{a0}', " ");
        let right = plain.split(mark).filter(|group| !group.is_empty()).collect::<Vec<_>>().join("_");
        self.complain(complaint::grouped_digits(self.span(number.start, number.end), found, &right));
        number.value = figure(&right);
    }

    /// `1.2.3`, `1.234.567` and `5. A`.
    fn points(&mut self, number: &mut Figure) -> bool {
        if self.kind(0) != Some(TokenKind::Dot) {
            return false;
        }
        let plain = (number.start, number.end);
        while self.kind(0) == Some(TokenKind::Dot)
            && let Some(part) = self.number_at(1)
        {
            self.at += 2;
            number.end = part.end;
        }
        if number.end != plain.1 {
            let found = self.slice(number.start, number.end);
            let mut groups = found.split('.').map(str::len);
            if groups.next().is_some_and(|first| first <= 3) && groups.all(|group| group == 3) {
                self.grouped(number, '.');
            } else {
                self.complain(complaint::two_points(self.span(number.start, number.end), found));
            }
            return true;
        }
        if !self.unit_follows(1) {
            return false;
        }
        self.at += 1;
        number.end += 1;
        let (found, right) = (self.slice(number.start, number.end), self.slice(plain.0, plain.1));
        self.complain(complaint::trailing_point(self.span(number.start, number.end), found, right));
        true
    }

    /// `0x1F`.
    fn other_base(&mut self, number: &mut Figure) {
        let Some(behind) = self.behind().filter(|behind| behind.glued) else { return };
        let digits = self.slice(behind.token.start, behind.token.end).strip_prefix(['x', 'X']);
        let zero = self.slice(number.start, number.end) == "0";
        let Some(value) = digits.filter(|_| zero).and_then(|digits| u32::from_str_radix(digits, 16).ok())
        else {
            return;
        };
        self.at += behind.tokens;
        (number.end, number.value) = (behind.token.end, f64::from(value));
        let found = self.slice(number.start, number.end);
        self.complain(complaint::other_base(self.span(number.start, number.end), found, &value.to_string()));
    }

    /// `2027-3-1`, `2027/03/01`, `01.03.2027`: three numbers with a sign between, one of them a year.
    pub(super) fn date_of_parts(&mut self, number: Figure) -> bool {
        let Some((end, tokens, parts)) = self.date_parts(number) else { return false };
        let year_last = parts[2] > 999;
        let found = self.slice(number.start, end);
        let [first, second, third] = parts;
        let right = match (year_last, found.contains('.'), first > 12, second > 12) {
            (false, ..) => Some((first, second, third)),
            (true, true, ..) | (true, _, true, false) => Some((third, second, first)),
            (true, _, false, true) => Some((third, first, second)),
            // Day or month first: nobody knows.
            _ => None,
        };
        let right = right.map(|(year, month, day)| format!("{year:04}-{month:02}-{day:02}"));
        let date = right.as_deref().and_then(calendar_date);
        let complaint = complaint::date_form(
            self.span(number.start, end),
            found,
            right.as_deref().filter(|_| date.is_some()),
        );
        self.complain(complaint);
        self.at += tokens;
        match date {
            Some(date) => self.push_date(number.start, end, date),
            None => self.push(Sign::Spoiled, number.start, end),
        }
        true
    }

    /// The three numbers of a date in another form, with where they end and how many tokens they are.
    fn date_parts(&self, number: Figure) -> Option<(u32, usize, [u32; 3])> {
        // `01.03` is a number with a point to the lexer.
        // `2027/3/1` is a quotient where no date is due.
        let date_due = matches!(self.last(), Some(Sign::Word(Word::On | Word::Until)));
        let (tokens, end) = match (self.kind(0)?, self.kind(2)) {
            (TokenKind::Dot, _) => (2, self.number_at(1)?.end),
            (TokenKind::Slash, _) if !date_due => return None,
            (one @ (TokenKind::Slash | TokenKind::Minus), Some(other)) if one == other => {
                (4, self.number_at(1).and(self.number_at(3))?.end)
            }
            _ => return None,
        };
        let parts: Vec<&str> = self.slice(number.start, end).split(['.', '/', '-']).collect();
        let [first, second, third] = parts.as_slice() else { return None };
        let year_first = first.len() == 4 && second.len() <= 2 && third.len() <= 2;
        let year_last = first.len() <= 2 && second.len() <= 2 && third.len() == 4;
        let numbers = [first.parse().ok()?, second.parse().ok()?, third.parse().ok()?];
        (year_first || year_last).then_some((end, tokens, numbers))
    }

    /// `2PACK` where the name of a statement is due.
    pub(super) fn digit_first(&mut self, number: Figure) -> bool {
        let statement = self.out.all.get(self.first..).unwrap_or(&[]);
        let named = |word: Word| {
            use Word::{Assembly, Cable, Harness, Kind, Let, Mode, Part, Place, Wire};
            matches!(word, Kind | Wire | Place | Part | Let | Harness | Cable | Mode | Assembly)
        };
        if !matches!(statement, [only] if matches!(only.sign, Sign::Word(word) if named(word))) {
            return false;
        }
        let Some(behind) = self.behind().filter(|behind| behind.glued) else { return false };
        if unit::by_spelling(self.slice(behind.token.start, behind.token.end)).is_some() {
            return false;
        }
        self.at += behind.tokens;
        let (start, end) = (number.start, behind.token.end);
        self.complain(complaint::digit_first(self.span(start, end), self.slice(start, end)));
        self.push(Sign::Word(Word::Plain), start, end);
        true
    }

    /// `10 k ohm`: a prefix, a blank, and a unit that takes it.
    pub(super) fn split_prefix(&mut self, number: Figure, behind: Behind, prefix: &str) -> bool {
        // `5 m A` are a length and a name; what is no name can only be the unit's second half.
        let may_be_length = prefix == "m";
        if !matches!(prefix, "p" | "n" | "u" | "µ" | "μ" | "m" | "k" | "M")
            || self.kind(behind.tokens) != Some(TokenKind::Space)
        {
            return false;
        }
        let rest = self.token(self.at + behind.tokens + 1).filter(|token| token.kind == TokenKind::Word);
        let Some(rest) = rest else { return false };
        let word = self.slice(rest.start, rest.end);
        if Word::inside(word) != Word::Plain || (may_be_length && word.is_ascii()) {
            return false;
        }
        let Some(unit) = unit::by_spelling(&format!("{prefix}{word}")) else { return false };
        let right = format!("{} {}", self.slice(number.start, number.end), unit.symbol);
        let (whole, found) = (self.span(number.start, rest.end), self.slice(number.start, rest.end));
        self.complain(complaint::split_prefix(whole, found, &right));
        self.at += behind.tokens + 2;
        self.quantity(number, rest.end, unit);
        true
    }

    /// `2x18 AWG` and `2 x 18 AWG`.
    pub(super) fn parallel(&mut self, number: Figure, behind: Behind, word: &str) {
        let place = self.span(behind.token.start, behind.token.end);
        self.complain(complaint::parallel(place, word));
        self.at += behind.tokens;
        self.push(Sign::Spoiled, number.start, behind.token.end);
    }
}
