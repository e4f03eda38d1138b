//! The one table of kinds: what each kind of part is, its terminals, its ratings and its facts.
//!
//! The parser's checks, the linter's defaults, completion, hover, the reference page and the editors' keyword lists
//! all read this table and nothing else. Adding a kind is one entry in one file below `kind/` and one line in [`ALL`].

use crate::quantity::Dimension;

pub mod chemistry;
pub mod colour;
pub mod doc;
pub mod fuse_style;
pub mod key;
mod lookup;
pub mod page;
mod rating;
pub mod setting;
pub mod statement;
mod table;
mod terminals;
#[cfg(test)]
mod tests;

pub use lookup::{by_id, by_word, inline_quantity, inline_word, rating_in};
pub use table::{ALL, COMMON};
pub use terminals::TerminalInstance;

/// A supply range written as one value stands for that value give or take this share (common practice).
pub const SUPPLY_MARGIN: f64 = 0.10;

/// The identity of a kind, for code that treats a kind specially.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum KindId {
    /// A rechargeable or primary battery pack with optional cell taps.
    Battery,
    /// A charger's direct-current side.
    Charger,
    /// A bench or mains supply's direct-current side.
    Supply,
    /// A solar panel or an alternator and the like: any other source.
    Generator,
    /// A fuse.
    Fuse,
    /// A circuit breaker.
    Breaker,
    /// An overvoltage clamp.
    Clamp,
    /// A hand-operated switch or push button.
    Switch,
    /// An emergency-stop device.
    Stop,
    /// A relay with change-over contacts.
    Relay,
    /// A contactor with make contacts.
    Contactor,
    /// A voltage regulator or converter.
    Regulator,
    /// A motor driver.
    Driver,
    /// An audio amplifier.
    Amplifier,
    /// A controller or computer.
    Controller,
    /// A radio receiver.
    Receiver,
    /// A sensor.
    Sensor,
    /// An isolator of signals or sound.
    Isolator,
    /// A direct-current motor.
    Motor,
    /// A servo.
    Servo,
    /// A lamp, LED or strip.
    Light,
    /// A loudspeaker.
    Speaker,
    /// A panel meter.
    Meter,
    /// Any other load.
    Load,
    /// A resistor.
    Resistor,
    /// A capacitor.
    Capacitor,
    /// A diode.
    Diode,
    /// A current shunt.
    Shunt,
    /// A bus bar, terminal block or fuse block.
    Block,
    /// A splice.
    Splice,
    /// A stud or terminal post.
    Stud,
    /// A ring lug on the end of a wire.
    Lug,
    /// A plug: a connector half.
    Plug,
    /// A socket: a connector half.
    Socket,
    /// A slip ring.
    SlipRing,
    /// The metal frame.
    Chassis,
}

/// Which shelf of the store a kind stands on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Family {
    /// Gives energy.
    Source,
    /// Opens or limits when something is wrong.
    Protection,
    /// Opens and closes a circuit on purpose.
    Switching,
    /// Turns one voltage into another or drives something.
    Conversion,
    /// Decides and senses.
    Control,
    /// Uses energy.
    Load,
    /// Resistors, capacitors, diodes, shunts.
    Passive,
    /// Joins conductors.
    Join,
}

/// One kind of part.
#[derive(Debug)]
pub struct Kind {
    /// Identity for code.
    pub id: KindId,
    /// The keyword, the trade's own noun.
    pub word: &'static str,
    /// The shelf.
    pub family: Family,
    /// One or two sentences for hover, completion and the reference.
    pub doc: &'static str,
    /// Its terminals, in the order a person would list them.
    pub terminals: &'static [Terminal],
    /// Its ratings and facts.
    pub ratings: &'static [Rating],
    /// One line of text that shows it in use; parsed by a test.
    pub example: &'static str,
}

/// A terminal, or a numbered family of them.
#[derive(Debug)]
pub struct Terminal {
    /// The name; `{}` stands for the number of a repeated terminal.
    pub name: &'static str,
    /// Other names of the trade that are accepted. `{}` as in the name, `{odd}` and `{even}` stand for 2n − 1 and 2n;
    /// one without any of them, on a repeated terminal, is the first of the family.
    pub aliases: &'static [&'static str],
    /// What it is for.
    pub role: Role,
    /// One or many.
    pub repeat: Repeat,
    /// What it is, for hover.
    pub doc: &'static str,
}

