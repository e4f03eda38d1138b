//! The notation of the page: productions out of Markdown into expressions.

use std::{iter::Peekable, str::Chars};

/// What a production stands for.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Expression {
    /// Characters, or the token of this text.
    Literal(String),
    /// One character of these ranges, or of all others.
    Class { others: bool, ranges: Vec<(char, char)> },
    /// What the production of this name stands for.
    Name(String),
    /// One after the other.
    Sequence(Vec<Expression>),
    /// One of them.
    Choice(Vec<Expression>),
    /// At least so many times, at most once or without limit.
    Repeat { inner: Box<Expression>, least: usize, once: bool },
    /// The first, but not the second.
    Except(Box<Expression>, Box<Expression>),
}

/// A production.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Production {
    pub name: String,
    pub stands_for: Expression,
    /// The names in `[C: …]`.
    pub constraints: Vec<String>,
}

/// Every production of a page, from its fences marked `ebnf`.
pub(crate) fn productions(page: &str) -> Vec<Production> {
    let fences = page.split("```ebnf\n").skip(1).filter_map(|rest| rest.split("```").next());
    fences
        .flat_map(|fence| Notation { rest: fence.chars().peekable(), constraints: Vec::new() }.all())
        .collect()
}

/// Whether a name is a token's, by its capitals.
pub(crate) fn is_token(name: &str) -> bool {
    name.chars().all(|letter| letter.is_ascii_uppercase())
}

struct Notation<'t> {
    rest: Peekable<Chars<'t>>,
    constraints: Vec<String>,
}

impl Notation<'_> {
    fn all(mut self) -> Vec<Production> {
        let mut all = Vec::new();
        self.blanks();
        while self.rest.peek().is_some() {
            let name = self.name();
            assert!(!name.is_empty() && self.takes("::="), "a production is due at {:?}", self.next_words());
            let stands_for = self.choice();
            all.push(Production { name, stands_for, constraints: std::mem::take(&mut self.constraints) });
        }
        all
    }

    fn choice(&mut self) -> Expression {
        let mut choices = vec![self.sequence()];
        while self.takes("|") {
            choices.push(self.sequence());
        }
        one_or(choices, Expression::Choice)
    }

    fn sequence(&mut self) -> Expression {
        let mut items = Vec::new();
        while let Some(item) = self.item() {
            items.push(if self.takes("-") {
                let except = self.item().expect("something is due behind `-`");
                Expression::Except(Box::new(item), Box::new(except))
            } else {
                item
            });
        }
        assert!(!items.is_empty(), "something is due at {:?}", self.next_words());
        one_or(items, Expression::Sequence)
    }

    /// An item with what says how often it stands.
    fn item(&mut self) -> Option<Expression> {
        let mut item = self.single()?;
        loop {
            let (least, once) = match self.rest.peek() {
                Some('?') => (0, true),
                Some('*') => (0, false),
                Some('+') => (1, false),
                _ => break,
            };
            self.rest.next();
            item = Expression::Repeat { inner: Box::new(item), least, once };
        }
        self.blanks();
        Some(item)
    }

    fn single(&mut self) -> Option<Expression> {
        while self.constraint() {}
        let next = *self.rest.peek()?;
        match next {
            quote @ ('\'' | '"') => Some(Expression::Literal(self.quoted(quote))),
            '#' => Some(Expression::Literal(self.character().to_string())),
            '[' => Some(self.class()),
            '(' => {
                assert!(self.takes("("));
                let inner = self.choice();
                assert_eq!(self.rest.next(), Some(')'), "`)` is due at {:?}", self.next_words());
                Some(inner)
            }
            letter if letter.is_ascii_alphabetic() && !self.at_production() => {
                Some(Expression::Name(self.bare_name()))
            }
            _ => None,
        }
    }

    /// Takes `[C: name]`, or remembers nothing.
    fn constraint(&mut self) -> bool {
        if !self.takes("[C:") {
            return false;
        }
        let name = self.rest.by_ref().take_while(|letter| *letter != ']').collect::<String>();
        self.constraints.push(name.trim().to_owned());
        self.blanks();
        true
    }

    fn quoted(&mut self, quote: char) -> String {
        self.rest.next();
        self.rest.by_ref().take_while(|letter| *letter != quote).collect()
    }

    /// `[…]`, which holds characters, numbers of characters, and ranges of both.
    fn class(&mut self) -> Expression {
        self.rest.next();
        let others = self.rest.next_if_eq(&'^').is_some();
        let mut ranges = Vec::new();
        while self.rest.next_if_eq(&']').is_none() {
            let first = self.character();
            let last = if self.rest.next_if_eq(&'-').is_some() { self.character() } else { first };
            ranges.push((first, last));
        }
        Expression::Class { others, ranges }
    }

    /// A character as it stands, or by its number.
    fn character(&mut self) -> char {
        let found = self.rest.next().expect("a character is due");
        if found != '#' || self.rest.next_if_eq(&'x').is_none() {
            return found;
        }
        let mut number = 0;
        while let Some(digit) = self.rest.peek().and_then(|digit| digit.to_digit(16)) {
            (number, _) = (number * 16 + digit, self.rest.next());
        }
        char::from_u32(number).expect("the number of a character is due")
    }

    /// Whether a name is followed by `::=`: the next production begins there.
    fn at_production(&self) -> bool {
        let ahead = self.rest.clone().skip_while(char::is_ascii_alphabetic);
        ahead.skip_while(|letter| letter.is_whitespace()).take(3).eq("::=".chars())
    }

    fn name(&mut self) -> String {
        let name = self.bare_name();
        self.blanks();
        name
    }

    fn bare_name(&mut self) -> String {
        let mut name = String::new();
        while let Some(letter) = self.rest.next_if(char::is_ascii_alphabetic) {
            name.push(letter);
        }
        name
    }

    /// Takes `mark` and the blanks behind it, if it comes next.
    fn takes(&mut self, mark: &str) -> bool {
        let found = self.rest.clone().take(mark.chars().count()).eq(mark.chars());
        if found {
            self.rest.by_ref().take(mark.chars().count()).for_each(drop);
            self.blanks();
        }
        found
    }

    /// Passes over blanks, line ends and remarks.
    fn blanks(&mut self) {
        loop {
            while self.rest.next_if(|letter| letter.is_whitespace()).is_some() {}
            if !self.rest.clone().take(2).eq("/*".chars()) {
                return;
            }
            let mut before = ' ';
            for letter in self.rest.by_ref() {
                if before == '*' && letter == '/' {
                    break;
                }
                before = letter;
            }
        }
    }

    fn next_words(&self) -> String {
        self.rest.clone().take(40).collect()
    }
}

fn one_or(mut parts: Vec<Expression>, many: fn(Vec<Expression>) -> Expression) -> Expression {
    match parts.len() {
        1 => parts.remove(0),
        _ => many(parts),
    }
}
