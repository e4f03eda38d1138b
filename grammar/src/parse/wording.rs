//! From a miss of the grammar to a message: what was due, what was found, and how such a statement reads.

mod block;
mod ends;
mod keyword;
mod spot;
mod usage;
mod value;

use super::{
    complaint::quote,
    lexeme::{Lexeme, Sign},
    miss::{Due, Miss},
    source::Source,
    words::Word,
};
use crate::error::TextError;
use spot::Spot;

/// The message for a miss in a statement.
pub(super) fn word(miss: Miss, statement: &[Lexeme], source: &Source<'_>) -> TextError {
    let spot = Spot { miss, statement, source };
    let known = block::told(&spot)
        .or_else(|| ends::told(&spot))
        .or_else(|| keyword::told(&spot))
        .or_else(|| value::told(&spot));
    known.unwrap_or_else(|| plain(&spot))
}

/// An error at a spot, of the one name that all misses have.
fn error(spot: &Spot<'_, '_>, message: String, label: impl Into<String>) -> TextError {
    TextError::new("language.unexpected", spot.place(), message, label)
}

/// What is said when nothing is known about the habit behind a mistake.
fn plain(spot: &Spot<'_, '_>) -> TextError {
    let due = due(spot);
    let error = match (spot.found(), due.is_empty()) {
        (Some(found), false) => error(
            spot,
            format!("expected {due}, found {}", quote(spot.text(found))),
            format!("{} is due here", bare(&due)),
        ),
        (None, false) => error(
            spot,
            format!("expected {due}, found the end of the line"),
            format!("{} is due after this", bare(&due)),
        ),
        (Some(found), true) => {
            error(spot, format!("{} does not fit here", quote(spot.text(found))), "not expected here")
        }
        (None, true) => error(spot, "the line ends too early".to_owned(), "something is due after this"),
    };
    match usage::example(spot) {
        Some(example) => error.help(format!("such a statement reads `{example}`")),
        None => error,
    }
}

/// What was due, without the examples.
fn bare(due: &str) -> String {
    let words = due.split(" or ").map(|word| word.split(", such as").next().unwrap_or(word));
    words.collect::<Vec<_>>().join(" or ")
}

/// What a statement cannot do without, and may go on with.
const NEEDED: [(Due, &str); 26] = [
    (Due::Name, "a name"),
    (Due::End, "a terminal, such as `PACK.pos`"),
    (Due::To, "`to`"),
    (Due::With, "`with`"),
    (Due::Is, "`is`"),
    (Due::As, "`as`"),
    (Due::Path, "a name"),
    (Due::Base, "a kind or a part"),
    (Due::Comparison, "`>=`, `<=` or `=`"),
    (Due::Relation, "`through`, `at` or `across`"),
    (Due::When, "`when`"),
    (Due::State, "a state, such as `open`"),
    (Due::Because, "`because`"),
    (Due::Reason, "the reason in quotes"),
    (Due::Date, "a date, such as `2027-03-01`"),
    (Due::Number, "a number"),
    (Due::Equal, "`=`"),
    (Due::AnyFault, "`any-fault`"),
    (Due::What, "`voltage`, `current`, `temperature`, `runtime` or `dead`"),
    (Due::CloseParen, "`)`"),
    (Due::Close, "`}`"),
    (Due::Setting, "a setting"),
    (Due::On, "`on`"),
    (Due::Text, "a text in quotes"),
    (Due::Value, "a value"),
    (Due::Block, "`{`"),
];

/// Dues that show that the statement may also end here or go on with nearly anything.
const FREE: [Due; 6] = [Due::Block, Due::LineEnd, Due::At, Due::In, Due::Under, Due::Until];

/// What was due, in words; empty where the statement could have ended.
fn due(spot: &Spot<'_, '_>) -> String {
    let miss = spot.miss;
    if needs_block(spot) && miss.wants(Due::Block) && spot.found().is_none() {
        return "`{`".to_owned();
    }
    let free = FREE.into_iter().any(|due| miss.wants(due));
    let optional =
        |due| matches!(due, Due::Setting | Due::On | Due::Text | Due::Value | Due::Block | Due::Close);
    let mut words: Vec<&str> = Vec::new();
    for (due, word) in NEEDED {
        let word = match due {
            Due::Name | Due::Path | Due::Base => usage::name_due(spot).unwrap_or(word),
            _ => word,
        };
        if miss.wants(due) && !(free && optional(due)) && !words.contains(&word) {
            words.push(word);
        }
    }
    words.join(" or ")
}

fn needs_block(spot: &Spot<'_, '_>) -> bool {
    matches!(spot.first(), Some(Sign::Word(Word::Mode | Word::Harness | Word::Cable | Word::Assembly)))
}
