//! The robot statement and the places.

use wattle_grammar::{
    error::TextError,
    kind::{key, setting},
    quantity::Celsius,
    syntax,
};

use super::{
    Origin, Place, PlaceId, RatedValue, Robot,
    gather::Gathered,
    lower::Lowering,
    names::duplicate,
    rows::{Noun, Rows},
    scope::ScopeId,
};

const ROBOT: Rows = Rows { noun: Noun("robot"), own: setting::ROBOT, common: &[] };
const PLACE: Rows = Rows { noun: Noun("place"), own: setting::PLACE, common: &[] };

impl<'a> Lowering<'a> {
    /// The robot: the first statement counts, further ones are errors.
    pub(super) fn robot(&mut self, robots: &[&'a syntax::Robot]) {
        let Some((first, others)) = robots.split_first() else { return };
        for other in others {
            let message = format!("a second robot, `{}`, in one project", other.name.text);
            let error = TextError::new("language.duplicate-name", other.name.span, message, "another robot");
            let help = "keep one `robot` in the files that use each other";
            self.tell(error.related(first.name.span, "the robot").help(help));
        }
        let gathered = self.gather(ScopeId::ROBOT, ROBOT, &[], &first.settings);
        let profile = gathered.get(key::PROFILE).and_then(|written| match &written.value {
            RatedValue::Word(word) => Some((word.clone(), written.span)),
            _ => None,
        });
        self.design.robot = Robot {
            name: first.name.text.to_string(),
            span: first.name.span,
            ambient: gathered.range(key::AMBIENT),
            profile,
            facts: gathered.rated(Origin::Thing),
        };
        self.robot_says = gathered;
    }

    /// The places, in text order.
    pub(super) fn places(&mut self, places: &[&'a syntax::Place]) {
        for statement in places {
            let gathered = self.gather(ScopeId::ROBOT, PLACE, &statement.values, &statement.settings);
            for name in &statement.names {
                self.add_place(name, &gathered);
            }
        }
    }

    fn add_place(&mut self, name: &'a syntax::Name, gathered: &Gathered) {
        if let Some(first) = self.place_ids.get(&*name.text) {
            let first = self.design.places.get(first.index()).map_or(name.span, |place| place.span);
            self.errors.push(duplicate(&name.text, name.span, first));
            return;
        }
        let id = PlaceId(u32::try_from(self.design.places.len()).unwrap_or(u32::MAX));
        self.place_ids.insert(&name.text, id);
        self.design.places.push(Place {
            name: name.text.to_string(),
            span: name.span,
            ambient: gathered.range::<Celsius>(key::AMBIENT).or(self.design.robot.ambient),
            moving: gathered.flag(key::MOVING),
            sealed: gathered.flag(key::SEALED),
            facts: gathered.rated(Origin::Thing),
        });
    }

    /// What the facts of places name, once there are things: the fan that cools it.
    pub(super) fn refer_from_places(&mut self) {
        for at in 0..self.design.places.len() {
            let Some(place) = self.design.places.get_mut(at) else { continue };
            let mut facts = std::mem::take(&mut place.facts);
            for rated in &mut facts {
                if let (RatedValue::Reference(name), Origin::Thing(span)) = (&rated.value, &rated.origin)
                    && let Some(full) = self.reference(ScopeId::ROBOT, name, *span)
                {
                    rated.value = RatedValue::Reference(full);
                }
            }
            if let Some(place) = self.design.places.get_mut(at) {
                place.facts = facts;
            }
        }
    }

    /// The place behind `at`; an unknown one is told.
    pub(super) fn place(&mut self, path: &syntax::Path) -> Option<PlaceId> {
        let name = dotted(path);
        let found = self.place_ids.get(name.as_str()).copied();
        if found.is_none() {
            let names = self.candidates(self.place_ids.keys().copied());
            self.tell_unknown("place", &name, path.span, names.into_iter());
        }
        found
    }
}

/// A path as written.
pub(super) fn dotted(path: &syntax::Path) -> String {
    match path.segments.as_slice() {
        [only] => only.text.to_string(),
        segments => segments.iter().map(|name| &*name.text).collect::<Vec<&str>>().join("."),
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{design, errors};

    #[test]
    fn places_take_the_ambient_of_the_robot() {
        let design = design(
            "robot \"Heron\" { ambient 5 degC .. 35 degC; profile aircraft }\nplace body\n\
             place head { ambient 45 degC; moving; sealed }\nstud S at head\n",
        );
        assert_eq!(design.robot.profile.as_ref().map(|(word, _)| word.as_str()), Some("aircraft"));
        assert_eq!(design.places[0].ambient.map(|(low, high)| (low.0, high.0)), Some((5.0, 35.0)));
        assert_eq!(design.places[1].ambient.map(|(low, high)| (low.0, high.0)), Some((45.0, 45.0)));
        assert!(design.places[1].moving && design.places[1].sealed);
        assert_eq!(design.things[0].place.map(|place| place.index()), Some(1));
    }

    #[test]
    fn the_builder_has_a_scheme_of_colours() {
        let design = design("robot \"Heron\" { positive-colours red, red/white; negative-colours black }\n");
        let words = |at: usize| match &design.robot.facts[at].value {
            super::RatedValue::Words(words) => words.clone(),
            other => panic!("{other:?}"),
        };
        assert_eq!((words(0), words(1)), (vec!["red".into(), "red/white".into()], vec!["black".to_owned()]));
        assert_eq!(
            errors("robot \"Heron\" { positive-colours red rouge }\n")[0].split('|').next(),
            Some("unknown-word: `rouge` is no positive-colours")
        );
    }

    #[test]
    fn what_a_place_names_has_to_be_there() {
        let text = "place shell { cooled-by FAN; exposed-to oil, abrasion }\nload FAN 12 V 0.2 A at shell\n";
        let fan = design(text).places[0].facts[0].value.clone();
        assert_eq!(fan, super::RatedValue::Reference("FAN".to_owned()));
        assert_eq!(errors("place shell { cooled-by FAN }\n"), ["unknown-name: nothing is named `FAN`"]);
        assert!(errors(&format!("{text}assembly NECK {{ stud S }}\n")).is_empty());
    }

    #[test]
    fn places_and_robots_are_defined_once() {
        let found = errors("robot \"A\"\nrobot \"B\"\nplace body\nplace body\nstud S at bodi\n");
        assert_eq!(found.len(), 3, "{found:?}");
        assert!(found[0].starts_with("duplicate-name: a second robot, `B`"), "{found:?}");
        assert_eq!(found[2], "unknown-name: there is no place `bodi`");
    }
}
