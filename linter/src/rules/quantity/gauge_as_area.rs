//! A gauge number that was written as an area: `18 mm²` for `18 AWG`.

use wattle_grammar::{
    kind::key,
    quantity::{SquareMm, Unit},
    unit::{area_of_awg, by_spelling},
};

use super::report;
use crate::{
    design::RatedValue,
    finding::{Finding, Mend, Severity},
    inquiry::Inquiry,
    naming,
    rule::{Rule, Source},
    slips::{self, Entry},
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "quantity.gauge-as-area",
    severity: Severity::Malfunction,
    summary: "A conductor has as many square millimetres as a common gauge has its number, and no such size is made.",
    why: "18 mm² carries more than twenty times the current of 18 AWG. Believed, the thin wire gets the fuse of a thick \
          one.",
    condition: "A `size` is written in `mm²`, it is no nominal cross-section of IEC 60228, and its number is an even gauge \
                from 8 to 30: 18, 24, 26 and 28 at once; 8, 12, 14, 20, 22 and 30, which are made for vehicles or in \
                some countries, only where another wire of the robot is written as a gauge.",
    source: Source::Published("IEC 60228, nominal cross-sections; ASTM B258, areas of gauges"),
    legitimate: "Vehicle cable of such a size in a robot with wires by gauge: say so, `confirmed \"vehicle cable\"`.",
    mend: "Write what is printed on the wire: `18 AWG`, or its area in `mm²`.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 2 A blade
light LAMP 12 V { typical 1 A }
wire W1 PACK.pos to F1.line 18 AWG red 100 mm
wire W2 F1.load to LAMP.pos 18 mm² red 300 mm
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

/// Numbers of gauges that are no size in square millimetres at all, mm².
const NOWHERE: [f64; 4] = [18.0, 24.0, 26.0, 28.0];
/// Numbers of gauges that are sizes of ISO 19642 or JIS C 3406 but not of IEC 60228, mm² (from memory).
const ELSEWHERE: [f64; 6] = [8.0, 12.0, 14.0, 20.0, 22.0, 30.0];

fn check(inquiry: &mut Inquiry<'_>) {
    let found = find(inquiry);
    report(inquiry, found);
}

pub(super) fn find(inquiry: &Inquiry<'_>) -> Vec<Finding> {
    let sizes = || inquiry.design.wires.iter().filter_map(|wire| wire.size.as_ref());
    let listed = |list: &[f64], area: SquareMm| list.iter().any(|size| (size - area.0).abs() < 1e-9);
    if !sizes().any(|size| !size.awg && (listed(&NOWHERE, size.area) || listed(&ELSEWHERE, size.area))) {
        return Vec::new();
    }
    let by_gauge = sizes().any(|size| size.awg);
    let suspected = |area| listed(&NOWHERE, area) || (by_gauge && listed(&ELSEWHERE, area));
    slips::entries(inquiry, |row| row.key == key::SIZE)
        .iter()
        .filter_map(|entry| finding(entry, &suspected))
        .collect()
}

fn finding(entry: &Entry<'_>, suspected: &dyn Fn(SquareMm) -> bool) -> Option<Finding> {
    let RatedValue::Quantity(size) = entry.rated.value else { return None };
    if size.unit != "mm²" || size.dimension != SquareMm::DIMENSION || !suspected(SquareMm(size.value)) {
        return None;
    }
    let gauge = by_spelling("AWG")?.quantity(size.value)?;
    let message = format!(
        "{} has a size of {size}, which is no standard size; {gauge} is {}",
        naming::quoted(entry.subject),
        SquareMm(area_of_awg(size.value))
    );
    let mut finding = entry.finding(&RULE, message, "a gauge?");
    finding.help = vec![
        entry.write(&gauge.to_string()),
        Mend::told(format!("if the conductor has {size}, say so: `confirmed \"…\"` with the cable's type")),
    ];
    Some(finding)
}
