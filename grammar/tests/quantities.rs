//! Quantities as written: what each spelling comes to and how it is printed, over the public interface.

use wattle_grammar::{
    evaluate::{Evaluated, Surroundings, Trouble, evaluate},
    parse,
    quantity::{Amps, Celsius, Dimension, Metres, Ohms, Quantity, Share, Unit, Volts},
    span::{FileId, Span},
    syntax::Item,
    unit,
};

/// Surroundings without constants; what is told is counted by its message.
#[derive(Default)]
struct Nothing(Vec<Trouble>);

impl Surroundings for Nothing {
    fn constant(&mut self, _: &str, _: Span) -> Option<Evaluated> {
        None
    }

    fn tell(&mut self, trouble: Trouble) {
        self.0.push(trouble);
    }
}

/// What a value comes to, behind `let X =`.
fn value(text: &str) -> Option<Evaluated> {
    let parsed = parse(FileId(0), &format!("wattle 1\nlet X = {text}\n"));
    assert_eq!(parsed.errors, [], "{text}");
    let constant = parsed.file.items.iter().find_map(|item| match item {
        Item::Let(constant) => Some(constant),
        _ => None,
    });
    evaluate(&constant?.value, &mut Nothing::default())
}

fn quantity(text: &str) -> Quantity {
    let found = value(text);
    assert!(matches!(found, Some(Evaluated::Quantity(_))), "{text}: {found:?}");
    match found {
        Some(Evaluated::Quantity(found)) => found,
        _ => Quantity::number(f64::NAN),
    }
}

/// As people read it, ends and all.
fn printed(text: &str) -> String {
    match value(text) {
        Some(Evaluated::Quantity(found)) => found.to_string(),
        Some(Evaluated::Range(low, high)) => format!("{low} .. {high}"),
        Some(Evaluated::Tolerance(nominal, spread)) => format!("{nominal} ± {spread}"),
        Some(other) => format!("{other:?}"),
        None => "nothing".to_owned(),
    }
}

/// The one error of a value: its name and what is marked.
fn refused(text: &str) -> (&'static str, String, Option<String>) {
    let whole = format!("wattle 1\nlet X = {text}\n");
    let errors = parse(FileId(0), &whole).errors;
    assert_eq!(errors.len(), 1, "{text}: {errors:?}");
    let error = &errors[0];
    let help = error.help.clone();
    (error.name, error.span.slice(&whole).to_owned(), help)
}

#[test]
fn ranges_and_tolerances() {
    for (text, shown) in [
        ("10.8 .. 12.6 V", "10.8 V .. 12.6 V"),
        ("10.8 V .. 12.6", "10.8 V .. 12.6 V"),
        ("10.8 V..12.6 V", "10.8 V .. 12.6 V"),
        ("800 mV .. 1.2 V", "800 mV .. 1.2 V"),
        ("-20 °C .. 60 °C", "-20 °C .. 60 °C"),
        ("20 AWG .. 16 AWG", "20 AWG .. 16 AWG"),
        ("16 AWG .. 20 AWG", "20 AWG .. 16 AWG"),
        ("0.5 .. 2.5 mm²", "0.5 mm² .. 2.5 mm²"),
        ("12 V ± 5 %", "12 V ± 5 %"),
        ("12 V +/- 5%", "12 V ± 5 %"),
        ("12 V +- 0.6 V", "12 V ± 0.6 V"),
        ("12 ± 0.6 V", "12 V ± 0.6 V"),
        ("25 °C ± 5 K", "20 °C .. 30 °C"),
        ("30 V .. 6 V", "nothing"),
        ("6 V .. 30 A", "nothing"),
        ("25 °C ± 5 °C", "nothing"),
    ] {
        assert_eq!(printed(text), shown, "{text}");
    }
}

#[test]
fn points_and_differences_of_temperature() {
    for (text, number, dimension) in [
        ("85 °C - 25 °C", 60.0, Dimension::TemperatureDifference),
        ("85 degC - 25 °C", 60.0, Dimension::TemperatureDifference),
        ("25 °C + 60 K", 85.0, Dimension::Temperature),
        ("60 K + 25 °C", 85.0, Dimension::Temperature),
        ("25 °C - 60 K", -35.0, Dimension::Temperature),
        ("60 K - 20 K", 40.0, Dimension::TemperatureDifference),
        ("(85 °C - 25 °C) / 2", 30.0, Dimension::TemperatureDifference),
        ("(85 °C - 25 °C) / 20 K", 3.0, Dimension::Number),
    ] {
        let found = quantity(text);
        assert_eq!((found.value, found.dimension), (number, dimension), "{text}");
    }
    for meaningless in ["25 °C + 25 °C", "60 K - 25 °C", "2 * 25 °C", "25 °C / 2", "25 °C / 5 °C"] {
        assert_eq!(value(meaningless), None, "{meaningless}");
    }
}

