//! The built `wattle` command: statuses, streams, forms, and what it makes of paths.

#![allow(clippy::expect_used, reason = "a helper of a test may fail the test")]

use std::path::Path;

use wattle_tests::{
    command::{Run, run, run_with, wattle},
    folder::Folder,
};

/// A byte that is no UTF-8, in line 2 behind `é😀µ`: line ends are of two kinds.
const BAD_BYTES: &[u8] = b"wattle 1\r\n# \xc3\xa9\xf0\x9f\x98\x80\xc2\xb5 \xff\n";

fn folder(files: &[(&str, &[u8])]) -> Folder {
    Folder::with(files).expect("the folder can be made")
}

fn lint(folder: &Folder, arguments: &[&str]) -> Run {
    let arguments: Vec<&str> = ["lint"].iter().chain(arguments).copied().collect();
    run(folder.path(), &arguments).expect("wattle runs")
}

fn anywhere(arguments: &[&str]) -> Run {
    run(Path::new("."), arguments).expect("wattle runs")
}

/// The paths that a brief report counts, in its order.
fn roots(run: &Run) -> Vec<&str> {
    run.out.lines().filter_map(|line| Some(line.split_once(": counts: ")?.0)).collect()
}

fn json(run: &Run) -> serde_json::Value {
    serde_json::from_str(&run.out).expect("the report is JSON")
}

#[test]
fn the_version_is_told() {
    let run = anywhere(&["--version"]);
    assert_eq!((run.status, run.trouble.as_str()), (Some(0), ""));
    assert_eq!(run.out, format!("wattle {}\n", env!("CARGO_PKG_VERSION")));
}

#[test]
fn wrong_use_is_told_on_standard_error() {
    let wrong: [&[&str]; 10] = [
        &[],
        &["lint", "--unknown"],
        &["lint", "--deny", "everything"],
        &["lint", "--as", "prose"],
        &["lint", "--width", "3"],
        &["lint", "-", "-"],
        &["lint", "--under", "x.wattle", "."],
        &["rules", "no.such-rule"],
        &["stock", "no-such-part"],
        &["unknown"],
    ];
    for arguments in wrong {
        let run = anywhere(arguments);
        assert_eq!((run.status, run.out.as_str()), (Some(2), ""), "{arguments:?}");
        assert!(!run.trouble.is_empty(), "{arguments:?}");
    }
}

#[test]
fn help_tells_every_exit_status() {
    let run = anywhere(&["lint", "--help"]);
    assert_eq!((run.status, run.trouble.as_str()), (Some(0), ""));
    for status in 0..=4 {
        assert!(run.out.contains(&format!("\n  {status}  ")), "{}", run.out);
    }
}

#[test]
fn a_file_without_errors_is_clean_and_says_what_was_checked() {
    let folder = folder(&[("parts.wattle", b"wattle 1\n")]);
    let run = lint(&folder, &["parts.wattle"]);
    assert_eq!((run.status, run.trouble.as_str()), (Some(0), ""), "{}", run.out);
    assert!(run.out.starts_with("parts.wattle: no findings\n"), "{}", run.out);
    assert!(run.out.contains("only its text was checked") && run.out.contains("caution: "), "{}", run.out);
    assert!(!run.out.contains("safe"), "{}", run.out);
}

#[test]
fn a_missing_file_is_incomplete_in_every_form() {
    let folder = folder(&[]);
    for form in ["text", "brief", "json"] {
        let run = lint(&folder, &["none.wattle", "--as", form]);
        assert_eq!(run.status, Some(3), "{form}");
        assert!(run.out.contains("cannot read `none.wattle`: no such file"), "{}", run.out);
    }
    let document = json(&lint(&folder, &["none.wattle", "--as", "json"]));
    assert_eq!(document["complete"], false);
    assert_eq!(document["counts"]["errors"], 1);
}

#[test]
fn one_bad_file_among_good_ones_makes_the_run_incomplete() {
    let folder = folder(&[("a.wattle", b"wattle 1\n"), ("b.wattle", BAD_BYTES)]);
    let run = lint(&folder, &["b.wattle", "a.wattle", "--as", "brief"]);
    assert_eq!(run.status, Some(3));
    assert_eq!(roots(&run), ["a.wattle", "b.wattle"]);
    assert!(run.out.contains("b.wattle:"), "{}", run.out);
}

#[test]
fn standard_input_has_the_name_it_is_given() {
    let folder = folder(&[]);
    let arguments = ["lint", "-", "--under", "robots/x.wattle", "--as", "brief"];
    let run = run_with(folder.path(), &arguments, b"wattle 1\n", &[]).expect("wattle runs");
    assert_eq!((run.status, roots(&run)), (Some(0), vec!["robots/x.wattle"]), "{}", run.out);
    let run = run_with(folder.path(), &arguments, BAD_BYTES, &[]).expect("wattle runs");
    assert_eq!((run.status, roots(&run)), (Some(3), vec!["robots/x.wattle"]), "{}", run.out);
    let run = run_with(folder.path(), &["lint", "-", "--as", "brief"], b"", &[]).expect("wattle runs");
    assert_eq!(roots(&run), ["-"], "{}", run.out);
}

