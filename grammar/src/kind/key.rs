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
    /// Highest voltage a coil may see for long, volt.
    COIL_MAX = "coil-max";
    /// Voltage of a signal that is high, volt.
    LOGIC = "logic";
    /// Highest voltage a signal terminal survives, volt.
    SIGNAL_MAX = "signal-max";
    /// Highest voltage a measuring input survives, volt.
    SENSE_MAX = "sense-max";
    /// Voltage class of the insulation, volt.
    INSULATION_VOLTAGE = "insulation-voltage";
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
    /// Highest current a contact may open at its rated voltage with a motor or coil as load, ampere.
    BREAKS = "breaks";
    /// Highest current a contact may close onto without welding, ampere.
    MAKES = "makes";
    /// Highest fuse rating that a holder or a way of a fuse block takes, ampere.
    HOLDER = "holder";
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
    /// What the electronics inside a pack open by themselves.
    PACK_PROTECTION = "pack-protection";
    // Protection
    /// Style of the part: its build, which decides bands, limits or behaviour.
    STYLE = "style";
    /// Melting energy, ampere squared second.
    MELTING = "melting";
    /// How quickly a cartridge fuse opens.
    SPEED = "speed";
    /// Whether a breaker closes again by itself.
    RESET = "reset";
    /// Whether a breaker is also meant as the switch.
    SWITCHING_DUTY = "switching-duty";
    // Coils and contacts
    /// Coil current at the rated coil voltage, ampere.
    COIL = "coil";
    /// Resistance of a coil at 20 °C, ohm.
    COIL_RESISTANCE = "coil-resistance";
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
    /// Whether the part works only one way round.
    POLARISED = "polarised";
    /// Whether something else makes sure that no current flows when the contact opens.
    OPENS_UNLOADED = "opens-unloaded";
    /// Stop category of a stop device: 0 removes power at once, 1 stops first and then removes power, 2 keeps power.
    STOP_CATEGORY = "stop-category";
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
    /// Whether the part takes no harm when it is fed from its output or motor side while unpowered.
    TAKES_BACK_FEED = "takes-back-feed";
    /// Whether a driver reverses its motor.
    REVERSING = "reversing";
    /// Whether braking energy comes back to the supply.
    REGENERATES = "regenerates";
    /// What the outputs do when the signal or the link is lost.
    FAILSAFE = "failsafe";
    /// How long after the loss of the signal the outputs do that, second.
    FAILSAFE_TIME = "failsafe-time";
    /// What drives a signal line.
    SIGNAL_TYPE = "signal-type";
    /// Whether a source takes current back without harm.
    SINKS = "sinks";
    /// What a load's current does when the voltage changes.
    DRAWS = "draws";
    /// Whether the output is insulated from the input.
    ISOLATED = "isolated";
    /// Whether a failed regulator can pass its input voltage to its output.
    FAILS_HIGH = "fails-high";
    /// Whether outputs of this part may be joined with another's.
    SHARES_LOAD = "shares-load";
    /// Whether both leads of an output are driven, so that neither may touch negative.
    BRIDGED = "bridged";
    /// Whether supply current returns through the frame on purpose.
    CARRIES_RETURN = "carries-return";
    // Wires
    /// Conductor size, square millimetre.
    SIZE = "size";
    /// Length, metre.
    LENGTH = "length";
    /// Insulation colour.
    COLOUR = "colour";
    /// Temperature class of the insulation, degree Celsius.
    INSULATION = "insulation";
    /// Conductor metal.
    MATERIAL = "material";
    /// Stranding of the conductor.
    STRANDS = "strands";
    /// Sheathed or enclosed over its whole length.
    SHEATHED = "sheathed";
    /// A tail that came with the part it belongs to.
    SUPPLIED_TAIL = "supplied-tail";
    /// Not connected on purpose: a wire, a core, or terminals of a thing.
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
    // Modes
    /// Share of the time that loads draw their figure, a share.
    DUTY = "duty";
    // Groups and ports
    /// How many members of a group work at once.
    SIMULTANEITY = "simultaneity";
    /// What a signal terminal is.
    PORT = "port";
    /// Whether a signal comes in or goes out.
    DIRECTION = "direction";
    /// A resistor that holds a signal line at a level, or ends it.
    PULL = "pull";
    // Connectors
    /// Whether contacts are pins or sockets.
    CONTACTS = "contacts";
    /// From which side the ways are counted.
    VIEW = "view";
    /// Conductor sizes that a contact takes, square millimetre, a range.
    WIRE_SIZE = "wire-size";
    /// Thread of a stud, or of the stud that a lug fits.
    THREAD = "thread";
    /// Live contacts cannot be touched or shorted when the halves are apart.
    SHROUDED = "shrouded";
    /// The halves fit only one way round.
    KEYED = "keyed";
    /// May be joined and parted while live.
    HOT_MATE = "hot-mate";
    /// Highest temperature of the part's own terminals, degree Celsius.
    MAX_TEMPERATURE = "max-temperature";
    /// Ways are joined in mirrored order.
    MIRRORED = "mirrored";
    /// Ways cross over on purpose.
    CROSSOVER = "crossover";
    // Anything
    /// A free remark.
    NOTE = "note";
    /// What the number is worth: continuous, peak, advertised.
    BASIS = "basis";
    /// The group this thing belongs to; a mode may name the group instead of each thing.
    GROUP = "group";
}
