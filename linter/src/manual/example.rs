//! The examples of the pages, run: a page shows what its bad example really gives.

use std::path::Path;

use wattle_grammar::syntax::Date;

use super::EXAMPLE_FILE;
use crate::{
    analysis::analyse,
    project::{self, Loader},
    report::{Report, brief},
};

/// The day on which examples are judged, so that pages do not change with the calendar.
const EXAMPLE_DAY: Date = Date { year: 2025, month: 1, day: 1 };

struct OneText<'a>(&'a str);

impl Loader for OneText<'_> {
    fn load(&self, path: &Path) -> Result<Vec<u8>, String> {
        if path == Path::new(EXAMPLE_FILE) { Ok(self.0.into()) } else { Err("no such file".to_owned()) }
    }
}

/// The brief report on an example: one line for each error and finding.
#[must_use]
pub fn report(text: &str) -> String {
    let analysis = analyse(project::open(Path::new(EXAMPLE_FILE), &OneText(text)), Some(EXAMPLE_DAY));
    brief::lines(&Report::new(EXAMPLE_FILE, &analysis.project, &analysis.verdict))
}
