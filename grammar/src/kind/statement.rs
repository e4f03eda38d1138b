//! The statements of the language and the words of modes: one line of doc and an example each.

/// A statement's keyword.
#[derive(Debug)]
pub struct Statement {
    /// The keyword.
    pub word: &'static str,
    /// Its form, with the parts that vary in capitals.
    pub form: &'static str,
    /// What it says, one line.
    pub doc: &'static str,
    /// A statement that shows it in use; parsed by a test.
    pub example: &'static str,
}

/// The statement with this keyword.
#[must_use]
pub fn by_word(word: &str) -> Option<&'static Statement> {
    ALL.iter().find(|statement| statement.word == word)
}

/// A word that stands in the lines of a mode.
#[derive(Debug)]
pub struct ModeWord {
    /// The word.
    pub word: &'static str,
    /// What it says, one line.
    pub doc: &'static str,
    /// A line of a mode that shows it in use.
    pub example: &'static str,
}

/// The edition of the language that this tool knows.
pub const EDITION: u32 = 1;

/// Every statement but those that begin with a kind, in the order a file usually has them.
pub const ALL: &[Statement] = &[
    Statement {
        word: "wattle",
        form: "wattle NUMBER",
        doc: "The edition of the language; the first statement of every file.",
        example: "wattle 1",
    },
    Statement {
        word: "use",
        form: "use \"FILE\"",
        doc: "Takes in another file, by its path from this one; never from outside the project.",
        example: "use \"parts/legs.wattle\"",
    },
    Statement {
        word: "let",
        form: "let NAME = VALUE",
        doc: "Names a quantity, so that it is written once.",
        example: "let NECK-RUN = 1.2 m",
    },
    Statement {
        word: "robot",
        form: "robot \"NAME\" { SETTINGS }",
        doc: "The robot that this file describes: its name, the air around it, the basis of judgement.",
        example: "robot \"Parade heron\" { ambient 5 degC .. 35 degC; profile boat }",
    },
    Statement {
        word: "place",
        form: "place NAMES \"LABEL\" VALUES { SETTINGS }",
        doc: "Somewhere in the robot where parts live or wires run.",
        example: "place neck { ambient 45 degC; moving }",
    },
    Statement {
        word: "group",
        form: "group NAMES \"LABEL\" VALUES { SETTINGS }",
        doc: "Things that belong together; members say `group NAME`. `simultaneity` says how many of them work at once.",
        example: "group EARS \"Ears and brows\" { simultaneity 2 }",
    },
    Statement {
        word: "part",
        form: "part NAME is KIND \"LABEL\" VALUES { SETTINGS }",
        doc: "A catalogue entry: a kind, or another part, with ratings filled in; things take it with `: NAME`.",
        example: "part tray-pack is battery lipo 6S 5000 mAh { resistance 18 mohm }",
    },
    Statement {
        word: "wire",
        form: "wire NAME END to END VALUES at PLACE { SETTINGS }",
        doc: "One conductor between two terminals, with its size, colour and length.",
        example: "wire W1 PACK.pos to F-MAIN.line 10 AWG red 120 mm",
    },
    Statement {
        word: "tie",
        form: "tie END to END, END { SETTINGS }",
        doc: "A joint without length: lugs on one stud, a fuse block bolted to a bus bar.",
        example: "tie NEG-STAR to SHUNT.2, FRAME",
    },
    Statement {
        word: "harness",
        form: "harness NAME VALUES at PLACE { WIRES }",
        doc: "Wires that run together; what it says of size, length and insulation holds for each that does not.",
        example: "harness NECK 1.2 m 20 AWG { H1 J3.1 to J4.1 red; H2 J3.2 to J4.2 black }",
    },
    Statement {
        word: "cable",
        form: "cable NAME VALUES at PLACE { CORES }",
        doc: "One sheath with numbered cores; `spare` stands for the ends of a core that is not used.",
        example: "cable C1 2 m 0.75 mm² { 1 J5.1 to J6.1 brown; 2 J5.2 to J6.2 blue; 3 spare black }",
    },
    Statement {
        word: "mate",
        form: "mate PLUG with SOCKET VALUES { SETTINGS }",
        doc: "Two connector halves that are plugged together, way to way.",
        example: "mate P3 with J3",
    },
    Statement {
        word: "mode",
        form: "mode NAME \"LABEL\" { LINES }",
        doc: "A working state: which switches are closed and what each load draws.",
        example: "mode parade \"Walking the route\" { everything typical; S-KEY closed; M-LEFT 8 A; duty 70 % }",
    },
    Statement {
        word: "expect",
        form: "expect voltage|current|temperature PATHS >= VALUE in MODES",
        doc: "Your own limit, checked all the time; also `expect runtime` and `expect dead THINGS when THING STATE`, and \
              `under any-fault` for any single fault.",
        example: "expect voltage D-LEGS.pos >= 17 V in parade",
    },
    Statement {
        word: "reading",
        form: "reading VALUE through WIRE|at TERMINAL|across TERMINAL, TERMINAL in MODE on DATE",
        doc: "A measurement on the bench, compared with what is computed.",
        example: "reading 160 mA through W1 in idle on 2027-03-01",
    },
    Statement {
        word: "accept",
        form: "accept RULE on THING because \"REASON\" until DATE",
        doc: "A risk that you accept, with the reason; it stays in every report.",
        example: "accept wire.undersized on W9 because \"runs for two seconds at each start\" until 2027-12-31",
    },
    Statement {
        word: "assembly",
        form: "assembly NAME { terminal NAME PATH; parameter NAME VALUE; STATEMENTS }",
        doc: "A piece of wiring that is used several times, with its outward terminals.",
        example: "assembly LEG { terminal power P1.1; parameter reach 400 mm; plug P1 2 way 20 A; motor M-KNEE 24 V; wire W1 \
                  P1.1 to M-KNEE.a 14 AWG red reach }",
    },
    Statement {
        word: "fit",
        form: "fit ASSEMBLY as NAMES at PLACE { PARAMETERS }",
        doc: "Uses an assembly; its things are then `NAME.THING`.",
        example: "fit LEG as left, right { reach 450 mm }",
    },
];

