//! Texts made from the published grammar by chance: the parser reads each that keeps the constraints without an error.

use std::sync::OnceLock;

use proptest::{prelude::*, strategy::ValueTree};

use super::{
    agreement::{accepted, disagreement, published},
    notation::{Expression, is_token},
    plain::{Part, Rules},
    shape::{Productions, is, is_a},
};

/// Deepest nesting of rules; below it the shortest way is taken.
const DEEPEST: usize = 24;

/// Names that are likely to be confused with something else.
const NAMES: &[&str] = &[
    "A", "K1", "BUS-2", "x-tag", "_x", "at", "to", "on", "in", "is", "not", "no", "spare", "dead", "runtime",
    "wire", "motor", "wattle", "V", "mm", "S", "P", "AWG", "e3", "red", "typical",
];

/// Numbers, signs and dates: those made by chance often break a rule or constraint.
const NUMBERS: &[&str] = &["1", "12", "40", "2.5", "1_000", "1e3", "0.5e-2", "00", "007"];
const SIGNS: &[&str] = &["-", "-", "−"];
const DATES: &[&str] = &["2027-03-01", "2024-02-29", "0001-12-31"];
const QUANTITIES: &[&str] = &[
    "24 V",
    "24V",
    "12 AWG",
    "AWG 2/0",
    "AWG12",
    "3/0 AWG",
    "000 AWG",
    "70 %",
    "6S",
    "2.5 mm^2",
    "3/8 in",
    "5 µF",
    "1_000 mA",
    "920 rpm/V",
    "4 way",
    "12\u{a0}mΩ/m",
];

/// Decisions, one after the other; when they run out, the first choice is taken each time.
struct Chance<'c> {
    decisions: std::slice::Iter<'c, u16>,
}

impl Chance<'_> {
    fn below(&mut self, count: usize) -> usize {
        self.decisions.next().map_or(0, |decision| usize::from(*decision) % count)
    }
}

/// How deep the shortest way to make each nonterminal is, and each rule's.
struct Depths {
    nonterminal: Vec<usize>,
}

impl Depths {
    fn of(rules: &Rules) -> Self {
        let mut depths = Self { nonterminal: vec![usize::MAX; rules.names.len()] };
        loop {
            let before = depths.nonterminal.clone();
            for (at, rule) in rules.all.iter().enumerate() {
                let depth = depths.rule(rules, at).saturating_add(1);
                let known = &mut depths.nonterminal[rule.makes];
                *known = depth.min(*known);
            }
            if before == depths.nonterminal {
                return depths;
            }
        }
    }

    fn rule(&self, rules: &Rules, rule: usize) -> usize {
        let parts = rules.all[rule].parts.iter();
        let depth = |part: &Part| match part {
            Part::Nonterminal(number) => self.nonterminal[*number],
            _ => 0,
        };
        parts.map(depth).max().unwrap_or(0)
    }
}

struct Maker<'g, 'c> {
    all: &'g Productions,
    rules: &'g Rules,
    depths: &'g Depths,
    chance: Chance<'c>,
    text: String,
}

impl Maker<'_, '_> {
    /// Writes what a nonterminal stands for.
    fn nonterminal(&mut self, number: usize, depth: usize) {
        let making = &self.rules.making[number];
        let rule = if depth >= DEEPEST {
            let shortest = making.iter().min_by_key(|rule| self.depths.rule(self.rules, **rule));
            *shortest.expect("a nonterminal has rules")
        } else {
            making[self.chance.below(making.len())]
        };
        for part in &self.rules.all[rule].parts {
            match part {
                Part::Nonterminal(inner) => self.nonterminal(*inner, depth + 1),
                Part::Literal(text) => self.word(text),
                Part::Token(name, except) => self.token(name, except.as_ref()),
            }
        }
    }

    fn word(&mut self, text: &str) {
        self.text.push_str(text);
        let gaps: &[&str] = match text {
            "," => &[" ", " ", "", "\n", "\n    ", " # a, b\n\n        "],
            "(" | "+" | "*" => &[" ", " ", "\n", "\n  "],
            _ => &[" ", "  ", "\t", "\u{a0}"],
        };
        self.text.push_str(gaps[self.chance.below(gaps.len())]);
    }

