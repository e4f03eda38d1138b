//! The name at a place of the text: what part of which statement it is, and among whose statements it stands. Only the
//! tree is looked at; where the name is defined is another question.

use wattle_grammar::{
    kind::{self, RatingShape, rating_in, setting},
    span::Span,
    syntax::{
        Assembly, Expect, File, Harness, Item, Name, Path, Reading, Setting, Shape, Thing, Value, Wire,
    },
};

/// What a name is in its statement.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Role<'f> {
    /// The statement defines it.
    Defined,
    /// The part that a thing is, or that a part builds on.
    Part,
    /// The assembly that is fitted.
    Assembly,
    /// A place, behind `at`.
    Place,
    /// A mode, behind `in`.
    Mode,
    /// A parameter of the assembly of this name, set by a fit.
    Parameter(&'f str),
    /// A thing, wire, harness, fit or group, and what is inside it.
    Path,
    /// A word among values: a constant or a parameter, or a word of the language.
    Value,
    /// What a setting refers to: a thing, wire, place or group.
    Reference,
    /// The file that a `use` names.
    File,
}

/// A name, with what stands before it in its path.
#[derive(Clone, Debug, PartialEq)]
pub struct Mention<'f> {
    /// What it is.
    pub role: Role<'f>,
    /// The names of its path up to the one at the place; mostly one.
    pub path: Vec<&'f str>,
    /// Where the last of them stands.
    pub span: Span,
    /// The assembly among whose statements it stands.
    pub inside: Option<&'f Assembly>,
}

/// The name at a byte or just before it. What a statement that could not be read mentions is not known.
#[must_use]
pub fn mention_at(file: &File, at: u32) -> Option<Mention<'_>> {
    let (item, inside) = statement_at(&file.items, at, None)?;
    let mut search = Search { at, inside, found: None };
    search.item(item);
    search.found
}

/// The innermost statement at a byte, and the assembly that it stands in.
pub(super) fn statement_at<'f>(
    items: &'f [Item],
    at: u32,
    inside: Option<&'f Assembly>,
) -> Option<(&'f Item, Option<&'f Assembly>)> {
    let item = items.iter().find(|item| item.span().touches(at))?;
    let inner = match item {
        Item::Assembly(assembly) => statement_at(&assembly.items, at, Some(assembly)),
        _ => None,
    };
    inner.or(Some((item, inside)))
}

struct Search<'f> {
    at: u32,
    inside: Option<&'f Assembly>,
    found: Option<Mention<'f>>,
}

impl<'f> Search<'f> {
    fn item(&mut self, item: &'f Item) {
        match item {
            Item::Edition(_) | Item::Broken(_) => {}
            Item::Use(it) => self.word(&it.path.text, it.path.span, Role::File),
            Item::Let(it) => {
                self.name(&it.name, Role::Defined);
                self.value(&it.value);
            }
            Item::Robot(it) => self.settings(&it.settings),
            Item::Place(it) => {
                self.names(&it.names);
                self.facts(&it.values, &it.settings);
            }
            Item::Group(it) => {
                self.names(&it.names);
                self.facts(&it.values, &it.settings);
            }
            Item::Part(it) => {
                self.name(&it.name, Role::Defined);
                self.name(&it.base, Role::Part);
                self.facts(&it.values, &it.settings);
            }
            Item::Thing(it) => self.thing(it),
            Item::Wire(it) => self.wire(it),
            Item::Tie(it) => {
                self.paths(&it.ends);
                self.settings(&it.settings);
            }
            Item::Harness(it) => self.harness(it),
            Item::Mate(it) => {
                self.paths([&it.first, &it.second]);
                self.facts(&it.values, &it.settings);
            }
            Item::Mode(it) => {
                self.name(&it.name, Role::Defined);
                it.lines.iter().for_each(|line| {
                    self.paths(&line.subjects);
                    self.values(&line.values);
                });
            }
            Item::Expect(it) => self.expect(it),
            Item::Reading(it) => self.reading(it),
            Item::Accept(it) => self.paths([&it.subject]),
            Item::Assembly(it) => self.assembly(it),
            Item::Fit(it) => {
                self.name(&it.assembly, Role::Assembly);
                self.names(&it.names);
                self.place(it.at.as_ref());
                let assembly: &'f str = &it.assembly.text;
                it.settings.iter().for_each(|set| self.name(&set.key, Role::Parameter(assembly)));
                self.settings(&it.settings);
            }
        }
    }

