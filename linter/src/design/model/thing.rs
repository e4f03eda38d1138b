//! Things and their terminals.

use wattle_grammar::{
    kind::{Kind, KindId, Role},
    quantity::Unit,
    span::Span,
};

use crate::design::{Origin, PlaceId, Rated, RatedValue, ThingId, derive};

/// A thing: one part in the robot.
#[derive(Clone, Debug)]
pub struct Thing {
    /// Its full name, `left.M-KNEE`.
    pub name: String,
    /// Its kind's row in the table.
    pub kind: &'static Kind,
    /// The label in quotes, if any.
    pub label: Option<String>,
    /// Where its name stands.
    pub span: Span,
    /// The whole statement that declares it.
    pub statement: Span,
    /// Where it lives.
    pub place: Option<PlaceId>,
    /// The block it is plugged into (`on`).
    pub on: Option<ThingId>,
    /// First of its terminals in [`Design::terminals`](crate::design::Design::terminals).
    pub first_terminal: u32,
    /// How many terminals it has.
    pub terminal_count: u32,
    /// Its ratings: its own, else its part's, else the kind's defaults.
    pub ratings: Vec<Rated>,
    /// What would hold without the measured ones among them.
    pub unmeasured: Vec<Rated>,
}

impl Thing {
    /// The kind's identity.
    #[must_use]
    pub fn id(&self) -> KindId {
        self.kind.id
    }

    /// The rating written or defaulted under `key`.
    #[must_use]
    pub fn rated(&self, key: &str) -> Option<&Rated> {
        self.ratings.iter().find(|rated| rated.key == key)
    }

    /// Whether the rating is written for the thing or its part, and not a default of its kind.
    #[must_use]
    pub fn states(&self, key: &str) -> bool {
        self.rated(key).is_some_and(|rated| !matches!(rated.origin, Origin::Default(_)))
    }

    /// The single value under `key` in the typed unit `U`; of a range the upper end.
    #[must_use]
    pub fn get<U: Unit>(&self, key: &str) -> Option<U> {
        match &self.rated(key)?.value {
            RatedValue::Quantity(quantity) if quantity.dimension == U::DIMENSION => {
                Some(U::from_base(quantity.value))
            }
            RatedValue::Range(_, high) if high.dimension == U::DIMENSION => Some(U::from_base(high.value)),
            _ => None,
        }
    }

    /// What the rating under `key` comes to by the other ratings that are written, whether or not it is written itself.
    #[must_use]
    pub fn from_others(&self, key: &str) -> Option<RatedValue> {
        derive::from_others(self.kind.id, key, &self.ratings)
    }

    /// Both ends of the range under `key`; a single value is the range of one point.
    #[must_use]
    pub fn range<U: Unit>(&self, key: &str) -> Option<(U, U)> {
        match &self.rated(key)?.value {
            RatedValue::Quantity(quantity) if quantity.dimension == U::DIMENSION => {
                Some((U::from_base(quantity.value), U::from_base(quantity.value)))
            }
            RatedValue::Range(low, high) if high.dimension == U::DIMENSION => {
                Some((U::from_base(low.value), U::from_base(high.value)))
            }
            _ => None,
        }
    }

    /// The word under `key`.
    #[must_use]
    pub fn word(&self, key: &str) -> Option<&str> {
        match &self.rated(key)?.value {
            RatedValue::Word(word) => Some(word),
            _ => None,
        }
    }

    /// The flag under `key`; `None` when neither written nor defaulted.
    #[must_use]
    pub fn flag(&self, key: &str) -> Option<bool> {
        match self.rated(key)?.value {
            RatedValue::Flag(flag) => Some(flag),
            _ => None,
        }
    }

    /// The bare number under `key`.
    #[must_use]
    pub fn number(&self, key: &str) -> Option<f64> {
        match &self.rated(key)?.value {
            RatedValue::Quantity(quantity) => Some(quantity.value),
            _ => None,
        }
    }
}

/// A terminal of a thing.
#[derive(Clone, Debug)]
pub struct Terminal {
    /// The thing it belongs to.
    pub thing: ThingId,
    /// Its name within the thing, `pos`, `t3`, `m1a`.
    pub name: String,
    /// What it is for.
    pub role: Role,
    /// Its number in a repeated family, as in its name; 0 for a single one.
    pub number: u32,
}
