//! Cells: a row cut up by what its parts are for. The atoms keep their order; a part that comes a second time stays in
//! the cell before it.

use super::{class::Class, line::Line, row::width, value};
use crate::{quantity::Dimension, token::TokenKind};

/// What a cell is for. The order is the one that columns take when the rows leave it open.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Role {
    /// The word that the row begins with.
    Word,
    /// The names.
    Name,
    /// The first end of a wire, the rule of an acceptance, the value of a reading.
    First,
    /// The second end of a wire with its `to`, and what corresponds to it.
    Second,
    /// Conductor size.
    Size,
    /// Insulation colour.
    Colour,
    /// Length.
    Length,
    /// All other values.
    Value,
    /// `on` something.
    On,
    /// `at` somewhere.
    At,
    /// Conditions and reasons.
    Tail,
    /// `until` a date.
    Until,
    /// The block, if it stands on the line.
    Block,
}

impl Role {
    /// How many roles there are.
    pub(super) const COUNT: usize = 13;
    /// All roles, in order.
    pub(super) const ALL: [Self; Self::COUNT] = {
        use Role::{At, Block, Colour, First, Length, Name, On, Second, Size, Tail, Until, Value, Word};
        [Word, Name, First, Second, Size, Colour, Length, Value, On, At, Tail, Until, Block]
    };
}

/// A part of a row that stands in a column.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cell {
    /// What it is for.
    pub role: Role,
    /// First atom.
    pub first: usize,
    /// The atom after the last.
    pub past: usize,
    /// Characters it is wide.
    pub width: u32,
    /// Characters of its number, where numbers stand right-aligned in their column; 0 elsewhere.
    pub number: u32,
}

/// Cuts a row up and puts its cells behind those of others.
pub(super) fn cut(line: &Line<'_>, class: Class, cells: &mut Vec<Cell>) {
    let begin = cells.len();
    let mut cutter = Cutter { line, cells, begin };
    cutter.mark(Role::Word, 0);
    cutter.row(class);
    cutter.mark(Role::Block, line.block());
    cutter.measure();
}

/// Marks where cells begin.
pub(super) struct Cutter<'c> {
    pub(super) line: &'c Line<'c>,
    cells: &'c mut Vec<Cell>,
    /// The row's first cell.
    begin: usize,
}

impl Cutter<'_> {
    fn row(&mut self, class: Class) {
        match class {
            Class::Wire => self.conductor(1),
            Class::Core => self.conductor(0),
            Class::Thing | Class::Place | Class::Harness => self.thing(),
            Class::Tie | Class::Mate => self.joint(),
            Class::Part | Class::Let | Class::Fit => self.definition(),
            Class::Expect => self.expectation(),
            Class::Reading => self.reading(),
            Class::Accept => self.acceptance(),
            Class::State => self.mark(Role::Value, self.line.list_end(0)),
            Class::Setting => self.setting(),
            Class::Outward => {
                self.mark(Role::Name, 1);
                self.mark(Role::Value, 2);
            }
            Class::Plain => {}
        }
    }

    /// Begins a cell at an atom, unless the row has one for this role or has passed that atom, or nothing may stand before
    /// it. A comma stays with the cell before it.
    pub(super) fn mark(&mut self, role: Role, at: usize) {
        let at = at + usize::from(self.line.is(at, TokenKind::Comma));
        let row = self.cells.get_mut(self.begin..).unwrap_or_default();
        let taken = row.iter().any(|cell| cell.role == role || cell.first >= at);
        let apart = self.line.atoms.get(at).is_some_and(|atom| atom.blank || at == 0);
        if taken || !apart {
            return;
        }
        if let Some(last) = row.last_mut() {
            last.past = at;
        }
        self.cells.push(Cell { role, first: at, past: self.line.len(), width: 0, number: 0 });
    }

    fn conductor(&mut self, name: usize) {
        self.mark(Role::Name, name);
        self.mark(Role::First, name + 1);
        let to = self.line.path_end(name + 1);
        self.mark(Role::Second, to);
        value::mark(self, self.line.path_end(to + 1));
    }

    fn thing(&mut self) {
        self.mark(Role::Name, 1);
        self.tail(self.line.list_end(1));
    }

    /// Values, `on` and `at`, in any order.
    fn tail(&mut self, from: usize) {
        let (block, mut at) = (self.line.block(), from);
        while at < block {
            let next = self.line.find(at, &["on", "at"]);
            if next > at {
                self.mark(Role::Value, at);
            }
            if next < block {
                self.mark(if self.line.text_of(next) == "on" { Role::On } else { Role::At }, next);
            }
            at = self.line.path_end(next + 1);
        }
    }

    /// `tie A to B, C`, `mate A with B`.
    fn joint(&mut self) {
        self.mark(Role::First, 1);
        let word = self.line.path_end(1);
        self.mark(Role::Second, word);
        self.mark(Role::Value, self.line.list_end(word + 1));
    }

    /// `let A = value`, `part A is KIND values`, `fit A as B, C at PLACE`.
    fn definition(&mut self) {
        self.mark(Role::Name, 1);
        self.mark(Role::Second, 2);
        match self.line.text_of(2) {
            "is" => self.mark(Role::Value, 4),
            "as" => self.tail(self.line.list_end(3)),
            _ => {}
        }
    }

    fn expectation(&mut self) {
        self.mark(Role::Name, 1);
        self.mark(Role::Value, 2);
        self.mark(Role::Tail, self.line.find(3, &["when", "in", "under"]));
    }

    fn reading(&mut self) {
        self.mark(Role::First, 1);
        let relation = self.line.find(1, &["through", "at", "across"]);
        self.mark(Role::Second, relation);
        let condition = self.line.find(relation + 2, &["in", "on"]);
        if self.line.text_of(condition) == "in" {
            self.mark(Role::Tail, condition);
        }
        self.mark(Role::Until, self.line.find(condition, &["on"]));
    }

    fn acceptance(&mut self) {
        self.mark(Role::First, 1);
        let on = self.line.path_end(1);
        self.mark(Role::On, on);
        let because = self.line.path_end(on + 1);
        self.mark(Role::Tail, because);
        self.mark(Role::Until, because + 2);
    }

    fn setting(&mut self) {
        let negated = matches!(self.line.text_of(0), "not" | "no");
        self.mark(Role::Value, if negated { 2 } else { 1 });
    }

    /// Measures the row's cells.
    fn measure(&mut self) {
        for cell in self.cells.iter_mut().skip(self.begin) {
            let atoms = self.line.atoms.get(cell.first..cell.past).unwrap_or(&[]);
            cell.width = width(atoms);
            if matches!(cell.role, Role::Size | Role::Length | Role::First) {
                cell.number = value::number(atoms);
            }
        }
    }
}

/// The role of a value on a wire's line by the dimension of its unit.
pub(super) const fn of_dimension(dimension: Dimension) -> Role {
    match dimension {
        Dimension::Area => Role::Size,
        Dimension::Length => Role::Length,
        _ => Role::Value,
    }
}
