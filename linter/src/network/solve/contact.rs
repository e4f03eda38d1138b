//! Contacts that follow coils: switching until they stand still.

use std::collections::BTreeSet;

use crate::network::{ElementId, Follower, Law};

use super::curve::SWITCHED;

/// Rounds for each contact before contacts that never repeat a picture count as chattering.
const MOST_ROUNDS: usize = 8;

/// The contacts, and every picture of them that was tried.
#[derive(Clone, Debug)]
pub(super) struct Contacts {
    /// Whether each contact is closed.
    pub closed: Vec<bool>,
    tried: Vec<Vec<bool>>,
    one_by_one: bool,
}

/// What the contacts did.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Move {
    /// Nothing: they stand as their coils want.
    Still,
    /// Some switched.
    Switched,
    /// They go round for ever; these take part.
    Chatter(Vec<usize>),
}

impl Contacts {
    /// Contacts as they begin.
    pub(super) fn new(closed: Vec<bool>) -> Self {
        Self { tried: vec![closed.clone()], closed, one_by_one: false }
    }

    /// Switches the contacts for the voltages of their coils, volt, by the contact's number and its coil.
    ///
    /// All that want to switch do so together, as equal relays would. When that goes in circles the coils are taken one
    /// at a time, the first in the list first: of two relays that lock each other out, one wins.
    pub(super) fn follow(
        &mut self,
        followers: &[Follower],
        coil_volts: impl Fn(usize, ElementId) -> f64,
    ) -> Move {
        let mut wanted: Vec<bool> = followers
            .iter()
            .zip(&self.closed)
            .enumerate()
            .map(|(at, (follower, &closed))| wants(follower, closed, coil_volts(at, follower.coil)))
            .collect();
        if wanted == self.closed {
            return Move::Still;
        }
        if self.one_by_one {
            self.hold_all_but_first(followers, &mut wanted);
        }
        let seen = self.tried.iter().position(|picture| *picture == wanted);
        match (seen, self.one_by_one) {
            (Some(seen), false) => wanted = self.begin_one_by_one(followers, seen),
            (Some(seen), true) => return Move::Chatter(self.moving_since(seen)),
            (None, _) if self.tried.len() >= MOST_ROUNDS * (1 + followers.len()) => {
                return Move::Chatter(self.moving_since(0));
            }
            (None, _) => {}
        }
        self.tried.push(wanted.clone());
        self.closed = wanted;
        Move::Switched
    }

    /// Goes back to where the circle of pictures begins, and on from there with the first coil only.
    fn begin_one_by_one(&mut self, followers: &[Follower], seen: usize) -> Vec<bool> {
        let circle = self.tried.split_off(seen);
        self.one_by_one = true;
        let mut pictures = circle.into_iter();
        self.closed = pictures.next().unwrap_or_default();
        let mut wanted = pictures.next().unwrap_or_default();
        self.hold_all_but_first(followers, &mut wanted);
        self.tried = vec![self.closed.clone()];
        wanted
    }

    /// Keeps all contacts where they are but those of the first coil that wants to switch.
    fn hold_all_but_first(&self, followers: &[Follower], wanted: &mut [bool]) {
        let mut moving = None;
        for ((follower, wanted), &closed) in followers.iter().zip(wanted).zip(&self.closed) {
            if *wanted != closed && *moving.get_or_insert(follower.coil) != follower.coil {
                *wanted = closed;
            }
        }
    }

    /// The contacts that differ between the pictures tried since one.
    fn moving_since(&self, first: usize) -> Vec<usize> {
        let pictures = &self.tried[first..];
        let differs = |contact: &usize| {
            let states: BTreeSet<bool> = pictures.iter().map(|picture| picture[*contact]).collect();
            states.len() > 1
        };
        (0..self.closed.len()).filter(differs).collect()
    }
}

/// Whether a contact wants to be closed at a coil voltage; between the two limits it stays.
fn wants(follower: &Follower, closed: bool, coil_volts: f64) -> bool {
    let coil_volts = coil_volts.abs();
    if coil_volts >= follower.operate.0 {
        !follower.normally_closed
    } else if coil_volts < follower.release.0 {
        follower.normally_closed
    } else {
        closed
    }
}

/// The law of a contact. It stays an element of its own even at 0 Ω.
pub(super) fn law(follower: &Follower, closed: bool) -> Law {
    if !closed {
        return Law::Open;
    }
    let mut resistance = follower.closed;
    resistance.0 = resistance.0.max(SWITCHED);
    Law::Resistor(resistance)
}

#[cfg(test)]
mod tests {
    use wattle_grammar::quantity::{Ohms, Volts};

    use super::*;

    fn relay(coil: u32, normally_closed: bool) -> Follower {
        let (coil, contact) = (ElementId(coil), ElementId(coil + 10));
        let (operate, release) = (Volts(8.0), Volts(2.0));
        let (closed, begins_operated) = (Ohms(0.0), false);
        Follower { coil, contact, normally_closed, operate, release, closed, begins_operated }
    }

    #[test]
    fn between_the_limits_a_contact_stays() {
        let relay = relay(0, false);
        assert!(wants(&relay, true, -5.0) && !wants(&relay, false, 5.0));
        assert!(wants(&relay, false, -8.0) && !wants(&relay, true, 1.9));
    }

    #[test]
    fn a_relay_that_breaks_its_own_coil_chatters() {
        let relays = [relay(0, true)];
        let mut contacts = Contacts::new(vec![true]);
        let moves: Vec<Move> = (0..4)
            .map(|_| {
                let volts = if contacts.closed[0] { 12.0 } else { 0.0 };
                contacts.follow(&relays, |_, _| volts)
            })
            .collect();
        assert_eq!(moves.last(), Some(&Move::Chatter(vec![0])));
    }

    #[test]
    fn of_two_relays_that_lock_each_other_out_the_first_wins() {
        let relays = [relay(0, true), relay(1, true)];
        let mut contacts = Contacts::new(vec![true, true]);
        for _ in 0..8 {
            // The coil of each is fed over the break contact of the other.
            let closed = contacts.closed.clone();
            let volts = |_: usize, coil: ElementId| if closed[1 - coil.0 as usize] { 12.0 } else { 0.0 };
            if contacts.follow(&relays, volts) == Move::Still {
                break;
            }
        }
        assert_eq!(contacts.closed, [false, true]);
    }
}
