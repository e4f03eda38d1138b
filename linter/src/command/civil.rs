//! Days since 1 January 1970 as a date of the Gregorian calendar.

use wattle_grammar::syntax::Date;

/// A day of civil time, without leap seconds.
pub(crate) const SECONDS_A_DAY: u64 = 86_400;

/// The date `days` after 1970-01-01; nothing past the year 65535.
///
/// The Gregorian calendar repeats every 400 years of 146 097 days (ISO 8601, calendar rules). Years are counted from
/// 1 March, so that the leap day is the last day of its year; from March on, the lengths of the months follow
/// `(153 month + 2) / 5`.
pub(crate) fn date(days: u64) -> Option<Date> {
    // 719 468 days lie between 0000-03-01 and 1970-01-01.
    let days = days.checked_add(719_468)?;
    let (cycle, day) = (days / 146_097, days % 146_097);
    let year = (day - day / 1_460 + day / 36_524 - day / 146_096) / 365;
    let day = day - (365 * year + year / 4 - year / 100);
    let month = (5 * day + 2) / 153;
    let day_of_month = day - (153 * month + 2) / 5 + 1;
    let (month, carry) = if month < 10 { (month + 3, 0) } else { (month - 9, 1) };
    let year = cycle.checked_mul(400)? + year + carry;
    Some(Date {
        year: year.try_into().ok()?,
        month: month.try_into().ok()?,
        day: day_of_month.try_into().ok()?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn written(days: u64) -> String {
        date(days).map_or_else(String::new, |date| format!("{}-{}-{}", date.year, date.month, date.day))
    }

    #[test]
    fn known_days() {
        // Counted by hand from the lengths of the years; 11 016 = 30 × 365 + 7 leap days + 59.
        assert_eq!(written(0), "1970-1-1");
        assert_eq!(written(58), "1970-2-28");
        assert_eq!(written(59), "1970-3-1");
        assert_eq!(written(11_016), "2000-2-29");
        assert_eq!(written(11_017), "2000-3-1");
        assert_eq!(written(47_540), "2100-2-28");
        assert_eq!(written(47_541), "2100-3-1");
    }

    #[test]
    fn every_day_of_800_years_follows_the_one_before() {
        let leap =
            |year: u16| year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
        let mut expected = Date { year: 1970, month: 1, day: 1 };
        for days in 0..2 * 146_097 {
            assert_eq!(date(days), Some(expected));
            let length = match expected.month {
                2 => 28 + u8::from(leap(expected.year)),
                4 | 6 | 9 | 11 => 30,
                _ => 31,
            };
            expected = match expected {
                Date { year, month, day } if day < length => Date { year, month, day: day + 1 },
                Date { year, month, .. } if month < 12 => Date { year, month: month + 1, day: 1 },
                Date { year, .. } => Date { year: year + 1, month: 1, day: 1 },
            };
        }
    }

    #[test]
    fn a_clock_out_of_all_bounds_has_no_date() {
        assert_eq!(date(u64::MAX), None);
        assert_eq!(date(u64::MAX / SECONDS_A_DAY), None);
    }
}
