//! `wattle figures`: what every source, device, load and wire sees in every mode.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use wattle_linter::account::{Account, json};

use super::{
    Exit, Outcome, Surroundings,
    root::{self, Judged},
};

#[derive(Debug, Args)]
pub(super) struct Options {
    /// Files, folders (every robot below), or `-` for standard input
    #[arg(value_name = "PATH", default_value = ".")]
    paths: Vec<PathBuf>,
    /// The name of standard input: it is reported under this name, and what it uses is looked for beside it
    #[arg(long, value_name = "NAME")]
    under: Option<PathBuf>,
    /// The form of the figures
    #[arg(long = "as", value_name = "FORM", value_enum, default_value_t)]
    form: Form,
    /// Only this mode; may be given several times [default: every mode]
    #[arg(long = "mode", value_name = "NAME")]
    modes: Vec<String>,
}

#[derive(Clone, Copy, Debug, Default, ValueEnum)]
enum Form {
    /// JSON, never rounded
    #[default]
    Json,
}

pub(super) fn run(options: &Options, surroundings: &Surroundings) -> Outcome {
    if let Some(why) = root::wrong_use(&options.paths, options.under.as_deref()) {
        return Outcome::usage(why);
    }
    let found = root::find(&options.paths, options.under.as_deref());
    let judged: Vec<(String, Judged)> =
        found.into_iter().map(|found| (found.root.clone(), found.judge(surroundings.today))).collect();
    let accounts: Vec<Account<'_>> =
        judged.iter().map(|(root, judged)| account(root, judged, options)).collect();
    let rendered = match options.form {
        Form::Json => json::render(&accounts),
    };
    match rendered {
        Ok(out) => Outcome { out, trouble: String::new(), exit: exit(&accounts) },
        Err(error) => Outcome {
            out: String::new(),
            trouble: format!("wattle: the figures cannot be written as JSON: {error}\n"),
            exit: Exit::Fault,
        },
    }
}

fn account<'a>(root: &'a str, judged: &'a Judged, options: &Options) -> Account<'a> {
    match judged {
        Judged::Robot(analysis) => Account::new(root, analysis, &options.modes),
        Judged::Other(project, verdict) => Account::without_figures(root, project, verdict),
    }
}

/// Findings do not count here: they are told by `wattle lint`.
fn exit(accounts: &[Account<'_>]) -> Exit {
    if accounts.iter().all(|account| account.report.complete()) { Exit::Clean } else { Exit::Incomplete }
}
