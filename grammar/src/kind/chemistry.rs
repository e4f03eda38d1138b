//! Cell chemistries: what one cell gives when full, in the middle and empty, in volt.
//!
//! Figures are common to a chemistry, not to a maker; a maker's own go under `full`, `voltage` and `empty` of the pack.
//! For each row `source` tells which figures were seen in a published text and which are from memory.

use crate::quantity::Volts;

/// One chemistry.
#[derive(Debug)]
pub struct Chemistry {
    /// The word as written.
    pub word: &'static str,
    /// What a builder knows it as.
    pub doc: &'static str,
    /// Voltage of one cell at the end of the charge, volt.
    pub full: Volts,
    /// Nominal voltage of one cell, volt.
    pub nominal: Volts,
    /// Voltage of one cell at which the load has to stop, volt.
    pub empty: Volts,
    /// Peukert exponent, 1 where the capacity does not depend on the current.
    pub peukert: f64,
    /// Where the figures come from.
    pub source: &'static str,
}

/// The chemistry with this word.
#[must_use]
pub fn by_word(word: &str) -> Option<&'static Chemistry> {
    ALL.iter().find(|chemistry| chemistry.word == word)
}

/// The words with their meanings, for the battery's and the charger's row.
pub const WORDS: &[(&str, &str)] = &{
    let mut words = [("", ""); ALL.len()];
    let mut at = 0;
    while at < ALL.len() {
        words[at] = (ALL[at].word, ALL[at].doc);
        at += 1;
    }
    words
};

/// Every chemistry.
pub const ALL: &[Chemistry] = &[
    Chemistry {
        word: "lipo",
        doc: "lithium polymer pouch cells: 4.2 V full, 3.7 V nominal, 3.0 V empty",
        full: Volts(4.2),
        nominal: Volts(3.7),
        empty: Volts(3.0),
        peukert: 1.05,
        source: "voltages and exponent seen",
    },
    Chemistry {
        word: "lihv",
        doc: "lithium polymer cells for a higher end voltage: 4.35 V full, 3.8 V nominal, 3.0 V empty",
        full: Volts(4.35),
        nominal: Volts(3.8),
        empty: Volts(3.0),
        peukert: 1.05,
        source: "nominal seen; full, empty and exponent from memory",
    },
    Chemistry {
        word: "li-ion",
        doc: "lithium-ion round cells: 4.2 V full, 3.7 V nominal, 3.0 V empty",
        full: Volts(4.2),
        nominal: Volts(3.7),
        empty: Volts(3.0),
        peukert: 1.05,
        source: "voltages and exponent seen",
    },
    Chemistry {
        word: "lifepo4",
        doc: "lithium iron phosphate cells: 3.65 V full, 3.2 V nominal, 2.5 V empty",
        full: Volts(3.65),
        nominal: Volts(3.2),
        empty: Volts(2.5),
        peukert: 1.05,
        source: "nominal seen; full, empty and exponent from memory",
    },
    Chemistry {
        word: "lead-acid",
        doc: "flooded lead-acid cells: 2.4 V full on charge, 2.0 V nominal, 1.75 V empty",
        full: Volts(2.4),
        nominal: Volts(2.0),
        empty: Volts(1.75),
        peukert: 1.25,
        source: "nominal and exponent (1.2 to 1.3) seen; full and empty from memory",
    },
    Chemistry {
        word: "agm",
        doc: "lead-acid cells with glass mat: 2.45 V full on charge, 2.0 V nominal, 1.75 V empty",
        full: Volts(2.45),
        nominal: Volts(2.0),
        empty: Volts(1.75),
        peukert: 1.1,
        source: "exponent (1.05 to 1.15) seen; voltages from memory",
    },
    Chemistry {
        word: "gel",
        doc: "lead-acid cells with jellied acid: 2.35 V full on charge, 2.0 V nominal, 1.75 V empty",
        full: Volts(2.35),
        nominal: Volts(2.0),
        empty: Volts(1.75),
        peukert: 1.15,
        source: "from memory: charged to 14.1 V at 12 V, exponent 1.10 to 1.25",
    },
    Chemistry {
        word: "nimh",
        doc: "nickel-metal hydride cells: 1.45 V full, 1.2 V nominal, 1.0 V empty",
        full: Volts(1.45),
        nominal: Volts(1.2),
        empty: Volts(1.0),
        peukert: 1.07,
        source: "exponent (1.05 to 1.10) seen; voltages from memory",
    },
    Chemistry {
        word: "nicd",
        doc: "nickel-cadmium cells: 1.45 V full, 1.2 V nominal, 1.0 V empty",
        full: Volts(1.45),
        nominal: Volts(1.2),
        empty: Volts(1.0),
        peukert: 1.1,
        source: "from memory; an electromotive force of 1.25 V seen",
    },
    Chemistry {
        word: "alkaline",
        doc: "alkaline primary cells, not to be charged: 1.58 V fresh, 1.5 V nominal, 0.9 V empty",
        full: Volts(1.58),
        nominal: Volts(1.5),
        empty: Volts(0.9),
        peukert: 1.2,
        source: "fresh voltage seen; the rest from memory",
    },
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn voltages_fall_from_full_to_empty() {
        for chemistry in ALL {
            assert!(chemistry.full > chemistry.nominal, "{}", chemistry.word);
            assert!(chemistry.nominal > chemistry.empty, "{}", chemistry.word);
            assert!(chemistry.empty > Volts(0.0), "{}", chemistry.word);
            assert!((1.0..1.5).contains(&chemistry.peukert), "{}", chemistry.word);
        }
    }

    #[test]
    fn docs_tell_the_same_volts_as_the_figures() {
        for chemistry in ALL {
            for volts in [chemistry.full, chemistry.nominal, chemistry.empty] {
                let written = if volts.0 * 10.0 % 1.0 == 0.0 {
                    format!("{:.1} V", volts.0)
                } else {
                    format!("{} V", volts.0)
                };
                assert!(chemistry.doc.contains(&written), "{} lacks {written}", chemistry.word);
            }
        }
    }

    #[test]
    fn words_are_found() {
        assert_eq!(WORDS.len(), ALL.len());
        for (word, _) in WORDS {
            assert_eq!(by_word(word).map(|chemistry| chemistry.word), Some(*word));
        }
        assert!(by_word("LiPo").is_none());
    }
}
