//! Blanks between atoms: where one stands, and where none may because it would change what the text says.

use super::atom::Cutter;
use crate::{
    quantity::Dimension,
    token::{Token, TokenKind},
    unit::UnitSymbol,
};

impl Cutter<'_> {
    /// The kind of the token right behind the one being cut.
    pub(super) fn after(&self) -> Option<TokenKind> {
        self.tokens.get(self.at + 1).map(|token| token.kind)
    }

    /// The kind of the token right before the one being cut.
    fn before(&self) -> Option<TokenKind> {
        self.at.checked_sub(1).and_then(|at| self.tokens.get(at)).map(|token| token.kind)
    }

    /// Whether a blank stands before the token, and whether none may stand behind it.
    pub(super) fn spacing(&self, token: Token, unit: Option<&UnitSymbol>) -> (bool, bool) {
        match token.kind {
            TokenKind::Comma | TokenKind::CloseParen => (false, false),
            TokenKind::OpenParen => (true, true),
            TokenKind::Dot => (!stands(self.before()), stands(self.after())),
            TokenKind::Plus | TokenKind::Minus => (true, self.is_sign_of_number(token.kind)),
            TokenKind::Slash if self.joins_halves() => (false, true),
            TokenKind::Word => self.spacing_of_unit(unit),
            _ => (true, false),
        }
    }

    /// A pack is marked `6S2P`; every other unit stands a blank off its number.
    fn spacing_of_unit(&self, unit: Option<&UnitSymbol>) -> (bool, bool) {
        match unit.map(|unit| unit.dimension) {
            Some(Dimension::Cells) => (false, self.after() == Some(TokenKind::Number)),
            Some(Dimension::Strings) => (false, false),
            _ => (true, false),
        }
    }

    /// Whether a `+` or `-` is the sign of what follows and not an operation.
    fn is_sign_of_number(&self, kind: TokenKind) -> bool {
        let value = match self.after() {
            Some(TokenKind::Number) => true,
            Some(TokenKind::Word | TokenKind::OpenParen) => kind == TokenKind::Minus,
            _ => false,
        };
        value && !ends_operand(self.before())
    }

    /// Whether a solidus stands inside one thing: `red/white`, `2/0 AWG`.
    fn joins_halves(&self) -> bool {
        let is_unit = self.atoms.last().is_some_and(|atom| atom.unit.is_some());
        match (self.before(), self.after()) {
            (Some(TokenKind::Number), Some(TokenKind::Number)) => true,
            (Some(TokenKind::Word), Some(TokenKind::Word)) => !is_unit,
            _ => false,
        }
    }
}

/// Whether there is a token that can be seen.
fn stands(kind: Option<TokenKind>) -> bool {
    kind.is_some_and(|kind| !kind.is_trivia() && kind != TokenKind::Newline)
}

/// Whether a token ends a value, so that a `-` right behind it subtracts.
const fn ends_operand(kind: Option<TokenKind>) -> bool {
    use TokenKind::{CloseParen, Date, Number, Percent, Text, Word};
    matches!(kind, Some(Number | Word | CloseParen | Percent | Text | Date))
}
