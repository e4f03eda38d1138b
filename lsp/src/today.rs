//! Today's date, for accepted risks that end. The only file that asks the clock.

use std::time::{SystemTime, UNIX_EPOCH};

use wattle_grammar::syntax::Date;

const SECONDS_A_DAY: u64 = 86_400;

/// Today in universal time; `None` when the clock stands before 1970 or beyond the year 9999.
#[must_use]
pub fn today() -> Option<Date> {
    let passed = SystemTime::now().duration_since(UNIX_EPOCH).ok()?;
    date_of(passed.as_secs() / SECONDS_A_DAY)
}

/// The date a number of days after 1970-01-01 in the Gregorian calendar. Years are counted from March, so that the
/// leap day is a year's last; 400 years are 146,097 days.
fn date_of(days: u64) -> Option<Date> {
    let shifted = days.checked_add(719_468)?;
    let (era, day_of_era) = (shifted / 146_097, shifted % 146_097);
    let year_of_era = (day_of_era - day_of_era / 1_460 + day_of_era / 36_524 - day_of_era / 146_096) / 365;
    let day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let month_from_march = (5 * day_of_year + 2) / 153;
    let day = day_of_year - (153 * month_from_march + 2) / 5 + 1;
    let month = if month_from_march < 10 { month_from_march + 3 } else { month_from_march - 9 };
    let year = era * 400 + year_of_era + u64::from(month <= 2);
    let year = u16::try_from(year).ok().filter(|year| *year <= 9_999)?;
    Some(Date { year, month: u8::try_from(month).ok()?, day: u8::try_from(day).ok()? })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_become_dates() {
        let date = |days| date_of(days).map(|date| (date.year, date.month, date.day));
        assert_eq!(date(0), Some((1970, 1, 1)));
        assert_eq!(date(58), Some((1970, 2, 28)));
        assert_eq!(date(59), Some((1970, 3, 1)));
        assert_eq!(date(11_016), Some((2000, 2, 29)));
        assert_eq!(date(19_723), Some((2024, 1, 1)));
        assert_eq!(date(19_782), Some((2024, 2, 29)));
        assert_eq!(date(u64::MAX), None);
    }
}
