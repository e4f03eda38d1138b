//! The tables of an account: the worst of all, totals, sources, who feeds what, devices, contacts, bars, loads, wires.

mod loads;
mod passing;
mod protection;
mod sources;
mod totals;
mod wires;
mod worst_of;

use super::{
    Entry, Section, View, closing, corner,
    entry::Section::{Bar, Contact, Device, Energy, Load, Source, Surge, Wire},
    prose,
    table::{Cell, Table},
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
    tables.push(sources::sources(view, &of(Source)));
    tables.push(sources::tree(view, &entries));
    tables.push(passing::passing("fuses and breakers", view, &of(Device)));
    tables.push(passing::by_mode("fuses and breakers: highest current in each mode", view, &of(Device)));
    tables.push(passing::passing("contacts: the one that carries most", view, &of(Contact)));
    tables.push(passing::passing("bars: all that flows in and out", view, &of(Bar)));
    tables.push(passing::by_mode("bars: highest current in each mode", view, &of(Bar)));
    tables.push(loads::loads(view, &of(Load)));
    tables.push(loads::supplies(view, &of(Load)));
    tables.extend(wires::wires(view, &of(Wire)));
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

/// Those that carry something, and a sentence on those that do not.
fn busy<'e>(entries: &[&'e Entry], verb: &str) -> (Vec<&'e Entry>, Option<String>) {
    let carries = |entry: &Entry| entry.value(what::HIGHEST_CURRENT).is_none_or(|amps| amps >= NOTHING);
    let (busy, idle): (Vec<&Entry>, Vec<&Entry>) = entries.iter().partition(|entry| carries(entry));
    let names: Vec<&str> = idle.iter().map(|entry| entry.name.as_str()).collect();
    let sentence =
        (!names.is_empty()).then(|| format!("{verb} nothing at these points: {}", closing::listed(&names)));
    (busy, sentence)
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
