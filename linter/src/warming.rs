//! Wires under currents that do not last: how long each carries a stall, a peak or the push of a turned motor before its
//! insulation's class is reached, and what that rests on.
//!
//! The law is [`crate::physics::transient`]. A wire begins where its worst lasting current leaves it.

use wattle_grammar::{
    kind::key,
    quantity::{Amps, Celsius, Seconds},
};

use crate::{
    design::{Design, Level, Mode, State, ThingId, WireId, facts},
    explained::{Amount, Explained, Input},
    figures::Point,
    physics::{evidence::Evidence, fuse::Style, heat::Cable, transient::Warming},
    profile::Conductor,
    protection::Given,
    topology::{LinkId, Nature, Owner},
    trace::Weakest,
};

/// Currents of one branch differ by no more than this share of them.
const SAME_CURRENT: f64 = 1e-6;

/// How many names a sentence lists before it counts the rest.
const NAMED: usize = 4;

/// A wire at a point that does not last.
#[derive(Clone, Debug)]
pub struct Brief {
    /// The point: its position in [`crate::figures::Figures::points`].
    pub point: usize,
    /// The current.
    pub amps: Amps,
    /// What it may carry for as long as one likes there.
    pub ampacity: Amps,
    /// The wire in its surroundings.
    pub conductor: Conductor,
    /// How it warms.
    pub warming: Warming,
    /// The temperature it begins at.
    pub start: Celsius,
    /// How long it carries the current before its class is reached; without end where it settles below.
    pub until_class: Seconds,
    /// How long the current lasts, where somebody says so.
    pub lasts: Option<Lasts>,
    /// By when a device ends it at the latest, where one in the same branch is sure to.
    pub ends: Option<Lasts>,
}

/// How long a state lasts at most, and who says so.
#[derive(Clone, Debug, PartialEq)]
pub struct Lasts {
    /// The time.
    pub time: Seconds,
    /// What says so: ``as stated in `climb` ``.
    pub by: String,
}

/// A look at the wires of a robot.
#[derive(Clone, Copy)]
pub struct Bench<'a> {
    given: Given<'a>,
}

impl<'a> Bench<'a> {
    /// That of a robot.
    #[must_use]
    pub const fn of(given: Given<'a>) -> Self {
        Self { given }
    }

    /// The current of a wire at a point and the wire in its surroundings there, with its ampacity. Nothing unless the
    /// current is above the ampacity: most wires at most points cost no more than a look at the worst they ever bear.
    fn overloaded(&self, wire: WireId, at: usize, point: &Point) -> Option<(Amps, Conductor, Amps)> {
        let Given { design, figures, conductors, profile, .. } = self.given;
        let amps = point.amps(LinkId(wire.0))?.abs();
        if amps <= self.given.ampacity(wire)?.amps {
            return None;
        }
        let conductor = conductors.at(design, figures, wire, at)?;
        let ampacity = profile.ampacity(&conductor)?.amps;
        (amps > ampacity).then_some((amps, conductor, ampacity))
    }

    /// The wire at every point that does not last and at which it carries more than its ampacity, in the order of the points.
    #[must_use]
    pub fn briefs(&self, wire: WireId) -> Vec<Brief> {
        let points = self.given.figures.points.iter().enumerate();
        points.filter_map(|(at, point)| self.brief(wire, at, point)).collect()
    }

    fn brief(&self, wire: WireId, at: usize, point: &Point) -> Option<Brief> {
        let (amps, conductor, ampacity) = self.overloaded(wire, at, point)?;
        if !is_brief(self.given.design, point) {
            return None;
        }
        let warming = warming(&conductor, ampacity);
        let start = warming.settled(self.lasting(wire));
        let until_class = warming.time(start, conductor.insulation, amps);
        let (lasts, ends) = (lasts(self.given.design, point), self.device_opens(wire, point, amps));
        Some(Brief { point: at, amps, ampacity, conductor, warming, start, until_class, lasts, ends })
    }

