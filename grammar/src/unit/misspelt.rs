//! What was meant by a word behind a number that is no unit symbol: wrong case, written out, or of another country.

use super::{UnitSymbol, by_spelling, spellings};
use crate::nearest::distance;

/// What a word that is no unit symbol seems to be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Misspelt {
    /// A unit in the wrong case: `mah`, `KΩ`, `MA`.
    Case(&'static UnitSymbol),
    /// A unit written out, or an abbreviation that is not the symbol: `Amps`, `hrs`, `VDC`.
    LongForm(&'static UnitSymbol),
    /// A unit with a slip of the finger: `AGW`.
    Typo(&'static UnitSymbol),
    /// A gauge without its name: `ga`, `gauge`, `SWG`. Gauges of different countries share numbers.
    Gauge,
    /// Circular mils, `MCM` or `kcmil`: an area that the language does not count in.
    CircularMils,
    /// A motor constant, `KV`, which only looks like kilovolts.
    MotorConstant,
    /// A unit of temperature that is not taken: Fahrenheit.
    Fahrenheit,
}

/// Longest word that can be taken for a unit, bytes.
const LONGEST: usize = 32;

/// What `word` seems to mean, `None` when it resembles no unit. Unit symbols themselves are not misspelt.
#[must_use]
pub fn misspelt(word: &str) -> Option<Misspelt> {
    if word.len() > LONGEST {
        return None;
    }
    let lower = word.to_lowercase();
    special(word, &lower)
        .or_else(|| wrong_case(&lower).map(Misspelt::Case))
        .or_else(|| long_form(&lower).or_else(|| plural(word)).map(Misspelt::LongForm))
        .or_else(|| typo(word).map(Misspelt::Typo))
}

/// Words that look like a unit and are not.
fn special(word: &str, lower: &str) -> Option<Misspelt> {
    match lower {
        "ga" | "gauge" | "gage" | "swg" | "bwg" => Some(Misspelt::Gauge),
        "degf" | "°f" | "fahrenheit" => Some(Misspelt::Fahrenheit),
        "mcm" | "kcmil" | "cmil" => Some(Misspelt::CircularMils),
        "kv" if word.starts_with('K') => Some(Misspelt::MotorConstant),
        _ => None,
    }
}

/// The unit that differs in case only. Of several the one with the smallest value is meant: nobody's motor draws
/// megaamperes.
fn wrong_case(lower: &str) -> Option<&'static UnitSymbol> {
    let same = spellings().filter(|(spelling, _)| spelling.to_lowercase() == lower).map(|(_, unit)| *unit);
    same.min_by(|one, other| one.to_base(1.0).total_cmp(&other.to_base(1.0)))
}

/// `As`, `mms`: a symbol with the letter of the plural behind it.
fn plural(word: &str) -> Option<&'static UnitSymbol> {
    by_spelling(word.strip_suffix('s')?)
}

fn long_form(lower: &str) -> Option<&'static UnitSymbol> {
    let singular = lower.strip_suffix('s').filter(|word| word.len() > 1).unwrap_or(lower);
    let symbol = plain_long_form(lower)
        .or_else(|| plain_long_form(singular))
        .or_else(|| prefixed_long_form(singular))?;
    by_spelling(symbol)
}

/// `milliamp`, `kilowatt`, `millimeter`: the prefix written out before a unit written out.
fn prefixed_long_form(word: &str) -> Option<&'static str> {
    let prefixes = [
        ("milli", "m"),
        ("micro", "µ"),
        ("kilo", "k"),
        ("mega", "M"),
        ("centi", "c"),
        ("nano", "n"),
        ("pico", "p"),
    ];
    prefixes.into_iter().find_map(|(long, short)| {
        let symbol = format!("{short}{}", plain_long_form(word.strip_prefix(long)?)?);
        by_spelling(&symbol).map(|unit| unit.symbol)
    })
}