#[test]
fn standard_input_wins_over_the_file_of_its_name() {
    let folder = folder(&[("x.wattle", BAD_BYTES)]);
    let arguments = ["lint", "-", "--under", "x.wattle"];
    let run = run_with(folder.path(), &arguments, b"wattle 1\n", &[]).expect("wattle runs");
    assert_eq!(run.status, Some(0), "{}", run.out);
}

#[test]
fn a_file_named_twice_is_checked_once() {
    let folder = folder(&[("sub/a.wattle", b"wattle 1\n")]);
    let run = lint(&folder, &["sub/a.wattle", "./sub/a.wattle", "sub", ".", "--as", "brief"]);
    assert_eq!(roots(&run), ["sub/a.wattle"], "{}", run.out);
}

#[test]
fn a_folder_is_searched_at_every_depth_in_order() {
    let one: &[u8] = b"wattle 1\n";
    let files = [
        ("z.wattle", one),
        ("b/c/d.wattle", one),
        ("b/a.wattle", one),
        ("b/notes.txt", one),
        (".hidden/h.wattle", one),
        ("b/.h.wattle", one),
    ];
    let folder = folder(&files);
    assert_eq!(roots(&lint(&folder, &["--as", "brief"])), ["b/a.wattle", "b/c/d.wattle", "z.wattle"]);
    assert_eq!(roots(&lint(&folder, &["b", "--as", "brief"])), ["b/a.wattle", "b/c/d.wattle"]);
}

#[test]
fn a_folder_with_nothing_to_check_is_not_clean() {
    let folder = folder(&[("sub/notes.txt", b"")]);
    let run = lint(&folder, &["sub"]);
    assert_eq!(run.status, Some(3));
    assert!(run.out.contains("there is no `.wattle` file below this folder"), "{}", run.out);
    assert_eq!(json(&lint(&folder, &["sub", "--as", "json"]))["complete"], false);
}

#[cfg(unix)]
#[test]
fn a_link_in_a_circle_does_not_hang_the_search() {
    let folder = folder(&[("a/x.wattle", b"wattle 1\n")]);
    std::os::unix::fs::symlink(folder.path(), folder.path().join("a/up")).expect("the link can be made");
    assert_eq!(roots(&lint(&folder, &["--as", "brief"])), ["a/x.wattle"]);
}

#[test]
fn two_runs_give_the_same_bytes() {
    let folder =
        folder(&[("a.wattle", b"wattle 1\n"), ("b.wattle", BAD_BYTES), ("c.wattle", b"wattle 99\n}{\n")]);
    for form in ["text", "brief", "json"] {
        let first = lint(&folder, &["--as", form]);
        assert_eq!(first, lint(&folder, &["--as", form]), "{form}");
        assert!(!first.out.is_empty());
    }
}

#[test]
fn colour_is_for_terminals_and_for_those_who_ask() {
    let folder = folder(&[("b.wattle", BAD_BYTES)]);
    let coloured = |arguments: &[&str], variables: &[(&str, &str)]| {
        let arguments: Vec<&str> = ["lint", "b.wattle"].iter().chain(arguments).copied().collect();
        run_with(folder.path(), &arguments, b"", variables).expect("wattle runs").out.contains('\u{1b}')
    };
    assert!(!coloured(&[], &[]), "a pipe is no terminal");
    assert!(coloured(&["--colour", "always"], &[("NO_COLOR", "1")]));
    assert!(coloured(&[], &[("CLICOLOR_FORCE", "1")]));
    assert!(!coloured(&[], &[("CLICOLOR_FORCE", "1"), ("NO_COLOR", "1")]));
    assert!(!coloured(&["--colour", "never"], &[("CLICOLOR_FORCE", "1")]));
    assert!(!coloured(&["--as", "json", "--colour", "always"], &[]));
}

#[test]
fn prose_is_broken_at_the_width() {
    let folder = folder(&[("a.wattle", b"wattle 1\n")]);
    let run = lint(&folder, &["--width", "44"]);
    assert!(run.out.lines().all(|line| line.chars().count() <= 44), "{}", run.out);
    assert!(run.out.lines().count() > 10);
}

#[test]
fn the_catalogue_and_its_pages() {
    let list = anywhere(&["rules"]);
    assert_eq!(list.status, Some(0));
    let names: Vec<&str> = list.out.lines().filter(|line| !line.starts_with(' ')).collect();
    assert!(names.contains(&"accept.unused (untidy)") && names.is_sorted(), "{names:?}");
    let page = anywhere(&["rules", "accept.unused", "--as", "markdown"]);
    assert_eq!(page.status, Some(0));
    assert!(page.out.starts_with("# `accept.unused`\n"), "{}", page.out);
    let near = anywhere(&["rules", "accept.unusd"]);
    assert_eq!(near.trouble, "wattle: there is no rule `accept.unusd`; did you mean `accept.unused`?\n");
}

