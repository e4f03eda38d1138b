//! Messages cut out of a stream of bytes: headers in any case, bounded lengths, and back on its feet after nonsense.

use std::io::{self, BufRead, Read, Write};

/// Bodies longer than this are passed over: no document of the language is allowed to be as long.
const LONGEST_BODY: u64 = 256 << 20;
/// A length beyond this is no length but nonsense: nobody will ever send so much to be passed over.
const LONGEST_PASSED_OVER: u64 = 4 << 30;
/// Header lines longer than this are no header lines.
const LONGEST_LINE: usize = 8 << 10;

const LENGTH: &[u8] = b"content-length:";

/// What came next in the stream.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Frame {
    /// A message's body.
    Body(Vec<u8>),
    /// Something that is no message; a plain sentence on what was wrong.
    Broken(&'static str),
    /// The end.
    End,
}

/// The messages of a stream.
pub(super) struct Frames<R> {
    stream: R,
    /// After nonsense everything up to the next header is passed over without another word.
    lost: bool,
}

impl<R: BufRead> Frames<R> {
    pub(super) const fn new(stream: R) -> Self {
        Self { stream, lost: false }
    }

    /// The stream behind the messages that were read.
    pub(super) fn into_inner(self) -> R {
        self.stream
    }

    /// The next message.
    pub(super) fn next(&mut self) -> io::Result<Frame> {
        loop {
            let frame = match self.headers()? {
                Headers::Length(length) => self.body(length)?,
                Headers::Broken(why) => Frame::Broken(why),
                Headers::End => Frame::End,
            };
            let told = std::mem::replace(&mut self.lost, matches!(frame, Frame::Broken(_)));
            if !(told && self.lost) {
                return Ok(frame);
            }
        }
    }

    fn headers(&mut self) -> io::Result<Headers> {
        let mut length = None;
        let mut any = false;
        while let Some(line) = self.line()? {
            if line.is_empty() {
                match length {
                    Some(length) => return Ok(Headers::Length(length)),
                    None if any => return Ok(Headers::Broken("a message has no Content-Length")),
                    None => continue,
                }
            }
            any = true;
            // Nonsense may stand before a header on its line: the rest of a body that was longer than announced.
            match length_in(&line) {
                Some(Some(found)) => length = Some(found),
                Some(None) => return Ok(Headers::Broken("the Content-Length is no number")),
                None if length.is_none() && !is_header(&line) => {
                    return Ok(Headers::Broken("a header is due here"));
                }
                None => {}
            }
        }
        Ok(Headers::End)
    }

    /// One line without its end; of a line that is too long the last part. `None` at the end of the stream.
    fn line(&mut self) -> io::Result<Option<Vec<u8>>> {
        let mut line = Vec::new();
        loop {
            let room = u64::try_from(LONGEST_LINE).unwrap_or(u64::MAX);
            let read = (&mut self.stream).take(room).read_until(b'\n', &mut line)?;
            if line.last() == Some(&b'\n') {
                line.pop();
                if line.last() == Some(&b'\r') {
                    line.pop();
                }
                return Ok(Some(line));
            }
            if read == 0 {
                return Ok((!line.is_empty()).then_some(line));
            }
            let surplus = line.len().saturating_sub(LONGEST_LINE);
            line.drain(..surplus);
        }
    }

    fn body(&mut self, length: u64) -> io::Result<Frame> {
        if length > LONGEST_PASSED_OVER {
            return Ok(Frame::Broken("the Content-Length is absurd"));
        }
        let mut part = (&mut self.stream).take(length);
        if length > LONGEST_BODY {
            let passed = io::copy(&mut part, &mut io::sink())?;
            return Ok(if passed == length { Frame::Broken("a message is too long") } else { Frame::End });
        }
        let mut body = Vec::new();
        let read = part.read_to_end(&mut body)?;
        let whole = u64::try_from(read).is_ok_and(|read| read == length);
        Ok(if whole { Frame::Body(body) } else { Frame::End })
    }
}

