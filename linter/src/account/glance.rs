//! The few figures of a wire or thing that matter most at a glance, a line each: the same figures as its explanation has.

use super::{Entry, Section, View, corner, explain::told, subject::Subject, what};
use crate::{
    explained::{Amount, Explained},
    physics::unit::Joules,
};

/// No more lines than this are read at a glance.
const MOST: usize = 8;

/// A figure that is wanted: the section, how its name begins, and which of several counts.
struct Wanted(Section, &'static str, Pick);

/// Which of several figures whose names begin alike.
#[derive(Clone, Copy)]
enum Pick {
    First,
    Largest,
    Smallest,
}

/// What is wanted, in the order in which it is told.
const WANTED: &[Wanted] = &[
    Wanted(Section::Energy, "discharge rate", Pick::First),
    Wanted(Section::Source, what::HIGHEST_CURRENT, Pick::First),
    Wanted(Section::Source, what::RATING_USE, Pick::First),
    Wanted(Section::Energy, "lowest voltage at the poles", Pick::First),
    Wanted(Section::Energy, "runtime in ", Pick::Smallest),
    Wanted(Section::Energy, "charge current", Pick::First),
    Wanted(Section::Energy, "charging time", Pick::First),
    Wanted(Section::Energy, "equalising current", Pick::First),
    Wanted(Section::Wire, what::AMPACITY_USE, Pick::First),
    Wanted(Section::Wire, what::TEMPERATURE, Pick::First),
    Wanted(Section::Wire, "time to the insulation's class", Pick::First),
    Wanted(Section::Device, what::RATING_USE, Pick::First),
    Wanted(Section::Contact, what::RATING_USE, Pick::First),
    Wanted(Section::Bar, what::RATING_USE, Pick::First),
    Wanted(Section::Short, "highest fault current", Pick::First),
    Wanted(Section::Short, "fault current it has to break", Pick::First),
    Wanted(Section::Short, "lowest fault current", Pick::Smallest),
    Wanted(Section::Short, "opened at the lowest ", Pick::Largest),
    Wanted(Section::Short, "opened at the highest ", Pick::Largest),
    Wanted(Section::Short, "a short on it", Pick::First),
    Wanted(Section::Surge, "in-rush current", Pick::Largest),
    Wanted(Section::Surge, "supply voltage while motors are turned", Pick::Largest),
    Wanted(Section::Surge, "supply voltage while braking", Pick::First),
    Wanted(Section::Surge, "energy of what it moves", Pick::First),
    Wanted(Section::Surge, "operate voltage hot", Pick::First),
    Wanted(Section::Surge, "lowest coil voltage", Pick::First),
    Wanted(Section::Surge, "held up after ", Pick::Smallest),
    Wanted(Section::Load, what::STEADY_CURRENT, Pick::First),
    Wanted(Section::Load, what::HIGHEST_CURRENT, Pick::First),
    Wanted(Section::Load, what::LOWEST_VOLTAGE, Pick::First),
    Wanted(Section::Load, what::HEADROOM_BELOW, Pick::First),
];

impl View<'_> {
    /// What matters most of a wire or thing, a line each, with the point or the corner that it holds for; nothing for a
    /// terminal.
    #[must_use]
    pub fn glance(&self, subject: Subject) -> Vec<String> {
        if matches!(subject, Subject::Terminal(_)) {
            return Vec::new();
        }
        let entries = self.about(subject);
        // What is a load besides, as a relay by its coil, says of which its current is.
        let besides = entries.iter().any(|entry| {
            matches!(entry.section, Section::Contact | Section::Source) && entry.section != Section::Load
        });
        let lines = WANTED.iter().filter_map(|wanted| {
            let figure = picked(&entries, wanted)?;
            let of_load = besides && wanted.0 == Section::Load;
            let role = if of_load { format!("{}, ", wanted.0.heading()) } else { String::new() };
            Some(format!("{role}{}", self.line_of(figure)))
        });
        lines.take(MOST).collect()
    }

    fn line_of(&self, figure: &Explained) -> String {
        let (amount, at) = (told(&figure.amount), self.holds_at(figure));
        let at = if at.is_empty() { at } else { format!(" ({at})") };
        format!("{}: {amount}{at}", figure.what)
    }

    /// ``mode `run`, empty, warm``, or the corner that the figure itself tells.
    fn holds_at(&self, figure: &Explained) -> String {
        let analysis = self.analysis;
        let point = figure.point.and_then(|at| analysis.figures.points.get(at));
        let own = || figure.notes.iter().find_map(|note| note.strip_prefix("corner: "));
        match point {
            Some(point) => format!(
                "mode `{}`, {}",
                corner::mode(&analysis.design, point),
                corner::short(&analysis.design, point)
            ),
            None => own().and_then(|corner| corner.split(';').next()).unwrap_or_default().to_owned(),
        }
    }
}

/// The figure that is wanted; one that could not be told only where there is no other.
fn picked<'e>(entries: &'e [Entry], Wanted(section, begins, pick): &Wanted) -> Option<&'e Explained> {
    let figures = entries.iter().filter(|entry| entry.section == *section).flat_map(|entry| &entry.figures);
    let mut named = figures.filter(|figure| figure.what.starts_with(begins));
    match pick {
        Pick::First => named.next(),
        Pick::Largest => {
            named.reduce(|held, next| if size(next, 0.0) > size(held, 0.0) { next } else { held })
        }
        Pick::Smallest => {
            named.reduce(|held, next| if size(next, f64::MAX) < size(held, f64::MAX) { next } else { held })
        }
    }
}

/// How large a figure is for choosing: words such as `need not open` are without end, what is not told is out of the way.
fn size(figure: &Explained, untold: f64) -> f64 {
    match &figure.amount {
        Amount::Value(value, _) | Amount::Pulse(Joules(value)) => *value,
        Amount::Words(_) => f64::INFINITY,
        Amount::NotAssessed(_) => untold,
    }
}
