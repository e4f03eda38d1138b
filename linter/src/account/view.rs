//! A look at an analysed robot through the modes that are asked for.

use std::collections::BTreeSet;

use super::Entry;
use crate::{analysis::Analysis, design::ThingId, figures::Point, report::Report};

/// An analysed robot and the points that count.
#[derive(Debug)]
pub struct View<'a> {
    /// Its files.
    pub report: Report<'a>,
    /// The robot.
    pub analysis: &'a Analysis,
    /// Indices of the points that count, rising.
    pub shown: Vec<usize>,
}

impl<'a> View<'a> {
    /// Looks through the modes of these names; through all without any.
    #[must_use]
    pub fn new(report: Report<'a>, analysis: &'a Analysis, modes: &[String]) -> Self {
        let wanted: BTreeSet<&str> = modes.iter().map(String::as_str).collect();
        let counts = |point: &Point| {
            let mode = analysis.design.modes.get(point.mode.index());
            wanted.is_empty() || mode.is_some_and(|mode| wanted.contains(mode.name.as_str()))
        };
        let points = analysis.figures.points.iter().enumerate();
        let shown = points.filter(|(_, point)| counts(point)).map(|(at, _)| at).collect();
        Self { report, analysis, shown }
    }

    /// The points that count, each with its index in [`crate::figures::Figures::points`].
    pub fn points(&self) -> impl Iterator<Item = (usize, &'a Point)> + '_ {
        self.shown.iter().filter_map(|at| Some((*at, self.analysis.figures.points.get(*at)?)))
    }

    /// The entries that the tables are made from, all but those on shorts in wires: sources, devices, contacts, bars, loads,
    /// wires, each in the order of the text, then what the studies know.
    #[must_use]
    pub fn entries(&self) -> Vec<Entry> {
        self.ordinary_entries().collect()
    }

    /// Every entry, each made when it is asked for.
    pub fn each_entry(&self) -> impl Iterator<Item = Entry> + '_ {
        let wires = self.analysis.design.wires().filter(|(_, wire)| !wire.spare);
        self.ordinary_entries().chain(wires.filter_map(|(id, _)| self.short_on(id)))
    }

    fn ordinary_entries(&self) -> impl Iterator<Item = Entry> + '_ {
        let design = &self.analysis.design;
        let things = move || design.things().map(|(id, _)| id);
        let sources = things().filter(|id| self.is_source(*id)).map(|id| self.source(id));
        let devices = things().filter_map(|id| Some(self.device(id, self.protective(id)?)));
        let contacts = things().filter_map(|id| {
            let links = self.contacts(id);
            (!links.is_empty()).then(|| self.contact(id, &links))
        });
        let bars = things().filter(|id| self.is_bar(*id)).map(|id| self.bar(id));
        let loads = things().filter(|id| self.is_load(*id)).map(|id| self.load(id));
        let wires = design.wires().filter(|(_, wire)| !wire.spare).map(|(id, _)| self.wire(id));
        let further = things().flat_map(|id| self.further(id));
        sources
            .chain(devices)
            .chain(contacts)
            .chain(bars)
            .chain(loads)
            .chain(wires)
            .chain(self.robot())
            .chain(further)
    }

    /// Whether a thing draws a current to use it.
    #[must_use]
    pub fn is_load(&self, thing: ThingId) -> bool {
        self.analysis.topology.inside(thing).any(|(_, link)| super::reading::draws(link.nature))
    }
}
