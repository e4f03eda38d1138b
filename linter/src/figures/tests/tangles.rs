//! Whatever is joined to whatever: every robot is solved or told why not, and what is solved obeys Kirchhoff.

use proptest::prelude::*;
use wattle_grammar::kind::{self, key};

use super::*;
use crate::{design::State, sample::Value, sample::Yes};

/// Ratings that make a thing of each kind do something, as far as the kind has them.
const RATINGS: &[(&str, f64)] = &[
    (key::CELLS, 3.0),
    (key::RESISTANCE, 0.5),
    (key::COIL_VOLTAGE, 12.0),
    (key::COIL, 0.1),
    (key::OUTPUT, 5.0),
    (key::CLAMPS_AT, 15.0),
    (key::STALL, 20.0),
    (key::TYPICAL, 2.0),
    (key::CURRENT, 10.0),
    (key::CHANNELS, 2.0),
    (key::WAYS, 3.0),
    (key::POLES, 2.0),
    (key::SIGNALS, 1.0),
];

/// A thing of each kind, and two batteries.
fn everything() -> Sample {
    let mut sample = Sample::default();
    for (at, kind) in kind::ALL.iter().copied().chain(kind::by_word("battery")).enumerate() {
        let has = |key: &str| kind.rating(key).is_some();
        let mut ratings: Vec<(&'static str, Value)> =
            RATINGS.iter().filter(|(key, _)| has(key)).map(|(key, value)| (*key, N(*value))).collect();
        if has(key::CHEMISTRY) {
            ratings.push((key::CHEMISTRY, W("lipo")));
        }
        if has(key::TAPS) {
            ratings.push((key::TAPS, Yes));
        }
        sample.thing(kind.word, &format!("X{at}"), &ratings);
    }
    sample
}

fn tangle(wires: &[(prop::sample::Index, prop::sample::Index)], level: Level) -> Solved {
    let mut sample = everything();
    let count = sample.design.terminals.len();
    let name = |index: &prop::sample::Index, sample: &Sample| {
        let terminal = &sample.design.terminals[index.index(count)];
        format!("{}.{}", sample.design.thing(terminal.thing).name, terminal.name)
    };
    for (from, to) in wires {
        let (from, to) = (name(from, &sample), name(to, &sample));
        sample.join(&from, &to);
    }
    sample.mode("run", level, &[]);
    let switches = sample.design.things.iter_mut().zip(&mut sample.design.modes[0].states);
    for (thing, state) in switches.filter(|(thing, _)| matches!(thing.kind.word, "switch" | "charger")) {
        assert!(!thing.name.is_empty());
        *state = State::Closed;
    }
    sample.mode("pushed", Level::Off, &[]);
    for (thing, state) in sample.design.things.iter().zip(&mut sample.design.modes[1].states) {
        if thing.kind.word == "motor" {
            *state = State::Turned;
        }
    }
    Solved::new(sample)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn any_tangle_is_solved_or_told_why(
        wires in prop::collection::vec(any::<(prop::sample::Index, prop::sample::Index)>(), 0..160),
        stalled in any::<bool>(),
    ) {
        let robot = tangle(&wires, if stalled { Level::Stall } else { Level::Typical });
        prop_assert_eq!(robot.figures.points.len(), 2 * Corner::COUNT);
        for point in &robot.figures.points {
            let Some(working) = point.working() else { continue };
            let largest = working.amps.iter().fold(0.0f64, |most, amps| most.max(amps.abs()));
            prop_assert!(working.residual <= 1e-9 * largest.max(1e-6), "{} of {largest}", working.residual);
            for (at, _) in robot.topology.links.iter().enumerate() {
                prop_assert!(point.amps(LinkId(at as u32)).is_some_and(|amps| amps.0.is_finite()));
            }
        }
    }
}
