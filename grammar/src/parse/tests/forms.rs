//! Every form of statement and value, read as it is meant.

use super::{item, items, read};
use crate::{
    kind,
    quantity::Dimension,
    syntax::{Comparison, Date, Item, Operator, Path, Setting, Shape, Value},
};

fn path(path: &Path) -> String {
    path.segments.iter().map(|name| &*name.text).collect::<Vec<_>>().join(".")
}

/// A value in short: quantities printed, words bare, texts in quotes.
fn short(value: &Value) -> String {
    match &value.shape {
        Shape::Quantity(quantity) => quantity.to_string(),
        Shape::Range(low, high) => format!("[{} .. {}]", short(low), short(high)),
        Shape::Tolerance(nominal, spread) => format!("[{} ± {}]", short(nominal), short(spread)),
        Shape::Sum(operator, left, right) => {
            let sign = match operator {
                Operator::Add => '+',
                Operator::Subtract => '-',
                Operator::Multiply => '*',
                Operator::Divide => '/',
            };
            format!("({} {sign} {})", short(left), short(right))
        }
        Shape::Negative(inner) => format!("-{}", short(inner)),
        Shape::Word(word) => word.to_string(),
        Shape::Path(dotted) => path(dotted),
        Shape::Text(text) => format!("{text:?}"),
        Shape::Date(Date { year, month, day }) => format!("{year}/{month}/{day}"),
    }
}

fn shorts(values: &[Value]) -> String {
    values.iter().map(short).collect::<Vec<_>>().join("; ")
}

fn settings(settings: &[Setting]) -> String {
    let one = |setting: &Setting| {
        let sign = if setting.negated { "!" } else { "" };
        format!("{sign}{}({})", setting.key.text, shorts(&setting.values))
    };
    settings.iter().map(one).collect::<Vec<_>>().join(" ")
}

/// The values of `motor M VALUES`.
fn line(values: &str) -> String {
    let Item::Thing(thing) = item(&format!("motor M {values}")) else { panic!("no thing: {values}") };
    shorts(&thing.values)
}

#[test]
fn the_taste_of_the_language() {
    let parsed = read(include_str!("taste.wattle"));
    assert_eq!(parsed.errors, []);
    assert_eq!(parsed.file.items.len(), 23);
    assert!(!parsed.file.items.iter().any(|item| matches!(item, Item::Broken(_))));
}

#[test]
fn every_example_of_the_tables_is_read() {
    for example in kind::ALL.iter().map(|kind| kind.example) {
        assert!(items(example).iter().all(|item| matches!(item, Item::Thing(_))), "{example}");
    }
    for statement in kind::statement::ALL.iter().filter(|statement| statement.word != "wattle") {
        item(statement.example);
    }
    for word in kind::statement::MODE_WORDS {
        item(&format!("mode m {{ {} }}", word.example));
    }
}

#[test]
fn every_example_of_the_reference_is_read() {
    let reference = include_str!("../../../REFERENCE.md");
    let mut blocks = 0;
    for block in reference.split("```wattle\n").skip(1) {
        let text = block.split("```").next().unwrap_or("");
        let text = if text.trim_start().starts_with("wattle") {
            text.to_owned()
        } else {
            format!("wattle 1\n{text}")
        };
        assert_eq!(read(&text).errors, [], "{text}");
        blocks += 1;
    }
    assert!(blocks > 40, "only {blocks} examples found");
}

#[test]
fn things_take_their_pieces_in_any_order() {
    let Item::Thing(thing) =
        item("fuse F-A, F-B at body.left 60 A \"Main\" : big on BUS bolt-down { voltage 58 V; not spare }")
    else {
        panic!("no thing")
    };
    assert_eq!(&*thing.kind.text, "fuse");
    assert_eq!(thing.names.iter().map(|name| &*name.text).collect::<Vec<_>>(), ["F-A", "F-B"]);
    assert_eq!(shorts(&thing.values), "60 A; bolt-down");
    assert_eq!(&*thing.part.unwrap().text, "big");
    assert_eq!(&*thing.label.unwrap().text, "Main");
    assert_eq!(
        (path(&thing.on.unwrap()), path(&thing.at.unwrap())),
        ("BUS".to_owned(), "body.left".to_owned())
    );
    assert_eq!(settings(&thing.settings), "voltage(58 V) !spare()");
}

