//! The figures of fuses and breakers and of the bars of blocks: what flows through them, and how much of their rating that is.

use wattle_grammar::{
    kind::{KindId, key},
    quantity::{Amps, Share},
};

use super::{
    Entry, Section, View, what,
    worst::{At, DEFINITION, Flow, SOLVED, largest, steady},
};
use crate::{
    design::{ModeId, Thing, ThingId},
    explained::{Amount, Explained, Input},
    figures::Point,
    network::NodeId,
    physics::fuse::CONTINUOUS_LOAD,
    topology::{LinkId, Nature, Owner},
};

impl View<'_> {
    /// The protective link of a thing: its own, or that of a fuse inside a pack.
    #[must_use]
    pub fn protective(&self, thing: ThingId) -> Option<LinkId> {
        let is_protective = |nature: &Nature| matches!(nature, Nature::Protective { .. });
        let mut inside = self.analysis.topology.inside(thing);
        inside.find(|(_, link)| is_protective(&link.nature)).map(|(id, _)| id)
    }

    /// The figures of a fuse or breaker.
    #[must_use]
    pub fn device(&self, id: ThingId, link: LinkId) -> Entry {
        let thing = self.analysis.design.thing(id);
        let key = if thing.rated(key::BUILT_IN_FUSE).is_some() { key::BUILT_IN_FUSE } else { key::CURRENT };
        let is = if key == key::BUILT_IN_FUSE {
            format!("fuse inside the {}", thing.kind.word)
        } else {
            thing.kind.word.to_owned()
        };
        let mut entry = self.passed(Section::Device, id, is, key, &self.flows(link));
        self.tell_balance(&mut entry.figures, link);
        if thing.id() != KindId::Breaker {
            let used = entry.figures.iter_mut().filter(|figure| figure.what == what::RATING_USE);
            let re_rated = format!(
                "makers re-rate a fuse to {CONTINUOUS_LOAD} of its rating for a continuous load in air of 25 °C, from memory"
            );
            used.for_each(|figure| figure.notes.push(re_rated.clone()));
        }
        entry
    }

    /// The contacts of a switch, stop, relay or contactor, and the rings of a slip ring.
    #[must_use]
    pub fn contacts(&self, thing: ThingId) -> Vec<LinkId> {
        let is_contact = |nature| {
            matches!(nature, Nature::HandContact { .. } | Nature::CoilContact { .. } | Nature::Mated)
        };
        let inside = self.analysis.topology.inside(thing).filter(|(_, link)| is_contact(link.nature));
        inside.map(|(id, _)| id).collect()
    }

    /// The figures of the contacts of a thing: of the one that carries most at each point.
    #[must_use]
    pub fn contact(&self, id: ThingId, links: &[LinkId]) -> Entry {
        let most = |point: &Point| {
            let amps = links.iter().filter_map(|link| point.amps(*link));
            amps.map(Amps::abs).reduce(Amps::max)
        };
        let flows: Vec<Flow> =
            self.points().filter_map(|(at, point)| Some(Flow::new(at, point, most(point)?))).collect();
        let thing = self.analysis.design.thing(id);
        let mut entry = self.passed(Section::Contact, id, thing.kind.word.to_owned(), key::CURRENT, &flows);
        if links.len() > 1 {
            for figure in entry.figures.iter_mut().filter(|figure| figure.what != what::RATED_CURRENT) {
                figure.notes.push("of the contact that carries most".to_owned());
            }
        }
        entry
    }

    /// Whether a thing is a bar whose current is told.
    #[must_use]
    pub fn is_bar(&self, thing: ThingId) -> bool {
        matches!(self.analysis.design.thing(thing).id(), KindId::Block | KindId::Stud)
    }

    /// The figures of a bar.
    #[must_use]
    pub fn bar(&self, id: ThingId) -> Entry {
        let thing = self.analysis.design.thing(id);
        let first = self.analysis.design.terminals_of(id).next();
        let node = first.and_then(|(terminal, _)| self.analysis.topology.node(terminal));
        let flow = |(at, point): (usize, &Point)| Some(Flow::new(at, point, self.through(point, node?)?));
        let flows: Vec<Flow> = self.points().filter_map(flow).collect();
        let mut entry = self.passed(Section::Bar, id, thing.kind.word.to_owned(), key::CURRENT, &flows);
        for figure in entry.figures.iter_mut().filter(|figure| figure.what == what::HIGHEST_CURRENT) {
            figure.notes.push("all that flows into the bar and out again".to_owned());
        }
        entry
    }

    /// All that flows into a node.
    fn through(&self, point: &Point, node: NodeId) -> Option<Amps> {
        point.working()?;
        let topology = &self.analysis.topology;
        let into = |id: &LinkId| {
            let amps = point.amps(*id)?.0;
            let link = topology.link(*id)?;
            let inwards = if link.b == node { amps } else { -amps };
            // A link with both ends here brings nothing.
            (link.a != link.b).then_some(inwards.max(0.0))
        };
        let links = topology.links_at.get(node.0 as usize)?;
        Some(Amps(links.iter().filter_map(into).sum()))
    }

    fn passed(&self, section: Section, id: ThingId, is: String, key: &str, flows: &[Flow]) -> Entry {
        let thing = self.analysis.design.thing(id);
        let mut figures =
            vec![self.steady_current(&thing.name, flows), self.highest_current(&thing.name, flows)];
        figures.extend(self.rating_use(id, key, flows));
        figures.extend(self.by_mode(thing, flows));
        Entry { section, name: thing.name.clone(), is, span: thing.span, figures }
    }

    /// The rated current and how much of it flows.
    pub(super) fn rating_use(&self, id: ThingId, key: &str, flows: &[Flow]) -> [Explained; 2] {
        let thing = self.analysis.design.thing(id);
        let origin = self.rating_origin(id, key);
        let Some(rated) = thing.get::<Amps>(key).filter(|rated| rated.0 > 0.0) else {
            let figure = |what: &str| Explained::new(what, Amount::NotAssessed(key.to_owned()));
            return [figure(what::RATED_CURRENT), figure(what::RATING_USE)];
        };
        let stated = Explained::new(what::RATED_CURRENT, Amount::of(rated)).by("", origin.clone());
        let Some(steady) = steady(flows) else {
            return [stated, Explained::new(what::RATING_USE, self.no_point())];
        };
        let used = Explained::new(what::RATING_USE, Amount::of(Share(steady.value / rated.0)))
            .by("I_RMS / I_n", DEFINITION)
            .from([
                Input::of("I_RMS", "steady current at that point", Amps(steady.value)),
                Input::of("I_n", format!("rated current, {origin}"), rated),
            ])
            .at(Some(steady.point));
        [stated, used]
    }

    /// The largest current in each mode.
    fn by_mode(&self, thing: &Thing, flows: &[Flow]) -> Vec<Explained> {
        self.modes().into_iter().map(|mode| self.in_mode(thing, mode, flows)).collect()
    }

    fn in_mode(&self, thing: &Thing, mode: ModeId, flows: &[Flow]) -> Explained {
        let points = &self.analysis.figures.points;
        let of_mode = |flow: &&Flow| points.get(flow.point).is_some_and(|point| point.mode == mode);
        let at = |flow: &Flow| At { value: flow.amps, point: flow.point };
        let Some(worst) = largest(flows.iter().filter(of_mode).map(at)) else {
            let first = self.points().find(|(_, point)| point.mode == mode).map(|(at, _)| at);
            return Explained::new(what::MODE_CURRENT, self.no_point()).at(first);
        };
        Explained::new(what::MODE_CURRENT, Amount::of(Amps(worst.value)))
            .by("I", SOLVED)
            .from([Input::of("I", format!("current of `{}`, network solved", thing.name), Amps(worst.value))])
            .at(Some(worst.point))
    }

    /// The modes that count, in design order.
    #[must_use]
    pub fn modes(&self) -> Vec<ModeId> {
        let mut modes: Vec<ModeId> = self.points().map(|(_, point)| point.mode).collect();
        modes.dedup();
        modes
    }

    /// The thing that a link is inside of.
    #[must_use]
    pub fn owner(&self, link: LinkId) -> Option<ThingId> {
        match self.analysis.topology.link(link)?.owner {
            Owner::Thing(thing, _) => Some(thing),
            Owner::Wire(_) | Owner::MatedWay(..) => None,
        }
    }
}
