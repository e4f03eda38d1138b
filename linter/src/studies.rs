//! The studies of a robot beyond its working points: conductors, protection, energy, surges. Each is made once for an
//! analysis, what only some surfaces need when it is first asked for.

use std::sync::OnceLock;

use crate::{
    analysis::Analysis,
    conductors::Conductors,
    energy::Energy,
    profile::Ampacity,
    protection::{Given, Protection},
    surge::{Asked, Surges},
};

/// The studies of an analysis.
#[derive(Clone, Debug, Default)]
pub struct Studies {
    /// Each wire in its surroundings.
    pub conductors: Conductors,
    /// The ampacity of each wire in its worst company, by [`crate::design::WireId`].
    pub ampacities: Vec<Option<Ampacity>>,
    /// What protects what.
    pub protection: Protection,
    /// What rules judge batteries by.
    judged: Energy,
    /// What rules asked of the surges.
    asked: Asked,
    energy: OnceLock<Energy>,
    surges: OnceLock<Surges>,
}

impl Studies {
    /// What the rules have had computed.
    #[must_use]
    pub fn new(
        conductors: Conductors,
        ampacities: Vec<Option<Ampacity>>,
        protection: Protection,
        energy: Energy,
        asked: Asked,
    ) -> Self {
        Self {
            conductors,
            ampacities,
            protection,
            judged: energy,
            asked,
            energy: OnceLock::new(),
            surges: OnceLock::new(),
        }
    }
}

impl Analysis {
    /// What the parts of the analysis are made from.
    #[must_use]
    pub fn given(&self) -> Given<'_> {
        let Self { design, topology, trace, figures, profile, studies, .. } = self;
        let Studies { conductors, ampacities, .. } = studies;
        Given { design, topology, trace, figures, profile, conductors, ampacities }
    }

    /// What protects what.
    #[must_use]
    pub const fn protection(&self) -> &Protection {
        &self.studies.protection
    }

    /// Batteries as stores of energy, with what goes round between them.
    #[must_use]
    pub fn energy(&self) -> &Energy {
        let Self { design, topology, figures, studies, .. } = self;
        studies.energy.get_or_init(|| studies.judged.side_by_side(design, topology, figures))
    }

    /// Transients.
    #[must_use]
    pub fn surges(&self) -> &Surges {
        let Self { design, topology, figures, studies, .. } = self;
        studies.surges.get_or_init(|| studies.asked.completed(design, topology, figures))
    }
}
