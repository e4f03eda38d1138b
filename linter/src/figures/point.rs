//! What a working point says about a link, a terminal, a source or a coil.

use wattle_grammar::{
    kind::{KindId, Role},
    quantity::{Amps, Volts, Watts},
};

use super::Point;
use crate::{
    design::{Design, TerminalId, ThingId, WireId},
    network::{ElementId, Law, NodeId, Working},
    topology::{LinkId, Nature, Topology},
    unfold::Further,
};

impl Point {
    /// The solution; `None` when there is none.
    #[must_use]
    pub fn working(&self) -> Option<&Working> {
        self.outcome.as_deref().ok()
    }

    /// The current through a link, from its `a` to its `b`; `None` when unsolved. Of the third lead of a brushless motor how
    /// much its winding carries, without a direction.
    #[must_use]
    pub fn amps(&self, link: LinkId) -> Option<Amps> {
        let Some(windings) = self.third_leads.get(&link) else { return self.own_amps(link) };
        windings.iter().map(|winding| Some(Amps(self.own_amps(*winding)?.0.abs()))).sum()
    }

    fn own_amps(&self, link: LinkId) -> Option<Amps> {
        let element = (*self.element_of.get(link.0 as usize)?)?;
        let own = self.element_amps(element)?;
        let mut further = self.further_of(link).iter();
        further
            .try_fold(own, |sum, more| Some(sum + self.element_amps(more.element)? * f64::from(more.counts)))
    }

    /// The current through an element, from its `a` to its `b`.
    fn element_amps(&self, element: ElementId) -> Option<Amps> {
        self.working()?.amps.get(element.0 as usize).copied().map(Amps)
    }

    fn further_of(&self, link: LinkId) -> &[Further] {
        // Wires come before all links that have any.
        if self.further.first().is_none_or(|first| link < first.link) {
            return &[];
        }
        let first = self.further.partition_point(|further| further.link < link);
        let count = self.further[first..].iter().take_while(|further| further.link == link).count();
        &self.further[first..first + count]
    }

    /// The link that an element belongs to, as when a diagnosis names elements.
    #[must_use]
    pub fn link_of(&self, element: ElementId) -> Option<LinkId> {
        if (element.0 as usize) < self.element_of.len() {
            return Some(LinkId(element.0));
        }
        self.further.iter().find(|further| further.element == element).map(|further| further.link)
    }

    /// Whether a link's own element conducts in either direction by its nature and as contacts stand: closed contacts,
    /// wires, coils. Diodes and loads count, whatever they carry; open and absent ones do not.
    #[must_use]
    pub fn is_closed(&self, link: LinkId) -> Option<bool> {
        let element = (*self.element_of.get(link.0 as usize)?)?;
        let working = self.working()?;
        // Followers stand in link order.
        let follower = self.network.followers.binary_search_by_key(&element, |follower| follower.contact);
        match follower {
            Ok(at) => working.closed.get(at).copied(),
            Err(_) => Some(self.network.elements.get(element.0 as usize)?.law != Law::Open),
        }
    }

    /// The voltage of a terminal against the reference of its island; `None` when unsolved. In an island with a source
    /// the reference is the negative pole of the first of its sources, in text order.
    #[must_use]
    pub fn volts(&self, topology: &Topology, terminal: TerminalId) -> Option<Volts> {
        self.node_volts(topology.node(terminal)?)
    }

    fn node_volts(&self, node: NodeId) -> Option<Volts> {
        self.working()?.volts.get(node.0 as usize).copied().map(Volts)
    }

    /// The voltage from one node to another; `None` when unsolved or when nothing joins them, so that the voltage
    /// between them is not defined.
    #[must_use]
    pub fn volts_across(&self, plus: NodeId, minus: NodeId) -> Option<Volts> {
        let island = |node: NodeId| self.working()?.island.get(node.0 as usize).copied();
        if island(plus)? != island(minus)? {
            return None;
        }
        Some(self.node_volts(plus)? - self.node_volts(minus)?)
    }

    /// The voltage from one terminal to another; `None` as in [`Self::volts_across`].
    #[must_use]
    pub fn volts_between(&self, topology: &Topology, plus: TerminalId, minus: TerminalId) -> Option<Volts> {
        self.volts_across(topology.node(plus)?, topology.node(minus)?)
    }

