//! The one layout: how a file of the language looks when it is tidy. It has no options and belongs to the edition.
//!
//! Only blanks, line ends, redundant semicolons and the spelling of units and `±` change; words, numbers, texts, comments
//! and their order stay, and so does what the text says.
//!
//! **Lines.** One statement, core, setting or line of a mode on each. Blocks are indented by two blanks and close on a line
//! of their own. A block of settings or a mode that was written on one line stays there if the line, columns left out of
//! account, is no longer than 100 characters. A list broken behind commas is joined if it then fits, else its further lines
//! are indented by four; so are line ends in parentheses, which stay. At most one empty line in a row, none at the start of
//! the file or of a block nor at its end; one line end at the file's end. The first line end of the file, `\r\n` or else
//! `\n`, decides for all. A byte order mark goes.
//!
//! **Columns.** Consecutive lines of one sort stand in columns: wires, the cores of a harness, things of whatever kind,
//! ties, the settings of a block, and so on; an empty line, a comment, or a block that does not stay on its line ends the
//! run. What decides a cell's column is what it is for (name, end, size, colour, length, other values, `on`, `at`, block),
//! so a line may leave cells out. The order is the author's: a line that has two cells the other way round begins a new
//! run. Sizes and lengths stand with their numbers right-aligned. Columns are one blank apart. A cell wider than 32
//! characters does not stretch its column, nor does one that nothing follows on its line.
//!
//! **Blanks.** One between number and unit, but `6S` and `2P`, as packs are marked; one around `..`, `±`, `:`, `=` and
//! operations, one behind a comma, none inside parentheses and around the dot of a path.
//!
//! **Comments** stay on their line, two blanks off it and in one column within a run; those of their own line get the
//! indent of what surrounds them. A comment right below another one's `#` at a line's end stays below it.
//!
//! **What cannot be read is left alone**: the lines of a statement with an error are kept as they are. A file whose braces
//! do not match, or whose edition is another, is not touched at all: there the indent is the only witness of what was
//! meant, and here the layout is not ours.

mod atom;
mod cell;
mod class;
mod edits;
mod kept;
mod line;
mod order;
mod row;
mod run;
mod spacing;
mod value;
mod write;

use crate::{Parse, parse::braces_match, syntax::Item, token::TokenKind};

pub use edits::edits;

/// The text of a file in the one layout; `parse` must be that of `text`. Total: any text has a layout, in the worst case its
/// own. A second run changes nothing.
#[must_use]
pub fn tidy(parse: &Parse, text: &str) -> String {
    if !is_ours(parse, text) {
        return text.to_owned();
    }
    let kept = kept::lines(parse, text);
    let atoms = atom::cut(text, &parse.tokens, &kept);
    let rows = row::rows(text, &atoms);
    let laid_out = write::rows(text, &atoms, &rows, line_end(parse, text));
    if laid_out.starts_with(MARK) { format!("{MARK}{laid_out}") } else { laid_out }
}

const MARK: char = '\u{feff}';

/// Whether the layout can be sure of a text.
fn is_ours(parse: &Parse, text: &str) -> bool {
    let whole = parse.tokens.last().map_or(0, |token| token.end as usize) == text.len();
    let read = !parse.file.items.is_empty() || parse.errors.is_empty();
    let known =
        parse.file.items.iter().all(|item| !matches!(item, Item::Edition(edition) if edition.number != 1));
    whole && read && known && braces_match(text, &parse.tokens)
}

/// The first line end decides for all.
fn line_end(parse: &Parse, text: &str) -> &'static str {
    let first = parse.tokens.iter().find(|token| token.kind == TokenKind::Newline);
    let first = first.and_then(|token| text.get(token.start as usize..token.end as usize));
    if first == Some("\r\n") { "\r\n" } else { "\n" }
}
