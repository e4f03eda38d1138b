//! What is promised of the stock: sound, laid out, usable as it is, and every figure as its source has it.

use std::collections::{BTreeMap, BTreeSet};

use wattle_grammar::{
    kind::{by_word, key},
    quantity::{Amps, Ohms, SquareMm, Unit, Volts, Watts},
    syntax::{Date, Item},
    tidy::tidy,
};

use super::*;
use crate::{
    analysis::{Analysis, analyse},
    design::{Origin, Thing},
    physics::standard_fuse,
    project::{self, Loader},
};

struct Given<'a>(&'a str);

impl Loader for Given<'_> {
    fn load(&self, _: &std::path::Path) -> Result<Vec<u8>, String> {
        Ok(self.0.as_bytes().to_vec())
    }
}

fn analysis(text: &str) -> Analysis {
    let text = format!("wattle 1\nrobot \"Probe\" {{ ambient 30 °C }}\n{text}");
    let today = Date { year: 2025, month: 1, day: 1 };
    analyse(project::open(std::path::Path::new("robot.wattle"), &Given(&text)), Some(today))
}

fn told(analysis: &Analysis) -> Vec<&str> {
    analysis.verdict.errors.iter().map(|error| error.message.as_str()).collect()
}

fn kind_of(part: &Part) -> &'static str {
    let mut base = &part.base.text;
    for _ in 0..10 {
        if let Some(kind) = by_word(base) {
            return kind.word;
        }
        base = &super::part(base).unwrap_or_else(|| panic!("`{base}` is not in the stock")).base.text;
    }
    panic!("`{}` never comes to a kind", part.name.text)
}

/// One thing of each part, by the part's name.
fn things() -> BTreeMap<&'static str, Thing> {
    let all: Vec<&str> = parts().collect();
    let text: String = all
        .iter()
        .enumerate()
        .map(|(at, name)| format!("{} X{at} : {name}\n", kind_of(part(name).unwrap())))
        .collect();
    let analysis = analysis(&text);
    assert_eq!(told(&analysis), [""; 0]);
    assert_eq!(analysis.design.things.len(), all.len());
    all.into_iter().zip(analysis.design.things).collect()
}

fn figure<U: Unit>(thing: &Thing, key: &str) -> Option<f64> {
    thing.get::<U>(key).map(Unit::base)
}

#[test]
fn it_is_sound_and_laid_out() {
    let parse = &file().parse;
    assert_eq!(parse.errors, []);
    assert!(
        parse
            .file
            .items
            .iter()
            .all(|item| matches!(item, Item::Edition(_) | Item::Part(_) | Item::Assembly(_)))
    );
    assert_eq!(tidy(parse, TEXT), TEXT);
}

#[test]
fn every_name_is_there_once_and_follows_the_scheme() {
    let names: BTreeSet<&str> = entries().into_iter().map(Entry::name).collect();
    assert_eq!(names.len(), entries().len());
    let scheme = |name: &&str| {
        name.starts_with(|first: char| first.is_ascii_lowercase())
            && name.chars().all(|one| one.is_ascii_lowercase() || one.is_ascii_digit() || one == '-')
            && by_word(name).is_none()
    };
    assert_eq!(names.iter().find(|name| !scheme(name)), None);
}

#[test]
fn one_of_each_part_is_a_thing_of_its_kind() {
    let things = things();
    assert!(things.len() > 150, "{}", things.len());
    assert!(things.iter().all(|(name, thing)| thing.kind.word == kind_of(part(name).unwrap())));
}

#[test]
fn every_figure_that_the_name_does_not_say_has_a_note() {
    let said_by_name = [key::CURRENT, key::CELLS, key::WAYS, key::DROP, key::COIL_VOLTAGE];
    // Leaded resistors say in the text above them that their power and tolerance are common practice.
    let said_above = ["pull-up-4k7", "pull-up-10k"];
    for (name, thing) in things() {
        let written = thing.ratings.iter().filter(|rated| !matches!(rated.origin, Origin::Default(_)));
        let numbers = written.filter(|rated| {
            matches!(
                rated.value,
                crate::design::RatedValue::Quantity(_) | crate::design::RatedValue::Range(..)
            )
        });
        let unsaid: Vec<_> =
            numbers.map(|rated| rated.key).filter(|key| !said_by_name.contains(key)).collect();
        let noted = thing.rated(key::NOTE).is_some() || said_above.contains(&name);
        assert!(unsaid.is_empty() || noted, "`{name}` does not say where {unsaid:?} come from");
    }
}

