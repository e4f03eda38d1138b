//! How fast text becomes tokens, a tree and its layout: `cargo bench -p wattle-grammar`. Prints megabytes per second on
//! one core for clean text and for text in which every hundredth line is damaged.

#![allow(clippy::print_stdout, clippy::disallowed_types, clippy::disallowed_methods)]

use std::{fmt::Write, hint::black_box, time::Instant};

use wattle_grammar::{
    lexer::lex,
    parse,
    span::FileId,
    tidy::{edits, tidy},
};

const LINES: usize = 20_000;
const RUNS: usize = 60;

fn main() {
    let clean = robot(LINES);
    let damaged = damage(&clean);
    println!("{LINES} lines, {} bytes, best of {RUNS} runs", clean.len());
    report("tokens", &clean, |text| lex(text).len());
    report("tree, clean", &clean, |text| parse(FileId(0), text).file.items.len());
    report("tree, 1 % of lines damaged", &damaged, |text| parse(FileId(0), text).errors.len());
    let (tree, wrong) = (parse(FileId(0), &clean), parse(FileId(0), &damaged));
    report("layout, clean", &clean, |text| tidy(&tree, text).len());
    report("layout, damaged", &damaged, |text| tidy(&wrong, text).len());
    let laid_out = tidy(&tree, &clean);
    report("edits to the layout", &clean, |text| edits(text, &laid_out).len());
    println!("clean: {} statements, {} errors", tree.file.items.len(), tree.errors.len());
    println!("damaged: {} statements, {} errors", wrong.file.items.len(), wrong.errors.len());
}

fn report(what: &str, text: &str, work: impl Fn(&str) -> usize) {
    let best = (0..RUNS)
        .map(|_| {
            let start = Instant::now();
            black_box(work(black_box(text)));
            start.elapsed().as_secs_f64()
        })
        .fold(f64::INFINITY, f64::min);
    let megabytes = f64::from(u32::try_from(text.len()).unwrap_or(u32::MAX)) / 1e6;
    println!("{what:<28} {:>7.1} MB/s  {:>7.2} ms", megabytes / best, best * 1e3);
}

/// A robot of about `lines` lines: mostly wires, as real ones are.
fn robot(lines: usize) -> String {
    let mut text = String::from("wattle 1\n\nrobot \"Parade heron\" {\n  ambient 5 degC .. 35 degC\n}\n\n");
    let mut number = 0;
    while text.lines().count() < lines {
        for _ in 0..200 {
            number += 1;
            statement(&mut text, number);
        }
    }
    text
}

fn statement(text: &mut String, n: usize) {
    let result = match n % 20 {
        0 => writeln!(text, "fuse F-{n}, F-{n}B 40 A blade on BUS at body  # spare in the lid"),
        1 => writeln!(
            text,
            "motor M-{n} \"Knee {n}\" 24 V 6 A at leg {{\n  stall 55 A\n  not back-drivable\n}}"
        ),
        2 => writeln!(text, "driver D-{n} 6 V .. 30 V 25 A at body {{ channels 2; takes-back-feed yes }}"),
        3 => writeln!(text, "contactor K-{n} 24 V 100 A at body {{ coil 0.35 A; suppression diode }}"),
        4 => writeln!(
            text,
            "part pack-{n} is battery lipo 6S {{\n  capacity 5000 mAh\n  discharge 25 C\n  resistance 18 mohm\n}}"
        ),
        5 => writeln!(
            text,
            "harness LOOM-{n} 1.2 m 20 AWG at neck {{\n  H1 J{n}.1 to P{n}.1 red\n  H2 J{n}.2 to P{n}.2 black\n  sheathed\n}}"
        ),
        6 => writeln!(
            text,
            "mode walk-{n} \"Walking\" {{\n  everything typical\n  S-KEY closed\n  M-{n} 8 A\n  duty 70 %\n}}"
        ),
        7 => writeln!(text, "expect voltage D-{n}.pos >= 20 V in parade"),
        8 => writeln!(text, "reading 160 mA through W{n} in idle on 2027-03-01"),
        9 => writeln!(text, "tie NEG-{n} to SHUNT.2, FRAME"),
        10 => writeln!(text, "# the {n}th leg, from hip to toe"),
        _ => {
            writeln!(text, "wire W{n:<6} PACK-{n}.pos to F-{n}.line   10 AWG  red/white {} mm", 100 + n % 900)
        }
    };
    result.unwrap_or(());
}

/// Damages every hundredth line in one of five ways.
fn damage(text: &str) -> String {
    let mut damaged = String::with_capacity(text.len());
    for (number, line) in text.lines().enumerate() {
        let hurt = match (number % 100 == 99).then_some(number / 100 % 5) {
            Some(0) => line.replacen(" to ", " ", 1).replacen(" A", " Amps", 1),
            Some(1) => format!("{line} )"),
            Some(2) => line.replacen(' ', " ? ", 2),
            Some(3) => format!("x{line}"),
            Some(_) => line.replacen(" 1", " ,1", 1),
            None => line.to_owned(),
        };
        damaged.push_str(&hurt);
        damaged.push('\n');
    }
    damaged
}
