//! Values put onto rows: those on the line by their dimension or word, those in the block by their key.

use wattle_grammar::{
    error::TextError,
    kind::{Rating, RatingShape},
    quantity::Unit,
    span::Span,
    syntax::{Setting, Shape, Value},
};

use super::{
    Origin, Rated, RatedValue, Standing,
    fit::{self, Fitted},
    lower::Lowering,
    names::with_nearest,
    rows::Rows,
    scope::ScopeId,
    slip, telling,
    value::Given,
};

/// Keys that begin like this are the builder's own: kept, never interpreted.
pub(super) const OWN_KEYS: &str = "x-";

/// A value under its key, with the place of the value.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Written {
    pub(super) key: &'static str,
    pub(super) value: RatedValue,
    pub(super) span: Span,
    pub(super) standing: Standing,
}

impl Written {
    /// The rating that this makes.
    pub(super) fn rated(&self, origin: fn(Span) -> Origin) -> Rated {
        let Self { key, ref value, span, standing } = *self;
        Rated { key, value: value.clone(), origin: origin(span), standing }
    }
}

/// What a statement says.
#[derive(Clone, Debug, Default)]
pub(super) struct Gathered {
    /// In the order written.
    pub(super) written: Vec<Written>,
    /// Whether something could not be understood, so that a missing rating proves nothing.
    pub(super) failed: bool,
}

impl Gathered {
    /// The value under `key`.
    pub(super) fn get(&self, key: &str) -> Option<&Written> {
        self.written.iter().find(|written| written.key == key)
    }

    /// The quantity written under `key`, typed.
    pub(super) fn quantity<U: Unit>(&self, key: &str) -> Option<U> {
        match &self.get(key)?.value {
            RatedValue::Quantity(found) if found.dimension == U::DIMENSION => Some(U::from_base(found.value)),
            _ => None,
        }
    }

    /// The range written under `key`, typed; one value is the range of one point.
    pub(super) fn range<U: Unit>(&self, key: &str) -> Option<(U, U)> {
        match &self.get(key)?.value {
            RatedValue::Range(low, high) if high.dimension == U::DIMENSION => {
                Some((U::from_base(low.value), U::from_base(high.value)))
            }
            _ => self.quantity(key).map(|only| (only, only)),
        }
    }

    /// The count written under `key`.
    pub(super) fn count(&self, key: &str) -> Option<u32> {
        match &self.get(key)?.value {
            RatedValue::Quantity(found) if (0.0..=1e6).contains(&found.value) => Some(found.value as u32),
            _ => None,
        }
    }

    /// Everything written, as ratings.
    pub(super) fn rated(&self, origin: fn(Span) -> Origin) -> Vec<Rated> {
        self.written.iter().map(|written| written.rated(origin)).collect()
    }

    /// Whether the flag `key` is written as yes.
    pub(super) fn flag(&self, key: &str) -> bool {
        self.get(key).is_some_and(|written| written.value == RatedValue::Flag(true))
    }
}

