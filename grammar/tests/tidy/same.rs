//! Comparison of texts by what they say, blind to places, blanks, line ends and the spelling of units.

use wattle_grammar::{
    Parse, lexer, parse,
    span::FileId,
    tidy::tidy,
    token::{Token, TokenKind},
    unit,
};

pub(crate) fn read(text: &str) -> Parse {
    parse(FileId(0), text)
}

pub(crate) fn laid_out(text: &str) -> String {
    tidy(&read(text), text)
}

/// The tree and the names of the errors, places left out.
pub(crate) fn meaning(text: &str) -> String {
    let parse = read(text);
    let errors: Vec<_> = parse.errors.iter().map(|error| error.name).collect();
    without_places(&format!("{errors:?}\n{:#?}", parse.file))
}

fn without_places(dump: &str) -> String {
    let mut parts = dump.split("Span {");
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |kept, part| kept + part.split_once('}').map_or("", |(_, rest)| rest))
}

fn slice(text: &str, token: Token) -> &str {
    &text[token.start as usize..token.end as usize]
}

/// Everything that can be seen, run together: units and `±` in their one spelling, semicolons and comments left out.
pub(crate) fn visible(text: &str) -> String {
    let seen = lexer::lex(text).into_iter().map(|token| match token.kind {
        TokenKind::Space | TokenKind::Newline | TokenKind::Semicolon | TokenKind::Comment => "",
        TokenKind::PlusMinus => "±",
        TokenKind::Word => {
            let word = slice(text, token);
            unit::by_spelling(word).map_or(word, |unit| unit.symbol)
        }
        _ => slice(text, token),
    });
    seen.collect::<String>().split_whitespace().collect()
}

/// The comments in order, blanks at their ends left out.
pub(crate) fn comments(text: &str) -> Vec<String> {
    let all = lexer::lex(text).into_iter().filter(|token| token.kind == TokenKind::Comment);
    all.map(|token| slice(text, token).trim_end_matches([' ', '\t']).to_owned()).collect()
}

/// Holds the layout of a text against its promises; gives the layout.
pub(crate) fn check(text: &str) -> String {
    let after = laid_out(text);
    assert_eq!(laid_out(&after), after, "a second run changes it, from {text:?}");
    assert_eq!(meaning(&after), meaning(text), "another meaning, from {text:?} to {after:?}");
    assert_eq!(visible(&after), visible(text), "something lost or added, from {text:?}");
    assert_eq!(comments(&after), comments(text), "comments lost or moved, from {text:?}");
    after
}