/// Areas by ASTM B258, as the wire tables of the trade print them.
#[test]
fn gauges() {
    for (text, area, shown) in [
        ("20 AWG", 0.518, "20 AWG"),
        ("20AWG", 0.518, "20 AWG"),
        ("AWG 20", 0.518, "20 AWG"),
        ("AWG20", 0.518, "20 AWG"),
        ("0 AWG", 53.49, "1/0 AWG"),
        ("1/0 AWG", 53.49, "1/0 AWG"),
        ("2/0 AWG", 67.43, "2/0 AWG"),
        ("2/0AWG", 67.43, "2/0 AWG"),
        ("AWG 2/0", 67.43, "2/0 AWG"),
        ("AWG2/0", 67.43, "2/0 AWG"),
        ("00 AWG", 67.43, "2/0 AWG"),
        ("3/0 AWG", 85.01, "3/0 AWG"),
        ("4/0 AWG", 107.2, "4/0 AWG"),
        ("0000 AWG", 107.2, "4/0 AWG"),
        ("36 AWG", 0.01267, "36 AWG"),
    ] {
        let found = quantity(text);
        assert_eq!((found.dimension, found.to_string().as_str()), (Dimension::Area, shown), "{text}");
        assert!((found.value / area - 1.0).abs() < 2e-3, "{text}: {} mm² against {area}", found.value);
    }
    for (text, marked) in [
        ("5/0 AWG", "5/0 AWG"),
        ("41 AWG", "41 AWG"),
        ("12.5 AWG", "12.5 AWG"),
        ("2.5 AWG", "2.5 AWG"),
        ("AWG 41", "AWG 41"),
    ] {
        let (name, found, _) = refused(text);
        assert_eq!((name, found.as_str()), ("language.bad-gauge", marked), "{text}");
    }
}

#[test]
fn inches_and_feet() {
    for (text, metres, shown) in [
        ("12 in", 0.3048, "12 in"),
        ("12in", 0.3048, "12 in"),
        ("3/8 in", 0.009_525, "0.375 in"),
        ("6 ft", 1.8288, "6 ft"),
        ("6 ft + 3 in", 1.905, "6.25 ft"),
        ("3 in + 6 ft", 1.905, "75 in"),
        ("2 * 6.5 in", 0.3302, "13 in"),
    ] {
        let found = quantity(text);
        assert_eq!((found.dimension, found.to_string().as_str()), (Dimension::Length, shown), "{text}");
        assert!((found.value - metres).abs() < 1e-12, "{text}: {} m against {metres}", found.value);
    }
    for (text, unit) in [("12\"", "12 in"), ("6'", "6 ft"), ("6′", "6 ft"), ("12″", "12 in")] {
        let (name, _, help) = refused(text);
        assert_eq!(name, "language.unknown-unit", "{text}");
        assert!(help.is_some_and(|help| help.contains(unit)), "{text}");
    }
}

/// U+00B5 micro sign, U+03BC Greek mu and `u`; U+03A9 Greek omega, U+2126 ohm sign and the word.
#[test]
fn every_spelling_of_micro_and_ohm() {
    for micro in ["\u{b5}", "\u{3bc}", "u"] {
        for (base, dimension, factor) in [
            ("V", Dimension::Voltage, 1e-6),
            ("A", Dimension::Current, 1e-6),
            ("W", Dimension::Power, 1e-6),
            ("m", Dimension::Length, 1e-6),
            ("s", Dimension::Time, 1e-6),
            ("F", Dimension::Capacitance, 1e-6),
            ("H", Dimension::Inductance, 1e-6),
            ("\u{3a9}", Dimension::Resistance, 1e-6),
            ("\u{2126}", Dimension::Resistance, 1e-6),
            ("ohm", Dimension::Resistance, 1e-6),
            ("Ohm", Dimension::Resistance, 1e-6),
        ] {
            let found = quantity(&format!("47 {micro}{base}"));
            assert_eq!(found.dimension, dimension, "{micro}{base}");
            assert!((found.value / (47.0 * factor) - 1.0).abs() < 1e-12, "{micro}{base}");
            assert!(found.unit.starts_with('\u{b5}'), "{micro}{base} is written {}", found.unit);
        }
    }
    for ohm in ["\u{3a9}", "\u{2126}", "ohm", "Ohm"] {
        for (prefix, factor) in [("m", 1e-3), ("", 1.0), ("k", 1e3), ("M", 1e6)] {
            let found = quantity(&format!("4.7 {prefix}{ohm}"));
            assert!((found.value / (4.7 * factor) - 1.0).abs() < 1e-12, "{prefix}{ohm}");
            assert_eq!(found.to_string(), format!("4.7 {prefix}\u{3a9}"));
        }
        assert_eq!(quantity(&format!("5.2 m{ohm}/m")).to_string(), "5.2 m\u{3a9}/m");
    }
}

/// At most four digits of what was computed, what was written as it was, and never `-0`.
#[test]
fn printing() {
    for (text, shown) in [
        ("0.50 mm²", "0.5 mm²"),
        ("12.345 V", "12.345 V"),
        ("1_000_000 Ω", "1000000 Ω"),
        ("1 m / 3", "0.3333 m"),
        ("2 V / 3 A", "667 mΩ"),
        ("10 V / 3", "3.333 V"),
        ("0.1 A + 0.2 A", "0.3 A"),
        ("5 V - 5 V", "0 V"),
        ("-0 °C", "0 °C"),
        ("-(0 V)", "0 V"),
        ("-5 °C", "-5 °C"),
        ("2 / 3", "0.6667"),
    ] {
        assert_eq!(printed(text), shown, "{text}");
    }
    for (shown, text) in [
        (Amps(-0.0).to_string(), "0 A"),
        (Volts(-1e-30).to_string(), "0 V"),
        (Celsius(-0.0).to_string(), "0 °C"),
        (Share(-0.0).to_string(), "0 %"),
        (Ohms(0.018_765).to_string(), "18.8 mΩ"),
        (Metres(1234.5).to_string(), "1230 m"),
    ] {
        assert_eq!(shown, text);
    }
    for unit in unit::ALL {
        let zero = Quantity { value: -0.0, dimension: unit.dimension, unit: "" }.to_string();
        assert!(!zero.starts_with('-'), "{zero}");
    }
    assert_eq!(Volts::SYMBOL, "V");
}
