//! Each form of the report on one sample, and the places that are easy to get wrong.

use wattle_grammar::{
    span::{FileId, Span},
    syntax::Date,
};

use super::{
    brief, json,
    sample::{self, Sample},
    summary,
    text::{self, Style},
};
use crate::finding::{Acceptance, Finding, Verdict};

const PLAIN: Style = Style { colour: false, width: 80 };

fn lines(text: &str) -> Vec<&str> {
    text.lines().collect()
}

/// The picture of one finding on `start..end` of the only file.
fn drawn(text: &str, start: usize, end: usize) -> String {
    let span = Span::new(FileId(0), u32::try_from(start).unwrap(), u32::try_from(end).unwrap());
    let finding = Finding {
        span,
        related: vec![],
        figures: vec![],
        because: vec![],
        mode: None,
        help: vec![],
        ..sample::finding()
    };
    let verdict = Verdict { findings: vec![finding], ..Verdict::default() };
    let sample = Sample::new(&[("robot.wattle", text)], verdict);
    text::render(&sample.report(), PLAIN)
}

#[test]
fn brief_form() {
    let sample = sample::sample();
    let expected = [
        "robot.wattle:4:8: error[language.unknown-character] found \u{fffd}, which belongs to nothing",
        "robot.wattle:2:20: danger[wire.undersized] wire `W3` carries 21.5 A, its limit is 14.5 A",
        "robot.wattle:3:7: untidy[label.missing-end] wire `W4` has no tag at 1 of 2 ends \
         (accepted: the tag does not fit the lug)",
        "parts/fuses.wattle:2:6: not assessed: `F-A` lacks `breaking-capacity`, \
         so `fuse.cannot-break` cannot be checked",
        "robot.wattle: counts: 1 error, 1 danger, 1 accepted, 1 not assessed, not analysed completely",
        "robot.wattle: basis: profile `boat`: 33 CFR 183.425, table 5",
    ];
    assert_eq!(lines(&brief::render(&sample.report())), expected);
}

#[test]
fn text_form() {
    let sample = sample::sample();
    let expected = r#"error[language.unknown-character] found �, which belongs to nothing
   ╭─[ robot.wattle:4:8 ]
   │
 4 │ accept ? here
   │        ┬
   │        ╰── remove this
───╯
  = help: remove it

danger[wire.undersized] wire `W3` carries 21.5 A, its limit is 14.5 A
   ╭─[ robot.wattle:2:20 ]
   │
 2 │ load "é😀µ" X; wire W3 A to B 18 AWG
   │                     ─┬
   │                      ╰── limit 14.5 A here
 3 │     wire W4 B to C 22 AWG
   │          ─┬
   │           ╰── and on through here
───╯
   ╭─[ parts/fuses.wattle:2:6 ]
   │
 2 │ fuse F-A 40 A
   │      ─┬─
   │       ╰─── the fuse is here
───╯
  = in mode: parade
  = figure: steady current 21.5 A (mode `parade`)
  = because: `M-1` draws its share
  = because: `M-2` draws its share
  = because: `M-3` draws its share
  = because: `M-4` draws its share
  = because: `M-5` draws its share
  = because: `M-6` draws its share
  = because: and 2 more
  = help: use 12 AWG or thicker
  = more: wattle rules wire.undersized

"#;
    assert_eq!(lines(&text::render(&sample.report(), PLAIN)), lines(expected));
}

#[test]
fn summary_form() {
    let sample = sample::sample();
    let expected = "robot.wattle: 1 error, 1 danger, 1 accepted, 1 not assessed, not
              analysed completely
accepted risks:
  untidy[label.missing-end] robot.wattle:3:7
    wire `W4` has no tag at 1 of 2 ends
    because the tag does not fit the lug
    without a last day
not assessed:
  - `F-A` lacks `breaking-capacity`, so `fuse.cannot-break` cannot be
    checked
basis:
  - profile `boat`: 33 CFR 183.425, table 5
";
    assert_eq!(summary::render(&sample.report(), Style { width: 70, ..PLAIN }), expected);
}

