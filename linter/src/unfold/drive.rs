//! Drivers, their channels and the motors that hang on them.
//!
//! A driving channel chops: it pushes the current of its motors through their leads, whatever the supply's voltage, and
//! draws from the supply the motors' power over its efficiency. It cannot give more voltage than the supply has; where
//! the motors ask for more, it passes the supply straight through and draws the motors' current.

use std::collections::BTreeSet;

use wattle_grammar::{
    kind::key,
    quantity::{Amps, Volts},
};

use super::{
    further::Making,
    load::lowest_supply,
    motor::{Motor, motor},
    plan::Plan,
    skeleton::{links, thing_of},
    usual,
};
use crate::{
    design::{Design, State, ThingId},
    network::{ElementId, Law, Network, NodeId},
    topology::{LinkId, Nature, Topology, sets::Sets},
};

/// All drivers of a robot.
#[derive(Clone, Debug, Default)]
pub(crate) struct Drives {
    pub(super) drivers: Vec<Driver>,
    pub(super) channels: Vec<Channel>,
    pub(super) windings: Vec<Winding>,
}

/// A driver.
#[derive(Clone, Debug)]
pub(super) struct Driver {
    /// Its supply input: a link and the link's own element, which draws currents.
    pub(super) input: ElementId,
    /// A second element of the supply input, which draws powers.
    power: ElementId,
    /// Positive and negative supply.
    pub(super) supply: (NodeId, NodeId),
    quiescent: Amps,
    /// The lowest supply voltage it works with.
    pub(super) lowest: Volts,
}

/// One channel of a driver.
#[derive(Clone, Debug)]
pub(super) struct Channel {
    /// Position in [`Drives::drivers`].
    pub(super) driver: usize,
    /// The element that pushes the motors' current from lead b to lead a.
    bridge: ElementId,
    /// Its freewheel diodes; while the channel drives, its transistors decide instead.
    diodes: Vec<ElementId>,
    /// Leakage between the leads while it drives.
    leak: ElementId,
    /// The transistor that holds lead b at negative while it drives.
    low_side: ElementId,
    /// Leads a and b.
    pub(super) leads: (NodeId, NodeId),
    /// The current it limits itself to.
    pub(super) limit: Option<Amps>,
}

/// The winding of a motor.
#[derive(Clone, Debug)]
pub(super) struct Winding {
    pub(super) thing: ThingId,
    pub(super) motor: Motor,
    element: ElementId,
    /// The second element, for a motor straight on its supply.
    reverse: ElementId,
    pub(super) leads: (NodeId, NodeId),
    /// Whether one of its leads can be on a bridge when contacts stand the right way.
    has_bridge: bool,
}

impl Drives {
    /// Finds drivers, channels and motors and adds the elements that they need.
    pub(super) fn find(design: &Design, topology: &Topology, making: &mut Making) -> Self {
        let mut drives = Self::default();
        for (id, link) in links(topology) {
            match link.nature {
                Nature::DriverInput => drives.add_driver(design, topology, id, making),
                Nature::BridgeOutput => drives.add_channel(design, topology, id, making),
                Nature::Winding => drives.add_winding(design, topology, id, making),
                _ => {}
            }
        }
        drives.mark_bridged(topology);
        drives
    }

    fn add_driver(&mut self, design: &Design, topology: &Topology, id: LinkId, making: &mut Making) {
        let Some(link) = topology.link(id) else { return };
        let Some((_, thing)) = thing_of(design, link) else { return };
        let leak = making.add(id, (link.a, link.b), 1);
        making.elements[leak.0 as usize].law = Law::Resistor(usual::BUS_LEAK);
        self.drivers.push(Driver {
            input: ElementId(id.0),
            power: making.add(id, (link.a, link.b), 1),
            supply: (link.a, link.b),
            quiescent: thing.get(key::QUIESCENT).unwrap_or(Amps(0.0)),
            lowest: lowest_supply(thing).unwrap_or(usual::CUTOFF).max(usual::CUTOFF),
        });
    }

