//! Values as the text has them, each once, and what was probably meant by one that cannot be.

use std::{cmp::Ordering, collections::HashSet};

use wattle_grammar::{
    kind::{Rating, SUPPLY_MARGIN, key, rating_in, setting},
    quantity::Quantity,
    span::Span,
    unit::{self, Scale, UnitSymbol, by_spelling},
};

use crate::{
    design::{Origin, Port, Rated, RatedValue},
    finding::{Edit, Finding, Mend},
    inquiry::Inquiry,
    quantity_text::Figure,
    rule::Rule,
};

/// A value that somebody wrote.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Entry<'d> {
    /// The full name of what it is written on; of a value on a part or a harness the first that has it from there.
    pub(crate) subject: &'d str,
    /// What the subject is, `battery`.
    noun: &'static str,
    /// Its row of the table.
    pub(crate) row: &'static Rating,
    /// The value.
    pub(crate) rated: &'d Rated,
    /// Where the value stands.
    pub(crate) span: Span,
    /// Whether the text at `span` is this value and nothing else, so that it can be written anew.
    pub(crate) alone: bool,
    /// Whether its key stands before it.
    keyed: bool,
    /// The other facts of the same signal terminals, for a value on a `port` line.
    pub(crate) port: Option<&'d Port>,
}

/// Every value that is written under a row of the table that `wanted` picks, once, in the order of the design. What
/// stands on a line with an error is left out: the error may have cost it the fact that it seems to lack.
pub(crate) fn entries<'d>(inquiry: &Inquiry<'d>, wanted: impl Fn(&Rating) -> bool) -> Vec<Entry<'d>> {
    let design = inquiry.design;
    let mut walk = Walk { inquiry, wanted, seen: HashSet::new(), entries: Vec::new() };
    for thing in &design.things {
        let noun = thing.kind.word;
        walk.all(&thing.name, noun, &thing.ratings, None, |key| thing.kind.rating(key));
        if is_confirmed(&thing.ratings) {
            continue;
        }
        for rated in &thing.ratings {
            let RatedValue::Ports(ports) = &rated.value else { continue };
            for port in ports {
                let row = |key: &str| rating_in(setting::PORT, key);
                walk.all(&thing.name, "signal terminal", &port.rated, Some(port), row);
            }
        }
    }
    for wire in &design.wires {
        walk.of_settings(&wire.name, "wire", &wire.facts, setting::WIRE);
    }
    for harness in &design.harnesses {
        walk.of_settings(&harness.name, "harness", &harness.facts, setting::HARNESS);
        for spare in &harness.spares {
            walk.of_settings(&spare.name, "core", &spare.facts, setting::WIRE);
        }
    }
    for place in &design.places {
        walk.of_settings(&place.name, "place", &place.facts, setting::PLACE);
    }
    walk.of_settings("robot", "robot", &design.robot.facts, setting::ROBOT);
    walk.entries
}

struct Walk<'i, 'd, W> {
    inquiry: &'i Inquiry<'d>,
    wanted: W,
    seen: HashSet<(Span, &'static str)>,
    entries: Vec<Entry<'d>>,
}

impl<'d, W: Fn(&Rating) -> bool> Walk<'_, 'd, W> {
    fn of_settings(
        &mut self,
        subject: &'d str,
        noun: &'static str,
        facts: &'d [Rated],
        rows: &'static [Rating],
    ) {
        self.all(subject, noun, facts, None, |key| rating_in(rows, key));
    }

    fn all(
        &mut self,
        subject: &'d str,
        noun: &'static str,
        all: &'d [Rated],
        port: Option<&'d Port>,
        row: impl Fn(&str) -> Option<&'static Rating>,
    ) {
        if is_confirmed(all) || self.inquiry.design.is_name_in_doubt(subject) {
            return;
        }
        for rated in all {
            let Some(span) = rated.origin.span() else { continue };
            let Some(row) = row(rated.key).filter(|row| (self.wanted)(row)) else { continue };
            if !self.seen.insert((span, rated.key)) {
                continue;
            }
            // A nominal value and its tolerance stand in one place.
            let alone = all.iter().filter(|other| other.origin.span() == Some(span)).count() == 1;
            let keyed = self.inquiry.text_before(span).trim_end().ends_with(rated.key);
            self.entries.push(Entry { subject, noun, row, rated, span, alone, keyed, port });
        }
    }
}

/// Whether it is said that a figure which looks like a slip is right, and why.
fn is_confirmed(all: &[Rated]) -> bool {
    all.iter().any(|rated| rated.key == key::CONFIRMED)
}

impl Origin {
    /// Where it is written; nothing for a default.
    pub(crate) const fn span(&self) -> Option<Span> {
        match self {
            Self::Thing(span) | Self::Part(span) | Self::Harness(span) | Self::Robot(span) => Some(*span),
            Self::Default(_) => None,
        }
    }
}

