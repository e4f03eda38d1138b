//! Tests of the parser, by topic.

mod damage;
mod forms;
mod limits;
mod mistakes;
mod recovery;

use super::*;

/// Parses a text of file 0.
fn read(text: &str) -> Parse {
    parse(FileId(0), text)
}

/// The items of a text without errors; the edition is put before it and left out of the answer.
fn items(text: &str) -> Vec<Item> {
    let mut parsed = read(&format!("wattle 1\n{text}"));
    assert_eq!(parsed.errors, [], "{text}");
    parsed.file.items.remove(0);
    parsed.file.items
}

/// The one item of a text without errors.
fn item(text: &str) -> Item {
    let mut items = items(text);
    assert_eq!(items.len(), 1, "{text}");
    items.remove(0)
}

/// The errors of a text after the edition, each as `name: marked text`.
fn errors(text: &str) -> Vec<String> {
    let text = format!("wattle 1\n{text}");
    let short = |error: &TextError| error.name.trim_start_matches("language.").to_owned();
    read(&text).errors.iter().map(|error| format!("{}: {}", short(error), error.span.slice(&text))).collect()
}

/// A tree without places, for comparing what two texts say.
fn meaning(item: &Item) -> String {
    let mut rest = format!("{item:?}");
    let mut text = String::new();
    while let Some((before, after)) = rest.split_once("Span {") {
        text.push_str(before);
        rest = after
            .split_once(" } ")
            .or_else(|| after.split_once('}'))
            .map_or("", |(_, after)| after)
            .to_owned();
    }
    text + &rest
}
