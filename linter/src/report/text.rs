//! The report for a person at a terminal: marked source lines, then the reasons. The only file that names ariadne.
//!
//! Ariadne draws the marked lines and nothing else; the sentence above and the details below are written here, so
//! that their layout is ours. How its traps are avoided (each is tested below):
//!
//! - columns are counted in bytes only when told so, and a place inside a character panics: every mark is moved to
//!   character boundaries inside the text first;
//! - a mark that reaches behind the text silently drops the picture: one blank is added behind the text, so that the
//!   end of the file is a place like any other;
//! - a mark over several lines is cut to its first line;
//! - the place of a second file in one picture is worked out by mixing up characters and bytes: each file gets a
//!   picture of its own;
//! - its own colours are fixed greys that vanish on some backgrounds: they become the theme's own.

use std::ops::Range;

use ariadne::{Color, Config, IndexType, Label, Report as Picture, ReportKind, Source};
use wattle_grammar::{
    error::TextError,
    line_index::LineIndex,
    span::{FileId, Span},
};

use super::{FileView, Report, ink::Role, ink::ink, measure::Shown, plain};
use crate::{
    finding::{Finding, Severity},
    paragraph::hanging,
    quantity_text::Figure,
};

/// How the report looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Style {
    /// Whether colour may be used: on a terminal only.
    pub colour: bool,
    /// Width in columns at which prose is broken.
    pub width: usize,
}

/// The longest line that is drawn, bytes. A longer one is no line a person wrote, and drawing it would flood the
/// terminal; its place is told in words.
const LONGEST_LINE: usize = 1000;

/// At most so many reasons are listed; the rest is counted.
const MOST_REASONS: usize = 6;

/// A mark in the text: where, what stands beside it, in which colour.
struct Mark<'a> {
    span: Span,
    label: &'a str,
    colour: Color,
}

/// Every error and every finding that nobody has accepted, in order, each as one block.
#[must_use]
pub fn render(report: &Report<'_>, style: Style) -> String {
    let mut out = String::new();
    for error in &report.verdict.errors {
        out.push_str(&error_block(report, error, style));
        out.push('\n');
    }
    for finding in report.open() {
        out.push_str(&finding_block(report, finding, style));
        out.push('\n');
    }
    out
}

fn error_block(report: &Report<'_>, error: &TextError, style: Style) -> String {
    let first = Mark { span: error.span, label: &error.label, colour: Color::Red };
    let mut out = headline("error", Role::Error, error.name, &error.message, style);
    out.push_str(&pictures(report, first, &error.related, style));
    out.extend(error.help.iter().map(|help| detail("help", help, style)));
    out
}

fn finding_block(report: &Report<'_>, finding: &Finding, style: Style) -> String {
    let severity = finding.severity;
    let first = Mark { span: finding.span, label: &finding.label, colour: mark_colour(severity) };
    let mut out = headline(severity.word(), Role::Severity(severity), finding.rule, &finding.message, style);
    out.push_str(&pictures(report, first, &finding.related, style));
    out.extend(finding.mode.iter().map(|mode| detail("in mode", mode, style)));
    out.extend(finding.figures.iter().map(|figure| detail("figure", &figure_line(figure), style)));
    out.push_str(&reasons(&finding.because, style));
    out.extend(finding.help.iter().map(|mend| detail("help", &mend.title, style)));
    out.push_str(&detail("more", &format!("wattle rules {}", finding.rule), style));
    out
}

fn headline(word: &str, role: Role, rule: &str, message: &str, style: Style) -> String {
    let head = format!("{word}[{rule}]");
    let whole = hanging("", &format!("{head} {}", plain::line(message)), style.width);
    // Coloured afterwards: escape sequences have no width.
    match whole.strip_prefix(&head) {
        Some(rest) => ink(&head, role, style.colour) + rest,
        None => whole,
    }
}

fn detail(word: &str, text: &str, style: Style) -> String {
    let whole = hanging(&format!("  = {word}: "), &plain::line(text), style.width);
    match whole.strip_prefix(&format!("  = {word}:")) {
        Some(rest) => format!("  = {}{rest}", ink(&format!("{word}:"), Role::Word, style.colour)),
        None => whole,
    }
}

fn figure_line(figure: &Figure) -> String {
    let value = format!("{} {}", figure.what, Shown(figure));
    if figure.basis.is_empty() { value } else { format!("{value} ({})", figure.basis) }
}

fn reasons(because: &[String], style: Style) -> String {
    let mut out: String =
        because.iter().take(MOST_REASONS).map(|one| detail("because", one, style)).collect();
    if because.len() > MOST_REASONS {
        out.push_str(&detail("because", &format!("and {} more", because.len() - MOST_REASONS), style));
    }
    out
}

