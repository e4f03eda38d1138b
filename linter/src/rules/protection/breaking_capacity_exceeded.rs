//! A device that has to break more than it can.

use std::collections::{BTreeMap, BTreeSet};

use wattle_grammar::{
    kind::key,
    quantity::{Amps, Dimension},
    unit::{base_symbol, told_apart},
};

use super::likeness;
use crate::{
    design::{RatedValue, ThingId},
    finding::{Finding, Mend, NotAssessed, Severity},
    inquiry::Inquiry,
    naming,
    protection::{Bound, DeviceProtection, Through, missing_strength},
    quantity_text::Figure,
    rule::{Rule, Source},
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "protection.breaking-capacity-exceeded",
    severity: Severity::Danger,
    summary: "A short right behind this device draws more than it can break.",
    why: "Beyond its breaking capacity a fuse bursts or goes on arcing, and a breaker welds or burns: the device that is to end \
          the fire starts it. Lithium packs of a few milliohm give thousands of ampere, and a common blade fuse breaks 1000 A.",
    condition: "The highest current through the device into a dead short right behind it, from whichever side gives more, \
                above its `breaking-capacity`: all sources together, full, every contact closed, everything in the loop at \
                20 °C with the device's own cold resistance, no way back. Without a stated figure that of the style holds, \
                where a style has one (blade 1000 A, class T 20 kA, miniature tubes 35 A); for others it is not assessed, \
                unless the current is within what their time–current table makes them open.",
    source: Source::Published(
        "IEC 60269-1, IEC 60127-1 and ISO 8820-1: rated breaking capacity; makers' data for blade fuses",
    ),
    legitimate: "A fuse of higher breaking capacity before it that a maker's sheet pairs with it: state `backed-up-by` and the \
                 `source`. A pack whose resistance was measured: state `resistance`.",
    mend: "A device that breaks more, or one such as class T at the pack with which a maker pairs it. A longer wire behind the \
           device does not help: the short can be at its terminals.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC; insulation 105 degC }
battery PACK lipo 6S 10 Ah 8 mohm
fuse F1 40 A blade
light LAMP 24 V { typical 2 A; supply 16 V .. 28 V }
wire W1 PACK.pos to F1.line 8 AWG red 100 mm
wire W2 F1.load to LAMP.pos 8 AWG red 300 mm
wire W3 LAMP.neg to PACK.neg 8 AWG black 400 mm
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC; insulation 105 degC }
battery PACK lipo 6S 10 Ah 8 mohm
fuse F1 40 A bolt-down 58 V { breaking-capacity 2500 A }
light LAMP 24 V { typical 2 A; supply 16 V .. 28 V }
wire W1 PACK.pos to F1.line 8 AWG red 100 mm
wire W2 F1.load to LAMP.pos 8 AWG red 300 mm
wire W3 LAMP.neg to PACK.neg 8 AWG black 400 mm
"#,
    check,
};

/// How far the usual resistance of a chemistry may lie above that of a pack: the geometric mean of a range that spans a
/// factor of up to fifteen.
const USUAL_SPREAD: f64 = 4.0;

fn check(inquiry: &mut Inquiry<'_>) {
    let protection = std::mem::take(&mut inquiry.protection);
    let mut alike: BTreeMap<(u64, Option<ThingId>), Vec<&DeviceProtection>> = BTreeMap::new();
    let mut gaps: BTreeSet<NotAssessed> = BTreeSet::new();
    for device in protection.devices.iter().filter(|device| device.to_break.amps.0 > 0.0) {
        match judge(inquiry, device) {
            Judged::Exceeded(breaks) => {
                let block = inquiry.design.thing(device.device.thing).on;
                alike.entry((breaks.0.to_bits(), block)).or_default().push(device);
            }
            Judged::Lacks(thing, missing) => {
                let thing = inquiry.design.thing(thing);
                gaps.insert(NotAssessed {
                    subject: thing.name.clone(),
                    span: thing.span,
                    missing: missing.to_owned(),
                    blocks: vec![RULE.name],
                });
            }
            Judged::Within => {}
        }
    }
    let findings: Vec<Finding> = alike.values().filter_map(|devices| finding(inquiry, devices)).collect();
    drop(alike);
    inquiry.protection = protection;
    gaps.into_iter().for_each(|gap| inquiry.not_assessed(gap));
    findings.into_iter().for_each(|finding| inquiry.report(finding));
}

