//! The account in Markdown: the same tables, names in backticks, pipes escaped.

use super::{Account, closing, table::Cell, tables};

/// Every account, one after the other, and the caution once.
#[must_use]
pub fn render(accounts: &[Account<'_>]) -> String {
    let mut out: String = accounts.iter().map(one).collect();
    out.push_str(&format!("> caution: {}\n", escaped(crate::report::summary::CAUTION)));
    out
}

fn one(account: &Account<'_>) -> String {
    let mut out = format!("## {}\n\n", code(&account.report.root));
    if let Some(view) = &account.view {
        out.push_str(&format!("{}\n\n", escaped(&tables::headline(view))));
        out.extend(tables::all(view).iter().map(super::table::Table::markdown));
    }
    out + &closing_block(account)
}

/// The closing lists of an account.
pub(super) fn closing_block(account: &Account<'_>) -> String {
    let mut out = String::new();
    for (word, sentences) in closing::lists(&account.report) {
        out.push_str(&format!("### {word}\n\n"));
        out.extend(sentences.iter().map(|sentence| format!("- {}\n", escaped(sentence))));
        out.push('\n');
    }
    out
}

/// A cell: names in backticks, pipes escaped.
pub(super) fn cell(cell: &Cell) -> String {
    let text = match cell {
        Cell::Name(name, _) if name.is_empty() => String::new(),
        Cell::Name(name, steps) => "&emsp;".repeat(*steps) + &code(name),
        Cell::At(mode, corner) => format!("{}, {}", code(mode), escaped(corner)),
        Cell::Text(text) => escaped(text),
    };
    text.replace('|', "\\|")
}

/// A name in backticks, in as many as it takes.
pub(super) fn code(name: &str) -> String {
    let name = crate::report::plain::line(name);
    let longest = name.split(|letter| letter != '`').map(str::len).max().unwrap_or(0);
    let fence = "`".repeat(longest + 1);
    if longest == 0 { format!("`{name}`") } else { format!("{fence} {name} {fence}") }
}

/// Prose in which only backticks keep their meaning.
pub(super) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut within = false;
    for letter in crate::report::plain::line(text).chars() {
        match letter {
            '`' => within = !within,
            '\\' | '*' | '_' | '<' | '>' | '[' | ']' | '#' | '~' if !within => out.push('\\'),
            _ => {}
        }
        out.push(letter);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_stand_in_backticks_and_pipes_are_escaped() {
        assert_eq!(cell(&Cell::name("W1")), "`W1`");
        assert_eq!(cell(&Cell::Name("a|b".to_owned(), 1)), "&emsp;`a\\|b`");
        assert_eq!(cell(&Cell::text("1 | 2 * x_1")), "1 \\| 2 \\* x\\_1");
        assert_eq!(code("a`b"), "`` a`b ``");
        assert_eq!(escaped("mode `off_x`, a_b"), "mode `off_x`, a\\_b");
    }
}
