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
        let last = self.last();
        match self.kind(1) {
            Some(TokenKind::Word) if behind_word => self.mark(Sign::Dot, token),
            Some(TokenKind::Number) if !behind_word && self.may_be_decimal() => self.leading_point(token),
            _ if matches!(last, Some(Sign::Quantity)) && self.before() != Some(TokenKind::Space) => {
                self.full_stop(token);
            }
            _ if self.is_blank_in_path() => self.blank_in_path(token),
            _ => self.mark(Sign::Stray, token),
        }
    }

    /// `40 A.`
    fn full_stop(&mut self, token: Token) {
        self.at += 1;
        let Some(quantity) = self.out.all.last().copied() else { return };
        let whole = self.span(quantity.start, token.end);
        let unit = self.slice(quantity.start, quantity.end);
        self.complain(complaint::full_stop(whole, self.span(token.start, token.end), unit));
    }

    /// Whether a dot stands between two words with a blank on one side, or on both.
    fn is_blank_in_path(&self) -> bool {
        if !matches!(self.last(), Some(Sign::Word(Word::Plain))) {
            return false;
        }
        let next = if self.kind(1) == Some(TokenKind::Space) { 2 } else { 1 };
        let word = self.token(self.at + next).filter(|token| token.kind == TokenKind::Word);
        word.is_some_and(|word| Word::inside(self.slice(word.start, word.end)) == Word::Plain)
    }

    fn blank_in_path(&mut self, token: Token) {
        let blank = usize::from(self.kind(1) == Some(TokenKind::Space));
        let (Some(first), Some(next)) = (self.out.all.last().copied(), self.token(self.at + 1 + blank))
        else {
            return;
        };
        let right = format!("{}.{}", self.slice(first.start, first.end), self.slice(next.start, next.end));
        let (whole, dot) = (self.span(first.start, next.end), self.span(first.end, next.start));
        self.complain(complaint::blank_in_path(whole, dot, &right));
        self.mark(Sign::Dot, token);
        self.at += blank;
    }

    /// `..`; a third dot was meant as the same.
    pub(super) fn dots(&mut self, token: Token) {
        match self.token(self.at + 1).filter(|next| next.kind == TokenKind::Dot) {
            Some(third) => self.range_dots(token.start, third.end, 2),
            None => self.mark(Sign::DotDot, token),
        }
    }

    fn range_dots(&mut self, start: u32, end: u32, tokens: usize) {
        self.complain(complaint::range_dots(self.span(start, end), self.slice(start, end)));
        self.at += tokens;
        self.push(Sign::DotDot, start, end);
    }

    /// `/`; two of them, or one before a `*`, were meant to begin a comment.
    pub(super) fn slash(&mut self, token: Token) {
        match self.kind(1) {
            Some(TokenKind::Slash | TokenKind::Times) => self.comment_sign(token),
            _ => self.operator(Sign::Slash, token),
        }
    }

    /// The sign of a comment of another notation: the rest of the line, up to a brace, is passed over.
    fn comment_sign(&mut self, token: Token) {
        let end = self.token(self.at + 1).map_or(token.end, |next| next.end);
        self.complain(complaint::comment_sign(self.span(token.start, end), self.slice(token.start, end)));
        while self.kind(0).is_some_and(|kind| {
            !matches!(kind, TokenKind::Newline | TokenKind::OpenBrace | TokenKind::CloseBrace)
        }) {
            self.at += 1;
        }
    }

    /// `=`; with a second sign right behind it a comparison of another notation.
    pub(super) fn equal(&mut self, token: Token) {
        let next = self.token(self.at + 1).filter(|next| next.start == token.end);
        let second = next.map_or("", |next| self.slice(next.start, next.end));
        let (meant, sign) = match second {
            "=" => ("=", Sign::Equal),
            ">" => (">=", Sign::AtLeast),
            "<" => ("<=", Sign::AtMost),
            _ => return self.mark(Sign::Equal, token),
        };
        let end = next.map_or(token.end, |next| next.end);
        self.at += 1;
        self.comparison(Token { end, ..token }, meant, sign);
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
        if self.kind(1) == Some(TokenKind::Minus) && matches!(self.kind(2), Some(TokenKind::Number)) {
            self.complain(complaint::second_sign(self.span(token.start, token.end)));
        } else if !blank(self.before()) || !blank(self.kind(1)) {
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
        if next == Some(TokenKind::Minus) && self.kind(2) == Some(TokenKind::Space) && !behind {
            return self.comment_sign(token);
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
        if (first == '\'' && self.single_quoted(token)) || (first == '[' && self.bracketed(token)) {
            return;
        }
        match text {
            "…" => self.range_dots(token.start, token.end, 1),
            "!" if self.kind(1) == Some(TokenKind::Equal) => self.not_equal(token),
            "→" | "⟶" | "⇒" => self.arrow(token.start, 1),
            "–" | "—" if matches!(self.last(), Some(Sign::Number | Sign::Quantity)) => {
                self.dash(token);
            }
            ">" => self.comparison(token, ">=", Sign::AtLeast),
            "<" => self.comparison(token, "<=", Sign::AtMost),
            _ if matches!(first, '“' | '”' | '„') => self.curly(token, text),
            _ if first.is_numeric() => {
                self.complain(complaint::odd_digit(span, text));
                self.mark(Sign::Spoiled, token);
            }
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
            self.complain(complaint::curly_quote_alone(span, text));
            self.at += 1;
        }
    }

    /// `!=`
    fn not_equal(&mut self, token: Token) {
        let end = self.token(self.at + 1).map_or(token.end, |equal| equal.end);
        self.complain(complaint::not_equal(self.span(token.start, end), self.slice(token.start, end)));
        self.at += 2;
        self.push(Sign::Equal, token.start, end);
    }

    /// `P3[1]`: taken for `P3.1`.
    fn bracketed(&mut self, token: Token) -> bool {
        let (inner, close) = (self.token(self.at + 1), self.token(self.at + 2));
        let (Some(inner), Some(close), Some(before)) = (inner, close, self.out.all.last().copied()) else {
            return false;
        };
        let closed = self.slice(close.start, close.end) == "]" && token.end - token.start == 1;
        let named = matches!(inner.kind, TokenKind::Word | TokenKind::Number) && before.is_word();
        if !closed || !named || before.end != token.start {
            return false;
        }
        let right =
            format!("{}.{}", self.slice(before.start, before.end), self.slice(inner.start, inner.end));
        self.complain(complaint::bracketed_terminal(self.span(before.start, close.end), &right));
        self.at += 3;
        self.push(Sign::Dot, token.start, token.end);
        self.push(Sign::Word(Word::Plain), inner.start, inner.end);
        true
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