#[test]
fn numbers_meet_their_units() {
    for (text, read) in [
        ("24V 6.5 A 70 % 6S 25C", "24 V; 6.5 A; 70 %; 6 S; 25 C"),
        ("5000 mAh 6S2P", "5000 mAh; 6 S; 2 P"),
        ("0.75 mm2 1mm^2 2.5 mm²", "0.75 mm²; 1 mm²; 2.5 mm²"),
        ("10 AWG AWG 12 AWG14 2/0 AWG AWG 4/0 00 AWG", "10 AWG; 12 AWG; 14 AWG; 2/0 AWG; 4/0 AWG; 2/0 AWG"),
        ("350 mm 12 in 3 ft 3/8 in", "350 mm; 12 in; 3 ft; 0.375 in"),
        ("18 mohm 47 uF 120 rpm/V 3 mohm/m 500 A²s", "18 mΩ; 47 µF; 120 rpm/V; 3 mΩ/m; 500 A²s"),
        ("-5 degC +12 V 1_000 mA 1e3 ohm", "-5 °C; 12 V; 1000 mA; 1000 Ω"),
        ("4 way 2 pole 2 h 90 min", "4 way; 2 pole; 2 h; 90 min"),
    ] {
        assert_eq!(line(text), read, "{text}");
    }
}

#[test]
fn values_have_ranges_tolerances_and_sums() {
    for (text, read) in [
        ("6 V .. 30 V", "[6 V .. 30 V]"),
        ("6..30V", "[6 .. 30 V]"),
        ("12 V ± 5 %", "[12 V ± 5 %]"),
        ("12V±5%", "[12 V ± 5 %]"),
        ("1 V + 2 V * 3", "(1 V + (2 V * 3))"),
        ("(1 V + 2 V) × 3", "((1 V + 2 V) * 3)"),
        ("24 V / 2 A", "(24 V / 2 A)"),
        ("5 A - 2 A", "(5 A - 2 A)"),
        ("5 A -2 A", "5 A; -2 A"),
        ("RUN - 2 m", "(RUN - 2 m)"),
        ("-RUN -(2 V)", "-RUN; -2 V"),
        ("5 V..RUN + 2 V", "[5 V .. (RUN + 2 V)]"),
        ("red/white black PACK.pos", "red/white; black; PACK.pos"),
        ("red, blue, 5 V", "red; blue; 5 V"),
    ] {
        assert_eq!(line(text), read, "{text}");
    }
}

#[test]
fn wires_have_two_ends_and_a_place() {
    let Item::Wire(wire) = item("wire W1 left.K1.87a to STUD 10 AWG red 120 mm at neck { sheathed }") else {
        panic!("no wire")
    };
    assert_eq!((path(&wire.from), path(&wire.to)), ("left.K1.87a".to_owned(), "STUD".to_owned()));
    assert_eq!(shorts(&wire.values), "10 AWG; red; 120 mm");
    assert_eq!(
        (path(&wire.at.unwrap()), settings(&wire.settings)),
        ("neck".to_owned(), "sheathed()".to_owned())
    );
}

#[test]
fn harnesses_and_cables_hold_cores_and_settings() {
    let text = "cable C1 \"Neck\" 2 m 0.75 mm² at neck {\n  bundle 6\n  1 J5.1 to J6.1 brown\n  pe J5.2 to J6.2 { spare }\n}";
    let Item::Harness(cable) = item(text) else { panic!("no cable") };
    assert_eq!((&*cable.word.text, &*cable.name.text), ("cable", "C1"));
    assert_eq!(shorts(&cable.values), "2 m; 0.75 mm²");
    assert_eq!(settings(&cable.settings), "bundle(6)");
    let cores: Vec<(&str, String)> =
        cable.wires.iter().map(|wire| (&*wire.name.text, shorts(&wire.values))).collect();
    assert_eq!(cores, [("1", "brown".to_owned()), ("pe", String::new())]);
    assert_eq!(settings(&cable.wires[1].settings), "spare()");
}

