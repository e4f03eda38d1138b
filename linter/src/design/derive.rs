//! Ratings worked out from other ratings of the same thing: one small function for each `Derived` row of the table.

use wattle_grammar::{
    kind::{Default, Kind, KindId, chemistry, fuse_style, key},
    quantity::{Dimension, Quantity},
};

use super::{Origin, Rated, RatedValue, Standing};

/// Works out one rating from those that are known.
type Rule = fn(&Known<'_>) -> Option<RatedValue>;

/// The ratings known so far.
struct Known<'a>(&'a [Rated]);

impl Known<'_> {
    fn value(&self, key: &str) -> Option<&RatedValue> {
        self.0.iter().find(|rated| rated.key == key).map(|rated| &rated.value)
    }

    fn quantity(&self, key: &str) -> Option<f64> {
        match self.value(key)? {
            RatedValue::Quantity(quantity) => Some(quantity.value),
            _ => None,
        }
    }

    fn word(&self, key: &str) -> Option<&str> {
        match self.value(key)? {
            RatedValue::Word(word) => Some(word),
            _ => None,
        }
    }

    fn chemistry(&self) -> Option<&'static chemistry::Chemistry> {
        chemistry::by_word(self.word(key::CHEMISTRY)?)
    }

    fn style(&self) -> Option<&'static fuse_style::FuseStyle> {
        fuse_style::by_word(self.word(key::STYLE)?)
    }

    fn ratio(&self, above: &str, below: &str) -> Option<f64> {
        let (above, below) = (self.quantity(above)?, self.quantity(below)?);
        (below > 0.0).then_some(above / below)
    }
}

/// Adds every rating of the kind that is not known yet and follows from those that are.
pub(super) fn derive(kind: &'static Kind, ratings: &mut Vec<Rated>) {
    // A derived rating may be what another one needs; no chain in the table is longer than three.
    for _ in 0..3 {
        let before = ratings.len();
        for row in kind.ratings {
            let Default::Derived(how) = row.default else { continue };
            if ratings.iter().any(|rated| rated.key == row.key) {
                continue;
            }
            let value = rule(kind.id, row.key).and_then(|rule| rule(&Known(ratings)));
            if let Some(value) = value.filter(is_finite) {
                let standing = Standing::default();
                ratings.push(Rated { key: row.key, value, origin: Origin::Default(how), standing });
            }
        }
        if ratings.len() == before {
            return;
        }
    }
}

/// What a rating comes to by what is written under other keys, whether or not it is written itself.
pub(super) fn from_others(kind: KindId, key: &str, ratings: &[Rated]) -> Option<RatedValue> {
    let written = |rated: &&Rated| rated.key != key && !matches!(rated.origin, Origin::Default(_));
    let others: Vec<Rated> = ratings.iter().filter(written).cloned().collect();
    rule(kind, key).and_then(|rule| rule(&Known(&others))).filter(is_finite)
}

fn is_finite(value: &RatedValue) -> bool {
    match value {
        RatedValue::Quantity(quantity) => quantity.value.is_finite(),
        RatedValue::Range(low, high) => low.value.is_finite() && high.value.is_finite(),
        _ => true,
    }
}

/// The rule for a row; nothing for a row that has no derived default.
fn rule(kind: KindId, key: &str) -> Option<Rule> {
    sources(kind, key).or_else(|| switching(kind, key)).or_else(|| consumers(kind, key))
}

fn sources(kind: KindId, key: &str) -> Option<Rule> {
    Some(match (kind, key) {
        (KindId::Battery, key::CELLS) => battery_cells,
        (KindId::Battery, key::VOLTAGE) => battery_nominal,
        (KindId::Battery, key::FULL) | (KindId::Charger, key::VOLTAGE) => cells_full,
        (KindId::Battery, key::EMPTY) => battery_empty,
        (KindId::Battery, key::CURRENT) => battery_current,
        (KindId::Battery, key::BUILT_IN_FUSE) => nothing,
        (KindId::Charger, key::CURRENT_LIMIT) => same_as_current,
        (KindId::Supply | KindId::Generator, key::CURRENT) => current_from_power,
        (KindId::Generator, key::RESISTANCE) => generator_resistance,
        _ => return None,
    })
}

