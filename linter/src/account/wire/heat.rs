//! How warm the conductor of a wire gets, and what it may carry where it stands.

use wattle_grammar::{
    kind::key,
    quantity::{Amps, Celsius, Dimension, Metres, SquareMm},
};

use super::super::{
    View, what,
    worst::{At, Flow, is_no_more},
};
use crate::{
    conductors::{self, DEFAULT_AMBIENT, DEFAULT_INSULATION, Settling},
    design::{ModeId, WireId, facts},
    explained::{Amount, Explained, Input},
    physics::{evidence::Evidence, heat::Cable},
    profile::{Ampacity, Conductor, bundle_share},
    unfold::over_copper,
};

/// Where the balance of heat is published.
const BALANCE: &str = "steady heat balance: Joule heat = convection (Churchill and Chu 1975, horizontal cylinder) + \
                       radiation with emissivity 0.9";

/// Where a wire comes nearest to its ampacity.
pub(super) struct Near {
    pub(super) point: usize,
    pub(super) rms: f64,
    pub(super) limit: Ampacity,
    conductor: Conductor,
}

/// A wire's current in the surroundings of a point.
#[derive(Clone, Copy)]
struct Warmed {
    /// The current that would warm the wire as much if it were alone.
    alone: At,
    rms: f64,
    conductor: Conductor,
}

