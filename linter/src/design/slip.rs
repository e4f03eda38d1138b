//! What was probably meant by a quantity that does not fit: the same number with a unit that looks alike.

use wattle_grammar::{
    error::TextError,
    quantity::{Dimension, Quantity},
    span::Span,
    unit::{UnitSymbol, by_spelling, lookalikes},
};

use super::dimension::noun;

/// Adds to an error about a quantity, written as `text` at `span`, what would fit: the same number with a unit that looks
/// alike and whose dimension is due.
pub(super) fn suggest(
    error: TextError,
    found: Quantity,
    span: Span,
    text: &str,
    due: impl Fn(Dimension) -> bool,
) -> TextError {
    if let Some(meant) = alike(text, &due) {
        return meant.offer(error, span);
    }
    match found.dimension {
        Dimension::Energy if due(Dimension::Charge) => {
            error.help("a capacity is in `Ah`: divide the watt-hours by the nominal voltage of the pack")
        }
        Dimension::Capacitance if due(Dimension::Temperature) && text.ends_with('F') => {
            error.help("temperatures are in `°C`: °C = (°F − 32) / 1.8")
        }
        _ => error,
    }
}

/// Adds to the error of a value given twice what was perhaps meant: one of the two with another unit, for a rating that
/// has no value yet, or the sum of both. Each is its place and its text.
pub(super) fn twice(
    error: TextError,
    first: (Span, &str),
    second: (Span, &str),
    between: &str,
    lacking: impl Fn(Dimension) -> bool,
) -> TextError {
    if is_sum(first.1, second.1) && between.chars().all(char::is_whitespace) {
        let sum = format!("{} + {}", first.1, second.1);
        let whole = first.0.to(second.0);
        return error.help(format!("if they belong together, write the sum: `{sum}`")).mend(whole, sum);
    }
    // Of two lengths the shorter one is the size.
    let turned = value(first.1) > value(second.1);
    let order = if turned { [second, first] } else { [first, second] };
    let meant = order.into_iter().find_map(|(span, text)| Some((span, alike(text, &lacking)?)));
    match meant {
        Some((span, meant)) => meant.offer(error, span),
        None => error,
    }
}

/// A value that was perhaps meant.
struct Meant {
    text: String,
    dimension: Dimension,
}

impl Meant {
    fn offer(self, error: TextError, span: Span) -> TextError {
        let help = format!("if {} is meant, write `{}`", noun(self.dimension), self.text);
        error.help(help).mend(span, self.text)
    }
}

/// The same number with a unit that looks alike and whose dimension is due.
fn alike(text: &str, due: &dyn Fn(Dimension) -> bool) -> Option<Meant> {
    let (number, unit) = taken_apart(text)?;
    let apart = text.contains(char::is_whitespace);
    // `6s` on a pack are cells, `6 s` is how long something lasts.
    let fits = |other: &&UnitSymbol| due(other.dimension) && !(apart && other.dimension == Dimension::Cells);
    let meant = lookalikes(unit.symbol).find(fits)?;
    let blank = if meant.dimension == Dimension::Cells { "" } else { " " };
    Some(Meant { text: format!("{number}{blank}{}", meant.symbol), dimension: meant.dimension })
}

/// Whether two values are one in two units, as feet and inches are.
fn is_sum(one: &str, other: &str) -> bool {
    let symbol = |text| taken_apart(text).map(|(_, unit)| unit.symbol);
    matches!(
        (symbol(one), symbol(other)),
        (Some("ft"), Some("in")) | (Some("h"), Some("min")) | (Some("min"), Some("s"))
    )
}

fn value(text: &str) -> Option<f64> {
    let (number, unit) = taken_apart(text)?;
    number.replace('_', "").parse().ok().map(|number: f64| unit.to_base(number))
}

/// Number and unit of a quantity as written; nothing for a value that is worked out.
pub(super) fn taken_apart(text: &str) -> Option<(&str, &'static UnitSymbol)> {
    let end = text.find(|letter: char| !(letter.is_ascii_digit() || "._+-−".contains(letter)))?;
    let (number, unit) = (text.get(..end)?, text.get(end..)?.trim_start());
    let unit = by_spelling(unit)?;
    number.bytes().any(|byte| byte.is_ascii_digit()).then_some((number, unit))
}

#[cfg(test)]
mod tests {
    use super::super::testing::parsed;

    /// The one error's help and the text with its mend.
    fn told(text: &str) -> (String, Option<String>) {
        let (_, errors) = parsed(text);
        assert_eq!(errors.len(), 1, "{text}: {errors:?}");
        let whole = format!("wattle 1\n{text}");
        let mended = errors[0].mend.as_ref().map(|(span, new)| {
            let (start, end) = (span.start as usize, span.end as usize);
            format!("{}{new}{}", &whole[..start], &whole[end..]).replacen("wattle 1\n", "", 1)
        });
        (errors[0].help.clone().unwrap_or_default(), mended)
    }

    #[test]
    fn a_unit_that_looks_alike_is_offered_where_it_fits() {
        for (wrong, right) in [
            ("fuse F 5 Ah\n", "fuse F 5 A\n"),
            ("fuse F { current 5Ah }\n", "fuse F { current 5 A }\n"),
            ("charger C lipo 6S 5000 mAh\n", "charger C lipo 6S 5000 mA\n"),
            ("battery B { capacity 5 A }\n", "battery B { capacity 5 Ah }\n"),
            ("battery B { current 5_000 mAh }\n", "battery B { current 5_000 mA }\n"),
            ("motor M 24 V 100 Wh\n", "motor M 24 V 100 W\n"),
            ("place p 40 K\n", "place p 40 °C\n"),
            ("place p { ambient -5 K }\n", "place p { ambient -5 °C }\n"),
            ("place p { ambient 40 C }\n", "place p { ambient 40 °C }\n"),
            ("battery B lipo 6S 25 °C\n", "battery B lipo 6S 25 C\n"),
            ("battery B lipo 6s 5 Ah\n", "battery B lipo 6S 5 Ah\n"),
            ("motor M 24 V { peak-time 5 S }\n", "motor M 24 V { peak-time 5 s }\n"),
            ("resistor R 10K\n", "resistor R 10 kΩ\n"),
            ("motor M 24 V 120 rpm\n", "motor M 24 V 120 rpm/V\n"),
            ("stud A\nwire W A to A 2.5 mm red 300 mm\n", "stud A\nwire W A to A 2.5 mm² red 300 mm\n"),
            ("stud A\nwire W A to A 300 mm red 2.5 mm\n", "stud A\nwire W A to A 300 mm red 2.5 mm²\n"),
            ("stud A\nwire W A to A 12 AWG 300 mm²\n", "stud A\nwire W A to A 12 AWG 300 mm\n"),
            ("stud A\nwire W A to A 12 AWG 6 ft 3 in\n", "stud A\nwire W A to A 12 AWG 6 ft + 3 in\n"),
        ] {
            let (help, mended) = told(wrong);
            assert_eq!(mended.as_deref(), Some(right));
            assert!(help.starts_with("if "), "{help}");
            assert_eq!(parsed(right).1, [], "{right}");
        }
    }

    #[test]
    fn what_has_no_lookalike_says_how_to_come_to_the_right_unit() {
        assert!(told("battery B lipo 6S 111 Wh\n").0.starts_with("a capacity is in `Ah`"));
        assert!(told("place p { ambient 95 F }\n").0.starts_with("temperatures are in `°C`"));
        assert_eq!(told("fuse F { current 24 V }\n"), (String::new(), None));
        assert!(told("battery B lipo 6S 6 s\n").0.contains("`peak-time`"));
    }
}
