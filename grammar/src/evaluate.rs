//! What a value comes to: sums worked out, ranges and tolerances with their ends, constants filled in.
//!
//! What a name stands for, and how a mistake is worded, is for whoever asks: see [`Surroundings`].

use crate::{
    quantity::{Dimension, Quantity, Unfit},
    span::Span,
    syntax::{Date, Operator, Path, Shape, Value},
    unit::by_spelling,
};

/// A value that has been worked out.
#[derive(Clone, Debug, PartialEq)]
pub enum Evaluated {
    /// One quantity.
    Quantity(Quantity),
    /// A range, lower end first; both ends of one dimension. Of two gauges the thinner one is the lower end.
    Range(Quantity, Quantity),
    /// A nominal value and its tolerance: a share, or a value of the same dimension.
    Tolerance(Quantity, Quantity),
    /// A bare word. It may name a constant: that depends on where it stands.
    Word(Box<str>),
    /// A dotted path.
    Path(Path),
    /// A text.
    Text(Box<str>),
    /// A date.
    Date(Date),
}

impl Evaluated {
    /// What it measures, when it is a number.
    #[must_use]
    pub const fn dimension(&self) -> Option<Dimension> {
        match self {
            Self::Quantity(found) | Self::Range(found, _) | Self::Tolerance(found, _) => {
                Some(found.dimension)
            }
            _ => None,
        }
    }

    /// What it is, with its article.
    #[must_use]
    pub const fn noun(&self) -> &'static str {
        match self {
            Self::Quantity(found) => found.dimension.noun(),
            Self::Range(..) => "a range",
            Self::Tolerance(..) => "a value with a tolerance",
            Self::Word(_) => "a word",
            Self::Text(_) => "a text",
            Self::Path(_) => "a name",
            Self::Date(_) => "a date",
        }
    }
}

/// Why a value cannot be worked out, with the places of the parts it is about.
#[derive(Clone, Debug, PartialEq)]
pub enum Trouble {
    /// An operation without a result.
    Operation {
        /// The whole operation.
        whole: Span,
        /// What was to be done; of a tolerance it is the sum.
        operator: Operator,
        /// What its sides measure.
        sides: [Dimension; 2],
        /// Why.
        why: Unfit,
    },
    /// The ends of a range measure different things.
    Ends {
        /// The whole range.
        whole: Span,
        /// Where each end stands and what it measures.
        ends: [(Span, Dimension); 2],
    },
    /// A range whose lower end stands last.
    UpsideDown {
        /// The whole range.
        whole: Span,
        /// The ends in the order written.
        ends: [Span; 2],
    },
    /// A tolerance that is neither a share nor of the dimension of its nominal value.
    Tolerance {
        /// The tolerance alone.
        spread: Span,
        /// What the nominal value measures.
        of: Dimension,
    },
    /// Something else where one quantity is due.
    NoQuantity {
        /// Where.
        span: Span,
        /// What stands there.
        found: Evaluated,
    },
}

/// What a value has around it.
pub trait Surroundings {
    /// What the constant `word`, written at `span`, stands for. Nothing when there is none, or when it has no value; the
    /// surroundings tell that themselves.
    fn constant(&mut self, word: &str, span: Span) -> Option<Evaluated>;

    /// Takes note of a mistake.
    fn tell(&mut self, trouble: Trouble);
}

/// Works out a value; nothing when it cannot be, which has been told. A bare word stays a word.
///
/// Where an end of a range or the nominal value of a tolerance has no unit, the other one's holds: `6 .. 30 V`. Gauges
/// may stand either way round, since a larger number is a thinner wire.
pub fn evaluate(value: &Value, around: &mut dyn Surroundings) -> Option<Evaluated> {
    Some(match &value.shape {
        Shape::Range(low, high) => range(value.span, low, high, around)?,
        Shape::Tolerance(nominal, spread) => tolerance(value.span, nominal, spread, around)?,
        Shape::Word(word) => Evaluated::Word(word.clone()),
        Shape::Path(path) => Evaluated::Path(path.clone()),
        Shape::Text(text) => Evaluated::Text(text.clone()),
        Shape::Date(date) => Evaluated::Date(*date),
        Shape::Quantity(_) | Shape::Sum(..) | Shape::Negative(_) => {
            Evaluated::Quantity(quantity(value, around)?)
        }
    })
}

