//! Modes: the written ones line by line, then those that are derived because nobody wrote them.

use std::collections::{BTreeMap, BTreeSet};

use wattle_grammar::{
    error::TextError,
    kind::{KindId, Rating, key, setting},
    quantity::{Amps, Celsius, Dimension, Share},
    span::Span,
    syntax::{self, ModeLine, Shape, Value},
};

use super::{
    Level, Mode, ModeOrigin, Origin, Partners, Rated, RatedValue, Standing, State, ThingId, facts,
    fit::fit,
    lower::Lowering,
    names::Target,
    places::dotted,
    rows::{Noun, Rows},
    scope::ScopeId,
    sheet::Sheet,
    state::{self, Derived},
    value::Given,
};
use crate::complaint::listed;

/// Every mode has a state for every thing, so their number is bounded.
const MAX_MODES: usize = 200;

const MODE: Rows = Rows { noun: Noun("mode"), own: setting::MODE, common: &[] };

impl<'a> Lowering<'a> {
    /// Makes the modes.
    pub(super) fn modes(&mut self, sheet: &Sheet<'a>) {
        self.first_definitions(&sheet.modes, |mode| &mode.name);
        let partners = Partners::new(&self.design);
        for statement in &sheet.modes {
            if self.design.modes.len() == MAX_MODES {
                let message = format!("more than {MAX_MODES} modes");
                self.tell(TextError::new(
                    "language.too-many-modes",
                    statement.name.span,
                    message,
                    "not read from here on",
                ));
                break;
            }
            if self.design.modes.iter().all(|mode| mode.name != *statement.name.text) {
                let mode = self.written_mode(statement, &partners);
                self.design.modes.push(mode);
            }
        }
        self.tell_more_than_the_day();
        let mut derived = Vec::new();
        for which in Derived::ALL {
            let due =
                self.design.things.iter().any(|thing| which.needs().is_none_or(|kind| thing.id() == kind));
            if (due || which.needs().is_none())
                && self.design.modes.iter().all(|mode| mode.name != which.name())
            {
                derived.push(format!("`{}`", which.name()));
                let mode = self.derived_mode(which, &partners);
                self.design.modes.push(mode);
            }
        }
        if !derived.is_empty() && !self.design.things.is_empty() {
            let modes = listed(&derived, "and");
            self.design.assumptions.push(format!("derived because no mode of the name is written: {modes}"));
        }
    }

    /// Nobody spends more than the whole day: the share with which it is too much is told.
    fn tell_more_than_the_day(&mut self) {
        let shares = self.design.modes.iter().filter_map(|mode| {
            let fact = facts::find(&mode.facts, key::SHARE)?;
            let Origin::Thing(span) = fact.origin else { return None };
            Some((facts::quantity::<Share>(fact)?, span))
        });
        let mut spent = Share(0.0);
        let mut beyond = None;
        for (share, span) in shares {
            let before = spent;
            spent = spent + share;
            if beyond.is_none() && spent.0 > 1.0 + 1e-9 {
                beyond = Some((span, before));
            }
        }
        let Some((span, before)) = beyond else { return };
        let left = Share((1.0 - before.0).max(0.0));
        let message = format!("the modes of the working day have {spent} of it in all");
        let error = TextError::new(
            "language.out-of-range",
            span,
            message,
            format!("{left} of the day are left here"),
        );
        self.tell(error.help("write shares that come to 100 % at most; for the rest the robot is put away"));
    }

    fn derived_mode(&self, which: Derived, partners: &Partners) -> Mode {
        let things = self.design.things.iter().zip(partners.usually_mated());
        let mut mode = Mode {
            name: which.name().to_owned(),
            span: self.design.robot.span,
            origin: ModeOrigin::Derived,
            states: things.map(|(thing, mated)| state::derived(thing, mated, which)).collect(),
            duty: Share(1.0),
            ambient: None,
            facts: Vec::new(),
        };
        self.take_turns(&mut mode, None);
        mode
    }

