//! Other words of the trade for what a statement begins with, so that a builder's own word finds ours.

/// Our word, then the words that people use for the same.
const WORDS: &[(&str, &[&str])] = &[
    ("battery", &["accu", "akku", "accumulator", "batt", "cell"]),
    ("supply", &["psu", "power", "powersupply", "power-supply", "adapter", "adaptor", "wallwart"]),
    ("generator", &["solar", "panel", "alternator", "dynamo"]),
    ("fuse", &["fuses", "fuze", "link"]),
    ("breaker", &["mcb", "circuit-breaker", "cb"]),
    ("clamp", &["tvs", "varistor", "crowbar", "brake-resistor", "suppressor"]),
    ("switch", &["button", "pushbutton", "push-button", "key", "isolator", "toggle", "disconnect"]),
    ("stop", &["estop", "e-stop", "emergency-stop", "emergency", "mushroom"]),
    ("relay", &["relais", "rel"]),
    ("contactor", &["solenoid", "main-relay"]),
    (
        "regulator",
        &["bec", "ubec", "buck", "boost", "converter", "dcdc", "dc-dc", "ldo", "step-down", "vreg"],
    ),
    (
        "driver",
        &["esc", "speed-controller", "motor-driver", "motor-controller", "h-bridge", "hbridge", "bridge"],
    ),
    ("amplifier", &["amp"]),
    ("controller", &["mcu", "microcontroller", "computer", "brain", "board", "cpu", "pcb"]),
    ("receiver", &["rx", "radio"]),
    ("sensor", &["encoder", "potentiometer", "pot", "limit", "gyro", "imu", "thermistor"]),
    ("motor", &["engine", "pump", "fan", "gearmotor", "actuator"]),
    ("light", &["bulb", "lamp", "led", "leds", "strip", "headlight", "eyes"]),
    ("speaker", &["horn", "buzzer", "loudspeaker", "siren"]),
    ("meter", &["voltmeter", "ammeter", "display", "gauge"]),
    ("load", &["device", "heater", "consumer", "appliance", "camera"]),
    ("capacitor", &["cap", "condenser"]),
    (
        "block",
        &["bus", "busbar", "bus-bar", "bar", "rail", "fusebox", "fuse-box", "terminal-block", "distribution"],
    ),
    ("splice", &["joint", "junction", "crimp", "solder", "butt"]),
    ("stud", &["post", "bolt", "node", "star"]),
    ("plug", &["connector", "header", "male"]),
    ("socket", &["jack", "receptacle", "female"]),
    ("chassis", &["ground", "gnd", "earth", "frame", "body"]),
    ("wire", &["connect", "connection", "conductor", "cord", "lead", "line", "net", "link-wire"]),
    ("tie", &["join", "bond", "jumper", "short"]),
    ("harness", &["loom", "bundle"]),
    ("mate", &["connects", "plugs"]),
    ("part", &["component", "type", "define", "model"]),
    ("place", &["zone", "room", "location", "area", "region", "section"]),
    ("mode", &["state", "scenario", "case"]),
    ("expect", &["assert", "check", "require", "ensure", "verify"]),
    ("reading", &["measure", "measured", "measurement", "probe"]),
    ("accept", &["ignore", "allow", "waive", "suppress", "disable"]),
    ("assembly", &["module", "subsystem", "unit", "template", "macro"]),
    ("fit", &["instance", "new", "install", "insert"]),
    ("let", &["const", "constant", "var", "set", "def"]),
    ("use", &["include", "import", "require-file", "source", "from"]),
    ("robot", &["project", "machine", "system", "name", "title"]),
    ("wattle", &["edition", "version", "language"]),
];

/// The word that somebody means by `word`, upper and lower case alike.
pub(super) fn beginning(word: &str) -> Option<&'static str> {
    let lower = word.to_lowercase();
    WORDS.iter().find(|(_, others)| others.contains(&lower.as_str())).map(|(ours, _)| *ours)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::parse::words::Word;

    #[test]
    fn synonyms_lead_to_words_that_begin_statements_and_are_none_themselves() {
        let mut seen = std::collections::BTreeSet::new();
        for (ours, others) in WORDS {
            assert!(Word::at_start(ours).begins_statement(), "{ours}");
            for other in *others {
                assert!(!Word::at_start(other).begins_statement() && seen.insert(other), "{other}");
            }
        }
        assert_eq!(beginning("Bulb"), Some("light"));
        assert_eq!(beginning("wire"), None);
    }
}
