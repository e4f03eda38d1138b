//! Each wire as a conductor in its surroundings: size, insulation, air temperature and loaded neighbours.

mod settling;

use std::collections::BTreeMap;

use wattle_grammar::quantity::{Amps, Celsius};

use crate::{
    air,
    design::{Design, HarnessId, ModeId, Wire, WireId},
    figures::Figures,
    profile::{Ampacity, Conductor, Profile},
};

pub use settling::{Settling, WARMTH_BASIS, alone, settled, temperature};

/// Insulation class assumed when none is stated: the lowest column of the tables, hence the careful one.
pub const DEFAULT_INSULATION: Celsius = Celsius(60.0);

/// Air temperature assumed when none is stated: an enclosed robot indoors. Common practice.
pub const DEFAULT_AMBIENT: Celsius = Celsius(40.0);

/// A neighbour counts as loaded when it carries more than this share of what it could carry alone. Common practice.
const LOADED_SHARE: f64 = 0.1;

/// The loaded conductors of each harness at each working point.
#[derive(Clone, Debug, Default)]
pub struct Conductors {
    /// By point, then by harness: how many of its wires are loaded.
    loaded: Vec<Vec<u32>>,
    /// By harness: how many are at most; none without any point.
    most: Vec<Option<u32>>,
}

impl Conductors {
    /// Counts the loaded wires.
    #[must_use]
    pub fn new(design: &Design, figures: &Figures, profile: &Profile) -> Self {
        let mut looked_up = LookedUp::default();
        let mut alone = |wire: &Wire| {
            wire.harness?;
            Some(looked_up.ampacity(profile, conductor(design, wire, None, 1)?)?.amps)
        };
        let alone: Vec<Option<Amps>> = design.wires.iter().map(&mut alone).collect();
        let points = 0..figures.points.len();
        let loaded: Vec<Vec<u32>> = points.map(|point| count(design, figures, &alone, point)).collect();
        let most = |harness: usize| loaded.iter().filter_map(|of| of.get(harness)).copied().max();
        Self { most: (0..design.harnesses.len()).map(most).collect(), loaded }
    }

    /// The wire as it stands at a working point.
    #[must_use]
    pub fn at(&self, design: &Design, figures: &Figures, wire: WireId, point: usize) -> Option<Conductor> {
        let mode = figures.points.get(point).map(|point| point.mode);
        let wire = design.wires.get(wire.index())?;
        let counted = wire.harness.map(|harness| self.loaded_in(point, harness));
        conductor(design, wire, mode, stated_bundle(design, wire).or(counted).unwrap_or(1))
    }

    /// The wire in the worst company and the warmest air it ever has.
    #[must_use]
    pub fn worst(&self, design: &Design, wire: WireId) -> Option<Conductor> {
        let wire = design.wires.get(wire.index())?;
        let most = |harness: HarnessId| self.most.get(harness.index()).copied().flatten();
        let counted = wire.harness.and_then(most).map(|most| most.max(1));
        let alone = conductor(design, wire, None, stated_bundle(design, wire).or(counted).unwrap_or(1))?;
        let modes = (0u32..).map(ModeId).take(design.modes.len());
        let warmest = modes.map(|mode| ambient(design, wire, Some(mode))).fold(alone.ambient, Celsius::max);
        Some(Conductor { ambient: warmest, ..alone })
    }

    fn loaded_in(&self, point: usize, harness: HarnessId) -> u32 {
        self.loaded
            .get(point)
            .and_then(|by_harness| by_harness.get(harness.index()))
            .copied()
            .unwrap_or(1)
            .max(1)
    }
}

/// The ampacity of a wire in the worst company it ever has.
#[must_use]
pub fn worst_ampacity(
    design: &Design,
    conductors: &Conductors,
    profile: &Profile,
    wire: WireId,
) -> Option<Ampacity> {
    profile.ampacity(&conductors.worst(design, wire)?)
}

/// The ampacity of each wire in the worst company it ever has, in wire order; `None` for one without a size, or of a size
/// that the profile does not list.
#[must_use]
pub fn worst_ampacities(
    design: &Design,
    conductors: &Conductors,
    profile: &Profile,
) -> Vec<Option<Ampacity>> {
    let mut looked_up = LookedUp::default();
    let of = |(wire, _): (WireId, &Wire)| looked_up.ampacity(profile, conductors.worst(design, wire)?);
    design.wires().map(of).collect()
}

/// What a profile says of conductors. Robots have many wires and few kinds of them.
#[derive(Clone, Debug, Default)]
struct LookedUp {
    known: BTreeMap<[u64; 4], Option<Ampacity>>,
}

impl LookedUp {
    fn ampacity(&mut self, profile: &Profile, conductor: Conductor) -> Option<Ampacity> {
        let Conductor { area, insulation, ambient, bundle } = conductor;
        let key = [area.0.to_bits(), insulation.0.to_bits(), ambient.0.to_bits(), u64::from(bundle)];
        self.known.entry(key).or_insert_with(|| profile.ampacity(&conductor)).clone()
    }
}

/// What was taken for surroundings that are not written, in plain sentences.
#[must_use]
pub fn assumptions(design: &Design) -> Vec<String> {
    let count = |lacks: &dyn Fn(&Wire) -> bool| {
        let lacking = design.wires.iter().filter(|wire| !wire.spare && lacks(wire)).count();
        if lacking == 1 { "1 wire".to_owned() } else { format!("{lacking} wires") }
    };
    let lacks_air = |wire: &Wire| air::written(design, wire.place, None).is_none();
    let lacks_class = |wire: &Wire| wire.insulation.is_none();
    let mut sentences = Vec::new();
    if design.wires.iter().any(lacks_air) {
        sentences.push(format!(
            "air of {DEFAULT_AMBIENT} taken around {}: no `ambient` is written",
            count(&lacks_air)
        ));
    }
    if design.wires.iter().any(lacks_class) {
        let wires = count(&lacks_class);
        sentences
            .push(format!("class of {DEFAULT_INSULATION} taken for {wires}: no `insulation` is written"));
    }
    sentences
}

pub(crate) fn stated_bundle(design: &Design, wire: &Wire) -> Option<u32> {
    wire.bundle.or_else(|| design.harnesses.get(wire.harness?.index())?.bundle)
}

fn conductor(design: &Design, wire: &Wire, mode: Option<ModeId>, bundle: u32) -> Option<Conductor> {
    Some(Conductor {
        area: wire.size.as_ref()?.area,
        insulation: wire.insulation.unwrap_or(DEFAULT_INSULATION),
        ambient: ambient(design, wire, mode),
        bundle,
    })
}

/// The warmest air around the wire in a mode, else the assumed one.
pub(crate) fn ambient(design: &Design, wire: &Wire, mode: Option<ModeId>) -> Celsius {
    air::written(design, wire.place, mode).unwrap_or(DEFAULT_AMBIENT)
}

fn count(design: &Design, figures: &Figures, alone: &[Option<Amps>], point: usize) -> Vec<u32> {
    let is_loaded = |wire: &WireId| {
        let amps = figures.wire_amps(point, *wire).map_or(0.0, |amps| amps.0.abs());
        let limit = alone.get(wire.index()).copied().flatten().map_or(0.0, |limit| limit.0);
        amps > LOADED_SHARE * limit && amps > 0.0
    };
    let loaded = |wires: &[WireId]| wires.iter().filter(|wire| is_loaded(wire)).count();
    design.harnesses.iter().map(|harness| u32::try_from(loaded(&harness.wires)).unwrap_or(u32::MAX)).collect()
}
