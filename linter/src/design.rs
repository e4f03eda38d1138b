//! The design: names resolved, parts applied, every object with its terminals, ratings and the place it came from.
//!
//! Everything is in flat tables addressed by small ids, in the order of the text, so that all that follows is
//! deterministic. Nothing here is computed from physics.

mod accepts;
mod broken;
mod collect;
mod constants;
mod declared;
mod derive;
mod dimension;
mod ends;
mod expectations;
pub mod facts;
mod fit;
mod fits;
mod gather;
mod groups;
mod joints;
mod lower;
mod model;
mod modes;
mod names;
mod partners;
mod parts;
mod places;
mod ports;
mod print;
mod rows;
mod scope;
mod shape;
mod sheet;
mod slip;
mod stances;
mod standing;
mod state;
mod telling;
#[cfg(test)]
mod testing;
mod things;
mod unfold;
mod value;
mod wires;

pub use lower::lower;
pub use model::{
    claim::{Accept, Bounds, Claim, Expectation, Probe, Reading},
    mode::{Group, Level, Mode, ModeOrigin, State},
    rating::{Basis, Origin, Port, Rated, RatedValue, Standing},
    robot::{Declared, Fitted, NameOf, Place, Robot},
    thing::{Terminal, Thing},
    wiring::{Harness, Mate, SpareCore, Tie, Wire, WireSize},
};
pub use partners::Partners;

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident;)*) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub u32);
        impl $name {
            /// The position in its table.
            #[must_use]
            pub const fn index(self) -> usize { self.0 as usize }
        }
    )*};
}

ids! {
    /// A thing in [`Design::things`].
    ThingId;
    /// A terminal in [`Design::terminals`].
    TerminalId;
    /// A wire in [`Design::wires`].
    WireId;
    /// A tie in [`Design::ties`].
    TieId;
    /// A mate in [`Design::mates`].
    MateId;
    /// A place in [`Design::places`].
    PlaceId;
    /// A harness in [`Design::harnesses`].
    HarnessId;
    /// A mode in [`Design::modes`].
    ModeId;
}

/// A whole robot.
#[derive(Clone, Debug, Default)]
pub struct Design {
    /// The robot's name and settings.
    pub robot: Robot,
    /// Places, in text order.
    pub places: Vec<Place>,
    /// Things, in text order (assemblies unfolded where they are fitted).
    pub things: Vec<Thing>,
    /// Terminals of all things; those of one thing are consecutive.
    pub terminals: Vec<Terminal>,
    /// Wires, harness wires and cable cores, in text order.
    pub wires: Vec<Wire>,
    /// Ties.
    pub ties: Vec<Tie>,
    /// Mated connectors.
    pub mates: Vec<Mate>,
    /// Harnesses and cables.
    pub harnesses: Vec<Harness>,
    /// Fitted assemblies, each before what is fitted in it.
    pub fits: Vec<Fitted>,
    /// Modes, written ones first in text order, then the derived ones.
    pub modes: Vec<Mode>,
    /// Groups, by name.
    pub groups: Vec<Group>,
    /// Accepted risks.
    pub accepts: Vec<Accept>,
    /// The builder's own limits.
    pub expectations: Vec<Expectation>,
    /// Measurements on the bench.
    pub readings: Vec<Reading>,
    /// Sentences about what was derived or defaulted for the whole robot.
    pub assumptions: Vec<String>,
    /// Every name that the text defines, in text order; what stands in an assembly once, however often it is fitted.
    pub declared: Vec<Declared>,
    /// Ratings of parts that a thing's own rating of the same key takes the place of.
    pub replaced: Vec<(ThingId, Rated)>,
    /// Words of lines that could not be read. What such a line names may be wired there, so nobody says that it is not.
    pub in_doubt: std::collections::BTreeSet<String>,
    /// Places of values and settings that could not be understood, whether told there or not: their statements lack a
    /// fact that the author wrote.
    pub lost: Vec<wattle_grammar::span::Span>,
}

impl Design {
    /// Whether a line that could not be read speaks of this thing, or a whole file is missing.
    #[must_use]
    pub fn is_in_doubt(&self, thing: ThingId) -> bool {
        self.is_name_in_doubt(&self.thing(thing).name)
    }

    /// Whether a line that could not be read speaks of what has this full name.
    #[must_use]
    pub fn is_name_in_doubt(&self, name: &str) -> bool {
        !self.in_doubt.is_empty() && name.split('.').any(|part| self.in_doubt.contains(part))
    }

    /// The thing behind an id.
    #[must_use]
    pub fn thing(&self, id: ThingId) -> &Thing {
        &self.things[id.index()]
    }

    /// The terminal behind an id.
    #[must_use]
    pub fn terminal(&self, id: TerminalId) -> &Terminal {
        &self.terminals[id.index()]
    }

    /// The wire behind an id.
    #[must_use]
    pub fn wire(&self, id: WireId) -> &Wire {
        &self.wires[id.index()]
    }

    /// Every thing with its id.
    pub fn things(&self) -> impl Iterator<Item = (ThingId, &Thing)> {
        (0u32..).map(ThingId).zip(&self.things)
    }

    /// Every wire with its id.
    pub fn wires(&self) -> impl Iterator<Item = (WireId, &Wire)> {
        (0u32..).map(WireId).zip(&self.wires)
    }

    /// The terminals of a thing, in table order.
    pub fn terminals_of(&self, id: ThingId) -> impl Iterator<Item = (TerminalId, &Terminal)> {
        let thing = self.thing(id);
        let range = thing.first_terminal..thing.first_terminal + thing.terminal_count;
        range.map(|at| (TerminalId(at), &self.terminals[at as usize]))
    }

    /// The terminal of a thing with this name.
    #[must_use]
    pub fn terminal_named(&self, id: ThingId, name: &str) -> Option<TerminalId> {
        self.terminals_of(id).find(|(_, terminal)| terminal.name == name).map(|(at, _)| at)
    }

    /// `THING.terminal`, or the bare thing for a kind with one terminal.
    #[must_use]
    pub fn terminal_name(&self, id: TerminalId) -> String {
        let terminal = self.terminal(id);
        let thing = self.thing(terminal.thing);
        if thing.terminal_count == 1 {
            thing.name.clone()
        } else {
            format!("{}.{}", thing.name, terminal.name)
        }
    }
}
