//! Judges a message at the door: what the library behind it would stumble over is mended, answered or kept out here.

use serde_json::{Map, Value, json};

const PARSE_ERROR: i32 = -32700;
const INVALID_REQUEST: i32 = -32600;
const METHOD_NOT_FOUND: i32 = -32601;

/// What becomes of a message.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Verdict {
    /// It goes on, maybe mended.
    Pass(Vec<u8>),
    /// It is answered at the door.
    Answer(Value),
    /// The client takes its leave.
    Exit,
}

/// What the door has seen of the session.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Session {
    /// Whether the client has introduced itself.
    pub(super) begun: bool,
    /// The id of the first request to shut down.
    pub(super) shutdown: Option<Value>,
    /// The client's process.
    pub(super) parent: Option<u32>,
}

impl Session {
    /// The process's exit status when it ends now: 0 after a request to shut down, 1 without.
    pub(super) fn status(&self) -> u8 {
        u8::from(self.shutdown.is_none())
    }
}

/// Judges a message's body.
pub(super) fn judge(body: Vec<u8>, session: &mut Session) -> Verdict {
    let (body, message) = match serde_json::from_slice(&body) {
        Ok(message) => (body, message),
        Err(_) => {
            match mend_surrogates(&body).and_then(|body| Some((serde_json::from_slice(&body).ok()?, body))) {
                Some((message, body)) => (body, message),
                None => return Verdict::Answer(broken("the message is not valid JSON")),
            }
        }
    };
    let Value::Object(message) = message else {
        return Verdict::Answer(error(Value::Null, INVALID_REQUEST, "a message is a JSON object"));
    };
    match fault(&message) {
        Some(fault) => Verdict::Answer(error(Value::Null, INVALID_REQUEST, fault)),
        None => route(body, message, session),
    }
}

/// The answer to bytes that are no message.
pub(super) fn broken(why: &str) -> Value {
    error(Value::Null, PARSE_ERROR, why)
}

fn error(id: Value, code: i32, message: &str) -> Value {
    json!({ "jsonrpc": "2.0", "id": id, "error": { "code": code, "message": message } })
}

/// What keeps an object from being a request, a notification or a response.
fn fault(message: &Map<String, Value>) -> Option<&'static str> {
    let id = message.get("id");
    if message.get("jsonrpc").and_then(Value::as_str) != Some("2.0") {
        return Some("`jsonrpc` must be \"2.0\"");
    }
    if id.is_some_and(|id| !(id.is_i64() || id.is_string() || id.is_null())) {
        return Some("`id` must be an integer or a string");
    }
    match message.get("method") {
        Some(method) => (!method.is_string()).then_some("`method` must be a string"),
        None if id.is_some() && (message.contains_key("result") ^ has_error(message)) => None,
        None => Some("a message has a method, or an id and a result"),
    }
}

fn has_error(message: &Map<String, Value>) -> bool {
    message.get("error").is_some_and(|error| error["code"].is_i64() && error["message"].is_string())
}

fn route(body: Vec<u8>, mut message: Map<String, Value>, session: &mut Session) -> Verdict {
    let Some(method) = message.get("method").and_then(Value::as_str).map(str::to_owned) else {
        return Verdict::Pass(body);
    };
    let id = message.get("id").cloned();
    match (method.as_str(), id) {
        ("exit", _) => return Verdict::Exit,
        ("shutdown", Some(id)) if session.shutdown.is_some() => {
            return Verdict::Answer(json!({ "jsonrpc": "2.0", "id": id, "result": null }));
        }
        ("shutdown", Some(id)) if session.begun => session.shutdown = Some(id),
        ("initialize", Some(_)) if !session.begun => {
            session.begun = true;
            session.parent = message.get("params").and_then(parent);
        }
        (method, Some(id)) if method.starts_with("$/") => {
            return Verdict::Answer(error(id, METHOD_NOT_FOUND, "no such method"));
        }
        _ => {}
    }
    // The library takes null, and anything at all with a shutdown, for parameters that it does not expect.
    let spare = method == "shutdown" || message.get("params").is_some_and(Value::is_null);
    if spare && message.remove("params").is_some() {
        return Verdict::Pass(Value::Object(message).to_string().into_bytes());
    }
    Verdict::Pass(body)
}

fn parent(params: &Value) -> Option<u32> {
    params.get("processId")?.as_u64().and_then(|id| u32::try_from(id).ok())
}

/// Replaces escaped halves of surrogate pairs, which some editors send and no JSON reader takes, by the replacement
/// character: it counts the same in every encoding, so no place shifts. `None` when there is none.
fn mend_surrogates(body: &[u8]) -> Option<Vec<u8>> {
    let mut mended = body.to_vec();
    let mut any = false;
    let mut at = 0;
    while at < body.len() {
        let step = match (escape(body, at), escape(body, at + 6)) {
            (Some(0xD800..=0xDBFF), Some(0xDC00..=0xDFFF)) => 12,
            (Some(0xD800..=0xDFFF), _) => {
                mended.get_mut(at..at + 6)?.copy_from_slice(b"\\ufffd");
                any = true;
                6
            }
            _ if body.get(at) == Some(&b'\\') => 2,
            _ => 1,
        };
        at += step;
    }
    any.then_some(mended)
}

