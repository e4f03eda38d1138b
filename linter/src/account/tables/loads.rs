//! What uses energy: current and power, and the voltage that reaches it.

use super::{
    super::{Entry, View, what},
    at, busy, shown, with_missing,
};
use crate::account::table::{Cell, Table, left, right};

pub(super) fn loads(view: &View<'_>, entries: &[&Entry]) -> Table {
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

pub(super) fn supplies(view: &View<'_>, entries: &[&Entry]) -> Table {
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
