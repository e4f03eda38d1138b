//! What a name means in the files of one robot: names of an assembly are seen among its own statements, all others from
//! everywhere; parts and assemblies that nobody defines are those of the stock.

use std::path::Path as FilePath;

use wattle_grammar::{
    span::Span,
    syntax::{Assembly, File, Fit, Harness, Item, Name, Part, Shape, Thing},
};
use wattle_linter::stock;

use crate::{
    engine::{Project, SourceFile},
    feature::mention::{Mention, Role},
    library::plain_path,
    snapshot::Snapshot,
};

/// The files that a document's names are looked for in.
pub(super) struct World<'a> {
    /// The document's own tree.
    tree: &'a File,
    /// The document's file, when it is part of a project.
    home: Option<(&'a Project, &'a SourceFile)>,
}

/// What a name of the shared namespace stands for.
enum Found<'a> {
    Thing(&'a Thing, &'a Name),
    Wire(&'a Name),
    Harness(&'a Harness),
    Fit(&'a Fit, &'a Name),
}

impl<'a> World<'a> {
    /// One for each project that the document is a part of; else the document alone.
    pub(super) fn all(snapshot: &'a Snapshot) -> Vec<Self> {
        let projects = snapshot.parts.iter().filter_map(|part| {
            let project = &part.analysed.project;
            let file = project.file(part.file)?;
            Some(Self { tree: &file.parse.file, home: Some((project, file)) })
        });
        let mut worlds: Vec<Self> = projects.collect();
        if worlds.is_empty() {
            worlds.push(Self { tree: &snapshot.parse().file, home: None });
        }
        worlds
    }

    pub(super) const fn tree(&self) -> &'a File {
        self.tree
    }

    pub(super) fn project(&self) -> Option<&'a Project> {
        self.home.map(|(project, _)| project)
    }

    /// Where a name is defined.
    pub(super) fn definition(&self, mention: &Mention<'_>) -> Option<Span> {
        let (path, first) = (mention.path.as_slice(), *mention.path.first()?);
        let inside = mention.inside;
        match mention.role {
            Role::Defined => Some(mention.span),
            Role::Part => self.part(first, mention.span).map(|part| part.name.span),
            Role::Assembly => self.assembly(first, mention.span).map(|assembly| assembly.name.span),
            Role::Place => self.place(first),
            Role::Mode => self.mode(first),
            Role::Parameter(assembly) => parameter(self.assembly(assembly, mention.span)?, first),
            Role::Path | Role::Reference => {
                self.path(inside, path).or_else(|| self.apart(inside, first).filter(|_| path.len() == 1))
            }
            Role::Value => self.constant(inside, first).filter(|_| path.len() == 1),
            Role::File => self.file(first),
        }
    }

    /// Where the sort of what a name means is defined: a thing's part, a fit's assembly, a part or assembly itself.
    pub(super) fn type_definition(&self, mention: &Mention<'_>) -> Option<Span> {
        match mention.role {
            Role::Part | Role::Assembly => self.definition(mention),
            Role::Defined | Role::Path | Role::Reference => {
                let path = mention.path.as_slice();
                let within = |count| self.sort(mention.inside, path.get(..count)?);
                // The last name may be a terminal, which is of no sort.
                within(path.len()).or_else(|| within(path.len().saturating_sub(1)))
            }
            Role::Place | Role::Mode | Role::Parameter(_) | Role::Value | Role::File => None,
        }
    }

    fn sort(&self, inside: Option<&Assembly>, path: &[&str]) -> Option<Span> {
        match self.found(inside, path)? {
            Found::Thing(thing, _) => {
                let part = thing.part.as_ref()?;
                Some(self.part(&part.text, part.span)?.name.span)
            }
            Found::Fit(fit, _) => Some(self.fitted(fit)?.name.span),
            Found::Wire(_) | Found::Harness(_) => None,
        }
    }

    /// Where a path leads: a terminal leads to its thing, an outward terminal to the line that hands it outward.
    fn path(&self, inside: Option<&Assembly>, path: &[&str]) -> Option<Span> {
        let whole = self.found(inside, path).map(|found| found.span());
        whole.or_else(|| {
            let (last, before) = path.split_last()?;
            match self.found(inside, before)? {
                Found::Thing(_, name) => Some(name.span),
                Found::Fit(fit, _) => outward(self.fitted(fit)?, last),
                Found::Wire(_) | Found::Harness(_) => None,
            }
        })
    }

    /// What a path of the shared namespace names. Longer paths step into fits and harnesses.
    fn found<'s>(&'s self, inside: Option<&'s Assembly>, path: &[&str]) -> Option<Found<'s>> {
        let (first, rest) = path.split_first()?;
        let mut found = self.named(inside, first)?;
        for name in rest {
            found = match found {
                Found::Fit(fit, _) => self.named(self.fitted(fit), name)?,
                Found::Harness(harness) => Found::Wire(core(harness, name)?),
                Found::Thing(..) | Found::Wire(_) => return None,
            };
        }
        Some(found)
    }

    fn named<'s>(&'s self, inside: Option<&'s Assembly>, name: &str) -> Option<Found<'s>> {
        self.among(inside, |item| {
            let is = |candidate: &&Name| &*candidate.text == name;
            match item {
                Item::Thing(thing) => thing.names.iter().find(is).map(|name| Found::Thing(thing, name)),
                Item::Wire(wire) => Some(&wire.name).filter(is).map(Found::Wire),
                Item::Harness(harness) => Some(&harness.name).filter(is).map(|_| Found::Harness(harness)),
                Item::Fit(fit) => fit.names.iter().find(is).map(|name| Found::Fit(fit, name)),
                _ => None,
            }
        })
    }

    fn constant(&self, inside: Option<&Assembly>, name: &str) -> Option<Span> {
        let of_scope = |inside: Option<&Assembly>| {
            self.among(inside, |item| match item {
                Item::Let(constant) if &*constant.name.text == name => Some(constant.name.span),
                _ => None,
            })
        };
        let own = inside.and_then(|assembly| parameter(assembly, name).or_else(|| of_scope(inside)));
        own.or_else(|| of_scope(None))
    }

    fn place(&self, name: &str) -> Option<Span> {
        self.among(None, |item| match item {
            Item::Place(place) => place.names.iter().find(|place| &*place.text == name).map(|name| name.span),
            _ => None,
        })
    }

    /// What may stand where a path is due and is none: a group or a place.
    fn apart(&self, inside: Option<&Assembly>, name: &str) -> Option<Span> {
        let group = |inside| {
            self.among(inside, |item| match item {
                Item::Group(group) => {
                    group.names.iter().find(|group| &*group.text == name).map(|name| name.span)
                }
                _ => None,
            })
        };
        inside.and_then(|assembly| group(Some(assembly))).or_else(|| group(None)).or_else(|| self.place(name))
    }

    fn mode(&self, name: &str) -> Option<Span> {
        self.among(None, |item| match item {
            Item::Mode(mode) if &*mode.name.text == name => Some(mode.name.span),
            _ => None,
        })
    }

    /// The part that a name at a place means; the stock means only its own.
    fn part(&self, name: &str, at: Span) -> Option<&Part> {
        if at.file == stock::FILE {
            return stock::part(name);
        }
        let own = self.among(None, |item| match item {
            Item::Part(part) if &*part.name.text == name => Some(part),
            _ => None,
        });
        own.or_else(|| stock::part(name))
    }

    /// The assembly that a name at a place means; the stock means only its own.
    fn assembly(&self, name: &str, at: Span) -> Option<&Assembly> {
        if at.file == stock::FILE {
            return stock::assembly(name);
        }
        let own = self.among(None, |item| match item {
            Item::Assembly(assembly) if &*assembly.name.text == name => Some(assembly),
            _ => None,
        });
        own.or_else(|| stock::assembly(name))
    }

    fn fitted(&self, fit: &Fit) -> Option<&Assembly> {
        self.assembly(&fit.assembly.text, fit.assembly.span)
    }

    /// The start of the file that a `use` in the document leads to.
    fn file(&self, written: &str) -> Option<Span> {
        let (project, home) = self.home?;
        let folder = home.path.parent().unwrap_or(FilePath::new(""));
        let path = plain_path(&folder.join(written));
        let file = project.files.iter().find(|file| plain_path(&file.path) == path)?;
        Some(Span::file_start(file.id))
    }

    /// The first statement that gives something: of an assembly, else of all files.
    fn among<'s, T>(
        &'s self,
        inside: Option<&'s Assembly>,
        give: impl FnMut(&'s Item) -> Option<T>,
    ) -> Option<T> {
        match (inside, self.home) {
            (Some(assembly), _) => assembly.items.iter().find_map(give),
            (None, Some((project, _))) => {
                project.files.iter().flat_map(|file| &file.parse.file.items).find_map(give)
            }
            (None, None) => self.tree.items.iter().find_map(give),
        }
    }
}

impl Found<'_> {
    const fn span(&self) -> Span {
        match self {
            Self::Thing(_, name) | Self::Wire(name) | Self::Fit(_, name) => name.span,
            Self::Harness(harness) => harness.name.span,
        }
    }
}

/// The name of a wire or core of a harness.
fn core<'h>(harness: &'h Harness, name: &str) -> Option<&'h Name> {
    let wires = harness.wires.iter().map(|wire| &wire.name);
    wires.chain(harness.spares.iter().map(|spare| &spare.name)).find(|core| &*core.text == name)
}

/// Where an assembly names a parameter.
fn parameter(assembly: &Assembly, name: &str) -> Option<Span> {
    set(assembly, "parameter", name)
}

/// Where an assembly names an outward terminal.
fn outward(assembly: &Assembly, name: &str) -> Option<Span> {
    set(assembly, "terminal", name).or_else(|| set(assembly, "terminals", name))
}

fn set(assembly: &Assembly, key: &str, name: &str) -> Option<Span> {
    let settings = assembly.settings.iter().filter(|setting| &*setting.key.text == key);
    settings.filter_map(|setting| setting.values.first()).find_map(|value| match &value.shape {
        Shape::Word(word) if &**word == name => Some(value.span),
        _ => None,
    })
}
