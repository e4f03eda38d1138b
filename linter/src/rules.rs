//! The catalogue of rules. One rule is one file below `rules/`; it is known when it stands in [`ALL`].

pub mod accept;
pub mod battery;
pub mod coil;
pub mod contact;
pub mod driver;
pub mod expectation;
pub mod join;
pub mod name;
pub mod polarity;
pub mod protection;
pub mod quantity;
pub mod reading;
pub mod relay;
pub mod supply;
pub mod wire;

use wattle_grammar::nearest;

use crate::rule::Rule;

/// Every rule, in the order of the names.
pub const ALL: &[&Rule] = &[
    &accept::expired::RULE,
    &accept::unused::RULE,
    &battery::overcharged::RULE,
    &battery::overdrawn::RULE,
    &coil::weak::RULE,
    &contact::inrush::RULE,
    &driver::lifted_by_braking::RULE,
    &driver::unisolated::RULE,
    &expectation::unmet::RULE,
    &join::floating::RULE,
    &name::confusable::RULE,
    &name::unlike_voltage::RULE,
    &polarity::opposed_sources::RULE,
    &polarity::reversed_diode::RULE,
    &polarity::reversed_part::RULE,
    &polarity::shorted_source::RULE,
    &polarity::swapped_ways::RULE,
    &protection::breaking_capacity_exceeded::RULE,
    &protection::opens_at_work::RULE,
    &protection::slow_clearing::RULE,
    &protection::unfused_branch::RULE,
    &protection::unselective::RULE,
    &protection::voltage_exceeded::RULE,
    &quantity::charge_as_current::RULE,
    &quantity::contradictory::RULE,
    &quantity::gauge_as_area::RULE,
    &quantity::length_as_size::RULE,
    &quantity::size_as_length::RULE,
    &quantity::unlike_part::RULE,
    &quantity::unlike_pull::RULE,
    &quantity::unusual::RULE,
    &reading::differs::RULE,
    &relay::chattering::RULE,
    &supply::overdrawn::RULE,
    &supply::unlike_parallel::RULE,
    &wire::short_time_overload::RULE,
    &wire::undersized::RULE,
];

/// The names of all rules, in order.
#[must_use]
pub fn names() -> Vec<&'static str> {
    ALL.iter().map(|rule| rule.name).collect()
}

/// The rule of this name.
#[must_use]
pub fn by_name(name: &str) -> Option<&'static Rule> {
    ALL.iter().copied().find(|rule| rule.name == name)
}

/// The name that was probably meant by one that is no rule.
#[must_use]
pub fn nearest(name: &str) -> Option<&'static str> {
    nearest::nearest(name, ALL.iter().map(|rule| rule.name))
}

#[cfg(test)]
mod tests {
    use std::{fs, path::Path};

    use super::*;

    #[test]
    fn names_are_in_order_and_say_area_and_mistake() {
        assert!(names().is_sorted_by(|a, b| a < b), "{:?}", names());
        for name in names() {
            let parts: Vec<&str> = name.split('.').collect();
            let plain = |part: &&str| {
                !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b'-')
            };
            assert!(parts.len() == 2 && parts.iter().all(plain), "{name}");
        }
    }

    #[test]
    fn every_file_is_a_rule_and_every_rule_a_file() {
        let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/rules");
        let mut found = Vec::new();
        for area in
            fs::read_dir(&root).unwrap().map(|entry| entry.unwrap().path()).filter(|path| path.is_dir())
        {
            for file in fs::read_dir(&area).unwrap().map(|entry| entry.unwrap().path()) {
                let text = fs::read_to_string(&file).unwrap_or_default();
                if text.contains("RULE: Rule") {
                    let stem = |path: &Path| path.file_stem().unwrap().to_string_lossy().replace('_', "-");
                    found.push(format!("{}.{}", stem(&area), stem(&file)));
                }
            }
        }
        found.sort();
        assert_eq!(found, names());
    }

    #[test]
    fn every_page_is_filled_in() {
        for rule in ALL {
            let fields =
                [rule.summary, rule.why, rule.condition, rule.legitimate, rule.mend, rule.bad, rule.good];
            assert!(fields.iter().all(|field| !field.trim().is_empty()), "{}", rule.name);
            let sentence = [rule.summary, rule.why, rule.condition, rule.legitimate, rule.mend];
            assert!(sentence.iter().all(|field| field.trim_end().ends_with('.')), "{}", rule.name);
            assert_eq!(by_name(rule.name).map(|found| found.name), Some(rule.name));
        }
    }

    #[test]
    fn a_misspelt_name_finds_its_rule() {
        assert_eq!(nearest("accept.expird"), Some("accept.expired"));
        assert_eq!(nearest("quite.another"), None);
        assert!(by_name("accept").is_none());
    }
}
