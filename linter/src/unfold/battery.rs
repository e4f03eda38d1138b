//! Batteries and other sources: electromotive force and internal resistance.

use wattle_grammar::{
    kind::{KindId, chemistry::Chemistry, key},
    quantity::{Amps, Ohms, Unit, Volts},
};

use super::usual;
use crate::{
    design::{State, Thing},
    network::Law,
    physics::battery::pack_resistance,
    topology::{Charge, SourceFigures, rating},
};

/// Open-circuit voltage and internal resistance of a whole source; `None` for a thing that is no source or whose voltage
/// nothing tells. Only a battery depends on the charge.
///
/// Battery: `full`, `voltage`, `empty`, else cells × the chemistry's voltage. Resistance: `resistance`, else that of one
/// cell of the chemistry × cells / strings. Charger, supply: `output` or `voltage`, a charger else cells × full voltage.
/// Generator: `full`, else `voltage`; resistance else (`full` − `voltage`) / `current`.
#[must_use]
pub fn source_figures(source: &Thing, charge: Charge) -> Option<SourceFigures> {
    match source.id() {
        KindId::Battery => battery(source, charge),
        KindId::Charger | KindId::Supply => Some(SourceFigures {
            emf: rating::output_voltage(source).or_else(|| of_cells(source, |chemistry| chemistry.full))?,
            resistance: source.get(key::RESISTANCE).unwrap_or(usual::SUPPLY),
        }),
        KindId::Generator => generator(source),
        _ => None,
    }
}

fn battery(source: &Thing, charge: Charge) -> Option<SourceFigures> {
    let emf = match charge {
        Charge::Full => source.get(key::FULL).or_else(|| of_cells(source, |chemistry| chemistry.full)),
        Charge::Nominal => rating::nominal_voltage(source),
        Charge::Empty => source.get(key::EMPTY).or_else(|| of_cells(source, |chemistry| chemistry.empty)),
    };
    let emf = emf.or_else(|| rating::nominal_voltage(source))?;
    Some(SourceFigures {
        emf,
        resistance: source.get(key::RESISTANCE).unwrap_or_else(|| usual_resistance(source)),
    })
}

fn of_cells(source: &Thing, volts: fn(&Chemistry) -> Volts) -> Option<Volts> {
    // A source with neither cells nor voltage is not taken for one of a single cell.
    let known = source.rated(key::CELLS).is_some() || source.rated(key::VOLTAGE).is_some();
    known
        .then(|| rating::chemistry(source))
        .flatten()
        .map(|row| volts(row) * f64::from(rating::cells(source)))
}

/// Internal resistance of one cell of 1 Ah to 10 Ah by chemistry: the geometric mean of the usual range, which spans a
/// factor of three to fifteen (common practice; alkaline from textbook problems of 150 mΩ to 300 mΩ).
const CELL_RESISTANCE: &[(&str, Ohms)] = &[
    ("lipo", Ohms(6e-3)),
    ("lihv", Ohms(6e-3)),
    ("li-ion", Ohms(35e-3)),
    ("lifepo4", Ohms(10e-3)),
    ("lead-acid", Ohms(0.6e-3)),
    ("agm", Ohms(1.1e-3)),
    ("nimh", Ohms(8e-3)),
    ("nicd", Ohms(6e-3)),
    ("alkaline", Ohms(200e-3)),
];

/// Internal resistance of a cell whose chemistry is not known (common practice), ohm.
const UNKNOWN_CELL: Ohms = Ohms(10e-3);

/// Cells in series and strings in parallel of the usual cell of the chemistry.
fn usual_resistance(source: &Thing) -> Ohms {
    let word = source.word(key::CHEMISTRY);
    let cell = CELL_RESISTANCE.iter().find(|row| Some(row.0) == word).map_or(UNKNOWN_CELL, |row| row.1);
    let strings = source.number(key::STRINGS).unwrap_or(1.0).clamp(1.0, 1e4) as u32;
    pack_resistance(cell, rating::cells(source), strings)
}

fn generator(source: &Thing) -> Option<SourceFigures> {
    let voltage = rating::output_voltage(source);
    let emf = source.get::<Volts>(key::FULL).or(voltage)?;
    let slope = || {
        let ohms = (emf - voltage?) / source.get::<Amps>(key::CURRENT)?;
        (ohms > Ohms(0.0)).then_some(ohms)
    };
    let resistance = source.get(key::RESISTANCE).or_else(slope).unwrap_or(usual::SUPPLY);
    Some(SourceFigures { emf, resistance })
}

/// The law of one battery segment: its share of the pack's EMF and resistance.
pub(super) fn cells(source: &Thing, state: State, charge: Charge, share: f64) -> Law {
    match source_figures(source, charge) {
        Some(figures) if state != State::Open => Law::Source {
            emf: figures.emf * share,
            resistance: (figures.resistance * share).max(usual::LEAST),
        },
        _ => Law::Open,
    }
}

/// The law of a charger, supply or generator. It does not depend on the charge of the batteries.
pub(super) fn supply(source: &Thing, state: State) -> Law {
    match source_figures(source, Charge::Nominal) {
        Some(figures) if state != State::Open => Law::LimitedSource {
            emf: figures.emf,
            resistance: figures.resistance.max(usual::LEAST),
            limit: limit(source),
            sinks: source.flag(key::SINKS) == Some(true),
        },
        _ => Law::Open,
    }
}

/// The current a source limits itself to: a charger's is the one it is set to; a supply or generator that states none
/// folds back somewhat above its rating.
fn limit(source: &Thing) -> Amps {
    let rated = source.get::<Amps>(key::CURRENT);
    let own =
        if source.id() == KindId::Charger { rated } else { rated.map(|amps| amps * usual::LIMIT_OVER_RATED) };
    source.get::<Amps>(key::CURRENT_LIMIT).or(own).map_or(usual::UNLIMITED, |amps| Amps(amps.base().max(0.0)))
}
