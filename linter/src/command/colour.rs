//! Whether to use colour: the option first, then the environment, then the terminal.

use clap::ValueEnum;

/// When to use colour.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub(super) enum When {
    /// On a terminal, unless the environment says otherwise.
    #[default]
    Auto,
    /// Always.
    Always,
    /// Never.
    Never,
}

/// The decision. An option beats the environment. `NO_COLOR` (no-color.org) switches off, then `CLICOLOR_FORCE` or
/// `FORCE_COLOR` on unless it is `0`; an empty variable counts as not set. Else colour is for terminals that are not
/// `dumb`.
pub(super) fn wanted(when: When, variable: impl Fn(&str) -> Option<String>, terminal: bool) -> bool {
    let set = |name| variable(name).filter(|value| !value.is_empty());
    let forced = |name| set(name).is_some_and(|value| value != "0");
    match when {
        When::Always => true,
        When::Never => false,
        When::Auto if set("NO_COLOR").is_some() => false,
        When::Auto if forced("CLICOLOR_FORCE") || forced("FORCE_COLOR") => true,
        When::Auto => terminal && set("TERM").as_deref() != Some("dumb"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn auto(variables: &[(&str, &str)], terminal: bool) -> bool {
        let find = |name: &str| {
            variables.iter().find(|(known, _)| *known == name).map(|(_, value)| (*value).to_owned())
        };
        wanted(When::Auto, find, terminal)
    }

    #[test]
    fn the_option_beats_everything() {
        assert!(wanted(When::Always, |_| Some("1".into()), false));
        assert!(!wanted(When::Never, |name| (name == "CLICOLOR_FORCE").then(|| "1".into()), true));
    }

    #[test]
    fn the_environment_beats_the_terminal() {
        assert!(!auto(&[("NO_COLOR", "1")], true));
        assert!(!auto(&[("NO_COLOR", "0"), ("CLICOLOR_FORCE", "1")], true));
        assert!(auto(&[("CLICOLOR_FORCE", "1")], false));
        assert!(auto(&[("FORCE_COLOR", "1"), ("TERM", "dumb")], false));
        assert!(!auto(&[("CLICOLOR_FORCE", "0")], false));
    }

    #[test]
    fn empty_variables_count_as_not_set() {
        assert!(auto(&[("NO_COLOR", "")], true));
        assert!(!auto(&[("CLICOLOR_FORCE", "")], false));
    }

    #[test]
    fn else_the_terminal_decides() {
        assert!(auto(&[], true) && auto(&[("TERM", "xterm")], true));
        assert!(!auto(&[], false));
        assert!(!auto(&[("TERM", "dumb")], true));
    }
}
