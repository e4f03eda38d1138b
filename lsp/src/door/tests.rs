//! The door as a whole, with bytes on both sides.

use std::{
    io::{Cursor, PipeReader, PipeWriter, pipe},
    thread,
};

use serde_json::json;
use tokio::io::{AsyncReadExt, AsyncWriteExt};

use super::*;

fn framed(value: &Value) -> Vec<u8> {
    let mut bytes = Vec::new();
    frame::write(&mut bytes, value.to_string().as_bytes()).unwrap();
    bytes
}

fn request(id: i32, method: &str) -> Vec<u8> {
    framed(&json!({ "jsonrpc": "2.0", "id": id, "method": method, "params": {} }))
}

fn notification(method: &str) -> Vec<u8> {
    framed(&json!({ "jsonrpc": "2.0", "method": method }))
}

fn opened(input: Vec<u8>) -> (Incoming, Outgoing, Watch, PipeReader) {
    let (reader, writer) = pipe().unwrap();
    let (incoming, outgoing, watch) = open(Cursor::new(input), writer).unwrap();
    (incoming, outgoing, watch, reader)
}

fn read_all(mut reader: PipeReader) -> Vec<Value> {
    let mut bytes = Vec::new();
    reader.read_to_end(&mut bytes).unwrap();
    let mut frames = Frames::new(bytes.as_slice());
    let mut found = Vec::new();
    while let Ok(Frame::Body(body)) = frames.next() {
        found.push(serde_json::from_slice(&body).unwrap());
    }
    found
}

#[test]
fn exit_without_shutdown_is_1_and_nothing_is_owed() {
    let (_incoming, _outgoing, watch, _reader) =
        opened([request(1, "initialize"), notification("exit")].concat());
    assert_eq!(watch.wait(), 1);
}

#[tokio::test]
async fn exit_waits_for_the_answer_to_shutdown() {
    let (input, mut client): (PipeReader, PipeWriter) = pipe().unwrap();
    let (reader, writer) = pipe().unwrap();
    let (mut incoming, mut outgoing, watch) = open(input, writer).unwrap();
    for bytes in [request(1, "initialize"), request(2, "shutdown"), notification("exit")] {
        client.write_all(&bytes).unwrap();
    }
    let waiting = thread::spawn(move || watch.wait());
    let mut seen = [0; 64];
    assert!(incoming.read(&mut seen).await.unwrap() > 0);
    outgoing.write_all(&framed(&json!({ "jsonrpc": "2.0", "id": 2, "result": null }))).await.unwrap();
    assert_eq!(waiting.join().unwrap(), 0);
    drop((outgoing, incoming, client));
    assert_eq!(read_all(reader), [json!({ "jsonrpc": "2.0", "id": 2, "result": null })]);
}

#[tokio::test]
async fn nonsense_is_answered_and_the_next_message_passes() {
    let good = notification("initialized");
    let (mut incoming, outgoing, watch, reader) =
        opened([b"Content-Length: 1\r\n\r\n{".to_vec(), good.clone()].concat());
    let mut passed = Vec::new();
    incoming.read_to_end(&mut passed).await.unwrap();
    assert_eq!(passed, good);
    watch.bell().send(End::Served).unwrap();
    assert_eq!(watch.wait(), 1, "the input ended without a shutdown");
    drop(outgoing);
    let answers = read_all(reader);
    assert_eq!(answers.len(), 1);
    assert_eq!(answers[0]["error"]["code"], -32700);
}

#[test]
fn an_output_that_nobody_reads_ends_the_process() {
    let (input, _client) = pipe().unwrap();
    let (reader, writer) = pipe().unwrap();
    drop(reader);
    let (_incoming, _outgoing, watch) = open(input, writer).unwrap();
    watch.post.send(Post::Body(b"{}".to_vec())).unwrap();
    assert_eq!(watch.wait(), 1);
}

#[test]
fn a_library_that_ends_unasked_is_our_own_fault() {
    let (input, _client) = pipe().unwrap();
    let (_incoming, _outgoing, watch) = open(input, io::sink()).unwrap();
    watch.bell().send(End::Served).unwrap();
    assert_eq!(watch.wait(), 4);
}
