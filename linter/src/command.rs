//! The verbs of the command, and how each run ends.

pub(crate) mod civil;
mod colour;
mod console;
mod figures;
mod guard;
mod lint;
mod look;
mod root;
mod rules;
mod stock;
mod tidy;

use std::{ffi::OsString, process::ExitCode};

use clap::{Parser, Subcommand};
use wattle_grammar::syntax::Date;

/// Checks the wiring of robots written in Wattle.
#[derive(Debug, Parser)]
#[command(name = "wattle", version, arg_required_else_help = true, disable_help_subcommand = true)]
#[command(after_help = EXIT_STATUS)]
struct Cli {
    #[command(subcommand)]
    verb: Verb,
}

#[derive(Debug, Subcommand)]
enum Verb {
    /// Check files, every robot below a folder, or standard input
    #[command(after_help = EXIT_STATUS)]
    Lint(lint::Options),
    /// Show the currents, volts, drops, temperatures and margins of every mode; `--explain NAME` shows how one came about
    #[command(after_help = figures::EXIT_STATUS)]
    Figures(figures::Options),
    /// Show the catalogue of rules, or the page of one
    Rules(rules::Options),
    /// Show the generic parts that any robot may use, or one of them
    Stock(stock::Options),
    /// Lay files out in the one layout; statements with an error are left as they are
    Tidy(tidy::Options),
}

const EXIT_STATUS: &str = "\
Exit status:
  0  analysed completely, nothing at or above the level
  1  analysed completely, at least one finding at or above the level
  2  wrong use
  3  not analysed completely, whatever was found: an error of the language,
     a file that cannot be read, a network without a solution
  4  a fault of wattle itself";

/// How a run ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Exit {
    /// Nothing at or above the level.
    Clean = 0,
    /// At least one finding at or above the level.
    Findings = 1,
    /// Wrong use.
    Usage = 2,
    /// Not analysed completely.
    Incomplete = 3,
    /// Our own fault.
    Fault = 4,
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(exit as u8)
    }
}

/// What a run needs to know of the world around it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Surroundings {
    /// The day on which accepted risks are judged.
    pub(crate) today: Option<Date>,
    /// Whether standard output is a terminal.
    pub(crate) terminal: bool,
    /// The terminal's width in columns, when it is known.
    pub(crate) terminal_width: Option<usize>,
    /// A variable of the environment.
    pub(crate) variable: fn(&str) -> Option<String>,
}

/// What a verb has to say, and how the run ends.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Outcome {
    /// For standard output.
    out: String,
    /// For standard error.
    trouble: String,
    exit: Exit,
}

impl Outcome {
    fn usage(trouble: &str) -> Self {
        Self { out: String::new(), trouble: format!("wattle: {trouble}\n"), exit: Exit::Usage }
    }
}

/// Runs the command line and prints what comes of it.
pub(crate) fn run(arguments: impl Iterator<Item = OsString>, surroundings: &Surroundings) -> Exit {
    let cli = match Cli::try_parse_from(arguments) {
        Ok(cli) => cli,
        Err(error) => return console::tell(&error),
    };
    let outcome = guard::guarded(|| match &cli.verb {
        Verb::Lint(options) => lint::run(options, surroundings),
        Verb::Figures(options) => figures::run(options, surroundings),
        Verb::Rules(options) => rules::run(options, surroundings),
        Verb::Stock(options) => stock::run(options, surroundings),
        Verb::Tidy(options) => tidy::run(options),
    });
    console::print(&outcome)
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    use super::*;

    #[test]
    fn the_command_line_is_well_formed() {
        Cli::command().debug_assert();
    }

    #[test]
    fn every_exit_status_is_documented() {
        for exit in [Exit::Clean, Exit::Findings, Exit::Usage, Exit::Incomplete, Exit::Fault] {
            assert!(EXIT_STATUS.contains(&format!("\n  {}  ", exit as u8)));
        }
    }
}
