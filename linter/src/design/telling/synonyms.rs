//! Other words of the trade for keys, states, terminals and yes or no, so that a builder's own word finds ours.

/// A word that people use, and ours for it: the first that the place takes is meant.
type Table = &'static [(&'static str, &'static [&'static str])];

const KEYS: Table = &[
    ("amperage", &["current"]),
    ("amps", &["current"]),
    ("awg", &["size"]),
    ("breaking", &["breaking-capacity"]),
    ("c-rate", &["discharge"]),
    ("c-rating", &["discharge"]),
    ("cell-count", &["cells"]),
    ("chem", &["chemistry"]),
    ("coil-current", &["coil"]),
    ("comment", &["note"]),
    ("cross-section", &["size"]),
    ("description", &["note"]),
    ("esr", &["resistance"]),
    ("flyback", &["suppression"]),
    ("free", &["idle"]),
    ("gauge", &["size"]),
    ("idle-current", &["idle"]),
    ("internal-resistance", &["resistance"]),
    ("interrupting", &["breaking-capacity"]),
    ("ir", &["resistance"]),
    ("kv", &["speed-constant"]),
    ("label", &["note"]),
    ("limit", &["current-limit"]),
    ("mah", &["capacity"]),
    ("max", &["peak", "current", "max-temperature"]),
    ("max-current", &["peak", "current"]),
    ("moves", &["moving"]),
    ("no-load", &["idle"]),
    ("nominal", &["voltage", "typical"]),
    ("ohms", &["resistance"]),
    ("parallel", &["strings"]),
    ("peak-current", &["peak"]),
    ("pins", &["ways"]),
    ("positions", &["ways"]),
    ("rated", &["current", "voltage"]),
    ("rating", &["current", "voltage"]),
    ("remark", &["note"]),
    ("rotating", &["moving"]),
    ("running", &["typical"]),
    ("section", &["size"]),
    ("series", &["cells"]),
    ("sleeved", &["sheathed"]),
    ("stall-current", &["stall"]),
    ("surge", &["peak"]),
    ("temp", &["ambient", "max-temperature"]),
    ("temperature", &["ambient", "max-temperature", "insulation"]),
    ("thickness", &["size"]),
    ("trip", &["current"]),
    ("type", &["style", "chemistry"]),
    ("typical-current", &["typical"]),
    ("volts", &["voltage"]),
    ("waterproof", &["sealed"]),
    ("watts", &["power"]),
];

const STATES: Table = &[
    ("active", &["typical", "closed"]),
    ("back-driven", &["turned"]),
    ("blocked", &["stall"]),
    ("blown", &["open"]),
    ("broken", &["open"]),
    ("disconnected", &["absent", "open"]),
    ("down", &["pressed"]),
    ("enabled", &["typical", "closed"]),
    ("engaged", &["pressed", "closed"]),
    ("false", &["open", "off", "absent"]),
    ("full", &["peak"]),
    ("hit", &["pressed"]),
    ("in", &["pressed", "connected"]),
    ("jammed", &["stall"]),
    ("locked", &["stall"]),
    ("made", &["closed"]),
    ("max", &["peak"]),
    ("maximum", &["peak"]),
    ("min", &["idle"]),
    ("no", &["open", "off", "absent"]),
    ("nominal", &["typical"]),
    ("normal", &["typical"]),
    ("off", &["open", "absent"]),
    ("on", &["closed", "typical", "connected"]),
    ("out", &["released", "absent"]),
    ("plugged", &["connected", "closed"]),
    ("present", &["connected"]),
    ("pulled", &["released", "open"]),
    ("pushed", &["pressed", "turned"]),
    ("removed", &["absent", "open"]),
    ("running", &["typical"]),
    ("spun", &["turned"]),
    ("stalled", &["stall"]),
    ("standby", &["idle"]),
    ("tripped", &["open"]),
    ("true", &["closed", "typical", "connected"]),
    ("unplugged", &["absent", "open"]),
    ("up", &["released"]),
    ("yes", &["closed", "typical", "connected"]),
];

