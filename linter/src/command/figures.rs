//! `wattle figures`: what every source, device, load and wire sees in every mode, and how each figure comes about.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use wattle_linter::{
    account::{Account, Explanation, csv, explain, json, markdown, subject, text},
    design::Design,
};

use super::{
    Exit, Outcome, Surroundings,
    look::Look,
    root::{self, Judged},
};

/// How a run ends; findings do not count here, `wattle lint` tells them.
pub(super) const EXIT_STATUS: &str = "\
Exit status:
  0  everything was analysed completely
  2  wrong use
  3  not analysed completely: an error of the language, a file that cannot be
     read, a network without a solution
  4  a fault of wattle itself";

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
    /// Every figure of one wire, thing or terminal, with formula, inputs and source
    #[arg(long, value_name = "NAME")]
    explain: Option<String>,
    #[command(flatten)]
    look: Look,
}

#[derive(Clone, Copy, Debug, Default, ValueEnum)]
enum Form {
    /// The worst first, then tables
    #[default]
    Text,
    /// JSON, never rounded, with every working point
    Json,
    /// One long table, never rounded, one row a figure
    Csv,
    /// Tables in Markdown
    Markdown,
}

pub(super) fn run(options: &Options, surroundings: &Surroundings) -> Outcome {
    if let Some(why) = root::wrong_use(&options.paths, options.under.as_deref()) {
        return Outcome::usage(why);
    }
    let found = root::find(&options.paths, options.under.as_deref());
    let judged: Vec<(String, Judged)> =
        found.into_iter().map(|found| (found.root.clone(), found.judge(surroundings.today))).collect();
    if let Some(why) = unknown_mode(&judged, &options.modes) {
        return Outcome::usage(&why);
    }
    let accounts: Vec<Account<'_>> =
        judged.iter().map(|(root, judged)| account(root, judged, &options.modes)).collect();
    let width = options.look.style(surroundings).width;
    let Some(name) = &options.explain else {
        return outcome(print(&accounts, options.form, width), &accounts);
    };
    let explained: Vec<Explanation<'_>> =
        accounts.iter().filter_map(|account| Explanation::new(account, name)).collect();
    if explained.is_empty() && !robots(&judged).is_empty() {
        return Outcome::usage(&unknown_name(&judged, name));
    }
    outcome(print_explained(&explained, options.form, width), &accounts)
}

fn account<'a>(root: &'a str, judged: &'a Judged, modes: &[String]) -> Account<'a> {
    match judged {
        Judged::Robot(analysis) => Account::new(root, analysis, modes),
        Judged::Other(project, verdict) => Account::without_figures(root, project, verdict),
    }
}

fn robots(judged: &[(String, Judged)]) -> Vec<&Design> {
    judged.iter().filter_map(|(_, judged)| design(judged)).collect()
}

const fn design(judged: &Judged) -> Option<&Design> {
    match judged {
        Judged::Robot(analysis) => Some(&analysis.design),
        Judged::Other(..) => None,
    }
}

/// A mode that no robot has is a slip; one that only some have leaves the others out.
fn unknown_mode(judged: &[(String, Judged)], modes: &[String]) -> Option<String> {
    let robots = robots(judged);
    let is_known =
        |name: &String| robots.iter().flat_map(|design| &design.modes).any(|mode| mode.name == *name);
    let unknown = modes.iter().find(|name| !robots.is_empty() && !is_known(name))?;
    let near = subject::nearest_mode(robots, unknown);
    Some(format!("there is no mode `{unknown}`{}", did_you_mean(near)))
}

fn unknown_name(judged: &[(String, Judged)], name: &str) -> String {
    let near = subject::nearest_name(robots(judged), name);
    format!("there is no wire, thing or terminal `{name}`{}", did_you_mean(near.as_deref()))
}

fn did_you_mean(near: Option<&str>) -> String {
    near.map_or_else(String::new, |near| format!("; did you mean `{near}`?"))
}

fn print(accounts: &[Account<'_>], form: Form, width: usize) -> serde_json::Result<String> {
    match form {
        Form::Text => Ok(text::render(accounts, width)),
        Form::Json => json::render(accounts),
        Form::Csv => Ok(csv::render(accounts)),
        Form::Markdown => Ok(markdown::render(accounts)),
    }
}

fn print_explained(explained: &[Explanation<'_>], form: Form, width: usize) -> serde_json::Result<String> {
    match form {
        Form::Text => Ok(explain::in_text(explained, width)),
        Form::Json => json::explanation(explained),
        Form::Csv => Ok(csv::explanation(explained)),
        Form::Markdown => Ok(explain::in_markdown(explained)),
    }
}

fn outcome(rendered: serde_json::Result<String>, accounts: &[Account<'_>]) -> Outcome {
    match rendered {
        Ok(out) => Outcome { out, trouble: String::new(), exit: exit(accounts) },
        Err(error) => Outcome {
            out: String::new(),
            trouble: format!("wattle: the figures cannot be written as JSON: {error}\n"),
            exit: Exit::Fault,
        },
    }
}

fn exit(accounts: &[Account<'_>]) -> Exit {
    if accounts.iter().all(|account| account.report.complete()) { Exit::Clean } else { Exit::Incomplete }
}
