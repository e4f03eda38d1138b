//! The language server as an editor has it: a process that takes bytes and gives messages. Every wait is bounded, and
//! no server outlives its test.
#![allow(clippy::expect_used, clippy::panic, reason = "a test that cannot go on has failed")]

use std::{
    collections::VecDeque,
    io::{BufRead, BufReader, Write},
    path::{Path, PathBuf},
    process::{Child, ChildStdin, Command, Stdio},
    sync::{
        OnceLock,
        mpsc::{Receiver, RecvTimeoutError, channel},
    },
    thread,
    time::{Duration, Instant},
};

use serde_json::{Value, json};

/// How long anything is waited for. Far longer than needed: it only bounds a test that has failed.
const PATIENCE: Duration = Duration::from_secs(30);

/// The built server. It is built once for each test process; a build that is up to date takes a moment.
#[must_use]
pub fn binary() -> PathBuf {
    static BINARY: OnceLock<PathBuf> = OnceLock::new();
    BINARY.get_or_init(build).clone()
}

/// Builds with the profile that the tests were built with: they lie two folders below its own.
fn build() -> PathBuf {
    let own = std::env::current_exe().expect("a test has a path");
    let folder = own.ancestors().nth(2).expect("a test lies in the target folder").to_path_buf();
    let mut cargo = Command::new(env!("CARGO"));
    cargo.args(["build", "--quiet", "--package", "wattle-lsp", "--bin", "wattle-lsp"]);
    if folder.ends_with("release") {
        cargo.arg("--release");
    }
    let target = folder.parent().expect("a profile's folder lies in the target folder");
    let status = cargo.env("CARGO_TARGET_DIR", target).current_dir(env!("CARGO_MANIFEST_DIR")).status();
    assert!(status.expect("cargo runs").success(), "the server must build");
    folder.join(format!("wattle-lsp{}", std::env::consts::EXE_SUFFIX))
}

/// A running server.
pub struct Server {
    child: Child,
    input: Option<ChildStdin>,
    messages: Receiver<Value>,
    kept: VecDeque<Value>,
    requests: i64,
}

impl Server {
    /// Starts a server and says nothing.
    #[must_use]
    pub fn start() -> Self {
        Self::start_with_cache(None)
    }

    /// Starts a server that takes a folder for the user's folder for caches, and introduces a client.
    #[must_use]
    pub fn with_cache(folder: &Path, capabilities: &Value) -> Self {
        let params = json!({ "processId": null, "rootUri": null, "capabilities": capabilities });
        Self::start_with_cache(Some(folder)).introduce(&params)
    }

