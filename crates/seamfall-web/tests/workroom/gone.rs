//! What is worked out for a browser that goes away.

use crate::common::Served;
use std::io::{Read, Write};
use std::net::TcpStream;
use std::thread::sleep;
use std::time::{Duration, Instant};

/// Asks, and waits for the answer; how long that took.
fn answered(served: &Served, path: &str) -> Duration {
    let begun = Instant::now();
    let answer = reqwest::blocking::Client::builder().timeout(Duration::from_secs(300)).build().expect("a client");
    let answer = answer.get(served.url(path)).send().expect("the server answers");
    assert_eq!(answer.status().as_u16(), 200, "{path}");
    answer.bytes().expect("the whole answer");
    begun.elapsed()
}

/// Asks as a browser does that is closed meanwhile.
fn asked(served: &Served, path: &str) -> TcpStream {
    let mut browser = TcpStream::connect(served.address).expect("it listens");
    let address = served.url(path);
    let path = address.split_once(&served.address.to_string()).expect("an address of the server").1;
    write!(browser, "GET {path} HTTP/1.1\r\nHost: {}\r\n\r\n", served.address).expect("it can be asked");
    browser
}

/// There are two turns. Two books that nobody waits for any more give theirs back long before they would be done.
#[test]
fn a_book_that_nobody_waits_for_is_not_set() {
    let served = Served::quilt(include_str!("../../../../quilts/lamplight.quilt.toml"));
    // The first one plans and searches the cloth too; what is measured is the setting of another one.
    answered(&served, "~/book.pdf?marking=none");
    let whole = answered(&served, "~/book.pdf?paper=a4&type=large");
    let browsers =
        ["~/book.pdf?ink=black&type=large", "~/book.pdf?paper=a4&ink=black&type=large"].map(|path| asked(&served, path));
    // Both are at work: a small thing has to wait for them.
    sleep(whole / 10);
    for browser in &browsers {
        browser.set_nonblocking(true).expect("it is a socket");
        assert!((&mut &*browser).read(&mut [0]).is_err(), "a book is not done so soon");
    }
    drop(browsers);
    let waited = answered(&served, "~/revision");
    assert!(waited < whole / 3, "waited {waited:?} for two books that nobody waits for; one takes {whole:?}");
    // And what was stopped can be had again.
    answered(&served, "~/book.pdf?ink=black&type=large");
}
