//! What a wire carries for as long as one likes, and how warm that leaves it, each figure with its derivation.

use wattle_grammar::quantity::{Amps, Dimension, Share};

use super::{Bench, warming};
use crate::{
    design::WireId,
    explained::{Amount, Explained, Input},
    physics::{constant::COPPER_MELTS, evidence::Evidence, heat},
    profile::{Ampacity, Conductor},
};

impl Bench<'_> {
    /// The figures of a wire that lasts: ampacity, lasting current, temperature, thermal time constant. Those that cannot be
    /// told say what is missing.
    #[must_use]
    pub fn steady(&self, wire: WireId) -> Vec<Explained> {
        let worst = self.given.conductors.worst(self.given.design, wire);
        let Some((conductor, limit)) = worst.zip(self.given.ampacity(wire)) else {
            return vec![Explained::new("ampacity", Amount::NotAssessed(self.lacking(wire)))];
        };
        let mut figures = vec![self.ampacity(&conductor, limit)];
        if let Some(load) = self.given.figures.worst(wire) {
            let at = self.given.conductors.at(self.given.design, self.given.figures, wire, load.point);
            let conductor = at.unwrap_or(conductor);
            figures.push(self.lasting_current(load.amps, load.point));
            let limit = self.given.profile.ampacity(&conductor).map_or(limit.amps, |limit| limit.amps);
            figures.push(self.temperature(&conductor, load.amps, limit).at(Some(load.point)));
        }
        figures.push(self.time_constant(&conductor, limit.amps));
        figures
    }

    fn lacking(&self, wire: WireId) -> String {
        match &self.given.design.wire(wire).size {
            None => "size".to_owned(),
            Some(size) => {
                let word = self.given.profile.word;
                format!("an ampacity for {} (the profile `{word}` has none)", size.written)
            }
        }
    }

    fn ampacity(&self, conductor: &Conductor, limit: &Ampacity) -> Explained {
        let beside = Amount::Value(f64::from(conductor.bundle), Dimension::Number);
        let figure = Explained::new("ampacity", Amount::of(limit.amps))
            .by("I = I_table × k_bundle × √((T_ins − T_air) / (T_ins − T_table))", limit.basis.clone())
            .from([
                Input::of("A", "copper area", conductor.area),
                Input::of("T_ins", "class of the insulation", conductor.insulation),
                Input::of("T_air", "warmest air around it", conductor.ambient),
            ])
            .from([Input {
                symbol: "n",
                what: "loaded conductors side by side, this one included".to_owned(),
                amount: beside,
            }])
            .noting(format!("profile `{}`; no altitude is taken", self.given.profile.word));
        // The bundle factors of the regulation, and the notes of its tables, were not read again.
        figure.resting_on(Evidence::Memory)
    }

    fn lasting_current(&self, amps: Amps, at: usize) -> Explained {
        let duty = self.given.figures.points.get(at).map_or(Share(1.0), |point| point.duty);
        let figure = Explained::new("lasting current", Amount::of(amps))
            .by("I = I_load √d", "Kirchhoff's laws, network solved; heat goes with the square of the current")
            .from([
                Input::of(
                    "I_load",
                    format!("while the load flows, mode `{}`", self.mode_name(at)),
                    amps / duty.0.sqrt(),
                ),
                Input::of("d", "share of the time that it flows", duty),
            ])
            .at(Some(at));
        if duty < Share(1.0) {
            figure.noting("averaged over the duty, which holds only while load and pause are short against the wire's time constant")
        } else {
            figure
        }
    }

    fn temperature(&self, conductor: &Conductor, amps: Amps, limit: Amps) -> Explained {
        let what = "conductor temperature";
        let (air, class) = (conductor.ambient, conductor.insulation);
        if limit <= Amps(0.0) {
            let words = format!("the air of {air} is as warm as the insulation may be");
            return Explained::new(what, Amount::Words(words));
        }
        // The handbook's root is on the warm side up to the ampacity, and on the cool side above it: there the rise is taken
        // to grow with the heat.
        let figure = if amps <= limit {
            Explained::new(what, Amount::of(heat::handbook_temperature(air, class, amps, limit)))
                .by("T₂ = T₁ + (T_R − T₁) √(I₂ / I_max)", "FAA AC 43.13-1B p. 11-23")
        } else {
            let settled = air + (class - air) * (amps / limit).powi(2);
            Explained::new(what, Amount::of(settled.min(COPPER_MELTS)))
                .by("T₂ = T₁ + (T_R − T₁) (I₂ / I_max)²", "Joule's law, the loss in proportion to the rise")
        };
        figure
            .from([
                Input::of("T₁", "air", air),
                Input::of("T_R", "class of the insulation", class),
                Input::of("I₂", "lasting current", amps),
                Input::of("I_max", "ampacity there", limit),
            ])
            .noting("an estimate on the warm side")
            .resting_on(Evidence::Memory)
    }

    fn time_constant(&self, conductor: &Conductor, limit: Amps) -> Explained {
        Explained::new("thermal time constant", Amount::of(warming(conductor, limit).time_constant()))
            .by(
                "τ = c A (T_ins − T_air) / q(T_ins)",
                "heat capacity of the copper alone, IEC 60949; loss by Churchill and Chu 1975 with radiation, scaled to the \
                 profile's ampacity",
            )
            .from([
                Input::of("A", "copper area", conductor.area),
                Input::of("T_ins", "class of the insulation", conductor.insulation),
                Input::of("T_air", "air", conductor.ambient),
                Input::of("I_max", "ampacity there", limit),
            ])
            .resting_on(Evidence::Memory)
    }
}
