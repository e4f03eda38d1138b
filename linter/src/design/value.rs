//! Values read: the grammar works them out with the constants of a scope, the mistakes are worded here.

use wattle_grammar::{
    error::{TextError, quoted},
    evaluate::{Evaluated, Surroundings, Trouble, evaluate},
    quantity::Dimension,
    span::Span,
    syntax::{Name, Path, Shape, Value},
};

use super::{lower::Lowering, scope::ScopeId, telling};

/// A value with everything worked out.
pub(super) type Given = Evaluated;

/// A scope of a lowering: where the names in a value are looked up.
pub(super) struct Within<'l, 'a> {
    pub(super) lowering: &'l mut Lowering<'a>,
    pub(super) scope: ScopeId,
}

impl Surroundings for Within<'_, '_> {
    fn constant(&mut self, word: &str, span: Span) -> Option<Evaluated> {
        self.lowering.resolved_word(self.scope, word, span)
    }

    fn tell(&mut self, trouble: Trouble) {
        self.lowering.tell_trouble(&trouble);
    }
}

impl Lowering<'_> {
    /// The value, worked out; nothing when it cannot be, which is told. A bare word stays a word.
    pub(super) fn given(&mut self, scope: ScopeId, value: &Value) -> Option<Given> {
        evaluate(value, &mut Within { lowering: self, scope })
    }

    fn tell_trouble(&mut self, trouble: &Trouble) {
        let error = match trouble {
            Trouble::Operation { whole, operator, sides, why } => {
                telling::no_result(*operator, *sides, *why, *whole, self.text(*whole))
            }
            Trouble::Ends { whole, ends } => self.ends_apart(*whole, *ends),
            Trouble::UpsideDown { whole, ends } => self.upside_down(*whole, *ends),
            Trouble::Tolerance { spread, of } => self.no_tolerance(*spread, *of),
            Trouble::NoQuantity { span, found } => {
                let message = format!("{} is {}, a number is due", quoted(self.text(*span)), found.noun());
                TextError::new("language.wrong-value", *span, message, "a number is due here")
            }
        };
        self.tell(error);
    }

    fn ends_apart(&self, whole: Span, [(low, one), (high, other)]: [(Span, Dimension); 2]) -> TextError {
        let (low, high) = (quoted(self.text(low)), quoted(self.text(high)));
        let message = format!("{low} is {} and {high} {}", one.noun(), other.noun());
        TextError::new("language.wrong-dimension", whole, message, "both ends of a range measure the same")
    }

    fn upside_down(&self, whole: Span, [low, high]: [Span; 2]) -> TextError {
        let (low, high) = (self.text(low), self.text(high));
        // `30 .. 6 V` has its unit once, behind the second number.
        let bare = low.bytes().all(|byte| byte.is_ascii_digit() || matches!(byte, b'.' | b'_'));
        let mended = match high.split_once(' ').filter(|_| bare) {
            Some((number, unit)) => format!("{number} .. {low} {unit}"),
            None => format!("{high} .. {low}"),
        };
        let message = format!("the range {} is upside down", quoted(self.text(whole)));
        let error = TextError::new("language.range-upside-down", whole, message, "the lower end comes first");
        error.help(format!("write `{mended}`")).mend(whole, mended)
    }

    fn no_tolerance(&self, spread: Span, of: Dimension) -> TextError {
        let text = self.text(spread);
        let message = format!("{} is no tolerance of {}", quoted(text), of.noun());
        let label = match of {
            Dimension::Temperature => "a difference in `K` is due here",
            _ => "a share or the same unit is due here",
        };
        let error = TextError::new("language.wrong-dimension", spread, message, label);
        let number = text.strip_suffix("°C").or_else(|| text.strip_suffix("degC")).map(str::trim_end);
        match number.filter(|_| of == Dimension::Temperature) {
            Some(number) => {
                let right = format!("{number} K");
                error.help(format!("a difference of temperatures is written `{right}`")).mend(spread, right)
            }
            None if text.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.') => {
                error.help(format!("write `{text} %`, or the number with its unit"))
            }
            None => error,
        }
    }
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
    use wattle_grammar::{
        kind::key,
        quantity::{SquareMm, Volts},
    };

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
        let one_unit =
            self::design("driver A 10.8 V .. 12.6\nsplice S 16 AWG .. 20 AWG\nregulator R 5 V ± 0.1 V\n");
        assert_eq!(one_unit.things[0].range::<Volts>(key::SUPPLY), Some((Volts(10.8), Volts(12.6))));
        let (thin, thick) = one_unit.things[1].range::<SquareMm>(key::WIRE_SIZE).unwrap();
        assert!(thin < thick);
        assert_eq!(one_unit.things[2].number(key::TOLERANCE), Some(0.02));
        assert_eq!(
            errors("driver A 30 V .. 6 V\ndriver B 6 V .. 30 A\n"),
            [
                "range-upside-down: the range `30 V .. 6 V` is upside down",
                "wrong-dimension: `6 V` is a voltage and `30 A` a current",
            ]
        );
    }

    #[test]
    fn a_tolerance_of_a_temperature_is_a_difference() {
        let (_, errors) = super::super::testing::parsed("place p { ambient 25 °C ± 5 °C }\n");
        assert_eq!(errors[0].message, "`5 °C` is no tolerance of a temperature");
        assert_eq!(errors[0].mend.as_ref().map(|(_, new)| new.as_str()), Some("5 K"));
        let design = design("place p { ambient 25 °C ± 5 K }\nplace q { ambient 85 °C - 60 K }\n");
        let ambient = |at: usize| design.places[at].ambient.map(|(low, high)| (low.0, high.0));
        assert_eq!((ambient(0), ambient(1)), (Some((20.0, 30.0)), Some((25.0, 25.0))));
    }

    #[test]
    fn two_constants_with_a_solidus_are_a_quotient() {
        let text =
            "let RUN = 2 m\nlet PARTS = 4\nlet PIECE = RUN/PARTS\nstud A\nwire W A to A 18 AWG PIECE * 2\n";
        assert_eq!(design(text).wires[0].length.map(|length| length.0), Some(1.0));
        assert_eq!(
            errors("let A = 1 V\nlet B = 0\nlet C = A/B\n"),
            ["division-by-zero: `A/B` divides by zero"]
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
