//! Names that nothing has, or that something of another sort has.

use wattle_grammar::{
    error::{TextError, quoted},
    kind::{Kind, by_word},
    span::Span,
    syntax::Path,
    unit::by_spelling,
};

use super::super::{
    lower::Lowering,
    names::{Target, with_nearest},
    places::dotted,
    rows::Noun,
    scope::ScopeId,
    unfold::MAX_DEPTH,
};
use crate::stock;

impl Lowering<'_> {
    /// What something of this name is, when it is no thing: a place, a part and so on.
    pub(in crate::design) fn other_sort(&self, name: &str) -> Option<&'static str> {
        let constant = || self.constant(ScopeId::ROBOT, name).is_some();
        if self.place_ids.contains_key(name) {
            Some("a place")
        } else if self.is_part(name) {
            Some("a part of the catalogue")
        } else if self.design.modes.iter().any(|mode| mode.name == name) {
            Some("a mode")
        } else if constant() {
            Some("a constant")
        } else {
            None
        }
    }

    /// Whether a part of the robot or of the stock has this name.
    pub(super) fn is_part(&self, name: &str) -> bool {
        self.parts.contains_key(name) || stock::part(name).is_some()
    }

    /// What the part of this name is, of the robot or of the stock.
    pub(super) fn kind_of_part(&self, name: &str) -> Option<&'static Kind> {
        if let Some(part) = self.parts.get(name) {
            return part.kind;
        }
        // Parts of the stock build on few others.
        let mut part = stock::part(name)?;
        for _ in 0..MAX_DEPTH {
            match by_word(&part.base.text) {
                None => part = stock::part(&part.base.text)?,
                kind => return kind,
            }
        }
        None
    }

    /// The noun of a target: of a thing the word of its kind.
    pub(in crate::design) fn sort_of(&self, target: Target) -> String {
        match target {
            Target::Thing(id) => self
                .design
                .things
                .get(id.index())
                .map_or_else(|| target.noun().to_owned(), |thing| Noun(thing.kind.word).to_string()),
            _ => target.noun().to_owned(),
        }
    }

    /// The error of a name that nothing in a scope has. `fit` is the fitted assembly that the path went into, if it did.
    pub(in crate::design) fn nothing_named(
        &mut self,
        scope: ScopeId,
        fit: Option<&str>,
        (name, span): (&str, Span),
        others: &[&str],
    ) -> TextError {
        if let Some(sort) = self.other_sort(name) {
            let message = format!("{} is {sort}, a thing or wire is due", quoted(name));
            return TextError::new(
                "language.not-a-thing",
                span,
                message,
                "the name of a thing or wire is due here",
            );
        }
        let message = match fit {
            None => format!("nothing is named {}", quoted(name)),
            Some(fit) => format!("nothing in `{fit}` is named {}", quoted(name)),
        };
        let error = TextError::new("language.unknown-name", span, message, "unknown name");
        if let Some(right) = self.hyphen_for_dot(scope, name) {
            return error.help(format!("did you mean `{right}`?")).mend(span, right);
        }
        let prefix = self.scopes.get(scope.0).map(|scope| scope.prefix.as_str()).unwrap_or_default();
        let things = self.design.things.iter().map(|thing| thing.name.as_str());
        let wires = self.design.wires.iter().map(|wire| wire.name.as_str());
        let harnesses = self.design.harnesses.iter().map(|harness| harness.name.as_str());
        // Names of other scopes count as looked at, so that the search stays bounded.
        let inside = things.chain(wires).chain(harnesses).map(|name| name.strip_prefix(prefix).unwrap_or(""));
        let near = self.nearest.find(name, others.iter().copied().chain(inside));
        match near {
            Some(_) => with_nearest(error, span, near),
            None => error.help("every thing has a line of its own: its kind, then its name"),
        }
    }

    /// The error of a word that is no constant, where `due` is due.
    pub(in crate::design) fn unknown_constant(
        &mut self,
        scope: ScopeId,
        word: &str,
        span: Span,
        due: &str,
    ) -> TextError {
        let shown = quoted(word);
        let never = ["nan", "inf", "infinity", "infinite"].contains(&word.to_lowercase().as_str());
        if never || by_spelling(word).is_some() {
            let message = format!("{shown} is no number");
            return TextError::new("language.not-a-number", span, message, format!("{due} is due here"))
                .help("numbers are written in digits; leave a value out if it is not known");
        }
        let error = TextError::new(
            "language.unknown-name",
            span,
            format!("there is no constant {shown}"),
            format!("{due} is due here"),
        );
        if let Some((one, other)) = word.split_once('-')
            && self.constant(scope, one).is_some()
            && self.constant(scope, other).is_some()
        {
            let right = format!("{one} - {other}");
            return error.help(format!("to subtract, write blanks: `{right}`")).mend(span, right);
        }
        let candidates = self.constants_in(scope);
        let found = self.nearest.find(word, candidates.into_iter());
        match found {
            Some(_) => with_nearest(error, span, found),
            None => error.help("a value is a number with its unit, or a name that a `let` gives one"),
        }
    }

    /// `P3-1` for `P3.1`.
    fn hyphen_for_dot(&self, scope: ScopeId, name: &str) -> Option<String> {
        let (thing, terminal) = name.rsplit_once(['-', '_'])?;
        let Some(Target::Thing(id)) = self.names.get(&self.full_name(scope, thing)) else { return None };
        self.position(id.index(), terminal).map(|_| format!("{thing}.{terminal}"))
    }

    /// The error of a path that goes on behind something that has nothing inside, or nothing of this name.
    pub(in crate::design) fn leads_nowhere(&self, target: Target, path: &Path, known: usize) -> TextError {
        let text = dotted(path);
        let before: Vec<&str> = path.segments.iter().take(known).map(|name| &*name.text).collect();
        let before = before.join(".");
        let sort = self.sort_of(target);
        let message = format!("{} leads nowhere: `{before}` is {sort}", quoted(&text));
        let error = TextError::new("language.unknown-name", path.span, message, "nothing of this name");
        match target {
            Target::Thing(_) => error.help("behind the name of a thing stands one of its terminals"),
            Target::Wire => error.help("wires meet at a terminal of a thing, such as a `splice` or `stud`"),
            _ => error,
        }
    }

    /// The error of a terminal where a thing is due.
    pub(in crate::design) fn terminal_for_thing(&self, scope: ScopeId, path: &Path) -> Option<TextError> {
        let (last, before) = path.segments.split_last()?;
        let Some(Target::Thing(id)) = self.target(scope, before) else { return None };
        self.position(id.index(), &last.text)?;
        let thing: Vec<&str> = before.iter().map(|name| &*name.text).collect();
        let right = thing.join(".");
        let message = format!("{} is a terminal, a thing is due", quoted(&dotted(path)));
        let error =
            TextError::new("language.not-a-thing", path.span, message, "the name of a thing is due here");
        Some(error.help(format!("write `{right}`")).mend(path.span, right))
    }
}