#[test]
fn ties_and_mates_join() {
    let Item::Tie(tie) = item("tie FRAME to BUS-NEG, SHUNT.2") else { panic!("no tie") };
    assert_eq!(tie.ends.iter().map(path).collect::<Vec<_>>(), ["FRAME", "BUS-NEG", "SHUNT.2"]);
    let Item::Mate(mate) = item("mate P3 with left.J3 mirrored") else { panic!("no mate") };
    assert_eq!(
        (path(&mate.first), path(&mate.second), shorts(&mate.values)),
        ("P3".into(), "left.J3".into(), "mirrored".into())
    );
}

#[test]
fn modes_have_lines() {
    let Item::Mode(mode) =
        item("mode m \"Walking\" {\n  everything typical\n  M-L, left.M-R 8 A\n  in-line closed\n}")
    else {
        panic!("no mode")
    };
    let lines: Vec<(Vec<String>, String)> = mode
        .lines
        .iter()
        .map(|line| (line.subjects.iter().map(path).collect(), shorts(&line.values)))
        .collect();
    assert_eq!(lines[1], (vec!["M-L".to_owned(), "left.M-R".to_owned()], "8 A".to_owned()));
    assert_eq!((lines.len(), &*mode.label.unwrap().text), (3, "Walking"));
}

#[test]
fn expectations_have_three_forms() {
    let Item::Expect(voltage) = item("expect voltage D.pos >= 20 V in parade, climb under any-fault") else {
        panic!("no expectation")
    };
    assert_eq!(
        voltage.limit.map(|(sign, value)| (sign, short(&value))),
        Some((Comparison::AtLeast, "20 V".to_owned()))
    );
    assert_eq!((voltage.modes.len(), voltage.any_fault), (2, true));
    let Item::Expect(runtime) = item("expect runtime >= 2 h in parade") else { panic!("no expectation") };
    assert_eq!((runtime.subjects.len(), &*runtime.modes[0].text), (0, "parade"));
    let Item::Expect(dead) = item("expect dead M-L, M-R when S-STOP pressed under any-fault") else {
        panic!("no expectation")
    };
    let when = dead.when.map(|(thing, state)| (path(&thing), state.text.to_string()));
    assert_eq!((dead.subjects.len(), when), (2, Some(("S-STOP".to_owned(), "pressed".to_owned()))));
}

#[test]
fn readings_and_accepted_risks_keep_their_dates() {
    let Item::Reading(reading) = item("reading 120 mV across PACK.pos, D.pos in idle on 2027-03-01") else {
        panic!("no reading")
    };
    assert_eq!((&*reading.relation.text, reading.subjects.len()), ("across", 2));
    assert_eq!(reading.date, Some(Date { year: 2027, month: 3, day: 1 }));
    let Item::Accept(accept) =
        item("accept wire.undersized on left.W9 because \"it \\\"works\\\"\" until 2027-12-31")
    else {
        panic!("no accept")
    };
    assert_eq!((path(&accept.rule), path(&accept.subject)), ("wire.undersized".into(), "left.W9".into()));
    assert_eq!((&*accept.reason.text, accept.until.map(|(date, _)| date.month)), ("it \"works\"", Some(12)));
}

#[test]
fn assemblies_hold_statements_and_are_fitted() {
    let text = "assembly LEG {\n  parameter reach 400 mm\n  terminal power = P1.1\n  supply S 5 V\n  assembly TOE { motor M 3 V }\n}\nfit LEG as left, right at body { reach 450 mm }";
    let all = items(text);
    let (Item::Assembly(leg), Item::Fit(fit)) = (&all[0], &all[1]) else { panic!("no assembly") };
    assert_eq!(settings(&leg.settings), "parameter(reach; 400 mm) terminal(power; P1.1)");
    assert_eq!(leg.items.len(), 2);
    assert_eq!(
        (&*fit.assembly.text, fit.names.len(), settings(&fit.settings)),
        ("LEG", 2, "reach(450 mm)".into())
    );
}

