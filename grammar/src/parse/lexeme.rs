//! Lexemes: tokens as the grammar wants them. Trivia is gone, a number and its unit are one quantity, and line ends
//! stand only where they end something.

use crate::{
    quantity::Quantity,
    span::{FileId, Span},
    syntax::Date,
};

use super::words::Word;

/// What a lexeme is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sign {
    /// A name, a keyword, or two words with a solidus between.
    Word(Word),
    /// A number with its unit.
    Quantity,
    /// A number alone.
    Number,
    /// A text in quotes.
    Text,
    /// A date that exists.
    Date,
    /// A value that a complaint has already been made about, and of which nothing could be guessed.
    Spoiled,
    /// The dot of a path, words on both sides.
    Dot,
    /// `..`
    DotDot,
    /// `±`
    PlusMinus,
    /// `+` between two values.
    Plus,
    /// `-` between two values.
    Minus,
    /// `-` directly before a value.
    Negative,
    /// `+` directly before a number.
    Positive,
    /// `*` or `×`
    Times,
    /// `/` or `÷`
    Slash,
    /// `,`
    Comma,
    /// `:`
    Colon,
    /// `=`
    Equal,
    /// `>=`
    AtLeast,
    /// `<=`
    AtMost,
    /// `(`
    OpenParen,
    /// `)`
    CloseParen,
    /// `{`
    Open,
    /// `}`
    Close,
    /// A line end or `;` that ends a statement or setting.
    End,
    /// Punctuation where none can stand.
    Stray,
}

/// A lexeme with its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Lexeme {
    /// What it is.
    pub sign: Sign,
    /// Whether nothing behind it makes it part of a larger value, so that it can be read as it stands.
    pub alone: bool,
    /// First byte.
    pub start: u32,
    /// The byte after it.
    pub end: u32,
    /// Position in [`Lexemes::quantities`] or [`Lexemes::dates`], for those signs.
    pub value: u32,
}

impl Sign {
    /// Whether it can be a name: keywords can, in places where only a name fits.
    pub(super) fn is_name(self) -> bool {
        matches!(self, Self::Word(word) if word != Word::Pair)
    }

    /// Whether the sign makes one value of what stands before it and behind it.
    pub(super) const fn binds(self) -> bool {
        use Sign::{Dot, DotDot, Minus, Plus, PlusMinus, Slash, Times};
        matches!(self, Dot | DotDot | PlusMinus | Plus | Minus | Times | Slash)
    }
}

impl Lexeme {
    /// Its place.
    pub(super) const fn span(&self, file: FileId) -> Span {
        Span::new(file, self.start, self.end)
    }

    /// Whether it is a word, not a mark.
    pub(super) const fn is_word(&self) -> bool {
        matches!(self.sign, Sign::Word(_))
    }
}

/// One statement's lexemes, without the line end.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stretch {
    /// First lexeme.
    pub first: usize,
    /// The lexeme after the last.
    pub past: usize,
    /// Whether it is nested too deeply for the grammar to be let loose on it.
    pub too_deep: bool,
}

/// A file's lexemes and the values they point to.
#[derive(Debug, Default)]
pub(super) struct Lexemes {
    /// All of them.
    pub all: Vec<Lexeme>,
    /// The statements at the outermost level.
    pub stretches: Vec<Stretch>,
    /// Values of [`Sign::Quantity`] and [`Sign::Number`].
    pub quantities: Vec<Quantity>,
    /// Values of [`Sign::Date`].
    pub dates: Vec<Date>,
}
