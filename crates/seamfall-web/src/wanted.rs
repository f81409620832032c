//! Whether anybody still waits for what is being worked out.
//!
//! In: a request that is being answered. Out: for the work that is done for it, whether to go on. When the browser goes away the server drops the request, and
//! with it [`Waiting`]; from then on [`Wanted::still`] says no, and work stops where it asks: in every search for cloth, while a book is set, between the
//! steps of a photograph, between and in the stages of a plan. What is not asked in between (one drawing) is finished, keeps its turn until then, and is
//! thrown away.
//!
//! The same end comes when a request has taken [`LONGEST`], or less where the room was made so.

use crate::trouble::Trouble;
use std::cell::RefCell;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;
use tr::tr;

/// The longest that a request is worked at, its wait for a turn included. The book of a king takes a second of it.
pub const LONGEST: Duration = Duration::from_secs(300);

/// A request that waits. Dropped, nobody waits any more.
pub struct Waiting(Arc<AtomicBool>);

/// The same as seen by the work.
#[derive(Clone)]
pub struct Wanted(Arc<AtomicBool>);

thread_local! {
    /// What the work of this thread is done for.
    static WORK: RefCell<Option<Wanted>> = const { RefCell::new(None) };
}

impl Waiting {
    /// A request that begins to wait.
    pub fn new() -> (Self, Wanted) {
        let gone = Arc::new(AtomicBool::new(false));
        (Self(Arc::clone(&gone)), Wanted(gone))
    }
}

impl Drop for Waiting {
    fn drop(&mut self) {
        self.0.store(true, Ordering::Relaxed);
    }
}

impl Wanted {
    /// Whether somebody waits.
    pub fn still(&self) -> bool {
        !self.0.load(Ordering::Relaxed)
    }

    /// Does work on this thread, which may ask from anywhere.
    pub fn work<T>(self, work: impl FnOnce() -> T) -> T {
        WORK.set(Some(self));
        let done = work();
        WORK.set(None);
        done
    }
}

/// What the work of this thread is done for; what is done for nobody in particular is always wanted.
pub fn by() -> Wanted {
    WORK.with_borrow(|wanted| wanted.clone()).unwrap_or_else(|| Wanted(Arc::default()))
}

/// What is worked out while it is wanted.
pub fn while_wanted<T>(work: impl FnOnce(seamfall_plan::Wanted) -> Option<T>) -> Result<T, Trouble> {
    let wanted = by();
    work(&|| wanted.still()).ok_or_else(gone)
}

/// What is answered to one who does not wait any more.
pub fn gone() -> Trouble {
    Trouble::busy(tr!("nobody waited for this any more, and so it was stopped; ask again"))
}

/// What is answered when a request took too long.
pub fn too_long(longest: Duration) -> Trouble {
    let minutes = longest.as_secs().div_ceil(60);
    Trouble::busy(tr!(
        "this took longer than a minute and was stopped; ask for less at a time, or make the quilt of fewer pieces"
            | "this took longer than {n} minutes and was stopped; ask for less at a time, or make the quilt of fewer pieces"
                % minutes
    ))
}
