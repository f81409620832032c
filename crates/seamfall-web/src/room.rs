//! What all requests share: the store, and the quilts worked out last.
//!
//! Planning is done off the threads that serve, few at a time: the machine belongs to the maker.

use crate::asker;
use crate::class::Classes;
use crate::drape::Runs;
use crate::photos::Photos;
use crate::remembered::{Most, Remembered};
use crate::repaint::Painted;
use crate::share::Door;
use crate::trouble::Trouble;
use crate::wanted::{self, Waiting};
use seamfall_model::{Ledger, Quilt};
use seamfall_plan::cut::{ToBuy, searched_while};
use seamfall_plan::{Designed, Effort, Memo, Plan, Wanted, designed_while, fall, plan_while};
use seamfall_store::{Edited, QuiltId, Revision, Store, StoreError, Stored};
use std::collections::VecDeque;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;
use tokio::sync::Semaphore;
use tr::tr;

/// Quilts worked out that are remembered: the one before and after an edit, for two windows and a step or two of undo. A king
/// quilt of 6,000 patches takes about 4 MB.
const ONE_MAKER: Most = Most { all: 6, of_one: 6, bytes: usize::MAX };

/// In a guild: of every quilt that is open the one before and after an edit, in 512 MiB.
const GUILD: Most = Most { all: 400, of_one: 2, bytes: 512 << 20 };

/// What a quilt worked out takes for every byte of its drawing: see docs/guild.md.
const TIMES_ITS_DRAWING: usize = 4;

/// Layouts that are remembered: those of a few quilts. One of a thousand strips takes some hundred kilobytes.
const LAYOUTS: usize = 60;

/// Plans, drawings and books made at one time.
const AT_ONCE: usize = 2;

/// The store and what is remembered.
pub struct Room {
    /// The store.
    pub store: Store,
    /// The door to the local network.
    pub door: Door,
    /// Cloths that are being draped over a bed.
    pub runs: Runs,
    /// Classes worked out.
    pub classes: Classes,
    remembered: Mutex<Remembered<Arc<Worked>>>,
    turns: Arc<Semaphore>,
    long: Arc<Semaphore>,
    longest: Duration,
    /// How much longer than usual a proof was searched for, of the state of a quilt that this was last asked of.
    effort: Mutex<Option<(QuiltId, Revision, fall::Effort)>>,
    /// Layouts that were searched, each behind the one that stood there at first: the same cut list gives the same layout.
    laid: Mutex<VecDeque<(ToBuy, ToBuy)>>,
    /// What was worked out of each quilt that was planned last.
    memos: Mutex<Remembered<Memo>>,
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

impl Worked {
    fn is_state(&self, revision: Revision) -> bool {
        self.stored.revision == revision
    }

    /// About how much memory it takes, measured against the drawing, which is known and goes with everything else.
    fn bytes(&self) -> usize {
        TIMES_ITS_DRAWING * self.painted.drawing.svg.len()
    }
}

impl Room {
    /// A room around a store, for a single maker.
    pub fn new(store: Store) -> Arc<Self> {
        Self::with(store, ONE_MAKER, wanted::LONGEST)
    }

    /// A room around the store of a guild.
    pub fn for_guild(store: Store) -> Arc<Self> {
        Self::with(store, GUILD, wanted::LONGEST)
    }

    /// The same for a single maker, where a request is worked at no longer than this.
    pub fn hurried(store: Store, longest: Duration) -> Arc<Self> {
        Self::with(store, ONE_MAKER, longest)
    }

    fn with(store: Store, most: Most, longest: Duration) -> Arc<Self> {
        Arc::new(Self {
            store,
            door: Door::default(),
            runs: Runs::default(),
            classes: Classes::default(),
            remembered: Mutex::new(Remembered::new(most)),
            turns: Arc::new(Semaphore::new(AT_ONCE)),
            long: Arc::new(Semaphore::new(AT_ONCE - 1)),
            longest,
            effort: Mutex::default(),
            laid: Mutex::default(),
            memos: Mutex::new(Remembered::new(Most { all: most.all / 3, of_one: 1, ..most })),
        })
    }

    /// Does blocking work when its turn comes, for as long as somebody waits for it. Its turn ends with the work, not with the wait.
    pub async fn work<T: Send + 'static>(
        self: &Arc<Self>,
        work: impl FnOnce(&Self) -> Result<T, Trouble> + Send + 'static,
    ) -> Result<T, Trouble> {
        self.in_turn(&[&self.turns], work).await
    }

