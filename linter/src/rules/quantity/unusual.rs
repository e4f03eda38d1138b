//! A value far from that of nearly all such parts.

use wattle_grammar::quantity::Quantity;

use super::{report, told};
use crate::{
    finding::{Finding, Mend, Severity},
    inquiry::Inquiry,
    naming,
    quantity_text::Figure,
    rule::{Rule, Source},
    slips::{self, Entry, between},
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "quantity.unusual",
    severity: Severity::Malfunction,
    summary: "A written value lies outside the span in which nearly all such parts lie.",
    why: "A prefix that slipped is off by a thousand, and everything computed from it with it: fault currents, voltage \
          drops, run times. A pack of 18 Ω instead of 18 mΩ looks as if a short could not hurt.",
    condition: "The value, or an end of a range, is outside the usual span of its row in the table of kinds. Zero is not \
                looked at, nor is a value that is the table's default or that was worked out. A value with `measured` and \
                a date behind it counts as confirmed, and so does all that is written on what says `confirmed`.",
    source: Source::CommonPractice(
        "spans of the parts on sale for robots of this size, in the table of kinds",
    ),
    legitimate: "Rare parts exist. Say that the value was measured: write it in the block with `measured` and the day \
                 behind it. Or say why it is right: `confirmed \"a tether from one manhole to the next\"`.",
    mend: "Read the label or the data sheet again, prefix and unit included, and write what stands there. Do not move the \
           prefix only because the result looks better.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 18 ohm
fuse F1 2 A blade
light LAMP 12 V { typical 50 mA }
wire W1 PACK.pos to F1.line 18 AWG red 100 mm
wire W2 F1.load to LAMP.pos 18 AWG red 300 mm
wire W3 LAMP.neg to PACK.neg 18 AWG black 400 mm
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 18 mohm
fuse F1 2 A blade
light LAMP 12 V { typical 50 mA }
wire W1 PACK.pos to F1.line 18 AWG red 100 mm
wire W2 F1.load to LAMP.pos 18 AWG red 300 mm
wire W3 LAMP.neg to PACK.neg 18 AWG black 400 mm
"#,
    check,
};

fn check(inquiry: &mut Inquiry<'_>) {
    let found = find(inquiry);
    report(inquiry, found);
}

pub(super) fn find(inquiry: &Inquiry<'_>) -> Vec<Finding> {
    let mut unusual: Vec<Finding> = slips::entries(inquiry, |row| row.usual.is_some())
        .iter()
        .filter(|entry| entry.rated.standing.measured.is_none())
        .filter_map(finding)
        .collect();
    // Asking the other rules again costs more than this one: only when there is something to tell.
    if !unusual.is_empty() {
        let told = told(inquiry);
        unusual.retain(|finding| !told.contains(&finding.span));
    }
    unusual
}

fn finding(entry: &Entry<'_>) -> Option<Finding> {
    let span = entry.row.usual?;
    let (low, high) = entry.ends()?;
    let beyond = |end: Quantity| end.value != 0.0 && !(span.0..=span.1).contains(&end.value);
    if !beyond(low) && !beyond(high) {
        return None;
    }
    let limit = |value: f64| Quantity { value, dimension: low.dimension, unit: "" };
    let usual = between(limit(span.0), limit(span.1), "to");
    let message = format!(
        "{} has `{}` {}; for {} {usual} is usual",
        naming::quoted(entry.subject),
        entry.row.key,
        entry.written(),
        entry.kind_of(),
    );
    let mut finding = entry.finding(&RULE, message, "prefix or unit slipped?");
    finding.figures.extend([("least that is usual", span.0), ("most that is usual", span.1)].map(
        |(what, value)| Figure {
            what: what.to_owned(),
            value,
            dimension: low.dimension,
            basis: "common practice, table of kinds".to_owned(),
        },
    ));
    let meant = meant(low, high, span);
    finding.because.extend(meant.iter().map(|text| format!("{text} would be usual")));
    finding.help = meant.iter().map(|text| entry.write(text)).collect();
    finding.help.push(confirm(entry));
    Some(finding)
}

/// The two likeliest values that were meant, as they would be written. An end that is usual stays; of two that are not
/// both have the same slip.
fn meant(low: Quantity, high: Quantity, span: (f64, f64)) -> Vec<String> {
    let is_usual = |end: Quantity| (span.0..=span.1).contains(&end.value);
    let ends = |end: Quantity| if is_usual(end) { vec![end] } else { slips::meant(end, span) };
    let (lows, highs) = (ends(low), ends(high));
    let one_stays = is_usual(low) || is_usual(high);
    let fits =
        |low: &Quantity, high: &Quantity| low.value <= high.value && (one_stays || low.unit == high.unit);
    let pairs = lows.iter().filter_map(|low| Some((low, highs.iter().find(|high| fits(low, high))?)));
    pairs.take(2).map(|(low, high)| between(*low, *high, "..")).collect()
}

fn confirm(entry: &Entry<'_>) -> Mend {
    let (key, value) = (entry.row.key, entry.written());
    Mend::told(format!(
        "if it is right, write in the block `{key} {value}` with `measured` and the day behind it, or `confirmed` and why"
    ))
}
