//! Ratings that the electrical picture needs as one number, worked out from what the author wrote.
//!
//! What is missing is replaced by a figure that is documented here, once.

use wattle_grammar::{
    kind::{
        KindId,
        chemistry::{self, Chemistry},
        key,
    },
    quantity::{Amps, Celsius, Ohms, Volts, Watts},
};

use crate::design::{Design, Thing};

/// Robot voltage when no source says one (common practice: three lithium cells or a lead-acid block), volt.
const PLAIN_VOLTAGE: Volts = Volts(12.0);

/// Power of a relay's coil when its current is not stated (common practice for 30 A plug-in relays), watt.
const RELAY_COIL_POWER: Watts = Watts(1.6);

/// Power of a contactor's coil when its current is not stated (common practice for 100 A contactors), watt.
const CONTACTOR_COIL_POWER: Watts = Watts(8.0);

/// Share of the rated coil voltage at which contacts have surely operated (common practice: 70 to 80 %).
const OPERATE_SHARE: f64 = 0.75;

/// Share of the rated coil voltage below which contacts have surely released (common practice: 10 %).
const RELEASE_SHARE: f64 = 0.10;

/// Resistance of a shunt that states neither resistance nor drop and current (common practice: 75 mV at 100 A), ohm.
const SHUNT: Ohms = Ohms(0.075 / 100.0);

/// Volts a shunt drops at its rated current when only that is stated (common practice), volt.
const SHUNT_DROP: Volts = Volts(0.075);

/// The temperature that coils are stated for when nothing is written (common practice, as in the table of kinds).
const COIL_STATED_AT: Celsius = Celsius(20.0);

/// What a coil is electrically.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coil {
    /// Rated voltage.
    pub volts: Volts,
    /// Resistance: rated voltage over rated current, or as stated.
    pub resistance: Ohms,
    /// At or above this the contacts have surely operated.
    pub operate: Volts,
    /// Below this the contacts have surely released.
    pub release: Volts,
    /// The temperature of the winding that these two hold for.
    pub stated_at: Celsius,
}

/// The coil of a relay or contactor. Rated voltage: `coil-voltage`, else the robot's (`voltage` is that of the contacts).
/// Resistance: `coil-resistance`, else voltage over `coil`, else from the usual coil power of the kind.
#[must_use]
pub fn coil(design: &Design, thing: &Thing) -> Coil {
    let volts = thing.get::<Volts>(key::COIL_VOLTAGE).unwrap_or_else(|| system_voltage(design));
    let resistance = thing
        .get::<Ohms>(key::COIL_RESISTANCE)
        .or_else(|| thing.get::<Amps>(key::COIL).map(|amps| volts / amps))
        .unwrap_or_else(|| volts / (usual_coil_power(thing) / volts));
    Coil {
        volts,
        resistance,
        operate: thing.get(key::OPERATE).unwrap_or(volts * OPERATE_SHARE),
        release: thing.get(key::RELEASE).unwrap_or(volts * RELEASE_SHARE),
        stated_at: thing.get(key::OPERATE_TEMPERATURE).unwrap_or(COIL_STATED_AT),
    }
}

/// Whether the coil's own current or resistance is known, or had to be taken from the usual power of the kind.
#[must_use]
pub fn knows_coil(thing: &Thing) -> bool {
    thing.rated(key::COIL).is_some() || thing.rated(key::COIL_RESISTANCE).is_some()
}

fn usual_coil_power(thing: &Thing) -> Watts {
    if thing.id() == KindId::Contactor { CONTACTOR_COIL_POWER } else { RELAY_COIL_POWER }
}

/// Whether a diode sits across the coil inside the part, so that the coil has a right way round.
#[must_use]
pub fn has_coil_diode(thing: &Thing) -> bool {
    thing.word(key::SUPPRESSION) == Some("diode")
}

/// The voltage the robot is built around: the nominal voltage of its first battery, else the output of its first
/// supply, else 12 V.
#[must_use]
pub fn system_voltage(design: &Design) -> Volts {
    let first = |kind: KindId| design.things.iter().find(|thing| thing.id() == kind);
    let battery = first(KindId::Battery).and_then(nominal_voltage);
    battery.or_else(|| first(KindId::Supply).and_then(output_voltage)).unwrap_or(PLAIN_VOLTAGE)
}

/// Nominal voltage of a battery: as stated, else cells × the chemistry's; `None` when neither is known.
#[must_use]
pub fn nominal_voltage(battery: &Thing) -> Option<Volts> {
    let of_cells = || Some(chemistry(battery)?.nominal * f64::from(cells(battery)));
    battery.get::<Volts>(key::VOLTAGE).or_else(of_cells)
}

/// The row of a battery's chemistry.
#[must_use]
pub fn chemistry(battery: &Thing) -> Option<&'static Chemistry> {
    chemistry::by_word(battery.word(key::CHEMISTRY)?)
}

/// What a charger, supply or generator gives: `output`, else `voltage`.
#[must_use]
pub fn output_voltage(source: &Thing) -> Option<Volts> {
    source.get::<Volts>(key::OUTPUT).or_else(|| source.get(key::VOLTAGE))
}

/// Cells in series: as stated, else nominal voltage over the chemistry's, else 1. At least 1.
#[must_use]
pub fn cells(battery: &Thing) -> u32 {
    let stated = battery.number(key::CELLS);
    let worked_out = || {
        let volts = battery.get::<Volts>(key::VOLTAGE)?;
        Some(volts.0 / chemistry(battery)?.nominal.0)
    };
    // A battery of more than ten thousand cells in series is not meant; the cut keeps the cast exact.
    stated.or_else(worked_out).map_or(1, |cells| cells.round().clamp(1.0, 1e4) as u32)
}

/// Whether a fuse sits inside the pack.
#[must_use]
pub fn has_built_in_fuse(battery: &Thing) -> bool {
    battery.get::<Amps>(key::BUILT_IN_FUSE).is_some()
}

/// Resistance of a resistor; infinite when not stated.
#[must_use]
pub fn resistor(thing: &Thing) -> Ohms {
    thing.get(key::RESISTANCE).unwrap_or(Ohms(f64::INFINITY))
}

/// Resistance of a shunt: as stated, else its drop over its rated current.
#[must_use]
pub fn shunt(thing: &Thing) -> Ohms {
    let of_drop = || {
        let amps = thing.get::<Amps>(key::CURRENT)?;
        Some(thing.get::<Volts>(key::DROP).unwrap_or(SHUNT_DROP) / amps)
    };
    thing.get::<Ohms>(key::RESISTANCE).or_else(of_drop).unwrap_or(SHUNT)
}
