//! What a tabulated number is worth: whether its source was read.

/// How well a tabulated number is founded. Ordered: a later one is weaker.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Evidence {
    /// Read in the source or in a transcription of it.
    Seen,
    /// Recalled from the source without reading it again.
    Memory,
    /// Common practice without one authoritative source.
    Practice,
}

impl Evidence {
    /// The words for a report, to stand behind a figure.
    #[must_use]
    pub const fn phrase(self) -> &'static str {
        match self {
            Self::Seen => "read in the source",
            Self::Memory => "from memory of the source, compare with the maker's data sheet",
            Self::Practice => "common practice, compare with the maker's data sheet",
        }
    }
}
