//! Ratings of one thing that contradict each other by two powers of ten: one of them has the wrong prefix.

use std::collections::{BTreeMap, BTreeSet};

use wattle_grammar::{
    kind::{Default, key},
    quantity::Quantity,
};

use super::{PARTICULAR, report, unusual};
use crate::{
    design::{RatedValue, Thing},
    finding::{Finding, Mend, Severity},
    inquiry::Inquiry,
    naming,
    quantity_text::Figure,
    rule::{Rule, Source},
    slips::{self, Entry},
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "quantity.contradictory",
    severity: Severity::Malfunction,
    summary: "Ratings of one thing contradict each other by a factor of a hundred or more.",
    why: "A shunt of 100 A and 75 mV has 0.75 mΩ. If 0.75 Ω stands beside it, one of the three has the wrong prefix, and \
          everything that is computed from it is wrong by a thousand.",
    condition: "A resistance, current or pack voltage that is written is a hundred times, or a hundredth, of what the \
                table works out from the other ratings that are written: voltage over current, drop over current, power \
                over voltage, capacity times C rate, cells times cell voltage. Not where a value of the thing has \
                `measured` and a date behind it, nor where `confirmed` says why. One finding for one thing, and none where one of its values is already \
                told as a slip.",
    source: Source::Physics(
        "Ohm's law, P = U I, I = C rate × capacity; labels agree with them within a few times",
    ),
    legitimate: "A battery whose electronics let through a hundredth of what its cells give: say so, `confirmed \"its \
                 electronics open at 100 mA\"`.",
    mend: "Read the label again and correct the value that is wrong.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 2 A blade
shunt SH 100 A 75 mV 0.75 Ω
light LAMP 12 V { typical 50 mA }
wire W1 PACK.pos to F1.line 18 AWG red 100 mm
wire W2 F1.load to LAMP.pos 18 AWG red 300 mm
wire W3 LAMP.neg to SH.1 18 AWG black 400 mm
wire W4 SH.2 to PACK.neg 18 AWG black 100 mm
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 2 A blade
shunt SH 100 A 75 mV 0.75 mΩ
light LAMP 12 V { typical 50 mA }
wire W1 PACK.pos to F1.line 18 AWG red 100 mm
wire W2 F1.load to LAMP.pos 18 AWG red 300 mm
wire W3 LAMP.neg to SH.1 18 AWG black 400 mm
wire W4 SH.2 to PACK.neg 18 AWG black 100 mm
"#,
    check,
};

/// From this factor on: a slipped prefix is a thousand, labels are rounded and rated under different conditions.
const FACTOR: f64 = 100.0;

/// The ratings that follow from others by a law and not only by what is usual.
const BY_LAW: [&str; 8] = [
    key::RESISTANCE,
    key::COIL_RESISTANCE,
    key::CURRENT,
    key::TYPICAL,
    key::STALL,
    key::VOLTAGE,
    key::FULL,
    key::EMPTY,
];

fn check(inquiry: &mut Inquiry<'_>) {
    let mut found = find(inquiry);
    if !found.is_empty() {
        let others = PARTICULAR.iter().flat_map(|find| find(inquiry)).chain(unusual::find(inquiry));
        let told: BTreeSet<String> = others.map(|finding| finding.subject).collect();
        found.retain(|finding| !told.contains(&finding.subject));
    }
    report(inquiry, found);
}

fn find(inquiry: &Inquiry<'_>) -> Vec<Finding> {
    let things: BTreeMap<&str, &Thing> =
        inquiry.design.things.iter().map(|thing| (thing.name.as_str(), thing)).collect();
    let by_law = |key: &str| BY_LAW.contains(&key);
    let entries =
        slips::entries(inquiry, |row| by_law(row.key) && matches!(row.default, Default::Derived(_)));
    let mut found: Vec<Finding> = Vec::new();
    for entry in entries.iter().filter(|entry| entry.port.is_none()) {
        let Some(finding) = things.get(entry.subject).and_then(|thing| finding(entry, thing)) else {
            continue;
        };
        match found.last_mut().filter(|last| last.subject == finding.subject) {
            // Each of two that contradict each other may be the wrong one: the one that is unusual when it is put right
            // is not.
            Some(last) if !is_offered(last) && is_offered(&finding) => *last = finding,
            Some(_) => {}
            None => found.push(finding),
        }
    }
    found
}

fn is_offered(finding: &Finding) -> bool {
    finding.help.len() > 1
}

fn finding(entry: &Entry<'_>, thing: &Thing) -> Option<Finding> {
    if thing.ratings.iter().any(|rated| rated.standing.measured.is_some()) {
        return None;
    }
    let RatedValue::Quantity(own) = entry.rated.value else { return None };
    let RatedValue::Quantity(law) = thing.from_others(entry.row.key)? else { return None };
    let Default::Derived(how) = entry.row.default else { return None };
    let ratio = (own.value / law.value).abs();
    if own.dimension != law.dimension || !ratio.is_finite() || ratio == 0.0 || ratio.max(1.0 / ratio) < FACTOR
    {
        return None;
    }
    let how = how.split([',', ';', ':']).next().unwrap_or(how);
    let message =
        format!("{} has `{}` {own}, but {how} comes to {law}", naming::quoted(entry.subject), entry.row.key);
    let mut finding = entry.finding(&RULE, message, "prefix slipped, here or there?");
    finding.figures.push(Figure {
        what: format!("{} by the other ratings", entry.row.key),
        value: law.value,
        dimension: law.dimension,
        basis: how.replace('`', ""),
    });
    finding.help = help(entry, own, law);
    Some(finding)
}

/// The prefix under which the value is usual and agrees within a factor of ten; the other way out is to correct the
/// others.
fn help(entry: &Entry<'_>, own: Quantity, law: Quantity) -> Vec<Mend> {
    let near = (law.value / 10.0, law.value * 10.0);
    let (least, most) = entry.row.usual.unwrap_or(near);
    let meant = slips::meant(own, (near.0.max(least), near.1.min(most)));
    let mut help: Vec<Mend> =
        meant.first().map(|meant| entry.write(&meant.to_string())).into_iter().collect();
    help.push(Mend::told(
        "if this value is right, correct the one of the others that is wrong, or write `confirmed` and why",
    ));
    help
}
