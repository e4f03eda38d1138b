//! Colour on a terminal: always beside a word, never instead of one, and only the named colours of the user's theme.

use crate::finding::Severity;

/// What a piece of text is, for its colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Role {
    /// An error of the text.
    Error,
    /// The word of a severity.
    Severity(Severity),
    /// The word that opens a line of detail: `because:`.
    Word,
}

impl Role {
    /// The parameters of the terminal's "select graphic rendition" sequence (ECMA-48, 8.3.117): bold and a colour.
    const fn parameters(self) -> &'static str {
        match self {
            Self::Error | Self::Severity(Severity::Danger) => "1;31",
            Self::Severity(Severity::Damage) => "1;35",
            Self::Severity(Severity::Malfunction) => "1;33",
            Self::Severity(Severity::Untidy) => "1;36",
            Self::Word => "1",
        }
    }
}

/// `text` in the colour of its role, or as it is.
pub(super) fn ink(text: &str, role: Role, colour: bool) -> String {
    if colour { format!("\u{1b}[{}m{text}\u{1b}[0m", role.parameters()) } else { text.to_owned() }
}
