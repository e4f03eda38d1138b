//! A coil that is too weak to pull in when it is warm and the batteries are empty.

use wattle_grammar::{kind::key, quantity::Volts};

use crate::{
    finding::{Finding, Mend, NotAssessed, Severity},
    inquiry::Inquiry,
    naming,
    physics::coil::{WINDING_RISE, voltage_at},
    quantity_text::Figure,
    rule::{Rule, Source},
    surge::Coil,
    topology::rating,
    unfold::usual::WATCHING,
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "coil.weak",
    severity: Severity::Malfunction,
    summary: "With empty batteries and warm copper the coil no longer reaches the voltage at which it surely pulls in.",
    why: "It works on the bench with a full pack. On a warm day with a tired pack the contacts stay out, or close without force, \
          chatter under load and weld.",
    condition: "In a mode that may last, in which the coil pulls in with full batteries, its voltage falls below `operate` at \
                the temperature of the air around it: `operate` × (234.5 + air) / (234.5 + `operate-temperature`). Where \
                something switches the loads off before the batteries are empty (`cutoff`) the voltage then counts. A coil \
                with an economiser is left out, and one that lets go above half of `operate`: it is made to watch a voltage. Where `operate` is not written and the coil has less than 80 % of its rated \
                voltage, warm, it is listed as not assessed.",
    source: Source::Published(
        "resistance of warm copper: FAA AC 43.13-1B p. 11-22; a coil pulls by its current",
    ),
    legitimate: "A coil that takes less than usual: state `operate` from its data sheet.",
    mend: "A coil for a lower voltage with its highest voltage checked, one with an economiser, a node nearer to the battery, \
           or a cut-off before the pack is so empty.",
    bad: r#"wattle 1
robot "Hut" { ambient 45 degC }
battery PACK lipo 3S 5 Ah 20 mohm
fuse F1 3 A blade
relay K1 12 V 10 A { coil 80 mA; operate 9 V; suppression diode }
wire W1 PACK.pos to F1.line 14 AWG red 100 mm
wire W2 F1.load to K1.A1 18 AWG red 300 mm
wire W3 K1.A2 to PACK.neg 18 AWG black 400 mm
"#,
    good: r#"wattle 1
robot "Hut" { ambient 45 degC }
battery PACK lipo 3S 5 Ah 20 mohm
fuse F1 3 A blade
relay K1 12 V 10 A { coil 80 mA; operate 7.5 V; suppression diode }
wire W1 PACK.pos to F1.line 14 AWG red 100 mm
wire W2 F1.load to K1.A1 18 AWG red 300 mm
wire W3 K1.A2 to PACK.neg 18 AWG black 400 mm
"#,
    check,
};

/// The largest share of the rated voltage that must-operate usually is (common practice: 70 % to 80 %).
const USUAL_MOST: f64 = 0.8;

/// The last digits of the solver do not count.
const SLACK: f64 = 1.0 - 1e-9;

fn check(inquiry: &mut Inquiry<'_>) {
    let coils = inquiry.coils();
    for coil in coils.iter().filter(|coil| !coil.economiser && !watches(coil)) {
        let Some((_, volts)) = coil.lowest else { continue };
        if coil.operate_written {
            if volts < coil.operate_in_air * SLACK {
                let finding = finding(inquiry, coil);
                finding.into_iter().for_each(|finding| inquiry.report(finding));
            }
        } else if volts < usual_most(inquiry, coil) * SLACK {
            let thing = inquiry.design.thing(coil.thing);
            inquiry.not_assessed(NotAssessed {
                subject: thing.name.clone(),
                span: thing.span,
                missing: key::OPERATE.to_owned(),
                blocks: vec![RULE.name],
            });
        }
    }
}

/// Whether a relay is made to let go as soon as its voltage falls a little: electronics in it watch a voltage.
fn watches(coil: &Coil) -> bool {
    coil.release > coil.operate * WATCHING
}

/// What a coil needs in warm air when it is of the usual kind that needs most.
fn usual_most(inquiry: &Inquiry<'_>, coil: &Coil) -> Volts {
    let rated = rating::coil(inquiry.design, inquiry.design.thing(coil.thing)).volts;
    voltage_at(rated * USUAL_MOST, coil.stated_at, coil.air.0.max(coil.stated_at))
}

fn finding(inquiry: &Inquiry<'_>, coil: &Coil) -> Option<Finding> {
    let design = inquiry.design;
    let thing = design.thing(coil.thing);
    let (at, volts) = coil.lowest?;
    let point = inquiry.figures.points.get(at)?;
    let mode = design.modes.get(point.mode.index())?;
    let (has, needs) = wattle_grammar::unit::told_apart(volts.0, coil.operate_in_air.0, "V");
    let (air, written) = coil.air;
    let taken = if written { "" } else { ", taken where no `ambient` is written" };
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Malfunction,
        span: thing.span,
        subject: thing.name.clone(),
        message: format!(
            "the coil of {} has {has} in `{}` with {}, it needs {needs} to pull in at {air}",
            naming::thing(design, coil.thing),
            mode.name,
            naming::corner(design, point.corner)
        ),
        label: format!("needs {needs}"),
        related: Vec::new(),
        figures: vec![
            Figure::new("coil voltage", volts, format!("network solved in mode `{}`", mode.name)),
            Figure::new(
                "operate voltage, warm",
                coil.operate_in_air,
                "`operate` · (234.5 + T) / (234.5 + T₀)",
            ),
        ],
        because: vec![
            format!("{} at {} as stated, the air is {air}{taken}", coil.operate, coil.stated_at),
            format!(
                "after it has stayed on, its winding about {WINDING_RISE} warmer, it needs {}",
                coil.operate_hot
            ),
        ],
        mode: Some(mode.name.clone()),
        help: vec![Mend::told(
            "use a coil that pulls in at less, with an economiser or for a lower voltage; check its highest voltage with full \
             batteries",
        )],
        accepted: None,
    })
}
