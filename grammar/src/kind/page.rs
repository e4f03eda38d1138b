//! The generated parts of the language reference: each is a pure function of the tables, named as in the page's
//! `<!-- begin NAME -->` marks.

use super::{ALL, COMMON, Family, Rating, chemistry, colour, doc, fuse_style, setting, statement};
use crate::unit;

/// A generated part of the page.
#[derive(Debug)]
pub struct Part {
    /// Its name in the marks.
    pub name: &'static str,
    /// Makes its Markdown.
    pub make: fn() -> String,
}

/// Every generated part.
pub const PARTS: &[Part] = &[
    Part { name: "units", make: units },
    Part { name: "statements", make: statements },
    Part { name: "mode-words", make: mode_words },
    Part { name: "settings", make: settings },
    Part { name: "kinds", make: kinds },
    Part { name: "chemistries", make: chemistries },
    Part { name: "fuse-styles", make: fuse_styles },
    Part { name: "colours", make: colours },
];

/// Puts the generated parts into a page: what stands between `<!-- begin NAME -->` and `<!-- end NAME -->` is made
/// anew. A part whose marks are missing is not added.
#[must_use]
pub fn refresh(page: &str) -> String {
    PARTS.iter().fold(page.to_owned(), |page, part| refresh_one(&page, part.name, &(part.make)()))
}

fn refresh_one(page: &str, name: &str, part: &str) -> String {
    let (begin, end) = (format!("<!-- begin {name} -->"), format!("<!-- end {name} -->"));
    let Some((before, rest)) = page.split_once(&begin) else { return page.to_owned() };
    let Some((_, after)) = rest.split_once(&end) else { return page.to_owned() };
    format!("{before}{begin}\n\n{}\n\n{end}{after}", part.trim())
}

fn table(headline: &[&str], rows: impl Iterator<Item = Vec<String>>) -> String {
    let line = |cells: Vec<String>| format!("| {} |\n", cells.join(" | "));
    let mut text = line(headline.iter().map(|cell| (*cell).to_owned()).collect());
    text.push_str(&line(vec!["---".to_owned(); headline.len()]));
    rows.for_each(|row| text.push_str(&line(row.into_iter().map(|cell| cell.replace('|', "\\|")).collect())));
    text
}

/// One row for each dimension; neighbours in the table of units belong together.
fn units() -> String {
    let rows = unit::ALL.chunk_by(|one, next| one.dimension == next.dimension).map(|units| {
        let name = units.first().map_or("", |unit| doc::dimension_name(unit.dimension));
        let symbols: Vec<_> = units.iter().map(|unit| format!("`{}`", unit.symbol)).collect();
        let others = units.iter().flat_map(|unit| unit.spellings.iter().skip(1));
        // Spellings that look the same as another one in print are accepted, but would only puzzle here.
        let others = others.filter(|text| !text.contains(['\u{2126}', '\u{3bc}']));
        let others: Vec<_> = others.map(|text| format!("`{text}`")).collect();
        vec![name.to_owned(), symbols.join(" "), others.join(" ")]
    });
    table(&["Quantity", "Units", "Also written"], rows)
}

fn statements() -> String {
    let rows = statement::ALL.iter().map(|entry| vec![format!("`{}`", entry.form), entry.doc.to_owned()]);
    let mut text = table(&["Form", "What it says"], rows);
    text.push_str("\nAn example of each:\n\n```wattle\n");
    statement::ALL.iter().for_each(|entry| text.push_str(&format!("{}\n", entry.example)));
    text + "```\n"
}

fn mode_words() -> String {
    let rows = statement::MODE_WORDS
        .iter()
        .map(|entry| vec![format!("`{}`", entry.word), entry.doc.to_owned(), format!("`{}`", entry.example)]);
    table(&["Word", "What it says", "Example"], rows)
}

