//! The matrices of the contest: conductance matrices of wiring, the same ones for everybody.

/// Numbers that look random and are the same every time (D. E. Knuth's MMIX generator).
pub struct Numbers(u64);

impl Numbers {
    fn below(&mut self, limit: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) % limit.max(1) as u64) as usize
    }

    fn decade(&mut self, low: f64, high: f64) -> f64 {
        10f64.powf(low + (high - low) * self.below(1 << 20) as f64 / f64::from(1 << 20))
    }
}

/// Conductances between nodes; node 0 is ground. One more unknown than the matrix has rows.
pub struct Conductances {
    /// What it is.
    pub name: &'static str,
    /// Nodes, ground included.
    pub nodes: usize,
    /// Ends and siemens; every node hangs together with ground.
    pub edges: Vec<(u32, u32, f64)>,
    /// Current into each node; they sum to zero.
    pub currents: Vec<f64>,
}

impl Conductances {
    fn new(name: &'static str, nodes: usize, edges: Vec<(u32, u32, f64)>, numbers: &mut Numbers) -> Self {
        let mut currents: Vec<f64> = (0..nodes).map(|_| numbers.decade(-3.0, 1.0)).collect();
        currents[0] -= currents.iter().sum::<f64>();
        Self { name, nodes, edges, currents }
    }

    /// The lower triangle and the diagonal without ground, as columns of rows and siemens, rows ascending.
    pub fn columns(&self) -> Vec<Vec<(usize, f64)>> {
        let mut columns: Vec<std::collections::BTreeMap<usize, f64>> =
            vec![Default::default(); self.nodes - 1];
        let mut add =
            |row: usize, column: usize, siemens: f64| *columns[column].entry(row).or_default() += siemens;
        for &(a, b, siemens) in &self.edges {
            let (a, b) = (a as usize, b as usize);
            for end in [a, b].into_iter().filter(|end| *end > 0) {
                add(end - 1, end - 1, siemens);
            }
            if a > 0 && b > 0 {
                add(a - 1, b - 1, -siemens);
                add(b - 1, a - 1, -siemens);
            }
        }
        columns.into_iter().map(|column| column.into_iter().collect()).collect()
    }

    /// The largest violation of Kirchhoff's law at given voltages, of the largest current in an edge.
    pub fn residual(&self, volts: &[f64]) -> f64 {
        let (mut off, mut largest) = (self.currents.clone(), 0.0f64);
        for &(a, b, siemens) in &self.edges {
            let amps = siemens * (volts[a as usize] - volts[b as usize]);
            off[a as usize] -= amps;
            off[b as usize] += amps;
            largest = largest.max(amps.abs());
        }
        off.iter().fold(0.0f64, |worst, one| worst.max(one.abs())) / largest
    }
}

/// A robot's wiring: sections on a plus bar, modules on each, loads back to negative bars, and one loop in a hundred nodes.
pub fn robot(nodes: usize) -> Conductances {
    let mut numbers = Numbers(nodes as u64);
    let mut edges = vec![(1, 0, 50.0)];
    let mut bars = vec![1u32];
    for node in 2..nodes as u32 {
        let bar = bars[numbers.below(bars.len())];
        match node % 10 {
            // A bar further out, its way back to ground a bar of its own in effect.
            0 if bars.len() < nodes / 200 + 2 => {
                edges.push((node, bar, numbers.decade(1.0, 3.0)));
                bars.push(node);
            }
            // A chain: a wire on from the node before, and at its end a load to ground.
            5 | 8 => {
                edges.push((node, node - 1, numbers.decade(1.0, 4.0)));
                edges.push((node, 0, numbers.decade(-3.0, 0.0)));
            }
            1..=4 | 6 | 7 => edges.push((node, node - 1, numbers.decade(1.0, 4.0))),
            _ => edges.push((node, bar, numbers.decade(1.0, 4.0))),
        }
        if numbers.below(100) == 0 {
            edges.push((node, 1 + numbers.below(node as usize - 1) as u32, numbers.decade(0.0, 3.0)));
        }
    }
    Conductances::new("robot", nodes, edges, &mut numbers)
}

/// A random tree and a quarter more edges: more meshes than any wiring has.
pub fn random(nodes: usize) -> Conductances {
    let mut numbers = Numbers(7 + nodes as u64);
    let mut edges: Vec<_> =
        (1..nodes).map(|node| (node as u32, numbers.below(node) as u32, numbers.decade(-4.0, 4.0))).collect();
    for _ in 0..nodes / 4 {
        let (a, b) = (numbers.below(nodes) as u32, numbers.below(nodes) as u32);
        if a != b {
            edges.push((a, b, numbers.decade(-4.0, 4.0)));
        }
    }
    Conductances::new("random + 25 %", nodes, edges, &mut numbers)
}
