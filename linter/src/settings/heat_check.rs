//! Whether a table can be true: what it gives against the heat balance of the wire alone in still air. A wrong table burns
//! wires.

use wattle_grammar::{
    error::TextError,
    quantity::{Amps, Celsius},
    span::Span,
};

use super::{ampacity::Placed, reader::Reader};
use crate::{
    physics::heat::{self, Cable},
    profile::Row,
};

/// A table may give so many times the balance. Published free-air ampacities are 10 % below to 12 % above it; the rest is
/// for thicker insulation, moving air and shorter runs (common practice).
const MOST: f64 = 1.5;

/// A figure above what is believed.
struct High<'r> {
    ratio: f64,
    row: &'r Row,
    amps: Amps,
    class: Celsius,
    balance: Amps,
    place: Span,
}

/// Tells the figure that is farthest above the balance. Where the author says why it is right, that goes into the basis.
pub(super) fn check(
    reader: &mut Reader<'_>,
    rows: &[Placed],
    columns: (&[Celsius], Celsius),
    confirmed: Option<&str>,
    notes: &mut Vec<String>,
) {
    let high: Vec<High<'_>> = rows.iter().flat_map(|placed| too_high(placed, columns)).collect();
    let Some(worst) = high.iter().max_by(|one, other| one.ratio.total_cmp(&other.ratio)) else { return };
    let High { ratio, amps, class, balance, .. } = worst;
    let size = &worst.row.written;
    if let Some(why) = confirmed {
        notes.push(format!(
            "the settings file's table gives up to {ratio:.2} times the heat balance in still air ({size}, {class}: {amps} \
             against {balance}); confirmed: {why}"
        ));
        return;
    }
    let message = format!("{size} cannot carry {amps}: alone in still air it reaches {class} at {balance}");
    let label = format!("more than {} is not believed", *balance * MOST);
    let more = match high.len() {
        1 => String::new(),
        count => format!(" ({count} figures of the table are too high)"),
    };
    let help = format!(
        "compare it with its source{more}; if it is right, say why in the table: `confirmed = \"…\"`"
    );
    reader.tell(TextError::new("settings.overrated", worst.place, message, label).help(help));
}

fn too_high<'r>(placed: &'r Placed, (classes, air): (&[Celsius], Celsius)) -> Vec<High<'r>> {
    let cable = Cable::thin_walled(placed.row.area);
    let columns = placed.row.amps.iter().zip(classes).zip(&placed.amps);
    let judged = columns.map(|((amps, class), place)| {
        let balance = heat::ampacity(cable, *class, air);
        High { ratio: *amps / balance, row: &placed.row, amps: *amps, class: *class, balance, place: *place }
    });
    judged.filter(|high| high.ratio > MOST).collect()
}
