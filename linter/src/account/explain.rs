//! Every figure of one wire, thing or terminal with its derivation, as an electrician would accept it on paper.

mod formula;

use wattle_grammar::{
    kind::key,
    quantity::{Amps, Volts},
    span::Span,
};

use super::{
    Account, Entry, View, corner, markdown,
    prose::{self, filled, hung},
    subject::{self, Subject},
    table::{Cell, Table, left, right},
    text,
};
use crate::{
    design::Probe,
    explained::{Amount, Explained, Input},
    figures::Point,
    probe,
    report::summary,
    topology::LinkId,
};

/// What is known of one thing.
#[derive(Debug)]
pub struct Explanation<'a> {
    /// The account that it is part of.
    pub account: &'a Account<'a>,
    /// The robot.
    pub view: &'a View<'a>,
    /// The full name.
    pub name: String,
    subject: Subject,
    span: Span,
    /// Its entries, one for each section that it is in.
    pub entries: Vec<Entry>,
    /// What is stated of it: key, value, and where from.
    pub ratings: Vec<(String, String, String)>,
}

/// What stands on it at a point.
#[derive(Clone, Debug)]
pub struct Row {
    /// The mode.
    pub mode: String,
    /// The words of the corner for machines.
    pub corner: String,
    /// The words of the corner for a table.
    pub short: String,
    /// Why there is no solution.
    pub why: Option<&'static str>,
    /// The voltage.
    pub volts: Option<Volts>,
    /// The current.
    pub amps: Option<Amps>,
}

impl<'a> Explanation<'a> {
    /// What is known of what bears a full name; nothing when nothing does.
    #[must_use]
    pub fn new(account: &'a Account<'a>, name: &str) -> Option<Self> {
        let view = account.view.as_ref()?;
        let design = &view.analysis.design;
        let subject = subject::find(design, name)?;
        let (span, rated) = match subject {
            Subject::Wire(id) => (design.wire(id).span, design.wire(id).facts.as_slice()),
            Subject::Thing(id) => (design.thing(id).span, design.thing(id).ratings.as_slice()),
            Subject::Terminal(id) => (design.thing(design.terminal(id).thing).span, [].as_slice()),
        };
        let ratings = rated
            .iter()
            .map(|rated| (rated.key.to_owned(), rated.value.to_string(), view.origin(rated)))
            .collect();
        Some(Self {
            account,
            view,
            name: name.to_owned(),
            subject,
            span,
            entries: view.about(subject),
            ratings,
        })
    }

    /// What stands on it at each point that counts.
    #[must_use]
    pub fn points(&self) -> Vec<Row> {
        self.view.points().map(|(_, point)| self.row(point)).collect()
    }

    fn row(&self, point: &Point) -> Row {
        let analysis = self.view.analysis;
        let (volts, amps) = match self.subject {
            Subject::Wire(id) => (point.wire_drop(&analysis.topology, id), point.amps(LinkId(id.0))),
            Subject::Thing(id) => {
                let reading = self.view.reading(point, id).unwrap_or_default();
                (reading.volts, reading.amps)
            }
            Subject::Terminal(id) => {
                (probe::volts(&analysis.design, &analysis.topology, point, &Probe::Terminal(id)), None)
            }
        };
        Row {
            mode: corner::mode(&analysis.design, point).to_owned(),
            corner: corner::words(point),
            short: corner::short(&analysis.design, point),
            why: point.outcome.as_ref().err().map(crate::network::Unsolved::words),
            volts,
            amps,
        }
    }

    fn is(&self) -> String {
        let design = &self.view.analysis.design;
        match self.subject {
            Subject::Thing(id) => design.thing(id).kind.word.to_owned(),
            _ => self.entries.first().map_or_else(String::new, |entry| entry.is.clone()),
        }
    }

    /// The points as a table.
    fn table(&self) -> Table {
        let (first, second) = match self.subject {
            Subject::Wire(_) => ("drop", "current"),
            _ => ("voltage", "current"),
        };
        let mut table =
            Table::new("at every point", vec![left("mode"), left("corner"), right(first), right(second)]);
        for row in self.points() {
            let dash = || Cell::text("-");
            let cell = |amount: Option<Amount>| {
                amount.map_or_else(dash, |amount| Cell::text(prose::amount(&amount)))
            };
            table.rows.push(vec![
                Cell::name(row.mode),
                Cell::text(row.short),
                row.why.map_or_else(|| cell(row.volts.map(Amount::of)), |_| dash()),
                cell(row.amps.map(Amount::of)),
            ]);
        }
        table
    }

    fn ratings_table(&self) -> Table {
        let mut table = Table::new("as stated", vec![left("rating"), right("value"), left("from")]);
        for (key, value, origin) in &self.ratings {
            table.rows.push(vec![Cell::name(key), Cell::text(value), Cell::text(origin)]);
        }
        table
    }
}

