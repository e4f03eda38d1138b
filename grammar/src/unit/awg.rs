//! American wire gauge: a gauge number stands for a diameter in a geometric series (ASTM B258).
//!
//! d = 0.127 mm · 92^((36 − n) / 39); the area is that of a circle. Sizes above 0 AWG are written `1/0` … `4/0` and
//! counted 0, −1, −2, −3.

/// The gauge number of 4/0 AWG, the thickest size.
pub const THICKEST_AWG: f64 = -3.0;
/// The thinnest size of the series.
pub const THINNEST_AWG: f64 = 40.0;

/// Diameter of 36 AWG, millimetre, exact by definition.
const DIAMETER_36: f64 = 0.127;
/// Ratio of the diameters of 4/0 and 36 AWG, 0.4600 in to 0.0050 in, over 39 steps.
const RATIO: f64 = 92.0;
const STEPS: f64 = 39.0;

/// Cross-section of a gauge number, square millimetre.
#[must_use]
pub fn area_of_awg(number: f64) -> f64 {
    let diameter = DIAMETER_36 * RATIO.powf((36.0 - number) / STEPS);
    std::f64::consts::FRAC_PI_4 * diameter * diameter
}

/// The gauge number of a cross-section in square millimetre, not rounded; NaN for an area that is not positive.
#[must_use]
pub fn awg_of_area(area: f64) -> f64 {
    let diameter = (area / std::f64::consts::FRAC_PI_4).sqrt();
    36.0 - STEPS * (diameter / DIAMETER_36).ln() / RATIO.ln()
}

/// The gauge of a cross-section as written, `10` or `2/0`, rounded to the nearest size; `None` outside the series.
#[must_use]
pub fn nearest_awg(area: f64) -> Option<String> {
    let number = awg_of_area(area).round();
    if !(THICKEST_AWG..=THINNEST_AWG).contains(&number) {
        return None;
    }
    Some(if number < 0.5 { format!("{}/0", 1.0 - number) } else { format!("{number}") })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Areas by ASTM B258 as the wire tables of the trade print them, to three or four digits.
    #[test]
    fn areas_are_those_of_the_published_table() {
        for (number, area) in [
            (-3.0, 107.2),
            (0.0, 53.49),
            (10.0, 5.261),
            (18.0, 0.823),
            (20.0, 0.518),
            (24.0, 0.205),
            (36.0, 0.01267),
        ] {
            let computed = area_of_awg(number);
            assert!((computed / area - 1.0).abs() < 2e-3, "{number} AWG: {computed} against {area}");
        }
    }

    #[test]
    fn a_gauge_is_printed_as_it_is_written() {
        for (number, text) in [(-3.0, "4/0"), (0.0, "1/0"), (1.0, "1"), (22.0, "22")] {
            assert_eq!(nearest_awg(area_of_awg(number)).as_deref(), Some(text));
        }
        assert_eq!(nearest_awg(0.0), None);
        assert_eq!(nearest_awg(1000.0), None);
    }
}
