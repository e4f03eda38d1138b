//! Tests of the lexer: shapes by example, and coverage of any text.

use super::*;
use TokenKind as T;
use proptest::prelude::*;

/// The tokens of a text, blanks left out, each with its text.
fn tokens(text: &str) -> Vec<(T, &str)> {
    let all = lex(text).into_iter();
    all.filter(|token| token.kind != T::Space)
        .map(|token| (token.kind, &text[token.start as usize..token.end as usize]))
        .collect()
}

fn kinds(text: &str) -> Vec<T> {
    tokens(text).into_iter().map(|(kind, _)| kind).collect()
}

#[test]
fn a_word_behind_the_dot_of_a_path_may_begin_with_a_digit() {
    assert_eq!(tokens("K1.13"), [(T::Word, "K1"), (T::Dot, "."), (T::Word, "13")]);
    assert_eq!(
        tokens("left.K1.87a"),
        [(T::Word, "left"), (T::Dot, "."), (T::Word, "K1"), (T::Dot, "."), (T::Word, "87a")]
    );
    assert_eq!(tokens("K1 .13").last(), Some(&(T::Number, "13")));
}

#[test]
fn two_dots_are_a_range_and_one_is_a_decimal_point() {
    assert_eq!(tokens("6..30 V"), [(T::Number, "6"), (T::DotDot, ".."), (T::Number, "30"), (T::Word, "V")]);
    assert_eq!(tokens("6.5..7.25"), [(T::Number, "6.5"), (T::DotDot, ".."), (T::Number, "7.25")]);
    assert_eq!(kinds("5 degC .. 35 degC"), [T::Number, T::Word, T::DotDot, T::Number, T::Word]);
    assert_eq!(tokens("K1.13..K1.14").len(), 7);
}

#[test]
fn numbers_take_grouping_and_exponents() {
    for number in ["1_000.5", "1e3", "2.5e-3", "7E+2", "0", "1_2_3"] {
        assert_eq!(tokens(number), [(T::Number, number)]);
    }
    assert_eq!(tokens("12V"), [(T::Number, "12"), (T::Word, "V")]);
    assert_eq!(tokens("4k7"), [(T::Number, "4"), (T::Word, "k7")]);
    assert_eq!(tokens("1e"), [(T::Number, "1"), (T::Word, "e")]);
    assert_eq!(tokens("1__0"), [(T::Number, "1"), (T::Word, "__0")]);
}

#[test]
fn packs_are_marked_with_cells_and_strings_in_one() {
    assert_eq!(tokens("6S2P"), [(T::Number, "6"), (T::Word, "S"), (T::Number, "2"), (T::Word, "P")]);
    assert_eq!(tokens("6S"), [(T::Number, "6"), (T::Word, "S")]);
    assert_eq!(tokens("6S2Px"), [(T::Number, "6"), (T::Word, "S2Px")]);
}

#[test]
fn a_date_needs_its_form() {
    assert_eq!(tokens("2027-03-01"), [(T::Date, "2027-03-01")]);
    assert_eq!(kinds("2027-3-1"), [T::Number, T::Minus, T::Number, T::Minus, T::Number]);
    assert_eq!(kinds("2027-03-012"), [T::Number, T::Minus, T::Number, T::Minus, T::Number]);
    assert_eq!(kinds("12027-03-01"), [T::Number, T::Minus, T::Number, T::Minus, T::Number]);
}

#[test]
fn units_hold_signs_and_solidi_only_where_units_stand() {
    for unit in ["mm²", "mm^2", "A²s", "µF", "μF", "Ω", "\u{2126}", "°C", "A·h", "rpm/V", "mohm/m", "mΩ/m"]
    {
        assert_eq!(tokens(&format!("12 {unit}")), [(T::Number, "12"), (T::Word, unit)]);
    }
    assert_eq!(kinds("red/white"), [T::Word, T::Slash, T::Word]);
    assert_eq!(kinds("10 A/B"), [T::Number, T::Word, T::Slash, T::Word]);
}

