//! An accepted risk that is none.

use crate::{
    finding::Severity,
    inquiry::Inquiry,
    rule::{Rule, Source},
};

/// `accept.unused`
pub static RULE: Rule = Rule {
    name: "accept.unused",
    severity: Severity::Untidy,
    summary: "An `accept` covers no finding.",
    why: "A reader believes in a weakness that is not there, and the line would silently accept the same mistake when \
          it is made again.",
    condition: "No finding of the named rule on the named thing, and the rule was able to judge the thing: no rating \
                that it needs is missing there, and the whole text could be analysed. A second `accept` of the same \
                rule on the same thing counts as covering nothing.",
    source: Source::CommonPractice("a waiver is withdrawn when its cause is gone"),
    legitimate: "Never: what is not found needs no acceptance.",
    mend: "Remove the line. When a finding was expected there, check the name of the thing and of the rule.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 10 A blade
light LAMP 12 V { typical 2 A }
wire W1 PACK.pos to F1.line 10 AWG red 100 mm
wire W2 F1.load to LAMP.pos 18 AWG red 300 mm
wire W3 LAMP.neg to PACK.neg 10 AWG black 400 mm
accept wire.undersized on W2 because "trial wiring for the first walk"
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
