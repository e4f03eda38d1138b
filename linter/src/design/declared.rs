//! Every name that the text defines, once, with the place where it does: for what is to be said of names as such.

use wattle_grammar::{
    error::TextError,
    syntax::{Assembly, Harness, Item, Name, Setting, Shape},
};

use super::{Declared, NameOf};
use crate::project::Project;

/// Every name that the files of a project define, in the order of the text.
pub(super) fn declared(project: &Project) -> Vec<Declared> {
    let mut walk = Walk::default();
    for item in project.files.iter().flat_map(|file| &file.parse.file.items) {
        walk.item(0, item);
    }
    walk.names
}

/// The errors of names that begin with `_`.
pub(super) fn reserved(names: &[Declared]) -> impl Iterator<Item = TextError> {
    names.iter().filter(|declared| declared.name.starts_with('_')).map(|declared| {
        let message = format!("`{}` begins with `_`: such names are kept for the language", declared.name);
        let error = TextError::new("language.reserved-name", declared.span, message, "reserved");
        match declared.name.trim_start_matches('_') {
            "" => error.help("a name begins with a letter"),
            rest => error.help(format!("leave the `_` out: `{rest}`")),
        }
    })
}

#[derive(Default)]
struct Walk {
    names: Vec<Declared>,
    scopes: u32,
}

impl Walk {
    fn name(&mut self, scope: u32, of: NameOf, name: &Name) {
        self.names.push(Declared { name: name.text.clone(), span: name.span, of, scope });
    }

    fn all(&mut self, scope: u32, of: NameOf, names: &[Name]) {
        names.iter().for_each(|name| self.name(scope, of, name));
    }

    fn item(&mut self, scope: u32, item: &Item) {
        match item {
            Item::Let(constant) => self.name(scope, NameOf::Constant, &constant.name),
            Item::Place(place) => self.all(scope, NameOf::Place, &place.names),
            Item::Group(group) => self.all(scope, NameOf::Group, &group.names),
            Item::Part(part) => self.name(scope, NameOf::Part, &part.name),
            Item::Thing(thing) => self.all(scope, NameOf::Object, &thing.names),
            Item::Wire(wire) => self.name(scope, NameOf::Object, &wire.name),
            Item::Fit(fit) => self.all(scope, NameOf::Object, &fit.names),
            Item::Mode(mode) => self.name(scope, NameOf::Mode, &mode.name),
            Item::Harness(harness) => self.harness(scope, harness),
            Item::Assembly(assembly) => self.assembly(scope, assembly),
            Item::Edition(_)
            | Item::Use(_)
            | Item::Robot(_)
            | Item::Tie(_)
            | Item::Mate(_)
            | Item::Expect(_)
            | Item::Reading(_)
            | Item::Accept(_)
            | Item::Broken(_) => {}
        }
    }

    fn harness(&mut self, scope: u32, harness: &Harness) {
        self.name(scope, NameOf::Object, &harness.name);
        let within = self.inner();
        let cores = harness.wires.iter().map(|wire| &wire.name);
        let mut all: Vec<&Name> = cores.chain(harness.spares.iter().map(|spare| &spare.name)).collect();
        all.sort_by_key(|name| name.span.start);
        all.into_iter().for_each(|name| self.name(within, NameOf::Object, name));
    }

    fn assembly(&mut self, scope: u32, assembly: &Assembly) {
        self.name(scope, NameOf::Assembly, &assembly.name);
        let within = self.inner();
        for setting in &assembly.settings {
            self.outward(within, setting);
        }
        assembly.items.iter().for_each(|item| self.item(within, item));
    }

    /// `terminal NAME PATH` or `parameter NAME VALUE`.
    fn outward(&mut self, scope: u32, setting: &Setting) {
        let of = match &*setting.key.text {
            "terminal" => NameOf::Terminal,
            "parameter" => NameOf::Constant,
            _ => return,
        };
        if let Some(value) = setting.values.first()
            && let Shape::Word(word) = &value.shape
        {
            self.name(scope, of, &Name { text: word.clone(), span: value.span });
        }
    }

    fn inner(&mut self) -> u32 {
        self.scopes += 1;
        self.scopes
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{errors, parsed};
    use super::*;

    #[test]
    fn names_stand_in_their_scope() {
        let text = "stud A\nwire W A to left.P.1\nharness H { 1 A to A; 2 spare }\npart p is fuse\nplace head\nmode go { }\n\
                    assembly LEG { terminal plus P.1; parameter reach 1 m; plug P }\nfit LEG as left, right\n\
                    let RUN = 1 m\ngroup EARS\n";
        let (design, _) = parsed(text);
        let found: Vec<(u32, NameOf, &str)> =
            design.declared.iter().map(|one| (one.scope, one.of, &*one.name)).collect();
        let object = NameOf::Object;
        assert_eq!(
            found,
            [
                (0, object, "A"),
                (0, object, "W"),
                (0, object, "H"),
                (1, object, "1"),
                (1, object, "2"),
                (0, NameOf::Part, "p"),
                (0, NameOf::Place, "head"),
                (0, NameOf::Mode, "go"),
                (0, NameOf::Assembly, "LEG"),
                (2, NameOf::Terminal, "plus"),
                (2, NameOf::Constant, "reach"),
                (2, object, "P"),
                (0, object, "left"),
                (0, object, "right"),
                (0, NameOf::Constant, "RUN"),
                (0, NameOf::Group, "EARS"),
            ]
        );
    }

    #[test]
    fn names_with_a_leading_underscore_are_refused_wherever_they_are_defined() {
        let text = "stud _A\nplace _p\nlet __R = 1 m\npart _q is fuse\nmode _m { }\nstud S\nwire _ S to S\n";
        assert_eq!(
            errors(text),
            [
                "reserved-name: `_A` begins with `_`: such names are kept for the language",
                "reserved-name: `_p` begins with `_`: such names are kept for the language",
                "reserved-name: `__R` begins with `_`: such names are kept for the language",
                "reserved-name: `_q` begins with `_`: such names are kept for the language",
                "reserved-name: `_m` begins with `_`: such names are kept for the language",
                "reserved-name: `_` begins with `_`: such names are kept for the language",
            ]
        );
    }
}
