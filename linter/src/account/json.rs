//! The figures for machines. Fields are only ever added; a change of meaning raises the format number.
//!
//! ```text
//! format      the number of this format
//! tool        name, version
//! complete    whether every robot was analysed completely
//! robots[]    path, name, profile, complete,
//!             points[], figures[], tree[], errors[], incomplete[], not_assessed[], basis[]
//! points[]    mode, corner, charge, regulators, conductors, ordinary, duty, solved, why, wires{}, things{}, terminals{}
//! figures[]   thing, of, figure, value, unit, words, missing, mode, corner, basis
//! tree[]      depth, thing, part, joins
//! caution     a sentence
//! ```
//!
//! Of a point, `corner` is the three words behind it in one: `charge` of the packs `full`, `half-charged` or `empty`;
//! `regulators` `low` or `high` in their tolerance; `conductors` `cold` (20 °C) or `hot` (as warm as its current makes each
//! in its mode). `why` says why it has no solution and is `null` when it has one; an unsolved point has no entries. Names are full names,
//! `left.M-KNEE`, in the order of the text.
//!
//! - `wires`: the current from the wire's first end to its second, ampere.
//! - `things`: `volts` and `amps` (see [`super::reading::Reading`] for which); of a regulator that is its input, and
//!   `output_volts` and `output_amps` are there as well. What only joins, as a bar or a plug, and what has several
//!   ways through it, as a switch of two poles, has no entry: its terminals and wires tell.
//! - `terminals`: the voltage against the reference of its island, volt: the negative pole of the first source in it.
//!   Terminals of things in different islands cannot be compared. What nothing joins stands at 0.
//!
//! Of a figure, `thing` is the full name and `of` the section: `source`, `device`, `contact`, `bar`, `load`, `wire`,
//! `short`, `energy`, `surge`; the names of the figures are those of [`super::what`], in the last three those of their studies. It has either a `value` in its `unit` (a code of the Unified Code for
//! Units of Measure), or `words`, or what is `missing` to tell it; `mode` and `corner` are `null` when it holds for all. `basis` is
//! its formula and source; the inputs are in the explanation of the thing.
//!
//! Energies of surges and of braking are in `J`; those that batteries hold in `W.h`.
//!
//! The tree says who feeds what, contacts as if closed, each line below what it is fed through: `depth` counts the devices
//! and converters before it, `part` is `source`, `device` or `load`, `joins` says that it leads to what stands further up.
//!
//! An explanation ([`explanation`]) has `subjects[]` instead of robots: `path`, `name`, `complete`, `entries[]`, `ratings[]`,
//! `points[]` and the closing lists; an entry has `of`, `is`, `place` and `figures[]`, these with `formula`, `inputs[]`,
//! `source`, `evidence` and `notes[]`.
//!
//! Currents are those that flow while the loads draw; `duty` is the share of the time in which they do. Numbers are
//! never rounded; what is no finite number is `null`.

mod explained;
mod figure;

pub use explained::explanation;

use serde::{
    Serialize, Serializer,
    ser::{SerializeMap, SerializeSeq},
};
use wattle_grammar::quantity::Unit;

use super::{Account, View, corner, reading::Reading, tree::Branch};
use crate::{
    design::TerminalId,
    figures::Point,
    network::Unsolved,
    report::{Place, Report, summary},
};

/// The number of this format.
pub const FORMAT: u32 = 1;

#[derive(Serialize)]
struct Document<'a> {
    format: u32,
    tool: Tool,
    complete: bool,
    robots: Vec<Robot<'a>>,
    caution: &'static str,
}

#[derive(Serialize)]
struct Tool {
    name: &'static str,
    version: &'static str,
}

impl Tool {
    const fn this() -> Self {
        Self { name: "wattle", version: env!("CARGO_PKG_VERSION") }
    }
}

#[derive(Serialize)]
struct Robot<'a> {
    path: &'a str,
    name: &'a str,
    profile: Option<&'static str>,
    complete: bool,
    points: Points<'a>,
    figures: Figures<'a>,
    tree: Vec<TreeLine<'a>>,
    errors: Vec<ErrorEntry<'a>>,
    incomplete: &'a [String],
    not_assessed: Vec<Missing<'a>>,
    basis: &'a [String],
}

#[derive(Serialize)]
struct ErrorEntry<'a> {
    rule: &'a str,
    place: String,
    message: &'a str,
}

#[derive(Serialize)]
struct Missing<'a> {
    subject: &'a str,
    missing: &'a str,
    blocks: &'a [&'static str],
}

