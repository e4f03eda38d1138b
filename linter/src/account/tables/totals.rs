//! The totals of each mode: what the sources give and what of it is lost in the wires.

use wattle_grammar::quantity::Dimension;

use super::super::{
    View, corner, prose,
    table::{Cell, Table, left, right},
};
use crate::{design::ModeId, figures::Point, topology::LinkId};

/// What all sources give and all wires lose at a point.
struct Total {
    given: f64,
    lost: f64,
}

/// A row for each mode, at the point where the sources give most.
pub(super) fn table(view: &View<'_>) -> Table {
    let columns =
        vec![left("mode"), right("sources give"), right("lost in wires"), right("share"), left("at")];
    let mut table = Table::new("totals of each mode, where the sources give most", columns);
    for mode in view.modes() {
        let heaviest = view.points().filter(|(_, point)| point.mode == mode);
        let totals = heaviest.filter_map(|(_, point)| Some((total(view, point)?, point)));
        let worst = totals.reduce(|held, next| if next.0.given > held.0.given { next } else { held });
        table.rows.push(row(view, mode, worst));
    }
    table
}

fn row(view: &View<'_>, mode: ModeId, worst: Option<(Total, &Point)>) -> Vec<Cell> {
    let name = Cell::name(super::mode_name(view, mode));
    let Some((total, point)) = worst else {
        return vec![name, Cell::text("-"), Cell::text("-"), Cell::text("-"), Cell::text("no working point")];
    };
    let watts = |value| prose::value_text(value, Dimension::Power);
    let share = if total.given > super::NOTHING {
        prose::value_text(total.lost / total.given, Dimension::Ratio)
    } else {
        String::new()
    };
    vec![
        name,
        Cell::text(watts(total.given)),
        Cell::text(watts(total.lost)),
        Cell::text(share),
        Cell::text(corner::short(&view.analysis.design, point)),
    ]
}

fn total(view: &View<'_>, point: &Point) -> Option<Total> {
    point.working()?;
    let (design, topology) = (&view.analysis.design, &view.analysis.topology);
    let given =
        design.things().filter_map(|(id, _)| point.source_watts(topology, id)).map(|watts| watts.0).sum();
    let lost = |(id, _): (crate::design::WireId, &crate::design::Wire)| {
        Some((point.amps(LinkId(id.0))?.0 * point.wire_drop(topology, id)?.0).abs())
    };
    Some(Total { given, lost: design.wires().filter_map(lost).sum() })
}
