//! The metal frame.

use crate::kind::{Family, Kind, KindId, Rating, RatingShape, Role, Terminal, key};

pub(super) const KIND: Kind = Kind {
    id: KindId::Chassis,
    word: "chassis",
    family: Family::Join,
    doc: "The metal frame, as a place where wires end. Its name alone is its terminal.",
    terminals: &[Terminal::once("frame", &[], Role::Frame, "The frame.")],
    ratings: &[
        Rating::flag(key::CARRIES_RETURN, "Supply current returns through the frame on purpose.")
            .inline()
            .else_flag(false, "a frame is bonded once and carries no current in ordinary work"),
        Rating::flag(key::FLOATING, "It is joined to no pole of any supply, on purpose.")
            .inline()
            .else_no("careful: it is taken to touch negative somewhere"),
        Rating::of(
            key::BONDED_AT,
            RatingShape::Reference,
            "The one place where it is joined to negative: a stud, a bus bar or the bonding wire.",
        ),
        Rating::flag(
            key::MULTI_POINT,
            "It is joined to negative in several places on purpose, as a vehicle's body is, all on one side of every shunt \
             and switch.",
        )
        .else_no("a second joint carries current past shunts and switches"),
        Rating::flag(
            key::METAL_TO_METAL,
            "Its joints are bare metal on metal: no paint, hinge or bearing stands in the way of a current.",
        )
        .else_no("careful: paint, hinges and bearings are taken to be in the way"),
    ],
    example: "chassis FRAME { bonded-at NEG-STAR }",
};