/// The words of modes: states, levels, and what they are about.
pub const MODE_WORDS: &[ModeWord] = &[
    ModeWord {
        word: "open",
        doc: "Does not conduct: of a switch, breaker, fuse or mate.",
        example: "F-HEAD open",
    },
    ModeWord {
        word: "closed",
        doc: "Conducts: of a switch, breaker, fuse or mate.",
        example: "S-KEY closed",
    },
    ModeWord {
        word: "pressed",
        doc: "A stop device is pressed: its contacts are open.",
        example: "S-STOP pressed",
    },
    ModeWord {
        word: "released",
        doc: "A stop device is not pressed: its contacts conduct.",
        example: "S-STOP released",
    },
    ModeWord {
        word: "absent",
        doc: "A battery, charger or other source is not there.",
        example: "PACK-B absent",
    },
    ModeWord {
        word: "connected",
        doc: "A battery, charger or other source is there.",
        example: "CHG connected",
    },
    ModeWord {
        word: "off",
        doc: "A load draws nothing by command; it is still connected.",
        example: "M-LEFT off",
    },
    ModeWord { word: "idle", doc: "A load draws its `idle` current.", example: "BRAIN idle" },
    ModeWord { word: "typical", doc: "A load draws its `typical` current.", example: "everything typical" },
    ModeWord { word: "peak", doc: "A load draws its `peak` current.", example: "BRAIN peak" },
    ModeWord {
        word: "stall",
        doc: "A motor or servo is blocked and draws its `stall` current.",
        example: "M-LEFT stall",
    },
    ModeWord {
        word: "turned",
        doc: "A motor is turned from outside: it is a source.",
        example: "M-LEFT, M-RIGHT turned",
    },
    ModeWord {
        word: "held",
        doc: "A relay or contactor had pulled in before, as after a start button; whether its coil keeps it in is computed.",
        example: "K-MAIN held",
    },
    ModeWord {
        word: "everything",
        doc: "All loads; a line about one of them wins over it.",
        example: "everything idle",
    },
    ModeWord {
        word: "duty",
        doc: "Share of the time that the loads draw their figure.",
        example: "duty 70 %",
    },
    ModeWord { word: "ambient", doc: "Air temperature in this mode.", example: "ambient 40 degC" },
];

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn words_are_unique_and_no_kind_has_one() {
        let mut words = BTreeSet::new();
        for statement in ALL {
            assert!(words.insert(statement.word), "{} twice", statement.word);
            assert!(crate::kind::by_word(statement.word).is_none(), "{} is a kind", statement.word);
            assert!(statement.example.starts_with(statement.word), "{}", statement.example);
            assert!(statement.form.starts_with(statement.word), "{}", statement.form);
        }
        assert_eq!(by_word("tie").map(|statement| statement.word), Some("tie"));
        assert!(by_word("fuse").is_none());
    }

    #[test]
    fn mode_words_are_unique_and_their_examples_use_them() {
        let mut words = BTreeSet::new();
        for entry in MODE_WORDS {
            assert!(words.insert(entry.word), "{} twice", entry.word);
            assert!(entry.example.split_whitespace().any(|word| word == entry.word), "{}", entry.example);
        }
    }
}
