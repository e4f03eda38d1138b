//! The names of the figures, each once: machines find a figure by its name, so none changes its meaning.

/// Root mean square over the duty of a mode that may last, the largest over the points.
pub const STEADY_CURRENT: &str = "steady current";
/// The largest current in any mode, however short it lasts.
pub const HIGHEST_CURRENT: &str = "highest current";
/// The least current of a source; below zero it is charged.
pub const LOWEST_CURRENT: &str = "lowest current";
/// The largest current in one mode.
pub const MODE_CURRENT: &str = "current in the mode";
/// From end to end.
pub const RESISTANCE: &str = "resistance";
/// The largest voltage that a wire drops in a mode that may last.
pub const DROP: &str = "drop";
/// The largest share of its supply's voltage that it drops.
pub const DROP_SHARE: &str = "drop share";
/// Heat in the wire at its steady current.
pub const LOSS: &str = "loss";
/// Where the conductor settles.
pub const TEMPERATURE: &str = "conductor temperature";
/// What the profile lets it carry where it is nearest to that.
pub const AMPACITY: &str = "ampacity";
/// Steady current over ampacity.
pub const AMPACITY_USE: &str = "use of the ampacity";
/// Ampacity less steady current.
pub const MARGIN: &str = "margin";
/// Least voltage while it is fed.
pub const LOWEST_VOLTAGE: &str = "lowest voltage";
/// Greatest voltage.
pub const HIGHEST_VOLTAGE: &str = "highest voltage";
/// The least supply voltage it is rated for.
pub const LEAST_SUPPLY: &str = "least supply voltage";
/// The greatest supply voltage it is rated for.
pub const MOST_SUPPLY: &str = "greatest supply voltage";
/// Lowest voltage less the least it needs.
pub const HEADROOM_BELOW: &str = "margin above the least supply voltage";
/// The greatest it bears less the highest voltage.
pub const HEADROOM_ABOVE: &str = "margin below the greatest supply voltage";
/// Voltage times current, the largest over the points.
pub const HIGHEST_POWER: &str = "highest power";
/// As stated.
pub const RATED_CURRENT: &str = "rated current";
/// Steady current over rated current.
pub const RATING_USE: &str = "use of the rating";
