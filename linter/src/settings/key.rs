//! The keys of the settings file: the one list that the reader, the schema and the page are held against.

/// A key.
#[derive(Clone, Copy, Debug)]
pub struct Key {
    /// The table that it stands in; empty for the file itself.
    pub table: &'static str,
    /// Its name.
    pub name: &'static str,
    /// Whether its table is of no use without it.
    pub demanded: bool,
    /// A value as it would be written.
    pub example: &'static str,
}

const fn key(table: &'static str, name: &'static str, demanded: bool, example: &'static str) -> Key {
    Key { table, name, demanded, example }
}

/// Every key with a fixed name, in the order of the page. The rows of `ampacity.sizes` and `ampacity.bundle` are the
/// author's.
pub const ALL: &[Key] = &[
    key("", "profile", false, "\"own\""),
    key("", "ampacity", false, "[ampacity]"),
    key("ampacity", "name", true, "\"table of the cable's maker\""),
    key("ampacity", "source", true, "\"data sheet of the cable, issue 4, table 2\""),
    key("ampacity", "air", true, "\"30 °C\""),
    key("ampacity", "insulation", true, "[\"75 °C\", \"105 °C\"]"),
    key("ampacity", "sizes", true, "[ampacity.sizes]"),
    key("ampacity", "bundle", false, "[ampacity.bundle]"),
    key("ampacity", "device", false, "\"100 %\""),
    key("ampacity", "bare-distance", false, "\"7 in\""),
    key("ampacity", "sheathed-distance", false, "\"40 in\""),
    key("ampacity", "confirmed", false, "\"why a figure that looks too high is right\""),
];

/// The keys of a table.
pub(super) fn of(table: &str) -> impl Iterator<Item = &'static Key> {
    ALL.iter().filter(move |key| key.table == table)
}
