//! Robots of any size, for benches and for tests of scale: sound wiring that lints clean.

use std::fmt::Write as _;

/// Wires in one module: a fused driver with its isolating relay and motor, and a fused regulator with three loads.
const WIRES_PER_MODULE: usize = 23;

/// Modules that share one fuse block and one negative bar.
const MODULES_PER_SECTION: usize = 8;

/// Sections that share one bank of packs and one key: as many as its fuses carry at work.
const SECTIONS_PER_BANK: usize = 4;

/// A robot with at least `wires` wires, as text of the language.
///
/// Banks of four packs in parallel each feed a main bar; sections of eight modules hang on it, each behind its own
/// breaker. Every module has a driver, a relay that isolates its motor, and a regulator with a controller, a servo and
/// a light. The negative bars of all banks are joined one to the next, so that the whole robot is one network.
#[must_use]
pub fn robot(wires: usize) -> String {
    let modules = wires.div_ceil(WIRES_PER_MODULE).max(1);
    let mut text = HEAD.to_owned();
    for module in 0..modules {
        let section = module / MODULES_PER_SECTION;
        let bank = section / SECTIONS_PER_BANK;
        if module % (MODULES_PER_SECTION * SECTIONS_PER_BANK) == 0 {
            open_bank(&mut text, bank);
        }
        if module % MODULES_PER_SECTION == 0 {
            open_section(&mut text, bank, section);
        }
        add_module(&mut text, section, module);
    }
    close_modes(&mut text, modules.div_ceil(MODULES_PER_SECTION * SECTIONS_PER_BANK));
    text
}

const HEAD: &str = r#"wattle 1
robot "Generated machine" { ambient 5 degC .. 30 degC; insulation 105 degC }
part pack is battery { chemistry lipo; cells 6S; capacity 10 Ah; discharge 25 C; resistance 15 mohm }
part isolator is relay { poles 2; coil-voltage 24 V; coil 75 mA; operate 15 V; release 2.4 V; current 40 A; suppression diode }
"#;

fn open_bank(text: &mut String, bank: usize) {
    let b = bank;
    let _ = write!(
        text,
        "battery P{b}-A, P{b}-B, P{b}-C, P{b}-D : pack\n\
         fuse F{b}-A, F{b}-B, F{b}-C, F{b}-D 60 A bolt-down 32 V {{ breaking-capacity 10000 A }}\n\
         block PLUS{b} 12 way 500 A\n\
         block MINUS{b} 14 way 500 A\n\
         switch KEY{b} 10 A\n\
         fuse FK{b} 5 A mini-blade on PLUS{b} {{ breaking-capacity 10000 A }}\n\
         wire KW{b} FK{b}.load to KEY{b}.1 18 AWG orange 300 mm\n"
    );
    for pack in ["A", "B", "C", "D"] {
        let _ = write!(
            text,
            "tie P{b}-{pack}.pos to F{b}-{pack}.line\n\
             wire PW{b}-{pack} F{b}-{pack}.load to PLUS{b} 2/0 AWG red 150 mm\n\
             wire MW{b}-{pack} P{b}-{pack}.neg to MINUS{b} 2/0 AWG black 150 mm\n"
        );
    }
    if let Some(before) = bank.checked_sub(1) {
        let _ = writeln!(text, "wire JW{b} MINUS{before} to MINUS{b} 2/0 AWG black 400 mm");
    }
}

/// The one written mode: every key closed, everything idle.
fn close_modes(text: &mut String, banks: usize) {
    text.push_str("mode slow \"Few at work\" {\n  everything idle\n");
    for bank in 0..banks {
        let _ = writeln!(text, "  KEY{bank} closed");
    }
    text.push_str("}\n");
}