fn settings() -> String {
    let lists: [(&str, &[Rating]); 9] = [
        ("`robot`", setting::ROBOT),
        ("`place`", setting::PLACE),
        ("`wire` and cores", setting::WIRE),
        ("`harness` and `cable`", setting::HARNESS),
        ("`tie`", setting::TIE),
        ("`mate`", setting::MATE),
        ("`group`", setting::GROUP),
        ("`port` lines", setting::PORT),
        ("`mode`", setting::MODE),
    ];
    let sections =
        lists.map(|(title, ratings)| format!("### Settings of {title}\n\n{}", doc::ratings_table(ratings)));
    sections.join("\n")
}

fn kinds() -> String {
    let mut text = format!("### Any thing\n\n{}", doc::ratings_table(COMMON));
    let mut family = None;
    for kind in ALL {
        if family != Some(kind.family) {
            family = Some(kind.family);
            text.push_str(&format!("\n### {}\n", shelf(kind.family)));
        }
        text.push('\n');
        text.push_str(&doc::kind_section(kind, "####"));
    }
    text
}

const fn shelf(family: Family) -> &'static str {
    match family {
        Family::Source => "Sources",
        Family::Protection => "Protection",
        Family::Switching => "Switching",
        Family::Conversion => "Conversion",
        Family::Control => "Control",
        Family::Load => "Loads",
        Family::Passive => "Passive parts",
        Family::Join => "Joins",
    }
}

fn chemistries() -> String {
    let rows = chemistry::ALL.iter().map(|entry| {
        let volts = [entry.full, entry.nominal, entry.empty].map(|volts| format!("{} V", volts.0));
        let mut row = vec![format!("`{}`", entry.word)];
        row.extend(volts);
        row.extend([entry.peukert.to_string(), entry.source.to_owned()]);
        row
    });
    table(&["Word", "Full", "Nominal", "Empty", "Peukert exponent", "Figures"], rows)
}

fn fuse_styles() -> String {
    let rows = fuse_style::ALL.iter().map(|entry| {
        let breaks =
            entry.breaking_capacity.map_or_else(|| "write it".to_owned(), |amps| format!("{} A", amps.0));
        let volts = entry.voltage.map_or_else(|| "write it".to_owned(), |volts| format!("{} V", volts.0));
        let sizes = format!("{} A to {} A", entry.ratings.0.0, entry.ratings.1.0);
        vec![format!("`{}`", entry.word), entry.doc.to_owned(), breaks, volts, sizes, entry.source.to_owned()]
    });
    table(&["Word", "What it is", "Breaks", "Direct voltage", "Usual ratings", "Figures"], rows)
}

fn colours() -> String {
    let rows = colour::ALL.iter().map(|entry| {
        let also: Vec<_> = entry.also.iter().map(|word| format!("`{word}`")).collect();
        vec![format!("`{}`", entry.word), also.join(", "), entry.code.to_owned()]
    });
    table(&["Word", "Also", "IEC 60757"], rows)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_part_is_made_anew_and_the_rest_is_kept() {
        let page = "a\n<!-- begin colours -->\nstale\n<!-- end colours -->\nb\n";
        let fresh = refresh(page);
        assert!(fresh.starts_with("a\n<!-- begin colours -->\n\n| Word |"), "{fresh}");
        assert!(fresh.ends_with("\n\n<!-- end colours -->\nb\n") && !fresh.contains("stale"), "{fresh}");
        assert_eq!(refresh(&fresh), fresh);
        assert_eq!(refresh("no marks"), "no marks");
    }

    #[test]
    fn every_row_of_a_table_has_the_cells_of_its_headline() {
        for Part { name, make } in PARTS {
            let mut columns = None;
            for line in make().lines() {
                let cells = line.replace("\\|", "").matches('|').count();
                let due = if line.starts_with('|') { *columns.get_or_insert(cells) } else { 0 };
                columns = columns.filter(|_| line.starts_with('|'));
                assert!(!line.starts_with('|') || cells == due, "{name}: {line}");
            }
        }
    }
}