    /// The channel belongs to the driver added last: its links follow the supply input's.
    fn add_channel(&mut self, design: &Design, topology: &Topology, id: LinkId, making: &mut Making) {
        let Some(link) = topology.link(id) else { return };
        let Some((thing_id, thing)) = thing_of(design, link) else { return };
        let Some((driver, supply)) =
            self.drivers.len().checked_sub(1).map(|at| (at, self.drivers[at].supply))
        else {
            return;
        };
        let inside = topology.inside(thing_id).skip_while(|(other, _)| *other <= id);
        let diodes = inside.take_while(|(_, link)| link.nature == Nature::BridgeDiode);
        self.channels.push(Channel {
            driver,
            bridge: ElementId(id.0),
            diodes: diodes.map(|(id, _)| ElementId(id.0)).collect(),
            leak: making.add(id, (link.a, link.b), 1),
            low_side: making.add(id, (link.b, supply.1), 0),
            leads: (link.a, link.b),
            limit: thing.get(key::CURRENT_LIMIT),
        });
    }

    fn add_winding(&mut self, design: &Design, topology: &Topology, id: LinkId, making: &mut Making) {
        let Some(link) = topology.link(id) else { return };
        let Some((thing_id, thing)) = thing_of(design, link) else { return };
        self.windings.push(Winding {
            thing: thing_id,
            motor: motor(design, thing),
            element: ElementId(id.0),
            reverse: making.add(id, (link.b, link.a), -1),
            leads: (link.a, link.b),
            has_bridge: false,
        });
    }

    /// Marks the motors that have a bridge when every contact that can close is closed.
    fn mark_bridged(&mut self, topology: &Topology) {
        let mut nets = Sets::new(topology.nodes as usize);
        for (_, link) in links(topology).filter(|(_, link)| passes(link.nature)) {
            nets.join(link.a.0, link.b.0);
        }
        let leads = self.channels.iter().flat_map(|channel| [channel.leads.0, channel.leads.1]);
        let driven: BTreeSet<u32> = leads.map(|lead| nets.root(lead.0)).collect();
        for winding in &mut self.windings {
            let nets_of = [winding.leads.0, winding.leads.1].map(|lead| nets.root(lead.0));
            winding.has_bridge = nets_of.iter().any(|net| driven.contains(net));
        }
    }

    /// Lays everything as it is while no driver drives.
    pub(super) fn rest(&self, design: &Design, states: &[State], network: &mut Network) {
        for driver in &self.drivers {
            network.elements[driver.input.0 as usize].law = current_load(driver.quiescent, driver.lowest);
        }
        for winding in &self.windings {
            let state = states.get(winding.thing.index()).copied().unwrap_or(State::Plain);
            let thing = design.thing(winding.thing);
            let (law, reverse) = winding.motor.laws(thing, state, winding.has_bridge);
            network.elements[winding.element.0 as usize].law = law;
            network.elements[winding.reverse.0 as usize].law = reverse;
        }
    }

    /// Lays a plan over the network of a mode, in which nothing drives yet.
    pub(crate) fn apply(&self, plan: &Plan, network: &mut Network) {
        let mut set = |element: ElementId, law: Law| network.elements[element.0 as usize].law = law;
        for driven in &plan.windings {
            let winding = &self.windings[driven.winding];
            set(winding.element, Law::Source { emf: driven.emf, resistance: winding.motor.winding });
        }
        for driven in &plan.channels {
            let channel = &self.channels[driven.channel];
            set(channel.bridge, Law::Current(-driven.amps));
            set(channel.leak, Law::Resistor(usual::BRIDGE_LEAK));
            set(channel.low_side, Law::Resistor(usual::BRIDGE));
            channel.diodes.iter().for_each(|diode| set(*diode, Law::Open));
        }
        for (driver, draw) in self.drivers.iter().zip(plan.supply(self)) {
            set(driver.input, current_load(driver.quiescent + draw.amps, driver.lowest));
            if let Some(law) = draw.power_load() {
                set(driver.power, law);
            }
        }
    }
}

/// A load of a current; nothing for none.
fn current_load(amps: Amps, cutoff: Volts) -> Law {
    if amps > Amps(0.0) { Law::CurrentLoad { amps, cutoff } } else { Law::Open }
}

/// Whether a motor's current passes a link of this nature.
pub(super) fn passes(nature: Nature) -> bool {
    matches!(
        nature,
        Nature::Wire
            | Nature::Mated
            | Nature::Protective { .. }
            | Nature::HandContact { .. }
            | Nature::CoilContact { .. }
            | Nature::Shunt(_)
    )
}
