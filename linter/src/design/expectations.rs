//! Expectations and readings: what they are about, and the limits and figures with their dimensions.

use wattle_grammar::{
    error::TextError,
    quantity::{Dimension, Quantity},
    span::Span,
    syntax::{self, Comparison, Path, Value},
};

use super::{
    Bounds, Claim, Expectation, Probe, Reading, WireId,
    dimension::{example, noun},
    lower::Lowering,
    names::Target,
    places::dotted,
    rows::Noun,
    scope::ScopeId,
    sheet::Sheet,
    state,
    value::Given,
};

impl<'a> Lowering<'a> {
    /// Makes the expectations. One with a name or a limit that cannot be is left out, and told.
    pub(super) fn expectations(&mut self, sheet: &Sheet<'a>) {
        for (scope, statement) in &sheet.expects {
            let modes: Vec<_> = statement.modes.iter().map(|mode| self.mode_named(mode)).collect();
            let claims = self.claims(*scope, statement);
            let Some(modes) = modes.into_iter().collect::<Option<Vec<_>>>() else { continue };
            for (subject, claim) in claims {
                let (any_fault, span) = (statement.any_fault, statement.span);
                let modes = modes.clone();
                self.design.expectations.push(Expectation { claim, modes, any_fault, subject, span });
            }
        }
    }

    /// What a statement claims, once for each thing it is about, with the full name of that.
    fn claims(&mut self, scope: ScopeId, statement: &syntax::Expect) -> Vec<(String, Claim)> {
        let what = &*statement.what.text;
        if what == "dead" {
            return self.dead(scope, statement).into_iter().collect();
        }
        let dimension = match what {
            "voltage" => Dimension::Voltage,
            "current" => Dimension::Current,
            "temperature" => Dimension::Temperature,
            _ => Dimension::Time,
        };
        let bounds = statement
            .limit
            .as_ref()
            .and_then(|(comparison, value)| self.bounds(scope, *comparison, value, what, dimension));
        if what == "runtime" {
            return bounds.map(|bounds| ("robot".to_owned(), Claim::Runtime(bounds))).into_iter().collect();
        }
        let mut claims = Vec::new();
        for path in &statement.subjects {
            let probe = match dimension {
                Dimension::Voltage => self.end(scope, path).map(Probe::Terminal),
                Dimension::Temperature => self.wire_at(scope, path).map(Probe::Wire),
                _ => self.conductor(scope, path),
            };
            let (Some(probe), Some(bounds)) = (probe, bounds) else { continue };
            let claim = match dimension {
                Dimension::Voltage => Claim::Voltage(probe, bounds),
                Dimension::Temperature => Claim::Temperature(probe, bounds),
                _ => Claim::Current(probe, bounds),
            };
            claims.push((self.full_name(scope, &dotted(path)), claim));
        }
        claims
    }

    fn dead(&mut self, scope: ScopeId, statement: &syntax::Expect) -> Option<(String, Claim)> {
        let things: Vec<_> = statement.subjects.iter().map(|path| self.thing_at(scope, path)).collect();
        let (path, word) = statement.when.as_ref()?;
        let when = self.thing_at(scope, path);
        let things = things.into_iter().collect::<Option<Vec<_>>>();
        let when = when?;
        let kind = self.design.things.get(when.index())?.kind;
        let Some(state) = state::of_word(kind, &word.text) else {
            let noun = Noun(kind.word).to_string();
            self.tell_wrong_state(&word.text, word.span, &noun, &state::words(kind));
            return None;
        };
        let subject = self.full_name(scope, &dotted(path));
        Some((subject, Claim::Dead { things: things?, when, state, word: word.text.to_string() }))
    }

    /// The limits of an expectation, in the dimension that is due.
    fn bounds(
        &mut self,
        scope: ScopeId,
        comparison: Comparison,
        value: &Value,
        what: &str,
        dimension: Dimension,
    ) -> Option<Bounds> {
        let given = self.resolved(scope, value)?;
        if given.dimension() != Some(dimension) {
            self.tell_wrong_limit(value, &given, what, dimension);
            return None;
        }
        match (comparison, given) {
            (Comparison::AtLeast, Given::Quantity(low)) => Some(Bounds { low: Some(low), high: None }),
            (Comparison::AtMost, Given::Quantity(high)) => Some(Bounds { low: None, high: Some(high) }),
            (Comparison::Equal, Given::Range(low, high)) => Some(Bounds { low: Some(low), high: Some(high) }),
            (Comparison::Equal, Given::Tolerance(nominal, tolerance)) => Some(around(nominal, tolerance)),
            (Comparison::Equal, _) => {
                self.tell_exact(value);
                None
            }
            _ => {
                let message = format!("`{}` is more than one limit", self.text(value.span));
                let error =
                    TextError::new("language.wrong-value", value.span, message, "one figure is due here");
                self.tell(error.help("a range or a tolerance stands behind `=`"));
                None
            }
        }
    }

