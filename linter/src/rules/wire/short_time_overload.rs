//! A stall, or a motor turned from outside, that lasts long enough to take a wire above its insulation's class.

use wattle_grammar::{
    kind::key,
    quantity::{Celsius, Dimension, Seconds},
    unit::{base_symbol, told_apart},
};

use crate::{
    design::WireId,
    finding::{Finding, Mend, NotAssessed, Severity},
    inquiry::Inquiry,
    naming,
    physics::{adiabatic, heat::Cable, standard_size, transient::Warming},
    profile::Conductor,
    quantity_text::Figure,
    rule::{Rule, Source},
    warming::{Bench, Brief, Lasts},
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "wire.short-time-overload",
    severity: Severity::Danger,
    summary: "A short current lasts longer than the wire stands it.",
    why: "A blocked motor draws several times what it draws in ordinary work, and its leads warm within seconds: their copper \
          takes up the heat, little of it is given off meanwhile. Above its class the insulation ages fast and softens; above \
          its short-circuit limit it runs off the wire.",
    condition: "In a mode in which something is blocked or turned from outside: the current \
                is above the wire's ampacity, and the wire, which begins where its worst lasting current leaves it, reaches \
                its insulation's class before the mode is over, which says how long it `lasts`, or a fuse or breaker of a known style in \
                the same branch has opened at the latest: `damage`. It also reaches 160 °C (classes up to 105 °C) or \
                250 °C (above): `danger`. Where a wire carries more than its ampacity and nothing says how long, that is not \
                assessed. Peaks are judged as if they lasted by `wire.undersized`.",
    source: Source::Physics(
        "c A dT/dt = I² R(T) − q(T): copper's heat capacity by IEC 60949, loss by Churchill and Chu 1975 with radiation, \
         scaled to the profile's ampacity; limits of IEC 60364-4-43",
    ),
    legitimate: "The program or a driver ends the stall sooner: state that in the mode with `lasts`, or the driver's \
                 `current-limit`.",
    mend: "A thicker wire, insulation of a higher class, a lower current limit in the driver, or a program that ends the stall \
           sooner. Never a larger fuse.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 10 A blade
motor M1 12 V { typical 2 A; stall 12 A; not back-drivable }
wire W1 PACK.pos to F1.line 10 AWG red 100 mm
wire W2 F1.load to M1.a 18 AWG red 300 mm
wire W3 M1.b to PACK.neg 10 AWG black 400 mm
mode stall { everything stall; lasts 2 min }
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 10 A blade
motor M1 12 V { typical 2 A; stall 12 A; not back-drivable }
wire W1 PACK.pos to F1.line 10 AWG red 100 mm
wire W2 F1.load to M1.a 18 AWG red 300 mm
wire W3 M1.b to PACK.neg 10 AWG black 400 mm
mode stall { everything stall; lasts 5 s }
"#,
    check,
};

fn check(inquiry: &mut Inquiry<'_>) {
    let (mut findings, mut gaps) = (Vec::new(), Vec::new());
    {
        let bench = Bench::of(inquiry.given());
        for (id, wire) in inquiry.design.wires().filter(|(_, wire)| !wire.spare) {
            let mut briefs = bench.briefs(id);
            briefs.retain(|brief| is_short(inquiry, brief) && brief.may_overheat());
            gaps.extend(
                briefs.iter().filter(|brief| brief.lasts.is_none()).filter_map(|brief| gap(inquiry, brief)),
            );
            let over = briefs.into_iter().filter_map(Over::of);
            let worst = over.max_by(|one, other| one.hottest.0.total_cmp(&other.hottest.0));
            findings.extend(worst.map(|over| finding(inquiry, &bench, id, &wire.name, &over)));
        }
    }
    findings.into_iter().for_each(|finding| inquiry.report(finding));
    gaps.into_iter().for_each(|gap| inquiry.not_assessed(gap));
}

/// Whether the point is judged here: those that may last are judged as if they did, and where what lasts takes the wire to its
/// class already, that is the finding.
fn is_short(inquiry: &Inquiry<'_>, brief: &Brief) -> bool {
    let blocked = inquiry.figures.points.get(brief.point).is_some_and(|point| !point.ordinary);
    blocked && brief.start < brief.conductor.insulation
}

/// A current that lasts too long.
struct Over {
    brief: Brief,
    lasts: Lasts,
    hottest: Celsius,
}

