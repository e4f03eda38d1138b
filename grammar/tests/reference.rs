//! The language reference: its generated parts are those of the table.
//!
//! `UPDATE=1 cargo test -p wattle-grammar --test reference` rewrites the generated parts.

// A test may read and write the page; the ban is for the library.
#![allow(clippy::disallowed_methods)]

use wattle_grammar::kind::page;

const PATH: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/REFERENCE.md");

fn reference() -> String {
    std::fs::read_to_string(PATH).unwrap_or_default()
}

#[test]
fn generated_parts_are_those_of_the_table() {
    let page = reference();
    for page::Part { name, .. } in page::PARTS {
        assert!(page.contains(&format!("<!-- begin {name} -->")), "the reference has no part {name}");
    }
    let fresh = page::refresh(&page);
    if std::env::var_os("UPDATE").is_some() {
        std::fs::write(PATH, &fresh).expect("the reference can be written");
    } else {
        assert!(page == fresh, "REFERENCE.md is out of date: run with UPDATE=1");
    }
}
