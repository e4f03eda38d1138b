//! From a miss of the grammar to a message: what was due, what was found, and how such a statement reads.

use super::{
    complaint::quote,
    lexeme::{Lexeme, Sign},
    miss::{Due, Miss},
    source::Source,
    words::Word,
};
use crate::{error::TextError, kind, span::Span};

/// The message for a miss in a statement.
pub(super) fn word(miss: Miss, statement: &[Lexeme], source: &Source<'_>) -> TextError {
    let found = statement.get(miss.at).filter(|lexeme| lexeme.sign != Sign::End);
    let place = place(miss, statement, source);
    let due = due(miss, statement);
    let message = match (found, due.is_empty()) {
        (Some(found), false) => format!("expected {due}, found {}", quote(source.slice(found))),
        (None, false) => format!("expected {due}, found the end of the line"),
        (Some(found), true) => format!("{} does not fit here", quote(source.slice(found))),
        (None, true) => "the line ends too early".to_owned(),
    };
    let label = if due.is_empty() { "not expected here".to_owned() } else { format!("{due} is due here") };
    let error = TextError::new("language.unexpected", place, message, label);
    let behind_block =
        miss.at.checked_sub(1).and_then(|at| statement.get(at)).is_some_and(|it| it.sign == Sign::Close);
    if found.is_some() && behind_block {
        return error.help("a block is the last thing on its statement's line");
    }
    match special(found, source).or_else(|| usage(statement, source)) {
        Some(help) => error.help(help),
        None => error,
    }
}

/// What did not fit; at a line's end, the lexeme before.
fn place(miss: Miss, statement: &[Lexeme], source: &Source<'_>) -> Span {
    let found = statement.get(miss.at).filter(|lexeme| lexeme.sign != Sign::End);
    let before = miss.at.checked_sub(1).and_then(|at| statement.get(at));
    let lexeme = found.or(before).or(statement.last());
    lexeme.map_or(Span::file_start(source.file), |lexeme| lexeme.span(source.file))
}

/// What a statement cannot do without, and may go on with.
const NEEDED: [(Due, &str); 26] = [
    (Due::Name, "a name"),
    (Due::End, "an end, such as `PACK.pos`"),
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
fn due(miss: Miss, statement: &[Lexeme]) -> String {
    if needs_block(statement) && miss.wants(Due::Block) && statement.get(miss.at).is_none() {
        return "`{`".to_owned();
    }
    let free = FREE.into_iter().any(|due| miss.wants(due));
    let optional =
        |due| matches!(due, Due::Setting | Due::On | Due::Text | Due::Value | Due::Block | Due::Close);
    let mut words: Vec<&str> = Vec::new();
    for (due, word) in NEEDED {
        if miss.wants(due) && !(free && optional(due)) && !words.contains(&word) {
            words.push(word);
        }
    }
    words.join(" or ")
}

fn needs_block(statement: &[Lexeme]) -> bool {
    let first = statement.first().map(|lexeme| lexeme.sign);
    matches!(first, Some(Sign::Word(Word::Mode | Word::Harness | Word::Cable | Word::Assembly)))
}

/// Habits from other notations.
fn special(found: Option<&Lexeme>, source: &Source<'_>) -> Option<String> {
    let found = found?;
    match found.sign {
        Sign::Equal | Sign::Colon => Some("key and value stand side by side: `coil 0.35 A`".to_owned()),
        Sign::Stray if source.slice(found) == "." => Some("a path has no blanks: `PACK.pos`".to_owned()),
        Sign::Word(Word::Plain) if matches!(source.slice(found), "and" | "und" | "from" | "between") => {
            Some("ends and names are joined by `to` and commas".to_owned())
        }
        _ => None,
    }
}

/// How a statement of the kind reads: the example of the table.
fn usage(statement: &[Lexeme], source: &Source<'_>) -> Option<String> {
    let word = source.slice(statement.first()?);
    let example = match kind::by_word(word) {
        Some(kind) => kind.example,
        None => kind::statement::by_word(word)?.example,
    };
    Some(format!("such a statement reads `{example}`"))
}
