//! The server killed at random moments, while a laptop edits, a phone ticks and books are made; and the command that writes a book killed too.

use crate::SMALL;
use crate::after::{Fate, count, holds, is_whole, undoes_and_redoes};
use crate::chance::Chance;
use crate::maker::{Kept, Maker};
use crate::server::{Server, client, spawn};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};

/// So many kills fall on one store before a new one is begun: histories grow, and each is walked.
const KILLS_A_STORE: usize = 25;

fn number(name: &str, otherwise: u64) -> u64 {
    std::env::var(name).ok().map_or(otherwise, |said| said.parse().unwrap_or_else(|_| panic!("{name} is a number, not `{said}`")))
}

/// What was counted.
#[derive(Debug, Default)]
struct Counted {
    kills: usize,
    while_starting: usize,
    answered: usize,
    there: usize,
    gone: usize,
    steps: usize,
    books: usize,
    books_whole: usize,
    through_the_door: usize,
}

#[test]
fn killed_at_any_moment_it_loses_at_most_what_it_had_not_answered() {
    let (kills, seed) = (number("SEAMFALL_KILLS", 15), number("SEAMFALL_SEED", 1));
    let began = Instant::now();
    let mut chance = Chance(seed);
    let mut counted = Counted::default();
    let mut books = Books::new();
    while counted.kills < kills as usize {
        let rounds = KILLS_A_STORE.min(kills as usize - counted.kills);
        one_store(&mut chance, rounds, &mut counted, &mut books);
    }
    counted.books = books.killed;
    counted.books_whole = books.whole;
    eprintln!("seed {seed}, {:.0} s: {counted:?}", began.elapsed().as_secs_f64());
    assert!(counted.answered > counted.kills, "there was work between the kills");
    if counted.through_the_door == 0 {
        eprintln!("this machine is on no network: the phone ticked without the door");
    }
}

fn one_store(chance: &mut Chance, rounds: usize, counted: &mut Counted, books: &mut Books) {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("seamfall.sqlite");
    let quilt = folder.path().join("small.quilt.toml");
    std::fs::write(&quilt, SMALL).expect("it is written");
    let phones = format!("# the phone's\n{SMALL}");
    let (laptop, phone) = {
        let store = seamfall_store::Store::open(&file).expect("a new store opens");
        (store.create(SMALL, "").expect("it is kept").0, store.create(&phones, "").expect("it is kept").0)
    };
    let mut laptop = Maker::new(vec![Kept::new(laptop, SMALL)], chance.next());
    let mut phone = Maker::new(vec![Kept::new(phone, &phones)], chance.next());
    for round in 0..rounds {
        if chance.below(8) == 0 {
            killed_while_starting(folder.path(), chance);
            counted.while_starting += 1;
        } else {
            killed_at_work(folder.path(), chance, (&mut laptop, &mut phone), counted);
        }
        counted.kills += 1;
        if chance.below(3) == 0 {
            books.killed_at_some_moment(chance);
        }
        is_whole(&file);
        for maker in [&mut laptop, &mut phone] {
            match holds(&file, maker) {
                Fate::Nothing => {}
                Fate::There => counted.there += 1,
                Fate::Gone => counted.gone += 1,
            }
        }
        assert_eq!(count(&file), laptop.quilts.len() + phone.quilts.len(), "no quilt is there that nobody made");
        // The whole history of one, through the store; at the end of all.
        let all: Vec<&Kept> = laptop.quilts.iter().chain(&phone.quilts).collect();
        let walked = if round + 1 == rounds { all.as_slice() } else { &[all[chance.below(all.len())]][..] };
        counted.steps += walked.iter().map(|quilt| undoes_and_redoes(&file, quilt)).sum::<usize>();
    }
    counted.answered += laptop.answered + phone.answered;
}

fn killed_while_starting(data: &Path, chance: &mut Chance) {
    let mut child = spawn(data, &[]);
    thread::sleep(Duration::from_micros(chance.next() % 60_000));
    child.kill().expect("it can be killed");
    child.wait().expect("it ends");
}

fn killed_at_work(data: &Path, chance: &mut Chance, (laptop, phone): (&mut Maker, &mut Maker), counted: &mut Counted) {
    let mut server = Server::start(data, &[]).unwrap_or_else(|(_, said)| panic!("it starts after every kill: {said}"));
    let url = server.url.clone();
    let quilt = laptop.quilts[0].id;
    thread::scope(|scope| {
        let url = &url;
        scope.spawn(|| laptop.at_the_laptop(url));
        let phone = scope.spawn(|| phone.at_the_phone(url));
        scope.spawn(move || while books_are_whole(url, quilt) {});
        thread::sleep(Duration::from_micros(20_000 + chance.next() % 400_000));
        server.kill();
        counted.through_the_door += usize::from(phone.join().expect("the phone goes on until the server is gone"));
    });
}

/// Asks for a book. It comes whole, or as an answer that breaks off before its length; whether it came.
fn books_are_whole(url: &str, quilt: i64) -> bool {
    let Ok(answer) = client().get(format!("{url}/q/{quilt}/book.pdf")).send() else { return false };
    assert!(answer.content_length().is_some(), "a book says how long it is, so that half of it is seen to be half");
    match answer.bytes() {
        Ok(book) => {
            assert!(is_pdf(&book), "a book that came is whole");
            true
        }
        Err(_) => false,
    }
}

fn is_pdf(bytes: &[u8]) -> bool {
    bytes.starts_with(b"%PDF") && bytes.trim_ascii_end().ends_with(b"%%EOF")
}

/// Books written by the command, which is killed.
struct Books {
    folder: tempfile::TempDir,
    /// What the whole one is.
    book: Vec<u8>,
    /// How long it takes.
    takes: Duration,
    killed: usize,
    whole: usize,
}

impl Books {
    fn new() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        std::fs::write(folder.path().join("small.quilt.toml"), SMALL).expect("it is written");
        let began = Instant::now();
        assert!(command(folder.path()).status().expect("it runs").success());
        let takes = began.elapsed();
        let book = std::fs::read(folder.path().join("book.pdf")).expect("it is there");
        assert!(is_pdf(&book));
        Self { folder, book, takes, killed: 0, whole: 0 }
    }

    /// Kills it while it works; every second time about when it is done. What stands there is the old one or the new one, whole.
    fn killed_at_some_moment(&mut self, chance: &mut Chance) {
        let out: PathBuf = self.folder.path().join("book.pdf");
        let old = b"%PDF the book that was there before".as_slice();
        std::fs::write(&out, old).expect("it is written");
        let mut child = command(self.folder.path()).spawn().expect("it runs");
        let share = if chance.below(2) == 0 { chance.below(1000) } else { 850 + chance.below(300) };
        thread::sleep(self.takes.mul_f64(share as f64 / 1000.0));
        child.kill().expect("it can be killed");
        child.wait().expect("it ends");
        let there = std::fs::read(&out).expect("something is there");
        assert!(
            there == old || there == self.book,
            "a book is never there by half: {} of {} bytes",
            there.len(),
            self.book.len()
        );
        self.killed += 1;
        self.whole += usize::from(there == self.book);
    }
}

fn command(folder: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_seamfall"));
    command
        .args(["book", "small.quilt.toml", "--out", "book.pdf"])
        .current_dir(folder)
        .stdout(Stdio::null())
        .stderr(Stdio::null());
    command
}
