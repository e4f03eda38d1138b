//! What protects what, and what a short comes to.

use wattle_grammar::quantity::{Amps, Seconds};

use super::super::{
    View, closing,
    table::{Cell, Table, left, right},
};
use crate::{
    design::{Wire, WireId},
    naming,
    protection::{Clearing, DeviceProtection, Verdict, WayIn, WireProtection},
    topology::LinkId,
    trace::Weakest,
};

/// A row for each wire that something feeds.
pub(super) fn wires(view: &View<'_>) -> Table {
    let columns = vec![
        left("wire"),
        left("behind"),
        right("lowest"),
        right("opens by"),
        right("highest"),
        left("a short on it"),
    ];
    let mut table = Table::new(
        "a short on a wire, on its least protected way: the lowest current, what opens and by when; the highest current of all ways",
        columns,
    );
    let mut unfed = Vec::new();
    for (id, wire) in view.analysis.design.wires().filter(|(_, wire)| !wire.spare) {
        match view.analysis.protection().wire(id) {
            Some(found) if found.verdict != Verdict::Unfed => table.rows.push(row(view, wire, found)),
            _ => unfed.push(wire.name.as_str()),
        }
    }
    if !unfed.is_empty() {
        table.notes.push(format!("nothing feeds a short on: {}", closing::listed(&unfed)));
    }
    table
}

fn row(view: &View<'_>, wire: &Wire, found: &WireProtection) -> Vec<Cell> {
    let way = found.worst.and_then(|worst| found.ways.get(worst)).or_else(|| found.ways.first());
    vec![
        Cell::name(&wire.name),
        Cell::text(way.map_or_else(String::new, |way| guard(view, way))),
        amps(way.and_then(|way| way.lowest)),
        Cell::text(way.and_then(|way| way.at_lowest.as_ref()).map_or_else(|| "-".to_owned(), opens)),
        Cell::text(found.highest.amps.to_string()),
        Cell::text(words(found.verdict)),
    ]
}

fn amps(amps: Option<Amps>) -> Cell {
    Cell::text(amps.map_or_else(|| "-".to_owned(), |amps| amps.to_string()))
}

fn guard(view: &View<'_>, way: &WayIn) -> String {
    match way.guard {
        Weakest::Nothing => "nothing".to_owned(),
        Weakest::Limit(amps) => format!("a limit of {amps}"),
        Weakest::Device(link, _) | Weakest::Unrated(link) => name(view, link),
    }
}

/// A device's name without backticks, as it stands in a column of names.
fn name(view: &View<'_>, link: LinkId) -> String {
    naming::link(&view.analysis.design, &view.analysis.topology, link).trim_matches('`').to_owned()
}

fn opens(clearing: &Clearing) -> String {
    let time = |latest: Seconds| latest.to_string();
    match (clearing.device, clearing.latest) {
        (None, _) => "-".to_owned(),
        (Some(_), Some(latest)) => time(latest),
        (Some(_), None) => "need not".to_owned(),
    }
}

const fn words(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Unfed => "not fed",
        Verdict::Bears => "borne for good",
        Verdict::InTime => "opened in time",
        Verdict::TooSlow(_) => "opened too late",
        Verdict::NoDevice => "nothing opens",
        Verdict::NotAssessed(_) => "not assessed",
    }
}

/// A row for each device.
pub(super) fn devices(view: &View<'_>) -> Table {
    let columns = vec![
        left("device"),
        right("highest"),
        right("to break"),
        right("breaks"),
        right("voltage"),
        right("rated"),
        right("lowest"),
        right("opens by"),
    ];
    let title =
        "devices: the highest current of a short and what they break, the lowest and by when they open";
    let mut table = Table::new(title, columns);
    for found in &view.analysis.protection().devices {
        table.rows.push(device(view, found));
    }
    table
}

fn device(view: &View<'_>, found: &DeviceProtection) -> Vec<Cell> {
    let rating = |text: Option<String>| Cell::text(text.unwrap_or_else(|| "-".to_owned()));
    vec![
        Cell::name(&view.analysis.design.thing(found.device.thing).name),
        Cell::text(found.highest.amps.to_string()),
        Cell::text(found.to_break.amps.to_string()),
        rating(found.device.breaks.map(|breaks| breaks.value.to_string())),
        Cell::text(found.volts.to_string()),
        rating(found.device.volts.map(|volts| volts.value.to_string())),
        amps(found.lowest),
        Cell::text(found.at_lowest.as_ref().map_or_else(|| "-".to_owned(), opens)),
    ]
}

/// The wires that each device is the smallest one for.
pub(super) fn guarded(view: &View<'_>) -> Table {
    let mut table = Table::new("what protects what", Vec::new());
    for found in &view.analysis.protection().devices {
        let wire = |id: &WireId| view.analysis.design.wire(*id).name.as_str();
        let wires: Vec<&str> = found.guards.iter().map(wire).collect();
        let device = &view.analysis.design.thing(found.device.thing).name;
        let told = if wires.is_empty() { "no wire by itself".to_owned() } else { closing::listed(&wires) };
        table.list.push(format!("`{device}`: {told}"));
    }
    table
}
