//! A wire too small for its steady current, or for the device that is to protect it.

mod alike;
mod device;
mod mend;

use wattle_grammar::{
    kind::key,
    quantity::{Amps, Dimension},
    span::Span,
    unit::{base_symbol, told_apart},
};

use self::{
    alike::{Collection, Likeness},
    device::{Device, Part},
};
use crate::{
    design::{Wire, WireId, facts},
    figures::exceeds,
    finding::{Finding, NotAssessed, Severity},
    inquiry::Inquiry,
    naming,
    physics::fuse,
    profile::{Ampacity, Conductor},
    quantity_text::Figure,
    rule::{Rule, Source},
    topology::LinkId,
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "wire.undersized",
    severity: Severity::Danger,
    summary: "The wire is too small for the current it carries, or for the device that is to protect it.",
    why: "A wire that carries more than its ampacity cooks its insulation, first where it is bundled and warm. A wire \
          behind a device that is too large cooks without the device ever opening: a blade fuse carries 1.1 times its \
          rating for days and may take minutes at 1.35 times, so every current between the wire's ampacity and 1.35 \
          times the rating is one that nothing ends.",
    condition: "Steady current (of every mode in which nothing is blocked or turned from outside; root mean square with a duty) above the ampacity of \
                the profile for the wire's size, insulation class, air temperature and loaded neighbours. Device: the \
                rated current of the device on the least protected way from any source, rated currents of parallel ways \
                added, as far as what they share lets them; for the lead to a device, the largest device behind it; for a \
                return wire, the device of the heaviest load that comes home through it. Above the ampacity it is `damage`, above what the profile allows (33 CFR 183.455(c): 150 % below 50 V) `danger`. \
                A wire of at most 178 mm that ends in a device which suits it is let pass. Wires of one size behind one \
                device are one finding.",
    source: Source::Published(
        "33 CFR 183.425 table 5 and 183.455(c); AC 43.13-1B tables 11-3 and 11-9; ISO 8820-3",
    ),
    legitimate: "A tail that came with the part and is at most 178 mm long: state `supplied-tail`. A current that a part \
                 limits: state `current-limit`. A short load: state the `duty` of the mode.",
    mend: "A thicker wire, or a smaller device where the load allows it. Never a larger device to stop it from opening.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 30 A blade
light LAMP 12 V { typical 2 A }
wire W1 PACK.pos to F1.line 10 AWG red 100 mm
wire W2 F1.load to LAMP.pos 18 AWG red 300 mm
wire W3 LAMP.neg to PACK.neg 10 AWG black 400 mm
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 10 A blade
light LAMP 12 V { typical 2 A }
wire W1 PACK.pos to F1.line 10 AWG red 100 mm
wire W2 F1.load to LAMP.pos 18 AWG red 300 mm
wire W3 LAMP.neg to PACK.neg 10 AWG black 400 mm
"#,
    check,
};

/// More current than the wire bears.
struct Overload {
    amps: Amps,
    limit: Ampacity,
    conductor: Conductor,
    mode: String,
    corner: String,
}

fn check(inquiry: &mut Inquiry<'_>) {
    let mut collection = Collection::default();
    for (id, wire) in inquiry.design.wires() {
        let is_bare_screen = wire.size.is_none() && facts::flag(&wire.facts, key::SCREEN) == Some(true);
        if wire.spare || is_bare_screen {
            continue;
        }
        let Some(limit) = inquiry.ampacity(id).cloned() else {
            not_assessed(inquiry, id);
            continue;
        };
        let overload = overload(inquiry, id);
        let judged = device::judge(inquiry, id);
        for thing in judged.unrated {
            let thing = inquiry.design.thing(thing);
            note(inquiry, thing.name.clone(), thing.span, key::CURRENT.to_owned());
        }
        if overload.is_some() || judged.found.is_some() {
            let device = judged.found.as_ref().filter(|_| overload.is_none());
            let device = device.and_then(|device| Some((device.link?, device.rated)));
            let finding = finding(inquiry, id, &limit, overload, judged.found);
            collection.add(likeness(wire, device, &limit, finding.severity), finding, id);
        }
    }
    collection.report(inquiry);
}

/// What makes other wires behind the device the same mistake.
fn likeness(
    wire: &Wire,
    device: Option<(LinkId, Amps)>,
    limit: &Ampacity,
    severity: Severity,
) -> Option<Likeness> {
    let (device, rated) = device?;
    Some(Likeness::new(device, rated, wire.size.as_ref()?.area, limit.amps, severity))
}

fn note(inquiry: &mut Inquiry<'_>, subject: String, span: Span, missing: String) {
    inquiry.not_assessed(NotAssessed { subject, span, missing, blocks: vec![RULE.name] });
}

fn not_assessed(inquiry: &mut Inquiry<'_>, id: WireId) {
    let wire = inquiry.design.wire(id);
    let missing = match &wire.size {
        None => "size".to_owned(),
        Some(size) => {
            format!("an ampacity for {} (the profile `{}` has none)", size.written, inquiry.profile.word)
        }
    };
    note(inquiry, wire.name.clone(), wire.span, missing);
}

