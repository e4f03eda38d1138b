//! The sheet: every statement of the robot under its heading, in text order, assemblies unfolded where they are fitted.

use std::collections::BTreeMap;

use wattle_grammar::{span::Span, syntax};

use super::{HarnessId, scope::ScopeId};

/// A statement that declares one or more names, with the full name and the place of each.
#[derive(Debug)]
pub(super) struct Declared<'a, T> {
    /// The scope it stands in.
    pub(super) scope: ScopeId,
    /// The statement.
    pub(super) statement: &'a T,
    /// Full names that are new, with where they stand. A name defined before is not among them.
    pub(super) names: Vec<(String, Span)>,
}

/// A wire or core with its full name.
#[derive(Debug)]
pub(super) struct WireSeed<'a> {
    /// The scope it stands in.
    pub(super) scope: ScopeId,
    /// The statement.
    pub(super) statement: &'a syntax::Wire,
    /// Its full name.
    pub(super) name: String,
    /// The harness or cable it stands in.
    pub(super) harness: Option<HarnessId>,
}

/// Everything of the robot, sorted by what it is.
#[derive(Debug, Default)]
pub(super) struct Sheet<'a> {
    pub(super) parts: Vec<&'a syntax::Part>,
    pub(super) groups: Vec<(ScopeId, &'a syntax::Group)>,
    pub(super) modes: Vec<&'a syntax::Mode>,
    pub(super) assemblies: BTreeMap<&'a str, Fittable<'a>>,
    pub(super) things: Vec<Declared<'a, syntax::Thing>>,
    pub(super) harnesses: Vec<Declared<'a, syntax::Harness>>,
    pub(super) wires: Vec<WireSeed<'a>>,
    pub(super) ties: Vec<(ScopeId, &'a syntax::Tie)>,
    pub(super) mates: Vec<(ScopeId, &'a syntax::Mate)>,
    pub(super) accepts: Vec<(ScopeId, &'a syntax::Accept)>,
    pub(super) expects: Vec<(ScopeId, &'a syntax::Expect)>,
    pub(super) readings: Vec<(ScopeId, &'a syntax::Reading)>,
    /// How many names there are so far.
    pub(super) thing_count: u32,
    /// How many statements have come out of assemblies.
    pub(super) unfolded: usize,
}

/// An assembly and whether it can be fitted at all.
#[derive(Clone, Copy, Debug)]
pub(super) struct Fittable<'a> {
    pub(super) assembly: &'a syntax::Assembly,
    /// It takes part in a circle of assemblies, which has been told.
    pub(super) circular: bool,
    /// It has been unfolded somewhere.
    pub(super) fitted: bool,
}

impl<'a> Sheet<'a> {
    /// The assemblies that have not been unfolded anywhere.
    pub(super) fn unfitted(&self) -> Vec<&'a str> {
        let unfitted = self.assemblies.iter().filter(|(_, found)| !found.fitted && !found.circular);
        unfitted.map(|(name, _)| *name).collect()
    }
}
