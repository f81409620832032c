//! What has been worked out before.
//!
//! Patterns by the key of their section, gaps by what lies round a section. A result depends on its key alone, so that it is the same
//! with a full memo and with an empty one. What was not asked for in the last run is forgotten.

use super::Pattern;
use seamfall_geom::Gap;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Sections and gaps of earlier runs. Give the same one to every run on a quilt that is being changed.
#[derive(Debug, Default)]
pub struct Memo {
    patterns: BTreeMap<Vec<i64>, Kept<(i64, Arc<Pattern>)>>,
    gaps: BTreeMap<Vec<i64>, Kept<Option<Gap>>>,
    run: u64,
    next: i64,
}

#[derive(Debug)]
struct Kept<T> {
    value: T,
    run: u64,
}

impl Memo {
    /// The pattern of a key, with a number that is its own as long as this memo lives.
    pub(super) fn pattern(&mut self, key: Vec<i64>, make: impl FnOnce(&Vec<i64>) -> Pattern) -> (i64, Arc<Pattern>) {
        if let Some(kept) = self.patterns.get_mut(&key) {
            kept.run = self.run;
            return kept.value.clone();
        }
        let value = (self.next, Arc::new(make(&key)));
        self.next += 1;
        self.patterns.insert(key, Kept { value: value.clone(), run: self.run });
        value
    }

    pub(super) fn gap(&mut self, key: Vec<i64>, make: impl FnOnce() -> Option<Gap>) -> Option<Gap> {
        if let Some(kept) = self.gaps.get_mut(&key) {
            kept.run = self.run;
            return kept.value;
        }
        let value = make();
        self.gaps.insert(key, Kept { value, run: self.run });
        value
    }

    /// Ends a run: what it did not ask for goes.
    pub(super) fn forget(&mut self) {
        let run = self.run;
        self.patterns.retain(|_, kept| kept.run == run);
        self.gaps.retain(|_, kept| kept.run == run);
        self.run += 1;
    }
}
