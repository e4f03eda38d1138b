//! Terminals that a thing does not have, or that nobody named.

use wattle_grammar::{
    error::{TextError, quoted},
    kind::Repeat,
    span::Span,
};

use super::{
    super::{lower::Lowering, names::with_nearest, rows::Noun},
    synonyms,
};
use crate::complaint::listed;

/// Up to so many terminals are written out with the thing's name.
const FEW: usize = 4;

impl Lowering<'_> {
    /// The error of a terminal that a thing does not have.
    pub(in crate::design) fn unknown_terminal(
        &mut self,
        thing: usize,
        name: &str,
        span: Span,
    ) -> Option<TextError> {
        let found = self.design.things.get(thing)?;
        let message = format!("`{}` has no terminal {}", found.name, quoted(name));
        let label = format!("this {} has {}", found.kind.word, self.terminals_listed(thing));
        let error = TextError::new("language.unknown-terminal", span, message, label);
        if let Some(help) = self.beyond_count(thing, name) {
            return Some(error.help(help));
        }
        if let Some(ours) = synonyms::terminal(name, |ours| self.position(thing, ours).is_some()) {
            return Some(error.help(format!("did you mean `{ours}`?")).mend(span, ours));
        }
        let shape = self.shape_of.get(thing).and_then(|shape| self.shapes.get(*shape));
        let names = shape.map(|shape| shape.terminals.as_slice()).unwrap_or_default();
        let near = self.nearest.find(name, names.iter().map(|terminal| terminal.name.as_str()));
        Some(with_nearest(error, span, near))
    }

    /// What decides how many terminals of a family there are, when `name` would be one more of it.
    fn beyond_count(&self, thing: usize, name: &str) -> Option<String> {
        let kind = self.design.things.get(thing)?.kind;
        let family = kind.terminals.iter().find(|terminal| is_of_family(terminal.name, name))?;
        let Repeat::Per { key, only_if, .. } = family.repeat else { return None };
        Some(match only_if.filter(|flag| !self.says(thing, flag)) {
            Some(flag) => format!("such terminals are there only with `{flag}`: `{{ {flag} }}`"),
            None => format!("`{key}` says how many of them there are"),
        })
    }

    fn says(&self, thing: usize, flag: &str) -> bool {
        self.design.things.get(thing).and_then(|thing| thing.flag(flag)) == Some(true)
    }

    /// The error of a thing with several terminals where one is due.
    pub(in crate::design) fn which_terminal(&self, thing: usize, span: Span) -> Option<TextError> {
        let found = self.design.things.get(thing)?;
        let message = format!("`{}` has {} terminals: say which", found.name, found.terminal_count);
        let error = TextError::new("language.which-terminal", span, message, "a terminal is due after this");
        let shape = self.shapes.get(*self.shape_of.get(thing)?)?;
        let written = self.project.file(span.file).map_or("", |file| span.slice(&file.text));
        let few: Vec<String> = shape
            .terminals
            .iter()
            .take(FEW + 1)
            .map(|terminal| format!("`{written}.{}`", terminal.name))
            .collect();
        Some(match few.len() <= FEW {
            true => error.help(format!("write {}", listed(&few, "or"))),
            false => error.help(format!("{} has {}", Noun(found.kind.word), self.terminals_listed(thing))),
        })
    }
}

/// Whether a name is one of a numbered family, `m{}a`, whatever its number.
fn is_of_family(pattern: &str, name: &str) -> bool {
    let Some((before, behind)) = pattern.split_once("{}") else { return false };
    let number = name.strip_prefix(before).and_then(|rest| rest.strip_suffix(behind));
    number.is_some_and(|number| !number.is_empty() && number.bytes().all(|byte| byte.is_ascii_digit()))
}
