//! A battery into which more flows than it may be charged with.

use wattle_grammar::kind::{KindId, key};

use super::overload::judge;
use crate::{
    design::State,
    energy::{self, Overload},
    figures::Point,
    finding::{Finding, Mend, Severity},
    inquiry::Inquiry,
    naming,
    quantity_text::Figure,
    rule::{Rule, Source},
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "battery.overcharged",
    severity: Severity::Danger,
    summary: "More current flows into the battery than it may be charged with.",
    why: "Cells that are charged too fast heat up and, where they are lithium, plate metal inside that later pierces them. It \
          is how packs burn on the bench and hours after.",
    condition: "In some mode and state of charge the current into the battery is more than its `charge-current`: from a \
                charger, from a battery beside it that has more cells, from a motor that is turned and states its `pushed` \
                voltage. A battery \
                without that rating is listed as not assessed where more flows in than cells of any make take: 0.5 C of \
                lithium, 0.2 C of lead, 0.1 C of nickel.",
    source: Source::CommonPractice(
        "makers state the highest charge current of a pack; 1 C and less for lithium",
    ),
    legitimate: "Never.",
    mend: "Set the charger lower or take a smaller one; join only packs that are alike and equally full; give motors that are \
           turned no way to the packs.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lipo 4S 5 Ah 20 mohm { charge-current 5 A }
charger CHG lipo 4S 10 A
fuse F1 15 A blade
wire W1 PACK.pos to F1.line 12 AWG red 100 mm
wire W2 F1.load to CHG.pos 12 AWG red 300 mm
wire W3 CHG.neg to PACK.neg 12 AWG black 400 mm
mode charge { CHG connected }
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lipo 4S 5 Ah 20 mohm { charge-current 5 A }
charger CHG lipo 4S 5 A
fuse F1 15 A blade
wire W1 PACK.pos to F1.line 12 AWG red 100 mm
wire W2 F1.load to CHG.pos 12 AWG red 300 mm
wire W3 CHG.neg to PACK.neg 12 AWG black 400 mm
mode charge { CHG connected }
"#,
    check,
};

fn check(inquiry: &mut Inquiry<'_>) {
    let found = energy::overcharges(inquiry.design, inquiry.figures, &inquiry.energy);
    judge(inquiry, RULE.name, &found, finding);
}

fn finding(inquiry: &Inquiry<'_>, overload: &Overload) -> Option<Finding> {
    let design = inquiry.design;
    let thing = design.thing(overload.battery);
    let point = inquiry.figures.points.get(overload.point)?;
    let mode = design.modes.get(point.mode.index())?;
    let limit = overload.limit.clone().ok()?;
    let (amps, most) = wattle_grammar::unit::told_apart(overload.amps.0, limit.0, "A");
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Danger,
        span: thing.span,
        subject: thing.name.clone(),
        message: format!(
            "{amps} flow into {} in `{}`, it may be charged with {most}",
            naming::thing(design, overload.battery),
            mode.name
        ),
        label: format!("takes {most}"),
        related: givers(inquiry, point),
        figures: vec![
            Figure::new("current into it", overload.amps, format!("network solved in mode `{}`", mode.name)),
            Figure::new("highest charge current", limit, format!("`{}`, as stated", key::CHARGE_CURRENT)),
        ],
        because: Vec::new(),
        mode: Some(mode.name.clone()),
        help: vec![Mend::told("set the charger lower, and join only packs that are alike and equally full")],
        accepted: None,
    })
}

/// What gives current at the point: the sources, and the motors that are turned.
fn givers(inquiry: &Inquiry<'_>, point: &Point) -> Vec<(wattle_grammar::span::Span, String)> {
    let design = inquiry.design;
    let sources = point.sources(design, inquiry.topology);
    let giving = sources.into_iter().filter(|(_, amps)| amps.0 > 0.0);
    let mut places: Vec<_> =
        giving.map(|(id, amps)| (design.thing(id).span, format!("gives {amps}"))).collect();
    let mode = design.modes.get(point.mode.index());
    let turned = design.things().filter(|(id, thing)| {
        let state = mode.and_then(|mode| mode.states.get(id.index()));
        thing.id() == KindId::Motor && state == Some(&State::Turned)
    });
    places.extend(turned.map(|(_, motor)| (motor.span, "turned from outside".to_owned())));
    places.truncate(4);
    places
}
