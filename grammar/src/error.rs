//! Errors of the language: what is wrong with the text itself, in the builder's words.

use crate::span::Span;

/// One error of the text. It cannot be accepted away: the statement it stands on is not analysed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TextError {
    /// Readable dotted name, `language.unknown-unit`.
    pub name: &'static str,
    /// The smallest useful range.
    pub span: Span,
    /// What is wrong: one sentence, lower case, no full stop, what was found named as written.
    pub message: String,
    /// A few words that stand beside the mark: `a current is due here`.
    pub label: String,
    /// What would be right, where it can be said: `write 40 A`.
    pub help: Option<String>,
    /// Other places that matter, each with a few words: `first defined here`.
    pub related: Vec<(Span, String)>,
    /// A replacement text that would mend it, where one is certain enough to offer: range and new text.
    pub mend: Option<(Span, String)>,
}
