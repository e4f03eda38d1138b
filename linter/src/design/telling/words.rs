//! Words on the line that no rating of the statement knows.

use wattle_grammar::{
    error::{TextError, quoted},
    kind::{self, KindId, colour},
    nearest::nearest,
    span::Span,
    unit::by_spelling,
};

use super::super::{lower::Lowering, names::with_nearest, rows::Rows, scope::ScopeId};
use crate::complaint::listed;

/// At most so many words are named in a help.
const MOST_WORDS: usize = 8;

impl Lowering<'_> {
    /// The error of a word on the line of a statement that means nothing there.
    pub(in crate::design) fn unplaced_word(
        &mut self,
        scope: ScopeId,
        rows: Rows,
        word: &str,
        span: Span,
    ) -> TextError {
        let around = self.around(span);
        let known = no_number(word, span, &around)
            .or_else(|| no_unit(word, span))
            .or_else(|| gauge_by_hyphen(word, span))
            .or_else(|| key_on_line(rows, word, span))
            .or_else(|| joint(word, span))
            .or_else(|| sort_of_current(word, span))
            .or_else(|| self.other_name(rows, word, span, &around))
            .or_else(|| another_statement(word, span))
            .or_else(|| second_name(rows, word, span, &around))
            .or_else(|| stripe(rows, word, span));
        known.unwrap_or_else(|| self.unknown_word(scope, rows, word, span))
    }

    fn unknown_word(&mut self, scope: ScopeId, rows: Rows, word: &str, span: Span) -> TextError {
        let mut candidates: Vec<&str> = rows.line_words().collect();
        candidates.extend(self.constants_in(scope));
        let found = self.nearest.find(word, candidates.into_iter());
        let error = nothing(rows, word, span);
        match found {
            Some(_) => with_nearest(error, span, found),
            None => match (words_of(rows), rows.line_keys().as_str()) {
                (Some(words), _) => error.help(words),
                (None, "none") => error,
                (None, keys) => error.help(format!("on the line of {} stand {keys}", rows.noun)),
            },
        }
    }

    /// A name of something else: of a part, a place, a block.
    fn other_name(&self, rows: Rows, word: &str, span: Span, around: &Around) -> Option<TextError> {
        let error = nothing(rows, word, span);
        if self.kind_of_part(word).is_some_and(|kind| kind.word == rows.noun.0) {
            let right = format!(": {word}");
            return Some(error.help(format!("a part stands behind a colon: `{right}`")).mend(span, right));
        }
        if self.place_ids.contains_key(word) {
            let placed = around.before.split_whitespace().any(|before| before == "at");
            let right = format!("at {word}");
            return Some(match placed {
                true => error.help("a thing has one place; there is one on this line already"),
                false => error.help(format!("a place stands behind `at`: `{right}`")).mend(span, right),
            });
        }
        let blocks = matches!(rows.noun.0, "fuse" | "breaker");
        let block = self.design.things.iter().any(|thing| thing.name == word && thing.id() == KindId::Block);
        let right = format!("on {word}");
        (blocks && block)
            .then(|| error.help(format!("a block stands behind `on`: `{right}`")).mend(span, right))
    }

    /// What stands on the line before and behind a place.
    fn around(&self, span: Span) -> Around<'_> {
        let Some(file) = self.project.file(span.file) else { return Around { before: "", behind: "" } };
        let before = file.text.get(..span.start as usize).unwrap_or("");
        let behind = file.text.get(span.end as usize..).unwrap_or("");
        Around {
            before: before.rsplit(['\n', '\r', ';', '{', '}']).next().unwrap_or(""),
            behind: behind.split(['\n', '\r', ';', '{', '}', '#']).next().unwrap_or(""),
        }
    }
}

/// The line around a word.
struct Around<'t> {
    before: &'t str,
    behind: &'t str,
}

fn nothing(rows: Rows, word: &str, span: Span) -> TextError {
    let message = format!("{} means nothing on the line of {}", quoted(word), rows.noun);
    TextError::new("language.unknown-word", span, message, "no word or constant of this name")
}

/// The words that may stand on the line, as a sentence.
fn words_of(rows: Rows) -> Option<String> {
    // What the figure is worth can be said of any; what the thing is comes first.
    let worth = |word: &&str| {
        rows.rating(kind::key::BASIS).is_some_and(|row| row.words().iter().any(|(known, _)| known == word))
    };
    let named = || rows.line_words().filter(|word| !worth(word));
    let words: Vec<String> = named().take(MOST_WORDS).map(|word| format!("`{word}`")).collect();
    let more = if named().nth(MOST_WORDS).is_some() { " …" } else { "" };
    let joined = if more.is_empty() { listed(&words, "or") } else { words.join(", ") };
    (!words.is_empty()).then(|| format!("words that may stand here are {joined}{more}"))
}

