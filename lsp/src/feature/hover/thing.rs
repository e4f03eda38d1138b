//! A thing: its ratings and facts, each with where it came from.

use std::fmt;

use wattle_grammar::{
    quantity::Quantity,
    span::Span,
    unit::{base_symbol, write_scaled},
};
use wattle_linter::design::{Origin, Port, Rated, RatedValue, Thing, ThingId};

use crate::{
    engine::{Project, Robot},
    feature::page::Page,
};

pub(super) fn describe(page: &mut Page, robot: &Robot, project: &Project, id: ThingId) {
    let Some(thing) = robot.design.things.get(id.index()) else { return };
    let label = thing.label.as_ref().map_or_else(String::new, |label| format!(" \"{label}\""));
    page.title(format!("{} `{}`{label}", thing.kind.word, thing.name));
    page.list(stands(robot, thing));
    let rows = thing.ratings.iter().map(|rated| row(project, thing, rated)).collect();
    page.table(&["rating", "value", "from"], rows);
}

fn stands(robot: &Robot, thing: &Thing) -> Vec<String> {
    let place = thing.place.and_then(|place| robot.design.places.get(place.index()));
    let on = thing.on.and_then(|on| robot.design.things.get(on.index()));
    let facts = [on.map(|on| format!("on `{}`", on.name)), place.map(|place| format!("at `{}`", place.name))];
    facts.into_iter().flatten().collect()
}

fn row(project: &Project, thing: &Thing, rated: &Rated) -> Vec<String> {
    let mut from = origin(project, thing, &rated.origin);
    if let Some(basis) = rated.standing.basis {
        from.push_str(&format!(", {}", basis.word()));
    }
    if let Some(date) = rated.standing.measured {
        from.push_str(&format!(", measured on {date}"));
        let otherwise = thing.unmeasured.iter().find(|other| other.key == rated.key);
        from.extend(otherwise.map(|other| format!("; otherwise {}", value(&other.value))));
    }
    vec![rated.key.to_owned(), value(&rated.value), from]
}

fn value(value: &RatedValue) -> String {
    match value {
        RatedValue::Quantity(quantity) => Printed(quantity).to_string(),
        RatedValue::Range(low, high) => format!("{} .. {}", Printed(low), Printed(high)),
        RatedValue::Word(word) => word.clone(),
        RatedValue::Flag(flag) => if *flag { "yes" } else { "no" }.to_owned(),
        RatedValue::Text(text) => format!("\"{text}\""),
        RatedValue::Reference(name) => format!("`{name}`"),
        RatedValue::Terminals(names) | RatedValue::Words(names) => names.join(", "),
        RatedValue::Date(date) => date.to_string(),
        RatedValue::Ports(ports) => ports.iter().map(port).collect::<Vec<_>>().join("; "),
    }
}

/// The terminals of a port and what they are.
fn port(port: &Port) -> String {
    let names: Vec<&str> = port.terminals.iter().map(|(name, _)| name.as_str()).collect();
    let facts: Vec<String> = port.rated.iter().map(|rated| value(&rated.value)).collect();
    format!("{} {}", names.join(", "), facts.join(" "))
}

/// A quantity in the unit that its dimension is read in.
struct Printed<'a>(&'a Quantity);

impl fmt::Display for Printed<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write_scaled(f, self.0.value, base_symbol(self.0.dimension))
    }
}

fn origin(project: &Project, thing: &Thing, origin: &Origin) -> String {
    match origin {
        Origin::Thing(_) => "written on it".to_owned(),
        Origin::Part(span) => format!("its part, {}", line(project, thing, *span)),
        Origin::Harness(span) => format!("its harness, {}", line(project, thing, *span)),
        Origin::Default(authority) => format!("default: {authority}"),
    }
}

/// The line of a place, with the file's name when it is another than the thing's.
fn line(project: &Project, thing: &Thing, span: Span) -> String {
    let Some(file) = project.file(span.file) else { return "elsewhere".to_owned() };
    let line = file.lines.line(span.start) + 1;
    if span.file == thing.span.file {
        return format!("line {line}");
    }
    let name = file.path.file_name().unwrap_or_default().to_string_lossy();
    format!("{name} line {line}")
}