    /// By when a device opens that the whole current of the wire flows through: one on its way in, behind it or before the load
    /// that comes home through it, with the same current. Its style has to be known.
    fn device_opens(&self, wire: WireId, point: &Point, amps: Amps) -> Option<Lasts> {
        let ways =
            self.given.trace.into_wire(self.given.topology, wire).filter_map(|way| match way.weakest {
                Weakest::Device(link, _) => Some(link),
                _ => None,
            });
        let home = self.given.trace.returns.get(wire.index()).copied().flatten().and_then(|load| load.device);
        let lead = self.given.trace.leads.get(wire.index()).copied().flatten().map(|lead| lead.device);
        let opens = ways.chain(home).chain(lead).filter_map(|link| self.opens(link, point, amps));
        opens.min_by(|one, other| one.time.0.total_cmp(&other.time.0))
    }

    fn opens(&self, link: LinkId, point: &Point, amps: Amps) -> Option<Lasts> {
        let through = point.amps(link)?.abs();
        if (through / amps - 1.0).abs() > SAME_CURRENT {
            return None;
        }
        let found = self.given.topology.link(link)?;
        let (Nature::Protective { rated: Some(rated) }, Owner::Thing(thing, _)) = (found.nature, found.owner)
        else {
            return None;
        };
        let device = self.given.design.thing(thing);
        let style = Style::by_word(device.word(key::STYLE)?, device.word(key::SPEED))?;
        let time = style.opening(rated, through)?.latest?;
        Some(Lasts {
            time,
            by: format!("until `{}` has opened at the latest ({})", device.name, style.source),
        })
    }

    /// The worst current that lasts, root mean square.
    fn lasting(&self, wire: WireId) -> Amps {
        self.given.figures.worst(wire).map_or(Amps(0.0), |worst| worst.amps)
    }

    /// The figure `time to the insulation's class` of a wire: at its worst point that does not last. Nothing where it carries
    /// no more than its ampacity at any.
    #[must_use]
    pub fn explained(&self, wire: WireId) -> Option<Explained> {
        let briefs = self.briefs(wire);
        let worst = briefs.iter().min_by(|one, other| one.until_class.0.total_cmp(&other.until_class.0))?;
        Some(self.explain(worst))
    }

    /// The figure of one point.
    #[must_use]
    pub fn explain(&self, brief: &Brief) -> Explained {
        let Brief { amps, start, conductor, ampacity, .. } = brief;
        let figure = Explained::new("time to the insulation's class", Amount::of(brief.until_class))
            .by(
                "t = ∫ c A dT / (I² R(T) − q(T)) from T₀ to T_ins",
                "heat balance of Churchill and Chu 1975 with radiation, scaled to the profile's ampacity; heat capacity of \
                 the copper alone, IEC 60949",
            )
            .from([
                Input::of("I", format!("current in mode `{}`, network solved", self.mode_name(brief.point)), *amps),
                Input::of("A", "copper area", conductor.area),
                Input::of("T₀", "start, settled at the worst current that lasts", *start),
                Input::of("T_ins", "class of the insulation", conductor.insulation),
                Input::of("T_air", "air", conductor.ambient),
                Input::of("I_max", format!("ampacity, profile `{}`", self.given.profile.word), *ampacity),
            ])
            .at(Some(brief.point))
            .resting_on(Evidence::Memory)
            .noting("the insulation takes up no heat, so the real time is somewhat longer")
            .noting("the current is taken as flowing without a pause");
        let figure = match &brief.ends {
            Some(ends) => figure.noting(format!("a device ends it: {} {}", ends.time, ends.by)),
            None => figure,
        };
        match &brief.lasts {
            Some(lasts) => figure.noting(format!("it lasts {} {}", lasts.time, lasts.by)),
            None => figure.noting("nothing says how long it lasts"),
        }
    }

