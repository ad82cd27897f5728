//! One connection: a request read within limits of size and time, and its answer.

use std::io::{Read, Result, Write};
use std::net::{Shutdown, TcpStream};
use std::sync::Arc;
use std::thread;
use std::time::{Duration, Instant};

use super::serve::Server;
use crate::live::http::{self, Head, Response};
use crate::live::route::Route;

/// Longest that a request may take to come in, and an answer to be taken.
const PATIENCE: Duration = Duration::from_secs(10);
/// How often a page that listens for events is sent a sign of life, so that one that went away is noticed.
const SIGN_OF_LIFE: Duration = Duration::from_secs(5);

/// Serves a connection on a thread of its own.
pub(super) fn start(server: &Arc<Server>, stream: TcpStream) {
    if !server.enter() {
        let full = Response::refused(503, "too many pages are open at once", "");
        let _ = prepare(&stream).and_then(|()| (&stream).write_all(&full.bytes()));
        return;
    }
    let seat = Seat(Arc::clone(server));
    // Without a thread to serve it the connection is closed, and its place given back.
    let _ = thread::Builder::new().spawn(move || {
        // Whoever goes away in the middle needs no answer.
        let _ = serve(&seat.0, &stream);
    });
}

/// A place among the connections, given back however its thread ends.
struct Seat(Arc<Server>);

impl Drop for Seat {
    fn drop(&mut self) {
        self.0.leave();
    }
}

fn prepare(stream: &TcpStream) -> Result<()> {
    stream.set_nonblocking(false)?;
    stream.set_nodelay(true)?;
    stream.set_read_timeout(Some(PATIENCE))?;
    stream.set_write_timeout(Some(PATIENCE))
}

fn serve(server: &Server, stream: &TcpStream) -> Result<()> {
    prepare(stream)?;
    let asked = request(stream).and_then(|(head, start)| {
        // Whether it may be asked is known before the body is read.
        let route = server.admit(&head)?;
        let body = body(stream, start, head.length)?;
        Ok((route, head, body))
    });
    match asked {
        Ok((Route::Events, ..)) => events(server, stream),
        Ok((route, head, body)) => finish(stream, &server.answer(route, &head, &body)),
        Err(refused) => finish(stream, &refused),
    }
}

/// Sends an answer, and takes what is still on its way, so that the answer isn't lost with it.
fn finish(mut stream: &TcpStream, answer: &Response) -> Result<()> {
    stream.write_all(&answer.bytes())?;
    stream.shutdown(Shutdown::Write)?;
    stream.set_read_timeout(Some(Duration::from_millis(500)))?;
    let mut rest = [0_u8; 4096];
    for _ in 0..64 {
        if stream.read(&mut rest)? == 0 {
            break;
        }
    }
    Ok(())
}

/// Reads the head of a request, and what came of the body with it.
fn request(stream: &TcpStream) -> std::result::Result<(Head, Vec<u8>), Response> {
    let began = Instant::now();
    let mut bytes = Vec::new();
    loop {
        if let Some((head, length)) = http::head(&bytes)? {
            let rest = bytes.split_off(length);
            return Ok((head, rest));
        }
        more(stream, &mut bytes, began)?;
    }
}

fn body(
    stream: &TcpStream,
    mut bytes: Vec<u8>,
    length: usize,
) -> std::result::Result<Vec<u8>, Response> {
    let began = Instant::now();
    while bytes.len() < length {
        more(stream, &mut bytes, began)?;
    }
    bytes.truncate(length);
    Ok(bytes)
}

/// Some more bytes; a peer that sends one now and then runs out of time all the same.
fn more(
    mut stream: &TcpStream,
    bytes: &mut Vec<u8>,
    began: Instant,
) -> std::result::Result<(), Response> {
    let mut part = [0_u8; 4096];
    let late = || Response::refused(408, "the request took too long", "");
    if began.elapsed() > PATIENCE {
        return Err(late());
    }
    match stream.read(&mut part) {
        Ok(0) => Err(Response::refused(400, "the request ends too soon", "")),
        Ok(n) => {
            bytes.extend_from_slice(&part[..n]);
            Ok(())
        }
        Err(_) => Err(late()),
    }
}

/// Tells of every change, until the page or the program goes away.
fn events(server: &Server, mut stream: &TcpStream) -> Result<()> {
    stream.write_all(http::event_head().as_bytes())?;
    let mut known = None;
    while !server.stopped() {
        let (changes, version) = server.next_change(known, SIGN_OF_LIFE);
        let text = if known == Some(changes) {
            "event: alive\ndata:\n\n".to_owned()
        } else {
            format!("event: change\nid: {changes}\ndata: {version}\n\n")
        };
        known = Some(changes);
        stream.write_all(text.as_bytes())?;
    }
    stream.shutdown(Shutdown::Both)
}
