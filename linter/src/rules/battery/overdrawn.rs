//! A battery that gives more for long than it is rated for.

use wattle_grammar::kind::key;

use super::overload::judge;
use crate::{
    energy::{self, Overload},
    finding::{Finding, Mend, Severity},
    inquiry::Inquiry,
    naming,
    quantity_text::Figure,
    rule::{Rule, Source},
    topology::rating,
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "battery.overdrawn",
    severity: Severity::Danger,
    summary: "The battery gives more current for long than it is rated for.",
    why: "Every cell has a resistance of its own, and its heat grows with the square of the current. Cells beyond their rating \
          run hot from inside, swell, lose their capacity and may catch fire; the voltage falls away while they do.",
    condition: "In a mode that may last, root mean square over its duty, the battery gives more than `current`, or `capacity` \
                × `discharge`; of an `advertised` figure half of it. In a mode that `lasts` no longer than the `peak-time` of \
                the battery its `peak` counts instead. A battery without a rating is listed as not assessed where it gives \
                more than 1 C, which cells of any make stand.",
    source: Source::CommonPractice(
        "makers rate continuous discharge as a multiple of the capacity; half of an advertised C rating is kept",
    ),
    legitimate: "Never for long. A mode that is over soon says so: `lasts 3 s` on the mode, `peak` and `peak-time` on the \
                 battery.",
    mend: "More packs side by side, a pack of more capacity or of a higher rating, or less load at once. A fuse that opens \
           later changes nothing for the cells.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK li-ion 4S 3 Ah 60 mohm { discharge 2 C }
fuse F1 15 A blade
light LAMP 12 V 8 A { supply 9 V .. 18 V }
wire W1 PACK.pos to F1.line 12 AWG red 100 mm
wire W2 F1.load to LAMP.pos 12 AWG red 300 mm
wire W3 LAMP.neg to PACK.neg 12 AWG black 400 mm
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK li-ion 4S 6 Ah 30 mohm { discharge 2 C }
fuse F1 15 A blade
light LAMP 12 V 8 A { supply 9 V .. 18 V }
wire W1 PACK.pos to F1.line 12 AWG red 100 mm
wire W2 F1.load to LAMP.pos 12 AWG red 300 mm
wire W3 LAMP.neg to PACK.neg 12 AWG black 400 mm
"#,
    check,
};

fn check(inquiry: &mut Inquiry<'_>) {
    let found = energy::overloads(inquiry.design, inquiry.figures, &inquiry.energy);
    judge(inquiry, RULE.name, &found, finding);
}

fn finding(inquiry: &Inquiry<'_>, overload: &Overload) -> Option<Finding> {
    let design = inquiry.design;
    let thing = design.thing(overload.battery);
    let point = inquiry.figures.points.get(overload.point)?;
    let mode = design.modes.get(point.mode.index())?;
    let limit = overload.limit.clone().ok()?;
    let (amps, rated) = wattle_grammar::unit::told_apart(overload.amps.0, limit.0, "A");
    let lithium = rating::chemistry(thing).is_some_and(|row| row.word.starts_with("li"));
    let mut because = Vec::new();
    if overload.advertised {
        because.push(format!(
            "half of its advertised figure counts, {limit}: state `current` from a data sheet, \
                              `continuous` behind it"
        ));
    }
    if point.duty.0 < 1.0 {
        because.push(format!("root mean square over a duty of {}", point.duty));
    }
    Some(Finding {
        rule: RULE.name,
        severity: if lithium { Severity::Danger } else { Severity::Damage },
        span: thing.span,
        subject: thing.name.clone(),
        message: format!(
            "{} gives {amps} in `{}` with {}, it is rated for {rated}",
            naming::thing(design, overload.battery),
            mode.name,
            naming::corner(design, point.corner)
        ),
        label: format!("rated for {rated}"),
        related: Vec::new(),
        figures: vec![
            Figure::new("current given", overload.amps, format!("network solved in mode `{}`", mode.name)),
            Figure::new(
                "rated current",
                limit,
                format!("`{}`, else `{}` × `{}`", key::CURRENT, key::CAPACITY, key::DISCHARGE),
            ),
        ],
        because,
        mode: Some(mode.name.clone()),
        help: vec![Mend::told(
            "use more packs side by side, a pack of a higher rating, or less load at once",
        )],
        accepted: None,
    })
}
