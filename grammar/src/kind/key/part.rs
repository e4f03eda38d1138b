//! Keys of what electrical parts are rated for, and of what they do.

keys! { OF_PARTS:
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
    /// Voltage below which a pack, a regulator or a driver switches off by itself, volt.
    CUTOFF = "cutoff";
    /// Voltage below which an alarm warns, volt.
    ALARM = "alarm";
    /// Greatest difference of voltage at which sources may be joined in parallel, volt.
    JOINING_LIMIT = "joining-limit";
    /// Voltage a charger holds once the battery is full, volt.
    FLOAT = "float";
    /// Voltage to which a source leaps when its battery is disconnected, volt.
    LOAD_DUMP = "load-dump";
    /// Voltage to which a source falls while an engine starts, volt.
    CRANK = "crank";
    /// Supply voltage below which a part resets, volt.
    RESET_VOLTAGE = "reset-voltage";
    /// Share of the supply voltage that may be lost on the way.
    ALLOWED_DROP = "allowed-drop";
    /// Highest voltage between two sides that are insulated from each other, volt.
    ISOLATION_VOLTAGE = "isolation-voltage";
    /// Highest voltage of both measuring inputs together against the supply's negative, volt.
    COMMON_MODE = "common-mode";
    /// Voltage at a measuring input at full deflection, volt.
    FULL_SCALE = "full-scale";
    /// Current shown at full deflection, ampere.
    FULL_SCALE_CURRENT = "full-scale-current";
    /// Least voltage of an output that is high, volt.
    OUTPUT_HIGH = "output-high";
    /// Highest voltage of an output that is low, volt.
    OUTPUT_LOW = "output-low";
    /// Voltage above which an input is sure to read high, volt.
    INPUT_HIGH = "input-high";
    /// Voltage below which an input is sure to read low, volt.
    INPUT_LOW = "input-low";
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
    /// Current a supply draws for a moment when it is closed, ampere.
    INRUSH = "inrush";
    /// How long that lasts, second.
    INRUSH_TIME = "inrush-time";
    /// Current drawn while disabled, ampere.
    STANDBY = "standby";
    /// Current through an output or contact that is off, ampere.
    LEAKAGE = "leakage";
    /// Highest current that may flow into a signal terminal, ampere.
    CLAMP_CURRENT = "clamp-current";
    /// Highest current of a contact that alone is loaded, ampere.
    SINGLE_CURRENT = "single-current";
    /// Current that comes back from braking motors and is let in, ampere.
    REGEN_CURRENT = "regen-current";
    /// Coil current once the contacts have operated, ampere.
    HOLD_CURRENT = "hold-current";
    /// Continuous discharge current of a battery, multiple of the capacity per hour.
    DISCHARGE = "discharge";
    /// Charge current a battery takes, ampere.
    CHARGE_CURRENT = "charge-current";
    // Power, energy
    /// Power drawn or given, watt.
    POWER = "power";
    /// Power that may be turned into heat for long, watt.
    DISSIPATION = "dissipation";
    /// Energy taken in one pulse, watt-hour.
    PULSE_ENERGY = "pulse-energy";
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
    /// Resistance of the copper of a strip, ohm per metre.
    RESISTANCE_PER_LENGTH = "resistance-per-length";
    /// Inductance, henry.
    INDUCTANCE = "inductance";
    /// Insulation of the supply against the frame, ohm.
    INSULATION_RESISTANCE = "insulation-resistance";
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
    /// One of several sources in series on purpose.
    SERIES_STRING = "series-string";
    /// Halves or cells are kept at equal voltage.
    EQUALISED = "equalised";
    /// Unplugged by hand after use.
    UNPLUGGED_AFTER_USE = "unplugged-after-use";
    /// Poles are covered.
    COVERED = "covered";
    // Sources
    /// The part that keeps an output from being fed by others.
    OR_ED_BY = "or-ed-by";
    /// Gives nothing before it has recognised a battery.
    WAITS_FOR_BATTERY = "waits-for-battery";
    /// Can be set to other values.
    ADJUSTABLE = "adjustable";
    /// Negative is joined to the earth of the mains.
    EARTHED = "earthed";
    /// Joined only while the machine stands still.
    PARKED_ONLY = "parked-only";
    /// Keeps its output current, not its voltage.
    CONSTANT_CURRENT = "constant-current";
    /// What it does with the supply of the servo plugs.
    SERVO_RAIL = "servo-rail";
    // Protection
    /// The fuse before it that breaks what it cannot.
    BACKED_UP_BY = "backed-up-by";
    /// The part whose maker asks for it.
    ASKED_FOR_BY = "asked-for-by";
    /// Figures hold for alternating current only.
    ALTERNATING_ONLY = "alternating-only";
    /// The manual disconnect of a source.
    DISCONNECT = "disconnect";
    /// Time within which everything is dead, second.
    DEAD_WITHIN = "dead-within";
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
    /// The order of switching that keeps a contact free of current.
    SEQUENCE = "sequence";
    /// Neither closes nor opens a current.
    CARRIES_ONLY = "carries-only";
    /// Kind of load for which the contact's figures hold.
    LOAD_TYPE = "load-type";
    /// Metal of the contacts.
    CONTACT_MATERIAL = "contact-material";
    /// Opens one circuit before it closes the other.
    BREAK_BEFORE_MAKE = "break-before-make";
    /// Holds itself in through its own contact.
    SELF_HOLDING = "self-holding";
    /// Lowers its coil current once it has operated.
    ECONOMISER = "economiser";
    /// Coil temperature at which the operate voltage holds, degree Celsius.
    OPERATE_TEMPERATURE = "operate-temperature";
    /// How long until contacts have operated, second.
    OPERATE_TIME = "operate-time";
    /// How long until contacts have released, second.
    RELEASE_TIME = "release-time";
    /// An auxiliary contact that cannot close while a main contact is welded.
    MIRROR_CONTACT = "mirror-contact";
    /// Starts the robot by hand.
    STARTS = "starts";
    /// Moves only while it is held.
    HOLD_TO_RUN = "hold-to-run";
    /// A person gets at it at once and without tools.
    REACHABLE = "reachable";
    /// Why the stop category is what it is.
    CATEGORY_REASON = "category-reason";
    /// Something watches the contacts or the loop and trips on a fault.
    MONITORED = "monitored";
    /// Pressed over radio.
    BY_RADIO = "by-radio";
    /// Stop category of a stop device: 0 removes power at once, 1 stops first and then removes power, 2 keeps power.
    STOP_CATEGORY = "stop-category";
    // Counts
    /// Ways of a connector, block or slip ring.
    WAYS = "ways";
    /// Channels of a driver, amplifier or receiver.
    CHANNELS = "channels";
    /// Signal pins of a controller.
    SIGNALS = "signals";
    /// Number of data lines of an addressable strip.
    DATA_LINES = "data-lines";
    // Motors and drivers
    /// Motor speed constant, revolution per minute per volt.
    SPEED_CONSTANT = "speed-constant";
    /// Three leads, turned by electronics instead of brushes.
    BRUSHLESS = "brushless";
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
    /// Mass that a motor moves, kilogram.
    MOVED_MASS = "moved-mass";
    /// Highest speed of that mass, metre per second.
    MOVED_SPEED = "moved-speed";
    /// Moment of inertia that a motor turns, kilogram square metre.
    MOVED_INERTIA = "moved-inertia";
    /// Highest rotational speed of that, revolution per minute.
    MOVED_TURNING = "moved-turning";
    /// Shortest time in which a motor brakes what it moves, second.
    BRAKING_TIME = "braking-time";
    /// Turns one way only.
    ONE_WAY = "one-way";
    /// Moves with others on purpose.
    GANGED = "ganged";
    /// What moves can harm nobody.
    HARMLESS_MOTION = "harmless-motion";
    /// Greatest force where somebody could be squeezed, newton.
    FORCE = "force";
    /// Greatest torque at the output shaft, newton metre.
    TORQUE = "torque";
    /// Greatest mechanical power of the motion, watt.
    MOTION_POWER = "motion-power";
    /// Carries a weight that falls when it lets go.
    CARRIES_WEIGHT = "carries-weight";
    /// Share of the weight that a counterweight or spring takes.
    BALANCED = "balanced";
    /// What holds the load when power is gone.
    HELD_BY = "held-by";
    /// How a brake works.
    BRAKE = "brake";
    /// A brake that is no part of stopping.
    PARKING_ONLY = "parking-only";
    /// Longest time on at a stretch, second.
    ON_TIME = "on-time";
    /// Fills its capacitors or starts its load slowly.
    SOFT_START = "soft-start";
    /// Current is switched on and off quickly.
    PULSED = "pulsed";
    /// Stays on when the robot is off.
    ALWAYS_ON = "always-on";
    /// Limits its current inside.
    LIMITS_ITSELF = "limits-itself";
    /// Standard of a safe-torque-off input.
    SAFE_TORQUE_OFF = "safe-torque-off";
    /// Moves only after a valid neutral command.
    ARMS_AT_NEUTRAL = "arms-at-neutral";
    /// Channels may be joined to drive one motor.
    PARALLEL_CHANNELS = "parallel-channels";
    /// Longest supply lead allowed, metre.
    LONGEST_LEAD = "longest-lead";
    /// What the outputs do when the signal or the link is lost.
    FAILSAFE = "failsafe";
    /// How long after the loss of the signal the outputs do that, second.
    FAILSAFE_TIME = "failsafe-time";
    /// The day on which the failsafe was tried.
    FAILSAFE_TESTED = "failsafe-tested";
    /// What the outputs do while the part resets and starts.
    ON_RESET = "on-reset";
    /// Address on a bus.
    ADDRESS = "address";
    /// Address given by program, one part at a time.
    ADDRESSED_IN_TURN = "addressed-in-turn";
    /// Whether a part takes no harm from signals while unpowered.
    TAKES_SIGNAL_UNPOWERED = "takes-signal-unpowered";
    /// Whether a part takes no harm from a reversed supply.
    TAKES_REVERSAL = "takes-reversal";
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
    /// Bridges an open contact on purpose.
    BRIDGES_BY_INTENT = "bridges-by-intent";
    /// Gives braking energy a way back to the battery.
    REGEN_PATH = "regen-path";
    /// Joined to nothing else.
    FLOATING = "floating";
    /// The one place where the frame is joined to negative.
    BONDED_AT = "bonded-at";
    /// Joined to negative in several places on purpose.
    MULTI_POINT = "multi-point";
    /// Joints of the frame are bare metal.
    METAL_TO_METAL = "metal-to-metal";
    /// Whether supply current returns through the frame on purpose.
    CARRIES_RETURN = "carries-return";
}