    fn thing(&mut self, thing: &'f Thing) {
        self.names(&thing.names);
        thing.part.iter().for_each(|part| self.name(part, Role::Part));
        self.paths(&thing.on);
        self.place(thing.at.as_ref());
        self.facts(&thing.values, &thing.settings);
    }

    fn wire(&mut self, wire: &'f Wire) {
        self.name(&wire.name, Role::Defined);
        self.paths([&wire.from, &wire.to]);
        self.place(wire.at.as_ref());
        self.facts(&wire.values, &wire.settings);
    }

    fn harness(&mut self, harness: &'f Harness) {
        self.name(&harness.name, Role::Defined);
        self.place(harness.at.as_ref());
        self.facts(&harness.values, &harness.settings);
        harness.wires.iter().for_each(|wire| self.wire(wire));
        harness.spares.iter().for_each(|spare| {
            self.name(&spare.name, Role::Defined);
            self.facts(&spare.values, &spare.settings);
        });
    }

    fn expect(&mut self, expect: &'f Expect) {
        self.paths(&expect.subjects);
        self.paths(expect.when.iter().map(|(path, _)| path));
        expect.limit.iter().for_each(|(_, limit)| self.value(limit));
        expect.modes.iter().for_each(|mode| self.name(mode, Role::Mode));
    }

    fn reading(&mut self, reading: &'f Reading) {
        self.paths(&reading.subjects);
        self.value(&reading.value);
        reading.mode.iter().for_each(|mode| self.name(mode, Role::Mode));
    }

    /// What an assembly says of itself; its outward terminals lead to what is inside it.
    fn assembly(&mut self, assembly: &'f Assembly) {
        self.name(&assembly.name, Role::Defined);
        self.inside = Some(assembly);
        for setting in &assembly.settings {
            let Some((name, rest)) = setting.values.split_first() else { continue };
            if let Shape::Word(word) = &name.shape {
                self.word(word, name.span, Role::Defined);
            }
            let role = if &*setting.key.text == "parameter" { Role::Value } else { Role::Path };
            rest.iter().for_each(|value| self.value_as(value, role));
        }
    }

    fn names(&mut self, names: &'f [Name]) {
        names.iter().for_each(|name| self.name(name, Role::Defined));
    }

    fn name(&mut self, name: &'f Name, role: Role<'f>) {
        self.word(&name.text, name.span, role);
    }

    fn word(&mut self, text: &'f str, span: Span, role: Role<'f>) {
        if span.touches(self.at) && self.found.is_none() {
            self.found = Some(Mention { role, path: vec![text], span, inside: self.inside });
        }
    }

    fn paths(&mut self, paths: impl IntoIterator<Item = &'f Path>) {
        paths.into_iter().for_each(|path| self.path(path, Role::Path));
    }

    fn path(&mut self, path: &'f Path, role: Role<'f>) {
        let Some(at) = path.segments.iter().position(|name| name.span.touches(self.at)) else { return };
        let names = path.segments.get(..=at).unwrap_or_default();
        if let (Some(last), None) = (names.last(), &self.found) {
            let path = names.iter().map(|name| &*name.text).collect();
            self.found = Some(Mention { role, path, span: last.span, inside: self.inside });
        }
    }

    fn place(&mut self, at: Option<&'f Path>) {
        at.into_iter().for_each(|path| self.path(path, Role::Place));
    }

    fn facts(&mut self, values: &'f [Value], settings: &'f [Setting]) {
        self.values(values);
        self.settings(settings);
    }

    fn settings(&mut self, settings: &'f [Setting]) {
        let at = self.at;
        for setting in settings.iter().filter(|setting| setting.span.touches(at)) {
            let role = if refers(&setting.key.text) { Role::Reference } else { Role::Value };
            setting.values.iter().for_each(|value| self.value_as(value, role));
        }
    }

    fn values(&mut self, values: &'f [Value]) {
        values.iter().for_each(|value| self.value(value));
    }

    fn value(&mut self, value: &'f Value) {
        self.value_as(value, Role::Value);
    }

    /// The words of a value. Without recursion: a sum may be as long as the text.
    fn value_as(&mut self, value: &'f Value, role: Role<'f>) {
        let mut waiting = vec![value];
        while let Some(value) = waiting.pop() {
            match &value.shape {
                Shape::Word(word) => self.word(word, value.span, role),
                Shape::Path(path) => self.path(path, role),
                Shape::Range(one, other) | Shape::Tolerance(one, other) | Shape::Sum(_, one, other) => {
                    waiting.extend([&**other, &**one]);
                }
                Shape::Negative(inner) => waiting.push(inner),
                Shape::Quantity(_) | Shape::Text(_) | Shape::Date(_) => {}
            }
        }
    }
}

