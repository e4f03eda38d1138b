//! Constants: `let` statements worked out in the order in which they need each other.

use std::collections::BTreeSet;

use wattle_grammar::{
    error::{TextError, quoted},
    evaluate::{Surroundings, Trouble, operation},
    span::Span,
    syntax::{Assembly, Let, Operator, Shape, Value},
};

use super::{
    lower::Lowering,
    scope::{Constant, ScopeId},
    value::{Given, Within},
};
use crate::{
    complaint::{around, chain},
    order::order,
};

impl<'a> Lowering<'a> {
    /// Works out the constants of a scope; its parameters are known already.
    pub(super) fn constants(&mut self, scope: ScopeId, lets: &[&'a Let]) {
        let named = self.first_definitions(lets, |constant| &constant.name);
        let names: Vec<&'a str> = named.keys().copied().collect();
        let statements: Vec<&'a Let> = named.values().copied().collect();
        let edges: Vec<Vec<usize>> = statements
            .iter()
            .map(|statement| {
                let mut needs = Vec::new();
                words_in(&statement.value, &mut |word| needs.extend(names.binary_search(&word)));
                needs
            })
            .collect();
        let order = order(&edges);
        let mut circular = BTreeSet::new();
        for cycle in order.cycles {
            self.tell_constant_cycle(&cycle, &statements);
            circular.extend(cycle);
        }
        // All names are known before the first value is worked out, so that a wrong one finds its neighbour.
        let free: Vec<bool> =
            statements.iter().map(|statement| self.claim_constant(scope, statement)).collect();
        for at in order.sequence {
            let Some(statement) = statements.get(at).filter(|_| free.get(at) == Some(&true)) else {
                continue;
            };
            let value = if circular.contains(&at) { None } else { self.figure(scope, &statement.value) };
            if let Some(found) = self.scopes.get_mut(scope.0) {
                found.constants.insert(&statement.name.text, value);
            }
        }
    }

    /// Makes a constant known, without a value yet; false when a parameter has its name, which has been told.
    fn claim_constant(&mut self, scope: ScopeId, statement: &'a Let) -> bool {
        let name: &'a str = &statement.name.text;
        let Some(found) = self.scopes.get_mut(scope.0) else { return false };
        if found.constants.contains_key(name) {
            return false;
        }
        found.constants.insert(name, None);
        true
    }

    /// Notes the constants of an assembly that have the name of one of its parameters.
    pub(super) fn tell_shadowed(&mut self, assembly: &Assembly, lets: &[&Let]) {
        for parameter in assembly.settings.iter().filter(|setting| &*setting.key.text == "parameter") {
            let Some(value) = parameter.values.first() else { continue };
            let Shape::Word(name) = &value.shape else { continue };
            for constant in lets.iter().filter(|constant| constant.name.text == *name) {
                let message = format!("{} is a parameter of the assembly and a constant in it", quoted(name));
                let span = constant.name.span;
                let error = TextError::new("language.duplicate-name", span, message, "defined again here");
                let error = error.related(value.span, "the parameter");
                self.tell(error.help("give one of them another name, or take one out"));
            }
        }
    }

    /// The value of a constant: a quantity, or a range or tolerance of quantities.
    fn figure(&mut self, scope: ScopeId, value: &Value) -> Constant {
        let found = self.resolved(scope, value)?;
        if found.dimension().is_some() {
            return Some(found);
        }
        let message =
            format!("{} is {}, a constant is a number", quoted(self.text(value.span)), found.noun());
        let error = TextError::new("language.wrong-value", value.span, message, "a number is due here");
        self.tell(error.help("a constant names a number with its unit: `let NECK-RUN = 1.2 m`"));
        None
    }

    fn tell_constant_cycle(&mut self, cycle: &[usize], statements: &[&Let]) {
        let members: Vec<&Let> = cycle.iter().filter_map(|at| statements.get(*at).copied()).collect();
        let Some(first) = members.first() else { return };
        let message = match members.as_slice() {
            [only] => format!("`{}` needs itself", only.name.text),
            _ => format!(
                "constants need each other in a circle: {}",
                chain(members.iter().map(|member| &*member.name.text))
            ),
        };
        let error = TextError::new("language.constant-cycle", first.name.span, message, "never gets a value");
        let help = if members.len() == 1 { "give it a number" } else { "give one of them a number" };
        self.tell(around(error, members.iter().skip(1).map(|member| member.name.span)).help(help));
    }

    /// The constant of this name that is seen from a scope: its own, else the robot's.
    pub(super) fn constant(&self, scope: ScopeId, name: &str) -> Option<Constant> {
        let own = self.scope(scope).constants.get(name);
        own.or_else(|| self.scope(ScopeId::ROBOT).constants.get(name)).cloned()
    }

    /// The names of all constants that are seen from a scope, for the nearest one to be found among them.
    pub(super) fn constants_in(&self, scope: ScopeId) -> Vec<&'a str> {
        if self.nearest.is_spent() {
            return Vec::new();
        }
        let robot = self.scope(ScopeId::ROBOT).constants.keys();
        let own = (scope != ScopeId::ROBOT).then(|| self.scope(scope).constants.keys());
        own.into_iter().flatten().chain(robot).copied().collect()
    }

