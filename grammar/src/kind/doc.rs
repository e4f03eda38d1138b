//! The table in Markdown: what hover and the reference page show of a kind, a rating or a statement. Pure text.

use super::{
    Default, Kind, Rating, RatingShape, Repeat, Role, Terminal, chemistry, colour, fuse_style,
    statement::Statement,
};
use crate::{
    quantity::Dimension,
    unit::{base_symbol, write_scaled},
};
use std::fmt::{self, Write as _};

/// The whole section of a kind: what it is, an example, its terminals and its ratings. `heading` is the Markdown mark
/// of the headline, `###`.
#[must_use]
pub fn kind_section(kind: &Kind, heading: &str) -> String {
    format!(
        "{heading} `{}`\n\n{}\n\n```wattle\n{}\n```\n\n{}\n{}",
        kind.word,
        kind.doc,
        kind.example,
        terminals_table(kind.terminals),
        ratings_table(kind.ratings)
    )
}

/// What hover shows on a kind's keyword: what it is, an example, and the keys that fit.
#[must_use]
pub fn kind_hover(kind: &Kind) -> String {
    let keys: Vec<_> = kind.ratings.iter().map(|rating| format!("`{}`", rating.key)).collect();
    format!("**`{}`** {}\n\n```wattle\n{}\n```\n\n{}", kind.word, kind.doc, kind.example, keys.join(" "))
}

/// What hover shows on a rating's key.
#[must_use]
pub fn rating_hover(rating: &Rating) -> String {
    let mut text = format!("**`{}`** ({}) {}", rating.key, shape(rating), rating.doc);
    for (word, meaning) in rating.words() {
        // Writing to a text cannot fail.
        let _ = write!(text, "\n- `{word}`: {meaning}");
    }
    let _ = write!(text, "\n\nNot written: {}.", default(rating));
    text
}

/// What hover shows on a terminal.
#[must_use]
pub fn terminal_hover(terminal: &Terminal) -> String {
    let aliases = terminal_aliases(terminal);
    let also = if aliases.is_empty() { String::new() } else { format!(", also {aliases}") };
    format!("**{}**{also} ({}) {}", terminal_name(terminal), role(terminal.role), terminal.doc)
}

/// What hover shows on a statement's keyword.
#[must_use]
pub fn statement_hover(statement: &Statement) -> String {
    format!("**`{}`** {}\n\n```wattle\n{}\n```", statement.form, statement.doc, statement.example)
}

/// The terminals as a table.
#[must_use]
pub fn terminals_table(terminals: &[Terminal]) -> String {
    let mut table = String::from("| Terminal | Also | What it is |\n| --- | --- | --- |\n");
    for terminal in terminals {
        // Writing to a text cannot fail.
        let _ = writeln!(
            table,
            "| {} | {} | {} |",
            terminal_name(terminal),
            terminal_aliases(terminal),
            cell(terminal.doc)
        );
    }
    table
}

/// The ratings as a table; keys that may be left out on the line are marked.
#[must_use]
pub fn ratings_table(ratings: &[Rating]) -> String {
    let mut table = String::from(
        "| Key | Value | On the line | Not written | Meaning |\n| --- | --- | --- | --- | --- |\n",
    );
    for rating in ratings {
        // Writing to a text cannot fail.
        let _ = writeln!(
            table,
            "| `{}` | {} | {} | {} | {} |",
            rating.key,
            cell(&shape(rating)),
            if rating.inline { "yes" } else { "" },
            cell(&default(rating)),
            cell(&meaning(rating))
        );
    }
    table
}

/// What a rating takes, in words: `current, A`, `range of voltage, V`, `yes or no`.
#[must_use]
pub fn shape(rating: &Rating) -> String {
    match rating.shape {
        RatingShape::Quantity(dimension) => measured(dimension),
        RatingShape::Range(dimension) => format!("range of {}", measured(dimension)),
        RatingShape::Word(_) => "word".to_owned(),
        RatingShape::Flag => "yes or no".to_owned(),
        RatingShape::Text => "text in quotes".to_owned(),
        RatingShape::Reference => "name".to_owned(),
        RatingShape::Terminals => "terminals".to_owned(),
        RatingShape::Words(_) => "words".to_owned(),
        RatingShape::Date => "date".to_owned(),
        RatingShape::Ports(_) => "terminals and what they are".to_owned(),
    }
}

