//! Mistakes, each with the error that it costs: name and marked text. The words stand beside the wrong inputs of the
//! workspace's tests.

use super::{errors, items, read};
use crate::{
    error::TextError,
    syntax::{Item, Shape},
};

/// The one error of a text after the edition.
fn only(text: &str) -> TextError {
    let mut parsed = read(&format!("wattle 1\n{text}"));
    assert_eq!(parsed.errors.len(), 1, "{text}: {:?}", parsed.errors);
    parsed.errors.remove(0)
}

/// Each text costs exactly the error beside it.
fn cost(mistakes: &[(&str, &str)]) {
    for (text, error) in mistakes {
        assert_eq!(errors(text), [*error], "{text}");
    }
}

#[test]
fn numbers_and_units_that_the_language_does_not_have() {
    cost(&[
        ("fuse F 40", "missing-unit: 40"),
        ("fuse F 40 Amps", "unknown-unit: Amps"),
        ("fuse F 5 MA", "unknown-unit: MA"),
        ("battery B 5000 mah", "unknown-unit: mah"),
        ("resistor R 4.7KΩ", "unknown-unit: KΩ"),
        ("resistor R 4k7", "resistor-code: 4k7"),
        ("resistor R 0R22", "resistor-code: 0R22"),
        ("fuse F 3,5 A", "decimal-comma: 3,5"),
        ("fuse F .5 A", "leading-point: .5"),
        ("driver D 10-12 V", "dashed-range: 10-12"),
        ("driver D 10–12 V", "dashed-range: 10–12"),
        ("plug P 4-way", "hyphened-unit: 4-way"),
        ("wire W A.1 to B.2 12 gauge", "unknown-unit: gauge"),
        ("wire W A.1 to B.2 12 SWG red", "unknown-unit: SWG"),
        ("wire W A.1 to B.2 12 AWG 12\"", "unknown-unit: \""),
        ("wire W A.1 to B.2 6'", "unknown-unit: '"),
        ("wire W A.1 to B.2 2.5 AWG", "bad-gauge: 2.5 AWG"),
        ("wire W A.1 to B.2 41 AWG", "bad-gauge: 41 AWG"),
        ("motor M 920 KV", "unknown-unit: KV"),
        ("motor M 1e999 V", "number-range: 1e999 V"),
        ("motor M 1e308 kV", "number-range: 1e308 kV"),
        ("motor M 5Q", "unknown-unit: Q"),
    ]);
}

#[test]
fn characters_that_belong_to_nothing() {
    cost(&[
        ("switch S “Key” 2 A", "curly-quotes: “Key”"),
        ("switch S \"Key", "unclosed-text: \"Key"),
        ("switch S \"a\\n\"", "bad-escape: \\n"),
        ("switch S \"a\u{7}\"", "control-character: \u{7}"),
        ("switch S \u{7}2 A", "control-character: \u{7}"),
        ("switch S \u{200b}2 A", "control-character: \u{200b}"),
        ("motor Gehäuse 24 V", "bad-name: Gehäuse"),
        ("motor M 24 V @", "unknown-character: @"),
        ("wire W A.1 -> B.2 10 AWG", "unknown-character: ->"),
        ("wire W A.1 → B.2 10 AWG", "unknown-character: →"),
        ("expect voltage X.pos > 20 V", "unknown-character: >"),
        ("reading 1 A through W on 2027-02-30", "bad-date: 2027-02-30"),
    ]);
}

#[test]
fn statements_that_do_not_fit() {
    cost(&[
        ("motr M 24 V", "unknown-statement: motr"),
        ("= 5", "unknown-statement: ="),
        ("12 V", "unknown-statement: 12"),
        ("motor", "unexpected: motor"),
        ("motor 24 V", "unexpected: 24 V"),
        ("wire W A.1 B.2 10 AWG", "unexpected: A.1 B.2"),
        ("wire W A.1 to", "unexpected: to"),
        ("wire W A .1 to B.2", "unexpected: ."),
        ("tie A", "unexpected: A"),
        ("mate A B", "unexpected: B"),
        ("part X battery", "unexpected: battery"),
        ("part X is", "unexpected: is"),
        ("let A 5 V", "unexpected: 5 V"),
        ("let A = 1 V +", "unexpected: +"),
        ("let A = (1 V + 2 V", "unexpected: 2 V"),
        ("let A = 1 V)", "unexpected: )"),
        ("use legs", "unexpected: legs"),
        ("robot heron", "unexpected: heron"),
        ("harness H", "unexpected: H"),
        ("fit LEG left", "unexpected: left"),
        ("expect voltge X.pos >= 2 V", "unexpected: voltge"),
        ("expect voltage X.pos 2 V", "unexpected: 2 V"),
        ("reading 160 mA W1", "unexpected: W1"),
        ("accept a.b on W because tired", "unexpected: tired"),
        ("accept a.b on W", "unexpected: W"),
        ("motor M at body at head", "twice: head"),
        ("motor M { stall = 5 A }", "unexpected: ="),
        ("motor M { stall: 5 A }", "unexpected: :"),
        ("motor M { stall 5 A } at body", "unexpected: at"),
        ("harness H { H1 J3.1 J4.1 red }", "unexpected: J3.1 J4.1"),
        ("assembly A { mtor M 24 V }", "unknown-statement: mtor"),
        ("wattle 1", "misplaced-edition: wattle 1"),
    ]);
}