/// How often a terminal occurs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Repeat {
    /// Once.
    Once,
    /// Once, and only where this flag is yes.
    OnceIf(&'static str),
    /// Once for each of the count that the rating `key` holds: numbers `first`, `first + step`, … .
    /// `extra` more than the count are made (a battery of n cells has n + 1 taps).
    Per {
        /// The rating that holds the count.
        key: &'static str,
        /// The first number.
        first: u32,
        /// The distance between numbers.
        step: u32,
        /// How many more than the count.
        extra: u32,
        /// A flag that must be yes for any of them to be there.
        only_if: Option<&'static str>,
    },
}

/// What a terminal is for; decides how polarity and protection are judged.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Role {
    /// Positive pole of a source.
    SourcePositive,
    /// Negative pole of a source.
    SourceNegative,
    /// A cell tap of a battery.
    Tap,
    /// Positive supply input of a part.
    SupplyPositive,
    /// Negative supply input of a part.
    SupplyNegative,
    /// Positive supply output of a part (a regulator's output).
    OutputPositive,
    /// Negative supply output of a part.
    OutputNegative,
    /// One side of something that only passes current through.
    Through,
    /// A coil end; of a polarised coil the positive one.
    CoilPositive,
    /// The other coil end.
    CoilNegative,
    /// A lead of a motor, on the motor or on the driver.
    MotorLead,
    /// A speaker lead, on the speaker or on the amplifier.
    SpeakerLead,
    /// A signal.
    Signal,
    /// A measuring input that draws next to nothing.
    Sense,
    /// A way of a connector or block.
    Way,
    /// Metal of the frame.
    Frame,
}

/// A rating or fact that a thing of a kind can carry.
#[derive(Debug)]
pub struct Rating {
    /// The key as written in a block; one of the constants in [`key`].
    pub key: &'static str,
    /// What may be written for it.
    pub shape: RatingShape,
    /// Whether a value may stand on the line without the key (its dimension or word tells). Of a flag: whether the
    /// key alone may stand on the line and means yes.
    pub inline: bool,
    /// Lowest and highest number that can be meant, in the base unit, both allowed; `None` where no number is due.
    pub within: Option<(f64, f64)>,
    /// The span, in the base unit, in which nearly all parts on sale lie (common practice). A number outside is
    /// suspected of a slipped prefix or unit, not refused. It is about what people write: zero where zero is allowed,
    /// and what is worked out from other ratings, is beyond suspicion. `None` for counts and shares, which have no
    /// prefix to slip.
    pub usual: Option<(f64, f64)>,
    /// What holds when nothing is written.
    pub default: Default,
    /// What it means, with its unit, for hover and the reference.
    pub doc: &'static str,
}

/// What may be written for a rating.
#[derive(Clone, Copy, Debug)]
pub enum RatingShape {
    /// One quantity of a dimension.
    Quantity(Dimension),
    /// A range `low .. high`; a single quantity is the range of one point.
    Range(Dimension),
    /// One of these words, each with its meaning.
    Word(&'static [(&'static str, &'static str)]),
    /// `yes` or `no`; the bare key means yes, `not key` means no.
    Flag,
    /// A text in quotes.
    Text,
    /// A name of a thing, wire or place.
    Reference,
    /// One or more terminals of the thing itself, by name or number.
    Terminals,
    /// One or more of these words, each with its meaning.
    Words(&'static [(&'static str, &'static str)]),
    /// A date.
    Date,
    /// Terminals of the thing itself, then what they are, by these rows: `port s1 output push-pull 3.3 V`. The key may
    /// stand on several lines.
    Ports(&'static [Rating]),
}

/// What holds when a rating is not written.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Default {
    /// Nothing: what needs it is not assessed.
    Missing,
    /// A number in the base unit, and on what authority.
    Number(f64, &'static str),
    /// A word, and on what authority.
    Word(&'static str, &'static str),
    /// A flag, and why this way round is the careful one.
    Flag(bool, &'static str),
    /// Of a fact that holds only where somebody states it: no, and why. Unlike a flag that is no, it is not carried
    /// along: a thing of which nobody said it has no rating of the key.
    No(&'static str),
    /// Worked out from other ratings; the text says how.
    Derived(&'static str),
}
