//! A look at an analysed robot through the modes that are asked for.

use std::collections::BTreeSet;

use crate::{analysis::Analysis, conductors::Conductors, figures::Point};

/// An analysed robot and the points that count.
#[derive(Debug)]
pub struct View<'a> {
    /// The robot.
    pub analysis: &'a Analysis,
    /// Indices of the points that count, rising.
    pub shown: Vec<usize>,
    /// Each wire in its surroundings.
    pub conductors: Conductors,
}

impl<'a> View<'a> {
    /// Looks through the modes of these names; through all without any.
    #[must_use]
    pub fn new(analysis: &'a Analysis, modes: &[String]) -> Self {
        let wanted: BTreeSet<&str> = modes.iter().map(String::as_str).collect();
        let counts = |point: &Point| {
            let mode = analysis.design.modes.get(point.mode.index());
            wanted.is_empty() || mode.is_some_and(|mode| wanted.contains(mode.name.as_str()))
        };
        let points = analysis.figures.points.iter().enumerate();
        let shown = points.filter(|(_, point)| counts(point)).map(|(at, _)| at).collect();
        let conductors = Conductors::new(&analysis.design, &analysis.figures, &analysis.profile);
        Self { analysis, shown, conductors }
    }

    /// The points that count, each with its index in [`crate::figures::Figures::points`].
    pub fn points(&self) -> impl Iterator<Item = (usize, &'a Point)> + '_ {
        self.shown.iter().filter_map(|at| Some((*at, self.analysis.figures.points.get(*at)?)))
    }
}
