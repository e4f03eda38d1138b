//! Bad input: an error with a place for each mistake, never a crash, a hang or a finding made up from damage.

#![allow(clippy::unwrap_used, clippy::expect_used, reason = "a test that cannot go on may say so by a panic")]

use std::{
    collections::{BTreeMap, BTreeSet},
    fmt::Write as _,
    fs,
    path::{Path, PathBuf},
};

use proptest::prelude::*;
use wattle_grammar::span::Span;
use wattle_linter::{
    analysis::{self, Analysis},
    project,
    rules::{join, polarity, relay, supply},
};
use wattle_tests::{
    command::run,
    fixture::files_below,
    folder::Folder,
    memory::{self, Memory},
};

const HEAD: &str = "wattle 1\nrobot \"R\" { ambient 30 degC }\n";

/// Lines of random statements that are not random.
const HEAD_LINES: usize = 13;

/// A size for the optimised build, and one that the unoptimised build reads in the same time.
fn sized(release: usize, debug: usize) -> usize {
    if cfg!(debug_assertions) { debug } else { release }
}

fn analyse_files(files: &[(&str, &[u8])]) -> Analysis {
    let files = files.iter().map(|(name, bytes)| (PathBuf::from(name), bytes.to_vec()));
    let root = PathBuf::from("robot.wattle");
    analysis::analyse(project::open(&root, &Memory(files.collect())), None)
}

/// Analyses a robot's bytes and checks every place that is told.
fn analyse(bytes: &[u8]) -> Analysis {
    let analysis = analyse_files(&[("robot.wattle", bytes)]);
    check_places(&analysis);
    analysis
}

fn errors(analysis: &Analysis) -> Vec<&'static str> {
    analysis.verdict.errors.iter().map(|error| error.name.trim_start_matches("language.")).collect()
}

/// Every place lies in its file, on whole characters.
fn check_places(analysis: &Analysis) {
    for span in places(analysis) {
        let file = analysis.project.file(span.file);
        let fits = file.is_some_and(|file| file.text.get(span.start as usize..span.end as usize).is_some());
        assert!(fits, "{span:?} of {:?}", file.map(|file| &file.text));
    }
}

fn places(analysis: &Analysis) -> Vec<Span> {
    let verdict = &analysis.verdict;
    let mut spans: Vec<Span> = verdict.not_assessed.iter().map(|entry| entry.span).collect();
    for error in &verdict.errors {
        spans.push(error.span);
        spans.extend(error.related.iter().map(|(span, _)| *span));
        spans.extend(error.mend.iter().map(|(span, _)| *span));
    }
    for finding in &verdict.findings {
        spans.push(finding.span);
        spans.extend(finding.related.iter().map(|(span, _)| *span));
        spans.extend(finding.help.iter().flat_map(|mend| &mend.edits).map(|edit| edit.span));
    }
    spans
}

#[test]
fn files_with_nothing_in_them_are_no_robots_and_no_errors() {
    for bytes in [&b""[..], b"\xef\xbb\xbf", b"\n\n", b"# nothing\n"] {
        let analysis = analyse(bytes);
        assert!(errors(&analysis).iter().all(|name| *name == "missing-edition"), "{bytes:?}");
        assert_eq!(analysis.verdict.findings, []);
    }
}

#[test]
fn a_byte_order_mark_is_no_part_of_the_text() {
    let with = format!("\u{feff}{}", join::floating::RULE.good);
    let analysis = analyse(with.as_bytes());
    assert_eq!((errors(&analysis), analysis.verdict.findings.len()), (vec![], 0));
}

#[test]
fn bytes_that_are_no_text_have_their_place_told() {
    let analysis = analyse(b"wattle 1\nrobot \"\xc3\xa9\"\n# \xff\n");
    assert_eq!(errors(&analysis), ["not-utf-8"]);
    let error = &analysis.verdict.errors[0];
    assert!(error.message.contains("0xff") && error.message.contains("offset 22"), "{}", error.message);
    assert_eq!(analysis.project.files[0].lines.line(error.span.start), 2, "the third line");
}

