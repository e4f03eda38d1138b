//! A motor driver that a turned motor feeds when its supply is lost.

use std::collections::BTreeSet;

use wattle_grammar::{
    kind::{KindId, Role, SUPPLY_MARGIN, key},
    quantity::Volts,
};

use crate::{
    conduction::{Conduction, Live, Pieces, supply},
    design::{Design, Origin, Thing, ThingId, WireId},
    figures::{Lost, Point, Trials},
    finding::{Finding, Mend, Severity},
    inquiry::Inquiry,
    naming,
    network::NodeId,
    physics::{diode::SILICON_DROP, motor::pushed_rail},
    quantity_text::Figure,
    rule::{Rule, Source},
    topology::{Charge, Link, LinkId, Nature, Owner},
    unfold,
};

/// Up to this many ways of losing power are solved one by one; beyond, those of one kind are taken together.
const SINGLY: usize = 24;

/// Less than this on a driver wakes nothing and hurts nothing.
const NOTICED: Volts = Volts(0.5);

/// A way of losing power has to be worse than another by this factor to be told in its place.
const CLEARLY: f64 = 1.01;

/// The rule.
pub static RULE: Rule = Rule {
    name: "driver.unisolated",
    severity: Severity::Damage,
    summary: "When its power is lost, a turned motor feeds the driver from behind.",
    why: "A robot that is pushed, towed or rolls on turns its motors into generators. The driver's own diodes let that \
          voltage onto its supply, powered or not: it wakes the logic, exceeds the driver's limit, feeds everything else \
          on the bus. A relay in the motor leads keeps it out, but only if it really drops out: a coil that hangs on the \
          driver's bus is held in by the very voltage it should keep away, down to a tenth of its rating.",
    condition: "For each way of losing power (every switch and stop, every breaker and fuse on the driver's supply or its \
                contactors' coils opened, and all packs unplugged at rest) the network is solved with every back-drivable \
                motor turned and the relays as they stood while it ran. Reported when one of the driver's supply \
                terminals has no source left, two leads of a motor still reach it, and that puts more than 0.5 V on it. \
                A blown fuse or a tripped breaker alone counts only when the driver or another part without a source \
                then sees more than its highest supply voltage; a breaker of `switching-duty` counts as a switch.",
    source: Source::CommonPractice(
        "motor-driver makers' manuals on unpowered pushing; body diodes: E - 1.4 V on the bus",
    ),
    legitimate: "A gearbox that the load cannot turn: state `not back-drivable` on the motor. A driver whose maker allows \
                 it: state `takes-back-feed`; then only its highest supply voltage is checked.",
    mend: "A relay contact in both motor leads, its coil fed from a node that dies with the switch, the breaker and the \
           stop, and that the driver's bus cannot feed back into. No fuse in the motor leads.",
    bad: r#"wattle 1
robot "Cart" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
switch S1 20 A
fuse F1 15 A blade
driver D1 6 V .. 18 V 10 A
motor M1 12 V { typical 2 A; stall 12 A }
wire W1 PACK.pos to F1.line 10 AWG red 100 mm
wire W2 F1.load to S1.1 14 AWG red 200 mm
wire W3 S1.2 to D1.pos 14 AWG red 200 mm
wire W4 D1.neg to PACK.neg 14 AWG black 300 mm
wire W5 D1.m1a to M1.a 14 AWG yellow 300 mm
wire W6 D1.m1b to M1.b 14 AWG blue 300 mm
"#,
    good: r#"wattle 1
robot "Cart" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
switch S1 20 A
fuse F1 15 A blade
driver D1 6 V .. 18 V 10 A
motor M1 12 V { typical 2 A; stall 12 A; not back-drivable }
wire W1 PACK.pos to F1.line 10 AWG red 100 mm
wire W2 F1.load to S1.1 14 AWG red 200 mm
wire W3 S1.2 to D1.pos 14 AWG red 200 mm
wire W4 D1.neg to PACK.neg 14 AWG black 300 mm
wire W5 D1.m1a to M1.a 14 AWG yellow 300 mm
wire W6 D1.m1b to M1.b 14 AWG blue 300 mm
"#,
    check,
};

