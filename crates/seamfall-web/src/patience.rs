//! How often somebody may still ask: a bucket that fills slowly, up to a brim.
//!
//! In: who asks. Out: whether she may. Full buckets are forgotten, so that memory is bounded by those who asked a moment ago.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};
use std::time::Instant;

/// Buckets of those who ask, each filled by `a_second` up to `at_once`.
#[derive(Debug)]
pub struct Patience<Who> {
    a_second: f64,
    at_once: f64,
    buckets: Mutex<BTreeMap<Who, (f64, Instant)>>,
}

impl<Who: Ord + Clone> Patience<Who> {
    /// So many requests a second in the long run, and so many at once.
    pub fn new(a_second: f64, at_once: f64) -> Self {
        Self { a_second, at_once, buckets: Mutex::default() }
    }

    /// Whether `who` may ask now; it counts as asked.
    pub fn allows(&self, who: &Who) -> bool {
        self.left(who, 1.0)
    }

    /// Whether `who` could ask now; nothing is counted.
    pub fn would_allow(&self, who: &Who) -> bool {
        self.left(who, 0.0)
    }

    fn left(&self, who: &Who, taken: f64) -> bool {
        let mut buckets = self.buckets.lock().unwrap_or_else(PoisonError::into_inner);
        let now = Instant::now();
        let filled =
            |(left, since): (f64, Instant)| (left + self.a_second * now.duration_since(since).as_secs_f64()).min(self.at_once);
        buckets.retain(|_, bucket| filled(*bucket) < self.at_once);
        let left = buckets.get(who).map_or(self.at_once, |bucket| filled(*bucket));
        let may = left >= 1.0;
        if may && taken > 0.0 {
            buckets.insert(who.clone(), (left - taken, now));
        }
        may
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bucket_runs_dry() {
        let patience = Patience::new(1e-6, 3.0);
        assert!((0..3).all(|_| patience.allows(&"one")));
        assert!(!patience.allows(&"one") && !patience.would_allow(&"one"));
        assert!(patience.allows(&"other"), "everybody has her own");
    }

    #[test]
    fn a_bucket_fills_again() {
        let patience = Patience::new(1000.0, 1.0);
        assert!(patience.allows(&"one"));
        std::thread::sleep(std::time::Duration::from_millis(5));
        assert!(patience.would_allow(&"one") && patience.allows(&"one"));
    }
}
