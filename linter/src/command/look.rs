//! The options on how a report looks, the same for every verb.

use clap::Args;
use wattle_linter::report::text::Style;

use super::{Surroundings, colour};

/// The width that is assumed where there is no terminal.
const USUAL_WIDTH: usize = 80;

#[derive(Clone, Copy, Debug, Args)]
pub(super) struct Look {
    /// When to use colour; NO_COLOR, CLICOLOR_FORCE and TERM=dumb are heeded in `auto`
    #[arg(long, value_name = "WHEN", value_enum, default_value_t, alias = "color")]
    colour: colour::When,
    /// Columns at which text is broken [default: the terminal's width, else 80]
    #[arg(long, value_name = "COLUMNS", value_parser = clap::value_parser!(u16).range(20..=1000))]
    width: Option<u16>,
}

impl Look {
    /// The style that these options ask for.
    pub(super) fn style(self, surroundings: &Surroundings) -> Style {
        let terminal_width =
            surroundings.terminal_width.filter(|_| surroundings.terminal).map(|width| width.max(20));
        Style {
            colour: colour::wanted(self.colour, surroundings.variable, surroundings.terminal),
            width: self.width.map(usize::from).or(terminal_width).unwrap_or(USUAL_WIDTH),
        }
    }
}