#[test]
fn control_characters_are_named() {
    let nul = analyse(format!("{HEAD}light L\0 12 V\n").as_bytes());
    assert_eq!(errors(&nul), ["control-character"]);
    assert!(nul.verdict.errors[0].message.contains("U+0000"), "{:?}", nul.verdict.errors);
    for text in ["light L \"\u{1}\u{1b}[31m\" 12 V", "\u{7}light L 12 V", "light L 12 V \u{7f}"] {
        assert_eq!(errors(&analyse(format!("{HEAD}{text}\n").as_bytes())), ["control-character"], "{text:?}");
    }
    assert_eq!(errors(&analyse(&vec![0; sized(5_000_000, 500_000)])).len(), 1);
}

#[test]
fn escapes_of_half_characters_are_refused() {
    for escape in [r"\ud800", r"\u{d800}", r"\udfff x"] {
        let text = format!("{HEAD}light L \"{escape}\" 12 V\n");
        assert_eq!(errors(&analyse(text.as_bytes())), ["bad-escape"], "{escape}");
    }
}

#[test]
fn numbers_out_of_range_are_errors_and_never_figures() {
    for (line, error) in [
        ("light L 1e999 V", "number-range"),
        ("light L 12 V { typical 1e400 A }", "number-range"),
        ("battery B lipo 99999999999999999999S", "out-of-range"),
        ("let X = 1e308 V * 1e308", "overflow"),
        ("let X = 1 V / 0", "division-by-zero"),
        ("let X = NaN", "not-a-number"),
        ("light L NaN V", "not-a-number"),
        ("block B 1000000 way", "out-of-range"),
        ("driver D { channels 500000 }", "out-of-range"),
    ] {
        let analysis = analyse(format!("{HEAD}{line}\n").as_bytes());
        assert_eq!(errors(&analysis), [error], "{line}");
    }
    let not_a_number = analyse(format!("{HEAD}light L NaN\n").as_bytes());
    assert_eq!(errors(&not_a_number), ["not-a-number"]);
}

#[test]
fn nothing_but_braces_is_one_error() {
    for text in ["{".repeat(sized(5_000_000, 500_000)), "{\n".repeat(sized(2_500_000, 250_000))] {
        assert_eq!(errors(&analyse(text.as_bytes())).len(), 1);
    }
    for text in ["}".repeat(sized(5_000_000, 500_000)), "a ; }".repeat(sized(1_000_000, 100_000))] {
        assert_eq!(errors(&analyse(text.as_bytes())).len(), 1);
    }
}

#[test]
fn ten_thousand_levels_are_too_deep() {
    let braces = format!("{HEAD}place A {}{}\n", "{ ".repeat(10_000), "} ".repeat(10_000));
    let parentheses = format!("{HEAD}let A = {}1 V{}\n", "(".repeat(10_000), ")".repeat(10_000));
    for text in [braces, parentheses] {
        assert_eq!(errors(&analyse(text.as_bytes())), ["too-deep"]);
    }
}

/// Every statement of the line has its error, one alone, and each looks at the whole line once at most.
#[test]
fn a_line_of_many_mistakes_has_each_told() {
    let count = sized(100_000, 5_000);
    let unknown = format!("{HEAD}{}\n", "x; ".repeat(count));
    assert_eq!(errors(&analyse(unknown.as_bytes())).len(), count);
    let twice = format!("{HEAD}light L {}\n", "12 V ".repeat(count));
    assert_eq!(errors(&analyse(twice.as_bytes())), ["given-twice"]);
}

#[test]
fn very_long_lines_are_read() {
    let length = sized(20_000_000, 2_000_000);
    let comment = format!("{HEAD}# {}\n", "x".repeat(length));
    assert_eq!(errors(&analyse(comment.as_bytes())).len(), 0);
    let number = format!("{HEAD}light L {} V\n", "9".repeat(length));
    assert_eq!(errors(&analyse(number.as_bytes())), ["number-range"]);
    let open = format!("{HEAD}light L \"{}\n", "a".repeat(length));
    assert_eq!(errors(&analyse(open.as_bytes())), ["unclosed-text"]);
    let marks = format!("{HEAD}light L {}\n", "@ ".repeat(length / 2));
    assert_eq!(errors(&analyse(marks.as_bytes())).len(), 1);
}

