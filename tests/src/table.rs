//! Reads the tables of published figures in `data/published`.

use std::{fs, path::PathBuf};

use serde_json::Value;

/// A table: comment lines with `#`, a header row, rows of fields.
#[derive(Clone, Debug)]
pub struct Table {
    /// The comment lines, without the `#`.
    pub notes: Vec<String>,
    /// The rows below the header.
    pub rows: Vec<Row>,
}

/// A row, whose fields are found by the name of their column.
#[derive(Clone, Debug)]
pub struct Row {
    fields: Vec<(String, String)>,
}

impl Table {
    /// Reads `data/published/NAME`.
    ///
    /// # Errors
    /// A sentence, when the file cannot be read or a row has more or fewer fields than the header.
    pub fn published(name: &str) -> Result<Self, String> {
        Self::parse(&read(name)?).map_err(|why| format!("{name}: {why}"))
    }

    fn parse(text: &str) -> Result<Self, String> {
        let (notes, lines): (Vec<_>, Vec<_>) =
            text.lines().filter(|line| !line.trim().is_empty()).partition(|line| line.starts_with('#'));
        let mut lines = lines.into_iter();
        let header = fields(lines.next().ok_or("no header row")?);
        let rows = lines.map(|line| Row::new(&header, line)).collect::<Result<_, _>>()?;
        let notes = notes.into_iter().map(|note| note.trim_start_matches('#').trim().to_owned()).collect();
        Ok(Self { notes, rows })
    }

    /// The rows that have `value` in `column`.
    pub fn with(&self, column: &str, value: &str) -> impl Iterator<Item = &Row> {
        self.rows.iter().filter(move |row| row.text(column).is_ok_and(|text| text == value))
    }
}

impl Row {
    fn new(header: &[String], line: &str) -> Result<Self, String> {
        let values = fields(line);
        if values.len() != header.len() {
            return Err(format!("{} fields where the header has {}: {line}", values.len(), header.len()));
        }
        Ok(Self { fields: header.iter().cloned().zip(values).collect() })
    }

    /// The field in a column.
    ///
    /// # Errors
    /// A sentence, when there is no such column.
    pub fn text(&self, column: &str) -> Result<&str, String> {
        let field = self.fields.iter().find(|(name, _)| name == column);
        field.map(|(_, value)| value.as_str()).ok_or_else(|| format!("no column {column}"))
    }

    /// The number in a column; `None` for an empty field.
    ///
    /// # Errors
    /// A sentence, when there is no such column or the field is not a number.
    pub fn maybe(&self, column: &str) -> Result<Option<f64>, String> {
        let text = self.text(column)?;
        if text.is_empty() {
            return Ok(None);
        }
        text.parse().map(Some).map_err(|_| format!("not a number in {column}: {text}"))
    }

    /// The number in a column.
    ///
    /// # Errors
    /// A sentence, when there is no such column or the field is not a number.
    pub fn number(&self, column: &str) -> Result<f64, String> {
        self.maybe(column)?.ok_or_else(|| format!("no number in {column}"))
    }
}

/// Reads `data/published/NAME` as JSON.
///
/// # Errors
/// A sentence, when the file cannot be read or is not JSON.
pub fn published_json(name: &str) -> Result<Value, String> {
    serde_json::from_str(&read(name)?).map_err(|why| format!("{name}: {why}"))
}

/// The entry of a list whose `key` is `value`.
///
/// # Errors
/// A sentence, when there is none.
pub fn entry<'a>(list: &'a Value, key: &str, value: &str) -> Result<&'a Value, String> {
    let found = list.as_array().into_iter().flatten().find(|entry| entry[key] == value);
    found.ok_or_else(|| format!("no entry with {key} = {value}"))
}

/// The number under a key of an entry.
///
/// # Errors
/// A sentence, when there is none.
pub fn number(entry: &Value, key: &str) -> Result<f64, String> {
    entry[key].as_f64().ok_or_else(|| format!("no number under {key} in {entry}"))
}

fn read(name: &str) -> Result<String, String> {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("data/published").join(name);
    fs::read_to_string(&path).map_err(|why| format!("{}: {why}", path.display()))
}

/// Fields of a line; one that holds a comma stands in double quotes.
fn fields(line: &str) -> Vec<String> {
    let mut done = Vec::new();
    let mut field = String::new();
    let mut quoted = false;
    for letter in line.chars() {
        match letter {
            '"' => quoted = !quoted,
            ',' if !quoted => done.push(std::mem::take(&mut field)),
            _ => field.push(letter),
        }
    }
    done.push(field);
    done
}

/// The number of a gauge as the tables write it: `12`, `1/0` or `0`, `2/0` or `00`; 1/0 is 0, 2/0 is -1 and so on.
///
/// # Errors
/// A sentence, when it is no gauge.
pub fn gauge(name: &str) -> Result<i32, String> {
    let zeros = name.strip_suffix("/0").and_then(|count| count.parse().ok());
    let noughts = name.bytes().all(|letter| letter == b'0').then_some(name.len());
    match zeros.or(noughts.and_then(|count| i32::try_from(count).ok())) {
        Some(zeros) => Ok(1 - zeros),
        None => name.parse().map_err(|_| format!("no gauge: {name}")),
    }
}

/// Whether `value` is within a share `tolerance` of `expected`.
#[must_use]
pub fn near(value: f64, expected: f64, tolerance: f64) -> bool {
    (value - expected).abs() <= tolerance * expected.abs()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn comments_quotes_and_empty_fields_are_understood() {
        let table = Table::parse("# a source\nname,amps\n\"one, two\",1.5\nthree,\n").unwrap();
        assert_eq!(table.notes, ["a source"]);
        assert_eq!(table.rows[0].text("name").unwrap(), "one, two");
        assert_eq!(table.rows[0].number("amps"), Ok(1.5));
        assert_eq!(table.rows[1].maybe("amps"), Ok(None));
        assert_eq!(table.with("name", "three").count(), 1);
        assert!(table.rows[1].number("amps").is_err());
        assert!(table.rows[0].text("volts").is_err());
    }

    #[test]
    fn gauges_in_both_spellings() {
        for (name, number) in [("12", 12), ("1/0", 0), ("0", 0), ("00", -1), ("4/0", -3)] {
            assert_eq!(gauge(name), Ok(number));
        }
        assert!(gauge("thick").is_err());
    }

    #[test]
    fn a_ragged_row_is_an_error() {
        assert!(Table::parse("a,b\n1\n").is_err());
        assert!(Table::parse("# only a note\n").is_err());
    }
}
