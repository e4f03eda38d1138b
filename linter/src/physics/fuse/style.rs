//! The styles of fuses and breakers: their published time limits.

use wattle_grammar::quantity::Seconds;

use super::{
    super::evidence::Evidence::{self, Memory, Seen},
    Limit, Style,
};

/// A row of a time–current table; 0 s as `latest` stands for "need not open", as `earliest` for "may open at once".
const fn limit(multiple: f64, earliest: f64, latest: f64, evidence: Evidence) -> Limit {
    Limit { multiple, earliest: time(earliest), latest: time(latest), evidence }
}

const fn time(seconds: f64) -> Option<Seconds> {
    if seconds > 0.0 { Some(Seconds(seconds)) } else { None }
}

const BLADE_SOURCE: &str =
    "ISO 8820-3 types C and F; 1.1 and 1.35 times read in a data sheet, the rest from memory";

const BLADE: &[Limit] = &[
    limit(1.10, 360_000.0, 0.0, Seen),
    limit(1.35, 0.75, 600.0, Seen),
    limit(1.60, 0.25, 50.0, Memory),
    limit(2.00, 0.15, 5.0, Memory),
    limit(3.50, 0.04, 0.5, Memory),
    limit(6.00, 0.02, 0.1, Memory),
];

/// Every style with known limits. Strip and class T fuses have none here: makers' curves differ too much.
pub static ALL: &[Style] = &[
    Style {
        word: "blade",
        speed: None,
        name: "a blade fuse",
        family: "blade fuses",
        source: BLADE_SOURCE,
        limits: BLADE,
        instantaneous: None,
    },
    Style {
        word: "mini-blade",
        speed: None,
        name: "a mini blade fuse",
        family: "blade fuses",
        source: BLADE_SOURCE,
        limits: BLADE,
        instantaneous: None,
    },
    Style {
        word: "bolt-down",
        speed: None,
        name: "a bolt-down fuse",
        family: "bolt-down fuses",
        source: "ISO 8820-5, makers' practice, from memory, order of magnitude",
        limits: &[
            limit(1.00, 14_400.0, 0.0, Memory),
            limit(1.35, 120.0, 1800.0, Memory),
            limit(2.00, 1.0, 15.0, Memory),
            limit(3.50, 0.3, 5.0, Memory),
            limit(6.00, 0.1, 1.0, Memory),
        ],
        instantaneous: None,
    },
    Style {
        word: "cartridge",
        speed: Some("fast"),
        name: "a quick-acting cartridge fuse",
        family: "cartridge fuses",
        source: "IEC 60127-2 sheet 2, from memory",
        limits: &[
            limit(1.50, 3600.0, 0.0, Memory),
            limit(2.10, 0.0, 1800.0, Memory),
            limit(2.75, 0.05, 2.0, Memory),
            limit(4.00, 0.01, 0.3, Memory),
            limit(10.0, 0.0, 0.02, Memory),
        ],
        instantaneous: None,
    },
    Style {
        word: "cartridge",
        speed: Some("slow"),
        name: "a time-lag cartridge fuse",
        family: "cartridge fuses",
        source: "IEC 60127-2 sheet 3, from memory",
        limits: &[
            limit(1.50, 3600.0, 0.0, Memory),
            limit(2.10, 0.0, 120.0, Memory),
            limit(2.75, 0.6, 10.0, Memory),
            limit(4.00, 0.15, 3.0, Memory),
            limit(10.0, 0.02, 0.3, Memory),
        ],
        instantaneous: None,
    },
    Style {
        word: "cartridge",
        speed: None,
        name: "a cartridge fuse of unknown speed",
        family: "cartridge fuses",
        source: "IEC 60127-2 sheets 2 and 3, the wider of both, from memory",
        limits: &[
            limit(1.50, 3600.0, 0.0, Memory),
            limit(2.10, 0.0, 1800.0, Memory),
            limit(2.75, 0.05, 10.0, Memory),
            limit(4.00, 0.01, 3.0, Memory),
            limit(10.0, 0.0, 0.3, Memory),
        ],
        instantaneous: None,
    },
    Style {
        word: "thermal",
        speed: None,
        name: "a thermal breaker",
        family: "thermal breakers",
        source: "IEC 60898-1 for the thermal part, from memory",
        limits: &[
            limit(1.13, 3600.0, 0.0, Memory),
            limit(1.45, 0.0, 3600.0, Memory),
            limit(2.55, 1.0, 120.0, Memory),
        ],
        instantaneous: None,
    },
    Style {
        word: "thermal-magnetic",
        speed: None,
        name: "a thermal-magnetic breaker of unknown curve",
        family: "thermal-magnetic breakers",
        source: "IEC 60898-1, the widest of curves B, C and D, from memory",
        limits: &[
            limit(1.13, 3600.0, 0.0, Memory),
            limit(1.45, 0.0, 3600.0, Memory),
            limit(2.55, 1.0, 120.0, Memory),
            limit(3.0, 0.1, 0.0, Memory),
            limit(20.0, 0.0, 0.1, Memory),
        ],
        instantaneous: Some((3.0, 20.0)),
    },
];
