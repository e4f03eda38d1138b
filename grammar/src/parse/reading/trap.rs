//! Words behind numbers that look like units and are traps.

use super::{
    Reader, Sign, TokenKind, complaint,
    number::{Behind, Figure},
};
use crate::{
    quantity::Dimension,
    unit::{self, Trap, UnitSymbol},
};

impl Reader<'_> {
    /// Takes a word that is a trap. Gives whether it was one. Where it is plain what was meant, that is what the grammar
    /// sees.
    pub(super) fn trapped(&mut self, number: Figure, behind: Behind, word: &str) -> bool {
        let text = self.slice(number.start, number.end);
        let Some(trap) = unit::trap(text, word, behind.glued) else { return false };
        let end = behind.token.end;
        let (whole, place) = (self.span(number.start, end), self.span(behind.token.start, end));
        self.complain(complaint::trap(whole, place, text, word, &trap));
        self.at += behind.tokens;
        match trap {
            Trap::Binary(Some(unit)) => self.quantity(number, end, unit),
            Trap::Code(figure, unit) => {
                let value = figure.parse().unwrap_or(number.value);
                self.quantity(Figure { value, ..number }, end, unit);
            }
            _ => self.push(Sign::Spoiled, number.start, end),
        }
        true
    }

    /// What may follow a number with its unit and belongs to it in the mind of who wrote it: `24 V DC`, `250 V~`,
    /// `2.5 mm 2`, `5 m N`. Takes it, and gives the unit that was meant and where it ends.
    pub(super) fn unit_goes_on(
        &mut self,
        start: u32,
        end: u32,
        unit: &'static UnitSymbol,
    ) -> (u32, &'static UnitSymbol) {
        let as_it_is = (end, unit);
        if !matches!(unit.dimension, Dimension::Voltage | Dimension::Current | Dimension::Length) {
            return as_it_is;
        }
        let blank = usize::from(self.kind(0) == Some(TokenKind::Space));
        let Some(token) = self.token(self.at + blank) else { return as_it_is };
        let may = matches!(token.kind, TokenKind::Word | TokenKind::Number | TokenKind::Unknown);
        if !may || self.kind(blank + 1) == Some(TokenKind::Dot) {
            return as_it_is;
        }
        let word = self.slice(token.start, token.end);
        let place = self.span(token.start, token.end);
        let meant = match (unit.symbol, word) {
            ("mm", "2" | "²") if self.ends_value(blank + 1) => unit::by_spelling("mm²"),
            ("m", "N") => unit::by_spelling("N·m"),
            _ => None,
        };
        let complaint = match (meant, word) {
            (Some(meant), _) => {
                let found = self.slice(start, token.end);
                complaint::split_unit(self.span(start, token.end), found, unit.symbol, meant)
            }
            (None, "DC" | "dc") if unit.dimension != Dimension::Length => complaint::direct(place, word),
            (None, "AC" | "ac" | "~") if unit.dimension != Dimension::Length => {
                complaint::alternating(place, word)
            }
            _ => return as_it_is,
        };
        self.complain(complaint);
        self.at += blank + 1;
        meant.map_or(as_it_is, |meant| (token.end, meant))
    }

    /// Whether the token `offset` further on cannot belong to the value before it: `2.5 mm 2/0 AWG` has two values.
    fn ends_value(&self, offset: usize) -> bool {
        use TokenKind::{CloseBrace, Comma, Comment, Newline, OpenBrace, Semicolon, Space, Word};
        let behind = |kind| {
            matches!(kind, None | Some(Newline | Semicolon | CloseBrace | OpenBrace | Comma | Comment))
        };
        match self.kind(offset) {
            Some(Space) if self.kind(offset + 1) == Some(Word) => !self.unit_follows(offset),
            Some(Space) => behind(self.kind(offset + 1)),
            kind => behind(kind),
        }
    }
}
