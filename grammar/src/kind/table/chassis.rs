//! The metal frame.

use crate::kind::{Family, Kind, KindId, Rating, Role, Terminal, key};

pub(super) const KIND: Kind = Kind {
    id: KindId::Chassis,
    word: "chassis",
    family: Family::Join,
    doc: "The metal frame, as a place where wires end. Its name alone is its terminal.",
    terminals: &[Terminal::once("frame", &[], Role::Frame, "The frame.")],
    ratings: &[Rating::flag(key::CARRIES_RETURN, "Supply current returns through the frame on purpose.")
        .inline()
        .else_flag(false, "a frame is bonded once and carries no current in ordinary work")],
    example: "chassis FRAME",
};
