//! Definitions over the protocol: places in the client's columns, and the stock as a file that an editor can open.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

use std::{fs, path::PathBuf};

use serde_json::{Value, json};
use wattle_tests::{folder::Folder, server::Server};

const URI: &str = "file:///none/robot.wattle";
const ROBOT: &str =
    "wattle 1\nrobot \"µ😀\"; stud STAR\nfuse F1 : blade-30\nfuse F2 : blade-5\ntie STAR to F1.line\n";

/// Asks where the name at a place is defined.
fn ask(server: &mut Server, method: &str, uri: &str, line: u32, character: u32) -> Value {
    let place = json!({ "line": line, "character": character });
    let params = json!({ "textDocument": { "uri": uri }, "position": place });
    server.ask(&format!("textDocument/{method}"), &params)["result"].take()
}

fn is_nothing_told(server: &mut Server, uri: &str) -> bool {
    let report = server.ask("textDocument/diagnostic", &json!({ "textDocument": { "uri": uri } }));
    report["result"]["items"] == json!([])
}

#[test]
fn a_name_leads_to_its_definition_in_the_columns_of_the_client() {
    for (encoding, column) in [("utf-8", 21), ("utf-16", 18), ("utf-32", 17)] {
        let mut server = Server::with(&json!({ "general": { "positionEncodings": [encoding] } }));
        server.open(URI, ROBOT);
        for method in ["definition", "declaration"] {
            let found = ask(&mut server, method, URI, 4, 5);
            assert_eq!(found[0]["uri"], URI, "{found}");
            let start = json!({ "line": 1, "character": column });
            assert_eq!(found[0]["range"]["start"], start, "{encoding}: {found}");
        }
        assert_eq!(ask(&mut server, "definition", URI, 4, 0), Value::Null);
    }
}

#[test]
fn the_stock_is_a_file_that_can_be_opened_and_is_not_judged() {
    let cache = Folder::with(&[]).unwrap();
    let mut server = Server::with_cache(cache.path(), &json!({ "textDocument": { "diagnostic": {} } }));
    server.open(URI, ROBOT);
    let found = ask(&mut server, "definition", URI, 2, 12);
    let uri = found[0]["uri"].as_str().unwrap().to_owned();
    let path = PathBuf::from(uri.strip_prefix("file://").unwrap());
    assert_eq!(path.parent(), Some(cache.path().join("wattle").as_path()));
    let text = fs::read_to_string(&path).unwrap();
    let line = found[0]["range"]["start"]["line"].as_u64().unwrap();
    let line = text.lines().nth(usize::try_from(line).unwrap());
    assert_eq!(line, Some("part blade-30  is blade 30 A"));
    assert_eq!(ask(&mut server, "typeDefinition", URI, 4, 14)[0], found[0]);

    server.open(&uri, &text);
    assert!(is_nothing_told(&mut server, &uri));
    let base =
        ask(&mut server, "definition", &uri, found[0]["range"]["start"]["line"].as_u64().unwrap() as u32, 18);
    assert_eq!(base[0]["uri"], uri.as_str(), "{base}");
    // Not even when somebody breaks it.
    server.change(&uri, 2, &json!([{ "text": format!("{text}nonsense here\n") }]));
    assert!(is_nothing_told(&mut server, &uri));
    assert!(is_nothing_told(&mut server, URI));
}

#[test]
fn a_stock_that_cannot_be_written_has_no_answer_and_is_told_once() {
    let cache = Folder::with(&[("wattle", b"a file, no folder")]).unwrap();
    let mut server = Server::with_cache(cache.path(), &json!({}));
    server.open(URI, ROBOT);
    server.published(URI);
    for line in [2, 3, 2] {
        assert_eq!(ask(&mut server, "definition", URI, line, 12), Value::Null);
    }
    let logged = server.wait_for(|message| message["method"] == "window/logMessage");
    assert!(
        logged["params"]["message"].as_str().unwrap().starts_with("the stock cannot be shown: "),
        "{logged}"
    );
    assert!(server.is_silent(), "it is told once");
}
