//! The settings file: every mistake with its exact words, what it does to a robot, and the schema for editors.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on may say so by a panic")]

use std::{
    collections::BTreeSet,
    fs,
    path::{Path, PathBuf},
};

use serde_json::Value;
use wattle_linter::{
    report::{Report, brief, json},
    settings::KEYS,
};
use wattle_tests::{command, folder::Folder, memory};

const FOLDER: &str = "fixtures/settings";

const ROBOT: &str = "wattle 1\nrobot \"Hut\" { ambient 30 degC }\nbattery PACK lead-acid 6S 7 Ah 20 mohm\n\
    fuse F1 5 A blade\nlight LAMP 12 V { typical 2 A }\nwire W1 PACK.pos to F1.line 18 AWG red 100 mm\n\
    wire W2 F1.load to LAMP.pos 18 AWG red 300 mm\nwire W3 LAMP.neg to PACK.neg 18 AWG black 400 mm\n";

fn inputs() -> Vec<PathBuf> {
    let mut files: Vec<PathBuf> = fs::read_dir(FOLDER).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.retain(|path| path.extension().is_some_and(|ending| ending == "toml"));
    files.sort();
    files
}

/// The brief report on a robot beside a settings file.
fn told(robot: &str, settings: &str) -> String {
    let analysis = memory::analyse_files(&[("robot.wattle", robot), ("wattle.toml", settings)]);
    let mut told = brief::lines(&Report::new("robot.wattle", &analysis.project, &analysis.verdict));
    for error in &analysis.verdict.errors {
        told.push_str(&format!("  {} / {}\n", error.label, error.help.as_deref().unwrap_or("")));
    }
    told
}

