//! The diagonal of the inverse of a conductance matrix, and its entries along the links: what every node sees behind it.
//!
//! Nodes are taken out one by one, those with the fewest neighbours first (star–mesh transformation, which is Gaussian
//! elimination of a conductance matrix). Of conductances every step only adds and multiplies numbers that are not negative,
//! so nothing cancels; what sources push may have either sign, for those between two nodes take from one what they give to
//! the other. Going backwards the entries of the inverse follow from those of the neighbours (Takahashi, Fagan and Chen
//! 1973, from memory). On wiring, which is nearly a tree, all of it is linear in the number of links.

use std::{cmp::Reverse, collections::BinaryHeap};

/// A node with more neighbours than this is not taken out: what is left is joined to one node. A joint without resistance
/// never makes a short smaller (Rayleigh's law), so the result is then an upper bound. Real wiring stays below ten.
const DENSEST: usize = 64;

/// Sources and resistances between nodes `0..nodes` and the common negative.
#[derive(Clone, Debug, Default)]
pub(super) struct Grid {
    /// Conductance from each node to the negative, through sources: siemens.
    ground: Vec<f64>,
    /// Current that the sources push in while every node is held at the negative: ampere; below 0 what they take out.
    pushed: Vec<f64>,
    /// Of each node its neighbours, rising, with the conductance to them.
    joined: Vec<Vec<(u32, f64)>>,
    /// The highest electromotive force from the negative.
    highest: f64,
    /// The electromotive forces between two nodes, added.
    lifted: f64,
}

/// What every node sees.
#[derive(Clone, Debug, Default)]
pub(super) struct Inverse {
    /// Voltage without load.
    volts: Vec<f64>,
    /// Resistance behind each node; infinite where no source reaches.
    own: Vec<f64>,
    /// Of each node: the neighbours that were taken out later, with the share passed on and the entry of the inverse.
    later: Vec<Vec<Later>>,
    /// When each node was taken out.
    turn: Vec<u32>,
    /// The resistance behind the nodes that were joined to one, where there are any.
    core: Option<f64>,
}

#[derive(Clone, Copy, Debug)]
struct Later {
    node: u32,
    share: f64,
    entry: f64,
}

impl Grid {
    pub(super) fn new(nodes: usize) -> Self {
        Self {
            ground: vec![0.0; nodes],
            pushed: vec![0.0; nodes],
            joined: vec![Vec::new(); nodes],
            highest: 0.0,
            lifted: 0.0,
        }
    }

    /// A source between the negative and a node; `ohms` above 0.
    pub(super) fn source(&mut self, node: u32, emf: f64, ohms: f64) {
        if let (Some(ground), Some(pushed)) =
            (self.ground.get_mut(node as usize), self.pushed.get_mut(node as usize))
        {
            *ground += 1.0 / ohms;
            *pushed += emf / ohms;
            self.highest = self.highest.max(emf);
        }
    }

    /// A source between two nodes, as cells between two taps; `ohms` above 0. It is a resistance, beside which a current is
    /// taken from the lower node and given to the upper one.
    pub(super) fn between(&mut self, lower: u32, upper: u32, emf: f64, ohms: f64) {
        if lower == upper {
            return;
        }
        self.join(lower, upper, ohms);
        for (node, amps) in [(lower, -emf / ohms), (upper, emf / ohms)] {
            if let Some(pushed) = self.pushed.get_mut(node as usize) {
                *pushed += amps;
            }
        }
        self.lifted += emf.max(0.0);
    }

    /// A voltage that no node exceeds without load: a current gets to the highest of them through sources alone, each once.
    fn ceiling(&self) -> f64 {
        self.highest + self.lifted
    }

    /// A resistance between two nodes; `ohms` above 0.
    pub(super) fn join(&mut self, a: u32, b: u32, ohms: f64) {
        if a == b {
            return;
        }
        self.add(a, b, 1.0 / ohms);
        self.add(b, a, 1.0 / ohms);
    }

    fn add(&mut self, from: u32, to: u32, siemens: f64) {
        let Some(row) = self.joined.get_mut(from as usize) else { return };
        match row.binary_search_by_key(&to, |(node, _)| *node) {
            Ok(at) => row[at].1 += siemens,
            Err(at) => row.insert(at, (to, siemens)),
        }
    }

    fn remove(&mut self, from: u32, to: u32) {
        let row = &mut self.joined[from as usize];
        if let Ok(at) = row.binary_search_by_key(&to, |(node, _)| *node) {
            row.remove(at);
        }
    }

