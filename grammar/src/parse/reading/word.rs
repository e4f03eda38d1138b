//! Words: keywords where they are looked for, gauges before their number, two colours with a solidus.

use super::{Reader, Sign, Token, TokenKind, Word, complaint};

impl Reader<'_> {
    pub(super) fn word(&mut self, token: Token) {
        let text = self.slice(token.start, token.end);
        if self.starts {
            return self.first_word(token, text);
        }
        if (text.starts_with("AWG") || text.starts_with("awg")) && self.gauge_before_number(token, text) {
            return;
        }
        if !text.is_ascii() {
            self.complain(complaint::bad_name(self.span(token.start, token.end), text));
        }
        let end = self.colours(token.end);
        let word = if end == token.end { Word::inside(text) } else { Word::Plain };
        self.at += 1;
        self.push(Sign::Word(word), token.start, end);
    }

    /// The first word of a statement or of a line in a block.
    fn first_word(&mut self, token: Token, text: &str) {
        let word = Word::at_start(text);
        self.indent = token.start - self.line_start;
        self.inches = !matches!(word, Word::Expect | Word::Reading);
        if !text.is_ascii() {
            self.complain(complaint::bad_name(self.span(token.start, token.end), text));
        }
        self.at += 1;
        self.push(Sign::Word(word), token.start, token.end);
    }

    /// Takes `/white` behind `red`, as often as it comes; gives where the last word ends.
    fn colours(&mut self, mut end: u32) -> u32 {
        while self.kind(1) == Some(TokenKind::Slash) && self.kind(2) == Some(TokenKind::Word) {
            self.at += 2;
            end = self.token(self.at).map_or(end, |token| token.end);
        }
        end
    }
}
