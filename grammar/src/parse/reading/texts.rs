//! Texts in quotes, and dates.

use super::{Reader, Sign, Token, TokenKind, complaint};
use crate::syntax::Date;

impl Reader<'_> {
    pub(super) fn quoted(&mut self, token: Token) {
        self.inspect(token);
        self.mark(Sign::Text, token);
    }

    /// A text without its closing quote is taken up to the line's end.
    pub(super) fn open_text(&mut self, token: Token) {
        let text = self.slice(token.start, token.end);
        self.complain(complaint::unclosed_text(self.span(token.start, token.end), text));
        self.mark(Sign::Text, token);
    }

    /// Looks for what a text cannot hold.
    fn inspect(&mut self, token: Token) {
        let text = self.slice(token.start, token.end);
        let odd = |byte: u8| byte == b'\\' || byte == 0x7f || (byte < b' ' && byte != b'\t');
        if !text.bytes().any(odd) {
            return;
        }
        let mut characters = text.char_indices();
        while let Some((at, found)) = characters.next() {
            let start = token.start + u32::try_from(at).unwrap_or(0);
            if found == '\\' {
                let next = characters.next().map_or(' ', |(_, next)| next);
                if !matches!(next, '"' | '\\') {
                    let end = start + escape_length(text.get(at..).unwrap_or(""));
                    self.complain(complaint::bad_escape(self.span(start, end), self.slice(start, end)));
                }
            } else if found.is_ascii_control() && found != '\t' {
                self.complain(complaint::control_in_text(self.span(start, start + 1), found));
            }
        }
    }

    pub(super) fn date(&mut self, token: Token) {
        let text = self.slice(token.start, token.end);
        let Some(date) = calendar_date(text) else {
            self.complain(complaint::bad_date(self.span(token.start, token.end), text));
            return self.mark(Sign::Spoiled, token);
        };
        self.at += 1;
        self.push_date(token.start, token.end, date);
    }

    pub(super) fn push_date(&mut self, start: u32, end: u32, date: Date) {
        let value = u32::try_from(self.out.dates.len()).unwrap_or(u32::MAX);
        self.out.dates.push(date);
        self.push_value(Sign::Date, start, end, value);
    }

    /// `'Key'`, closed on its line: taken for a text.
    pub(super) fn single_quoted(&mut self, token: Token) -> bool {
        const FARTHEST: usize = 60;
        let line = self.tokens.get(self.at + 1..).unwrap_or(&[]).iter().take(FARTHEST);
        let mut line = line.take_while(|token| token.kind != TokenKind::Newline).enumerate();
        let closing = line.find(|(_, token)| {
            token.kind == TokenKind::Unknown && self.slice(token.start, token.end).starts_with('\'')
        });
        let Some((between, last)) = closing.filter(|(between, _)| *between > 0) else { return false };
        let span = self.span(token.start, last.start + 1);
        self.complain(complaint::single_quotes(span, self.slice(token.end, last.start)));
        self.at += between + 2;
        self.push(Sign::Text, span.start, span.end);
        true
    }
}

/// How many bytes of a text that begins with a backslash are the escape that somebody meant.
fn escape_length(text: &str) -> u32 {
    let mut rest = text.chars().skip(1);
    let coded = matches!(rest.next(), Some('u' | 'x' | 'U'));
    let digits = rest.take_while(|found| coded && (found.is_ascii_hexdigit() || matches!(found, '{' | '}')));
    let taken = 2 + digits.take(10).count();
    let end = text.char_indices().nth(taken).map_or(text.len(), |(at, _)| at);
    // The closing quote is the text's.
    u32::try_from(end.min(text.len().saturating_sub(usize::from(end == text.len() && text.ends_with('"')))))
        .unwrap_or(0)
}

/// The date that `NNNN-NN-NN` names, if the Gregorian calendar has it.
pub(super) fn calendar_date(text: &str) -> Option<Date> {
    let year: u16 = text.get(0..4)?.parse().ok()?;
    let month: u8 = text.get(5..7)?.parse().ok()?;
    let day: u8 = text.get(8..10)?.parse().ok()?;
    let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    let days = match month {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        4 | 6 | 9 | 11 => 30,
        2 => 28 + u8::from(leap),
        _ => return None,
    };
    (1..=days).contains(&day).then_some(Date { year, month, day })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_days_of_the_calendar_are_dates() {
        assert_eq!(calendar_date("2027-03-01"), Some(Date { year: 2027, month: 3, day: 1 }));
        assert!(calendar_date("2024-02-29").is_some());
        for wrong in ["2023-02-29", "2100-02-29", "2027-04-31", "2027-13-01", "2027-00-10", "2027-01-00"] {
            assert_eq!(calendar_date(wrong), None, "{wrong}");
        }
    }
}
