//! The worker: one thread that owns the state, takes events strictly in order and hands the newest state to the
//! analyst's thread. It never waits for an analysis, so neither does a keystroke.

use std::{
    io,
    panic::{AssertUnwindSafe, catch_unwind},
    path::PathBuf,
    sync::{
        Arc, Condvar, Mutex, PoisonError,
        mpsc::{Receiver, Sender, channel},
    },
    thread,
};

use tokio::sync::{
    mpsc::UnboundedSender,
    oneshot::{self, error::RecvError},
};

use crate::{
    analyst::{Analyst, Job, Outcome, panic_text},
    engine::Engine,
    snapshot::Snapshot,
    state::{Event, Outgoing, State},
};

/// Room for deeply nested texts, which are read by recursion.
const ANALYST_STACK_BYTES: usize = 64 << 20;

/// How much a feature needs to know.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Need {
    /// The text will do: the answer comes at once.
    Text,
    /// The analysis of this very text, which may have to be waited for.
    Figures,
}

/// Why a feature gave no answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unanswered {
    /// The document is not open.
    NotOpen,
    /// The feature failed by the server's own fault.
    Failed,
}

enum Message {
    Event(Event),
    Ask(PathBuf, Need, oneshot::Sender<Snapshot>),
    Analysed(Outcome),
    Log(String),
}

/// The way to the worker. Telling it something never blocks and keeps the order.
#[derive(Clone)]
pub struct Worker {
    messages: Sender<Message>,
}

impl Worker {
    /// Starts the worker and the analyst. They end with the process, or when every way to the worker is gone.
    ///
    /// # Errors
    /// Those of starting a thread.
    pub fn start(engine: Engine, client: UnboundedSender<Outgoing>) -> io::Result<Self> {
        let (messages, inbox) = channel();
        let desk = Arc::new(Desk::default());
        let (results, jobs) = (messages.clone(), Arc::clone(&desk));
        thread::Builder::new()
            .name("analyst".to_owned())
            .stack_size(ANALYST_STACK_BYTES)
            .spawn(move || analyse_for_ever(engine, &jobs, &results))?;
        let owner = Owner { state: State::default(), desk, client, waiting: Vec::new() };
        thread::Builder::new().name("worker".to_owned()).spawn(move || owner.run(&inbox))?;
        Ok(Self { messages })
    }

    /// Tells the worker what happened.
    pub fn tell(&self, event: Event) {
        // A worker that is gone means that the process is ending.
        let _ = self.messages.send(Message::Event(event));
    }

    /// Has something written into the client's log.
    pub fn log(&self, sentence: String) {
        let _ = self.messages.send(Message::Log(sentence));
    }

    /// Has a feature look at a document as it stands after everything told so far.
    ///
    /// # Errors
    /// [`Unanswered`] when the document is not open or the feature failed.
    pub async fn ask<T, F>(&self, path: PathBuf, need: Need, feature: F) -> Result<T, Unanswered>
    where
        T: Send + 'static,
        F: FnOnce(&Snapshot) -> T + Send + 'static,
    {
        let (reply, answer) = oneshot::channel();
        let _ = self.messages.send(Message::Ask(path, need, reply));
        let snapshot = answer.await.map_err(|_: RecvError| Unanswered::NotOpen)?;
        tokio::task::spawn_blocking(move || feature(&snapshot)).await.map_err(|_| Unanswered::Failed)
    }
}

/// Where the worker leaves the newest job for the analyst; an older one that nobody has begun is replaced.
#[derive(Default)]
struct Desk {
    job: Mutex<Option<Job>>,
    left: Condvar,
}

impl Desk {
    fn leave(&self, job: Job) {
        *self.job.lock().unwrap_or_else(PoisonError::into_inner) = Some(job);
        self.left.notify_one();
    }

    fn take(&self) -> Job {
        let mut job = self.job.lock().unwrap_or_else(PoisonError::into_inner);
        loop {
            if let Some(job) = job.take() {
                return job;
            }
            job = self.left.wait(job).unwrap_or_else(PoisonError::into_inner);
        }
    }
}

fn analyse_for_ever(engine: Engine, desk: &Desk, results: &Sender<Message>) {
    let mut analyst = Analyst::new(engine);
    loop {
        let outcome = analyst.work(&desk.take());
        if results.send(Message::Analysed(outcome)).is_err() {
            return;
        }
    }
}

struct Owner {
    state: State,
    desk: Arc<Desk>,
    client: UnboundedSender<Outgoing>,
    waiting: Vec<(PathBuf, oneshot::Sender<Snapshot>)>,
}

impl Owner {
    fn run(mut self, inbox: &Receiver<Message>) {
        while let Ok(message) = inbox.recv() {
            let before = self.state.revision();
            self.take(message);
            // What has piled up is taken in before a job is made of it, so a burst costs one analysis.
            while let Ok(message) = inbox.try_recv() {
                self.take(message);
            }
            if self.state.revision() != before {
                self.desk.leave(self.state.job());
            }
        }
    }

    /// Takes in a message; a failure of our own costs this message, not the server.
    fn take(&mut self, message: Message) {
        let taken = catch_unwind(AssertUnwindSafe(|| self.dispatch(message)));
        if let Err(panic) = taken {
            self.send([Outgoing::Log(format!("a message was lost: {}", panic_text(&*panic)))]);
        }
    }

    fn dispatch(&mut self, message: Message) {
        match message {
            Message::Event(event) => {
                let outgoing = self.state.apply(event);
                self.send(outgoing);
            }
            Message::Ask(path, Need::Figures, reply) if !self.state.is_analysed() => {
                self.waiting.push((path, reply));
            }
            Message::Ask(path, _, reply) => self.answer(&path, reply),
            Message::Log(sentence) => self.send([Outgoing::Log(sentence)]),
            Message::Analysed(outcome) => {
                let outgoing = self.state.accept(outcome);
                self.send(outgoing);
                self.answer_waiting();
            }
        }
    }

    /// Those that wait for an analysis get it once there is one of the newest state.
    fn answer_waiting(&mut self) {
        self.waiting.retain(|(_, reply)| !reply.is_closed());
        if self.state.is_analysed() {
            for (path, reply) in std::mem::take(&mut self.waiting) {
                self.answer(&path, reply);
            }
        }
    }

    fn answer(&self, path: &PathBuf, reply: oneshot::Sender<Snapshot>) {
        if let Some(snapshot) = self.state.snapshot(path) {
            // Nobody waits any more for a request that was cancelled.
            let _ = reply.send(snapshot);
        }
    }

    fn send(&self, outgoing: impl IntoIterator<Item = Outgoing>) {
        for item in outgoing {
            // The client is gone only when the process is ending.
            let _ = self.client.send(item);
        }
    }
}

#[cfg(test)]
mod tests;
