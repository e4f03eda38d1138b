//! Who feeds what: from each source through its protective devices to the loads, contacts as if they were closed.

use std::collections::BTreeSet;

use super::{Section, View};
use crate::{
    design::ThingId,
    topology::{Link, LinkId, Nature, sets::Sets},
};

/// What a line of the tree is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// A source.
    Source(ThingId),
    /// A fuse, a breaker or a diode in the way.
    Device(ThingId),
    /// A load; a regulator is one by its input.
    Load(ThingId),
}

impl Part {
    /// The section and the thing whose entry has its figures.
    #[must_use]
    pub const fn entry(self) -> (Section, ThingId) {
        match self {
            Self::Source(id) => (Section::Source, id),
            Self::Device(id) => (Section::Device, id),
            Self::Load(id) => (Section::Load, id),
        }
    }
}

/// A line of the tree.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Branch {
    /// How many devices and converters stand before it.
    pub depth: usize,
    /// What it is.
    pub part: Part,
    /// Whether it leads to what is listed further up.
    pub joins: bool,
}

impl View<'_> {
    /// The tree, in the order of the text below each part.
    #[must_use]
    pub fn tree(&self) -> Vec<Branch> {
        let mut walk = Walk::new(self);
        for (source, segment) in walk.sources.clone() {
            let joins = walk.met.contains(&segment);
            walk.lines.push(Branch { depth: 0, part: Part::Source(source), joins });
            walk.below(segment, 1);
        }
        walk.lines
    }
}

/// What is still to be told.
struct Due {
    depth: usize,
    part: Part,
    /// The segment behind it.
    behind: Option<u32>,
}

struct Walk<'v, 'a> {
    view: &'v View<'a>,
    /// What hangs at each segment: links in link order.
    at: Vec<Vec<LinkId>>,
    segment_of: Vec<u32>,
    sources: Vec<(ThingId, u32)>,
    /// Segments that a source has its positive pole on.
    fed: BTreeSet<u32>,
    met: BTreeSet<u32>,
    passed: BTreeSet<LinkId>,
    lines: Vec<Branch>,
}

impl<'v, 'a> Walk<'v, 'a> {
    fn new(view: &'v View<'a>) -> Self {
        let topology = &view.analysis.topology;
        let mut sets = Sets::new(topology.nodes as usize);
        for link in topology.links.iter().filter(|link| conducts(link.nature)) {
            sets.join(link.a.0, link.b.0);
        }
        let segment_of: Vec<u32> = (0..topology.nodes).map(|node| sets.root(node)).collect();
        let segment = |node: u32| segment_of.get(node as usize).copied().unwrap_or(node);
        let mut at = vec![Vec::new(); topology.nodes as usize];
        for (id, link) in (0u32..).map(LinkId).zip(&topology.links) {
            if let Some(list) = at.get_mut(segment(link.a.0) as usize) {
                list.push(id);
            }
            if let Some(list) =
                at.get_mut(segment(link.b.0) as usize).filter(|_| segment(link.a.0) != segment(link.b.0))
            {
                list.push(id);
            }
        }
        let gives = |nature| matches!(nature, Nature::Cells { .. } | Nature::Supply);
        let plus = |thing: ThingId| topology.inside(thing).filter(|(_, link)| gives(link.nature)).last();
        let things = view.analysis.design.things().map(|(id, _)| id);
        let sources: Vec<(ThingId, u32)> =
            things.filter_map(|id| Some((id, segment(plus(id)?.1.a.0)))).collect();
        let fed = sources.iter().map(|(_, segment)| *segment).collect();
        Self {
            view,
            at,
            segment_of,
            sources,
            fed,
            met: BTreeSet::new(),
            passed: BTreeSet::new(),
            lines: Vec::new(),
        }
    }

    /// Tells what hangs at a segment and behind it. Without recursion: a chain may be as long as the text.
    fn below(&mut self, segment: u32, depth: usize) {
        let mut due = self.hanging(segment, depth);
        while let Some(next) = due.pop() {
            let joins = next.behind.is_some_and(|segment| self.met.contains(&segment));
            self.lines.push(Branch { depth: next.depth, part: next.part, joins });
            if let Some(segment) = next.behind {
                due.extend(self.hanging(segment, next.depth + 1));
            }
        }
    }

    /// What hangs at a segment that was not met before, the first one last.
    fn hanging(&mut self, segment: u32, depth: usize) -> Vec<Due> {
        if !self.met.insert(segment) {
            return Vec::new();
        }
        let links = self.at.get_mut(segment as usize).map(std::mem::take).unwrap_or_default();
        let mut due: Vec<Due> = links.into_iter().filter_map(|id| self.due(id, segment, depth)).collect();
        due.reverse();
        due
    }

    fn due(&mut self, id: LinkId, segment: u32, depth: usize) -> Option<Due> {
        let link = *self.view.analysis.topology.link(id)?;
        let owner = self.view.owner(id)?;
        let from_a = self.segment(link.a.0) == segment;
        let behind = self.segment(if from_a { link.b.0 } else { link.a.0 });
        match link.nature {
            Nature::Protective { .. } => {
                // What leads to another source is told from there.
                if behind == segment || self.fed.contains(&behind) || !self.passed.insert(id) {
                    return None;
                }
                Some(Due { depth, part: Part::Device(owner), behind: Some(behind) })
            }
            Nature::Diode if from_a && behind != segment && self.passed.insert(id) => {
                Some(Due { depth, part: Part::Device(owner), behind: Some(behind) })
            }
            nature if feeds_into(nature, from_a) && self.passed.insert(id) => {
                Some(Due { depth, part: Part::Load(owner), behind: self.output_of(owner, &link) })
            }
            _ => None,
        }
    }

    /// The segment that a regulator feeds.
    fn output_of(&self, thing: ThingId, input: &Link) -> Option<u32> {
        let output = self.view.analysis.topology.link(self.view.output(thing)?)?;
        (input.nature == Nature::ConverterInput).then(|| self.segment(output.a.0))
    }

    fn segment(&self, node: u32) -> u32 {
        self.segment_of.get(node as usize).copied().unwrap_or(node)
    }
}

/// What joins two nodes without being told in the tree.
const fn conducts(nature: Nature) -> bool {
    matches!(
        nature,
        Nature::Wire
            | Nature::Mated
            | Nature::Shunt(_)
            | Nature::HandContact { .. }
            | Nature::CoilContact { .. }
    )
}

/// Whether a load takes its current in at this end; coils and windings do at either.
const fn feeds_into(nature: Nature, from_a: bool) -> bool {
    let either = matches!(nature, Nature::Coil(_) | Nature::Winding | Nature::SpeakerCoil);
    super::reading::draws(nature) && (from_a || either)
}
