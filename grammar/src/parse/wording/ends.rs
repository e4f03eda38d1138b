//! Mistakes around names, paths and the ends of wires.

use super::{Spot, error};
use crate::{
    error::TextError,
    parse::{
        complaint::{self, quote},
        lexeme::{Lexeme, Sign},
        miss::Due,
        words::Word,
    },
    span::Span,
};

/// What is wrong, where the signs and words around the spot tell.
pub(super) fn told(spot: &Spot<'_, '_>) -> Option<TextError> {
    dot_alone(spot)
        .or_else(|| wire_without_name(spot))
        .or_else(|| dotted_name(spot))
        .or_else(|| from(spot))
        .or_else(|| other_dot(spot))
        .or_else(|| blank_in_end(spot))
        .or_else(|| to_missing(spot))
        .or_else(|| no_name(spot))
        .or_else(|| and(spot))
        .or_else(|| second_terminal(spot))
}

/// `PACK.` and nothing behind it.
fn dot_alone(spot: &Spot<'_, '_>) -> Option<TextError> {
    let dot = spot.found().filter(|found| found.sign == Sign::Stray && spot.text(found) == ".")?;
    let before = spot.before().filter(|before| before.is_word() && before.end == dot.start)?;
    let message = format!("nothing stands behind the dot of {}", quote(&format!("{}.", spot.text(before))));
    let error = error(spot, message, "a terminal is due after this");
    Some(error.help("a dot leads to a terminal, `PACK.pos`; a line has no full stop"))
}

/// `wire PACK.pos to …`
fn wire_without_name(spot: &Spot<'_, '_>) -> Option<TextError> {
    if !spot.begins_with(&[Word::Wire]) || spot.miss.at != 2 || spot.sign() != Some(Sign::Dot) {
        return None;
    }
    let first = spot.statement.get(1)?;
    let mut error = error(spot, "the wire has no name".to_owned(), "a name is due before this end");
    error.span = spot.span(first);
    Some(error.help("a wire has a name, then its ends: `wire W1 PACK.pos to F-MAIN.line`"))
}

/// `battery left.PACK`
fn dotted_name(spot: &Spot<'_, '_>) -> Option<TextError> {
    let dot = spot.found().filter(|found| found.sign == Sign::Dot)?;
    let names = spot.statement.get(1..spot.miss.at)?;
    let plain = names.iter().all(|lexeme| lexeme.is_word() || lexeme.sign == Sign::Comma);
    let named = [
        Word::Kind,
        Word::Place,
        Word::Group,
        Word::Part,
        Word::Let,
        Word::Harness,
        Word::Cable,
        Word::Mode,
        Word::Assembly,
    ];
    if !plain || names.is_empty() || !spot.begins_with(&named) {
        return None;
    }
    let before = spot.before()?;
    let next = spot.next(1).map_or(dot.end, |next| next.end);
    let whole = Span::new(spot.source.file, before.start, next);
    let message = format!("{} is no name: names have no dots", quote(whole.slice(spot.source.text)));
    let mut error = error(spot, message, "a name without a dot is due here");
    error.span = whole;
    Some(error.help("a dot leads from a name to something inside it"))
}

/// `wire W1 from A to B`
fn from(spot: &Spot<'_, '_>) -> Option<TextError> {
    let before = spot.before().filter(|before| spot.text(before) == "from")?;
    let found = spot.found().filter(|found| found.is_word() && spot.miss.wants(Due::To))?;
    let mut error = error(spot, "`from` stands for nothing here".to_owned(), "the first end is due here");
    error.span = spot.span(before);
    let both = Span::new(spot.source.file, before.start, found.start);
    Some(error.help("the first end stands right behind the name").mend(both, ""))
}

/// `PACK:neg` and `PACK..neg`
fn other_dot(spot: &Spot<'_, '_>) -> Option<TextError> {
    let colon = spot.found().filter(|found| matches!(found.sign, Sign::Colon | Sign::DotDot))?;
    let (before, next) = (spot.before()?, spot.next(1)?);
    let glued = before.end == colon.start && colon.end == next.start;
    if !glued || !before.is_word() || !(next.is_word() || next.sign == Sign::Number) {
        return None;
    }
    let right = format!("{}.{}", spot.text(before), spot.text(next));
    let found = format!("{}{}{}", spot.text(before), spot.text(colon), spot.text(next));
    let message = format!("{} is no terminal", quote(&found));
    let error = error(spot, message, "a dot is due here");
    Some(error.help(format!("write `{right}`")).mend(spot.span(colon), "."))
}