    /// Takes out every node and goes back.
    pub(super) fn invert(mut self) -> Inverse {
        let nodes = self.ground.len();
        let mut inverse = Inverse {
            volts: vec![0.0; nodes],
            own: vec![f64::INFINITY; nodes],
            later: vec![Vec::new(); nodes],
            turn: vec![u32::MAX; nodes],
            core: None,
        };
        let mut order = Vec::with_capacity(nodes);
        // A node is put in anew whenever its neighbours change; what it was put in as before is passed over.
        let mut queue: BinaryHeap<Reverse<(usize, u32)>> =
            self.joined.iter().zip(0u32..).map(|(row, node)| Reverse((row.len(), node))).collect();
        while let Some(Reverse((count, node))) = queue.pop() {
            let at = node as usize;
            if inverse.turn[at] != u32::MAX || self.joined[at].len() != count {
                continue;
            }
            if count > DENSEST {
                break;
            }
            inverse.turn[at] = order.len() as u32;
            let (whole, later) = self.take_out(node);
            queue.extend(later.iter().map(|one| Reverse((self.joined[one.node as usize].len(), one.node))));
            inverse.later[at] = later;
            order.push((node, whole));
        }
        self.close_core(&mut inverse);
        for (node, whole) in order.into_iter().rev() {
            self.go_back(node, whole, &mut inverse);
        }
        inverse
    }

    /// Takes a node out: its neighbours are joined to each other instead, each by its share. Returns the conductance of all
    /// that was joined to it, siemens, and the neighbours.
    fn take_out(&mut self, node: u32) -> (f64, Vec<Later>) {
        let at = node as usize;
        let row = std::mem::take(&mut self.joined[at]);
        let whole = self.ground[at] + row.iter().map(|(_, siemens)| siemens).sum::<f64>();
        if whole <= 0.0 {
            return (whole, Vec::new());
        }
        let later: Vec<Later> =
            row.iter().map(|(to, siemens)| Later { node: *to, share: siemens / whole, entry: 0.0 }).collect();
        for one in &later {
            let to = one.node as usize;
            self.remove(one.node, node);
            self.ground[to] += one.share * self.ground[at];
            self.pushed[to] += one.share * self.pushed[at];
        }
        for (index, one) in later.iter().enumerate() {
            for other in &later[index + 1..] {
                let siemens = one.share * other.share * whole;
                self.add(one.node, other.node, siemens);
                self.add(other.node, one.node, siemens);
            }
        }
        (whole, later)
    }

    /// Joins what is left to one node.
    fn close_core(&self, inverse: &mut Inverse) {
        let left: Vec<usize> = (0..inverse.turn.len()).filter(|at| inverse.turn[*at] == u32::MAX).collect();
        if left.is_empty() {
            return;
        }
        let siemens: f64 = left.iter().map(|at| self.ground[*at]).sum();
        let ohms = if siemens > 0.0 { 1.0 / siemens } else { f64::INFINITY };
        inverse.core = Some(ohms);
        for at in left {
            inverse.own[at] = ohms;
            inverse.volts[at] = self.ceiling();
        }
    }

    /// The entries of a node from those of the nodes taken out after it; `whole` as it was when it was taken out.
    fn go_back(&self, node: u32, whole: f64, inverse: &mut Inverse) {
        let at = node as usize;
        if whole <= 0.0 {
            return;
        }
        let mut later = std::mem::take(&mut inverse.later[at]);
        let mut own = 1.0 / whole;
        let mut volts = self.pushed[at] / whole;
        for index in 0..later.len() {
            let to = later[index].node;
            let entry = later.iter().map(|other| other.share * inverse.entry(to, other.node)).sum();
            later[index].entry = entry;
            own += later[index].share * entry;
            volts += later[index].share * inverse.volts[to as usize];
        }
        inverse.later[at] = later;
        inverse.own[at] = own;
        inverse.volts[at] = if inverse.core.is_some() { self.ceiling() } else { volts };
    }
}

impl Inverse {
    /// Whether some nodes were joined to one, so that currents are upper bounds.
    pub(super) const fn is_bound(&self) -> bool {
        self.core.is_some()
    }

    /// Voltage without load at a node.
    pub(super) fn volts(&self, node: u32) -> f64 {
        self.volts.get(node as usize).copied().unwrap_or(0.0)
    }

    /// Resistance behind a node.
    pub(super) fn own(&self, node: u32) -> f64 {
        self.own.get(node as usize).copied().unwrap_or(f64::INFINITY)
    }

    /// What a short between a node and the negative draws.
    pub(super) fn short(&self, node: u32) -> f64 {
        let ohms = self.own(node);
        if ohms.is_finite() && ohms > 0.0 { self.volts(node) / ohms } else { 0.0 }
    }

