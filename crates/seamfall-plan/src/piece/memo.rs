//! Orders that have been found before.
//!
//! In: a block as it is drafted, with the pieces of its frame and their cloths. Out: its natural orders, which depend on these alone, so that they are
//! the same with a full memo and with an empty one. What was not asked for in the last run is forgotten.

use super::Sewing;
use crate::draft::Draft;
use seamfall_geom::Loop;
use std::sync::Arc;

/// Orders of earlier runs. Give the same one to every run on a quilt that is being changed.
#[derive(Debug, Default)]
pub struct Memo(Vec<Kept>);

#[derive(Debug)]
struct Kept {
    draft: Draft,
    frame: Vec<Loop>,
    cloths: Vec<usize>,
    orders: Arc<Vec<Sewing>>,
    is_asked: bool,
}

impl Memo {
    /// The orders of a block in its frame, found by `find` where they are not known; nothing where it finds none.
    pub(super) fn orders(
        &mut self,
        draft: &Draft,
        frame: &[Loop],
        cloths: &[usize],
        find: impl FnOnce() -> Option<Vec<Sewing>>,
    ) -> Option<Arc<Vec<Sewing>>> {
        let is_this = |kept: &&mut Kept| kept.cloths == cloths && kept.frame == frame && kept.draft == *draft;
        if let Some(kept) = self.0.iter_mut().find(is_this) {
            kept.is_asked = true;
            return Some(Arc::clone(&kept.orders));
        }
        let orders = Arc::new(find()?);
        self.0.push(Kept {
            draft: draft.clone(),
            frame: frame.to_vec(),
            cloths: cloths.to_vec(),
            orders: Arc::clone(&orders),
            is_asked: true,
        });
        Some(orders)
    }

    /// Ends a run: what it did not ask for goes.
    pub(super) fn forget(&mut self) {
        self.0.retain_mut(|kept| std::mem::take(&mut kept.is_asked));
    }
}
