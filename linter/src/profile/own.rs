//! The profile `own`: a table that the author took from a maker or a code, out of the settings file.

use std::{borrow::Cow, sync::Arc};

use wattle_grammar::quantity::{Amps, Celsius, Metres, Share, SquareMm};

use super::{
    Ampacity, Basis, Conductor, DEFAULT, DeviceLimit, OWN, Profile, surroundings::air_factor,
    working::Working,
};
use crate::physics::standard_size::ROUNDING;

/// A maker's table, as read from the settings file: every row has a current for every class, and currents rise with the
/// size and with the class.
#[derive(Clone, Debug, PartialEq)]
pub struct ByMaker {
    /// What it is called.
    pub name: String,
    /// Where it is from.
    pub source: String,
    /// The air that it holds for.
    pub air: Celsius,
    /// The insulation classes of its columns, lowest first.
    pub classes: Vec<Celsius>,
    /// Its rows, thinnest first.
    pub rows: Vec<Row>,
    /// From so many loaded conductors side by side on, this share is left; rising numbers, falling shares. Empty where the
    /// table says nothing: then the regulation's factors hold.
    pub bundle: Vec<(u32, Share)>,
    /// Share of the ampacity that a device may be rated for.
    pub device: Share,
    /// How far a conductor may run before its device, where the author says so.
    pub bare: Option<Metres>,
    /// The same for a sheathed one.
    pub sheathed: Option<Metres>,
}

/// A row of the table.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Copper area.
    pub area: SquareMm,
    /// As the author writes the size.
    pub written: String,
    /// What it carries, by class.
    pub amps: Vec<Amps>,
}

/// The profile of a table; see [`Profile::own`].
pub(super) fn profile(table: Option<Arc<ByMaker>>) -> Profile {
    let (name, source) = match &table {
        Some(table) => (table.name.clone(), table.source.clone()),
        None => ("no table".to_owned(), "nothing could be read from the settings file".to_owned()),
    };
    let (bare, sheathed) = table.as_ref().map_or((None, None), |table| (table.bare, table.sheathed));
    let distances = match (bare, sheathed) {
        (None, None) => Cow::Borrowed(
            "33 CFR 183.455(b), for the settings file gives none: 7 in, or 40 in sheathed or enclosed",
        ),
        _ => Cow::Borrowed(
            "settings file; what it does not give by 33 CFR 183.455(b): 7 in, or 40 in sheathed or enclosed",
        ),
    };
    Profile {
        word: OWN,
        name: Cow::Owned(name),
        source: Cow::Owned(source),
        default_insulation: DEFAULT.default_insulation,
        bare_distance: bare.unwrap_or(DEFAULT.bare_distance),
        sheathed_distance: sheathed.unwrap_or(DEFAULT.sheathed_distance),
        distance_source: distances,
        basis: Basis::Own(table),
    }
}

impl ByMaker {
    /// The row of the thickest size that is not thicker, the column of the highest class that is not higher; `None` below
    /// the first of either.
    pub(super) fn ampacity(&self, conductor: &Conductor) -> Option<Ampacity> {
        let most = conductor.area.0 * (1.0 + ROUNDING);
        let row = self.rows.iter().rfind(|row| row.area.0 <= most)?;
        let at = self.classes.iter().rposition(|class| *class <= conductor.insulation)?;
        let (class, amps) = (*self.classes.get(at)?, *row.amps.get(at)?);
        let working =
            Working::new(amps, format!("{}, {}, {class} column", self.name, self.row_name(row, conductor)));
        let working = match self.bundle.as_slice() {
            [] => working.in_bundle(conductor.bundle),
            factors => {
                let from = factors.iter().rfind(|(from, _)| *from <= conductor.bundle);
                let (from, left) = from.copied().unwrap_or((1, Share(1.0)));
                working.times(left.0, || {
                    format!("for {from} or more loaded conductors side by side ({})", self.name)
                })
            }
        };
        let factor = air_factor(class, conductor.ambient, self.air);
        let (air, base) = (conductor.ambient, self.air);
        let working =
            working.times(factor, || format!("for air of {air}, √(({class} − {air}) / ({class} − {base}))"));
        Some(working.finish())
    }

