//! Projects in memory.

use std::{cell::RefCell, collections::BTreeMap};

use super::{super::reopen, *};

#[derive(Default)]
struct Memory {
    files: BTreeMap<PathBuf, Vec<u8>>,
    loads: RefCell<Vec<PathBuf>>,
}

impl Memory {
    fn with(files: &[(&str, &str)]) -> Self {
        let files =
            files.iter().map(|(path, text)| (PathBuf::from(path), text.as_bytes().to_vec())).collect();
        Self { files, loads: RefCell::default() }
    }
}

impl Loader for Memory {
    fn load(&self, path: &Path) -> Result<Vec<u8>, String> {
        self.loads.borrow_mut().push(path.to_path_buf());
        self.files.get(path).cloned().ok_or_else(|| "no such file".to_owned())
    }
}

fn open(root: &str, memory: &Memory) -> Project {
    super::open(Path::new(root), None, memory, None)
}

fn paths(project: &Project) -> Vec<String> {
    project.files.iter().map(|file| file.path.display().to_string()).collect()
}

fn names(project: &Project) -> Vec<&str> {
    project.errors.iter().map(|error| error.name).collect()
}

#[test]
fn files_come_breadth_first_in_text_order_and_once() {
    let memory = Memory::with(&[
        ("r/robot.wattle", "wattle 1\nuse \"b.wattle\"\nuse \"sub/a.wattle\"\n"),
        ("r/b.wattle", "wattle 1\nuse \"c.wattle\"\n"),
        ("r/sub/a.wattle", "wattle 1\nuse \"../c.wattle\"\nuse \"../b.wattle\"\n"),
        ("r/c.wattle", "wattle 1\n"),
    ]);
    let project = open("./r/robot.wattle", &memory);
    assert_eq!(paths(&project), ["r/robot.wattle", "r/b.wattle", "r/sub/a.wattle", "r/c.wattle"]);
    assert_eq!(names(&project), [""; 0]);
    assert_eq!(memory.loads.borrow().len(), 4);
    assert!(project.files.iter().zip(0..).all(|(file, at)| file.id == FileId(at)));
}

#[test]
fn a_missing_file_is_told_once_and_the_rest_is_read() {
    let memory = Memory::with(&[
        ("robot.wattle", "wattle 1\nuse \"gone.wattle\"\nuse \"b.wattle\"\nuse \"gone.wattle\"\n"),
        ("b.wattle", "wattle 1\n"),
    ]);
    let project = open("robot.wattle", &memory);
    assert_eq!(names(&project), ["language.missing-file"]);
    assert_eq!(project.errors[0].message, "cannot read `gone.wattle`: no such file");
    assert_eq!(project.errors[0].span.slice(&project.files[0].text), "\"gone.wattle\"");
    assert_eq!(paths(&project), ["robot.wattle", "b.wattle"]);
    assert!(project.lacks_text());
}

#[test]
fn a_missing_root_is_told_at_its_start() {
    let project = open("robot.wattle", &Memory::default());
    assert_eq!(names(&project), ["language.missing-file"]);
    assert_eq!(project.errors[0].span, Span::file_start(FileId(0)));
    assert!(project.files[0].parse.errors.is_empty());
}

#[test]
fn a_cycle_is_named_whole_at_the_use_that_closes_it() {
    let memory = Memory::with(&[
        ("robot.wattle", "wattle 1\nuse \"a.wattle\"\n"),
        ("a.wattle", "wattle 1\nuse \"b.wattle\"\n"),
        ("b.wattle", "wattle 1\nuse \"a.wattle\"\n"),
    ]);
    let project = open("robot.wattle", &memory);
    assert_eq!(names(&project), ["language.file-cycle"]);
    assert!(project.errors[0].message.ends_with("`a.wattle` → `b.wattle` → `a.wattle`"));
    assert_eq!(project.errors[0].span.file, FileId(2));
    assert!(!project.lacks_text());
}

#[test]
fn paths_out_of_the_project_are_refused_unless_its_folder_is_wider() {
    let memory = Memory::with(&[
        ("p/robots/robot.wattle", "wattle 1\nuse \"../stock.wattle\"\n"),
        ("p/stock.wattle", "wattle 1\n"),
    ]);
    let root = "p/robots/robot.wattle";
    assert_eq!(names(&open(root, &memory)), ["language.outside-project"]);
    let wider = super::open(Path::new(root), Some(Path::new("p")), &memory, None);
    assert_eq!(names(&wider), [""; 0]);
    assert_eq!(paths(&wider), [root, "p/stock.wattle"]);
}

#[test]
fn bad_bytes_have_their_offset_as_place() {
    let mut memory = Memory::with(&[("robot.wattle", "wattle 1\nuse \"b.wattle\"\n")]);
    memory.files.insert(PathBuf::from("b.wattle"), b"wattle 1\n# caf\xe9\n".to_vec());
    let project = open("robot.wattle", &memory);
    assert_eq!(names(&project), ["language.not-utf-8"]);
    assert_eq!(project.errors[0].span, Span::new(FileId(1), 14, 17));
    assert_eq!(project.errors[0].message, "byte 0xe9 at offset 14 is not UTF-8");
    assert_eq!(project.errors[0].related.len(), 1);
    assert_eq!(&*project.files[1].text, "wattle 1\n# caf\u{fffd}");
}

#[test]
fn a_thousand_files_are_the_limit() {
    let mut root = String::from("wattle 1\n");
    let mut memory = Memory::default();
    for number in 0..1_100 {
        root.push_str(&format!("use \"f{number}.wattle\"\n"));
        memory.files.insert(PathBuf::from(format!("f{number}.wattle")), b"wattle 1\n".to_vec());
    }
    memory.files.insert(PathBuf::from("robot.wattle"), root.into_bytes());
    let project = open("robot.wattle", &memory);
    assert_eq!(names(&project), ["language.too-many-files"]);
    assert_eq!(project.files.len(), MAX_FILES);
}

#[test]
fn a_file_above_the_limit_is_refused() {
    let mut memory = Memory::with(&[("robot.wattle", "wattle 1\nuse \"b.wattle\"\n")]);
    memory.files.insert(PathBuf::from("b.wattle"), vec![b'#'; MAX_FILE_BYTES + 1]);
    let project = open("robot.wattle", &memory);
    assert_eq!(names(&project), ["language.too-large"]);
    assert_eq!(project.errors[0].span.file, FileId(0));
}

#[test]
fn unchanged_files_keep_their_tree_on_reopening() {
    let mut memory =
        Memory::with(&[("robot.wattle", "wattle 1\nuse \"b.wattle\"\n"), ("b.wattle", "wattle 1\n")]);
    let first = open("robot.wattle", &memory);
    memory.files.insert(PathBuf::from("robot.wattle"), b"wattle 1\n\nuse \"b.wattle\"\n".to_vec());
    let second = reopen(Path::new("robot.wattle"), None, &memory, &first);
    assert!(!Arc::ptr_eq(&first.files[0].parse, &second.files[0].parse));
    assert!(Arc::ptr_eq(&first.files[1].parse, &second.files[1].parse));
}
