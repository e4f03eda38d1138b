//! How long linting takes and how much memory it needs, by the number of wires: the command as a cold process, and the
//! phases inside it.
//!
//! `cargo bench -p wattle-tests --bench lint [-- WIRES…]`. Prints tables; fails nothing, for what a machine does beside
//! it is not known. Processor time is printed beside wall time for the same reason.

#![allow(clippy::print_stdout, clippy::print_stderr, reason = "a bench prints what it measures")]

use std::{
    collections::BTreeMap,
    io,
    path::{Path, PathBuf},
    process::{Command, ExitCode, Stdio},
    time::{Duration, Instant},
};

use wattle_linter::{
    analysis,
    design::{self, Design},
    figures::Figures,
    inquiry::Inquiry,
    profile,
    project::{self, Project},
    report::{Report, text},
    rule::Rule,
    rules,
    topology::Topology,
    trace::Trace,
};
use wattle_tests::{
    command::{wattle, wattle_of_release},
    folder::Folder,
    memory::Memory,
    robots,
};

/// Sizes measured unless others are given, wires.
const SIZES: [usize; 5] = [1_000, 2_000, 5_000, 10_000, 20_000];

/// Runs of the command at each size; the median counts.
const RUNS: usize = 5;

/// Reads a process's own times and its largest resident memory.
const TIME: &str = "/usr/bin/time";

