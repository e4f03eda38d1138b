//! What a word of the language means: a kind, a statement, a rating's key, a word of a mode, a rule.

use wattle_grammar::{
    Parse,
    kind::{self, Kind, Rating, doc, rating_in, setting, statement},
    span::Span,
    syntax::{Item, Setting, Wire},
};
use wattle_linter::rules;

use crate::feature::{page::Page, word::Word};

/// The page of a word that has a meaning in the language.
pub(super) fn page(parse: &Parse, word: &Word<'_>) -> Option<Page> {
    let mut page = Page::default();
    if let Some(rule) = rules::by_name(word.whole) {
        page.title(format!("rule `{}`", rule.name));
        page.text(rule.summary);
        page.text(rule.why);
    } else {
        page.markdown_text(text(parse, word)?);
    }
    Some(page)
}

fn text(parse: &Parse, word: &Word<'_>) -> Option<String> {
    let owner = owner(&parse.file.items, word.span);
    let rating = owner.as_ref().and_then(|owner| owner.rating(word));
    let mode_word = || statement::MODE_WORDS.iter().find(|mode_word| mode_word.word == word.text);
    let in_mode = matches!(owner, Some(Owner::Mode));
    rating
        .map(doc::rating_hover)
        .or_else(|| mode_word().filter(|_| in_mode).map(|word| format!("**`{}`** {}", word.word, word.doc)))
        .or_else(|| kind::by_word(word.text).map(doc::kind_hover))
        .or_else(|| statement::by_word(word.text).map(doc::statement_hover))
}

/// The statement that a word stands in, as far as it says which keys fit.
enum Owner {
    Kind(&'static Kind),
    Rows(&'static [Rating]),
    Mode,
}

impl Owner {
    fn rating(&self, word: &Word<'_>) -> Option<&'static Rating> {
        match self {
            Self::Kind(kind) => kind.rating(word.text),
            Self::Rows(rows) => rating_in(rows, word.text),
            Self::Mode => rating_in(setting::MODE, word.text),
        }
    }
}

/// The owner of a word that is a key of a setting or stands in a mode.
fn owner(items: &[Item], word: Span) -> Option<Owner> {
    items.iter().find_map(|item| {
        let of_wires = |wires: &[Wire]| wires.iter().any(|wire| is_key(&wire.settings, word));
        let (settings, owner): (&[Setting], Owner) = match item {
            Item::Robot(robot) => (&robot.settings, Owner::Rows(setting::ROBOT)),
            Item::Place(place) => (&place.settings, Owner::Rows(setting::PLACE)),
            Item::Group(group) => (&group.settings, Owner::Rows(setting::GROUP)),
            Item::Part(part) => (&part.settings, kind::by_word(&part.base.text).map(Owner::Kind)?),
            Item::Thing(thing) => (&thing.settings, kind::by_word(&thing.kind.text).map(Owner::Kind)?),
            Item::Wire(wire) => (&wire.settings, Owner::Rows(setting::WIRE)),
            Item::Harness(harness) if of_wires(&harness.wires) => return Some(Owner::Rows(setting::WIRE)),
            Item::Harness(harness) => (&harness.settings, Owner::Rows(setting::HARNESS)),
            Item::Tie(tie) => (&tie.settings, Owner::Rows(setting::TIE)),
            Item::Mate(mate) => (&mate.settings, Owner::Rows(setting::MATE)),
            Item::Mode(mode) => return holds(mode.span, word).then_some(Owner::Mode),
            Item::Assembly(assembly) => return owner(&assembly.items, word),
            _ => return None,
        };
        is_key(settings, word).then_some(owner)
    })
}

fn is_key(settings: &[Setting], word: Span) -> bool {
    settings.iter().any(|setting| holds(setting.key.span, word))
}

fn holds(outer: Span, inner: Span) -> bool {
    outer.start <= inner.start && inner.end <= outer.end
}
