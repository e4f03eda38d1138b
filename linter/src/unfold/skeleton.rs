//! The network of a robot once for all its modes: everything that no mode changes, and where the rest goes.

use std::collections::BTreeMap;

use wattle_grammar::{
    kind::{KindId, key},
    quantity::{Celsius, Ohms, Volts},
};

use super::{
    battery, contact, convert,
    drive::Drives,
    further::{Further, Making},
    load,
    third::{ThirdLeads, third_leads},
    usual,
    warm_coil::WarmCoils,
};
use crate::{
    design::{Design, Level, ModeId, State, Thing, ThingId},
    network::{Converter, Element, ElementId, Follower, Law, Network},
    physics::diode::SILICON_DROP,
    topology::{Charge, Link, LinkId, Nature, Owner, Topology, rating},
};

/// A network whose mode has yet to be chosen.
#[derive(Clone, Debug, Default)]
pub struct Skeleton {
    network: Network,
    element_of: Vec<Option<ElementId>>,
    further: Vec<Further>,
    /// Links whose law depends on the mode or the charge.
    varying: Vec<LinkId>,
    drives: Drives,
    third_leads: ThirdLeads,
    /// The follower of each contact that follows a coil.
    followers: BTreeMap<LinkId, usize>,
    /// The relay or contactor of each follower.
    relay_of: Vec<ThingId>,
    /// What the coils that have stayed on do, by mode: its air warms them.
    warm_coils: Vec<WarmCoils>,
    /// The electromotive force of each battery segment, full, nominal, empty.
    emfs: [Vec<(ElementId, Volts)>; 3],
    /// The lowest and the highest set voltage of each converter.
    set: [Vec<Volts>; 2],
}

impl Skeleton {
    /// Lays the elements of every link.
    #[must_use]
    pub fn new(design: &Design, topology: &Topology) -> Self {
        let mut making = Making::default();
        let mut varying = Vec::new();
        for (id, link) in links(topology) {
            let law = steady(design, link);
            if law.is_none() {
                varying.push(id);
            }
            making.elements.push(Element { a: link.a, b: link.b, law: law.unwrap_or(Law::Open) });
        }
        let drives = Drives::find(design, topology, &mut making);
        add_reverse_clamps(design, topology, &mut making);
        add_leaks(topology, &mut making);
        making.further.sort_by_key(|further| (further.link, further.element));
        let (followers, order, relay_of) = followers(design, topology);
        let (converters, set) = converters(design, topology);
        Self {
            warm_coils: WarmCoils::of_modes(design, &followers, &relay_of),
            emfs: Charge::ALL.map(|charge| emfs(design, topology, charge)),
            set,
            network: Network { nodes: topology.nodes, elements: making.elements, followers, converters },
            element_of: (0..topology.links.len() as u32).map(|at| Some(ElementId(at))).collect(),
            further: making.further,
            varying,
            drives,
            third_leads: third_leads(design, topology),
            followers: order,
            relay_of,
        }
    }

    /// The network when every thing is in its state of `states` (by [`ThingId`]; [`State::Plain`] where it is missing),
    /// every battery is at `charge` and no driver drives.
    #[must_use]
    pub fn network(&self, design: &Design, topology: &Topology, states: &[State], charge: Charge) -> Network {
        let mut network = self.network.clone();
        let setting = Setting { design, states, charge };
        for &id in &self.varying {
            if let (Some(link), Some(element)) = (topology.link(id), network.elements.get_mut(id.0 as usize))
            {
                element.law = setting.law(link);
            }
        }
        for (follower, thing) in network.followers.iter_mut().zip(&self.relay_of) {
            follower.begins_operated = states.get(thing.index()) == Some(&State::Held);
        }
        self.drives.rest(design, states, &mut network);
        network
    }

    /// The electromotive forces of the batteries at a state of charge, by rising element.
    #[must_use]
    pub fn emf(&self, charge: Charge) -> &[(ElementId, Volts)] {
        self.emfs.get(charge as usize).map_or(&[], Vec::as_slice)
    }

    /// The lowest and the highest set voltage of each converter.
    #[must_use]
    pub fn set_volts(&self) -> &[Vec<Volts>; 2] {
        &self.set
    }

    /// The factor on the resistance of each element when wires are so warm and coils have been on for hours.
    pub(crate) fn warm_factors(&self, design: &Design, mode: ModeId, wires: &[Celsius]) -> Vec<f64> {
        let mut factors = vec![1.0; self.network.elements.len()];
        let of_wires = self.network.elements.iter().zip(&design.wires).zip(wires).zip(&mut factors);
        for (((element, wire), warm), factor) in of_wires {
            if let Law::Resistor(cold) = element.law
                && cold > Ohms(0.0)
            {
                *factor = contact::wire_at(wire, *warm) / cold;
            }
        }
        let warm = self.warm_coils.get(mode.index()).map_or(&[][..], |coils| coils.ohms.as_slice());
        for (follower, warm) in self.network.followers.iter().zip(warm) {
            if let Some(factor) = factors.get_mut(follower.coil.0 as usize) {
                *factor = *warm;
            }
        }
        factors
    }

