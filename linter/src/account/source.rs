//! The figures of what gives energy: packs, chargers, supplies, and regulators by their output.

use wattle_grammar::{
    kind::{Family, key},
    quantity::{Amps, Volts, Watts},
};

use super::{
    Entry, Section, View, what,
    worst::{At, Flow, NOTHING, SOLVED, largest, smallest},
};
use crate::{
    design::ThingId,
    explained::{Amount, Explained, Input},
    figures::Point,
};

/// What a source gives at a point.
#[derive(Clone, Copy)]
struct Given {
    point: usize,
    volts: f64,
    amps: f64,
}

impl View<'_> {
    /// Whether a thing gives energy: a source, or a regulator by its output.
    #[must_use]
    pub fn is_source(&self, thing: ThingId) -> bool {
        self.analysis.design.thing(thing).kind.family == Family::Source || self.output(thing).is_some()
    }

    /// The figures of a source.
    #[must_use]
    pub fn source(&self, id: ThingId) -> Entry {
        let thing = self.analysis.design.thing(id);
        let given: Vec<Given> = self.points().filter_map(|(at, point)| self.given(id, at, point)).collect();
        let flows: Vec<Flow> = given.iter().filter_map(|given| self.flow_of(given)).collect();
        let mut figures = vec![self.steady_current(&thing.name, &flows)];
        figures.extend(self.currents(&given));
        figures.extend(self.poles(&given));
        figures.push(self.power(&thing.name, &given, what::HIGHEST_POWER));
        if self.output(id).is_some() {
            figures.extend(self.rating_use(id, key::CURRENT, &flows));
        }
        Entry {
            section: Section::Source,
            name: thing.name.clone(),
            is: thing.kind.word.to_owned(),
            span: thing.span,
            figures,
        }
    }

    fn given(&self, id: ThingId, at: usize, point: &Point) -> Option<Given> {
        let reading = self.reading(point, id)?;
        let (volts, amps) = if self.output(id).is_some() {
            (reading.output_volts, reading.output_amps)
        } else {
            (reading.volts, reading.amps)
        };
        Some(Given { point: at, volts: volts.unwrap_or(Volts(0.0)).0, amps: amps?.0 })
    }

    fn flow_of(&self, given: &Given) -> Option<Flow> {
        let point = self.analysis.figures.points.get(given.point)?;
        Some(Flow::new(given.point, point, Amps(given.amps)))
    }

    fn currents(&self, given: &[Given]) -> [Explained; 2] {
        let amps = || given.iter().map(|given| At { value: given.amps, point: given.point });
        let figure = |name: &str, at: Option<At>| {
            let Some(at) = at else { return Explained::new(name, self.no_point()) };
            Explained::new(name, Amount::of(Amps(at.value)))
                .by("I", SOLVED)
                .from([Input::of("I", "current out of the positive pole, network solved", Amps(at.value))])
                .at(Some(at.point))
        };
        let lowest = figure(what::LOWEST_CURRENT, smallest(amps()));
        let charged = matches!(lowest.amount, Amount::Value(amps, _) if amps < 0.0);
        let lowest = if charged { lowest.noting("below zero it is charged") } else { lowest };
        [figure(what::HIGHEST_CURRENT, largest(amps())), lowest]
    }

    fn poles(&self, given: &[Given]) -> [Explained; 2] {
        let volts = || given.iter().map(|given| At { value: given.volts, point: given.point });
        let figure = |name: &str, at: Option<At>| {
            let Some(at) = at else { return Explained::new(name, self.no_point()) };
            Explained::new(name, Amount::of(Volts(at.value)))
                .by("U", SOLVED)
                .from([Input::of("U", "voltage between its poles, network solved", Volts(at.value))])
                .at(Some(at.point))
        };
        let at_work = given.iter().filter(|given| given.amps.abs() > NOTHING);
        let lowest = smallest(at_work.map(|given| At { value: given.volts, point: given.point }));
        [
            figure(what::LOWEST_VOLTAGE, lowest.or_else(|| smallest(volts())))
                .noting("where a current flows, when there is such a point"),
            figure(what::HIGHEST_VOLTAGE, largest(volts())),
        ]
    }

    fn power(&self, name: &str, given: &[Given], figure: &str) -> Explained {
        let watts = |given: &Given| At { value: given.volts * given.amps, point: given.point };
        let Some(worst) = largest(given.iter().map(watts)) else {
            return Explained::new(figure, self.no_point());
        };
        let there = given.iter().find(|given| given.point == worst.point);
        let (volts, amps) = there.map_or((0.0, 0.0), |given| (given.volts, given.amps));
        Explained::new(figure, Amount::of(Watts(worst.value)))
            .by("P = U · I", SOLVED)
            .from([
                Input::of(
                    "U",
                    format!("voltage between the poles of `{name}`, network solved"),
                    Volts(volts),
                ),
                Input::of("I", format!("current out of `{name}`, network solved"), Amps(amps)),
            ])
            .at(Some(worst.point))
    }
}
