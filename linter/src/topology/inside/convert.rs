//! Regulators, motor drivers and amplifiers.

use wattle_grammar::kind::key;

use super::{Inside, Nature};

/// Input, output, and unless isolated the common negative.
pub(super) fn regulator(inside: &mut Inside<'_, '_>) {
    inside.between("in", "in-neg", Nature::ConverterInput);
    inside.between("out", "out-neg", Nature::ConverterOutput);
    if inside.thing.flag(key::ISOLATED) != Some(true) {
        inside.between("in-neg", "out-neg", Nature::ConverterGround);
    }
}

/// The supply input, and for each channel the bridge and its freewheel diodes. The order is fixed: the bridge, then lead a
/// and lead b to positive, then negative to lead a and to lead b, and the same two of a third lead.
pub(super) fn driver(inside: &mut Inside<'_, '_>) {
    inside.between("pos", "neg", Nature::DriverInput);
    for channel in 1.. {
        let (a, b) = (format!("m{channel}a"), format!("m{channel}b"));
        if inside.between(&a, &b, Nature::BridgeOutput).is_none() {
            break;
        }
        for (from, to) in [(&*a, "pos"), (&*b, "pos"), ("neg", &*a), ("neg", &*b)] {
            inside.between(from, to, Nature::BridgeDiode);
        }
        let c = format!("m{channel}c");
        for (from, to) in [(&*c, "pos"), ("neg", &*c)] {
            inside.between(from, to, Nature::BridgeDiode);
        }
    }
}

/// The supply input as a load, and each output.
pub(super) fn amplifier(inside: &mut Inside<'_, '_>) {
    inside.between("pos", "neg", Nature::Load);
    inside
        .each(|channel| (format!("out{channel}-pos"), format!("out{channel}-neg")), Nature::AmplifierOutput);
}
