//! What all requests share: the store, and the last few quilts worked out.
//!
//! Planning is done off the threads that serve, few at a time: the machine belongs to the maker.

use crate::repaint::Painted;
use crate::trouble::Trouble;
use seamfall_model::Quilt;
use seamfall_plan::Plan;
use seamfall_plan::fall::Effort;
use seamfall_store::{QuiltId, Revision, Store, Stored};
use std::collections::VecDeque;
use std::sync::{Arc, Mutex, PoisonError};
use tokio::sync::Semaphore;

/// Quilts worked out that are remembered: the one before and after an edit, for two windows and a step or two of undo. A king
/// quilt of 6,000 patches takes about 4 MB.
const REMEMBERED: usize = 6;

/// Plans, drawings and books made at one time.
const AT_ONCE: usize = 2;

/// The store and what is remembered.
pub struct Room {
    /// The store.
    pub store: Store,
    remembered: Mutex<VecDeque<Arc<Worked>>>,
    turns: Semaphore,
    /// How much longer than usual a proof was searched for, of the state of a quilt that this was last asked of.
    effort: Mutex<Option<(QuiltId, Revision, Effort)>>,
}

/// A state of a quilt, worked out.
pub struct Worked {
    /// Which quilt.
    pub id: QuiltId,
    /// Its text and its state.
    pub stored: Stored,
    /// Read.
    pub quilt: Quilt,
    /// Planned.
    pub plan: Plan,
    /// Drawn, and the parts of the page that follow from it.
    pub painted: Painted,
}

impl Room {
    /// A room around a store.
    pub fn new(store: Store) -> Arc<Self> {
        Arc::new(Self { store, remembered: Mutex::default(), turns: Semaphore::new(AT_ONCE), effort: Mutex::default() })
    }

    /// Does blocking work when its turn comes.
    pub async fn work<T: Send + 'static>(
        self: &Arc<Self>,
        work: impl FnOnce(&Self) -> Result<T, Trouble> + Send + 'static,
    ) -> Result<T, Trouble> {
        let _turn = self.turns.acquire().await.expect("the turns are never closed");
        let room = Arc::clone(self);
        match tokio::task::spawn_blocking(move || work(&room)).await {
            Ok(done) => done,
            Err(_) => Err(Trouble::fault("this could not be worked out, which is a fault of the program; nothing was changed")),
        }
    }

    /// The quilt as it stands, worked out.
    pub fn worked(&self, id: QuiltId) -> Result<Arc<Worked>, Trouble> {
        let stored = self.store.get(id)?;
        self.work_out(id, stored)
    }

    /// The state of a quilt worked out again, the proof of its falls searched for longer. It stays so until the quilt is edited.
    pub fn search_on(&self, before: &Worked, effort: Effort) -> Result<Arc<Worked>, Trouble> {
        *self.effort.lock().unwrap_or_else(PoisonError::into_inner) = Some((before.id, before.stored.revision, effort));
        let mut remembered = self.remembered.lock().unwrap_or_else(PoisonError::into_inner);
        remembered.retain(|other| other.id != before.id || other.stored.revision != before.stored.revision);
        drop(remembered);
        self.work_out(before.id, before.stored.clone())
    }

    /// A state of the quilt that is remembered.
    pub fn remembered(&self, id: QuiltId, revision: Revision) -> Option<Arc<Worked>> {
        let remembered = self.remembered.lock().unwrap_or_else(PoisonError::into_inner);
        remembered.iter().find(|worked| worked.id == id && worked.stored.revision == revision).map(Arc::clone)
    }

    /// Works out a state and remembers it.
    pub fn work_out(&self, id: QuiltId, stored: Stored) -> Result<Arc<Worked>, Trouble> {
        if let Some(worked) = self.remembered(id, stored.revision)
            && worked.stored == stored
        {
            return Ok(worked);
        }
        let quilt = seamfall_model::read(&stored.text)?;
        let asked = *self.effort.lock().unwrap_or_else(PoisonError::into_inner);
        let effort = asked.filter(|(of, revision, _)| (*of, *revision) == (id, stored.revision)).map(|(.., effort)| effort);
        let plan = seamfall_plan::plan_with(&quilt, effort.unwrap_or_default());
        let painted = Painted::new(&format!("/q/{id}/"), &quilt, &plan);
        let worked = Arc::new(Worked { id, stored, quilt, plan, painted });
        let mut remembered = self.remembered.lock().unwrap_or_else(PoisonError::into_inner);
        remembered.retain(|other| other.id != id || other.stored.revision != worked.stored.revision);
        remembered.push_front(Arc::clone(&worked));
        remembered.truncate(REMEMBERED);
        Ok(worked)
    }
}
