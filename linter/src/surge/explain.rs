//! The figures of this room with their derivation.

mod braking;
mod buses;
mod closings;
mod coils;
mod holds;

use super::{Contact, Surges};
use crate::{
    design::{Design, MateId, ThingId},
    explained::{Amount, Explained},
    figures::Figures,
    missing::Missing,
    naming,
};

/// What the network is solved by.
const SOLVED: &str = "Kirchhoff's laws, network solved";

/// Where the formulas of capacitors are published.
const CAPACITORS: &str = "OpenStax University Physics vol. 2, sections 8.3 and 10.5";

impl Surges {
    /// The figures of one thing: of a contact what it closes onto, of a driver its supply when motors give back, of a coil
    /// how it pulls in warm, of what capacitors hold how long, of a motor the energy of what it moves.
    #[must_use]
    pub fn explain(&self, design: &Design, figures: &Figures, thing: ThingId) -> Vec<Explained> {
        let telling = Telling { design, figures };
        let mut told = self.closing_of(&telling, Contact::Thing(thing));
        let buses = self.buses.iter().filter(|bus| bus.driver == thing);
        told.extend(buses.flat_map(|bus| buses::told(&telling, bus)));
        let coils = self.coils.iter().filter(|coil| coil.thing == thing);
        told.extend(coils.flat_map(|coil| coils::told(&telling, coil)));
        let holds = self.holds.iter().filter(|hold| hold.thing == thing);
        told.extend(holds.map(|hold| holds::told(&telling, hold)));
        told.extend(braking::of_motor(&telling, thing));
        told
    }

    /// The figures of a mated pair that is plugged together under voltage.
    #[must_use]
    pub fn explain_mate(&self, design: &Design, figures: &Figures, mate: MateId) -> Vec<Explained> {
        self.closing_of(&Telling { design, figures }, Contact::Mate(mate))
    }

    fn closing_of(&self, telling: &Telling<'_>, contact: Contact) -> Vec<Explained> {
        let closings = self.closings.iter().filter(|closing| closing.contact == contact);
        closings.flat_map(|closing| closings::told(telling, closing)).collect()
    }
}

/// What the words are made from.
struct Telling<'a> {
    design: &'a Design,
    figures: &'a Figures,
}

impl Telling<'_> {
    /// `` `NAME` ``.
    fn name(&self, thing: ThingId) -> String {
        naming::thing(self.design, thing)
    }

    /// `` `A`, `B` and `C` ``.
    fn names(&self, things: &[ThingId]) -> String {
        naming::listed(&things.iter().map(|thing| self.name(*thing)).collect::<Vec<_>>())
    }

    /// The name of the mode of a point.
    fn mode_of(&self, point: usize) -> &str {
        let mode = self.figures.points.get(point).and_then(|point| self.design.modes.get(point.mode.index()));
        mode.map_or("", |mode| mode.name.as_str())
    }

    /// An amount that may be missing.
    fn amount<T>(&self, found: &Result<T, Missing>, told: impl FnOnce(&T) -> Amount) -> Amount {
        match found {
            Ok(found) => told(found),
            Err(missing) => Amount::NotAssessed(match missing.of {
                Some(thing) => format!("{} of {}", missing.what, self.name(thing)),
                None => missing.what.clone(),
            }),
        }
    }
}
