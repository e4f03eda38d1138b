//! A measurement that the computed figures do not explain.

use crate::{
    design::{Probe, Reading},
    finding::{Finding, Mend, NotAssessed, Severity},
    inquiry::Inquiry,
    naming,
    probe::{self, Shown},
    rule::{Rule, Source},
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "reading.differs",
    severity: Severity::Malfunction,
    summary: "A reading from the bench lies outside what is computed.",
    why: "Either the robot is not built as it is written, or a joint, a part or the meter is not as good as it should be. \
          Every other figure stands on the same text.",
    condition: "The value read lies below the least or above the most that is computed in its mode, from full to empty \
                batteries, by more than a meter's and a joint's share: 2 % and 20 mV of a voltage, 25 % and 5 mA of a \
                current. A reading without a mode is not judged, nor one in a mode without a working point; they are \
                listed as not assessed.",
    source: Source::CommonPractice("tolerances of a hand-held meter and of clean joints in a bring-up"),
    legitimate: "Never. A part that really has another value is written with it: `resistance 22 mΩ measured 2027-03-01`.",
    mend: "Measure again, then look for the wire, joint or part that explains the difference, and write down what is there.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 10 A blade
light LAMP 12 V 2 A { supply 9 V .. 16 V }
wire W1 PACK.pos to F1.line 12 AWG red 100 mm
wire W2 F1.load to LAMP.pos 16 AWG red 400 mm
wire W3 LAMP.neg to PACK.neg 16 AWG black 400 mm
reading 9.1 V at LAMP.pos in run on 2026-05-01
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 10 A blade
light LAMP 12 V 2 A { supply 9 V .. 16 V }
wire W1 PACK.pos to F1.line 12 AWG red 100 mm
wire W2 F1.load to LAMP.pos 16 AWG red 400 mm
wire W3 LAMP.neg to PACK.neg 16 AWG black 400 mm
reading 12.1 V at LAMP.pos in run on 2026-05-01
"#,
    check,
};

/// Share of a voltage and volts besides that a reading may be off (common practice).
const OF_VOLTS: (f64, f64) = (0.02, 0.020);
/// Share of a current and amperes besides that a reading may be off (common practice).
const OF_AMPS: (f64, f64) = (0.25, 0.005);

fn check(inquiry: &mut Inquiry<'_>) {
    let design = inquiry.design;
    for reading in &design.readings {
        match compare(inquiry, reading) {
            Ok(Some(finding)) => inquiry.report(finding),
            Ok(None) => {}
            Err(missing) => inquiry.not_assessed(NotAssessed {
                subject: reading.subject.clone(),
                span: reading.span,
                missing: missing.to_owned(),
                blocks: vec![RULE.name],
            }),
        }
    }
}

fn compare(inquiry: &Inquiry<'_>, reading: &Reading) -> Result<Option<Finding>, &'static str> {
    let Some(mode) = reading.mode else { return Err("the mode it was read in") };
    let mut computed = Vec::new();
    for point in inquiry.figures.points_of(mode) {
        let shown = probe::volts(inquiry.design, inquiry.topology, point, &reading.probe)
            .map(Shown::Volts)
            .or_else(|| probe::amps(inquiry.topology, point, &reading.probe).map(Shown::Amps));
        computed.push(shown.ok_or("a figure to compare it with")?);
    }
    let (Some(first), values) = (computed.first(), computed.iter().map(|shown| shown.base())) else {
        return Err("a working point");
    };
    let low = values.clone().fold(f64::INFINITY, f64::min);
    let high = values.fold(f64::NEG_INFINITY, f64::max);
    let (share, besides) = if matches!(first, Shown::Volts(_)) { OF_VOLTS } else { OF_AMPS };
    // A current is read without its direction.
    let read = if matches!(first, Shown::Amps(_)) { reading.value.value.abs() } else { reading.value.value };
    let slack = |value: f64| share * value.abs() + besides;
    let explained = (low - slack(low)..=high + slack(high)).contains(&read);
    Ok((!explained).then(|| differs(inquiry, reading, first.like(read), (first.like(low), first.like(high)))))
}

fn differs(inquiry: &Inquiry<'_>, reading: &Reading, read: Shown, (low, high): (Shown, Shown)) -> Finding {
    let mode = reading.mode.and_then(|mode| inquiry.design.modes.get(mode.index()));
    let mode = mode.map_or("", |mode| mode.name.as_str());
    let alike = (high.base() - low.base()).abs() <= 1e-3 * high.base().abs();
    let span = if alike { high.to_string() } else { format!("{low} to {high}") };
    let at = match reading.probe {
        Probe::Between(plus, minus) => {
            let design = inquiry.design;
            format!("from {} to {}", naming::terminal(design, plus), naming::terminal(design, minus))
        }
        Probe::Terminal(_) => format!("at `{}`", reading.subject),
        Probe::Wire(_) | Probe::Thing(_) => format!("through `{}`", reading.subject),
    };
    let message = format!("{read} was read {at} in `{mode}`, {span} is computed");
    let basis = format!("network solved in mode `{mode}`");
    let figures = vec![
        read.figure("read", "as written"),
        low.figure("least computed", basis.clone()),
        high.figure("most computed", basis),
    ];
    let date = reading.date.map(|date| format!("read on {date}"));
    Finding {
        rule: RULE.name,
        severity: RULE.severity,
        span: reading.span,
        subject: reading.subject.clone(),
        message,
        label: "not explained by the figures".to_owned(),
        related: Vec::new(),
        figures,
        because: date.into_iter().collect(),
        mode: Some(mode.to_owned()),
        help: vec![Mend::told("measure again; then find the wire, joint or part that explains it")],
        accepted: None,
    }
}
