//! The figures as one long table of comma-separated values (RFC 4180), one row a figure, never rounded.
//!
//! The columns: `robot` (its path), `thing` (its full name), `of` (as what: a regulator is a `source` by its output and a
//! `load` by its input), `figure`, `value` (a number in `unit`, or words where there is
//! no unit), `unit`, `mode`, `corner`, `basis` (formula and source). A figure without a mode holds for all of them. A
//! figure that could not be told has no value, and its basis says what is missing. `current` and `voltage` are those of a
//! single point, of every `wire` and of every `thing` that has them; `output current` and `output voltage` are a regulator's.
//! Rows without a thing hold what the figures stand on.

use super::{Account, Entry, Explanation, View, closing, corner, worst::SOLVED};
use crate::{
    explained::{Amount, Explained},
    figures::Point,
    report::{measure, summary},
    topology::LinkId,
};

/// The head of the table.
pub const HEAD: [&str; 9] = ["robot", "thing", "of", "figure", "value", "unit", "mode", "corner", "basis"];

/// Every account in one table.
#[must_use]
pub fn render(accounts: &[Account<'_>]) -> String {
    let mut out = Rows::default();
    out.row(HEAD);
    for account in accounts {
        let root: &str = &account.report.root;
        if let Some(view) = &account.view {
            figures(&mut out, root, view, view.each_entry());
            points(&mut out, root, view);
        }
        closing_rows(&mut out, account);
    }
    out.row(["", "", "", "caution", summary::CAUTION, "", "", "", ""]);
    out.0
}

/// The rows of what is explained.
#[must_use]
pub fn explanation(explained: &[Explanation<'_>]) -> String {
    let mut out = Rows::default();
    out.row(HEAD);
    for one in explained {
        figures(&mut out, &one.account.report.root, one.view, one.entries.iter().cloned());
        closing_rows(&mut out, one.account);
    }
    out.row(["", "", "", "caution", summary::CAUTION, "", "", "", ""]);
    out.0
}

fn figures(out: &mut Rows, root: &str, view: &View<'_>, entries: impl Iterator<Item = Entry>) {
    for entry in entries {
        for figure in &entry.figures {
            let point = figure.point.and_then(|at| view.analysis.figures.points.get(at));
            let mode = point.map_or("", |point| corner::mode(&view.analysis.design, point));
            let corner = point.map_or_else(String::new, corner::words);
            let (value, unit) = value(&figure.amount);
            out.row([
                root,
                &entry.name,
                entry.section.word(),
                &figure.what,
                &value,
                unit,
                mode,
                &corner,
                &basis(figure),
            ]);
        }
    }
}

/// Formula and source; what is missing where the figure could not be told.
pub(super) fn basis(figure: &Explained) -> String {
    if let Amount::NotAssessed(missing) = &figure.amount {
        return format!("not assessed for want of {missing}");
    }
    match (figure.formula.as_str(), figure.source.as_str()) {
        (formula, "") => formula.to_owned(),
        ("", source) => source.to_owned(),
        (formula, source) => format!("{formula}; {source}"),
    }
}

fn value(amount: &Amount) -> (String, &'static str) {
    match amount {
        // Adding nothing makes a zero of a negative zero.
        Amount::Value(value, dimension) => (format!("{}", value + 0.0), measure::code(*dimension)),
        Amount::Pulse(joules) => (format!("{}", joules.0 + 0.0), measure::JOULE),
        Amount::Words(words) => (words.clone(), ""),
        Amount::NotAssessed(_) => (String::new(), ""),
    }
}

fn points(out: &mut Rows, root: &str, view: &View<'_>) {
    for (_, point) in view.points() {
        at_point(out, root, view, point);
    }
}

fn at_point(out: &mut Rows, root: &str, view: &View<'_>, point: &Point) {
    let design = &view.analysis.design;
    let (mode, corner) = (corner::mode(design, point), corner::words(point));
    if let Err(why) = &point.outcome {
        out.row([root, "", "", "no working point", why.words(), "", mode, &corner, SOLVED]);
        return;
    }
    let mut row = |thing: &str, of: &str, figure: &str, value: Option<f64>, unit: &str| {
        if let Some(value) = value {
            out.row([root, thing, of, figure, &format!("{}", value + 0.0), unit, mode, &corner, SOLVED]);
        }
    };
    for (id, wire) in design.wires() {
        row(&wire.name, "wire", "current", point.amps(LinkId(id.0)).map(|amps| amps.0), "A");
    }
    for (id, thing) in design.things() {
        let Some(reading) = view.reading(point, id) else { continue };
        row(&thing.name, "thing", "voltage", reading.volts.map(|volts| volts.0), "V");
        row(&thing.name, "thing", "current", reading.amps.map(|amps| amps.0), "A");
        row(&thing.name, "thing", "output voltage", reading.output_volts.map(|volts| volts.0), "V");
        row(&thing.name, "thing", "output current", reading.output_amps.map(|amps| amps.0), "A");
    }
}

fn closing_rows(out: &mut Rows, account: &Account<'_>) {
    for (word, sentences) in closing::lists(&account.report) {
        for sentence in sentences {
            out.row([&account.report.root, "", "", word, &sentence, "", "", "", ""]);
        }
    }
}

/// Rows as they are written, each ended by a carriage return and a line feed.
#[derive(Default)]
struct Rows(String);

impl Rows {
    fn row(&mut self, fields: [&str; 9]) {
        for (at, field) in fields.into_iter().enumerate() {
            if at > 0 {
                self.0.push(',');
            }
            self.field(field);
        }
        self.0.push_str("\r\n");
    }

    /// Quoted where it holds a comma, a quote or a line end; a quote is doubled.
    fn field(&mut self, field: &str) {
        if !field.contains([',', '"', '\r', '\n']) {
            self.0.push_str(field);
            return;
        }
        self.0.push('"');
        self.0.push_str(&field.replace('"', "\"\""));
        self.0.push('"');
    }
}
