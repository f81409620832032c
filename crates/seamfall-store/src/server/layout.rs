//! The layout of a store on a server, and whether what is there is a store of ours.
//!
//! In: a transaction. Out: the tables of the latest layout in the schema that the connection works in; or why they are refused there. The table
//! `seamfall_layout` marks a store, and tells the number of steps that have been done. All steps are one transaction, under a lock: of several processes that
//! start at the same time one does them.

use crate::StoreError;
use crate::schema::{STEPS, Step, known, on_server};
use crate::work::{Thing, Work};

/// Does the steps that have not been done yet.
pub fn bring_up_to_date(work: &mut Work) -> Result<(), StoreError> {
    bring_to(work, STEPS)
}

/// Does those of `steps` that have not been done yet.
pub fn bring_to(work: &mut Work, steps: &[Step]) -> Result<(), StoreError> {
    work.hold_all(Thing::Layout)?;
    let done = look(work)?;
    let number = i64::try_from(steps.len()).expect("a handful of steps");
    if done >= number {
        return Ok(());
    }
    let Work::Server(session) = work else { return Ok(()) };
    if done == 0 {
        session.batch("CREATE TABLE seamfall_layout (number BIGINT NOT NULL); INSERT INTO seamfall_layout VALUES (0)")?;
    }
    for step in steps.iter().skip(usize::try_from(done).unwrap_or(0)) {
        session.batch(&on_server(step))?;
    }
    work.execute("UPDATE seamfall_layout SET number = ?1", &[number.into()]).map(drop)
}

/// The number of the layout that is there, 0 where there is nothing yet; refuses what is not ours, or is newer than we are.
fn look(work: &mut Work) -> Result<i64, StoreError> {
    let letters = work
        .one("SELECT pg_encoding_to_char(encoding)::text FROM pg_database WHERE datname = current_database()", &[])?
        .text(0)?;
    if letters != "UTF8" {
        return Err(StoreError::Letters(letters));
    }
    // What an extension has brought is nobody's.
    let tables = work.rows(
        "SELECT relname::text FROM pg_class WHERE relnamespace = (SELECT oid FROM pg_namespace WHERE nspname = current_schema())
         AND relkind IN ('r', 'p', 'v', 'm', 'f', 'S')
         AND NOT EXISTS (SELECT 1 FROM pg_depend WHERE classid = 'pg_class'::regclass AND objid = pg_class.oid AND deptype = 'e')",
        &[],
    )?;
    let names = tables.into_iter().map(|mut table| table.text(0)).collect::<Result<Vec<_>, _>>()?;
    if !names.iter().any(|name| name == "seamfall_layout") {
        return if names.is_empty() { Ok(0) } else { Err(StoreError::NotOurs) };
    }
    match work.one("SELECT number FROM seamfall_layout", &[])?.number(0)? {
        found if found > known() => Err(StoreError::Newer { found, known: known() }),
        found if found < 1 => Err(StoreError::Damaged("the number of its layout is lost".to_owned())),
        found => Ok(found),
    }
}

/// What does not fit together: tables that are missing, and quilts that stand on nothing. Whether the pages on its disk are whole only the server itself can
/// tell.
pub fn damage(work: &mut Work) -> Result<Vec<String>, StoreError> {
    let lost = work.one(
        "SELECT count(*) FROM quilt WHERE NOT EXISTS (SELECT 1 FROM state WHERE state.id = quilt.current AND state.quilt = quilt.id)",
        &[],
    )?;
    let orphans = { lost }.number(0)?;
    Ok(if orphans > 0 { vec![format!("{orphans} quilts stand on no state")] } else { Vec::new() })
}
