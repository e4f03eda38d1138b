//! Times of one solver on one matrix.

use std::{hint::black_box, time::Instant};

/// Milliseconds of each step, entries of the factor where it tells them, and how well Kirchhoff's law holds.
pub struct Times {
    /// The solver.
    pub name: &'static str,
    /// Order and pattern, once for a shape.
    pub analysis: f64,
    /// Numbers on that pattern.
    pub factorisation: f64,
    /// One right side.
    pub solve: f64,
    /// Entries below the diagonal; 0 where it does not tell.
    pub entries: usize,
    /// Largest violation of the current law, of the largest current.
    pub residual: f64,
}

/// The shortest of several runs, which other work on the machine lengthens least, and what the last one gave.
pub fn quickest<T>(runs: usize, mut run: impl FnMut() -> T) -> (f64, T) {
    let mut shortest = f64::INFINITY;
    let mut time = || {
        let begin = Instant::now();
        let result = black_box(run());
        shortest = shortest.min(begin.elapsed().as_secs_f64() * 1e3);
        result
    };
    let mut last = time();
    for _ in 1..runs {
        last = time();
    }
    (shortest, last)
}
