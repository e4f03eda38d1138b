//! Tests of the parser.

use super::*;

#[test]
fn taste() {
    let text = include_str!("tests/taste.wattle");
    let parse = parse(FileId(0), text);
    assert_eq!(parse.errors, []);
    assert_eq!(parse.file.items.len(), 23);
}
