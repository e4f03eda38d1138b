//! The figures of what uses energy: the voltage that reaches it against what it needs, current and power.

use wattle_grammar::{
    kind::{KindId, key},
    quantity::{Amps, Volts, Watts},
};

use super::{
    Entry, Section, View, what,
    worst::{At, DEFINITION, Flow, NOTHING, SOLVED, largest, smallest},
};
use crate::{
    design::ThingId,
    explained::{Amount, Explained, Input},
    topology::rating,
};

/// What a load sees at a point.
#[derive(Clone, Copy)]
struct Seen {
    point: usize,
    volts: f64,
    amps: f64,
}

/// A limit of the supply voltage and where it is from.
struct Limit {
    volts: Volts,
    origin: String,
}

impl View<'_> {
    /// The figures of a load.
    #[must_use]
    pub fn load(&self, id: ThingId) -> Entry {
        let thing = self.analysis.design.thing(id);
        let seen: Vec<Seen> = self.points().filter_map(|(at, _)| self.seen(id, at)).collect();
        let flow = |seen: &Seen| {
            let point = self.analysis.figures.points.get(seen.point)?;
            Some(Flow::new(seen.point, point, Amps(seen.amps)))
        };
        let flows: Vec<Flow> = seen.iter().filter_map(flow).collect();
        let mut figures =
            vec![self.steady_current(&thing.name, &flows), self.highest_current(&thing.name, &flows)];
        figures.push(self.highest_power(&thing.name, &seen));
        let (least, most) = self.supply_limits(id);
        figures.extend(self.volts_low(&seen, least, thing.kind.rating(key::SUPPLY).is_some()));
        figures.extend(self.volts_high(&seen, most));
        Entry {
            section: Section::Load,
            name: thing.name.clone(),
            is: thing.kind.word.to_owned(),
            span: thing.span,
            figures,
        }
    }

    fn seen(&self, id: ThingId, at: usize) -> Option<Seen> {
        let reading = self.reading(self.analysis.figures.points.get(at)?, id)?;
        // What nothing joins stands at no voltage.
        let volts = reading.volts.unwrap_or(Volts(0.0)).0.abs();
        Some(Seen { point: at, volts, amps: reading.amps?.0 })
    }

    /// The least and the greatest voltage it is rated for: of a coil where it surely operates.
    fn supply_limits(&self, id: ThingId) -> (Option<Limit>, Option<Limit>) {
        let design = &self.analysis.design;
        let thing = design.thing(id);
        if matches!(thing.id(), KindId::Relay | KindId::Contactor) {
            let coil = rating::coil(design, thing);
            let origin = match thing.rated(key::OPERATE) {
                Some(rated) => self.origin(rated),
                None => "75 % of the rated coil voltage, common practice".to_owned(),
            };
            let origin = format!("{origin}; where the coil surely operates, once in it holds lower");
            return (Some(Limit { volts: coil.operate, origin }), None);
        }
        let range = thing.range::<Volts>(key::SUPPLY);
        let limit = |volts: Volts| Limit { volts, origin: self.rating_origin(id, key::SUPPLY) };
        (range.map(|(low, _)| limit(low)), range.map(|(_, high)| limit(high)))
    }

    fn volts_low(&self, seen: &[Seen], limit: Option<Limit>, has_supply: bool) -> Vec<Explained> {
        let fed = seen.iter().filter(|seen| seen.amps.abs() > NOTHING);
        let lowest = smallest(fed.map(|seen| At { value: seen.volts, point: seen.point }));
        let Some(at) = lowest else {
            let never = if seen.is_empty() { self.no_point() } else { Amount::Words("never fed".to_owned()) };
            return vec![Explained::new(what::LOWEST_VOLTAGE, never).by("", SOLVED)];
        };
        let figure = volts_figure(what::LOWEST_VOLTAGE, at).noting("where it draws a current");
        let Some(limit) = limit else {
            let missing =
                || Explained::new(what::HEADROOM_BELOW, Amount::NotAssessed(key::SUPPLY.to_owned()));
            // A motor has no supply of its own to be rated for.
            return std::iter::once(figure).chain(has_supply.then(missing)).collect();
        };
        let margin = Explained::new(what::HEADROOM_BELOW, Amount::of(Volts(at.value) - limit.volts))
            .by("U − U_min", DEFINITION)
            .from([
                Input::of("U", "lowest voltage, network solved", Volts(at.value)),
                Input::of("U_min", format!("the least it needs, {}", limit.origin), limit.volts),
            ])
            .at(Some(at.point));
        vec![figure, stated(what::LEAST_SUPPLY, limit), margin]
    }

    fn volts_high(&self, seen: &[Seen], limit: Option<Limit>) -> Vec<Explained> {
        let highest = largest(seen.iter().map(|seen| At { value: seen.volts, point: seen.point }));
        let Some(at) = highest else {
            return vec![Explained::new(what::HIGHEST_VOLTAGE, self.no_point())];
        };
        let figure = volts_figure(what::HIGHEST_VOLTAGE, at);
        let Some(limit) = limit else { return vec![figure] };
        let margin = Explained::new(what::HEADROOM_ABOVE, Amount::of(limit.volts - Volts(at.value)))
            .by("U_max − U", DEFINITION)
            .from([
                Input::of("U_max", format!("the greatest it bears, {}", limit.origin), limit.volts),
                Input::of("U", "highest voltage, network solved", Volts(at.value)),
            ])
            .at(Some(at.point));
        vec![figure, stated(what::MOST_SUPPLY, limit), margin]
    }

    fn highest_power(&self, name: &str, seen: &[Seen]) -> Explained {
        let watts = |seen: &Seen| At { value: seen.volts * seen.amps.abs(), point: seen.point };
        let Some(worst) = largest(seen.iter().map(watts)) else {
            return Explained::new(what::HIGHEST_POWER, self.no_point());
        };
        let there = seen.iter().find(|seen| seen.point == worst.point);
        let (volts, amps) = there.map_or((0.0, 0.0), |seen| (seen.volts, seen.amps.abs()));
        Explained::new(what::HIGHEST_POWER, Amount::of(Watts(worst.value)))
            .by("P = U · I", SOLVED)
            .from([
                Input::of("U", format!("voltage on `{name}`, network solved"), Volts(volts)),
                Input::of("I", format!("current of `{name}`, network solved"), Amps(amps)),
            ])
            .at(Some(worst.point))
    }
}

fn volts_figure(name: &str, at: At) -> Explained {
    Explained::new(name, Amount::of(Volts(at.value)))
        .by("U", SOLVED)
        .from([Input::of("U", "voltage on it, network solved", Volts(at.value))])
        .at(Some(at.point))
}

fn stated(name: &str, limit: Limit) -> Explained {
    Explained::new(name, Amount::of(limit.volts)).by("", limit.origin)
}
