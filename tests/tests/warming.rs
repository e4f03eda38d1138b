//! Wires under currents that do not last: the figure with its derivation, and what averaging a duty rests on.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on may say so by a panic")]

use wattle_linter::{
    analysis::Analysis,
    design::WireId,
    explained::{Amount, Explained},
    warming::Bench,
};
use wattle_tests::memory;

fn robot(mode: &str, motor: &str) -> Analysis {
    memory::analyse(&format!(
        "wattle 1\nrobot \"Hut\" {{ ambient 30 degC }}\nbattery PACK lead-acid 6S 7 Ah 20 mohm\nfuse F1 10 A blade\n\
         motor M1 12 V {{ typical 2 A; not back-drivable; {motor} }}\nwire W1 PACK.pos to F1.line 10 AWG red 100 mm\n\
         wire W2 F1.load to M1.a 18 AWG red 300 mm\nwire W3 M1.b to PACK.neg 10 AWG black 400 mm\n{mode}\n"
    ))
}

/// What the bench says of the wire `W2`.
fn of_w2<T>(analysis: &Analysis, ask: impl FnOnce(Bench<'_>, WireId) -> T) -> T {
    let (id, _) = analysis.design.wires().find(|(_, wire)| wire.name == "W2").unwrap();
    ask(Bench::of(analysis.given()), id)
}

/// The figure of the wire `W2`.
fn figure(analysis: &Analysis) -> Option<Explained> {
    of_w2(analysis, |bench, id| bench.explained(id))
}

#[test]
fn a_stall_has_its_time_with_formula_inputs_and_source() {
    let figure = figure(&robot("mode stall { everything stall; lasts 5 s }", "stall 12 A")).unwrap();
    let Amount::Value(seconds, _) = figure.amount else { panic!("{figure:?}") };
    assert!((10.0..60.0).contains(&seconds), "{seconds}");
    assert!(!figure.formula.is_empty() && figure.source.contains("IEC 60949"));
    assert_eq!(figure.inputs.len(), 6);
    assert!(
        figure.notes.iter().any(|note| note == "it lasts 5 s as stated in `stall`"),
        "{:?}",
        figure.notes
    );
    assert!(figure.notes.iter().any(|note| note.contains("`F1` has opened")), "{:?}", figure.notes);
}

#[test]
fn a_peak_lasts_as_its_peak_time_says() {
    let figure = figure(&robot("mode rush { everything peak }", "peak 12 A 3 s")).unwrap();
    assert!(
        figure.notes.iter().any(|note| note == "it lasts 3 s by the `peak-time` of `M1`"),
        "{:?}",
        figure.notes
    );
}

#[test]
fn what_the_wire_carries_for_ever_has_no_such_figure() {
    assert_eq!(figure(&robot("mode stall { everything stall }", "stall 3 A")), None);
}

#[test]
fn averaging_a_duty_is_said_with_the_longest_stretch() {
    let basis = |duty: &str| {
        let text = format!("mode run {{ M1 11 A; duty {duty} }}");
        robot(&text, "stall 3 A").verdict.basis.into_iter().find(|sentence| sentence.contains("averaged"))
    };
    let sentence = basis("50 %").unwrap();
    assert!(sentence.contains("`run` 1 wire passes only") && sentence.contains("(`W2`)"), "{sentence}");
    // Above the ampacity on average, and never above it: neither rests on the averaging.
    assert_eq!(basis("95 %"), None);
    assert_eq!(basis("100 %"), None);
}