/// What holds when nothing is written, in words.
#[must_use]
pub fn default(rating: &Rating) -> String {
    match rating.default {
        Default::Missing if is_remark(rating.shape) => "none".to_owned(),
        Default::Missing => "not assessed".to_owned(),
        Default::Number(value, authority) => format!("{} ({authority})", number(value, rating.dimension())),
        Default::Word(word, authority) => format!("`{word}` ({authority})"),
        Default::Flag(true, reason) => format!("yes ({reason})"),
        Default::Flag(false, reason) | Default::No(reason) => format!("no ({reason})"),
        Default::Derived(how) => how.to_owned(),
    }
}

/// What a terminal is for, in words.
#[must_use]
pub const fn role(role: Role) -> &'static str {
    match role {
        Role::SourcePositive => "positive pole of a source",
        Role::SourceNegative => "negative pole of a source",
        Role::Tap => "cell tap",
        Role::SupplyPositive => "positive supply",
        Role::SupplyNegative => "negative supply",
        Role::OutputPositive => "positive output",
        Role::OutputNegative => "negative output",
        Role::Through => "passes current through",
        Role::CoilPositive | Role::CoilNegative => "coil",
        Role::MotorLead => "motor lead",
        Role::SpeakerLead => "speaker lead",
        Role::Signal => "signal",
        Role::Sense => "measuring",
        Role::Way => "way",
        Role::Frame => "frame",
    }
}

/// Whether nothing is computed from what is written, so that nothing is missing without it.
const fn is_remark(shape: RatingShape) -> bool {
    matches!(
        shape,
        RatingShape::Text
            | RatingShape::Reference
            | RatingShape::Terminals
            | RatingShape::Date
            | RatingShape::Ports(_)
    )
}

/// Where a long list of words has a table of its own on the reference page.
fn own_table(rating: &Rating) -> Option<&'static str> {
    let tables = [
        (chemistry::WORDS, "[chemistries](#chemistries)"),
        (colour::WORDS, "[colours](#colours)"),
        (fuse_style::WORDS, "[fuse styles](#fuse-styles)"),
    ];
    tables.into_iter().find(|(words, _)| *words == rating.words()).map(|(_, table)| table)
}

fn meaning(rating: &Rating) -> String {
    if let Some(table) = own_table(rating) {
        return format!("{} See {table}.", rating.doc);
    }
    let mut text = rating.doc.to_owned();
    for (word, meaning) in rating.words() {
        // Writing to a text cannot fail.
        let _ = write!(text, "<br>`{word}`: {meaning}");
    }
    text
}

/// The name as in the text: `m1a m2a …` for a family.
fn terminal_name(terminal: &Terminal) -> String {
    family(terminal.name, terminal.repeat)
}

fn terminal_aliases(terminal: &Terminal) -> String {
    let written: Vec<_> = terminal.aliases.iter().map(|alias| family(alias, terminal.repeat)).collect();
    written.join(", ")
}

fn family(pattern: &str, repeat: Repeat) -> String {
    let Repeat::Per { first, step, .. } = repeat else { return format!("`{pattern}`") };
    if !pattern.contains('{') {
        return format!("`{pattern}` (the first)");
    }
    let one = super::terminals::write_out(pattern, first);
    let next = super::terminals::write_out(pattern, first + step);
    format!("`{one}` `{next}` …")
}

/// A text as one cell of a table.
fn cell(text: &str) -> String {
    text.replace('|', "\\|")
}

/// A dimension with its base unit.
fn measured(dimension: Dimension) -> String {
    let symbol = base_symbol(dimension);
    let name = dimension_name(dimension);
    if symbol.is_empty() { name.to_owned() } else { format!("{name}, {symbol}") }
}