#[test]
fn what_was_meant_is_kept_where_it_can_be_told() {
    for (wrong, right) in [
        ("fuse F 40 Amps", "fuse F 40 A"),
        ("fuse F 5 MA", "fuse F 5 mA"),
        ("fuse F 3,5 A", "fuse F 3.5 A"),
        ("resistor R 4k7", "resistor R 4.7 kΩ"),
        ("resistor R 0R22", "resistor R 0.22 Ω"),
        ("fuse F .5 A", "fuse F 0.5 A"),
        ("plug P 4-way", "plug P 4 way"),
        ("driver D 10-12 V", "driver D 10 .. 12 V"),
        ("wire W A.1 -> B.2 10 AWG", "wire W A.1 to B.2 10 AWG"),
        ("switch S “Key” 2 A", "switch S \"Key\" 2 A"),
        ("wire W A.1 to B.2 12\"", "wire W A.1 to B.2 12 in"),
        ("expect voltage X.pos > 20 V", "expect voltage X.pos >= 20 V"),
        ("motor M 24 V @", "motor M 24 V"),
        ("motor M 24 V 5", "motor M 24 V"),
        ("motor M 24 V { stall 5 A; current 3Q }", "motor M 24 V { stall 5 A }"),
    ] {
        let parsed = read(&format!("wattle 1\n{wrong}"));
        let kept = parsed.file.items.iter().skip(1).map(super::meaning).collect::<Vec<_>>();
        let meant = items(right).iter().map(super::meaning).collect::<Vec<_>>();
        assert_eq!(kept, meant, "{wrong}");
    }
}

#[test]
fn a_setting_with_a_spoiled_value_is_left_out_alone() {
    let parsed = read("wattle 1\nmotor M { stall 5Q5; current 3 A }");
    let Some(Item::Thing(thing)) = parsed.file.items.get(1) else { panic!("no thing") };
    assert_eq!(thing.settings.len(), 1);
    assert!(matches!(thing.settings[0].values[0].shape, Shape::Quantity(_)));
}

#[test]
fn messages_keep_the_house_rules() {
    let texts =
        ["fuse F 40", "motr M", "tie A", "switch S “Key”", "motor M {", "}", "driver D 10-12 V", "use \"a"];
    for error in texts.into_iter().map(only) {
        assert!(!error.message.ends_with('.') && !error.message.is_empty(), "{}", error.message);
        assert!(!error.message.chars().next().unwrap().is_uppercase(), "{}", error.message);
        assert!(error.message.chars().count() <= 100, "{}", error.message);
        assert!(error.name.starts_with("language."), "{}", error.name);
        assert!(!error.label.is_empty(), "{}", error.message);
    }
}

#[test]
fn mends_mend() {
    for text in [
        "fuse F 40 Amps",
        "fuse F 5 MA",
        "fuse F 3,5 A",
        "resistor R 4k7",
        "fuse F .5 A",
        "plug P 4-way",
        "driver D 10-12 V",
        "wire W A.1 -> B.2 10 AWG",
        "switch S “Key” 2 A",
        "switch S \"Key",
        "expect voltage X.pos > 20 V",
        "expect voltge X.pos >= 20 V",
        "motr M 24 V",
        "stud S 40",
        "harness H { H1 J3.1 J4.1 red }",
        "motor M {\n  stall 5 A\nfuse F 3 A",
        "motor M { stall 5 A\nfuse F 3 A",
        "motor M\n  stall 5 A\n}\nfuse F 3 A",
        "switch S \"a\u{7}\"",
    ] {
        let text = format!("wattle 1\n{text}");
        let Some((span, new)) = read(&text).errors.remove(0).mend else { panic!("no mend: {text}") };
        let mended = format!("{}{new}{}", &text[..span.start as usize], &text[span.end as usize..]);
        assert_eq!(read(&mended).errors, [], "{mended}");
    }
}

#[test]
fn the_edition_is_required_known_and_first() {
    let missing = read("\u{feff}fuse F 3 A\n").errors.remove(0);
    assert_eq!(
        (missing.name, missing.mend.map(|(span, text)| (span.start, text))),
        ("language.missing-edition", Some((3, "wattle 1\n".to_owned())))
    );
    let unknown = read("wattle 7\nfuse F 3 A\nmotr M\n");
    assert_eq!(
        unknown.errors.iter().map(|error| error.name).collect::<Vec<_>>(),
        ["language.unknown-edition", "language.unknown-statement"]
    );
    assert_eq!(unknown.file.items.len(), 3);
    assert_eq!(read("watle 1\nfuse F 3 A").errors.len(), 1);
    for nothing in ["", "\n\n", "# only a remark\n", "\u{feff}"] {
        assert_eq!(read(nothing).errors, []);
    }
}