    fn start_with_cache(cache: Option<&Path>) -> Self {
        let mut command = Command::new(binary());
        command.envs(cache.map(|folder| ("XDG_CACHE_HOME", folder)));
        command.arg("--stdio").stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::inherit());
        let mut child = command.spawn().expect("the server starts");
        let output = child.stdout.take().expect("an output");
        let (sender, messages) = channel();
        thread::spawn(move || {
            let mut output = BufReader::new(output);
            while let Some(message) = read(&mut output) {
                if sender.send(message).is_err() {
                    return;
                }
            }
        });
        let input = child.stdin.take();
        Self { child, input, messages, kept: VecDeque::new(), requests: 0 }
    }

    /// Starts a server and introduces a client with these capabilities.
    #[must_use]
    pub fn with(capabilities: &Value) -> Self {
        Self::introduced(&json!({ "processId": null, "rootUri": null, "capabilities": capabilities }))
    }

    /// Starts a server and introduces a client.
    #[must_use]
    pub fn introduced(params: &Value) -> Self {
        Self::start().introduce(params)
    }

    fn introduce(mut self, params: &Value) -> Self {
        let answer = self.ask("initialize", params);
        assert!(answer["result"]["capabilities"].is_object(), "{answer}");
        self.notify("initialized", &json!({}));
        self
    }

    /// Sends bytes as they are.
    pub fn send_bytes(&mut self, bytes: &[u8]) {
        let input = self.input.as_mut().expect("the input is open");
        input.write_all(bytes).and_then(|()| input.flush()).expect("the server reads");
    }

    /// Sends a body with the usual header.
    pub fn send_body(&mut self, body: &str) {
        self.send_bytes(format!("Content-Length: {}\r\n\r\n{body}", body.len()).as_bytes());
    }

    /// Sends a notification.
    pub fn notify(&mut self, method: &str, params: &Value) {
        self.send_body(&json!({ "jsonrpc": "2.0", "method": method, "params": params }).to_string());
    }

    /// Sends a request and gives its id.
    pub fn request(&mut self, method: &str, params: &Value) -> i64 {
        self.requests += 1;
        let id = self.requests;
        self.send_body(
            &json!({ "jsonrpc": "2.0", "id": id, "method": method, "params": params }).to_string(),
        );
        id
    }

    /// Sends a request and waits for the whole answer.
    pub fn ask(&mut self, method: &str, params: &Value) -> Value {
        let id = self.request(method, params);
        self.answer(&json!(id))
    }

    /// Waits for the answer to a request.
    pub fn answer(&mut self, id: &Value) -> Value {
        self.wait_for(|message| message.get("id") == Some(id) && message.get("method").is_none())
    }

    /// Opens a document, version 1.
    pub fn open(&mut self, uri: &str, text: &str) {
        let document = json!({ "uri": uri, "languageId": "wattle", "version": 1, "text": text });
        self.notify("textDocument/didOpen", &json!({ "textDocument": document }));
    }

    /// Edits a document.
    pub fn change(&mut self, uri: &str, version: i32, changes: &Value) {
        let document = json!({ "uri": uri, "version": version });
        self.notify(
            "textDocument/didChange",
            &json!({ "textDocument": document, "contentChanges": changes }),
        );
    }

    /// Closes a document.
    pub fn close(&mut self, uri: &str) {
        self.notify("textDocument/didClose", &json!({ "textDocument": { "uri": uri } }));
    }

    /// Waits for the next publication about a document.
    pub fn published(&mut self, uri: &str) -> Value {
        let mut message = self.wait_for(|message| {
            message["method"] == "textDocument/publishDiagnostics" && message["params"]["uri"] == uri
        });
        message["params"].take()
    }

    /// Waits for a message that is wanted; others are kept for later.
    ///
    /// # Panics
    /// When none comes.
    pub fn wait_for(&mut self, wanted: impl Fn(&Value) -> bool) -> Value {
        if let Some(at) = self.kept.iter().position(&wanted) {
            return self.kept.remove(at).expect("a position");
        }
        let end = Instant::now() + PATIENCE;
        loop {
            match self.messages.recv_timeout(end.saturating_duration_since(Instant::now())) {
                Ok(message) if wanted(&message) => return message,
                Ok(message) => self.kept.push_back(message),
                Err(why) => panic!("the message never came ({why}); instead: {:?}", self.kept),
            }
        }
    }

    /// Whether no further message comes before the server ends or a short while has passed.
    pub fn is_silent(&mut self) -> bool {
        let end = self.messages.recv_timeout(Duration::from_millis(300));
        self.kept.is_empty() && matches!(end, Err(RecvTimeoutError::Timeout | RecvTimeoutError::Disconnected))
    }

    /// Closes the server's input.
    pub fn hang_up(&mut self) {
        self.input = None;
    }

    /// Waits for the end of the process and gives its exit status; its input stays as it is.
    ///
    /// # Panics
    /// When it does not end.
    pub fn exit_status(&mut self) -> Option<i32> {
        let end = Instant::now() + PATIENCE;
        while Instant::now() < end {
            if let Some(status) = self.child.try_wait().expect("the process can be asked") {
                return status.code();
            }
            thread::sleep(Duration::from_millis(5));
        }
        panic!("the server does not end");
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        // It may have ended already.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// One message, or `None` at the end of the stream.
fn read(output: &mut impl BufRead) -> Option<Value> {
    let mut length = None;
    loop {
        let mut line = String::new();
        output.read_line(&mut line).ok().filter(|read| *read > 0)?;
        match line.trim_end().split_once(": ") {
            Some(("Content-Length", value)) => length = value.parse().ok(),
            Some(_) => {}
            None => break,
        }
    }
    let mut body = vec![0; length?];
    output.read_exact(&mut body).ok()?;
    serde_json::from_slice(&body).ok()
}