/// The explanations for a terminal, at most `width` columns wide.
#[must_use]
pub fn in_text(explained: &[Explanation<'_>], width: usize) -> String {
    let mut out = String::new();
    for one in explained {
        out.push_str(&filled(0, &format!("{}: {}, {}", one.name, one.is(), one.view.line(one.span)), width));
        for entry in &one.entries {
            if one.entries.len() > 1 {
                out.push_str(&format!("\n{}\n", entry.section.heading()));
            }
            for figure in &entry.figures {
                out.push('\n');
                out.push_str(&figure_text(one.view, figure, width));
            }
        }
        if !one.ratings.is_empty() {
            out.push_str("\nstated of it\n");
        }
        for (key, value, origin) in &one.ratings {
            out.push_str(&hung(2, 4, &format!("{key} {value} ({origin})"), width));
        }
        out.push_str(&format!("\n{}\n", one.table().text(width)));
        out.push_str(&text::closing_block(one.account, width));
        out.push('\n');
    }
    out + &hung(0, 2, &format!("caution: {}", summary::CAUTION), width)
}

fn figure_text(view: &View<'_>, figure: &Explained, width: usize) -> String {
    let mut out = filled(0, &format!("{}: {}", figure.what, told(&figure.amount)), width);
    out.extend(formula::lines(figure).iter().map(|line| hung(2, 4, line, width)));
    for input in &figure.inputs {
        out.push_str(&hung(4, 6, &input_line(figure, input), width));
    }
    for (word, sentence) in facts(view, figure) {
        out.push_str(&hung(2, 4, &format!("{word}: {sentence}"), width));
    }
    out
}

/// An input with its number, unless that is the figure's own and stands above.
fn input_line(figure: &Explained, input: &Input) -> String {
    if formula::is_all(figure, input) {
        format!("{}, {}", input.symbol, input.what)
    } else {
        format!("{} = {}, {}", input.symbol, told(&input.amount), input.what)
    }
}

/// Point, source, evidence and notes of a figure, each with its word.
fn facts(view: &View<'_>, figure: &Explained) -> Vec<(&'static str, String)> {
    let mut facts = Vec::new();
    facts.extend(figure.point.map(|at| ("at", view.point_words(at))));
    let is_told = !matches!(figure.amount, Amount::NotAssessed(_));
    // Where nothing of a derivation is shown, there is nothing that the source could be of.
    if !figure.source.is_empty() && (is_told || !figure.inputs.is_empty()) {
        facts.push(("source", figure.source.clone()));
    }
    if is_told && figure.evidence != crate::physics::evidence::Evidence::Seen {
        facts.push(("evidence", figure.evidence.phrase().to_owned()));
    }
    facts.extend(figure.notes.iter().map(|note| ("note", note.clone())));
    facts
}

pub(super) fn told(amount: &Amount) -> String {
    match amount {
        Amount::NotAssessed(missing) if missing.contains(' ') => {
            // A rating and whose it is.
            let whose = missing.split_once(" of `").filter(|(rating, _)| key::ALL.contains(rating));
            match whose {
                Some((rating, thing)) => format!("not assessed for want of `{rating}` of `{thing}"),
                None => format!("not assessed for want of {missing}"),
            }
        }
        Amount::NotAssessed(missing) => format!("not assessed for want of `{missing}`"),
        other => prose::amount(other),
    }
}

/// The explanations in Markdown.
#[must_use]
pub fn in_markdown(explained: &[Explanation<'_>]) -> String {
    let mut out = String::new();
    for one in explained {
        let place = markdown::code(&one.view.line(one.span));
        out.push_str(&format!(
            "## {}\n\n{}, {place}\n\n",
            markdown::code(&one.name),
            markdown::escaped(&one.is())
        ));
        for entry in &one.entries {
            for figure in &entry.figures {
                out.push_str(&figure_markdown(one.view, entry, figure));
            }
        }
        out.push_str(&one.ratings_table().markdown());
        out.push_str(&one.table().markdown());
        out.push_str(&markdown::closing_block(one.account));
    }
    out + &format!("> caution: {}\n", markdown::escaped(summary::CAUTION))
}

fn figure_markdown(view: &View<'_>, entry: &Entry, figure: &Explained) -> String {
    let mut out = format!(
        "### {}: {}\n\n",
        markdown::escaped(&format!("{} ({})", figure.what, entry.section.word())),
        markdown::escaped(&told(&figure.amount))
    );
    out.extend(formula::lines(figure).iter().map(|line| format!("{}\n\n", markdown::escaped(line))));
    let inputs = figure.inputs.iter();
    let inputs: Vec<String> = inputs.map(|input| markdown::escaped(&input_line(figure, input))).collect();
    let facts = facts(view, figure);
    let facts = facts.iter().map(|(word, sentence)| markdown::escaped(&format!("{word}: {sentence}")));
    out.extend(inputs.into_iter().chain(facts).map(|line| format!("- {line}\n")));
    out.push('\n');
    out
}
