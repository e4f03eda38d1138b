//! What the command tells of a file's errors, as a text that can be kept beside the file and read by a person.
//!
//! ```text
//! 3:12 `Amps` language.unknown-unit
//!   message  `Amps` is no unit symbol: ampere is `A`
//!   label    not a symbol
//!   help     write `40 A`
//!   mend     3:9 `40 Amps` becomes `40 A`
//!   also     2:7 `F1` first defined here
//! ```
//!
//! A place is line and column in characters, both from 1, with the file before it where that is another one.

use std::{fmt::Write as _, path::Path};

use wattle_grammar::{error::TextError, line_index::Encoding, span::Span};
use wattle_linter::{
    analysis,
    files::DiskLoader,
    fragment,
    project::{self, Project},
    stock,
};

/// A file's project and errors.
#[derive(Clone, Debug)]
pub struct Told {
    /// The file and what it uses.
    pub project: Project,
    /// Its errors, in the order of the report.
    pub errors: Vec<TextError>,
}

impl Told {
    /// Reads a file from the disk and judges it as `wattle lint` does.
    #[must_use]
    pub fn of(path: &Path) -> Self {
        let folder = path.parent().unwrap_or(Path::new(""));
        Self::of_project(project::open(path, &DiskLoader::within(folder)))
    }

    /// Judges a project as `wattle lint` does: names are looked up in robots only.
    #[must_use]
    pub fn of_project(project: Project) -> Self {
        if project.files.first().is_some_and(fragment::is_robot) {
            let analysis = analysis::analyse(project, None);
            return Self { project: analysis.project, errors: analysis.verdict.errors };
        }
        let errors = fragment::judge(&project).errors;
        Self { project, errors }
    }

    /// All errors, a block each.
    #[must_use]
    pub fn render(&self) -> String {
        self.errors.iter().map(|error| self.block(error)).collect::<Vec<_>>().join("\n")
    }

    fn block(&self, error: &TextError) -> String {
        let mut out = format!("{} {}\n", self.marked(error.span), error.name);
        let mut line = |word: &str, text: &str| {
            let _ = writeln!(out, "  {word:<8} {}", shown(text));
        };
        line("message", &error.message);
        line("label", &error.label);
        error.help.iter().for_each(|help| line("help", help));
        if let Some((span, text)) = &error.mend {
            line("mend", &format!("{} becomes `{text}`", self.marked(*span)));
        }
        for (span, text) in &error.related {
            line("also", &format!("{} {text}", self.marked(*span)));
        }
        out
    }

    /// A place with the text that is marked there.
    fn marked(&self, span: Span) -> String {
        let Some(file) = self.project.file(span.file) else { return "nowhere".to_owned() };
        // The lines of the stock are its own business.
        if span.file == stock::FILE {
            return format!("{} `{}`", file.path.display(), shown(span.slice(&file.text)));
        }
        let at = file.lines.locate(&file.text, span.start, Encoding::Utf32);
        let name = if span.file.0 == 0 { String::new() } else { format!("{}:", name(&file.path)) };
        format!("{name}{}:{} `{}`", at.line + 1, at.column + 1, shown(span.slice(&file.text)))
    }
}

fn name(path: &Path) -> String {
    path.file_name().unwrap_or_default().to_string_lossy().into_owned()
}

/// A text on one line, with everything that cannot be seen spelled out.
fn shown(text: &str) -> String {
    let spelled = |found: char| match found {
        '\n' => "␤".to_owned(),
        _ if found.is_control()
            || matches!(found, '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{2028}' | '\u{2029}') =>
        {
            found.escape_unicode().to_string()
        }
        _ => found.to_string(),
    };
    text.chars().map(spelled).collect()
}
