//! Unfolding: every statement visited in text order, the contents of an assembly wherever it is fitted.

use wattle_grammar::{
    error::TextError,
    kind::by_word,
    syntax::{self, Assembly, Fit, Item, Name},
};

use super::{
    Fitted, HarnessId, ThingId,
    lower::Lowering,
    names::Target,
    scope::{Scope, ScopeId},
    sheet::{Declared, Fittable, Sheet, WireSeed},
};
use crate::stock;

/// Assemblies may be fitted in each other this deep.
pub(super) const MAX_DEPTH: u32 = 32;
/// All fits together may unfold to this many statements.
const MAX_UNFOLDED: usize = 100_000;

impl<'a> Lowering<'a> {
    /// Puts one statement on the sheet.
    pub(super) fn visit(&mut self, sheet: &mut Sheet<'a>, scope: ScopeId, item: &'a Item, depth: u32) {
        match item {
            Item::Thing(thing) => self.visit_thing(sheet, scope, thing),
            Item::Wire(wire) => self.visit_wire(sheet, scope, wire, None),
            Item::Harness(harness) => self.visit_harness(sheet, scope, harness),
            Item::Fit(fit) => self.visit_fit(sheet, scope, fit, depth),
            Item::Tie(tie) => sheet.ties.push((scope, tie)),
            Item::Mate(mate) => sheet.mates.push((scope, mate)),
            Item::Group(group) => sheet.groups.push((scope, group)),
            Item::Accept(accept) => sheet.accepts.push((scope, accept)),
            Item::Expect(expect) => sheet.expects.push((scope, expect)),
            Item::Reading(reading) => sheet.readings.push((scope, reading)),
            // These are collected before, or refused in assemblies, or already told.
            Item::Edition(_)
            | Item::Use(_)
            | Item::Let(_)
            | Item::Robot(_)
            | Item::Place(_)
            | Item::Part(_)
            | Item::Mode(_)
            | Item::Assembly(_)
            | Item::Broken(_) => {}
        }
    }

    fn visit_thing(&mut self, sheet: &mut Sheet<'a>, scope: ScopeId, thing: &'a syntax::Thing) {
        let known = by_word(&thing.kind.text).is_some();
        let mut names = Vec::new();
        for name in &thing.names {
            let full = self.full_name(scope, &name.text);
            let target = if known { Target::Thing(ThingId(sheet.thing_count)) } else { Target::Withheld };
            if self.define(&full, target, name.span) && known {
                sheet.thing_count = sheet.thing_count.saturating_add(1);
                names.push((full, name.span));
            }
        }
        sheet.things.push(Declared { scope, statement: thing, names });
    }

    fn visit_wire(
        &mut self,
        sheet: &mut Sheet<'a>,
        scope: ScopeId,
        wire: &'a syntax::Wire,
        harness: Option<(HarnessId, &str)>,
    ) {
        let name = match harness {
            Some((_, harness)) => format!("{harness}.{}", wire.name.text),
            None => self.full_name(scope, &wire.name.text),
        };
        // A second wire of the same name is metal all the same, so it stays in the picture.
        self.define(&name, Target::Wire, wire.name.span);
        sheet.wires.push(WireSeed { scope, statement: wire, name, harness: harness.map(|(id, _)| id) });
    }

    fn visit_harness(&mut self, sheet: &mut Sheet<'a>, scope: ScopeId, harness: &'a syntax::Harness) {
        let full = self.full_name(scope, &harness.name.text);
        let id = HarnessId(u32::try_from(sheet.harnesses.len()).unwrap_or(u32::MAX));
        self.define(&full, Target::Harness(id), harness.name.span);
        for wire in &harness.wires {
            self.visit_wire(sheet, scope, wire, Some((id, &full)));
        }
        for spare in &harness.spares {
            self.define(&format!("{full}.{}", spare.name.text), Target::Wire, spare.name.span);
        }
        sheet.harnesses.push(Declared { scope, statement: harness, names: vec![(full, harness.name.span)] });
    }

    fn visit_fit(&mut self, sheet: &mut Sheet<'a>, scope: ScopeId, fit: &'a Fit, depth: u32) {
        let Some(assembly) = self.fittable(sheet, fit, depth) else {
            for name in &fit.names {
                let full = self.full_name(scope, &name.text);
                self.define(&full, Target::Withheld, name.span);
            }
            return;
        };
        let parameters = self.parameters(scope, assembly, fit);
        let place = fit.at.as_ref().and_then(|at| self.place(at)).or(self.scope(scope).place);
        for name in &fit.names {
            let full = self.full_name(scope, &name.text);
            let inner = ScopeId(self.scopes.len());
            let target = Target::Fit(inner);
            if !self.define(&full, target, name.span) {
                continue;
            }
            let prefix = format!("{full}.");
            self.design.fits.push(Fitted { name: full, span: name.span, assembly: assembly.span });
            self.scopes.push(Scope { prefix, place, constants: parameters.clone(), ..Scope::default() });
            self.unfold(sheet, inner, assembly, depth);
        }
    }

