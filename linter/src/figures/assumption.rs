//! Sentences on what was taken for ratings that are not written.

use wattle_grammar::{
    kind::{KindId, key},
    quantity::{Amps, Volts},
};

use crate::{
    design::{Design, Level, Thing},
    topology::{Charge, rating},
    unfold::{Draw, draw, source_figures},
};

/// How many names a sentence lists before it only counts.
const NAMED: usize = 3;

/// One kind of missing rating.
struct Missing {
    /// What lacks it: one, and several.
    of: (&'static str, &'static str),
    /// What is missing.
    rating: &'static str,
    /// What follows, of one and of several.
    so: (&'static str, &'static str),
    /// Whether a thing lacks it.
    lacks: fn(&Thing) -> bool,
}

const MISSING: &[Missing] = &[
    Missing {
        of: ("source", "sources"),
        rating: "voltage",
        so: ("it is not in the figures", "they are not in the figures"),
        lacks: |thing| is_source(thing) && source_figures(thing, Charge::Nominal).is_none(),
    },
    Missing {
        of: ("battery", "batteries"),
        rating: "internal resistance",
        so: ("the usual one of its cells is taken", "the usual ones of their cells are taken"),
        lacks: |thing| thing.id() == KindId::Battery && thing.rated(key::RESISTANCE).is_none(),
    },
    Missing {
        of: ("load", "loads"),
        rating: "current or power",
        so: ("it draws nothing in the figures", "they draw nothing in the figures"),
        lacks: |thing| is_load(thing) && draw(thing, Level::Typical) == Draw::Unknown,
    },
    Missing {
        of: ("motor", "motors"),
        rating: "stall current or winding resistance",
        so: (
            "eight times its ordinary current is taken at stall",
            "eight times their ordinary current is taken at stall",
        ),
        lacks: |thing| {
            let written = thing.rated(key::STALL).or_else(|| thing.rated(key::RESISTANCE));
            thing.id() == KindId::Motor && written.is_none()
        },
    },
    Missing {
        of: ("coil", "coils"),
        rating: "current or resistance",
        so: ("the usual power of a coil is taken", "the usual power of a coil is taken"),
        lacks: |thing| is_coil(thing) && !rating::knows_coil(thing),
    },
    Missing {
        of: ("regulator", "regulators"),
        rating: "output voltage",
        so: ("it gives nothing in the figures", "they give nothing in the figures"),
        lacks: |thing| thing.id() == KindId::Regulator && thing.get::<Volts>(key::OUTPUT).is_none(),
    },
    Missing {
        of: ("regulator", "regulators"),
        rating: "rated current or current limit",
        so: ("its limit is not in the figures", "their limits are not in the figures"),
        lacks: |thing| {
            let written = thing.get::<Amps>(key::CURRENT).or_else(|| thing.get(key::CURRENT_LIMIT));
            thing.id() == KindId::Regulator && written.is_none()
        },
    },
    Missing {
        of: ("resistor", "resistors"),
        rating: "resistance",
        so: ("it counts as open", "they count as open"),
        lacks: |thing| thing.id() == KindId::Resistor && thing.rated(key::RESISTANCE).is_none(),
    },
];

/// The sentences, wires first.
pub(super) fn assumptions(design: &Design) -> Vec<String> {
    let mut sentences = wires(design);
    for missing in MISSING {
        let lacking = design.things.iter().filter(|thing| (missing.lacks)(thing));
        let names: Vec<&str> = lacking.map(|thing| thing.name.as_str()).collect();
        let one = names.len() == 1;
        let (of, so) = if one { (missing.of.0, missing.so.0) } else { (missing.of.1, missing.so.1) };
        sentences.extend(sentence(&names, of, missing.rating, so));
    }
    sentences.extend(third_leads(design));
    sentences
}

/// What is taken for the third lead of brushless motors, which the network does not have.
fn third_leads(design: &Design) -> Option<String> {
    let brushless = design
        .things
        .iter()
        .filter(|thing| thing.id() == KindId::Motor && thing.flag(key::BRUSHLESS) == Some(true));
    let names: Vec<String> = brushless.map(|motor| format!("`{}`", motor.name)).collect();
    let (are, their) = if names.len() == 1 { ("motor is", "its") } else { ("motors are", "their") };
    let listed = names.iter().take(NAMED).cloned().collect::<Vec<_>>().join(", ");
    let more = if names.len() > NAMED { ", …" } else { "" };
    let count = names.len();
    (count > 0).then(|| {
        format!(
            "{count} brushless {are} computed between two leads: {their} third is taken to carry the same \
             current ({listed}{more})"
        )
    })
}

fn wires(design: &Design) -> Vec<String> {
    let names = |lacks: fn(&crate::design::Wire) -> bool| -> Vec<&str> {
        design.wires.iter().filter(|wire| lacks(wire)).map(|wire| wire.name.as_str()).collect()
    };
    let of = |names: &[&str]| if names.len() == 1 { "wire" } else { "wires" };
    let so = |names: &[&str]| {
        if names.len() == 1 { "its drop is not in the figures" } else { "their drop is not in the figures" }
    };
    let (lengths, sizes) = (
        names(|wire| wire.resistance.is_none() && wire.length.is_none()),
        names(|wire| wire.resistance.is_none() && wire.size.is_none()),
    );
    let length = sentence(&lengths, of(&lengths), "length", so(&lengths));
    length.into_iter().chain(sentence(&sizes, of(&sizes), "size", so(&sizes))).collect()
}

/// `3 wires had no length: their drop is not in the figures (`W1`, `W2`, `W3`)`; nothing when there are none.
fn sentence(names: &[&str], of: &str, rating: &str, so: &str) -> Option<String> {
    let listed: Vec<String> = names.iter().take(NAMED).map(|name| format!("`{name}`")).collect();
    let more = if names.len() > NAMED { ", …" } else { "" };
    let count = names.len();
    (count > 0).then(|| format!("{count} {of} had no {rating}: {so} ({}{more})", listed.join(", ")))
}

fn is_source(thing: &Thing) -> bool {
    matches!(thing.id(), KindId::Battery | KindId::Charger | KindId::Supply | KindId::Generator)
}

fn is_coil(thing: &Thing) -> bool {
    matches!(thing.id(), KindId::Relay | KindId::Contactor)
}

/// Whether a mode tells a thing what to draw.
fn is_load(thing: &Thing) -> bool {
    matches!(
        thing.id(),
        KindId::Amplifier
            | KindId::Controller
            | KindId::Receiver
            | KindId::Sensor
            | KindId::Motor
            | KindId::Servo
            | KindId::Light
            | KindId::Meter
            | KindId::Load
    )
}
