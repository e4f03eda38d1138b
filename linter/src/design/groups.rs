//! Groups: who belongs to them, and how many of their members work at once.

use std::collections::{BTreeMap, BTreeSet};

use wattle_grammar::{
    kind::{KindId, key, setting},
    span::Span,
};

use super::{
    Group, Level, Mode, RatedValue, State, Thing, ThingId,
    lower::Lowering,
    names::duplicate,
    rows::{Noun, Rows},
    sheet::Sheet,
};

const GROUP: Rows = Rows { noun: Noun("group"), own: setting::GROUP, common: &[] };

impl<'a> Lowering<'a> {
    /// Makes the groups, by name: the declared ones and those that only their members name.
    pub(super) fn groups(&mut self, sheet: &Sheet<'a>) {
        let mut groups: BTreeMap<String, Group> = BTreeMap::new();
        for (scope, statement) in &sheet.groups {
            let gathered = self.gather(*scope, GROUP, &statement.values, &statement.settings);
            for name in &statement.names {
                let full = self.full_name(*scope, &name.text);
                if let Some(first) = groups.get(&full).and_then(|group| group.span) {
                    self.tell(duplicate(&name.text, name.span, first));
                    continue;
                }
                let simultaneity = gathered.count(key::SIMULTANEITY);
                groups.insert(full.clone(), group(&full, Some(name.span), simultaneity));
            }
        }
        for (id, thing) in self.design.things() {
            if let Some(RatedValue::Reference(name)) = thing.rated(key::GROUP).map(|rated| &rated.value) {
                let full = around(&thing.name, name, &groups);
                let found = groups.entry(full.clone()).or_insert_with(|| group(&full, None, None));
                found.members.push(id);
            }
        }
        self.design.groups = groups.into_values().collect();
        self.say_simultaneity();
    }

    /// What is taken for granted where not all members of a group work at once.
    fn say_simultaneity(&mut self) {
        let mut sentences = Vec::new();
        for group in &self.design.groups {
            let Some(some) = group.simultaneity.filter(|some| (*some as usize) < group.members.len()) else {
                continue;
            };
            let stalls: Option<f64> =
                group.members.iter().map(|id| current(self.design.thing(*id), Level::Stall)).sum();
            let all = stalls.map_or_else(String::new, |amps| {
                format!("; all of them stalled at once would draw {}", wattle_grammar::quantity::Amps(amps))
            });
            let (name, count) = (&group.name, group.members.len());
            sentences.push(format!(
                "`simultaneity` of `{name}`: {some} of its {count} members work at once, as stated{all}"
            ));
        }
        self.design.assumptions.extend(sentences);
    }

    /// Puts the members of groups that do not work at once to rest; only of those among `touched`, where given.
    pub(super) fn take_turns(&self, mode: &mut Mode, touched: Option<&BTreeSet<ThingId>>) {
        for group in &self.design.groups {
            let Some(some) = group.simultaneity else { continue };
            let mut working: Vec<(ThingId, f64)> = Vec::new();
            for id in &group.members {
                let counts = touched.is_none_or(|touched| touched.contains(id));
                if let (true, Some(State::Draws(level))) = (counts, mode.states.get(id.index()))
                    && !matches!(level, Level::Off | Level::Idle)
                {
                    // Whoever does not say what it draws is taken to be among those that work.
                    let amps = current(self.design.thing(*id), *level).unwrap_or(f64::INFINITY);
                    working.push((*id, amps));
                }
            }
            working.sort_by(|(a, first), (b, second)| second.total_cmp(first).then(a.cmp(b)));
            for (id, _) in working.into_iter().skip(some as usize) {
                if let Some(slot) = mode.states.get_mut(id.index()) {
                    *slot = at_rest(self.design.thing(id));
                }
            }
        }
    }
}

/// The full name of the group that a thing means: that of the innermost assembly around it that has one of the name,
/// else the robot's.
fn around(thing: &str, name: &str, groups: &BTreeMap<String, Group>) -> String {
    let mut outer = thing;
    while let Some((assembly, _)) = outer.rsplit_once('.') {
        let full = format!("{assembly}.{name}");
        if groups.contains_key(&full) {
            return full;
        }
        outer = assembly;
    }
    name.to_owned()
}

