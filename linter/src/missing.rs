//! Why a figure cannot be told.

use crate::design::ThingId;

/// What is missing, as it would be written, and on which thing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Missing {
    /// The thing that lacks it; none when it is of the whole robot.
    pub of: Option<ThingId>,
    /// The key of the rating, or what else is missing.
    pub what: String,
}

impl Missing {
    /// A rating of a thing.
    pub fn on(thing: ThingId, what: impl Into<String>) -> Self {
        Self { of: Some(thing), what: what.into() }
    }

    /// Something of the whole robot.
    pub fn of_robot(what: impl Into<String>) -> Self {
        Self { of: None, what: what.into() }
    }
}
