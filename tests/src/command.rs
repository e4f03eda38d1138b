//! Runs the built `wattle` command as a user would: arguments, standard input, environment; streams and status.

use std::{
    io::{self, Write},
    path::{Path, PathBuf},
    process::{Command, Stdio},
    sync::OnceLock,
    thread,
};

/// What a run gave.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Run {
    /// The exit status; nothing when a signal ended it.
    pub status: Option<i32>,
    /// Standard output.
    pub out: String,
    /// Standard error.
    pub trouble: String,
}

/// The path of the command, built once for each test program.
///
/// # Errors
/// When it cannot be built; the build's own words are on standard error.
pub fn wattle() -> io::Result<&'static Path> {
    static BUILT: OnceLock<Option<PathBuf>> = OnceLock::new();
    let built = BUILT.get_or_init(|| build(&[]));
    built.as_deref().ok_or_else(|| io::Error::other("the command `wattle` cannot be built"))
}

/// The path of the command as users get it, built with the release profile.
///
/// # Errors
/// When it cannot be built; the build's own words are on standard error.
pub fn wattle_of_release() -> io::Result<PathBuf> {
    build(&["--release"]).ok_or_else(|| io::Error::other("the command `wattle` cannot be built"))
}

/// Builds the command and takes its path from the build's own messages, wherever the target folder is.
fn build(profile: &[&str]) -> Option<PathBuf> {
    let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    let arguments = [
        "build",
        "--package",
        "wattle-linter",
        "--bin",
        "wattle",
        "--message-format=json-render-diagnostics",
    ];
    let output = Command::new(cargo)
        .args(arguments)
        .args(profile)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .stderr(Stdio::inherit())
        .output()
        .ok()?;
    let messages = String::from_utf8(output.stdout).ok()?;
    let executable = |line: &str| {
        let message: serde_json::Value = serde_json::from_str(line).ok()?;
        message.get("executable")?.as_str().map(PathBuf::from)
    };
    output.status.success().then(|| messages.lines().filter_map(executable).next_back())?
}

/// Runs `wattle` in `folder` with nothing on standard input and a bare environment.
///
/// # Errors
/// When it cannot be built or started, or prints what is not UTF-8.
pub fn run(folder: &Path, arguments: &[&str]) -> io::Result<Run> {
    run_with(folder, arguments, b"", &[])
}

/// Runs `wattle` in `folder` with `input` on standard input and these variables alone in its environment.
///
/// # Errors
/// When it cannot be built or started, or prints what is not UTF-8.
pub fn run_with(
    folder: &Path,
    arguments: &[&str],
    input: &[u8],
    variables: &[(&str, &str)],
) -> io::Result<Run> {
    let mut child = Command::new(wattle()?)
        .args(arguments)
        .current_dir(folder)
        .env_clear()
        .envs(variables.iter().copied())
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()?;
    let mut stdin = child.stdin.take().ok_or_else(|| io::Error::other("no standard input"))?;
    let input = input.to_vec();
    // A run that does not read its input closes the pipe: that is no error of the test.
    let feed = thread::spawn(move || drop(stdin.write_all(&input)));
    let output = child.wait_with_output()?;
    drop(feed.join());
    Ok(Run { status: output.status.code(), out: text(output.stdout)?, trouble: text(output.stderr)? })
}

fn text(bytes: Vec<u8>) -> io::Result<String> {
    String::from_utf8(bytes).map_err(io::Error::other)
}
