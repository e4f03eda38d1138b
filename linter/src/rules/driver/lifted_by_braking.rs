//! A driver's supply that braking lifts beyond what stands on it, when no battery takes what comes back.

use wattle_grammar::{
    kind::{KindId, key},
    unit::told_apart,
};

use crate::{
    design::ThingId,
    finding::{Finding, Mend, NotAssessed, Severity},
    inquiry::Inquiry,
    missing::Missing,
    naming,
    quantity_text::Figure,
    rule::{Rule, Source},
    surge::{Braking, Bus, Parted},
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "driver.lifted-by-braking",
    severity: Severity::Damage,
    summary: "Braking lifts the driver's supply beyond what stands on it, once no battery takes what comes back.",
    why: "A bridge that brakes pumps the energy of what moves into its own supply. As long as a battery hangs there it is \
          charged. When a stop, a switch or a fuse parts them while the robot moves, all of it goes into a few capacitors: \
          some joules lift them by tens of volts within a fraction of a second, and the driver, its capacitors and \
          everything else on that supply break down.",
    condition: "A motor that its load can turn states `moved-mass` with `moved-speed`, or `moved-inertia` with \
                `moved-turning`. For each switch, stop, breaker and fuse the network is solved with it opened while the robot \
                moves; where that parts the driver from every source and the motors still reach its supply, and where every \
                battery on it states `regen-current 0 A`, the voltage is \
                √(U² + 2 E / C), with all of the energy E of ½ m v² and ½ J ω² of the motors on it, and the stated \
                capacitance C that is left there; where a clamp other than one for spikes is on it, the voltage at which that \
                begins, or √(P R) with its `resistance` and the power 2 E / t of the motors' `braking-time`, if that is more. \
                Reported above the `absolute-max` of the driver or the `voltage` of a capacitor there. The energy that a clamp \
                stands for a short time is not compared.",
    source: Source::Physics(
        "the energy of what moves and that of a capacitor, ½ m v² and ½ C U²; nothing is taken to be lost on the way",
    ),
    legitimate: "A driver that brakes into the windings or lets its motors run out: state `not regenerates`. A gear that the \
                 load cannot turn: `not back-drivable`.",
    mend: "A clamp with a brake resistor on the driver's own supply, that begins above the highest charging voltage and takes \
           the energy; or motor leads that a relay opens as soon as the supply is parted. More capacitance helps little: the \
           energy needs the square of the voltage. No diode that keeps the energy from the battery.",
    bad: r#"wattle 1
robot "Parade float" { ambient 30 degC }
battery PACK lead-acid 12S 40 Ah 15 mohm
fuse F1 40 A bolt-down 58 V
driver D1 18 V .. 40 V 40 A { capacitance 2200 uF; takes-back-feed }
motor M1 24 V { typical 10 A; stall 60 A; moved-mass 250 kg; moved-speed 1.5 m/s; braking-time 2 s }
wire W1 PACK.pos to F1.line 8 AWG red 100 mm
wire W2 F1.load to D1.pos 8 AWG red 300 mm
wire W3 D1.neg to PACK.neg 8 AWG black 300 mm
wire W4 D1.m1a to M1.a 10 AWG yellow 300 mm
wire W5 D1.m1b to M1.b 10 AWG blue 300 mm
"#,
    good: r#"wattle 1
robot "Parade float" { ambient 30 degC }
battery PACK lead-acid 12S 40 Ah 15 mohm
fuse F1 40 A bolt-down 58 V
driver D1 18 V .. 40 V 40 A { capacitance 2200 uF; takes-back-feed }
motor M1 24 V { typical 10 A; stall 60 A; moved-mass 250 kg; moved-speed 1.5 m/s; braking-time 2 s }
clamp BR 32 V 300 W 3.3 ohm brake-resistor
wire W1 PACK.pos to F1.line 8 AWG red 100 mm
wire W2 F1.load to D1.pos 8 AWG red 300 mm
wire W3 D1.neg to PACK.neg 8 AWG black 300 mm
wire W4 D1.m1a to M1.a 10 AWG yellow 300 mm
wire W5 D1.m1b to M1.b 10 AWG blue 300 mm
wire W6 BR.pos to D1.pos 10 AWG red 100 mm
wire W7 BR.neg to D1.neg 10 AWG black 100 mm
"#,
    check,
};

