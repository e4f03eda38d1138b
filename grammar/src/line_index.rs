//! Lines and columns: the one place that knows line ends and the three encodings of the editor protocol.

/// How columns are counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Encoding {
    /// Bytes.
    Utf8,
    /// UTF-16 code units.
    Utf16,
    /// Characters.
    Utf32,
}

/// A line and a column, both from 0.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct LineColumn {
    /// The line.
    pub line: u32,
    /// The column in the encoding asked for.
    pub column: u32,
}

/// The starts of the lines of one text. Line ends are `\n`, `\r\n` and `\r`, as the editor protocol has them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LineIndex {
    starts: Vec<u32>,
    length: u32,
    /// Where counting can begin, at least [`STRIDE`] bytes apart; none for a text of ordinary lines.
    marks: Vec<Mark>,
}

/// Lines longer than this, bytes, have their columns counted from the nearest mark: a line of megabytes with a thousand
/// findings on it would else be counted from its start a thousand times.
const STRIDE: usize = 4096;

/// What has been counted from the start of the text to a byte.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Mark {
    at: u32,
    utf16: u32,
    utf32: u32,
}

impl Mark {
    fn counted(self, encoding: Encoding) -> u32 {
        match encoding {
            Encoding::Utf8 => self.at,
            Encoding::Utf16 => self.utf16,
            Encoding::Utf32 => self.utf32,
        }
    }
}

impl LineIndex {
    /// Finds the lines of `text`. An empty text has one line.
    #[must_use]
    pub fn new(text: &str) -> Self {
        let bytes = text.as_bytes();
        let mut starts = vec![0];
        for (at, byte) in bytes.iter().enumerate() {
            let ends_line = *byte == b'\n' || (*byte == b'\r' && bytes.get(at + 1) != Some(&b'\n'));
            if ends_line {
                starts.push(u32::try_from(at + 1).unwrap_or(u32::MAX));
            }
        }
        let length = u32::try_from(bytes.len()).unwrap_or(u32::MAX);
        let mut next = starts.iter().skip(1).copied().chain([length]).zip(&starts);
        let has_long_line = next.any(|(end, start)| (end - start) as usize > STRIDE);
        let marks = if has_long_line { marks(text) } else { Vec::new() };
        Self { starts, length, marks }
    }

    /// How many lines there are; at least 1.
    #[must_use]
    pub fn lines(&self) -> u32 {
        u32::try_from(self.starts.len()).unwrap_or(u32::MAX)
    }

    /// The line that byte `at` lies on.
    #[must_use]
    pub fn line(&self, at: u32) -> u32 {
        u32::try_from(self.starts.partition_point(|start| *start <= at).saturating_sub(1)).unwrap_or(u32::MAX)
    }

    /// The byte range of a line, line end included; `None` past the last line.
    #[must_use]
    pub fn range(&self, line: u32) -> Option<(u32, u32)> {
        let start = *self.starts.get(line as usize)?;
        let end = self.starts.get(line as usize + 1).copied().unwrap_or(self.length);
        Some((start, end))
    }

    /// The line and column of byte `at`, clamped to the text and moved back to a character's start.
    #[must_use]
    pub fn locate(&self, text: &str, at: u32, encoding: Encoding) -> LineColumn {
        let mut at = (at.min(self.length) as usize).min(text.len());
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        let line = self.line(u32::try_from(at).unwrap_or(u32::MAX));
        let start = self.starts.get(line as usize).copied().unwrap_or(0) as usize;
        let column = if at - start <= STRIDE {
            width(text.get(start..at).unwrap_or(""), encoding)
        } else {
            self.counted(text, at, encoding) - self.counted(text, start, encoding)
        };
        LineColumn { line, column }
    }

    /// The width of the text up to byte `at`, counted from the nearest mark before.
    fn counted(&self, text: &str, at: usize, encoding: Encoding) -> u32 {
        let before = self.marks.partition_point(|mark| mark.at as usize <= at);
        let mark = before.checked_sub(1).and_then(|mark| self.marks.get(mark)).copied().unwrap_or_default();
        mark.counted(encoding) + width(text.get(mark.at as usize..at).unwrap_or(""), encoding)
    }

