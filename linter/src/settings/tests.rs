//! The settings file as a whole: the page's examples, and what each mistake comes to.

use wattle_grammar::quantity::{Amps, Celsius, SquareMm};

use super::*;
use crate::profile::Conductor;

/// The page for people.
const PAGE: &str = include_str!("README.md");

fn of(text: &str) -> Settings {
    parse(text, FileId(0))
}

/// The examples of the page.
fn examples() -> Vec<&'static str> {
    PAGE.split("```toml\n").skip(1).filter_map(|rest| rest.split("```").next()).collect()
}

#[test]
fn the_examples_of_the_page_are_read_without_a_mistake() {
    let found = examples();
    assert_eq!(found.len(), 2);
    for example in found {
        assert_eq!(of(example).errors, [], "{example}");
    }
    let settings = of(examples()[0]);
    assert_eq!(settings.profile, Chosen::Word("own"));
    let wire =
        Conductor { area: SquareMm(1.5), insulation: Celsius(105.0), ambient: Celsius(30.0), bundle: 3 };
    let found =
        settings.default_profile().and_then(|profile| profile.ampacity(&wire)).map(|found| found.amps);
    assert_eq!(found, Some(Amps(22.0 * 0.7)));
    assert_eq!(of(examples()[1]).default_profile().map(|profile| profile.word), Some("still-air"));
}

#[test]
fn the_page_names_every_key() {
    for key in KEYS.iter().filter(|key| key.name != "ampacity") {
        let full =
            if key.table.is_empty() { key.name.to_owned() } else { format!("{}.{}", key.table, key.name) };
        assert!(PAGE.contains(&format!("`{full}`")), "{full}");
    }
}

#[test]
fn an_empty_file_chooses_nothing() {
    let settings = of("# nothing\n");
    assert_eq!((settings.profile, settings.errors.len()), (Chosen::Nothing, 0));
    assert!(settings.default_profile().is_none());
}

#[test]
fn what_is_not_understood_covers_no_wire() {
    for text in ["profile = boat", "profile = \"bote\"", "profile = \"own\"", "profile = 3"] {
        let settings = of(text);
        assert_eq!(settings.errors.len(), 1, "{text}: {:?}", settings.errors);
        assert!(settings.default_profile().is_some_and(|profile| !profile.has_figures()), "{text}");
    }
}

#[test]
fn a_table_that_is_confirmed_is_taken_and_said() {
    let hot = examples()[0].replace("\"14 A\"", "\"44 A\"").replace("\"22 A\"", "\"46 A\"");
    let refused = of(&hot);
    assert_eq!(refused.errors.iter().map(|error| error.name).collect::<Vec<_>>(), ["settings.overrated"]);
    assert!(refused.table.is_none());
    let confirmed = of(&hot.replace("device = ", "confirmed = \"wires in a water jacket\"\ndevice = "));
    assert_eq!(confirmed.errors, []);
    assert!(confirmed.table.is_some());
    assert!(confirmed.notes.iter().any(|note| note.contains("water jacket") && note.contains("44 A")));
}

#[test]
fn bytes_that_are_no_text_and_large_files_are_refused() {
    let (text, settings) = read(Ok(vec![b'\n', 0xff]), FileId(3));
    assert_eq!((text.as_str(), settings.errors.len()), ("", 1));
    assert!(settings.errors.iter().all(|error| error.message.contains("line 2 is not UTF-8")));
    let (_, settings) = read(Ok(vec![b' '; MOST_BYTES + 1]), FileId(3));
    assert!(settings.errors.iter().all(|error| error.message.contains("the limit is 1 MB")));
    let (_, settings) = read(Err("no such file".to_owned()), FileId(3));
    assert_eq!(settings.profile, Chosen::Unclear);
}
