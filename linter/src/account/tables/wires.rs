//! The wires: current and heat, drop and loss.

use super::{
    super::{Entry, View, what},
    at, busy, shown, with_missing,
};
use crate::account::table::{Cell, Table, left, right};

/// Two tables of the wires that carry something, and a sentence on the others.
pub(super) fn wires(view: &View<'_>, entries: &[&Entry]) -> Vec<Table> {
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
