//! Insulation colours: the words of the language with the letter codes of IEC 60757 (table and joining rule as seen
//! in its 1983 and 2021 texts) and a colour for drawings.

/// One colour of insulation.
#[derive(Debug)]
pub struct Colour {
    /// The word as written.
    pub word: &'static str,
    /// Letter code of IEC 60757.
    pub code: &'static str,
    /// Other words of the trade for it, accepted as written.
    pub also: &'static [&'static str],
    /// Red, green and blue for drawings, 0 to 255 each; a choice for legibility, not part of the standard.
    pub rgb: (u8, u8, u8),
    /// What it is, for hover.
    pub doc: &'static str,
}

/// The colour with this word, its main one or another.
#[must_use]
pub fn by_word(word: &str) -> Option<&'static Colour> {
    ALL.iter().find(|colour| colour.word == word || colour.also.contains(&word))
}

/// The letter code of a colour as written: one word, or a base colour and a stripe, `red/white`. Codes are joined in
/// the order of the standard's table, so that red with blue and blue with red are both `RDBU`.
#[must_use]
pub fn code(written: &str) -> Option<String> {
    let mut places = Vec::new();
    for word in written.split('/') {
        let colour = by_word(word.trim())?;
        places.push(ALL.iter().position(|known| known.code == colour.code)?);
    }
    places.sort_unstable();
    let codes: String =
        places.into_iter().filter_map(|place| ALL.get(place)).map(|colour| colour.code).collect();
    // The standard has green and yellow together only as the protective conductor's colour.
    Some(if codes == "YEGN" { "GNYE".to_owned() } else { codes })
}

/// Every word, main and other, with its meaning, for the wire's row.
pub const WORDS: &[(&str, &str)] = &{
    let mut words = [("", ""); ALL.len() + ALSO];
    let mut at = 0;
    let mut next = 0;
    while at < ALL.len() {
        words[next] = (ALL[at].word, ALL[at].doc);
        next += 1;
        let mut other = 0;
        while other < ALL[at].also.len() {
            words[next] = (ALL[at].also[other], ALL[at].doc);
            next += 1;
            other += 1;
        }
        at += 1;
    }
    words
};

/// How many other words there are.
const ALSO: usize = {
    let mut at = 0;
    let mut sum = 0;
    while at < ALL.len() {
        sum += ALL[at].also.len();
        at += 1;
    }
    sum
};

const fn colour(
    word: &'static str,
    code: &'static str,
    also: &'static [&'static str],
    rgb: (u8, u8, u8),
    doc: &'static str,
) -> Colour {
    Colour { word, code, also, rgb, doc }
}

/// Every colour, in the order of the standard's table, which decides how joined codes are written.
pub const ALL: &[Colour] = &[
    colour("black", "BK", &[], (0x1a, 0x1a, 0x1a), "black, BK; negative in robot practice"),
    colour("brown", "BN", &[], (0x7a, 0x48, 0x22), "brown, BN"),
    colour("red", "RD", &[], (0xc8, 0x1e, 0x1e), "red, RD; positive in robot practice"),
    colour("orange", "OG", &[], (0xe8, 0x7d, 0x0d), "orange, OG"),
    colour("yellow", "YE", &[], (0xf2, 0xcf, 0x1d), "yellow, YE"),
    colour("green", "GN", &[], (0x2e, 0x8b, 0x3d), "green, GN"),
    colour("blue", "BU", &[], (0x1f, 0x5f, 0xbf), "blue, BU, light blue included"),
    colour("violet", "VT", &["purple"], (0x7d, 0x3c, 0x98), "violet or purple, VT"),
    colour("grey", "GY", &["gray", "slate"], (0x8a, 0x8f, 0x94), "grey or slate, GY"),
    colour("white", "WH", &[], (0xf5, 0xf5, 0xf5), "white, WH"),
    colour("pink", "PK", &[], (0xec, 0x8f, 0xb4), "pink, PK"),
    colour("gold", "GD", &[], (0xc9, 0xa2, 0x27), "gold, GD"),
    colour("turquoise", "TQ", &[], (0x2a, 0xb5, 0xb5), "turquoise, TQ"),
    colour("silver", "SR", &[], (0xc0, 0xc0, 0xc8), "silver, SR"),
    colour(
        "green-yellow",
        "GNYE",
        &[],
        (0x8f, 0xb8, 0x2e),
        "green and yellow, GNYE; protective conductor only",
    ),
    colour(
        "transparent",
        "",
        &["clear", "bare"],
        (0xd9, 0xa0, 0x7a),
        "no colour: transparent or bare; no code in the standard",
    ),
];

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn codes_are_those_of_the_standard_in_its_order() {
        // IEC 60757, table as seen in the 1983 text; the colourless entry is ours and has no code.
        let codes: Vec<_> = ALL.iter().map(|colour| colour.code).filter(|code| !code.is_empty()).collect();
        let standard = "BK BN RD OG YE GN BU VT GY WH PK GD TQ SR GNYE";
        assert_eq!(codes.join(" "), standard);
    }

    #[test]
    fn codes_join_in_table_order() {
        // The standard's own example: red and blue is RDBU.
        assert_eq!(code("red/blue").as_deref(), Some("RDBU"));
        assert_eq!(code("blue/red").as_deref(), Some("RDBU"));
        assert_eq!(code("gray").as_deref(), Some("GY"));
        assert_eq!(code("yellow/red").as_deref(), Some("RDYE"));
        assert_eq!(code("green/yellow").as_deref(), Some("GNYE"));
        assert_eq!(code("mauve"), None);
        assert_eq!(code("red/"), None);
    }

    #[test]
    fn words_are_unique_and_found() {
        let words: BTreeSet<_> = WORDS.iter().map(|(word, _)| *word).collect();
        assert_eq!(words.len(), WORDS.len());
        assert!(words.iter().all(|word| by_word(word).is_some()));
        assert_eq!(by_word("purple").map(|colour| colour.code), Some("VT"));
    }
}
