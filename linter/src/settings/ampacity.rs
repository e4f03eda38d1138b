//! The table `[ampacity]`: sizes down, insulation classes across, and what the author says of bundles and devices.

use toml::de::DeTable;
use wattle_grammar::{
    error::TextError,
    quantity::{Amps, Celsius, Dimension, Metres, Quantity, Share, SquareMm},
    span::Span,
};

use super::{
    heat_check,
    reader::{Due, Reader, Value},
};
use crate::profile::{ByMaker, Row};

const NAME: &str = "ampacity";

const AIR: Due = Due { dimension: Dimension::Temperature, within: (-40.0, 100.0), example: "30 °C" };
const CLASS: Due = Due { dimension: Dimension::Temperature, within: (40.0, 300.0), example: "105 °C" };
const SIZE: Due = Due { dimension: Dimension::Area, within: (0.01, 1e3), example: "18 AWG" };
const CURRENT: Due = Due { dimension: Dimension::Current, within: (1e-3, 1e4), example: "10 A" };
const LEFT: Due = Due { dimension: Dimension::Ratio, within: (0.01, 1.0), example: "70 %" };
/// Up to what the one published rule allows below 50 V, 33 CFR 183.455(c).
const DEVICE: Due = Due { dimension: Dimension::Ratio, within: (0.1, 1.5), example: "100 %" };
const DISTANCE: Due = Due { dimension: Dimension::Length, within: (1e-3, 10.0), example: "7 in" };

/// A row with its places, as read.
pub(super) struct Placed {
    pub(super) row: Row,
    /// The place of its size.
    pub(super) span: Span,
    /// The place of each current.
    pub(super) amps: Vec<Span>,
}

/// The table; nothing when there is a mistake in it, which is told.
pub(super) fn read(reader: &mut Reader<'_>, value: &Value<'_>, notes: &mut Vec<String>) -> Option<ByMaker> {
    let before = reader.mistakes();
    let table = reader.table(value, NAME)?;
    let whole = reader.span(value.span());
    reader.known_keys(table, NAME);
    let mut demanded = |key| reader.demanded(table, (NAME, whole), key);
    let (name, source, air) = (demanded("name"), demanded("source"), demanded("air"));
    let (classes, sizes) = (demanded("insulation"), demanded("sizes"));
    let name = name.and_then(|value| reader.text(value, "name"));
    let source = source.and_then(|value| reader.text(value, "source"));
    let air = air.and_then(|value| reader.quantity(value, "air", AIR)).map(|air| Celsius(air.value));
    let classes = classes.and_then(|value| read_classes(reader, value, air));
    let rows = sizes.zip(classes.as_ref()).and_then(|(value, classes)| read_rows(reader, value, classes));
    let bundle = table.get("bundle").map_or_else(Vec::new, |value| read_bundle(reader, value));
    let device = optional(reader, table, "device", DEVICE).map_or(Share(1.0), |share| Share(share.value));
    let bare = optional(reader, table, "bare-distance", DISTANCE).map(|far| Metres(far.value));
    let sheathed = optional(reader, table, "sheathed-distance", DISTANCE).map(|far| Metres(far.value));
    let confirmed = table.get("confirmed").and_then(|value| reader.text(value, "confirmed"));
    let (name, source, air, classes, rows) = (name?, source?, air?, classes?, rows?);
    heat_check::check(reader, &rows, (&classes, air), confirmed.as_deref(), notes);
    let rows = rows.into_iter().map(|placed| placed.row).collect();
    let made = ByMaker { name, source, air, classes, rows, bundle, device, bare, sheathed };
    (reader.mistakes() == before).then_some(made)
}

fn optional(reader: &mut Reader<'_>, table: &DeTable<'_>, key: &str, due: Due) -> Option<Quantity> {
    reader.quantity(table.get(key)?, key, due)
}

/// The classes of the columns: rising, and above the air.
fn read_classes(reader: &mut Reader<'_>, value: &Value<'_>, air: Option<Celsius>) -> Option<Vec<Celsius>> {
    let list = reader.list(value, "insulation", "insulation = [\"75 °C\", \"105 °C\"]")?;
    let mut classes: Vec<Celsius> = Vec::new();
    for entry in list {
        let class = Celsius(reader.quantity(entry, "insulation", CLASS)?.value);
        let floor = classes.last().copied().or(air);
        if let Some(floor) = floor.filter(|floor| class <= *floor) {
            let message = match classes.is_empty() {
                true => format!("the class of {class} is not above the table's air of {floor}"),
                false => format!("the class of {class} stands behind that of {floor}"),
            };
            let error = TextError::new(
                "settings.not-rising",
                reader.span(entry.span()),
                message,
                "a higher class is due here",
            );
            reader.tell(error.help("write the classes from the lowest to the highest, as the columns stand"));
            return None;
        }
        classes.push(class);
    }
    if classes.is_empty() {
        let error = TextError::new(
            "settings.wrong-value",
            reader.span(value.span()),
            "`insulation` names no class",
            "a class is due here",
        );
        reader.tell(error.help("write the insulation class of each column: `insulation = [\"105 °C\"]`"));
        return None;
    }
    Some(classes)
}

