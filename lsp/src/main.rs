//! The `wattle-lsp` command: the language server on standard input and output.

use std::{
    convert::Infallible,
    io::{self, Write},
    process::{ExitCode, exit},
};

use tokio::{runtime::Builder, sync::mpsc::unbounded_channel};
use tower_lsp::{LspService, Server as Library};
use wattle_lsp::{
    door::{self, End},
    engine::LINTER,
    server::{Server, deliver},
    worker::Worker,
};

const HELP: &str = "\
The Wattle language server. Speaks the Language Server Protocol on standard input and output; editors start it.

Usage: wattle-lsp [--stdio]

  --stdio     what it does anyway; some editors say it
  --version   prints the version
  --help      prints this
";

/// So many requests may wait for an analysis at a time. The library's own limit of four would let four of them keep the
/// next edit from being read until the analysis is done.
const MOST_WAITING: usize = 1_000;
/// So many features compute at a time.
const MOST_COMPUTING: usize = 4;

/// Exit status for wrong use.
const WRONG_USE: u8 = 2;
/// Exit status when the fault is ours or the system's.
const OWN_FAULT: u8 = 4;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match arguments.iter().map(String::as_str).collect::<Vec<_>>().as_slice() {
        [] | ["--stdio"] => serve(),
        ["--version" | "-V"] => {
            print(&mut io::stdout(), concat!("wattle-lsp ", env!("CARGO_PKG_VERSION"), "\n"), 0)
        }
        ["--help" | "-h"] => print(&mut io::stdout(), HELP, 0),
        _ => print(&mut io::stderr(), HELP, WRONG_USE),
    }
}

fn print(stream: &mut impl Write, text: &str, status: u8) -> ExitCode {
    // There is nobody to tell when even this cannot be written.
    let _ = stream.write_all(text.as_bytes());
    ExitCode::from(status)
}

fn serve() -> ExitCode {
    let Err(error) = run();
    print(&mut io::stderr(), &format!("wattle-lsp cannot start: {error}\n"), OWN_FAULT)
}

/// Serves until there is a reason to end, and then ends the process without waiting for what still computes: the client
/// has taken its leave.
fn run() -> io::Result<Infallible> {
    let runtime = Builder::new_multi_thread()
        .worker_threads(2)
        .max_blocking_threads(MOST_COMPUTING)
        .enable_time()
        .build()?;
    let _entered = runtime.enter();
    let (incoming, outgoing, watch) = door::open(io::stdin(), io::stdout())?;
    let (client_box, outbox) = unbounded_channel();
    let worker = Worker::start(LINTER, client_box)?;
    let (service, socket) = LspService::new(|client| {
        runtime.spawn(deliver(client, outbox));
        Server::new(worker)
    });
    let bell = watch.bell();
    let library = Library::new(incoming, outgoing, socket).concurrency_level(MOST_WAITING);
    let served = runtime.spawn(library.serve(service));
    runtime.spawn(async move {
        // However the library ended, and be it by a panic, the watch must know.
        let _ = served.await;
        bell.send(End::Served)
    });
    exit(i32::from(watch.wait()))
}