#[test]
fn every_mistake_is_told_in_these_words() {
    let mut wrong = Vec::new();
    for input in inputs() {
        let told = told(ROBOT, &fs::read_to_string(&input).unwrap());
        let expected = input.with_extension("expected");
        if std::env::var_os("UPDATE").is_some() {
            fs::write(&expected, &told).unwrap();
        } else if fs::read_to_string(&expected).unwrap_or_default() != told {
            wrong.push(format!("{}:\n{told}", input.display()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn one_mistake_is_one_error_at_its_line_with_what_would_be_right() {
    for input in inputs() {
        let text = fs::read_to_string(&input).unwrap();
        let analysis = memory::analyse_files(&[("robot.wattle", ROBOT), ("wattle.toml", &text)]);
        let errors = &analysis.verdict.errors;
        let is_sound = input.file_name().unwrap().to_string_lossy().starts_with("none-");
        assert_eq!(errors.len(), usize::from(!is_sound), "{}: {errors:?}", input.display());
        for error in errors {
            let place = Report::new("robot.wattle", &analysis.project, &analysis.verdict);
            assert_eq!(place.place(error.span).path, "wattle.toml", "{error:?}");
            assert!(error.help.is_some() && !error.label.is_empty(), "{error:?}");
            assert!(!error.message.ends_with('.') && error.message.chars().count() <= 110, "{error:?}");
        }
    }
}

/// A table that holds 18 AWG of 60 °C to 3 A.
const THIN: &str = "profile = \"own\"\n[ampacity]\nname = \"cautious\"\nsource = \"my own measurement\"\nair = \"30 °C\"\n\
    insulation = [\"60 °C\"]\n[ampacity.sizes]\n\"18 AWG\" = [\"3 A\"]\n";

#[test]
fn the_authors_table_judges_the_robot_and_the_report_names_it() {
    let analysis = memory::analyse_files(&[("a/robot.wattle", ROBOT), ("wattle.toml", THIN)]);
    let verdict = &analysis.verdict;
    assert!(verdict.errors.is_empty(), "{:?}", verdict.errors);
    let found: Vec<&str> = verdict.findings.iter().map(|finding| finding.rule).collect();
    assert_eq!(found, ["wire.undersized"]);
    assert!(
        verdict.findings[0].message.contains("its limit is 3 A (profile `own`)"),
        "{:?}",
        verdict.findings
    );
    for part in ["profile `own` (of `wattle.toml`): cautious", "my own measurement"] {
        assert!(verdict.basis.iter().any(|sentence| sentence.contains(part)), "{part}: {:?}", verdict.basis);
    }
}

#[test]
fn the_robots_own_profile_wins_and_the_nearest_file_holds_alone() {
    let named = ROBOT.replace("ambient", "profile boat; ambient");
    let analysis = memory::analyse_files(&[("robot.wattle", &named), ("wattle.toml", THIN)]);
    assert!(analysis.verdict.findings.is_empty());
    assert_eq!(analysis.profile.word, "boat");
    let nearer = "profile = \"still-air\"\n";
    let files = [("a/robot.wattle", ROBOT), ("wattle.toml", THIN), ("a/wattle.toml", nearer)];
    assert_eq!(memory::analyse_files(&files).profile.word, "still-air");
    let own = ROBOT.replace("ambient", "profile own; ambient");
    let thin = THIN.replace("profile = \"own\"\n", "");
    assert_eq!(
        memory::analyse_files(&[("robot.wattle", &own), ("wattle.toml", &thin)]).profile.name,
        "cautious"
    );
}

#[test]
fn without_a_table_nothing_passes_and_the_run_is_incomplete() {
    let own = ROBOT.replace("ambient", "profile own; ambient");
    for files in
        [vec![("robot.wattle", own.as_str())], vec![("robot.wattle", own.as_str()), ("wattle.toml", "")]]
    {
        let verdict = memory::analyse_files(&files).verdict;
        let names: Vec<&str> = verdict.errors.iter().map(|error| error.name).collect();
        assert_eq!(names, ["settings.missing-table"]);
        assert!(!verdict.incomplete.is_empty());
    }
    let broken = THIN.replace("\"3 A\"", "\"3 V\"");
    let verdict = memory::analyse_files(&[("robot.wattle", ROBOT), ("wattle.toml", &broken)]).verdict;
    assert_eq!(verdict.errors.len(), 1);
    assert!(verdict.incomplete.iter().any(|why| why.contains("no wire and no device was judged")));
    assert!(
        verdict.not_assessed.iter().any(|gap| gap.subject == "W2" && gap.missing.contains("`own` has none"))
    );
}

#[test]
fn the_json_report_has_the_place_in_the_settings_file() {
    let broken = THIN.replace("\"3 A\"", "\"3 V\"");
    let analysis = memory::analyse_files(&[("robot.wattle", ROBOT), ("wattle.toml", &broken)]);
    let report = Report::new("robot.wattle", &analysis.project, &analysis.verdict);
    let document: Value = serde_json::from_str(&json::render(&[report]).unwrap()).unwrap();
    let place = &document["robots"][0]["errors"][0]["place"];
    assert_eq!(place["path"], "wattle.toml");
    assert_eq!(place["start"]["line"], 8);
    assert_eq!(document["complete"], false);
}

#[test]
fn the_command_finds_the_file_above_and_ends_with_3_where_it_is_wrong() {
    let files: [(&str, &[u8]); 2] =
        [("robots/hut/robot.wattle", ROBOT.as_bytes()), ("wattle.toml", THIN.as_bytes())];
    let folder = Folder::with(&files).unwrap();
    let run = || command::run(folder.path(), &["lint", "--as", "brief", "robots/hut/robot.wattle"]).unwrap();
    let found = run();
    assert_eq!(found.status, Some(1), "{}", found.out);
    assert!(found.out.contains("profile `own` (of `wattle.toml`)"), "{}", found.out);
    fs::write(folder.path().join("wattle.toml"), THIN.replace("source =", "sauce =")).unwrap();
    let wrong = run();
    assert_eq!(wrong.status, Some(3), "{}", wrong.out);
    assert!(wrong.out.contains("wattle.toml:4:1: error[settings.unknown-key] `sauce`"), "{}", wrong.out);
}

/// The published schema.
fn schema() -> Value {
    let text = fs::read_to_string(Path::new("../linter/src/settings/wattle.schema.json")).unwrap();
    serde_json::from_str(&text).unwrap()
}

#[test]
fn the_keys_of_the_schema_are_those_of_the_reader() {
    let schema = schema();
    for (table, object) in [("", &schema), ("ampacity", &schema["properties"]["ampacity"])] {
        let keys: BTreeSet<&str> =
            object["properties"].as_object().unwrap().keys().map(String::as_str).collect();
        let ours = KEYS.iter().filter(|key| key.table == table);
        assert_eq!(keys, ours.clone().map(|key| key.name).collect(), "{table}");
        let demanded: BTreeSet<&str> = ours.filter(|key| key.demanded).map(|key| key.name).collect();
        let required = object["required"].as_array().cloned().unwrap_or_default();
        assert_eq!(demanded, required.iter().map(|key| key.as_str().unwrap()).collect(), "{table}");
        assert_eq!(object["additionalProperties"], false);
    }
}

/// A TOML text as JSON, for the schema.
fn as_json(text: &str) -> Value {
    fn value(found: &toml::de::DeValue<'_>) -> Value {
        if let Some(table) = found.as_table() {
            return table
                .iter()
                .map(|(key, entry)| (key.get_ref().to_string(), value(entry.get_ref())))
                .collect();
        }
        match found.as_array() {
            Some(list) => list.iter().map(|entry| value(entry.get_ref())).collect(),
            None => found.as_str().map_or(Value::from(1), Value::from),
        }
    }
    let table = toml::de::DeTable::parse(text).unwrap().into_inner();
    value(&toml::de::DeValue::Table(table))
}

/// Whether a value follows a schema; knows the words that the published one is written with, and no others.
fn follows(schema: &Value, value: &Value) -> bool {
    const KNOWN: [&str; 13] = [
        "$schema",
        "title",
        "description",
        "default",
        "type",
        "enum",
        "minLength",
        "minItems",
        "minProperties",
        "items",
        "required",
        "properties",
        "additionalProperties",
    ];
    let words = schema.as_object().unwrap();
    assert!(words.keys().all(|word| KNOWN.contains(&word.as_str())), "{words:?}");
    let size = value
        .as_str()
        .map(str::len)
        .or(value.as_array().map(Vec::len))
        .or(value.as_object().map(|o| o.len()));
    let sort = match schema["type"].as_str().unwrap() {
        "string" => value.is_string(),
        "array" => value.is_array(),
        "object" => value.is_object(),
        _ => false,
    };
    let least =
        ["minLength", "minItems", "minProperties"].iter().filter_map(|word| schema[*word].as_u64()).max();
    let listed = schema["enum"].as_array().is_none_or(|words| words.contains(value));
    let items = value.as_array().is_none_or(|list| list.iter().all(|entry| follows(&schema["items"], entry)));
    let required = schema["required"]
        .as_array()
        .is_none_or(|keys| keys.iter().all(|key| value.get(key.as_str().unwrap()).is_some()));
    let entries = value.as_object().is_none_or(|object| {
        object.iter().all(|(key, entry)| match &schema["properties"][key] {
            Value::Null => {
                schema["additionalProperties"].is_object() && follows(&schema["additionalProperties"], entry)
            }
            own => follows(own, entry),
        })
    });
    sort && listed && items && required && entries && size >= least.map(|least| least as usize)
}

#[test]
fn the_schema_takes_the_examples_of_the_page_and_refuses_what_it_can() {
    let page = fs::read_to_string("../linter/src/settings/README.md").unwrap();
    let examples: Vec<&str> =
        page.split("```toml\n").skip(1).filter_map(|rest| rest.split("```").next()).collect();
    assert_eq!(examples.len(), 2);
    for example in examples {
        assert!(follows(&schema(), &as_json(example)), "{example}");
    }
    assert!(follows(&schema(), &as_json(THIN)));
    for wrong in ["unknown-key", "unknown-profile", "missing-name", "number-without-unit"] {
        let text = fs::read_to_string(format!("{FOLDER}/{wrong}.toml")).unwrap();
        assert!(!follows(&schema(), &as_json(&text)), "{wrong}");
    }
}
