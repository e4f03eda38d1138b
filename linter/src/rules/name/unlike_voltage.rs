//! A thing that is named for a voltage that it never has.

use wattle_grammar::{
    kind::KindId,
    quantity::{Dimension, Quantity, Volts},
    span::Span,
};

use crate::{
    design::{RatedValue, TerminalId},
    figures::exceeds,
    finding::{Finding, Mend, Severity},
    inquiry::Inquiry,
    naming,
    quantity_text::Figure,
    rule::{Rule, Source},
    topology::Charge,
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "name.unlike-voltage",
    severity: Severity::Untidy,
    summary: "A bar, joint or source is named for a voltage that it never has.",
    why: "Who reads `BUS-12V` on the label connects a 12 V part there, and 25 V destroys it.",
    condition: "A piece between hyphens of the name of a block, splice, stud, battery, supply or generator is a voltage, \
                `12V` or `3V3`; in every mode that lasts, with full and with nominal packs, each terminal is more than \
                20 % away from it or dead, and one of them is live; and no rating of it in volts comes within 20 % of \
                it. Names for 0 V are not looked at, nor is anything while a mode has no working point.",
    source: Source::CommonPractice("labels name the nominal voltage; packs stay within 20 % of it"),
    legitimate: "Never: rename it, or name it for what it does.",
    mend: "Give it a name with the voltage that it has, everywhere, and print its label anew.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 12S 7 Ah 20 mohm
fuse F1 2 A blade
splice BUS-12V
light LAMP 24 V { typical 1 A }
wire W1 PACK.pos to F1.line 18 AWG red 100 mm
wire W2 F1.load to BUS-12V 18 AWG red 300 mm
wire W3 BUS-12V to LAMP.pos 18 AWG red 300 mm
wire W4 LAMP.neg to PACK.neg 18 AWG black 400 mm
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 12S 7 Ah 20 mohm
fuse F1 2 A blade
splice BUS-24V
light LAMP 24 V { typical 1 A }
wire W1 PACK.pos to F1.line 18 AWG red 100 mm
wire W2 F1.load to BUS-24V 18 AWG red 300 mm
wire W3 BUS-24V to LAMP.pos 18 AWG red 300 mm
wire W4 LAMP.neg to PACK.neg 18 AWG black 400 mm
"#,
    check,
};

/// How far a voltage may be from the one in the name, a share of that.
const SHARE: f64 = 0.20;
/// From here on something is live.
const LIVE: Volts = Volts(0.5);

/// A thing that a voltage stands in the name of.
struct Named<'d> {
    name: &'d str,
    span: Span,
    volts: Volts,
    terminals: Vec<TerminalId>,
}

fn check(inquiry: &mut Inquiry<'_>) {
    let named = named(inquiry);
    let solved = !inquiry.figures.points.is_empty()
        && inquiry.figures.points.iter().all(|point| point.working().is_some());
    if named.is_empty() || !solved {
        return;
    }
    let findings: Vec<Finding> =
        named.iter().filter_map(|one| Some(finding(one, seen(inquiry, one)?))).collect();
    findings.into_iter().for_each(|finding| inquiry.report(finding));
}

fn named<'d>(inquiry: &Inquiry<'d>) -> Vec<Named<'d>> {
    let design = inquiry.design;
    let own = design.things().filter(|(_, thing)| OWN.contains(&thing.id()));
    let things = own.filter_map(|(id, thing)| {
        let volts = voltage_in(&thing.name)?;
        let rated = thing.ratings.iter().any(|rated| has(&rated.value, volts));
        let terminals = design.terminals_of(id).map(|(terminal, _)| terminal).collect();
        (!rated).then_some(Named { name: &thing.name, span: thing.span, volts, terminals })
    });
    things.collect()
}

/// Where a voltage in the name can only be its own. A fuse, a switch or a wire may be named for what it feeds.
const OWN: [KindId; 6] =
    [KindId::Battery, KindId::Supply, KindId::Generator, KindId::Block, KindId::Splice, KindId::Stud];

/// The one voltage that stands in the last part of a name: `12V`, `3V3`.
fn voltage_in(name: &str) -> Option<Volts> {
    let own = name.rsplit('.').next()?;
    let mut found = own.split(['-', '_']).filter_map(piece);
    let first = found.next()?;
    (found.next().is_none() && first.0 > 0.0).then_some(first)
}

fn piece(text: &str) -> Option<Volts> {
    let (whole, part) = text.split_once('V')?;
    let digits = |text: &str| text.len() <= 3 && text.bytes().all(|byte| byte.is_ascii_digit());
    if whole.is_empty() || !digits(whole) || !digits(part) {
        return None;
    }
    format!("{whole}.{part}0").parse().ok().map(Volts)
}

fn is_near(volts: Volts, named: Volts) -> bool {
    (volts - named).abs() <= named * SHARE
}

fn has(value: &RatedValue, named: Volts) -> bool {
    let near = |quantity: &Quantity| {
        quantity.dimension == Dimension::Voltage && is_near(Volts(quantity.value), named)
    };
    match value {
        RatedValue::Quantity(only) => near(only),
        RatedValue::Range(low, high) => {
            let within = (low.value..=high.value).contains(&named.0);
            near(low) || near(high) || (low.dimension == Dimension::Voltage && within)
        }
        _ => false,
    }
}

/// The highest voltage that it has and the mode in which; nothing when it has the named one somewhere, or is never live.
fn seen<'d>(inquiry: &Inquiry<'d>, named: &Named<'_>) -> Option<(Volts, &'d str)> {
    let mut highest: Option<(Volts, &'d str)> = None;
    for point in
        inquiry.figures.points.iter().filter(|point| point.ordinary && point.corner.charge != Charge::Empty)
    {
        let mode = inquiry.design.modes.get(point.mode.index()).map_or("", |mode| mode.name.as_str());
        for terminal in &named.terminals {
            let Some(volts) = point.volts(inquiry.topology, *terminal).map(Volts::abs) else { continue };
            if is_near(volts, named.volts) {
                return None;
            }
            if volts >= LIVE && highest.is_none_or(|(most, _)| exceeds(volts.0, most.0)) {
                highest = Some((volts, mode));
            }
        }
    }
    highest
}

fn finding(named: &Named<'_>, (volts, mode): (Volts, &str)) -> Finding {
    Finding {
        rule: RULE.name,
        severity: RULE.severity,
        span: named.span,
        subject: named.name.to_owned(),
        message: format!(
            "{} has {volts} in `{mode}`, its name says {}",
            naming::quoted(named.name),
            named.volts
        ),
        label: format!("named for {}", named.volts),
        related: Vec::new(),
        figures: vec![
            Figure::new("highest voltage", volts, "network solved, full and nominal packs"),
            Figure::new("voltage in the name", named.volts, "as written"),
        ],
        because: Vec::new(),
        mode: Some(mode.to_owned()),
        help: vec![Mend::told("give it a name with the voltage that it has, everywhere, and on its label")],
        accepted: None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn voltages_in_names() {
        for (name, volts) in [
            ("BUS-12V", Some(12.0)),
            ("left.RAIL_3V3", Some(3.3)),
            ("5V0-OUT", Some(5.0)),
            ("HEAD-0V", None),
            ("LV", None),
            ("V12", None),
            ("F-12V-5V", None),
            ("12VOLT", None),
            ("BUS-1200V", None),
        ] {
            assert_eq!(voltage_in(name).map(|volts| volts.0), volts, "{name}");
        }
    }
}
