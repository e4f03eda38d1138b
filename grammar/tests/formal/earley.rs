//! A recogniser for any grammar, after Jay Earley (1970). Rules that can stand for nothing are taken at once, after
//! Aycock and Horspool (2002).

use std::collections::{HashMap, HashSet};

use super::{
    constraint,
    plain::{Part, Rules, fits},
    reader::Symbol,
    shape::Productions,
    tree::Tree,
};

/// What a step over a part of a rule took.
#[derive(Clone, Copy)]
enum Step {
    Nothing,
    Token(usize),
    /// A finished item: its set and its position there.
    Made(usize, usize),
}

/// A rule of which some parts have been found.
#[derive(Clone, Copy)]
struct Item {
    rule: usize,
    found: usize,
    origin: usize,
    /// The item with one part less, and what the step to this one took.
    before: Option<(usize, usize)>,
    step: Step,
}

/// The items between two tokens.
#[derive(Default)]
struct Set {
    items: Vec<Item>,
    seen: HashSet<(usize, usize, usize)>,
    /// Items that wait for a nonterminal.
    waiting: HashMap<usize, Vec<usize>>,
}

struct Run<'s, 't> {
    all: &'s Productions,
    rules: &'s Rules,
    symbols: &'s [Symbol<'t>],
    sets: Vec<Set>,
    /// The last constraint that was broken.
    broken: Option<String>,
}

/// Whether the tokens are a file of the grammar; if not, where they stop being one.
pub(crate) fn recognise(all: &Productions, rules: &Rules, symbols: &[Symbol<'_>]) -> Result<(), String> {
    let sets = (0..=symbols.len()).map(|_| Set::default()).collect();
    let mut run = Run { all, rules, symbols, sets, broken: None };
    run.predict(0, rules.file());
    for at in 0..=symbols.len() {
        let mut next = 0;
        while next < run.sets[at].items.len() {
            run.work(at, next);
            next += 1;
        }
        if run.sets[at].items.is_empty() {
            let found = symbols.get(at.saturating_sub(1)).map_or("", |symbol| symbol.text);
            return Err(run.broken.unwrap_or_else(|| format!("token {at}, {found:?}, does not fit")));
        }
    }
    let last = &run.sets[symbols.len()].items;
    let whole = |item: &Item| {
        let rule = &rules.all[item.rule];
        rule.makes == rules.file() && item.origin == 0 && item.found == rule.parts.len()
    };
    if last.iter().any(whole) {
        Ok(())
    } else {
        Err(run.broken.unwrap_or_else(|| "something is missing".to_owned()))
    }
}

impl<'s> Run<'s, '_> {
    /// Adds an item unless it is there, or waits for a token that does not come.
    fn add(&mut self, at: usize, item: Item) {
        let next = self.rules.all[item.rule].parts.get(item.found);
        let comes = |part: &Part| self.symbols.get(at).is_some_and(|symbol| fits(self.all, part, symbol));
        let hopeless = next.is_some_and(|part| !matches!(part, Part::Nonterminal(_)) && !comes(part));
        let set = &mut self.sets[at];
        if !hopeless && set.seen.insert((item.rule, item.found, item.origin)) {
            set.items.push(item);
        }
    }

    fn predict(&mut self, at: usize, nonterminal: usize) {
        for rule in &self.rules.making[nonterminal] {
            self.add(at, Item { rule: *rule, found: 0, origin: at, before: None, step: Step::Nothing });
        }
    }

    fn work(&mut self, at: usize, position: usize) {
        let item = self.sets[at].items[position];
        match self.rules.all[item.rule].parts.get(item.found) {
            None => self.complete(at, position),
            Some(Part::Nonterminal(wanted)) => {
                let waiting = self.sets[at].waiting.entry(*wanted).or_default();
                waiting.push(position);
                if waiting.len() == 1 {
                    self.predict(at, *wanted);
                }
                if self.rules.empty[*wanted] {
                    self.advance(at, (at, position), Step::Nothing);
                }
            }
            Some(_) => self.advance(at + 1, (at, position), Step::Token(at)),
        }
    }

    /// Adds to set `at` the item before with one part more.
    fn advance(&mut self, at: usize, before: (usize, usize), step: Step) {
        let item = self.sets[before.0].items[before.1];
        self.add(at, Item { found: item.found + 1, before: Some(before), step, ..item });
    }

    fn complete(&mut self, at: usize, position: usize) {
        let item = self.sets[at].items[position];
        if let Err(broken) = self.check(at, position) {
            self.broken = Some(broken);
            return;
        }
        let made = self.rules.all[item.rule].makes;
        let waiting = self.sets[item.origin].waiting.get(&made).cloned().unwrap_or_default();
        for one in waiting {
            self.advance(at, (item.origin, one), Step::Made(at, position));
        }
    }

    /// Whether a finished item keeps the constraints of its production.
    fn check(&self, at: usize, position: usize) -> Result<(), String> {
        let name = &self.rules.names[self.rules.all[self.sets[at].items[position].rule].makes];
        let constraints = self.all.get(name).map_or(&[][..], |production| &production.constraints);
        constraints.iter().try_for_each(|constraint| {
            let tree = Tree::Node(name, self.children(at, position));
            constraint::of_tree(constraint, &tree)
        })
    }

    /// What a finished item was made of; parts of productions are seen through.
    fn children(&self, at: usize, position: usize) -> Vec<Tree<'s, '_>> {
        let mut children = Vec::new();
        let mut item = &self.sets[at].items[position];
        while let Some((set, before)) = item.before {
            let part = &self.rules.all[item.rule].parts[item.found - 1];
            match item.step {
                Step::Nothing => {}
                Step::Token(token) => {
                    children.push(Tree::Leaf(&self.symbols[token], matches!(part, Part::Literal(_))));
                }
                Step::Made(set, position) => {
                    let name = &self.rules.names[self.rules.all[self.sets[set].items[position].rule].makes];
                    let mut inner = self.children(set, position);
                    if name.is_empty() {
                        inner.reverse();
                        children.extend(inner);
                    } else {
                        children.push(Tree::Node(name, inner));
                    }
                }
            }
            item = &self.sets[set].items[before];
        }
        children.reverse();
        children
    }
}