impl Entry<'_> {
    /// The lower and the upper end of the value; both the same for a single one.
    pub(crate) fn ends(&self) -> Option<(Quantity, Quantity)> {
        match &self.rated.value {
            RatedValue::Quantity(quantity) => Some((*quantity, *quantity)),
            RatedValue::Range(low, high) => {
                Some(single(*low, *high).map_or((*low, *high), |only| (only, only)))
            }
            _ => None,
        }
    }

    /// What the subject is, with its article: `a battery`.
    pub(crate) fn kind_of(&self) -> String {
        let vowel = self.noun.starts_with(['a', 'e', 'i', 'o', 'u']);
        format!("{} {}", if vowel { "an" } else { "a" }, self.noun)
    }

    /// The value as people read it.
    pub(crate) fn written(&self) -> String {
        self.ends().map_or_else(String::new, |(low, high)| between(low, high, ".."))
    }

    /// A finding about the value.
    pub(crate) fn finding(&self, rule: &'static Rule, message: String, label: &str) -> Finding {
        Finding {
            rule: rule.name,
            severity: rule.severity,
            span: self.span,
            subject: self.subject.to_owned(),
            message,
            label: label.to_owned(),
            related: Vec::new(),
            figures: self.figures(),
            because: Vec::new(),
            mode: None,
            help: Vec::new(),
            accepted: None,
        }
    }

    fn figures(&self) -> Vec<Figure> {
        let figure = |what: String, quantity: Quantity| Figure {
            what,
            value: quantity.value,
            dimension: quantity.dimension,
            basis: "as written".to_owned(),
        };
        let key = self.row.key;
        match self.ends() {
            Some((low, high)) if low == high => vec![figure(key.to_owned(), low)],
            Some((low, high)) => {
                vec![figure(format!("{key}, lower end"), low), figure(format!("{key}, upper end"), high)]
            }
            None => Vec::new(),
        }
    }

    /// Writes a value of another rating in its place. Behind a key it can only be told.
    pub(crate) fn write_as(&self, key: &str, text: &str) -> Mend {
        if self.keyed {
            return Mend::told(format!("if that is what was meant, write `{key} {text}`"));
        }
        self.write(text)
    }

    /// Writes another value in its place. Never sure: only the builder knows what stands on the part.
    pub(crate) fn write(&self, text: &str) -> Mend {
        let edits =
            if self.alone { vec![Edit { span: self.span, text: text.to_owned() }] } else { Vec::new() };
        Mend { title: format!("if that is what was meant, write `{text}`"), edits, sure: false }
    }
}

/// The one voltage that a supply range stands for, when it is that voltage and the usual margin.
fn single(low: Quantity, high: Quantity) -> Option<Quantity> {
    let middle = (low.value + high.value) / 2.0;
    let margin = (high.value - middle) / middle;
    ((margin - SUPPLY_MARGIN).abs() < 1e-9).then_some(Quantity { value: middle, ..low })
}

/// Both ends, or the one value when they are the same.
pub(crate) fn between(low: Quantity, high: Quantity, joint: &str) -> String {
    if low == high { low.to_string() } else { format!("{low} {joint} {high}") }
}

/// What the same number would be in another unit of its dimension, where that lies in `span` (base unit, both ends
/// allowed): the next prefix first, a unit of another system last.
pub(crate) fn meant(quantity: Quantity, span: (f64, f64)) -> Vec<Quantity> {
    let mut found: Vec<Quantity> = match by_spelling(quantity.unit) {
        Some(unit) => {
            let number = number_in(unit, quantity.value);
            let others = unit::ALL.iter().filter(|other| other.dimension == unit.dimension && *other != unit);
            others.filter_map(|other| other.quantity(number)).collect()
        }
        None => {
            [1e3, 1e-3, 1e6, 1e-6].map(|step| Quantity { value: quantity.value * step, ..quantity }).to_vec()
        }
    };
    found.retain(|other| (span.0..=span.1).contains(&other.value));
    found.sort_by(|one, other| nearer(quantity.value, one.value, other.value));
    found
}

/// The number as it was written in its unit; what the conversion to the base unit rounded is taken back.
fn number_in(unit: &UnitSymbol, value: f64) -> f64 {
    let number = unit.from_base(value);
    if unit.scale == Scale::Awg {
        return number.round();
    }
    format!("{number:.11e}").parse().unwrap_or(number)
}

/// Which of two values is the likelier slip away from a written one: a step of a thousand before any other factor, a
/// small factor before a large one.
fn nearer(written: f64, one: f64, other: f64) -> Ordering {
    let slip = |value: f64| {
        let steps = (value / written).abs().log10() / 3.0;
        ((steps - steps.round()).abs() > 1e-6, steps.abs())
    };
    let (one, other) = (slip(one), slip(other));
    one.0.cmp(&other.0).then(one.1.total_cmp(&other.1))
}

#[cfg(test)]
mod tests {
    use wattle_grammar::quantity::Dimension;

    use super::*;

    fn first(number: f64, unit: &str, span: (f64, f64)) -> Vec<String> {
        let quantity = by_spelling(unit).unwrap().quantity(number).unwrap();
        meant(quantity, span).iter().map(ToString::to_string).collect()
    }

    #[test]
    fn the_next_prefix_comes_first_and_other_systems_last() {
        assert_eq!(first(18.0, "Ω", (0.0005, 2.0)), ["18 mΩ"]);
        assert_eq!(first(350.0, "m", (0.005, 20.0)), ["350 mm", "350 in", "350 cm"]);
        assert_eq!(first(2.5, "mm", (0.05, 20.0)), ["2.5 m", "2.5 in", "2.5 ft"]);
        assert_eq!(first(5000.0, "Ah", (0.05, 500.0)), ["5000 mAh"]);
        assert_eq!(first(5.0, "µA", (0.1, 100.0)), ["5 A"]);
        assert_eq!(first(12.0, "V", (0.1, 60.0)), ["12 V"; 0]);
    }

    #[test]
    fn a_computed_value_is_moved_by_prefixes() {
        let computed = Quantity { value: 0.005, dimension: Dimension::Charge, unit: "" };
        assert_eq!(
            meant(computed, (0.05, 500.0)).iter().map(ToString::to_string).collect::<Vec<_>>(),
            ["5 Ah"]
        );
    }
}