fn open_section(text: &mut String, bank: usize, section: usize) {
    let (b, s) = (bank, section);
    let _ = write!(
        text,
        "breaker CB{s} 60 A 60 V thermal manual-reset on PLUS{b} {{ breaking-capacity 10000 A }}\n\
         block BUS{s} 24 way 100 A\n\
         block NEG{s} 64 way 100 A\n\
         splice GO{s}\n\
         wire SA{s} CB{s}.load to BUS{s}.in 6 AWG red 400 mm\n\
         wire SB{s} NEG{s}.in to MINUS{b} 6 AWG black 400 mm\n\
         wire SC{s} KEY{b}.2 to GO{s} 18 AWG orange 600 mm\n"
    );
}

fn add_module(text: &mut String, section: usize, module: usize) {
    let (s, m) = (section, module);
    let _ = write!(
        text,
        "fuse FD{m} 15 A blade on BUS{s} {{ breaking-capacity 10000 A }}\n\
         driver D{m} 6 V .. 34 V 10 A {{ current-limit 12 A }}\n\
         relay K{m} : isolator\n\
         motor M{m} 24 V {{ typical 2 A; stall 12 A; pushed 10 V }}\n\
         wire D{m}-1 FD{m}.load to D{m}.pos 12 AWG red 350 mm\n\
         wire D{m}-2 D{m}.neg to NEG{s} 12 AWG black 350 mm\n\
         wire D{m}-3 GO{s} to K{m}.A1 18 AWG orange 300 mm\n\
         wire D{m}-4 K{m}.A2 to NEG{s} 18 AWG black 300 mm\n\
         wire D{m}-5 D{m}.m1a to K{m}.11 14 AWG yellow 250 mm\n\
         wire D{m}-6 D{m}.m1b to K{m}.21 14 AWG blue 250 mm\n\
         wire D{m}-7 K{m}.14 to M{m}.a 14 AWG yellow 500 mm\n\
         wire D{m}-8 K{m}.24 to M{m}.b 14 AWG blue 500 mm\n\
         fuse FR{m} 5 A mini-blade on BUS{s} {{ breaking-capacity 10000 A }}\n\
         regulator R{m} 5 V 5 A buck {{ tolerance 2 %; supply 8 V .. 36 V; dropout 1.5 V; current-limit 6 A }}\n\
         controller C{m} 4.5 V .. 5.5 V {{ typical 0.5 A; idle 0.2 A; signals 4 }}\n\
         servo S{m} 4.8 V .. 6 V {{ typical 0.4 A; idle 10 mA; stall 2 A }}\n\
         light L{m} 5 V {{ typical 0.2 A }}\n\
         block V{m} 6 way 20 A\n\
         wire R{m}-1 FR{m}.load to R{m}.in 18 AWG red 250 mm\n\
         wire R{m}-2 R{m}.in-neg to NEG{s} 18 AWG black 250 mm\n\
         wire R{m}-3 R{m}.out to V{m}.in 18 AWG red 150 mm\n\
         harness H{m} 18 AWG {{\n  \
           w1 V{m} to C{m}.pos red 300 mm\n  \
           w2 C{m}.neg to NEG{s} black 300 mm\n  \
           w3 V{m} to S{m}.pos red 600 mm\n  \
           w4 S{m}.neg to NEG{s} black 600 mm\n  \
           w5 C{m}.s1 to S{m}.signal white 600 mm\n  \
           w6 V{m} to L{m}.pos red 700 mm\n  \
           w7 L{m}.neg to NEG{s} black 700 mm\n  \
           w8 C{m}.s2 to D{m}.signal white 500 mm\n  \
           w9 R{m}.out-neg to NEG{s} black 200 mm\n\
         }}\n\
         wire X{m}-1 C{m}.s3 to D{m}.enable 24 AWG grey 400 mm\n\
         resistor U{m} 1 kohm\n\
         wire X{m}-2 V{m} to U{m}.1 18 AWG red 100 mm\n\
         wire X{m}-3 U{m}.2 to C{m}.s4 24 AWG grey 100 mm\n"
    );
}
