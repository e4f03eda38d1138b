//! Values read: expressions worked out with the constants of a scope.

use wattle_grammar::{
    quantity::{Dimension, Quantity},
    syntax::{Name, Path, Shape, Value},
};

use super::{lower::Lowering, scope::ScopeId};

impl Lowering<'_> {
    /// The value, worked out; nothing when it cannot be, which is told.
    pub(super) fn given(&mut self, scope: ScopeId, value: &Value) -> Option<Given> {
        let one = |this: &mut Self, v: &Value| match this.resolved(scope, v) {
            Some(Given::Quantity(q)) => Some(q),
            _ => None,
        };
        match &value.shape {
            Shape::Quantity(q) => Some(Given::Quantity(*q)),
            Shape::Word(w) => Some(Given::Word(w.clone())),
            Shape::Text(w) => Some(Given::Text(w.clone())),
            Shape::Path(w) => Some(Given::Path(w.clone())),
            Shape::Date(_) => Some(Given::Date),
            Shape::Range(a, b) => Some(Given::Range(one(self, a)?, one(self, b)?)),
            Shape::Tolerance(a, b) => Some(Given::Tolerance(one(self, a)?, one(self, b)?)),
            Shape::Sum(o, a, b) => {
                let (a, b) = (one(self, a)?, one(self, b)?);
                let value = match o {
                    wattle_grammar::syntax::Operator::Multiply => a.value * b.value,
                    _ => a.value + b.value,
                };
                Some(Given::Quantity(Quantity { value, dimension: a.dimension, unit: "" }))
            }
            Shape::Negative(_) => None,
        }
    }
}

/// A value with everything worked out.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Given {
    /// One quantity.
    Quantity(Quantity),
    /// A range, the lower end first.
    Range(Quantity, Quantity),
    /// A nominal value and its tolerance.
    Tolerance(Quantity, Quantity),
    /// A word that is no constant.
    Word(Box<str>),
    /// A text.
    Text(Box<str>),
    /// A dotted path.
    Path(Path),
    /// A date.
    Date,
}

impl Given {
    /// What it measures, when it is a number.
    pub(super) fn dimension(&self) -> Option<Dimension> {
        match self {
            Self::Quantity(found) | Self::Range(found, _) | Self::Tolerance(found, _) => {
                Some(found.dimension)
            }
            _ => None,
        }
    }

    /// A few words on what it is.
    pub(super) fn noun(&self) -> &'static str {
        match self {
            Self::Quantity(found) => super::dimension::noun(found.dimension),
            Self::Range(..) => "a range",
            Self::Tolerance(..) => "a value with a tolerance",
            Self::Word(_) => "a word",
            Self::Text(_) => "a text",
            Self::Path(_) => "a name",
            Self::Date => "a date",
        }
    }
}

/// The name that a value is, when it is one: a bare word or a dotted path.
pub(super) fn as_path(value: &Value) -> Option<Path> {
    match &value.shape {
        Shape::Path(path) => Some(path.clone()),
        Shape::Word(word) => {
            Some(Path { segments: vec![Name { text: word.clone(), span: value.span }], span: value.span })
        }
        _ => None,
    }
}
