//! The highest fault currents with what an electrician needs to work them out: voltage, resistances, and where each is from.

use std::collections::BTreeSet;

use wattle_grammar::quantity::Ohms;

use super::{
    members::{Member, Members, name_of, range_end},
    parts::{Part, listed, way_out},
    resistance_of,
};
use crate::{
    analysis::Analysis,
    explained::{Amount, Explained, Input},
    naming,
    network::NodeId,
    physics::evidence::Evidence,
    protection::{
        Bound, Far, Highest, Reduced, Strength,
        chain::is_driven,
        missing_strength,
        resistance::{Passage, Warmth, passage},
        source::Levels,
    },
    topology::LinkId,
};

/// Where a highest current comes from.
const NETWORK: &str =
    "Ohm's law; Kirchhoff's laws, all sources reduced to one voltage behind one resistance (Thévenin)";

/// What holds at the highest fault current.
const HIGHEST_CORNER: &str =
    "corner: all sources full, 20 °C; all of them at once, every contact closed, no way back";

/// So many sources are told one by one; of more only the network that they come to.
const MOST_SOURCES: usize = 4;

/// The highest current, of a wire or a device.
pub(super) fn highest(analysis: &Analysis, levels: &[Levels], highest: &Highest) -> Explained {
    let far = Far { amps: highest.amps, reduced: highest.reduced };
    at_far_end(analysis, levels, ("highest fault current", &far), highest)
}

/// The same with the short at the far end of the wire or device, of which `highest` is the highest current.
pub(super) fn at_far_end(
    analysis: &Analysis,
    levels: &[Levels],
    (what, far): (&str, &Far),
    highest: &Highest,
) -> Explained {
    let design = &analysis.design;
    let amount = highest.unknown.map_or_else(
        || Amount::of(far.amps),
        |thing| {
            let missing = missing_strength(design, thing);
            Amount::NotAssessed(format!("{missing} of {}", naming::thing(design, thing)))
        },
    );
    let mut explained =
        worked_out(analysis, levels, far, Explained::new(what, amount)).noting(HIGHEST_CORNER);
    if let Some(battery) = highest.usual {
        explained = explained.noting(format!(
            "{} states no `resistance`: the usual one of its chemistry is taken, it may be a third of that",
            naming::thing(design, battery)
        ));
    }
    if far.reduced.limits.0 > 0.0 {
        explained = explained.noting("upper bound: what limits itself is added with its whole limit");
    }
    match highest.bound.filter(|_| far.amps.0 > 0.0) {
        Some(bound) => explained.noting(why(bound)),
        None => explained,
    }
}

/// Why a current is not exact.
const fn why(bound: Bound) -> &'static str {
    match bound {
        Bound::Meshed => "upper bound: the wiring is closely meshed, part of it is taken as one joint",
        Bound::Return => "upper bound: it stands in a return, which passes at most all that comes home there",
        Bound::Ring => {
            "upper bound: a diode leads back to where it is fed from; it is taken as conducting or not, whichever gives more"
        }
        Bound::Rings => {
            "not surely the highest: of the many diodes that lead back to where they are fed from none or all are taken as \
             conducting, whichever gives more"
        }
        Bound::Diodes => {
            "upper bound: several diodes that are fed from one place lead here; what each gives alone is added"
        }
    }
}

/// Formula and inputs of a highest current.
fn worked_out(analysis: &Analysis, levels: &[Levels], far: &Far, explained: Explained) -> Explained {
    let reduced = &far.reduced;
    if far.amps.0 <= 0.0 {
        return explained.by("", NETWORK).noting("no source reaches it");
    }
    let (Some(node), Some(home)) = (reduced.node, reduced.home) else {
        return explained
            .by("the sum over the poles that come home here, each shorted by itself", NETWORK)
            .resting_on(Evidence::Practice);
    };
    let members = Members::at(analysis, levels, node, home);
    let mut formula = Formula::default();
    let mut behind = Vec::new();
    if reduced.volts.0 > 0.0 {
        behind = driven(analysis, &members, reduced, &mut formula);
    }
    if reduced.around.0 > NOTHING * far.amps.0 {
        let what =
            "what reaches the short through the wire or device itself, from its other end; network solved";
        formula.then(" − I_2", Input::of("I_2", what, reduced.around));
    } else if reduced.around.0 < -NOTHING * far.amps.0 {
        let what = "what flows out of the short again through the wire or device itself, into cells that something \
                    lower hangs on; network solved";
        formula.then(" + I_2", Input::of("I_2", what, reduced.around.abs()));
    }
    if reduced.limits.0 > 0.0 {
        let what = format!("the limits of what limits itself, added{}", limiting(analysis, &members, node));
        formula.then(" + I_lim", Input::of("I_lim", what, reduced.limits));
    }
    let text = formula.text.strip_prefix(" + ").unwrap_or(&formula.text).to_owned();
    let explained = explained.by(format!("I = {text}"), NETWORK).from(formula.inputs).from(behind);
    let explained = explained.resting_on(Evidence::Practice);
    let strong = members.all.iter().filter(|member| is_driven(member.source)).count();
    match strong.checked_sub(MOST_SOURCES).filter(|more| *more > 0) {
        Some(more) => explained.noting(format!("and {more} sources more")),
        None => explained,
    }
}

/// A current below this share of another says nothing.
const NOTHING: f64 = 1e-9;

