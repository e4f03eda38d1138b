//! Tables that fit: columns that do not go side by side go below each other, what is too long for its column is cut in
//! the middle and told in full below.

use std::collections::BTreeMap;

use super::prose::filled;

/// Blanks between columns.
const GAP: usize = 2;

/// The least width of a column that something is cut down to.
const LEAST: usize = 8;

/// A cell.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Cell {
    /// A name of the text, set in by so many steps.
    Name(String, usize),
    /// A mode and the words of a corner.
    At(String, String),
    /// Anything else.
    Text(String),
}

impl Cell {
    pub(super) fn name(name: impl Into<String>) -> Self {
        Self::Name(name.into(), 0)
    }

    pub(super) fn text(text: impl Into<String>) -> Self {
        Self::Text(text.into())
    }

    /// What stands in a column of at most so many characters.
    fn fit(&self, most: usize, legend: &mut Legend) -> String {
        match self {
            Self::Name(name, steps) => {
                let indent = (2 * steps).min(most.saturating_sub(LEAST));
                " ".repeat(indent) + &legend.fit(name, most - indent)
            }
            Self::At(mode, corner) => {
                let room = most.saturating_sub(corner.chars().count() + 2);
                if room < LEAST {
                    return legend.fit(&format!("{mode}, {corner}"), most);
                }
                format!("{}, {corner}", legend.fit(mode, room))
            }
            Self::Text(text) => legend.fit(text, most),
        }
    }
}

/// A column's heading and side.
#[derive(Clone, Copy, Debug)]
pub(super) struct Column {
    pub(super) heading: &'static str,
    right: bool,
}

/// A column of names or words.
pub(super) const fn left(heading: &'static str) -> Column {
    Column { heading, right: false }
}

/// A column of numbers.
pub(super) const fn right(heading: &'static str) -> Column {
    Column { heading, right: true }
}

/// A table; its first column is repeated where it has to be broken.
#[derive(Clone, Debug)]
pub(super) struct Table {
    pub(super) title: String,
    pub(super) columns: Vec<Column>,
    pub(super) rows: Vec<Vec<Cell>>,
    /// Short lines below it.
    pub(super) list: Vec<String>,
    /// Sentences below that.
    pub(super) notes: Vec<String>,
}

impl Table {
    pub(super) fn new(title: impl Into<String>, columns: Vec<Column>) -> Self {
        Self { title: title.into(), columns, rows: Vec::new(), list: Vec::new(), notes: Vec::new() }
    }

    fn is_empty(&self) -> bool {
        self.rows.is_empty() && self.list.is_empty() && self.notes.is_empty()
    }

    /// The table as text, at most `width` columns wide; nothing without rows and notes.
    pub(super) fn text(&self, width: usize) -> String {
        if self.is_empty() {
            return String::new();
        }
        let mut out = filled(0, &self.title, width);
        if !self.rows.is_empty() {
            out.push_str(&self.grid(width));
        }
        out.extend(self.list.iter().chain(&self.notes).map(|line| filled(2, line, width)));
        out
    }

    fn grid(&self, width: usize) -> String {
        let mut legend = Legend::default();
        let laid = self.laid(width, &mut legend);
        let mut out = String::new();
        let first = laid.first().map_or(0, |column| column.width);
        let mut at = 1;
        while at < laid.len() || (at == 1 && laid.len() == 1) {
            let end = fitting(&laid, at, width.saturating_sub(first));
            let part: Vec<&Laid> = laid.iter().take(1).chain(laid.get(at..end).unwrap_or(&[])).collect();
            for row in 0..=self.rows.len() {
                out.push_str(&line(&part, row));
            }
            at = end;
        }
        out.push_str(&legend.text(width));
        out
    }

    /// Every column with its heading and cells, cut to what may stand there.
    fn laid(&self, width: usize, legend: &mut Legend) -> Vec<Laid> {
        let most_first = (width * 3 / 8).max(LEAST);
        let mut first = 0;
        let mut laid = Vec::new();
        for (at, column) in self.columns.iter().enumerate() {
            let most = if at == 0 { most_first } else { width.saturating_sub(first + GAP).max(LEAST) };
            let mut cells = vec![legend.fit(column.heading, most)];
            cells.extend(
                self.rows
                    .iter()
                    .map(|row| row.get(at).map_or_else(String::new, |cell| cell.fit(most, legend))),
            );
            let width = cells.iter().map(|cell| cell.chars().count()).max().unwrap_or(0);
            if at == 0 {
                first = width;
            }
            laid.push(Laid { cells, width, right: column.right });
        }
        laid
    }

    /// The table in Markdown.
    pub(super) fn markdown(&self) -> String {
        if self.is_empty() {
            return String::new();
        }
        let mut out = format!("### {}\n\n", super::markdown::escaped(&self.title));
        if !self.rows.is_empty() {
            let headings: Vec<&str> = self.columns.iter().map(|column| column.heading).collect();
            out.push_str(&format!("| {} |\n", headings.join(" | ")));
            let rules: Vec<&str> =
                self.columns.iter().map(|column| if column.right { "--:" } else { ":--" }).collect();
            out.push_str(&format!("| {} |\n", rules.join(" | ")));
        }
        for row in &self.rows {
            let cells: Vec<String> = row.iter().map(super::markdown::cell).collect();
            out.push_str(&format!("| {} |\n", cells.join(" | ")));
        }
        if !self.rows.is_empty() {
            out.push('\n');
        }
        out.extend(self.list.iter().map(|line| format!("- {}\n", super::markdown::escaped(line))));
        if !self.list.is_empty() {
            out.push('\n');
        }
        out.extend(self.notes.iter().map(|note| format!("{}\n\n", super::markdown::escaped(note))));
        out
    }
}