fn switching(kind: KindId, key: &str) -> Option<Rule> {
    Some(match (kind, key) {
        (KindId::Fuse, key::VOLTAGE) => fuse_voltage,
        (KindId::Fuse, key::BREAKING_CAPACITY) => fuse_breaking_capacity,
        (KindId::Fuse | KindId::Breaker, key::RESISTANCE) => protective_resistance,
        (_, key::COIL_RESISTANCE) => coil_resistance,
        (_, key::OPERATE) => operate,
        (_, key::RELEASE) => release,
        (_, key::COIL_MAX) => coil_max,
        (KindId::Shunt, key::RESISTANCE) => shunt_resistance,
        (KindId::Diode, key::FORWARD) => diode_forward,
        // All of them: what is not stated is no number of the thing's own.
        (KindId::Plug | KindId::Socket, key::LOADED_WAYS) => nothing,
        _ => return None,
    })
}

fn consumers(kind: KindId, key: &str) -> Option<Rule> {
    Some(match (kind, key) {
        (KindId::Motor, key::TYPICAL) => current_from_power,
        (KindId::Motor, key::STALL) => current_from_resistance,
        (KindId::Motor, key::RESISTANCE) => winding,
        (KindId::Motor, key::PUSHED) => same_as_voltage,
        (_, key::SUPPLY) => supply_around_voltage,
        (_, key::ABSOLUTE_MAX) => top_of_supply,
        (_, key::TYPICAL) => typical,
        (_, key::DRAWS) => draws,
        (KindId::Driver, key::STANDBY) => same_as_quiescent,
        (_, key::RESET_VOLTAGE) => foot_of_supply,
        // The mode and the range of the supply hold; there is no number of the thing's own.
        (_, key::DUTY | key::ALLOWED_DROP) => nothing,
        _ => return None,
    })
}

fn quantity(value: f64, dimension: Dimension) -> RatedValue {
    RatedValue::Quantity(Quantity { value, dimension, unit: "" })
}

fn volts(value: f64) -> RatedValue {
    quantity(value, Dimension::Voltage)
}

fn amps(value: f64) -> RatedValue {
    quantity(value, Dimension::Current)
}

fn ohms(value: f64) -> RatedValue {
    quantity(value, Dimension::Resistance)
}

fn nothing(_: &Known<'_>) -> Option<RatedValue> {
    None
}

fn battery_cells(known: &Known<'_>) -> Option<RatedValue> {
    let cells = (known.quantity(key::VOLTAGE)? / known.chemistry()?.nominal.0).round();
    (1.0..=64.0).contains(&cells).then(|| quantity(cells, Dimension::Cells))
}

fn battery_nominal(known: &Known<'_>) -> Option<RatedValue> {
    Some(volts(known.quantity(key::CELLS)? * known.chemistry()?.nominal.0))
}

fn cells_full(known: &Known<'_>) -> Option<RatedValue> {
    Some(volts(known.quantity(key::CELLS)? * known.chemistry()?.full.0))
}

fn battery_empty(known: &Known<'_>) -> Option<RatedValue> {
    Some(volts(known.quantity(key::CELLS)? * known.chemistry()?.empty.0))
}

fn battery_current(known: &Known<'_>) -> Option<RatedValue> {
    Some(amps(known.quantity(key::CAPACITY)? * known.quantity(key::DISCHARGE)?))
}

fn same_as_current(known: &Known<'_>) -> Option<RatedValue> {
    known.quantity(key::CURRENT).map(amps)
}

fn same_as_voltage(known: &Known<'_>) -> Option<RatedValue> {
    known.quantity(key::VOLTAGE).map(volts)
}

fn same_as_quiescent(known: &Known<'_>) -> Option<RatedValue> {
    known.quantity(key::QUIESCENT).map(amps)
}

/// The usual drop of the build, as the table says.
fn diode_forward(known: &Known<'_>) -> Option<RatedValue> {
    Some(volts(match known.word(key::STYLE)? {
        "schottky" => 0.4,
        "ideal" => 0.03,
        _ => 0.7,
    }))
}

fn current_from_power(known: &Known<'_>) -> Option<RatedValue> {
    known.ratio(key::POWER, key::VOLTAGE).map(amps)
}

fn current_from_resistance(known: &Known<'_>) -> Option<RatedValue> {
    known.ratio(key::VOLTAGE, key::RESISTANCE).map(amps)
}

fn typical(known: &Known<'_>) -> Option<RatedValue> {
    current_from_power(known).or_else(|| current_from_resistance(known))
}

fn generator_resistance(known: &Known<'_>) -> Option<RatedValue> {
    let (full, working) = (known.quantity(key::FULL)?, known.quantity(key::VOLTAGE)?);
    let current = known.quantity(key::CURRENT)?;
    (full >= working && current > 0.0).then(|| ohms((full - working) / current))
}