/// A driver and the motors that can turn it.
struct Pair {
    driver: ThingId,
    leads: Vec<NodeId>,
    motors: Vec<(ThingId, Link)>,
}

/// A way of losing power.
struct Loss {
    words: String,
    opened: Vec<ThingId>,
    cause: Cause,
}

/// How power is lost; decides what the contacts do and what counts.
///
/// In the order in which they are told when the voltage is the same.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Cause {
    /// Someone opens a switch or presses a stop while the robot moves: it is to be dead, and any feed counts.
    Hand,
    /// Someone takes the packs out: the robot stands, the relays drop before it is pushed, and any feed counts.
    Unplugged,
    /// A device opens while the robot moves: it was on and stays in its ordinary voltages unless a limit is passed.
    Device,
}

/// The robot after a loss, as all drivers see it.
struct Moment<'a> {
    point: &'a Point,
    conduction: Conduction<'a>,
    pieces: Pieces,
    live: Live,
    /// The parts without a source that see more than their highest supply voltage: what they see, and that.
    overfed: Vec<(ThingId, Volts, Volts)>,
}

/// What a loss does to one driver.
struct Fed {
    volts: Volts,
    loss: String,
    cause: Cause,
    motor: ThingId,
    way: Vec<LinkId>,
    held: Vec<String>,
    others: Vec<String>,
}

fn check(inquiry: &mut Inquiry<'_>) {
    let pairs = pairs(inquiry);
    if pairs.is_empty() {
        return;
    }
    let turned: Vec<ThingId> =
        pairs.iter().flat_map(|pair| pair.motors.iter().map(|(motor, _)| *motor)).collect();
    let mut trials = inquiry.figures.trials(inquiry.design, inquiry.topology);
    let mut worst: Vec<Option<Fed>> = pairs.iter().map(|_| None).collect();
    for loss in losses(inquiry, &pairs) {
        let Some(point) = solved(&mut trials, &loss, &turned) else { continue };
        let moment = Moment::new(inquiry, &point);
        for (pair, worst) in pairs.iter().zip(&mut worst) {
            let counts = |fed: &Fed| fed.cause != Cause::Device || is_beyond(inquiry, pair, fed);
            let is_worse = |fed: &Fed| worst.as_ref().is_none_or(|held| fed.volts > held.volts * CLEARLY);
            if let Some(fed) = fed(inquiry, pair, &loss, &moment).filter(|fed| counts(fed) && is_worse(fed)) {
                *worst = Some(fed);
            }
        }
    }
    let found = pairs.iter().zip(worst).filter_map(|(pair, fed)| Some((pair, fed?)));
    let findings: Vec<Finding> = found.filter_map(|(pair, fed)| finding(inquiry, pair, &fed)).collect();
    for finding in findings {
        inquiry.report(finding);
    }
}

/// The network after the loss. Packs are taken out at rest, so there the relays drop before anything is turned.
fn solved(trials: &mut Trials<'_>, loss: &Loss, turned: &[ThingId]) -> Option<Point> {
    let lost: Vec<Lost> = loss.opened.iter().map(|thing| Lost::Thing(*thing)).collect();
    if loss.cause == Cause::Unplugged {
        trials.pushed_from_rest(&lost, turned, Charge::Full)
    } else {
        trials.power_lost(&lost, turned, Charge::Full)
    }
}

/// Whether the driver or something else on its bus sees more than it bears.
fn is_beyond(inquiry: &Inquiry<'_>, pair: &Pair, fed: &Fed) -> bool {
    let most = highest(inquiry.design.thing(pair.driver));
    !fed.others.is_empty() || most.is_none_or(|most| fed.volts > most)
}

