//! `wattle rules`: the catalogue, or one page of it.

use clap::{Args, ValueEnum};
use wattle_linter::{manual, rule::Rule, rules};

use super::{Exit, Outcome, Surroundings, look::Look};

#[derive(Debug, Args)]
pub(super) struct Options {
    /// The rule whose page is shown; without one, every rule with its mistake
    name: Option<String>,
    /// The form
    #[arg(long = "as", value_name = "FORM", value_enum, default_value_t)]
    form: Form,
    #[command(flatten)]
    look: Look,
}

#[derive(Clone, Copy, Debug, Default, ValueEnum)]
enum Form {
    /// Plain text for the terminal
    #[default]
    Text,
    /// Markdown
    Markdown,
}

pub(super) fn run(options: &Options, surroundings: &Surroundings) -> Outcome {
    let width = options.look.style(surroundings).width;
    let out = match &options.name {
        None => list(options.form, width),
        Some(name) => match rules::by_name(name) {
            Some(rule) => page(rule, options.form, width),
            None => return unknown(name),
        },
    };
    Outcome { out, trouble: String::new(), exit: Exit::Clean }
}

fn list(form: Form, width: usize) -> String {
    match form {
        Form::Text => manual::plain_list(rules::ALL, width),
        Form::Markdown => manual::markdown_list(rules::ALL),
    }
}

fn page(rule: &Rule, form: Form, width: usize) -> String {
    let report = manual::example_report(rule.bad);
    match form {
        Form::Text => manual::plain_page(rule, &report, width),
        Form::Markdown => manual::markdown_page(rule, &report),
    }
}

fn unknown(name: &str) -> Outcome {
    let near = rules::nearest(name).map_or_else(String::new, |near| format!("; did you mean `{near}`?"));
    Outcome::usage(&format!("there is no rule `{name}`{near}"))
}