/// ISO 8820-3:2015, abstract: blade fuse-links, rated voltage 32 V or 58 V, up to 100 A, breaking capacity 1000 A.
/// ISO 8820-5:2015, abstract: strip fuse-links SF 30 and SF 51, 32 V, 30 A to 500 A, breaking capacity 2000 A.
/// A guide to the protection of packs, as seen: class T breaks 20 kA (125 V from memory, in the table of styles).
#[test]
fn fuses_are_as_their_standards_have_them() {
    let things = things();
    for (family, volts, breaks, most) in [
        ("blade", 32.0, 1000.0, 100.0),
        ("mini-blade", 32.0, 1000.0, 100.0),
        ("large-blade", 32.0, 1000.0, 100.0),
        ("bolt-down", 32.0, 2000.0, 500.0),
        ("class-t", 125.0, 20_000.0, 400.0),
    ] {
        for (suffix, volts) in [("", volts), ("-58v", 58.0)] {
            let of_family = things.iter().filter(|(name, _)| in_family(name, family, suffix));
            let mut ratings = Vec::new();
            for (name, fuse) in of_family {
                let amps = figure::<Amps>(fuse, key::CURRENT).unwrap();
                assert_eq!(figure::<Volts>(fuse, key::VOLTAGE), Some(volts), "{name}");
                assert_eq!(figure::<Amps>(fuse, key::BREAKING_CAPACITY), Some(breaks), "{name}");
                assert!(amps <= most, "{name}");
                let said = format!("{family}-{}{suffix}", amps.to_string().replace('.', "-"));
                assert_eq!(*name, said);
                ratings.push(Amps(amps));
            }
            let none = suffix == "-58v" && matches!(family, "bolt-down" | "class-t");
            assert_eq!(ratings.is_empty(), none, "{family}{suffix}");
            assert!(family != "blade" || same(&ratings, standard_fuse::BLADE), "{ratings:?}");
            assert!(family != "bolt-down" || none || same(&ratings, standard_fuse::BOLT_DOWN), "{ratings:?}");
        }
    }
}

/// Whether a name is that of a family, a rating and a suffix.
fn in_family(name: &str, family: &str, suffix: &str) -> bool {
    let rating = name
        .strip_prefix(family)
        .and_then(|rest| rest.strip_suffix(suffix))
        .and_then(|rest| rest.strip_prefix('-'));
    rating.is_some_and(|rating| {
        rating.starts_with(|first: char| first.is_ascii_digit()) && !rating.ends_with('v')
    })
}

fn same(found: &[Amps], expected: &[Amps]) -> bool {
    let sorted = |ratings: &[Amps]| {
        let mut ratings: Vec<f64> = ratings.iter().map(|amps| amps.0).collect();
        ratings.sort_by(f64::total_cmp);
        ratings
    };
    sorted(found) == sorted(expected)
}

/// Nominal volts from the table of chemistries: 3.7 V, 3.2 V, 2.0 V, 1.2 V a cell; no figure that is the maker's.
#[test]
fn packs_say_chemistry_and_cells_and_nothing_else() {
    let things = things();
    for (name, volts) in [
        ("lipo-6s", 22.2),
        ("li-ion-14s", 51.8),
        ("lifepo4-4s", 12.8),
        ("lead-acid-12v", 12.0),
        ("agm-6v", 6.0),
        ("nimh-10s", 12.0),
    ] {
        let found = figure::<Volts>(&things[name], key::VOLTAGE).unwrap();
        assert!((found - volts).abs() < 1e-9, "{name} has {found} V");
    }
    for (name, thing) in things.iter().filter(|(_, thing)| thing.kind.word == "battery") {
        let makers = [key::CAPACITY, key::RESISTANCE, key::DISCHARGE, key::CURRENT];
        assert!(makers.iter().all(|key| thing.rated(key).is_none()), "{name}");
    }
}

