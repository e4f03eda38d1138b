//! One solve: the laws as contacts and converters stand, searched again until both stand still.

use crate::network::{Converter, ElementId, Follower, Law, Network, Unsolved};

use super::{
    Working,
    branch::Stage,
    contact::{self, Contacts, Move},
    converter::{Drive, Terminals},
    curve::Curve,
    engine::Engine,
    plan::Plan,
};

/// Relative change of a converter's draw at which it stands still.
pub(super) const STILL: f64 = 1e-10;

/// Rounds before converters that do not come to rest are given up.
const MOST_ROUNDS: u32 = 160;

/// Rounds after which converters go half the way only, and a quarter.
const SLOWER: [u32; 2] = [12, 60];

/// A solve under way.
pub(super) struct Attempt<'a> {
    pub network: &'a Network,
    pub plan: &'a Plan,
    pub engine: &'a mut Engine,
    pub contacts: Contacts,
    pub drives: Vec<Drive>,
    /// The island of each cluster, where the clusters stand at voltages worth beginning from.
    pub islands: Option<Vec<u32>>,
    has_power_loads: bool,
}

impl<'a> Attempt<'a> {
    /// Sets out from a neighbouring solution, or from rest.
    pub(super) fn new(
        network: &'a Network,
        plan: &'a Plan,
        engine: &'a mut Engine,
        offsets: &[f64],
        start: Option<&Working>,
    ) -> Self {
        let start = start.filter(|start| start.is_of(network));
        engine.reset(plan, &network.elements, offsets);
        let at_first = |follower: &Follower| follower.normally_closed != follower.begins_operated;
        let closed =
            start.map_or_else(|| network.followers.iter().map(at_first).collect(), |s| s.closed.clone());
        let drives = start.map_or_else(
            || vec![Drive::default(); network.converters.len()],
            |s| resume(network, &network.converters, s),
        );
        let has_power_loads =
            network.elements.iter().any(|element| matches!(element.law, Law::PowerLoad { .. }));
        let contacts = Contacts::new(closed);
        let mut attempt = Self { network, plan, engine, contacts, drives, islands: None, has_power_loads };
        attempt.set_laws();
        if let Some(start) = start {
            let roots = &plan.clusters.roots;
            for (cluster, &root) in roots.iter().enumerate() {
                attempt.engine.set_level(cluster, start.volts[root as usize]);
            }
            attempt.islands = Some(roots.iter().map(|&root| start.island[root as usize]).collect());
        }
        attempt
    }

    /// Gives every element that is not rigid the network's law.
    fn set_laws(&mut self) {
        for (number, element) in self.network.elements.iter().enumerate() {
            if !self.plan.is_rigid(number) {
                self.set_law(ElementId(number as u32), element.law);
            }
        }
    }

    fn set_law(&mut self, element: ElementId, law: Law) {
        self.engine.set_curve(element.0 as usize, Curve::new(&law), Curve::shift(&law));
    }

    fn volts(&self, element: ElementId) -> f64 {
        self.engine.volts(element.0 as usize)
    }

    /// Solves until contacts and converters stand still.
    ///
    /// # Errors
    /// [`Unsolved`], except that overdrawn sources are for the caller to find.
    pub(super) fn run(&mut self) -> Result<(), Unsolved> {
        loop {
            self.set_contacts();
            self.run_converters()?;
            let engine = &*self.engine;
            let coil = |_: usize, element: ElementId| engine.volts(element.0 as usize);
            match self.contacts.follow(&self.network.followers, coil) {
                Move::Still => return Ok(()),
                Move::Switched => self.drives.iter_mut().for_each(Drive::forgive),
                Move::Chatter(contacts) => return Err(Unsolved::Chatter(contacts)),
            }
        }
    }

    fn set_contacts(&mut self) {
        let network = self.network;
        for (number, follower) in network.followers.iter().enumerate() {
            let law = contact::law(follower, self.contacts.closed[number]);
            self.set_law(follower.contact, law);
        }
    }

    /// Solves until the converters stand still.
    fn run_converters(&mut self) -> Result<(), Unsolved> {
        let mut restless = Vec::new();
        for round in 0..MOST_ROUNDS {
            self.set_drives();
            self.search()?;
            let pace = SLOWER.iter().filter(|rounds| round > **rounds).fold(1.0, |pace, _| 0.5 * pace);
            restless = self.follow_outputs(pace);
            if restless.is_empty() {
                return Ok(());
            }
        }
        Err(Unsolved::Unsettled(restless))
    }

