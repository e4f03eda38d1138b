//! Places in the text: a file and a range of byte offsets. The only position type below the language server.

/// Names one source file of a project. Ids are handed out by whoever loads the files, from 0.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileId(pub u32);

/// A half-open range of byte offsets, `start..end`, in one file. Both ends lie on character boundaries.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// The file the range lies in.
    pub file: FileId,
    /// First byte of the range.
    pub start: u32,
    /// The byte after the range.
    pub end: u32,
}

impl Span {
    /// The range `start..end` of `file`.
    #[must_use]
    pub const fn new(file: FileId, start: u32, end: u32) -> Self {
        Self { file, start, end }
    }

    /// The empty range at the start of `file`, for what has no better place.
    #[must_use]
    pub const fn file_start(file: FileId) -> Self {
        Self { file, start: 0, end: 0 }
    }

    /// The smallest range that holds both. `other` must be of the same file; if it is not, `self` is returned.
    #[must_use]
    pub fn to(self, other: Self) -> Self {
        if self.file != other.file {
            return self;
        }
        Self { file: self.file, start: self.start.min(other.start), end: self.end.max(other.end) }
    }

    /// Length in bytes.
    #[must_use]
    pub const fn len(self) -> u32 {
        self.end.saturating_sub(self.start)
    }

    /// Whether the range holds no byte.
    #[must_use]
    pub const fn is_empty(self) -> bool {
        self.start >= self.end
    }

    /// Whether the byte offset `at` lies in the range or just behind it (where a cursor still belongs to a word).
    #[must_use]
    pub const fn touches(self, at: u32) -> bool {
        self.start <= at && at <= self.end
    }

    /// The range's text in `text`, or nothing when the range does not fit it.
    #[must_use]
    pub fn slice(self, text: &str) -> &str {
        text.get(self.start as usize..self.end as usize).unwrap_or("")
    }
}
