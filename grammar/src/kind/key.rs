//! The keys of ratings and facts, once each, so that no other file spells them.

macro_rules! keys {
    ($($(#[$doc:meta])* $name:ident = $text:literal;)*) => {
        $($(#[$doc])* pub const $name: &str = $text;)*
        /// Every key, in the order declared.
        pub const ALL: &[&str] = &[$($text),*];
    };
}

keys! {
    // Voltages
    /// Rated or nominal voltage of a source, a load, a coil's circuit or a protective device, volt.
    VOLTAGE = "voltage";
    /// Supply voltage a part may see, volt, a range.
    SUPPLY = "supply";
    /// Highest voltage that does not destroy the part, volt.
    ABSOLUTE_MAX = "absolute-max";
    /// Voltage of a source when full, volt.
    FULL = "full";
    /// Voltage of a source when empty, volt.
    EMPTY = "empty";
    /// Output voltage, volt.
    OUTPUT = "output";
    /// Tolerance of the output voltage, a share.
    TOLERANCE = "tolerance";
    /// Least difference between input and output, volt.
    DROPOUT = "dropout";
    /// Forward drop of a diode or LED, volt.
    FORWARD = "forward";
    /// Voltage at which a clamp begins to conduct, volt.
    CLAMPS_AT = "clamps-at";
    // Currents
    /// Rated current, ampere.
    CURRENT = "current";
    /// Highest current for a short time, ampere.
    PEAK = "peak";
    /// How long the peak may last, second.
    PEAK_TIME = "peak-time";
    /// Current drawn when idle, ampere.
    IDLE = "idle";
    /// Current drawn in ordinary work, ampere.
    TYPICAL = "typical";
    /// Current drawn when blocked, ampere.
    STALL = "stall";
    /// Current a source or driver limits itself to, ampere.
    CURRENT_LIMIT = "current-limit";
    /// The part that limits the current here.
    LIMITED_BY = "limited-by";
    /// Current a driver or regulator itself draws, ampere.
    QUIESCENT = "quiescent";
    /// Highest fault current a protective device can break, ampere.
    BREAKING_CAPACITY = "breaking-capacity";
    /// Continuous discharge current of a battery, multiple of the capacity per hour.
    DISCHARGE = "discharge";
    /// Charge current a battery takes, ampere.
    CHARGE_CURRENT = "charge-current";
    // Power, energy
    /// Power drawn or given, watt.
    POWER = "power";
    /// Battery capacity, ampere-hour.
    CAPACITY = "capacity";
    /// Share of the capacity that is used, a share.
    USABLE = "usable";
    /// Efficiency, a share.
    EFFICIENCY = "efficiency";
    // Resistance and the like
    /// Resistance: internal of a source, of a winding, of a load, ohm.
    RESISTANCE = "resistance";
    /// Contact resistance of one closed contact or mated way, ohm.
    CONTACT_RESISTANCE = "contact-resistance";
    /// Capacitance, farad.
    CAPACITANCE = "capacitance";
    /// Voltage drop of a shunt at its rated current, volt.
    DROP = "drop";
    // Batteries
    /// Cell chemistry.
    CHEMISTRY = "chemistry";
    /// Cells in series.
    CELLS = "cells";
    /// Strings in parallel inside the pack.
    STRINGS = "strings";
    /// Whether cell taps are brought out.
    TAPS = "taps";
    /// A fuse built into the pack, ampere.
    BUILT_IN_FUSE = "built-in-fuse";
    // Protection
    /// Style of a protective device.
    STYLE = "style";
    /// Melting energy, ampere squared second.
    MELTING = "melting";
    // Coils and contacts
    /// Coil current at the rated coil voltage, ampere.
    COIL = "coil";
    /// Rated coil voltage, volt.
    COIL_VOLTAGE = "coil-voltage";
    /// Coil voltage at which the contacts are sure to have operated, volt.
    OPERATE = "operate";
    /// Coil voltage below which the contacts are sure to have released, volt.
    RELEASE = "release";
    /// What suppresses the coil.
    SUPPRESSION = "suppression";
    /// Poles.
    POLES = "poles";
    /// Contact arrangement of a switch.
    CONTACT = "contact";
    // Counts
    /// Ways of a connector, block or slip ring.
    WAYS = "ways";
    /// Channels of a driver, amplifier or receiver.
    CHANNELS = "channels";
    /// Signal pins of a controller.
    SIGNALS = "signals";
    // Motors and drivers
    /// Motor speed constant, revolution per minute per volt.
    SPEED_CONSTANT = "speed-constant";
    /// Voltage a motor gives when turned as fast as the robot can be pushed, volt.
    PUSHED = "pushed";
    /// Whether the load can turn the motor.
    BACK_DRIVABLE = "back-drivable";
    /// Whether a driver may be fed from its motor side while unpowered.
    TAKES_BACK_FEED = "takes-back-feed";
    /// Whether a driver reverses its motor.
    REVERSING = "reversing";
    /// Whether a source takes current back.
    SINKS = "sinks";
    /// What a load's current does when the voltage changes.
    DRAWS = "draws";
    /// Whether the output is insulated from the input.
    ISOLATED = "isolated";
    // Wires
    /// Conductor size, square millimetre.
    SIZE = "size";
    /// Length, metre.
    LENGTH = "length";
    /// Insulation colour.
    COLOUR = "colour";
    /// Temperature class of the insulation, degree Celsius.
    INSULATION = "insulation";
    /// Sheathed or enclosed over its whole length.
    SHEATHED = "sheathed";
    /// A tail that came with the part it belongs to.
    SUPPLIED_TAIL = "supplied-tail";
    /// Not connected on purpose.
    SPARE = "spare";
    /// Conductors that run side by side.
    BUNDLE = "bundle";
    /// Several conductors share one current on purpose.
    PARALLEL_BY_INTENT = "parallel-by-intent";
    // Places and the robot
    /// Air temperature, degree Celsius, a range.
    AMBIENT = "ambient";
    /// A joint moves here.
    MOVING = "moving";
    /// No air exchange.
    SEALED = "sealed";
    /// Basis for ampacity and protection.
    PROFILE = "profile";
    // Connectors
    /// Whether contacts are pins or sockets.
    CONTACTS = "contacts";
    /// From which side the ways are counted.
    VIEW = "view";
    /// Ways are joined in mirrored order.
    MIRRORED = "mirrored";
    /// Ways cross over on purpose.
    CROSSOVER = "crossover";
    // Anything
    /// A free remark.
    NOTE = "note";
    /// What the number is worth: continuous, peak, advertised.
    BASIS = "basis";
    /// Which family groups this thing belongs to.
    GROUP = "group";
}
