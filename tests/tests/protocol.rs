//! The language server driven by raw bytes: the session's rules, the order of edits, encodings, what a close clears.

use std::{
    fs,
    process::{Command, Stdio},
};

use serde_json::{Value, json};
use wattle_tests::server::Server;

const URI: &str = "file:///none/robot.wattle";

/// A text with as many errors as `errors`, none of them about the robot as a whole.
fn text(errors: usize) -> String {
    format!("wattle 1\nrobot \"Probe\"\n{}", "nonsense here\n".repeat(errors))
}

fn code(answer: &Value) -> Option<i64> {
    answer["error"]["code"].as_i64()
}

fn language_errors(published: &Value) -> usize {
    let is_error = |found: &&Value| found["code"].as_str().is_some_and(|code| code.starts_with("language."));
    published["diagnostics"].as_array().map_or(0, |found| found.iter().filter(is_error).count())
}

/// The server still answers.
fn assert_alive(server: &mut Server) {
    server.open(URI, &text(1));
    assert_eq!(language_errors(&server.published(URI)), 1);
}

fn shut_down(server: &mut Server) {
    let answer = server.ask("shutdown", &Value::Null);
    assert_eq!(answer.get("result"), Some(&Value::Null), "{answer}");
}

#[test]
fn shutdown_with_null_parameters_is_answered() {
    let mut server = Server::with(&json!({}));
    shut_down(&mut server);
}

#[test]
fn exit_after_shutdown_ends_at_once_with_0_while_the_input_is_open() {
    let mut server = Server::with(&json!({}));
    shut_down(&mut server);
    server.notify("exit", &Value::Null);
    assert_eq!(server.exit_status(), Some(0));
}

