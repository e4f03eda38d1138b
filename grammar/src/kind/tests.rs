//! What holds of the whole table: nothing twice, nothing unknown, nothing that cannot be told apart on the line.

use std::collections::BTreeSet;

use super::{ALL, COMMON, Default, Kind, KindId, Rating, RatingShape, Repeat, by_id, by_word, key, setting};
use crate::quantity::Dimension;

/// Every list of rows there is, with the name to blame.
fn lists() -> Vec<(&'static str, &'static [Rating])> {
    let kinds = ALL.iter().map(|kind| (kind.word, kind.ratings));
    let settings = [
        ("wire", setting::WIRE),
        ("harness", setting::HARNESS),
        ("place", setting::PLACE),
        ("robot", setting::ROBOT),
        ("tie", setting::TIE),
        ("mate", setting::MATE),
        ("mode", setting::MODE),
        ("group", setting::GROUP),
        ("port", setting::PORT),
        ("any thing", COMMON),
    ];
    kinds.chain(settings).collect()
}

/// Counts as a thing that says everything: six of each, all flags yes.
fn six(_: &str) -> Option<u32> {
    Some(6)
}

fn names(kind: &Kind, count: &dyn Fn(&str) -> Option<u32>) -> Vec<String> {
    kind.terminals_for(count).into_iter().map(|terminal| terminal.name).collect()
}

fn of(word: &str) -> &'static Kind {
    by_word(word).expect("a kind of the table")
}

#[test]
fn every_identity_has_one_row() {
    // `Chassis` is the last variant; the numbers run from 0 without a gap.
    let mut ids: Vec<_> = ALL.iter().map(|kind| kind.id as usize).collect();
    ids.sort_unstable();
    assert_eq!(ids, (0..=KindId::Chassis as usize).collect::<Vec<_>>());
    for kind in ALL {
        assert_eq!(by_id(kind.id).map(|found| found.word), Some(kind.word));
        assert_eq!(by_word(kind.word).map(|found| found.id), Some(kind.id));
    }
}

#[test]
fn words_are_unique_and_examples_begin_with_them() {
    let words: BTreeSet<_> = ALL.iter().map(|kind| kind.word).collect();
    assert_eq!(words.len(), ALL.len());
    for kind in ALL {
        assert_eq!(kind.example.split_whitespace().next(), Some(kind.word));
        assert!(!kind.example.contains('\n'), "{}", kind.word);
    }
}

#[test]
fn terminals_do_not_collide() {
    for kind in ALL {
        let mut seen = BTreeSet::new();
        for terminal in kind.terminals_for(&six) {
            assert!(seen.insert(terminal.name.clone()), "{} has {} twice", kind.word, terminal.name);
        }
        for (alias, name) in kind.terminal_aliases(&six) {
            assert!(seen.insert(alias.clone()), "{}: {alias} for {name} means something else too", kind.word);
        }
    }
}

#[test]
fn terminals_do_not_collide_at_the_most_that_is_allowed() {
    for kind in ALL {
        let all = names(kind, &|_| Some(u32::MAX));
        let unique: BTreeSet<_> = all.iter().collect();
        assert_eq!(unique.len(), all.len(), "{}", kind.word);
        assert!(all.len() <= 500, "{} makes {} terminals", kind.word, all.len());
    }
}

#[test]
fn counts_that_terminals_need_are_ratings() {
    for kind in ALL {
        for terminal in kind.terminals {
            let (key, flag) = match terminal.repeat {
                Repeat::Once => continue,
                Repeat::OnceIf(flag) => (None, Some(flag)),
                Repeat::Per { key, only_if, .. } => (Some(key), only_if),
            };
            if let Some(key) = key {
                let rating = kind.rating(key).unwrap_or_else(|| panic!("{} has no {key}", kind.word));
                assert!(rating.within.is_some_and(|(least, _)| least >= 1.0), "{} {key}", kind.word);
            }
            assert!(flag.is_none_or(|flag| kind.rating(flag).is_some_and(|row| row.is_flag())));
        }
    }
}

