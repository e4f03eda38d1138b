//! How a text was made from the grammar.

use super::reader::Symbol;

/// A production that was used, or a token.
#[derive(Clone, Debug)]
pub(crate) enum Tree<'s, 't> {
    /// The production's name and what it was made of.
    Node(&'s str, Vec<Self>),
    /// A token, and whether the grammar names it by its text.
    Leaf(&'s Symbol<'t>, bool),
}

impl<'s, 't> Tree<'s, 't> {
    /// The name of the production; that of a token is empty.
    pub(crate) fn name(&self) -> &'s str {
        match self {
            Self::Node(name, _) => name,
            Self::Leaf(..) => "",
        }
    }

    pub(crate) fn children(&self) -> &[Self] {
        match self {
            Self::Node(_, children) => children,
            Self::Leaf(..) => &[],
        }
    }

    /// The tokens in it.
    pub(crate) fn leaves(&self) -> Vec<&'s Symbol<'t>> {
        match self {
            Self::Node(_, children) => children.iter().flat_map(Self::leaves).collect(),
            Self::Leaf(symbol, _) => vec![symbol],
        }
    }

    /// Whether it is a token that the grammar names by this text.
    pub(crate) fn is_word(&self, text: &str) -> bool {
        matches!(self, Self::Leaf(symbol, true) if symbol.text == text)
    }
}
