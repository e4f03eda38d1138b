//! The tables of an account: the worst of all, totals, sources, who feeds what, devices, contacts, bars, loads, wires.

mod protection;
mod totals;
mod worst_of;

use std::collections::BTreeMap;

use wattle_grammar::quantity::Dimension;

use super::{
    Entry, Section, View, closing, corner,
    entry::Section::{Bar, Contact, Device, Energy, Load, Source, Surge, Wire},
    prose,
    table::{Cell, Table, left, right},
    tree::Branch,
    what,
    worst::NOTHING,
};
use crate::{
    design::ModeId,
    explained::{Amount, Explained},
};

/// `"Garden rover", 5 modes at 15 points, profile `boat`: boat wiring`.
pub(super) fn headline(view: &View<'_>) -> String {
    let analysis = view.analysis;
    let modes: Vec<String> =
        view.modes().into_iter().map(|mode| format!("`{}`", mode_name(view, mode))).collect();
    let modes = if modes.is_empty() { "none with figures".to_owned() } else { modes.join(", ") };
    format!(
        "\"{}\": modes {}; {} points; profile `{}`, {}; {}",
        analysis.design.robot.name,
        modes,
        view.shown.len(),
        analysis.profile.word,
        analysis.profile.name,
        corner::LEGEND
    )
}

/// Every table in its order.
pub(super) fn all(view: &View<'_>) -> Vec<Table> {
    let entries = view.entries();
    let of = |section: Section| -> Vec<&Entry> {
        entries.iter().filter(|entry| entry.section == section).collect()
    };
    let mut tables = vec![worst_of::table(view, &entries), totals::table(view)];
    tables.push(sources(view, &of(Source)));
    tables.push(tree(view, &entries));
    tables.push(passing("fuses and breakers", view, &of(Device)));
    tables.push(by_mode("fuses and breakers: highest current in each mode", view, &of(Device)));
    tables.push(passing("contacts: the one that carries most", view, &of(Contact)));
    tables.push(passing("bars: all that flows in and out", view, &of(Bar)));
    tables.push(by_mode("bars: highest current in each mode", view, &of(Bar)));
    tables.push(loads(view, &of(Load)));
    tables.push(supplies(view, &of(Load)));
    tables.extend(wires(view, &of(Wire)));
    tables.push(protection::wires(view));
    tables.push(protection::devices(view));
    tables.push(protection::guarded(view));
    tables.extend(of(Energy).iter().chain(&of(Surge)).map(|entry| listing(view, entry)));
    tables
}

fn mode_name<'a>(view: &View<'a>, mode: ModeId) -> &'a str {
    view.analysis.design.modes.get(mode.index()).map_or("", |mode| mode.name.as_str())
}

/// A figure's amount.
fn shown(entry: &Entry, what: &str) -> Cell {
    Cell::text(entry.figure(what).map_or_else(String::new, |figure| prose::amount(&figure.amount)))
}

/// A figure's mode and corner.
fn at(view: &View<'_>, figure: Option<&Explained>) -> Cell {
    let point = figure.and_then(|figure| view.analysis.figures.points.get(figure.point?));
    point.map_or_else(
        || Cell::text(""),
        |point| {
            Cell::At(
                corner::mode(&view.analysis.design, point).to_owned(),
                corner::short(&view.analysis.design, point),
            )
        },
    )
}

/// Adds what could not be told.
fn with_missing(mut table: Table, entries: &[&Entry], figures: &[&str]) -> Table {
    let only = |entry: &&Entry| Entry {
        figures: entry
            .figures
            .iter()
            .filter(|figure| figures.contains(&figure.what.as_str()))
            .cloned()
            .collect(),
        ..(*entry).clone()
    };
    let lacking = |entry: &&&Entry| {
        let is_missing = |figure: &Explained| matches!(figure.amount, Amount::NotAssessed(_));
        entry.figures.iter().any(|figure| is_missing(figure) && figures.contains(&figure.what.as_str()))
    };
    let lacking: Vec<Entry> = entries.iter().filter(lacking).map(only).collect();
    table.notes.extend(closing::missing(&lacking.iter().collect::<Vec<_>>()));
    table
}

fn sources(view: &View<'_>, entries: &[&Entry]) -> Table {
    let columns = vec![
        left("source"),
        right("highest"),
        right("lowest"),
        right("lowest V"),
        right("highest V"),
        right("power"),
        left("highest at"),
    ];
    let mut table =
        Table::new("sources: current out of the positive pole, voltage between the poles", columns);
    for entry in entries {
        table.rows.push(vec![
            Cell::name(&entry.name),
            shown(entry, what::HIGHEST_CURRENT),
            shown(entry, what::LOWEST_CURRENT),
            shown(entry, what::LOWEST_VOLTAGE),
            shown(entry, what::HIGHEST_VOLTAGE),
            shown(entry, what::HIGHEST_POWER),
            at(view, entry.figure(what::HIGHEST_CURRENT)),
        ]);
    }
    table
}