enum Headers {
    Length(u64),
    Broken(&'static str),
    End,
}

/// The length that a line announces: `None` when it announces none, `Some(None)` when it is no number.
fn length_in(line: &[u8]) -> Option<Option<u64>> {
    let at = line.windows(LENGTH.len()).rposition(|window| window.eq_ignore_ascii_case(LENGTH))?;
    let value = line.get(at + LENGTH.len()..).unwrap_or_default();
    Some(std::str::from_utf8(value).ok().and_then(|value| value.trim().parse().ok()))
}

/// Whether a line looks like a header: a name of letters and hyphens, and a colon.
fn is_header(line: &[u8]) -> bool {
    let name = line.split(|byte| *byte == b':').next().unwrap_or_default();
    let letters = name.iter().all(|byte| byte.is_ascii_alphanumeric() || *byte == b'-');
    !name.is_empty() && name.len() < line.len() && letters
}

/// Writes a message.
pub(super) fn write(stream: &mut impl Write, body: &[u8]) -> io::Result<()> {
    write!(stream, "Content-Length: {}\r\n\r\n", body.len())?;
    stream.write_all(body)?;
    stream.flush()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn all(bytes: &[u8]) -> Vec<Frame> {
        let mut frames = Frames::new(bytes);
        let mut found = Vec::new();
        while found.last() != Some(&Frame::End) {
            found.push(frames.next().unwrap());
        }
        found.pop();
        found
    }

    fn body(text: &str) -> Frame {
        Frame::Body(text.as_bytes().to_vec())
    }

    #[test]
    fn header_names_in_any_case_and_other_headers() {
        let bytes = b"content-length: 2\r\n\r\n{}CONTENT-LENGTH:3\r\nContent-Type: x\r\n\r\n[1]\
                      Content-Type: y\nContent-Length: 1\n\n4";
        assert_eq!(all(bytes), [body("{}"), body("[1]"), body("4")]);
    }

    #[test]
    fn nonsense_is_told_once_and_the_next_message_is_found() {
        let bytes = b"what\nis this\n\nagain\nContent-Length: 2\r\n\r\n{}";
        assert_eq!(all(bytes), [Frame::Broken("a header is due here"), body("{}")]);
    }

    #[test]
    fn a_body_longer_than_announced() {
        let bytes = b"Content-Length: 2\r\n\r\n{} \"rest\": 1}Content-Length: 2\r\n\r\n[]";
        assert_eq!(all(bytes), [body("{}"), body("[]")]);
    }

    #[test]
    fn lengths_that_are_none() {
        for length in ["-1", "x", "", "1e3", "99999999999999999999999"] {
            let bytes = format!("Content-Length: {length}\r\n\r\nContent-Length: 2\r\n\r\n{{}}");
            let told = Frame::Broken("the Content-Length is no number");
            assert_eq!(all(bytes.as_bytes()), [told, body("{}")], "{length}");
        }
        let bytes = b"Content-Length: 999999999999\r\n\r\nContent-Length: 2\r\n\r\n{}";
        assert_eq!(all(bytes), [Frame::Broken("the Content-Length is absurd"), body("{}")]);
    }

    #[test]
    fn no_length_at_all() {
        let bytes = b"Content-Type: x\r\n\r\n{}\r\nContent-Length: 2\r\n\r\n[]";
        assert_eq!(all(bytes), [Frame::Broken("a message has no Content-Length"), body("[]")]);
    }

    #[test]
    fn a_very_long_line_takes_no_room_and_hides_no_header() {
        let mut bytes = vec![b'x'; 10 * LONGEST_LINE];
        bytes.extend_from_slice(b"Content-Length: 2\r\n\r\n{}");
        assert_eq!(all(&bytes), [body("{}")]);
    }

    #[test]
    fn a_stream_that_ends_early_ends() {
        assert_eq!(all(b"Content-Length: 10\r\n\r\n{}"), []);
        assert_eq!(all(b"Content-Len"), [Frame::Broken("a header is due here")]);
        assert_eq!(all(b""), []);
    }

    #[test]
    fn what_is_written_is_read() {
        let mut bytes = Vec::new();
        write(&mut bytes, "µ😀".as_bytes()).unwrap();
        assert_eq!(all(&bytes), [body("µ😀")]);
    }
}
