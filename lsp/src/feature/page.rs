//! A small page of text for a hover, written as Markdown or as plain text.

use std::fmt::Write;

/// A page: blocks, one below the other.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Page {
    blocks: Vec<Block>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
enum Block {
    Title(String),
    Text(String),
    Markdown(String),
    List(Vec<String>),
    Table { head: Vec<String>, rows: Vec<Vec<String>> },
}

impl Page {
    /// Adds a title.
    pub fn title(&mut self, text: impl Into<String>) {
        self.blocks.push(Block::Title(text.into()));
    }

    /// Adds a paragraph.
    pub fn text(&mut self, text: impl Into<String>) {
        self.blocks.push(Block::Text(text.into()));
    }

    /// Adds a text that is Markdown already.
    pub fn markdown_text(&mut self, text: impl Into<String>) {
        self.blocks.push(Block::Markdown(text.into()));
    }

    /// Adds a list; an empty one is left out.
    pub fn list(&mut self, items: Vec<String>) {
        if !items.is_empty() {
            self.blocks.push(Block::List(items));
        }
    }

    /// Adds a table; one without rows is left out. Every row has as many cells as the head.
    pub fn table(&mut self, head: &[&str], rows: Vec<Vec<String>>) {
        if !rows.is_empty() {
            let head = head.iter().map(|cell| (*cell).to_owned()).collect();
            self.blocks.push(Block::Table { head, rows });
        }
    }

    /// Whether there is nothing on the page.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.blocks.is_empty()
    }

    /// The page as Markdown.
    #[must_use]
    pub fn markdown(&self) -> String {
        join(self.blocks.iter().map(Block::markdown))
    }

    /// The page as plain text.
    #[must_use]
    pub fn plain(&self) -> String {
        join(self.blocks.iter().map(Block::plain))
    }
}

fn join(blocks: impl Iterator<Item = String>) -> String {
    blocks.collect::<Vec<_>>().join("\n\n")
}

impl Block {
    fn markdown(&self) -> String {
        match self {
            Self::Title(text) => format!("**{}**", escaped(text)),
            Self::Text(text) => escaped(text),
            Self::Markdown(text) => text.clone(),
            Self::List(items) => lines(items.iter().map(|item| format!("- {}", escaped(item)))),
            Self::Table { head, rows } => markdown_table(head, rows),
        }
    }

    fn plain(&self) -> String {
        match self {
            Self::Title(text) | Self::Text(text) => text.clone(),
            Self::Markdown(text) => unmarked(text),
            Self::List(items) => lines(items.iter().map(|item| format!("- {item}"))),
            Self::Table { head, rows } => plain_table(head, rows),
        }
    }
}

fn lines(lines: impl Iterator<Item = String>) -> String {
    lines.collect::<Vec<_>>().join("\n")
}

/// Columns are padded, for editors that show the source of a table.
fn markdown_table(head: &[String], rows: &[Vec<String>]) -> String {
    let cells = |row: &[String]| row.iter().map(|cell| escaped(cell)).collect::<Vec<_>>();
    let (head, rows) = (cells(head), rows.iter().map(|row| cells(row)).collect::<Vec<_>>());
    let widths = widths(&head, &rows);
    let line = |row: &[String]| format!("| {} |", padded(row, &widths).join(" | "));
    let rule = widths.iter().map(|width| format!("|{}", "-".repeat(width + 2))).collect::<String>() + "|";
    lines([line(&head), rule].into_iter().chain(rows.iter().map(|row| line(row))))
}

fn plain_table(head: &[String], rows: &[Vec<String>]) -> String {
    let widths = widths(head, rows);
    let line = |row: &[String]| padded(row, &widths).join("  ").trim_end().to_owned();
    lines(std::iter::once(line(head)).chain(rows.iter().map(|row| line(row))))
}

fn widths(head: &[String], rows: &[Vec<String>]) -> Vec<usize> {
    let width = |column: usize| {
        let cells =
            std::iter::once(head).chain(rows.iter().map(Vec::as_slice)).filter_map(|row| row.get(column));
        cells.map(|cell| cell.chars().count()).max().unwrap_or(0)
    };
    (0..head.len()).map(width).collect()
}

fn padded(row: &[String], widths: &[usize]) -> Vec<String> {
    row.iter().zip(widths).map(|(cell, width)| format!("{cell:<width$}", width = *width)).collect()
}

/// Markdown without its marks for code and stress.
fn unmarked(text: &str) -> String {
    let kept = text.lines().filter(|line| !line.starts_with("```"));
    lines(kept.map(|line| line.replace("**", "").replace('`', "")))
}

/// Text without a meaning of its own in Markdown; what stands between backticks is code already.
fn escaped(text: &str) -> String {
    let mut result = String::with_capacity(text.len());
    let mut code = false;
    for character in text.chars() {
        code ^= character == '`';
        let special = match character {
            '\\' | '*' | '_' | '[' | ']' | '#' | '~' => !code,
            '<' | '&' if !code => {
                // Writing to a string cannot fail.
                let _ = write!(result, "&{};", if character == '<' { "lt" } else { "amp" });
                continue;
            }
            '|' => true,
            _ => false,
        };
        if special {
            result.push('\\');
        }
        result.push(character);
    }
    result
}

#[cfg(test)]
mod tests {
    use super::*;

    fn page() -> Page {
        let mut page = Page::default();
        page.title("wire `W_1`");
        page.text("a <b> & *c* from A_1 to `B_2`");
        page.list(vec!["one".to_owned(), "two".to_owned()]);
        page.table(&["mode", "current"], vec![vec!["run".to_owned(), "12 A".to_owned()]]);
        page.list(Vec::new());
        page
    }

    #[test]
    fn markdown_is_escaped_outside_code() {
        let expected = "**wire `W_1`**\n\na &lt;b> &amp; \\*c\\* from A\\_1 to `B_2`\n\n- one\n- two\n\n\
                        | mode | current |\n|------|---------|\n| run  | 12 A    |";
        assert_eq!(page().markdown(), expected);
    }

    #[test]
    fn markdown_loses_its_marks_in_plain_text() {
        let mut page = Page::default();
        page.markdown_text("**`fuse`** melts\n\n```wattle\nfuse F1\n```\n");
        assert_eq!(page.plain(), "fuse melts\n\nfuse F1");
    }

    #[test]
    fn plain_text_is_as_it_is() {
        let expected =
            "wire `W_1`\n\na <b> & *c* from A_1 to `B_2`\n\n- one\n- two\n\nmode  current\nrun   12 A";
        assert_eq!(page().plain(), expected);
    }
}
