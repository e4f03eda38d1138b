//! The figures of a terminal: its voltage at every point.

use wattle_grammar::quantity::Volts;

use super::{
    Entry, Section, View, what,
    worst::{At, SOLVED, largest, smallest},
};
use crate::{
    design::{Probe, TerminalId},
    explained::{Amount, Explained, Input},
    probe,
};

impl View<'_> {
    /// The figures of a terminal.
    #[must_use]
    pub fn terminal(&self, id: TerminalId) -> Entry {
        let design = &self.analysis.design;
        let name = design.terminal_name(id);
        let terminal = design.terminal(id);
        let volts: Vec<At> = self
            .points()
            .filter_map(|(at, point)| {
                let volts = probe::volts(design, &self.analysis.topology, point, &Probe::Terminal(id))?;
                Some(At { value: volts.0, point: at })
            })
            .collect();
        let figure = |what: &str, at: Option<At>| {
            match at {
            None => Explained::new(what, self.no_point()),
            Some(at) => Explained::new(what, Amount::of(Volts(at.value)))
                .by("U", SOLVED)
                .from([Input::of("U", format!("voltage at `{name}`, network solved"), Volts(at.value))])
                .at(Some(at.point))
                .noting(
                    "against the other pole of the same thing, else against the lowest negative pole of a source that is \
                     joined to it",
                ),
        }
        };
        let figures = vec![
            figure(what::LOWEST_VOLTAGE, smallest(volts.iter().copied())),
            figure(what::HIGHEST_VOLTAGE, largest(volts.iter().copied())),
        ];
        let is = format!("terminal of {}", design.thing(terminal.thing).kind.word);
        Entry { section: Section::Terminal, name, is, span: design.thing(terminal.thing).span, figures }
    }
}
