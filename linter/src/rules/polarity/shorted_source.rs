//! A source whose positive and negative poles are joined.

use std::collections::BTreeMap;

use wattle_grammar::quantity::{Amps, Ohms};

use crate::{
    finding::{Finding, Mend, Severity},
    inquiry::Inquiry,
    naming,
    quantity_text::Figure,
    rule::{Rule, Source},
    topology::{LinkId, Owner},
    trace::{Feed, Short},
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "polarity.shorted-source",
    severity: Severity::Danger,
    summary: "The positive and the negative pole of a source are joined by conductors alone.",
    why: "The moment the last joint is made, the source drives everything it has through the thinnest piece on the way: \
          sparks, a welded tool, a burning wire, a venting pack.",
    condition: "A way from a source's positive to its negative pole that consists of wires, ties, mated contacts, shunts \
                and protective devices only. A fuse on it limits the damage and does not make it right.",
    source: Source::Physics(
        "Ohm's law: the current is the source's voltage over its own resistance and the wire's",
    ),
    legitimate: "Never.",
    mend: "Find the joint at which a positive wire meets a negative one and move it. The report marks the likeliest.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 5 A blade
light LAMP 12 V { typical 1 A }
wire W1 PACK.pos to F1.line 14 AWG red 100 mm
wire W2 F1.load to LAMP.pos 14 AWG red 300 mm
wire W3 LAMP.pos to PACK.neg 14 AWG black 400 mm
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 5 A blade
light LAMP 12 V { typical 1 A }
wire W1 PACK.pos to F1.line 14 AWG red 100 mm
wire W2 F1.load to LAMP.pos 14 AWG red 300 mm
wire W3 LAMP.neg to PACK.neg 14 AWG black 400 mm
"#,
    check,
};

fn check(inquiry: &mut Inquiry<'_>) {
    let mut cases: BTreeMap<(Option<LinkId>, Option<usize>), Vec<&Short>> = BTreeMap::new();
    for short in &inquiry.trace.shorts {
        if !is_swapped_mate(inquiry, short) {
            cases.entry((short.culprit, short.tie)).or_default().push(short);
        }
    }
    let findings: Vec<Finding> = cases.values().filter_map(|shorts| finding(inquiry, shorts)).collect();
    for finding in findings {
        inquiry.report(finding);
    }
}

/// Whether the short comes through a connector whose halves disagree: then that is the finding.
fn is_swapped_mate(inquiry: &Inquiry<'_>, short: &Short) -> bool {
    let is_swapped = |mate| inquiry.trace.swaps.iter().any(|swap| swap.mate == mate);
    short.path.iter().filter_map(|link| inquiry.topology.link(*link)).any(|link| match link.owner {
        Owner::MatedWay(mate, _) => is_swapped(mate),
        _ => false,
    })
}

fn finding(inquiry: &Inquiry<'_>, shorts: &[&Short]) -> Option<Finding> {
    let design = inquiry.design;
    let first = shorts.first()?;
    let feeds: Vec<&Feed> = shorts.iter().filter_map(|short| inquiry.trace.feeds.get(short.feed)).collect();
    let feed = feeds.first()?;
    let thing = design.thing(feed.thing);
    let culprit = first.culprit;
    let tie = first.tie.and_then(|tie| design.ties.get(tie));
    let of_link = culprit.and_then(|link| naming::link_span(design, inquiry.topology, link));
    let span = tie.map(|tie| tie.span).or(of_link).unwrap_or(thing.span);
    let subject = culprit.map_or_else(|| thing.name.clone(), |link| unquoted(inquiry, link));
    let sources: Vec<String> = feeds.iter().map(|feed| naming::thing(design, feed.thing)).collect();
    let one = feeds.len() == 1;
    let poles = if one { "its poles" } else { "their poles" };
    let way = way(inquiry, first);
    let current = current(&feeds);
    let figures = current.map(|amps| {
        Figure::new("short-circuit current", amps, "V_full / R_internal, summed over the sources")
    });
    let (is, draw) = if one { ("is", "draws") } else { ("are", "together draw") };
    let draws = current.map_or_else(String::new, |amps| format!(" and {draw} up to {amps}"));
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Danger,
        span,
        subject,
        message: format!("{} {is} shorted{draws}: {poles} are joined by {way}", naming::listed(&sources)),
        label: "positive meets negative here".to_owned(),
        related: feeds
            .iter()
            .map(|feed| (design.thing(feed.thing).span, "the shorted source".to_owned()))
            .collect(),
        figures: figures.into_iter().collect(),
        because: Vec::new(),
        mode: None,
        help: vec![Mend::told(
            "with every pack unplugged, part the joint marked here: plus and minus meet only through a load",
        )],
        accepted: None,
    })
}

/// What joins the poles, in words.
fn way(inquiry: &Inquiry<'_>, short: &Short) -> String {
    let links = short.path.iter();
    let mut through: Vec<String> =
        links.map(|link| naming::link(inquiry.design, inquiry.topology, *link)).collect();
    if through.is_empty() || short.tie.is_some() {
        through.push("a tie".to_owned());
    }
    naming::listed(&through)
}

/// What the sources give into a dead short, where all of their resistances are known.
fn current(feeds: &[&Feed]) -> Option<Amps> {
    feeds.iter().map(|feed| (feed.resistance.0 > 0.0).then(|| feed.prospective(Ohms(0.0)))).sum()
}

fn unquoted(inquiry: &Inquiry<'_>, link: LinkId) -> String {
    naming::link(inquiry.design, inquiry.topology, link).trim_matches('`').to_owned()
}
