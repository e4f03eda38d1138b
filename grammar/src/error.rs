//! Errors of the language: what is wrong with the text itself, in the builder's words.

use crate::span::Span;

/// A piece of the text in back quotes, shortened so that a message stays one line.
#[must_use]
pub fn quoted(text: &str) -> String {
    const LONGEST: usize = 40;
    match text.char_indices().nth(LONGEST) {
        None => format!("`{text}`"),
        Some((end, _)) => format!("`{}…`", text.get(..end).unwrap_or("")),
    }
}

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

impl TextError {
    /// An error that says only what is wrong and where.
    #[must_use]
    pub fn new(name: &'static str, span: Span, message: impl Into<String>, label: impl Into<String>) -> Self {
        let (message, label) = (message.into(), label.into());
        Self { name, span, message, label, help: None, related: Vec::new(), mend: None }
    }

    /// Adds what would be right.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// Adds another place that matters.
    #[must_use]
    pub fn related(mut self, span: Span, label: impl Into<String>) -> Self {
        self.related.push((span, label.into()));
        self
    }

    /// Adds a replacement that mends it.
    #[must_use]
    pub fn mend(mut self, span: Span, text: impl Into<String>) -> Self {
        self.mend = Some((span, text.into()));
        self
    }
}