fn plain_long_form(word: &str) -> Option<&'static str> {
    Some(match word {
        "volt" | "vdc" | "v-dc" => "V",
        "amp" | "ampere" | "adc" => "A",
        "ohm" => "Ω",
        "watt" => "W",
        "joule" => "J",
        "watt-hour" | "watthour" | "whr" => "Wh",
        "amp-hour" | "amphour" | "ampere-hour" | "ahr" => "Ah",
        "mahr" => "mAh",
        "metre" | "meter" => "m",
        "inch" | "inche" => "in",
        "foot" | "feet" => "ft",
        "sqmm" | "qmm" | "mmq" | "mm-sq" => "mm²",
        "celsius" | "deg" | "degree" | "°" => "°C",
        "kelvin" => "K",
        "sec" | "second" => "s",
        "minute" => "min",
        "hour" | "hr" => "h",
        "day" => "d",
        "farad" => "F",
        "newton" => "N",
        "mfd" | "ufd" => "µF",
        "m·n" => "N·m",
        "henry" | "henrie" => "H",
        "hertz" => "Hz",
        "gram" | "gramme" => "g",
        "kilogram" | "kilo" => "kg",
        "percent" | "pct" => "%",
        "cell" => "S",
        "pin" | "position" | "contact" => "way",
        _ => return None,
    })
}

/// The one unit of at least three letters that is a single slip away.
fn typo(word: &str) -> Option<&'static UnitSymbol> {
    let length = word.chars().count();
    if length < 3 {
        return None;
    }
    let close = |spelling: &str| spelling.chars().count() >= 3 && distance(word, spelling, 1).is_some();
    spellings().find(|(spelling, _)| close(spelling)).map(|(_, unit)| *unit)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn symbol(word: &str) -> Option<&'static str> {
        match misspelt(word)? {
            Misspelt::Case(unit) | Misspelt::LongForm(unit) | Misspelt::Typo(unit) => Some(unit.symbol),
            Misspelt::Gauge | Misspelt::CircularMils | Misspelt::MotorConstant | Misspelt::Fahrenheit => None,
        }
    }

    #[test]
    fn wrong_case_finds_the_likely_unit() {
        for (word, meant) in [
            ("MA", "mA"),
            ("KΩ", "kΩ"),
            ("mah", "mAh"),
            ("v", "V"),
            ("Mm", "mm"),
            ("awg", "AWG"),
            ("RPM", "rpm"),
            ("khz", "kHz"),
        ] {
            assert_eq!(symbol(word), Some(meant), "{word}");
        }
        assert!(matches!(misspelt("MA"), Some(Misspelt::Case(_))));
    }

    #[test]
    fn long_forms_find_their_symbol() {
        for (word, meant) in [
            ("Amps", "A"),
            ("volts", "V"),
            ("VDC", "V"),
            ("ohms", "Ω"),
            ("milliamps", "mA"),
            ("millimeters", "mm"),
            ("inches", "in"),
            ("hrs", "h"),
            ("percent", "%"),
            ("kilowatts", "kW"),
            ("cells", "S"),
            ("pins", "way"),
            ("As", "A"),
        ] {
            assert_eq!(symbol(word), Some(meant), "{word}");
        }
    }

    #[test]
    fn slips_and_lookalikes() {
        assert_eq!(symbol("AGW"), Some("AWG"));
        assert_eq!(symbol("mAhh"), Some("mAh"));
        assert_eq!(misspelt("gauge"), Some(Misspelt::Gauge));
        assert_eq!(misspelt("KV"), Some(Misspelt::MotorConstant));
        assert_eq!(misspelt("degF"), Some(Misspelt::Fahrenheit));
    }

    #[test]
    fn words_of_the_language_are_no_units() {
        for word in [
            "red",
            "black",
            "blade",
            "bolt-down",
            "open",
            "closed",
            "at",
            "on",
            "to",
            "typical",
            "white",
            "lipo",
            "pink",
            "grey",
        ] {
            assert_eq!(misspelt(word), None, "{word}");
        }
    }
}
