//! What the layout promises of any text.

use super::{
    program,
    same::{check, laid_out, meaning, read},
};
use proptest::prelude::*;

/// Pieces of the language, in any order: mostly nonsense.
const PIECES: &[&str] = &[
    "wattle 1",
    "wire",
    "fuse",
    "assembly",
    "harness",
    "mode",
    "place",
    "robot",
    "tie",
    "A",
    "K1",
    ".",
    "13",
    "..",
    "6",
    "S",
    "2P",
    "-",
    "+",
    "\"a\"",
    "\"",
    "µ",
    "ohm",
    "/",
    "mm2",
    "2027-03-01",
    "# c",
    "\n",
    "\n",
    "\r\n",
    "\r",
    " ",
    " ",
    "  ",
    "{",
    "}",
    ";",
    ",",
    "(",
    ")",
    "“",
    "ä",
    "±",
    "+-",
    "=",
    ":",
    "to",
    "at",
    "on",
    "\u{feff}",
    "@",
    "%",
    "V",
    "red",
];

/// Lines, most of them right, some not, at odd indents; braces may match or not.
const LINES: &[&str] = &[
    "wire W1 A.pos to B.neg 10AWG red 1 m",
    "fuse F1 40A",
    "fuse F1 40 Amps",
    "broken",
    "wire W2 A.pos",
    "@",
    "place a, b {",
    "assembly LEG {",
    "harness H 1 m {",
    "1 A.1 to B.1",
    "coil 2 A",
    "coil 2",
    "}",
    "} }",
    "tie A to B,",
    "C",
    "robot \"x\" { note \"a\" }",
    "fuse F2 3,5 A; place c",
    "mode M { everything idle; S closed }",
    "# comment",
    "",
    "let X = (1 m",
    "+ 2 m)",
    "place d  # why",
    "note \"open",
    "terminal t A.1",
    "fuse F3 1A { coil 2 A",
    "x 1 }",
    "wattle 1",
    "fit LEG as l",
    "tie A to",
    "block",
];

fn jumble() -> impl Strategy<Value = String> {
    proptest::collection::vec(proptest::sample::select(PIECES), 0..30).prop_map(|pieces| pieces.concat())
}

fn lines() -> impl Strategy<Value = String> {
    let line = (0..9_usize, proptest::sample::select(LINES));
    let ends = proptest::sample::select(vec!["\n", "\n", "\n", " \n", "\n\n", "; "]);
    let line = (line, ends).prop_map(|((indent, line), end)| format!("{}{line}{end}", " ".repeat(indent)));
    let first = proptest::sample::select(vec!["wattle 1\n", "", "wattle 2\n", "\u{feff}wattle 1\n\n\n"]);
    (first, proptest::collection::vec(line, 0..12))
        .prop_map(|(first, lines)| first.to_owned() + &lines.concat())
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn programs_keep_their_meaning(text in program::file()) {
        prop_assert_eq!(read(&text).errors, vec![], "the generator is wrong about {}", text);
        let after = check(&text);
        let crlf = text.find(['\r', '\n']).is_some_and(|at| text[at..].starts_with("\r\n"));
        let line_end = if crlf { "\r\n" } else { "\n" };
        prop_assert!(after.ends_with(line_end) && !after.ends_with(&line_end.repeat(2)));
        assert!(!after.starts_with(['\n', '\r', '\u{feff}', ' ']), "{after:?}");
        for line in after.split(line_end) {
            prop_assert!(!line.contains(['\n', '\r', '\t']) || line.contains(['"', '#']), "{line:?}");
            prop_assert_eq!(line.trim_end(), line);
        }
        prop_assert!(!after.contains(&line_end.repeat(3)));
    }

    #[test]
    fn any_text_is_laid_out_and_nothing_is_lost(text in any::<String>()) {
        check(&text);
    }

    #[test]
    fn any_jumble_is_laid_out_and_nothing_is_lost(text in jumble()) {
        check(&text);
    }

    #[test]
    fn statements_with_mistakes_stay_as_written(text in lines()) {
        check(&text);
    }

    #[test]
    fn programs_cut_short_lose_nothing(text in program::file(), share in 0.0..1.0_f64) {
        let length = text.chars().count();
        let cut: String = text.chars().take((length as f64 * share) as usize).collect();
        check(&cut);
    }

    #[test]
    fn edits_lead_from_a_program_to_its_layout(text in program::file()) {
        let after = laid_out(&text);
        let mut edited = text.clone();
        for (range, new) in wattle_grammar::tidy::edits(&text, &after).into_iter().rev() {
            edited.replace_range(range.start as usize..range.end as usize, &new);
        }
        prop_assert_eq!(edited, after);
    }
}

/// What these tests have found, kept for good.
#[test]
fn texts_that_once_went_wrong_are_right() {
    for text in [
        "wattle 1\ntie A to\n   @\n  fuse F2 3,5 A; place c\n",
        "wattle 1\nplace a, b {\n}; @\nfuse F2 3,5 A; place c\n",
        "wattle 1\ntie A to B,\n; # comment\n",
        "wattle 1\nharness B, red/white{}\n",
        "wattle 1\nassembly T {\n  plug V sheathed (1 m\n  # half\n  / 2) on W1_WITH_A_LONG_NAME { typical }\n}\n",
        "wattle 1\nlet A = 12 \u{a0}V\n",
        "(wattle 1\n;\n)",
        ",# c\n;\nA",
        "\n\u{feff}x",
    ] {
        check(text);
    }
}

#[test]
fn long_texts_of_one_piece_take_no_long_time() {
    let many = 20_000;
    check(&format!("wattle 1\ntie A to B{}\n", ", C".repeat(many)));
    check(&format!("wattle 1\n{}broken\n", "place a;".repeat(many)));
    check(&format!("wattle 1\n{}", "# c\n;\n".repeat(many)));
    check(&"{".repeat(many));
    check(&"{}".repeat(many));
    check(&format!("wattle 1\nlet A = {}1 V{}", "(".repeat(many), ")".repeat(many)));
}

#[test]
fn the_comparison_sees_a_difference() {
    assert_ne!(meaning("wattle 1\nfuse F 40 A"), meaning("wattle 1\nfuse F 40 mA"));
    assert_ne!(meaning("wattle 1\nfuse F 40 A"), meaning("wattle 1\nfuse F 40 Amps"));
    assert_eq!(meaning("wattle 1\nfuse F 40 mohm"), meaning("wattle 1\n\nfuse  F 40mΩ"));
}
