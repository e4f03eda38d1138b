//! An accepted risk whose last day is over.

use crate::{
    finding::Severity,
    inquiry::Inquiry,
    rule::{Rule, Source},
};

/// `accept.expired`
pub static RULE: Rule = Rule {
    name: "accept.expired",
    severity: Severity::Untidy,
    summary: "An `accept` has a last day, and that day is over.",
    why: "A risk that was taken for a test or a show stays in the robot unnoticed. From the day after, the finding \
          that was accepted counts again.",
    condition: "The date after `until` is before today (the day in UTC). The day itself still counts as accepted.",
    source: Source::CommonPractice("deviation permits in quality management are limited in time or quantity"),
    legitimate: "Never: a risk that is meant to stay is accepted without `until`, with the reason for it.",
    mend: "Mend what was accepted and remove the line. Or look at the robot again and write a later date. Do not \
           take the date away only to be rid of the finding.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 10 A blade
light LAMP 12 V { typical 2 A }
wire W1 PACK.pos to F1.line 10 AWG red 100 mm
wire W2 F1.load to LAMP.pos 18 AWG red 300 mm
wire W3 LAMP.neg to PACK.neg 10 AWG black 400 mm
accept wire.undersized on W2 because "trial wiring for the first walk" until 2024-05-31
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 10 A blade
light LAMP 12 V { typical 2 A }
wire W1 PACK.pos to F1.line 10 AWG red 100 mm
wire W2 F1.load to LAMP.pos 18 AWG red 300 mm
wire W3 LAMP.neg to PACK.neg 10 AWG black 400 mm
"#,
    check,
};

/// Nothing to see in the robot: [`crate::accept::apply`] judges the statement itself.
fn check(_: &mut Inquiry<'_>) {}
