//! The word at a place of the text, with the path it ends and the statement it belongs to.

use wattle_grammar::{
    Parse,
    span::Span,
    token::{Token, TokenKind},
};

/// A word of the text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Word<'a> {
    /// The word alone: of `left.M-KNEE.pos` the part that the place lies in.
    pub text: &'a str,
    /// The path that it ends: what stands before it, dots included, and the word.
    pub path: &'a str,
    /// The whole path that it is a part of.
    pub whole: &'a str,
    /// Where the word stands.
    pub span: Span,
    /// Whether a statement or a line of a block begins with it.
    pub leads: bool,
}

/// The word at a byte or just before it.
#[must_use]
pub fn word_at<'a>(parse: &Parse, text: &'a str, at: u32) -> Option<Word<'a>> {
    let tokens = &parse.tokens;
    let behind = tokens.partition_point(|token| token.end <= at);
    let is_word = |index: &usize| tokens.get(*index).is_some_and(|token| token.kind == TokenKind::Word);
    let touching = [Some(behind), behind.checked_sub(1)].into_iter().flatten();
    let index =
        touching.filter(|index| tokens.get(*index).is_some_and(|token| token.start <= at && at <= token.end));
    let index = index.into_iter().find(is_word)?;
    let token = tokens.get(index)?;
    let (first, last) = (first_of(tokens, index), last_of(tokens, index));
    let start = tokens.get(first)?.start as usize;
    Some(Word {
        text: text.get(token.start as usize..token.end as usize)?,
        path: text.get(start..token.end as usize)?,
        whole: text.get(start..tokens.get(last)?.end as usize)?,
        span: Span { start: token.start, end: token.end, ..Span::default() },
        leads: leads(tokens, first),
    })
}

fn kind(tokens: &[Token], index: Option<usize>) -> Option<TokenKind> {
    tokens.get(index?).map(|token| token.kind)
}

/// The first word of the path.
fn first_of(tokens: &[Token], mut index: usize) -> usize {
    let word_and_dot = |index: usize| {
        kind(tokens, index.checked_sub(1)) == Some(TokenKind::Dot)
            && kind(tokens, index.checked_sub(2)) == Some(TokenKind::Word)
    };
    while word_and_dot(index) {
        index -= 2;
    }
    index
}

/// The last word of the path.
fn last_of(tokens: &[Token], mut index: usize) -> usize {
    let dot_and_word = |index: usize| {
        kind(tokens, Some(index + 1)) == Some(TokenKind::Dot)
            && kind(tokens, Some(index + 2)) == Some(TokenKind::Word)
    };
    while dot_and_word(index) {
        index += 2;
    }
    index
}

/// Whether nothing but blanks stands before a token in its statement.
fn leads(tokens: &[Token], index: usize) -> bool {
    let before = tokens.get(..index).unwrap_or_default().iter().rev().find(|token| !token.kind.is_trivia());
    before.is_none_or(|token| {
        matches!(
            token.kind,
            TokenKind::Newline | TokenKind::Semicolon | TokenKind::OpenBrace | TokenKind::CloseBrace
        )
    })
}

#[cfg(test)]
mod tests {
    use wattle_grammar::{parse, span::FileId};

    use super::*;

    fn found(text: &str, at: u32) -> Option<(&str, &str, &str, bool)> {
        let parse = parse(FileId(0), text);
        word_at(&parse, text, at).map(|word| (word.text, word.path, word.whole, word.leads))
    }

    #[test]
    fn a_path_ends_at_the_word() {
        let text = "wire W1 left.M-KNEE.pos to K1.87a";
        assert_eq!(found(text, 0), Some(("wire", "wire", "wire", true)));
        assert_eq!(found(text, 9), Some(("left", "left", "left.M-KNEE.pos", false)));
        assert_eq!(found(text, 15), Some(("M-KNEE", "left.M-KNEE", "left.M-KNEE.pos", false)));
        assert_eq!(found(text, 23), Some(("pos", "left.M-KNEE.pos", "left.M-KNEE.pos", false)));
        assert_eq!(found(text, 31), Some(("87a", "K1.87a", "K1.87a", false)));
    }

    #[test]
    fn between_words_there_is_none() {
        assert_eq!(found("a  b", 2), None);
        assert_eq!(found("", 0), None);
        assert_eq!(found("# a", 2), None);
        assert_eq!(found("{ fuse", 6), Some(("fuse", "fuse", "fuse", true)));
        assert_eq!(found("µ", 99), None);
    }
}