/// Every driver with the back-drivable motors its leads can be joined to.
fn pairs(inquiry: &Inquiry<'_>) -> Vec<Pair> {
    let design = inquiry.design;
    let backwards = |id: ThingId| inquiry.trace.backwards.iter().any(|one| one.thing == id);
    let drivers = design.things().filter(|(id, thing)| thing.id() == KindId::Driver && !backwards(*id));
    drivers
        .filter_map(|(driver, _)| {
            let leads: Vec<NodeId> = design
                .terminals_of(driver)
                .filter(|(_, terminal)| terminal.role == Role::MotorLead)
                .filter_map(|(at, _)| inquiry.topology.node_of.get(at.index()).copied())
                .collect();
            let motors = motors_at(inquiry, driver, &leads);
            (!motors.is_empty()).then_some(Pair { driver, leads, motors })
        })
        .collect()
}

/// The back-drivable motors that the leads reach through conductors and contacts, short of the driver's own rails.
fn motors_at(inquiry: &Inquiry<'_>, driver: ThingId, leads: &[NodeId]) -> Vec<(ThingId, Link)> {
    let rail = |name: &str| {
        let terminal = inquiry.design.terminal_named(driver, name)?;
        Some(inquiry.trace.rail(*inquiry.topology.node_of.get(terminal.index())?))
    };
    let own = [rail("pos"), rail("neg")];
    let mut seen: BTreeSet<NodeId> = leads.iter().copied().collect();
    let mut stack = leads.to_vec();
    let mut motors = Vec::new();
    while let Some(node) = stack.pop() {
        for link in inquiry.topology.links_at.get(node.0 as usize).into_iter().flatten() {
            let Some(link) = inquiry.topology.links.get(link.0 as usize) else { continue };
            let to = if link.a == node { link.b } else { link.a };
            match (link.nature, link.owner) {
                (Nature::Winding, Owner::Thing(motor, _)) => motors.push((motor, *link)),
                (
                    Nature::Wire
                    | Nature::Mated
                    | Nature::Shunt(_)
                    | Nature::Protective { .. }
                    | Nature::HandContact { .. }
                    | Nature::CoilContact { .. },
                    _,
                ) if !own.contains(&Some(inquiry.trace.rail(to))) && seen.insert(to) => stack.push(to),
                _ => {}
            }
        }
    }
    motors.sort_by_key(|(motor, _)| *motor);
    motors.dedup_by_key(|(motor, _)| *motor);
    motors.retain(|(motor, _)| inquiry.design.thing(*motor).flag(key::BACK_DRIVABLE) != Some(false));
    motors
}

/// The ways of losing power that concern these drivers.
fn losses(inquiry: &Inquiry<'_>, pairs: &[Pair]) -> Vec<Loss> {
    let design = inquiry.design;
    let supplies = pairs.iter().filter_map(|pair| supply_node(inquiry, pair.driver));
    let mut opened = openers(inquiry, supplies.collect());
    let hand = |id: KindId| matches!(id, KindId::Switch | KindId::Stop);
    opened.extend(design.things().filter(|(_, thing)| hand(thing.id())).map(|(id, _)| id));
    let sources: Vec<ThingId> = design
        .things()
        .filter(|(_, thing)| matches!(thing.id(), KindId::Battery | KindId::Supply | KindId::Generator))
        .map(|(id, _)| id)
        .collect();
    let words_unplugged = "every pack and supply is unplugged".to_owned();
    let unplugged = Loss { words: words_unplugged, opened: sources, cause: Cause::Unplugged };
    if opened.len() <= SINGLY {
        let single =
            |id: &ThingId| Loss { words: words(inquiry, *id), opened: vec![*id], cause: cause(design, *id) };
        let mut losses: Vec<Loss> = opened.iter().map(single).chain([unplugged]).collect();
        losses.sort_by_key(|loss| loss.cause);
        return losses;
    }
    let mut losses = Vec::new();
    for (kind, what) in [
        (KindId::Switch, "the switches are open"),
        (KindId::Stop, "the stops are pressed"),
        (KindId::Breaker, "the breakers are open"),
        (KindId::Fuse, "the fuses have blown"),
    ] {
        let of_kind: Vec<ThingId> =
            opened.iter().copied().filter(|id| design.thing(*id).id() == kind).collect();
        if let Some(first) = of_kind.first() {
            losses.push(Loss { words: what.to_owned(), cause: cause(design, *first), opened: of_kind });
        }
    }
    losses.push(unplugged);
    losses
}

