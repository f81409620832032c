//! Whose quilts and own blocks are whose: those of the single maker, or those of the member who asks.
//!
//! In: the room. Out: lists in which she finds what she may see, and what is made anew is hers.

use crate::asker::{self, Asker};
use crate::room::Room;
use crate::trouble::Trouble;
use seamfall_store::{May, OwnBlock, OwnBlockId, QuiltId, Shared, StoreError};
use tr::tr;

impl Room {
    /// The quilts that may be seen, the one worked on last first.
    pub fn quilts(&self) -> Result<Vec<Shared>, StoreError> {
        match asker::here() {
            Some(asker) => self.store.quilts_of(asker.id),
            None => {
                let all = self.store.list()?.into_iter();
                Ok(all.map(|quilt| Shared { quilt, may: Some(May::Make), maker: None }).collect())
            }
        }
    }

    /// Begins a quilt.
    pub fn begin(&self, text: &str) -> Result<QuiltId, StoreError> {
        match asker::here() {
            Some(asker) => self.store.create_for(asker.id, text, ""),
            None => self.store.create(text, ""),
        }
    }

    /// Takes a quilt file in; one of hers that stands on this very text is taken up again instead.
    pub fn bring_in(&self, text: &str) -> Result<QuiltId, StoreError> {
        match asker::here() {
            Some(Asker { id, .. }) => {
                let mut hers = self.store.quilts_of(id)?.into_iter().filter(|shared| shared.may == Some(May::Make));
                match hers.find(|shared| shared.quilt.text == text && shared.quilt.ledger.is_empty()) {
                    Some(there) => Ok(there.quilt.id),
                    None => self.store.create_for(id, text, ""),
                }
            }
            None => crate::bring_in(&self.store, text, ""),
        }
    }

    /// Refuses what she may not do with a quilt that the address does not name.
    pub fn must(&self, quilt: QuiltId, needed: May) -> Result<(), Trouble> {
        match asker::here() {
            Some(asker) if self.store.may(asker.id, quilt)? < Some(needed) => {
                Err(Trouble::refused(&tr!("this quilt is not yours to change; ask its maker")))
            }
            _ => Ok(()),
        }
    }

    /// The own blocks.
    pub fn own_blocks(&self) -> Result<Vec<OwnBlock>, StoreError> {
        match asker::here() {
            Some(asker) => self.store.own_blocks_of(asker.id),
            None => self.store.own_blocks(),
        }
    }

    /// One of them.
    pub fn own_block(&self, id: OwnBlockId) -> Result<OwnBlock, StoreError> {
        match asker::here() {
            Some(asker) if !self.store.owns_block(asker.id, id)? => Err(StoreError::NoSuchBlock),
            _ => self.store.own_block(id),
        }
    }

    /// Keeps another.
    pub fn keep_block(&self, text: &str) -> Result<OwnBlockId, StoreError> {
        match asker::here() {
            Some(asker) => self.store.keep_block_for(asker.id, text),
            None => self.store.keep_block(text),
        }
    }
}
