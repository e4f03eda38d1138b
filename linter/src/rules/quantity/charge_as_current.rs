//! A capacity in milliampere-hours that was written in milliamperes.

use std::collections::BTreeSet;

use wattle_grammar::{
    kind::{KindId, key},
    quantity::Quantity,
    unit::by_spelling,
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
    name: "quantity.charge-as-current",
    severity: Severity::Malfunction,
    summary: "A battery has a current in milliamperes and no capacity: milliampere-hours were meant.",
    why: "`5000 mA` is read as the current that the pack may give. The capacity is missing then, so no run time is \
          computed, and the highest discharge current is a small part of the real one.",
    condition: "A battery without `capacity` has a `current` of 500 mA or more that is written in `mA`.",
    source: Source::CommonPractice(
        "capacities are printed in mAh, discharge currents in A or as a multiple C",
    ),
    legitimate: "A pack whose capacity is not known and whose current is small: write the current in `A`.",
    mend: "Write the capacity with its unit, `5000 mAh`.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7000 mA 20 mohm
fuse F1 2 A blade
light LAMP 12 V { typical 1 A }
wire W1 PACK.pos to F1.line 18 AWG red 100 mm
wire W2 F1.load to LAMP.pos 18 AWG red 300 mm
wire W3 LAMP.neg to PACK.neg 18 AWG black 400 mm
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7000 mAh 20 mohm
fuse F1 2 A blade
light LAMP 12 V { typical 1 A }
wire W1 PACK.pos to F1.line 18 AWG red 100 mm
wire W2 F1.load to LAMP.pos 18 AWG red 300 mm
wire W3 LAMP.neg to PACK.neg 18 AWG black 400 mm
"#,
    check,
};

/// Least current that is suspected, ampere: the smallest packs that robots have are of about as many ampere-hours.
const LEAST: f64 = 0.5;

fn check(inquiry: &mut Inquiry<'_>) {
    let found = find(inquiry);
    report(inquiry, found);
}

pub(super) fn find(inquiry: &Inquiry<'_>) -> Vec<Finding> {
    let without: BTreeSet<&str> = inquiry
        .design
        .things
        .iter()
        .filter(|thing| thing.id() == KindId::Battery && thing.rated(key::CAPACITY).is_none())
        .map(|thing| thing.name.as_str())
        .collect();
    if without.is_empty() {
        return Vec::new();
    }
    let entries = slips::entries(inquiry, |row| row.key == key::CURRENT);
    entries.iter().filter(|entry| without.contains(entry.subject)).filter_map(finding).collect()
}

fn finding(entry: &Entry<'_>) -> Option<Finding> {
    let RatedValue::Quantity(current) = entry.rated.value else { return None };
    if current.unit != "mA" || current.value < LEAST {
        return None;
    }
    // Milliamperes and milliampere-hours are the same number of their base units.
    let unit = by_spelling("mAh")?;
    let charge = Quantity { dimension: unit.dimension, unit: unit.symbol, ..current };
    let message = format!("{} has `current` {current} and no `capacity`", naming::quoted(entry.subject));
    let mut finding = entry.finding(&RULE, message, "read as a current");
    let in_amperes = Quantity { unit: "A", ..current };
    finding.help = vec![
        entry.write_as(key::CAPACITY, &charge.to_string()),
        Mend::told(format!("if it is a current, write `{in_amperes}`, and the capacity as well")),
    ];
    Some(finding)
}