    fn written_mode(&mut self, statement: &'a syntax::Mode, partners: &Partners) -> Mode {
        let things = self.design.things.iter().zip(partners.usually_mated());
        let mut mode = Mode {
            name: statement.name.text.to_string(),
            span: statement.name.span,
            origin: ModeOrigin::Written,
            states: things.map(|(thing, mated)| state::at_rest(thing, mated)).collect(),
            duty: Share(1.0),
            ambient: None,
            facts: Vec::new(),
        };
        self.apply_everything(statement, &mut mode);
        let mut told: BTreeMap<String, Span> = BTreeMap::new();
        for line in &statement.lines {
            self.mode_line(line, partners, &mut mode, &mut told);
        }
        mode
    }

    /// A line about everything counts first, wherever it stands: lines about single things win over it.
    fn apply_everything(&mut self, statement: &'a syntax::Mode, mode: &mut Mode) {
        for line in statement.lines.iter().filter(|line| is_about(line, "everything")) {
            let Some(value) = self.only_value(line) else { continue };
            let level = match &value.shape {
                Shape::Word(word) => state::level(word),
                _ => None,
            };
            let Some(level) = level else {
                self.tell_wrong_state(self.text(value.span), value.span, "`everything`", &state::LEVELS);
                continue;
            };
            for (thing, slot) in self.design.things.iter().zip(&mut mode.states) {
                state::apply_everything(thing, level, slot);
            }
        }
        self.take_turns(mode, None);
    }

    fn mode_line(
        &mut self,
        line: &'a ModeLine,
        partners: &Partners,
        mode: &mut Mode,
        told: &mut BTreeMap<String, Span>,
    ) {
        for subject in &line.subjects {
            let name = dotted(subject);
            if let Some(first) = told.insert(name.clone(), subject.span) {
                let error = TextError::new(
                    "language.given-twice",
                    subject.span,
                    format!("`{name}` has two lines in mode `{}`", mode.name),
                    "again here",
                );
                self.tell(error.related(first, "first here"));
                continue;
            }
            match (&*name, MODE.rating(&name)) {
                ("everything", _) => {}
                (_, Some(rating)) => self.mode_setting(rating, line, mode),
                _ => {
                    let things = self.subject_things(subject, &name);
                    for id in &things {
                        self.apply_line(line, *id, partners, mode);
                    }
                    if things.len() > 1 {
                        self.take_turns(mode, Some(&things));
                    }
                }
            }
        }
    }

    fn mode_setting(&mut self, rating: &'static Rating, line: &'a ModeLine, mode: &mut Mode) {
        let fitted = if rating.is_flag() && line.values.is_empty() {
            Ok(vec![(rating.key, RatedValue::Flag(true))])
        } else {
            let Some(value) = self.only_value(line) else { return };
            let Some(given) = self.resolved(ScopeId::ROBOT, value) else { return };
            fit(MODE, rating, &given, value.span, self.text(value.span))
        };
        let fitted = match fitted {
            Ok(fitted) => fitted,
            Err(error) => return self.tell(*error),
        };
        for (key, value) in fitted {
            match (key, &value) {
                (key::DUTY, RatedValue::Quantity(found)) => mode.duty = Share(found.value),
                (key::AMBIENT, RatedValue::Quantity(found)) => mode.ambient = Some(Celsius(found.value)),
                _ => {}
            }
            let (origin, standing) = (Origin::Thing(line.span), Standing::default());
            mode.facts.push(Rated { key, value, origin, standing });
        }
    }

    fn subject_things(&mut self, subject: &syntax::Path, name: &str) -> BTreeSet<ThingId> {
        let group = self.design.groups.iter().find(|group| group.name == name);
        match (self.target(ScopeId::ROBOT, &subject.segments), group) {
            (Some(Target::Thing(id)), _) => BTreeSet::from([id]),
            (None, Some(group)) => group.members.iter().copied().collect(),
            (None, None) => {
                if subject.segments.len() > 1 {
                    self.thing_at(ScopeId::ROBOT, subject);
                } else {
                    if let Some(error) = self.kind_in_mode(subject, name) {
                        self.tell(error);
                        return BTreeSet::new();
                    }
                    let words: Vec<&str> =
                        MODE.all().map(|rating| rating.key).chain(["everything"]).collect();
                    let groups: Vec<String> =
                        self.design.groups.iter().map(|group| group.name.clone()).collect();
                    let others: Vec<&str> =
                        groups.iter().map(String::as_str).chain(words.iter().copied()).collect();
                    self.tell_unknown_in_scope(ScopeId::ROBOT, name, subject.span, &others);
                }
                BTreeSet::new()
            }
            (Some(_), _) => {
                self.thing_at(ScopeId::ROBOT, subject);
                BTreeSet::new()
            }
        }
    }

