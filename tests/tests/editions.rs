//! What `grammar/EDITIONS.md` promises, as far as it can be tried out.

use std::{
    collections::{BTreeMap, BTreeSet},
    fs,
    path::{Path, PathBuf},
};

use wattle_grammar::{parse, span::FileId, syntax::Item, tidy::tidy};
use wattle_linter::{
    analysis::{self, Analysis},
    project,
    report::json,
    rules,
};
use wattle_tests::{command, folder::Folder, memory};

fn errors(analysis: &Analysis) -> Vec<&'static str> {
    analysis.verdict.errors.iter().map(|error| error.name).collect()
}

const ROBOT: &str = "robot \"Hut\"\nfuse F1 5 A blade\nstud A, B\nwire W1 A to B 12 AWG red 1 m\n";

#[test]
fn a_file_of_an_unknown_edition_is_one_error_and_read_as_the_first() {
    for line in ["wattle 2", "wattle 1.1", "wattle 01"] {
        let analysis = memory::analyse(&format!("{line}\n{ROBOT}"));
        assert_eq!(errors(&analysis), ["language.unknown-edition"], "{line}");
        assert_eq!((analysis.design.things.len(), analysis.design.wires.len()), (3, 1), "{line}");
    }
}

#[test]
fn a_missing_edition_is_an_error_with_a_mend_and_read_as_the_first() {
    let analysis = memory::analyse(ROBOT);
    assert_eq!(errors(&analysis), ["language.missing-edition"]);
    let (at, mend) = analysis.verdict.errors[0].mend.clone().unwrap();
    assert_eq!((at.start, at.end, mend.as_str()), (0, 0, "wattle 1\n"));
    assert_eq!(analysis.design.wires.len(), 1);
    for empty in ["", "# nothing\n", "\u{feff}\n\n"] {
        assert!(parse(FileId(0), empty).errors.is_empty(), "{empty:?}");
    }
}

#[test]
fn the_edition_stands_once_and_first() {
    for text in [
        format!("wattle 1\n{ROBOT}wattle 1\n"),
        format!("wattle 1\nwattle 1\n{ROBOT}"),
        format!("wattle 1\n{ROBOT}assembly X {{\n  wattle 1\n}}\n"),
    ] {
        assert_eq!(errors(&memory::analyse(&text)).len(), 1, "{text}");
    }
}

#[test]
fn each_file_says_its_own_edition() {
    let root = PathBuf::from("robot.wattle");
    let files = [
        (root.clone(), format!("wattle 1\nuse \"old.wattle\"\nuse \"new.wattle\"\n{ROBOT}")),
        (PathBuf::from("old.wattle"), "part p is fuse 5 A\n".to_owned()),
        (PathBuf::from("new.wattle"), "wattle 9\npart q is fuse 5 A\n".to_owned()),
    ];
    let files = files.map(|(path, text)| (path, text.into_bytes()));
    let project = project::open(&root, &memory::Memory(BTreeMap::from(files)));
    let found: BTreeSet<_> = errors(&analysis::analyse(project, None)).into_iter().collect();
    assert_eq!(found, BTreeSet::from(["language.missing-edition", "language.unknown-edition"]));
}

#[test]
fn nobody_lays_out_a_file_of_an_unknown_edition() {
    let text = "wattle 2\nfuse    F  3A\n   motor M 24V\n";
    assert_eq!(tidy(&parse(FileId(0), text), text), text);
}

#[test]
fn a_robot_with_an_unknown_edition_ends_with_status_3() {
    let folder = Folder::with(&[("robot.wattle", format!("wattle 2\n{ROBOT}").as_bytes())]).unwrap();
    let run = command::run(folder.path(), &["lint", "robot.wattle"]).unwrap();
    assert_eq!(run.status, Some(3), "{}", run.out);
}

/// Keys of one's own in every block of settings.
const OWN: &str = "wattle 1
robot \"Hut\" { x-a 1 }
place body { x-a red/white }
group G { x-a \"text\" 2 V }
part p is fuse 5 A { x-a }
fuse F : p { x-a 2027-03-01; not x-b }
stud A, B { x-a A.b .. 3 }
wire W A to B 12 AWG red 1 m { x-a 3 foo }
harness H 12 AWG 1 m { x-a 1; 1 A to B red { x-a 1 }; 2 spare { x-a 1 } }
tie A to B { x-a 1 }
plug P, Q 2 way
mate P with Q { x-a 1 }
assembly L { x-a 1; note \"kept\"; stud S { x-a 1 } }
fit L as l { x-a 1 }
";

#[test]
fn keys_of_ones_own_are_kept_and_never_read() {
    let analysis = memory::analyse(OWN);
    assert_eq!(errors(&analysis), Vec::<&str>::new(), "{:?}", analysis.verdict.errors);
    let file = parse(FileId(0), OWN).file;
    let keys = file.all_items().flat_map(|item| match item {
        Item::Thing(thing) => thing.settings.iter().map(|setting| &*setting.key.text).collect(),
        _ => Vec::new(),
    });
    assert_eq!(keys.filter(|key| key.starts_with("x-")).count(), 4, "kept in the tree");
    let facts = analysis.design.things.iter().flat_map(|thing| &thing.ratings);
    assert!(facts.map(|rated| rated.key).all(|key| !key.starts_with("x-")), "never a rating");
    let laid_out = tidy(&parse(FileId(0), OWN), OWN);
    assert_eq!(laid_out.matches("x-a").count(), OWN.matches("x-a").count());
}

#[test]
fn an_error_of_the_language_cannot_be_accepted() {
    let text = format!(
        "wattle 1\n{ROBOT}motor M 24 V at nowhere\naccept language.unknown-name on M because \"no\"\n"
    );
    let analysis = memory::analyse(&text);
    assert!(errors(&analysis).contains(&"language.unknown-name"), "{:?}", errors(&analysis));
    assert_eq!(errors(&analysis).len(), 2, "{:?}", errors(&analysis));
}

#[test]
fn the_report_for_machines_says_its_format() {
    assert_eq!(json::FORMAT, 1);
    assert!(json::render(&[]).unwrap().contains("\"format\": 1,"));
}

/// `UPDATE=1 cargo test -p wattle-tests --test editions` adds new names; one that goes is taken off by hand, and only
/// while it has not been released.
#[test]
fn no_name_of_a_rule_goes() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("data/rule-names.txt");
    let list = fs::read_to_string(&path).unwrap_or_default();
    let promised: BTreeSet<&str> = list.lines().collect();
    let present: BTreeSet<&str> = rules::names().into_iter().collect();
    let gone: Vec<_> = promised.difference(&present).collect();
    assert!(gone.is_empty(), "rules are gone: {gone:?}");
    if std::env::var_os("UPDATE").is_some() {
        fs::write(&path, present.iter().map(|name| format!("{name}\n")).collect::<String>()).unwrap();
    } else {
        assert_eq!(promised, present, "run with UPDATE=1");
    }
}