const fn mark_colour(severity: Severity) -> Color {
    match severity {
        Severity::Danger => Color::Red,
        Severity::Damage => Color::Magenta,
        Severity::Malfunction => Color::Yellow,
        Severity::Untidy => Color::Cyan,
    }
}

/// One picture for each file: the file of the first mark first, the others in the order they are first named.
fn pictures(report: &Report<'_>, first: Mark<'_>, related: &[(Span, String)], style: Style) -> String {
    let mut files: Vec<(FileId, Vec<Mark<'_>>)> = vec![(first.span.file, vec![first])];
    for (span, label) in related {
        let mark = Mark { span: *span, label, colour: Color::Blue };
        match files.iter_mut().find(|(file, _)| *file == span.file) {
            Some((_, marks)) => marks.push(mark),
            None => files.push((span.file, vec![mark])),
        }
    }
    files.iter().map(|(file, marks)| picture(report, *file, marks, style)).collect()
}

fn picture(report: &Report<'_>, file: FileId, marks: &[Mark<'_>], style: Style) -> String {
    let fits =
        |view: &&FileView<'_>| !view.text.is_empty() && marks.iter().all(|mark| line_fits(view, mark.span));
    let drawable = report.file(file).filter(fits);
    drawable.and_then(|view| draw(view, marks, style).ok()).unwrap_or_else(|| in_words(report, marks, style))
}

/// What is said where no picture can be drawn.
fn in_words(report: &Report<'_>, marks: &[Mark<'_>], style: Style) -> String {
    let told = |mark: &Mark<'_>| detail("at", &format!("{} {}", report.place(mark.span), mark.label), style);
    marks.iter().map(told).collect()
}

fn line_fits(view: &FileView<'_>, span: Span) -> bool {
    let (start, end) = line_around(view.lines, span.start);
    end.saturating_sub(start) <= LONGEST_LINE
}

fn line_around(lines: &LineIndex, at: u32) -> (usize, usize) {
    lines.range(lines.line(at)).map_or((0, 0), |(start, end)| (start as usize, end as usize))
}

/// The picture of one file with its marks in it; the first mark names the place.
fn draw(view: &FileView<'_>, marks: &[Mark<'_>], style: Style) -> std::io::Result<String> {
    let path = plain::line(view.path.as_ref());
    let path: &str = &path;
    // The blank behind the end makes the end of the file, and an empty last line, places that can be marked.
    let text = plain::same_offsets(view.text) + " ";
    let place = marks.first().map_or(0..0, |mark| visible(mark.span, &text, view.lines));
    let config = Config::new()
        .with_index_type(IndexType::Byte)
        .with_color(style.colour)
        .with_compact(false)
        .with_tab_width(4);
    let mut picture = Picture::build(ReportKind::Error, (path, place)).with_config(config);
    let mut marks: Vec<(Range<usize>, &Mark<'_>)> =
        marks.iter().map(|mark| (visible(mark.span, &text, view.lines), mark)).collect();
    marks.sort_by_key(|(range, _)| (range.start, range.end));
    for (range, mark) in marks {
        let label = plain::line(if mark.label.is_empty() { "here" } else { mark.label });
        picture.add_label(Label::new((path, range)).with_message(label).with_color(mark.colour));
    }
    let mut bytes = Vec::new();
    picture.finish().write((path, Source::from(text.as_str())), &mut bytes)?;
    Ok(tidied(&String::from_utf8_lossy(&bytes)))
}

/// Drops ariadne's own headline and trailing blanks, and puts the theme's colours in place of its greys: its margins
/// become dim, its unmarked source text plain. The source text itself holds no escape by now.
fn tidied(drawn: &str) -> String {
    let mut out = String::with_capacity(drawn.len());
    for line in drawn.lines().skip(1) {
        let dim = line.replace("\u{1b}[38;5;246m", "\u{1b}[2m").replace("\u{1b}[38;5;240m", "\u{1b}[2m");
        let mut stretches = dim.split("\u{1b}[38;5;249m");
        let mut line = stretches.next().unwrap_or("").to_owned();
        line.extend(stretches.map(|stretch| stretch.replacen("\u{1b}[0m", "", 1)));
        out.push_str(line.trim_end());
        out.push('\n');
    }
    out
}

/// The part of a span that can be marked in `text`: on character boundaries, inside the text, on one line, and at
/// least one character wide. `text` has one blank behind what `lines` was made of.
fn visible(span: Span, text: &str, lines: &LineIndex) -> Range<usize> {
    let last = text.len().saturating_sub(1);
    let start = text.floor_char_boundary((span.start as usize).min(last));
    let end = text.floor_char_boundary((span.end as usize).min(last));
    let (from, to) = line_around(lines, u32::try_from(start).unwrap_or(u32::MAX));
    let end = end.min(from + text.get(from..to).unwrap_or("").trim_end().len());
    let next = text.get(start..).and_then(|rest| rest.chars().next()).map_or(0, char::len_utf8);
    start..end.max(start + next)
}