    /// No supply holds a figure exactly.
    fn tell_exact(&mut self, value: &Value) {
        let text = self.text(value.span);
        let message = format!("nothing is exactly `{text}`");
        let label = "a tolerance or a range is due here";
        let mended = format!("{text} ± 5 %");
        let error = TextError::new("language.wrong-value", value.span, message, label);
        self.tell(error.help(format!("say how far off it may be: `{mended}`")).mend(value.span, mended));
    }

    fn tell_wrong_limit(&mut self, value: &Value, given: &Given, what: &str, dimension: Dimension) {
        let text = self.text(value.span);
        let due = noun(dimension);
        let message = format!("`expect {what}` takes {due}, found `{text}`");
        let error =
            TextError::new("language.wrong-dimension", value.span, message, format!("{due} is due here"));
        let bare = given.dimension() == Some(Dimension::Number);
        let example = if bare { example(dimension, text) } else { None };
        self.tell(match example {
            Some(example) => error.help(format!("write the unit: `{example}`")),
            None => error,
        });
    }

    /// Makes the readings.
    pub(super) fn readings(&mut self, sheet: &Sheet<'a>) {
        for (scope, statement) in &sheet.readings {
            let mode = statement.mode.as_ref().map(|mode| self.mode_named(mode));
            let probe = self.probed(*scope, statement);
            let value = self.read_value(*scope, statement);
            let (Some(probe), Some(value)) = (probe, value) else { continue };
            let mode = match mode {
                Some(None) => continue,
                Some(found) => found,
                None => None,
            };
            let subject = statement.subjects.first().map_or_else(String::new, dotted);
            let subject = self.full_name(*scope, &subject);
            let (date, span) = (statement.date, statement.span);
            self.design.readings.push(Reading { probe, value, mode, date, subject, span });
        }
    }

    fn probed(&mut self, scope: ScopeId, statement: &syntax::Reading) -> Option<Probe> {
        match (&*statement.relation.text, statement.subjects.as_slice()) {
            ("through", [path]) => self.conductor(scope, path),
            ("across", [first, second]) => {
                let (first, second) = (self.end(scope, first), self.end(scope, second));
                Some(Probe::Between(first?, second?))
            }
            (_, [path]) => self.end(scope, path).map(Probe::Terminal),
            _ => None,
        }
    }

    /// The figure that was read: a current through something, a voltage at or across terminals.
    fn read_value(&mut self, scope: ScopeId, statement: &syntax::Reading) -> Option<Quantity> {
        let value = &statement.value;
        let relation = &*statement.relation.text;
        let dimension = if relation == "through" { Dimension::Current } else { Dimension::Voltage };
        let given = self.resolved(scope, value)?;
        match given {
            Given::Quantity(found) if found.dimension == dimension => Some(found),
            _ => {
                let (text, due) = (self.text(value.span), noun(dimension));
                let message = format!("what is read `{relation}` something is {due}, found `{text}`");
                let label = format!("{due} is due here");
                self.tell(TextError::new("language.wrong-dimension", value.span, message, label));
                None
            }
        }
    }

    /// Something a current passes through: a wire, a thing or one of its terminals.
    fn conductor(&mut self, scope: ScopeId, path: &Path) -> Option<Probe> {
        match self.target(scope, &path.segments) {
            Some(Target::Wire) => self.wire_at(scope, path).map(Probe::Wire),
            Some(Target::Thing(id)) => Some(Probe::Thing(id)),
            Some(Target::Withheld) => None,
            _ => self.end(scope, path).map(Probe::Terminal),
        }
    }

    fn wire_at(&mut self, scope: ScopeId, path: &Path) -> Option<WireId> {
        match self.target(scope, &path.segments) {
            Some(Target::Wire) => {}
            Some(Target::Withheld) => return None,
            Some(other) => {
                let message = format!("`{}` is {}, not a wire", dotted(path), self.sort_of(other));
                let label = "a wire is due here";
                self.tell(TextError::new("language.wrong-value", path.span, message, label));
                return None;
            }
            None => {
                self.tell_unknown_path(scope, path);
                return None;
            }
        }
        let name = self.full_name(scope, &dotted(path));
        let found = self.design.wires().find(|(_, wire)| wire.name == name).map(|(id, _)| id);
        if found.is_none() && self.is_spare(&name) {
            let message = format!("`{name}` is a spare core: no current passes through it");
            self.tell(TextError::new(
                "language.wrong-value",
                path.span,
                message,
                "a wire with ends is due here",
            ));
        }
        found
    }