/// A value that must be one quantity.
fn quantity(value: &Value, around: &mut dyn Surroundings) -> Option<Quantity> {
    let found = match &value.shape {
        Shape::Quantity(quantity) => return Some(*quantity),
        Shape::Negative(inner) => return quantity(inner, around).map(Quantity::negated),
        Shape::Sum(operator, left, right) => {
            // Both sides are looked at, so that a mistake in each is told at once.
            let (left, right) = (quantity(left, around), quantity(right, around));
            return operation(value.span, *operator, left?, right?, around);
        }
        Shape::Word(word) => around.constant(word, value.span)?,
        Shape::Path(_) | Shape::Text(_) | Shape::Date(_) | Shape::Range(..) | Shape::Tolerance(..) => {
            evaluate(value, around)?
        }
    };
    if let Evaluated::Quantity(quantity) = found {
        return Some(quantity);
    }
    around.tell(Trouble::NoQuantity { span: value.span, found });
    None
}

/// The result of an operation on two quantities, as of the whole at `whole`.
pub fn operation(
    whole: Span,
    operator: Operator,
    left: Quantity,
    right: Quantity,
    around: &mut dyn Surroundings,
) -> Option<Quantity> {
    let result = match operator {
        Operator::Add => left.add(right),
        Operator::Subtract => left.sub(right),
        Operator::Multiply => left.mul(right),
        Operator::Divide => left.div(right),
    };
    let sides = [left.dimension, right.dimension];
    result.map_err(|why| around.tell(Trouble::Operation { whole, operator, sides, why })).ok()
}

fn range(whole: Span, low: &Value, high: &Value, around: &mut dyn Surroundings) -> Option<Evaluated> {
    let spans = [low.span, high.span];
    let (first, second) = (quantity(low, around), quantity(high, around));
    let (first, second) = (first?, second?);
    let (first, second) = (borrow_unit(first, second), borrow_unit(second, first));
    if first.dimension != second.dimension {
        let ends = [(spans[0], first.dimension), (spans[1], second.dimension)];
        around.tell(Trouble::Ends { whole, ends });
        return None;
    }
    let gauges = first.unit == "AWG" && second.unit == "AWG";
    match first.value <= second.value {
        true => Some(Evaluated::Range(first, second)),
        false if gauges => Some(Evaluated::Range(second, first)),
        false => {
            around.tell(Trouble::UpsideDown { whole, ends: spans });
            None
        }
    }
}

fn tolerance(
    whole: Span,
    nominal: &Value,
    spread: &Value,
    around: &mut dyn Surroundings,
) -> Option<Evaluated> {
    let place = spread.span;
    let (nominal, spread) = (quantity(nominal, around), quantity(spread, around));
    let (nominal, spread) = (nominal?, spread?);
    let nominal = if spread.dimension == Dimension::Ratio { nominal } else { borrow_unit(nominal, spread) };
    let sides = [nominal.dimension, spread.dimension];
    match sides {
        [Dimension::Temperature, Dimension::TemperatureDifference] => {}
        [Dimension::Temperature, _] => {
            around.tell(Trouble::Tolerance { spread: place, of: nominal.dimension });
            return None;
        }
        [_, Dimension::Ratio] => return Some(Evaluated::Tolerance(nominal, spread)),
        [one, other] if one == other => return Some(Evaluated::Tolerance(nominal, spread)),
        [of, _] => {
            around.tell(Trouble::Tolerance { spread: place, of });
            return None;
        }
    }
    // A share of a point on a scale means nothing, so a temperature comes to its two ends at once.
    let end = |value: f64| Quantity { value, ..nominal };
    let (low, high) = (nominal.value - spread.value.abs(), nominal.value + spread.value.abs());
    if low.is_finite() && high.is_finite() {
        return Some(Evaluated::Range(end(low), end(high)));
    }
    around.tell(Trouble::Operation { whole, operator: Operator::Add, sides, why: Unfit::NotFinite });
    None
}

