//! `wattle stock`: the generic parts that come with the program, or one of them.

use clap::Args;
use wattle_linter::stock;

use super::{Exit, Outcome, Surroundings, look::Look};

#[derive(Debug, Args)]
pub(super) struct Options {
    /// The part or assembly that is shown; without one, all of them
    name: Option<String>,
    #[command(flatten)]
    look: Look,
}

pub(super) fn run(options: &Options, surroundings: &Surroundings) -> Outcome {
    let width = options.look.style(surroundings).width;
    let out = match &options.name {
        None => stock::list(width),
        Some(name) => match stock::entry(name) {
            Some(entry) => stock::page(entry, width),
            None => return unknown(name),
        },
    };
    Outcome { out, trouble: String::new(), exit: Exit::Clean }
}

fn unknown(name: &str) -> Outcome {
    let near = stock::nearest(name).map_or_else(String::new, |near| format!("; did you mean `{near}`?"));
    Outcome::usage(&format!("there is no `{name}` in the stock{near}"))
}