/// Whether a name of something else stands behind a key.
fn refers(key: &str) -> bool {
    let lists =
        kind::ALL.iter().map(|kind| kind.ratings).chain([kind::COMMON, setting::WIRE, setting::HARNESS]);
    let rating = lists.filter_map(|rows| rating_in(rows, key)).next();
    rating.is_some_and(|rating| matches!(rating.shape, RatingShape::Reference))
}

#[cfg(test)]
mod tests {
    use wattle_grammar::{parse, span::FileId};

    use super::*;

    const TEXT: &str = "wattle 1\nuse \"b.wattle\"\nlet RUN = 2 m\npart tray is pack { note \"x\" }\n\
        fuse F1, F2 : blade-5 on BUS at body { group heavy }\nwire W left.M.a to STAR RUN + 1 m\n\
        mode go { left.M, heavy typical }\nexpect dead M when S pressed in go\nreading 3 V across A.x, B.y in rest\n\
        accept wire.undersized on NECK.H1 because \"y\"\n\
        assembly LEG {\n  parameter reach 1 m\n  terminal plus P1.1\n  plug P1 2 way\n  wire W1 P1.2 to X reach\n}\n\
        fit LEG as left { reach RUN }\ntie oops\nnonsense\n";

    /// The mention at the first `|` of the mark, which is removed to find the place.
    fn found(mark: &str) -> Option<(Role<'static>, String, Option<String>)> {
        let at = TEXT.find(&mark.replace('|', "")).unwrap() + mark.find('|').unwrap();
        let parse = Box::leak(Box::new(parse(FileId(0), TEXT)));
        let mention = mention_at(&parse.file, u32::try_from(at).unwrap())?;
        let inside = mention.inside.map(|assembly| assembly.name.text.to_string());
        assert_eq!(mention.span.slice(TEXT).trim_matches('"'), *mention.path.last().unwrap());
        Some((mention.role, mention.path.join("."), inside))
    }

    fn check(mark: &str, role: Role<'static>, path: &str) {
        assert_eq!(found(mark), Some((role, path.to_owned(), None)), "{mark}");
    }

    #[test]
    fn names_have_the_role_of_their_position() {
        check("use \"|b.wattle", Role::File, "b.wattle");
        check("RU|N = 2", Role::Defined, "RUN");
        check("is pac|k", Role::Part, "pack");
        check("F1, |F2", Role::Defined, "F2");
        check(": blade-5|", Role::Part, "blade-5");
        check("on B|US", Role::Path, "BUS");
        check("at b|ody", Role::Place, "body");
        check("group h|eavy", Role::Reference, "heavy");
        check("le|ft.M.a", Role::Path, "left");
        check("left.M|.a", Role::Path, "left.M");
        check("left.M.a|", Role::Path, "left.M.a");
        check("STAR RU|N", Role::Value, "RUN");
        check("M, h|eavy typical", Role::Path, "heavy");
        check("dead |M", Role::Path, "M");
        check("when S|", Role::Path, "S");
        check("pressed in g|o", Role::Mode, "go");
        check("across A.x, B|.y", Role::Path, "B");
        check("in res|t", Role::Mode, "rest");
        check("on NECK.H|1", Role::Path, "NECK.H1");
        check("fit L|EG", Role::Assembly, "LEG");
        check("{ r|each RUN", Role::Parameter("LEG"), "reach");
        check("reach R|UN", Role::Value, "RUN");
    }

    #[test]
    fn names_in_an_assembly_know_it() {
        let inside = |mark, role, path: &str| {
            assert_eq!(found(mark), Some((role, path.to_owned(), Some("LEG".to_owned()))), "{mark}");
        };
        inside("parameter re|ach", Role::Defined, "reach");
        inside("terminal pl|us", Role::Defined, "plus");
        inside("plus P1|.1", Role::Path, "P1");
        inside("P1.|2 to", Role::Path, "P1.2");
        inside("X re|ach", Role::Value, "reach");
    }

    #[test]
    fn words_of_the_language_and_unread_statements_mention_nothing() {
        for mark in ["fu|se F1", "wire.und|ersized", "t|o STAR", "nons|ense", "tie oo|ps"] {
            assert_eq!(found(mark), None, "{mark}");
        }
    }
}