impl View<'_> {
    /// The point at which the steady current is the largest share of the ampacity.
    pub(super) fn nearest_to_ampacity(&self, id: WireId, flows: &[Flow]) -> Option<Near> {
        let analysis = self.analysis;
        let mut known: Option<(Conductor, Option<Ampacity>)> = None;
        let mut nearest: Option<(f64, Near)> = None;
        for flow in flows.iter().filter(|flow| flow.ordinary) {
            let conductor =
                self.analysis.studies.conductors.at(&analysis.design, &analysis.figures, id, flow.point)?;
            if known.as_ref().is_none_or(|(at, _)| *at != conductor) {
                known = Some((conductor, analysis.profile.ampacity(&conductor)));
            }
            let Some((_, Some(limit))) = &known else { continue };
            // Where nothing may flow, any current is infinitely too much; no current is not.
            let ratio = if flow.rms > 0.0 { flow.rms / limit.amps.0 } else { 0.0 };
            if nearest.as_ref().is_none_or(|(held, near)| {
                !is_no_more(ratio, *held) || (ratio == *held && limit.amps < near.limit.amps)
            }) {
                let near = Near { point: flow.point, rms: flow.rms, limit: limit.clone(), conductor };
                nearest = Some((ratio, near));
            }
        }
        nearest.map(|(_, near)| near)
    }

    pub(super) fn ampacity_figure(&self, id: WireId, near: &Near) -> Explained {
        let profile = &self.analysis.profile;
        let mut inputs =
            vec![self.area(id, near.conductor.area), self.insulation(id, near.conductor.insulation)];
        inputs.extend(self.surroundings(id, near.point, &near.conductor));
        let figure = Explained::new(what::AMPACITY, Amount::of(near.limit.amps))
            .by(near.limit.basis.clone(), format!("profile `{}`: {}", profile.word, profile.source))
            .from(inputs)
            .at(Some(near.point));
        let factor = bundle_share(near.conductor.bundle);
        // The factors for loaded neighbours are recalled, not read again.
        if factor == 1.0 { figure } else { figure.resting_on(Evidence::Memory) }
    }

    /// The temperature at which the conductor settles, at the point where it settles warmest.
    pub(super) fn temperature(&self, id: WireId, flows: &[Flow]) -> Explained {
        let not_assessed =
            |missing: &str| Explained::new(what::TEMPERATURE, Amount::NotAssessed(missing.to_owned()));
        let wire = self.analysis.design.wire(id);
        if wire.size.is_none() {
            return not_assessed("size");
        }
        let warmest = self
            .warmed(id, flows)
            .into_iter()
            .map(|one| (one, conductors::settled(wire, &one.conductor, Amps(one.rms))));
        // A wire that melts is warmer than any that settles.
        let rank = |settling: Settling| match settling {
            Settling::Settles(warm) => warm.0,
            Settling::Melts => f64::INFINITY,
        };
        let warmest = warmest.fold(None, |held: Option<(Warmed, Settling)>, next| match held {
            Some(held) if rank(held.1) >= rank(next.1) => Some(held),
            _ => Some(next),
        });
        warmest
            .map_or_else(|| not_assessed("a working point"), |(one, settled)| self.settled(id, &one, settled))
    }

    /// The heaviest current in each air temperature that the points have.
    fn warmed(&self, id: WireId, flows: &[Flow]) -> Vec<Warmed> {
        let mut found: Vec<Warmed> = Vec::new();
        for flow in flows.iter().filter(|flow| flow.ordinary) {
            let Some(conductor) = self.analysis.studies.conductors.at(
                &self.analysis.design,
                &self.analysis.figures,
                id,
                flow.point,
            ) else {
                continue;
            };
            let alone = conductors::alone(self.analysis.design.wire(id), conductor.bundle, Amps(flow.rms));
            let one = Warmed { alone: At { value: alone.0, point: flow.point }, rms: flow.rms, conductor };
            match found.iter_mut().find(|held| held.conductor.ambient == conductor.ambient) {
                Some(held) if is_no_more(one.alone.value, held.alone.value) => {}
                Some(held) => *held = one,
                None => found.push(one),
            }
        }
        found
    }

    fn settled(&self, id: WireId, one: &Warmed, settling: Settling) -> Explained {
        let conductor = &one.conductor;
        let (factor, loaded) = (bundle_share(conductor.bundle), conductor.bundle);
        let cable = Cable::thin_walled(conductor.area);
        let amount = match settling {
            Settling::Settles(warm) => Amount::of(warm),
            Settling::Melts => Amount::Words("melts".to_owned()),
        };
        let mut inputs = vec![
            Input::of("I_RMS", "steady current at that point", Amps(one.rms)),
            self.area(id, conductor.area),
            Input::of("w", "wall of a thin-walled wire of that size, common practice", Metres(cable.wall.0)),
        ];
        let metal = over_copper(self.analysis.design.wire(id));
        if metal != 1.0 {
            inputs.push(Input {
                symbol: "a",
                what: "resistance of aluminium over that of copper, from memory".to_owned(),
                amount: Amount::Value(metal, Dimension::Number),
            });
        }
        inputs.extend(self.surroundings(id, one.alone.point, conductor));
        let current = if factor == 1.0 { "I_RMS²".to_owned() } else { format!("(I_RMS / {factor})²") };
        let over = if metal == 1.0 { "" } else { " · a" };
        let figure = Explained::new(what::TEMPERATURE, amount)
            .by(format!("T where {current}{over} · R'(T) = heat given off by 1 m at T"), BALANCE)
            .from(inputs)
            .at(Some(one.alone.point))
            .resting_on(if factor == 1.0 && metal == 1.0 { Evidence::Practice } else { Evidence::Memory });
        let figure = if factor == 1.0 {
            figure.noting("in still air")
        } else {
            figure.noting(format!(
                "in still air; {loaded} loaded conductors side by side: as warm as alone with 1/{factor} of the current \
                 (33 CFR 183.425 table 5 note 2, from memory)"
            ))
        };
        if metal == 1.0 {
            return figure;
        }
        figure.noting("aluminium is taken to gain resistance with its temperature as copper does")
    }

    fn area(&self, id: WireId, area: SquareMm) -> Input {
        let wire = self.analysis.design.wire(id);
        let written = wire.size.as_ref().map_or("", |size| size.written.as_str());
        let origin = self.fact_origin(id, key::SIZE).unwrap_or_default();
        let metal = if wire.aluminium { "aluminium" } else { "copper" };
        Input::of("A", format!("{metal} area of {written}, {origin}"), area)
    }

    fn insulation(&self, id: WireId, class: Celsius) -> Input {
        let design = &self.analysis.design;
        let of_robot = || facts::find(&design.robot.facts, key::INSULATION).map(|rated| self.origin(rated));
        let origin = match design.wire(id).insulation {
            Some(_) => {
                let stated = self.fact_origin(id, key::INSULATION).or_else(of_robot);
                stated.unwrap_or_else(|| "as stated".to_owned())
            }
            None => format!("not stated: {DEFAULT_INSULATION} taken, the lowest column of the tables"),
        };
        Input::of("T_ins", format!("class of the insulation, {origin}"), class)
    }

    /// The air and the loaded neighbours at a point.
    fn surroundings(&self, id: WireId, at: usize, conductor: &Conductor) -> [Input; 2] {
        let mode = self.analysis.figures.points.get(at).map(|point| point.mode);
        let neighbours = format!("loaded conductors side by side, {}", self.bundle_origin(id));
        [
            Input::of("T_air", format!("air, {}", self.air_origin(id, mode)), conductor.ambient),
            Input {
                symbol: "n",
                what: neighbours,
                amount: Amount::Value(f64::from(conductor.bundle), Dimension::Number),
            },
        ]
    }

    fn bundle_origin(&self, id: WireId) -> String {
        let design = &self.analysis.design;
        let wire = design.wire(id);
        let harness = wire.harness.and_then(|harness| design.harnesses.get(harness.index()));
        if let Some(stated) = self.fact_origin(id, key::BUNDLE).filter(|_| wire.bundle.is_some()) {
            return stated;
        }
        match harness {
            Some(harness) => match facts::find(&harness.facts, key::BUNDLE) {
                Some(rated) => self.origin(rated),
                None => format!("counted in `{}`", harness.name),
            },
            None => "in no harness, so alone".to_owned(),
        }
    }

    fn air_origin(&self, id: WireId, mode: Option<ModeId>) -> String {
        let design = &self.analysis.design;
        let wire = design.wire(id);
        let mode = mode.and_then(|mode| design.modes.get(mode.index())).filter(|mode| mode.ambient.is_some());
        if let Some(mode) = mode {
            let stated = facts::find(&mode.facts, key::AMBIENT);
            let origin = stated.map_or_else(|| "as stated".to_owned(), |rated| self.origin(rated));
            return format!("of mode `{}`, {origin}", mode.name);
        }
        let place = wire.place.and_then(|place| design.places.get(place.index()));
        let of_place = place.and_then(|place| Some((place, facts::find(&place.facts, key::AMBIENT)?)));
        if let Some((place, rated)) = of_place {
            return format!("warmest of place `{}`, {}", place.name, self.origin(rated));
        }
        match facts::find(&design.robot.facts, key::AMBIENT) {
            Some(rated) => format!("warmest of the robot, {}", self.origin(rated)),
            None => {
                format!("not stated: {DEFAULT_AMBIENT} taken, an enclosed robot indoors, common practice")
            }
        }
    }
}
