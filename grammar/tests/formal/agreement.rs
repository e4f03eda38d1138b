//! The page and the parser say the same of a text.

use std::{fs, sync::OnceLock};

use wattle_grammar::{parse, span::FileId};

use super::{
    corpus::{home, samples},
    earley,
    notation::productions,
    page::refreshed,
    plain::Rules,
    reader,
    shape::Productions,
};

/// The published grammar.
pub(crate) struct Published {
    pub page: String,
    pub all: Productions,
    pub rules: Rules,
}

pub(crate) fn published() -> &'static Published {
    static PUBLISHED: OnceLock<Published> = OnceLock::new();
    PUBLISHED.get_or_init(|| {
        let page = fs::read_to_string(home().join("GRAMMAR.md")).expect("the page can be read");
        // The lists as they will be, so that one run with `UPDATE=1` is enough.
        let page = if std::env::var_os("UPDATE").is_some() { refreshed(&page) } else { page };
        let all = productions(&page).into_iter().map(|it| (it.name.clone(), it)).collect();
        let rules = Rules::of(&all);
        Published { page, all, rules }
    })
}

/// Whether the page accepts a text, else why not.
pub(crate) fn accepted(text: &str) -> Result<(), String> {
    let Published { all, rules, .. } = published();
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    earley::recognise(all, rules, &reader::read(all, text)?)
}

/// Whether the parser has no complaint, else its first.
pub(crate) fn parsed(text: &str) -> Result<(), String> {
    let errors = parse(FileId(0), text).errors;
    errors.first().map_or(Ok(()), |error| Err(format!("{}: {}", error.name, error.message)))
}

/// How page and parser disagree over a text, if they do.
pub(crate) fn disagreement(text: &str) -> Option<String> {
    match (accepted(text), parsed(text)) {
        (Ok(()), Err(error)) => Some(format!("the page accepts, the parser says {error}:\n{text}")),
        (Err(reason), Ok(())) => Some(format!("the parser accepts, the page says {reason}:\n{text}")),
        _ => None,
    }
}

#[test]
fn every_sample_is_a_text_of_the_grammar() {
    let all = samples();
    assert!(all.len() > 200, "only {} samples were found", all.len());
    let wrong: Vec<String> = all
        .iter()
        .filter_map(|sample| Some(format!("{}: {}", sample.from, disagreement(&sample.text)?)))
        .collect();
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), all.len(), wrong.join("\n---\n"));
    let without_error = all.iter().filter(|sample| parsed(&sample.text).is_ok()).count();
    assert!(without_error * 10 > all.len() * 9, "only {without_error} of {} have no error", all.len());
}
