//! Terminals of one thing: the table's numbered families written out, and the other names of the trade resolved.

use super::{Default, Kind, Repeat, Role, Terminal};

/// One terminal of one thing.
#[derive(Clone, Debug)]
pub struct TerminalInstance {
    /// Its name, `pos`, `m2a`, `21`.
    pub name: String,
    /// What it is for.
    pub role: Role,
    /// The number in its name; 0 for a terminal that is there once.
    pub number: u32,
    /// Its row in the table.
    pub spec: &'static Terminal,
    position: u32,
}

impl TerminalInstance {
    /// Its other names.
    #[must_use]
    pub fn aliases(&self) -> Vec<String> {
        let numbered = |pattern: &str| pattern.contains('{');
        let here = |pattern: &&&str| numbered(pattern) || self.position == 0;
        self.spec.aliases.iter().filter(here).map(|pattern| write_out(pattern, self.number)).collect()
    }
}

impl Kind {
    /// The terminals of a thing of this kind, as a person would list them: families that run side by side take turns
    /// (`m1a m1b m2a m2b`).
    ///
    /// `count` gives what the thing says: the number under the key of a count, 1 or 0 for a flag, `None` when nothing
    /// is written; then the table's default holds. A count beyond what the table allows is cut there.
    #[must_use]
    pub fn terminals_for(&self, count: &dyn Fn(&str) -> Option<u32>) -> Vec<TerminalInstance> {
        let mut all = Vec::new();
        for family in self.terminals.chunk_by(run_together) {
            let made: Vec<u32> = family.iter().map(|terminal| self.repeats(terminal.repeat, count)).collect();
            for position in 0..made.iter().copied().max().unwrap_or(0) {
                let there = family.iter().zip(&made).filter(|(_, made)| position < **made);
                all.extend(there.map(|(terminal, _)| instance(terminal, position)));
            }
        }
        all
    }

    /// Every other name of the thing's terminals with the name it stands for.
    #[must_use]
    pub fn terminal_aliases(&self, count: &dyn Fn(&str) -> Option<u32>) -> Vec<(String, String)> {
        let all = self.terminals_for(count);
        all.iter().flat_map(|one| one.aliases().into_iter().map(|alias| (alias, one.name.clone()))).collect()
    }

    /// The name of the terminal that `written` means, itself or through another name.
    #[must_use]
    pub fn canonical_terminal(&self, written: &str, count: &dyn Fn(&str) -> Option<u32>) -> Option<String> {
        let all = self.terminals_for(count);
        let exact = all.iter().find(|one| one.name == written);
        let found =
            exact.or_else(|| all.iter().find(|one| one.aliases().iter().any(|alias| alias == written)));
        found.map(|one| one.name.clone())
    }

    fn repeats(&self, repeat: Repeat, count: &dyn Fn(&str) -> Option<u32>) -> u32 {
        let (key, extra, only_if) = match repeat {
            Repeat::Once => return 1,
            Repeat::OnceIf(flag) => return self.counted(flag, count).min(1),
            Repeat::Per { key, extra, only_if, .. } => (key, extra, only_if),
        };
        let there = only_if.is_none_or(|flag| self.counted(flag, count) > 0);
        match self.counted(key, count) {
            counted if there && counted > 0 => counted + extra,
            _ => 0,
        }
    }

    /// What `count` says for `key`, else the table's default; at most what the table allows.
    fn counted(&self, key: &str, count: &dyn Fn(&str) -> Option<u32>) -> u32 {
        let rating = self.rating(key);
        let default = match rating.map(|rating| rating.default) {
            Some(Default::Number(value, _)) => value as u32,
            Some(Default::Flag(value, _)) => u32::from(value),
            _ => 0,
        };
        let most = rating.and_then(|rating| rating.within).map_or(1, |(_, most)| most as u32);
        count(key).unwrap_or(default).min(most)
    }
}

/// Whether two neighbours in the table take turns: both repeat over the same count.
fn run_together(one: &Terminal, next: &Terminal) -> bool {
    match (one.repeat, next.repeat) {
        (Repeat::Per { key, extra, .. }, Repeat::Per { key: other, extra: more, .. }) => {
            key == other && extra == more
        }
        _ => false,
    }
}

fn instance(spec: &'static Terminal, position: u32) -> TerminalInstance {
    let number = match spec.repeat {
        Repeat::Once | Repeat::OnceIf(_) => 0,
        Repeat::Per { first, step, .. } => first + step * position,
    };
    TerminalInstance { name: write_out(spec.name, number), role: spec.role, number, spec, position }
}

/// A pattern with its number put in.
pub(super) fn write_out(pattern: &str, number: u32) -> String {
    pattern
        .replace("{}", &number.to_string())
        .replace("{odd}", &(2 * number).saturating_sub(1).to_string())
        .replace("{even}", &(2 * number).to_string())
}

impl Terminal {
    /// A terminal that is there once.
    pub(in crate::kind) const fn once(
        name: &'static str,
        aliases: &'static [&'static str],
        role: Role,
        doc: &'static str,
    ) -> Self {
        Self { name, aliases, role, repeat: Repeat::Once, doc }
    }

    /// One terminal for each of the count under `key`, numbered from 1.
    pub(in crate::kind) const fn per(
        key: &'static str,
        name: &'static str,
        aliases: &'static [&'static str],
        role: Role,
        doc: &'static str,
    ) -> Self {
        Self {
            name,
            aliases,
            role,
            repeat: Repeat::Per { key, first: 1, step: 1, extra: 0, only_if: None },
            doc,
        }
    }

    /// The same, there only where a flag is yes.
    pub(in crate::kind) const fn only_if(mut self, flag: &'static str) -> Self {
        self.repeat = match self.repeat {
            Repeat::Per { key, first, step, extra, .. } => {
                Repeat::Per { key, first, step, extra, only_if: Some(flag) }
            }
            Repeat::Once | Repeat::OnceIf(_) => Repeat::OnceIf(flag),
        };
        self
    }
}
