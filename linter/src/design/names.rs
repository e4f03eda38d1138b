//! The namespace that things, wires, harnesses and fits share, by full name; and the nearest name to a wrong one.

use std::collections::HashMap;

use wattle_grammar::{
    error::{TextError, quoted},
    nearest::nearest,
    span::Span,
};

use super::{HarnessId, ThingId, scope::ScopeId};

/// What a name stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Target {
    /// A thing.
    Thing(ThingId),
    /// A wire or core.
    Wire,
    /// A harness or cable.
    Harness(HarnessId),
    /// An assembly fitted under this name, with its scope.
    Fit(ScopeId),
    /// Something that could not be made; its error has been told.
    Withheld,
}

impl Target {
    /// The noun with its article.
    pub(super) const fn noun(self) -> &'static str {
        match self {
            Self::Thing(_) => "a thing",
            Self::Wire => "a wire",
            Self::Harness(_) => "a harness",
            Self::Fit(_) => "a fitted assembly",
            Self::Withheld => "a statement with an error",
        }
    }
}

/// Full names with what they stand for and where they are defined.
#[derive(Debug, Default)]
pub(super) struct Names {
    table: HashMap<Box<str>, (Target, Span)>,
}

impl Names {
    /// Defines a name. A second definition is an error; a thing keeps the name, anything else is withheld from then
    /// on, because nobody knows which of the two a path means.
    pub(super) fn define(&mut self, name: &str, target: Target, span: Span) -> Result<(), Box<TextError>> {
        if let Some((found, first)) = self.table.get_mut(name) {
            if !matches!(found, Target::Thing(_)) {
                *found = Target::Withheld;
            }
            return Err(Box::new(duplicate(name, span, *first)));
        }
        self.table.insert(name.into(), (target, span));
        Ok(())
    }

    /// What the name stands for.
    pub(super) fn get(&self, name: &str) -> Option<Target> {
        self.table.get(name).map(|(target, _)| *target)
    }
}

/// The error of a name defined twice.
pub(super) fn duplicate(name: &str, span: Span, first: Span) -> TextError {
    TextError::new(
        "language.duplicate-name",
        span,
        format!("{} is defined twice", quoted(name)),
        "defined again here",
    )
    .related(first, "first defined here")
    .help("give one of them another name, or take one out")
}

/// How many candidates are looked at in one lowering at most, so that a text of wrong names does not take for ever.
const LOOKS: usize = 300_000;

/// Finds nearest names, within a budget.
#[derive(Debug)]
pub(super) struct Nearest {
    looks_left: usize,
}

impl Default for Nearest {
    fn default() -> Self {
        Self { looks_left: LOOKS }
    }
}

impl Nearest {
    /// Whether nothing will be found any more.
    pub(super) const fn is_spent(&self) -> bool {
        self.looks_left == 0
    }

    /// The candidate nearest to `written`, when one is near enough to be meant. One slip in a word of one or two
    /// letters makes another word of it, so there only the case may differ.
    pub(super) fn find<'n>(
        &mut self,
        written: &str,
        candidates: impl Iterator<Item = &'n str>,
    ) -> Option<&'n str> {
        let looks = &mut self.looks_left;
        let budgeted = candidates.take_while(|_| {
            *looks = looks.saturating_sub(1);
            *looks > 0
        });
        let short = written.chars().nth(2).is_none();
        nearest(written, budgeted).filter(|found| !short || found.eq_ignore_ascii_case(written))
    }
}

/// The error with the nearest name offered as help and mend.
pub(super) fn with_nearest(error: TextError, span: Span, found: Option<&str>) -> TextError {
    let Some(found) = found else { return error };
    error.help(format!("did you mean `{found}`?")).mend(span, found)
}
