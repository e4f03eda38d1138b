//! What a rule gets to see, and where it puts what it finds.

use wattle_grammar::span::Span;

use crate::{
    conductors::{Conductors, worst_ampacities},
    design::{Design, ThingId, WireId},
    energy::Energy,
    figures::Figures,
    finding::{Finding, NotAssessed},
    network::NodeId,
    profile::{Ampacity, Profile},
    project::Project,
    protection::{Device, Given, Protection},
    studies::Studies,
    surge::{Asked, Bus, Closing, Coil, Contact},
    topology::{LinkId, Nature, Owner, Topology},
    trace::Trace,
    unprotected::{self, Search},
};

use std::collections::BTreeSet;

/// One look at one robot, shared by all rules.
pub struct Inquiry<'a> {
    /// The robot.
    pub design: &'a Design,
    /// What is joined to what.
    pub topology: &'a Topology,
    /// Who feeds what through which devices.
    pub trace: &'a Trace,
    /// The working points.
    pub figures: &'a Figures,
    /// The basis for ampacity and protection.
    pub profile: &'a Profile,
    /// Each wire in its surroundings.
    pub conductors: Conductors,
    /// What the batteries give, take and last; see [`Energy::for_rules`].
    pub energy: Energy,
    /// Missing and distant devices.
    pub unprotected: Search,
    /// What protects what: fault currents, and when it opens.
    pub protection: Protection,
    /// Wires that some feed reaches with no device at all.
    pub bare_wires: BTreeSet<WireId>,
    /// Wires on the way to a device that stands too far out.
    pub distant_wires: BTreeSet<WireId>,
    project: Option<&'a Project>,
    ampacities: Vec<Option<Ampacity>>,
    asked: Asked,
    findings: Vec<Finding>,
    not_assessed: Vec<NotAssessed>,
}

impl<'a> Inquiry<'a> {
    /// Starts an inquiry with nothing found.
    #[must_use]
    pub fn new(
        design: &'a Design,
        topology: &'a Topology,
        trace: &'a Trace,
        figures: &'a Figures,
        profile: &'a Profile,
    ) -> Self {
        let conductors = Conductors::new(design, figures, profile);
        let ampacities = worst_ampacities(design, &conductors, profile);
        let unprotected = unprotected::find(design, topology, trace, profile, &ampacities);
        let given = Given {
            design,
            topology,
            trace,
            figures,
            profile,
            conductors: &conductors,
            ampacities: &ampacities,
        };
        let protection = Protection::new(&given);
        let bare_wires = unprotected::bare_wires(&unprotected.cases);
        let distant_wires = unprotected::distant_wires(&unprotected.cases);
        Self {
            design,
            topology,
            trace,
            figures,
            profile,
            conductors,
            energy: Energy::for_rules(design, topology, figures),
            unprotected,
            protection,
            bare_wires,
            distant_wires,
            project: None,
            ampacities,
            asked: Asked::default(),
            findings: Vec::new(),
            not_assessed: Vec::new(),
        }
    }

    /// Lets the rules look at the text itself, where the way something is written tells.
    #[must_use]
    pub const fn with_text(mut self, project: &'a Project) -> Self {
        self.project = Some(project);
        self
    }

    /// The text before a place in its file; nothing when there is no text to look at.
    #[must_use]
    pub fn text_before(&self, place: Span) -> &'a str {
        let file = self.project.and_then(|project| project.file(place.file));
        file.and_then(|file| file.text.get(..place.start as usize)).unwrap_or_default()
    }

    /// The ampacity of a wire in the worst company it ever has; `None` when its size is missing or outside the profile.
    #[must_use]
    pub fn ampacity(&self, wire: WireId) -> Option<&Ampacity> {
        self.ampacities.get(wire.index())?.as_ref()
    }

    /// The thing whose load, source or coil hangs at a node, if one does; for saying where a branch ends.
    #[must_use]
    pub fn thing_at(&self, node: NodeId) -> Option<ThingId> {
        let links = self.topology.links_at.get(node.0 as usize)?;
        let owner = |id: &LinkId| match self.topology.links.get(id.0 as usize)? {
            link if matches!(link.nature, Nature::Wire | Nature::Mated) => None,
            link => match link.owner {
                Owner::Thing(thing, _) => Some(thing),
                _ => None,
            },
        };
        links.iter().find_map(owner)
    }

    /// A protective device, by its link.
    #[must_use]
    pub fn device(&self, link: LinkId) -> Option<Device> {
        Device::of(self.design, link, self.topology.link(link)?)
    }

    /// Reports a finding.
    pub fn report(&mut self, finding: Finding) {
        self.findings.push(finding);
    }

    /// Notes a check that could not be made.
    pub fn not_assessed(&mut self, entry: NotAssessed) {
        self.not_assessed.push(entry);
    }

    /// What flows when one contact closes; `None` when it is none, closes in no mode or fills nothing.
    pub fn closing(&mut self, contact: Contact) -> Option<Closing> {
        self.asked.closing(self.design, self.topology, self.figures, contact).cloned()
    }

    /// Each coil, in thing order.
    pub fn coils(&mut self) -> Vec<Coil> {
        self.asked.coils(self.design, self.topology, self.figures).to_vec()
    }

    /// Each driver's bus, in thing order.
    pub fn buses(&mut self) -> Vec<Bus> {
        self.asked.buses(self.design, self.topology, self.figures).to_vec()
    }

    /// What the parts of the analysis are made from.
    #[must_use]
    pub fn given(&self) -> Given<'_> {
        let Self { design, topology, trace, figures, profile, conductors, ampacities, .. } = self;
        Given { design, topology, trace, figures, profile, conductors, ampacities }
    }

    /// Everything found, everything that could not be assessed, and the tables that were made on the way.
    #[must_use]
    pub fn into_parts(self) -> (Vec<Finding>, Vec<NotAssessed>, Studies) {
        let studies =
            Studies::new(self.conductors, self.ampacities, self.protection, self.energy, self.asked);
        (self.findings, self.not_assessed, studies)
    }
}
