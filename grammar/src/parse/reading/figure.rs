//! The value of a number as written.

/// Reads a number of the lexer's form. What is too large for a double comes out infinite.
pub(super) fn figure(text: &str) -> f64 {
    quick(text.as_bytes()).unwrap_or_else(|| slow(text))
}

/// Digits with at most one point, at most 15 of them: whole number and power of ten are exact doubles then, so one
/// division rounds once and gives the nearest double (Clinger 1990).
fn quick(bytes: &[u8]) -> Option<f64> {
    const POWERS: [f64; 16] =
        [1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15];
    if bytes.len() > 16 {
        return None;
    }
    let (mut whole, mut digits, mut behind) = (0_u64, 0, None);
    for byte in bytes {
        match byte {
            b'0'..=b'9' => {
                whole = whole * 10 + u64::from(byte - b'0');
                digits += 1;
                behind = behind.map(|places: usize| places + 1);
            }
            b'.' if behind.is_none() => behind = Some(0),
            _ => return None,
        }
    }
    if digits > 15 {
        return None;
    }
    #[allow(clippy::cast_precision_loss)]
    POWERS.get(behind.unwrap_or(0)).map(|power| whole as f64 / power)
}

fn slow(text: &str) -> f64 {
    text.replace('_', "").parse().unwrap_or(f64::INFINITY)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn forms_that_the_lexer_makes() {
        for (text, value) in [
            ("12", 12.0),
            ("0.1", 0.1),
            ("1_000.5", 1000.5),
            ("1e3", 1000.0),
            ("2.5E-3", 0.0025),
            (".5", 0.5),
        ] {
            assert_eq!(figure(text), value);
        }
        assert_eq!(figure("1e999"), f64::INFINITY);
    }

    proptest! {
        #[test]
        fn the_quick_way_agrees_with_the_slow_one(whole in 0_u64..10_000_000_000, places in 0_u32..9, part in 0_u32..100_000_000) {
            let text = if places == 0 { format!("{whole}") } else { format!("{whole}.{part}") };
            prop_assert_eq!(figure(&text), text.parse::<f64>().unwrap());
        }
    }
}