#[test]
fn exit_without_waiting_for_the_answer_to_shutdown_still_gets_it() {
    let mut server = Server::with(&json!({}));
    let id = server.request("shutdown", &Value::Null);
    server.send_body(r#"{"jsonrpc":"2.0","method":"exit"}"#);
    assert_eq!(server.answer(&json!(id))["result"], Value::Null);
    assert_eq!(server.exit_status(), Some(0));
}

#[test]
fn exit_without_shutdown_ends_with_1() {
    let mut server = Server::with(&json!({}));
    server.send_body(r#"{"jsonrpc":"2.0","method":"exit"}"#);
    assert_eq!(server.exit_status(), Some(1));
    let mut server = Server::start();
    server.send_body(r#"{"jsonrpc":"2.0","method":"exit"}"#);
    assert_eq!(server.exit_status(), Some(1));
}

#[test]
fn an_input_that_ends_ends_the_server() {
    let mut server = Server::with(&json!({}));
    server.open(URI, &text(1));
    server.hang_up();
    assert_eq!(server.exit_status(), Some(1));
    let mut server = Server::with(&json!({}));
    shut_down(&mut server);
    server.hang_up();
    assert_eq!(server.exit_status(), Some(0));
}

#[test]
fn what_was_asked_before_the_input_ended_is_answered() {
    let mut server = Server::with(&json!({ "textDocument": { "diagnostic": {} } }));
    server.open(URI, &text(2));
    let id = server.request("textDocument/diagnostic", &json!({ "textDocument": { "uri": URI } }));
    server.hang_up();
    assert_eq!(server.answer(&json!(id))["result"]["items"].as_array().map(Vec::len), Some(2));
}

#[test]
fn a_message_that_is_not_json_is_answered_and_the_server_goes_on() {
    let mut server = Server::with(&json!({}));
    for body in ["{", "", "{\"jsonrpc\": \"2.0\", \"method\": ", "\u{1}"] {
        server.send_body(body);
        assert_eq!(code(&server.answer(&Value::Null)), Some(-32700), "{body}");
    }
    for body in ["[]", "{}", "3", r#"{"jsonrpc":"2.0","id":1.5,"method":"shutdown"}"#] {
        server.send_body(body);
        assert_eq!(code(&server.answer(&Value::Null)), Some(-32600), "{body}");
    }
    assert_alive(&mut server);
}

#[test]
fn header_names_in_any_case() {
    let mut server = Server::start();
    let body = r#"{"jsonrpc":"2.0","id":9,"method":"initialize","params":{"capabilities":{}}}"#;
    for (id, name) in ["content-length", "CONTENT-LENGTH", "Content-length"].into_iter().enumerate() {
        let body = body.replace('9', &id.to_string());
        server.send_bytes(format!("content-type: x\r\n{name}:{}\r\n\r\n{body}", body.len()).as_bytes());
        let answer = server.answer(&json!(id));
        assert_eq!(answer["result"].is_object(), id == 0, "a second introduction is refused: {answer}");
    }
}

#[test]
fn absurd_lengths_and_stray_bytes_are_answered_and_the_server_goes_on() {
    let mut server = Server::with(&json!({}));
    for bytes in [
        "Content-Length: 99999999999999999999\r\n\r\n",
        "Content-Length: 9999999999999\r\n\r\n",
        "Content-Length: -5\r\n\r\n",
        "Content-Type: x\r\n\r\n",
        "GET / HTTP/1.1\r\n\r\n",
        "\u{0}\u{1}\u{2}\n",
    ] {
        server.send_bytes(bytes.as_bytes());
        assert_eq!(code(&server.answer(&Value::Null)), Some(-32700), "{bytes:?}");
        let answer = server.ask("textDocument/none", &json!({}));
        assert_eq!(code(&answer), Some(-32601), "{bytes:?}");
    }
    assert_alive(&mut server);
}

#[test]
fn unknown_requests_are_answered_and_unknown_notifications_are_not() {
    let mut server = Server::with(&json!({}));
    assert_eq!(code(&server.ask("textDocument/none", &json!({}))), Some(-32601));
    assert_eq!(code(&server.ask("$/none", &json!({}))), Some(-32601));
    server.notify("textDocument/none", &json!({}));
    server.notify("$/none", &json!({}));
    server.notify("textDocument/didOpen", &json!({ "bad": true }));
    assert!(server.is_silent());
    assert_alive(&mut server);
}

#[test]
fn requests_out_of_order_and_with_bad_parameters_are_refused() {
    let mut server = Server::start();
    let at = json!({ "textDocument": { "uri": URI }, "position": { "line": 0, "character": 0 } });
    assert_eq!(code(&server.ask("textDocument/hover", &at)), Some(-32002));
    let introduction = json!({ "capabilities": {} });
    assert!(server.ask("initialize", &introduction)["result"].is_object());
    assert_eq!(code(&server.ask("initialize", &introduction)), Some(-32600));
    assert_eq!(code(&server.ask("textDocument/hover", &json!({ "bad": 1 }))), Some(-32602));
    shut_down(&mut server);
    assert_eq!(code(&server.ask("textDocument/hover", &at)), Some(-32600));
}

#[test]
fn a_second_shutdown_is_answered() {
    let mut server = Server::with(&json!({}));
    shut_down(&mut server);
    shut_down(&mut server);
    server.notify("exit", &Value::Null);
    assert_eq!(server.exit_status(), Some(0));
}

#[cfg(target_os = "linux")]
#[test]
fn the_server_does_not_outlive_the_clients_process() {
    let mut editor = Command::new("sleep").arg("600").stdin(Stdio::null()).spawn().unwrap();
    let params = json!({ "processId": editor.id(), "capabilities": {} });
    let mut server = Server::introduced(&params);
    assert_alive(&mut server);
    editor.kill().unwrap();
    let status = server.exit_status();
    editor.wait().unwrap();
    assert_eq!(status, Some(1));
}

#[test]
fn wrong_arguments_are_wrong_use() {
    let run = |argument: &str| {
        let output =
            Command::new(wattle_tests::server::binary()).arg(argument).stdin(Stdio::null()).output().unwrap();
        (output.status.code(), String::from_utf8(output.stdout).unwrap())
    };
    assert_eq!(run("--none").0, Some(2));
    let (status, version) = run("--version");
    assert_eq!((status, version.starts_with("wattle-lsp ")), (Some(0), true));
    assert_eq!(run("--help").0, Some(0));
}

#[test]
fn two_hundred_rapid_edits_and_the_last_one_wins() {
    let mut server = Server::with(&json!({}));
    server.open(URI, &text(0));
    let at_end = json!({ "line": 2, "character": 0 });
    for version in 2..=200 {
        let change = json!({ "range": { "start": at_end, "end": at_end }, "text": "nonsense here\n" });
        server.change(URI, version, &json!([change]));
    }
    let mut version = 0;
    while version < 200 {
        let published = server.published(URI);
        let next = published["version"].as_i64().unwrap();
        assert!(next > version, "{next} after {version}");
        assert_eq!(i64::try_from(language_errors(&published)).unwrap(), next - 1);
        version = next;
    }
    assert!(server.is_silent());
}

#[test]
fn requests_that_wait_do_not_hold_back_edits() {
    let mut server = Server::with(&json!({ "textDocument": { "diagnostic": {} } }));
    server.open(URI, &text(0));
    let at_end = json!({ "line": 2, "character": 0 });
    let mut asked = Vec::new();
    for version in 2..=300 {
        let change = json!({ "range": { "start": at_end, "end": at_end }, "text": "nonsense here\n" });
        server.change(URI, version, &json!([change]));
        asked.push(server.request("textDocument/diagnostic", &json!({ "textDocument": { "uri": URI } })));
    }
    let counts: Vec<_> = asked
        .into_iter()
        .map(|id| server.answer(&json!(id))["result"]["items"].as_array().map_or(0, Vec::len))
        .collect();
    assert!(
        counts.iter().zip(1..).all(|(count, edits)| *count >= edits),
        "never older than asked: {counts:?}"
    );
    assert_eq!(counts.last(), Some(&299));
}

#[test]
fn a_cancelled_request_is_answered_as_cancelled_or_done() {
    let mut server = Server::with(&json!({}));
    server.open(URI, &text(1));
    let at = json!({ "textDocument": { "uri": URI }, "position": { "line": 1, "character": 1 } });
    let id = server.request("textDocument/hover", &at);
    server.notify("$/cancelRequest", &json!({ "id": id }));
    let answer = server.answer(&json!(id));
    assert!(code(&answer) == Some(-32800) || answer["result"].is_object(), "{answer}");
}

#[test]
fn an_edit_that_does_not_fit_is_left_out_and_later_ones_apply() {
    let mut server = Server::with(&json!({}));
    server.open(URI, &text(1));
    assert_eq!(language_errors(&server.published(URI)), 1);
    let range = |from: [u32; 2], to: [u32; 2]| {
        json!({
            "start": { "line": from[0], "character": from[1] },
            "end": { "line": to[0], "character": to[1] },
        })
    };
    server.change(URI, 2, &json!([{ "range": range([2, 5], [2, 1]), "text": "x" }]));
    let logged = server.wait_for(|message| message["method"] == "window/logMessage");
    assert!(logged["params"]["message"].as_str().unwrap().contains("the range ends before it starts"));
    server.change(
        URI,
        3,
        &json!([{ "range": range([900, 7], [4_294_967_295, 4_294_967_295]), "text": "more\n" }]),
    );
    let published = server.published(URI);
    assert_eq!((&published["version"], language_errors(&published)), (&json!(3), 2));
}

#[test]
fn columns_behind_characters_of_every_width_in_three_encodings() {
    for (encoding, before) in [("utf-8", 8), ("utf-16", 5), ("utf-32", 4)] {
        let mut server = Server::with(&json!({ "general": { "positionEncodings": [encoding] } }));
        server.open(URI, "wattle 1\nrobot \"R\"\nlet A = \"µ😀\" \nnonsense here\n");
        server.published(URI);
        // Puts the broken line behind the characters, so that its columns depend on them.
        let end = 9 + before;
        let join = json!({ "start": { "line": 2, "character": end }, "end": { "line": 3, "character": 0 } });
        server.change(URI, 2, &json!([{ "range": join, "text": ";" }]));
        let published = server.published(URI);
        let found = published["diagnostics"].as_array().unwrap();
        let columns: Vec<_> =
            found.iter().map(|found| found["range"]["start"]["character"].as_i64()).collect();
        assert!(columns.contains(&Some(end + 1)), "{encoding}: {published}");
    }
}

#[test]
fn a_client_that_pulls_is_not_pushed_to() {
    let mut server = Server::with(&json!({ "textDocument": { "diagnostic": {} } }));
    server.open(URI, &text(3));
    let document = json!({ "textDocument": { "uri": URI } });
    let report = server.ask("textDocument/diagnostic", &document)["result"].take();
    assert_eq!(report["kind"], "full");
    assert_eq!(report["items"].as_array().map(Vec::len), Some(3));
    server.close(URI);
    let report = server.ask("textDocument/diagnostic", &document)["result"].take();
    assert_eq!(report["items"], json!([]));
    assert!(server.is_silent());
}

#[test]
fn a_document_without_a_file_is_analysed_too() {
    let mut server = Server::with(&json!({}));
    for uri in ["untitled:Untitled-1", "file:///none/a%20b/%C3%A9.wattle"] {
        server.open(uri, &text(2));
        assert_eq!(language_errors(&server.published(uri)), 2);
    }
}

#[test]
fn an_unsaved_file_counts_for_the_robot_on_the_disk_that_uses_it() {
    let folder = std::env::temp_dir().join(format!("wattle-protocol-{}", std::process::id()));
    fs::create_dir_all(folder.join("parts")).unwrap();
    let robot = "wattle 1\nrobot \"R\"\nuse \"parts/lamp.wattle\"\nlight LAMP : spot\n";
    fs::write(folder.join("robot.wattle"), robot).unwrap();
    fs::write(folder.join("parts/lamp.wattle"), "wattle 1\n").unwrap();
    let uri = |name: &str| format!("file://{}", folder.join(name).display());
    let folders = json!([{ "uri": uri(""), "name": "r" }]);
    let params = json!({ "processId": null, "workspaceFolders": folders, "capabilities": {} });
    let mut server = Server::introduced(&params);
    server.open(&uri("parts/lamp.wattle"), "wattle 1\nnonsense here\n");
    let told = server.published(&uri("robot.wattle"));
    let found = told["diagnostics"].as_array().unwrap();
    let unknown = found.iter().find(|found| found["code"] == "language.unknown-name").unwrap();
    assert_eq!(unknown["range"]["start"], json!({ "line": 3, "character": 13 }), "{told}");
    assert_eq!(language_errors(&server.published(&uri("parts/lamp.wattle"))), 1);
    let text = "wattle 1\npart spot is light 12 V { typical 1 A }\n";
    server.change(&uri("parts/lamp.wattle"), 2, &json!([{ "text": text }]));
    assert_eq!(language_errors(&server.published(&uri("robot.wattle"))), 0);
    server.close(&uri("parts/lamp.wattle"));
    assert_eq!(server.published(&uri("robot.wattle"))["diagnostics"], json!([]));
    fs::remove_dir_all(folder).unwrap();
}

#[test]
fn a_close_clears_what_was_told() {
    let mut server = Server::with(&json!({}));
    let uri = |at: usize| format!("file:///none/{at}.wattle");
    for at in 0..50 {
        server.open(&uri(at), &text(at % 3));
        assert_eq!(language_errors(&server.published(&uri(at))), at % 3);
    }
    for at in 0..50 {
        server.close(&uri(at));
    }
    for at in (0..50).filter(|at| at % 3 != 0) {
        assert_eq!(server.published(&uri(at))["diagnostics"], json!([]));
    }
    server.open(&uri(1), &text(2));
    let published = server.published(&uri(1));
    assert_eq!((&published["version"], language_errors(&published)), (&json!(1), 2));
}