    /// The byte offset of a line and column. A line past the end gives the end of the text; a column past the end of
    /// its line gives the end of the line, before its line end; a column inside a character gives the character's start.
    #[must_use]
    pub fn offset(&self, text: &str, position: LineColumn, encoding: Encoding) -> u32 {
        let Some((start, end)) = self.range(position.line) else { return self.length };
        let line = text.get(start as usize..end as usize).unwrap_or("");
        let line = line.trim_end_matches(['\n', '\r']);
        let mut column = 0;
        for (at, character) in line.char_indices() {
            let next = column + width_of(character, encoding);
            if next > position.column {
                return start + u32::try_from(at).unwrap_or(0);
            }
            column = next;
        }
        start + u32::try_from(line.len()).unwrap_or(0)
    }
}

fn marks(text: &str) -> Vec<Mark> {
    let mut marks = vec![Mark::default()];
    let mut now = Mark::default();
    let mut last = 0;
    for character in text.chars() {
        now.at += width_of(character, Encoding::Utf8);
        now.utf16 += width_of(character, Encoding::Utf16);
        now.utf32 += 1;
        if (now.at - last) as usize >= STRIDE {
            marks.push(now);
            last = now.at;
        }
    }
    marks
}

fn width(text: &str, encoding: Encoding) -> u32 {
    text.chars().map(|character| width_of(character, encoding)).sum()
}

fn width_of(character: char, encoding: Encoding) -> u32 {
    let width = match encoding {
        Encoding::Utf8 => character.len_utf8(),
        Encoding::Utf16 => character.len_utf16(),
        Encoding::Utf32 => 1,
    };
    u32::try_from(width).unwrap_or(4)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_in_three_encodings() {
        let text = "a µ😀b\r\nc\rd\n";
        let index = LineIndex::new(text);
        assert_eq!(index.lines(), 4);
        let b = u32::try_from(text.find('b').unwrap()).unwrap();
        for (encoding, column) in [(Encoding::Utf8, 8), (Encoding::Utf16, 5), (Encoding::Utf32, 4)] {
            let place = index.locate(text, b, encoding);
            assert_eq!(place, LineColumn { line: 0, column });
            assert_eq!(index.offset(text, place, encoding), b);
        }
        let d = u32::try_from(text.find('d').unwrap()).unwrap();
        assert_eq!(index.locate(text, d, Encoding::Utf16), LineColumn { line: 2, column: 0 });
    }

    #[test]
    fn columns_of_long_lines_are_counted_as_those_of_short_ones() {
        let text = format!("head\n{}\nshort", "aµ😀".repeat(3 * STRIDE));
        let index = LineIndex::new(&text);
        let line = &text[5..];
        for (count, (at, _)) in line.char_indices().enumerate().step_by(997) {
            let whole = text.get(5..5 + at).unwrap();
            for encoding in [Encoding::Utf8, Encoding::Utf16, Encoding::Utf32] {
                let place = index.locate(&text, u32::try_from(5 + at).unwrap(), encoding);
                assert_eq!(place, LineColumn { line: 1, column: width(whole, encoding) }, "{count}");
            }
        }
    }

    #[test]
    fn a_column_past_the_line_stops_before_the_line_end() {
        let text = "ab\r\nc";
        let index = LineIndex::new(text);
        assert_eq!(index.offset(text, LineColumn { line: 0, column: 99 }, Encoding::Utf16), 2);
        assert_eq!(index.offset(text, LineColumn { line: 9, column: 0 }, Encoding::Utf16), 5);
    }

    #[test]
    fn a_column_inside_a_character_gives_its_start() {
        let text = "😀x";
        let index = LineIndex::new(text);
        assert_eq!(index.offset(text, LineColumn { line: 0, column: 1 }, Encoding::Utf16), 0);
        assert_eq!(index.locate(text, 2, Encoding::Utf8), LineColumn { line: 0, column: 0 });
    }
}
