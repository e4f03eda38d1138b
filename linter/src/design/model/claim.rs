//! What the builder says of the finished robot: accepted risks, expectations, readings.

use wattle_grammar::{quantity::Quantity, span::Span, syntax::Date};

use crate::design::{ModeId, State, TerminalId, ThingId, WireId};

/// An accepted risk.
#[derive(Clone, Debug)]
pub struct Accept {
    /// The rule's dotted name as written.
    pub rule: String,
    /// Where the rule's name stands.
    pub rule_span: Span,
    /// The full name of what it is accepted on.
    pub subject: String,
    /// Where that stands.
    pub subject_span: Span,
    /// Why.
    pub reason: String,
    /// The last day it holds, with its place.
    pub until: Option<(Date, Span)>,
    /// The whole statement.
    pub span: Span,
}

/// The builder's own limit.
#[derive(Clone, Debug)]
pub struct Expectation {
    /// What is expected.
    pub claim: Claim,
    /// The modes it holds in; every mode when empty.
    pub modes: Vec<ModeId>,
    /// Whether it has to hold with any one thing failed, too.
    pub any_fault: bool,
    /// What it is about, by full name: the identity of a finding.
    pub subject: String,
    /// The whole statement.
    pub span: Span,
}

/// What an expectation or a reading is about.
#[derive(Clone, Debug, PartialEq)]
pub enum Probe {
    /// A terminal: its voltage against the negative pole of what feeds it.
    Terminal(TerminalId),
    /// Two terminals: the voltage of the first against the second.
    Between(TerminalId, TerminalId),
    /// The current in a wire.
    Wire(WireId),
    /// The current through a thing.
    Thing(ThingId),
}

/// Limits, both allowed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// The least.
    pub low: Option<Quantity>,
    /// The most.
    pub high: Option<Quantity>,
}

/// What is expected.
#[derive(Clone, Debug, PartialEq)]
pub enum Claim {
    /// A voltage at a terminal.
    Voltage(Probe, Bounds),
    /// A current.
    Current(Probe, Bounds),
    /// The temperature of a wire.
    Temperature(Probe, Bounds),
    /// How long the batteries last.
    Runtime(Bounds),
    /// Things have no supply while another is in a state.
    Dead {
        /// The things that are to be dead.
        things: Vec<ThingId>,
        /// What is put into a state.
        when: ThingId,
        /// The state.
        state: State,
        /// The word of the state as written.
        word: String,
    },
}

/// A measurement on the bench.
#[derive(Clone, Debug)]
pub struct Reading {
    /// What was measured.
    pub probe: Probe,
    /// The value read.
    pub value: Quantity,
    /// In which mode.
    pub mode: Option<ModeId>,
    /// On which day.
    pub date: Option<Date>,
    /// What it is about, by full name.
    pub subject: String,
    /// The whole statement.
    pub span: Span,
}
