//! The profile `aircraft`: the inspection handbook for small aircraft, made for large bundles in thin air.

use std::borrow::Cow;

use wattle_grammar::quantity::{Amps, Celsius, Metres, Volts};

use super::{
    Ampacity, Basis, Conductor, DeviceLimit, Profile,
    handbook::{COLUMNS, CONTINUOUS, CONTINUOUS_AIR, DEVICE_AIR, DEVICES, table_air},
    working::{Working, row_for, row_name},
};

/// The profile.
pub(super) static PROFILE: Profile = Profile {
    word: "aircraft",
    name: Cow::Borrowed("aircraft handbook"),
    source: Cow::Borrowed(
        "FAA AC 43.13-1B chapter 11: continuous current by table 11-9 (bundles of 33 and more in air of 70 °C), \
             protective devices by table 11-3",
    ),
    default_insulation: Celsius(60.0),
    bare_distance: Metres(0.1778),
    sheathed_distance: Metres(1.016),
    distance_source: Cow::Borrowed(
        "33 CFR 183.455(b), for the handbook gives no figure: 7 in, or 40 in sheathed or enclosed",
    ),
    basis: Basis::Aircraft,
};

/// What a conductor may rise over the air at the tables' figures; alone in still air it rises less, see the test.
const RISE: Celsius = Celsius(35.0);

/// Table 11-9. Insulation below its first column takes that column, brought to the insulation's own temperature.
pub(super) fn ampacity(conductor: &Conductor) -> Option<Ampacity> {
    let (gauge, row) = row_for(CONTINUOUS, conductor.area)?;
    let at = COLUMNS.iter().rposition(|column| *column <= conductor.insulation).unwrap_or(0);
    let (column, amps) = (*COLUMNS.get(at)?, Amps(*row.get(at)?));
    let insulation = column.min(conductor.insulation);
    let name = row_name(gauge, conductor);
    Some(
        Working::new(amps, format!("FAA AC 43.13-1B table 11-9, {name}, {column} column"))
            .in_air(insulation, conductor.ambient, table_air(insulation, CONTINUOUS_AIR, RISE))
            .finish(),
    )
}

/// Table 11-3: the fuse column is preferred, the breaker column allowed. A size below it takes its continuous current.
pub(super) fn device_limit(conductor: &Conductor, _system: Volts) -> Option<DeviceLimit> {
    let Some((gauge, device)) = row_for(DEVICES, conductor.area) else {
        return ampacity(conductor).map(|found| DeviceLimit {
            preferred: found.amps,
            allowed: found.amps,
            basis: format!("{}; the device opens before the wire's rating (AC 43.13-1B 11-48)", found.basis),
        });
    };
    let table = table_air(conductor.insulation, DEVICE_AIR, RISE);
    let column = |amps: Amps, column: &str| {
        let name = row_name(gauge, conductor);
        Working::new(amps, format!("FAA AC 43.13-1B table 11-3, {name}, {column} column"))
            .in_air(conductor.insulation, conductor.ambient, table)
            .finish()
    };
    let fuse = column(device.fuse, "fuse");
    let Some(breaker) = device.breaker.map(|amps| column(amps, "breaker")) else {
        return Some(DeviceLimit { preferred: fuse.amps, allowed: fuse.amps, basis: fuse.basis });
    };
    let basis = format!("preferred: {}; allowed: {}", fuse.basis, breaker.basis);
    Some(DeviceLimit { preferred: fuse.amps, allowed: breaker.amps.max(fuse.amps), basis })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::{
        conductor::awg_area,
        heat::{Cable, steady_temperature},
    };

    fn conductor(gauge: i32, class: f64, air: f64) -> Conductor {
        Conductor { area: awg_area(gauge), insulation: Celsius(class), ambient: Celsius(air), bundle: 1 }
    }

    #[test]
    fn table_conditions_give_the_table() {
        // FAA AC 43.13-1B table 11-9: 14 AWG 10, 14, 18 A (seen).
        for (class, amps) in [(105.0, 10.0), (150.0, 14.0), (200.0, 18.0), (260.0, 18.0), (125.0, 10.0)] {
            assert_eq!(ampacity(&conductor(14, class, 70.0)).unwrap().amps, Amps(amps), "{class}");
        }
    }

    #[test]
    fn warmer_air_and_cooler_insulation_take_their_share() {
        let hot = ampacity(&conductor(14, 105.0, 85.0)).unwrap().amps.0;
        assert!((hot - 10.0 * (20.0_f64 / 35.0).sqrt()).abs() < 1e-12);
        let pvc = ampacity(&conductor(14, 60.0, 40.0)).unwrap().amps.0;
        assert!((pvc - 10.0 * (20.0_f64 / 35.0).sqrt()).abs() < 1e-12);
    }

    #[test]
    fn the_tables_figures_heat_cool_insulation_no_more_than_it_stands() {
        for &(gauge, device) in DEVICES {
            let amps = device.breaker.unwrap_or(device.fuse);
            let wire = Cable::thin_walled(awg_area(gauge));
            let settled = steady_temperature(wire, amps, Celsius(25.0)).unwrap();
            assert!(settled <= Celsius(25.0) + RISE, "{gauge} {settled:?}");
        }
    }

    #[test]
    fn a_device_suits_by_table_11_3_and_below_it_by_the_continuous_current() {
        // FAA AC 43.13-1B table 11-3: 16 AWG breaker 15 A, fuse 10 A (seen).
        let limit = device_limit(&conductor(16, 105.0, 30.0), Volts(24.0)).unwrap();
        assert_eq!((limit.preferred, limit.allowed), (Amps(10.0), Amps(15.0)));
        let thin = device_limit(&conductor(24, 105.0, 30.0), Volts(24.0)).unwrap();
        assert_eq!((thin.preferred, thin.allowed), (Amps(2.5), Amps(2.5)));
        assert!(device_limit(&conductor(26, 105.0, 30.0), Volts(24.0)).is_none());
    }
}
