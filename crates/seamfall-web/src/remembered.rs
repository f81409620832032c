//! What is remembered of quilts, for speed only: the last used, within bounds.
//!
//! In: things that belong to quilts, with about how many bytes they take. Out: those of a quilt, the last used first. What was used longest ago goes first:
//! beyond so many of one quilt, so many in all, and so many bytes.

use seamfall_store::QuiltId;
use std::collections::VecDeque;

/// How much is remembered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Most {
    /// In all.
    pub all: usize,
    /// Of one quilt.
    pub of_one: usize,
    /// Bytes, about.
    pub bytes: usize,
}

/// Things of quilts.
#[derive(Debug)]
pub struct Remembered<T> {
    most: Most,
    things: VecDeque<(QuiltId, usize, T)>,
}

impl<T> Remembered<T> {
    /// Nothing yet.
    pub fn new(most: Most) -> Self {
        Self { most, things: VecDeque::new() }
    }

    /// What is remembered of a quilt, the last used first.
    pub fn of(&self, quilt: QuiltId) -> impl Iterator<Item = &T> {
        self.things.iter().filter(move |(of, ..)| *of == quilt).map(|(.., thing)| thing)
    }

    /// Remembers one more, of about so many bytes. The last one stays, however large it is. Gives what is forgotten for it.
    pub fn remember(&mut self, quilt: QuiltId, bytes: usize, thing: T) -> Vec<T> {
        let (most, mut of_one, mut all, mut held) = (self.most, 1, 1, bytes);
        let (mut kept, mut forgotten) = (VecDeque::from([(quilt, bytes, thing)]), Vec::new());
        for (of, bytes, thing) in self.things.drain(..) {
            let is_one_too_many = of == quilt && of_one >= most.of_one;
            if all < most.all && !is_one_too_many && held.saturating_add(bytes) <= most.bytes {
                all += 1;
                of_one += usize::from(of == quilt);
                held += bytes;
                kept.push_back((of, bytes, thing));
            } else {
                forgotten.push(thing);
            }
        }
        self.things = kept;
        forgotten
    }

    /// Lets go of those of a quilt of which this holds.
    pub fn forget(&mut self, quilt: QuiltId, is: impl Fn(&T) -> bool) {
        self.things.retain(|(of, _, thing)| *of != quilt || !is(thing));
    }

    /// Takes the last used one of a quilt out.
    pub fn take(&mut self, quilt: QuiltId) -> Option<T> {
        let at = self.things.iter().position(|(of, ..)| *of == quilt)?;
        self.things.remove(at).map(|(.., thing)| thing)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn filled(most: Most, things: &[(i64, usize, char)]) -> String {
        let mut remembered = Remembered::new(most);
        for (quilt, bytes, thing) in things {
            let _ = remembered.remember(QuiltId(*quilt), *bytes, *thing);
        }
        remembered.things.iter().map(|(.., thing)| thing).collect()
    }

    #[test]
    fn what_was_used_longest_ago_goes_first() {
        let most = Most { all: 3, of_one: 2, bytes: 10 };
        for (things, kept) in [
            (&[(1, 1, 'a'), (2, 1, 'b'), (3, 1, 'c'), (4, 1, 'd')][..], "dcb"),
            (&[(1, 1, 'a'), (2, 1, 'b'), (1, 1, 'c'), (1, 1, 'd')], "dcb"),
            (&[(1, 1, 'a'), (2, 9, 'b'), (3, 3, 'c')], "ca"),
            (&[(1, 1, 'a'), (2, 99, 'b')], "b"),
        ] {
            assert_eq!(filled(most, things), kept);
        }
    }

    #[test]
    fn those_of_a_quilt_are_found_taken_and_let_go_of() {
        let mut remembered = Remembered::new(Most { all: 9, of_one: 9, bytes: 9 });
        for (quilt, thing) in [(1, 'a'), (2, 'b'), (1, 'c')] {
            assert!(remembered.remember(QuiltId(quilt), 1, thing).is_empty());
        }
        assert_eq!(remembered.of(QuiltId(1)).collect::<String>(), "ca");
        assert_eq!((remembered.take(QuiltId(1)), remembered.take(QuiltId(3))), (Some('c'), None));
        remembered.forget(QuiltId(1), |thing| *thing == 'a');
        assert_eq!((remembered.of(QuiltId(1)).count(), remembered.of(QuiltId(2)).count()), (0, 1));
    }
}
