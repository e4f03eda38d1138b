//! A protective device as it stands in the text: rating, style, breaking capacity, voltage, and when it opens.

use wattle_grammar::{
    kind::{KindId, key},
    quantity::{AmpSquaredSeconds, Amps, Seconds, Volts},
};

use crate::{
    design::{Design, Thing, ThingId},
    physics::{evidence::Evidence, fuse::Style},
    topology::{Link, LinkId, Nature, Owner, Topology},
};

/// How many times the last limit of a breaker its time is still carried to.
const FAR: f64 = 2.0;

/// What is known of a device.
#[derive(Clone, Copy, Debug)]
pub struct Device {
    /// Its link.
    pub link: LinkId,
    /// The thing it is, or the battery it sits in.
    pub thing: ThingId,
    /// Whether it sits in a battery.
    pub built_in: bool,
    /// Whether it is a breaker, whose contacts take their time however high the current is.
    pub is_breaker: bool,
    /// Rated current.
    pub rated: Option<Amps>,
    /// Its time–current band; none where no limits are known for its style.
    pub style: Option<&'static Style>,
    /// Highest current it breaks.
    pub breaks: Option<Rating<Amps>>,
    /// Highest direct voltage at which it does.
    pub volts: Option<Rating<Volts>>,
}

/// Every device of a robot.
#[derive(Clone, Debug, Default)]
pub(super) struct Devices {
    /// In link order.
    all: Vec<Device>,
    /// By [`LinkId`] the position in `all`, from 1 on; 0 for none.
    at: Vec<u32>,
}

impl Devices {
    /// Those of a robot.
    pub(super) fn new(design: &Design, topology: &Topology) -> Self {
        let mut devices = Self { all: Vec::new(), at: vec![0; topology.links.len()] };
        for ((id, link), at) in (0u32..).map(LinkId).zip(&topology.links).zip(&mut devices.at) {
            if let Some(device) = Device::of(design, id, link) {
                devices.all.push(device);
                *at = devices.all.len() as u32;
            }
        }
        devices
    }

    /// All of them, in link order.
    pub(super) fn all(&self) -> &[Device] {
        &self.all
    }

    /// The position of a link's device in [`Self::all`].
    pub(super) fn position(&self, link: LinkId) -> Option<usize> {
        Some(self.at.get(link.0 as usize)?.checked_sub(1)? as usize)
    }

    /// The device of a link; none where the link is none.
    pub(super) fn get(&self, link: LinkId) -> Option<&Device> {
        self.all.get(self.position(link)?)
    }
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
    /// The most energy that it lets pass; none: without end. Of a fuse that of its limits, which is several times what
    /// data sheets give for melting (25 A: 2250 A²s against 625 A²s), so that the arc is covered.
    pub energy: Option<AmpSquaredSeconds>,
    /// What its limits are worth.
    pub evidence: Evidence,
    /// A device on the way of which the band is not known: it may open earlier than this says.
    pub unknown: Option<LinkId>,
}

impl Device {
    /// The device behind a protective link.
    #[must_use]
    pub fn of(design: &Design, id: LinkId, link: &Link) -> Option<Self> {
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
            is_breaker: thing.id() == KindId::Breaker,
            rated: rated.filter(|rated| rated.0 > 0.0),
            style: style.and_then(|word| Style::by_word(word, thing.word(key::SPEED))),
            breaks: rating(thing, key::BREAKING_CAPACITY),
            // The voltage on a battery is its own.
            volts: if built_in { None } else { rating(thing, key::VOLTAGE) },
        })
    }

    /// The current up to which the last limit of a breaker's style is carried. So far above it that limit says next to
    /// nothing: a bimetal that must open within 120 s at 2.55 times opens in a second or so at 12 times.
    pub(super) fn tells_up_to(&self) -> Option<Amps> {
        let last = self.style?.limits.iter().rev().find(|limit| limit.latest.is_some())?;
        Some(self.rated? * last.multiple * FAR).filter(|_| self.is_breaker)
    }

    /// Whether a current lies beyond that.
    pub(super) fn is_far_beyond(&self, amps: Amps) -> bool {
        self.tells_up_to().is_some_and(|most| amps > most)
    }

    /// The highest current it surely breaks although no breaking capacity is known: its own standard lets it open there.
    #[must_use]
    pub fn surely_breaks(&self) -> Option<Amps> {
        let limit = self.style?.limits.iter().rev().find(|limit| limit.latest.is_some())?;
        Some(self.rated? * limit.multiple)
    }

    /// The most energy it lets pass at a current, as far as its limits tell; none: without end, or not known.
    pub(super) fn lets_pass(&self, amps: Amps) -> Option<AmpSquaredSeconds> {
        let (style, rated) = (self.style?, self.rated?);
        if self.is_breaker {
            let latest = style.times(rated, amps)?.latest?;
            return Some(AmpSquaredSeconds(latest.0 * amps.0 * amps.0));
        }
        style.most_energy(rated, amps)
    }

    /// What is missing for its time–current band, as it would be written.
    #[must_use]
    pub fn missing_band(&self, design: &Design) -> Option<String> {
        if self.rated.is_none() {
            return Some(key::CURRENT.to_owned());
        }
        if let Some(style) = self.style {
            return self.is_breaker.then(|| {
                let last = style.limits.last().map_or(0.0, |limit| limit.multiple);
                format!("a time–current curve above {last} times its rating")
            });
        }
        let word = if self.built_in { None } else { design.thing(self.thing).word(key::STYLE) };
        Some(word.map_or_else(
            || key::STYLE.to_owned(),
            |word| format!("a time–current band for the style `{word}`"),
        ))
    }
}

/// A rating written on the thing or taken from its style, with what that is worth.
fn rating<U: wattle_grammar::quantity::Unit>(thing: &Thing, key: &str) -> Option<Rating<U>> {
    let value = thing.get::<U>(key).filter(|value| value.base() > 0.0)?;
    let is_stated = thing.states(key);
    // Of what the styles tell, the voltage of class T alone was not read in a source (see `fuse_style`).
    let recalled = !is_stated && key == key::VOLTAGE && thing.word(key::STYLE) == Some("class-t");
    let evidence = if recalled { Evidence::Memory } else { Evidence::Seen };
    Some(Rating { value, is_stated, evidence })
}
