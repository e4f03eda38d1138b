//! What a row is about, which decides its columns.

use super::line::Line;
use crate::kind;

/// What the lines of a block mean.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Context {
    /// Statements: the file, or an assembly with its settings.
    Statements,
    /// Cores and settings of a harness or cable.
    Cores,
    /// Lines of a mode.
    Mode,
    /// Settings.
    Settings,
}

impl Context {
    /// What lines mean in the block of a line that begins with `word` and stands in this context.
    pub(super) fn of_block(self, word: &str) -> Self {
        match (self, word) {
            (Self::Statements, "assembly") => Self::Statements,
            (Self::Statements, "harness" | "cable") => Self::Cores,
            (Self::Statements, "mode") => Self::Mode,
            _ => Self::Settings,
        }
    }

    /// Whether such a block may stay on the line it was written on. Cores and statements are real things: each has a line
    /// of its own.
    pub(super) const fn may_stay_on_line(self) -> bool {
        matches!(self, Self::Mode | Self::Settings)
    }
}

/// Rows of one class stand in columns together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Class {
    /// Things of any kind.
    Thing,
    /// `wire`
    Wire,
    /// A core of a harness or cable.
    Core,
    /// `harness` and `cable`
    Harness,
    /// `tie`
    Tie,
    /// `mate`
    Mate,
    /// `place`
    Place,
    /// `part`
    Part,
    /// `let`
    Let,
    /// `fit`
    Fit,
    /// `expect`
    Expect,
    /// `reading`
    Reading,
    /// `accept`
    Accept,
    /// A line of a mode.
    State,
    /// A setting.
    Setting,
    /// A terminal or parameter of an assembly.
    Outward,
    /// Anything else; it has no columns.
    Plain,
}

/// The class of a row.
pub(super) fn of(line: &Line<'_>, context: Context) -> Class {
    match context {
        Context::Statements => statement(line.text_of(0)),
        Context::Cores if line.text_of(line.path_end(1)) == "to" => Class::Core,
        Context::Mode => Class::State,
        Context::Cores | Context::Settings => Class::Setting,
    }
}

fn statement(word: &str) -> Class {
    match word {
        "wire" => Class::Wire,
        "harness" | "cable" => Class::Harness,
        "tie" => Class::Tie,
        "mate" => Class::Mate,
        "place" => Class::Place,
        "part" => Class::Part,
        "let" => Class::Let,
        "fit" => Class::Fit,
        "expect" => Class::Expect,
        "reading" => Class::Reading,
        "accept" => Class::Accept,
        "terminal" | "terminals" | "parameter" => Class::Outward,
        _ if kind::by_word(word).is_some() => Class::Thing,
        _ => Class::Plain,
    }
}
