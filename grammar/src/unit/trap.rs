//! Words behind a number that look like a unit and are a trap: nobody can tell what was meant, or it is nothing that is
//! used here.

use super::{UnitSymbol, by_spelling};

/// What such a word is.
#[derive(Clone, Debug, PartialEq)]
pub enum Trap {
    /// A unit of alternating voltage or current, `VAC`: it says nothing about direct voltage.
    Alternating,
    /// A binary prefix, which counts memory: `Ki`, `KiΩ`; the unit with the decimal one, where there is a unit.
    Binary(Option<&'static UnitSymbol>),
    /// A prefix without its unit, `k`, and the units that people leave out.
    Prefix(&'static [&'static str]),
    /// Written so that it may be either of two units, `MOHM`.
    Either(&'static [&'static str]),
    /// A force with a prefix, `mN`: it may as well be a torque with its metre left out.
    Force,
    /// Apparent power, `VA`, which only alternating current has.
    Apparent,
    /// `s2p` behind the number of cells: the marking of a pack, `6S2P`.
    Pack(String),
    /// A code printed on parts, `4n7`, `3V3`, `4k7Ω`: what it stands for.
    Code(String, &'static UnitSymbol),
}

/// What kind of trap `word` is behind `number`; `glued` when no blank stands between. Nothing for the rest.
#[must_use]
pub fn trap(number: &str, word: &str, glued: bool) -> Option<Trap> {
    alternating(word)
        .or_else(|| binary(word))
        .or_else(|| ambiguous(word))
        .or_else(|| pack(word).filter(|_| glued))
        .or_else(|| code(number, word).filter(|_| glued))
}

fn alternating(word: &str) -> Option<Trap> {
    match word.to_ascii_lowercase().as_str() {
        "vac" | "v-ac" | "vrms" | "kvac" | "mvac" | "aac" | "arms" => Some(Trap::Alternating),
        "va" | "kva" | "mva" | "var" => Some(Trap::Apparent),
        "kn" | "mn" if word.ends_with('N') => Some(Trap::Force),
        _ => None,
    }
}

fn binary(word: &str) -> Option<Trap> {
    let prefix = ["Ki", "Mi", "Gi"].into_iter().find(|prefix| word.starts_with(prefix))?;
    let rest = word.get(prefix.len()..)?;
    if rest.is_empty() {
        return Some(Trap::Binary(None));
    }
    let decimal = if prefix == "Ki" { "k" } else { prefix.get(..1)? };
    by_spelling(rest)?;
    Some(Trap::Binary(by_spelling(&format!("{decimal}{rest}"))))
}

/// Words of which only case tells the unit, and prefixes alone.
fn ambiguous(word: &str) -> Option<Trap> {
    Some(match word {
        "MOHM" | "MOHMS" => Trap::Either(&["mΩ", "MΩ"]),
        // `MF` was the microfarad on old parts.
        "MF" => Trap::Either(&["µF", "mF"]),
        "°K" | "degK" => Trap::Either(&["°C", "K"]),
        "k" => Trap::Prefix(&["kΩ"]),
        "M" => Trap::Prefix(&["MΩ", "m"]),
        "u" | "µ" | "μ" => Trap::Prefix(&["µF", "µH"]),
        "n" => Trap::Prefix(&["nF", "nH"]),
        _ => return None,
    })
}

/// `S2p`, `s2P`: cells and strings in one, in the wrong case.
fn pack(word: &str) -> Option<Trap> {
    let strings = word.strip_prefix(['S', 's'])?.strip_suffix(['P', 'p'])?;
    let digits = !strings.is_empty() && strings.bytes().all(|byte| byte.is_ascii_digit());
    digits.then(|| Trap::Pack(format!("S{strings}P")))
}

/// The letter stands for point and unit (IEC 60062); a unit may follow.
fn code(number: &str, word: &str) -> Option<Trap> {
    let letter = word.chars().next()?;
    let tail = word.get(letter.len_utf8()..)?;
    let digits = tail.find(|found: char| !found.is_ascii_digit()).unwrap_or(tail.len());
    let (digits, unit) = (tail.get(..digits)?, tail.get(digits..)?);
    let whole = number.bytes().all(|byte| byte.is_ascii_digit());
    if digits.is_empty() || !whole {
        return None;
    }
    let of = |prefix: &str, base: &str| by_spelling(&format!("{prefix}{base}"));
    let meant = match (letter, unit) {
        ('R' | 'r', "Ω" | "ohm" | "Ohm") => of("", "Ω"),
        ('k' | 'K', "Ω" | "ohm" | "Ohm") => of("k", "Ω"),
        ('M', "Ω" | "ohm" | "Ohm") => of("M", "Ω"),
        ('n' | 'p' | 'u' | 'µ' | 'μ', "" | "F") => of(&letter.to_string(), "F"),
        ('V', "") => of("", "V"),
        _ => None,
    };
    meant.map(|unit| Trap::Code(format!("{number}.{digits}"), unit))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::unit;

    #[test]
    fn no_unit_is_a_trap() {
        for spelling in unit::ALL.iter().flat_map(|unit| unit.spellings) {
            assert_eq!(trap("5", spelling, true), None, "{spelling}");
        }
    }

    #[test]
    fn codes_stand_for_a_number_and_a_unit() {
        for (number, word, right) in [
            ("4", "n7", Some("4.7 nF")),
            ("2", "u2F", Some("2.2 µF")),
            ("3", "V3", Some("3.3 V")),
            ("4", "k7Ω", Some("4.7 kΩ")),
            ("0", "R22ohm", Some("0.22 Ω")),
            ("4.5", "n7", None),
            ("4", "x7", None),
        ] {
            let found = match trap(number, word, true) {
                Some(Trap::Code(number, unit)) => Some(format!("{number} {}", unit.symbol)),
                _ => None,
            };
            assert_eq!(found.as_deref(), right, "{number}{word}");
        }
        assert_eq!(trap("4", "n7", false), None);
    }

    #[test]
    fn binary_prefixes_find_the_decimal_one() {
        let unit = |word| match trap("4", word, false) {
            Some(Trap::Binary(unit)) => Some(unit.map(|unit| unit.symbol)),
            _ => None,
        };
        assert_eq!(unit("KiΩ"), Some(Some("kΩ")));
        assert_eq!(unit("MiHz"), Some(Some("MHz")));
        assert_eq!(unit("Ki"), Some(None));
        assert_eq!(unit("Kilo"), None);
    }
}