fn main() -> ExitCode {
    let given: Vec<usize> = std::env::args().skip(1).filter_map(|argument| argument.parse().ok()).collect();
    let sizes = if given.is_empty() { SIZES.to_vec() } else { given };
    match measure(&sizes) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

fn measure(sizes: &[usize]) -> io::Result<()> {
    // A bench of the unoptimised build measures nothing of use, but shows that the bench itself runs.
    let command = if cfg!(debug_assertions) { wattle()?.to_owned() } else { wattle_of_release()? };
    let robots: Vec<Robot> = sizes.iter().map(|wires| Robot::new(*wires)).collect();
    cold_processes(&command, &robots)?;
    println!();
    phases(&robots);
    Ok(())
}

/// A generated robot.
struct Robot {
    text: String,
    /// Its wires as the analysis counts them.
    wires: usize,
}

impl Robot {
    fn new(wires: usize) -> Self {
        let text = robots::robot(wires);
        let wires = design::lower(&open(&text)).0.wires.len();
        Self { text, wires }
    }

    /// `n log₂ n` for its wires.
    fn work(&self) -> f64 {
        let wires = self.wires as f64;
        wires * wires.log2()
    }
}

/// What one process took.
#[derive(Clone, Copy, Debug)]
struct Taken {
    wall: Duration,
    /// Seconds of processor time.
    processor: f64,
    /// Kilobytes of resident memory at most.
    memory: u64,
}

fn cold_processes(command: &Path, robots: &[Robot]) -> io::Result<()> {
    let timed = Path::new(TIME).exists();
    if !timed {
        println!("there is no {TIME}: memory and processor time are not measured");
    }
    println!("`wattle lint` as a cold process, median of {RUNS} runs");
    println!("  wires   wall ms  processor ms  memory MB  wall/(n log n)");
    let mut first = None;
    for robot in robots {
        let folder = Folder::with(&[("robot.wattle", robot.text.as_bytes())])?;
        let runs: Vec<Taken> =
            (0..RUNS).map(|_| run(command, folder.path(), timed)).collect::<io::Result<_>>()?;
        let wall = median(runs.iter().map(|taken| taken.wall.as_secs_f64() * 1e3).collect());
        let processor = median(runs.iter().map(|taken| taken.processor * 1e3).collect());
        let memory = median(runs.iter().map(|taken| taken.memory as f64 / 1e3).collect());
        let growth = wall / robot.work();
        let relative = growth / *first.get_or_insert(growth);
        println!("{:>7} {wall:>9.1} {processor:>13.0} {memory:>10.1} {relative:>15.2}", robot.wires);
    }
    Ok(())
}

fn run(command: &Path, folder: &Path, timed: bool) -> io::Result<Taken> {
    let lint = ["lint", "robot.wattle"];
    let mut process = if timed {
        let mut process = Command::new(TIME);
        process.args(["-q", "-f", "%U %S %M"]).arg(command);
        process
    } else {
        Command::new(command)
    };
    let start = Instant::now();
    let output =
        process.args(lint).current_dir(folder).stdout(Stdio::null()).stderr(Stdio::piped()).output()?;
    let wall = start.elapsed();
    if output.status.code() != Some(0) {
        return Err(io::Error::other("the generated robot is not clean"));
    }
    let told = String::from_utf8_lossy(&output.stderr).into_owned();
    let mut numbers = told.split_whitespace().rev().map_while(|number| number.parse::<f64>().ok());
    let memory = numbers.next().unwrap_or(0.0) as u64;
    Ok(Taken { wall, processor: numbers.take(2).sum(), memory })
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied().unwrap_or(0.0)
}

/// The phases of an analysis, each the fastest of three.
fn phases(robots: &[Robot]) {
    println!("the phases within, ms, fastest of 3");
    println!("  wires      open     lower  topology     trace   figures     rules     whole    report");
    let mut slowest = Vec::new();
    for robot in robots {
        let rounds: Vec<[Duration; 8]> = (0..3).map(|_| round(robot)).collect();
        let fastest = |phase: usize| rounds.iter().map(|round| round[phase]).min().unwrap_or_default();
        let cells: String =
            (0..8).map(|phase| format!(" {:>9.1}", fastest(phase).as_secs_f64() * 1e3)).collect();
        println!("{:>7}{cells}", robot.wires);
        slowest = by_rule(robot);
    }
    println!("the slowest rules at the last size, ms");
    for (taken, rule) in slowest.iter().rev().take(5) {
        println!("{:>9.1}  {rule}", taken.as_secs_f64() * 1e3);
    }
}

fn round(robot: &Robot) -> [Duration; 8] {
    let (project, opened) = timed(|| open(&robot.text));
    let ((design, _), lowered) = timed(|| design::lower(&project));
    let (topology, built) = timed(|| Topology::build(&design));
    let (trace, traced) = timed(|| Trace::new(&design, &topology));
    let (figures, solved) = timed(|| Figures::solve(&design, &topology));
    let (_, judged) = timed(|| ask_all(&design, &topology, &trace, &figures));
    let ((), whole) = timed(|| drop(analysis::analyse(open(&robot.text), None)));
    let analysis = analysis::analyse(project, None);
    let report = Report::new("robot.wattle", &analysis.project, &analysis.verdict);
    let (_, reported) = timed(|| text::render(&report, text::Style { colour: false, width: 80 }));
    [opened, lowered, built, traced, solved, judged, whole, reported]
}

/// How long each rule takes, the slowest last.
fn by_rule(robot: &Robot) -> Vec<(Duration, &'static str)> {
    let (design, _) = design::lower(&open(&robot.text));
    let topology = Topology::build(&design);
    let trace = Trace::new(&design, &topology);
    let figures = Figures::solve(&design, &topology);
    let mut inquiry = Inquiry::new(&design, &topology, &trace, &figures, profile::DEFAULT);
    let took = |rule: &&Rule| (timed(|| (rule.check)(&mut inquiry)).1, rule.name);
    let mut all: Vec<_> = rules::ALL.iter().map(took).collect();
    all.sort();
    all
}

fn ask_all(design: &Design, topology: &Topology, trace: &Trace, figures: &Figures) -> usize {
    let mut inquiry = Inquiry::new(design, topology, trace, figures, profile::DEFAULT);
    for rule in rules::ALL {
        (rule.check)(&mut inquiry);
    }
    inquiry.into_parts().0.len()
}

fn open(text: &str) -> Project {
    let root = PathBuf::from("robot.wattle");
    project::open(&root, &Memory(BTreeMap::from([(root.clone(), text.as_bytes().to_vec())])))
}

fn timed<T>(work: impl FnOnce() -> T) -> (T, Duration) {
    let start = Instant::now();
    let result = work();
    (result, start.elapsed())
}
