//! A contact that closes onto empty capacitors with more current than it may make.

use wattle_grammar::{
    kind::key,
    quantity::{Amps, Volts},
};

use crate::{
    design::{Design, ThingId},
    finding::{Finding, Mend, Severity},
    inquiry::Inquiry,
    naming,
    physics::{capacitor::energy, unit::Joules},
    quantity_text::Figure,
    rule::{Rule, Source},
    surge::{Closing, Contact},
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "contact.inrush",
    severity: Severity::Damage,
    summary: "The contact closes onto empty capacitors with more current than it may make.",
    why: "For a moment an empty capacitor is a short: only the battery and the leads limit the current. Contacts that meet it \
          spark, pit and one day weld, and the robot no longer switches off.",
    condition: "With full batteries the current at the moment of closing, voltage over the resistance of the way round, is more \
                than the `makes` of a switch, stop, relay or contactor, and more than 0.5 J go into the capacitors. After a \
                pre-charge that some mode shows, what is left of the difference counts. Only capacitors whose `capacitance` is \
                stated count, those of parts with `soft-start` do not; the inductance of the leads is left out.",
    source: Source::Physics(
        "I = U / R and E = ½ C U² of a capacitor; contacts of the making current they are rated for",
    ),
    legitimate: "A part that fills its capacitors slowly by itself: state `soft-start` on it. A contact that never closes under \
                 voltage: state `carries-only` on it.",
    mend: "Fill the capacitors through a resistor first: a second contact closes onto it, and the main one after three time \
           constants. Take the resistor out again. No contact with a bigger rating for long makes more by that.",
    bad: r#"wattle 1
robot "Cart" { ambient 30 degC }
battery PACK lead-acid 12S 12 Ah 20 mohm
switch S1 30 A { makes 100 A }
fuse F1 20 A blade { breaking-capacity 2 kA }
capacitor C1 4700 uF 50 V
light LAMP 24 V 2 A { supply 18 V .. 32 V }
wire W1 PACK.pos to F1.line 10 AWG red 100 mm
wire W2 F1.load to S1.1 10 AWG red 200 mm
wire W3 S1.2 to C1.pos 10 AWG red 200 mm
wire W4 C1.neg to PACK.neg 10 AWG black 300 mm
wire W5 C1.pos to LAMP.pos 10 AWG red 200 mm
wire W6 LAMP.neg to C1.neg 10 AWG black 200 mm
mode run { S1 closed }
"#,
    good: r#"wattle 1
robot "Cart" { ambient 30 degC }
battery PACK lead-acid 12S 12 Ah 20 mohm
switch S1 30 A { makes 2000 A }
fuse F1 20 A blade { breaking-capacity 2 kA }
capacitor C1 4700 uF 50 V
light LAMP 24 V 2 A { supply 18 V .. 32 V }
wire W1 PACK.pos to F1.line 10 AWG red 100 mm
wire W2 F1.load to S1.1 10 AWG red 200 mm
wire W3 S1.2 to C1.pos 10 AWG red 200 mm
wire W4 C1.neg to PACK.neg 10 AWG black 300 mm
wire W5 C1.pos to LAMP.pos 10 AWG red 200 mm
wire W6 LAMP.neg to C1.neg 10 AWG black 200 mm
mode run { S1 closed }
"#,
    check,
};

/// Less energy than this leaves no mark on a contact (common practice).
const NOTICED: Joules = Joules(0.5);

fn check(inquiry: &mut Inquiry<'_>) {
    let rated: Vec<ThingId> = inquiry
        .design
        .things()
        .filter(|(_, thing)| {
            thing.get::<Amps>(key::MAKES).is_some() && thing.flag(key::CARRIES_ONLY) != Some(true)
        })
        .map(|(id, _)| id)
        .collect();
    for thing in rated {
        let contact = Contact::Thing(thing);
        let found = inquiry.closing(contact);
        let finding = found.and_then(|closing| finding(inquiry, thing, &closing));
        finding.into_iter().for_each(|finding| inquiry.report(finding));
    }
}

fn finding(inquiry: &Inquiry<'_>, id: ThingId, closing: &Closing) -> Option<Finding> {
    let design = inquiry.design;
    let thing = design.thing(id);
    let makes = closing.makes.clone().ok()?;
    let (peak, left) = (closing.peak_after_precharge(), left(closing));
    let taken = energy(closing.capacitance, left);
    if peak <= makes || taken <= NOTICED {
        return None;
    }
    let mode =
        inquiry.figures.points.get(closing.point).and_then(|point| design.modes.get(point.mode.index()))?;
    let before = closing
        .precharge
        .map(|before| format!("the pre-charge leaves {left}: it comes to {}", before.reaches));
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Damage,
        span: thing.span,
        subject: thing.name.clone(),
        message: format!(
            "{} closes onto {} with {peak} and {:.2} J, it makes {makes}",
            naming::thing(design, id),
            into(design, closing),
            taken.0
        ),
        label: format!("makes {makes}"),
        related: closing
            .into
            .iter()
            .take(4)
            .map(|into| (design.thing(*into).span, "its capacitors are empty then".to_owned()))
            .collect(),
        figures: vec![
            Figure::new(
                "in-rush current",
                peak,
                "voltage over the resistance of the way round, full batteries",
            ),
            Figure::new("making current", makes, "`makes`, as stated"),
        ],
        because: std::iter::once(format!(
            "{} over {} of batteries, conductors and contacts, into {}",
            left, closing.path, closing.capacitance
        ))
        .chain(before)
        .collect(),
        mode: Some(mode.name.clone()),
        help: vec![Mend::told(
            "fill the capacitors through a resistor and a second contact first, and close this one after three time constants",
        )],
        accepted: None,
    })
}

/// The voltage that is left at the moment of closing.
fn left(closing: &Closing) -> Volts {
    closing.precharge.map_or(closing.volts, |before| (closing.volts - before.reaches).max(Volts(0.0)))
}

fn into(design: &Design, closing: &Closing) -> String {
    let names: Vec<String> = closing.into.iter().map(|into| naming::thing(design, *into)).collect();
    naming::listed(&names)
}
