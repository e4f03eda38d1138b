//! The robots that benches and tests of scale use are sound: no error, no finding, nothing left unassessed.

use wattle_tests::{memory, robots};

/// Sizes to check, wires: the largest in the optimised build only.
const SIZES: &[usize] = if cfg!(debug_assertions) { &[1, 200, 500] } else { &[1, 200, 500, 1_000, 20_000] };

#[test]
fn generated_robots_lint_clean_at_every_size() {
    for wires in SIZES {
        let analysis = memory::analyse(&robots::robot(*wires));
        let verdict = &analysis.verdict;
        assert_eq!(verdict.errors, []);
        assert_eq!(verdict.findings, []);
        assert_eq!(verdict.not_assessed, []);
        assert_eq!(verdict.incomplete, [""; 0]);
        let made = analysis.design.wires.len();
        assert!(
            (*wires..wires + wires / 20 + 60).contains(&made),
            "{made} wires where {wires} were asked for"
        );
    }
}
