//! The values on a wire's line: where each begins, and whether it is size, colour, length or something else.

use super::{
    atom::Atom,
    cell::{Cutter, Role, of_dimension},
};
use crate::{
    kind::{self, key, setting},
    token::TokenKind,
};

/// Begins a cell at each value from a position on, and at `at`.
pub(super) fn mark(cutter: &mut Cutter<'_>, from: usize) {
    let line = cutter.line;
    let (at, block) = (line.find(from, &["at"]), line.block());
    let mut depth = 0_usize;
    for position in from..at {
        if depth == 0 && begins_value(cutter, position) {
            cutter.mark(role(cutter, position, at), position);
        }
        match line.atoms.get(position).and_then(|atom| atom.kind) {
            Some(TokenKind::OpenParen) => depth += 1,
            Some(TokenKind::CloseParen) => depth = depth.saturating_sub(1),
            _ => {}
        }
    }
    if at < block {
        cutter.mark(Role::At, at);
        let past = line.path_end(at + 1);
        if past < block {
            cutter.mark(Role::Value, past);
        }
    }
}

/// Whether a value begins at an atom: it can begin one, and what stands before it goes no further.
fn begins_value(cutter: &Cutter<'_>, at: usize) -> bool {
    use TokenKind::{CloseParen, Comma, Date, Minus, Number, OpenParen, Percent, Text, Word};
    let line = cutter.line;
    let Some(atom) = line.atoms.get(at) else { return false };
    let can_begin = match atom.kind {
        Some(Number | Word | Text | Date | OpenParen) => atom.unit.is_none(),
        Some(Minus) => line.atoms.get(at + 1).is_some_and(|next| !next.blank),
        _ => false,
    };
    let before = line.atoms.get(at.wrapping_sub(1)).and_then(|atom| atom.kind);
    let ended = matches!(before, Some(Number | Word | Text | Date | CloseParen | Percent | Comma));
    let gauge = atom.is(Number) && line.text_of(at.wrapping_sub(1)) == "AWG";
    can_begin && ended && !gauge
}

fn role(cutter: &Cutter<'_>, at: usize, past: usize) -> Role {
    let line = cutter.line;
    if line.is(at, TokenKind::Word) {
        return role_of_word(line.text_of(at));
    }
    let unit = line.atoms.get(at..past).unwrap_or(&[]).iter().find_map(|atom| atom.unit);
    unit.map_or(Role::Value, |unit| of_dimension(unit.dimension))
}

/// A word that a wire does not know is the name of a constant, which is nearly always a length.
fn role_of_word(word: &str) -> Role {
    if word.starts_with("AWG") {
        return Role::Size;
    }
    match kind::inline_word(setting::WIRE, word) {
        Some(rating) if rating.key == key::COLOUR => Role::Colour,
        Some(_) => Role::Value,
        None => Role::Length,
    }
}

/// How wide the number of a cell is that holds a number and its unit and nothing else; 0 for other cells.
pub(super) fn number(atoms: &[Atom]) -> u32 {
    use TokenKind::{Comma, Number, Slash};
    let (value, rest) = match atoms {
        [number, rest @ ..] if !rest.first().is_some_and(|atom| atom.is(Slash)) => {
            (std::slice::from_ref(number), rest)
        }
        [_, _, _, rest @ ..] => (atoms.get(..3).unwrap_or(&[]), rest),
        _ => return 0,
    };
    let whole = match rest {
        [unit] => unit.unit.is_some(),
        [unit, comma] => unit.unit.is_some() && comma.is(Comma),
        _ => false,
    };
    let numbers = value.iter().step_by(2).all(|atom| atom.is(Number));
    if whole && numbers { value.iter().map(|atom| atom.width).sum() } else { 0 }
}
