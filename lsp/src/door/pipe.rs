//! The two ends that the library reads from and writes to: whole messages in memory instead of the process's streams.

use std::{
    io,
    pin::Pin,
    sync::mpsc::Sender,
    task::{Context, Poll, ready},
};

use tokio::{
    io::{AsyncRead, AsyncWrite, ReadBuf},
    sync::mpsc::UnboundedReceiver,
};

use super::{
    Post,
    frame::{self, Frame, Frames},
};

/// Messages that passed the door, as a stream of bytes with headers.
pub struct Incoming {
    bodies: UnboundedReceiver<Vec<u8>>,
    bytes: io::Cursor<Vec<u8>>,
}

impl Incoming {
    pub(super) fn new(bodies: UnboundedReceiver<Vec<u8>>) -> Self {
        Self { bodies, bytes: io::Cursor::default() }
    }

    /// The bytes that are left of the message at hand.
    fn rest(&self) -> &[u8] {
        let at = usize::try_from(self.bytes.position()).unwrap_or(usize::MAX);
        self.bytes.get_ref().get(at..).unwrap_or_default()
    }
}

impl AsyncRead for Incoming {
    fn poll_read(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        into: &mut ReadBuf<'_>,
    ) -> Poll<io::Result<()>> {
        while self.rest().is_empty() {
            let Some(body) = ready!(self.bodies.poll_recv(context)) else { return Poll::Ready(Ok(())) };
            let mut bytes = Vec::with_capacity(body.len() + 32);
            frame::write(&mut bytes, &body)?;
            self.bytes = io::Cursor::new(bytes);
        }
        let room = into.remaining().min(self.rest().len());
        into.put_slice(self.rest().get(..room).unwrap_or_default());
        let at = self.bytes.position() + u64::try_from(room).unwrap_or(0);
        self.bytes.set_position(at);
        Poll::Ready(Ok(()))
    }
}

/// The library's messages, cut out of its bytes again so that the door's own do not fall in between.
pub struct Outgoing {
    post: Sender<Post>,
    bytes: Vec<u8>,
}

impl Outgoing {
    pub(super) const fn new(post: Sender<Post>) -> Self {
        Self { post, bytes: Vec::new() }
    }

    /// Sends the messages that are whole and keeps the rest.
    fn send_whole(&mut self) -> io::Result<()> {
        let mut rest = self.bytes.as_slice();
        loop {
            let mut frames = Frames::new(rest);
            match frames.next()? {
                Frame::Body(body) => {
                    self.post.send(Post::Body(body)).map_err(|_| io::ErrorKind::BrokenPipe)?;
                    rest = frames.into_inner();
                }
                Frame::End | Frame::Broken(_) => break,
            }
        }
        let done = self.bytes.len() - rest.len();
        self.bytes.drain(..done);
        Ok(())
    }
}

impl AsyncWrite for Outgoing {
    fn poll_write(mut self: Pin<&mut Self>, _: &mut Context<'_>, bytes: &[u8]) -> Poll<io::Result<usize>> {
        self.bytes.extend_from_slice(bytes);
        Poll::Ready(self.send_whole().map(|()| bytes.len()))
    }

    fn poll_flush(self: Pin<&mut Self>, _: &mut Context<'_>) -> Poll<io::Result<()>> {
        Poll::Ready(Ok(()))
    }

    fn poll_shutdown(self: Pin<&mut Self>, _: &mut Context<'_>) -> Poll<io::Result<()>> {
        Poll::Ready(Ok(()))
    }
}

#[cfg(test)]
mod tests {
    use std::sync::mpsc::channel;

    use tokio::{
        io::{AsyncReadExt, AsyncWriteExt},
        sync::mpsc::unbounded_channel,
    };

    use super::*;

    #[tokio::test(flavor = "current_thread")]
    async fn messages_become_one_stream() {
        let (sender, receiver) = unbounded_channel();
        for body in ["{}", "[1]"] {
            sender.send(body.as_bytes().to_vec()).unwrap();
        }
        drop(sender);
        let mut text = String::new();
        Incoming::new(receiver).read_to_string(&mut text).await.unwrap();
        assert_eq!(text, "Content-Length: 2\r\n\r\n{}Content-Length: 3\r\n\r\n[1]");
    }

    #[tokio::test(flavor = "current_thread")]
    async fn bytes_become_messages_however_they_are_cut() {
        let mut bytes = Vec::new();
        frame::write(&mut bytes, b"{}").unwrap();
        frame::write(&mut bytes, "[\"µ\"]".as_bytes()).unwrap();
        for size in 1..bytes.len() {
            let (post, received) = channel();
            let mut outgoing = Outgoing::new(post);
            for part in bytes.chunks(size) {
                outgoing.write_all(part).await.unwrap();
            }
            drop(outgoing);
            let bodies = received.into_iter().map(|post| match post {
                Post::Body(body) => String::from_utf8(body).unwrap(),
                Post::Mark(_) => panic!("a mark"),
            });
            assert_eq!(bodies.collect::<Vec<_>>(), ["{}", "[\"µ\"]"], "{size}");
        }
    }
}
