//! How a converter's input follows its output, round by round.
//!
//! Every converter begins off. It starts once its unloaded input reaches its lowest input voltage. When its own draw
//! pulls the input below that again it trips and is started once more, gently; when it trips a second time it stays off:
//! such a supply hiccups.

use wattle_grammar::quantity::{Amps, Volts, Watts};

use crate::network::{Converter, Law};

/// Trips after which a converter stays off.
const LAST_TRIP: u8 = 2;

/// A draw, watt or ampere, below which a change is rounding: an unloaded output's current is the difference of two equal
/// voltages over a milliohm.
const ROUNDING: f64 = 1e-9;

/// The share of the way to its new draw that a converter goes in a round after it has tripped.
const GENTLE: f64 = 0.5;

/// Where a converter stands.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Drive {
    /// Whether it works.
    pub running: bool,
    trips: u8,
    /// What its input draws: ampere for a linear regulator, watt otherwise.
    pub asked: f64,
    /// The most it has asked for.
    pub most: f64,
    /// Its output voltage without load, volt.
    emf: f64,
}

/// What a converter sees at its terminals.
#[derive(Clone, Copy, Debug)]
pub(super) struct Terminals {
    /// Input voltage, volt.
    pub input_volts: f64,
    /// Output voltage, volt.
    pub output_volts: f64,
    /// Current given at the output, ampere.
    pub output_amps: f64,
}

impl Drive {
    /// A converter found at work in a neighbouring solution, drawing `asked`.
    pub(super) fn resumed(converter: &Converter, input_volts: f64, asked: f64) -> Self {
        let emf = emf(converter, input_volts);
        Self { running: true, trips: 0, asked, most: asked, emf }
    }

    /// Whether it has tripped so often that it stays off.
    pub(super) fn has_given_up(&self) -> bool {
        self.trips >= LAST_TRIP
    }

    /// Whether it has tripped.
    pub(super) fn has_tripped(&self) -> bool {
        self.trips > 0
    }

    /// Forgets its trips, since contacts have switched and it may now have the supply it needs.
    pub(super) fn forgive(&mut self) {
        self.trips = 0;
    }

    /// The input's law as it stands; `law` is the network's.
    pub(super) fn input_law(&self, converter: &Converter, law: Law) -> Law {
        match law {
            Law::PowerLoad { cutoff, .. } if converter.linear => {
                Law::CurrentLoad { amps: Amps(self.asked), cutoff }
            }
            Law::PowerLoad { cutoff, .. } => Law::PowerLoad { watts: Watts(self.asked), cutoff },
            other => other,
        }
    }

    /// The voltage that its output holds without load, volt; none while it is off.
    pub(super) fn output(&self) -> Option<f64> {
        self.running.then_some(self.emf)
    }

    /// The output's law as it stands; `law` is the network's.
    pub(super) fn output_law(&self, law: Law) -> Law {
        match law {
            Law::LimitedSource { resistance, limit, sinks, .. } if self.running => {
                Law::LimitedSource { emf: Volts(self.emf), resistance, limit, sinks }
            }
            Law::LimitedSource { resistance, .. } => {
                Law::LimitedSource { emf: Volts(0.0), resistance, limit: Amps(0.0), sinks: false }
            }
            other => other,
        }
    }

    /// Follows what it sees, going the share `pace` of the way. Returns the relative change, infinite for a switching.
    pub(super) fn follow(&mut self, converter: &Converter, seen: Terminals, pace: f64) -> f64 {
        if seen.input_volts < converter.lowest_input.0 || self.has_given_up() {
            return if self.running { self.trip() } else { 0.0 };
        }
        let started = !self.running;
        self.running = true;
        let pace = if self.trips > 0 { pace.min(GENTLE) } else { pace };
        let asked = self.asked + pace * (draw(converter, seen) - self.asked);
        let emf = emf(converter, seen.input_volts);
        let rounding = (asked - self.asked).abs() <= ROUNDING;
        let draw = if rounding { 0.0 } else { relative(self.asked, asked) };
        let change = draw.max(relative(self.emf, emf));
        self.asked = asked;
        self.most = self.most.max(asked);
        self.emf = emf;
        if started { f64::INFINITY } else { change }
    }

    fn trip(&mut self) -> f64 {
        self.running = false;
        self.trips += 1;
        self.asked = 0.0;
        self.emf = 0.0;
        f64::INFINITY
    }
}

/// What the input draws for what the output gives. A linear regulator passes the current on; the others keep the power
/// balance `output power / efficiency + quiescent current × input voltage`.
fn draw(converter: &Converter, seen: Terminals) -> f64 {
    let given = seen.output_amps.max(0.0);
    if converter.linear {
        return given + converter.quiescent.0;
    }
    given * seen.output_volts.max(0.0) / converter.efficiency.0 + converter.quiescent.0 * seen.input_volts
}

fn emf(converter: &Converter, input_volts: f64) -> f64 {
    converter.output_volts.0.min(input_volts - converter.dropout.0).max(0.0)
}

fn relative(old: f64, new: f64) -> f64 {
    if old == new { 0.0 } else { (new - old).abs() / old.abs().max(new.abs()) }
}

#[cfg(test)]
mod tests {
    use wattle_grammar::quantity::Share;

    use super::*;
    use crate::network::ElementId;

    fn buck() -> Converter {
        Converter {
            input: ElementId(0),
            output: ElementId(1),
            efficiency: Share(0.8),
            linear: false,
            quiescent: Amps(0.01),
            output_volts: Volts(5.0),
            dropout: Volts(1.0),
            lowest_input: Volts(7.0),
        }
    }

    fn seen(input_volts: f64) -> Terminals {
        Terminals { input_volts, output_volts: 5.0, output_amps: 2.0 }
    }

    #[test]
    fn draws_the_power_it_gives_over_its_efficiency_and_its_quiescent_current() {
        let mut drive = Drive::default();
        drive.follow(&buck(), seen(12.0), 1.0);
        assert_eq!(drive.asked, 10.0 / 0.8 + 0.12);
    }

    #[test]
    fn a_second_trip_is_the_last() {
        let mut drive = Drive::default();
        for _ in 0..2 {
            drive.follow(&buck(), seen(12.0), 1.0);
            assert!(drive.running);
            drive.follow(&buck(), seen(6.0), 1.0);
        }
        drive.follow(&buck(), seen(12.0), 1.0);
        assert!(drive.has_given_up() && !drive.running);
    }

    #[test]
    fn the_rounding_of_an_unloaded_output_is_no_change() {
        let mut drive = Drive::default();
        let unloaded = |output_amps| Terminals { input_volts: 12.0, output_volts: 5.0, output_amps };
        let idle = Converter { quiescent: Amps(0.0), ..buck() };
        drive.follow(&idle, unloaded(0.0), 1.0);
        assert_eq!(drive.follow(&idle, unloaded(4e-13), 1.0), 0.0);
        assert_eq!(drive.follow(&idle, unloaded(9e-13), 1.0), 0.0);
        assert!(drive.follow(&idle, unloaded(1e-6), 1.0) > 0.1);
    }

    #[test]
    fn a_low_input_takes_the_output_down() {
        assert_eq!(emf(&buck(), 5.5), 4.5);
        assert_eq!(emf(&buck(), 0.5), 0.0);
    }
}