#[test]
fn nothing_on_the_line_can_mean_two_things() {
    for (name, ratings) in lists() {
        let mut dimensions = BTreeSet::new();
        let mut words = BTreeSet::new();
        for rating in ratings.iter().filter(|rating| rating.inline) {
            if let Some(dimension) = rating.dimension() {
                assert!(dimensions.insert(dimension), "{name}: {dimension:?} is inline twice");
            }
            let flag = rating.is_flag().then_some(rating.key);
            for word in rating.words().iter().map(|(word, _)| *word).chain(flag) {
                assert!(words.insert(word), "{name}: {word} is inline twice");
            }
        }
    }
}

#[test]
fn keys_are_declared_once_and_all_are_used() {
    let declared: BTreeSet<_> = key::ALL.iter().copied().collect();
    assert_eq!(declared.len(), key::ALL.len(), "a key is declared twice");
    let mut used = BTreeSet::new();
    for (name, ratings) in lists() {
        let mut own = BTreeSet::new();
        for rating in ratings {
            assert!(declared.contains(rating.key), "{name}: {} is no key", rating.key);
            assert!(own.insert(rating.key), "{name}: {} twice", rating.key);
        }
        used.extend(own);
    }
    let unused: Vec<_> = declared.difference(&used).collect();
    assert!(unused.is_empty(), "no row has {unused:?}");
}

#[test]
fn a_kind_does_not_repeat_what_any_thing_can_carry() {
    for kind in ALL {
        let twice = kind.ratings.iter().find(|rating| COMMON.iter().any(|common| common.key == rating.key));
        assert!(twice.is_none(), "{} {twice:?}", kind.word);
    }
}

#[test]
fn defaults_fit_their_shapes() {
    for (name, ratings) in lists() {
        for rating in ratings {
            let place = format!("{name} {}", rating.key);
            let reason = match rating.default {
                Default::Missing => continue,
                Default::Number(value, reason) => {
                    assert!(value.is_finite() && value >= 0.0 && rating.allows(value), "{place}");
                    assert!(rating.dimension().is_some(), "{place}");
                    reason
                }
                Default::Word(word, reason) => {
                    assert!(rating.words().iter().any(|(known, _)| *known == word), "{place}");
                    reason
                }
                Default::Flag(_, reason) | Default::No(reason) => {
                    assert!(rating.is_flag(), "{place}");
                    reason
                }
                Default::Derived(how) => how,
            };
            assert!(reason.len() > 4, "{place} says nothing of its default");
        }
    }
}

#[test]
fn numbers_have_limits_and_nothing_else_has() {
    for (name, ratings) in lists() {
        for rating in ratings {
            assert_eq!(rating.within.is_some(), rating.dimension().is_some(), "{name} {}", rating.key);
            assert!(rating.within.is_none_or(|(least, most)| least < most), "{name} {}", rating.key);
        }
    }
}

/// Whether numbers of a dimension carry a prefix that can slip, or another unit that can be taken for it.
fn can_slip(dimension: Dimension) -> bool {
    use Dimension::{Cells, Number, Poles, Ratio, Strings, Ways};
    !matches!(dimension, Number | Ratio | Cells | Strings | Ways | Poles)
}

#[test]
fn what_is_usual_can_be_meant_and_holds_the_defaults() {
    for (name, ratings) in lists() {
        for rating in ratings {
            let place = format!("{name} {}", rating.key);
            assert_eq!(rating.usual.is_some(), rating.dimension().is_some_and(can_slip), "{place}");
            let Some((least, most)) = rating.usual else { continue };
            assert!(least < most && rating.allows(least) && rating.allows(most), "{place}");
            if let Default::Number(value, _) = rating.default {
                assert!((least..=most).contains(&value), "{place}: the default {value} is not usual");
            }
        }
    }
}

#[test]
fn what_is_usual_is_narrow_enough_to_tell_a_slip() {
    for (name, ratings) in lists() {
        for rating in ratings {
            if let (Some((usual_least, usual_most)), Some((least, most))) = (rating.usual, rating.within) {
                let narrower = usual_least > least || usual_most < most;
                assert!(narrower, "{name} {}: nothing that can be written is unusual", rating.key);
            }
        }
    }
}

