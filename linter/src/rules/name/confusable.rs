//! Two names that look or sound the same.

use std::{
    collections::{HashMap, hash_map::Entry},
    fmt::Write as _,
};

use wattle_grammar::span::Span;

use crate::{
    design::{Declared, Design, NameOf},
    finding::{Finding, Mend, Severity},
    inquiry::Inquiry,
    naming,
    rule::{Rule, Source},
};

/// The rule.
pub static RULE: Rule = Rule {
    name: "name.confusable",
    severity: Severity::Untidy,
    summary: "Two names differ only in what nobody sees or hears.",
    why: "Read aloud across the workshop, or off a label the size of a fingernail, they are the same name, and the wrong \
          wire is cut or plugged in.",
    condition: "Two names are equal when upper and lower case and `-` and `_` count as the same; or when `0` and `O`, and \
                `1`, `I` and small `l`, count as the same as well. Names of things, wires, harnesses and fitted \
                assemblies are compared with each other, places with places, modes with modes and so on. A name in an \
                assembly, harness or cable is compared only with its neighbours there.",
    source: Source::CommonPractice(
        "label alphabets leave out I and O; names are told apart by more than case",
    ),
    legitimate: "Never: a name costs nothing. Numbered families such as `M1` and `M2` are told apart and are not found.",
    mend: "Give one of the two another name, everywhere, and print its label anew.",
    bad: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F0 2 A blade
fuse FO 2 A blade
light LAMP, GLOW 12 V { typical 1 A }
wire W1 PACK.pos to F0.line 18 AWG red 100 mm
wire W2 F0.load to LAMP.pos 18 AWG red 300 mm
wire W3 LAMP.neg to PACK.neg 18 AWG black 400 mm
wire W4 PACK.pos to FO.line 18 AWG red 100 mm
wire W5 FO.load to GLOW.pos 18 AWG red 300 mm
wire W6 GLOW.neg to PACK.neg 18 AWG black 400 mm
"#,
    good: r#"wattle 1
robot "Hut" { ambient 30 degC }
battery PACK lead-acid 6S 7 Ah 20 mohm
fuse F1 2 A blade
fuse F2 2 A blade
light LAMP, GLOW 12 V { typical 1 A }
wire W1 PACK.pos to F1.line 18 AWG red 100 mm
wire W2 F1.load to LAMP.pos 18 AWG red 300 mm
wire W3 LAMP.neg to PACK.neg 18 AWG black 400 mm
wire W4 PACK.pos to F2.line 18 AWG red 100 mm
wire W5 F2.load to GLOW.pos 18 AWG red 300 mm
wire W6 GLOW.neg to PACK.neg 18 AWG black 400 mm
"#,
    check,
};

/// The names of one sort in one scope that fold to one text.
type Key = (NameOf, u32, String);

fn check(inquiry: &mut Inquiry<'_>) {
    let pairs = pairs(&inquiry.design.declared);
    if pairs.is_empty() {
        return;
    }
    let names = full_names(inquiry.design);
    let findings: Vec<Finding> = pairs.iter().map(|(later, first)| finding(&names, later, first)).collect();
    findings.into_iter().for_each(|finding| inquiry.report(finding));
}

/// Each name that can be mistaken for an earlier one, with the earliest such.
fn pairs(declared: &[Declared]) -> Vec<(&Declared, &Declared)> {
    let (mut heard, mut seen) = (HashMap::new(), HashMap::new());
    let mut pairs = Vec::new();
    for one in declared {
        let by_ear = earlier(&mut heard, one, by_ear);
        if let Some(first) = by_ear.or_else(|| earlier(&mut seen, one, by_eye)) {
            pairs.push((one, first));
        }
    }
    pairs
}

/// The earlier name that folds to the same; none for the first one, nor where both are spelt alike, which is an error of
/// the language.
fn earlier<'d>(
    known: &mut HashMap<Key, &'d Declared>,
    one: &'d Declared,
    fold: fn(char) -> char,
) -> Option<&'d Declared> {
    match known.entry((one.of, one.scope, one.name.chars().map(fold).collect())) {
        Entry::Occupied(first) => Some(*first.get()).filter(|first| first.name != one.name),
        Entry::Vacant(place) => {
            place.insert(one);
            None
        }
    }
}

/// Letters that sound the same are one.
const fn by_ear(letter: char) -> char {
    match letter {
        '_' => '-',
        other => other.to_ascii_lowercase(),
    }
}