/// `five A`, `NaN V`: a word where the number before a unit is due.
fn no_number(word: &str, span: Span, around: &Around<'_>) -> Option<TextError> {
    let next = around.behind.split_whitespace().next().unwrap_or("");
    let never = ["nan", "inf", "infinity", "infinite"].contains(&word.to_lowercase().as_str());
    if by_spelling(next).is_none() && !never {
        return None;
    }
    let message = format!("{} is no number", quoted(word));
    let error = TextError::new("language.not-a-number", span, message, "a number is due here");
    Some(error.help("numbers are written in digits; leave a value out if it is not known"))
}

/// `AWG` without its number.
fn no_unit(word: &str, span: Span) -> Option<TextError> {
    let unit = by_spelling(word)?;
    let message = format!("the unit {} has no number", quoted(word));
    let error = TextError::new("language.not-a-number", span, message, "a number is due before this");
    let example = if unit.symbol == "AWG" { "`18 AWG`".to_owned() } else { format!("`12 {}`", unit.symbol) };
    Some(error.help(format!("number and unit stand together: {example}")))
}

/// `AWG-18`
fn gauge_by_hyphen(word: &str, span: Span) -> Option<TextError> {
    let number = word.strip_prefix("AWG-").or_else(|| word.strip_prefix("awg-"))?;
    let digits = !number.is_empty() && number.bytes().all(|byte| byte.is_ascii_digit());
    digits.then(|| {
        let right = format!("{number} AWG");
        let message = format!("{} has a hyphen between unit and number", quoted(word));
        TextError::new("language.hyphened-unit", span, message, "no hyphen here")
            .help(format!("write `{right}`"))
            .mend(span, right)
    })
}

/// A key that needs a value, on the line.
fn key_on_line(rows: Rows, word: &str, span: Span) -> Option<TextError> {
    rows.rating(word)?;
    let message = format!("{} is a key: it stands in the block", quoted(word));
    let error = TextError::new("language.unknown-word", span, message, "a key, not a value");
    Some(error.help(format!("write it there with its value: `{{ {word} … }}`")))
}

fn joint(word: &str, span: Span) -> Option<TextError> {
    matches!(word, "and" | "or" | "und").then(|| {
        let message = format!("{} joins no names", quoted(word));
        TextError::new("language.unknown-word", span, message, "a comma is due here")
            .help("several names are parted by commas: `M1, M2`")
            .mend(span, ",")
    })
}

/// `12 V DC`
fn sort_of_current(word: &str, span: Span) -> Option<TextError> {
    let help = match word.to_lowercase().as_str() {
        "dc" => "every voltage and current is direct: leave the word out",
        "ac" => "only direct current is described: write the figures of the direct-current side",
        _ => return None,
    };
    let message = format!("{} is no word of the language", quoted(word));
    let error = TextError::new("language.unknown-word", span, message, "nothing is due here").help(help);
    Some(if word.eq_ignore_ascii_case("dc") { error.mend(span, "") } else { error })
}

/// `light L1 12 V light L2 12 V`
fn another_statement(word: &str, span: Span) -> Option<TextError> {
    if kind::by_word(word).is_none() && kind::statement::by_word(word).is_none() {
        return None;
    }
    let message = format!("{} begins another statement", quoted(word));
    let error = TextError::new("language.unknown-word", span, message, "a new line is due before this");
    Some(error.help("write each statement on a line of its own").mend(span, format!("\n{word}")))
}

/// `battery MAIN PACK`: a second word right behind the name.
fn second_name(rows: Rows, word: &str, span: Span, around: &Around<'_>) -> Option<TextError> {
    let mut words = around.before.split_whitespace();
    let first = words.next()?;
    kind::by_word(first).or(kind::by_word(rows.noun.0))?;
    let names: Vec<&str> = words.collect();
    let (last, others) = names.split_last()?;
    let named = others.iter().all(|name| name.ends_with(',')) && !last.ends_with(',');
    let plain = last.bytes().all(|byte| byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'_'));
    if !named || !plain || rows.line_words().any(|known| nearest(word, [known]).is_some()) {
        return None;
    }
    let error = nothing(rows, word, span);
    Some(error.help(format!(
        "a name has no blanks, and names are parted by commas: `{last}-{word}` or `{last}, {word}`"
    )))
}

/// `red/wihte`
fn stripe(rows: Rows, word: &str, span: Span) -> Option<TextError> {
    rows.rating(kind::key::COLOUR).filter(|_| word.contains('/'))?;
    let colours = || colour::WORDS.iter().map(|(word, _)| *word);
    let parts: Option<Vec<&str>> = word.split('/').map(|part| nearest(part, colours())).collect();
    let right = parts?.join("/");
    Some(nothing(rows, word, span).help(format!("did you mean `{right}`?")).mend(span, right))
}