    fn token(&mut self, name: &str, except: Option<&Expression>) {
        let mut made = self.spelling(name);
        for _ in 0..20 {
            if except.is_none_or(|form| !is(self.all, form, &made)) {
                break;
            }
            made = self.spelling(name);
        }
        match name {
            // A sign touches what it belongs to.
            "SIGN" => self.text.push_str(&made),
            _ => self.word(&made),
        }
    }

    /// A token of this name: a well-known one, or one made from its production.
    fn spelling(&mut self, name: &str) -> String {
        let known = match name {
            "NAME" => NAMES,
            "NUMBER" => NUMBERS,
            "SIGN" => SIGNS,
            "DATE" => DATES,
            "QUANTITY" => QUANTITIES,
            _ => &[],
        };
        if !known.is_empty() && (name == "DATE" || self.chance.below(4) > 0) {
            let text = known[self.chance.below(known.len())];
            assert!(is_a(self.all, name, text), "{text} is no {name}");
            return text.to_owned();
        }
        let mut text = String::new();
        self.characters(&Expression::Name(name.to_owned()), &mut text);
        text
    }

    /// Writes characters that an expression stands for.
    fn characters(&mut self, expression: &Expression, text: &mut String) {
        match expression {
            Expression::Literal(literal) => text.push_str(literal),
            Expression::Class { others: true, .. } => {
                text.push(['a', 'ä', ' ', '字', '{', '#'][self.chance.below(6)])
            }
            Expression::Class { ranges, .. } => {
                let (low, high) = ranges[self.chance.below(ranges.len())];
                let step = self.chance.below(1 + high as usize - low as usize);
                text.extend(u32::try_from(step).ok().and_then(|step| char::from_u32(low as u32 + step)));
            }
            Expression::Name(name) if name != "BLANK" => self.characters(&self.all[name].stands_for, text),
            Expression::Name(_) => text.push(' '),
            Expression::Sequence(parts) => parts.iter().for_each(|part| self.characters(part, text)),
            Expression::Choice(choices) => {
                let chosen = self.chance.below(choices.len());
                self.characters(&choices[chosen], text);
            }
            Expression::Repeat { inner, least, once } => {
                let most = if *once { 2 } else { 4 };
                let count = *least + self.chance.below(most);
                (0..count).for_each(|_| self.characters(inner, text));
            }
            Expression::Except(wanted, _) => self.characters(wanted, text),
        }
    }
}

/// A file made by these decisions.
pub(crate) fn text(decisions: &[u16]) -> String {
    static DEPTHS: OnceLock<Depths> = OnceLock::new();
    let published = published();
    let (all, rules) = (&published.all, &published.rules);
    let depths = DEPTHS.get_or_init(|| Depths::of(rules));
    let chance = Chance { decisions: decisions.iter() };
    let mut maker = Maker { all, rules, depths, chance, text: String::new() };
    maker.text.push_str("wattle 1\n");
    maker.nonterminal(
        rules.names.iter().position(|name| name == "statement").expect("there are statements"),
        0,
    );
    maker.text
}

pub(crate) fn decisions() -> impl Strategy<Value = Vec<u16>> {
    proptest::collection::vec(any::<u16>(), 0..400)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(ProptestConfig::default().cases.max(400)))]

    #[test]
    fn texts_of_the_grammar_are_read_without_error(decisions in decisions()) {
        prop_assert_eq!(disagreement(&text(&decisions)), None);
    }
}

/// Most texts that are made keep the constraints, too; else the property above would say little.
#[test]
fn most_texts_are_accepted() {
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let mut reasons = Vec::new();
    for _ in 0..300 {
        let decisions = decisions().new_tree(&mut runner).expect("decisions can be made").current();
        let text = text(&decisions);
        reasons.extend(accepted(&text).err().map(|reason| format!("{reason}: {text}")));
    }
    assert!(reasons.len() < 90, "{} of 300:\n{}", reasons.len(), reasons.join("\n"));
    assert!(is_token("NAME") && !is_token("statement"));
}