fn cause(design: &Design, id: ThingId) -> Cause {
    let thing = design.thing(id);
    match thing.id() {
        KindId::Breaker if thing.flag(key::SWITCHING_DUTY) == Some(true) => Cause::Hand,
        KindId::Fuse | KindId::Breaker => Cause::Device,
        _ => Cause::Hand,
    }
}

fn words(inquiry: &Inquiry<'_>, id: ThingId) -> String {
    let verb = match inquiry.design.thing(id).id() {
        KindId::Fuse => "has blown",
        KindId::Stop => "is pressed",
        _ => "is open",
    };
    format!("{} {verb}", naming::thing(inquiry.design, id))
}

fn supply_node(inquiry: &Inquiry<'_>, driver: ThingId) -> Option<NodeId> {
    let terminal = inquiry.design.terminal_named(driver, "pos")?;
    inquiry.topology.node_of.get(terminal.index()).copied()
}

/// The devices and hand contacts on the ways to these nodes, and on the ways to the coils of the contacts on them.
fn openers(inquiry: &Inquiry<'_>, mut wanted: Vec<NodeId>) -> BTreeSet<ThingId> {
    let mut opened = BTreeSet::new();
    let mut seen = BTreeSet::new();
    while let Some(node) = wanted.pop() {
        if !seen.insert(node) {
            continue;
        }
        for feed in inquiry.trace.feeds_at(node) {
            for link in feed.path_to(inquiry.topology, node) {
                let Some(link) = inquiry.topology.links.get(link.0 as usize) else { continue };
                match (link.nature, link.owner) {
                    (Nature::Protective { .. } | Nature::HandContact { .. }, Owner::Thing(id, _)) => {
                        opened.insert(id);
                    }
                    (Nature::CoilContact { coil, .. }, _) => {
                        wanted.extend(inquiry.topology.links.get(coil.0 as usize).map(|coil| coil.a));
                    }
                    _ => {}
                }
            }
        }
    }
    opened
}

impl<'a> Moment<'a> {
    fn new(inquiry: &Inquiry<'a>, point: &'a Point) -> Self {
        let conduction = Conduction::new(inquiry.topology, point);
        let live = Live::new(inquiry.design, inquiry.trace, &conduction);
        let overfed = overfed(inquiry, point, &live);
        Self { point, pieces: conduction.pieces(), conduction, live, overfed }
    }

    fn joins(&self, first: &[NodeId], second: &[NodeId]) -> bool {
        let piece = |node: &NodeId| self.pieces.of(*node);
        first.iter().map(piece).any(|one| second.iter().map(piece).any(|other| one == other))
    }
}

/// What the loss does to the driver; `None` while it still has a source, or no motor reaches it.
fn fed(inquiry: &Inquiry<'_>, pair: &Pair, loss: &Loss, moment: &Moment<'_>) -> Option<Fed> {
    if moment.live.powers(inquiry.design, inquiry.topology, pair.driver) {
        return None;
    }
    let (motor, Loop { way, computed }) = pair
        .motors
        .iter()
        .find_map(|(motor, winding)| Some((*motor, way_in(inquiry, moment, pair, (*motor, winding))?)))?;
    let solved =
        moment.point.supply_volts(inquiry.design, inquiry.topology, pair.driver).filter(|_| computed);
    let volts = solved.unwrap_or_else(|| unloaded(inquiry, motor));
    (volts > NOTICED).then(|| Fed {
        volts,
        loss: loss.words.clone(),
        cause: loss.cause,
        motor,
        held: held_in(inquiry, moment.point, &way),
        others: others_overfed(inquiry, moment, pair.driver),
        way,
    })
}

/// What joins a motor to a driver.
struct Loop {
    /// From a lead of the motor to one of the driver's.
    way: Vec<LinkId>,
    /// Whether it is the network's: both ends of its winding take part.
    computed: bool,
}

