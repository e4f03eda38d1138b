//! A cross-section that was written as a length: `2.5 mm` for `2.5 mm²`.

use wattle_grammar::{kind::key, quantity::Quantity, unit::by_spelling};

use super::{on_wires, report};
use crate::{
    design::{RatedValue, Wire},
    finding::{Finding, Mend, Severity},
    inquiry::Inquiry,
    naming,
    physics::standard_size::{ROUNDING, System},
    rule::{Rule, Source},
    slips::Entry,
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "quantity.size-as-length",
    severity: Severity::Malfunction,
    summary: "A wire without a size is as many millimetres long as a standard conductor has square millimetres.",
    why: "`2.5 mm` is a length. The wire has no size then, so neither its current nor its protection is judged, and its \
          resistance is that of a stub.",
    condition: "A wire, or a harness or cable for its wires, has no `size` and a `length` that is written in `mm`, of at \
                most 25 mm, with the number of a standard cross-section: 0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25 and \
                the common thinner ones.",
    source: Source::Published("IEC 60228, nominal cross-sections; below 0.5 mm² common catalogue sizes"),
    legitimate: "A link of just that length: write its size as well.",
    mend: "Write the size in `mm²`, and the length beside it.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 2 A blade
light LAMP 12 V { typical 1 A }
wire W1 PACK.pos to F1.line 18 AWG red 100 mm
wire W2 F1.load to LAMP.pos 1.5 mm red
wire W3 LAMP.neg to PACK.neg 18 AWG black 400 mm
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 2 A blade
light LAMP 12 V { typical 1 A }
wire W1 PACK.pos to F1.line 18 AWG red 100 mm
wire W2 F1.load to LAMP.pos 1.5 mm² red 300 mm
wire W3 LAMP.neg to PACK.neg 18 AWG black 400 mm
"#,
    check,
};

/// Longest wire that is suspected, metre.
const LONGEST: f64 = 0.025;

fn check(inquiry: &mut Inquiry<'_>) {
    let found = find(inquiry);
    report(inquiry, found);
}

pub(super) fn find(inquiry: &Inquiry<'_>) -> Vec<Finding> {
    let suspected =
        |wire: &Wire| wire.size.is_none() && wire.length.is_some_and(|length| length.0 <= LONGEST);
    on_wires(inquiry, suspected, key::LENGTH, finding)
}

fn finding(entry: &Entry<'_>) -> Option<Finding> {
    let RatedValue::Quantity(length) = entry.rated.value else { return None };
    let number = length.value * 1e3;
    let is = |size: f64| (size / number - 1.0).abs() < ROUNDING / 10.0;
    if length.unit != "mm" || !System::Metric.sizes().iter().any(|size| is(size.area.0)) {
        return None;
    }
    let unit = by_spelling("mm²")?;
    let size = Quantity { value: number, dimension: unit.dimension, unit: unit.symbol };
    let message = format!(
        "{} is {length} long and has no size; {size} is a standard size",
        naming::quoted(entry.subject)
    );
    let mut finding = entry.finding(&RULE, message, "read as a length");
    finding.help = vec![
        entry.write_as(key::SIZE, &size.to_string()),
        Mend::told(format!("if it is {length} long, write its size as well")),
    ];
    Some(finding)
}
