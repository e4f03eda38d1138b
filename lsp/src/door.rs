//! The door between the process's streams and the protocol library.
//!
//! The library ends on a broken message, takes header names in one case only, refuses parameters that are null, leaves
//! some requests unanswered, refuses a second shutdown and does not end the process. The door stands in front of it
//! and sees to all of that, so that it only ever gets messages that it can take.

mod frame;
mod message;
mod parent;
mod pipe;

use std::{
    io::{self, BufReader, Read, Write},
    sync::{
        Arc, Condvar, Mutex, PoisonError,
        mpsc::{Receiver, Sender, channel},
    },
    thread,
    time::Duration,
};

use serde_json::Value;
use tokio::sync::mpsc::{UnboundedSender, unbounded_channel};

use frame::{Frame, Frames};
use message::{Session, Verdict, broken, judge};
pub use pipe::{Incoming, Outgoing};

/// How long an exit waits for what is already due to be written to a client that reads slowly.
const LAST_WORDS: Duration = Duration::from_millis(500);
/// How long requests that came before the end of the input may take.
const LAST_ANSWERS: Duration = Duration::from_secs(5);
/// Exit status when the client went away without a word.
const CLIENT_GONE: u8 = 1;
/// Exit status when the fault is ours.
const OWN_FAULT: u8 = 4;

/// Why the server is to end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// The client said so; with the exit status that is due.
    Exit(u8),
    /// The input ended; with the exit status that is due. What was asked before is still answered.
    InputEnded(u8),
    /// The client's process is gone, or nobody reads the output any more.
    ClientGone,
    /// The library has nothing more to do.
    Served,
}

/// What is written to the output.
#[derive(Debug)]
enum Post {
    /// A message.
    Body(Vec<u8>),
    /// Answered once everything before has been written.
    Mark(Sender<()>),
}

/// Opens the door: from now on `input` is read and `output` written. The library gets the two ends behind the door; the
/// process waits at the [`Watch`].
///
/// # Errors
/// Those of starting a thread.
pub fn open(
    input: impl Read + Send + 'static,
    output: impl Write + Send + 'static,
) -> io::Result<(Incoming, Outgoing, Watch)> {
    let (inside, bodies) = unbounded_channel();
    let (post, letters) = channel();
    let (end, ends) = channel();
    let owed = Arc::new(Owed::default());
    let carrier = Carrier { letters, end: end.clone(), owed: Arc::clone(&owed) };
    spawn("output", move || carrier.carry(output))?;
    let keeper = Keeper { inside, post: post.clone(), end: end.clone(), owed: Arc::clone(&owed) };
    spawn("input", move || keeper.keep(input))?;
    Ok((Incoming::new(bodies), Outgoing::new(post.clone()), Watch { end, ends, post, owed }))
}

fn spawn(name: &str, work: impl FnOnce() + Send + 'static) -> io::Result<()> {
    thread::Builder::new().name(name.to_owned()).spawn(work).map(drop)
}

/// Reads the input, message by message.
struct Keeper {
    inside: UnboundedSender<Vec<u8>>,
    post: Sender<Post>,
    end: Sender<End>,
    owed: Arc<Owed>,
}

impl Keeper {
    fn keep(self, input: impl Read) {
        let mut frames = Frames::new(BufReader::new(input));
        let mut session = Session::default();
        loop {
            let verdict = match frames.next() {
                Ok(Frame::Body(body)) => judge(body, &mut session),
                Ok(Frame::Broken(why)) => Verdict::Answer(broken(why)),
                Ok(Frame::End) | Err(_) => return self.tell(End::InputEnded(session.status())),
            };
            self.look_after(&mut session);
            match verdict {
                Verdict::Pass(body) => self.pass(body),
                Verdict::Answer(answer) => self.answer(&answer),
                Verdict::Exit => self.tell(End::Exit(session.status())),
            }
        }
    }

