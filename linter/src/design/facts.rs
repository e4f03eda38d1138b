//! What is written on a wire, a place, a tie and the like: facts found by their key.

use wattle_grammar::quantity::Unit;

use super::{Rated, RatedValue};

/// The fact under `key`.
#[must_use]
pub fn find<'r>(facts: &'r [Rated], key: &str) -> Option<&'r Rated> {
    facts.iter().find(|rated| rated.key == key)
}

/// The single quantity of a fact, typed.
#[must_use]
pub fn quantity<U: Unit>(fact: &Rated) -> Option<U> {
    match &fact.value {
        RatedValue::Quantity(found) if found.dimension == U::DIMENSION => Some(U::from_base(found.value)),
        _ => None,
    }
}

/// The word of a fact.
#[must_use]
pub fn word(fact: &Rated) -> Option<&str> {
    match &fact.value {
        RatedValue::Word(word) => Some(word),
        _ => None,
    }
}

/// The flag under `key`; nothing when it is not written.
#[must_use]
pub fn flag(facts: &[Rated], key: &str) -> Option<bool> {
    match find(facts, key)?.value {
        RatedValue::Flag(flag) => Some(flag),
        _ => None,
    }
}
