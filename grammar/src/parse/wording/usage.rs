//! How a statement reads: its example, and what a name in it stands for.

use super::spot::Spot;
use crate::{
    kind,
    parse::{lexeme::Sign, words::Word},
};

/// An example of the statement that was meant.
pub(super) fn example(spot: &Spot<'_, '_>) -> Option<&'static str> {
    let first = spot.statement.first()?;
    let second = spot.statement.get(1).map(|lexeme| lexeme.sign);
    match (first.sign, second) {
        (Sign::Word(Word::Expect), Some(Sign::Word(Word::Dead))) => {
            return Some("expect dead M-LEFT, M-RIGHT when S-STOP pressed");
        }
        (Sign::Word(Word::Expect), Some(Sign::Word(Word::Runtime))) => {
            return Some("expect runtime >= 30 min in parade");
        }
        (Sign::Word(Word::Reading), _) if has(spot, Word::Across) => {
            return Some("reading 120 mV across PACK.pos, D-LEGS.pos");
        }
        _ => {}
    }
    let word = spot.text(first);
    match kind::by_word(word) {
        Some(kind) => Some(kind.example),
        None => kind::statement::by_word(word).map(|statement| statement.example),
    }
}

/// Whether a word of the language stands in the statement.
pub(super) fn has(spot: &Spot<'_, '_>, word: Word) -> bool {
    spot.statement.iter().any(|lexeme| lexeme.sign == Sign::Word(word))
}

/// What a name is the name of, where the words before it tell.
pub(super) fn name_due(spot: &Spot<'_, '_>) -> Option<&'static str> {
    let Some(Sign::Word(first)) = spot.first() else { return None };
    let before = spot.before()?;
    Some(match (first, before.sign) {
        (_, Sign::Colon) => "a part",
        (Word::Accept, Sign::Word(Word::Accept)) => "a rule, such as `wire.undersized`",
        (Word::Accept, Sign::Word(Word::On)) => "a thing or wire",
        (Word::Mate, Sign::Word(Word::Mate | Word::With)) => "a plug or socket",
        (Word::Fit, Sign::Word(Word::Fit)) => "an assembly",
        (Word::Expect, Sign::Word(Word::Dead)) => "a thing",
        (Word::Expect, Sign::Word(Word::When)) => "a switch or stop device",
        (Word::Expect | Word::Reading, Sign::Word(Word::In)) => "a mode",
        (Word::Reading, Sign::Word(Word::Through)) => "a wire or thing",
        (Word::Reading, Sign::Word(Word::At | Word::Across) | Sign::Comma) => {
            "a terminal, such as `PACK.pos`"
        }
        (Word::Expect, Sign::Word(Word::Plain)) if spot.text(before) == "voltage" => {
            "a terminal, such as `PACK.pos`"
        }
        (Word::Expect, Sign::Word(Word::Plain)) => "a wire or thing",
        (Word::Kind, Sign::Word(Word::On)) => "a block",
        (_, Sign::Word(Word::At)) => "a place",
        _ => return None,
    })
}