fn group(name: &str, span: Option<Span>, simultaneity: Option<u32>) -> Group {
    Group { name: name.to_owned(), span, members: Vec::new(), simultaneity }
}

/// A motor's idle figure is that of running free: one that waits for its turn draws nothing.
fn at_rest(thing: &Thing) -> State {
    State::Draws(if thing.id() == KindId::Motor { Level::Off } else { Level::Idle })
}

/// What a thing draws at a level, ampere, as far as it says so.
fn current(thing: &Thing, level: Level) -> Option<f64> {
    match level {
        Level::Off => Some(0.0),
        Level::Idle => thing.number(key::IDLE),
        Level::Typical => thing.number(key::TYPICAL),
        Level::Peak => thing.number(key::PEAK),
        Level::Stall => thing.number(key::STALL),
        Level::Amps(amps) => Some(amps.0),
    }
}

#[cfg(test)]
mod tests {
    use super::super::{
        Design, Level, State,
        testing::{design, errors},
    };

    const EARS: &str = "group EARS { simultaneity 2 }\n\
        servo A 5 V 0.3 A { stall 2 A; group EARS }\nservo B 5 V 0.5 A { stall 1 A; group EARS }\n\
        servo C 5 V 0.1 A { stall 3 A; group EARS }\nservo D 5 V { group LEGS }\n";

    fn level(design: &Design, mode: &str, thing: &str) -> Level {
        let mode = design.modes.iter().find(|found| found.name == mode).unwrap();
        let at = design.things.iter().position(|found| found.name == thing).unwrap();
        let State::Draws(level) = mode.states[at] else { panic!("a load") };
        level
    }

    #[test]
    fn the_hungriest_members_work_and_the_others_rest() {
        let design = design(EARS);
        let levels = |mode: &str| ["A", "B", "C", "D"].map(|thing| level(&design, mode, thing));
        assert_eq!(levels("run"), [Level::Typical, Level::Typical, Level::Idle, Level::Typical]);
        assert_eq!(levels("stall"), [Level::Stall, Level::Idle, Level::Stall, Level::Stall]);
        let said = design.assumptions.iter().find(|sentence| sentence.contains("EARS")).unwrap();
        assert!(said.contains("2 of its 3 members") && said.contains("6 A"), "{said}");
    }

    #[test]
    fn a_line_about_one_member_wins() {
        let text = format!("{EARS}mode all {{ everything typical; C stall }}\nmode ears {{ EARS peak }}\n");
        let design = design(&text);
        let levels = |mode: &str| ["A", "B", "C"].map(|thing| level(&design, mode, thing));
        assert_eq!(levels("all"), [Level::Typical, Level::Typical, Level::Stall]);
        // No peak is written, so the first two of the text are taken.
        assert_eq!(levels("ears"), [Level::Peak, Level::Peak, Level::Idle]);
    }

    #[test]
    fn every_fit_of_an_assembly_has_the_groups_in_it() {
        let design = design(
            "assembly LEG { servo HIP, SHIN 5 V 1 A { group CREW } }\n\
             assembly SIDE { group CREW { simultaneity 2 }\nfit LEG as front, rear }\nfit SIDE as left, right\n\
             servo JAW 5 V 1 A { group CREW }\nmode reach { left.CREW peak }\n",
        );
        let names: Vec<(&str, usize)> =
            design.groups.iter().map(|group| (group.name.as_str(), group.members.len())).collect();
        assert_eq!(names, [("CREW", 1), ("left.CREW", 4), ("right.CREW", 4)]);
        let levels = |mode: &str, side: &str| {
            ["front.HIP", "front.SHIN", "rear.HIP", "rear.SHIN"]
                .map(|thing| level(&design, mode, &format!("{side}.{thing}")))
        };
        let two = [Level::Typical, Level::Typical, Level::Idle, Level::Idle];
        assert_eq!([levels("run", "left"), levels("run", "right")], [two, two]);
        assert_eq!(levels("reach", "left")[..2], [Level::Peak, Level::Peak]);
        assert_eq!(levels("reach", "right"), [Level::Off; 4]);
        assert_eq!(level(&design, "run", "JAW"), Level::Typical);
    }

    #[test]
    fn a_group_is_declared_once() {
        assert_eq!(
            errors("group A\ngroup A, B\nservo S 5 V { group B }\n"),
            ["duplicate-name: `A` is defined twice"]
        );
    }
}