#[test]
fn words_keep_inner_hyphens_only() {
    assert_eq!(tokens("S-KEY"), [(T::Word, "S-KEY")]);
    assert_eq!(tokens("A- B"), [(T::Word, "A"), (T::Minus, "-"), (T::Word, "B")]);
    assert_eq!(kinds("A->B"), [T::Word, T::Minus, T::Unknown, T::Word]);
}

#[test]
fn texts_close_on_their_line_or_not_at_all() {
    assert_eq!(tokens(r#""a \" b \\" x"#), [(T::Text, r#""a \" b \\""#), (T::Word, "x")]);
    assert_eq!(tokens("\"open\nnext"), [(T::OpenText, "\"open"), (T::Newline, "\n"), (T::Word, "next")]);
    assert_eq!(tokens("\"end"), [(T::OpenText, "\"end")]);
    assert_eq!(tokens("\"end\\"), [(T::OpenText, "\"end\\")]);
}

#[test]
fn line_ends_are_the_three_of_the_editors() {
    assert_eq!(kinds("a\r\nb\rc\n"), [T::Word, T::Newline, T::Word, T::Newline, T::Word, T::Newline]);
    assert_eq!(tokens("# note\r\nx").first(), Some(&(T::Comment, "# note")));
}

#[test]
fn signs_have_an_ascii_and_a_printed_spelling() {
    assert_eq!(
        kinds("{ } ( ) , ; : . .. = >= <= ± + - * / %"),
        kinds("{ } ( ) , ; : . .. = ≥ ≤ +/- + − × ÷ %")
    );
    assert_eq!(kinds("> < @ !"), [T::Unknown, T::Unknown, T::Unknown, T::Unknown]);
}

#[test]
fn blanks_of_different_characters_are_one_token() {
    let kinds: Vec<_> = lex("12 \u{a0}\t\u{202f}V").into_iter().map(|token| token.kind).collect();
    assert_eq!(kinds, [T::Number, T::Space, T::Word]);
}

#[test]
fn what_belongs_to_nothing_is_one_token_for_one_mistake() {
    assert_eq!(tokens("“Key” x"), [(T::Unknown, "“Key”"), (T::Word, "x")]);
    assert_eq!(tokens("Gehäuse-2 x"), [(T::Unknown, "Gehäuse-2"), (T::Word, "x")]);
    assert_eq!(tokens("\0\u{7}x"), [(T::Unknown, "\0\u{7}"), (T::Word, "x")]);
    assert_eq!(tokens("\u{feff}a\u{a0}b"), [(T::Word, "a"), (T::Word, "b")].map(|it| it));
}

/// Every byte in exactly one token, in order, on character boundaries, none empty.
fn assert_covers(text: &str) {
    let mut at = 0;
    for token in lex(text) {
        assert_eq!(token.start, at, "gap or overlap in {text:?}");
        assert!(token.end > token.start, "empty token in {text:?}");
        assert!(text.is_char_boundary(token.end as usize), "cut character in {text:?}");
        at = token.end;
    }
    assert_eq!(at as usize, text.len(), "text not covered: {text:?}");
}

proptest! {
    #[test]
    fn any_text_is_covered(text in any::<String>()) {
        assert_covers(&text);
    }

    #[test]
    fn any_bytes_are_covered(bytes in proptest::collection::vec(any::<u8>(), 0..200)) {
        assert_covers(&String::from_utf8_lossy(&bytes));
    }

    #[test]
    fn any_mixture_of_the_languages_own_pieces_is_covered(
        pieces in proptest::collection::vec(proptest::sample::select(vec![
            "wire", "K1", ".", "13", "..", "6", "S", "2P", "-", "\"", "\\", "µ", "Ω/m", "/", "^2", "2027-03-01", "#", "\n", "\r",
            " ", "{", "}", "“", "”", "ä", "±", "+/-", "e", "_", ",", "°C", "\u{feff}", "rpm/V",
        ]), 0..40)
    ) {
        assert_covers(&pieces.concat());
    }
}
