//! A stand-in for the linter, for tests of what happens around it: a line that starts with `bad` is an error, `use "x"`
//! reads `x` beside the root, `robot` makes a root, and `burst` makes the analysis panic.

use std::{path::Path, sync::Arc};

use wattle_grammar::{
    Parse,
    error::TextError,
    line_index::LineIndex,
    span::{FileId, Span},
    syntax::{Date, Item, Robot, Text},
};

use crate::{
    engine::{Analysed, Engine, Loader, Project, SourceFile, Verdict},
    library::Library,
};

pub(crate) const ENGINE: Engine = Engine { open, analyse };

fn open(root: &Path, library: &Library<'_>, _: Option<&Project>) -> Project {
    let mut project = Project::default();
    read(root, library, &mut project);
    let text = project.files.first().map(|file| Arc::clone(&file.text)).unwrap_or_default();
    for used in text.lines().filter_map(|line| line.strip_prefix("use \"")?.strip_suffix('"')) {
        read(&root.parent().unwrap_or(root).join(used), library, &mut project);
    }
    project
}

fn read(path: &Path, library: &Library<'_>, project: &mut Project) {
    let Some(text) = library.load(path).ok().and_then(|bytes| String::from_utf8(bytes).ok()) else { return };
    let id = FileId(u32::try_from(project.files.len()).unwrap());
    let lines = Arc::new(LineIndex::new(&text));
    let parse = Arc::new(parse(id, &text));
    project.files.push(SourceFile { id, path: path.to_path_buf(), text: text.into(), parse, lines });
}

fn parse(file: FileId, text: &str) -> Parse {
    let mut parse = Parse::default();
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        let end = start + u32::try_from(line.trim_end().len()).unwrap();
        let span = Span::new(file, start, end);
        start += u32::try_from(line.len()).unwrap();
        if line.starts_with("robot") {
            let name = Text { text: "R".into(), span };
            parse.file.items.push(Item::Robot(Robot { name, settings: Vec::new(), span }));
        } else if line.starts_with("bad") {
            parse.errors.push(error(span, line.trim_end()));
        }
    }
    parse
}

fn error(span: Span, line: &str) -> TextError {
    TextError {
        name: "language.bad",
        span,
        message: format!("`{line}` is bad"),
        label: String::new(),
        help: None,
        related: Vec::new(),
        mend: None,
    }
}

fn analyse(project: Project, _: Option<Date>) -> Analysed {
    assert!(!project.files.iter().any(|file| file.text.contains("burst")), "burst on purpose");
    let errors = project.files.iter().flat_map(|file| file.parse.errors.clone()).collect();
    Analysed { verdict: Verdict { errors, ..Verdict::default() }, project, ..Analysed::default() }
}
