//! The words of a point: its mode and its corner, where everything stands that is not the builder's to choose.

use wattle_grammar::kind::KindId;

use crate::{
    design::Design,
    figures::{Point, Warmth},
    topology::Charge,
};

/// What the short words of a corner mean, for a reader of the tables.
pub(super) const LEGEND: &str = "a corner is packs full, half-charged or empty; with regulators low or high in their \
                                 tolerance, where there are any; warm: each wire as warm as its current makes it, else at 20 °C";

/// The name of a point's mode.
#[must_use]
pub fn mode<'d>(design: &'d Design, point: &Point) -> &'d str {
    design.modes.get(point.mode.index()).map_or("", |mode| mode.name.as_str())
}

/// A point's corner for machines: packs `full`, `half-charged` or `empty`; regulators `low` or `high`; wires `cold` or `hot`:
/// `empty low hot`.
#[must_use]
pub fn words(point: &Point) -> String {
    let corner = point.corner;
    format!("{} {} {}", corner.charge.word(), corner.regulators.word(), corner.conductors.word())
}

/// A point's corner in a table: `empty, low, warm`. Regulators are left out where there are none, and cold wires are not
/// mentioned.
#[must_use]
pub fn short(design: &Design, point: &Point) -> String {
    let corner = point.corner;
    let charge = match corner.charge {
        Charge::Nominal => "half",
        other => other.word(),
    };
    let has_regulators = design.things.iter().any(|thing| thing.id() == KindId::Regulator);
    let regulators = if has_regulators { format!(", {}", corner.regulators.word()) } else { String::new() };
    let wires = if corner.conductors == Warmth::Hot { ", warm" } else { "" };
    format!("{charge}{regulators}{wires}")
}