impl Lowering<'_> {
    /// Puts the values of a statement onto its rows.
    pub(super) fn gather(
        &mut self,
        scope: ScopeId,
        rows: Rows,
        values: &[Value],
        settings: &[Setting],
    ) -> Gathered {
        let mut gathered = Gathered::default();
        for value in values {
            match self.place_value(scope, rows, value) {
                Some(fitted) => self.add(&mut gathered, rows, fitted, value.span, Standing::default()),
                None => {
                    gathered.failed = true;
                    self.design.lost.push(value.span);
                }
            }
        }
        for setting in settings {
            match self.place_setting(scope, rows, setting) {
                Some((fitted, span, standing)) => self.add(&mut gathered, rows, fitted, span, standing),
                None => {
                    gathered.failed = true;
                    self.design.lost.push(setting.span);
                }
            }
        }
        gathered
    }

    fn add(&mut self, gathered: &mut Gathered, rows: Rows, fitted: Fitted, span: Span, standing: Standing) {
        for (key, value) in fitted {
            let before = gathered.written.iter_mut().find(|written| written.key == key);
            match (before, value) {
                (Some(Written { value: RatedValue::Ports(ports), .. }), RatedValue::Ports(more)) => {
                    ports.extend(more);
                }
                (Some(first), value) => {
                    let first = first.span;
                    let between = self.text(first.to(span));
                    let error = telling::given_twice(rows, key, &value, (first, span), between);
                    let error = self.given_twice(error, rows, gathered, [first, span]);
                    self.tell(error);
                }
                (None, value) => gathered.written.push(Written { key, value, span, standing }),
            }
        }
    }

    /// The error of a rating given twice, with what the two values were perhaps meant to be.
    fn given_twice(&self, error: TextError, rows: Rows, gathered: &Gathered, places: [Span; 2]) -> TextError {
        let [first, second] = places.map(|place| (place, self.text(place)));
        let between = Span::new(first.0.file, first.0.end, second.0.start.max(first.0.end));
        slip::twice(error, first, second, self.text(between), |dimension| {
            rows.by_dimension(dimension).is_some_and(|row| gathered.get(row.key).is_none())
        })
    }

    /// A value without a key.
    fn place_value(&mut self, scope: ScopeId, rows: Rows, value: &Value) -> Option<Fitted> {
        let given = match &value.shape {
            Shape::Word(word) => match (rows.by_word(word), self.constant(scope, word)) {
                (Some(rating), _) => return Some(fit::word(rating, word)),
                (None, Some(constant)) => constant?,
                (None, None) => {
                    self.tell_unplaced_word(scope, rows, word, value.span);
                    return None;
                }
            },
            _ => self.given(scope, value)?,
        };
        match row_of(rows, &given) {
            Some(rating) => self.fitted(rows, rating, &given, value.span),
            None => {
                let error = telling::unplaced(rows, &given, value.span, self.text(value.span));
                self.tell(error);
                None
            }
        }
    }

    fn tell_unplaced_word(&mut self, scope: ScopeId, rows: Rows, word: &str, span: Span) {
        if !self.broken.may_define(word) {
            let error = self.unplaced_word(scope, rows, word, span);
            self.tell(error);
        }
    }

    /// A line of a block.
    fn place_setting(
        &mut self,
        scope: ScopeId,
        rows: Rows,
        setting: &Setting,
    ) -> Option<(Fitted, Span, Standing)> {
        if setting.key.text.starts_with(OWN_KEYS) {
            return Some((Fitted::new(), setting.span, Standing::default()));
        }
        let Some(rating) = rows.rating(&setting.key.text) else {
            let error = self.unknown_key(rows, &setting.key);
            self.tell(error);
            return None;
        };
        if setting.negated || setting.values.is_empty() {
            return self.bare(rating, setting).map(|fitted| (fitted, setting.span, Standing::default()));
        }
        let span = span_of(&setting.values).unwrap_or(setting.span);
        if let Some(fitted) = self.several(scope, rating, setting) {
            return fitted.map(|fitted| (fitted, span, Standing::default()));
        }
        let (value, rest) = setting.values.split_first()?;
        let given = self.keyed_value(scope, rating, value)?;
        let mut fitted = self.fitted(rows, rating, &given, value.span)?;
        let remarks = self.remarks(scope, rows, rating, rest)?;
        fitted.extend(remarks.further);
        Some((fitted, value.span, remarks.standing))
    }

    /// The values of a row that takes several; nothing when it takes one.
    fn several(
        &mut self,
        scope: ScopeId,
        rating: &'static Rating,
        setting: &Setting,
    ) -> Option<Option<Fitted>> {
        let fitted = match rating.shape {
            RatingShape::Terminals => fit::terminals(rating, &setting.values, |span| self.text(span)),
            RatingShape::Words(_) => fit::words(rating, &setting.values, |span| self.text(span)),
            RatingShape::Ports(rows) => return Some(self.port(scope, rating, rows, setting)),
            _ => return None,
        };
        Some(fitted.map_err(|error| self.tell(*error)).ok())
    }

    fn bare(&mut self, rating: &'static Rating, setting: &Setting) -> Option<Fitted> {
        if rating.is_flag() && setting.values.is_empty() {
            return Some(vec![(rating.key, RatedValue::Flag(!setting.negated))]);
        }
        self.tell(telling::no_values(rating, setting));
        None
    }

    /// The value behind a key: a word of the row stays a word, another word is a constant.
    fn keyed_value(&mut self, scope: ScopeId, rating: &'static Rating, value: &Value) -> Option<Given> {
        let Shape::Word(word) = &value.shape else { return self.given(scope, value) };
        let number_due = rating.dimension().is_some();
        match self.constant(scope, word) {
            Some(constant) if number_due => constant,
            None if number_due => {
                self.tell_unknown_constant(scope, word, value.span, &fit::due(rating));
                None
            }
            _ => Some(Given::Word(word.clone())),
        }
    }

    fn fitted(&mut self, rows: Rows, rating: &'static Rating, given: &Given, span: Span) -> Option<Fitted> {
        match fit::fit(rows, rating, given, span, self.text(span)) {
            Ok(fitted) => Some(fitted),
            Err(mut error) => {
                if let (Given::Word(word), true) = (given, error.mend.is_none()) {
                    let words = rating.words().iter().map(|(word, _)| *word);
                    let found = self.nearest.find(word, words);
                    *error = with_nearest(*error, span, found);
                }
                self.tell(*error);
                None
            }
        }
    }
}

