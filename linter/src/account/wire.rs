//! The figures of a wire: current, drop, loss, temperature, ampacity and margin.

mod heat;
mod supply;

use wattle_grammar::{
    kind::key,
    quantity::{Amps, Dimension, Kelvins, Metres, Ohms, Share, Volts, Watts},
};

use super::{
    Entry, Section, View, what,
    worst::{At, DEFINITION, Flow, NOTHING, SOLVED, largest, steady},
};
use crate::{
    design::{Wire, WireId},
    explained::{Amount, Explained, Input},
    naming,
    physics::{conductor, constant::COPPER_COEFFICIENT, evidence::Evidence},
    topology::LinkId,
    unfold::{self, usual},
    warming::Bench,
};

/// Where the resistance of copper is published.
const COPPER_SOURCE: &str = "copper of 100 % IACS (NBS Handbook 100, 1966); areas of ASTM B258";

impl View<'_> {
    /// The figures of a wire.
    #[must_use]
    pub fn wire(&self, id: WireId) -> Entry {
        let design = &self.analysis.design;
        let wire = design.wire(id);
        let flows = self.flows(LinkId(id.0));
        let mut figures =
            vec![self.steady_current(&wire.name, &flows), self.highest_current(&wire.name, &flows)];
        self.tell_balance(&mut figures, LinkId(id.0));
        figures.extend(self.drop(id, &flows));
        figures.push(self.loss(id, &flows));
        figures.push(self.temperature(id, &flows));
        figures.extend(self.ampacity(id, &flows));
        figures.extend(Bench::of(self.analysis.given()).explained(id));
        let (from, to) = (design.terminal_name(wire.from.0), design.terminal_name(wire.to.0));
        Entry {
            section: Section::Wire,
            name: wire.name.clone(),
            is: format!("wire from {from} to {to}"),
            span: wire.span,
            figures,
        }
    }

    /// Resistance, drop and share of the supply's voltage, where the drop is largest.
    fn drop(&self, id: WireId, flows: &[Flow]) -> Vec<Explained> {
        let wire = self.analysis.design.wire(id);
        if let Some(missing) = unknown_resistance(wire) {
            let figure = |what: &str| Explained::new(what, Amount::NotAssessed(missing.clone()));
            return vec![figure(what::RESISTANCE), figure(what::DROP), figure(what::DROP_SHARE)];
        }
        let drops: Vec<At> =
            flows.iter().filter(|flow| flow.ordinary).filter_map(|flow| self.drop_at(id, flow)).collect();
        let Some(worst) = largest(drops.iter().copied()) else {
            let figure = |what: &str| Explained::new(what, self.no_point());
            return vec![figure(what::RESISTANCE), figure(what::DROP), figure(what::DROP_SHARE)];
        };
        let ohms = self.ohms(id, worst.point).unwrap_or(Ohms(0.0));
        let amps = flows.iter().find(|flow| flow.point == worst.point).map_or(0.0, |flow| flow.amps);
        let drop = Explained::new(what::DROP, Amount::of(Volts(worst.value)))
            .by("U = R · I", SOLVED)
            .from([
                Input::of("R", format!("resistance of `{}`, see there", wire.name), ohms),
                Input::of("I", format!("current of `{}`, network solved", wire.name), Amps(amps)),
            ])
            .at(Some(worst.point))
            .noting("of this wire alone, one way; of the modes that may last");
        vec![self.resistance(id, ohms, worst.point), drop, self.drop_share(id, &drops)]
    }

    fn drop_at(&self, id: WireId, flow: &Flow) -> Option<At> {
        let point = self.analysis.figures.points.get(flow.point)?;
        let volts = point.wire_drop(&self.analysis.topology, id)?;
        Some(At { value: volts.0.abs(), point: flow.point })
    }

    /// The resistance that the wire has at a point: as warm as it is taken to be there.
    fn ohms(&self, id: WireId, at: usize) -> Option<Ohms> {
        let warm = self.analysis.figures.wire_temperature(at, id)?;
        Some(unfold::wire_at(self.analysis.design.wire(id), warm))
    }

    fn resistance(&self, id: WireId, ohms: Ohms, at: usize) -> Explained {
        let wire = self.analysis.design.wire(id);
        let warm = self.analysis.figures.wire_temperature(at, id).unwrap_or(usual::CONDUCTOR);
        let figure = Explained::new(what::RESISTANCE, Amount::of(ohms)).at(Some(at));
        let growth = [
            Input {
                symbol: "α",
                what: "growth of copper's resistance for each kelvin".to_owned(),
                amount: Amount::Value(COPPER_COEFFICIENT.0, Dimension::Number),
            },
            Input::of(
                "ΔT",
                format!("of the wire over 20 °C: it is at {warm} there"),
                Kelvins((warm - usual::CONDUCTOR).0),
            ),
        ];
        let (Some(size), Some(length), None) = (&wire.size, wire.length, wire.resistance) else {
            let origin = self.fact_origin(id, key::RESISTANCE).unwrap_or_else(|| "as stated".to_owned());
            let stated = Input::of("R_20", format!("at 20 °C, {origin}"), wire.resistance.unwrap_or(ohms));
            return figure.by("R = R_20 · (1 + α · ΔT)", COPPER_SOURCE).from([stated]).from(growth);
        };
        let ratio = unfold::over_copper(wire);
        let per_metre = conductor::resistance(size.area, Metres(1.0), usual::CONDUCTOR).0 * ratio;
        let length_at = self.fact_origin(id, key::LENGTH).unwrap_or_default();
        let size_at = self.fact_origin(id, key::SIZE).unwrap_or_default();
        let figure = figure
            .by("R = R'_20 · (1 + α · ΔT) · L + 2 · R_crimp", COPPER_SOURCE)
            .from([Input {
                symbol: "R'_20",
                what: format!("resistance of one metre of {} at 20 °C, {size_at}", size.written),
                amount: Amount::Value(per_metre, Dimension::ResistancePerLength),
            }])
            .from(growth)
            .from([
                Input::of("L", format!("length, {length_at}"), length),
                Input::of("R_crimp", "crimp at one end, common practice", usual::CRIMP),
            ])
            .resting_on(Evidence::Practice);
        if ratio == 1.0 {
            figure
        } else {
            figure.noting("aluminium: 61 % of the conductivity of copper, from memory")
        }
    }

    /// Heat in the wire at its steady current.
    fn loss(&self, id: WireId, flows: &[Flow]) -> Explained {
        let wire = self.analysis.design.wire(id);
        if let Some(missing) = unknown_resistance(wire) {
            return Explained::new(what::LOSS, Amount::NotAssessed(missing));
        }
        let heat = |flow: &Flow| {
            Some(At { value: self.ohms(id, flow.point)?.0 * flow.rms * flow.rms, point: flow.point })
        };
        let lasting = flows.iter().filter(|flow| flow.ordinary);
        let Some(worst) = largest(lasting.filter_map(heat)) else {
            return Explained::new(what::LOSS, self.no_point());
        };
        let rms = flows.iter().find(|flow| flow.point == worst.point).map_or(0.0, |flow| flow.rms);
        let ohms = self.ohms(id, worst.point).unwrap_or(Ohms(0.0));
        Explained::new(what::LOSS, Amount::of(Watts(worst.value)))
            .by("P = R · I_RMS²", "Joule's law")
            .from([
                Input::of("R", format!("resistance of `{}` at that point", wire.name), ohms),
                Input::of("I_RMS", "steady current at that point", Amps(rms)),
            ])
            .at(Some(worst.point))
    }

    /// Ampacity, use and margin at the point where the steady current comes nearest to what the profile lets flow.
    fn ampacity(&self, id: WireId, flows: &[Flow]) -> Vec<Explained> {
        let profile = &self.analysis.profile;
        let wire = self.analysis.design.wire(id);
        let Some(near) = self.nearest_to_ampacity(id, flows) else {
            let missing = match &wire.size {
                None => "size".to_owned(),
                Some(_) if steady(flows).is_none() => "a working point".to_owned(),
                Some(size) => {
                    format!("an ampacity for {} (the profile `{}` has none)", size.written, profile.word)
                }
            };
            let figure = |what: &str| Explained::new(what, Amount::NotAssessed(missing.clone()));
            return vec![figure(what::AMPACITY), figure(what::AMPACITY_USE), figure(what::MARGIN)];
        };
        let (limit, rms) = (near.limit.amps, Amps(near.rms));
        let inputs = || {
            [
                Input::of("I_RMS", "steady current at that point", rms),
                Input::of("I_z", format!("ampacity of `{}` at that point", wire.name), limit),
            ]
        };
        let share = if limit.0 > 0.0 {
            Amount::of(Share(rms / limit))
        } else {
            Amount::Words("nothing may flow: the air is as warm as the insulation may be".to_owned())
        };
        vec![
            self.ampacity_figure(id, &near),
            Explained::new(what::AMPACITY_USE, share)
                .by("I_RMS / I_z", DEFINITION)
                .from(inputs())
                .at(Some(near.point)),
            Explained::new(what::MARGIN, Amount::of(limit - rms))
                .by("I_z − I_RMS", DEFINITION)
                .from(inputs())
                .at(Some(near.point)),
        ]
    }

    /// The share of the supply's voltage that is lost, where it is largest.
    fn drop_share(&self, id: WireId, drops: &[At]) -> Explained {
        let Some(supply) = self.supply_of(id) else {
            return Explained::new(
                what::DROP_SHARE,
                Amount::NotAssessed("a source that feeds it".to_owned()),
            );
        };
        let share = |drop: &At| {
            if drop.value < NOTHING {
                return Some(At { value: 0.0, point: drop.point });
            }
            let (volts, _) = self.supply_volts(&supply, drop.point)?;
            Some(At { value: drop.value / volts.0, point: drop.point })
        };
        let Some(worst) = largest(drops.iter().filter_map(share)) else {
            let missing = "a working point in which its source gives a voltage".to_owned();
            return Explained::new(what::DROP_SHARE, Amount::NotAssessed(missing));
        };
        let source = self.supply_volts(&supply, worst.point);
        let volts = source.map_or(Volts(0.0), |(volts, _)| volts);
        let name = source.map_or_else(String::new, |(_, thing)| naming::thing(&self.analysis.design, thing));
        let drop = drops.iter().find(|drop| drop.point == worst.point).map_or(0.0, |drop| drop.value);
        let figure = Explained::new(what::DROP_SHARE, Amount::of(Share(worst.value)))
            .by("u = U / U_s", DEFINITION)
            .from([
                Input::of("U", "drop at that point", Volts(drop)),
                Input::of("U_s", format!("voltage that {name} gives there, network solved"), volts),
            ])
            .at(Some(worst.point));
        if supply.chosen {
            figure.noting("several sources share this return: the lowest of their voltages is taken")
        } else {
            figure
        }
    }
}

/// What a wire lacks for a resistance.
fn unknown_resistance(wire: &Wire) -> Option<String> {
    if wire.resistance.is_some() {
        return None;
    }
    match (&wire.size, wire.length) {
        (None, _) => Some("size".to_owned()),
        (_, None) => Some("length".to_owned()),
        _ => None,
    }
}