/// The code of an escape `\uXXXX` at a place.
fn escape(body: &[u8], at: usize) -> Option<u16> {
    let digits = body.get(at..at + 6)?.strip_prefix(b"\\u")?;
    u16::from_str_radix(std::str::from_utf8(digits).ok()?, 16).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn session(begun: bool) -> Session {
        Session { begun, ..Session::default() }
    }

    fn code(verdict: &Verdict) -> Option<i64> {
        let Verdict::Answer(answer) = verdict else { return None };
        answer["error"]["code"].as_i64()
    }

    fn judged(text: &str, session: &mut Session) -> Verdict {
        judge(text.as_bytes().to_vec(), session)
    }

    #[test]
    fn null_parameters_are_dropped() {
        let text = r#"{"jsonrpc":"2.0","id":1,"method":"shutdown","params":null}"#;
        let Verdict::Pass(body) = judged(text, &mut session(true)) else { panic!("kept out") };
        let passed: Value = serde_json::from_slice(&body).unwrap();
        assert_eq!(passed, json!({ "jsonrpc": "2.0", "id": 1, "method": "shutdown" }));
    }

    #[test]
    fn other_messages_pass_as_they_are() {
        for text in [
            r#"{"jsonrpc":"2.0","id":1,"method":"x","params":{"a":null}}"#,
            r#"{"jsonrpc":"2.0","method":"$/cancelRequest","params":{"id":1}}"#,
            r#"{"jsonrpc":"2.0","id":"a","result":null}"#,
            r#"{"jsonrpc":"2.0","id":7,"error":{"code":1,"message":"no"}}"#,
        ] {
            assert_eq!(judged(text, &mut session(true)), Verdict::Pass(text.as_bytes().to_vec()));
        }
    }

    #[test]
    fn what_is_no_message_is_answered() {
        for (text, expected) in [
            ("", -32700),
            ("{", -32700),
            ("{\"a\": \"\u{1}\"}", -32700),
            ("[]", -32600),
            ("7", -32600),
            ("{}", -32600),
            (r#"{"jsonrpc":"1.0","id":1,"method":"x"}"#, -32600),
            (r#"{"jsonrpc":"2.0","id":1.5,"method":"x"}"#, -32600),
            (r#"{"jsonrpc":"2.0","id":1,"method":7}"#, -32600),
            (r#"{"jsonrpc":"2.0","id":1}"#, -32600),
            (r#"{"jsonrpc":"2.0","id":1,"error":5}"#, -32600),
            (r#"{"jsonrpc":"2.0","result":1}"#, -32600),
            (r#"{"jsonrpc":"2.0","id":3,"method":"$/none"}"#, -32601),
        ] {
            assert_eq!(code(&judged(text, &mut session(true))), Some(expected), "{text}");
        }
        assert_eq!(code(&judge(vec![b'"', 0xff, b'"'], &mut session(true))), Some(-32700));
        assert_eq!(code(&judged(&"[".repeat(100_000), &mut session(true))), Some(-32700));
    }

    #[test]
    fn a_second_shutdown_is_answered_and_the_status_follows_the_first() {
        let text = r#"{"jsonrpc":"2.0","id":4,"method":"shutdown"}"#;
        let mut session = session(false);
        assert!(matches!(judged(text, &mut session), Verdict::Pass(_)));
        assert_eq!(session.status(), 1, "nothing was begun");
        session.begun = true;
        assert!(matches!(judged(text, &mut session), Verdict::Pass(_)));
        assert_eq!(session.status(), 0);
        let again = Verdict::Answer(json!({ "jsonrpc": "2.0", "id": 4, "result": null }));
        assert_eq!(judged(text, &mut session), again);
        assert_eq!(judged(r#"{"jsonrpc":"2.0","method":"exit"}"#, &mut session), Verdict::Exit);
    }

    #[test]
    fn the_parent_is_noted() {
        let text = r#"{"jsonrpc":"2.0","id":0,"method":"initialize","params":{"processId":42}}"#;
        let mut session = session(false);
        assert!(matches!(judged(text, &mut session), Verdict::Pass(_)));
        assert_eq!((session.begun, session.parent), (true, Some(42)));
    }

    #[test]
    fn half_surrogate_pairs_become_replacement_characters() {
        let text = r#"{"jsonrpc":"2.0","method":"x","params":"\ud800 \\ud800 \ud83d\ude00 \udc00\uD83D"}"#;
        let Verdict::Pass(body) = judged(text, &mut session(true)) else { panic!("kept out") };
        let passed: Value = serde_json::from_slice(&body).unwrap();
        assert_eq!(passed["params"], "\u{fffd} \\ud800 😀 \u{fffd}\u{fffd}");
    }
}