    /// A value in which a bare word can only be a constant.
    pub(super) fn resolved(&mut self, scope: ScopeId, value: &Value) -> Option<Given> {
        match &value.shape {
            Shape::Word(word) => self.resolved_word(scope, word, value.span),
            _ => self.given(scope, value),
        }
    }

    /// What a word that can only be a constant stands for; `RUN/PARTS` is the quotient of two.
    pub(super) fn resolved_word(&mut self, scope: ScopeId, word: &str, span: Span) -> Option<Given> {
        if let Some(constant) = self.constant(scope, word) {
            return constant;
        }
        let sides = word
            .split_once('/')
            .and_then(|(top, bottom)| Some((self.constant(scope, top)?, self.constant(scope, bottom)?)));
        let Some((top, bottom)) = sides else {
            self.tell_unknown_constant(scope, word, span, "a value");
            return None;
        };
        let mut within = Within { lowering: self, scope };
        match (top?, bottom?) {
            (Given::Quantity(top), Given::Quantity(bottom)) => {
                operation(span, Operator::Divide, top, bottom, &mut within).map(Given::Quantity)
            }
            (Given::Quantity(_), found) | (found, _) => {
                within.tell(Trouble::NoQuantity { span, found });
                None
            }
        }
    }

    /// Notes that `word`, where `due` is due, is no constant.
    pub(super) fn tell_unknown_constant(&mut self, scope: ScopeId, word: &str, span: Span, due: &str) {
        if self.broken.may_define(word) {
            return;
        }
        let error = self.unknown_constant(scope, word, span, due);
        self.tell(error);
    }
}

/// Calls `found` with every bare word in a value. Without recursion: a sum may be as long as the text.
fn words_in<'v>(value: &'v Value, found: &mut dyn FnMut(&'v str)) {
    let mut waiting = vec![value];
    while let Some(value) = waiting.pop() {
        match &value.shape {
            // `A/B` is two names.
            Shape::Word(word) => word.split('/').for_each(&mut *found),
            Shape::Range(one, other) | Shape::Tolerance(one, other) | Shape::Sum(_, one, other) => {
                waiting.extend([&**other, &**one]);
            }
            Shape::Negative(inner) => waiting.push(inner),
            Shape::Quantity(_) | Shape::Path(_) | Shape::Text(_) | Shape::Date(_) => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{design, errors};

    #[test]
    fn constants_need_no_order_and_may_need_each_other() {
        let text = "let TOTAL = HALF * 2\nlet HALF = 0.6 m\nstud A\nstud B\nwire W A to B 12 AWG TOTAL\n";
        assert_eq!(design(text).wires[0].length.map(|length| length.0), Some(1.2));
    }

    #[test]
    fn a_circle_of_constants_is_named_once() {
        let found = errors("let A = B + 1 m\nlet B = A\nstud S A\n");
        assert_eq!(found, ["constant-cycle: constants need each other in a circle: `A` → `B` → `A`"]);
    }

    #[test]
    fn a_constant_defined_twice_and_an_unknown_one() {
        let found = errors("let RUN = 1 m\nlet RUN = 2 m\nlet B = RUM + 1 m\n");
        assert_eq!(found.len(), 2, "{found:?}");
        assert!(found[0].starts_with("duplicate-name: `RUN` is defined twice"), "{found:?}");
        assert!(found[1].contains("RUM"), "{found:?}");
    }
}