/// A report counts columns for every finding: a line of many must not be counted from its start each time.
#[test]
fn many_findings_on_one_line_are_reported() {
    let names: Vec<String> = (0..sized(40_000, 4_000)).map(|number| format!("L{number}")).collect();
    let text = format!("{HEAD}light {} 12 V\n", names.join(", "));
    let folder = Folder::with(&[("robot.wattle", text.as_bytes())]).unwrap();
    let run = run(folder.path(), &["lint", "--as", "brief", "robot.wattle"]).unwrap();
    assert_eq!(run.status, Some(1), "{}", run.trouble);
    assert!(run.out.lines().count() > names.len());
}

#[test]
fn a_circle_of_files_is_told_whole() {
    let root = format!("{HEAD}use \"b.wattle\"\n");
    let analysis = analyse_files(&[
        ("robot.wattle", root.as_bytes()),
        ("b.wattle", b"wattle 1\nuse \"c.wattle\"\n"),
        ("c.wattle", b"wattle 1\nuse \"robot.wattle\"\n"),
    ]);
    assert_eq!(errors(&analysis), ["file-cycle"]);
    let message = &analysis.verdict.errors[0].message;
    assert!(message.contains("`robot.wattle` → `b.wattle` → `c.wattle` → `robot.wattle`"), "{message}");
    check_places(&analysis);
}

#[test]
fn files_that_are_missing_or_outside_are_errors_where_they_are_used() {
    for (path, error) in [
        ("none.wattle", "missing-file"),
        ("../x.wattle", "outside-project"),
        ("a/../../x.wattle", "outside-project"),
        ("/etc/hostname", "outside-project"),
    ] {
        let analysis = analyse(format!("{HEAD}use \"{path}\"\n").as_bytes());
        assert_eq!(errors(&analysis), [error], "{path}");
        let span = analysis.verdict.errors[0].span;
        assert_eq!(span.start as usize, HEAD.len() + 4, "{path}");
    }
}

#[test]
fn one_file_too_many_is_one_error() {
    let mut root = HEAD.to_owned();
    let names: Vec<String> = (0..1_000).map(|number| format!("f{number}.wattle")).collect();
    names.iter().for_each(|name| writeln!(root, "use \"{name}\"").unwrap());
    let mut files: Vec<(&str, &[u8])> =
        names.iter().map(|name| (name.as_str(), &b"wattle 1\n"[..])).collect();
    files.push(("robot.wattle", root.as_bytes()));
    let analysis = analyse_files(&files);
    assert_eq!(analysis.verdict.errors.len(), 1, "{:?}", analysis.verdict.errors);
    let message = &analysis.verdict.errors[0].message;
    assert!(message.contains("f999.wattle") && message.contains("1000"), "{message}");
    assert_eq!(analysis.project.files.len(), project::MAX_FILES);
}

/// A small generator of its own, so that the text is the same on every machine.
struct Dice(u64);

impl Dice {
    /// A number below `sides`.
    fn roll(&mut self, sides: usize) -> usize {
        // Multiplier and increment of Knuth's MMIX generator.
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % sides
    }

    fn pick(&mut self, numbers: &[usize]) -> usize {
        numbers[self.roll(numbers.len())]
    }
}

