//! Lines of a mode, and states of things.

use wattle_grammar::{
    error::{TextError, quoted},
    kind,
    quantity::Amps,
    span::Span,
    syntax::{ModeLine, Path},
};

use super::{
    super::{lower::Lowering, names::with_nearest, places::dotted},
    synonyms,
};
use crate::complaint::listed;

/// The error of a current that no load can draw.
pub(in crate::design) fn current_out_of_reach(amps: Amps, span: Span, text: &str) -> TextError {
    let message = match amps < Amps(0.0) {
        true => format!("a load cannot draw less than 0 A, found {}", quoted(text)),
        false => format!("a load can draw 100000 A at most, found {}", quoted(text)),
    };
    let error = TextError::new("language.out-of-range", span, message, "out of range");
    match amps < Amps(0.0) {
        true => error.help("what gives current back is a motor that is `turned`"),
        false => error,
    }
}

impl Lowering<'_> {
    /// The error of something that is no state of `noun`, which takes `words`.
    pub(in crate::design) fn wrong_state(
        &mut self,
        text: &str,
        span: Span,
        noun: &str,
        words: &[&'static str],
    ) -> TextError {
        if words.is_empty() {
            let message = format!("{noun} has no state that a mode could set");
            return TextError::new("language.unknown-state", span, message, "nothing can be set here");
        }
        let listed_words: Vec<String> = words.iter().map(|word| format!("`{word}`")).collect();
        let amps = if words.contains(&"typical") && noun != "`everything`" { ", or a current," } else { "" };
        let label = format!("{}{amps} is due here", listed(&listed_words, "or"));
        let message = format!("{} is no state of {noun}", quoted(text));
        let error = TextError::new("language.unknown-state", span, message, label);
        let near = self.nearest.find(text, words.iter().copied());
        match near.or_else(|| synonyms::state(text, |ours| words.contains(&ours))) {
            None if matches!(noun, "a relay" | "a contactor") => {
                error.help("its contacts follow its coil: set the switch of the coil")
            }
            None => error,
            near => with_nearest(error, span, near),
        }
    }

    /// The error of a line of a mode with no state, or more than one.
    pub(in crate::design) fn no_state(&self, line: &ModeLine) -> TextError {
        let name = line.subjects.first().map_or_else(String::new, dotted);
        let due =
            if matches!(name.as_str(), "duty" | "ambient") { "a value" } else { "a state or a current" };
        match line.values.as_slice() {
            [_, second, ..] => {
                let span = line.values.last().map_or(second.span, |last| second.span.to(last.span));
                let message =
                    format!("{} has its state already, found {}", quoted(&name), quoted(self.text(span)));
                TextError::new("language.missing-value", span, message, "one state too many")
                    .help("each thing has a line of its own: begin a new line, or put `;` between them")
            }
            _ => {
                let message = format!("{} needs {due}", quoted(&name));
                TextError::new(
                    "language.missing-value",
                    line.span,
                    message,
                    format!("{due} is due after this"),
                )
                .help("such a line reads `S-KEY closed` or `M-LEFT 8 A`")
            }
        }
    }

    /// The error of a line of a mode that begins with a kind, as a statement does.
    pub(in crate::design) fn kind_in_mode(&self, subject: &Path, name: &str) -> Option<TextError> {
        let known = kind::by_word(name).is_some() || kind::statement::by_word(name).is_some();
        known.then(|| {
            let message = format!("{} begins a statement and cannot stand in a mode", quoted(name));
            TextError::new("language.misplaced", subject.span, message, "the name of a thing is due here")
                .help("a line of a mode is the name of a thing and its state: `S-KEY closed`")
        })
    }
}
