//! What the client can take, as it announced it. Plain data, settled once at the start.

use wattle_grammar::line_index::Encoding;

/// What was settled with the client.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Abilities {
    /// How columns are counted.
    pub encoding: Encoding,
    /// It asks for diagnostics itself, so open documents are not reported a second time.
    pub pulls: bool,
    /// It can be told to ask for diagnostics again.
    pub refreshes: bool,
    /// It shows related places; otherwise they go into the message.
    pub related: bool,
    /// It hands a diagnostic's data back with a request for code actions.
    pub data: bool,
    /// It shows Markdown; otherwise hovers are plain text.
    pub markdown: bool,
    /// It can watch files for the server.
    pub watches: bool,
}

impl Default for Abilities {
    /// A client that announced nothing.
    fn default() -> Self {
        Self {
            encoding: Encoding::Utf16,
            pulls: false,
            refreshes: false,
            related: false,
            data: false,
            markdown: false,
            watches: false,
        }
    }
}
