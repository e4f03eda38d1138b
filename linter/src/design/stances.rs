//! What the lines of one mode have said so far: a thing stands in one line, and both halves of a joint in one state.

use std::collections::BTreeMap;

use wattle_grammar::{error::TextError, span::Span};

use super::{Partners, State, ThingId};

/// The lines of a mode that were read.
#[derive(Default)]
pub(super) struct Stances {
    names: BTreeMap<String, Span>,
    things: BTreeMap<ThingId, (Span, State)>,
}

impl Stances {
    /// Takes down the subject of a line; the error where it has a line already.
    pub(super) fn name(&mut self, name: &str, span: Span, mode: &str) -> Result<(), TextError> {
        match self.names.insert(name.to_owned(), span) {
            None => Ok(()),
            Some(first) => {
                let message = format!("`{name}` has two lines in mode `{mode}`");
                Err(TextError::new("language.given-twice", span, message, "again here")
                    .related(first, "first here"))
            }
        }
    }

    /// Takes down the state of a thing that the subject `subject` means, which may be its group; the error where another
    /// line has said one of it, or another one of the half that it is plugged into.
    pub(super) fn thing(
        &mut self,
        (id, thing): (ThingId, &str),
        (subject, span): (&str, Span),
        state: State,
        partners: &Partners,
    ) -> Result<(), TextError> {
        if let Some((first, _)) = self.things.insert(id, (span, state)) {
            let message = if subject == thing {
                format!("`{thing}` stands in the line of its group already")
            } else {
                format!("`{thing}` of the group `{subject}` stands in another line already")
            };
            let error = TextError::new("language.given-twice", span, message, "again here");
            let help = "a thing stands in one line of a mode: name the members one by one";
            return Err(error.related(first, "first here").help(help));
        }
        let other = partners.only_of(id).and_then(|other| self.things.get(&other));
        match other {
            Some((first, told)) if *told != state => {
                let message = format!("`{thing}` is told the opposite of the half that it is plugged into");
                let error = TextError::new("language.given-twice", span, message, "and the opposite here");
                Err(error
                    .related(*first, "its other half")
                    .help("a joint is open or closed with both halves: keep one line"))
            }
            _ => Ok(()),
        }
    }
}
