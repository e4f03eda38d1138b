//! The account for a person at a terminal: the worst first, then tables, then what it stands on.

use super::{
    Account, closing,
    prose::{filled, hung},
    table::Table,
    tables,
};
use crate::report::summary;

/// Every account, one after the other, and the caution once. No line is wider than `width` columns.
#[must_use]
pub fn render(accounts: &[Account<'_>], width: usize) -> String {
    let mut out: String = accounts.iter().map(|account| one(account, width) + "\n").collect();
    out.push_str(&hung(0, 2, &format!("caution: {}", summary::CAUTION), width));
    out
}

fn one(account: &Account<'_>, width: usize) -> String {
    let mut out = filled(0, &account.report.root, width);
    if let Some(view) = &account.view {
        out.push_str(&filled(2, &tables::headline(view), width));
        let tables = tables::all(view);
        let printed = tables.iter().map(|table: &Table| table.text(width)).filter(|text| !text.is_empty());
        out.extend(printed.map(|text| format!("\n{text}")));
        out.push('\n');
    }
    out + &closing_block(account, width)
}

/// The closing lists of an account.
pub(super) fn closing_block(account: &Account<'_>, width: usize) -> String {
    let mut out = String::new();
    for (word, sentences) in closing::lists(&account.report) {
        out.push_str(&format!("{word}:\n"));
        out.extend(sentences.iter().map(|sentence| hung(2, 4, &format!("- {sentence}"), width)));
    }
    out
}
