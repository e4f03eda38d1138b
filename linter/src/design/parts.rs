//! Parts of the catalogue: each a kind with ratings, perhaps built on another part.

use wattle_grammar::{
    error::TextError,
    kind::{ALL, Kind, by_word},
    syntax::{Name, Part},
};

use super::{
    gather::{Gathered, Written},
    lower::Lowering,
    rows::{Noun, Rows},
    scope::ScopeId,
    sheet::Sheet,
};
use crate::{
    complaint::{around, chain},
    order::order,
    stock,
};

/// A part with everything it says, its bases included.
#[derive(Debug)]
pub(super) struct PartSheet {
    /// What it is; nothing when that could not be found out, which has been told.
    pub(super) kind: Option<&'static Kind>,
    /// Its ratings, its own before its bases'.
    pub(super) gathered: Gathered,
    /// The name it has, for messages.
    pub(super) name: Name,
}

/// The rows of a kind.
pub(super) fn rows_of(kind: &'static Kind) -> Rows {
    Rows { noun: Noun(kind.word), own: kind.ratings, common: wattle_grammar::kind::COMMON }
}

impl<'a> Lowering<'a> {
    /// Makes all parts, each after the one it builds on.
    pub(super) fn parts(&mut self, sheet: &Sheet<'a>) {
        let named = self.first_definitions(&sheet.parts, |part| &part.name);
        let names: Vec<&str> = named.keys().copied().collect();
        let parts: Vec<&'a Part> = named.values().copied().collect();
        let base = |part: &&'a Part| match by_word(&part.base.text) {
            Some(_) => Vec::new(),
            None => names.binary_search(&&*part.base.text).into_iter().collect(),
        };
        let order = order(&parts.iter().map(base).collect::<Vec<_>>());
        for cycle in &order.cycles {
            let members: Vec<&Part> = cycle.iter().filter_map(|at| parts.get(*at).copied()).collect();
            let Some(first) = members.first() else { continue };
            let message = match members.as_slice() {
                [only] => format!("`{}` builds on itself", only.name.text),
                _ => format!(
                    "parts build on each other in a circle: {}",
                    chain(members.iter().map(|member| &*member.name.text))
                ),
            };
            let error =
                TextError::new("language.part-cycle", first.name.span, message, "never comes to a kind");
            let error = around(error, members.iter().skip(1).map(|member| member.name.span));
            let which = if members.len() == 1 { "it" } else { "one of them" };
            self.tell(error.help(format!("let {which} be a kind, such as `battery`")));
        }
        let circular: std::collections::BTreeSet<usize> = order.cycles.into_iter().flatten().collect();
        for at in order.sequence {
            let Some(part) = parts.get(at) else { continue };
            let sheet = if circular.contains(&at) { empty(part) } else { self.part(part, &names) };
            self.parts.insert(&part.name.text, sheet);
        }
    }

    fn part(&mut self, part: &'a Part, names: &[&str]) -> PartSheet {
        if by_word(&part.name.text).is_some() {
            let message = format!("`{}` is a kind and cannot be a part's name", part.name.text);
            let error =
                TextError::new("language.reserved-name", part.name.span, message, "the word of a kind");
            self.tell(error.help("choose another name"));
        }
        let Some(kind) = self.kind_of_base(part, names) else { return empty(part) };
        let gathered = self.gather(ScopeId::ROBOT, rows_of(kind), &part.values, &part.settings);
        let base = self.part_named(&part.base);
        PartSheet { kind: Some(kind), gathered: inherited(gathered, base), name: part.name.clone() }
    }

    fn kind_of_base(&mut self, part: &Part, names: &[&str]) -> Option<&'static Kind> {
        if let Some(kind) = by_word(&part.base.text) {
            return Some(kind);
        }
        match self.part_named(&part.base) {
            Some(base) => base.kind,
            None => {
                let kinds = ALL.iter().map(|kind| kind.word);
                let candidates: Vec<&str> =
                    kinds.chain(names.iter().copied()).chain(stock::parts()).collect();
                self.tell_unknown("kind or part", &part.base.text, part.base.span, candidates.into_iter());
                None
            }
        }
    }

    /// The part that a name means: the robot's own, else the stock's. The stock itself means only its own.
    pub(super) fn part_named(&mut self, name: &Name) -> Option<&PartSheet> {
        let own = name.span.file != stock::FILE;
        if own && self.parts.contains_key(&*name.text) {
            return self.parts.get(&*name.text);
        }
        if own && self.broken.may_define_as("part", &name.text) {
            return None;
        }
        self.stock_part(&name.text)
    }

    /// A part of the stock, made when it is first asked for. That its parts come to an end is held by a test.
    fn stock_part(&mut self, name: &str) -> Option<&PartSheet> {
        let part = stock::part(name)?;
        if !self.stock_parts.contains_key(name) {
            let sheet = self.part(part, &[]);
            self.stock_parts.insert(&part.name.text, sheet);
        }
        self.stock_parts.get(name)
    }
}

/// What a part says itself, then what it has from its base.
fn inherited(mut own: Gathered, base: Option<&PartSheet>) -> Gathered {
    let Some(base) = base else { return own };
    let more: Vec<Written> =
        base.gathered.written.iter().filter(|written| own.get(written.key).is_none()).cloned().collect();
    own.written.extend(more);
    own.failed |= base.gathered.failed;
    own
}

fn empty(part: &Part) -> PartSheet {
    PartSheet {
        kind: None,
        gathered: Gathered { failed: true, ..Gathered::default() },
        name: part.name.clone(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{design, errors};

    use super::super::Origin;
    use wattle_grammar::kind::key;

    #[test]
    fn parts_build_on_parts_and_things_override_them() {
        let design = design(
            "part big is small { capacity 10 Ah }\n\
             part small is battery { chemistry lipo; cells 3S; capacity 2 Ah }\n\
             battery A : big\nbattery B : big { cells 4S }\n",
        );
        let [a, b] = design.things.as_slice() else { panic!("two things") };
        assert_eq!((a.number(key::CELLS), a.number(key::CAPACITY)), (Some(3.0), Some(10.0)));
        assert_eq!(b.number(key::CELLS), Some(4.0));
        assert!(matches!(a.rated(key::CELLS).unwrap().origin, Origin::Part(_)));
        // 4 × 4.2 V: derived from what holds in the end.
        assert!((b.number(key::FULL).unwrap() - 16.8).abs() < 1e-9);
    }

    #[test]
    fn a_circle_of_parts_is_named_whole_and_told_once() {
        let found = errors("part a is b\npart b is c\npart c is a\nfuse F : a\n");
        assert_eq!(found, ["part-cycle: parts build on each other in a circle: `a` → `b` → `c` → `a`"]);
    }

    #[test]
    fn a_part_of_another_kind_does_not_fit() {
        let found = errors("part cell is battery { chemistry lipo }\nfuse F : cell\nfuse G : sell\n");
        assert_eq!(
            found,
            ["wrong-part: `cell` is a battery, not a fuse", "unknown-name: there is no part `sell`",]
        );
    }

    #[test]
    fn an_unknown_base_offers_kinds_and_parts() {
        assert_eq!(errors("part x is batery\n"), ["unknown-name: there is no kind or part `batery`"]);
    }
}
