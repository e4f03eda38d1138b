//! Fuse styles: the words of the language, and what the style tells where the maker's figure is not written.

use crate::quantity::{Amps, Volts};

/// One style of fuse.
#[derive(Debug)]
pub struct FuseStyle {
    /// The word as written.
    pub word: &'static str,
    /// What it is, for hover.
    pub doc: &'static str,
    /// Fault current that any fuse of this style breaks, ampere; `None` where makers differ too much to say.
    pub breaking_capacity: Option<Amps>,
    /// Direct voltage up to which that holds, volt; `None` where makers differ too much to say.
    pub voltage: Option<Volts>,
    /// Lowest and highest usual rating, ampere.
    pub ratings: (Amps, Amps),
    /// Where the figures come from.
    pub source: &'static str,
}

/// The style with this word.
#[must_use]
pub fn by_word(word: &str) -> Option<&'static FuseStyle> {
    ALL.iter().find(|style| style.word == word)
}

/// The words with their meanings, for the fuse's row.
pub const WORDS: &[(&str, &str)] = &{
    let mut words = [("", ""); ALL.len()];
    let mut at = 0;
    while at < ALL.len() {
        words[at] = (ALL[at].word, ALL[at].doc);
        at += 1;
    }
    words
};

/// Every style.
pub const ALL: &[FuseStyle] = &[
    FuseStyle {
        word: "blade",
        doc: "plug-in blade fuse of the regular or the large size; 32 V unless it says more; breaks 1000 A",
        breaking_capacity: Some(Amps(1000.0)),
        voltage: Some(Volts(32.0)),
        ratings: (Amps(1.0), Amps(120.0)),
        source: "1000 A at 32 V seen in makers' data; ratings from memory",
    },
    FuseStyle {
        word: "mini-blade",
        doc: "plug-in blade fuse of the small size; 32 V unless it says more; breaks 1000 A",
        breaking_capacity: Some(Amps(1000.0)),
        voltage: Some(Volts(32.0)),
        ratings: (Amps(1.0), Amps(30.0)),
        source: "1000 A at 32 V seen in makers' data; ratings from memory",
    },
    FuseStyle {
        word: "bolt-down",
        doc: "bolted fuse in a plastic body; breaking capacity and voltage differ from maker to maker: write them",
        breaking_capacity: None,
        voltage: None,
        ratings: (Amps(23.0), Amps(500.0)),
        source: "ratings from memory",
    },
    FuseStyle {
        word: "strip",
        doc: "bolted open metal strip or flat link; breaking capacity falls quickly with voltage: write it",
        breaking_capacity: None,
        voltage: None,
        ratings: (Amps(20.0), Amps(750.0)),
        source: "ratings from memory",
    },
    FuseStyle {
        word: "cartridge",
        doc: "miniature tube, 5 × 20 mm or 6.3 × 32 mm; a glass one breaks only 35 A: write more where the maker does",
        breaking_capacity: Some(Amps(35.0)),
        voltage: None,
        ratings: (Amps(0.032), Amps(40.0)),
        source: "35 A for low-breaking-capacity tubes up to 3.5 A rating seen (IEC 60127 letter L: 35 A or 10 times the rating)",
    },
    FuseStyle {
        word: "class-t",
        doc: "current-limiting bolted fuse for the pack itself; breaks 20 kA at 125 V",
        breaking_capacity: Some(Amps(20_000.0)),
        voltage: Some(Volts(125.0)),
        ratings: (Amps(1.0), Amps(1200.0)),
        source: "20 kA seen in a guide to pack protection; 125 V and ratings from memory",
    },
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_positive_and_ordered() {
        for style in ALL {
            assert!(style.ratings.0 > Amps(0.0) && style.ratings.1 > style.ratings.0, "{}", style.word);
            assert!(style.breaking_capacity.is_none_or(|amps| amps > Amps(0.0)), "{}", style.word);
            assert!(!style.source.is_empty(), "{}", style.word);
        }
    }

    #[test]
    fn published_breaking_capacities() {
        // 1000 A at 32 V for blade fuses: makers' data as seen. 20 kA for class T: guide to pack protection as seen.
        assert_eq!(by_word("blade").and_then(|style| style.breaking_capacity), Some(Amps(1000.0)));
        assert_eq!(by_word("class-t").and_then(|style| style.breaking_capacity), Some(Amps(20_000.0)));
        assert!(by_word("bolt-down").is_some_and(|style| style.breaking_capacity.is_none()));
        assert!(by_word("Blade").is_none());
    }
}
