//! What a meter would show: the voltage at a terminal or between two, the current through a wire or a thing.

use wattle_grammar::{
    kind::{Family, KindId, Role},
    quantity::{Amps, Volts},
};

use crate::{
    design::{Design, Probe, TerminalId, ThingId},
    figures::Point,
    quantity_text::Figure,
    topology::{LinkId, Topology},
};

/// A figure that a meter shows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shown {
    /// A voltage.
    Volts(Volts),
    /// A current; its direction does not count.
    Amps(Amps),
}

impl Shown {
    /// The number in the base unit, volt or ampere.
    #[must_use]
    pub fn base(self) -> f64 {
        match self {
            Self::Volts(volts) => volts.0,
            Self::Amps(amps) => amps.0,
        }
    }

    /// The figure behind a finding.
    #[must_use]
    pub fn figure(self, what: &str, basis: impl Into<String>) -> Figure {
        match self {
            Self::Volts(volts) => Figure::new(what, volts, basis),
            Self::Amps(amps) => Figure::new(what, amps, basis),
        }
    }

    /// Another figure of the same sort.
    #[must_use]
    pub fn like(self, value: f64) -> Self {
        match self {
            Self::Volts(_) => Self::Volts(Volts(value)),
            Self::Amps(_) => Self::Amps(Amps(value)),
        }
    }
}

impl std::fmt::Display for Shown {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Volts(volts) => volts.fmt(f),
            Self::Amps(amps) => amps.fmt(f),
        }
    }
}

/// The voltage that a probe shows at a working point. A terminal of a thing with two poles is measured against the other
/// pole, any other terminal against the lowest negative pole of a source that is joined to it, behind an isolated
/// regulator against the regulator's. What nothing joins shows 0 V. `None` when the point has no solution, or when the probe is no terminal.
#[must_use]
pub fn volts(design: &Design, topology: &Topology, point: &Point, probe: &Probe) -> Option<Volts> {
    point.working()?;
    let between = |plus, minus| point.volts_between(topology, plus, minus).unwrap_or(Volts(0.0));
    match *probe {
        Probe::Between(plus, minus) => Some(between(plus, minus)),
        Probe::Terminal(terminal) => {
            let against = other_pole(design, terminal).or_else(|| lowest(design, topology, point, terminal));
            Some(against.map_or(Volts(0.0), |minus| between(terminal, minus)))
        }
        Probe::Wire(_) | Probe::Thing(_) => None,
    }
}

/// The current that a probe shows at a working point, without its direction: through a wire; into a load, out of a
/// source, or through a thing that only passes current. `None` when the point has no solution or the probe is no such
/// thing.
#[must_use]
pub fn amps(topology: &Topology, point: &Point, probe: &Probe) -> Option<Amps> {
    let amps = match *probe {
        Probe::Wire(wire) => point.amps(LinkId(wire.0))?,
        Probe::Thing(thing) => through(topology, point, thing)?,
        Probe::Terminal(_) | Probe::Between(..) => return None,
    };
    Some(Amps(amps.0.abs()))
}

fn through(topology: &Topology, point: &Point, thing: ThingId) -> Option<Amps> {
    let own = || {
        let mut links = topology.inside(thing);
        // Of a thing with several ways through it nobody knows which one is meant.
        let (only, _) = links.next()?;
        if links.next().is_some() { None } else { point.amps(only) }
    };
    point.source_amps(topology, thing).or_else(|| point.drawn_amps(topology, thing)).or_else(own)
}

/// The largest voltage that a meter finds on a thing: across its poles, its coil or its leads; of a piece without any of
/// these, such as a bar, a plug or a contact, at its terminals against the lowest negative pole that is joined to them.
/// `None` when the point has no solution.
#[must_use]
pub fn left_on(design: &Design, topology: &Topology, point: &Point, thing: ThingId) -> Option<Volts> {
    point.working()?;
    let across = |(plus, minus)| point.volts_between(topology, plus, minus).unwrap_or(Volts(0.0));
    let pairs = pairs(design, thing);
    let found: Vec<Volts> = if pairs.is_empty() {
        let at = |(id, _)| volts(design, topology, point, &Probe::Terminal(id));
        design.terminals_of(thing).filter_map(at).collect()
    } else {
        pairs.into_iter().map(across).collect()
    };
    Some(found.into_iter().map(|volts| Volts(volts.0.abs())).fold(Volts(0.0), Volts::max))
}

/// The pairs of terminals of a thing between which it is fed or drives something.
fn pairs(design: &Design, thing: ThingId) -> Vec<(TerminalId, TerminalId)> {
    let is_lead = |role| matches!(role, Role::MotorLead | Role::SpeakerLead);
    // The leads of a driver are its motors' business: it is fed at its poles.
    let poles = design.terminals_of(thing).filter_map(|(id, _)| Some((id, other_pole(design, id)?)));
    let poles: Vec<_> = poles.collect();
    if !poles.is_empty() {
        return poles;
    }
    let leads: Vec<TerminalId> =
        design.terminals_of(thing).filter(|(_, terminal)| is_lead(terminal.role)).map(|(id, _)| id).collect();
    let with_those_behind = |(at, lead): (usize, &TerminalId)| {
        let lead = *lead;
        leads.iter().skip(at + 1).map(move |other| (lead, *other)).collect::<Vec<_>>()
    };
    leads.iter().enumerate().flat_map(with_those_behind).collect()
}

/// The terminal that a voltage at `terminal` is measured against, on the same thing.
fn other_pole(design: &Design, terminal: TerminalId) -> Option<TerminalId> {
    let found = design.terminal(terminal);
    let wanted = match found.role {
        Role::SupplyPositive => Role::SupplyNegative,
        Role::SourcePositive | Role::Tap => Role::SourceNegative,
        Role::OutputPositive => Role::OutputNegative,
        Role::CoilPositive => Role::CoilNegative,
        _ => return None,
    };
    let mut others = design.terminals_of(found.thing);
    others.find(|(_, other)| other.role == wanted).map(|(id, _)| id)
}

/// The lowest negative pole of a source that is joined to a terminal; where none is, of an isolated regulator.
fn lowest(design: &Design, topology: &Topology, point: &Point, terminal: TerminalId) -> Option<TerminalId> {
    let lowest = |role| {
        let negatives = (0u32..).map(TerminalId).zip(&design.terminals);
        let joined = negatives.filter(|(_, other)| other.role == role && feeds(design, other.thing));
        let heights = joined.filter_map(|(id, _)| Some((id, point.volts_between(topology, terminal, id)?)));
        heights.max_by(|(_, one), (_, other)| one.0.total_cmp(&other.0)).map(|(id, _)| id)
    };
    lowest(Role::SourceNegative).or_else(|| lowest(Role::OutputNegative))
}

/// Whether a thing makes the voltage of a rail, as a source or a regulator does and a driver or an amplifier does not.
fn feeds(design: &Design, thing: ThingId) -> bool {
    let thing = design.thing(thing);
    thing.kind.family == Family::Source || thing.id() == KindId::Regulator
}