/// The rows, thinnest first.
fn read_rows(reader: &mut Reader<'_>, value: &Value<'_>, classes: &[Celsius]) -> Option<Vec<Placed>> {
    let table = reader.table(value, "ampacity.sizes")?;
    let mut rows: Vec<Placed> = Vec::new();
    let mut complete = true;
    for (size, currents) in table {
        let area = reader.quantity_in(size.get_ref(), size.span(), "a size", SIZE);
        let amps = read_row(reader, currents, classes);
        let (Some(area), Some((amps, places))) = (area, amps) else {
            complete = false;
            continue;
        };
        let row = Row { area: SquareMm(area.value), written: area.to_string(), amps };
        rows.push(Placed { row, span: reader.span(size.span()), amps: places });
    }
    if table.is_empty() {
        let error = TextError::new(
            "settings.wrong-value",
            reader.span(value.span()),
            "`ampacity.sizes` has no row",
            "a row is due here",
        );
        reader.tell(error.help("write a row for each size: `\"18 AWG\" = [\"10 A\", \"16 A\"]`"));
    }
    rows.sort_by(|one, other| one.row.area.0.total_cmp(&other.row.area.0));
    let rises = rows_rise(reader, &rows);
    (complete && rises && !rows.is_empty()).then_some(rows)
}

/// The currents of a row, one for each class, never falling, with their places.
fn read_row(
    reader: &mut Reader<'_>,
    value: &Value<'_>,
    classes: &[Celsius],
) -> Option<(Vec<Amps>, Vec<Span>)> {
    let list = reader.list(value, "a row", "\"18 AWG\" = [\"10 A\", \"16 A\"]")?;
    let read: Vec<Option<Quantity>> =
        list.iter().map(|entry| reader.quantity(entry, "a row", CURRENT)).collect();
    let amps: Vec<Amps> =
        read.into_iter().map(|entry| entry.map(|amps| Amps(amps.value))).collect::<Option<_>>()?;
    if amps.len() != classes.len() {
        let currents = if amps.len() == 1 { "current" } else { "currents" };
        let message = format!(
            "this row has {} {currents}, and there are {} insulation classes",
            amps.len(),
            classes.len()
        );
        let error = TextError::new(
            "settings.wrong-count",
            reader.span(value.span()),
            message,
            "one for each class is due here",
        );
        reader.tell(error.help("write a current for each class of `insulation`, in its order"));
        return None;
    }
    let places: Vec<Span> = list.iter().map(|entry| reader.span(entry.span())).collect();
    let mut pairs = amps.iter().zip(amps.iter().skip(1)).zip(places.iter().skip(1));
    if let Some(((lower, higher), place)) = pairs.find(|((lower, higher), _)| higher < lower) {
        let message = format!("a higher class carries less here: {higher} behind {lower}");
        let error = TextError::new("settings.not-rising", *place, message, "not below the one before");
        reader.tell(error.help("compare the row with its source: a column was skipped or a digit slipped"));
        return None;
    }
    Some((amps, places))
}

/// Whether every size carries more than the one below it, in every column.
fn rows_rise(reader: &mut Reader<'_>, rows: &[Placed]) -> bool {
    let mut rises = true;
    for (thin, thick) in rows.iter().zip(rows.iter().skip(1)) {
        if thin.row.area == thick.row.area {
            let message = format!("the size {} has two rows", thick.row.written);
            let error = TextError::new("settings.not-rising", thick.span, message, "here again")
                .related(thin.span, "first here");
            reader.tell(error.help("keep one row for each size"));
            rises = false;
            continue;
        }
        let mut columns = thin.row.amps.iter().zip(&thick.row.amps).zip(thick.amps.iter().zip(&thin.amps));
        if let Some(((less, more), (place, other))) = columns.find(|((less, more), _)| more <= less) {
            let message = format!(
                "{} carries {more}, no more than the {less} of {}",
                thick.row.written, thin.row.written
            );
            let error = TextError::new("settings.not-rising", *place, message, "not above the thinner size")
                .related(*other, "the thinner size");
            reader.tell(error.help("compare both rows with their source: a thicker wire carries more"));
            rises = false;
        }
    }
    rises
}

/// The shares left in a bundle, by the number of loaded conductors from which they hold.
fn read_bundle(reader: &mut Reader<'_>, value: &Value<'_>) -> Vec<(u32, Share)> {
    let Some(table) = reader.table(value, "ampacity.bundle") else { return Vec::new() };
    let mut factors: Vec<(u32, Share, Span)> = Vec::new();
    for (from, left) in table {
        let place = reader.span(from.span());
        let count = from.get_ref().parse::<u32>().ok().filter(|count| (2..=10_000).contains(count));
        if count.is_none() {
            let message =
                format!("{} is no number of conductors", wattle_grammar::error::quoted(from.get_ref()));
            let error = TextError::new("settings.wrong-value", place, message, "2 or more is due here");
            reader
                .tell(error.help("write from how many loaded conductors on the share holds: `3 = \"70 %\"`"));
        }
        let share = reader.quantity(left, "a bundle factor", LEFT);
        factors.extend(count.zip(share).map(|(count, share)| (count, Share(share.value), place)));
    }
    factors.sort_by_key(|(count, ..)| *count);
    let mut pairs = factors.iter().zip(factors.iter().skip(1));
    if let Some((_, more)) = pairs.find(|(fewer, more)| more.1 > fewer.1) {
        let message = format!("{} conductors leave {} to each, more than fewer of them", more.0, more.1);
        let error = TextError::new("settings.not-rising", more.2, message, "not above the one before");
        reader.tell(error.help("more loaded conductors side by side leave less to each"));
    }
    factors.into_iter().map(|(count, share, _)| (count, share)).collect()
}