/// The accounts as one JSON document, set in by two blanks, with a line end behind it.
///
/// # Errors
/// Those of the writer of JSON; none is known for this shape.
pub fn render(accounts: &[Account<'_>]) -> serde_json::Result<String> {
    let document = Document {
        format: FORMAT,
        tool: Tool::this(),
        complete: accounts.iter().all(|account| account.report.complete()),
        robots: accounts.iter().map(robot).collect(),
        caution: summary::CAUTION,
    };
    Ok(serde_json::to_string_pretty(&document)? + "\n")
}

fn robot<'a>(account: &'a Account<'_>) -> Robot<'a> {
    let report = &account.report;
    let verdict = report.verdict;
    let analysis = account.view.as_ref().map(|view| view.analysis);
    Robot {
        path: &report.root,
        name: analysis.map_or("", |analysis| &analysis.design.robot.name),
        profile: analysis.map(|analysis| analysis.profile.word),
        complete: report.complete(),
        points: Points(account.view.as_ref()),
        figures: Figures(account.view.as_ref()),
        tree: account.view.as_ref().map_or_else(Vec::new, tree),
        errors: errors(report),
        incomplete: &verdict.incomplete,
        not_assessed: missing(report),
        basis: &verdict.basis,
    }
}

fn missing<'a>(report: &'a Report<'_>) -> Vec<Missing<'a>> {
    let entries = report.verdict.not_assessed.iter();
    entries
        .map(|entry| Missing { subject: &entry.subject, missing: &entry.missing, blocks: &entry.blocks })
        .collect()
}

fn errors<'a>(report: &'a Report<'_>) -> Vec<ErrorEntry<'a>> {
    let place = |place: Place<'_>| format!("{}:{}:{}", place.path, place.line, place.column);
    let entry = |error: &'a wattle_grammar::error::TextError| ErrorEntry {
        rule: error.name,
        place: place(report.place(error.span)),
        message: &error.message,
    };
    report.verdict.errors.iter().map(entry).collect()
}

#[derive(Serialize)]
struct TreeLine<'a> {
    depth: usize,
    thing: &'a str,
    part: &'static str,
    joins: bool,
}

fn tree<'a>(view: &View<'a>) -> Vec<TreeLine<'a>> {
    let design = &view.analysis.design;
    let line = |branch: Branch| {
        let (section, id) = branch.part.entry();
        TreeLine {
            depth: branch.depth,
            thing: &design.thing(id).name,
            part: section.word(),
            joins: branch.joins,
        }
    };
    view.tree().into_iter().map(line).collect()
}

/// Every figure, one entry after the other, so that they need not all be held at once.
struct Figures<'a>(Option<&'a View<'a>>);

impl Serialize for Figures<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut list = serializer.serialize_seq(None)?;
        if let Some(view) = self.0 {
            for entry in view.each_entry() {
                figure::short(view, &entry).try_for_each(|figure| list.serialize_element(&figure))?;
            }
        }
        list.end()
    }
}

/// Every point that counts.
struct Points<'a>(Option<&'a View<'a>>);

impl Serialize for Points<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut list = serializer.serialize_seq(None)?;
        if let Some(view) = self.0 {
            for (_, point) in view.points() {
                list.serialize_element(&point_entry(view, point))?;
            }
        }
        list.end()
    }
}

#[derive(Serialize)]
struct PointEntry<'a> {
    mode: &'a str,
    corner: String,
    charge: &'static str,
    regulators: &'static str,
    conductors: &'static str,
    ordinary: bool,
    duty: f64,
    solved: bool,
    why: Option<&'static str>,
    wires: Wires<'a>,
    things: Things<'a>,
    terminals: Terminals<'a>,
}

fn point_entry<'a>(view: &'a View<'_>, point: &'a Point) -> PointEntry<'a> {
    PointEntry {
        mode: corner::mode(&view.analysis.design, point),
        corner: corner::words(point),
        charge: point.corner.charge.word(),
        regulators: point.corner.regulators.word(),
        conductors: point.corner.conductors.word(),
        ordinary: point.ordinary,
        duty: point.duty.0,
        solved: point.outcome.is_ok(),
        why: point.outcome.as_ref().err().map(Unsolved::words),
        wires: Wires(view, point),
        things: Things(view, point),
        terminals: Terminals(view, point),
    }
}

struct Wires<'a>(&'a View<'a>, &'a Point);

impl Serialize for Wires<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let Self(view, point) = self;
        let mut map = serializer.serialize_map(None)?;
        for (id, wire) in view.analysis.design.wires() {
            if let Some(amps) = point.amps(crate::topology::LinkId(id.0)) {
                map.serialize_entry(&wire.name, &number(amps))?;
            }
        }
        map.end()
    }
}

struct Things<'a>(&'a View<'a>, &'a Point);

#[derive(Serialize)]
struct ThingEntry {
    volts: Option<f64>,
    amps: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    output_volts: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    output_amps: Option<f64>,
}

impl From<Reading> for ThingEntry {
    fn from(reading: Reading) -> Self {
        Self {
            volts: reading.volts.map(number),
            amps: reading.amps.map(number),
            output_volts: reading.output_volts.map(number),
            output_amps: reading.output_amps.map(number),
        }
    }
}

impl Serialize for Things<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let Self(view, point) = self;
        let mut map = serializer.serialize_map(None)?;
        for (id, thing) in view.analysis.design.things() {
            if let Some(reading) = view.reading(point, id) {
                map.serialize_entry(&thing.name, &ThingEntry::from(reading))?;
            }
        }
        map.end()
    }
}

struct Terminals<'a>(&'a View<'a>, &'a Point);

impl Serialize for Terminals<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let Self(view, point) = self;
        let design = &view.analysis.design;
        let mut map = serializer.serialize_map(None)?;
        for (id, _) in (0u32..).map(TerminalId).zip(&design.terminals) {
            if let Some(volts) = point.volts(&view.analysis.topology, id) {
                map.serialize_entry(&design.terminal_name(id), &number(volts))?;
            }
        }
        map.end()
    }
}

/// A value in its base unit, never `-0`.
fn number<U: Unit>(value: U) -> f64 {
    value.base() + 0.0
}