    fn is_spare(&self, name: &str) -> bool {
        self.design.harnesses.iter().any(|harness| harness.spares.iter().any(|spare| spare.name == name))
    }

    fn mode_named(&mut self, name: &syntax::Name) -> Option<super::ModeId> {
        let found = self.design.modes.iter().position(|mode| mode.name == *name.text);
        if found.is_none() {
            self.tell_unknown_mode(&name.text, name.span);
        }
        found.and_then(|at| u32::try_from(at).ok()).map(super::ModeId)
    }

    fn tell_unknown_mode(&mut self, name: &str, span: Span) {
        let names: Vec<String> = self.design.modes.iter().map(|mode| mode.name.clone()).collect();
        self.tell_unknown("mode", name, span, names.iter().map(String::as_str));
    }
}

fn around(nominal: Quantity, tolerance: Quantity) -> Bounds {
    let reach = if tolerance.dimension == nominal.dimension {
        tolerance.value.abs()
    } else {
        (nominal.value * tolerance.value).abs()
    };
    let at = |value: f64| Quantity { value, ..nominal };
    Bounds { low: Some(at(nominal.value - reach)), high: Some(at(nominal.value + reach)) }
}

#[cfg(test)]
mod tests {
    use super::super::{
        Claim, Probe, State, WireId,
        testing::{design, errors},
    };

    const ROBOT: &str = "battery P lipo 6S\nswitch S\nstud A\nwire W P.pos to A\n";

    #[test]
    fn claims_have_their_subjects_and_limits() {
        let design = design(&format!(
            "{ROBOT}expect voltage P.pos >= 20 V in run, off\nexpect current W <= 3 A\nexpect runtime >= 2 h\n\
             expect voltage P.pos = 24 V ± 5 %\nexpect dead P when S open under any-fault\n"
        ));
        let [voltage, current, runtime, around, dead] = design.expectations.as_slice() else {
            panic!("five")
        };
        assert_eq!((voltage.modes.len(), voltage.subject.as_str()), (2, "P.pos"));
        assert!(
            matches!(&current.claim, Claim::Current(Probe::Wire(WireId(0)), bounds) if bounds.low.is_none())
        );
        assert!(
            matches!(&runtime.claim, Claim::Runtime(bounds) if bounds.low.map(|low| low.value) == Some(7200.0))
        );
        let Claim::Voltage(_, bounds) = &around.claim else { panic!("a voltage") };
        let ends = (bounds.low.map(|low| low.value), bounds.high.map(|high| high.value));
        assert!((ends.0.unwrap() - 22.8).abs() < 1e-9 && (ends.1.unwrap() - 25.2).abs() < 1e-9);
        assert!(matches!(&dead.claim, Claim::Dead { state: State::Open, .. }) && dead.any_fault);
    }

    #[test]
    fn readings_have_their_probes() {
        let design = design(&format!(
            "{ROBOT}reading 160 mA through W in off on 2026-05-01\nreading 24 V across P.pos, A\nreading 24 V at A\n"
        ));
        let [through, across, at] = design.readings.as_slice() else { panic!("three") };
        assert!(through.mode.is_some() && through.date.is_some() && through.value.value == 0.16);
        assert!(matches!(across.probe, Probe::Between(..)) && matches!(at.probe, Probe::Terminal(_)));
    }

    #[test]
    fn what_cannot_be_meant_is_told() {
        assert_eq!(
            errors(&format!(
                "{ROBOT}expect voltage P.pos >= 20 V in parade\nexpect dead P when S opn\nreading 1 V at P.nog\n\
                 expect voltage P.pos >= 20 A\nexpect current W >= 20\nexpect voltage P.pos = 24 V\n\
                 reading 3 V through W\nexpect temperature P <= 60 degC\n"
            )),
            [
                "unknown-name: there is no mode `parade`",
                "unknown-state: `opn` is no state of a switch",
                "unknown-terminal: `P` has no terminal `nog`",
                "wrong-dimension: `expect voltage` takes a voltage, found `20 A`",
                "wrong-dimension: `expect current` takes a current, found `20`",
                "wrong-value: nothing is exactly `24 V`",
                "wrong-dimension: what is read `through` something is a current, found `3 V`",
                "wrong-value: `P` is a battery, not a wire",
            ]
        );
    }
}