/// Letters that look the same are one. A capital `L` is no `1`.
const fn by_eye(letter: char) -> char {
    match letter {
        'O' | 'o' => '0',
        'I' | 'l' => '1',
        'L' => 'L',
        other => by_ear(other),
    }
}

fn finding(names: &HashMap<Span, &str>, later: &Declared, first: &Declared) -> Finding {
    let subject = names.get(&later.span).copied().unwrap_or(&later.name).to_owned();
    let message = format!(
        "{} differs from {} only {}",
        naming::quoted(&later.name),
        naming::quoted(&first.name),
        difference(&later.name, &first.name)
    );
    Finding {
        rule: RULE.name,
        severity: RULE.severity,
        span: later.span,
        subject,
        message,
        label: format!("reads like {}", naming::quoted(&first.name)),
        related: vec![(first.span, "the other one".to_owned())],
        figures: Vec::new(),
        because: Vec::new(),
        mode: None,
        help: vec![Mend::told("give one of them another name, everywhere, and on its label")],
        accepted: None,
    }
}

/// In which letters two names differ, as in `in `O` and `0``.
fn difference(one: &str, other: &str) -> String {
    let mut text = String::new();
    let mut case = false;
    for (one, other) in one.chars().zip(other.chars()).filter(|(one, other)| one != other) {
        if one.eq_ignore_ascii_case(&other) {
            case = true;
            continue;
        }
        let part = format!("`{one}` for `{other}`");
        if !text.contains(&part) {
            let _ = write!(text, "{}{part}", if text.is_empty() { "by " } else { " and " });
        }
    }
    match (case, text.is_empty()) {
        (true, true) => "in upper and lower case".to_owned(),
        (true, false) => format!("{text} and in case"),
        _ => text,
    }
}

/// The full name of what is declared at each place; within an assembly that of its first fit.
fn full_names(design: &Design) -> HashMap<Span, &str> {
    let things = design.things.iter().map(|thing| (thing.span, &thing.name));
    let wires = design.wires.iter().map(|wire| (wire.span, &wire.name));
    let harnesses = design.harnesses.iter().map(|harness| (harness.span, &harness.name));
    let spares = design.harnesses.iter().flat_map(|harness| &harness.spares);
    let spares = spares.map(|spare| (spare.span, &spare.name));
    let mut names = HashMap::new();
    for (span, name) in things.chain(wires).chain(harnesses).chain(spares) {
        names.entry(span).or_insert(name.as_str());
    }
    names
}

#[cfg(test)]
mod tests {
    use wattle_grammar::span::FileId;

    use super::*;

    fn found(names: &[(&str, u32)]) -> Vec<String> {
        let declared: Vec<Declared> = (0..)
            .zip(names)
            .map(|(at, (name, scope))| Declared {
                name: (*name).into(),
                span: Span::new(FileId(0), at, at + 1),
                of: NameOf::Object,
                scope: *scope,
            })
            .collect();
        let told = |(later, first): (&Declared, &Declared)| {
            format!("{}/{} {}", later.name, first.name, difference(&later.name, &first.name))
        };
        pairs(&declared).into_iter().map(told).collect()
    }

    #[test]
    fn what_looks_or_sounds_alike_is_found() {
        for (one, other, difference) in [
            ("M1", "m1", "in upper and lower case"),
            ("M1", "MI", "by `I` for `1`"),
            ("M1", "Ml", "by `l` for `1`"),
            ("MI", "Ml", "by `l` for `I`"),
            ("S0", "SO", "by `O` for `0`"),
            ("F-A", "F_A", "by `_` for `-`"),
            ("A-I0", "a_1O", "by `_` for `-` and `1` for `I` and `O` for `0` and in case"),
        ] {
            let expected = format!("{other}/{one} {difference}");
            assert_eq!(found(&[(one, 0), (other, 0)]), [expected], "{one} {other}");
        }
    }

    #[test]
    fn families_and_names_elsewhere_are_told_apart() {
        assert!(found(&[("M1", 0), ("M2", 0), ("M10", 0), ("M11", 0), ("ML", 0), ("M-1", 0)]).is_empty());
        assert!(found(&[("M1", 0), ("m1", 1), ("MI", 2)]).is_empty());
        assert!(found(&[("M1", 0), ("M1", 0)]).is_empty());
    }

    #[test]
    fn each_later_name_is_told_once() {
        assert_eq!(found(&[("M1", 0), ("m1", 0), ("Ml", 0)]).len(), 2);
    }
}