    /// Sees to what the session has just brought: the client's process, a request to shut down.
    fn look_after(&self, session: &mut Session) {
        if let Some(process) = session.parent.take() {
            let end = self.end.clone();
            let gone = move || {
                let _ = end.send(End::ClientGone);
            };
            // Without the watch the end of the input still tells.
            let _ = parent::watch(process, gone);
        }
        self.owed.owe(session.shutdown.as_ref());
    }

    // Nobody listens any more only when the process is ending; so what is sent then may be lost.

    fn pass(&self, body: Vec<u8>) {
        let _ = self.inside.send(body);
    }

    fn answer(&self, answer: &Value) {
        let _ = self.post.send(Post::Body(answer.to_string().into_bytes()));
    }

    fn tell(&self, end: End) {
        let _ = self.end.send(end);
    }
}

/// Writes the output, message by message.
struct Carrier {
    letters: Receiver<Post>,
    end: Sender<End>,
    owed: Arc<Owed>,
}

impl Carrier {
    fn carry(self, mut output: impl Write) {
        for letter in self.letters {
            match letter {
                Post::Body(body) => {
                    if frame::write(&mut output, &body).is_err() {
                        let _ = self.end.send(End::ClientGone);
                        return;
                    }
                    self.owed.pay(&body);
                }
                Post::Mark(mark) => {
                    let _ = mark.send(());
                }
            }
        }
    }
}

/// The answer to the first request to shut down, which must be out before the process ends.
#[derive(Default)]
struct Owed {
    debt: Mutex<Debt>,
    paid: Condvar,
}

#[derive(Default)]
enum Debt {
    #[default]
    None,
    To(Value),
    Paid,
}

impl Owed {
    /// Notes the id that an answer is owed to; only the first counts.
    fn owe(&self, id: Option<&Value>) {
        let mut debt = self.debt.lock().unwrap_or_else(PoisonError::into_inner);
        if let (Debt::None, Some(id)) = (&*debt, id) {
            *debt = Debt::To(id.clone());
        }
    }

    /// Looks whether a message that was written is the answer.
    fn pay(&self, body: &[u8]) {
        let mut debt = self.debt.lock().unwrap_or_else(PoisonError::into_inner);
        if let Debt::To(id) = &*debt
            && serde_json::from_slice::<Value>(body)
                .is_ok_and(|it| it.get("method").is_none() && it.get("id") == Some(id))
        {
            *debt = Debt::Paid;
            self.paid.notify_all();
        }
    }

    /// Waits until nothing is owed, but not for ever.
    fn settle(&self) {
        let debt = self.debt.lock().unwrap_or_else(PoisonError::into_inner);
        let _ = self.paid.wait_timeout_while(debt, LAST_WORDS, |debt| matches!(debt, Debt::To(_)));
    }
}

/// Waits for a reason to end the process.
pub struct Watch {
    end: Sender<End>,
    ends: Receiver<End>,
    post: Sender<Post>,
    owed: Arc<Owed>,
}

impl Watch {
    /// A way in for others that know of a reason to end.
    #[must_use]
    pub fn bell(&self) -> Sender<End> {
        self.end.clone()
    }

    /// Waits for a reason to end, sees what is due written, and gives the process's exit status.
    #[must_use]
    pub fn wait(self) -> u8 {
        let status = match self.ends.recv() {
            Ok(End::Exit(status)) => {
                self.owed.settle();
                status
            }
            Ok(End::InputEnded(status)) => {
                // Either way the process ends now.
                let _ = self.ends.recv_timeout(LAST_ANSWERS);
                status
            }
            Ok(End::ClientGone) => return CLIENT_GONE,
            Ok(End::Served) | Err(_) => OWN_FAULT,
        };
        let (mark, written) = channel();
        let _ = self.post.send(Post::Mark(mark));
        let _ = written.recv_timeout(LAST_WORDS);
        status
    }
}

#[cfg(test)]
mod tests;