#[test]
fn a_clean_robot_is_told_as_such_and_nothing_is_called_safe() {
    let sample = Sample::new(&[("robot.wattle", "wattle 1\n")], Verdict::default());
    assert_eq!(summary::render(&sample.report(), PLAIN), "robot.wattle: no findings\n");
    assert_eq!(text::render(&sample.report(), PLAIN), "");
    let all = summary::caution(PLAIN) + &json::render(&[sample.report()]).unwrap();
    assert!(!all.contains("safe"), "{all}");
}

#[test]
fn an_incomplete_analysis_is_not_told_as_clean() {
    let verdict =
        Verdict { incomplete: vec!["mode `run` has no working point".into()], ..Verdict::default() };
    let sample = Sample::new(&[("robot.wattle", "wattle 1\n")], verdict);
    let expected =
        "robot.wattle: not analysed completely\nincomplete:\n  - mode `run` has no working point\n";
    assert_eq!(summary::render(&sample.report(), PLAIN), expected);
}

#[test]
fn accepted_dangers_are_listed_first() {
    let mut sample = sample::sample();
    let until = Some(Date { year: 2027, month: 3, day: 1 });
    sample.verdict.findings[0].accepted = Some(Acceptance { reason: "bench only".into(), until });
    let report = sample.report();
    let summary = summary::render(&report, PLAIN);
    let first = summary.lines().nth(2);
    assert_eq!(first, Some("  danger[wire.undersized] robot.wattle:2:20"));
    assert!(
        summary.contains("    until 2027-03-01\n") && summary.contains("    without a last day\n"),
        "{summary}"
    );
    assert_eq!(report.counts().accepted, 2);
    assert_eq!(report.counts().by_severity, [0; 4]);
}

#[test]
fn json_form() {
    let sample = sample::sample();
    let text = json::render(&[sample.report()]).unwrap();
    let document: serde_json::Value = serde_json::from_str(&text).unwrap();
    assert_eq!(document["format"], 1);
    assert_eq!(document["complete"], false);
    assert_eq!(document["counts"]["danger"], 1);
    let finding = &document["robots"][0]["findings"][0];
    assert_eq!(
        finding["place"]["start"],
        serde_json::json!({"byte": 34, "line": 2, "column": 20, "utf16": 21})
    );
    let figure = serde_json::json!({
        "what": "steady current", "value": 21.5, "unit": "A", "basis": "mode `parade`"
    });
    assert_eq!(finding["figures"][0], figure);
    assert_eq!(finding["help"][0]["edits"][0]["text"], "12 AWG");
    assert_eq!(finding["accepted"], serde_json::Value::Null);
    assert_eq!(document["robots"][0]["not_assessed"][0]["missing"], "breaking-capacity");
}

#[test]
fn json_fields_stand_in_their_order() {
    let sample = sample::sample();
    let text = json::render(&[sample.report()]).unwrap();
    let fields = [
        "\"rule\": \"wire",
        "\"severity\"",
        "\"subject\"",
        "\"place\"",
        "\"message\"",
        "\"label\"",
        "\"mode\"",
    ];
    let from = text.find("\"findings\"").unwrap();
    let places: Vec<usize> = fields.iter().map(|field| from + text[from..].find(field).unwrap()).collect();
    assert!(places.is_sorted(), "{places:?}");
}

#[test]
fn json_survives_figures_that_are_no_number() {
    let mut sample = sample::sample();
    sample.verdict.findings[0].figures[0].value = f64::NAN;
    assert!(json::render(&[sample.report()]).unwrap().contains("\"value\": null"));
}

#[test]
fn a_mark_in_an_empty_file_is_told_in_words() {
    for (start, end) in [(0, 0), (7, 9)] {
        let text = drawn("", start, end);
        assert!(text.contains("  = at: robot.wattle:1:1 limit 14.5 A here\n"), "{text}");
    }
}

