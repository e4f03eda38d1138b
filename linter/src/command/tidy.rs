//! `wattle tidy`: the one layout.

use std::{
    fs,
    io::{self, Read},
    path::{Path, PathBuf},
};

use clap::Args;
use wattle_grammar::{parse, span::FileId, tidy::tidy};
use wattle_linter::files::wattle_files;

use super::{Exit, Outcome};

#[derive(Debug, Args)]
pub(super) struct Options {
    /// Files, folders (every `.wattle` file below), or `-` for standard input to standard output
    #[arg(value_name = "PATH", default_value = ".")]
    paths: Vec<PathBuf>,
    /// Change nothing; name the files that are not in the layout, and end with 1 if there are any
    #[arg(long)]
    verify: bool,
}

pub(super) fn run(options: &Options) -> Outcome {
    let mut outcome = Outcome { out: String::new(), trouble: String::new(), exit: Exit::Clean };
    for path in &options.paths {
        if path.as_os_str() == "-" {
            standard_input(options.verify, &mut outcome);
        } else if path.is_dir() {
            let found = wattle_files(path);
            found.unreadable.iter().for_each(|(path, why)| trouble(&mut outcome, path, why));
            found.files.iter().for_each(|file| one(file, options.verify, &mut outcome));
        } else {
            one(path, options.verify, &mut outcome);
        }
    }
    outcome
}

fn standard_input(verify: bool, outcome: &mut Outcome) {
    let path = Path::new("-");
    let mut bytes = Vec::new();
    let read = io::stdin().lock().read_to_end(&mut bytes).map_err(|error| error.to_string());
    match read.and_then(|_| laid_out(&bytes)) {
        Ok((text, tidied)) if verify => verdict(path, text == tidied, outcome),
        Ok((_, tidied)) => outcome.out.push_str(&tidied),
        Err(why) => trouble(outcome, path, &why),
    }
}

/// Lays one file out, or only looks whether it is.
fn one(path: &Path, verify: bool, outcome: &mut Outcome) {
    let laid = fs::read(path).map_err(|error| error.to_string()).and_then(|bytes| laid_out(&bytes));
    match laid {
        Ok((text, tidied)) if verify || text == tidied => verdict(path, text == tidied, outcome),
        Ok((_, tidied)) => match replace(path, &tidied) {
            Ok(()) => outcome.out.push_str(&format!("{}: laid out\n", path.display())),
            Err(error) => trouble(outcome, path, &error.to_string()),
        },
        Err(why) => trouble(outcome, path, &why),
    }
}

fn verdict(path: &Path, is_tidy: bool, outcome: &mut Outcome) {
    if !is_tidy {
        outcome.out.push_str(&format!("{}: not in the layout\n", path.display()));
        outcome.exit = outcome.exit.max(Exit::Findings);
    }
}

fn trouble(outcome: &mut Outcome, path: &Path, why: &str) {
    outcome.trouble.push_str(&format!("wattle: {}: {why}\n", path.display()));
    outcome.exit = outcome.exit.max(Exit::Incomplete);
}

/// The text and the text laid out. Statements with an error keep their layout.
fn laid_out(bytes: &[u8]) -> Result<(String, String), String> {
    let text = std::str::from_utf8(bytes)
        .map_err(|error| format!("not UTF-8 from byte {} on", error.valid_up_to()))?;
    let tidied = tidy(&parse(FileId(0), text), text);
    Ok((text.to_owned(), tidied))
}

/// Writes beside the file and moves it into place, so that a crash leaves the old text or the new one.
fn replace(path: &Path, text: &str) -> io::Result<()> {
    let name = path.file_name().map_or_else(|| "wattle".into(), |name| name.to_string_lossy().into_owned());
    let beside = path.with_file_name(format!(".{name}.{}", std::process::id()));
    fs::write(&beside, text)?;
    fs::set_permissions(&beside, fs::metadata(path)?.permissions())?;
    fs::rename(&beside, path)
}
