//! The figures of a small robot against what comes out on paper, and what holds for every form.

use std::path::Path;

use crate::{
    analysis::{self, Analysis},
    explained::{Amount, Input},
    physics::{conductor, heat},
    project::{self, Loader},
};

use super::{Account, Entry, Section, View, subject, tree::Part, what};

/// A pack, a fuse block, a lamp that works for half of the time, and five volts for a controller.
const ROBOT: &str = r#"wattle 1
robot "Lamp" { ambient 5 degC .. 30 degC; insulation 90 degC }
place hot { ambient 20 degC .. 45 degC }
battery PACK { chemistry lipo; cells 4S; capacity 5 Ah; resistance 10 mohm }
fuse F1 10 A blade
block BUS 4 way 40 A
block NEG 6 way 40 A
fuse F2 5 A blade on BUS
fuse F3 5 A blade on BUS
switch S1 10 A
light LAMP 12 V { typical 2 A; supply 10 V .. 18 V }
regulator REG 5 V 3 A buck { supply 8 V .. 24 V; efficiency 100 % }
controller CTRL 4.5 V .. 5.5 V { typical 1 A; idle 1 A; signals 2 }
tie PACK.pos to F1.line
wire W1 F1.load to S1.1 12 AWG red 500 mm
wire W2 S1.2 to BUS.in 12 AWG red 500 mm
wire W3 F2.load to LAMP.pos 18 AWG red 1 m { insulation 105 degC }
wire W4 LAMP.neg to NEG.1 18 AWG black 1 m
wire W5 F3.load to REG.in 18 AWG red 300 mm
wire W6 REG.in-neg to NEG.2 18 AWG black 300 mm
harness H 20 AWG at hot {
  a REG.out to CTRL.pos red 2 m
  b CTRL.neg to REG.out-neg black 2 m
  c CTRL.s1 to NEG.3 grey 2 m
}
wire W7 NEG.in to PACK.neg 12 AWG black 500 mm
wire W8 CTRL.s2 to NEG.4 white 100 mm
mode work "Half on" { everything typical; S1 closed; duty 49 % }
"#;

struct One(String);

impl Loader for One {
    fn load(&self, _: &Path) -> Result<Vec<u8>, String> {
        Ok(self.0.clone().into_bytes())
    }
}

pub(super) fn analysed() -> Analysis {
    analyse(ROBOT.to_owned())
}

fn analyse(text: String) -> Analysis {
    let analysis = analysis::analyse(project::open(Path::new("lamp.wattle"), &One(text)), None);
    assert!(analysis.verdict.errors.is_empty(), "{:?}", analysis.verdict.errors);
    analysis
}

