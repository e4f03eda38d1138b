//! Accepted risks.

use wattle_grammar::syntax::Path;

use super::{Accept, lower::Lowering, names::Target, places::dotted, scope::ScopeId, sheet::Sheet};

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
            ["unknown-name: nothing is named `NEK`"]
        );
    }
}