#[test]
fn the_stock_and_one_part_of_it() {
    let list = anywhere(&["stock"]);
    assert_eq!((list.status, list.trouble.as_str()), (Some(0), ""));
    let line = list.out.lines().find(|line| line.starts_with("servo-extension"));
    assert!(line.is_some_and(|line| line.contains("  assembly  ")), "{}", list.out);
    assert!(list.out.lines().all(|line| line.chars().count() <= 80), "{}", list.out);
    let page = anywhere(&["stock", "blade-30", "--width", "60"]);
    assert_eq!(page.status, Some(0));
    assert!(page.out.contains("\n    part blade-30  is blade 30 A\n"), "{}", page.out);
    assert!(page.out.contains("\n  breaking-capacity  1 kA     `blade`\n"), "{}", page.out);
    let near = anywhere(&["stock", "balde-30"]);
    assert_eq!(near.trouble, "wattle: there is no `balde-30` in the stock; did you mean `blade-30`?\n");
}

#[test]
fn a_robot_uses_the_stock_and_the_report_shows_it() {
    let robot = b"wattle 1\nrobot \"X\" { ambient 20 degC }\nmotor M : blade-30\n";
    let folder = folder(&[("x.wattle", robot)]);
    let run = lint(&folder, &["x.wattle", "--as", "json"]);
    let error = &json(&run)["robots"][0]["errors"][0];
    assert_eq!(error["message"], "`blade-30` is a fuse, not a motor", "{}", run.out);
    assert_eq!(error["related"][0]["place"]["path"], "<stock.wattle>", "{}", run.out);
    let run = lint(&folder, &["x.wattle"]);
    assert!(run.out.contains("<stock.wattle>:") && run.out.contains("part blade-30"), "{}", run.out);
}

#[cfg(target_os = "linux")]
#[test]
fn a_report_that_cannot_be_written_is_incomplete() {
    let full = std::fs::File::options().write(true).open("/dev/full").expect("the device is there");
    let output = std::process::Command::new(wattle().expect("wattle is built"))
        .arg("rules")
        .stdout(full)
        .output()
        .expect("wattle runs");
    assert_eq!(output.status.code(), Some(3));
    assert!(String::from_utf8_lossy(&output.stderr).contains("cannot write the report"));
}

#[test]
fn a_reader_that_has_gone_away_is_no_error() {
    let mut child = std::process::Command::new(wattle().expect("wattle is built"))
        .args(["rules", "--as", "markdown"])
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .expect("wattle runs");
    drop(child.stdout.take());
    let output = child.wait_with_output().expect("wattle ends");
    assert_eq!((output.status.code(), output.stderr.as_slice()), (Some(0), b"".as_slice()));
}

const ROBOT: &[u8] = b"wattle 1\nuse \"parts.wattle\"\nrobot \"X\" { ambient 20 degC }\n";

#[test]
fn in_a_folder_robots_are_roots_and_what_they_use_is_not() {
    let one: &[u8] = b"wattle 1\n";
    let folder = folder(&[("x.wattle", ROBOT), ("parts.wattle", one), ("stray.wattle", one)]);
    assert_eq!(roots(&lint(&folder, &["--as", "brief"])), ["stray.wattle", "x.wattle"]);
    let named = lint(&folder, &["parts.wattle", ".", "--as", "brief"]);
    assert_eq!(roots(&named), ["parts.wattle", "stray.wattle", "x.wattle"]);
}

#[test]
fn a_robot_whose_statement_is_broken_is_not_passed_over() {
    let folder = folder(&[("x.wattle", b"wattle 1\nrobot X {\n")]);
    let run = lint(&folder, &["--as", "brief"]);
    assert_eq!(run.status, Some(3));
    assert!(run.out.starts_with("x.wattle:2:"), "{}", run.out);
}

#[test]
fn an_error_in_a_file_of_two_robots_is_told_once() {
    let parts = "wattle 1\n# é😀µ\nmotor \"é😀µ\"\n".as_bytes();
    let folder = folder(&[("a.wattle", ROBOT), ("b.wattle", ROBOT), ("parts.wattle", parts)]);
    let run = lint(&folder, &["--as", "brief"]);
    assert_eq!(run.status, Some(3));
    assert_eq!(run.out.matches("parts.wattle:3:7: error[").count(), 1, "{}", run.out);
    assert!(run.out.contains("b.wattle: incomplete: 1 error of files"), "{}", run.out);
    let text = lint(&folder, &["a.wattle"]).out;
    assert!(text.contains(" 3 │ motor \"é😀µ\"\n   │       ──┬───\n"), "{text}");
    assert_eq!(json(&lint(&folder, &["--as", "json"]))["counts"]["errors"], 2, "each robot has it");
}

#[test]
fn standard_input_uses_the_files_beside_its_name() {
    let folder = folder(&[("sub/parts.wattle", b"wattle 1\nmotor\n")]);
    let arguments = ["lint", "-", "--under", "sub/x.wattle", "--as", "brief"];
    let run = run_with(folder.path(), &arguments, ROBOT, &[]).expect("wattle runs");
    assert!(run.out.starts_with("sub/parts.wattle:2:"), "{}", run.out);
}
