//! Scopes: the robot itself, and one for every fitted assembly. A scope has a prefix for names, constants and a place.

use std::collections::BTreeMap;

use wattle_grammar::syntax::Path;

use super::{PlaceId, value::Given};

/// A scope; 0 is the robot itself.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct ScopeId(pub(super) usize);

impl ScopeId {
    /// The robot itself.
    pub(super) const ROBOT: Self = Self(0);
}

/// The value of a constant; nothing when it could not be worked out, which has been told.
pub(super) type Constant = Option<Given>;

/// One scope.
#[derive(Debug, Default)]
pub(super) struct Scope<'a> {
    /// What stands before the names in it: `left.` for what is fitted as `left`.
    pub(super) prefix: String,
    /// Constants and parameters.
    pub(super) constants: BTreeMap<&'a str, Constant>,
    /// Where things are that do not say so themselves.
    pub(super) place: Option<PlaceId>,
    /// The outward terminals, by name, with what they stand for inside.
    pub(super) outward: BTreeMap<&'a str, Path>,
}
