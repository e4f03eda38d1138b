//! How long a charge lasts, of a battery and of the robot.

use wattle_grammar::{
    kind::key,
    quantity::{Amps, Seconds},
};

use super::Telling;
use crate::{
    energy::{Bank, Lasts, Law, ModeEnergy, Pack, law},
    explained::{Amount, Explained, Input},
    missing::Missing,
    physics::{evidence::Evidence, runtime::RATED_TIME},
};

/// How long a battery lasts in each mode.
pub(super) fn of_pack(telling: &Telling<'_>, pack: &Pack) -> Vec<Explained> {
    let banks = telling.energy.modes.iter().filter(|mode| telling.may_last(mode.mode)).filter_map(|mode| {
        let bank = mode.banks.iter().find(|bank| bank.packs.contains(&pack.thing))?;
        Some((mode, bank))
    });
    banks.map(|(mode, bank)| in_mode(telling, pack, mode, bank)).collect()
}

fn in_mode(telling: &Telling<'_>, pack: &Pack, mode: &ModeEnergy, bank: &Bank) -> Explained {
    let amount = telling.amount(&bank.lasts, |lasts| amount(*lasts));
    let told = Explained::new(format!("runtime in `{}`", telling.mode(mode.mode)), amount);
    if matches!(bank.lasts, Ok(Lasts::Forever)) {
        return told.by("its mean current over the discharge is 0 A", super::SOLVED);
    }
    let mut told = with_law(telling, pack, told)
        .from(bank.mean.as_ref().ok().filter(|mean| **mean > Amps(0.0)).map(|mean| {
            Input::of(
                "I",
                "mean current over the discharge: (full + 4 half + empty) / 6, the largest corner",
                *mean,
            )
        }))
        .from([Input::of("u", format!("`{}`, share of the capacity that is used", key::USABLE), pack.usable)])
        .noting("at the stated capacity: an old or a cold battery has less");
    if bank.packs.len() > 1 {
        let own = bank.packs.iter().zip(&bank.each).find(|(other, _)| **other == pack.thing);
        let alone = own.and_then(|(_, lasts)| lasts.as_ref().ok()).map(|lasts| words(*lasts));
        told = told.noting(format!("of {} packs side by side together", bank.packs.len()));
        if let Some(alone) = alone {
            told = told.noting(format!("by its own share of the current alone: {alone}"));
        }
    }
    told
}

/// The formula of a battery's chemistry.
fn with_law(telling: &Telling<'_>, pack: &Pack, told: Explained) -> Explained {
    let told = match &pack.capacity {
        Ok(capacity) => told.from([Input::of("C", "capacity, as stated", *capacity)]),
        Err(_) => told,
    };
    match law(telling.design, pack.thing) {
        Ok(Law::Peukert(exponent)) => told
            .by(
                "t = u · H · (C / (I · H))^k, at most u · C / I",
                "Peukert's law from the capacity at the rated time (batterystuff.com); the exponent is the table's for the \
                 chemistry",
            )
            .from([
                Input::of("H", "rated time, 20 h by common practice", RATED_TIME),
                Input { symbol: "k", what: "Peukert exponent".to_owned(), amount: number(exponent) },
            ])
            .resting_on(Evidence::Practice)
            .noting("a load lighter than the rated one gets no more than the capacity"),
        Ok(Law::Ideal) => told.by(
            "t = u · C / I",
            "Lessons In Electric Circuits, chapter 11; the capacity of lithium and nickel cells hardly depends on the current",
        ),
        Err(_) => told,
    }
}

fn number(value: f64) -> Amount {
    Amount::Value(value, wattle_grammar::quantity::Dimension::Number)
}