fn span_of(values: &[Value]) -> Option<Span> {
    values.iter().map(|value| value.span).reduce(Span::to)
}

/// The row that a value means on the line.
fn row_of(rows: Rows, given: &Given) -> Option<&'static Rating> {
    match given {
        Given::Quantity(quantity) | Given::Range(quantity, _) | Given::Tolerance(quantity, _) => {
            rows.by_dimension(quantity.dimension)
        }
        Given::Word(word) => rows.by_word(word),
        Given::Text(_) => rows.by_text(),
        Given::Path(_) | Given::Date(_) => None,
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{design, errors};

    use super::super::{Origin, RatedValue, facts};
    use wattle_grammar::kind::key;

    #[test]
    fn values_on_the_line_find_their_rows_by_dimension_and_word() {
        let design = design("fuse F1 40 A blade 32 V\n");
        let fuse = &design.things[0];
        assert_eq!(fuse.number(key::CURRENT), Some(40.0));
        assert_eq!(fuse.word(key::STYLE), Some("blade"));
        assert_eq!(fuse.number(key::VOLTAGE), Some(32.0));
        assert!(matches!(fuse.rated(key::CURRENT).unwrap().origin, Origin::Thing(_)));
    }

    #[test]
    fn flags_bare_negated_and_spelled_out() {
        let text = "motor M 24 V { not back-drivable }\nmotor N 24 V { back-drivable no }\nbattery P lipo 3S { taps }\n";
        let design = design(text);
        assert_eq!(design.things[0].flag(key::BACK_DRIVABLE), Some(false));
        assert_eq!(design.things[1].flag(key::BACK_DRIVABLE), Some(false));
        assert_eq!(design.things[2].flag(key::TAPS), Some(true));
    }

    #[test]
    fn facts_of_every_shape_are_kept() {
        let design = design(
            "wire W NEG to FRAME 10 AWG bond not labelled estimated { until 2027-12-31; insulation-resists oil, water }\n\
             tie NEG to FRAME { bypass }\nstud NEG\nchassis FRAME { bonded-at NEG }\n\
             servo EAR 5 V { force 12 N; torque 2 N·m; ganged mirrored; held-by NEG; failsafe-tested 2026-05-01 }\n\
             plug P 4 way { mates-first 1; takes-strands fine extra-fine; seal-size 1.2 mm .. 2.1 mm; family \"K 4\" }\n\
             battery B lipo 6S { series-string; service-interval 365 d; also-called \"tray pack\" }\n",
        );
        let keys: Vec<&str> = design.wires[0].facts.iter().map(|rated| rated.key).collect();
        let expected = [
            key::SIZE,
            key::LENGTH_BASIS,
            key::INSULATION_RESISTS,
            key::MATERIAL,
            key::BOND,
            key::LABELLED,
            key::UNTIL,
        ];
        assert_eq!(keys, expected);
        assert_eq!(facts::flag(&design.wires[0].facts, key::LABELLED), Some(false));
        assert_eq!(facts::flag(&design.ties[0].facts, key::BYPASS), Some(true));
        let thing = |name: &str| design.things.iter().find(|thing| thing.name == name).unwrap();
        assert_eq!(
            (thing("EAR").number(key::FORCE), thing("EAR").number(key::TORQUE)),
            (Some(12.0), Some(2.0))
        );
        assert!(
            thing("EAR").rated(key::HELD_BY).is_some() && thing("EAR").rated(key::FAILSAFE_TESTED).is_some()
        );
        let strands = RatedValue::Words(vec!["fine".to_owned(), "extra-fine".to_owned()]);
        assert_eq!(thing("P").rated(key::TAKES_STRANDS).unwrap().value, strands);
        assert_eq!(thing("B").number(key::SERVICE_INTERVAL), Some(365.0 * 86400.0));
    }

    #[test]
    fn a_tolerance_is_a_second_rating() {
        let design = design("regulator R 5 V ± 2 % 3 A\n");
        assert_eq!(design.things[0].number(key::OUTPUT), Some(5.0));
        assert_eq!(design.things[0].number(key::TOLERANCE), Some(0.02));
    }

    #[test]
    fn a_value_that_fits_nothing_says_what_would() {
        assert_eq!(
            errors("fuse F1 40 A 3 Nm\n"),
            ["unplaced-value: `3 Nm` fits no rating of a fuse on the line"]
        );
        assert_eq!(errors("fuse F1 40 A 5 mohm\n").len(), 1);
    }

    #[test]
    fn a_rating_given_twice_shows_the_first() {
        let (_, errors) = super::super::testing::parsed("fuse F1 40 A { current 30 A }\n");
        assert_eq!(errors.len(), 1);
        assert_eq!(errors[0].message, "`current` of a fuse is given twice");
        assert_eq!(errors[0].related.len(), 1);
    }

    #[test]
    fn wrong_dimensions_say_what_is_due() {
        let found = errors("fuse F1 { current 24 V }\nfuse F2 { current 24 }\n");
        assert_eq!(
            found,
            [
                "wrong-dimension: `current` takes a current, found `24 V`",
                "wrong-dimension: `current` takes a current, found `24`",
            ]
        );
    }

    #[test]
    fn unknown_keys_and_words_offer_the_nearest() {
        assert_eq!(
            errors("fuse F1 40 A { curent 3 A }\nfuse F2 40 A blad\nbattery P { chemistry lippo }\n"),
            [
                "unknown-key: a fuse has no setting `curent`",
                "unknown-word: `blad` means nothing on the line of a fuse",
                "unknown-word: `lippo` is no chemistry",
            ]
        );
    }

    #[test]
    fn a_place_or_a_key_on_the_line_is_understood() {
        let found = errors("place body\nfuse F 5 A body\nmotor M 24 V stall\n");
        assert!(found[0].starts_with("unknown-word: `body`"), "{found:?}");
        assert!(found[1].contains("`stall` is a key"), "{found:?}");
    }

    #[test]
    fn counts_are_whole_and_bounded() {
        let found = errors("battery A lipo 65S\nplug P 0 way\nplug Q 2.5 way\ndriver D { channels 65 }\n");
        assert_eq!(found.len(), 4, "{found:?}");
        assert!(found[0].starts_with("out-of-range: `cells` can be 64 at most"), "{found:?}");
        assert!(found[2].starts_with("not-whole"), "{found:?}");
    }

    #[test]
    fn one_supply_voltage_means_a_range() {
        let design = design("controller C 5 V\n");
        let supply = &design.things[0].rated(key::SUPPLY).unwrap().value;
        assert!(matches!(supply, RatedValue::Range(low, high) if low.value == 4.5 && high.value == 5.5));
    }

    #[test]
    fn constants_stand_for_values() {
        let design = design("let RATED = 40 A\nfuse F1 RATED\nfuse F2 { current RATED }\n");
        assert!(design.things.iter().all(|fuse| fuse.number(key::CURRENT) == Some(40.0)));
    }
}
