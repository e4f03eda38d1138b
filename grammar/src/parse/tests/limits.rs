//! Texts beyond all use: an error each, never a crash and never a hang.

use super::{errors, read};
use crate::{LARGEST_FILE, syntax::Item};

#[test]
fn blocks_nest_to_a_limit() {
    let nest = |depth: usize| format!("{}motor M{}", "assembly A { ".repeat(depth), " }".repeat(depth));
    assert_eq!(errors(&nest(64)), Vec::<String>::new());
    assert_eq!(errors(&nest(65)), ["too-deep: {"]);
    let many = format!("{}\nfuse F 3 A", nest(10_000));
    assert_eq!(errors(&many), ["too-deep: {"]);
    assert!(matches!(
        read(&format!("wattle 1\n{many}")).file.items.as_slice(),
        [_, Item::Broken(_), Item::Thing(_)]
    ));
}

#[test]
fn ten_thousand_open_braces_are_read_to_the_end() {
    let text = "assembly A {\n".repeat(10_000);
    assert!(!errors(&text).is_empty());
    assert!(!errors(&"}\n".repeat(10_000)).is_empty());
    assert!(!errors(&"motor M {".repeat(10_000)).is_empty());
}

#[test]
fn parentheses_nest_to_a_limit() {
    let nest = |depth: usize| format!("let A = {}1 V{}", "(".repeat(depth), ")".repeat(depth));
    assert_eq!(errors(&nest(64)), Vec::<String>::new());
    assert_eq!(errors(&nest(65)), ["too-deep: ("]);
    assert_eq!(errors(&nest(100_000)), ["too-deep: ("]);
    assert_eq!(errors(&format!("let A = {}1 V", "-(".repeat(100_000))).len(), 1);
    assert_eq!(errors(&"let A = (\n".repeat(2_000)).len(), 2_000);
}

#[test]
fn long_sums_have_a_limit() {
    let sum = |terms: usize| format!("let A = 1 V{}", " + 1 V".repeat(terms));
    assert_eq!(errors(&sum(256)), Vec::<String>::new());
    assert_eq!(errors(&sum(257)), ["too-deep: +"]);
    assert_eq!(errors(&sum(100_000)), ["too-deep: +"]);
}

#[test]
fn long_lines_and_long_words_are_read() {
    let names = vec!["M"; 100_000].join(", ");
    assert_eq!(errors(&format!("motor {names}")), Vec::<String>::new());
    assert_eq!(errors(&format!("motor {} 24 V", "M".repeat(1_000_000))), Vec::<String>::new());
    assert_eq!(errors(&format!("motor M {}", "x".repeat(1_000_000))), Vec::<String>::new());
    assert_eq!(errors(&format!("motor M {} V", "9".repeat(400))).len(), 1);
    let word = "q".repeat(1_000_000);
    let parsed = read(&format!("wattle 1\n{word}"));
    assert_eq!(parsed.errors.len(), 1);
    assert!(parsed.errors[0].message.len() < 100, "the message is cut short");
}

#[test]
fn a_file_beyond_the_limit_is_one_error() {
    let text = " ".repeat(LARGEST_FILE + 1);
    let parsed = read(&text);
    assert_eq!(parsed.errors.len(), 1);
    assert_eq!((parsed.tokens.len(), parsed.tokens[0].end as usize), (1, text.len()));
}
