//! Texts with one token left out, put in or swapped: page and parser agree on what is still a text of the language.

use std::collections::BTreeMap;

use proptest::{prelude::*, sample::Index};
use wattle_grammar::{
    kind,
    lexer::lex,
    token::{Token, TokenKind},
};

use super::{
    agreement::{disagreement, parsed},
    corpus::statements,
    sentence,
};

/// What is put in.
const PIECES: &[&str] = &[
    "at",
    "on",
    "to",
    "is",
    "in",
    "not",
    "spare",
    "dead",
    "wire",
    "motor",
    "wattle",
    "x-note",
    "_a",
    "A",
    "K1.13",
    "red/white",
    "V",
    "AWG",
    "min",
    "Amps",
    "VA",
    "VAC",
    "DC",
    "AC",
    "k",
    "mN",
    "N",
    "m",
    "x",
    "p",
    "F",
    "2",
    "5",
    "1e999",
    "5 V",
    "12 AWG",
    "AWG 2/0",
    "2/0",
    "70 %",
    "\"a\"",
    "\"",
    "2027-03-01",
    "2027-02-30",
    "{",
    "}",
    "(",
    ")",
    ",",
    ";",
    ":",
    ".",
    "..",
    "±",
    "=",
    ">=",
    "+",
    "-",
    "*",
    "/",
    "%",
    "\n",
    "# c\n",
    "µ",
    "@",
    "→",
];

/// The pieces of a text that say something.
fn pieces(text: &str) -> Vec<Token> {
    let passed = |token: &Token| token.kind.is_trivia() || token.kind == TokenKind::Newline;
    lex(text).into_iter().filter(|token| !passed(token)).collect()
}

fn slice(text: &str, token: Token) -> &str {
    &text[token.start as usize..token.end as usize]
}

fn without(text: &str, token: Token) -> String {
    format!("{}{}", &text[..token.start as usize], &text[token.end as usize..])
}

fn with(text: &str, before: Token, piece: &str) -> String {
    let (head, tail) = text.split_at(before.start as usize);
    format!("{head}{piece}{tail}")
}

fn swapped(text: &str, first: Token, second: Token) -> String {
    let between = &text[first.end as usize..second.start as usize];
    let (head, tail) = (&text[..first.start as usize], &text[second.end as usize..]);
    format!("{head}{}{between}{}{tail}", slice(text, second), slice(text, first))
}

/// The sorts of a statement's pieces; names, numbers and kinds of part are alike among themselves.
fn form(text: &str) -> String {
    let sort = |token: Token| match (token.kind, slice(text, token)) {
        (TokenKind::Word, word) if kind::by_word(word).is_some() => "kind".to_owned(),
        (TokenKind::Word, word) if word.bytes().all(|letter| letter.is_ascii_lowercase()) => word.to_owned(),
        (TokenKind::Word, _) => "Name".to_owned(),
        (kind, _) => format!("{kind:?}"),
    };
    pieces(text).into_iter().map(sort).collect::<Vec<_>>().join(" ")
}

/// One statement of each form, those of moderate length.
fn forms() -> Vec<String> {
    let moderate = statements().into_iter().filter(|text| text.len() < 200);
    let by_form: BTreeMap<String, String> = moderate.map(|text| (form(&text), text)).collect();
    by_form.into_values().collect()
}

#[test]
fn a_token_less_is_judged_alike() {
    let texts = forms();
    assert!(texts.len() > 200, "only {} forms of statements", texts.len());
    let mut wrong = Vec::new();
    for text in texts.iter().step_by(3) {
        for token in pieces(text) {
            wrong.extend(disagreement(&without(text, token)));
        }
    }
    assert!(wrong.is_empty(), "{}:\n{}", wrong.len(), wrong.join("\n---\n"));
}

#[test]
fn what_only_careless_hands_write_is_judged_alike() {
    let mut wrong = Vec::new();
    for unit in [
        "3000 VA", "3 kVA", "230 VAC", "5 k", "4 KiΩ", "5 MOHM", "5 mN", "5 p F", "2 x", "2 x18", "24 V DC",
        "24 VDC", "3 A ac", "5 m N",
    ] {
        for robot in [format!("fuse F {unit}"), format!("fuse F 5 A {{ breaking-capacity {unit} }}")] {
            assert!(parsed(&format!("wattle 1\n{robot}\n")).is_err(), "{robot}");
            wrong.extend(disagreement(&format!("wattle 1\n{robot}\n")));
        }
    }
    for text in [
        "wire W A.pos to B.pos 2.5 mm 2",
        "wire W A.pos to B.pos 2.5 mm 2 mm",
        "wire W A.pos to B.pos 2.5 mm 2/0 AWG",
        "harness H { not spare on; 1 A.pos to B.pos }",
        "harness H { no spare; not spare red; 1 A.pos to B.pos }",
        "harness H { not A spare; no A spare red; A spare; 1 A.pos to B.pos }",
        "harness H { not A J3.1 J4.1; 1 A.pos to B.pos }",
        "tie A.24 to V.DC",
        "place AWG 2/0V, A",
        "place A AWG 2/0 V",
        "wire W A.pos to B.pos AWG 2/0",
        "wire W A.pos to B.pos AWG2/0 red",
    ] {
        wrong.extend(disagreement(&format!("wattle 1\n{text}\n")));
    }
    assert!(wrong.is_empty(), "{}:\n{}", wrong.len(), wrong.join("\n---\n"));
}

/// A text changed at three places of choice.
fn changed(text: &str, way: u8, at: Index, piece: &str) -> String {
    let all = pieces(text);
    let token = all[at.index(all.len())];
    let next = all[(at.index(all.len()) + 1).min(all.len() - 1)];
    match way {
        0 => without(text, token),
        1 => with(text, token, &format!(" {piece} ")),
        2 => with(text, token, piece),
        3 if token.start < next.start => swapped(text, token, next),
        _ => text.replacen(slice(text, token), piece, 1),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(ProptestConfig::default().cases.max(400)))]

    #[test]
    fn damaged_texts_are_judged_alike(
        text in proptest::sample::select(statements()),
        way in 0_u8..5,
        at in any::<Index>(),
        piece in proptest::sample::select(PIECES),
    ) {
        let damaged = changed(&text, way, at, piece);
        prop_assert_eq!(disagreement(&damaged), None);
    }

    #[test]
    fn damaged_texts_of_chance_are_judged_alike(
        decisions in sentence::decisions(),
        way in 0_u8..5,
        at in any::<Index>(),
        piece in proptest::sample::select(PIECES),
    ) {
        let damaged = changed(&sentence::text(&decisions), way, at, piece);
        prop_assert_eq!(disagreement(&damaged), None);
    }
}

#[test]
fn damage_is_noticed_often_and_not_always() {
    let texts = forms();
    let damaged = texts.iter().flat_map(|text| pieces(text).into_iter().map(|token| without(text, token)));
    let (mut sound, mut all) = (0, 0);
    for text in damaged {
        all += 1;
        sound += usize::from(parsed(&text).is_ok());
    }
    assert!(sound * 10 > all && sound * 10 < all * 9, "{sound} of {all} are still sound");
}
