//! Batteries joined in a ring whose voltages do not cancel: a reversed pack, or packs of different voltage in parallel.

use wattle_grammar::{
    kind::{KindId, key},
    quantity::{Ohms, Volts},
};

use crate::{
    design::ThingId,
    finding::{Finding, Severity},
    inquiry::Inquiry,
    naming,
    quantity_text::Figure,
    rule::{Rule, Source},
};

/// Packs in parallel may differ by this share of their voltage by tolerance of what is written. Common practice.
const TOLERATED: f64 = 0.02;

/// The rule.
pub static RULE: Rule = Rule {
    name: "polarity.opposed-sources",
    severity: Severity::Danger,
    summary: "Batteries stand in a ring whose voltages do not cancel: one is reversed, or they are not alike.",
    why: "Only milliohms limit the current round such a ring. A reversed pack among parallel ones meets twice the voltage; \
          a flat or smaller pack is charged by the others without any limit. Packs vent and burn.",
    condition: "Batteries are followed from rail to rail (conductors, mated contacts, devices, shunts; not contacts that \
                open). Round every ring the full-charge voltages must cancel to within 2 % of the largest.",
    source: Source::Physics("Kirchhoff's voltage law round the ring; current = net voltage over the packs' own resistances"),
    legitimate: "Different packs joined through diodes or converters are not a ring of conductors and are not reported.",
    mend: "Turn the reversed pack round. Parallel only packs of the same chemistry, cell count and state of charge, \
           measured before they are joined.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK-A, PACK-B lead-acid 6S 7 Ah 20 mohm
fuse F-A, F-B 15 A blade
light LAMP 12 V { typical 1 A }
wire W1 PACK-A.pos to F-A.line 10 AWG red 100 mm
wire W2 PACK-B.neg to F-B.line 10 AWG red 100 mm
wire W3 PACK-B.pos to PACK-A.neg 10 AWG black 100 mm
wire W4 F-B.load to F-A.load 10 AWG red 100 mm
wire W5 F-A.load to LAMP.pos 10 AWG red 100 mm
wire W6 LAMP.neg to PACK-A.neg 10 AWG black 100 mm
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK-A, PACK-B lead-acid 6S 7 Ah 20 mohm
fuse F-A, F-B 15 A blade
light LAMP 12 V { typical 1 A }
wire W1 PACK-A.pos to F-A.line 10 AWG red 100 mm
wire W2 PACK-B.pos to F-B.line 10 AWG red 100 mm
wire W3 PACK-B.neg to PACK-A.neg 10 AWG black 100 mm
wire W4 F-B.load to F-A.load 10 AWG red 100 mm
wire W5 F-A.load to LAMP.pos 10 AWG red 100 mm
wire W6 LAMP.neg to PACK-A.neg 10 AWG black 100 mm
"#,
    check,
};

/// A battery as an edge between rails.
struct Pack {
    thing: ThingId,
    minus: u32,
    plus: u32,
    volts: Volts,
}

/// Rails tied together by packs, each with its potential against the root's.
struct Potentials {
    parent: Vec<u32>,
    /// Potential against the parent, volt.
    above: Vec<f64>,
}

impl Potentials {
    fn new(count: u32) -> Self {
        Self { parent: (0..count).collect(), above: vec![0.0; count as usize] }
    }

    /// The root of a rail and the rail's potential against it.
    fn root(&self, mut rail: u32) -> (u32, f64) {
        let mut volts = 0.0;
        while let (Some(up), Some(step)) = (self.parent.get(rail as usize), self.above.get(rail as usize)) {
            if *up == rail {
                break;
            }
            volts += step;
            rail = *up;
        }
        (rail, volts)
    }