    fn apply_line(&mut self, line: &'a ModeLine, id: ThingId, partners: &Partners, mode: &mut Mode) {
        let Some(value) = self.only_value(line) else { return };
        let Some(kind) = self.design.things.get(id.index()).map(|thing| thing.kind) else { return };
        let found = match &value.shape {
            Shape::Word(word) => match (state::of_word(kind, word), self.constant(ScopeId::ROBOT, word)) {
                (Some(found), _) => Some(found),
                (None, Some(None)) => return,
                (None, Some(Some(given))) => drawn(kind.id, &given),
                (None, None) => None,
            },
            _ => match self.given(ScopeId::ROBOT, value) {
                Some(given) => drawn(kind.id, &given),
                None => return,
            },
        };
        match found {
            Some(found) => partners.put(&mut mode.states, id, found),
            None => {
                let noun = Noun(kind.word).to_string();
                self.tell_wrong_state(self.text(value.span), value.span, &noun, &state::words(kind));
            }
        }
    }

    fn only_value(&mut self, line: &'a ModeLine) -> Option<&'a Value> {
        if let [value] = line.values.as_slice() {
            return Some(value);
        }
        let error = self.no_state(line);
        self.tell(error);
        None
    }

    /// Notes that `text` is no state of `noun`, which takes `words`.
    pub(super) fn tell_wrong_state(&mut self, text: &str, span: Span, noun: &str, words: &[&'static str]) {
        if self.broken.may_define(text) {
            return;
        }
        let error = self.wrong_state(text, span, noun, words);
        self.tell(error);
    }
}

fn is_about(line: &ModeLine, word: &str) -> bool {
    line.subjects.iter().any(|subject| dotted(subject) == word)
}

/// An explicit current of something that draws one.
fn drawn(kind: KindId, given: &Given) -> Option<State> {
    match given {
        Given::Quantity(found) if found.dimension == Dimension::Current && state::is_load(kind) => {
            Some(State::Draws(Level::Amps(Amps(found.value))))
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{design, errors};

    use super::super::{Design, Level, State};
    use wattle_grammar::{kind::key, quantity::Amps};

    const ROBOT: &str = "battery P lipo 6S\ncharger C lipo 6S\nswitch S\nstop E\nmotor M, N 24 V\nlight L 12 V\n\
                         controller B 5 V\nplug X 2 way\nsocket Y 2 way\nplug Z 2 way\nmate X with Y\nmotor W { not back-drivable }\n";

    fn state(design: &Design, mode: &str, thing: &str) -> State {
        let mode = design.modes.iter().find(|found| found.name == mode).unwrap();
        let at = design.things.iter().position(|found| found.name == thing).unwrap();
        mode.states[at]
    }

    #[test]
    fn modes_are_derived_in_order_when_not_written() {
        let design = design(&format!("{ROBOT}mode run {{ S closed }}\n"));
        let names: Vec<&str> = design.modes.iter().map(|mode| mode.name.as_str()).collect();
        assert_eq!(names, ["run", "off", "stall", "pushed", "stop", "charge"]);
        assert_eq!(
            design.assumptions,
            ["derived because no mode of the name is written: `off`, `stall`, `pushed`, `stop` and `charge`"]
        );
        for (mode, thing, expected) in [
            ("off", "S", State::Open),
            ("off", "E", State::Closed),
            ("off", "M", State::Draws(Level::Off)),
            ("off", "B", State::Draws(Level::Idle)),
            ("off", "P", State::Closed),
            ("off", "C", State::Open),
            ("off", "X", State::Closed),
            ("off", "Z", State::Open),
            ("stall", "S", State::Closed),
            ("stall", "M", State::Draws(Level::Stall)),
            ("stall", "L", State::Draws(Level::Typical)),
            ("pushed", "M", State::Turned),
            ("pushed", "W", State::Draws(Level::Off)),
            ("pushed", "S", State::Open),
            ("stop", "E", State::Open),
            ("stop", "S", State::Closed),
            ("stop", "M", State::Draws(Level::Off)),
            ("stop", "B", State::Draws(Level::Idle)),
            ("charge", "C", State::Closed),
            ("charge", "S", State::Open),
            ("charge", "M", State::Draws(Level::Off)),
        ] {
            assert_eq!(state(&design, mode, thing), expected, "{thing} in {mode}");
        }
    }

    #[test]
    fn what_is_always_on_draws_in_every_mode_that_does_not_name_it() {
        let design = design(
            "light L, M 12 V 1 A { always-on }\nload N 12 V 1 A { always-on; idle 5 mA }\nmode night { M off }\n",
        );
        for (mode, thing, expected) in [
            ("off", "L", Level::Typical),
            ("off", "N", Level::Idle),
            ("night", "L", Level::Typical),
            ("night", "M", Level::Off),
        ] {
            assert_eq!(state(&design, mode, thing), State::Draws(expected), "{thing} in {mode}");
        }
    }

    #[test]
    fn lines_set_states_and_win_over_everything() {
        let design = design(&format!(
            "{ROBOT}mode go {{ M, N 8 A; everything typical; S closed; E pressed; P absent; C connected; X open\n\
             duty 70 %; ambient 40 degC; L off; W turned }}\n"
        ));
        for (thing, expected) in [
            ("M", State::Draws(Level::Amps(Amps(8.0)))),
            ("L", State::Draws(Level::Off)),
            ("B", State::Draws(Level::Typical)),
            ("S", State::Closed),
            ("E", State::Open),
            ("P", State::Open),
            ("C", State::Closed),
            ("X", State::Open),
            ("Y", State::Open),
            ("W", State::Turned),
        ] {
            assert_eq!(state(&design, "go", thing), expected, "{thing}");
        }
        assert_eq!(design.modes[0].duty.0, 0.7);
        assert_eq!(design.modes[0].ambient.map(|found| found.0), Some(40.0));
    }

    #[test]
    fn a_mode_has_facts_of_its_own() {
        let design = design(&format!(
            "{ROBOT}mode bench {{ attended; unloaded; until 2027-12-31; note \"wheels up\"; M idle }}\n"
        ));
        let facts: Vec<&str> = design.modes[0].facts.iter().map(|rated| rated.key).collect();
        assert_eq!(facts, [key::ATTENDED, key::UNLOADED, key::UNTIL, key::NOTE]);
        assert_eq!(state(&design, "bench", "M"), State::Draws(Level::Idle));
    }

    #[test]
    fn a_half_with_several_partners_is_in_one_of_them() {
        let design = design(
            "plug P 2 way\nsocket R 2 way\nsocket C 2 way\nmate P with R\nmate P with C\n\
             mode filling { C closed; R open }\nmode apart { P open }\nmode loose { R open }\n",
        );
        let states = |mode: &str| ["P", "R", "C"].map(|thing| state(&design, mode, thing));
        assert_eq!(states("off"), [State::Closed, State::Closed, State::Open]);
        assert_eq!(states("filling"), [State::Closed, State::Open, State::Closed]);
        assert_eq!(states("apart"), [State::Open; 3]);
        assert_eq!(states("loose"), [State::Open; 3]);
    }

    #[test]
    fn a_relay_may_have_been_held() {
        let design = design("contactor K 24 V\nmode go { K held }\n");
        assert_eq!(state(&design, "go", "K"), State::Held);
        assert!(
            errors("relay K 24 V\nmode go { K closed }\n")[0].contains("`closed` is no state of a relay")
        );
    }

    #[test]
    fn a_group_is_a_subject() {
        let design = design("motor M, N 24 V { group legs }\nmode go { legs peak }\n");
        assert_eq!(state(&design, "go", "N"), State::Draws(Level::Peak));
    }

    #[test]
    fn wrong_lines_say_what_is_due() {
        assert_eq!(
            errors(&format!(
                "{ROBOT}relay K 24 V\nmode go {{ S clsed; Q closed; K closed; M closed; duty 3 A; L typical; L off }}\nmode go {{ }}\n"
            )),
            [
                "unknown-state: `clsed` is no state of a switch",
                "unknown-name: nothing is named `Q`",
                "unknown-state: `closed` is no state of a relay",
                "unknown-state: `closed` is no state of a motor",
                "wrong-dimension: `duty` takes a share, found `3 A`",
                "given-twice: `L` has two lines in mode `go`",
                "duplicate-name: `go` is defined twice",
            ]
        );
    }
}