/// A formula that is put together piece by piece.
#[derive(Default)]
struct Formula {
    text: String,
    inputs: Vec<Input>,
}

impl Formula {
    fn then(&mut self, text: &str, input: Input) {
        self.text.push_str(text);
        self.inputs.push(input);
    }
}

/// What limits itself among the sources that reach a node and on their ways there: ``: `A` and `B` ``; nothing without a name.
fn limiting(analysis: &Analysis, members: &Members<'_>, node: NodeId) -> String {
    let Analysis { design, topology, .. } = analysis;
    let mut names = BTreeSet::new();
    for member in members.direct.iter().chain(&members.all) {
        if let Strength::Limit(_) = member.source.strength {
            names.insert(naming::thing(design, member.feed.thing));
        }
        let limits = |id: &LinkId| {
            let passage = topology.link(*id).map(|link| passage(design, topology, link, Warmth::Cold));
            matches!(passage, Some(Passage::Limited(_) | Passage::LimitedBackward(_)))
        };
        let path = member.feed.path_to(topology, node).into_iter().filter(limits);
        names.extend(path.map(|id| naming::link(design, topology, id)));
    }
    let names: Vec<String> = names.into_iter().collect();
    if names.is_empty() { String::new() } else { format!(": {}", naming::listed(&names)) }
}

/// The part of the formula that voltage drives through resistance; the sources behind a network that is told as one.
fn driven(
    analysis: &Analysis,
    members: &Members<'_>,
    reduced: &Reduced,
    formula: &mut Formula,
) -> Vec<Input> {
    if reduced.ohms.0 <= 0.0 {
        let what = "voltage over it with its far end shorted, network solved";
        formula.then("U", Input::of("U", what, reduced.volts));
        formula.then(" / R_own", own(reduced));
        return Vec::new();
    }
    if let Some(member) = members.sole()
        && let Some(way) = sole_way(member, reduced)
    {
        formula.then("U", Input::of("U", voltage_of(analysis, member), reduced.volts));
        formula.then(" / (R_s", resistance_of(analysis, member.feed, member.source.resistance));
        formula.then(" + R_way", way_input(analysis, member, reduced, way));
        if reduced.own.0 > 0.0 {
            formula.then(" + R_own", own(reduced));
        }
        formula.text.push(')');
        return Vec::new();
    }
    formula.then(
        "U",
        Input::of(
            "U",
            "voltage without load where the short is, all sources full, network solved",
            reduced.volts,
        ),
    );
    let what = "resistance of all sources and ways up to there at 20 °C: the network reduced to the short";
    if reduced.own.0 > 0.0 {
        formula.then(" / (R", Input::of("R", what, reduced.ohms));
        formula.then(" + R_own", own(reduced));
        formula.text.push(')');
    } else {
        formula.then(" / R", Input::of("R", what, reduced.ohms));
    }
    let strong: Vec<&Member<'_>> = members.all.iter().filter(|member| is_driven(member.source)).collect();
    sources(analysis, &strong)
}

fn own(reduced: &Reduced) -> Input {
    Input::of("R_own", "its own resistance at 20 °C, before the short", reduced.own)
}

/// What lies between the only source and the short; none where the network is not that source alone.
fn sole_way(member: &Member<'_>, reduced: &Reduced) -> Option<Ohms> {
    let way = reduced.ohms.0 - member.source.resistance.0;
    let same = (member.source.full.0 - reduced.volts.0).abs() <= NOTHING * reduced.volts.0;
    (same && way >= -NOTHING * reduced.ohms.0).then_some(Ohms(way.max(0.0)))
}

fn way_input(analysis: &Analysis, member: &Member<'_>, reduced: &Reduced, way: Ohms) -> Input {
    let parts =
        reduced.node.map(|node| way_out(analysis, member.feed, node, Warmth::Cold)).unwrap_or_default();
    // Where several ways lead there the traced one is not the whole of it.
    let sum: f64 = parts.iter().map(|part| part.ohms.0).sum();
    let is_all = (sum - way.0).abs() <= 1e-6 * way.0.max(member.source.resistance.0);
    let parts: &[Part] = if is_all { &parts } else { &[] };
    let between = if member.stacked { "ways between the packs and" } else { "way from there" };
    Input::of("R_way", format!("{between} to the short at 20 °C{}", listed(parts)), way)
}

/// ``voltage of `PACK`, full, without load``.
fn voltage_of(analysis: &Analysis, member: &Member<'_>) -> String {
    let charge = range_end(analysis, member.feed, true);
    let below = if member.stacked { " with what it stands on" } else { "" };
    let name = name_of(analysis, member.feed);
    format!("voltage of {name}{below}, {charge}, without load")
}

/// The symbols of the sources behind a network: voltage and internal resistance.
const SYMBOLS: [(&str, &str); MOST_SOURCES] =
    [("U_s1", "R_s1"), ("U_s2", "R_s2"), ("U_s3", "R_s3"), ("U_s4", "R_s4")];

/// What each source gives to the network.
fn sources(analysis: &Analysis, strong: &[&Member<'_>]) -> Vec<Input> {
    let told = strong.iter().zip(SYMBOLS).flat_map(|(member, (volts, ohms))| {
        let inside = resistance_of(analysis, member.feed, member.source.resistance);
        [Input::of(volts, voltage_of(analysis, member), member.source.full), Input { symbol: ohms, ..inside }]
    });
    told.collect()
}