    fn set_drives(&mut self) {
        let network = self.network;
        for (number, converter) in network.converters.iter().enumerate() {
            let drive = self.drives[number];
            let law = |id: ElementId| network.elements[id.0 as usize].law;
            self.set_law(converter.input, drive.input_law(converter, law(converter.input)));
            self.set_law(converter.output, drive.output_law(law(converter.output)));
        }
    }

    /// Lets the converters follow what they see. Returns the inputs of those that changed.
    fn follow_outputs(&mut self, pace: f64) -> Vec<ElementId> {
        let mut restless = Vec::new();
        for (converter, drive) in self.network.converters.iter().zip(&mut self.drives) {
            let output = converter.output.0 as usize;
            let seen = Terminals {
                input_volts: self.engine.volts(converter.input.0 as usize),
                output_volts: self.engine.volts(output),
                output_amps: -self.engine.amps(output),
            };
            if drive.follow(converter, seen, pace) > STILL {
                restless.push(converter.input);
            }
        }
        restless
    }

    /// Finds the working point for the laws as they stand, from above: sources alone, then without power loads, then
    /// with them. What is found from a neighbouring point is kept only when it could not be told from that: no power
    /// load is below its cut-off, and no part has come loose, which would float where it happened to be.
    fn search(&mut self) -> Result<(), Unsolved> {
        if let Some(before) = self.islands.take()
            && self.engine.search(self.plan, Stage::Loaded).is_ok()
            && self.sagging().is_empty()
            && self.engine.islands() == before
        {
            self.islands = Some(before);
            return Ok(());
        }
        self.engine.guess(self.plan)?;
        if self.has_power_loads {
            self.engine.search(self.plan, Stage::Unloaded)?;
        }
        self.engine.search(self.plan, Stage::Loaded)?;
        self.islands = Some(self.engine.islands());
        Ok(())
    }

    /// The power loads that work below their cut-off.
    pub(super) fn sagging(&self) -> Vec<ElementId> {
        if !self.has_power_loads {
            return Vec::new();
        }
        let elements = (0..self.network.elements.len()).map(|number| ElementId(number as u32));
        elements.filter(|element| self.is_sagging(*element)).collect()
    }

    /// Voltages far below the cut-off of a load that is switched off are rounding.
    fn is_sagging(&self, element: ElementId) -> bool {
        match self.engine.curve(element.0 as usize) {
            Curve::Power { watts, cutoff } if watts > 0.0 => {
                let volts = self.volts(element);
                volts < cutoff && volts > 1e-6 * cutoff
            }
            _ => false,
        }
    }

    /// The power loads that their sources cannot carry, though they would hold their voltage without them: the heaviest
    /// first. Leaves the engine solved without them.
    pub(super) fn overdrawn(&mut self) -> Vec<ElementId> {
        let mut asking = Vec::new();
        for (converter, drive) in self.network.converters.iter().zip(&self.drives) {
            if drive.has_given_up() && self.volts(converter.input) >= converter.lowest_input.0 {
                asking.push((drive.most, converter.input));
            }
        }
        let sagging = self.sagging();
        let mut limits = Vec::new();
        for &element in &sagging {
            if let Curve::Power { watts, cutoff } = self.engine.curve(element.0 as usize) {
                limits.push((watts, cutoff));
                self.engine.set_curve(element.0 as usize, Curve::OPEN, 0.0);
            }
        }
        // Where a given current has no other way than these loads, nothing can be said without them.
        if !sagging.is_empty() && self.engine.search(self.plan, Stage::Loaded).is_ok() {
            let held = |(element, (_, cutoff)): &(&ElementId, &(f64, f64))| self.volts(**element) >= *cutoff;
            asking.extend(
                sagging.iter().zip(&limits).filter(held).map(|(element, (watts, _))| (*watts, *element)),
            );
        }
        asking.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        asking.into_iter().map(|(_, element)| element).collect()
    }
}

/// Converters as a neighbouring solution left them.
pub(super) fn resume(network: &Network, converters: &[Converter], start: &Working) -> Vec<Drive> {
    let resumed = |(converter, &running): (&Converter, &bool)| {
        if !running {
            return Drive::default();
        }
        let input = &network.elements[converter.input.0 as usize];
        let volts = start.volts[input.a.0 as usize] - start.volts[input.b.0 as usize];
        let amps = start.amps[converter.input.0 as usize];
        let asked = if converter.linear { amps } else { volts * amps };
        Drive::resumed(converter, volts, asked.max(0.0))
    };
    converters.iter().zip(&start.running).map(resumed).collect()
}