    /// The voltage across a link, from its `a` to its `b`.
    #[must_use]
    pub fn link_volts(&self, topology: &Topology, link: LinkId) -> Option<Volts> {
        let link = topology.link(link)?;
        self.volts_across(link.a, link.b)
    }

    /// The voltage that a wire drops, from its `from` end to its `to` end.
    #[must_use]
    pub fn wire_drop(&self, topology: &Topology, wire: WireId) -> Option<Volts> {
        self.link_volts(topology, LinkId(wire.0))
    }

    /// The voltage over the coil of a relay or contactor, from A1 to A2; 0 when nothing joins its ends to anything.
    #[must_use]
    pub fn coil_volts(&self, topology: &Topology, thing: ThingId) -> Option<Volts> {
        self.link_volts(topology, topology.coil(thing)?)
    }

    /// The voltage between the positive and the negative supply (or pole) of a thing; `None` when it has none, when
    /// unsolved, or when nothing joins the two (it is not powered).
    #[must_use]
    pub fn supply_volts(&self, design: &Design, topology: &Topology, thing: ThingId) -> Option<Volts> {
        let first = |roles: [Role; 2]| {
            design.terminals_of(thing).find(|(_, terminal)| roles.contains(&terminal.role)).map(|(id, _)| id)
        };
        let plus = first([Role::SupplyPositive, Role::SourcePositive])?;
        let minus = first([Role::SupplyNegative, Role::SourceNegative])?;
        self.volts_between(topology, plus, minus)
    }

    /// The current a source gives out of its positive pole; negative when it is charged. `None` for a thing that is no
    /// source, or when unsolved.
    #[must_use]
    pub fn source_amps(&self, topology: &Topology, thing: ThingId) -> Option<Amps> {
        let of_source = |nature: Nature| matches!(nature, Nature::Cells { .. } | Nature::Supply);
        // Segments are laid from the negative pole upwards, so the last one is at the positive pole.
        let (top, _) = topology.inside(thing).filter(|(_, link)| of_source(link.nature)).last()?;
        Some(-self.amps(top)?)
    }

    /// The power a source gives at its poles; negative when it is charged. `None` as in [`Self::source_amps`].
    #[must_use]
    pub fn source_watts(&self, topology: &Topology, thing: ThingId) -> Option<Watts> {
        let of_source = |nature: Nature| matches!(nature, Nature::Cells { .. } | Nature::Supply);
        let segments = topology.inside(thing).filter(|(_, link)| of_source(link.nature));
        let mut total = None;
        for (id, link) in segments {
            // A segment that nothing joins carries nothing.
            let volts = self.volts_across(link.a, link.b).unwrap_or(Volts(0.0));
            total = Some(total.unwrap_or(Watts(0.0)) - volts * self.amps(id)?);
        }
        total
    }

    /// The current a thing draws at its supply input: a load, a driver, a regulator, a coil, a motor, a speaker. `None`
    /// for a thing without one, or when unsolved. A motor's counts from lead a to lead b.
    #[must_use]
    pub fn drawn_amps(&self, topology: &Topology, thing: ThingId) -> Option<Amps> {
        let draws = |nature: Nature| {
            matches!(
                nature,
                Nature::Load
                    | Nature::DriverInput
                    | Nature::ConverterInput
                    | Nature::Coil(_)
                    | Nature::Winding
                    | Nature::SpeakerCoil
            )
        };
        let (link, _) = topology.inside(thing).find(|(_, link)| draws(link.nature))?;
        self.amps(link)
    }

    /// Each source with the current it gives, in thing order; empty when unsolved.
    #[must_use]
    pub fn sources(&self, design: &Design, topology: &Topology) -> Vec<(ThingId, Amps)> {
        let is_source = |kind: KindId| {
            matches!(kind, KindId::Battery | KindId::Charger | KindId::Supply | KindId::Generator)
        };
        let sources = design.things().filter(|(_, thing)| is_source(thing.id()));
        sources.filter_map(|(id, _)| Some((id, self.source_amps(topology, id)?))).collect()
    }
}
