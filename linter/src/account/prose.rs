//! Sentences broken so that no line is wider than it may be, whatever words are in them; and numbers in them.

use wattle_grammar::{quantity::Dimension, unit};

use super::worst::NOTHING;
use crate::{explained::Amount, report::plain};

/// `text` set in by `indent`, its further lines by two more. A word that is wider than a line is cut.
pub(super) fn filled(indent: usize, text: &str, width: usize) -> String {
    hung(indent, indent + 2, text, width)
}

/// `text` with its first line set in by `first` and the others by `rest`. A word that is wider than a line is cut.
pub(super) fn hung(first: usize, rest: usize, text: &str, width: usize) -> String {
    let text = plain::line(text);
    let rest = rest.min(width / 2);
    let mut out = " ".repeat(first);
    let mut used = first;
    let mut fresh = true;
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        let wide = word.chars().count();
        if !fresh && used + 1 + wide > width {
            open_line(&mut out, rest);
            (used, fresh) = (rest, true);
        }
        if !fresh {
            out.push(' ');
            used += 1;
        }
        for letter in word.chars() {
            if used == width {
                open_line(&mut out, rest);
                used = rest;
            }
            out.push(letter);
            used += 1;
        }
        fresh = false;
    }
    out.truncate(out.trim_end().len());
    out.push('\n');
    out
}

fn open_line(out: &mut String, indent: usize) {
    out.push('\n');
    out.extend(std::iter::repeat_n(' ', indent));
}

/// An amount as a builder reads it: three significant figures with a unit, words, or a dash for what is not assessed.
pub(super) fn amount(amount: &Amount) -> String {
    match amount {
        Amount::Value(value, dimension) => value_text(*value, *dimension),
        Amount::Pulse(joules) => joules.to_string(),
        Amount::Words(words) => words.clone(),
        Amount::NotAssessed(_) => "-".to_owned(),
    }
}

/// A value as a builder reads it. What the solver leaves over counts as nothing.
pub(super) fn value_text(value: f64, dimension: Dimension) -> String {
    let solved =
        matches!(dimension, Dimension::Voltage | Dimension::Current | Dimension::Power | Dimension::Ratio);
    let value = if solved && value.abs() < NOTHING { 0.0 } else { value };
    Scaled(value, unit::base_symbol(dimension)).to_string()
}

struct Scaled(f64, &'static str);

impl std::fmt::Display for Scaled {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        unit::write_scaled(f, self.0, self.1)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_broken_at_blanks_and_words_that_are_too_wide_are_cut() {
        assert_eq!(filled(2, "one two three", 10), "  one two\n    three\n");
        assert_eq!(filled(0, "abcdefghijkl", 6), "abcdef\n  ghij\n  kl\n");
        assert_eq!(filled(0, "", 6), "\n");
        assert_eq!(filled(0, "a\u{1b}b", 6), "a\u{fffd}b\n");
    }

    #[test]
    fn amounts_are_read_with_three_figures() {
        assert_eq!(amount(&Amount::Value(0.012_34, Dimension::Current)), "12.3 mA");
        assert_eq!(amount(&Amount::Value(-1e-13, Dimension::Current)), "0 A");
        assert_eq!(amount(&Amount::Value(0.7, Dimension::Ratio)), "70 %");
        assert_eq!(amount(&Amount::NotAssessed("size".to_owned())), "-");
    }
}