enum Judged {
    Within,
    Exceeded(Amps),
    Lacks(ThingId, &'static str),
}

fn judge(inquiry: &Inquiry<'_>, found: &DeviceProtection) -> Judged {
    let device = &found.device;
    let needs = found.to_break.amps;
    let backing = backing(inquiry, found);
    let own = device.breaks.map(|rating| rating.value);
    let Some(breaks) = own.into_iter().chain(backing.flatten()).reduce(Amps::max) else {
        let surely = device.surely_breaks().is_some_and(|surely| needs <= surely);
        return if surely { Judged::Within } else { Judged::Lacks(device.thing, key::BREAKING_CAPACITY) };
    };
    if sure(found).is_some_and(|side| side.far.amps > breaks) {
        return Judged::Exceeded(breaks);
    }
    let lacks = found.sides.iter().find_map(|side| {
        let near = &side.near;
        let usual = near.usual.filter(|_| side.far.amps * USUAL_SPREAD > breaks);
        let unknown = near.unknown.map(|thing| (thing, missing_strength(inquiry.design, thing)));
        unknown.or_else(|| Some((usual?, key::RESISTANCE)))
    });
    lacks.map_or(Judged::Within, |(thing, missing)| Judged::Lacks(thing, missing))
}

/// The side from which most comes of those whose batteries all say what they resist.
fn sure(found: &DeviceProtection) -> Option<&Through> {
    let known = found.sides.iter().filter(|side| side.near.usual.is_none());
    known.reduce(|held, next| if next.far.amps > held.far.amps { next } else { held })
}

/// The breaking capacity of the fuse that the author says backs the device up: none when nothing is said, none inside when
/// that fuse does not say.
fn backing(inquiry: &Inquiry<'_>, found: &DeviceProtection) -> Option<Option<Amps>> {
    let thing = inquiry.design.thing(found.device.thing);
    let RatedValue::Reference(name) = &thing.rated(key::BACKED_UP_BY)?.value else { return None };
    let fuse = inquiry.design.things.iter().find(|thing| thing.name == *name)?;
    Some(fuse.get::<Amps>(key::BREAKING_CAPACITY))
}

/// Devices on one block with one figure as one finding, about the one that has to break most.
fn finding(inquiry: &Inquiry<'_>, devices: &[&DeviceProtection]) -> Option<Finding> {
    let sides = devices.iter().filter_map(|device| Some((*device, sure(device)?)));
    let (worst, side) =
        sides.reduce(|held, next| if next.1.far.amps > held.1.far.amps { next } else { held })?;
    let thing = inquiry.design.thing(worst.device.thing);
    let breaks = worst.device.breaks?;
    let name = naming::quoted(&thing.name);
    let (draws, most) = told_apart(side.far.amps.0, breaks.value.0, base_symbol(Dimension::Current));
    let basis = if breaks.is_stated { "as stated" } else { "usual for the style, makers' data" };
    let mut because = likeness::others(inquiry, devices, worst);
    if !breaks.is_stated {
        because.push(format!("{name} states no `breaking-capacity`: the usual figure of its style is taken"));
    }
    because.extend(side.near.bound.map(|bound| match bound {
        Bound::Rings => "the current is not surely the highest".to_owned(),
        _ => "the current is an upper bound".to_owned(),
    }));
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Danger,
        span: thing.span,
        subject: thing.name.clone(),
        message: format!("a short right behind {name} draws up to {draws}, it breaks {most}"),
        label: "it may burst".to_owned(),
        related: likeness::places(inquiry, devices, worst),
        figures: vec![
            Figure::new(
                "highest current through it",
                side.far.amps,
                "all sources full, everything in the loop at 20 °C, network solved",
            ),
            Figure::new(
                "prospective current without it",
                side.near.amps,
                "the same with a joint in its place",
            ),
            Figure::new("breaking capacity", breaks.value, basis),
        ],
        because,
        mode: None,
        help: vec![
            Mend::told(format!(
                "use a fuse that breaks at least {}, and state its `breaking-capacity`",
                side.far.amps
            )),
            Mend::told(
                "or a fuse of high breaking capacity at the pack that a maker's sheet pairs with it: state `backed-up-by`",
            ),
        ],
        accepted: None,
    })
}