impl Over {
    fn of(brief: Brief) -> Option<Self> {
        let lasts = brief.at_most().filter(|lasts| lasts.time > brief.until_class)?.clone();
        let hottest = brief.warming.after(brief.start, brief.amps, lasts.time);
        Some(Self { brief, lasts, hottest })
    }

    fn limit(&self) -> Celsius {
        adiabatic::short_circuit_limit(self.brief.conductor.insulation)
    }
}

fn gap(inquiry: &Inquiry<'_>, brief: &Brief) -> Option<NotAssessed> {
    let mode = inquiry.figures.points.get(brief.point)?.mode;
    let mode = inquiry.design.modes.get(mode.index())?;
    Some(NotAssessed {
        subject: format!("mode {}", mode.name),
        span: mode.span,
        missing: key::LASTS.to_owned(),
        blocks: vec![RULE.name],
    })
}

fn finding(inquiry: &Inquiry<'_>, bench: &Bench<'_>, id: WireId, subject: &str, over: &Over) -> Finding {
    let Over { brief, lasts, hottest } = over;
    let wire = inquiry.design.wire(id);
    let class = brief.conductor.insulation;
    let mode = inquiry
        .figures
        .points
        .get(brief.point)
        .and_then(|point| inquiry.design.modes.get(point.mode.index()));
    let mode = mode.map_or("", |mode| mode.name.as_str());
    let (time, stood) = told_apart(lasts.time.0, brief.until_class.0, base_symbol(Dimension::Time));
    let message = format!(
        "{} carries {} for {time} in `{mode}`, after {stood} it is at its class of {class}",
        naming::wire(inquiry.design, id),
        brief.amps
    );
    let is_danger = *hottest > over.limit();
    let mut because = vec![format!("it begins at {:.0} °C and comes to {:.0} °C", brief.start.0, hottest.0)];
    because.extend(is_danger.then(|| {
        format!("above {} its insulation does not even stand a short (IEC 60364-4-43)", over.limit())
    }));
    Finding {
        rule: RULE.name,
        severity: if is_danger { Severity::Danger } else { Severity::Damage },
        span: wire.size.as_ref().map_or(wire.span, |size| size.span),
        subject: subject.to_owned(),
        message,
        label: format!("reaches {class} after {}", brief.until_class),
        related: mode_place(inquiry, brief).into_iter().collect(),
        figures: figures(inquiry, bench, over),
        because,
        mode: Some(mode.to_owned()),
        help: help(inquiry, id, over),
        accepted: None,
    }
}

fn mode_place(inquiry: &Inquiry<'_>, brief: &Brief) -> Option<(wattle_grammar::span::Span, String)> {
    let point = inquiry.figures.points.get(brief.point)?;
    Some((inquiry.design.modes.get(point.mode.index())?.span, "the mode is here".to_owned()))
}

fn figures(inquiry: &Inquiry<'_>, bench: &Bench<'_>, over: &Over) -> Vec<Figure> {
    let Over { brief, lasts, hottest } = over;
    let law = bench.explain(brief).source;
    vec![
        Figure::new("short current", brief.amps, "network solved"),
        Figure::new(
            "ampacity",
            brief.ampacity,
            format!("profile `{}`, for as long as one likes", inquiry.profile.word),
        ),
        Figure::new("it lasts", lasts.time, lasts.by.clone()),
        Figure::new("time to the class", brief.until_class, law.clone()),
        Figure::new("temperature then", *hottest, law),
    ]
}

/// A thicker wire that stands it; else a shorter time.
fn help(inquiry: &Inquiry<'_>, id: WireId, over: &Over) -> Vec<Mend> {
    let mut help = Vec::new();
    let size = inquiry.design.wire(id).size.as_ref();
    let stands = |conductor: &Conductor| {
        let ampacity = inquiry.profile.ampacity(conductor)?.amps;
        let warming = Warming::new(
            Cable::thin_walled(conductor.area),
            conductor.insulation,
            conductor.ambient,
            ampacity,
        );
        let time = warming.time(over.brief.start, conductor.insulation, over.brief.amps);
        (time >= over.lasts.time).then_some(())
    };
    let thicker = size.and_then(|size| {
        let sizes = standard_size::above(size.area, size.awg);
        sizes
            .into_iter()
            .find(|size| stands(&Conductor { area: size.area, ..over.brief.conductor }).is_some())
    });
    help.extend(thicker.map(|size| Mend::told(format!("use {} or thicker", size.name))));
    let seconds = Seconds(over.brief.until_class.0);
    help.push(Mend::told(format!(
        "or have it end within {seconds}, and say so in the mode with `{}`",
        key::LASTS
    )));
    help
}
