//! Runs: consecutive rows of one class, whose cells stand in columns.

use super::{
    atom::Atom,
    cell::{self, Cell, Role},
    class::{self, Class},
    line::Line,
    order::Order,
    row::Row,
    write::Writer,
};
use crate::token::TokenKind;

/// A cell wider than this does not stretch its column, and a row that is longer than the run's shortest by more than
/// this does not push the comments of the others away.
const WIDEST_CELL: u32 = 32;

/// A run that is being gathered.
#[derive(Debug, Default)]
pub(super) struct Run {
    class: Option<Class>,
    order: Order,
    atoms: Vec<Atom>,
    cells: Vec<Cell>,
    rows: Vec<Entry>,
}

/// A row of a run.
#[derive(Debug)]
struct Entry {
    row: Row,
    /// Where its atoms begin.
    atoms: usize,
    /// Where its cells begin and end.
    cells: (usize, usize),
}

/// A column.
#[derive(Clone, Copy, Debug, Default)]
struct Column {
    /// Characters before it.
    start: u32,
    /// Widest number, where numbers stand right-aligned.
    number: u32,
    /// Widest rest behind a number.
    rest: u32,
    /// Widest cell without such a number.
    whole: u32,
}

impl Column {
    fn take(&mut self, cell: &Cell, followed: bool) {
        if cell.width > WIDEST_CELL {
            return;
        }
        self.number = self.number.max(cell.number);
        match (followed, cell.number) {
            (false, _) => {}
            (true, 0) => self.whole = self.whole.max(cell.width),
            (true, number) => self.rest = self.rest.max(cell.width - number),
        }
    }

    const fn width(&self) -> u32 {
        let split = if self.rest > 0 { self.number + self.rest } else { 0 };
        if split > self.whole { split } else { self.whole }
    }

    /// Blanks before a cell, so that its number ends where the others do.
    const fn lead(&self, cell: &Cell) -> u32 {
        if cell.number > 0 && cell.width <= WIDEST_CELL { self.number.saturating_sub(cell.number) } else { 0 }
    }
}

impl Run {
    /// Puts a row into the run; writes the run so far if the row cannot be part of it.
    pub(super) fn take(&mut self, row: &Row, atoms: &[Atom], writer: &mut Writer<'_>) {
        let (mut first, mut begin) = (self.atoms.len(), self.cells.len());
        self.atoms.extend(atoms.iter().filter(|atom| !atom.is(TokenKind::Newline)));
        let line = Line { text: writer.text, atoms: self.atoms.get(first..).unwrap_or(&[]) };
        let class = class::of(&line, row.context);
        cell::cut(&line, class, &mut self.cells);
        if row.apart || self.class != Some(class) || !self.order(begin) {
            self.write(writer);
            self.atoms.drain(..first);
            self.cells.drain(..begin);
            (first, begin, self.class) = (0, 0, Some(class));
            self.order(begin);
        }
        self.rows.push(Entry { row: *row, atoms: first, cells: (begin, self.cells.len()) });
    }

    /// Writes the run and begins another; what is not yet in a row stays.
    fn write(&mut self, writer: &mut Writer<'_>) {
        let columns = self.columns();
        let comments = self.comments(&columns);
        for entry in &self.rows {
            self.write_row(entry, &columns, comments, writer);
        }
        self.rows.clear();
        (self.class, self.order) = (None, Order::default());
    }

    /// Writes the run and empties it.
    pub(super) fn end(&mut self, writer: &mut Writer<'_>) {
        self.write(writer);
        self.atoms.clear();
        self.cells.clear();
    }

    /// Takes in the order of the cells from a position on, if it agrees with the rows before.
    fn order(&mut self, begin: usize) -> bool {
        let row = self.cells.get(begin..).unwrap_or(&[]);
        self.order.add(row.iter().map(|cell| cell.role))
    }

    fn cells(&self, entry: &Entry) -> &[Cell] {
        self.cells.get(entry.cells.0..entry.cells.1).unwrap_or(&[])
    }

    fn columns(&self) -> Columns {
        let mut columns = Columns([Column::default(); Role::COUNT]);
        for entry in &self.rows {
            let cells = self.cells(entry);
            for (at, cell) in cells.iter().enumerate() {
                columns.of(cell.role, |column| column.take(cell, at + 1 < cells.len()));
            }
        }
        let mut start = self.rows.first().map_or(0, |entry| entry.row.indent());
        for role in self.order.columns() {
            columns.of(role, |column| {
                column.start = start;
                start += column.width() + u32::from(column.width() > 0);
            });
        }
        columns
    }

    /// The column that the comments stand in, and the longest row that respects it.
    fn comments(&self, columns: &Columns) -> (u32, u32) {
        let ends = self.rows.iter().filter(|entry| entry.row.comment.is_some());
        let ends = ends.map(|entry| columns.end(entry.row.indent(), self.cells(entry)));
        let longest = ends.clone().min().unwrap_or(0) + WIDEST_CELL;
        let column = ends.filter(|end| *end <= longest).max().unwrap_or(0);
        (column, longest)
    }

    fn write_row(&self, entry: &Entry, columns: &Columns, comments: (u32, u32), writer: &mut Writer<'_>) {
        let atoms = self.atoms.get(entry.atoms..).unwrap_or(&[]);
        writer.begin(entry.row.apart, entry.row.indent());
        let mut column = entry.row.indent();
        for cell in self.cells(entry) {
            let start = columns.start(cell, column, entry.row.indent());
            writer.blanks(start - column);
            writer.atoms(atoms.get(cell.first..cell.past).unwrap_or(&[]));
            column = start + cell.width;
        }
        if let Some(comment) = entry.row.comment {
            let (place, longest) = comments;
            writer.comment(&comment, column, if column <= longest { place } else { column });
        }
        writer.end();
    }
}

/// The columns of a run, by role.
struct Columns([Column; Role::COUNT]);

impl Columns {
    fn of(&mut self, role: Role, change: impl FnOnce(&mut Column)) {
        if let Some(column) = self.0.get_mut(role as usize) {
            change(column);
        }
    }

    /// Where a cell begins, behind a cell that ends at `column`.
    fn start(&self, cell: &Cell, column: u32, indent: u32) -> u32 {
        let own = self.0.get(cell.role as usize).copied().unwrap_or_default();
        let behind = if column > indent { column + 1 } else { column };
        behind.max(own.start + own.lead(cell))
    }

    /// Where a row ends.
    fn end(&self, indent: u32, cells: &[Cell]) -> u32 {
        cells.iter().fold(indent, |column, cell| self.start(cell, column, indent) + cell.width)
    }
}
