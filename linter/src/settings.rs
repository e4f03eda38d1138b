//! The settings file `wattle.toml`: the profile of robots that name none, and the author's own ampacity table.
//!
//! It is looked for in the folder of a robot's root file and then in each folder above; the nearest one holds, alone. Every
//! mistake in it has a place and says what would be right. `settings/README.md` is the page for people,
//! `settings/wattle.schema.json` the one for editors.

mod ampacity;
mod heat_check;
mod key;
mod number;
mod reader;
#[cfg(test)]
mod tests;

use std::{path::PathBuf, sync::Arc};

use toml::de::DeTable;
use wattle_grammar::{
    error::TextError,
    line_index::LineIndex,
    span::{FileId, Span},
};

use crate::profile::{self, ByMaker, OWN, Profile};
pub use key::{ALL as KEYS, Key};
use reader::Reader;

/// The name of the settings file.
pub const FILE_NAME: &str = "wattle.toml";

/// A settings file larger than this is refused: 1 MB.
const MOST_BYTES: usize = 1 << 20;

/// A settings file as a loader found it: its path, and its bytes or a plain sentence on why it cannot be read.
pub type Found = (PathBuf, Result<Vec<u8>, String>);

/// What a settings file says.
#[derive(Clone, Debug)]
pub struct Settings {
    /// Its file in the project.
    pub file: FileId,
    /// The profile of robots that name none.
    pub profile: Chosen,
    /// The author's own table, when there is one without a mistake.
    pub table: Option<Arc<ByMaker>>,
    /// Mistakes, in place order.
    pub errors: Vec<TextError>,
    /// Plain sentences on what was let pass on the author's word, for the basis of a report.
    pub notes: Vec<String>,
}

/// A choice of profile.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Chosen {
    /// The file does not speak of it.
    Nothing,
    /// The word of a profile.
    Word(&'static str),
    /// It says something that was not understood.
    Unclear,
}

impl Settings {
    /// The profile that a word names; `own` is the table of this file.
    #[must_use]
    pub fn profile_of(&self, word: &str) -> Option<Profile> {
        if word == OWN {
            return Some(Profile::own(self.table.clone()));
        }
        profile::by_word(word).cloned()
    }

    /// The profile of a robot that names none. Where the choice was not understood, one that covers nothing: no wire passes
    /// by a basis that nobody chose.
    #[must_use]
    pub fn default_profile(&self) -> Option<Profile> {
        match self.profile {
            Chosen::Nothing => None,
            Chosen::Word(word) => self.profile_of(word),
            Chosen::Unclear => Some(Profile::own(None)),
        }
    }
}

/// The text of a settings file, and what it says. A file that cannot be read has an empty text and one error.
pub(crate) fn read(found: Result<Vec<u8>, String>, file: FileId) -> (String, Settings) {
    match text_of(found) {
        Ok(text) => {
            let settings = parse(&text, file);
            (text, settings)
        }
        Err(why) => {
            let message = format!("the settings file cannot be read: {why}");
            let error = TextError::new("settings.unreadable", Span::file_start(file), message, "not read");
            let settings = Settings { errors: vec![error], profile: Chosen::Unclear, ..nothing(file) };
            (String::new(), settings)
        }
    }
}

fn text_of(found: Result<Vec<u8>, String>) -> Result<String, String> {
    let bytes = found?;
    if bytes.len() > MOST_BYTES {
        return Err(format!("it has {} MB, the limit is {} MB", bytes.len() >> 20, MOST_BYTES >> 20));
    }
    String::from_utf8(bytes).map_err(|error| {
        let good = error.utf8_error().valid_up_to();
        let before = String::from_utf8_lossy(error.as_bytes().get(..good).unwrap_or_default()).into_owned();
        format!(
            "line {} is not UTF-8",
            LineIndex::new(&before).line(u32::try_from(good).unwrap_or(u32::MAX)) + 1
        )
    })
}

const fn nothing(file: FileId) -> Settings {
    Settings { file, profile: Chosen::Nothing, table: None, errors: Vec::new(), notes: Vec::new() }
}

/// What a text says.
fn parse(text: &str, file: FileId) -> Settings {
    let (table, mistakes) = DeTable::parse_recoverable(text);
    let mut reader = Reader::new(text, file);
    for mistake in &mistakes {
        reader.not_toml(mistake);
    }
    let mut settings = nothing(file);
    if mistakes.is_empty() {
        let root = table.get_ref();
        reader.known_keys(root, "");
        settings.profile = profile_word(&mut reader, root);
        if let Some(value) = root.get("ampacity") {
            settings.table = ampacity::read(&mut reader, value, &mut settings.notes).map(Arc::new);
        }
        if settings.profile == Chosen::Word(OWN) && !root.contains_key("ampacity") {
            reader.no_table(root);
        }
    } else {
        settings.profile = Chosen::Unclear;
    }
    settings.errors = reader.into_errors();
    settings
}

fn profile_word(reader: &mut Reader<'_>, root: &DeTable<'_>) -> Chosen {
    let Some(value) = root.get("profile") else { return Chosen::Nothing };
    let words = profile::ALL.iter().map(|profile| profile.word).chain([OWN]);
    reader.word(value, "profile", &words.collect::<Vec<_>>()).map_or(Chosen::Unclear, Chosen::Word)
}