    /// Unfolds an assembly that nobody fits, so that its contents are looked at.
    pub(super) fn fit_for_trial(&mut self, sheet: &mut Sheet<'a>, assembly: &'a Assembly) {
        let inner = ScopeId(self.scopes.len());
        let constants = self.default_parameters(assembly);
        let prefix = format!("{}.", assembly.name.text);
        self.scopes.push(Scope { prefix, constants, ..Scope::default() });
        self.unfold(sheet, inner, assembly, 0);
    }

    fn unfold(&mut self, sheet: &mut Sheet<'a>, inner: ScopeId, assembly: &'a Assembly, depth: u32) {
        let lets: Vec<&syntax::Let> = assembly.items.iter().filter_map(as_let).collect();
        self.tell_shadowed(assembly, &lets);
        self.constants(inner, &lets);
        self.outward_terminals(inner, assembly);
        for item in &assembly.items {
            self.visit(sheet, inner, item, depth + 1);
        }
    }

    /// The assembly that a fit means, when it can be unfolded; otherwise the reason is told.
    fn fittable(&mut self, sheet: &mut Sheet<'a>, fit: &'a Fit, depth: u32) -> Option<&'a Assembly> {
        let Some(found) = self.assembly_named(sheet, &fit.assembly) else {
            let names = self.candidates(sheet.assemblies.keys().copied().chain(stock::assemblies()));
            self.tell_unknown("assembly", &fit.assembly.text, fit.assembly.span, names.into_iter());
            return None;
        };
        if found.circular {
            return None;
        }
        let statements: usize = found.assembly.items.iter().map(weight).sum();
        let before = sheet.unfolded;
        sheet.unfolded = sheet.unfolded.saturating_add(statements.saturating_mul(fit.names.len()));
        let span = fit.assembly.span;
        if depth >= MAX_DEPTH {
            let message = format!("assemblies are fitted in each other more than {MAX_DEPTH} deep");
            self.tell(TextError::new("language.too-deep", span, message, "not unfolded"));
            return None;
        }
        if sheet.unfolded > MAX_UNFOLDED {
            let message = format!("the assemblies unfold to more than {MAX_UNFOLDED} statements");
            let error = TextError::new(
                "language.too-many-statements",
                span,
                message,
                "not unfolded, nor is any further one",
            );
            // One of these says it all.
            if before <= MAX_UNFOLDED {
                self.tell(error.help("fit fewer of them in each other"));
            }
            return None;
        }
        Some(found.assembly)
    }

    /// The assembly that a name means: the robot's own, else the stock's. The stock itself means only its own.
    fn assembly_named(&self, sheet: &mut Sheet<'a>, name: &Name) -> Option<Fittable<'a>> {
        let own = name.span.file != stock::FILE;
        if let Some(found) = sheet.assemblies.get_mut(&*name.text).filter(|_| own) {
            found.fitted = true;
            return Some(*found);
        }
        if own && self.broken.may_define_as("assembly", &name.text) {
            return None;
        }
        let assembly = stock::assembly(&name.text)?;
        Some(Fittable { assembly, circular: false, fitted: true })
    }

    /// A name with what stands before it in its scope.
    pub(super) fn full_name(&self, scope: ScopeId, name: &str) -> String {
        format!("{}{name}", self.scope(scope).prefix)
    }
}

fn as_let(item: &Item) -> Option<&syntax::Let> {
    match item {
        Item::Let(constant) => Some(constant),
        _ => None,
    }
}