/// A maker's data sheet of a 2.54 mm socket, as seen: 3 A, at most 20 mΩ. A vendor's note: 3.5 A for good.
#[test]
fn headers_are_as_a_makers_data_has_them() {
    let things = things();
    for name in ["header-plug-3", "header-10", "servo-plug", "servo-socket", "servo-header"] {
        let header = &things[name];
        assert_eq!(figure::<Amps>(header, key::CURRENT), Some(3.0), "{name}");
        assert_eq!(figure::<Ohms>(header, key::CONTACT_RESISTANCE), Some(0.020), "{name}");
    }
    // Live halves have sockets; a servo's lead is the load's, and still has them.
    assert_eq!(things["servo-plug"].word(key::CONTACTS), Some("sockets"));
    assert_eq!(things["servo-header"].word(key::CONTACTS), Some("pins"));
}

/// A maker's table of plug-in relays, as seen: 12 V coil 80 Ω, operates at 8.4 V, releases at 1.2 V, at most 15.7 V in
/// air of 85 °C; 24 V coil 320 Ω, 16.8 V, 2.4 V, 31.5 V; make and break contact 30 A and 20 A at 13.5 V, 20 A and 10 A
/// at 27 V.
#[test]
fn relays_are_as_a_makers_table_has_them() {
    let things = things();
    for (name, coil, ohms, operate, release, most, amps) in
        [("relay-12v", 12.0, 80.0, 8.4, 1.2, 15.7, 20.0), ("relay-24v", 24.0, 320.0, 16.8, 2.4, 31.5, 10.0)]
    {
        let relay = &things[name];
        let volts = |key| figure::<Volts>(relay, key);
        assert_eq!(volts(key::COIL_VOLTAGE), Some(coil));
        assert_eq!(figure::<Ohms>(relay, key::COIL_RESISTANCE), Some(ohms));
        assert_eq!((volts(key::OPERATE), volts(key::RELEASE)), (Some(operate), Some(release)));
        assert_eq!((volts(key::COIL_MAX), volts(key::VOLTAGE)), (Some(most), Some(27.0)));
        assert_eq!(figure::<Amps>(relay, key::CURRENT), Some(amps));
    }
}

/// ISO 11898-2 as quoted in a device's manual: 120 Ω, between 108 Ω and 132 Ω. A shunt's name says drop over current.
#[test]
fn resistors_and_shunts_are_what_they_are_called() {
    let things = things();
    let end = &things["terminator-120"];
    let (ohms, off) = (figure::<Ohms>(end, key::RESISTANCE).unwrap(), end.number(key::TOLERANCE).unwrap());
    assert!(ohms * (1.0 - off) >= 108.0 && ohms * (1.0 + off) <= 132.0 && ohms == 120.0);
    assert_eq!(figure::<Ohms>(&things["pull-up-4k7"], key::RESISTANCE), Some(4700.0));
    assert_eq!(figure::<Watts>(&things["pull-up-10k"], key::POWER), Some(0.25));
    let shunt = figure::<Ohms>(&things["shunt-100a-75mv"], key::RESISTANCE).unwrap();
    assert!((shunt - 0.075 / 100.0).abs() < 1e-12);
}

/// What the tables of makers and dealers say of colours, as seen: red 22 to 16 AWG and 0.5 to 1.5 mm², blue 16 to 14 AWG
/// and 1.5 to 2.5 mm², yellow 12 to 10 AWG and 4 to 6 mm². Sizes of AWG: ASTM B258.
#[test]
fn lugs_and_splices_take_the_wires_of_their_colour() {
    let things = things();
    for (colour, awg, mm2) in [
        ("red", [0.326, 1.309], [0.5, 1.5]),
        ("blue", [1.309, 2.082], [1.5, 2.5]),
        ("yellow", [3.309, 5.261], [4.0, 6.0]),
    ] {
        for name in [format!("lug-{colour}-m6"), format!("splice-{colour}")] {
            let (thin, thick) = things[name.as_str()].range::<SquareMm>(key::WIRE_SIZE).unwrap();
            let takes = |area: f64| thin.0 - 1e-3 <= area && area <= thick.0 + 1e-3;
            assert!(awg.into_iter().chain(mm2).all(takes), "{name} takes {thin} to {thick}");
            assert!(!takes(awg[0] * 0.7) && !takes(mm2[1] * 1.3), "{name}");
        }
    }
    assert_eq!(things["lug-8awg-m8"].word(key::THREAD), Some("M8"));
}

