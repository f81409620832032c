//! What is sewn while the design changes.
//!
//! In: a quilt worked out, and as it is after an edit. Out: its ledger after the edit, sections under their new names; or, before anything
//! is changed, which sections the edit would waste.

use crate::room::{Room, Worked};
use crate::trouble::Trouble;
use seamfall_model::{Quilt, apply_ledger, read_ledger};
use seamfall_plan::sewn;

/// The ledger once the quilt is as it is `after`. What is sewn is wasted only if that is allowed.
pub fn ledger_after(room: &Room, before: &Worked, after: &Quilt, allowed: bool) -> Result<String, Trouble> {
    let ledger = &before.stored.ledger;
    if ledger.is_empty() {
        return Ok(String::new());
    }
    let change = sewn::wasted((&before.quilt, &before.plan), (after, &room.designed(before.id, after)?));
    if !allowed && !change.wasted.is_empty() {
        return Err(Trouble::waste(change.wasted.iter().map(ToString::to_string).collect()));
    }
    let ledger = match change.edit(&before.quilt, after) {
        Some(edit) => apply_ledger(ledger, &before.quilt, &edit)?,
        None => ledger.clone(),
    };
    // Sizes are in the unit of the quilt, which may be another by now.
    read_ledger(&ledger, after)?;
    Ok(ledger)
}
