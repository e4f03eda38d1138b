//! Elements that a link needs besides its own.

use crate::{
    network::{Element, ElementId, Law, NodeId},
    topology::LinkId,
};

/// An element that belongs to a link but is not the link's own one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Further {
    /// The link.
    pub link: LinkId,
    /// The element.
    pub element: ElementId,
    /// How its current counts in the link's: 1 along it, -1 against it, 0 not at all.
    pub counts: i8,
}

/// Elements behind those of the links, while they are made.
#[derive(Debug, Default)]
pub(super) struct Making {
    pub(super) elements: Vec<Element>,
    pub(super) further: Vec<Further>,
}

impl Making {
    /// One more element, for a link; open until something gives it a law.
    pub(super) fn add(&mut self, link: LinkId, (a, b): (NodeId, NodeId), counts: i8) -> ElementId {
        let element = ElementId(self.elements.len() as u32);
        self.elements.push(Element { a, b, law: Law::Open });
        self.further.push(Further { link, element, counts });
        element
    }
}
