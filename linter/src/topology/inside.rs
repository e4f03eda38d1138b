//! The links inside each kind of thing.

mod contact;
mod convert;
mod simple;
mod source;

use wattle_grammar::kind::KindId;

use super::{Link, LinkId, Nature, Owner};
use crate::{
    design::{Design, Thing, ThingId},
    network::NodeId,
};

/// The links laid so far.
pub(super) struct Laying<'a> {
    pub(super) design: &'a Design,
    pub(super) node_of: &'a [NodeId],
    pub(super) nodes: u32,
    pub(super) links: Vec<Link>,
}

impl Laying<'_> {
    /// Lays the links inside one thing and gives their range.
    pub(super) fn thing(&mut self, id: ThingId, thing: &Thing) -> (LinkId, LinkId) {
        let first = self.next();
        let mut inside = Inside { first, id, thing, laying: self };
        lay(&mut inside);
        (first, self.next())
    }

    fn next(&self) -> LinkId {
        LinkId(self.links.len() as u32)
    }
}

/// One thing while its links are laid.
struct Inside<'a, 'b> {
    first: LinkId,
    id: ThingId,
    thing: &'a Thing,
    laying: &'a mut Laying<'b>,
}

impl Inside<'_, '_> {
    /// The node of a terminal by its name.
    fn node(&self, name: &str) -> Option<NodeId> {
        let terminal = self.laying.design.terminal_named(self.id, name)?;
        self.laying.node_of.get(terminal.index()).copied()
    }

    /// A node that no terminal shows.
    fn inner_node(&mut self) -> NodeId {
        let node = NodeId(self.laying.nodes);
        self.laying.nodes += 1;
        node
    }

    /// Lays a link between two nodes.
    fn link(&mut self, a: NodeId, b: NodeId, nature: Nature) -> LinkId {
        let id = self.laying.next();
        let owner = Owner::Thing(self.id, id.0 - self.first.0);
        self.laying.links.push(Link { a, b, owner, nature });
        id
    }

    /// Lays a link between two named terminals; nothing when the thing lacks one of them.
    fn between(&mut self, a: &str, b: &str, nature: Nature) -> Option<LinkId> {
        let (a, b) = (self.node(a)?, self.node(b)?);
        Some(self.link(a, b, nature))
    }

    /// Lays one link for each number from 1 on, as long as the thing has both terminals that `names` makes of it.
    fn each(&mut self, names: impl Fn(u32) -> (String, String), nature: Nature) {
        for number in 1.. {
            let (a, b) = names(number);
            if self.between(&a, &b, nature).is_none() {
                return;
            }
        }
    }
}

/// What is inside each kind. Joins and connector halves have nothing inside: they are nodes.
fn lay(inside: &mut Inside<'_, '_>) {
    match inside.thing.id() {
        KindId::Battery => source::battery(inside),
        KindId::Charger | KindId::Supply | KindId::Generator => source::supply(inside),
        KindId::Fuse | KindId::Breaker => simple::protective(inside),
        KindId::Clamp => simple::clamp(inside),
        KindId::Switch => contact::switch(inside),
        KindId::Stop => contact::stop(inside),
        KindId::Relay => contact::relay(inside),
        KindId::Contactor => contact::contactor(inside),
        KindId::Regulator => convert::regulator(inside),
        KindId::Driver => convert::driver(inside),
        KindId::Amplifier => convert::amplifier(inside),
        KindId::Meter => simple::meter(inside),
        KindId::Isolator => simple::isolator(inside),
        KindId::Motor => simple::motor(inside),
        KindId::Speaker => simple::speaker(inside),
        KindId::Controller
        | KindId::Receiver
        | KindId::Sensor
        | KindId::Servo
        | KindId::Light
        | KindId::Load => simple::load(inside),
        KindId::Resistor => simple::resistor(inside),
        KindId::Capacitor => simple::capacitor(inside),
        KindId::Diode => simple::diode(inside),
        KindId::Shunt => simple::shunt(inside),
        KindId::SlipRing => simple::slip_ring(inside),
        KindId::Block
        | KindId::Splice
        | KindId::Stud
        | KindId::Lug
        | KindId::Plug
        | KindId::Socket
        | KindId::Chassis => {}
    }
}