    /// The same for what takes long, such as a book or a search: one at a time, so that an edit never waits for two of them.
    pub async fn work_long<T: Send + 'static>(
        self: &Arc<Self>,
        work: impl FnOnce(&Self) -> Result<T, Trouble> + Send + 'static,
    ) -> Result<T, Trouble> {
        self.in_turn(&[&self.long, &self.turns], work).await
    }

    async fn in_turn<T: Send + 'static>(
        self: &Arc<Self>,
        of: &[&Arc<Semaphore>],
        work: impl FnOnce(&Self) -> Result<T, Trouble> + Send + 'static,
    ) -> Result<T, Trouble> {
        let (_waiting, wanted) = Waiting::new();
        let (room, asker) = (Arc::clone(self), asker::here());
        let done = async move {
            let mut turns = Vec::new();
            for one in of {
                turns.push(Arc::clone(one).acquire_owned().await.expect("the turns are never closed"));
            }
            let work = move || {
                let done = asker::for_her(asker, || wanted.work(|| work(&room)));
                drop(turns);
                done
            };
            tokio::task::spawn_blocking(work).await
        };
        match tokio::time::timeout(self.longest, done).await {
            Ok(Ok(done)) => done,
            Ok(Err(_)) => {
                Err(Trouble::fault(tr!("this could not be worked out, which is a fault of the program; nothing was changed")))
            }
            Err(_) => Err(wanted::too_long(self.longest)),
        }
    }

    /// The quilt as it stands, worked out.
    pub fn worked(&self, id: QuiltId) -> Result<Arc<Worked>, Trouble> {
        let stored = self.store.get(id)?;
        self.work_out(id, stored)
    }

    /// The state of a quilt worked out again, the proof of its falls searched for longer. It stays so until the quilt is edited.
    pub fn search_on(&self, before: &Worked, effort: fall::Effort) -> Result<Arc<Worked>, Trouble> {
        *self.effort.lock().unwrap_or_else(PoisonError::into_inner) = Some((before.id, before.stored.revision, effort));
        self.remembered
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
            .forget(before.id, |other| other.is_state(before.stored.revision));
        self.work_out(before.id, before.stored.clone())
    }

    /// A state of the quilt that is remembered.
    pub fn remembered(&self, id: QuiltId, revision: Revision) -> Option<Arc<Worked>> {
        let remembered = self.remembered.lock().unwrap_or_else(PoisonError::into_inner);
        remembered.of(id).find(|worked| worked.is_state(revision)).map(Arc::clone)
    }

    /// Works out a state and remembers it.
    pub fn work_out(&self, id: QuiltId, stored: Stored) -> Result<Arc<Worked>, Trouble> {
        if let Some(worked) = self.remembered(id, stored.revision)
            && worked.stored == stored
        {
            return Ok(worked);
        }
        let quilt = seamfall_model::read(&stored.text)?;
        let ledger = seamfall_model::read_ledger(&stored.ledger, &quilt)?;
        let asked = *self.effort.lock().unwrap_or_else(PoisonError::into_inner);
        let effort = asked.filter(|(of, revision, _)| (*of, *revision) == (id, stored.revision)).map(|(.., effort)| effort);
        let effort = effort.map_or(Effort::EDIT, |falls| Effort { falls, ..Effort::EDIT });
        let plan = self.plan(id, &quilt, &ledger, effort)?;
        let painted = Painted::new(&quilt, &plan, self.photos(id, &quilt));
        Ok(self.remember(Worked { id, stored, quilt, plan, painted }))
    }

    /// Records an edit and works it out, both at once: writing waits for the disk, planning for nothing. What the store refuses is not shown.
    /// `quilt` is what the text was read as.
    pub fn commit(&self, before: &Worked, edited: Edited, quilt: Quilt) -> Result<Arc<Worked>, Trouble> {
        let ledger = seamfall_model::read_ledger(edited.ledger, &quilt)?;
        // Before the store is busy with the edit.
        let photos = self.photos(before.id, &quilt);
        std::thread::scope(|scope| {
            let written = scope.spawn(|| self.store.commit(before.id, before.stored.revision, edited));
            let plan = self.plan(before.id, &quilt, &ledger, Effort::EDIT)?;
            let painted = Painted::new(&quilt, &plan, photos);
            let written = written
                .join()
                .map_err(|_| Trouble::fault(tr!("the edit could not be written, which is a fault of the program")))?;
            Ok(self.remember(Worked { id: before.id, stored: written?, quilt, plan, painted }))
        })
    }

    /// Plans a quilt with what is remembered of it as it was planned last, and of layouts that were searched.
    pub fn plan(&self, id: QuiltId, quilt: &Quilt, ledger: &Ledger, effort: Effort) -> Result<Plan, Trouble> {
        let mut plan = self.with_memo(id, |memo, wanted| plan_while(quilt, ledger, effort, memo, wanted))?;
        plan.cutting.bought.iter_mut().for_each(|bought| self.recall(bought));
        Ok(plan)
    }

    /// What a quilt is made of, whatever has been sewn of it.
    pub fn designed(&self, id: QuiltId, quilt: &Quilt) -> Result<Designed, Trouble> {
        self.with_memo(id, |memo, wanted| designed_while(quilt, memo, wanted))
    }

    fn with_memo<T>(&self, id: QuiltId, work: impl FnOnce(&mut Memo, Wanted) -> Option<T>) -> Result<T, Trouble> {
        // Taken out while it is used, so that nobody need wait; a second window on the same quilt then begins without it.
        let mut memo = self.memos.lock().unwrap_or_else(PoisonError::into_inner).take(id).unwrap_or_default();
        let done = wanted::while_wanted(|wanted| work(&mut memo, wanted));
        let forgotten = self.memos.lock().unwrap_or_else(PoisonError::into_inner).remember(id, 0, memo);
        drop(forgotten);
        done
    }

    fn remember(&self, worked: Worked) -> Arc<Worked> {
        let bytes = worked.bytes();
        let worked = Arc::new(worked);
        let mut remembered = self.remembered.lock().unwrap_or_else(PoisonError::into_inner);
        remembered.forget(worked.id, |other| other.is_state(worked.stored.revision));
        let forgotten = remembered.remember(worked.id, bytes, Arc::clone(&worked));
        drop(remembered);
        // A king is ten thousand pieces to give back; nobody waits for that.
        if !forgotten.is_empty() {
            std::thread::spawn(|| drop(forgotten));
        }
        worked
    }

    /// The photographs that a quilt shows; without them it is shown in the colours of its cloths.
    fn photos(&self, id: QuiltId, quilt: &Quilt) -> Photos {
        Photos::of(&self.store, id, quilt).unwrap_or_default()
    }

    /// Forgets what is remembered of a quilt: something that it shows has changed without it.
    pub fn forget(&self, id: QuiltId) {
        self.remembered.lock().unwrap_or_else(PoisonError::into_inner).forget(id, |_| true);
    }

    /// The quilt as it stands, if it still stands as it is shown.
    pub fn shown(&self, id: QuiltId, revision: i64) -> Result<Arc<Worked>, Trouble> {
        let worked = self.worked(id)?;
        if worked.stored.revision.0 == revision { Ok(worked) } else { Err(StoreError::ChangedElsewhere.into()) }
    }

    /// The quilt as it stands, every cloth searched.
    pub fn searched(&self, id: QuiltId) -> Result<Arc<Worked>, Trouble> {
        self.less_cloth(&self.worked(id)?, usize::MAX)
    }

    /// The same state, the first cloths that were not searched yet searched for less, so many of them at most.
    pub fn less_cloth(&self, before: &Arc<Worked>, most: usize) -> Result<Arc<Worked>, Trouble> {
        let open = before.plan.cutting.bought.iter().enumerate().filter(|(_, bought)| bought.is_first);
        let open: Vec<usize> = open.map(|(number, _)| number).take(most).collect();
        if open.is_empty() {
            return Ok(Arc::clone(before));
        }
        let mut plan = before.plan.clone();
        for number in open {
            // Each is remembered, so that nothing is lost when nobody waits any more.
            self.search(&before.quilt, &mut plan, number)?;
        }
        let painted = Painted::new(&before.quilt, &plan, before.painted.photos.clone());
        Ok(self.remember(Worked { id: before.id, stored: before.stored.clone(), quilt: before.quilt.clone(), plan, painted }))
    }

    fn search(&self, quilt: &Quilt, plan: &mut Plan, number: usize) -> Result<(), Trouble> {
        let first = plan.cutting.bought[number].clone();
        let found = wanted::while_wanted(|wanted| searched_while(quilt, &plan.cutting, &first, Effort::FULL.cutting, wanted))?;
        let mut laid = self.laid.lock().unwrap_or_else(PoisonError::into_inner);
        laid.push_front((first, found.clone()));
        laid.truncate(LAYOUTS);
        plan.cutting.bought[number] = found;
        Ok(())
    }

    /// Puts the layout that was searched in the place of the first one, if it is remembered.
    fn recall(&self, bought: &mut ToBuy) {
        let laid = self.laid.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, found)) = laid.iter().find(|(first, _)| first == bought) {
            *bought = found.clone();
        }
    }
}