    fn mode_name(&self, point: usize) -> &'a str {
        let mode = self.given.figures.points.get(point).map(|point| point.mode);
        mode.and_then(|mode| self.given.design.modes.get(mode.index())).map_or("", |mode| mode.name.as_str())
    }

    /// A sentence for each mode in which wires pass only because its `duty` is averaged: for how long the load may flow at a
    /// stretch before the first of them reaches its class.
    #[must_use]
    pub fn averaging(&self) -> Vec<String> {
        let modes = self.given.design.modes.iter().zip((0u32..).map(crate::design::ModeId));
        let averaged = modes.filter(|(mode, _)| mode.duty.0 > 0.0 && mode.duty.0 < 1.0);
        averaged.filter_map(|(mode, id)| self.averaged(mode, id)).collect()
    }

    fn averaged(&self, mode: &Mode, id: crate::design::ModeId) -> Option<String> {
        let points = self.given.figures.points.iter().enumerate();
        let points: Vec<(usize, &Point)> =
            points.filter(|(_, point)| point.mode == id && point.ordinary).collect();
        let mut leaning: Vec<(Seconds, &str)> = Vec::new();
        for (wire, written) in self.given.design.wires() {
            let stretches = points.iter().filter_map(|(at, point)| self.stretch(wire, *at, point));
            let shortest = stretches.min_by(|one, other| one.0.total_cmp(&other.0));
            leaning.extend(shortest.map(|time| (time, written.name.as_str())));
        }
        leaning.sort_by(|one, other| one.0.0.total_cmp(&other.0.0).then(one.1.cmp(other.1)));
        let (shortest, _) = leaning.first()?;
        let names: Vec<String> = leaning.iter().take(NAMED).map(|(_, name)| format!("`{name}`")).collect();
        let more = if leaning.len() > NAMED { ", …" } else { "" };
        let pass = if leaning.len() == 1 {
            "1 wire passes".to_owned()
        } else {
            format!("{} wires pass", leaning.len())
        };
        Some(format!(
            "in `{}` {pass} only because the `duty` is averaged: that holds while no stretch of load is longer than {shortest} \
             ({}{more})",
            mode.name,
            names.join(", ")
        ))
    }

    /// For how long a wire carries the whole current that its duty averages to less than its ampacity, begun where the average
    /// leaves it.
    fn stretch(&self, wire: WireId, at: usize, point: &Point) -> Option<Seconds> {
        let (amps, conductor, ampacity) = self.overloaded(wire, at, point)?;
        let average = amps * point.duty.0.sqrt();
        if average > ampacity {
            return None;
        }
        let warming = warming(&conductor, ampacity);
        Some(warming.time(warming.settled(average), conductor.insulation, amps))
    }
}

impl Brief {
    /// How long it lasts at most: as somebody says, or until a device has ended it, if that is sooner. Nothing where nobody
    /// says: that a device ends it some time does not mean that anybody lets it come to that.
    #[must_use]
    pub fn at_most(&self) -> Option<&Lasts> {
        let stated = self.lasts.as_ref()?;
        Some(self.ends.as_ref().filter(|ends| ends.time < stated.time).unwrap_or(stated))
    }

    /// Whether the wire gets to its class before a device ends it; never where it settles below.
    #[must_use]
    pub fn may_overheat(&self) -> bool {
        self.until_class.0.is_finite() && self.ends.as_ref().is_none_or(|ends| ends.time > self.until_class)
    }
}

fn warming(conductor: &Conductor, ampacity: Amps) -> Warming {
    Warming::new(Cable::thin_walled(conductor.area), conductor.insulation, conductor.ambient, ampacity)
}

/// Whether a point is one that does not last: something is blocked, turned from outside, or at its peak.
#[must_use]
pub fn is_brief(design: &Design, point: &Point) -> bool {
    !point.ordinary || at_peak(design, point).next().is_some()
}

/// The things at their peak.
fn at_peak<'d>(design: &'d Design, point: &Point) -> impl Iterator<Item = ThingId> + 'd {
    let states = design.modes.get(point.mode.index()).map_or(&[][..], |mode| mode.states.as_slice());
    let peaks = design.things().zip(states).filter(|(_, state)| matches!(state, State::Draws(Level::Peak)));
    peaks.map(|((id, _), _)| id)
}

/// How long a point lasts: as its mode says; else, where nothing but peaks makes it short, the longest `peak-time` of what
/// is at its peak, if each of them has one.
#[must_use]
pub fn lasts(design: &Design, point: &Point) -> Option<Lasts> {
    let mode = design.modes.get(point.mode.index())?;
    if let Some(time) = facts::find(&mode.facts, key::LASTS).and_then(facts::quantity::<Seconds>) {
        return Some(Lasts { time, by: format!("as stated in `{}`", mode.name) });
    }
    if !point.ordinary {
        return None;
    }
    let times: Option<Vec<(Seconds, ThingId)>> =
        at_peak(design, point).map(|id| Some((design.thing(id).get(key::PEAK_TIME)?, id))).collect();
    let longest = times?.into_iter().max_by(|one, other| one.0.0.total_cmp(&other.0.0))?;
    Some(Lasts { time: longest.0, by: format!("by the `peak-time` of `{}`", design.thing(longest.1).name) })
}