/// How many statements an item stands for.
fn weight(item: &Item) -> usize {
    match item {
        Item::Harness(harness) => 1 + harness.wires.len(),
        Item::Thing(thing) => thing.names.len().max(1),
        _ => 1,
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{design, errors};

    const LEG: &str = "assembly LEG {\nterminal plus P.1\nterminal minus P.2\nparameter reach 400 mm\n\
                       plug P 2 way\nmotor M-KNEE 24 V\nlet DOUBLE = reach * 2\nwire W1 P.1 to M-KNEE.a 14 AWG red reach\n\
                       wire W2 P.2 to M-KNEE.b 14 AWG black DOUBLE\n}\n";

    #[test]
    fn an_assembly_is_unfolded_under_each_of_its_names() {
        let design = design(&format!(
            "place body\n{LEG}fit LEG as left, right at body {{ reach 450 mm }}\nfit LEG as tail\nstud S\n\
             wire W S to left.plus\nwire V S to tail.M-KNEE.a\nmode go {{ left.M-KNEE stall }}\n\
             accept a.b on right.W1 because \"x\"\n"
        ));
        let names: Vec<&str> = design.things.iter().map(|thing| thing.name.as_str()).collect();
        assert_eq!(names, ["left.P", "left.M-KNEE", "right.P", "right.M-KNEE", "tail.P", "tail.M-KNEE", "S"]);
        let lengths: Vec<f64> =
            design.wires.iter().filter_map(|wire| wire.length.map(|length| length.0)).collect();
        assert_eq!(lengths, [0.45, 0.9, 0.45, 0.9, 0.4, 0.8]);
        assert_eq!(design.terminal_name(design.wires[6].to.0), "left.P.1");
        assert!(design.things[0].place.is_some() && design.things[4].place.is_none());
        assert_eq!(design.accepts[0].subject, "right.W1");
    }

    #[test]
    fn assemblies_nest_and_hand_terminals_outward() {
        let design = design(&format!(
            "{LEG}assembly SIDE {{\nterminal plus hind.plus\nfit LEG as front, hind\n}}\nfit SIDE as left\nstud S\n\
             wire W S to left.plus\nwire V S to left.front.M-KNEE.b\n"
        ));
        let ends: Vec<String> =
            design.wires.iter().rev().take(2).map(|wire| design.terminal_name(wire.to.0)).collect();
        assert_eq!(ends, ["left.front.M-KNEE.b", "left.hind.P.1"]);
    }

    #[test]
    fn a_circle_of_assemblies_is_named_whole_and_its_names_are_withheld() {
        assert_eq!(
            errors(
                "assembly A {\nfit B as b\n}\nassembly B {\nfit A as a\n}\nfit A as x\nstud S\nwire W S to x.b.T\n"
            ),
            ["assembly-cycle: assemblies fit each other in a circle: `A` → `B` → `A`"]
        );
    }

    #[test]
    fn mistakes_around_fits() {
        assert_eq!(
            errors(&format!(
                "{LEG}fit LEGG as a\nfit LEG as b {{ rech 1 m }}\nfit LEG as c {{ reach 3 A }}\nstud S\n\
                 wire W1 S to b.plus\nwire W2 S to b\nwire W3 S to b.pluss\nwire W4 S to b.M.a\nwire W5 S to a.plus\n"
            )),
            [
                "unknown-name: there is no assembly `LEGG`",
                "unknown-key: `LEG` has no parameter `rech`",
                "wrong-dimension: `reach` is a length, found `3 A`",
                "which-terminal: `b` is a fitted assembly: say which of its terminals",
                "unknown-terminal: `b` has no outward terminal `pluss`",
                "unknown-name: nothing in `b` is named `M`",
            ]
        );
    }

    #[test]
    fn a_mistake_inside_is_told_once_however_often_it_is_fitted() {
        let found = errors("assembly A {\nstud S\nwire W S to T.1\nmode m { }\n}\nfit A as a, b, c\n");
        assert_eq!(
            found,
            ["unknown-name: nothing is named `T`", "misplaced: `mode` cannot stand in an assembly",]
        );
    }

    #[test]
    fn an_assembly_that_nobody_fits_is_looked_at_all_the_same() {
        let text = format!(
            "{LEG}assembly ARM {{\nparameter gauge\nstud S\nstud T\nwire W S to T gauge\nwire V S to U\n}}\n"
        );
        assert_eq!(errors(&text), ["unknown-name: nothing is named `U`"]);
        assert_eq!(super::super::testing::parsed(&text).0.things.len(), 0);
    }

    #[test]
    fn unfolding_is_bounded() {
        let mut text = String::from("assembly A0 {\nstud S\n}\n");
        for level in 1..12 {
            let below = level - 1;
            text.push_str(&format!("assembly A{level} {{\nfit A{below} as a, b, c, d, e, f, g, h\n}}\n"));
        }
        text.push_str("fit A11 as x\n");
        let found = errors(&text);
        assert!(
            found.iter().all(|error| error.starts_with("too-many-statements")) && found.len() == 1,
            "{found:?}"
        );
    }
}