/// Statements of every kind of line, a line each, that name what lines before have.
fn random_statements(bytes: usize) -> Vec<String> {
    let mut dice = Dice(7);
    let mut lines = vec![
        "wattle 1".to_owned(),
        "robot \"Random\" { ambient 30 degC }".to_owned(),
        "battery PACK lead-acid 6S 7 Ah 20 mohm".to_owned(),
        "block PLUS 20 way 100 A".to_owned(),
        "block MINUS 20 way 100 A".to_owned(),
        "fuse MAIN 60 A bolt-down".to_owned(),
        "wire W0 PACK.pos to MAIN.line 8 AWG red 100 mm".to_owned(),
        "wire W1 MAIN.load to PLUS 8 AWG red 200 mm".to_owned(),
        "wire W2 PACK.neg to MINUS 8 AWG black 200 mm".to_owned(),
    ];
    // One of each to begin with, so that each has something to name.
    let (mut fuses, mut lights, mut switches, mut resistors) = (vec![0], vec![0], vec![0], vec![0]);
    lines.extend(
        ["fuse F0 3 A blade on PLUS", "light L0 12 V", "switch S0 10 A 32 V", "resistor R0 9 ohm"]
            .map(str::to_owned),
    );
    let mut length = 0;
    for number in 1.. {
        if length > bytes {
            break;
        }
        let line = match dice.roll(8) {
            0 => {
                fuses.push(number);
                format!("fuse F{number} {} A blade on PLUS", [3, 5, 10][dice.roll(3)])
            }
            1 => {
                lights.push(number);
                format!("light L{number} 12 V {{ typical 0.2 A }}")
            }
            2 => {
                let (fuse, light) = (dice.pick(&fuses), dice.pick(&lights));
                format!("wire A{number} F{fuse}.load to L{light}.pos 14 AWG red {} mm", 100 + number % 900)
            }
            3 => format!("wire B{number} L{}.neg to MINUS 14 AWG black 400 mm", dice.pick(&lights)),
            4 => {
                switches.push(number);
                format!("switch S{number} \"Switch µ {number}\" 10 A 32 V")
            }
            5 => {
                let switch = dice.pick(&switches);
                format!("wire C{number} S{switch}.1 to PLUS 12 AWG red 300 mm {{ current-limit 10 A }}")
            }
            6 => {
                resistors.push(number);
                format!("resistor R{number} {} ohm", 100 + number % 900)
            }
            _ => format!("tie R{}.1 to MINUS", dice.pick(&resistors)),
        };
        length += line.len() + 1;
        lines.push(line);
    }
    lines
}

/// Puts into a line what no line may hold there.
fn damage(line: &str, dice: &mut Dice) -> String {
    let junk = [" @ ", " >= ", " ) ", " .. .. ", " “ "][dice.roll(5)];
    let words: Vec<&str> = line.split(' ').collect();
    // Inside a text any mark may stand.
    let at = if line.contains('"') { 1 } else { 1 + dice.roll(words.len() - 1) };
    format!("{}{junk}{}", words[..at].join(" "), words[at..].join(" "))
}

/// What is found, without places: those move when lines are taken out.
fn found(analysis: &Analysis) -> BTreeSet<(&'static str, String)> {
    analysis.verdict.findings.iter().map(|finding| (finding.rule, finding.subject.clone())).collect()
}

#[test]
fn damaged_lines_cost_an_error_each_and_make_up_no_finding() {
    let lines = random_statements(1_000_000);
    let mut dice = Dice(11);
    let hurt: BTreeMap<usize, String> = (0..lines.len() / 100)
        .map(|_| HEAD_LINES + dice.roll(lines.len() - HEAD_LINES))
        .map(|at| (at, damage(&lines[at], &mut Dice(at as u64))))
        .collect();
    let damaged: Vec<&str> =
        lines.iter().enumerate().map(|(at, line)| hurt.get(&at).unwrap_or(line).as_str()).collect();
    let with = analyse(damaged.join("\n").as_bytes());
    let file = &with.project.files[0];
    let told: Vec<usize> =
        file.parse.errors.iter().map(|error| file.lines.line(error.span.start) as usize).collect();
    let lines_hurt: Vec<usize> = hurt.keys().copied().collect();
    assert_eq!(told, lines_hurt, "one error of syntax for each damaged line");
    let whole = found(&analyse(lines.join("\n").as_bytes()));
    let made_up: Vec<_> = found(&with).difference(&whole).cloned().collect();
    assert!(made_up.is_empty(), "{made_up:?}");
    assert!(!whole.is_empty(), "the text gives something to find");
}

/// The files of each example, by the names that `use` gives them, the robot first.
fn examples() -> Vec<Vec<(String, Vec<u8>)>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples");
    let (mut robots, mut parts) = (Vec::new(), BTreeMap::<PathBuf, Vec<(String, Vec<u8>)>>::new());
    for path in files_below(&folder).unwrap() {
        let bytes = fs::read(&path).unwrap();
        let above = path.parent().unwrap().to_owned();
        if String::from_utf8_lossy(&bytes).contains("\nrobot ") {
            robots.push((above, bytes));
        } else {
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            parts.entry(above).or_default().push((name, bytes));
        }
    }
    let beside = |above: &Path| parts.get(above).cloned().unwrap_or_default();
    let whole = |(above, robot): (PathBuf, Vec<u8>)| {
        std::iter::once(("robot.wattle".to_owned(), robot)).chain(beside(&above)).collect()
    };
    robots.into_iter().map(whole).collect()
}

