//! A protective device as it stands in the text: rating, style, breaking capacity, voltage, and when it opens.

use wattle_grammar::{
    kind::{KindId, key},
    quantity::{Amps, Seconds, Volts},
};

use crate::{
    design::{Design, Origin, Thing, ThingId},
    physics::{evidence::Evidence, fuse::Style},
    topology::{Link, LinkId, Nature, Owner},
};

/// What is known of a device.
#[derive(Clone, Copy, Debug)]
pub struct Device {
    /// Its link.
    pub link: LinkId,
    /// The thing it is, or the battery it sits in.
    pub thing: ThingId,
    /// Whether it sits in a battery.
    pub built_in: bool,
    /// Rated current.
    pub rated: Option<Amps>,
    /// Its time–current band; none where no limits are known for its style.
    pub style: Option<&'static Style>,
    /// Highest current it breaks.
    pub breaks: Option<Rating<Amps>>,
    /// Highest direct voltage at which it does.
    pub volts: Option<Rating<Volts>>,
}

/// A rating and what it rests on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rating<U> {
    /// How much.
    pub value: U,
    /// Whether it is written for this device, or taken from its style.
    pub is_stated: bool,
    /// What it is worth.
    pub evidence: Evidence,
}

/// When the devices on a way have surely opened, at a current.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clearing {
    /// The current.
    pub amps: Amps,
    /// The device that opens first, as far as their limits tell.
    pub device: Option<LinkId>,
    /// It does not open before this.
    pub earliest: Seconds,
    /// It has opened by this; none: it need not open at all.
    pub latest: Option<Seconds>,
    /// What its limits are worth.
    pub evidence: Evidence,
    /// A device on the way of which the band is not known: it may open earlier than this says.
    pub unknown: Option<LinkId>,
}

impl Device {
    /// The device behind a protective link.
    pub(super) fn of(design: &Design, id: LinkId, link: &Link) -> Option<Self> {
        let (Nature::Protective { rated }, Owner::Thing(thing_id, _)) = (link.nature, link.owner) else {
            return None;
        };
        let thing = design.things.get(thing_id.index())?;
        let built_in = thing.id() == KindId::Battery;
        let style = if built_in { None } else { thing.word(key::STYLE) };
        Some(Self {
            link: id,
            thing: thing_id,
            built_in,
            rated: rated.filter(|rated| rated.0 > 0.0),
            style: style.and_then(|word| Style::by_word(word, thing.word(key::SPEED))),
            breaks: rating(thing, key::BREAKING_CAPACITY),
            // The voltage on a battery is its own.
            volts: if built_in { None } else { rating(thing, key::VOLTAGE) },
        })
    }

    /// What is missing for its time–current band, as it would be written.
    #[must_use]
    pub fn missing_band(&self, design: &Design) -> Option<String> {
        if self.rated.is_none() {
            return Some(key::CURRENT.to_owned());
        }
        if self.style.is_some() {
            return None;
        }
        let word = if self.built_in { None } else { design.thing(self.thing).word(key::STYLE) };
        Some(word.map_or_else(
            || key::STYLE.to_owned(),
            |word| format!("a time–current band for the style `{word}`"),
        ))
    }
}

/// Whether a rating is written for the thing or its part, and not a default of its kind.
pub(super) fn is_written(thing: &Thing, key: &str) -> bool {
    thing.rated(key).is_some_and(|rated| !matches!(rated.origin, Origin::Default(_)))
}

/// A rating written on the thing or taken from its style, with what that is worth.
fn rating<U: wattle_grammar::quantity::Unit>(thing: &Thing, key: &str) -> Option<Rating<U>> {
    let value = thing.get::<U>(key).filter(|value| value.base() > 0.0)?;
    let is_stated = is_written(thing, key);
    // Of what the styles tell, the voltage of class T alone was not read in a source (see `fuse_style`).
    let recalled = !is_stated && key == key::VOLTAGE && thing.word(key::STYLE) == Some("class-t");
    let evidence = if recalled { Evidence::Memory } else { Evidence::Seen };
    Some(Rating { value, is_stated, evidence })
}