#[test]
fn a_rated_current_can_say_what_it_is_worth() {
    for kind in ALL.iter().filter(|kind| kind.rating(key::CURRENT).is_some()) {
        assert!(kind.rating(key::BASIS).is_some_and(|row| row.inline), "{}", kind.word);
    }
}

#[test]
fn what_is_done_by_another_thing_names_it() {
    // `limited-by`, `held-by` and the like name another thing; nothing else may end that way.
    for (name, ratings) in lists() {
        for rating in ratings.iter().filter(|rating| rating.key.ends_with("-by")) {
            assert!(matches!(rating.shape, RatingShape::Reference), "{name} {}", rating.key);
        }
    }
}

#[test]
fn docs_are_sentences_without_trailing_blanks() {
    for (name, ratings) in lists() {
        for rating in ratings {
            assert!(
                rating.doc.ends_with('.') && !rating.doc.contains("  "),
                "{name} {}: {}",
                rating.key,
                rating.doc
            );
        }
    }
    for kind in ALL {
        for doc in std::iter::once(kind.doc).chain(kind.terminals.iter().map(|terminal| terminal.doc)) {
            assert!(doc.ends_with('.') && !doc.contains("  "), "{}: {doc}", kind.word);
        }
    }
}

#[test]
fn contacts_are_marked_as_the_standards_mark_them() {
    // EN 50005 contact numbers and DIN 72552 numbers, from memory of both standards.
    let two = |_: &str| Some(2);
    assert_eq!(names(of("relay"), &two), ["A1", "A2", "11", "12", "14", "21", "22", "24"]);
    assert_eq!(names(of("contactor"), &two), ["A1", "A2", "1", "2", "3", "4", "13", "14", "21", "22"]);
    let two_poles = |key: &str| (key == key::POLES).then_some(2);
    assert_eq!(names(of("stop"), &two_poles), ["11", "12", "21", "22"]);
    assert_eq!(names(of("switch"), &two), ["1", "2", "3", "4"]);
    for (written, name) in
        [("30", "11"), ("87a", "12"), ("87", "14"), ("86", "A1"), ("85", "A2"), ("24", "24")]
    {
        assert_eq!(of("relay").canonical_terminal(written, &two).as_deref(), Some(name));
    }
    for (written, name) in [("1", "11"), ("2", "12"), ("3", "21"), ("4", "22")] {
        assert_eq!(of("stop").canonical_terminal(written, &two).as_deref(), Some(name));
    }
    assert_eq!(of("stop").canonical_terminal("3", &|_| None), None, "one pole has no 3");
}

#[test]
fn taps_are_there_only_when_brought_out() {
    let written = |key: &str| match key {
        key::CELLS => Some(3),
        key::TAPS => Some(1),
        _ => None,
    };
    assert_eq!(names(of("battery"), &written), ["pos", "neg", "t0", "t1", "t2", "t3"]);
    assert_eq!(names(of("battery"), &|key| (key == key::CELLS).then_some(3)), ["pos", "neg"]);
    assert_eq!(names(of("battery"), &|_| None), ["pos", "neg"]);
}

#[test]
fn families_take_turns_and_keep_their_numbers() {
    let two = |_: &str| Some(2);
    let channels = |key: &str| (key == key::CHANNELS).then_some(2);
    assert_eq!(
        names(of("driver"), &channels),
        ["pos", "neg", "m1a", "m1b", "m2a", "m2b", "enable", "signal"]
    );
    assert_eq!(names(of("slip-ring"), &two), ["s1", "r1", "s2", "r2"]);
    assert_eq!(names(of("block"), &two), ["in", "1", "2"]);
    let numbers: Vec<_> = of("switch").terminals_for(&two).iter().map(|terminal| terminal.number).collect();
    assert_eq!(numbers, [1, 2, 3, 4]);
    let poles: Vec<_> = of("relay").terminals_for(&two).iter().map(|terminal| terminal.number).collect();
    assert_eq!(poles, [0, 0, 1, 1, 1, 2, 2, 2]);
}

