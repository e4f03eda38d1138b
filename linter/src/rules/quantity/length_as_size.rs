//! A length that was written as a cross-section: `300 mm²` for `300 mm`.

use wattle_grammar::{kind::key, quantity::SquareMm, unit::by_spelling};

use super::{on_wires, report};
use crate::{
    design::{RatedValue, Wire},
    finding::{Finding, Mend, Severity},
    inquiry::Inquiry,
    naming,
    rule::{Rule, Source},
    slips::Entry,
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "quantity.length-as-size",
    severity: Severity::Malfunction,
    summary: "A wire without a length is said to be thicker than any conductor of a robot: a length was meant.",
    why: "`300 mm²` is a conductor as thick as a thumb. It carries any current, so nothing that is wrong with the real \
          wire is found.",
    condition: "A wire, or a harness or cable for its wires, has no `length` and a `size` above 120 mm² that is written in \
                `mm²`.",
    source: Source::CommonPractice("conductors of robots end at 120 mm², and 4/0 AWG is 107 mm²"),
    legitimate: "A conductor that is really so thick: write its length as well.",
    mend: "Write the length in `mm`, and the size beside it.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 2 A blade
light LAMP 12 V { typical 1 A }
wire W1 PACK.pos to F1.line 18 AWG red 100 mm
wire W2 F1.load to LAMP.pos 300 mm² red
wire W3 LAMP.neg to PACK.neg 18 AWG black 400 mm
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 2 A blade
light LAMP 12 V { typical 1 A }
wire W1 PACK.pos to F1.line 18 AWG red 100 mm
wire W2 F1.load to LAMP.pos 18 AWG red 300 mm
wire W3 LAMP.neg to PACK.neg 18 AWG black 400 mm
"#,
    check,
};

/// Thickest conductor that is believed without a length, mm².
const THICKEST: f64 = 120.0;

fn check(inquiry: &mut Inquiry<'_>) {
    let found = find(inquiry);
    report(inquiry, found);
}

pub(super) fn find(inquiry: &Inquiry<'_>) -> Vec<Finding> {
    let suspected =
        |wire: &Wire| wire.length.is_none() && wire.size.as_ref().is_some_and(|size| size.area.0 > THICKEST);
    on_wires(inquiry, suspected, key::SIZE, finding)
}

fn finding(entry: &Entry<'_>) -> Option<Finding> {
    let RatedValue::Quantity(size) = entry.rated.value else { return None };
    if size.unit != "mm²" {
        return None;
    }
    let length = by_spelling("mm")?.quantity(size.value)?;
    let message = format!(
        "{} has a size of {size} and no length; {} is the thickest that is usual",
        naming::quoted(entry.subject),
        SquareMm(THICKEST)
    );
    let mut finding = entry.finding(&RULE, message, "read as a conductor size");
    finding.help = vec![
        entry.write_as(key::LENGTH, &length.to_string()),
        Mend::told(format!("if it is {size} thick, write its length as well")),
    ];
    Some(finding)
}