/// How long the robot lasts in each mode, in the stated mix and put away.
pub(super) fn of_robot(telling: &Telling<'_>) -> Vec<Explained> {
    let energy = telling.energy;
    let modes = energy.modes.iter().filter(|mode| telling.may_last(mode.mode));
    let mut told: Vec<Explained> = modes.map(|mode| robot_in(telling, mode)).collect();
    if let Some(mix) = &energy.mix {
        let mut figure = Explained::new(
            "runtime in the stated mix of modes",
            telling.amount(&mix.lasts, |lasts| amount(*lasts)),
        )
        .by("1 / t = Σ share / runtime of the mode", "each mode uses up its share of the charge")
        .from([Input::of("Σ share", "shares of a working day, as stated", mix.shares)]);
        if let Some(rest) = mix.rest {
            figure = figure.noting(format!("the rest of the day is spent in `{}`", telling.mode(rest)));
        }
        told.push(figure);
    }
    told.extend(put_away(telling));
    told
}

fn robot_in(telling: &Telling<'_>, mode: &ModeEnergy) -> Explained {
    let name = telling.mode(mode.mode);
    let told =
        Explained::new(format!("runtime in `{name}`"), telling.amount(&mode.lasts, |lasts| amount(*lasts)))
            .by("the bank of batteries that is empty first", "the runtimes of the batteries");
    match first_empty(mode) {
        Some(first) => told.noting(format!("empty first: {}", telling.name(first))),
        None => told,
    }
}

/// The battery that would be empty first by its own share of the current.
fn first_empty(mode: &ModeEnergy) -> Option<crate::design::ThingId> {
    let each = mode.banks.iter().flat_map(|bank| bank.packs.iter().zip(&bank.each));
    let known = each.filter_map(|(pack, lasts)| match lasts {
        Ok(Lasts::For(time)) => Some((*pack, *time)),
        _ => None,
    });
    known.reduce(|first, other| if other.1 < first.1 { other } else { first }).map(|(pack, _)| pack)
}

/// What is drawn while the robot is put away, and how long that lasts.
fn put_away(telling: &Telling<'_>) -> Vec<Explained> {
    drawn_put_away(telling).into_iter().chain(time_put_away(telling)).collect()
}

/// What all batteries give together then.
fn drawn_put_away(telling: &Telling<'_>) -> Option<Explained> {
    let standby = telling.energy.standby?;
    let mode = telling.energy.modes.iter().find(|mode| mode.mode == standby)?;
    let total: Result<Amps, Missing> = mode.banks.iter().map(|bank| bank.mean.clone()).sum();
    let told = Explained::new("drawn when put away", telling.amount(&total, |amps| Amount::of(*amps)))
        .by("sum over the batteries", super::SOLVED)
        .noting(format!("in mode `{}`", telling.mode(standby)));
    Some(told)
}

fn time_put_away(telling: &Telling<'_>) -> Option<Explained> {
    let mode = telling.energy.standby?;
    let lasts: Result<Lasts, Missing> = telling.energy.lasts_in(mode);
    let told =
        Explained::new("time until empty when put away", telling.amount(&lasts, |lasts| amount(*lasts)))
            .by("as the runtime in a mode", "the runtimes of the batteries")
            .noting(format!("in mode `{}`", telling.mode(mode)))
            .noting("self-discharge is not counted");
    let unplugged = telling
        .energy
        .packs
        .iter()
        .all(|pack| telling.design.thing(pack.thing).flag(key::UNPLUGGED_AFTER_USE) == Some(true));
    Some(if unplugged {
        told.noting("every battery is unplugged after use, as stated: this holds while one is forgotten")
    } else {
        told
    })
}

fn amount(lasts: Lasts) -> Amount {
    match lasts {
        Lasts::For(time) => Amount::of(time),
        Lasts::Forever => Amount::Words(words(lasts)),
    }
}

fn words(lasts: Lasts) -> String {
    match lasts {
        Lasts::For(time) => long(time),
        Lasts::Forever => "for ever: nothing is taken out".to_owned(),
    }
}

/// A time in days where it is several.
fn long(time: Seconds) -> String {
    const DAY: f64 = 86400.0;
    if time.0 >= 2.0 * DAY { format!("{:.1} days", time.0 / DAY) } else { time.to_string() }
}
