//! From a name to what bears it, and from a name that nothing bears to the nearest one.

use std::collections::BTreeSet;

use wattle_grammar::nearest::nearest;

use super::{Entry, View};
use crate::design::{Design, TerminalId, ThingId, WireId};

/// Something with figures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Subject {
    /// A wire or core.
    Wire(WireId),
    /// A thing.
    Thing(ThingId),
    /// A terminal of a thing.
    Terminal(TerminalId),
}

/// What bears a full name, `left.M-KNEE` or `F1.load`: a thing, a wire or a terminal, in this order.
#[must_use]
pub fn find(design: &Design, name: &str) -> Option<Subject> {
    let thing = |name: &str| design.things().find(|(_, thing)| thing.name == name).map(|(id, _)| id);
    let wire = || design.wires().find(|(_, wire)| wire.name == name).map(|(id, _)| Subject::Wire(id));
    let terminal = || {
        let (owner, terminal) = name.rsplit_once('.')?;
        design.terminal_named(thing(owner)?, terminal).map(Subject::Terminal)
    };
    thing(name).map(Subject::Thing).or_else(wire).or_else(terminal)
}

/// The name in some robots that another most likely stands for.
#[must_use]
pub fn nearest_name<'d>(designs: impl IntoIterator<Item = &'d Design>, name: &str) -> Option<String> {
    let mut names: BTreeSet<String> = BTreeSet::new();
    for design in designs {
        names.extend(design.things.iter().map(|thing| thing.name.clone()));
        names.extend(design.wires.iter().map(|wire| wire.name.clone()));
        names.extend((0u32..).map(TerminalId).zip(&design.terminals).map(|(id, _)| design.terminal_name(id)));
    }
    nearest(name, names.iter().map(String::as_str)).map(str::to_owned)
}

/// The name of a mode of some robots that another most likely stands for.
#[must_use]
pub fn nearest_mode<'d>(designs: impl IntoIterator<Item = &'d Design>, name: &str) -> Option<&'d str> {
    let modes = designs.into_iter().flat_map(|design| &design.modes);
    nearest(name, modes.map(|mode| mode.name.as_str()))
}

impl View<'_> {
    /// The entries about something, in the order of the sections.
    #[must_use]
    pub fn about(&self, subject: Subject) -> Vec<Entry> {
        match subject {
            Subject::Wire(id) => std::iter::once(self.wire(id)).chain(self.short_on(id)).collect(),
            Subject::Terminal(id) => vec![self.terminal(id)],
            Subject::Thing(id) => self.about_thing(id),
        }
    }

    fn about_thing(&self, id: ThingId) -> Vec<Entry> {
        let contacts = self.contacts(id);
        [
            self.is_source(id).then(|| self.source(id)),
            self.protective(id).map(|link| self.device(id, link)),
            (!contacts.is_empty()).then(|| self.contact(id, &contacts)),
            self.is_bar(id).then(|| self.bar(id)),
            self.is_load(id).then(|| self.load(id)),
        ]
        .into_iter()
        .flatten()
        .chain(self.further(id))
        .collect()
    }
}
