//! Keys that a statement does not have, and keys with too little or too much behind them.

use wattle_grammar::{
    error::{TextError, quoted},
    kind::{self, Rating, RatingShape, setting},
    span::Span,
    syntax::{Name, Setting},
};

use super::{
    super::{
        fit,
        lower::Lowering,
        names::with_nearest,
        rows::{Noun, Rows},
    },
    synonyms,
};
use crate::complaint::listed;

/// Up to so many keys are all named.
const FEW: usize = 6;

impl Lowering<'_> {
    /// The error of a key that the statement does not have.
    pub(in crate::design) fn unknown_key(&mut self, rows: Rows, key: &Name) -> TextError {
        let (word, span) = (&*key.text, key.span);
        let shown = quoted(word);
        if kind::by_word(word).is_some() || kind::statement::by_word(word).is_some() {
            let message =
                format!("{shown} begins a statement and cannot stand in the block of {}", rows.noun);
            return TextError::new("language.unknown-key", span, message, "a setting is due here")
                .help("move it out of the block");
        }
        if rows.all().next().is_none() {
            let message = format!("{} has no settings", rows.noun);
            return TextError::new("language.unknown-key", span, message, "nothing can be set here");
        }
        let message = format!("{} has no setting {shown}", rows.noun);
        let error = TextError::new("language.unknown-key", span, message, "unknown key");
        let found = self.nearest.find(word, rows.all().map(|rating| rating.key));
        if found.is_some() {
            return with_nearest(error, span, found);
        }
        match synonyms::key(word, |ours| rows.rating(ours).is_some()) {
            Some(ours) => error.help(format!("the key for it is `{ours}`")).mend(span, ours),
            None if owners(word).is_some() => error.help(owners(word).unwrap_or_default()),
            None if rows.all().count() <= FEW => {
                let keys: Vec<String> = rows.all().map(|rating| format!("`{}`", rating.key)).collect();
                error.help(format!("its settings are {}", listed(&keys, "and")))
            }
            None => {
                error.help(format!("a key of your own begins with `x-`: {}", quoted(&format!("x-{word}"))))
            }
        }
    }
}

/// What has a rating of this key, as a sentence: wires and the like first, then kinds.
fn owners(key: &str) -> Option<String> {
    let has = |rows: &[Rating]| rows.iter().any(|rating| rating.key == key);
    let settings = [("wire", setting::WIRE), ("place", setting::PLACE), ("robot", setting::ROBOT)];
    let of_settings = settings.into_iter().filter(|(_, rows)| has(rows)).map(|(word, _)| word);
    let kinds = kind::ALL.iter().filter(|kind| has(kind.ratings)).map(|kind| kind.word);
    let owners: Vec<String> = of_settings.chain(kinds).map(|word| Noun(word).to_string()).collect();
    let several = owners.get(..FEW).map(|few| format!("{} and others", few.join(", ")));
    let all = || listed(&owners, "or");
    (!owners.is_empty()).then(|| format!("it is a setting of {}", several.unwrap_or_else(all)))
}

/// The error of a key with nothing behind it, or with `not` before it, where that cannot be.
pub(in crate::design) fn no_values(rating: &'static Rating, setting: &Setting) -> TextError {
    let key = rating.key;
    let due = fit::due(rating);
    let flag = matches!(rating.shape, RatingShape::Flag);
    let (message, label) = match (flag, setting.negated, setting.values.first()) {
        (false, true, None) => {
            (format!("`{key}` is not a matter of yes and no"), format!("{due} is due here"))
        }
        (_, true, Some(_)) => (format!("`not {key}` takes no value"), "the value is too much".to_owned()),
        _ => (format!("`{key}` needs a value"), format!("{due} is due after this")),
    };
    let error = TextError::new("language.missing-value", setting.span, message, label);
    match flag {
        true => error.help(format!("write `{key}` or `not {key}`")),
        false => error,
    }
}

/// The error of a value too many behind a key. `word` is the value when it is a word, `text` as it is written.
pub(in crate::design) fn too_much(
    rows: Rows,
    rating: &Rating,
    word: Option<&str>,
    span: Span,
    text: &str,
) -> TextError {
    let shown = quoted(text);
    if let Some(key) = word.filter(|word| rows.rating(word).is_some()) {
        let message = format!("{shown} is the next key, and no `;` stands before it");
        return TextError::new("language.too-many-values", span, message, "`;` is due before this")
            .help(format!("settings on one line are parted by `;`: `{} …; {key} …`", rating.key));
    }
    let message = format!("`{}` takes one value, found {shown} behind it", rating.key);
    let error = TextError::new("language.too-many-values", span, message, "one value too many");
    match (rating.dimension(), word) {
        (None, _) => error,
        (Some(_), Some(_)) => error.help(
            "behind a value may stand `continuous`, `peak`, `advertised` or `measured` with a date, and no other word",
        ),
        (Some(_), None) => error.help("each value has a key of its own"),
    }
}
