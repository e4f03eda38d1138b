//! Wires, harnesses and cables: ends, size, colour, length, and what a harness gives its wires.

use wattle_grammar::{
    kind::{Rating, key, setting},
    quantity::{Amps, Celsius, Dimension, Metres, Ohms, SquareMm},
    span::Span,
    syntax,
    unit::nearest_awg,
};

use super::{
    Harness, HarnessId, Origin, PlaceId, Rated, RatedValue, SpareCore, TerminalId, Wire, WireId, WireSize,
    facts::{find, flag, quantity, word},
    gather::{Gathered, Written},
    lower::Lowering,
    rows::{Noun, Rows},
    sheet::{Declared, Sheet, WireSeed},
    slip,
    things::default,
};

const WIRE: Rows = Rows { noun: Noun("wire"), own: setting::WIRE, common: &[] };
const HARNESS: Rows = Rows { noun: Noun("harness"), own: setting::HARNESS, common: &[] };

impl<'a> Lowering<'a> {
    /// Makes the harnesses and cables, without their wires.
    pub(super) fn harnesses(&mut self, sheet: &Sheet<'a>) {
        for declared in &sheet.harnesses {
            let statement = declared.statement;
            let gathered = self.gather(declared.scope, HARNESS, &statement.values, &statement.settings);
            let place = match &statement.at {
                Some(at) => self.place(at),
                None => self.scope(declared.scope).place,
            };
            for (name, span) in &declared.names {
                let spares = self.spares(declared, name, &gathered);
                self.design.harnesses.push(Harness {
                    name: name.clone(),
                    span: *span,
                    cable: &*statement.word.text == "cable",
                    place,
                    bundle: gathered.count(key::BUNDLE),
                    wires: Vec::new(),
                    spares,
                    facts: gathered.rated(Origin::Thing),
                });
            }
            self.harness_says.push(gathered);
        }
    }

    /// The conductors of a harness that are not used.
    fn spares(
        &mut self,
        declared: &Declared<'a, syntax::Harness>,
        harness: &str,
        given: &Gathered,
    ) -> Vec<SpareCore> {
        let mut spares = Vec::new();
        for spare in &declared.statement.spares {
            let own = self.gather(declared.scope, WIRE, &spare.values, &spare.settings);
            let name = format!("{harness}.{}", spare.name.text);
            spares.push(SpareCore {
                name,
                span: spare.name.span,
                facts: facts(&own, [given, &self.robot_says]),
            });
        }
        spares
    }

    /// Makes the wires. One with an end that leads nowhere is left out.
    pub(super) fn wires(&mut self, sheet: &Sheet<'a>) {
        self.design.wires.reserve(sheet.wires.len());
        for seed in &sheet.wires {
            self.wire(seed);
        }
    }

    fn wire(&mut self, seed: &WireSeed<'a>) {
        let statement = seed.statement;
        let gathered = self.gather(seed.scope, WIRE, &statement.values, &statement.settings);
        let own_place = statement.at.as_ref().and_then(|at| self.place(at));
        let harness = seed.harness.and_then(|id| self.design.harnesses.get(id.index()));
        let place = own_place.or(harness.and_then(|harness| harness.place)).or(self.scope(seed.scope).place);
        let cable = harness.is_some_and(|harness| harness.cable);
        let from = self.end(seed.scope, &statement.from);
        let to = self.end(seed.scope, &statement.to);
        let (Some(from), Some(to)) = (from, to) else { return };
        let says = seed.harness.and_then(|id| self.harness_says.get(id.index()));
        let nothing = Gathered::default();
        let mut facts = facts(&gathered, [says.unwrap_or(&nothing), &self.robot_says]);
        self.refer(seed, &mut facts);
        let size = find(&facts, key::SIZE).and_then(size).map(|size| self.as_written(size));
        let length = find(&facts, key::LENGTH);
        let wire = Wire {
            name: seed.name.clone(),
            span: statement.name.span,
            statement: statement.span,
            from: (from, statement.from.span),
            to: (to, statement.to.span),
            size,
            length: length.and_then(quantity::<Metres>),
            length_span: length.and_then(span_of),
            colour: find(&facts, key::COLOUR).and_then(word).map(str::to_owned),
            insulation: find(&facts, key::INSULATION)
                .and_then(quantity::<Celsius>)
                .or_else(|| self.robot_says.quantity(key::INSULATION)),
            place,
            harness: seed.harness,
            sheathed: flag(&facts, key::SHEATHED).unwrap_or(cable || self.is_boxed(place, from, to)),
            supplied_tail: flag(&facts, key::SUPPLIED_TAIL).unwrap_or(false),
            bundle: gathered.count(key::BUNDLE),
            current_limit: gathered.get(key::CURRENT_LIMIT).and_then(limit),
            spare: flag(&facts, key::SPARE).unwrap_or(false),
            resistance: find(&facts, key::RESISTANCE).and_then(quantity::<Ohms>),
            parallel_by_intent: flag(&facts, key::PARALLEL_BY_INTENT).unwrap_or(false),
            aluminium: find(&facts, key::MATERIAL).and_then(word).is_some_and(|it| it.ends_with("aluminium")),
            facts,
        };
        self.add_wire(wire, seed.harness);
    }

