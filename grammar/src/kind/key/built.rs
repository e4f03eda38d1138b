//! Keys of how the robot is built: wires, places, joints, connectors, the robot itself, and what any thing can carry.

keys! { OF_BUILD:
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
    /// What the length is: guessed, of the route, of the cut wire.
    LENGTH_BASIS = "length-basis";
    /// Media that the insulation stands.
    INSULATION_RESISTS = "insulation-resists";
    /// Diameter over the insulation, metre.
    OUTSIDE_DIAMETER = "outside-diameter";
    /// Diameter over the sheath, metre.
    SHEATH_DIAMETER = "sheath-diameter";
    /// In a sleeve of its own.
    SLEEVED = "sleeved";
    /// Temperature class of the sleeve, degree Celsius.
    SLEEVE_TEMPERATURE = "sleeve-temperature";
    /// Voltage class of the sleeve, volt.
    SLEEVE_VOLTAGE = "sleeve-voltage";
    /// Twisted with its return.
    TWISTED = "twisted";
    /// Inside a screen.
    SCREENED = "screened";
    /// The core is the screen itself.
    SCREEN = "screen";
    /// At which ends the screen is joined.
    SCREEN_JOINED = "screen-joined";
    /// Layers on a drum.
    DRUM_LAYERS = "drum-layers";
    /// What a wire carries where its ends do not tell.
    CARRIES = "carries";
    /// The one joint on purpose of what is otherwise apart.
    BOND = "bond";
    /// A jumper for tests and bring-up.
    BYPASS = "bypass";
    /// Both ends carry a label.
    LABELLED = "labelled";
    /// Shares a ferrule with another wire.
    DOUBLE_FERRULE = "double-ferrule";
    /// Passes no shunt on purpose.
    UNMETERED = "unmetered";
    /// A short bus with one terminating resistor.
    ENDED_ONCE = "ended-once";
    /// A ribbon cable.
    RIBBON = "ribbon";
    /// Joins connectors that are not made for each other.
    ADAPTER = "adapter";
    // Places and the robot
    /// Water gets there.
    WET = "wet";
    /// A closed box.
    ENCLOSURE = "enclosure";
    /// Closed and of insulating material.
    DOUBLE_INSULATED = "double-insulated";
    /// Nobody can touch it while powered.
    OUT_OF_REACH = "out-of-reach";
    /// What wears insulation there.
    EXPOSED_TO = "exposed-to";
    /// Smallest bending radius, metre.
    BEND_RADIUS = "bend-radius";
    /// Length over which wires twist, metre.
    TWIST_LENGTH = "twist-length";
    /// Turns of a joint to each side.
    TURNS = "turns";
    /// A joint that turns on and on.
    CONTINUOUS_ROTATION = "continuous-rotation";
    /// Movements over the life.
    FLEX_CYCLES = "flex-cycles";
    /// Edges without grommet.
    BARE_EDGES = "bare-edges";
    /// Distance between supports, metre.
    SUPPORT_SPACING = "support-spacing";
    /// Wires hang in a loop so that water drips off.
    DRIP_LOOP = "drip-loop";
    /// The fan that cools it.
    COOLED_BY = "cooled-by";
    /// What switches off when it gets too hot.
    HEAT_CUTOFF_BY = "heat-cutoff-by";
    /// Colours that mean positive.
    POSITIVE_COLOURS = "positive-colours";
    /// Colours that mean negative.
    NEGATIVE_COLOURS = "negative-colours";
    /// How far the robot has come.
    STAGE = "stage";
    /// Everything may go off on any fault.
    ALL_OFF_ON_FAULT = "all-off-on-fault";
    /// Everything may go off on a stop.
    ALL_OFF_ON_STOP = "all-off-on-stop";
    /// The insulation is watched.
    INSULATION_MONITOR = "insulation-monitor";
    /// Nobody can come within reach.
    FENCED = "fenced";
    /// Somebody stands by.
    ATTENDED = "attended";
    /// How many people stand by.
    ATTENDANTS = "attendants";
    /// No spare contacts and conductors on purpose.
    WITHOUT_SPARES = "without-spares";
    /// Air temperature, degree Celsius, a range.
    AMBIENT = "ambient";
    /// A joint moves here.
    MOVING = "moving";
    /// No air exchange; of a joint or connector: water cannot get in.
    SEALED = "sealed";
    /// Basis for ampacity and protection.
    PROFILE = "profile";
    // Modes
    /// Share of the time that loads draw their figure, a share.
    DUTY = "duty";
    /// Share of a working day that is spent in a mode, a share.
    SHARE = "share";
    /// What moves is free of load.
    UNLOADED = "unloaded";
    /// How long a mode lasts, second.
    LASTS = "lasts";
    // Groups and ports
    /// How many members of a group work at once.
    SIMULTANEITY = "simultaneity";
    /// What a signal terminal is.
    PORT = "port";
    /// Whether a signal comes in or goes out.
    DIRECTION = "direction";
    /// A resistor that holds a signal line at a level, or ends it.
    PULL = "pull";
    /// Clock or bit rate of a bus, hertz.
    BUS_SPEED = "bus-speed";
    /// A line driver for long lines.
    BUFFERED = "buffered";
    /// A pull that is there from reset on.
    FROM_RESET = "from-reset";
    /// Finds out the polarity of a pair by itself.
    EITHER_POLARITY = "either-polarity";
    /// A broken line does no harm.
    LOSS_HARMLESS = "loss-harmless";
    // Connectors
    /// Series or type of a connector.
    FAMILY = "family";
    /// Nothing is live in it when the halves are apart.
    DEAD_WHEN_APART = "dead-when-apart";
    /// What has to be joined before it and parted after it.
    INTERLOCKED_WITH = "interlocked-with";
    /// Ways that make first and part last.
    MATES_FIRST = "mates-first";
    /// Resistance through which it makes at first, ohm.
    ANTI_SPARK = "anti-spark";
    /// Joined with nothing on purpose.
    UNMATED = "unmated";
    /// Closed by a cap while apart.
    CAPPED = "capped";
    /// Fits both ways round with the same result.
    SYMMETRICAL = "symmetrical";
    /// May change places with its neighbours.
    INTERCHANGEABLE = "interchangeable";
    /// Walls between the ways.
    BARRIERS = "barriers";
    /// Potted.
    POTTED = "potted";
    /// How many ways loaded at once the current figure holds for.
    LOADED_WAYS = "loaded-ways";
    /// Conductor size for which the current figures hold, square millimetre.
    RATED_WIRE_SIZE = "rated-wire-size";
    /// Air temperature for which the current figures hold, degree Celsius.
    RATED_AMBIENT = "rated-ambient";
    /// Insulation diameters that the seal takes, metre, a range.
    SEAL_SIZE = "seal-size";
    /// Strandings that the contact takes.
    TAKES_STRANDS = "takes-strands";
    /// Conductors that one contact or stud takes.
    WIRES_PER_WAY = "wires-per-way";
    /// How a terminal holds its wire.
    CONNECTION = "connection";
    /// Torque of a nut or screw, newton metre.
    TIGHTENING_TORQUE = "tightening-torque";
    /// Kept from working loose.
    LOCKED = "locked";
    /// The day of a repair.
    REPAIRED = "repaired";
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
    /// Where the figures come from.
    SOURCE = "source";
    /// Figures of its sort, not of this part.
    GENERIC = "generic";
    /// Why an unusual figure is right.
    CONFIRMED = "confirmed";
    /// Another name of it.
    ALSO_CALLED = "also-called";
    /// The day of the last comparison with the robot.
    VERIFIED = "verified";
    /// The last day on which it may be used.
    UNTIL = "until";
    /// Not wired on purpose.
    UNWIRED = "unwired";
    /// In stock.
    ON_HAND = "on-hand";
    /// Time between services, second.
    SERVICE_INTERVAL = "service-interval";
    /// What the number is worth: continuous, peak, advertised.
    BASIS = "basis";
    /// The group this thing belongs to; a mode may name the group instead of each thing.
    GROUP = "group";
}
