//! States of single things: at rest, in each derived mode, and as a word of a mode says.

use wattle_grammar::kind::{Family, Kind, KindId, key};

use super::{Level, State, Thing};

/// The modes that are derived when they are not written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Derived {
    /// All switches open, nothing drawn by command, everything still connected.
    Off,
    /// Switches closed, everything at its typical figure.
    Run,
    /// As `run`, with motors and servos blocked, all at once.
    Stall,
    /// As `off`, with every motor that can be turned from outside turned.
    Pushed,
    /// Switches closed, every stop device pressed, nothing drawn by command.
    Stop,
    /// As `off`, with every charger connected.
    Charge,
}

impl Derived {
    /// In the order of the design's table.
    pub(super) const ALL: [Self; 6] =
        [Self::Off, Self::Run, Self::Stall, Self::Pushed, Self::Stop, Self::Charge];

    /// The name it has as a mode.
    pub(super) const fn name(self) -> &'static str {
        match self {
            Self::Off => "off",
            Self::Run => "run",
            Self::Stall => "stall",
            Self::Pushed => "pushed",
            Self::Stop => "stop",
            Self::Charge => "charge",
        }
    }

    /// The kind without which the mode says nothing of its own.
    pub(super) const fn needs(self) -> Option<KindId> {
        match self {
            Self::Stop => Some(KindId::Stop),
            Self::Charge => Some(KindId::Charger),
            Self::Off | Self::Run | Self::Stall | Self::Pushed => None,
        }
    }
}

/// Words for levels.
pub(super) const LEVELS: [&str; 5] = ["off", "idle", "typical", "peak", "stall"];

/// The level a word means.
pub(super) fn level(word: &str) -> Option<Level> {
    Some(match word {
        "off" => Level::Off,
        "idle" => Level::Idle,
        "typical" => Level::Typical,
        "peak" => Level::Peak,
        "stall" => Level::Stall,
        _ => return None,
    })
}

/// Whether things of this kind draw a current that a mode can set.
pub(super) fn is_load(kind: KindId) -> bool {
    wattle_grammar::kind::by_id(kind).is_some_and(draws)
}

fn draws(kind: &Kind) -> bool {
    matches!(kind.family, Family::Load | Family::Control) || kind.id == KindId::Amplifier
}

/// The state of a thing in a written mode that does not name it, and in `off`.
///
/// What no command switches off, a controller, receiver, sensor or meter, stays at its idle figure as long as it is
/// connected: that is what drains a pack overnight. So does what is `always-on`.
pub(super) fn at_rest(thing: &Thing, mated: bool) -> State {
    match thing.id() {
        KindId::Battery | KindId::Supply | KindId::Generator => State::Closed,
        KindId::Charger => State::Open,
        KindId::Fuse | KindId::Breaker | KindId::Stop => State::Closed,
        KindId::Switch if thing.word(key::CONTACT) == Some("break") => State::Closed,
        KindId::Switch => State::Open,
        KindId::Plug | KindId::Socket if mated => State::Closed,
        KindId::Plug | KindId::Socket => State::Open,
        _ if thing.kind.family == Family::Control || thing.id() == KindId::Meter => State::Draws(Level::Idle),
        _ if draws(thing.kind) && thing.flag(key::ALWAYS_ON) == Some(true) => {
            State::Draws(if thing.number(key::IDLE).is_some() { Level::Idle } else { Level::Typical })
        }
        _ if draws(thing.kind) => State::Draws(Level::Off),
        _ => State::Plain,
    }
}

/// The state of a thing in a derived mode.
pub(super) fn derived(thing: &Thing, mated: bool, which: Derived) -> State {
    let rest = at_rest(thing, mated);
    let blocks = matches!(thing.id(), KindId::Motor | KindId::Servo);
    let turns = thing.id() == KindId::Motor && thing.flag(key::BACK_DRIVABLE) != Some(false);
    match (which, rest) {
        (Derived::Pushed, _) if turns => State::Turned,
        (Derived::Charge, _) if thing.id() == KindId::Charger => State::Closed,
        (Derived::Off | Derived::Pushed | Derived::Charge, rest) => rest,
        (Derived::Stop, _) if thing.id() == KindId::Stop => State::Open,
        (Derived::Run | Derived::Stall | Derived::Stop, State::Open) if thing.id() == KindId::Switch => {
            State::Closed
        }
        (Derived::Stall, State::Draws(_)) if blocks => State::Draws(Level::Stall),
        (Derived::Run | Derived::Stall, State::Draws(_)) => State::Draws(Level::Typical),
        (_, rest) => rest,
    }
}

/// Sets the level of a thing that a line about everything means. Only motors and servos can stall; the others then
/// work as usual.
pub(super) fn apply_everything(thing: &Thing, level: Level, slot: &mut State) {
    if !matches!(slot, State::Draws(_)) {
        return;
    }
    let blocks = matches!(thing.id(), KindId::Motor | KindId::Servo);
    *slot = State::Draws(if level == Level::Stall && !blocks { Level::Typical } else { level });
}

/// The state that a word means for a kind, if it means one.
pub(super) fn of_word(kind: &'static Kind, word: &str) -> Option<State> {
    if !words(kind).contains(&word) {
        return None;
    }
    Some(match word {
        "open" | "pressed" | "absent" => State::Open,
        "closed" | "released" | "connected" => State::Closed,
        "turned" => State::Turned,
        "held" => State::Held,
        _ => State::Draws(level(word)?),
    })
}

/// The words that say how things of a kind are.
pub(super) fn words(kind: &'static Kind) -> Vec<&'static str> {
    match kind.id {
        KindId::Switch | KindId::Breaker | KindId::Fuse | KindId::Plug | KindId::Socket => {
            vec!["open", "closed"]
        }
        KindId::Stop => vec!["pressed", "released", "open", "closed"],
        KindId::Battery | KindId::Charger | KindId::Supply | KindId::Generator => {
            vec!["connected", "absent", "open", "closed"]
        }
        KindId::Motor => LEVELS.into_iter().chain(["turned"]).collect(),
        KindId::Servo => LEVELS.to_vec(),
        KindId::Relay | KindId::Contactor => vec!["held"],
        _ if draws(kind) => LEVELS.into_iter().filter(|word| *word != "stall").collect(),
        _ => Vec::new(),
    }
}