    /// The size with its digits as the text has them: `0.50 mm²` is not `0.5 mm²` for its reader.
    fn as_written(&self, size: WireSize) -> WireSize {
        match slip::taken_apart(self.text(size.span)) {
            Some((number, unit)) => WireSize { written: format!("{number} {}", unit.symbol), ..size },
            None => size,
        }
    }

    fn add_wire(&mut self, wire: Wire, harness: Option<HarnessId>) {
        let id = WireId(u32::try_from(self.design.wires.len()).unwrap_or(u32::MAX));
        if let Some(harness) = harness.and_then(|id| self.design.harnesses.get_mut(id.index())) {
            harness.wires.push(id);
        }
        self.design.wires.push(wire);
    }

    /// Whether a wire lies in a closed box between two things in that box.
    fn is_boxed(&self, place: Option<PlaceId>, from: TerminalId, to: TerminalId) -> bool {
        let Some(id) = place else { return false };
        let stands = |terminal: TerminalId| {
            let thing = self.design.terminals.get(terminal.index()).map(|terminal| terminal.thing);
            thing.and_then(|thing| self.design.things.get(thing.index())).and_then(|thing| thing.place)
        };
        let closed = self.design.places.get(id.index()).and_then(|place| flag(&place.facts, key::ENCLOSURE))
            == Some(true);
        closed && stands(from) == Some(id) && stands(to) == Some(id)
    }

    /// What `limited-by` means.
    fn refer(&mut self, seed: &WireSeed<'_>, facts: &mut [Rated]) {
        for rated in facts {
            if let (RatedValue::Reference(name), Origin::Thing(span)) = (&rated.value, &rated.origin)
                && let Some(full) = self.reference(seed.scope, name, *span)
            {
                rated.value = RatedValue::Reference(full);
            }
        }
    }
}

/// What the robot can say for all its wires; its `insulation` is looked for by itself, since places and the report know it as
/// the robot's.
const OF_ROBOT: [&str; 4] = [key::MATERIAL, key::STRANDS, key::INSULATION_VOLTAGE, key::INSULATION_RESISTS];

/// What is written on a wire, else on its harness, else on the robot, else the table's word on the metal; in table order.
fn facts(own: &Gathered, [harness, robot]: [&Gathered; 2]) -> Vec<Rated> {
    let of = |row: &'static Rating| {
        if let Some(written) = own.get(row.key) {
            return Some(written.rated(Origin::Thing));
        }
        // A stated bundle belongs to the harness itself, where each wire finds it.
        let given = Some(harness).filter(|_| row.key != key::BUNDLE).and_then(|harness| harness.get(row.key));
        let given = given.map(|written| written.rated(Origin::Harness));
        let of_robot = || robot.get(row.key).filter(|_| OF_ROBOT.contains(&row.key));
        given
            .or_else(|| of_robot().map(|written| written.rated(Origin::Robot)))
            .or_else(|| (row.key == key::MATERIAL).then(|| default(row)).flatten())
    };
    WIRE.all().filter_map(of).collect()
}

/// A conductor size; a gauge is written as a gauge, whatever stood in the text (a constant, perhaps).
fn size(rated: &Rated) -> Option<WireSize> {
    let RatedValue::Quantity(found) = &rated.value else { return None };
    let gauge = if found.unit == "AWG" { nearest_awg(found.value) } else { None };
    let awg = gauge.is_some();
    let written = gauge.map_or_else(|| SquareMm(found.value).to_string(), |number| format!("{number} AWG"));
    Some(WireSize { area: SquareMm(found.value), written, awg, span: span_of(rated)? })
}

fn span_of(rated: &Rated) -> Option<Span> {
    match rated.origin {
        Origin::Thing(span) | Origin::Part(span) | Origin::Harness(span) | Origin::Robot(span) => Some(span),
        Origin::Default(_) => None,
    }
}