#[test]
fn a_mark_at_the_end_of_the_text() {
    let without = drawn("wattle 1", 8, 8);
    assert!(without.contains("robot.wattle:1:9"), "{without}");
    assert!(without.contains(" 1 │ wattle 1\n   │         ┬\n"), "{without}");
    let with = drawn("wattle 1\n", 9, 9);
    assert!(with.contains("robot.wattle:2:1"), "{with}");
    assert!(with.contains(" 2 │\n   │ ┬\n"), "{with}");
}

#[test]
fn a_mark_on_the_last_word_without_a_line_end() {
    let text = drawn("wattle 1\nµ é😀", 12, 18);
    assert!(text.contains("robot.wattle:2:3"), "{text}");
    assert!(text.contains(" 2 │ µ é😀\n   │   ─┬─\n"), "{text}");
}

#[test]
fn a_mark_that_ends_behind_the_text_or_inside_a_character_is_moved() {
    for (start, end) in [(0, 99), (1, 1), (1, 2), (3, 4), (50, 60)] {
        let text = drawn("µ😀x", start, end);
        assert!(text.contains(" 1 │ µ😀x\n"), "{start}..{end}: {text}");
        assert!(text.contains("╰─"), "{start}..{end}: {text}");
    }
}

#[test]
fn a_mark_over_several_lines_is_cut_to_the_first() {
    let text = drawn("robot \"X\" {\r\n  ambient 5 degC\r\n}\r\n", 0, 30);
    assert!(text.contains("robot.wattle:1:1"), "{text}");
    assert!(!text.contains("ambient"), "{text}");
}

#[test]
fn a_place_in_a_file_that_is_not_there_is_told_in_words() {
    let finding = Finding { span: Span::file_start(FileId(0)), related: vec![], ..sample::finding() };
    let verdict = Verdict { findings: vec![finding], ..Verdict::default() };
    let sample = Sample::new(&[], verdict);
    let text = text::render(&sample.report(), PLAIN);
    assert!(text.contains("  = at: robot.wattle:1:1 limit 14.5 A here\n"), "{text}");
    assert!(json::render(&[sample.report()]).unwrap().contains("\"path\": \"robot.wattle\""));
}

#[test]
fn a_line_of_absurd_length_is_not_drawn() {
    let text = drawn(&"x ".repeat(5000), 9000, 9001);
    assert!(text.contains("  = at: robot.wattle:1:9001 limit"), "{text}");
    assert!(text.len() < 1000);
}

#[test]
fn escapes_in_the_users_text_do_not_reach_the_terminal() {
    let sample = sample::sample();
    let report = sample.report();
    let all = text::render(&report, PLAIN) + &summary::render(&report, PLAIN) + &brief::render(&report);
    assert!(!all.contains('\u{1b}'));
}

#[test]
fn colour_adds_nothing_but_colour() {
    let sample = sample::sample();
    let coloured = text::render(&sample.report(), Style { colour: true, ..PLAIN });
    assert!(coloured.starts_with("\u{1b}[1;31merror[language.unknown-character]\u{1b}[0m found"));
    assert!(!coloured.contains("[38;5;"), "only the theme's own colours");
    let bare = strip(&coloured);
    assert_eq!(lines(&bare), lines(&text::render(&sample.report(), PLAIN)));
}

/// Removes `ESC [ … m`.
fn strip(text: &str) -> String {
    let mut parts = text.split('\u{1b}');
    let first = parts.next().unwrap_or("").to_owned();
    parts
        .fold(first, |out, part| out + part.split_once('m').map_or("", |(_, rest)| rest))
        .lines()
        .map(|line| line.trim_end().to_owned() + "\n")
        .collect()
}

proptest::proptest! {
    #[test]
    fn any_text_with_any_mark_gives_every_form(text in "(\\PC|[\r\n\t\u{b}\u{85}\u{2028}]){0,40}", start in 0usize..200, end in 0usize..200) {
        let picture = drawn(&text, start, end);
        proptest::prop_assert!(picture.contains("limit 14.5 A here"), "{}", picture);
    }
}