#[test]
fn joins_with_one_terminal_have_one() {
    for word in ["splice", "stud", "lug", "chassis"] {
        assert_eq!(names(of(word), &|_| None).len(), 1, "{word}");
    }
}

#[test]
fn ratings_are_found_by_key_dimension_and_word() {
    let fuse = of("fuse");
    assert_eq!(fuse.inline_quantity(Dimension::Current).map(|row| row.key), Some(key::CURRENT));
    assert_eq!(fuse.inline_word("blade").map(|row| row.key), Some(key::STYLE));
    assert!(fuse.inline_word("buck").is_none());
    assert!(fuse.inline_quantity(Dimension::Charge).is_none());
    assert!(fuse.rating(key::NOTE).is_some_and(|row| matches!(row.shape, RatingShape::Text)));
    assert_eq!(of("regulator").inline_word("isolated").map(|row| row.key), Some(key::ISOLATED));
    let poles = of("relay").rating(key::POLES).expect("poles");
    assert!(
        poles.accepts(Dimension::Number)
            && poles.accepts(Dimension::Poles)
            && !poles.accepts(Dimension::Ways)
    );
    assert!(poles.allows(2.0) && !poles.allows(0.0) && !poles.allows(f64::NAN));
}

#[test]
fn signals_beyond_the_usual_ones_are_there_only_when_counted() {
    let two = |key: &str| matches!(key, key::SIGNALS | key::DATA_LINES).then_some(2);
    assert_eq!(names(of("sensor"), &|_| None), ["pos", "neg", "signal"]);
    assert_eq!(names(of("sensor"), &two), ["pos", "neg", "signal", "s1", "s2"]);
    assert_eq!(names(of("light"), &|_| None), ["pos", "neg"]);
    assert_eq!(names(of("light"), &two), ["pos", "neg", "d1", "o1", "d2", "o2"]);
    assert_eq!(of("light").canonical_terminal("data-out", &two).as_deref(), Some("o1"));
}

#[test]
fn a_third_lead_is_there_only_where_it_is_brushless() {
    let two_channels = |key: &str| (key == key::CHANNELS).then_some(2);
    let brushless = |key: &str| {
        matches!(key, key::CHANNELS | key::BRUSHLESS).then_some(if key == key::CHANNELS { 2 } else { 1 })
    };
    assert_eq!(names(of("motor"), &|_| None), ["a", "b"]);
    assert_eq!(names(of("motor"), &brushless), ["a", "b", "c"]);
    assert_eq!(names(of("driver"), &two_channels)[2..6], ["m1a", "m1b", "m2a", "m2b"]);
    assert_eq!(names(of("driver"), &brushless)[2..8], ["m1a", "m1b", "m1c", "m2a", "m2b", "m2c"]);
    assert_eq!(of("motor").canonical_terminal("c", &two_channels), None);
}

#[test]
fn terminals_of_what_a_thing_says_it_has() {
    let balancing = |key: &str| match key {
        key::CELLS => Some(3),
        key::TAPS => Some(1),
        _ => None,
    };
    assert_eq!(names(of("charger"), &balancing), ["pos", "neg", "t0", "t1", "t2", "t3"]);
    assert_eq!(names(of("charger"), &|key| (key == key::CELLS).then_some(3)), ["pos", "neg"]);
    let two = |key: &str| matches!(key, key::SIGNALS | key::CHANNELS).then_some(2);
    assert!(names(of("driver"), &two).ends_with(&["signal".to_owned(), "s1".to_owned(), "s2".to_owned()]));
    assert_eq!(names(of("stop"), &|_| None), ["11", "12"]);
    assert_eq!(names(of("stop"), &|key| (key == key::BY_RADIO).then_some(1)), ["11", "12", "pos", "neg"]);
    let sides = ["pos1", "neg1", "pos2", "neg2", "a1", "b1", "a2", "b2"];
    assert_eq!(names(of("signal-isolator"), &two), sides);
}