fn fuse_voltage(known: &Known<'_>) -> Option<RatedValue> {
    known.style()?.voltage.map(|voltage| volts(voltage.0))
}

fn fuse_breaking_capacity(known: &Known<'_>) -> Option<RatedValue> {
    known.style()?.breaking_capacity.map(|current| amps(current.0))
}

/// 0.1 V at the rated current, as the table says.
fn protective_resistance(known: &Known<'_>) -> Option<RatedValue> {
    let current = known.quantity(key::CURRENT)?;
    (current > 0.0).then(|| ohms(0.1 / current))
}

fn coil_resistance(known: &Known<'_>) -> Option<RatedValue> {
    known.ratio(key::COIL_VOLTAGE, key::COIL).map(ohms)
}

/// 75 % of the rated coil voltage, as the table says.
fn operate(known: &Known<'_>) -> Option<RatedValue> {
    Some(volts(known.quantity(key::COIL_VOLTAGE)? * 0.75))
}

/// 10 % of the rated coil voltage, as the table says.
fn release(known: &Known<'_>) -> Option<RatedValue> {
    Some(volts(known.quantity(key::COIL_VOLTAGE)? * 0.10))
}

/// 110 % of the rated coil voltage, as the table says.
fn coil_max(known: &Known<'_>) -> Option<RatedValue> {
    Some(volts(known.quantity(key::COIL_VOLTAGE)? * 1.10))
}

fn shunt_resistance(known: &Known<'_>) -> Option<RatedValue> {
    known.ratio(key::DROP, key::CURRENT).map(ohms)
}

fn winding(known: &Known<'_>) -> Option<RatedValue> {
    known.ratio(key::VOLTAGE, key::STALL).map(ohms)
}

fn supply_around_voltage(known: &Known<'_>) -> Option<RatedValue> {
    let value = known.quantity(key::VOLTAGE)?;
    let at = |factor: f64| Quantity { value: value * factor, dimension: Dimension::Voltage, unit: "" };
    let margin = wattle_grammar::kind::SUPPLY_MARGIN;
    Some(RatedValue::Range(at(1.0 - margin), at(1.0 + margin)))
}

fn top_of_supply(known: &Known<'_>) -> Option<RatedValue> {
    match known.value(key::SUPPLY)? {
        RatedValue::Range(_, high) => Some(volts(high.value)),
        RatedValue::Quantity(only) => Some(volts(only.value)),
        _ => None,
    }
}

fn foot_of_supply(known: &Known<'_>) -> Option<RatedValue> {
    match known.value(key::SUPPLY)? {
        RatedValue::Range(low, _) => Some(volts(low.value)),
        RatedValue::Quantity(only) => Some(volts(only.value)),
        _ => None,
    }
}

/// Power alone means power, resistance alone means resistance, else current. A current that was itself worked out
/// says nothing about how the load behaves.
fn draws(known: &Known<'_>) -> Option<RatedValue> {
    let derived = |rated: &&Rated| rated.key == key::TYPICAL && matches!(rated.origin, Origin::Default(_));
    let current_written = known.value(key::TYPICAL).is_some() && !known.0.iter().any(|rated| derived(&rated));
    let power = known.value(key::POWER).is_some();
    let resistance = known.value(key::RESISTANCE).is_some();
    let word = match (current_written, power, resistance) {
        (false, true, false) => "power",
        (false, false, true) => "resistance",
        _ => "current",
    };
    Some(RatedValue::Word(word.to_owned()))
}

#[cfg(test)]
mod tests {
    use wattle_grammar::kind::{ALL, by_id};

    use super::*;

    fn given(key: &'static str, value: f64, dimension: Dimension) -> Rated {
        let (value, standing) = (quantity(value, dimension), Standing::default());
        Rated { key, value, origin: Origin::Default("given"), standing }
    }

    fn word(key: &'static str, word: &str) -> Rated {
        let (value, standing) = (RatedValue::Word(word.to_owned()), Standing::default());
        Rated { key, value, origin: Origin::Default("given"), standing }
    }

    fn derived(kind: KindId, mut ratings: Vec<Rated>) -> Vec<Rated> {
        derive(by_id(kind).unwrap(), &mut ratings);
        ratings
    }

    fn value(ratings: &[Rated], key: &str) -> Option<f64> {
        Known(ratings).quantity(key)
    }

    #[test]
    fn every_derived_row_of_the_table_has_a_rule() {
        for kind in ALL {
            for row in kind.ratings {
                if matches!(row.default, Default::Derived(_)) {
                    assert!(rule(kind.id, row.key).is_some(), "{} {}", kind.word, row.key);
                }
            }
        }
    }