    /// Ties the pack's rails; when they are tied already, the voltage by which the ring does not cancel.
    fn tie(&mut self, pack: &Pack) -> Option<Volts> {
        let ((plus, at_plus), (minus, at_minus)) = (self.root(pack.plus), self.root(pack.minus));
        if plus == minus {
            return Some(Volts(pack.volts.0 - (at_plus - at_minus)));
        }
        if let (Some(parent), Some(above)) = (self.parent.get_mut(plus as usize), self.above.get_mut(plus as usize)) {
            *parent = minus;
            *above = at_minus + pack.volts.0 - at_plus;
        }
        None
    }
}

fn check(inquiry: &mut Inquiry<'_>) {
    let packs = packs(inquiry);
    let mut potentials = Potentials::new(inquiry.topology.nodes);
    let mut findings = Vec::new();
    for (index, pack) in packs.iter().enumerate() {
        let Some(net) = potentials.tie(pack) else { continue };
        let largest = packs.iter().map(|pack| pack.volts).fold(Volts(0.0), Volts::max);
        if net.0.abs() > TOLERATED * largest.0 {
            findings.push(finding(inquiry, pack, &packs[..index], net));
        }
    }
    for finding in findings {
        inquiry.report(finding);
    }
}

/// Every battery that is not shorted and whose voltage is known.
fn packs(inquiry: &Inquiry<'_>) -> Vec<Pack> {
    let trace = inquiry.trace;
    let whole = trace.feeds.iter().filter(|feed| {
        let thing = inquiry.design.thing(feed.thing);
        thing.id() == KindId::Battery && inquiry.design.terminal(feed.terminal).name == "pos" && !feed.shorted
    });
    whole
        .map(|feed| Pack {
            thing: feed.thing,
            minus: trace.rail(feed.minus).0,
            plus: trace.rail(feed.plus).0,
            volts: feed.volts,
        })
        .collect()
}

fn finding(inquiry: &Inquiry<'_>, pack: &Pack, before: &[Pack], net: Volts) -> Finding {
    let design = inquiry.design;
    let thing = design.thing(pack.thing);
    let name = naming::thing(design, pack.thing);
    let partners: Vec<&Pack> = partners(pack, before);
    let others: Vec<String> = partners.iter().map(|other| naming::thing(design, other.thing)).collect();
    let resistance = |pack: &Pack| design.thing(pack.thing).get::<Ohms>(key::RESISTANCE);
    let loop_ohms: Option<Ohms> =
        partners.iter().copied().chain([pack]).map(resistance).collect::<Option<Vec<_>>>().map(|all| all.into_iter().sum());
    let current = loop_ohms.filter(|ohms| ohms.0 > 0.0).map(|ohms| net.abs() / ohms);
    let reversed = net.abs().0 > pack.volts.0;
    let what = if reversed { "stands reversed in a ring with" } else { "is not like" };
    let through = current.map_or_else(String::new, |amps| format!(", {amps} through packs of milliohms"));
    let mut figures = vec![Figure::new("net voltage round the ring", net.abs(), "full-charge voltages added with their sign")];
    figures.extend(current.map(|amps| Figure::new("ring current", amps, "net voltage / sum of internal resistances")));
    Finding {
        rule: RULE.name,
        severity: Severity::Danger,
        span: thing.span,
        subject: thing.name.clone(),
        message: format!("{name} ({}) {what} {}: {} drive round it{through}", pack.volts, naming::listed(&others), net.abs()),
        label: if reversed { "this way round it adds to the others" } else { "a different voltage" }.to_owned(),
        related: partners.iter().map(|other| (design.thing(other.thing).span, format!("{} here", other.volts))).collect(),
        figures,
        because: Vec::new(),
        mode: None,
        help: Vec::new(),
        accepted: None,
    }
}

/// The packs before it that share both its rails, or all before it when the ring is a longer one.
fn partners<'a>(pack: &Pack, before: &'a [Pack]) -> Vec<&'a Pack> {
    let rails = [pack.plus, pack.minus];
    let shares = |other: &&Pack| rails.contains(&other.plus) && rails.contains(&other.minus);
    let direct: Vec<&Pack> = before.iter().filter(shares).take(1).collect();
    if direct.is_empty() { before.iter().collect() } else { direct }
}