    /// The factor on the voltages of each contact that follows a coil when the coils have been on for hours in a mode.
    pub(crate) fn warm_coils(&self, mode: ModeId) -> &[f64] {
        self.warm_coils.get(mode.index()).map_or(&[][..], |coils| coils.volts.as_slice())
    }

    /// The element of each link, by [`LinkId`].
    #[must_use]
    pub fn element_of(&self) -> &[Option<ElementId>] {
        &self.element_of
    }

    /// Further elements of links, in link order.
    #[must_use]
    pub fn further(&self) -> &[Further] {
        &self.further
    }

    /// The follower of a contact: its position in [`Network::followers`].
    #[must_use]
    pub fn follower(&self, contact: LinkId) -> Option<usize> {
        self.followers.get(&contact).copied()
    }

    /// The links of third leads, each with the windings whose current it carries.
    pub(crate) fn third_leads(&self) -> &ThirdLeads {
        &self.third_leads
    }

    /// The drivers with their channels and motors.
    pub(crate) fn drives(&self) -> &Drives {
        &self.drives
    }
}

/// Every link with its id.
pub(super) fn links(topology: &Topology) -> impl Iterator<Item = (LinkId, &Link)> {
    (0u32..).map(LinkId).zip(&topology.links)
}

/// The thing a link is inside of.
pub(super) fn thing_of<'a>(design: &'a Design, link: &Link) -> Option<(ThingId, &'a Thing)> {
    match link.owner {
        Owner::Thing(id, _) => Some((id, design.things.get(id.index())?)),
        Owner::Wire(_) | Owner::MatedWay(..) => None,
    }
}

/// The law of a link that is the same in every mode; `None` when the mode or the charge decides.
fn steady(design: &Design, link: &Link) -> Option<Law> {
    let thing = thing_of(design, link).map(|(_, thing)| thing);
    Some(match link.nature {
        Nature::Wire => match link.owner {
            Owner::Wire(wire) => contact::wire(design.wire(wire)),
            Owner::MatedWay(..) | Owner::Thing(..) => Law::Resistor(usual::CRIMP),
        },
        // A slip ring's ways are inside one thing and never open; a mated pair can be parted.
        Nature::Mated => Law::Resistor(contact::contact_resistance(thing?)),
        Nature::CoilContact { .. } | Nature::Capacitor | Nature::AmplifierOutput | Nature::Sense => Law::Open,
        Nature::Coil(ohms) | Nature::Shunt(ohms) => Law::Resistor(ohms.max(usual::LEAST)),
        Nature::Resistor(ohms) => resistor(ohms),
        Nature::Diode => Law::Diode { drop: forward(thing), resistance: usual::DIODE },
        Nature::BridgeDiode => Law::Diode { drop: SILICON_DROP, resistance: usual::DIODE },
        Nature::Clamp => clamp(thing?),
        Nature::ConverterInput => convert::input(thing?),
        Nature::ConverterOutput => convert::output(thing?),
        Nature::ConverterGround => Law::Resistor(usual::REGULATOR_GROUND),
        Nature::SpeakerCoil => {
            Law::Resistor(thing?.get(key::RESISTANCE).unwrap_or(usual::SPEAKER).max(usual::LEAST))
        }
        Nature::Protective { .. }
        | Nature::HandContact { .. }
        | Nature::Cells { .. }
        | Nature::Supply
        | Nature::DriverInput
        | Nature::BridgeOutput
        | Nature::Winding
        | Nature::Load => return None,
    })
}

fn resistor(ohms: Ohms) -> Law {
    if ohms.0.is_finite() { Law::Resistor(ohms.max(usual::LEAST)) } else { Law::Open }
}

/// Forward drop of a diode; the one across a coil states none.
fn forward(thing: Option<&Thing>) -> Volts {
    thing.and_then(|thing| thing.get(key::FORWARD)).unwrap_or(SILICON_DROP)
}

/// Conducts above its voltage; nothing is known of one that states none.
fn clamp(thing: &Thing) -> Law {
    let resistance = thing.get(key::RESISTANCE).unwrap_or(usual::CLAMP).max(usual::LEAST);
    thing.get(key::CLAMPS_AT).map_or(Law::Open, |drop| Law::Diode { drop, resistance })
}