const TERMINALS: Table = &[
    ("0v", &["neg"]),
    ("batt", &["pos"]),
    ("black", &["neg"]),
    ("c", &["11"]),
    ("coil", &["A1"]),
    ("com", &["11"]),
    ("common", &["11"]),
    ("en", &["enable"]),
    ("gnd", &["neg", "in-neg"]),
    ("ground", &["neg", "in-neg"]),
    ("in", &["line", "in"]),
    ("input", &["in", "line"]),
    ("m1", &["m1a"]),
    ("m2", &["m2a"]),
    ("minus", &["neg", "in-neg"]),
    ("nc", &["12"]),
    ("negative", &["neg", "in-neg"]),
    ("no", &["14"]),
    ("out", &["load", "out"]),
    ("output", &["out", "load"]),
    ("plus", &["pos", "in"]),
    ("positive", &["pos", "in"]),
    ("power", &["pos", "in"]),
    ("pwm", &["signal"]),
    ("red", &["pos"]),
    ("return", &["neg"]),
    ("sig", &["signal"]),
    ("vbat", &["pos"]),
    ("vcc", &["pos", "in"]),
    ("vdd", &["pos"]),
    ("vin", &["pos", "in"]),
    ("vout", &["out"]),
    ("vss", &["neg"]),
];

const FLAGS: Table = &[
    ("enabled", &["yes"]),
    ("false", &["no"]),
    ("n", &["no"]),
    ("never", &["no"]),
    ("none", &["no"]),
    ("off", &["no"]),
    ("on", &["yes"]),
    ("true", &["yes"]),
    ("y", &["yes"]),
];

fn found(table: Table, word: &str, takes: impl Fn(&str) -> bool) -> Option<&'static str> {
    let lower = word.to_lowercase();
    let (_, ours) = table.iter().find(|(other, _)| *other == lower)?;
    ours.iter().copied().find(|ours| takes(ours))
}

/// The key that somebody means by `word`, among those that `takes` admits.
pub(super) fn key(word: &str, takes: impl Fn(&str) -> bool) -> Option<&'static str> {
    found(KEYS, word, takes)
}

/// The state that somebody means by `word`.
pub(super) fn state(word: &str, takes: impl Fn(&str) -> bool) -> Option<&'static str> {
    found(STATES, word, takes)
}

/// The terminal that somebody means by `word`.
pub(super) fn terminal(word: &str, takes: impl Fn(&str) -> bool) -> Option<&'static str> {
    found(TERMINALS, word, takes)
}

/// The `yes` or `no` that somebody means by `word`.
pub(super) fn flag(word: &str) -> Option<&'static str> {
    found(FLAGS, word, |_| true)
}

#[cfg(test)]
mod tests {
    use wattle_grammar::kind;

    use super::{super::super::state as states, *};

    #[test]
    fn words_stand_once_in_their_order_and_lead_to_words_of_ours() {
        for table in [KEYS, STATES, TERMINALS, FLAGS] {
            assert!(table.is_sorted_by(|one, next| one.0 < next.0), "{table:?}");
        }
        let keys = KEYS.iter().flat_map(|(_, ours)| ours.iter());
        assert!(keys.clone().all(|ours| kind::key::ALL.contains(ours)), "{:?}", keys.collect::<Vec<_>>());
        let words: Vec<&str> = kind::ALL.iter().flat_map(|kind| states::words(kind)).collect();
        let said = STATES.iter().flat_map(|(_, ours)| ours.iter());
        assert!(said.clone().all(|ours| words.contains(ours)), "{:?}", said.collect::<Vec<_>>());
    }

    #[test]
    fn the_first_that_fits_is_meant() {
        assert_eq!(state("ON", |word| word == "typical"), Some("typical"));
        assert_eq!(key("weight", |_| true), None);
    }
}