    #[test]
    fn a_pack_of_six_lithium_polymer_cells() {
        let ratings = derived(
            KindId::Battery,
            vec![
                word(key::CHEMISTRY, "lipo"),
                given(key::CELLS, 6.0, Dimension::Cells),
                given(key::CAPACITY, 5.0, Dimension::Charge),
                given(key::DISCHARGE, 25.0, Dimension::ChargeRate),
            ],
        );
        // 6 × 4.2 V, 6 × 3.7 V, 6 × 3.0 V, 5 Ah × 25 C.
        for (key, expected) in
            [(key::FULL, 25.2), (key::VOLTAGE, 22.2), (key::EMPTY, 18.0), (key::CURRENT, 125.0)]
        {
            assert!((value(&ratings, key).unwrap() - expected).abs() < 1e-9, "{key}");
        }
        assert_eq!(value(&ratings, key::BUILT_IN_FUSE), None);
    }

    #[test]
    fn cells_follow_from_the_voltage_and_the_rest_from_them() {
        let ratings = derived(
            KindId::Battery,
            vec![word(key::CHEMISTRY, "lipo"), given(key::VOLTAGE, 22.2, Dimension::Voltage)],
        );
        assert_eq!(value(&ratings, key::CELLS), Some(6.0));
        assert!((value(&ratings, key::FULL).unwrap() - 25.2).abs() < 1e-9);
    }

    #[test]
    fn a_coil_operates_and_releases_at_shares_of_its_voltage() {
        let ratings = derived(
            KindId::Relay,
            vec![
                given(key::COIL_VOLTAGE, 24.0, Dimension::Voltage),
                given(key::COIL, 0.1, Dimension::Current),
            ],
        );
        let close = |key: &str, expected: f64| (value(&ratings, key).unwrap() - expected).abs() < 1e-9;
        assert!(close(key::OPERATE, 18.0) && close(key::RELEASE, 2.4) && close(key::COIL_MAX, 26.4));
        assert!(close(key::COIL_RESISTANCE, 240.0));
    }

    #[test]
    fn a_load_draws_as_it_is_written() {
        let draws = |ratings| Known(&derived(KindId::Load, ratings)).word(key::DRAWS).map(str::to_owned);
        let voltage = || given(key::VOLTAGE, 12.0, Dimension::Voltage);
        let power = || given(key::POWER, 24.0, Dimension::Power);
        assert_eq!(draws(vec![voltage(), power()]).as_deref(), Some("power"));
        assert_eq!(
            draws(vec![given(key::RESISTANCE, 6.0, Dimension::Resistance)]).as_deref(),
            Some("resistance")
        );
        assert_eq!(draws(vec![voltage()]).as_deref(), Some("current"));
        let mut current = given(key::TYPICAL, 2.0, Dimension::Current);
        current.origin = Origin::Thing(wattle_grammar::span::Span::default());
        assert_eq!(draws(vec![voltage(), power(), current]).as_deref(), Some("current"));
        let ratings = derived(KindId::Load, vec![voltage(), power()]);
        assert_eq!(value(&ratings, key::TYPICAL), Some(2.0));
        assert!((value(&ratings, key::ABSOLUTE_MAX).unwrap() - 13.2).abs() < 1e-9);
    }

    #[test]
    fn a_diode_drops_what_its_build_drops() {
        for (style, drop) in [("silicon", 0.7), ("schottky", 0.4), ("ideal", 0.03)] {
            let ratings = derived(KindId::Diode, vec![word(key::STYLE, style)]);
            assert_eq!(value(&ratings, key::FORWARD), Some(drop), "{style}");
        }
    }

    #[test]
    fn what_is_not_written_of_a_part_follows_from_what_is() {
        let written = vec![given(key::QUIESCENT, 0.02, Dimension::Current)];
        assert_eq!(value(&derived(KindId::Driver, written), key::STANDBY), Some(0.02));
        let written = vec![given(key::VOLTAGE, 12.0, Dimension::Voltage)];
        let lowest = value(&derived(KindId::Load, written), key::RESET_VOLTAGE).unwrap();
        assert!((lowest - 10.8).abs() < 1e-9);
    }

    #[test]
    fn nothing_is_divided_by_zero() {
        let ratings = derived(
            KindId::Shunt,
            vec![given(key::DROP, 0.075, Dimension::Voltage), given(key::CURRENT, 0.0, Dimension::Current)],
        );
        assert_eq!(value(&ratings, key::RESISTANCE), None);
    }
}
