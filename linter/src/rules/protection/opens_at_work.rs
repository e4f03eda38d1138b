//! A device that ages or opens in ordinary work.

use wattle_grammar::{
    kind::key,
    quantity::{Amps, Share},
};

use crate::{
    finding::{Finding, Mend, NotAssessed, Severity},
    inquiry::Inquiry,
    naming,
    physics::fuse::CONTINUOUS_LOAD,
    protection::{DeviceProtection, Holds, Pulse, PulseCause, Steady},
    quantity_text::Figure,
    rule::{Rule, Source},
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "protection.opens-at-work",
    severity: Severity::Malfunction,
    summary: "Ordinary work is near enough to this device's rating to age it or to open it.",
    why: "A fuse that runs warm ages and opens one day for nothing, in the middle of a show. The owner then fits a bigger one, \
          and the wire behind it is no longer protected.",
    condition: "Steady current of a mode that may last (root mean square with a duty) above 80 % of a fuse's rating (makers \
                re-rate to 75 % at 25 °C), or above the rating of a breaker; or a pulse of one load behind it that the device \
                need not hold by its limits: `peak` for `peak-time`, `inrush` for `inrush-time`, the charge of `capacitance` \
                through the loop, I²t = V² C / 2 R. A blocked motor is a fault and no ordinary work.",
    source: Source::CommonPractice(
        "fuse makers' re-rating to 75 % of the rating for a continuous load; ISO 8820-3 limits",
    ),
    legitimate: "A load that draws its figure now and then: state the `duty` of the mode. One that starts slowly: state \
                 `soft-start`.",
    mend: "Split the load over two devices, or let it start softly. A larger device only together with wires that bear it: see \
           `wire.undersized`.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC; insulation 105 degC }
battery PACK lead-acid 6S 7 Ah 40 mohm
fuse F1 5 A blade
light LAMP 12 V { typical 4.5 A }
wire W1 PACK.pos to F1.line 10 AWG red 100 mm
wire W2 F1.load to LAMP.pos 14 AWG red 300 mm
wire W3 LAMP.neg to PACK.neg 14 AWG black 400 mm
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC; insulation 105 degC }
battery PACK lead-acid 6S 7 Ah 40 mohm
fuse F1 5 A blade
light LAMP 12 V { typical 2 A }
wire W1 PACK.pos to F1.line 10 AWG red 100 mm
wire W2 F1.load to LAMP.pos 14 AWG red 300 mm
wire W3 LAMP.neg to PACK.neg 14 AWG black 400 mm
"#,
    check,
};

/// From this share of its rating on a fuse is reported: a little above what makers allow for a continuous load, so that
/// rounded figures pass.
const REPORTED: Share = Share(0.8);

fn check(inquiry: &mut Inquiry<'_>) {
    let protection = std::mem::take(&mut inquiry.protection);
    for found in &protection.devices {
        let overload = found.burden.steady.filter(|steady| is_above(found, steady.amps));
        let pulse = found
            .burden
            .pulses
            .iter()
            .filter(|pulse| pulse.may_open())
            .reduce(|held, next| if next.energy > held.energy { next } else { held });
        if let Some(steady) = overload {
            let finding = finding_of_load(inquiry, found, steady);
            inquiry.report(finding);
        } else if let Some(pulse) = pulse {
            let finding = finding_of_pulse(inquiry, found, pulse);
            inquiry.report(finding);
        }
        for load in &found.burden.timeless {
            let load = inquiry.design.thing(*load);
            let entry = NotAssessed {
                subject: load.name.clone(),
                span: load.span,
                missing: key::PEAK_TIME.to_owned(),
                blocks: vec![RULE.name],
            };
            inquiry.not_assessed(entry);
        }
    }
    inquiry.protection = protection;
}

fn is_above(found: &DeviceProtection, amps: Amps) -> bool {
    let share = if found.device.is_breaker { Share(1.0) } else { REPORTED };
    found.device.rated.is_some_and(|rated| amps > rated * share.0)
}

fn finding(found: &DeviceProtection, inquiry: &Inquiry<'_>) -> Finding {
    let thing = inquiry.design.thing(found.device.thing);
    Finding {
        rule: RULE.name,
        severity: Severity::Malfunction,
        span: thing.span,
        subject: thing.name.clone(),
        message: String::new(),
        label: "may open in ordinary work".to_owned(),
        related: Vec::new(),
        figures: Vec::new(),
        because: Vec::new(),
        mode: None,
        help: vec![Mend::told(
            "split the load over two devices, or let it draw less; a larger device only with wires that bear it",
        )],
        accepted: None,
    }
}

fn finding_of_load(inquiry: &Inquiry<'_>, found: &DeviceProtection, steady: Steady) -> Finding {
    let name = naming::thing(inquiry.design, found.device.thing);
    let rated = found.device.rated.unwrap_or(Amps(0.0));
    let share = if found.device.is_breaker { Share(1.0) } else { CONTINUOUS_LOAD };
    let point = inquiry.figures.points.get(steady.point);
    let mode = point.and_then(|point| inquiry.design.modes.get(point.mode.index()));
    let mode = mode.map_or_else(String::new, |mode| mode.name.clone());
    let basis = if found.device.is_breaker {
        "its rated current"
    } else {
        "75 % of its rating, makers' re-rating for a continuous load, from memory"
    };
    Finding {
        message: format!(
            "{name} ({rated}) carries {} in `{mode}`, for good it is to carry {}",
            steady.amps,
            rated * share.0
        ),
        figures: vec![
            Figure::new("steady current", steady.amps, format!("network solved in mode `{mode}`")),
            Figure::new("largest continuous load", rated * share.0, basis),
        ],
        mode: Some(mode),
        ..finding(found, inquiry)
    }
}

fn finding_of_pulse(inquiry: &Inquiry<'_>, found: &DeviceProtection, pulse: &Pulse) -> Finding {
    let name = naming::thing(inquiry.design, found.device.thing);
    let rated = found.device.rated.unwrap_or(Amps(0.0));
    let load = inquiry.design.thing(pulse.load);
    let what = match pulse.cause {
        PulseCause::Peak => "its peak",
        PulseCause::Inrush => "its in-rush",
        PulseCause::Capacitance => "filling its capacitors",
    };
    let (draws, holds) = match pulse.holds {
        Some(Holds::Energy(energy)) => {
            (format!("{} ({})", pulse.energy, pulse.amps), format!("it holds {energy} for sure"))
        }
        Some(Holds::For(time)) => {
            (format!("{} for {}", pulse.amps, pulse.time), format!("it holds that {time} for sure"))
        }
        None => (pulse.amps.to_string(), String::new()),
    };
    let mut figures = vec![
        Figure::new("current of the pulse", pulse.amps, what),
        Figure::new("energy of the pulse", pulse.energy, "I² t, of a capacitor V² C / 2 R"),
    ];
    figures.extend(match pulse.holds {
        Some(Holds::For(time)) => Some(Figure::new("held for sure", time, "earliest opening by its limits")),
        Some(Holds::Energy(energy)) => Some(Figure::new("held for sure", energy, "energy of its last limit")),
        None => None,
    });
    Finding {
        message: format!(
            "{} draws {draws} through {name} ({rated}), {what}: {holds}",
            naming::quoted(&load.name)
        ),
        related: vec![(load.span, "drawn here".to_owned())],
        figures,
        ..finding(found, inquiry)
    }
}