    /// What passes a resistance from `from` to `to` when `to` is shorted to the negative; below 0 where it flows out of the
    /// short again, through cells into what lies lower.
    pub(super) fn through(&self, from: u32, to: u32, ohms: f64) -> f64 {
        if self.is_bound() {
            return self.short(to);
        }
        let behind = self.own(to);
        if !behind.is_finite() || behind <= 0.0 {
            return 0.0;
        }
        let volts = self.volts(from) - self.volts(to) * (self.entry(from, to) / behind);
        volts / ohms
    }

    /// The entry of the inverse for two nodes that are joined, or became so; 0 for others.
    fn entry(&self, a: u32, b: u32) -> f64 {
        if a == b {
            return self.own(a);
        }
        let turn = |node: u32| self.turn.get(node as usize).copied().unwrap_or(u32::MAX);
        let (first, second) = if turn(a) < turn(b) { (a, b) } else { (b, a) };
        if turn(first) == u32::MAX {
            return self.core.unwrap_or(0.0);
        }
        let later = self.later.get(first as usize).map_or(&[][..], Vec::as_slice);
        later
            .binary_search_by_key(&second, |one| one.node)
            .ok()
            .and_then(|at| later.get(at))
            .map_or(0.0, |one| one.entry)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The inverse by Gauss and Jordan, for comparing.
    fn dense(ground: &[f64], joined: &[(usize, usize, f64)]) -> Vec<Vec<f64>> {
        let n = ground.len();
        let mut m = vec![vec![0.0; 2 * n]; n];
        for (at, siemens) in ground.iter().enumerate() {
            m[at][at] += siemens;
            m[at][n + at] = 1.0;
        }
        for &(a, b, ohms) in joined {
            m[a][a] += 1.0 / ohms;
            m[b][b] += 1.0 / ohms;
            m[a][b] -= 1.0 / ohms;
            m[b][a] -= 1.0 / ohms;
        }
        for pivot in 0..n {
            let whole = m[pivot][pivot];
            m[pivot].iter_mut().for_each(|value| *value /= whole);
            for row in (0..n).filter(|row| *row != pivot) {
                let factor = m[row][pivot];
                let taken: Vec<f64> = m[pivot].iter().map(|value| value * factor).collect();
                m[row].iter_mut().zip(taken).for_each(|(value, taken)| *value -= taken);
            }
        }
        m.into_iter().map(|row| row[n..].to_vec()).collect()
    }

    #[test]
    fn entries_are_those_of_the_whole_inverse() {
        let joined = [(0, 1, 0.1), (1, 2, 0.2), (2, 3, 0.3), (3, 0, 0.4), (1, 3, 0.5), (3, 4, 0.6)];
        let mut grid = Grid::new(5);
        for &(a, b, ohms) in &joined {
            grid.join(a as u32, b as u32, ohms);
        }
        grid.source(0, 12.0, 0.05);
        grid.source(4, 10.0, 0.02);
        let inverse = grid.invert();
        let whole = dense(&[20.0, 0.0, 0.0, 0.0, 50.0], &joined);
        for (node, row) in whole.iter().enumerate() {
            assert!((inverse.own(node as u32) / row[node] - 1.0).abs() < 1e-12);
            let volts = row[0] * 240.0 + row[4] * 500.0;
            assert!((inverse.volts(node as u32) / volts - 1.0).abs() < 1e-12);
        }
        for (a, b, _) in joined {
            assert!((inverse.entry(a as u32, b as u32) / whole[a][b] - 1.0).abs() < 1e-12, "{a} {b}");
        }
    }

    #[test]
    fn packs_behind_a_common_cable_are_not_added() {
        // Two packs of 12 V and 10 mΩ on a bar, 50 mΩ of cable behind it: 12 V / 55 mΩ, not twice 12 V / 60 mΩ.
        let mut grid = Grid::new(2);
        grid.source(0, 12.0, 0.01);
        grid.source(0, 12.0, 0.01);
        grid.join(0, 1, 0.05);
        let inverse = grid.invert();
        assert!((inverse.short(1) - 12.0 / 0.055).abs() < 1e-9);
        assert!((inverse.through(0, 1, 0.05) - 12.0 / 0.055).abs() < 1e-9);
        assert!(inverse.through(1, 0, 0.05).abs() < 1e-9, "nothing comes back from the far end");
    }

    #[test]
    fn cells_between_two_nodes_are_those_of_the_whole_matrix() {
        // Three cells in a chain, 4 V and 2 mΩ each; a pack of 11 V and 5 mΩ behind 3 mΩ at their top; a lead of 7 mΩ that
        // joins the upper tap to a node at which nothing else hangs.
        let mut grid = Grid::new(5);
        grid.source(0, 4.0, 0.002);
        grid.between(0, 1, 4.0, 0.002);
        grid.between(1, 2, 4.0, 0.002);
        grid.source(3, 11.0, 0.005);
        grid.join(2, 3, 0.003);
        grid.join(1, 4, 0.007);
        let inverse = grid.invert();
        let joined = [(0, 1, 0.002), (1, 2, 0.002), (2, 3, 0.003), (1, 4, 0.007)];
        let whole = dense(&[500.0, 0.0, 0.0, 200.0, 0.0], &joined);
        // Each cell pushes 2000 A into its upper end and takes them from its lower one.
        let pushed = [2000.0 - 2000.0, 2000.0 - 2000.0, 2000.0, 2200.0, 0.0];
        for (node, row) in whole.iter().enumerate() {
            let volts: f64 = row.iter().zip(pushed).map(|(entry, pushed)| entry * pushed).sum();
            assert!((inverse.own(node as u32) / row[node] - 1.0).abs() < 1e-12);
            assert!((inverse.volts(node as u32) / volts - 1.0).abs() < 1e-12);
        }
        // A short on the upper tap: two cells below it give 8 V / 4 mΩ; through the one above it the pack drives
        // (11 − 4) V / (5 + 3 + 2) mΩ.
        assert!((inverse.short(1) - (8.0 / 0.004 + 7.0 / 0.010)).abs() < 1e-6);
        assert!((inverse.through(3, 2, 0.003) - 11.0 / 0.008).abs() < 1e-6);
    }

    #[test]
    fn a_source_between_nodes_may_take_from_a_short() {
        // A cell of 4 V and 2 mΩ below the tap, two above it, and a pack of 5 V and 1 mΩ at their top, which is lower than
        // those two: of the 4 V / 2 mΩ the short has (8 − 5) V / 5 mΩ less.
        let mut grid = Grid::new(2);
        grid.source(0, 4.0, 0.002);
        grid.between(0, 1, 8.0, 0.004);
        grid.source(1, 5.0, 0.001);
        let inverse = grid.invert();
        assert!((inverse.short(0) - (4.0 / 0.002 - 3.0 / 0.005)).abs() < 1e-6);
    }

    #[test]
    fn cells_that_stand_on_nothing_give_nothing() {
        let mut grid = Grid::new(2);
        grid.between(0, 1, 8.0, 0.004);
        let inverse = grid.invert();
        assert!((0..2).all(|node| inverse.short(node) == 0.0));
    }

    #[test]
    fn a_dense_core_of_cells_gives_an_upper_bound() {
        // Every node of the core stands 1 V and 1 Ω above the one before, the first 10 V and 0.5 Ω above the negative.
        let nodes = 70_u32;
        let mut grid = Grid::new(nodes as usize);
        for a in 0..nodes {
            for b in 0..a {
                grid.join(a, b, 1.0);
            }
        }
        grid.source(0, 10.0, 0.5);
        for node in 1..nodes {
            grid.between(node - 1, node, 1.0, 1.0);
        }
        let ground: Vec<f64> = (0..nodes).map(|node| if node == 0 { 2.0 } else { 0.0 }).collect();
        let mut joined = Vec::new();
        for a in 0..nodes as usize {
            joined.extend((0..a).map(|b| (a, b, if b + 1 == a { 0.5 } else { 1.0 })));
        }
        let whole = dense(&ground, &joined);
        let inverse = grid.invert();
        assert!(inverse.is_bound());
        for (node, row) in whole.iter().enumerate() {
            // The cells push 1 A in at the last node and take it out at the first; the pack pushes 20 A in there.
            let volts = row[0] * 19.0 + row[nodes as usize - 1];
            assert!(inverse.short(node as u32) >= volts / row[node]);
        }
    }

    #[test]
    fn a_dense_core_gives_an_upper_bound() {
        let nodes = 80;
        let mut grid = Grid::new(nodes);
        for a in 0..nodes as u32 {
            for b in 0..a {
                grid.join(a, b, 1.0);
            }
        }
        grid.source(0, 10.0, 0.5);
        let inverse = grid.invert();
        assert!(inverse.is_bound());
        // Exactly: 0.5 Ω and 2/80 Ω between two nodes of a complete graph.
        assert!(inverse.short(7) >= 10.0 / (0.5 + 2.0 / 80.0) && inverse.short(7) <= 20.0 + 1e-9);
    }

    #[test]
    fn without_a_source_nothing_flows() {
        let mut grid = Grid::new(3);
        grid.join(0, 1, 0.1);
        let inverse = grid.invert();
        assert!((0..3).all(|node| inverse.short(node) == 0.0));
        assert_eq!(inverse.through(0, 1, 0.1), 0.0);
    }
}
