//! A device that has to open at a higher voltage than it can.

use std::collections::BTreeMap;

use wattle_grammar::{
    kind::key,
    quantity::{Dimension, Unit, Volts},
    unit::{base_symbol, told_apart},
};

use super::likeness;
use crate::{
    finding::{Finding, Mend, NotAssessed, Severity},
    inquiry::Inquiry,
    naming,
    protection::{DeviceProtection, RaisedBy},
    quantity_text::Figure,
    rule::{Rule, Source},
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "protection.voltage-exceeded",
    severity: Severity::Danger,
    summary: "The voltage that can stand across this device when it opens is above the one it is made for.",
    why: "Above its direct voltage a fuse or breaker opens and the arc burns on: 32 V blade fuses on a full 36 V pack, mains \
          breakers on direct current. Nominal voltages hide it: a 14S pack is 58.8 V when full, a `58 V` fuse is too small \
          for it.",
    condition: "The full voltage of the highest source that reaches the device, packs in series added, above the `voltage` of \
                the device; or the voltage to which braking motors can lift what it is joined to: that of a `clamp` (other \
                than one for spikes) beside a driver that regenerates, or the solved voltage of a mode in which motors are \
                turned. Blade fuses are for 32 V, class T for 125 V, unless they say otherwise. A device made for alternating \
                current only suits no direct voltage.",
    source: Source::Published(
        "33 CFR 183.455(d): voltage rating of the device not below that of the circuit",
    ),
    legitimate: "A pack that is never charged all the way: state `full`. A driver that gives nothing back: state `not \
                 regenerates`.",
    mend: "A device for at least the full voltage; or a clamp that begins above the full pack and below what its devices stand.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC; insulation 105 degC }
battery PACK lipo 10S 5 Ah 60 mohm
fuse F1 5 A blade
light LAMP 36 V { typical 2 A; supply 28 V .. 44 V }
wire W1 PACK.pos to F1.line 14 AWG red 100 mm
wire W2 F1.load to LAMP.pos 18 AWG red 300 mm
wire W3 LAMP.neg to PACK.neg 18 AWG black 400 mm
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC; insulation 105 degC }
battery PACK lipo 10S 5 Ah 60 mohm
fuse F1 5 A blade 58 V
light LAMP 36 V { typical 2 A; supply 28 V .. 44 V }
wire W1 PACK.pos to F1.line 14 AWG red 100 mm
wire W2 F1.load to LAMP.pos 18 AWG red 300 mm
wire W3 LAMP.neg to PACK.neg 18 AWG black 400 mm
"#,
    check,
};

/// The lowest direct voltage that any fuse is sold for: below it a missing figure decides nothing (common practice).
const ANY_FUSE: Volts = Volts(24.0);

fn check(inquiry: &mut Inquiry<'_>) {
    let protection = std::mem::take(&mut inquiry.protection);
    // One cause: what stands across them and what they are made for.
    let mut alike: BTreeMap<(u64, u64), Vec<&DeviceProtection>> = BTreeMap::new();
    let mut gaps = Vec::new();
    for found in protection.devices.iter().filter(|found| !found.device.built_in) {
        let thing = inquiry.design.thing(found.device.thing);
        let stands = stands(found).0;
        let only_alternating = thing.flag(key::ALTERNATING_ONLY) == Some(true);
        match found.device.volts {
            _ if stands.0 <= 0.0 => {}
            _ if only_alternating => {
                alike.entry((stands.0.to_bits(), 0)).or_default().push(found);
            }
            Some(rating) if stands > rating.value => {
                alike.entry((stands.0.to_bits(), rating.value.base().to_bits())).or_default().push(found);
            }
            None if stands > ANY_FUSE => gaps.push(NotAssessed {
                subject: thing.name.clone(),
                span: thing.span,
                missing: key::VOLTAGE.to_owned(),
                blocks: vec![RULE.name],
            }),
            _ => {}
        }
    }
    let findings: Vec<Finding> = alike.values().filter_map(|devices| finding(inquiry, devices)).collect();
    drop(alike);
    inquiry.protection = protection;
    gaps.into_iter().for_each(|gap| inquiry.not_assessed(gap));
    findings.into_iter().for_each(|finding| inquiry.report(finding));
}

/// The highest voltage, and what lifts it above that of the sources.
fn stands(found: &DeviceProtection) -> (Volts, Option<RaisedBy>) {
    match found.raised {
        Some(raised) if raised.volts > found.volts => (raised.volts, Some(raised.by)),
        _ => (found.volts, None),
    }
}

fn finding(inquiry: &Inquiry<'_>, devices: &[&DeviceProtection]) -> Option<Finding> {
    let told = devices.first().copied()?;
    let thing = inquiry.design.thing(told.device.thing);
    let name = naming::quoted(&thing.name);
    let (volts, by) = stands(told);
    let rating = told.device.volts.filter(|_| thing.flag(key::ALTERNATING_ONLY) != Some(true));
    let mut because = likeness::others(inquiry, devices, told);
    let mut related = likeness::places(inquiry, devices, told);
    let from = match by {
        None => "the full voltage of its sources".to_owned(),
        Some(RaisedBy::Clamp(clamp)) => {
            let clamp = inquiry.design.thing(clamp);
            related.insert(0, (clamp.span, "braking motors lift it up to here".to_owned()));
            format!("braking motors lift it to where {} begins", naming::quoted(&clamp.name))
        }
        Some(RaisedBy::TurnedMotors(_)) => "motors that are turned lift it".to_owned(),
    };
    let symbol = base_symbol(Dimension::Voltage);
    let (can_stand, for_volts) = rating.map_or_else(
        || (volts.to_string(), "is for alternating current only".to_owned()),
        |rating| {
            let (can_stand, made_for) = told_apart(volts.0, rating.value.0, symbol);
            (can_stand, format!("is for {made_for}"))
        },
    );
    if rating.is_some_and(|rating| !rating.is_stated) {
        because.push(format!("{name} states no `voltage`: the usual one of its style is taken"));
    }
    let mut figures = vec![Figure::new("voltage across it when it opens", volts, from.clone())];
    figures.extend(rating.map(|rating| {
        let basis = if rating.is_stated { "as stated" } else { "usual for the style, makers' data" };
        Figure::new("its direct voltage", rating.value, basis)
    }));
    because.insert(0, from);
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Danger,
        span: thing.span,
        subject: thing.name.clone(),
        message: format!("{can_stand} can stand across {name} when it opens, it {for_volts}"),
        label: "its arc may burn on".to_owned(),
        related,
        figures,
        because,
        mode: match by {
            Some(RaisedBy::TurnedMotors(point)) => {
                let mode = inquiry.figures.points.get(point).map(|point| point.mode);
                mode.and_then(|mode| inquiry.design.modes.get(mode.index())).map(|mode| mode.name.clone())
            }
            _ => None,
        },
        help: vec![Mend::told(format!("use a device for a direct voltage of at least {volts}"))],
        accepted: None,
    })
}
