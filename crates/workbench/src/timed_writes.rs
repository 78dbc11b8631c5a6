use std::future::Future;
use std::io::{Error, ErrorKind, IoSlice, Result};
use std::pin::Pin;
use std::task::{Context, Poll, ready};
use std::time::Duration;

use tokio::io::{AsyncRead, AsyncWrite, ReadBuf};
use tokio::time::{Sleep, sleep};

/// A stream by which an answer must be taken within a time: whoever asks and does not read
/// is let go.
#[derive(Debug)]
pub(crate) struct TimedWrites<S> {
    stream: S,
    longest: Duration,
    /// Runs while something waits to be taken.
    over: Option<Pin<Box<Sleep>>>,
}

impl<S> TimedWrites<S> {
    pub(crate) fn new(stream: S, longest: Duration) -> TimedWrites<S> {
        TimedWrites {
            stream,
            longest,
            over: None,
        }
    }

    /// What came of a write; an error where it waits for too long.
    fn in_time<T>(
        &mut self,
        written: Poll<Result<T>>,
        context: &mut Context<'_>,
    ) -> Poll<Result<T>> {
        if written.is_ready() {
            return written;
        }
        let longest = self.longest;
        let over = self.over.get_or_insert_with(|| Box::pin(sleep(longest)));
        ready!(over.as_mut().poll(context));
        Poll::Ready(Err(Error::from(ErrorKind::TimedOut)))
    }
}

impl<S: AsyncRead + Unpin> AsyncRead for TimedWrites<S> {
    fn poll_read(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        buffer: &mut ReadBuf<'_>,
    ) -> Poll<Result<()>> {
        Pin::new(&mut self.stream).poll_read(context, buffer)
    }
}

impl<S: AsyncWrite + Unpin> AsyncWrite for TimedWrites<S> {
    fn poll_write(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        bytes: &[u8],
    ) -> Poll<Result<usize>> {
        let written = Pin::new(&mut self.stream).poll_write(context, bytes);
        self.in_time(written, context)
    }

    fn poll_write_vectored(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        pieces: &[IoSlice<'_>],
    ) -> Poll<Result<usize>> {
        let written = Pin::new(&mut self.stream).poll_write_vectored(context, pieces);
        self.in_time(written, context)
    }

    fn is_write_vectored(&self) -> bool {
        self.stream.is_write_vectored()
    }

    fn poll_flush(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<Result<()>> {
        let flushed = Pin::new(&mut self.stream).poll_flush(context);
        if flushed.is_ready() {
            // All of it is taken.
            self.over = None;
        }
        self.in_time(flushed, context)
    }

    fn poll_shutdown(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<Result<()>> {
        Pin::new(&mut self.stream).poll_shutdown(context)
    }
}

#[cfg(test)]
mod tests {
    use std::future::poll_fn;

    use tokio::net::{TcpListener, TcpStream};

    use super::*;

    #[tokio::test]
    async fn an_answer_that_nobody_takes_is_given_up() {
        let listener = TcpListener::bind("127.0.0.1:0").await.unwrap();
        let _reads_nothing = TcpStream::connect(listener.local_addr().unwrap())
            .await
            .unwrap();
        let (stream, _) = listener.accept().await.unwrap();
        let mut stream = TimedWrites::new(stream, Duration::from_millis(30));
        let bytes = vec![0; 1 << 16];
        let mut written = 0;
        let error = loop {
            let write = poll_fn(|context| Pin::new(&mut stream).poll_write(context, &bytes));
            match write.await {
                Ok(length) => written += length,
                Err(error) => break error,
            }
        };
        assert_eq!(error.kind(), ErrorKind::TimedOut);
        assert!(written > 0, "what the system holds was written");
    }
}
