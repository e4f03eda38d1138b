//! The one place that writes to standard output and standard error.

use std::io::{self, ErrorKind, Write};

use super::{Exit, Outcome};

/// Prints what a verb has to say. A reader that has gone away (`wattle lint | head`) is no error; a report that could
/// not be written is not complete.
pub(super) fn print(outcome: &Outcome) -> Exit {
    let written = write_all(&mut io::stdout().lock(), &outcome.out);
    // There is nobody left to tell when standard error fails as well.
    let _ = write_all(&mut io::stderr().lock(), &outcome.trouble);
    match written {
        Ok(()) => outcome.exit,
        Err(error) => {
            let _ =
                write_all(&mut io::stderr().lock(), &format!("wattle: cannot write the report: {error}\n"));
            Exit::Incomplete
        }
    }
}

/// Prints what the command line parser has to say: help and version are no error, all else is wrong use.
pub(super) fn tell(error: &clap::Error) -> Exit {
    let _ = error.print();
    if error.use_stderr() { Exit::Usage } else { Exit::Clean }
}

fn write_all(stream: &mut impl Write, text: &str) -> io::Result<()> {
    match stream.write_all(text.as_bytes()).and_then(|()| stream.flush()) {
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Ok(()),
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    struct Fails(ErrorKind);

    impl Write for Fails {
        fn write(&mut self, _: &[u8]) -> io::Result<usize> {
            Err(self.0.into())
        }
        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }

    #[test]
    fn a_reader_that_has_gone_away_is_no_error() {
        assert!(write_all(&mut Fails(ErrorKind::BrokenPipe), "text").is_ok());
        assert!(write_all(&mut Fails(ErrorKind::StorageFull), "text").is_err());
    }
}
