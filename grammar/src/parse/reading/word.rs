//! Words: keywords where they are looked for, gauges before their number, two colours with a solidus.

use super::{Reader, Sign, Token, TokenKind, Word, complaint};

impl Reader<'_> {
    pub(super) fn word(&mut self, token: Token) {
        let text = self.slice(token.start, token.end);
        if self.starts {
            return self.first_word(token, text);
        }
        // What stands behind the dot of a path is a name.
        let in_path = self.last() == Some(Sign::Dot);
        let gauge = text.starts_with("AWG") || text.starts_with("awg");
        if gauge && !in_path && self.gauge_before_number(token, text) {
            return;
        }
        let end = if in_path { token.end } else { self.second_words(token.end) };
        let whole = self.slice(token.start, end);
        if !is_of_names(whole) {
            self.letters_outside(token.start, end, whole);
        }
        let word = if end == token.end { Word::inside(text) } else { Word::Pair };
        self.at += 1;
        self.push(Sign::Word(word), token.start, end);
        self.hyphen_last(token);
    }

    /// `PACK-`: hyphens behind a word with nothing behind them.
    fn hyphen_last(&mut self, token: Token) {
        let hyphens = self.tokens.get(self.at..).unwrap_or(&[]);
        let count = hyphens.iter().take_while(|next| next.kind == TokenKind::Minus).count();
        let next = self.kind(count);
        let ends = matches!(
            next,
            None | Some(
                TokenKind::Space
                    | TokenKind::Newline
                    | TokenKind::Dot
                    | TokenKind::Comma
                    | TokenKind::Colon
                    | TokenKind::Semicolon
                    | TokenKind::OpenBrace
                    | TokenKind::CloseBrace
            )
        );
        let Some(last) = count.checked_sub(1).and_then(|last| hyphens.get(last)).filter(|_| ends) else {
            return;
        };
        let (span, right) = (self.span(token.start, last.end), self.slice(token.start, token.end));
        self.complain(complaint::hyphen_last(span, self.slice(token.start, last.end), right));
        self.at += count;
    }

    /// A word with letters that no name has; behind a bare number it was meant as a unit.
    fn letters_outside(&mut self, start: u32, end: u32, text: &str) {
        let place = self.span(start, end);
        match self.out.all.last().copied().filter(|last| last.sign == Sign::Number) {
            Some(number) => {
                let found = self.slice(number.start, number.end);
                let whole = self.span(number.start, end);
                self.complain(complaint::unknown_unit(whole, place, found, text, None));
            }
            None => self.complain(complaint::bad_name(place, text)),
        }
    }

    /// The first word of a statement or of a line in a block.
    fn first_word(&mut self, token: Token, text: &str) {
        let word = Word::at_start(text);
        self.indent = token.start - self.line_start;
        self.inches = !matches!(word, Word::Expect | Word::Reading);
        if !is_of_names(text) {
            self.complain(complaint::bad_name(self.span(token.start, token.end), text));
        }
        self.at += 1;
        self.push(Sign::Word(word), token.start, token.end);
    }

    /// Takes `/white` behind `red`, as often as it comes; gives where the last word ends.
    fn second_words(&mut self, mut end: u32) -> u32 {
        while self.is_solidus(1) && self.kind(2) == Some(TokenKind::Word) {
            self.at += 2;
            end = self.token(self.at).map_or(end, |token| token.end);
        }
        end
    }

    /// Whether the token `offset` behind the one to be read is a `/`, not a `÷`.
    pub(super) fn is_solidus(&self, offset: usize) -> bool {
        self.token(self.at + offset).is_some_and(|token| self.slice(token.start, token.end) == "/")
    }
}

/// Whether a word has only letters that names have; units have others.
fn is_of_names(word: &str) -> bool {
    word.is_ascii() && !word.contains('^')
}