/// The worst steady overload over all modes that may last; the one with the greatest ratio to its own limit.
fn overload(inquiry: &Inquiry<'_>, id: WireId) -> Option<Overload> {
    let design = inquiry.design;
    let mut worst: Option<(f64, Overload)> = None;
    // A wire's surroundings are the same at most points: the ampacity is worked out anew only where they change.
    let mut known: Option<(Conductor, Option<Ampacity>)> =
        inquiry.conductors.worst(design, id).map(|worst| (worst, inquiry.ampacity(id).cloned()));
    for (index, point) in inquiry.figures.points.iter().enumerate().filter(|(_, point)| point.ordinary) {
        let Some(amps) = point.amps(LinkId(id.0)) else { continue };
        // Heating goes with the square of the current: with a duty d the root mean square is I √d.
        let amps = Amps(amps.0.abs() * point.duty.0.clamp(0.0, 1.0).sqrt());
        let conductor = inquiry.conductors.at(design, inquiry.figures, id, index)?;
        if known.as_ref().is_none_or(|(at, _)| *at != conductor) {
            known = Some((conductor, inquiry.profile.ampacity(&conductor)));
        }
        let Some((_, Some(limit))) = &known else { continue };
        let ratio = amps / limit.amps;
        if ratio > 1.0 && worst.as_ref().is_none_or(|(held, _)| exceeds(ratio, *held)) {
            let mode = design.modes.get(point.mode.index()).map_or("", |mode| mode.name.as_str());
            let (mode, corner) = (mode.to_owned(), naming::corner(design, point.corner));
            worst = Some((ratio, Overload { amps, limit: limit.clone(), conductor, mode, corner }));
        }
    }
    worst.map(|(_, overload)| overload)
}

fn finding(
    inquiry: &Inquiry<'_>,
    id: WireId,
    limit: &Ampacity,
    overload: Option<Overload>,
    device: Option<Device>,
) -> Finding {
    let wire = inquiry.design.wire(id);
    let limit = overload.as_ref().map_or(limit, |overload| &overload.limit);
    let beyond = device.as_ref().is_some_and(|device| device.rated > device.limit.allowed);
    let written = wire.size.as_ref().map_or("", |size| size.written.as_str());
    let size = wire.size.as_ref().filter(|size| inside(wire.statement, size.span));
    Finding {
        rule: RULE.name,
        severity: if beyond || overload.is_some() { Severity::Danger } else { Severity::Damage },
        span: size.map_or(wire.span, |size| size.span),
        subject: wire.name.clone(),
        message: message(inquiry, id, overload.as_ref(), device.as_ref()),
        label: format!("{written} bears {}", limit.amps),
        related: device.as_ref().and_then(|device| place_of(inquiry, device)).into_iter().collect(),
        figures: figures(limit, overload.as_ref(), device.as_ref()),
        because: because(overload.as_ref(), device.as_ref()),
        mode: overload.as_ref().map(|overload| overload.mode.clone()),
        help: mend::help(inquiry, id, overload.as_ref(), device.as_ref()),
        accepted: None,
    }
}

/// The measured value and the limit, with the profile that the limit is by: published tables differ by a factor of two.
fn message(
    inquiry: &Inquiry<'_>,
    id: WireId,
    overload: Option<&Overload>,
    device: Option<&Device>,
) -> String {
    let (name, profile) = (naming::wire(inquiry.design, id), inquiry.profile.word);
    match (overload, device) {
        (Some(load), _) => {
            let ((amps, most), mode) = (apart(load.amps, load.limit.amps), &load.mode);
            format!("{name} carries {amps} in `{mode}`, its limit is {most} (profile `{profile}`)")
        }
        (None, Some(device)) => {
            let beyond = device.rated > device.limit.allowed;
            let most = if beyond { device.limit.allowed } else { device.limit.preferred };
            let (rated, most) = apart(device.rated, most);
            let words = device.words.replace(&device.rated.to_string(), &rated);
            let verb = match device.part {
                Part::Behind => "is protected by",
                Part::Limited => "is fed by",
                Part::Lead => "is the lead to",
                Part::Return => "is the way home of",
            };
            format!("{name} {verb} {words}, its limit is {most} (profile `{profile}`)")
        }
        (None, None) => String::new(),
    }
}

/// Two currents with enough digits to see which is the greater.
fn apart(one: Amps, other: Amps) -> (String, String) {
    told_apart(one.0, other.0, base_symbol(Dimension::Current))
}

fn figures(limit: &Ampacity, overload: Option<&Overload>, device: Option<&Device>) -> Vec<Figure> {
    let mut figures = device.map_or_else(Vec::new, device::figures);
    figures.extend(overload.map(|overload| {
        let basis = format!("network solved in mode `{}` with {}", overload.mode, overload.corner);
        Figure::new("steady current", overload.amps, basis)
    }));
    figures.push(Figure::new("ampacity", limit.amps, limit.basis.clone()));
    figures
}

fn because(overload: Option<&Overload>, device: Option<&Device>) -> Vec<String> {
    let mut because = Vec::new();
    if let Some(device) = device {
        because.extend(band(device));
        because.extend(device.assumed.iter().cloned());
        because.extend(overload.map(|_| format!("it is also too small for {}", device.words)));
    }
    because
}

fn inside(outer: Span, inner: Span) -> bool {
    outer.file == inner.file && outer.start <= inner.start && inner.end <= outer.end
}

/// The band of currents that overheat the wire and may never open the device.
fn band(device: &Device) -> Option<String> {
    device.link?;
    let (from, to) = (device.limit.preferred, device.rated * fuse::MAY_CARRY_FOR_LONG);
    Some(format!(
        "between {from} and {to} the wire overheats and nothing opens in time: the unprotected band"
    ))
}

fn place_of(inquiry: &Inquiry<'_>, device: &Device) -> Option<(Span, String)> {
    let span = naming::link_span(inquiry.design, inquiry.topology, device.link?)?;
    Some((span, "the device is here".to_owned()))
}