const LAMP: &str = "battery PACK : lipo-3s { resistance 20 mΩ; capacity 5 Ah; discharge 25 C }\nfuse F1 : blade-5\n\
                    light LAMP 12 V 1 A\nwire W1 PACK.pos to F1.line 18 AWG red 100 mm { supplied-tail }\n\
                    wire W2 F1.load to LAMP.pos 18 AWG red 1 m\nwire W3 LAMP.neg to PACK.neg 18 AWG black 1 m\n";

#[test]
fn a_robot_takes_parts_without_use_and_nothing_is_found_in_the_stock() {
    let analysis = analysis(LAMP);
    assert_eq!((told(&analysis), analysis.verdict.findings.as_slice()), (vec![], [].as_slice()));
    let fuse = &analysis.design.things[1];
    assert_eq!(figure::<Amps>(fuse, key::CURRENT), Some(5.0));
    assert!(matches!(fuse.rated(key::VOLTAGE).unwrap().origin, Origin::Part(span) if span.file == FILE));
}

#[test]
fn a_part_of_the_robot_wins_over_the_stocks_and_leaves_the_stocks_own_alone() {
    let text = "part blade-5 is fuse 4 A blade\npart header-plug is fuse 3 A\nfuse F1 : blade-5\nplug P : servo-plug\n\
                part mine is blade-10 { resistance 9 mΩ }\nfuse F2 : mine\n";
    let analysis = analysis(text);
    assert_eq!(told(&analysis), [""; 0]);
    let [own, plug, built] = analysis.design.things.as_slice() else { panic!("three things") };
    assert_eq!(figure::<Amps>(own, key::CURRENT), Some(4.0));
    // `servo-plug` builds on the stock's `header-plug`, whatever the robot calls so.
    assert_eq!(figure::<Amps>(plug, key::CURRENT), Some(3.0));
    assert_eq!(figure::<Amps>(built, key::CURRENT), Some(10.0));
    assert_eq!(figure::<Ohms>(built, key::RESISTANCE), Some(0.009));
}

#[test]
fn an_assembly_of_the_stock_fits_with_and_without_its_parameters() {
    let text = "socket REC : servo-header\nfit servo-extension as NECK, TAIL\n\
                fit servo-extension as LONG { reach 800 mm; gauge 26 AWG }\nmate NECK.PLUG with REC\n";
    let analysis = analysis(text);
    assert_eq!(told(&analysis), [""; 0]);
    let reach = |name: &str| {
        let wire = analysis.design.wires.iter().find(|wire| wire.name == name).unwrap();
        (wire.length.unwrap().0, wire.size.as_ref().unwrap().written.clone())
    };
    assert_eq!(reach("NECK.LEAD.2"), (0.6, "22 AWG".to_owned()));
    assert_eq!(reach("LONG.LEAD.2"), (0.8, "26 AWG".to_owned()));
    assert_eq!(analysis.design.things.len(), 7);
}

#[test]
fn every_assembly_fits() {
    for name in assemblies() {
        assert_eq!(told(&analysis(&format!("fit {name} as X\n"))), [""; 0], "{name}");
    }
}

#[test]
fn a_wrong_name_finds_the_nearest_of_robot_and_stock() {
    let analysis = analysis(
        "part trail is fuse 3 A\nfuse A : balde-30\nfuse B : trial\nfit servo-extention as X\npart y is blade-300\n",
    );
    let helps: Vec<_> =
        analysis.verdict.errors.iter().map(|error| error.help.as_deref().unwrap_or_default()).collect();
    assert_eq!(
        helps,
        [
            "did you mean `blade-30`?",
            "did you mean `trail`?",
            "did you mean `servo-extension`?",
            "did you mean `blade-30`?",
        ]
    );
}

