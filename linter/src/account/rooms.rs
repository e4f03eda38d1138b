//! What other rooms know of a thing: what a short on it comes to, how long batteries last, what surges.

use crate::{
    analysis::Analysis,
    design::{ThingId, WireId},
    energy::Energy,
    explained::Explained,
    protection::Protection,
    surge::Surges,
};

use super::{Entry, Section, View};

/// The tables of the other rooms.
#[derive(Debug)]
pub struct Rooms {
    /// What protects what.
    pub protection: Protection,
    /// Batteries as stores of energy.
    pub energy: Energy,
    /// Transients.
    pub surges: Surges,
}

impl Rooms {
    /// Works them out for an analysed robot.
    #[must_use]
    pub fn new(analysis: &Analysis) -> Self {
        let Analysis { design, topology, figures, .. } = analysis;
        Self {
            protection: Protection::of(analysis),
            energy: Energy::new(design, topology, figures),
            surges: Surges::new(design, topology, figures),
        }
    }
}

impl View<'_> {
    /// What a short on a wire comes to.
    #[must_use]
    pub fn short_on(&self, id: WireId) -> Option<Entry> {
        let wire = self.analysis.design.wire(id);
        let figures = self.rooms.protection.explain_wire(self.analysis, &self.conductors, id);
        self.entry(Section::Short, &wire.name, "wire", wire.span, figures)
    }

    /// What other rooms know of a thing, one entry for each of them.
    #[must_use]
    pub fn further(&self, id: ThingId) -> Vec<Entry> {
        let Analysis { design, figures, .. } = self.analysis;
        let thing = design.thing(id);
        let of_device =
            self.protective(id).map(|link| self.rooms.protection.explain_device(self.analysis, link));
        let told = [
            (Section::Short, of_device.unwrap_or_default()),
            (Section::Energy, self.rooms.energy.explain(design, figures, id)),
            (Section::Surge, self.rooms.surges.explain(design, figures, id)),
        ];
        let entry =
            |(section, figures)| self.entry(section, &thing.name, thing.kind.word, thing.span, figures);
        told.into_iter().filter_map(entry).collect()
    }

    /// How long the whole robot lasts.
    #[must_use]
    pub fn robot(&self) -> Option<Entry> {
        let Analysis { design, figures, .. } = self.analysis;
        let told = self.rooms.energy.explain_robot(design, figures);
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
