//! Our own faults: a panic ends the run with a plain sentence and a status of its own, never with a result.

use std::{
    panic::{AssertUnwindSafe, PanicHookInfo, catch_unwind, set_hook, take_hook},
    sync::Mutex,
};

use super::{Exit, Outcome};

/// Where and why the last panic happened.
static LAST: Mutex<String> = Mutex::new(String::new());

/// The outcome of `work`, or of its fault.
pub(super) fn guarded(work: impl FnOnce() -> Outcome) -> Outcome {
    let usual = take_hook();
    set_hook(Box::new(remember));
    let result = catch_unwind(AssertUnwindSafe(work));
    set_hook(usual);
    result.unwrap_or_else(|_| fault())
}

fn remember(panic: &PanicHookInfo<'_>) {
    let place = panic.location().map_or_else(String::new, |at| format!("{}:{}: ", at.file(), at.line()));
    let why = panic.payload_as_str().unwrap_or("no reason given");
    if let Ok(mut last) = LAST.lock() {
        *last = format!("{place}{why}");
    }
}

fn fault() -> Outcome {
    let what = LAST.lock().map_or_else(|_| String::new(), |last| last.clone());
    let trouble = format!(
        "wattle {}: this is a fault of wattle itself, and nothing was checked: {what}\n\
         please report it together with the files that were to be checked\n",
        env!("CARGO_PKG_VERSION")
    );
    Outcome { out: String::new(), trouble, exit: Exit::Fault }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_panic_becomes_a_fault_with_its_place() {
        let outcome = guarded(|| panic!("a {} thing", "strange"));
        assert_eq!(outcome.exit, Exit::Fault);
        assert_eq!(outcome.out, "");
        assert!(
            outcome.trouble.contains("guard.rs:") && outcome.trouble.contains("a strange thing"),
            "{outcome:?}"
        );
    }

    #[test]
    fn else_the_outcome_is_passed_on() {
        let outcome = Outcome { out: "x".into(), trouble: String::new(), exit: Exit::Findings };
        assert_eq!(guarded(|| outcome.clone()), outcome);
    }
}
