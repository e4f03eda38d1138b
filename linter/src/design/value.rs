//! Values read: expressions worked out with the constants of a scope.

use wattle_grammar::{
    error::{TextError, quoted},
    quantity::{Dimension, Quantity, Unfit},
    span::Span,
    syntax::{Date, Name, Operator, Path, Shape, Value},
    unit::by_spelling,
};

use super::{dimension::noun, lower::Lowering, scope::ScopeId, telling};

/// A value with everything worked out.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Given {
    /// One quantity.
    Quantity(Quantity),
    /// A range, the lower end first.
    Range(Quantity, Quantity),
    /// A nominal value and its tolerance.
    Tolerance(Quantity, Quantity),
    /// A word that is no constant.
    Word(Box<str>),
    /// A text.
    Text(Box<str>),
    /// A dotted path.
    Path(Path),
    /// A date.
    Date(Date),
}

impl Given {
    /// What it measures, when it is a number.
    pub(super) fn dimension(&self) -> Option<Dimension> {
        match self {
            Self::Quantity(found) | Self::Range(found, _) | Self::Tolerance(found, _) => {
                Some(found.dimension)
            }
            _ => None,
        }
    }

    /// A few words on what it is.
    pub(super) fn noun(&self) -> &'static str {
        match self {
            Self::Quantity(found) => noun(found.dimension),
            Self::Range(..) => "a range",
            Self::Tolerance(..) => "a value with a tolerance",
            Self::Word(_) => "a word",
            Self::Text(_) => "a text",
            Self::Path(_) => "a name",
            Self::Date(_) => "a date",
        }
    }
}

impl Lowering<'_> {
    /// The value, worked out; nothing when it cannot be, which is told. A bare word stays a word.
    pub(super) fn given(&mut self, scope: ScopeId, value: &Value) -> Option<Given> {
        match &value.shape {
            Shape::Quantity(found) => Some(Given::Quantity(*found)),
            Shape::Word(word) => Some(Given::Word(word.clone())),
            Shape::Text(text) => Some(Given::Text(text.clone())),
            Shape::Path(path) => Some(Given::Path(path.clone())),
            Shape::Date(date) => Some(Given::Date(*date)),
            Shape::Range(low, high) => self.range(scope, low, high, value.span),
            Shape::Tolerance(nominal, tolerance) => self.tolerance(scope, nominal, tolerance),
            Shape::Sum(..) | Shape::Negative(_) => self.quantity(scope, value).map(Given::Quantity),
        }
    }

    /// One quantity, where nothing else makes sense.
    fn quantity(&mut self, scope: ScopeId, value: &Value) -> Option<Quantity> {
        match &value.shape {
            Shape::Negative(inner) => self.quantity(scope, inner).map(Quantity::negated),
            Shape::Sum(operator, left, right) => {
                let (left, right) = (self.quantity(scope, left), self.quantity(scope, right));
                self.combined(*operator, left?, right?, value.span)
            }
            _ => match self.resolved(scope, value)? {
                Given::Quantity(found) => Some(found),
                other => {
                    let text = quoted(self.text(value.span));
                    let message = format!("{text} is {}, a number is due", other.noun());
                    self.tell(TextError::new(
                        "language.wrong-value",
                        value.span,
                        message,
                        "a number is due here",
                    ));
                    None
                }
            },
        }
    }

    fn combined(
        &mut self,
        operator: Operator,
        left: Quantity,
        right: Quantity,
        span: Span,
    ) -> Option<Quantity> {
        if operator == Operator::Divide && right.value == 0.0 {
            return self.tell_no_number("language.division-by-zero", "divides by zero", span);
        }
        let found = match operator {
            Operator::Add => left.add(right),
            Operator::Subtract => left.sub(right),
            Operator::Multiply => left.mul(right),
            Operator::Divide => left.div(right),
        };
        match found {
            // What is computed was not written with a unit.
            Ok(found) => Some(Quantity { unit: "", ..found }),
            Err(Unfit::Dimensions { .. }) => self.tell_meaningless(operator, left, right, span),
            Err(Unfit::NotFinite) => self.tell_no_number("language.overflow", "is too large a number", span),
        }
    }

    /// Notes that a computation gives no number; gives nothing, for the value that it does not have.
    fn tell_no_number(&mut self, name: &'static str, why: &str, span: Span) -> Option<Quantity> {
        let message = format!("{} {why}", quoted(self.text(span)));
        self.tell(TextError::new(name, span, message, "cannot be worked out"));
        None
    }

    /// Notes that two quantities do not go together; gives nothing, for the value that they do not have.
    fn tell_meaningless(
        &mut self,
        operator: Operator,
        left: Quantity,
        right: Quantity,
        span: Span,
    ) -> Option<Quantity> {
        let error = telling::meaningless(operator, left, right, span, self.text(span));
        self.tell(error);
        None
    }

    fn range(&mut self, scope: ScopeId, low: &Value, high: &Value, span: Span) -> Option<Given> {
        let (first, second) = (self.quantity(scope, low), self.quantity(scope, high));
        let (first, second) = (first?, second?);
        // The unit once is enough: `10.8 .. 12.6 V`.
        let (first, second) = (with_unit_of(first, second), with_unit_of(second, first));
        if first.dimension != second.dimension {
            let message = format!(
                "{} is {} and {} {}",
                quoted(self.text(low.span)),
                noun(first.dimension),
                quoted(self.text(high.span)),
                noun(second.dimension)
            );
            let label = "both ends of a range measure the same";
            self.tell(TextError::new("language.wrong-dimension", span, message, label));
            return None;
        }
        if first.value > second.value {
            // A larger gauge number is a thinner wire, so gauges may stand either way round.
            if first.unit == "AWG" && second.unit == "AWG" {
                return Some(Given::Range(second, first));
            }
            self.tell_upside_down(low, high, span);
            return None;
        }
        Some(Given::Range(first, second))
    }

    fn tell_upside_down(&mut self, low: &Value, high: &Value, span: Span) {
        let (first, second) = (self.text(low.span), self.text(high.span));
        // `30 .. 6 V` has its unit once, behind the second number.
        let unit = match (&low.shape, second.split_once(' ')) {
            (Shape::Quantity(found), Some((number, unit))) if found.dimension == Dimension::Number => {
                Some((number, unit))
            }
            _ => None,
        };
        let mended = match unit {
            Some((number, unit)) => format!("{number} .. {first} {unit}"),
            None => format!("{second} .. {first}"),
        };
        let message = format!("the range {} is upside down", quoted(self.text(span)));
        let error = TextError::new("language.range-upside-down", span, message, "the lower end comes first");
        self.tell(error.help(format!("write `{mended}`")).mend(span, mended));
    }

    fn tolerance(&mut self, scope: ScopeId, nominal: &Value, tolerance: &Value) -> Option<Given> {
        let (first, second) = (self.quantity(scope, nominal), self.quantity(scope, tolerance));
        let (first, second) = (first?, second?);
        let first = if second.dimension == Dimension::Ratio { first } else { with_unit_of(first, second) };
        let difference =
            first.dimension == Dimension::Temperature && second.dimension == Dimension::TemperatureDifference;
        if difference {
            let at = |value: f64| Quantity { value, ..first };
            let ends = (at(first.value - second.value.abs()), at(first.value + second.value.abs()));
            return ends.1.value.is_finite().then_some(Given::Range(ends.0, ends.1));
        }
        if second.dimension == Dimension::Ratio || second.dimension == first.dimension {
            return Some(Given::Tolerance(first, second));
        }
        let written = self.text(tolerance.span);
        let message = format!("{} is no tolerance of {}", quoted(written), noun(first.dimension));
        let label = "a share or the same unit is due here";
        let error = TextError::new("language.wrong-dimension", tolerance.span, message, label);
        self.tell(match second.dimension {
            Dimension::Number => error.help(format!("write `{written} %` or `{written} {}`", first.unit)),
            _ => error,
        });
        None
    }
}

