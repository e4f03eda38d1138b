//! Words of statements that could not be read: a name among them may be defined there, so nobody complains about it.

use std::collections::HashSet;

use wattle_grammar::{span::Span, syntax::Item, token::TokenKind};

use crate::project::{Project, SourceFile};

/// The words of all broken statements, and whether whole files are missing.
#[derive(Debug, Default)]
pub(super) struct Broken<'a> {
    words: HashSet<&'a str>,
    lacks_text: bool,
}

impl<'a> Broken<'a> {
    pub(super) fn new(project: &'a Project) -> Self {
        let mut broken = Self { words: HashSet::new(), lacks_text: project.lacks_text() };
        for file in &project.files {
            broken.add_items(file, &file.parse.file.items);
        }
        broken
    }

    /// Whether `name` may be defined in text that could not be read. Every part of a dotted path counts by itself.
    pub(super) fn may_define(&self, name: &str) -> bool {
        self.lacks_text || (!self.words.is_empty() && name.split('.').any(|part| self.words.contains(part)))
    }

    fn add_items(&mut self, file: &'a SourceFile, items: &'a [Item]) {
        for item in items {
            match item {
                Item::Broken(span) => self.add_words(file, *span),
                Item::Assembly(assembly) => self.add_items(file, &assembly.items),
                _ => {}
            }
        }
    }

    fn add_words(&mut self, file: &'a SourceFile, span: Span) {
        let tokens = &file.parse.tokens;
        let first = tokens.partition_point(|token| token.end <= span.start);
        for token in tokens.iter().skip(first).take_while(|token| token.start < span.end) {
            if token.kind == TokenKind::Word {
                self.words.insert(Span::new(span.file, token.start, token.end).slice(&file.text));
            }
        }
    }
}