/// Analyses an example with another text of its robot.
fn with_robot(example: &[(String, Vec<u8>)], robot: &[u8]) -> Analysis {
    let mut files: Vec<(&str, &[u8])> =
        example.iter().map(|(name, bytes)| (name.as_str(), bytes.as_slice())).collect();
    files[0].1 = robot;
    let analysis = analyse_files(&files);
    check_places(&analysis);
    analysis
}

#[test]
fn half_typed_examples_are_analysed() {
    for example in examples() {
        let robot = &example[0].1;
        // Every 97th byte; in the unoptimised build every seventh of those.
        for end in (0..robot.len()).step_by(sized(97, 7 * 97)) {
            with_robot(&example, &robot[..end]);
        }
    }
}

/// Also a line of a part, a place, a mode: what takes its facts from there is not judged without them.
#[test]
fn a_damaged_line_of_a_robot_makes_up_no_finding() {
    let mut tried = 0;
    for (number, example) in examples().iter().enumerate() {
        let robot = String::from_utf8(example[0].1.clone()).unwrap();
        let whole = found(&with_robot(example, robot.as_bytes()));
        let lines: Vec<&str> = robot.split('\n').collect();
        let is_statement = |line: &str| line.contains(' ') && !line.starts_with('#');
        for at in (number..lines.len()).step_by(sized(7, 61)).filter(|at| is_statement(lines[*at].trim())) {
            let hurt = damage(lines[at].trim_start(), &mut Dice(at as u64));
            let mut damaged = lines.clone();
            damaged[at] = &hurt;
            let with = with_robot(example, damaged.join("\n").as_bytes());
            let made_up: Vec<_> = found(&with).difference(&whole).cloned().collect();
            assert!(made_up.is_empty(), "{hurt}: {made_up:?}");
            tried += 1;
        }
    }
    assert!(tried > 30, "only {tried} lines were damaged");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: sized(400, 40) as u32, ..ProptestConfig::default() })]

    #[test]
    fn examples_with_flipped_bytes_are_analysed(
        which in any::<usize>(), flips in proptest::collection::vec((any::<usize>(), 0_u8..8), 1..12)
    ) {
        let examples = examples();
        let example = &examples[which % examples.len()];
        let mut robot = example[0].1.clone();
        for (at, bit) in flips {
            let at = at % robot.len();
            robot[at] ^= 1 << bit;
        }
        with_robot(example, &robot);
    }
}

/// What cannot be solved is said, and the exit status tells that not everything was analysed.
#[test]
fn robots_without_a_working_point_say_why() {
    for (rule, status) in [
        (&relay::chattering::RULE, 3),
        (&supply::overdrawn::RULE, 3),
        (&polarity::shorted_source::RULE, 3),
        (&join::floating::RULE, 1),
    ] {
        let verdict = memory::analyse(rule.bad).verdict;
        assert!(verdict.findings.iter().any(|finding| finding.rule == rule.name), "{}", rule.name);
        assert_eq!(verdict.incomplete.is_empty(), status == 1, "{}: {:?}", rule.name, verdict.incomplete);
        let folder = Folder::with(&[("robot.wattle", rule.bad.as_bytes())]).unwrap();
        let run = run(folder.path(), &["lint", "--as", "brief", "robot.wattle"]).unwrap();
        assert_eq!(run.status, Some(status), "{}", run.out);
        assert!(run.out.contains(&format!("[{}]", rule.name)), "{}", run.out);
    }
}

/// The command itself, as a process of its own, on the worst of the above.
#[test]
fn the_command_survives_what_the_library_survives() {
    let braces = "{".repeat(sized(5_000_000, 200_000));
    let files: [(&str, &[u8], i32); 4] = [
        ("braces.wattle", braces.as_bytes(), 3),
        ("zeros.wattle", &[0; 100_000], 3),
        ("bytes.wattle", b"wattle 1\n\xff\xfe\x00", 3),
        ("empty.wattle", b"", 0),
    ];
    for (name, bytes, status) in files {
        let folder = Folder::with(&[(name, bytes)]).unwrap();
        for form in ["text", "brief", "json"] {
            let run = run(folder.path(), &["lint", "--as", form, name]).unwrap();
            assert_eq!((run.status, run.trouble.as_str()), (Some(status), ""), "{name} as {form}");
        }
    }
}
