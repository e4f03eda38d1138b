//! What passes a current against a rating: fuses and breakers, contacts, bars.

use wattle_grammar::quantity::Dimension;

use super::{
    super::{Entry, View, corner, prose, what, worst::NOTHING},
    at, busy, shown, with_missing,
};
use crate::{
    account::table::{Cell, Table, left, right},
    explained::Amount,
};

/// What passes a current against a rating.
pub(super) fn passing(title: &str, view: &View<'_>, entries: &[&Entry]) -> Table {
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
pub(super) fn by_mode(title: &str, view: &View<'_>, entries: &[&Entry]) -> Table {
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