/// A column ready to be printed.
struct Laid {
    cells: Vec<String>,
    width: usize,
    right: bool,
}

/// The column behind the last one that still goes beside those from `at` on; one at least.
fn fitting(laid: &[Laid], at: usize, mut room: usize) -> usize {
    let mut end = at;
    while let Some(column) = laid.get(end) {
        let wide = column.width + GAP;
        if wide > room && end > at {
            break;
        }
        room = room.saturating_sub(wide);
        end += 1;
    }
    end.max(at + 1)
}

fn line(part: &[&Laid], row: usize) -> String {
    let mut line = String::new();
    for (at, column) in part.iter().enumerate() {
        let cell = column.cells.get(row).map_or("", String::as_str);
        let pad = " ".repeat(column.width - cell.chars().count());
        if at > 0 {
            line.push_str("  ");
        }
        if column.right {
            line.push_str(&pad);
            line.push_str(cell);
        } else {
            line.push_str(cell);
            line.push_str(&pad);
        }
    }
    line.truncate(line.trim_end().len());
    line.push('\n');
    line
}

/// What was cut, with what it is in full.
#[derive(Default)]
struct Legend {
    cut: BTreeMap<String, String>,
    /// The cut form of each full text, in the order of first use.
    order: Vec<(String, String)>,
    known: BTreeMap<(usize, String), String>,
    /// How many texts were cut to the same form, so that each gets a number of its own at once.
    alike: BTreeMap<String, usize>,
}

impl Legend {
    /// `text` in at most `most` characters: cut in the middle, unlike any other that is cut here.
    fn fit(&mut self, text: &str, most: usize) -> String {
        if text.chars().count() <= most {
            return text.to_owned();
        }
        if let Some(known) = self.known.get(&(most, text.to_owned())) {
            return known.clone();
        }
        let plain = cut(text, most, "…");
        let mut short = plain.clone();
        while self.cut.get(&short).is_some_and(|full| full != text) {
            let number = self.alike.entry(plain.clone()).or_insert(1);
            *number += 1;
            short = cut(text, most, &format!("…{number}…"));
        }
        if self.cut.insert(short.clone(), text.to_owned()).is_none() {
            self.order.push((short.clone(), text.to_owned()));
        }
        self.known.insert((most, text.to_owned()), short.clone());
        short
    }

    fn text(&self, width: usize) -> String {
        self.order.iter().map(|(short, full)| filled(4, &format!("{short} is {full}"), width)).collect()
    }
}

/// The two ends of a text with `mark` between them, `most` characters in all.
fn cut(text: &str, most: usize, mark: &str) -> String {
    let keep = most.saturating_sub(mark.chars().count());
    let (head, tail) = (keep.div_ceil(2), keep / 2);
    let count = text.chars().count();
    let mut short: String = text.chars().take(head).collect();
    short.push_str(mark);
    short.extend(text.chars().skip(count.saturating_sub(tail)));
    short
}

#[cfg(test)]
mod tests {
    use super::*;

    fn table() -> Table {
        let mut table = Table::new("loads", vec![left("name"), right("current"), left("at")]);
        table.rows.push(vec![Cell::name("LAMP"), Cell::text("2 A"), Cell::text("run, full")]);
        table.rows.push(vec![Cell::Name("M".to_owned(), 1), Cell::text("12.5 mA"), Cell::text("run, empty")]);
        table
    }

    #[test]
    fn columns_are_aligned() {
        let expected = "loads\nname  current  at\nLAMP      2 A  run, full\n  M   12.5 mA  run, empty\n";
        assert_eq!(table().text(80), expected);
    }

    #[test]
    fn what_does_not_go_side_by_side_goes_below() {
        let expected = "loads\nname  current\nLAMP      2 A\nM     12.5 mA\nname  at\nLAMP  run, full\nM     run, empty\n";
        assert_eq!(table().text(20), expected);
    }

    #[test]
    fn long_names_are_cut_in_the_middle_each_in_its_own_way_and_told_in_full_below() {
        let mut table = Table::new("t", vec![left("name"), right("x")]);
        for middle in ["alpha", "beta"] {
            table.rows.push(vec![Cell::name(format!("left-knee-{middle}-motor-wire")), Cell::text("1 A")]);
        }
        let text = table.text(40);
        assert!(text.contains("left-kn…or-wire  1 A\n"), "{text}");
        assert!(text.contains("left-k…2…r-wire  1 A\n"), "{text}");
        assert!(text.contains("    left-k…2…r-wire is\n      left-knee-beta-motor-wire\n"), "{text}");
        assert!(text.lines().all(|line| line.chars().count() <= 40), "{text}");
    }

    #[test]
    fn nothing_is_told_of_nothing() {
        assert_eq!(Table::new("t", vec![left("name")]).text(80), "");
        assert_eq!(Table::new("t", vec![left("name")]).markdown(), "");
    }
}
