//! The `wattle` command: clock, terminal and streams; everything else is in `command` and the library.

mod command;

use std::{
    io::{self, IsTerminal},
    process::ExitCode,
    time::{SystemTime, UNIX_EPOCH},
};

use wattle_grammar::syntax::Date;

use command::{Surroundings, civil};

fn main() -> ExitCode {
    let surroundings = Surroundings {
        today: today(),
        terminal: io::stdout().is_terminal(),
        terminal_width: terminal_size::terminal_size().map(|(width, _)| usize::from(width.0)),
        variable: |name| std::env::var(name).ok(),
    };
    command::run(std::env::args_os(), &surroundings).into()
}

/// The day in UTC; nothing when the clock stands before 1970.
fn today() -> Option<Date> {
    let seconds = SystemTime::now().duration_since(UNIX_EPOCH).ok()?.as_secs();
    civil::date(seconds / civil::SECONDS_A_DAY)
}