/// Who feeds what, with the currents.
fn tree(view: &View<'_>, entries: &[Entry]) -> Table {
    let columns = vec![
        left("who feeds what"),
        left("what"),
        right("steady"),
        right("highest"),
        right("rated"),
        right("use"),
    ];
    let mut table = Table::new("who feeds what, contacts as if closed", columns);
    let known: BTreeMap<(Section, &str), &Entry> =
        entries.iter().map(|entry| ((entry.section, entry.name.as_str()), entry)).collect();
    for branch in view.tree() {
        table.rows.push(tree_row(view, &known, branch));
    }
    table
}

fn tree_row(view: &View<'_>, known: &BTreeMap<(Section, &str), &Entry>, branch: Branch) -> Vec<Cell> {
    let (section, id) = branch.part.entry();
    let thing = view.analysis.design.thing(id);
    let mut row = vec![
        Cell::Name(thing.name.clone(), branch.depth),
        Cell::text(if branch.joins {
            format!("{}, joins the above", thing.kind.word)
        } else {
            thing.kind.word.to_owned()
        }),
    ];
    if let Some(entry) = known.get(&(section, thing.name.as_str())) {
        let of = |what: &str| entry.figure(what).map_or_else(|| Cell::text(""), |_| shown(entry, what));
        let rated = if section == Load { Cell::text("") } else { of(what::RATED_CURRENT) };
        let used = if section == Load { Cell::text("") } else { of(what::RATING_USE) };
        row.extend([of(what::STEADY_CURRENT), of(what::HIGHEST_CURRENT), rated, used]);
    }
    row
}

/// Those that carry something, and a sentence on those that do not.
fn busy<'e>(entries: &[&'e Entry], verb: &str) -> (Vec<&'e Entry>, Option<String>) {
    let carries = |entry: &Entry| entry.value(what::HIGHEST_CURRENT).is_none_or(|amps| amps >= NOTHING);
    let (busy, idle): (Vec<&Entry>, Vec<&Entry>) = entries.iter().partition(|entry| carries(entry));
    let names: Vec<&str> = idle.iter().map(|entry| entry.name.as_str()).collect();
    let sentence =
        (!names.is_empty()).then(|| format!("{verb} nothing at these points: {}", closing::listed(&names)));
    (busy, sentence)
}

/// What passes a current against a rating.
fn passing(title: &str, view: &View<'_>, entries: &[&Entry]) -> Table {
    let columns =
        vec![left("name"), right("steady"), right("rated"), right("use"), left("at"), right("highest")];
    let mut table = Table::new(title, columns);
    let (entries, idle) = busy(entries, "carry");
    table.notes.extend(idle);
    for entry in &entries {
        table.rows.push(vec![
            Cell::name(&entry.name),
            shown(entry, what::STEADY_CURRENT),
            shown(entry, what::RATED_CURRENT),
            shown(entry, what::RATING_USE),
            at(view, entry.figure(what::STEADY_CURRENT)),
            shown(entry, what::HIGHEST_CURRENT),
        ]);
    }
    with_missing(table, &entries, &[what::STEADY_CURRENT, what::HIGHEST_CURRENT, what::RATED_CURRENT])
}

/// A row for each mode that a thing carries something in.
fn by_mode(title: &str, view: &View<'_>, entries: &[&Entry]) -> Table {
    let columns =
        vec![left("name"), left("mode"), right("highest"), right("rated"), right("use"), left("at")];
    let mut table = Table::new(title, columns);
    for entry in entries {
        let rated = entry.value(what::RATED_CURRENT);
        for figure in entry.figures.iter().filter(|figure| figure.what == what::MODE_CURRENT) {
            let Amount::Value(amps, _) = figure.amount else { continue };
            if amps < NOTHING {
                continue;
            }
            let point = figure.point.and_then(|at| view.analysis.figures.points.get(at));
            let mode = point.map_or("", |point| corner::mode(&view.analysis.design, point));
            let share = rated
                .map_or_else(|| "-".to_owned(), |rated| prose::value_text(amps / rated, Dimension::Ratio));
            table.rows.push(vec![
                Cell::name(&entry.name),
                Cell::name(mode),
                Cell::text(prose::amount(&figure.amount)),
                shown(entry, what::RATED_CURRENT),
                Cell::text(share),
                Cell::text(
                    point.map_or_else(String::new, |point| corner::short(&view.analysis.design, point)),
                ),
            ]);
        }
    }
    table
}

