//! What is joined to what, kind by kind.

use wattle_grammar::{kind::key, quantity::Ohms};

use super::*;
use crate::{
    design::WireId,
    sample::{N, Sample, W, Yes},
};

fn natures(sample: &Sample, name: &str) -> Vec<Nature> {
    let topology = Topology::build(&sample.design);
    topology.inside(sample.named(name)).map(|(_, link)| link.nature).collect()
}

/// Whether two terminals are one node.
fn joined(sample: &Sample, first: &str, second: &str) -> bool {
    let topology = Topology::build(&sample.design);
    topology.node(sample.at(first)) == topology.node(sample.at(second))
}

#[test]
fn links_of_wires_come_first_and_carry_their_numbers() {
    let mut sample = Sample::default();
    sample.thing("battery", "PACK", &[]);
    sample.thing("light", "L", &[]);
    sample.thing("plug", "P", &[(key::WAYS, N(3.0))]);
    sample.thing("socket", "J", &[(key::WAYS, N(3.0))]);
    sample.mate("P", "J");
    sample.wire("PACK.pos", "P.1", 1.0, 1.0);
    sample.wire("J.1", "L.pos", 1.0, 1.0);
    let topology = Topology::build(&sample.design);
    let owners: Vec<Owner> = topology.links.iter().map(|link| link.owner).collect();
    assert_eq!(owners[..2], [Owner::Wire(WireId(0)), Owner::Wire(WireId(1))]);
    let mate = MateId(0);
    assert_eq!(owners[2..5], [1, 2, 3].map(|way| Owner::MatedWay(mate, way)));
    assert_eq!(owners[5..], [Owner::Thing(ThingId(0), 0), Owner::Thing(ThingId(1), 0)]);
    assert_eq!(topology.links_at[topology.links[0].a.0 as usize], [LinkId(0), LinkId(5)]);
}

#[test]
fn ties_bars_splices_and_seats_are_one_node() {
    let mut sample = Sample::default();
    sample.thing("block", "BUS", &[(key::WAYS, N(4.0))]);
    sample.thing("fuse", "F", &[(key::CURRENT, N(40.0))]);
    sample.thing("stud", "GND", &[]);
    sample.thing("light", "L", &[]);
    sample.design.things[1].on = Some(sample.named("BUS"));
    let stud = sample.design.terminals_of(sample.named("GND")).next().unwrap().1.name.clone();
    sample.tie(&["L.neg", &format!("GND.{stud}")]);
    assert!(joined(&sample, "BUS.in", "BUS.4") && joined(&sample, "F.line", "BUS.2"));
    assert!(!joined(&sample, "F.load", "BUS.2"));
    assert!(joined(&sample, "L.neg", &format!("GND.{stud}")));
}

#[test]
fn voltages_are_against_the_negative_pole_of_the_first_source() {
    let mut sample = Sample::default();
    sample.thing("light", "L", &[]);
    sample.thing("battery", "PACK", &[]);
    let topology = Topology::build(&sample.design);
    assert_eq!(topology.node(sample.at("PACK.neg")), Some(NodeId(0)));
}

#[test]
fn a_pack_with_taps_has_a_segment_for_each_cell() {
    let mut sample = Sample::default();
    sample.thing("battery", "PACK", &[(key::CELLS, N(3.0)), (key::TAPS, Yes)]);
    assert_eq!(natures(&sample, "PACK"), [Nature::Cells { cells: 1, of: 3 }; 3]);
    assert!(joined(&sample, "PACK.t0", "PACK.neg") && joined(&sample, "PACK.t3", "PACK.pos"));
    let topology = Topology::build(&sample.design);
    let top = topology.inside(sample.named("PACK")).last().unwrap().1;
    let ends = ["PACK.t3", "PACK.t2"].map(|path| topology.node(sample.at(path)));
    assert_eq!([Some(top.a), Some(top.b)], ends);
}

#[test]
fn a_fuse_inside_the_pack_is_behind_the_taps() {
    let mut sample = Sample::default();
    let ratings = || [(key::CELLS, N(2.0)), (key::TAPS, Yes), (key::BUILT_IN_FUSE, N(30.0))];
    sample.thing("battery", "TAPPED", &ratings());
    sample.thing("battery", "PLAIN", &[(key::CELLS, N(2.0)), (key::BUILT_IN_FUSE, N(30.0))]);
    let fuse = Nature::Protective { rated: Some(Amps(30.0)) };
    assert_eq!(natures(&sample, "TAPPED").last(), Some(&fuse));
    assert!(!joined(&sample, "TAPPED.t2", "TAPPED.pos"));
    assert_eq!(natures(&sample, "PLAIN"), [Nature::Cells { cells: 2, of: 2 }, fuse]);
    let topology = Topology::build(&sample.design);
    // The node between cells and fuse shows at no terminal.
    assert_eq!(
        topology.nodes as usize,
        topology.node_of.iter().map(|node| node.0).max().unwrap() as usize + 2
    );
}

