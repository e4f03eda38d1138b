//! The spot where a statement went wrong, with what stands around it.

use crate::{
    parse::{
        lexeme::{Lexeme, Sign},
        miss::Miss,
        source::Source,
        words::Word,
    },
    span::Span,
};

/// A miss in its statement.
pub(super) struct Spot<'s, 't> {
    pub(super) miss: Miss,
    pub(super) statement: &'s [Lexeme],
    pub(super) source: &'s Source<'t>,
}

impl<'s, 't> Spot<'s, 't> {
    /// What did not fit; nothing at a line's end.
    pub(super) fn found(&self) -> Option<&'s Lexeme> {
        self.next(0)
    }

    /// The lexeme so many behind the one that did not fit, if the line goes on so far.
    pub(super) fn next(&self, offset: usize) -> Option<&'s Lexeme> {
        let line = self.statement.get(self.miss.at..self.miss.at + offset + 1)?;
        line.iter().all(|lexeme| lexeme.sign != Sign::End).then(|| line.last()).flatten()
    }

    /// The lexeme before the one that did not fit.
    pub(super) fn before(&self) -> Option<&'s Lexeme> {
        self.miss.at.checked_sub(1).and_then(|at| self.statement.get(at))
    }

    /// The sign of what was found.
    pub(super) fn sign(&self) -> Option<Sign> {
        self.found().map(|found| found.sign)
    }

    /// The sign that the statement begins with.
    pub(super) fn first(&self) -> Option<Sign> {
        self.statement.first().map(|first| first.sign)
    }

    /// Whether the statement begins with one of these words.
    pub(super) fn begins_with(&self, words: &[Word]) -> bool {
        matches!(self.first(), Some(Sign::Word(word)) if words.contains(&word))
    }

    /// The text of a lexeme.
    pub(super) fn text(&self, lexeme: &Lexeme) -> &'t str {
        self.source.slice(lexeme)
    }

    /// What did not fit; at a line's end, the lexeme before.
    pub(super) fn place(&self) -> Span {
        let lexeme = self.found().or(self.before()).or(self.statement.last());
        lexeme.map_or(Span::file_start(self.source.file), |lexeme| self.span(lexeme))
    }

    /// The place of a lexeme.
    pub(super) fn span(&self, lexeme: &Lexeme) -> Span {
        lexeme.span(self.source.file)
    }

    /// The empty place before a lexeme.
    pub(super) fn gap(&self, lexeme: &Lexeme) -> Span {
        Span::new(self.source.file, lexeme.start, lexeme.start)
    }

    /// The lexemes of the line of a block before the spot; outside blocks, those of the statement.
    pub(super) fn line(&self) -> &'s [Lexeme] {
        let before = self.statement.get(..self.miss.at.min(self.statement.len())).unwrap_or(&[]);
        let start = before.iter().rposition(|lexeme| matches!(lexeme.sign, Sign::End | Sign::Open));
        before.get(start.map_or(0, |at| at + 1)..).unwrap_or(&[])
    }

    /// Whether the spot lies in a block.
    pub(super) fn in_block(&self) -> bool {
        let before = self.statement.get(..self.miss.at).unwrap_or(&[]);
        let count = |sign: Sign| before.iter().filter(|lexeme| lexeme.sign == sign).count();
        count(Sign::Open) > count(Sign::Close)
    }

    /// The dotted path that ends right before the spot, as text.
    pub(super) fn path_before(&self) -> Option<(Span, &'t str)> {
        let before = self.statement.get(..self.miss.at)?;
        let length = before.iter().rev().scan(true, |word, lexeme| {
            let fits = if *word { lexeme.is_word() } else { lexeme.sign == Sign::Dot };
            *word = !*word;
            fits.then_some(())
        });
        self.whole(before.get(before.len() - length.count()..)?)
    }

    /// The dotted path that begins with what was found, as text.
    pub(super) fn path_found(&self) -> Option<(Span, &'t str)> {
        let rest = self.statement.get(self.miss.at..)?;
        let length = rest.iter().scan(true, |word, lexeme| {
            let fits = if *word { lexeme.is_word() } else { lexeme.sign == Sign::Dot };
            *word = !*word;
            fits.then_some(())
        });
        self.whole(rest.get(..length.count())?)
    }

    fn whole(&self, lexemes: &[Lexeme]) -> Option<(Span, &'t str)> {
        let span = self.source.span(lexemes);
        (!lexemes.is_empty()).then(|| (span, span.slice(self.source.text)))
    }

    /// The text from what was found to the end of the line, a block, or a lexeme that `ends` it.
    pub(super) fn rest(&self, ends: impl Fn(&Lexeme) -> bool) -> Option<(Span, &'t str)> {
        let rest = self.statement.get(self.miss.at..)?;
        let stop =
            |lexeme: &&Lexeme| matches!(lexeme.sign, Sign::End | Sign::Open | Sign::Close) || ends(lexeme);
        let length = rest.iter().position(|lexeme| stop(&lexeme)).unwrap_or(rest.len());
        self.whole(rest.get(..length)?)
    }
}