fn loads(view: &View<'_>, entries: &[&Entry]) -> Table {
    let columns =
        vec![left("load"), left("what"), right("steady"), right("highest"), left("at"), right("power")];
    let mut table = Table::new("loads: current and power", columns);
    let (entries, idle) = busy(entries, "draw");
    table.notes.extend(idle);
    for entry in &entries {
        table.rows.push(vec![
            Cell::name(&entry.name),
            Cell::text(&entry.is),
            shown(entry, what::STEADY_CURRENT),
            shown(entry, what::HIGHEST_CURRENT),
            at(view, entry.figure(what::HIGHEST_CURRENT)),
            shown(entry, what::HIGHEST_POWER),
        ]);
    }
    with_missing(table, &entries, &[what::STEADY_CURRENT, what::HIGHEST_CURRENT])
}

fn supplies(view: &View<'_>, entries: &[&Entry]) -> Table {
    let columns = vec![
        left("load"),
        right("lowest"),
        right("least"),
        left("lowest at"),
        right("highest"),
        right("greatest"),
        left("highest at"),
    ];
    let mut table =
        Table::new("loads: voltage that reaches them while they draw, and what they are rated for", columns);
    let (entries, _) = busy(entries, "draw");
    for entry in &entries {
        table.rows.push(vec![
            Cell::name(&entry.name),
            shown(entry, what::LOWEST_VOLTAGE),
            shown(entry, what::LEAST_SUPPLY),
            at(view, entry.figure(what::LOWEST_VOLTAGE)),
            shown(entry, what::HIGHEST_VOLTAGE),
            shown(entry, what::MOST_SUPPLY),
            at(view, entry.figure(what::HIGHEST_VOLTAGE)),
        ]);
    }
    with_missing(table, &entries, &[what::LOWEST_VOLTAGE, what::HEADROOM_BELOW])
}

/// Two tables of the wires that carry something, and a sentence on the others.
fn wires(view: &View<'_>, entries: &[&Entry]) -> Vec<Table> {
    let (busy, idle) = busy(entries, "carry");
    let columns = vec![
        left("wire"),
        right("steady"),
        right("ampacity"),
        right("use"),
        right("margin"),
        right("warms to"),
        left("nearest at"),
    ];
    let mut heat = Table::new("wires: steady current, ampacity and conductor temperature", columns);
    let columns = vec![
        left("wire"),
        right("highest"),
        right("resist."),
        right("drop"),
        right("share"),
        right("loss"),
        left("drop at"),
    ];
    let mut drop = Table::new("wires: highest current, drop and loss", columns);
    for entry in &busy {
        heat.rows.push(vec![
            Cell::name(&entry.name),
            shown(entry, what::STEADY_CURRENT),
            shown(entry, what::AMPACITY),
            shown(entry, what::AMPACITY_USE),
            shown(entry, what::MARGIN),
            shown(entry, what::TEMPERATURE),
            at(
                view,
                entry
                    .figure(what::AMPACITY)
                    .filter(|figure| figure.point.is_some())
                    .or_else(|| entry.figure(what::STEADY_CURRENT)),
            ),
        ]);
        drop.rows.push(vec![
            Cell::name(&entry.name),
            shown(entry, what::HIGHEST_CURRENT),
            shown(entry, what::RESISTANCE),
            shown(entry, what::DROP),
            shown(entry, what::DROP_SHARE),
            shown(entry, what::LOSS),
            at(view, entry.figure(what::DROP)),
        ]);
    }
    let heat = with_missing(heat, &busy, &[what::STEADY_CURRENT, what::AMPACITY, what::TEMPERATURE]);
    let mut drop = with_missing(drop, &busy, &[what::DROP, what::DROP_SHARE]);
    drop.notes.extend(idle);
    vec![heat, drop]
}

/// Every figure of an entry, one a line.
fn listing(view: &View<'_>, entry: &Entry) -> Table {
    let subject = match entry.section {
        Energy => "energy",
        _ => "surges",
    };
    let mut table = Table::new(format!("{subject} of {} `{}`", entry.is, entry.name), Vec::new());
    for figure in entry.figures.iter().filter(|figure| !matches!(figure.amount, Amount::NotAssessed(_))) {
        let point = figure.point.and_then(|at| view.analysis.figures.points.get(at));
        let at = point.map_or_else(String::new, |point| {
            format!(
                " (`{}`, {})",
                corner::mode(&view.analysis.design, point),
                corner::short(&view.analysis.design, point)
            )
        });
        table.list.push(format!("{}: {}{at}", figure.what, prose::amount(&figure.amount)));
    }
    table.notes.extend(closing::missing(&[entry]));
    table
}
