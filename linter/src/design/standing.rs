//! What a written value is worth: the words that follow it in a block, as in `40 A advertised` or `22 mΩ measured 2026-05-01`.

use wattle_grammar::{
    error::TextError,
    kind::{Rating, key},
    quantity::Dimension,
    span::Span,
    syntax::{Date, Shape, Value},
};

use super::{
    Basis, RatedValue, Standing,
    fit::{Fitted, fit},
    lower::Lowering,
    rows::Rows,
    scope::ScopeId,
    telling,
    value::Given,
};

/// What follows the value of a setting.
#[derive(Debug, Default)]
pub(super) struct Remarks {
    /// What the value is worth.
    pub(super) standing: Standing,
    /// What the remarks say under keys of their own: how long a peak lasts.
    pub(super) further: Fitted,
}

impl Lowering<'_> {
    /// Reads what follows the value of a setting; nothing when it cannot be understood, which is told.
    pub(super) fn remarks(
        &mut self,
        scope: ScopeId,
        rows: Rows,
        rating: &'static Rating,
        rest: &[Value],
    ) -> Option<Remarks> {
        let mut remarks = Remarks::default();
        let mut rest = rest.iter();
        let mut time_due = rating.key == key::PEAK;
        while let Some(value) = rest.next() {
            match word(value) {
                Some("continuous") => remarks.standing.basis = Some(Basis::Continuous),
                Some("advertised") => remarks.standing.basis = Some(Basis::Advertised),
                Some("peak") => {
                    remarks.standing.basis = Some(Basis::Peak);
                    time_due = true;
                }
                Some("measured") => remarks.standing.measured = Some(self.measured(value.span, rest.next())?),
                _ if time_due => {
                    remarks.further.extend(self.how_long(scope, rows, value)?);
                    time_due = false;
                }
                _ => {
                    self.tell_too_much(rows, rating, value);
                    return None;
                }
            }
        }
        if let (Some(basis), key::CURRENT, Some(row)) =
            (remarks.standing.basis, rating.key, rows.rating(key::BASIS))
        {
            remarks.further.push((row.key, RatedValue::Word(basis.word().to_owned())));
        }
        Some(remarks)
    }

    fn measured(&mut self, word: Span, date: Option<&Value>) -> Option<Date> {
        if let Some(Value { shape: Shape::Date(date), .. }) = date {
            return Some(*date);
        }
        let span = date.map_or(word, |value| value.span);
        let message = "`measured` needs its date".to_owned();
        let error = TextError::new(
            "language.missing-value",
            span,
            message,
            "a date such as `2026-05-01` is due here",
        );
        self.tell(error.help("a measurement holds for the day it was made: write `measured 2026-05-01`"));
        None
    }

    fn how_long(&mut self, scope: ScopeId, rows: Rows, value: &Value) -> Option<Fitted> {
        let given = self.resolved(scope, value)?;
        let is_time = matches!(&given, Given::Quantity(found) if found.dimension == Dimension::Time);
        match rows.rating(key::PEAK_TIME).filter(|_| is_time) {
            Some(row) => match fit(rows, row, &given, value.span, self.text(value.span)) {
                Ok(fitted) => Some(fitted),
                Err(error) => {
                    self.tell(*error);
                    None
                }
            },
            None => {
                let message = format!("`{}` says nothing about how long a peak lasts", self.text(value.span));
                let label = "a time such as `10 s` may stand here";
                self.tell(TextError::new("language.wrong-dimension", value.span, message, label));
                None
            }
        }
    }

    fn tell_too_much(&mut self, rows: Rows, rating: &Rating, value: &Value) {
        let error = telling::too_much(rows, rating, word(value), value.span, self.text(value.span));
        self.tell(error);
    }
}

fn word(value: &Value) -> Option<&str> {
    match &value.shape {
        Shape::Word(word) => Some(word),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::super::{
        Basis, RatedValue,
        testing::{design, errors},
    };
    use wattle_grammar::kind::key;

    #[test]
    fn a_value_says_what_it_is_worth() {
        let design = design(
            "battery P lipo 6S { resistance 22 mohm measured 2026-05-01; current 100 A advertised; peak 150 A 10 s }\n",
        );
        let rated = |key: &str| design.things[0].rated(key).unwrap();
        let measured = rated(key::RESISTANCE).standing.measured.unwrap();
        assert_eq!((measured.year, measured.month, measured.day), (2026, 5, 1));
        assert_eq!(rated(key::CURRENT).standing.basis, Some(Basis::Advertised));
        assert_eq!(rated(key::BASIS).value, RatedValue::Word("advertised".to_owned()));
        assert_eq!(design.things[0].number(key::PEAK_TIME), Some(10.0));
    }

    #[test]
    fn remarks_that_say_nothing_are_told() {
        assert_eq!(
            errors(
                "fuse A { current 30 A 40 A }\nfuse B { current 30 A measured }\nmotor C { peak 30 A 10 V }\n"
            ),
            [
                "too-many-values: `current` takes one value, found `40 A` behind it",
                "missing-value: `measured` needs its date",
                "wrong-dimension: `10 V` says nothing about how long a peak lasts",
            ]
        );
    }
}
