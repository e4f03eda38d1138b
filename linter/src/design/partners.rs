//! Connector halves and the halves they are plugged into: a half has several where it is in one of them at a time.

use super::{Design, State, ThingId};

/// The halves that each connector half is mated with, by thing, in text order: the first one is the usual one.
#[derive(Clone, Debug)]
pub struct Partners(Vec<Vec<ThingId>>);

impl Partners {
    /// Those of a design.
    #[must_use]
    pub fn new(design: &Design) -> Self {
        let mut partners = vec![Vec::new(); design.things.len()];
        for mate in &design.mates {
            for (half, other) in [(mate.first.0, mate.second.0), (mate.second.0, mate.first.0)] {
                if let Some(others) = partners.get_mut(half.index()) {
                    others.push(other);
                }
            }
        }
        Self(partners)
    }

    fn of(&self, half: ThingId) -> &[ThingId] {
        self.0.get(half.index()).map(Vec::as_slice).unwrap_or_default()
    }

    /// The one half that a connector half is ever mated with, and that with no other; nothing where either has several.
    pub(super) fn only_of(&self, half: ThingId) -> Option<ThingId> {
        match self.of(half) {
            [only] if self.of(*only).len() == 1 => Some(*only),
            _ => None,
        }
    }

    /// Whether each thing is a connector half that is mated when nobody says otherwise: with the first half that is
    /// written for both of them.
    pub(super) fn usually_mated(&self) -> Vec<bool> {
        let usual = |half: ThingId| self.of(half).first().copied();
        let ids = (0u32..).map(ThingId).take(self.0.len());
        ids.map(|id| usual(id).is_some_and(|other| usual(other) == Some(id))).collect()
    }

    /// Puts a thing into a state. The other half of a connector is as open as this one; where one half has several
    /// partners, closing a pair opens the others.
    pub fn put(&self, states: &mut [State], id: ThingId, found: State) {
        let elsewhere: Vec<ThingId> = match self.of(id) {
            [only] => self.of(*only).iter().copied().filter(|other| *other != id).collect(),
            _ => Vec::new(),
        };
        let is_elsewhere = elsewhere.iter().any(|half| states.get(half.index()) == Some(&State::Closed));
        let mut set = |half: ThingId, state: State| {
            if let Some(slot) = states.get_mut(half.index()) {
                *slot = state;
            }
        };
        set(id, found);
        match self.of(id) {
            [only] if found == State::Closed => {
                set(*only, found);
                elsewhere.iter().for_each(|other| set(*other, State::Open));
            }
            [only] if !is_elsewhere => set(*only, found),
            // The partner is plugged in elsewhere and stays there.
            [_] => {}
            several if found == State::Open => several.iter().for_each(|other| set(*other, State::Open)),
            // With several partners nothing tells which one is meant: the one whose own line says so.
            _ => {}
        }
    }
}