/// A bare number beside a quantity has that one's unit.
fn borrow_unit(bare: Quantity, beside: Quantity) -> Quantity {
    if bare.dimension != Dimension::Number || beside.dimension == Dimension::Number {
        return bare;
    }
    by_spelling(beside.unit).and_then(|unit| unit.quantity(bare.value)).unwrap_or(bare)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{parse, span::FileId, syntax::Item};

    /// Surroundings with `RUN` = 2 m and `PER` = 0.5 m; the words of what is told are kept.
    #[derive(Default)]
    struct Bench {
        told: Vec<String>,
    }

    impl Surroundings for Bench {
        fn constant(&mut self, word: &str, _: Span) -> Option<Evaluated> {
            let metres = match word {
                "RUN" => 2.0,
                "PER" => 0.5,
                _ => {
                    self.told.push(format!("unknown {word}"));
                    return None;
                }
            };
            by_spelling("m")?.quantity(metres).map(Evaluated::Quantity)
        }

        fn tell(&mut self, trouble: Trouble) {
            self.told.push(match trouble {
                Trouble::Operation { why, .. } => format!("{why}"),
                Trouble::Ends { ends: [(_, low), (_, high)], .. } => {
                    format!("{} .. {}", low.noun(), high.noun())
                }
                Trouble::UpsideDown { .. } => "upside down".to_owned(),
                Trouble::Tolerance { of, .. } => format!("no tolerance of {}", of.noun()),
                Trouble::NoQuantity { found, .. } => format!("{} is no quantity", found.noun()),
            });
        }
    }

    /// What the value of `let X = …` comes to, or what is told.
    fn printed(value: &str) -> String {
        let parsed = parse(FileId(0), &format!("wattle 1\nlet X = {value}\n"));
        assert_eq!(parsed.errors, [], "{value}");
        let Some(Item::Let(constant)) = parsed.file.items.get(1) else { panic!("no constant in {value}") };
        let mut bench = Bench::default();
        match evaluate(&constant.value, &mut bench) {
            Some(found) => {
                assert_eq!(bench.told, [""; 0], "{value}");
                match found {
                    Evaluated::Quantity(quantity) => quantity.to_string(),
                    Evaluated::Range(low, high) => format!("{low} .. {high}"),
                    Evaluated::Tolerance(nominal, spread) => format!("{nominal} ± {spread}"),
                    Evaluated::Word(word) => format!("word {word}"),
                    other => format!("{other:?}"),
                }
            }
            None => bench.told.join("; "),
        }
    }

    fn come_to(table: &[(&str, &str)]) {
        for (value, result) in table {
            assert_eq!(printed(value), *result, "{value}");
        }
    }

    #[test]
    fn sums_follow_the_usual_order() {
        come_to(&[
            ("1.2 m + 2 * 30 cm", "1.8 m"),
            ("(1 m + 1 m) * 3", "6 m"),
            ("10 V - 2 V - 3 V", "5 V"),
            ("-5 °C + 10 K", "5 °C"),
            ("24 V / 2 A", "12 Ω"),
            ("RUN × 2", "4 m"),
            ("-(2 V)", "-2 V"),
            ("100 W ÷ 25 V", "4 A"),
            ("6S * 4.2 V", "25.2 V"),
            ("6 ft + 3 in", "6.25 ft"),
        ]);
    }

    #[test]
    fn temperatures_are_points_and_their_differences_are_not() {
        come_to(&[
            ("85 °C - 25 °C", "60 K"),
            ("25 °C + 60 K", "85 °C"),
            ("60 K + 25 °C", "85 °C"),
            ("85 °C - 60 K", "25 °C"),
            ("2 * 30 K", "60 K"),
            ("25 °C ± 5 K", "20 °C .. 30 °C"),
            ("85 °C + 25 °C", "a temperature plus a temperature means nothing"),
            ("60 K - 25 °C", "a temperature difference minus a temperature means nothing"),
            ("2 * 25 °C", "a number times a temperature means nothing"),
            ("25 °C ± 5 °C", "no tolerance of a temperature"),
            ("25 °C ± 5 %", "no tolerance of a temperature"),
        ]);
    }

    #[test]
    fn ranges_and_tolerances_need_the_unit_once() {
        come_to(&[
            ("6 V .. 30 V", "6 V .. 30 V"),
            ("6 .. 30 V", "6 V .. 30 V"),
            ("6 V .. 30", "6 V .. 30 V"),
            ("500 .. 900 mA", "500 mA .. 900 mA"),
            ("12 V ± 5 %", "12 V ± 5 %"),
            ("12 ± 0.5 V", "12 V ± 0.5 V"),
            ("12 V +/- 0.5 V", "12 V ± 0.5 V"),
            ("-10 °C .. 40 °C", "-10 °C .. 40 °C"),
            ("RUN .. RUN * 2", "2 m .. 4 m"),
            // A bare number behind `±` may be meant as a share.
            ("12 V ± 5", "no tolerance of a voltage"),
        ]);
    }

    #[test]
    fn gauges_stand_either_way_round() {
        come_to(&[
            ("20 AWG .. 16 AWG", "20 AWG .. 16 AWG"),
            ("16 .. 20 AWG", "20 AWG .. 16 AWG"),
            ("2/0 AWG .. 4 AWG", "4 AWG .. 2/0 AWG"),
        ]);
    }

    #[test]
    fn what_does_not_go_together_is_told() {
        come_to(&[
            ("30 V .. 6 V", "upside down"),
            ("6 V .. 30 A", "a voltage .. a current"),
            ("1 V + 1 A", "a voltage plus a current means nothing"),
            ("12 V ± 1 A", "no tolerance of a voltage"),
            ("1 V / 0", "a division by zero has no result"),
            ("1e200 V * 1e200 A", "the result is not a finite number"),
            ("red + SHADE", "unknown red; unknown SHADE"),
            ("PACK.pos * 2", "a name is no quantity"),
            ("\"a\" * 2", "a text is no quantity"),
        ]);
        assert_eq!(printed("red"), "word red");
        assert_eq!(printed("red/white"), "word red/white");
    }
}