    fn row_name(&self, row: &Row, conductor: &Conductor) -> String {
        if (conductor.area.0 / row.area.0 - 1.0).abs() <= ROUNDING {
            row.written.clone()
        } else {
            format!("{} (the next smaller size listed for {})", row.written, conductor.area)
        }
    }

    /// The device rule of the settings: a share below all is what the author prefers and allows; above all is allowed only.
    pub(super) fn device_limit(&self, conductor: &Conductor) -> Option<DeviceLimit> {
        let ampacity = self.ampacity(conductor)?;
        let share = ampacity.amps * self.device.0;
        let basis =
            format!("{}; the device may be rated for {} of it (settings file)", ampacity.basis, self.device);
        Some(DeviceLimit { preferred: share.min(ampacity.amps), allowed: share, basis })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn table(bundle: Vec<(u32, Share)>, device: f64) -> Profile {
        let row = |area, written: &str, amps: [f64; 2]| Row {
            area: SquareMm(area),
            written: written.to_owned(),
            amps: amps.map(Amps).to_vec(),
        };
        Profile::own(Some(Arc::new(ByMaker {
            name: "maker's table".to_owned(),
            source: "sheet 3".to_owned(),
            air: Celsius(30.0),
            classes: vec![Celsius(75.0), Celsius(105.0)],
            rows: vec![row(1.0, "1 mm²", [12.0, 16.0]), row(2.5, "2.5 mm²", [22.0, 28.0])],
            bundle,
            device: Share(device),
            bare: None,
            sheathed: None,
        })))
    }

    fn wire(area: f64, class: f64, air: f64, bundle: u32) -> Conductor {
        Conductor { area: SquareMm(area), insulation: Celsius(class), ambient: Celsius(air), bundle }
    }

    #[test]
    fn a_conductor_takes_the_row_and_column_below_it_and_none_before_the_first() {
        let profile = table(Vec::new(), 1.0);
        let amps = |area, class| profile.ampacity(&wire(area, class, 30.0, 1)).map(|found| found.amps.0);
        assert_eq!(amps(1.0, 75.0), Some(12.0));
        assert_eq!(amps(2.0, 90.0), Some(12.0));
        assert_eq!(amps(2.5, 200.0), Some(28.0));
        assert_eq!(amps(0.9, 75.0), None);
        assert_eq!(amps(1.0, 60.0), None);
    }

    #[test]
    fn warm_air_and_neighbours_take_their_share_and_the_basis_says_so() {
        let profile = table(vec![(3, Share(0.65)), (7, Share(0.4))], 0.8);
        let found = profile.ampacity(&wire(1.0, 75.0, 50.0, 5)).unwrap();
        assert!((found.amps.0 - 12.0 * 0.65 * (25.0_f64 / 45.0).sqrt()).abs() < 1e-12);
        for part in ["maker's table", "1 mm²", "75 °C column", "× 0.65 for 3 or more", "air of 50 °C"] {
            assert!(found.basis.contains(part), "no `{part}` in `{}`", found.basis);
        }
        let regulation = table(Vec::new(), 1.0).ampacity(&wire(1.0, 75.0, 30.0, 5)).unwrap();
        assert!((regulation.amps.0 - 7.2).abs() < 1e-12 && regulation.basis.contains("note 2"));
    }

    #[test]
    fn the_device_rule_is_the_share_of_the_author() {
        let limit =
            |share| table(Vec::new(), share).device_limit(&wire(1.0, 75.0, 30.0, 1), Volts(12.0)).unwrap();
        let near = |one: Amps, other: f64| (one.0 - other).abs() < 1e-12;
        assert!(near(limit(0.8).preferred, 9.6) && near(limit(0.8).allowed, 9.6));
        assert!(near(limit(1.25).preferred, 12.0) && near(limit(1.25).allowed, 15.0));
    }

    #[test]
    fn without_a_table_nothing_is_covered() {
        let none = Profile::own(None);
        assert_eq!(none.ampacity(&wire(1.0, 75.0, 30.0, 1)), None);
        assert_eq!(none.device_limit(&wire(1.0, 75.0, 30.0, 1), Volts(12.0)), None);
    }

    use wattle_grammar::quantity::Volts;
}