#[test]
fn a_relay_has_a_coil_and_change_over_contacts() {
    let mut sample = Sample::default();
    let ratings = [
        (key::COIL_VOLTAGE, N(24.0)),
        (key::COIL, N(0.1)),
        (key::POLES, N(2.0)),
        (key::SUPPRESSION, W("diode")),
    ];
    sample.thing("relay", "K", &ratings);
    let coil = LinkId(0);
    let contact = |normally_closed| Nature::CoilContact { normally_closed, coil };
    let expected = [
        Nature::Coil(Ohms(240.0)),
        Nature::Diode,
        contact(true),
        contact(false),
        contact(true),
        contact(false),
    ];
    assert_eq!(natures(&sample, "K"), expected);
    let topology = Topology::build(&sample.design);
    let diode = topology.link(LinkId(1)).unwrap();
    assert_eq!(Some(diode.a), topology.node(sample.at("K.A2")), "it blocks the coil's own current");
    assert_eq!(topology.coil(sample.named("K")), Some(coil));
}

#[test]
fn a_contactor_has_main_contacts_and_two_auxiliary_ones() {
    let mut sample = Sample::default();
    sample.thing(
        "contactor",
        "K",
        &[(key::COIL_VOLTAGE, N(24.0)), (key::COIL, N(0.35)), (key::POLES, N(2.0))],
    );
    let topology = Topology::build(&sample.design);
    let ends: Vec<_> = topology.inside(sample.named("K")).skip(1).map(|(_, link)| [link.a, link.b]).collect();
    let expected = [["K.1", "K.2"], ["K.3", "K.4"], ["K.13", "K.14"], ["K.21", "K.22"]];
    let expected = expected.map(|pair| pair.map(|path| topology.node(sample.at(path)).unwrap()));
    assert_eq!(ends, expected);
    let breaks: Vec<_> = topology
        .inside(sample.named("K"))
        .filter(|(_, link)| matches!(link.nature, Nature::CoilContact { normally_closed: true, .. }))
        .collect();
    assert_eq!(breaks.len(), 1, "only the last one breaks");
}

#[test]
fn a_driver_has_four_freewheel_diodes_a_channel() {
    let mut sample = Sample::default();
    sample.thing("driver", "D", &[(key::CHANNELS, N(2.0))]);
    let mut expected = vec![Nature::DriverInput];
    for _ in 0..2 {
        expected.push(Nature::BridgeOutput);
        expected.extend([Nature::BridgeDiode; 4]);
    }
    assert_eq!(natures(&sample, "D"), expected);
    let topology = Topology::build(&sample.design);
    let diodes: Vec<_> =
        topology.inside(sample.named("D")).skip(2).take(4).map(|(_, link)| [link.a, link.b]).collect();
    let expected = [["D.m1a", "D.pos"], ["D.m1b", "D.pos"], ["D.neg", "D.m1a"], ["D.neg", "D.m1b"]];
    assert_eq!(diodes, expected.map(|pair| pair.map(|path| topology.node(sample.at(path)).unwrap())));
}

#[test]
fn an_isolated_regulator_joins_no_negatives() {
    let mut sample = Sample::default();
    sample.thing("regulator", "R", &[(key::OUTPUT, N(5.0))]);
    sample.thing("regulator", "I", &[(key::OUTPUT, N(5.0)), (key::ISOLATED, Yes)]);
    let both = [Nature::ConverterInput, Nature::ConverterOutput];
    assert_eq!(natures(&sample, "R"), [both[0], both[1], Nature::ConverterGround]);
    assert_eq!(natures(&sample, "I"), both);
}

#[test]
fn sense_terminals_of_a_shunt_are_its_main_terminals() {
    let mut sample = Sample::default();
    sample.thing("shunt", "SH", &[(key::CURRENT, N(100.0)), (key::DROP, N(0.075))]);
    assert_eq!(natures(&sample, "SH"), [Nature::Shunt(Ohms(0.075 / 100.0))]);
    assert!(joined(&sample, "SH.s1", "SH.1") && joined(&sample, "SH.s2", "SH.2"));
}

#[test]
fn switches_stops_and_slip_rings_have_a_link_for_each_pole() {
    let mut sample = Sample::default();
    sample.thing("switch", "S", &[(key::POLES, N(2.0)), (key::CONTACT, W("break"))]);
    sample.thing("stop", "E", &[(key::POLES, N(2.0))]);
    sample.thing("slip-ring", "R", &[(key::WAYS, N(3.0))]);
    let breaks = Nature::HandContact { breaks: true };
    assert_eq!(natures(&sample, "S"), [breaks; 2]);
    assert_eq!(natures(&sample, "E"), [breaks; 2]);
    assert_eq!(natures(&sample, "R"), [Nature::Mated; 3]);
}

#[test]
fn an_isolator_joins_nothing_and_a_stop_by_radio_has_a_receiver() {
    let mut sample = Sample::default();
    sample.thing("signal-isolator", "I", &[]);
    sample.thing("stop", "S", &[(key::BY_RADIO, Yes)]);
    let topology = Topology::build(&sample.design);
    let ends: Vec<_> = topology.inside(sample.named("I")).map(|(_, link)| [link.a, link.b]).collect();
    let sides = [["I.pos1", "I.neg1"], ["I.pos2", "I.neg2"]];
    assert_eq!(ends, sides.map(|side| side.map(|path| topology.node(sample.at(path)).unwrap())));
    assert_eq!(natures(&sample, "S"), [Nature::HandContact { breaks: true }, Nature::Load]);
}
