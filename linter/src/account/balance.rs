//! Where a solved current goes on to: the balance of currents that it satisfies at its end.

use wattle_grammar::quantity::Amps;

use super::{View, what};
use crate::{analysis::Analysis, explained::Explained, figures::Point, naming, topology::LinkId};

/// So many neighbours are named; of more, how many there are.
const MOST_NEIGHBOURS: usize = 6;

/// A current below this share of another says nothing.
const NOTHING: f64 = 1e-6;

impl View<'_> {
    /// Says of each current of a link what takes it where it leaves the link.
    pub(super) fn tell_balance(&self, figures: &mut [Explained], link: LinkId) {
        let points = &self.analysis.figures.points;
        for figure in figures.iter_mut() {
            if [what::STEADY_CURRENT, what::HIGHEST_CURRENT].contains(&figure.what.as_str()) {
                let point = figure.point.and_then(|at| points.get(at));
                figure.notes.extend(point.and_then(|point| balance(self.analysis, point, link)));
            }
        }
    }
}

/// ``at its end `W1` takes 3 A, `W2` brings 0.5 A ``: what takes and brings the current of a link where it leaves the link.
/// None where the balance does not hold in these figures, as at a point without a solution.
fn balance(analysis: &Analysis, point: &Point, link: LinkId) -> Option<String> {
    let told = neighbours(analysis, point, link).filter(|told| !told.is_empty())?;
    let words: Vec<String> = told
        .iter()
        .take(MOST_NEIGHBOURS)
        .map(|(name, amps)| {
            let does = if amps.0 > 0.0 { "takes" } else { "brings" };
            format!("{name} {does} {}", amps.abs())
        })
        .collect();
    let more = match told.len().saturating_sub(MOST_NEIGHBOURS) {
        0 => String::new(),
        more => format!(", and {more} more"),
    };
    Some(format!("at its end {}{more}", words.join(", ")))
}

/// What meets a link where its current leaves it, with what each takes away, the most first; none where that does not come
/// to its current.
fn neighbours(analysis: &Analysis, point: &Point, id: LinkId) -> Option<Vec<(String, Amps)>> {
    let (topology, design) = (&analysis.topology, &analysis.design);
    let link = topology.link(id)?;
    let amps = point.amps(id)?;
    let node = if amps.0 < 0.0 { link.a } else { link.b };
    let whole = amps.abs().0;
    let mut told = Vec::new();
    let mut sum = 0.0;
    for other in topology.links_at.get(node.0 as usize)?.iter().copied().filter(|other| *other != id) {
        let Some(found) = topology.link(other) else { continue };
        let Some(amps) = point.amps(other) else { continue };
        let taken = if found.a == node { amps } else { Amps(-amps.0) };
        sum += taken.0;
        if taken.abs().0 > NOTHING * whole {
            told.push((naming::link(design, topology, other), taken));
        }
    }
    told.sort_by(|one, other| other.1.abs().0.total_cmp(&one.1.abs().0));
    ((sum - whole).abs() <= NOTHING * whole).then_some(told)
}