/// The way from a lead of the motor to one of the driver's; none unless two leads are joined to the driver, for one alone
/// makes no loop. Which two of a brushless motor's three is all the same.
fn way_in(
    inquiry: &Inquiry<'_>,
    moment: &Moment<'_>,
    pair: &Pair,
    (motor, winding): (ThingId, &Link),
) -> Option<Loop> {
    let (plus, minus) = supply(inquiry.design, inquiry.topology, pair.driver)?;
    let joined = |end: &NodeId| moment.joins(&[*end], &pair.leads) || moment.joins(&[*end], &[plus, minus]);
    let third = inquiry.design.terminal_named(motor, "c").and_then(|lead| inquiry.topology.node(lead));
    let leads: Vec<NodeId> = [winding.a, winding.b].into_iter().chain(third).filter(joined).collect();
    if leads.len() < 2 {
        return None;
    }
    let way = moment.conduction.way(&leads, |node| pair.leads.contains(&node))?;
    Some(Loop { way, computed: leads.starts_with(&[winding.a, winding.b]) })
}

/// What a bus without any load floats to: the motor's voltage less two diodes.
fn unloaded(inquiry: &Inquiry<'_>, motor: ThingId) -> Volts {
    let pushed = unfold::motor(inquiry.design, inquiry.design.thing(motor)).pushed;
    pushed_rail(pushed, SILICON_DROP)
}

/// Relays on the way that should have dropped out and are held in by the motor.
fn held_in(inquiry: &Inquiry<'_>, point: &Point, way: &[LinkId]) -> Vec<String> {
    let coils: BTreeSet<LinkId> = way
        .iter()
        .filter_map(|link| match inquiry.topology.links.get(link.0 as usize)?.nature {
            Nature::CoilContact { normally_closed: false, coil } => Some(coil),
            _ => None,
        })
        .collect();
    coils
        .iter()
        .filter_map(|coil| {
            let link = inquiry.topology.links.get(coil.0 as usize)?;
            let volts = point.link_volts(inquiry.topology, *coil)?.abs();
            let Owner::Thing(relay, _) = link.owner else { return None };
            let release = inquiry.design.thing(relay).get::<Volts>(key::RELEASE)?;
            let name = naming::thing(inquiry.design, relay);
            Some(format!("{name} is held in: {volts} across its coil, it lets go below {release}"))
        })
        .collect()
}

/// The parts that no source powers any more and that see more than their highest supply voltage from the motors.
fn overfed(inquiry: &Inquiry<'_>, point: &Point, live: &Live) -> Vec<(ThingId, Volts, Volts)> {
    let things = inquiry.design.things();
    things
        .filter_map(|(id, thing)| {
            let most = highest(thing)?;
            let volts = point.supply_volts(inquiry.design, inquiry.topology, id)?;
            let beyond = volts > most && !live.powers(inquiry.design, inquiry.topology, id);
            beyond.then_some((id, volts, most))
        })
        .collect()
}

/// Those of them that are not the driver itself, in words.
fn others_overfed(inquiry: &Inquiry<'_>, moment: &Moment<'_>, driver: ThingId) -> Vec<String> {
    let others = moment.overfed.iter().filter(|(id, ..)| *id != driver).take(4);
    others
        .map(|(id, volts, most)| {
            format!("{} sees {volts}, its highest supply is {most}", naming::thing(inquiry.design, *id))
        })
        .collect()
}

/// The highest supply voltage a part is written to bear; of a single value 10 % more.
fn highest(thing: &Thing) -> Option<Volts> {
    let written = |key| thing.rated(key).is_some_and(|rated| !matches!(rated.origin, Origin::Default(_)));
    if written(key::ABSOLUTE_MAX) {
        return thing.get::<Volts>(key::ABSOLUTE_MAX);
    }
    let (low, high) = thing.range::<Volts>(key::SUPPLY).filter(|_| written(key::SUPPLY))?;
    Some(if low < high { high } else { high * (1.0 + SUPPLY_MARGIN) })
}