/// A transient diode conducts as a diode when reversed, a varistor clamps both ways.
fn add_reverse_clamps(design: &Design, topology: &Topology, making: &mut Making) {
    for (id, link) in links(topology).filter(|(_, link)| link.nature == Nature::Clamp) {
        let Some((_, thing)) = thing_of(design, link) else { continue };
        let law = match thing.word(key::STYLE) {
            Some("transient-diode") => Law::Diode { drop: SILICON_DROP, resistance: usual::DIODE },
            Some("varistor") => clamp(thing),
            _ => continue,
        };
        let element = making.add(id, (link.b, link.a), -1);
        making.elements[element.0 as usize].law = law;
    }
}

/// What leaks across the input of a regulator while it draws nothing, and across its output while nothing draws from it.
fn add_leaks(topology: &Topology, making: &mut Making) {
    let leaks = |nature: Nature| matches!(nature, Nature::ConverterInput | Nature::ConverterOutput);
    for (id, link) in links(topology).filter(|(_, link)| leaks(link.nature)) {
        let leak = making.add(id, (link.a, link.b), 1);
        making.elements[leak.0 as usize].law = Law::Resistor(usual::BUS_LEAK);
    }
}

/// The contacts that follow coils, and where each stands in the list.
fn followers(design: &Design, topology: &Topology) -> (Vec<Follower>, BTreeMap<LinkId, usize>, Vec<ThingId>) {
    let mut followers = Vec::new();
    let mut order = BTreeMap::new();
    let mut relay_of = Vec::new();
    for (id, link) in links(topology) {
        let Nature::CoilContact { normally_closed, coil } = link.nature else { continue };
        let Some((relay, thing)) = thing_of(design, link) else { continue };
        let rated = rating::coil(design, thing);
        order.insert(id, followers.len());
        followers.push(Follower {
            coil: ElementId(coil.0),
            contact: ElementId(id.0),
            normally_closed,
            operate: rated.operate,
            release: rated.release,
            closed: contact::contact_resistance(thing),
            begins_operated: false,
        });
        relay_of.push(relay);
    }
    (followers, order, relay_of)
}

/// The electromotive force of every battery segment at a state of charge.
fn emfs(design: &Design, topology: &Topology, charge: Charge) -> Vec<(ElementId, Volts)> {
    let segments = links(topology).filter_map(|(id, link)| {
        let Nature::Cells { cells, of } = link.nature else { return None };
        let (_, thing) = thing_of(design, link)?;
        match battery::cells(thing, State::Plain, charge, f64::from(cells) / f64::from(of)) {
            Law::Source { emf, .. } => Some((ElementId(id.0), emf)),
            _ => None,
        }
    });
    segments.collect()
}

/// The converters: each output with the input of the same thing; and their lowest and highest set voltages.
fn converters(design: &Design, topology: &Topology) -> (Vec<Converter>, [Vec<Volts>; 2]) {
    let mut input = None;
    let mut converters = Vec::new();
    let mut set = [Vec::new(), Vec::new()];
    for (id, link) in links(topology) {
        match link.nature {
            Nature::ConverterInput => input = Some((id, thing_of(design, link))),
            Nature::ConverterOutput => {
                let Some((from, Some((_, thing)))) = input.take() else { continue };
                let converter = convert::converter(thing, ElementId(from.0), ElementId(id.0));
                let tolerance = thing.get(key::TOLERANCE).unwrap_or(usual::TOLERANCE).0.clamp(0.0, 0.5);
                if let Some(converter) = converter {
                    let [low, high] = &mut set;
                    low.push(converter.output_volts * (1.0 - tolerance));
                    high.push(converter.output_volts * (1.0 + tolerance));
                    converters.push(converter);
                }
            }
            _ => {}
        }
    }
    (converters, set)
}

/// A mode as it is laid over the skeleton.
struct Setting<'a> {
    design: &'a Design,
    states: &'a [State],
    charge: Charge,
}

impl Setting<'_> {
    fn law(&self, link: &Link) -> Law {
        if let Owner::MatedWay(mate, _) = link.owner {
            return contact::mated(self.design, mate, self.states);
        }
        let Some((id, thing)) = thing_of(self.design, link) else { return Law::Open };
        let state = self.states.get(id.index()).copied().unwrap_or(State::Plain);
        match link.nature {
            Nature::Protective { rated } => contact::protective(thing, rated, state),
            Nature::HandContact { breaks } => contact::hand(thing, breaks, state),
            Nature::Cells { cells, of } => {
                battery::cells(thing, state, self.charge, f64::from(cells) / f64::from(of))
            }
            Nature::Supply => battery::supply(thing, state),
            // The receiver of a stop by radio listens, whether it is pressed or not.
            Nature::Load if thing.id() == KindId::Stop => load::law(thing, State::Draws(Level::Typical)),
            Nature::Load => load::law(thing, state),
            _ => Law::Open,
        }
    }
}
