//! Texts in quotes, and dates.

use super::{Reader, Sign, Token, complaint};
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
                    let end = start + 1 + u32::try_from(next.len_utf8()).unwrap_or(0);
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
        let value = u32::try_from(self.out.dates.len()).unwrap_or(u32::MAX);
        self.out.dates.push(date);
        self.push_value(Sign::Date, token.start, token.end, value);
    }
}

/// The date that `NNNN-NN-NN` names, if the Gregorian calendar has it.
fn calendar_date(text: &str) -> Option<Date> {
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
