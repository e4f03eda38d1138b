//! Words that look like units and are traps.

use super::quote;
use crate::{
    error::TextError,
    span::Span,
    unit::{Trap, UnitSymbol},
};

/// A trap behind a number. `whole` is number and word, `place` the word alone.
pub(crate) fn trap(whole: Span, place: Span, number: &str, word: &str, trap: &Trap) -> TextError {
    let found = quote(word);
    let error = |message: String, label: &str| TextError::new("language.unknown-unit", place, message, label);
    let write = |error: TextError, right: String| error.help(format!("write `{right}`")).mend(whole, right);
    match trap {
        Trap::Alternating => alternating(place, word),
        Trap::Apparent => {
            error(format!("{found} is apparent power, which direct current does not have"), "not used here")
                .help("write the direct current in `A` or the power in `W`")
        }
        Trap::Force => error(format!("{found} may be a force or a torque"), "not a unit here").help(format!(
            "write a force in `N`; write `{number} mN·m` or `{number} N·m` if a torque is meant"
        )),
        Trap::Binary(unit) => {
            let error = error(format!("{found} has a binary prefix, which counts memory"), "a binary prefix");
            match unit {
                Some(unit) => write(error, with_unit(number, unit)),
                None => error.help("prefixes of units are decimal: `k` is a thousand, `M` a million"),
            }
        }
        Trap::Prefix(units) => {
            let error = error(format!("{found} is a prefix without its unit"), "a unit is missing");
            choose(error, whole, number, units)
        }
        Trap::Either(units) => {
            let [one, other] = [units.first(), units.last()].map(|unit| unit.copied().unwrap_or_default());
            let error = error(format!("{found} may mean `{one}` or `{other}`"), "which one?");
            choose(error, whole, number, units)
        }
        Trap::Pack(marking) => {
            let error = error(format!("{found} is no unit: cells are `S`, strings `P`"), "wrong case");
            write(error, format!("{number}{marking}"))
        }
        Trap::Code(figure, unit) => {
            let message = format!(
                "{} is a code printed on parts, not a number with a unit",
                quote(&format!("{number}{word}"))
            );
            let error = TextError::new("language.resistor-code", whole, message, "the code of a part");
            write(error, with_unit(figure, unit))
        }
    }
}

/// A voltage or current of alternating current.
pub(crate) fn alternating(place: Span, word: &str) -> TextError {
    let message = format!("{} is alternating; all voltages and currents here are direct", quote(word));
    TextError::new("language.unknown-unit", place, message, "not direct")
        .help("write the figure for direct voltage from the data sheet: of contacts it is often a tenth of the other")
}

/// `24 V DC`: direct is all there is.
pub(crate) fn direct(place: Span, word: &str) -> TextError {
    let message = format!("{} says nothing here: every voltage and current is direct", quote(word));
    TextError::new("language.unknown-unit", place, message, "not needed").help("take it out").mend(place, "")
}

/// `2.5 mm 2`, `5 m N`: a unit in two words. `first` is the one that the first word is.
pub(crate) fn split_unit(whole: Span, found: &str, first: &str, meant: &UnitSymbol) -> TextError {
    let number = found.split_once(first).map_or(found, |(number, _)| number.trim_end());
    let right = with_unit(number, meant);
    let message = format!("{} has its unit in two words", quote(found));
    TextError::new("language.unknown-unit", whole, message, "one unit, one word")
        .help(format!("write `{right}`"))
        .mend(whole, right)
}

fn with_unit(number: &str, unit: &UnitSymbol) -> String {
    format!("{number} {}", unit.symbol)
}

/// One unit is offered as a mend, of several none is.
fn choose(error: TextError, whole: Span, number: &str, units: &[&str]) -> TextError {
    let forms: Vec<String> = units.iter().map(|unit| format!("{number} {unit}")).collect();
    match forms.as_slice() {
        [only] => error.help(format!("write `{only}`")).mend(whole, only.clone()),
        forms => error.help(format!("write `{}`", forms.join("` or `"))),
    }
}