fn number(value: f64, dimension: Option<Dimension>) -> String {
    match dimension {
        Some(counted @ (Dimension::Cells | Dimension::Strings)) => format!("{value}{}", base_symbol(counted)),
        Some(dimension) => Printed(value, base_symbol(dimension)).to_string(),
        None => value.to_string(),
    }
}

/// A value of a base unit as people read it.
struct Printed(f64, &'static str);

impl fmt::Display for Printed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write_scaled(f, self.0, self.1)
    }
}

/// What a dimension is called.
#[must_use]
pub const fn dimension_name(dimension: Dimension) -> &'static str {
    match dimension {
        Dimension::Number => "number",
        Dimension::Ratio => "share",
        Dimension::Voltage => "voltage",
        Dimension::Current => "current",
        Dimension::Resistance => "resistance",
        Dimension::Power => "power",
        Dimension::Energy => "energy",
        Dimension::Charge => "charge",
        Dimension::ChargeRate => "charge or discharge rate",
        Dimension::Length => "length",
        Dimension::Area => "conductor size",
        Dimension::Temperature => "temperature",
        Dimension::TemperatureDifference => "temperature difference",
        Dimension::Time => "time",
        Dimension::Capacitance => "capacitance",
        Dimension::Inductance => "inductance",
        Dimension::Frequency => "frequency",
        Dimension::RotationalSpeed => "rotational speed",
        Dimension::Speed => "speed",
        Dimension::SpeedConstant => "speed constant",
        Dimension::ResistancePerLength => "resistance per length",
        Dimension::CurrentSquaredTime => "melting energy",
        Dimension::Force => "force",
        Dimension::Torque => "torque",
        Dimension::Mass => "mass",
        Dimension::MomentOfInertia => "moment of inertia",
        Dimension::Cells => "cells in series",
        Dimension::Strings => "strings in parallel",
        Dimension::Ways => "ways",
        Dimension::Poles => "poles",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::kind::{by_word, key, statement};

    fn kind(word: &str) -> &'static Kind {
        by_word(word).expect("a kind of the table")
    }

    #[test]
    fn a_section_has_terminals_and_ratings() {
        let text = kind_section(kind("relay"), "###");
        assert!(text.starts_with("### `relay`\n\n"), "{text}");
        assert!(text.contains("| `14` `24` … | `87` (the first) |"), "{text}");
        assert!(text.contains("| `coil-voltage` | voltage, V | yes | not assessed |"), "{text}");
        assert!(text.contains("| `poles` | poles, pole | yes | 1 pole (the simplest one) |"), "{text}");
    }

    #[test]
    fn a_stop_shows_both_ways_of_counting() {
        let text = terminals_table(kind("stop").terminals);
        assert!(text.contains("| `11` `21` … | `1` `3` … |"), "{text}");
    }

    #[test]
    fn hover_names_unit_words_and_default() {
        let rating = |word: &str, key| rating_hover(kind(word).rating(key).expect("a rating"));
        let text = rating("fuse", key::CURRENT);
        assert!(text.starts_with("**`current`** (current, A) Rated current, A"), "{text}");
        assert!(text.ends_with("Not written: not assessed."), "{text}");
        let text = rating("regulator", key::EFFICIENCY);
        assert!(text.contains("Not written: 85 % ("), "{text}");
        let text = rating("breaker", key::RESET);
        assert!(text.contains("\n- `auto-reset`: closes again by itself"), "{text}");
        assert!(rating("motor", key::BACK_DRIVABLE).contains("Not written: yes (careful"));
        assert!(rating("driver", key::SUPPLY).contains("(range of voltage, V)"));
    }

    #[test]
    fn hover_of_terminals_and_statements() {
        let first = kind("motor").terminals.first().expect("a terminal");
        assert!(terminal_hover(first).starts_with("**`a`**, also `pos`, `1` (motor lead) First lead"));
        let tie = statement::by_word("tie").expect("a statement");
        assert!(statement_hover(tie).contains("```wattle\ntie "));
        assert!(kind_hover(kind("fuse")).contains("```wattle\nfuse F-DRIVE 40 A blade on BUS\n```"));
    }
}
