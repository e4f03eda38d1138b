//! Networks whose answers are printed in textbooks; `data/published/README.md` names the sources.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test stops where it fails")]

use std::collections::BTreeMap;

use serde_json::Value;
use wattle_grammar::quantity::{Amps, Ohms, Volts};
use wattle_linter::network::{Element, Law, Network, NodeId, Working, solve};

const FILE: &str = include_str!("../data/published/networks.json");

#[test]
fn all_published_networks_come_out_as_printed() {
    let file: Value = serde_json::from_str(FILE).unwrap();
    let networks = file["networks"].as_array().unwrap();
    let checks: usize = networks.iter().map(|entry| check(&Case::read(entry), entry)).sum();
    assert_eq!(networks.len(), 34);
    assert_eq!(checks, 115);
}

/// Checks every expectation of a network; returns their number.
fn check(case: &Case, entry: &Value) -> usize {
    let expectations = entry["expect"].as_array().unwrap();
    for expected in expectations {
        let (printed, figures) = case.figures(expected);
        let tolerance = expected["tolerance"].as_f64().unwrap();
        assert!(!figures.is_empty(), "{}: nothing to compare with {expected}", entry["id"]);
        for figure in figures {
            let off = (figure - printed).abs();
            assert!(off <= tolerance, "{}: {figure} but printed is {expected}", entry["id"]);
        }
    }
    expectations.len()
}

/// A published network, solved.
struct Case {
    nodes: BTreeMap<String, NodeId>,
    names: BTreeMap<String, usize>,
    kinds: Vec<String>,
    network: Network,
    working: Working,
}

impl Case {
    fn read(entry: &Value) -> Self {
        let mut nodes = BTreeMap::from([(text(entry, "reference_node"), NodeId(0))]);
        let mut names = BTreeMap::new();
        let mut kinds = Vec::new();
        let mut network = Network::default();
        for (number, element) in entry["elements"].as_array().unwrap().iter().enumerate() {
            names.insert(text(element, "name"), number);
            kinds.push(text(element, "kind"));
            network.elements.push(read_element(element, &mut nodes));
        }
        network.nodes = nodes.len() as u32;
        let working = solve(&network, None).unwrap();
        Self { nodes, names, kinds, network, working }
    }

    /// The printed figure, and the solved ones to compare it with.
    fn figures(&self, expected: &Value) -> (f64, Vec<f64>) {
        let element = || self.names[&text(expected, "element")];
        let number = |key: &str| expected[key].as_f64().unwrap();
        match expected["quantity"].as_str().unwrap() {
            "node_voltage" => (number("volt"), vec![self.volts(self.nodes[&text(expected, "node")])]),
            "element_current" => {
                (number("ampere"), vec![self.current(element(), &text(expected, "direction"))])
            }
            "element_voltage_magnitude" => (number("volt"), vec![self.across(element()).abs()]),
            "element_power" => (number("watt"), vec![self.power(element()).abs()]),
            "total_resistor_power" => {
                (number("watt"), vec![self.of_kind("resistor").map(|e| self.power(e)).sum()])
            }
            "terminal_voltage_each_cell" => {
                (number("volt"), self.of_kind("voltage_source").map(|e| self.cell_voltage(e)).collect())
            }
            other => panic!("unknown quantity {other}"),
        }
    }

    fn of_kind(&self, kind: &str) -> impl Iterator<Item = usize> {
        (0..self.kinds.len()).filter(move |&number| self.kinds[number] == kind)
    }

    fn volts(&self, node: NodeId) -> f64 {
        self.working.volts[node.0 as usize]
    }

    fn across(&self, number: usize) -> f64 {
        let element = &self.network.elements[number];
        self.volts(element.a) - self.volts(element.b)
    }

    fn power(&self, number: usize) -> f64 {
        self.across(number) * self.working.amps[number]
    }

    /// The current of an element in a printed direction: `x->y` names its nodes, `delivered` is out of the plus pole.
    fn current(&self, number: usize, direction: &str) -> f64 {
        let amps = self.working.amps[number];
        let element = &self.network.elements[number];
        match direction.split_once("->") {
            None if direction == "delivered" => -amps,
            Some(("anode", "cathode")) => amps,
            Some((from, to)) if (self.nodes[from], self.nodes[to]) == (element.a, element.b) => amps,
            Some((from, to)) if (self.nodes[from], self.nodes[to]) == (element.b, element.a) => -amps,
            _ => panic!("unknown direction {direction}"),
        }
    }

    /// The voltage of a cell behind the internal resistance at its plus pole.
    fn cell_voltage(&self, number: usize) -> f64 {
        let source = &self.network.elements[number];
        let is_internal = |e: &&Element| matches!(e.law, Law::Resistor(_)) && e.a == source.a;
        let internal = self.network.elements.iter().find(is_internal).unwrap();
        self.volts(internal.b) - self.volts(source.b)
    }
}

fn text(value: &Value, key: &str) -> String {
    value[key].as_str().unwrap_or_else(|| panic!("{key} is missing in {value}")).to_owned()
}

fn read_element(element: &Value, nodes: &mut BTreeMap<String, NodeId>) -> Element {
    let mut node = |key: &str| {
        let next = NodeId(nodes.len() as u32);
        *nodes.entry(text(element, key)).or_insert(next)
    };
    let number = |key: &str| element[key].as_f64().unwrap();
    let ideal = |volts: f64| Law::Source { emf: Volts(volts), resistance: Ohms(0.0) };
    let (a, b, law) = match element["kind"].as_str().unwrap() {
        "resistor" => (node("a"), node("b"), Law::Resistor(Ohms(number("ohm")))),
        "voltage_source" => (node("plus"), node("minus"), ideal(number("volt"))),
        "constant_drop_conducting" => (node("anode"), node("cathode"), ideal(number("volt"))),
        "current_source" => (node("from"), node("to"), Law::Current(Amps(number("ampere")))),
        other => panic!("unknown kind {other}"),
    };
    Element { a, b, law }
}