/// `PACK neg to …`
fn blank_in_end(spot: &Spot<'_, '_>) -> Option<TextError> {
    let found = spot.found().filter(|found| found.is_word() && spot.miss.wants_only(Due::To))?;
    let before = spot.before().filter(|before| before.is_word())?;
    if spot.next(1).map(|next| next.sign) != Some(Sign::Word(Word::To)) {
        return None;
    }
    let right = format!("{}.{}", spot.text(before), spot.text(found));
    let gap = Span::new(spot.source.file, before.end, found.start);
    let message = format!("expected `to`, found {}", quote(spot.text(found)));
    Some(error(spot, message, "`to` is due here").help(format!("did you mean `{right}`?")).mend(gap, "."))
}

/// Two ends with another word or nothing between them.
fn to_missing(spot: &Spot<'_, '_>) -> Option<TextError> {
    let found = spot.found().filter(|_| spot.miss.wants_only(Due::To))?;
    let (before, from) = spot.path_before()?;
    let second = spot.next(1);
    let instead = found.is_word() && second.is_some_and(Lexeme::is_word) || is_joint(found);
    if instead {
        let message = format!("expected `to` behind {}, found {}", quote(from), quote(spot.text(found)));
        return Some(
            error(spot, message, "`to` is due here").help("write `to`").mend(spot.span(found), "to"),
        );
    }
    let (after, _) = spot.path_found()?;
    let mut error = complaint::missing_to(before, after, spot.source.text);
    error.mend = Some((Span::new(spot.source.file, before.end, after.start), " to ".to_owned()));
    Some(error)
}

/// Signs and words that people put between two ends.
fn is_joint(lexeme: &Lexeme) -> bool {
    matches!(
        lexeme.sign,
        Sign::Word(Word::With | Word::As | Word::Is | Word::In | Word::At | Word::On)
            | Sign::Comma
            | Sign::Equal
            | Sign::Colon
            | Sign::Minus
            | Sign::Negative
            | Sign::DotDot
            | Sign::Slash
    )
}

/// Something that is no name where the name of a statement is due.
fn no_name(spot: &Spot<'_, '_>) -> Option<TextError> {
    let found = spot.found().filter(|_| spot.miss.wants(Due::Name))?;
    let text = spot.text(found);
    let message = format!("expected a name, found {}", quote(text));
    let error = error(spot, message, "a name is due here");
    match found.sign {
        Sign::Text => Some(error.help("a name has no quotes and no blanks; a label in quotes may follow it")),
        Sign::Number | Sign::Quantity => {
            Some(error.help("names begin with a letter, so that they are no numbers"))
        }
        Sign::Negative | Sign::Minus => Some(error.help("names begin with a letter")),
        _ => None,
    }
}

/// `M1 and M2`
fn and(spot: &Spot<'_, '_>) -> Option<TextError> {
    let found = spot.found().filter(|found| matches!(spot.text(found), "and" | "or" | "und"))?;
    let before = spot.before().filter(|before| before.is_word())?;
    let message = format!("{} joins no names", quote(spot.text(found)));
    let both = Span::new(spot.source.file, before.end, found.end);
    Some(error(spot, message, "a comma is due here").help("write a comma").mend(both, ","))
}

/// `reading … across PACK.pos`
fn second_terminal(spot: &Spot<'_, '_>) -> Option<TextError> {
    let commas = spot.statement.iter().any(|lexeme| lexeme.sign == Sign::Comma);
    if !spot.begins_with(&[Word::Reading]) || commas || !super::usage::has(spot, Word::Across) {
        return None;
    }
    spot.before().filter(|before| before.is_word() && before.sign != Sign::Word(Word::Across))?;
    let (message, label) = match spot.found() {
        Some(found) => (
            format!("expected `,` and a second terminal, found {}", quote(spot.text(found))),
            "a second terminal is due here",
        ),
        None => (
            "expected `,` and a second terminal, found the end of the line".to_owned(),
            "a second terminal is due after this",
        ),
    };
    Some(
        error(spot, message, label)
            .help("a voltage lies between two terminals: `across PACK.pos, D-LEGS.pos`"),
    )
}
