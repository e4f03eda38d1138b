//! Signs that mean different things by what stands beside them: dots, plus, minus, and characters of other habits.

use super::{Reader, Sign, Token, TokenKind, Word, complaint};

impl Reader<'_> {
    /// The kind of the token right before the one to be read.
    fn before(&self) -> Option<TokenKind> {
        self.at.checked_sub(1).and_then(|at| self.token(at)).map(|token| token.kind)
    }

    /// A dot between two words joins a path; a dot before a number was meant as a decimal point.
    pub(super) fn dot(&mut self, token: Token) {
        let behind_word = self.before() == Some(TokenKind::Word);
        match self.kind(1) {
            Some(TokenKind::Word) if behind_word => self.mark(Sign::Dot, token),
            Some(TokenKind::Number) if !behind_word && self.may_be_decimal() => self.leading_point(token),
            _ => self.mark(Sign::Stray, token),
        }
    }

    /// A dot before a number and behind the blank after a word could be a path's; a unit behind the number decides.
    fn may_be_decimal(&self) -> bool {
        !matches!(self.last(), Some(Sign::Word(_)))
            || self.unit_follows(2)
            || self.kind(2) == Some(TokenKind::Percent)
    }

    fn leading_point(&mut self, token: Token) {
        self.at += 1;
        let Some(number) = self.token(self.at) else { return };
        let complaint =
            complaint::leading_point(self.span(token.start, number.end), self.slice(token.start, number.end));
        self.complain(complaint);
        self.number(token.start, number);
    }

    /// A plus directly before a number and not directly behind a value is its sign. In all other places it adds.
    pub(super) fn plus(&mut self, token: Token) {
        if self.kind(1) == Some(TokenKind::Number) && !ends_operand(self.before()) {
            return self.operator(Sign::Positive, token);
        }
        self.between_blanks(token);
        self.operator(Sign::Plus, token);
    }

    /// Complains unless a blank stands on both sides of a sign that computes.
    fn between_blanks(&mut self, token: Token) {
        let blank =
            |kind: Option<TokenKind>| kind.is_none_or(|kind| kind.is_trivia() || kind == TokenKind::Newline);
        if !blank(self.before()) || !blank(self.kind(1)) {
            let found = self.slice(token.start, token.end);
            self.complain(complaint::unspaced_sign(self.span(token.start, token.end), found));
        }
    }

    /// A minus directly before a value and not directly behind one is its sign. Directly between two numbers it is a
    /// dash. In all other places it subtracts, unless it is the shaft of an arrow.
    pub(super) fn minus(&mut self, token: Token) {
        let (behind, next) = (ends_operand(self.before()), self.kind(1));
        let before_value = matches!(next, Some(TokenKind::Number | TokenKind::Word | TokenKind::OpenParen));
        if next == Some(TokenKind::Unknown) && self.unknown_text(1).starts_with('>') {
            return self.arrow(token.start, 2);
        }
        if before_value && !behind {
            return self.operator(Sign::Negative, token);
        }
        let dash =
            next == Some(TokenKind::Number) && matches!(self.last(), Some(Sign::Number | Sign::Quantity));
        if dash && behind {
            return self.dash(token);
        }
        self.between_blanks(token);
        self.operator(Sign::Minus, token);
    }

    /// A dash between two numbers: taken for a range.
    fn dash(&mut self, token: Token) {
        let first = self.out.all.last().map_or(token.start, |number| number.start);
        let end = self.token(self.at + 1).map_or(token.end, |number| number.end);
        let dash = self.span(token.start, token.end);
        self.complain(complaint::dashed_range(self.span(first, end), dash));
        self.mark(Sign::DotDot, token);
    }

    /// An arrow of some tokens, from byte `start`: taken for `to`.
    fn arrow(&mut self, start: u32, tokens: usize) {
        let end = self.token(self.at + tokens - 1).map_or(start, |token| token.end);
        self.complain(complaint::arrow(self.span(start, end), self.slice(start, end)));
        self.at += tokens;
        self.push(Sign::Word(Word::To), start, end);
    }

    fn unknown_text(&self, offset: usize) -> &str {
        self.token(self.at + offset).map_or("", |token| self.slice(token.start, token.end))
    }

    /// Characters that belong to nothing. Where it is plain what was meant, that is what the grammar sees.
    pub(super) fn unknown(&mut self, token: Token) {
        let text = self.slice(token.start, token.end);
        let span = self.span(token.start, token.end);
        let first = text.chars().next().unwrap_or(' ');
        match text {
            "→" | "⟶" | "⇒" => self.arrow(token.start, 1),
            "–" | "—" if matches!(self.last(), Some(Sign::Number | Sign::Quantity)) => {
                self.dash(token);
            }
            ">" => self.comparison(token, ">=", Sign::AtLeast),
            "<" => self.comparison(token, "<=", Sign::AtMost),
            _ if matches!(first, '“' | '”' | '„') => self.curly(token, text),
            _ if first.is_alphanumeric() => {
                self.complain(complaint::bad_name(span, text));
                self.mark(Sign::Word(Word::Plain), token);
            }
            _ => {
                self.complain(complaint::unknown_character(span, text));
                self.at += 1;
            }
        }
    }

    fn comparison(&mut self, token: Token, meant: &str, sign: Sign) {
        let complaint = complaint::comparison(
            self.span(token.start, token.end),
            self.slice(token.start, token.end),
            meant,
        );
        self.complain(complaint);
        self.mark(sign, token);
    }

    fn curly(&mut self, token: Token, text: &str) {
        let mut inner = text.chars();
        let closed = text.chars().count() > 1;
        inner.next();
        inner.next_back();
        let span = self.span(token.start, token.end);
        if closed {
            self.complain(complaint::curly_quotes(span, inner.as_str()));
            self.mark(Sign::Text, token);
        } else {
            self.complain(complaint::unknown_character(span, text));
            self.at += 1;
        }
    }
}

/// Whether a token ends a value.
const fn ends_operand(token: Option<TokenKind>) -> bool {
    matches!(
        token,
        Some(
            TokenKind::Number
                | TokenKind::Word
                | TokenKind::CloseParen
                | TokenKind::Percent
                | TokenKind::Text
                | TokenKind::Date
        )
    )
}