#[test]
fn files_robots_places_parts_and_constants() {
    let all = items(
        "use \"legs.wattle\"\nlet RUN = 1.2 m\nrobot \"Heron\" { ambient 5 degC .. 35 degC }\nplace a, b \"Both\" 45 degC\npart p is battery \"Pack\" lipo 6S { resistance 18 mohm }",
    );
    let [Item::Use(used), Item::Let(run), Item::Robot(robot), Item::Place(place), Item::Part(part)] =
        all.as_slice()
    else {
        panic!("{all:?}")
    };
    assert_eq!((&*used.path.text, short(&run.value)), ("legs.wattle", "1.2 m".to_owned()));
    assert_eq!(
        (&*robot.name.text, settings(&robot.settings)),
        ("Heron", "ambient([5 °C .. 35 °C])".to_owned())
    );
    assert_eq!((place.names.len(), shorts(&place.values)), (2, "45 °C".to_owned()));
    assert_eq!((&*part.base.text, shorts(&part.values)), ("battery", "lipo; 6 S".to_owned()));
}

#[test]
fn lines_go_on_behind_commas_and_inside_parentheses() {
    let all = items(
        "fuse F1,  # the first\n\n  F2 3 A\nlet A = (1 V\n  + 2 V) * 2\ntie A to B,\n  C; tie D to E;; tie F to G",
    );
    assert_eq!(all.len(), 5);
}

#[test]
fn keywords_are_names_where_a_name_stands() {
    let Item::Wire(wire) = item("wire to at.in to on.to 10 AWG") else { panic!("no wire") };
    assert_eq!(
        (&*wire.name.text, path(&wire.from), path(&wire.to)),
        ("to", "at.in".to_owned(), "on.to".to_owned())
    );
    let Item::Thing(thing) = item("motor motor at at") else { panic!("no thing") };
    assert_eq!(path(&thing.at.unwrap()), "at");
}

#[test]
fn a_unit_is_not_taken_where_a_word_of_the_statement_stands() {
    let Item::Expect(expect) = item("expect voltage X.pos >= 20 in parade") else { panic!("no expectation") };
    assert_eq!(expect.limit.unwrap().1.shape, Shape::Quantity(crate::quantity::Quantity::number(20.0)));
    let Item::Harness(harness) = item("cable C { 1 A.pos to V.neg }") else { panic!("no cable") };
    assert_eq!(path(&harness.wires[0].from), "A.pos");
    let Item::Thing(thing) = item("motor M { channels 2; x-note A.b }") else { panic!("no thing") };
    let Shape::Quantity(two) = thing.settings[0].values[0].shape else { panic!("no count") };
    assert_eq!(two.dimension, Dimension::Number);
}

#[test]
fn spans_cover_the_text_they_come_from() {
    let text = "wattle 1\n  motor M 24 V { stall 55 A }  # big\n";
    let parsed = read(text);
    assert_eq!(parsed.file.items[1].span().slice(text), "motor M 24 V { stall 55 A }");
    let Item::Thing(thing) = &parsed.file.items[1] else { panic!("no thing") };
    assert_eq!(thing.values[0].span.slice(text), "24 V");
    assert_eq!(thing.settings[0].span.slice(text), "stall 55 A");
}

#[test]
fn other_line_ends_and_a_byte_order_mark_change_nothing() {
    let text = include_str!("taste.wattle");
    let plain: Vec<String> = read(text).file.items.iter().map(super::meaning).collect();
    for other in [text.replace('\n', "\r\n"), text.replace('\n', "\r"), format!("\u{feff}{text}")] {
        let parsed = read(&other);
        assert_eq!(parsed.errors, []);
        assert_eq!(parsed.file.items.iter().map(super::meaning).collect::<Vec<_>>(), plain);
    }
}