fn finding(inquiry: &Inquiry<'_>, pair: &Pair, fed: &Fed) -> Option<Finding> {
    let design = inquiry.design;
    let driver = design.thing(pair.driver);
    let most = highest(driver);
    let beyond = most.is_some_and(|most| fed.volts > most);
    if driver.flag(key::TAKES_BACK_FEED) == Some(true) && !beyond && fed.others.is_empty() {
        return None;
    }
    let (name, motor) = (naming::thing(design, pair.driver), naming::thing(design, fed.motor));
    let limit = match (most, fed.others.first()) {
        (_, Some(other)) if !beyond => other.clone(),
        (Some(most), _) => format!("its highest supply is {most}"),
        (None, _) => "its highest supply is not stated".to_owned(),
    };
    let mut figures =
        vec![Figure::new("voltage on the driver", fed.volts, "network solved with the motors turned")];
    figures.extend(most.map(|most| Figure::new("highest supply of the driver", most, "as stated")));
    let mut because = fed.held.clone();
    if fed.held.is_empty() && !fed.way.iter().any(|link| is_contact(inquiry, *link)) {
        because.push(format!("no contact opens between {motor} and {name}"));
    }
    because.extend(joined_at_rest(inquiry, &fed.way));
    because.extend(fed.others.iter().skip(usize::from(!beyond)).cloned());
    let way: Vec<WireId> = fed.way.iter().filter_map(|link| wire_of(inquiry, *link)).collect();
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Damage,
        span: driver.span,
        subject: driver.name.clone(),
        message: format!("turning {motor} puts {} on {name} when {}; {limit}", fed.volts, fed.loss),
        label: format!("fed from {motor}"),
        related: related(inquiry, fed.motor, &way),
        figures,
        because,
        mode: None,
        help: help(&motor, leads(design.thing(fed.motor)), !fed.held.is_empty()),
        accepted: None,
    })
}

fn related(
    inquiry: &Inquiry<'_>,
    motor: ThingId,
    way: &[WireId],
) -> Vec<(wattle_grammar::span::Span, String)> {
    let mut related = vec![(inquiry.design.thing(motor).span, "turned from outside".to_owned())];
    related.extend(
        way.iter()
            .take(4)
            .map(|wire| (inquiry.design.wire(*wire).span, "the way goes through here".to_owned())),
    );
    related
}

/// A break contact on the way, which joins what it should part.
fn joined_at_rest(inquiry: &Inquiry<'_>, way: &[LinkId]) -> Option<String> {
    let breaks = way.iter().filter_map(|link| inquiry.topology.link(*link)).find_map(|link| {
        match (link.nature, link.owner) {
            (Nature::CoilContact { normally_closed: true, .. }, Owner::Thing(relay, _)) => Some(relay),
            _ => None,
        }
    })?;
    Some(format!(
        "the way is through a break contact of {}, closed at rest",
        naming::thing(inquiry.design, breaks)
    ))
}

fn is_contact(inquiry: &Inquiry<'_>, link: LinkId) -> bool {
    let link = inquiry.topology.links.get(link.0 as usize);
    link.is_some_and(|link| matches!(link.nature, Nature::CoilContact { .. } | Nature::HandContact { .. }))
}

fn wire_of(inquiry: &Inquiry<'_>, link: LinkId) -> Option<WireId> {
    match inquiry.topology.links.get(link.0 as usize)?.owner {
        Owner::Wire(wire) => Some(wire),
        _ => None,
    }
}

/// Which leads have to be opened.
fn leads(motor: &Thing) -> &'static str {
    if motor.flag(key::BRUSHLESS) == Some(true) { "two of the three leads" } else { "both leads" }
}

fn help(motor: &str, leads: &str, held: bool) -> Vec<Mend> {
    let told = |title: String| Mend { title, edits: Vec::new(), sure: false };
    if held {
        return vec![told(
            "feed the relay's coil from a node that dies with the switch and that the driver's bus cannot feed".to_owned(),
        )];
    }
    vec![
        told(format!("put a relay contact in {leads} of {motor}, its coil fed from the switched side")),
        told(format!("if the gearbox cannot be turned by its load, state `not back-drivable` on {motor}")),
    ]
}
