//! Tokens: the text cut into pieces, nothing lost. Every byte of the text lies in exactly one token.

/// What a token is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum TokenKind {
    /// A name, keyword or unit.
    Word,
    /// A number without its unit.
    Number,
    /// A text in quotes, closed.
    Text,
    /// A date, `2027-03-01` in form.
    Date,
    /// `{`
    OpenBrace,
    /// `}`
    CloseBrace,
    /// `(`
    OpenParen,
    /// `)`
    CloseParen,
    /// `,`
    Comma,
    /// `;`
    Semicolon,
    /// `:`
    Colon,
    /// `.` between the parts of a path.
    Dot,
    /// `..`
    DotDot,
    /// `=`
    Equal,
    /// `>=`
    AtLeast,
    /// `<=`
    AtMost,
    /// `±`
    PlusMinus,
    /// `+`
    Plus,
    /// `-` or `−`
    Minus,
    /// `*` or `×`
    Times,
    /// `/` or `÷`
    Slash,
    /// `%`
    Percent,
    /// `#` to the end of the line, without the line end.
    Comment,
    /// Blanks and tabs; a byte order mark at the start of the file.
    Space,
    /// One line end: `\n`, `\r\n` or `\r`.
    Newline,
    /// A text whose closing quote is missing, up to the line end.
    OpenText,
    /// Characters that belong to nothing in the language.
    Unknown,
}

impl TokenKind {
    /// Whether the parser passes over it.
    #[must_use]
    pub const fn is_trivia(self) -> bool {
        matches!(self, Self::Comment | Self::Space)
    }
}

/// A token: its kind and where it ends; it starts where the one before ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Token {
    /// What it is.
    pub kind: TokenKind,
    /// First byte.
    pub start: u32,
    /// The byte after it.
    pub end: u32,
}