/// What a motor states of what it moves.
const MOVED: [&str; 4] = [key::MOVED_MASS, key::MOVED_SPEED, key::MOVED_INERTIA, key::MOVED_TURNING];

fn check(inquiry: &mut Inquiry<'_>) {
    let mut motors = inquiry.design.things().filter(|(_, thing)| thing.id() == KindId::Motor);
    // Nearly all robots state nothing of it: then nothing is computed.
    if !motors.any(|(_, motor)| MOVED.iter().any(|key| motor.states(key))) {
        return;
    }
    let mut told: Vec<Vec<ThingId>> = Vec::new();
    for bus in inquiry.buses() {
        match &bus.braking {
            Some(Ok(braking)) => {
                // Drivers that share a supply share what comes back: it is told once.
                let motors: Vec<ThingId> = braking.motors.iter().map(|moving| moving.motor).collect();
                if !told.contains(&motors) {
                    judge(inquiry, &bus, braking);
                    told.push(motors);
                }
            }
            Some(Err(missing)) => lacks(inquiry, &bus, missing),
            None => {}
        }
    }
}

fn lacks(inquiry: &mut Inquiry<'_>, bus: &Bus, missing: &Missing) {
    let thing = inquiry.design.thing(missing.of.unwrap_or(bus.driver));
    inquiry.not_assessed(NotAssessed {
        subject: thing.name.clone(),
        span: thing.span,
        missing: missing.what.clone(),
        blocks: vec![RULE.name],
    });
}

fn judge(inquiry: &mut Inquiry<'_>, bus: &Bus, braking: &Braking) {
    let unassessed = braking.unassessed.as_ref().map(|(_, missing)| missing);
    if let Some(missing) = unassessed.or(braking.stands.as_ref().err()) {
        lacks(inquiry, bus, missing);
    }
    if braking.is_beyond() {
        let finding = finding(inquiry, bus, braking);
        finding.into_iter().for_each(|finding| inquiry.report(finding));
    }
}

fn finding(inquiry: &Inquiry<'_>, bus: &Bus, braking: &Braking) -> Option<Finding> {
    let design = inquiry.design;
    let (when, opener) = match braking.parted {
        Parted::By(opened) => (format!("when {} opens", naming::thing(design, opened)), Some(opened)),
        Parted::ByRefusal => ("while the full batteries let nothing in".to_owned(), None),
        Parted::ByNothing => return None,
    };
    let (weakest, stands) = braking.stands.clone().ok()?;
    let (reaches, most) = told_apart(braking.reaches.0, stands.0, "V");
    let driver = design.thing(bus.driver);
    let who = if weakest == bus.driver { "it".to_owned() } else { naming::thing(design, weakest) };
    let moving = braking.motors.iter().take(3);
    let mut related: Vec<_> = moving
        .map(|moving| (design.thing(moving.motor).span, format!("what it moves has {}", moving.energy)))
        .collect();
    let words = "parts the supply from every source when it opens";
    related.extend(opener.map(|opened| (design.thing(opened).span, words.to_owned())));
    Some(Finding {
        rule: RULE.name,
        severity: Severity::Damage,
        span: driver.span,
        subject: driver.name.clone(),
        message: format!(
            "braking lifts the supply of {} to {reaches} {when}, {who} stands {most}",
            naming::thing(design, bus.driver)
        ),
        label: format!("lifted to {reaches}"),
        related,
        figures: vec![
            Figure::new("supply voltage while braking", braking.reaches, "√(U² + 2 E / C), a clamp counted"),
            Figure::new("highest that is stood", stands, "as stated, else the upper end of `supply`"),
            Figure::new("voltage before", braking.from, "network solved, full batteries"),
            Figure::new("capacitance", braking.capacitance, "as stated, all that is left on the supply"),
        ],
        because: because(inquiry, braking),
        mode: None,
        help: vec![Mend::told(
            "put a clamp with a brake resistor on the driver's supply, or let a relay open the motor leads when the supply is \
             parted",
        )],
        accepted: None,
    })
}

fn because(inquiry: &Inquiry<'_>, braking: &Braking) -> Vec<String> {
    let free = format!(
        "{} come back into {} at {}, all of the energy taken",
        braking.energy, braking.capacitance, braking.from
    );
    let clamp = braking.clamp.map(|clamp| {
        let name = naming::thing(inquiry.design, clamp.clamp);
        format!("{name} begins at {}; without it it would be {}", clamp.begins, braking.free)
    });
    std::iter::once(free).chain(clamp).collect()
}
