//! What was asked of the surges so far, so that nothing is computed a second time.

use std::collections::BTreeMap;

use super::{Bus, Closing, Coil, Contact, Seen, Surges, bus, capacity::capacities, closing, coils, hold};
use crate::{design::Design, figures::Figures, topology::Topology};

/// The parts of [`Surges`] that a rule had computed.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    closings: BTreeMap<Contact, Option<Closing>>,
    buses: Option<Vec<Bus>>,
    coils: Option<Vec<Coil>>,
}

impl Asked {
    /// What flows when one contact closes; `None` when it is none, closes in no mode or fills nothing.
    pub fn closing(
        &mut self,
        design: &Design,
        topology: &Topology,
        figures: &Figures,
        contact: Contact,
    ) -> Option<&Closing> {
        let seen = Seen { design, topology, figures };
        let found = self.closings.entry(contact);
        found.or_insert_with(|| closing::onto(&seen, &capacities(&seen), contact)).as_ref()
    }

    /// Each driver's bus, in thing order.
    pub fn buses(&mut self, design: &Design, topology: &Topology, figures: &Figures) -> &[Bus] {
        let seen = Seen { design, topology, figures };
        self.buses.get_or_insert_with(|| bus::buses(&seen))
    }

    /// Each coil, in thing order.
    pub fn coils(&mut self, design: &Design, topology: &Topology, figures: &Figures) -> &[Coil] {
        self.coils.get_or_insert_with(|| coils(design, topology, figures))
    }

    /// All tables: what was asked already, and the rest.
    #[must_use]
    pub fn completed(&self, design: &Design, topology: &Topology, figures: &Figures) -> Surges {
        let seen = Seen { design, topology, figures };
        Surges {
            closings: closing::closings(&seen, &self.closings),
            buses: self.buses.clone().unwrap_or_else(|| bus::buses(&seen)),
            coils: self.coils.clone().unwrap_or_else(|| coils(design, topology, figures)),
            holds: hold::holds(&seen),
        }
    }
}
