//! The worst of all, in a few lines: what a builder looks at first.

use super::{
    super::{Entry, Section, View, prose, what},
    at,
};
use crate::{
    account::table::{Cell, Table, left, right},
    explained::Amount,
    figures::exceeds,
    physics::unit::Joules,
    protection::Verdict,
};
use wattle_grammar::quantity::Dimension;

/// One line: what it is called, where it is looked for, and whether the least counts instead of the most.
struct Line {
    title: &'static str,
    section: Section,
    what: &'static str,
    least: bool,
}

const fn most(title: &'static str, section: Section, what: &'static str) -> Line {
    Line { title, section, what, least: false }
}

const fn least(title: &'static str, section: Section, what: &'static str) -> Line {
    Line { title, section, what, least: true }
}

const LINES: &[Line] = &[
    most("wire nearest to its ampacity", Section::Wire, what::AMPACITY_USE),
    most("warmest conductor", Section::Wire, what::TEMPERATURE),
    most("largest drop of a wire", Section::Wire, what::DROP),
    most("largest share of its supply", Section::Wire, what::DROP_SHARE),
    most("device nearest to its rating", Section::Device, what::RATING_USE),
    most("contact nearest to its rating", Section::Contact, what::RATING_USE),
    most("bar nearest to its rating", Section::Bar, what::RATING_USE),
    least("least voltage to spare", Section::Load, what::HEADROOM_BELOW),
    least("nearest to too much voltage", Section::Load, what::HEADROOM_ABOVE),
    most("heaviest current of a source", Section::Source, what::HIGHEST_CURRENT),
];

/// The table.
pub(super) fn table(view: &View<'_>, entries: &[Entry]) -> Table {
    let mut table = Table::new("worst of all", vec![left("what"), left("of"), right("figure"), left("at")]);
    for line in LINES {
        if let Some(entry) = worst(entries, line) {
            let figure = entry.figure(line.what);
            table.rows.push(vec![
                Cell::text(line.title),
                Cell::name(&entry.name),
                Cell::text(figure.map_or_else(String::new, |figure| prose::amount(&figure.amount))),
                at(view, figure),
            ]);
        }
    }
    table.rows.extend(shortest_runtime(entries));
    table.rows.push(late_shorts(view));
    table
}

/// The mode in which the robot is empty first.
fn shortest_runtime(entries: &[Entry]) -> Option<Vec<Cell>> {
    let of_energy = entries.iter().filter(|entry| entry.section == Section::Energy && entry.is == "robot");
    let timed = of_energy.flat_map(|entry| entry.figures.iter().map(move |figure| (entry, figure)));
    let timed = timed.filter_map(|(entry, figure)| match figure.amount {
        Amount::Value(value, Dimension::Time) => Some((value, entry, figure)),
        _ => None,
    });
    let (_, entry, figure) = timed.reduce(|held, next| if next.0 < held.0 { next } else { held })?;
    Some(vec![
        Cell::text(figure.what.clone()),
        Cell::name(&entry.name),
        Cell::text(prose::amount(&figure.amount)),
        Cell::text(""),
    ])
}

/// How many wires a short burns before something opens, and of how many that cannot be told.
fn late_shorts(view: &View<'_>) -> Vec<Cell> {
    let wires = &view.analysis.protection().wires;
    let is_late = |verdict| matches!(verdict, Verdict::TooSlow(_) | Verdict::NoDevice);
    let late: Vec<_> = wires.iter().filter(|found| is_late(found.verdict)).collect();
    let unknown = wires.iter().filter(|found| matches!(found.verdict, Verdict::NotAssessed(_))).count();
    let first = late.first().and_then(|found| view.analysis.design.wires.get(found.wire.index()));
    let count = if late.len() == 1 { "1 wire".to_owned() } else { format!("{} wires", late.len()) };
    vec![
        Cell::text("shorts not opened in time"),
        Cell::name(first.map_or("", |wire| wire.name.as_str())),
        Cell::text(count),
        Cell::text(if unknown > 0 { format!("{unknown} not assessed") } else { String::new() }),
    ]
}

/// The first of the worst. What is told in words, as a wire that melts, is worse than any number.
fn worst<'e>(entries: &'e [Entry], line: &Line) -> Option<&'e Entry> {
    let rank = |entry: &Entry| match &entry.figure(line.what)?.amount {
        Amount::Value(value, _) | Amount::Pulse(Joules(value)) => {
            Some(if line.least { -value } else { *value })
        }
        Amount::Words(_) => Some(f64::INFINITY),
        Amount::NotAssessed(_) => None,
    };
    let ranked = entries
        .iter()
        .filter(|entry| entry.section == line.section)
        .filter_map(|entry| Some((rank(entry)?, entry)));
    let worst = ranked.fold(None, |held: Option<(f64, &Entry)>, next| match held {
        Some(held) if !exceeds(next.0, held.0) => Some(held),
        _ => Some(next),
    });
    worst.map(|(_, entry)| entry)
}