/// A bare number beside a quantity has that one's unit.
fn with_unit_of(bare: Quantity, beside: Quantity) -> Quantity {
    if bare.dimension != Dimension::Number || beside.dimension == Dimension::Number {
        return bare;
    }
    by_spelling(beside.unit).and_then(|unit| unit.quantity(bare.value)).unwrap_or(bare)
}

/// The name that a value is, when it is one: a bare word or a dotted path.
pub(super) fn as_path(value: &Value) -> Option<Path> {
    match &value.shape {
        Shape::Path(path) => Some(path.clone()),
        Shape::Word(word) => {
            Some(Path { segments: vec![Name { text: word.clone(), span: value.span }], span: value.span })
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{design, errors};
    use wattle_grammar::{kind::key, quantity::Volts};

    #[test]
    fn sums_are_worked_out_with_constants() {
        let design = design(
            "let CELL = 3.7 V\nlet RAIL = 6S * CELL\nbattery P lipo RAIL\nfuse F { current (2 A + 500 mA) * 2 }\n",
        );
        assert_eq!(design.things[0].number(key::CELLS), Some(6.0));
        assert_eq!(design.things[1].number(key::CURRENT), Some(5.0));
    }

    #[test]
    fn ranges_have_one_unit_or_two_and_stand_upright() {
        let design = design("driver A 10.8 .. 12.6 V\ndriver B 6 V .. 30 V\ndriver C 12 V ± 1 V\n");
        let range = |at: usize| design.things[at].range::<Volts>(key::SUPPLY).unwrap();
        assert_eq!(range(0), (Volts(10.8), Volts(12.6)));
        assert_eq!(range(1), (Volts(6.0), Volts(30.0)));
        assert_eq!(range(2), (Volts(11.0), Volts(13.0)));
        assert_eq!(
            errors("driver A 30 V .. 6 V\ndriver B 6 V .. 30 A\n"),
            [
                "range-upside-down: the range `30 V .. 6 V` is upside down",
                "wrong-dimension: `6 V` is a voltage and `30 A` a current",
            ]
        );
    }

    #[test]
    fn what_cannot_be_worked_out_is_told_once() {
        assert_eq!(
            errors(
                "let A = 1 V + 1 A\nlet B = A * 2\nlet C = 1 A / 0\nlet D = 1e300 * 1e300\nfuse F { current B }\n"
            ),
            [
                "wrong-dimension: a current cannot be added to a voltage",
                "division-by-zero: `1 A / 0` divides by zero",
                "overflow: `1e300 * 1e300` is too large a number",
            ]
        );
    }
}
