//! What a mistake costs besides its error: its own line, and no more.

use super::{errors, items, meaning, read};
use crate::syntax::Item;

/// The meanings of all items of a text with the edition before it, the edition left out.
fn kept(text: &str) -> Vec<String> {
    read(&format!("wattle 1\n{text}")).file.items.iter().skip(1).map(meaning).collect()
}

fn meant(text: &str) -> Vec<String> {
    items(text).iter().map(meaning).collect()
}

#[test]
fn a_broken_line_of_a_block_is_lost_alone() {
    for (broken, whole) in [
        ("motor M 24 V {\n  stall 55 A\n  = 3\n  idle 1 A\n}", "motor M 24 V {\n  stall 55 A\n  idle 1 A\n}"),
        ("motor M { stall 55 A; ) ; idle 1 A }", "motor M { stall 55 A; idle 1 A }"),
        (
            "mode m {\n  everything typical\n  S-KEY .. ..\n  duty 70 %\n}",
            "mode m {\n  everything typical\n  duty 70 %\n}",
        ),
        (
            "harness H {\n  H1 A.1 to B.1\n  H2 A.2 to\n  H3 A.3 to B.3\n}",
            "harness H {\n  H1 A.1 to B.1\n  H3 A.3 to B.3\n}",
        ),
        ("motor M {\n  stall { a 1; b 2 }\n  idle 1 A\n}", "motor M {\n  idle 1 A\n}"),
    ] {
        assert_eq!(errors(broken).len(), 1, "{broken}");
        assert_eq!(kept(broken), meant(whole), "{broken}");
    }
}

#[test]
fn a_broken_statement_in_an_assembly_stays_as_broken() {
    let parsed =
        read("wattle 1\nassembly A {\n  motor M 24 V\n  wire W M.a N.b\n  terminal t M.a\n  fuse F 3 A\n}");
    let Some(Item::Assembly(assembly)) = parsed.file.items.get(1) else { panic!("no assembly") };
    assert_eq!(parsed.errors.len(), 1);
    assert!(matches!(assembly.items.as_slice(), [Item::Thing(_), Item::Broken(_), Item::Thing(_)]));
    assert_eq!(assembly.settings.len(), 1);
}

#[test]
fn each_line_has_its_own_error() {
    let found = errors("motor M {\n  stall 5 Amps\n  = 2\n}\nfuse F 3 Volts\nfuse G 4 A 5");
    assert_eq!(found, ["unknown-unit: Amps", "unexpected: =", "unknown-unit: Volts", "missing-unit: 5"]);
}

#[test]
fn two_mistakes_on_a_line_are_shown_one_after_the_other() {
    assert_eq!(errors("fuse F 40 Amps 5 MA @"), ["unknown-unit: Amps"]);
    assert_eq!(errors("wire W A.1 B.2 5 MA"), ["unknown-unit: MA"]);
}

#[test]
fn a_missing_brace_costs_one_error_and_no_statement() {
    let whole = "assembly L {\n  motor M {\n    stall 5 A\n  }\n  fuse F 3 A\n}\nfuse G 3 A\nfuse H 3 A";
    for lost in ["L {", "M {"] {
        let broken = whole.replacen(lost, lost.trim_end_matches(" {"), 1);
        assert_eq!(errors(&broken).len(), 1, "{broken}");
        assert_eq!(kept(&broken), meant(whole), "{broken}");
    }
    for lost in ["\n  }", "\n}"] {
        let broken = whole.replacen(lost, "", 1);
        assert_eq!(errors(&broken), ["unclosed-block: {"], "{broken}");
        assert_eq!(kept(&broken), meant(whole), "{broken}");
    }
}

#[test]
fn a_stray_brace_costs_one_error_and_no_statement() {
    let whole = "motor M {\n  stall 5 A\n}\nfuse G 3 A";
    for broken in ["motor M {\n  stall 5 A\n}\n}\nfuse G 3 A", "motor M {\n  stall 5 A\n}}\nfuse G 3 A"] {
        assert_eq!(errors(broken), ["stray-brace: }"], "{broken}");
        assert_eq!(kept(broken), meant(whole), "{broken}");
    }
}

#[test]
fn one_line_blocks_are_closed_on_their_line() {
    assert_eq!(errors("motor M { stall 5 A\nfuse G 3 A"), ["unclosed-block: {"]);
    assert_eq!(kept("motor M { stall 5 A\nfuse G 3 A"), meant("motor M { stall 5 A }\nfuse G 3 A"));
}

#[test]
fn a_quote_that_swallows_a_brace_is_one_mistake() {
    for broken in
        ["robot \"X {\n  ambient 5 degC\n}\nfuse F 3 A", "robot \"X\" { profile \"boat }\nfuse F 3 A"]
    {
        let found = errors(broken);
        assert_eq!(found.len(), 1, "{broken}: {found:?}");
        assert!(found[0].starts_with("unclosed-text"), "{found:?}");
        assert_eq!(kept(broken).len(), 2, "{broken}");
    }
}

#[test]
fn a_line_without_indents_is_no_mistake() {
    items("assembly L {\nmotor M {\nstall 5 A\n}\nfuse F 3 A\n}\nfuse G 3 A");
}

#[test]
fn a_comma_at_the_end_does_not_swallow_the_next_statement() {
    let found = errors("motor M,\nfuse F 3 A");
    assert_eq!(found, ["unexpected: ,"]);
    assert_eq!(kept("motor M,\nfuse F 3 A").last(), meant("fuse F 3 A").last());
}

#[test]
fn an_open_parenthesis_does_not_swallow_the_next_statement() {
    for broken in [
        "let A = (1 V + 2 V\nfuse F 3 A",
        "let A = (1 V\nlet B = (2 V)\nfuse F 3 A",
        "let A = ((1 V)\nfuse F 3 A",
    ] {
        assert_eq!(errors(broken).len(), 1, "{broken}");
        assert_eq!(kept(broken).last(), meant("fuse F 3 A").last(), "{broken}");
    }
}

#[test]
fn half_typed_text_keeps_the_rest() {
    let rest = "fuse F 3 A\nmotor M 24 V";
    for typed in [
        "w",
        "wire",
        "wire W1",
        "wire W1 PACK.",
        "wire W1 PACK.pos to",
        "motor N {",
        "expect",
        "let",
        "place \"",
    ] {
        let text = format!("{typed}\n{rest}");
        assert_eq!(errors(&text).len(), 1, "{typed}: {:?}", errors(&text));
        let found = kept(&text);
        assert!(found.ends_with(&meant(rest)), "{typed}: {found:?}");
    }
}
