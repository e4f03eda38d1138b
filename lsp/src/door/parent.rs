//! Watches the client's process, so that the server does not outlive an editor that died without a word.

use std::{fs, io, thread, time::Duration};

/// How often is looked.
const PAUSE: Duration = Duration::from_millis(500);

/// Calls `gone` once the process has ended. A process that cannot be seen from the start (on a system without `/proc`,
/// or in another container) is not watched: there the end of the input tells.
///
/// # Errors
/// Those of starting a thread.
pub(super) fn watch(process: u32, gone: impl FnOnce() + Send + 'static) -> io::Result<()> {
    let Some(born) = birth(process) else { return Ok(()) };
    let look = move || {
        while birth(process).as_ref() == Some(&born) {
            thread::sleep(PAUSE);
        }
        gone();
    };
    thread::Builder::new().name("parent".to_owned()).spawn(look).map(drop)
}

/// When a living process was started, which tells it from a later one of the same number; `None` when it is dead.
fn birth(process: u32) -> Option<String> {
    born(&fs::read_to_string(format!("/proc/{process}/stat")).ok()?)
}

/// Reads the state and field 22, the start time, of a `stat` line; the name before them may hold anything. A process
/// that only waits to be collected is dead.
fn born(stat: &str) -> Option<String> {
    let (_, rest) = stat.rsplit_once(')')?;
    let mut fields = rest.split_whitespace();
    let state = fields.next()?;
    (!matches!(state, "Z" | "X")).then(|| fields.nth(18).map(str::to_owned)).flatten()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_start_time_is_found_behind_any_name() {
        let stat = |state: &str| {
            format!("7 (a ) b) {state} 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 START 20 21")
        };
        assert_eq!(born(&stat("S")).as_deref(), Some("START"));
        assert_eq!(born(&stat("Z")), None);
        assert_eq!(born("7 (cut"), None);
    }

    #[cfg(target_os = "linux")]
    #[test]
    fn this_process_lives() {
        assert!(birth(std::process::id()).is_some());
        assert!(birth(u32::MAX).is_none());
    }
}
