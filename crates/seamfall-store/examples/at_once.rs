//! How long an edit takes to be kept, from the store being told to its answer: one who edits, and fifty at once.
//!
//! Run: `cargo run --release -p seamfall-store --example at_once -- PLACE`, PLACE being a file that is not there yet, or the address of an empty database.
//! Each has a quilt of her own of some 5,000 letters and edits it again and again for a few seconds; then all tick in the ledger of one quilt. Prints the edits
//! a second, and the time within which half, 95 and 99 of a hundred were answered, in milliseconds.

use seamfall_store::{Edited, QuiltId, Store, StoreError};
use std::path::Path;
use std::time::{Duration, Instant};

const LASTING: Duration = Duration::from_secs(5);

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let place = std::env::args().nth(1).ok_or("say a file or the address of a database")?;
    let store = if place.starts_with("postgres:") { Store::connect(&place)? } else { Store::open(Path::new(&place))? };
    let text = "a line of a quilt file, some forty letters\n".repeat(120);
    for people in [1, 8, 50] {
        let own = (0..people).map(|_| store.create(&text, "")).collect::<Result<Vec<_>, _>>()?;
        let times = at_once(&own, |quilt, number| {
            let now = store.get(quilt)?;
            let begun = Instant::now();
            let text = format!("# {number}\n{text}");
            store.commit(quilt, now.revision, Edited { text: &text, ledger: "", what: "edit" })?;
            Ok(begun.elapsed())
        })?;
        told(people, "edit a quilt each", times);
        let one = store.create(&text, "")?;
        let times = at_once(&vec![one; people], |quilt, _| {
            let seen = store.get(quilt)?.revision;
            let begun = Instant::now();
            let tick = |now: &seamfall_store::Stored| {
                Ok::<_, StoreError>((if now.ledger.is_empty() { "x" } else { "" }.to_owned(), "tick".to_owned()))
            };
            store.edit_ledger(quilt, seen, tick)?;
            Ok(begun.elapsed())
        })?;
        told(people, "tick in one quilt", times);
    }
    Ok(())
}

/// Everyone at once, again and again; how long each time took.
fn at_once(
    quilts: &[QuiltId],
    edit: impl Fn(QuiltId, usize) -> Result<Duration, StoreError> + Sync,
) -> Result<Vec<Duration>, StoreError> {
    let begun = Instant::now();
    let (edit, mut all) = (&edit, Vec::new());
    std::thread::scope(|scope| -> Result<(), StoreError> {
        let each = quilts.iter().map(|quilt| {
            scope.spawn(move || {
                (0..)
                    .take_while(|_| begun.elapsed() < LASTING)
                    .map(|number| edit(*quilt, number))
                    .collect::<Result<Vec<_>, StoreError>>()
            })
        });
        for times in each.collect::<Vec<_>>() {
            all.extend(times.join().expect("no edit panics")?);
        }
        Ok(())
    })?;
    Ok(all)
}

fn told(people: usize, what: &str, mut times: Vec<Duration>) {
    times.sort_unstable();
    let within = |share: usize| times[(times.len() - 1) * share / 100].as_secs_f64() * 1000.0;
    let rate = times.len() as f64 / LASTING.as_secs_f64();
    println!("{people:>3} {what:<18} {rate:>7.0} a second {:>8.2} {:>8.2} {:>8.2} ms", within(50), within(95), within(99));
}
