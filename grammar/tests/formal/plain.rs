//! The productions of the page as plain rules: sequences only, which is what the recogniser takes.

use std::collections::BTreeMap;

use super::{
    notation::{Expression, is_token},
    reader::Symbol,
    shape::{Productions, is},
};

/// A part of a rule.
#[derive(Clone, Debug)]
pub(crate) enum Part {
    /// What the nonterminal of this number stands for.
    Nonterminal(usize),
    /// The token of this text.
    Literal(String),
    /// A token of this name, its text not of the second form.
    Token(String, Option<Expression>),
}

/// A rule: one way to make a nonterminal.
#[derive(Debug)]
pub(crate) struct Rule {
    pub makes: usize,
    pub parts: Vec<Part>,
}

/// All rules.
#[derive(Debug, Default)]
pub(crate) struct Rules {
    pub all: Vec<Rule>,
    /// The rules that make a nonterminal, by its number.
    pub making: Vec<Vec<usize>>,
    /// The name of a nonterminal; those that only stand for a part of a production have none.
    pub names: Vec<String>,
    /// Whether a nonterminal can stand for nothing.
    pub empty: Vec<bool>,
    numbers: BTreeMap<String, usize>,
}

impl Rules {
    /// The rules for a file.
    pub(crate) fn of(all: &Productions) -> Self {
        let mut rules = Self::default();
        rules.named("file", all);
        rules.find_empty();
        rules
    }

    /// The number of the file's nonterminal.
    pub(crate) fn file(&self) -> usize {
        self.numbers["file"]
    }

    fn new_nonterminal(&mut self, name: &str) -> usize {
        self.making.push(Vec::new());
        self.names.push(name.to_owned());
        self.names.len() - 1
    }

    fn named(&mut self, name: &str, all: &Productions) -> usize {
        if let Some(number) = self.numbers.get(name) {
            return *number;
        }
        let number = self.new_nonterminal(name);
        self.numbers.insert(name.to_owned(), number);
        self.make(number, &all[name].stands_for, all);
        number
    }

    fn add(&mut self, makes: usize, parts: Vec<Part>) {
        self.making[makes].push(self.all.len());
        self.all.push(Rule { makes, parts });
    }

    /// Adds the rules that make `number` of an expression.
    fn make(&mut self, number: usize, expression: &Expression, all: &Productions) {
        match expression {
            Expression::Choice(choices) => choices.iter().for_each(|choice| self.make(number, choice, all)),
            Expression::Sequence(parts) => {
                let parts = parts.iter().map(|part| self.part(part, all)).collect();
                self.add(number, parts);
            }
            Expression::Repeat { inner, least, once } => {
                let inner = self.part(inner, all);
                self.add(number, if *least == 0 { Vec::new() } else { vec![inner.clone()] });
                let before = (!once).then_some(Part::Nonterminal(number));
                self.add(number, before.into_iter().chain([inner]).collect());
            }
            single => {
                let part = self.part(single, all);
                self.add(number, vec![part]);
            }
        }
    }

    fn part(&mut self, expression: &Expression, all: &Productions) -> Part {
        match expression {
            Expression::Literal(text) => Part::Literal(text.clone()),
            Expression::Name(name) if is_token(name) => Part::Token(name.clone(), None),
            Expression::Name(name) => Part::Nonterminal(self.named(name, all)),
            Expression::Except(wanted, unwanted) => match &**wanted {
                Expression::Name(name) if is_token(name) => {
                    Part::Token(name.clone(), Some((**unwanted).clone()))
                }
                other => panic!("only tokens can be excepted from: {other:?}"),
            },
            inner => {
                let number = self.new_nonterminal("");
                self.make(number, inner, all);
                Part::Nonterminal(number)
            }
        }
    }

    fn find_empty(&mut self) {
        self.empty = vec![false; self.names.len()];
        loop {
            let can = |part: &Part| matches!(part, Part::Nonterminal(number) if self.empty[*number]);
            let found = self.all.iter().filter(|rule| !self.empty[rule.makes] && rule.parts.iter().all(can));
            let found: Vec<usize> = found.map(|rule| rule.makes).collect();
            if found.is_empty() {
                return;
            }
            found.into_iter().for_each(|number| self.empty[number] = true);
        }
    }
}

/// Whether a token fits a part that is no nonterminal.
pub(crate) fn fits(all: &Productions, part: &Part, symbol: &Symbol<'_>) -> bool {
    match part {
        Part::Nonterminal(_) => false,
        Part::Literal(text) => symbol.text == text,
        Part::Token(name, except) => {
            symbol.name == name && except.as_ref().is_none_or(|form| !is(all, form, symbol.text))
        }
    }
}