fn limit(written: &Written) -> Option<(Amps, Span)> {
    match &written.value {
        RatedValue::Quantity(found) if found.dimension == Dimension::Current => {
            Some((Amps(found.value), written.span))
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{design, errors};

    use wattle_grammar::kind::key;

    use super::super::Origin;

    #[test]
    fn size_colour_and_length_stand_on_the_line() {
        let design = design("stud A\nstud B\nwire W A to B 12 AWG red/white 350 mm { current-limit 2 A }\n");
        let wire = &design.wires[0];
        let size = wire.size.as_ref().unwrap();
        // 12 AWG is 3.31 mm² (ASTM B258).
        assert!((size.area.0 - 3.31).abs() < 0.005 && size.awg);
        assert_eq!(size.written, "12 AWG");
        let sizes = super::super::testing::design(
            "let THIN = 0.5 mm2\nstud A\nwire V A to A 0.50mm2\nwire W A to A AWG 2/0\nwire X A to A THIN\n",
        );
        let written: Vec<_> =
            sizes.wires.iter().map(|wire| wire.size.as_ref().unwrap().written.as_str()).collect();
        assert_eq!(written, ["0.50 mm²", "2/0 AWG", "0.5 mm²"]);
        assert_eq!(wire.length.map(|length| length.0), Some(0.35));
        assert_eq!(wire.colour.as_deref(), Some("red/white"));
        assert_eq!(wire.current_limit.map(|(current, _)| current.0), Some(2.0));
    }

    #[test]
    fn a_harness_gives_what_its_wires_do_not_say() {
        let design = design(
            "robot \"R\" { insulation 90 degC }\nplace neck\nplug P 3 way\nstud A\nstud B\n\
             harness H 20 AWG 1.2 m at neck { X P.1 to A red; Y P.2 to A black 400 mm { bundle 2 } }\n\
             cable C 0.5 mm² { insulation 105 degC; 1 P.3 to B brown }\nwire W A to B\n",
        );
        let [x, y, core, plain] = design.wires.as_slice() else { panic!("four wires") };
        assert_eq!((x.name.as_str(), core.name.as_str()), ("H.X", "C.1"));
        assert_eq!((x.length.map(|l| l.0), y.length.map(|l| l.0)), (Some(1.2), Some(0.4)));
        assert_eq!(x.place.map(|place| place.index()), Some(0));
        assert_eq!((y.bundle, x.bundle), (Some(2), None));
        let size = x.facts.iter().find(|rated| rated.key == key::SIZE).unwrap();
        assert!(matches!(size.origin, Origin::Harness(_)));
        assert_eq!(core.insulation.map(|class| class.0), Some(105.0));
        assert_eq!(plain.insulation.map(|class| class.0), Some(90.0));
        assert!(core.sheathed && !x.sheathed);
        assert_eq!(design.harnesses[0].wires.len(), 2);
        assert!(design.harnesses[1].cable);
    }

    #[test]
    fn what_lies_in_a_closed_box_is_sheathed_unless_it_says_otherwise() {
        let design = design(
            "place tray { enclosure }\nplace hall\nstud A at tray\nstud B at tray\nstud C at hall\nstud D\n\
             wire IN A to B at tray\nwire OUT A to C at tray\nwire SIDE A to D at tray\nwire ROUND A to B\n\
             wire BARE A to B at tray { not sheathed }\n",
        );
        let sheathed: Vec<(&str, bool)> =
            design.wires.iter().map(|wire| (wire.name.as_str(), wire.sheathed)).collect();
        assert_eq!(
            sheathed,
            [("IN", true), ("OUT", false), ("SIDE", false), ("ROUND", false), ("BARE", false)]
        );
    }

    #[test]
    fn a_harness_keeps_what_is_true_of_it_as_a_whole() {
        let design = design(
            "plug P 2 way\nplug Q 2 way\nharness H 20 AWG crossover twisted estimated {\n sheath-diameter 8 mm\n\
             X P.1 to Q.2 bond\n}\n",
        );
        let of_wire = |key| super::find(&design.wires[0].facts, key);
        let of_harness = |key| super::find(&design.harnesses[0].facts, key);
        assert!(of_harness(key::CROSSOVER).is_some() && of_harness(key::SHEATH_DIAMETER).is_some());
        assert!(of_wire(key::CROSSOVER).is_none() && of_wire(key::SHEATH_DIAMETER).is_none());
        assert_eq!(super::flag(&design.wires[0].facts, key::TWISTED), Some(true));
        assert_eq!(super::flag(&design.wires[0].facts, key::BOND), Some(true));
        assert_eq!(of_wire(key::LENGTH_BASIS).and_then(super::word), Some("estimated"));
    }

    #[test]
    fn the_robot_says_what_neither_a_wire_nor_its_harness_says() {
        let design = design(
            "robot \"R\" {\n material tinned-copper\n strands fine\n insulation-voltage 600 V\n insulation-resists oil\n \
             attendants 2\n dead-within 60 s\n}\nplug P 2 way\nstud A\nstud B\n\
             harness H 20 AWG extra-fine { X P.1 to A red; Y P.2 to A black solid }\nwire W A to B { material copper }\n",
        );
        let says = |wire: usize, key| super::find(&design.wires[wire].facts, key);
        let words = |key| [0, 1, 2].map(|wire| says(wire, key).and_then(super::word));
        assert_eq!(words(key::MATERIAL), [Some("tinned-copper"), Some("tinned-copper"), Some("copper")]);
        assert_eq!(words(key::STRANDS), [Some("extra-fine"), Some("solid"), Some("fine")]);
        assert!((0..3).all(|wire| says(wire, key::INSULATION_RESISTS).is_some()));
        assert!(matches!(says(0, key::INSULATION_VOLTAGE).unwrap().origin, Origin::Robot(_)));
        assert!((0..3).all(|wire| says(wire, key::ATTENDANTS).or(says(wire, key::DEAD_WITHIN)).is_none()));
    }

    #[test]
    fn a_wire_that_leads_nowhere_is_left_out_and_its_name_kept() {
        let found = errors("stud A\nwire W A to B\nreading 1 A through W\naccept a.b on W because \"x\"\n");
        assert_eq!(found, ["unknown-name: nothing is named `B`"]);
    }
}
