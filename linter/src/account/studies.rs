//! What the studies know of a thing: what a short on it comes to, how long batteries last, what surges.

use crate::{
    analysis::Analysis,
    design::{ThingId, WireId},
    explained::Explained,
};

use super::{Entry, Section, View};

impl View<'_> {
    /// What a short on a wire comes to.
    #[must_use]
    pub fn short_on(&self, id: WireId) -> Option<Entry> {
        let wire = self.analysis.design.wire(id);
        let figures = self.analysis.protection().explain_wire(self.analysis, id);
        self.entry(Section::Short, &wire.name, "wire", wire.span, figures)
    }

    /// What the studies know of a thing, one entry for each of them.
    #[must_use]
    pub fn further(&self, id: ThingId) -> Vec<Entry> {
        let Analysis { design, figures, .. } = self.analysis;
        let thing = design.thing(id);
        let of_device =
            self.protective(id).map(|link| self.analysis.protection().explain_device(self.analysis, link));
        let told = [
            (Section::Short, of_device.unwrap_or_default()),
            (Section::Energy, self.analysis.energy().explain(design, figures, id)),
            (Section::Surge, self.analysis.surges().explain(design, figures, id)),
        ];
        let entry =
            |(section, figures)| self.entry(section, &thing.name, thing.kind.word, thing.span, figures);
        told.into_iter().filter_map(entry).collect()
    }

    /// How long the whole robot lasts.
    #[must_use]
    pub fn robot(&self) -> Option<Entry> {
        let Analysis { design, figures, .. } = self.analysis;
        let told = self.analysis.energy().explain_robot(design, figures);
        self.entry(Section::Energy, &design.robot.name, "robot", design.robot.span, told)
    }

    /// An entry of the figures that hold for the points that count; nothing when there are none.
    fn entry(
        &self,
        section: Section,
        name: &str,
        is: &str,
        span: wattle_grammar::span::Span,
        figures: Vec<Explained>,
    ) -> Option<Entry> {
        let counts = |figure: &Explained| figure.point.is_none_or(|at| self.shown.binary_search(&at).is_ok());
        let figures: Vec<Explained> = figures.into_iter().filter(counts).collect();
        let entry = Entry { section, name: name.to_owned(), is: is.to_owned(), span, figures };
        (!entry.figures.is_empty()).then_some(entry)
    }
}
