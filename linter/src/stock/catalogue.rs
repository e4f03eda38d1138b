//! The stock for the terminal: everything in it, one line each, and one entry as it is written with what it comes to.

use std::path::Path;

use wattle_grammar::{
    span::Span,
    syntax::{Assembly, Part, Setting, Value},
};

use super::{Entry, TEXT, entries};
use crate::{
    design::{Origin, Rated, Thing, lower},
    paragraph::hanging,
    project::{self, Loader},
};

/// A value wider than this has no column of its own.
const MOST: usize = 24;

/// Everything in the stock in the order of its text: name, kind, one line.
#[must_use]
pub fn list(width: usize) -> String {
    let rows: Vec<(&str, &str, String)> =
        entries().into_iter().map(|entry| (entry.name(), kind(entry), summary(entry))).collect();
    let name_width = rows.iter().map(|(name, ..)| name.len()).max().unwrap_or(0);
    let kind_width = rows.iter().map(|(_, kind, _)| kind.len()).max().unwrap_or(0);
    let row = |(name, kind, summary): &(&str, &str, String)| {
        hanging(&format!("{name:name_width$}  {kind:kind_width$}  "), summary, width)
    };
    rows.iter().map(row).collect()
}

/// One entry: how it is written, its bases below it, and the ratings it comes to, each with where it is from.
#[must_use]
pub fn page(entry: Entry, width: usize) -> String {
    let mut out = format!("{} ({})\n", entry.name(), kind(entry));
    out.push_str(&hanging("  ", &summary(entry), width));
    out.push_str("\nin use\n");
    out.push_str(&format!("    {}\n", example(entry)));
    out.push_str("\nas written\n");
    for span in statements(entry) {
        out.extend(span.slice(TEXT).lines().map(|line| format!("    {line}\n")));
    }
    if let Entry::Part(part) = entry {
        out.push_str("\nratings\n");
        out.push_str(&ratings(&example_thing(part), width));
    }
    out
}

/// The part and the parts that it builds on.
fn family(part: &'static Part) -> impl Iterator<Item = &'static Part> {
    std::iter::successors(Some(part), |one| super::part(&one.base.text))
}

fn kind(entry: Entry) -> &'static str {
    match entry {
        Entry::Part(part) => family(part).last().map_or("", |last| &last.base.text),
        Entry::Assembly(_) => "assembly",
    }
}

fn statements(entry: Entry) -> Vec<Span> {
    match entry {
        Entry::Part(part) => family(part).map(|part| part.span).collect(),
        Entry::Assembly(assembly) => vec![assembly.span],
    }
}

/// What it is: the nearest label, and after one that is not its own, or without any, the values on its line.
fn summary(entry: Entry) -> String {
    let Entry::Part(part) = entry else { return entry_parameters(entry) };
    let values: Vec<&str> = part.values.iter().map(|value| value.span.slice(TEXT)).collect();
    let values = values.join(" ");
    let label = family(part).find_map(|part| part.label.as_ref()).map(|label| &*label.text);
    match (label, &part.label) {
        (Some(label), Some(_)) => label.to_owned(),
        (Some(label), None) => format!("{label}: {values}"),
        (None, _) => values,
    }
}

fn entry_parameters(entry: Entry) -> String {
    let Entry::Assembly(assembly) = entry else { return String::new() };
    let shown = |(name, default): (&str, Option<&str>)| format!("{name} {}", default.unwrap_or_default());
    let all: Vec<String> = parameters(assembly).map(shown).collect();
    format!("parameters: {}", all.join(", "))
}

/// The parameters of an assembly with their defaults as written.
fn parameters(assembly: &Assembly) -> impl Iterator<Item = (&str, Option<&str>)> {
    let is_parameter = |setting: &&Setting| &*setting.key.text == "parameter";
    let text = |value: &Value| value.span.slice(TEXT);
    assembly
        .settings
        .iter()
        .filter(is_parameter)
        .filter_map(move |setting| Some((setting.values.first().map(text)?, setting.values.get(1).map(text))))
}

/// A statement that uses it.
fn example(entry: Entry) -> String {
    match entry {
        Entry::Part(_) => format!("{} NAME : {}", kind(entry), entry.name()),
        Entry::Assembly(assembly) => {
            let set =
                |(name, default): (&str, Option<&str>)| format!("{name} {}", default.unwrap_or_default());
            let all: Vec<String> = parameters(assembly).map(set).collect();
            format!("fit {} as NAME {{ {} }}", entry.name(), all.join("; "))
        }
    }
}

/// A thing of the part in a robot of its own, with the ratings that hold in the end.
fn example_thing(part: &'static Part) -> Option<Thing> {
    struct OneLine(String);
    impl Loader for OneLine {
        fn load(&self, _: &Path) -> Result<Vec<u8>, String> {
            Ok(self.0.as_bytes().to_vec())
        }
    }
    let text = format!("wattle 1\n{}\n", example(Entry::Part(part)));
    let (design, _) = lower(&project::open(Path::new("example.wattle"), &OneLine(text)));
    design.things.into_iter().next()
}

fn ratings(thing: &Option<Thing>, width: usize) -> String {
    let ratings = thing.as_ref().map(|thing| thing.ratings.as_slice()).unwrap_or_default();
    let rows: Vec<(&str, String, String)> =
        ratings.iter().map(|rated| (rated.key, rated.value.to_string(), origin(rated))).collect();
    let key_width = rows.iter().map(|(key, ..)| key.len()).max().unwrap_or(0);
    let value_width =
        rows.iter().map(|(_, value, _)| value.chars().count()).filter(|wide| *wide <= MOST).max();
    let value_width = value_width.unwrap_or(0);
    let row = |(key, value, origin): &(&str, String, String)| {
        let head = format!("  {key:key_width$}  ");
        if value.chars().count() > MOST {
            return hanging(&head, &format!("{value} ({origin})"), width);
        }
        hanging(&format!("{head}{value:value_width$}  "), origin, width)
    };
    rows.iter().map(row).collect()
}

fn origin(rated: &Rated) -> String {
    match &rated.origin {
        Origin::Thing(span) | Origin::Part(span) | Origin::Harness(span) | Origin::Robot(span) => {
            format!("`{}`", statement_at(*span))
        }
        Origin::Default(authority) => format!("default: {authority}"),
    }
}

/// The name of the entry that a place lies in.
fn statement_at(place: Span) -> &'static str {
    let holds = |entry: &Entry| entry.span().start <= place.start && place.end <= entry.span().end;
    entries().into_iter().find(holds).map_or("", Entry::name)
}
