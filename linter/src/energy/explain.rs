//! The figures of this room with their derivation.

mod lasting;
mod packs;

use super::Energy;
use crate::{
    design::{Design, ModeId, ThingId},
    explained::{Amount, Explained},
    figures::Figures,
    missing::Missing,
    naming,
};

/// What the network is solved by.
const SOLVED: &str = "Kirchhoff's laws, network solved";

impl Energy {
    /// The figures of one battery; none for any other thing.
    #[must_use]
    pub fn explain(&self, design: &Design, figures: &Figures, thing: ThingId) -> Vec<Explained> {
        let Some(pack) = self.pack(thing) else { return Vec::new() };
        let telling = Telling { design, figures, energy: self };
        let mut told = packs::currents(&telling, pack);
        told.extend(packs::voltages(&telling, pack));
        told.extend(packs::charging(&telling, pack));
        told.extend(packs::joining(&telling, pack));
        told.extend(lasting::of_pack(&telling, pack));
        told
    }

    /// The figures of the whole robot: how long it lasts in each mode, in the stated mix, and put away.
    #[must_use]
    pub fn explain_robot(&self, design: &Design, figures: &Figures) -> Vec<Explained> {
        lasting::of_robot(&Telling { design, figures, energy: self })
    }
}

/// What the words are made from.
struct Telling<'a> {
    design: &'a Design,
    figures: &'a Figures,
    energy: &'a Energy,
}

impl Telling<'_> {
    /// `` `NAME` ``.
    fn name(&self, thing: ThingId) -> String {
        naming::thing(self.design, thing)
    }

    /// The name of a mode, as written.
    fn mode(&self, mode: ModeId) -> &str {
        self.design.modes.get(mode.index()).map_or("", |mode| mode.name.as_str())
    }

    /// Whether a mode may last; one without any point is told all the same.
    fn may_last(&self, mode: ModeId) -> bool {
        let mut points = self.figures.points.iter().filter(|point| point.mode == mode);
        points.next().is_none_or(|point| point.ordinary)
    }

    /// The name of a mode of a point.
    fn mode_of(&self, point: usize) -> &str {
        self.figures.points.get(point).map_or("", |point| self.mode(point.mode))
    }

    /// An amount that may be missing.
    fn amount<T>(&self, found: &Result<T, Missing>, told: impl FnOnce(&T) -> Amount) -> Amount {
        match found {
            Ok(found) => told(found),
            Err(missing) => Amount::NotAssessed(self.missing(missing)),
        }
    }

    /// `discharge` of `PACK`.
    fn missing(&self, missing: &Missing) -> String {
        match missing.of {
            Some(thing) => format!("{} of {}", missing.what, self.name(thing)),
            None => missing.what.clone(),
        }
    }
}
