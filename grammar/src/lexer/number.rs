//! Numbers and dates.

use super::{Lexer, class};
use crate::token::TokenKind;

impl Lexer<'_> {
    pub(super) fn number_or_date(&mut self) {
        let end = self.digits(self.at);
        if end == self.at + 4 && self.is_date() {
            return self.push(TokenKind::Date, self.at + 10);
        }
        let end = self.exponent(self.fraction(end));
        self.push(TokenKind::Number, end);
        self.cells_and_strings();
    }

    /// Where a run of digits ends; a `_` may stand between two digits.
    fn digits(&self, from: usize) -> usize {
        let mut end = from;
        loop {
            match self.byte(end) {
                b'0'..=b'9' => end += 1,
                b'_' if end > from && self.byte(end + 1).is_ascii_digit() => end += 2,
                _ => return end,
            }
        }
    }

    /// A point belongs to the number only with a digit behind it, so that `6..30` stays a range.
    fn fraction(&self, end: usize) -> usize {
        if self.byte(end) == b'.' && self.byte(end + 1).is_ascii_digit() { self.digits(end + 1) } else { end }
    }

    fn exponent(&self, end: usize) -> usize {
        if !matches!(self.byte(end), b'e' | b'E') {
            return end;
        }
        let sign = usize::from(matches!(self.byte(end + 1), b'+' | b'-'));
        let first = end + 1 + sign;
        if self.byte(first).is_ascii_digit() { self.digits(first) } else { end }
    }

    /// `NNNN-NN-NN` with nothing of a word behind it.
    fn is_date(&self) -> bool {
        let digit = |offset: usize| self.byte(self.at + offset).is_ascii_digit();
        let hyphen = |offset: usize| self.byte(self.at + offset) == b'-';
        hyphen(4)
            && hyphen(7)
            && [5, 6, 8, 9].into_iter().all(digit)
            && !class::continues_word(self.byte(self.at + 10))
    }

    /// `6S2P`, as packs are marked: the `S` is a unit of its own, so that `2P` is the next number.
    fn cells_and_strings(&mut self) {
        if self.byte(self.at) != b'S' {
            return;
        }
        let end = self.digits(self.at + 1);
        let strings =
            end > self.at + 1 && self.byte(end) == b'P' && !class::continues_word(self.byte(end + 1));
        if strings {
            self.push(TokenKind::Word, self.at + 1);
        }
    }
}