fn with_view(modes: &[&str], look: impl Fn(&View<'_>)) {
    with_view_of(analysed(), modes, look);
}

fn with_view_of(analysis: Analysis, modes: &[&str], look: impl Fn(&View<'_>)) {
    let modes: Vec<String> = modes.iter().map(|mode| (*mode).to_owned()).collect();
    let account = Account::new("lamp.wattle", &analysis, &modes);
    look(account.view.as_ref().unwrap());
}

fn entry(view: &View<'_>, section: Section, name: &str) -> Entry {
    let found = view.entries().into_iter().find(|entry| entry.section == section && entry.name == name);
    found.unwrap_or_else(|| panic!("{name}"))
}

fn value(entry: &Entry, what: &str) -> f64 {
    entry.value(what).unwrap_or_else(|| panic!("{what}: {:?}", entry.figure(what)))
}

fn close(found: f64, expected: f64) {
    assert!((found - expected).abs() <= 1e-9 * expected.abs().max(1.0), "{found} is not {expected}");
}

/// A base value among the inputs of a figure.
fn input(entry: &Entry, what: &str, symbol: &str) -> f64 {
    let is = |input: &&Input| input.symbol == symbol;
    let found =
        entry.figure(what).and_then(|figure| figure.inputs.iter().find(is)).map(|input| &input.amount);
    match found {
        Some(Amount::Value(value, _)) => *value,
        other => panic!("{what} {symbol}: {other:?}"),
    }
}

#[test]
fn a_wire_carries_the_root_mean_square_of_its_duty() {
    with_view(&["work"], |view| {
        let wire = entry(view, Section::Wire, "W3");
        // The lamp draws 2 A for 49 % of the time: 2 A · √0.49.
        close(value(&wire, what::STEADY_CURRENT), 1.4);
        close(value(&wire, what::HIGHEST_CURRENT), 2.0);
        close(value(&wire, what::AMPACITY_USE), 1.4 / value(&wire, what::AMPACITY));
        close(value(&wire, what::MARGIN), value(&wire, what::AMPACITY) - 1.4);
    });
}

#[test]
fn drop_and_loss_are_those_of_copper_and_two_crimps() {
    with_view(&["work"], |view| {
        let wire = entry(view, Section::Wire, "W3");
        let ohms = value(&wire, what::RESISTANCE);
        let of = |symbol| input(&wire, what::RESISTANCE, symbol);
        let warm = 1.0 + of("α") * of("ΔT");
        assert!(of("ΔT") > 10.0, "it is warmer than its air of 30 °C");
        close(ohms, of("R'_20") * warm * of("L") + 2.0 * of("R_crimp"));
        // 18 AWG is 0.8231 mm² (ASTM B258); 1 m of copper at 1.7241e-8 Ω m is 20.95 mΩ at 20 °C.
        assert!((of("R'_20") - 0.020_95).abs() < 1e-5, "{}", of("R'_20"));
        close(value(&wire, what::DROP), ohms * 2.0);
        close(value(&wire, what::LOSS), ohms * 1.4 * 1.4);
    });
}

#[test]
fn the_share_of_the_drop_is_of_the_supply_that_feeds_the_wire() {
    with_view(&["work"], |view| {
        for name in ["H.a", "H.b"] {
            let wire = entry(view, Section::Wire, name);
            let supply = input(&wire, what::DROP_SHARE, "U_s");
            assert!((4.7..5.3).contains(&supply), "{name}: {supply}");
            close(value(&wire, what::DROP_SHARE), input(&wire, what::DROP_SHARE, "U") / supply);
        }
        for name in ["W3", "W4", "W7"] {
            let supply = input(&entry(view, Section::Wire, name), what::DROP_SHARE, "U_s");
            assert!(supply > 8.0, "{name}: {supply}");
        }
    });
}

#[test]
fn a_conductor_is_as_warm_as_the_heat_balance_says_in_its_own_air() {
    with_view(&["work"], |view| {
        let wire = entry(view, Section::Wire, "W3");
        let cable = heat::Cable::thin_walled(conductor::awg_area(18));
        let amps = wattle_grammar::quantity::Amps(value(&wire, what::STEADY_CURRENT));
        let air = wattle_grammar::quantity::Celsius(30.0);
        close(value(&wire, what::TEMPERATURE), heat::steady_temperature(cable, amps, air).unwrap().0);
        let in_place = entry(view, Section::Wire, "H.a");
        assert_eq!(input(&in_place, what::TEMPERATURE, "T_air"), 45.0);
        assert!(value(&in_place, what::TEMPERATURE) > 45.0);
    });
}

#[test]
fn a_conductor_of_aluminium_is_as_warm_as_one_of_copper_with_more_current() {
    let clad =
        ROBOT.replace("insulation 105 degC }", "insulation 105 degC; material copper-clad-aluminium }");
    assert_ne!(clad, ROBOT);
    with_view_of(analyse(clad), &["work"], |view| {
        let wire = entry(view, Section::Wire, "W3");
        let cable = heat::Cable::thin_walled(conductor::awg_area(18));
        let as_copper = value(&wire, what::STEADY_CURRENT) * input(&wire, what::TEMPERATURE, "a").sqrt();
        let (amps, air) =
            (wattle_grammar::quantity::Amps(as_copper), wattle_grammar::quantity::Celsius(30.0));
        close(value(&wire, what::TEMPERATURE), heat::steady_temperature(cable, amps, air).unwrap().0);
        // 61 % of the conductivity of copper.
        close(input(&wire, what::TEMPERATURE, "a"), 1.0 / 0.61);
    });
}

#[test]
fn a_solved_current_is_told_with_the_balance_at_its_end() {
    with_view(&["work"], |view| {
        let notes = |section, name| {
            let entry = entry(view, section, name);
            entry.figure(what::HIGHEST_CURRENT).unwrap().notes.clone()
        };
        assert!(notes(Section::Device, "F2").contains(&"at its end `W3` takes 2 A".to_owned()));
        assert!(notes(Section::Wire, "W3").contains(&"at its end `LAMP` takes 2 A".to_owned()));
    });
}

#[test]
fn every_input_says_where_it_is_from() {
    with_view(&["work"], |view| {
        let words = |name: &str, what: &str, symbol: &str| {
            let entry = entry(view, Section::Wire, name);
            let figure = entry.figure(what).unwrap();
            figure.inputs.iter().find(|input| input.symbol == symbol).unwrap().what.clone()
        };
        assert!(words("W3", what::AMPACITY, "T_ins").ends_with("stated at lamp.wattle:17"));
        assert!(
            words("W4", what::AMPACITY, "T_ins").contains("stated on the robot at lamp.wattle:2")
                || words("W4", what::AMPACITY, "T_ins").ends_with("stated at lamp.wattle:2")
        );
        assert!(words("W3", what::AMPACITY, "T_air").contains("the robot"));
        assert!(words("H.a", what::AMPACITY, "T_air").contains("place `hot`"));
        assert!(words("H.a", what::AMPACITY, "n").contains("counted in `H`"));
        assert!(words("W3", what::STEADY_CURRENT, "duty").contains("mode `work`"));
        let line = ROBOT.lines().position(|line| line.contains("duty")).unwrap() + 1;
        assert!(words("W3", what::STEADY_CURRENT, "duty").ends_with(&format!("lamp.wattle:{line}")));
    });
}

#[test]
fn what_lacks_a_rating_is_not_assessed_and_says_which() {
    with_view(&["work"], |view| {
        let wire = entry(view, Section::Wire, "W8");
        for what in [what::DROP, what::TEMPERATURE, what::AMPACITY, what::AMPACITY_USE] {
            let amount = &wire.figure(what).unwrap().amount;
            assert_eq!(*amount, Amount::NotAssessed("size".to_owned()), "{what}");
        }
    });
}

#[test]
fn a_load_is_held_against_its_supply_range() {
    with_view(&["work"], |view| {
        let lamp = entry(view, Section::Load, "LAMP");
        let (low, high) = (value(&lamp, what::LOWEST_VOLTAGE), value(&lamp, what::HIGHEST_VOLTAGE));
        // Four cells of lithium polymer stand at 16.8 V when full, less what the way there takes.
        assert!(low < high && high < 16.8 && high > 16.4, "{low} {high}");
        close(value(&lamp, what::HEADROOM_BELOW), low - 10.0);
        close(value(&lamp, what::HEADROOM_ABOVE), 18.0 - high);
        close(value(&lamp, what::HIGHEST_POWER), 2.0 * high);
    });
}

#[test]
fn bars_and_devices_carry_the_sum_of_what_hangs_on_them() {
    with_view(&["work"], |view| {
        let sum: f64 = ["F2", "F3"]
            .iter()
            .map(|name| value(&entry(view, Section::Device, name), what::HIGHEST_CURRENT))
            .sum();
        close(value(&entry(view, Section::Bar, "BUS"), what::HIGHEST_CURRENT), sum);
        close(value(&entry(view, Section::Source, "PACK"), what::HIGHEST_CURRENT), sum);
        let main = entry(view, Section::Device, "F1");
        close(value(&main, what::HIGHEST_CURRENT), sum);
        close(value(&main, what::RATING_USE), sum * 0.7 / 10.0);
        close(value(&entry(view, Section::Contact, "S1"), what::HIGHEST_CURRENT), sum);
    });
}

#[test]
fn a_regulator_is_a_source_by_its_output_and_a_load_by_its_input() {
    with_view(&["work"], |view| {
        let output = entry(view, Section::Source, "REG");
        close(value(&output, what::HIGHEST_CURRENT), 1.0);
        close(value(&output, what::RATING_USE), 0.7 / 3.0);
        assert!((4.7..5.3).contains(&value(&output, what::HIGHEST_VOLTAGE)));
        // Nothing is lost in it: what goes in comes out.
        let input = entry(view, Section::Load, "REG");
        assert!(value(&input, what::HIGHEST_CURRENT) < 0.5);
    });
}

#[test]
fn the_tree_goes_from_the_source_through_the_devices_to_the_loads() {
    with_view(&[], |view| {
        let name = |part| {
            let (Part::Source(id) | Part::Device(id) | Part::Load(id)) = part;
            view.analysis.design.thing(id).name.as_str()
        };
        let tree: Vec<(usize, &str)> = view.tree().iter().map(|line| (line.depth, name(line.part))).collect();
        assert_eq!(
            tree,
            [(0, "PACK"), (1, "F1"), (2, "F2"), (3, "LAMP"), (2, "F3"), (3, "REG"), (4, "CTRL")]
        );
    });
}

#[test]
fn only_the_modes_that_are_asked_for_count() {
    with_view(&["off"], |view| {
        assert!(!view.shown.is_empty() && view.points().all(|(_, point)| !point.network.elements.is_empty()));
        assert_eq!(value(&entry(view, Section::Wire, "W3"), what::HIGHEST_CURRENT), 0.0);
        let never = &entry(view, Section::Load, "LAMP").figure(what::LOWEST_VOLTAGE).unwrap().amount.clone();
        assert_eq!(*never, Amount::Words("never fed".to_owned()));
    });
    with_view(&["none"], |view| {
        assert!(view.shown.is_empty());
        let amount = entry(view, Section::Wire, "W3").figure(what::STEADY_CURRENT).unwrap().amount.clone();
        assert_eq!(amount, Amount::NotAssessed("a working point".to_owned()));
    });
}

#[test]
fn every_figure_is_finite_and_holds_for_a_point_that_counts() {
    with_view(&["work"], |view| {
        for entry in view.entries() {
            for figure in &entry.figures {
                if let Some(value) = figure.amount.number() {
                    assert!(value.is_finite(), "{} {}", entry.name, figure.what);
                }
                assert!(
                    figure.point.is_none_or(|at| view.shown.contains(&at)),
                    "{} {}",
                    entry.name,
                    figure.what
                );
            }
        }
    });
}

#[test]
fn names_are_found_and_near_ones_proposed() {
    let analysis = analysed();
    let design = &analysis.design;
    assert!(matches!(subject::find(design, "LAMP"), Some(subject::Subject::Thing(_))));
    assert!(matches!(subject::find(design, "H.a"), Some(subject::Subject::Wire(_))));
    assert!(matches!(subject::find(design, "LAMP.pos"), Some(subject::Subject::Terminal(_))));
    assert!(subject::find(design, "LAMPE.pos").is_none());
    assert_eq!(subject::nearest_name([design], "LAMPE").as_deref(), Some("LAMP"));
    assert_eq!(subject::nearest_name([design], "REG.uot").as_deref(), Some("REG.out"));
    assert_eq!(subject::nearest_mode([design], "wrok"), Some("work"));
}
