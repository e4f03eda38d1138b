//! A value on a thing that is a million times that of its part, or a millionth.

use std::collections::BTreeMap;

use wattle_grammar::quantity::Quantity;

use super::report;
use crate::{
    design::{Rated, RatedValue},
    finding::{Finding, Mend, Severity},
    inquiry::Inquiry,
    naming,
    rule::{Rule, Source},
    slips::{self, Entry},
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "quantity.unlike-part",
    severity: Severity::Malfunction,
    summary: "A thing states a value that is a million times, or a millionth, of what its own part says.",
    why: "Two prefixes apart is not a better part of the same make: one of the two lines has the wrong unit, and \
          everything that is computed stands on it.",
    condition: "A thing that is taken from a part writes a quantity that the part also has, and one of them is a million \
                times the other or more. A value with `measured` and a date behind it counts as confirmed.",
    source: Source::CommonPractice(
        "variants of one part differ by a few times at most; prefixes by a thousand",
    ),
    legitimate: "A part that stands for a whole series, such as resistors of any value. Leave the value out of such a \
                 part, or say `confirmed` and why on the thing.",
    mend: "Read the label again and correct the line that is wrong, the thing's or the part's.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
part pull is resistor 4.7 kΩ 0.25 W
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 2 A blade
resistor R1 : pull 4.7 mΩ
light LAMP 12 V { typical 20 mA }
wire W1 PACK.pos to F1.line 18 AWG red 100 mm
wire W2 F1.load to R1.1 18 AWG red 300 mm
wire W3 R1.2 to LAMP.pos 18 AWG red 100 mm
wire W4 LAMP.neg to PACK.neg 18 AWG black 400 mm
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC }
part drop is resistor 47 Ω 0.25 W
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 2 A blade
resistor R1 : drop 68 Ω
light LAMP 12 V { typical 20 mA }
wire W1 PACK.pos to F1.line 18 AWG red 100 mm
wire W2 F1.load to R1.1 18 AWG red 300 mm
wire W3 R1.2 to LAMP.pos 18 AWG red 100 mm
wire W4 LAMP.neg to PACK.neg 18 AWG black 400 mm
"#,
    check,
};

/// From this factor on.
const FACTOR: f64 = 1e6;

fn check(inquiry: &mut Inquiry<'_>) {
    let found = find(inquiry);
    report(inquiry, found);
}

pub(super) fn find(inquiry: &Inquiry<'_>) -> Vec<Finding> {
    if inquiry.design.replaced.is_empty() {
        return Vec::new();
    }
    let of_parts: BTreeMap<(&str, &str), &Rated> = inquiry
        .design
        .replaced
        .iter()
        .map(|(thing, rated)| ((inquiry.design.thing(*thing).name.as_str(), rated.key), rated))
        .collect();
    let entries = slips::entries(inquiry, |row| row.dimension().is_some());
    let compared = |entry: &Entry<'_>| finding(entry, of_parts.get(&(entry.subject, entry.row.key))?);
    let guessed = entries.iter().filter(|entry| entry.rated.standing.measured.is_none());
    guessed.filter_map(compared).collect()
}

fn finding(entry: &Entry<'_>, part: &Rated) -> Option<Finding> {
    let RatedValue::Quantity(own) = entry.rated.value else { return None };
    let RatedValue::Quantity(parts) = part.value else { return None };
    let ratio = (own.value / parts.value).abs();
    // Prefixes are decimal and doubles are not: a millionth of slack keeps exactly a million inside.
    let far = ratio.max(1.0 / ratio) >= FACTOR * (1.0 - 1e-6);
    if own.dimension != parts.dimension || !ratio.is_finite() || ratio == 0.0 || !far {
        return None;
    }
    let message = format!(
        "{} has `{}` {own}, its part has {parts}: {} apart",
        naming::quoted(entry.subject),
        entry.row.key,
        powers(ratio),
    );
    let mut finding = entry.finding(&RULE, message, "its part says otherwise");
    finding.related.extend(part.origin.span().map(|span| (span, format!("{parts} by its part"))));
    finding.help = help(entry, own, parts);
    Some(finding)
}

fn powers(ratio: f64) -> String {
    format!("{:.0} powers of ten", ratio.log10().abs())
}

/// The prefix under which the value is within a factor of ten of the part's.
fn help(entry: &Entry<'_>, own: Quantity, parts: Quantity) -> Vec<Mend> {
    let near = slips::meant(own, (parts.value / 10.0, parts.value * 10.0));
    let mut help: Vec<Mend> = near.first().map(|meant| entry.write(&meant.to_string())).into_iter().collect();
    help.push(Mend::told("if the part is wrong, correct the part"));
    help
}
