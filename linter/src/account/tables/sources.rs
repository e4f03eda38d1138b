//! What gives energy, and who feeds what.

use std::collections::BTreeMap;

use super::{
    super::{Entry, Section, View, tree::Branch, what},
    at, shown,
};
use crate::account::table::{Cell, Table, left, right};

pub(super) fn sources(view: &View<'_>, entries: &[&Entry]) -> Table {
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
pub(super) fn tree(view: &View<'_>, entries: &[Entry]) -> Table {
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
        let rated = if section == Section::Load { Cell::text("") } else { of(what::RATED_CURRENT) };
        let used = if section == Section::Load { Cell::text("") } else { of(what::RATING_USE) };
        row.extend([of(what::STEADY_CURRENT), of(what::HIGHEST_CURRENT), rated, used]);
    }
    row
}
