//! Where the tests keep their stores: in a file, and on a server. What holds of one holds of the other.

#![allow(dead_code, reason = "no program of tests uses all of it")]

use seamfall_store::Store;
use seamfall_testkit::postgres;
use std::path::Path;

/// A place with nothing in it yet.
#[derive(Debug)]
pub struct Home {
    /// An address as [`open_at`] takes it.
    pub address: String,
    /// A folder for what a test writes besides; the store's own where it is a file.
    pub folder: tempfile::TempDir,
}

impl Home {
    /// Opens the store; a second time it is another user of the same one.
    pub fn open(&self) -> Store {
        open_at(&self.address)
    }
}

/// Opens the store in a file, or in a database where the address is one.
pub fn open_at(address: &str) -> Store {
    let opened = if address.starts_with("postgres:") { Store::connect(address) } else { Store::open(Path::new(address)) };
    opened.expect("the store opens")
}

/// Every kind of place, empty.
pub fn homes() -> Vec<Home> {
    let folder = || tempfile::tempdir().expect("a temporary folder");
    let file = folder();
    let address = file.path().join("seamfall.sqlite").display().to_string();
    let mut homes = vec![Home { address, folder: file }];
    if !postgres::is_left_out() {
        homes.push(Home { address: postgres::address(), folder: folder() });
    }
    homes
}

/// Does a test in every kind of place.
pub fn everywhere(test: impl Fn(&Home)) {
    for home in homes() {
        eprintln!("in {}", home.address);
        test(&home);
        home.folder.close().expect("nobody keeps it");
    }
}
