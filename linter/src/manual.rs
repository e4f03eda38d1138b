//! The pages of the catalogue, for the terminal and as Markdown.

mod example;
mod markdown;
mod plain;

pub use example::report as example_report;
pub use markdown::{list as markdown_list, page as markdown_page};
pub use plain::{list as plain_list, page as plain_page};

use crate::rule::{Rule, Source};

/// The name under which a page reports on its example.
pub const EXAMPLE_FILE: &str = "example.wattle";

/// A part of a page that is prose: its heading and its text.
fn prose(rule: &Rule) -> [(&'static str, String); 5] {
    [
        ("Why", rule.why.to_owned()),
        ("Condition", rule.condition.to_owned()),
        ("Source", authority(rule.source)),
        ("When it is legitimate", rule.legitimate.to_owned()),
        ("Mend", rule.mend.to_owned()),
    ]
}

fn authority(source: Source) -> String {
    match source {
        Source::Published(text) => format!("Published: {text}"),
        Source::CommonPractice(text) => format!("Common practice: {text}"),
        Source::Physics(text) => format!("Physics: {text}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules;

    const REPORT: &str = "example.wattle:9:71: untidy[accept.expired] the day is over\n";

    #[test]
    fn a_plain_page_has_every_part_in_order() {
        let page = plain_page(&rules::accept::expired::RULE, REPORT, 72);
        let heads = [
            "accept.expired (untidy)",
            "why\n",
            "condition\n",
            "source\n",
            "when it is legitimate\n",
            "mend\n",
        ];
        let examples =
            ["bad example\n", "    accept wire.undersized", "it gives\n", REPORT, "good example\n"];
        let places: Vec<Option<usize>> = heads.iter().chain(&examples).map(|part| page.find(part)).collect();
        assert!(places.iter().all(Option::is_some) && places.is_sorted(), "{places:?}\n{page}");
        let prose = page.lines().filter(|line| !line.starts_with("    "));
        assert!(prose.clone().all(|line| line.chars().count() <= 72), "{page}");
    }

    #[test]
    fn a_markdown_page_fences_its_examples() {
        let page = markdown_page(&rules::accept::unused::RULE, REPORT);
        assert!(page.starts_with("# `accept.unused`\n\nSeverity: **untidy**\n\n"), "{page}");
        assert_eq!(page.matches("```").count(), 6, "{page}");
        assert!(page.contains("## When it is legitimate\n"));
    }

    #[test]
    fn lists_name_every_rule() {
        let (plain, markdown) = (plain_list(rules::ALL, 60), markdown_list(rules::ALL));
        for rule in rules::ALL {
            assert!(plain.contains(rule.name) && markdown.contains(rule.name));
        }
        assert!(plain.lines().all(|line| line.chars().count() <= 60), "{plain}");
        assert!(markdown.contains("| [`accept.unused`](accept.unused.md) | untidy |"), "{markdown}");
    }
}
