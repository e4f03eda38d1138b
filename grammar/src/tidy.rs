//! The one layout.

mod atom;
mod cell;
mod class;
mod edits;
mod kept;
mod line;
mod order;
mod row;
mod run;
mod value;
mod write;

use crate::{Parse, parse::braces_match, syntax::Item, token::TokenKind};

pub use edits::edits;

/// Lays a text out.
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
