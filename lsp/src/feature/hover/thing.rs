//! A thing: its ratings and facts, each with where it came from.

use wattle_grammar::span::Span;
use wattle_linter::{
    account::subject,
    design::{Origin, Rated, Thing, ThingId},
};

use super::glance;

use crate::{
    engine::{Project, Robot},
    feature::page::Page,
};

pub(super) fn describe(page: &mut Page, robot: &Robot, project: &Project, id: ThingId) {
    let Some(thing) = robot.design.things.get(id.index()) else { return };
    let label = thing.label.as_ref().map_or_else(String::new, |label| format!(" \"{label}\""));
    page.title(format!("{} `{}`{label}", thing.kind.word, thing.name));
    page.list(stands(robot, thing));
    page.list(glance(robot, subject::Subject::Thing(id)));
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
        from.extend(otherwise.map(|other| format!("; otherwise {}", other.value)));
    }
    vec![rated.key.to_owned(), rated.value.to_string(), from]
}

fn origin(project: &Project, thing: &Thing, origin: &Origin) -> String {
    match origin {
        Origin::Thing(_) => "written on it".to_owned(),
        Origin::Part(span) => format!("its part, {}", line(project, thing, *span)),
        Origin::Harness(span) => format!("its harness, {}", line(project, thing, *span)),
        Origin::Robot(span) => format!("the robot, {}", line(project, thing, *span)),
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