#[test]
fn a_definition_that_could_not_be_read_is_not_replaced_by_the_stocks() {
    let analysis = analysis("part blade-5 is fuse = = 3 A\nfuse F1 : blade-5\n");
    assert_eq!(analysis.verdict.errors.len(), 1, "{:?}", told(&analysis));
    assert_eq!(figure::<Amps>(&analysis.design.things[0], key::CURRENT), None);
}

#[test]
fn what_is_found_inside_is_told_where_the_robot_fits_it() {
    // A 60 A fuse before 26 AWG: the lead is what is too thin.
    let text = "battery PACK lipo 2S 5 Ah 25 C 10 mΩ\nfuse F1 : large-blade-60\nsocket REC : servo-header\n\
                fit servo-extension as NECK { gauge 26 AWG }\nmate NECK.PLUG with REC\nplug P : servo-plug\n\
                mate P with NECK.SOCKET\nservo EAR 6 V .. 8.4 V 0.3 A { stall 1.8 A }\n\
                wire W1 PACK.pos to F1.line 8 AWG red 100 mm { supplied-tail }\nwire W2 F1.load to REC.2 8 AWG red 1 m\n\
                wire W3 REC.1 to PACK.neg 8 AWG black 1 m\nwire W4 P.2 to EAR.pos 22 AWG red 100 mm\n\
                wire W5 EAR.neg to P.1 22 AWG black 100 mm\n";
    let analysis = analysis(text);
    assert_eq!(told(&analysis), [""; 0]);
    let inside: Vec<_> =
        analysis.verdict.findings.iter().filter(|found| found.subject.starts_with("NECK.")).collect();
    assert!(!inside.is_empty(), "{:#?}", analysis.verdict.findings);
    for finding in inside {
        let text = &analysis.project.files[0].text;
        assert_eq!((finding.span.file.0, finding.span.slice(text)), (0, "NECK"));
        assert!(finding.related.iter().any(|(span, _)| span.file == FILE));
    }
    for finding in &analysis.verdict.findings {
        assert!(finding.help.iter().flat_map(|mend| &mend.edits).all(|edit| edit.span.file != FILE));
    }
    assert!(analysis.verdict.not_assessed.iter().all(|entry| entry.span.file != FILE));
}

#[test]
fn an_error_that_a_parameter_makes_inside_is_told_where_the_robot_fits_it() {
    let analysis = analysis("fit servo-extension as NECK { reach -3 m }\n");
    let [error] = analysis.verdict.errors.as_slice() else { panic!("{:?}", told(&analysis)) };
    assert_eq!(error.span.slice(&analysis.project.files[0].text), "NECK");
    assert!(error.mend.is_none() && error.related[0].0.file == FILE);
}

#[test]
fn pages_fit_a_narrow_terminal() {
    let wide = |text: &str| text.lines().find(|line| line.chars().count() > 80).map(str::to_owned);
    assert_eq!(wide(&list(80)), None);
    for entry in entries() {
        assert_eq!(wide(&page(entry, 80)), None);
    }
}

#[test]
fn a_page_says_what_an_entry_comes_to_and_where_each_rating_is_from() {
    let found = page(entry("blade-7-5-58v").unwrap(), 80);
    for part in [
        "blade-7-5-58v (fuse)\n  regular blade fuse, 58 V class: 7.5 A\n",
        "\n    fuse NAME : blade-7-5-58v\n",
        "\n    part blade-7-5-58v is blade-58v 7.5 A\n    part blade-58v is fuse ",
        "\n  current            7.5 A    `blade-7-5-58v`\n",
        "\n  breaking-capacity  1 kA     `blade-58v`\n",
        "\n  resistance         13.3 mΩ  default: 0.1 V / ",
    ] {
        assert!(found.contains(part), "`{part}` is not in:\n{found}");
    }
    let pack = page(entry("lipo-6s").unwrap(), 80);
    assert!(pack.contains("\n  cells      6S      `lipo-6s`\n  strings    1P      default: "), "{pack}");
    let found = page(entry("servo-extension").unwrap(), 80);
    assert!(found.contains("\n    fit servo-extension as NAME { reach 600 mm; gauge 22 AWG }\n"), "{found}");
    assert_eq!(nearest("sevro-extension"), Some("servo-extension"));
}
