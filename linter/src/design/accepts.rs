//! Accepted risks, and the names that expectations and readings mention.

use wattle_grammar::{
    span::Span,
    syntax::{self, Path},
};

use super::{
    Accept, lower::Lowering, names::Target, places::dotted, rows::Noun, scope::ScopeId, sheet::Sheet, state,
};

impl<'a> Lowering<'a> {
    /// Makes the accepted risks. The rule's name is looked at by whoever knows the rules.
    pub(super) fn accepts(&mut self, sheet: &Sheet<'a>) {
        for (scope, statement) in &sheet.accepts {
            let Some(subject) = self.accepted(*scope, &statement.subject) else { continue };
            self.design.accepts.push(Accept {
                rule: dotted(&statement.rule),
                rule_span: statement.rule.span,
                subject,
                subject_span: statement.subject.span,
                reason: statement.reason.text.to_string(),
                until: statement.until,
                span: statement.span,
            });
        }
    }

    /// The full name of what something is accepted on: a thing, wire, harness, fit, place, mode or the robot.
    fn accepted(&mut self, scope: ScopeId, path: &Path) -> Option<String> {
        let name = dotted(path);
        match self.target(scope, &path.segments) {
            Some(Target::Withheld) => return None,
            Some(_) => return Some(self.full_name(scope, &name)),
            None => {}
        }
        let elsewhere = name == "robot"
            || self.place_ids.contains_key(name.as_str())
            || self.design.modes.iter().any(|mode| mode.name == name);
        if elsewhere {
            return Some(name);
        }
        self.tell_unknown_path(scope, path);
        None
    }

    /// Looks at the names in expectations and readings; their figures are not computed yet.
    pub(super) fn expectations(&mut self, sheet: &Sheet<'a>) {
        for (scope, expect) in &sheet.expects {
            self.expect(*scope, expect);
        }
        for (scope, reading) in &sheet.readings {
            self.reading(*scope, reading);
        }
        let counted: Vec<String> = [(sheet.expects.len(), "expectation"), (sheet.readings.len(), "reading")]
            .into_iter()
            .filter(|(count, _)| *count > 0)
            .map(|(count, word)| if count == 1 { format!("1 {word}") } else { format!("{count} {word}s") })
            .collect();
        if !counted.is_empty() {
            let verb = if sheet.expects.len() + sheet.readings.len() == 1 { "is" } else { "are" };
            self.design.assumptions.push(format!("{} {verb} read but not evaluated", counted.join(" and ")));
        }
    }

    fn expect(&mut self, scope: ScopeId, expect: &syntax::Expect) {
        for path in &expect.subjects {
            match &*expect.what.text {
                "voltage" => drop(self.end(scope, path)),
                "dead" => drop(self.thing_at(scope, path)),
                _ => self.conductor(scope, path),
            }
        }
        if let Some((_, value)) = &expect.limit {
            self.resolved(scope, value);
        }
        if let Some((path, word)) = &expect.when {
            self.condition(scope, path, word);
        }
        for mode in &expect.modes {
            self.mode_name(&mode.text, mode.span);
        }
    }

    fn condition(&mut self, scope: ScopeId, path: &Path, word: &syntax::Name) {
        let Some(id) = self.thing_at(scope, path) else { return };
        let Some(thing) = self.design.things.get(id.index()) else { return };
        let kind = thing.kind;
        if state::of_word(kind, &word.text).is_none() {
            let noun = Noun(kind.word).to_string();
            self.tell_wrong_state(&word.text, word.span, &noun, &state::words(kind));
        }
    }

    fn reading(&mut self, scope: ScopeId, reading: &syntax::Reading) {
        self.resolved(scope, &reading.value);
        for path in &reading.subjects {
            match &*reading.relation.text {
                "through" => self.conductor(scope, path),
                _ => drop(self.end(scope, path)),
            }
        }
        if let Some(mode) = &reading.mode {
            self.mode_name(&mode.text, mode.span);
        }
    }

    /// Something a current passes through: a wire, a thing or one of its terminals.
    fn conductor(&mut self, scope: ScopeId, path: &Path) {
        match self.target(scope, &path.segments) {
            Some(Target::Wire | Target::Thing(_) | Target::Withheld) => {}
            _ => drop(self.end(scope, path)),
        }
    }

    fn mode_name(&mut self, name: &str, span: Span) {
        if self.design.modes.iter().any(|mode| mode.name == name) {
            return;
        }
        let names: Vec<String> = self.design.modes.iter().map(|mode| mode.name.clone()).collect();
        self.tell_unknown("mode", name, span, names.iter().map(String::as_str));
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{design, errors};

    #[test]
    fn risks_are_accepted_on_anything_with_a_name() {
        let design = design(
            "place body\nstud A\nstud B\nharness H { X A to B }\n\
             accept label.missing on H.X because \"tiny\" until 2027-03-01\naccept a.b on body because \"x\"\n\
             accept a.b on robot because \"x\"\naccept a.b on off because \"x\"\n",
        );
        let subjects: Vec<&str> = design.accepts.iter().map(|accept| accept.subject.as_str()).collect();
        assert_eq!(subjects, ["H.X", "body", "robot", "off"]);
        assert_eq!(design.accepts[0].rule, "label.missing");
        assert!(design.accepts[0].until.is_some());
        assert_eq!(
            errors("stud NECK\naccept a.b on NEK because \"x\"\n"),
            ["unknown-name: unknown name `NEK` | did you mean `NECK`?"]
        );
    }

    #[test]
    fn expectations_and_readings_are_counted_and_their_names_checked() {
        let text = "battery P lipo 6S\nswitch S\nstud A\nwire W P.pos to A\n\
                    expect voltage P.pos >= 20 V in run\nexpect dead P when S open under any-fault\n\
                    reading 160 mA through W in off\n";
        assert!(
            design(text)
                .assumptions
                .contains(&"2 expectations and 1 reading are read but not evaluated".to_owned())
        );
        assert_eq!(
            errors(&format!(
                "{text}expect voltage P.pos >= 20 V in parade\nexpect dead P when S opn\nreading 1 V at P.nog\n"
            )),
            [
                "unknown-name: unknown mode `parade`",
                "unknown-state: `opn` is no state of a switch | did you mean `open`?",
                "unknown-terminal: `P` has no terminal `nog` | did you mean `neg`?",
            ]
        );
    }
}
