//! Paths resolved: a dotted name to a thing or to one of its terminals, with what is wrong when it leads nowhere.

use std::borrow::Cow;

use wattle_grammar::{
    error::{TextError, quoted},
    kind::KindId,
    span::Span,
    syntax::{Name, Path},
};

use super::{
    TerminalId, ThingId,
    lower::Lowering,
    names::{Target, with_nearest},
    places::dotted,
    scope::ScopeId,
    unfold::MAX_DEPTH,
};
use crate::complaint::listed;

impl<'a> Lowering<'a> {
    /// What the segments stand for in a scope.
    pub(super) fn target(&self, scope: ScopeId, segments: &[Name]) -> Option<Target> {
        let prefix = &self.scope(scope).prefix;
        let full: Cow<'_, str> = match segments {
            [only] if prefix.is_empty() => Cow::Borrowed(&only.text),
            _ => {
                let mut full = prefix.clone();
                for (at, segment) in segments.iter().enumerate() {
                    if at > 0 {
                        full.push('.');
                    }
                    full.push_str(&segment.text);
                }
                Cow::Owned(full)
            }
        };
        self.names.get(&full)
    }

    /// The terminal at a path: `THING.terminal`, a thing that is its own terminal, or an outward terminal of a fit.
    pub(super) fn end(&mut self, scope: ScopeId, path: &Path) -> Option<TerminalId> {
        if let Some((last, before @ [_, ..])) = path.segments.split_last() {
            match self.target(scope, before) {
                Some(Target::Thing(id)) => return self.terminal_of(id, last),
                Some(Target::Withheld) => return None,
                Some(Target::Fit(inner)) => {
                    if let Some(path) = self.scope(inner).outward.get(&*last.text).cloned() {
                        return self.end(inner, &path);
                    }
                }
                Some(Target::Wire | Target::Harness(_)) | None => {}
            }
        }
        match self.target(scope, &path.segments) {
            Some(Target::Thing(id)) => self.only_terminal(id, path),
            Some(Target::Withheld) => None,
            Some(Target::Fit(inner)) => {
                self.tell_bare_fit(inner, path);
                None
            }
            Some(other @ (Target::Wire | Target::Harness(_))) => {
                let message = format!("{} is {}, a terminal is due", quoted(&dotted(path)), other.noun());
                let error =
                    TextError::new("language.not-a-terminal", path.span, message, "a terminal is due here");
                self.tell(error.help("wires meet at a terminal of a thing, such as a `splice` or `stud`"));
                None
            }
            None => {
                self.tell_unknown_path(scope, path);
                None
            }
        }
    }

    /// The thing at a path.
    pub(super) fn thing_at(&mut self, scope: ScopeId, path: &Path) -> Option<ThingId> {
        match self.target(scope, &path.segments) {
            Some(Target::Thing(id)) => Some(id),
            Some(Target::Withheld) => None,
            Some(other) => {
                let message = format!("{} is {}, a thing is due", quoted(&dotted(path)), other.noun());
                let label = "the name of a thing is due here";
                self.tell(TextError::new("language.not-a-thing", path.span, message, label));
                None
            }
            None => {
                match self.terminal_for_thing(scope, path) {
                    Some(error) => self.tell(error),
                    None => self.tell_unknown_path(scope, path),
                }
                None
            }
        }
    }

    /// The position of a thing's terminal by name or alias.
    pub(super) fn position(&self, thing: usize, name: &str) -> Option<u32> {
        self.shapes.get(*self.shape_of.get(thing)?)?.position(name)
    }

    fn terminal_of(&mut self, id: ThingId, last: &Name) -> Option<TerminalId> {
        let thing = self.design.things.get(id.index())?;
        match self.position(id.index(), &last.text) {
            Some(position) if position < thing.terminal_count => {
                Some(TerminalId(thing.first_terminal + position))
            }
            Some(_) => None,
            None => {
                self.tell_unknown_terminal(id.index(), &last.text, last.span);
                None
            }
        }
    }

    fn only_terminal(&mut self, id: ThingId, path: &Path) -> Option<TerminalId> {
        let thing = self.design.things.get(id.index())?;
        let first = TerminalId(thing.first_terminal);
        if thing.terminal_count == 1 || (thing.id() == KindId::Block && thing.terminal_count > 0) {
            return Some(first);
        }
        if self.is_uncertain(id.index()) {
            return None;
        }
        let error = self.which_terminal(id.index(), path.span);
        self.errors.extend(error);
        None
    }

    /// Notes that a thing has no terminal of this name, unless its terminals are not certain.
    pub(super) fn tell_unknown_terminal(&mut self, thing: usize, name: &str, span: Span) {
        if self.is_uncertain(thing) {
            return;
        }
        let error = self.unknown_terminal(thing, name, span);
        self.errors.extend(error);
    }

    fn is_uncertain(&self, thing: usize) -> bool {
        self.uncertain.get(thing).copied().unwrap_or(true)
    }

    pub(super) fn terminals_listed(&self, thing: usize) -> String {
        let shape = self.shape_of.get(thing).and_then(|shape| self.shapes.get(*shape));
        shape.map(super::shape::Shape::listed).unwrap_or_default()
    }

    fn tell_bare_fit(&mut self, inner: ScopeId, path: &Path) {
        let outward: Vec<String> =
            self.scope(inner).outward.keys().map(|name| format!("`{}.{name}`", dotted(path))).collect();
        let message = format!("`{}` is a fitted assembly: say which of its terminals", dotted(path));
        let error =
            TextError::new("language.which-terminal", path.span, message, "a terminal is due after this");
        self.tell(match outward.as_slice() {
            [] => {
                error.help("it has none: an assembly hands them outward with `terminal NAME THING.terminal`")
            }
            some => error.help(format!("write {}", listed(some, "or"))),
        });
    }

    /// Notes that a path leads nowhere, at its first name that is not known.
    pub(super) fn tell_unknown_path(&mut self, scope: ScopeId, path: &Path) {
        // Fits nest so deep and no deeper; a longer path is wrong from its start.
        let longest = path.segments.len().min(MAX_DEPTH as usize + 2);
        let known = (1..longest)
            .rev()
            .find_map(|count| Some((count, self.target(scope, path.segments.get(..count)?)?)));
        match known {
            Some((_, Target::Withheld)) => {}
            Some((count, Target::Fit(inner))) => {
                let rest = path.segments.get(count..).unwrap_or_default();
                self.tell_unknown_rest(inner, rest);
            }
            Some((count, target)) => {
                let error = self.leads_nowhere(target, path, count);
                self.tell(error);
            }
            None => {
                let Some(first) = path.segments.first() else { return };
                self.tell_unknown_in_scope(scope, &first.text, first.span, &[]);
            }
        }
    }

    fn tell_unknown_rest(&mut self, inner: ScopeId, rest: &[Name]) {
        let Some(first) = rest.first() else { return };
        if self.broken.may_define(&first.text) {
            return;
        }
        let fit = self.scope(inner).prefix.trim_end_matches('.').to_owned();
        if rest.len() > 1 {
            let error = self.nothing_named(inner, Some(&fit), (&first.text, first.span), &[]);
            return self.tell(error);
        }
        let outward: Vec<String> = self.scope(inner).outward.keys().map(|name| (*name).to_owned()).collect();
        let message = format!("`{fit}` has no outward terminal {}", quoted(&first.text));
        let quoted: Vec<String> = outward.iter().map(|name| format!("`{name}`")).collect();
        let label = format!("it has {}", listed(&quoted, "and"));
        let near = self.nearest.find(&first.text, outward.iter().map(String::as_str));
        let error = TextError::new("language.unknown-terminal", first.span, message, label);
        self.errors.push(with_nearest(error, first.span, near));
    }

    /// Notes an unknown name, with the nearest name of the scope or of `others`.
    pub(super) fn tell_unknown_in_scope(&mut self, scope: ScopeId, name: &str, span: Span, others: &[&str]) {
        if self.broken.may_define(name) {
            return;
        }
        let error = self.nothing_named(scope, None, (name, span), others);
        self.errors.push(error);
    }

    /// Looks at every outward terminal, used or not.
    pub(super) fn check_outward(&mut self) {
        for at in 0..self.scopes.len() {
            let paths: Vec<Path> = self
                .scopes
                .get(at)
                .map(|scope| scope.outward.values().cloned().collect())
                .unwrap_or_default();
            for path in paths {
                self.end(ScopeId(at), &path);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{design, errors};

    use super::super::TerminalId;

    #[test]
    fn aliases_and_single_terminals_are_ends() {
        let design = design(
            "relay K 24 V\nstud S\nblock B 2 way\nwire W1 K.86 to S\nwire W2 K.30 to B\nwire W3 B.2 to K.87\n",
        );
        let names = |id: TerminalId| design.terminal_name(id);
        let ends: Vec<_> = design.wires.iter().map(|wire| (names(wire.from.0), names(wire.to.0))).collect();
        let expected = [("K.A1", "S"), ("K.11", "B.in"), ("B.2", "K.14")];
        assert!(ends.iter().zip(expected).all(|((from, to), (a, b))| from == a && to == b), "{ends:?}");
    }

    #[test]
    fn wrong_ends_say_what_is_there() {
        assert_eq!(
            errors(
                "motor M 24 V\nstud S\nwire W1 M.pso to S\nwire W2 M to S\nwire W3 N.a to S\nwire W4 W1 to T\n"
            ),
            [
                "unknown-terminal: `M` has no terminal `pso`",
                "which-terminal: `M` has 2 terminals: say which",
                "unknown-name: nothing is named `N`",
                "not-a-terminal: `W1` is a wire, a terminal is due",
                "unknown-name: nothing is named `T`",
            ]
        );
    }

    #[test]
    fn names_of_a_broken_statement_are_withheld() {
        let project = super::super::testing::project(&[(
            "robot.wattle",
            "stud S\nplug J7 4 way $$\nwire W J7.1 to S\nwire V J8.1 to S\n",
        )]);
        assert_eq!(project.files[0].parse.errors.len(), 1);
        let (_, errors) = super::super::lower(&project);
        assert_eq!(super::super::testing::short(&errors), ["unknown-name: nothing is named `J8`"]);
    }

    #[test]
    fn names_may_stand_in_a_missing_file() {
        let project = super::super::testing::project(&[(
            "robot.wattle",
            "use \"gone.wattle\"\nstud S\nwire W J7.1 to S\n",
        )]);
        assert_eq!(project.errors.len(), 1);
        assert_eq!(super::super::lower(&project).1, []);
    }
}
