//! What was found, put into a new store so that everything in it belongs to something.
//!
//! In: an empty store and the rows that were found. Out: the store, in which every quilt stands on a state, steps are counted without a gap and what
//! was taken away stays away; and what came of each quilt. A quilt of which only a version is left stands on the version's text.

use super::MendedQuilt;
use super::rows::{Found, Table};
use crate::{QuiltId, StoreError};
use rusqlite::types::Value;
use rusqlite::{Connection, params, params_from_iter};
use std::collections::{BTreeMap, BTreeSet};

/// Numbers of rows beyond this are damage: none is given out within a life.
const HIGHEST: i64 = 1 << 40;

/// What came of it.
pub struct Settled {
    pub quilts: Vec<MendedQuilt>,
    pub lost: Vec<QuiltId>,
    pub photos: u64,
}

/// Quilts whose row was lost get another, states and versions of quilts that were taken away go with them.
const QUILTS: &str = "
    INSERT INTO quilt (id, current, touched) SELECT DISTINCT quilt, 0, 0 FROM (SELECT quilt FROM state UNION SELECT quilt FROM version)
        WHERE quilt NOT IN (SELECT id FROM quilt) AND quilt BETWEEN 1 AND ?1 AND NOT ?2;
";

/// The rest, each line for a reason that stands beside it.
const SETTLE: &str = "
    -- A quilt of which no state is left stands on its newest version.
    INSERT INTO state (quilt, step, text, what, ledger) SELECT quilt, 0, text, '', '' FROM version
        WHERE id IN (SELECT max(id) FROM version WHERE quilt NOT IN (SELECT quilt FROM state) GROUP BY quilt);
    DELETE FROM quilt WHERE id NOT IN (SELECT quilt FROM state);
    DELETE FROM state WHERE quilt NOT IN (SELECT id FROM quilt);
    DELETE FROM version WHERE quilt NOT IN (SELECT id FROM quilt);
    DELETE FROM class WHERE quilt NOT IN (SELECT id FROM quilt);
    DELETE FROM class_state WHERE quilt NOT IN (SELECT id FROM quilt);
    DELETE FROM session WHERE member NOT IN (SELECT id FROM member);
    DELETE FROM part WHERE quilt NOT IN (SELECT id FROM quilt) OR member NOT IN (SELECT id FROM member);
    DELETE FROM own_block_of WHERE block NOT IN (SELECT id FROM own_block) OR member NOT IN (SELECT id FROM member);
    DELETE FROM photo_of WHERE quilt NOT IN (SELECT id FROM quilt) OR hash NOT IN (SELECT hash FROM photo);
    DELETE FROM photo WHERE hash NOT IN (SELECT hash FROM photo_of);
    -- Where the state that a quilt stood on is lost: the last one before it, or the first there is.
    UPDATE quilt SET current = coalesce(
        (SELECT max(id) FROM state WHERE quilt = quilt.id AND id <= current AND current > 0),
        (SELECT min(id) FROM state WHERE quilt = quilt.id AND current > 0),
        (SELECT max(id) FROM state WHERE quilt = quilt.id));
    INSERT OR IGNORE INTO class (quilt, current) SELECT DISTINCT quilt, 0 FROM class_state;
    UPDATE class SET current = coalesce(
        (SELECT max(id) FROM class_state WHERE class_state.quilt = class.quilt AND id <= current AND current > 0),
        (SELECT min(id) FROM class_state WHERE class_state.quilt = class.quilt AND current > 0),
        (SELECT max(id) FROM class_state WHERE class_state.quilt = class.quilt),
        -1);
    DELETE FROM class WHERE current = -1;
    UPDATE quilt SET touched = place FROM (SELECT id AS of, row_number() OVER (ORDER BY touched, id) AS place FROM quilt) WHERE id = of;
";

/// Fills a store that is empty.
pub fn fill(fresh: &mut Connection, found: &Found) -> Result<Settled, StoreError> {
    // What belongs to nothing is put right once all is there.
    fresh.pragma_update(None, "foreign_keys", false)?;
    let work = fresh.transaction()?;
    let mut gaps = BTreeMap::new();
    for table in &found.tables {
        match &*table.name {
            "state" => insert(&work, &counted(table, &mut gaps))?,
            "class_state" => insert(&work, &counted(table, &mut BTreeMap::new()))?,
            _ => insert(&work, table)?,
        }
    }
    work.execute(QUILTS, params![HIGHEST, found.table("quilt").is_whole])?;
    work.execute_batch(SETTLE)?;
    for (table, highest) in found.highest.iter().filter(|(_, highest)| (1..=HIGHEST).contains(*highest)) {
        // A number that was given out does not come again.
        work.execute("UPDATE sqlite_sequence SET seq = max(seq, ?2) WHERE name = ?1", params![table, highest])?;
    }
    let settled = told(&work, found, &gaps)?;
    work.commit()?;
    Ok(settled)
}

/// The states of a table with their steps counted anew, without a gap and without two of one number; and for every quilt how many steps were
/// missing between them.
fn counted(table: &Table, gaps: &mut BTreeMap<i64, u64>) -> Table {
    let place = |name| table.columns.iter().position(|column| column.name == name).expect("a state has it");
    let (quilt, step) = (place("quilt"), place("step"));
    let number = |row: &[Value], place: usize| if let Value::Integer(number) = row[place] { number } else { 0 };
    let mut order: Vec<(i64, i64, i64)> =
        table.rows.iter().map(|(id, row)| (number(row, quilt), number(row, step), *id)).collect();
    order.sort_unstable();
    let mut counted = table.clone();
    for states in order.chunk_by(|one, next| one.0 == next.0) {
        for (step_now, (_, _, id)) in (0..).zip(states) {
            counted.rows.get_mut(id).expect("it was listed")[step] = Value::Integer(step_now);
        }
        // A step beyond all reason is an altered one.
        let last = states.iter().map(|(_, step, _)| *step).filter(|step| (0..10_000_000).contains(step)).max().unwrap_or(0);
        gaps.insert(states[0].0, (last.unsigned_abs() + 1).saturating_sub(states.len() as u64));
    }
    counted
}

/// Puts rows in, the newest first.
fn insert(work: &Connection, table: &Table) -> Result<(), StoreError> {
    let names: Vec<&str> = table.columns.iter().map(|column| &*column.name).collect();
    let places = vec!["?"; names.len() + 1].join(", ");
    let named = table.columns.iter().any(|column| column.is_number);
    let numbered = if named { "" } else { "rowid, " };
    let places = if named { &places[3..] } else { &places };
    let mut put =
        work.prepare(&format!("INSERT OR IGNORE INTO {} ({numbered}{}) VALUES ({places})", table.name, names.join(", ")))?;
    for (number, row) in table.rows.iter().rev().filter(|(number, _)| (1..=HIGHEST).contains(*number)) {
        let number = Value::Integer(*number);
        let values = table.columns.iter().zip(row).map(|(column, value)| if column.is_number { &number } else { value });
        let all: Vec<&Value> = if named { values.collect() } else { std::iter::once(&number).chain(values).collect() };
        // A row whose columns are no longer of their kind is none.
        match put.execute(params_from_iter(all)) {
            Err(error) if error.sqlite_error_code() != Some(rusqlite::ErrorCode::ConstraintViolation) => return Err(error.into()),
            _ => {}
        }
    }
    Ok(())
}

/// What came of it, quilt by quilt.
fn told(work: &Connection, found: &Found, gaps: &BTreeMap<i64, u64>) -> Result<Settled, StoreError> {
    let stood: BTreeMap<i64, Option<&Value>> = found.table("quilt").rows.iter().map(|(id, row)| (*id, row.get(1))).collect();
    let mut query = work.prepare(
        "SELECT quilt.id, current, text, (SELECT count(*) FROM state AS each WHERE each.quilt = quilt.id)
         FROM quilt JOIN state ON state.id = current ORDER BY touched DESC",
    )?;
    let quilts = query.query_map([], |row| {
        let (id, current): (i64, i64) = (row.get(0)?, row.get(1)?);
        let moved = stood.get(&id).copied().flatten() != Some(&Value::Integer(current));
        Ok(MendedQuilt { id: QuiltId(id), text: row.get(2)?, states: row.get::<_, i64>(3)?.unsigned_abs(), lost: 0, moved })
    })?;
    let mut quilts = quilts.collect::<Result<Vec<_>, _>>()?;
    for quilt in &mut quilts {
        let listed = found
            .states
            .iter()
            .filter(|(state, of)| **of == quilt.id.0 && !found.table("state").rows.contains_key(state))
            .count();
        quilt.lost = gaps.get(&quilt.id.0).copied().unwrap_or(0).max(listed as u64);
    }
    let there: BTreeSet<i64> = quilts.iter().map(|quilt| quilt.id.0).collect();
    let known = stood.keys().chain(found.states.values()).filter(|id| (1..=HIGHEST).contains(*id) && !there.contains(id));
    let lost: BTreeSet<i64> = known.copied().collect();
    let named =
        found.table("photo_of").rows.values().filter(|row| matches!(row[0], Value::Integer(of) if there.contains(&of))).count();
    let photos: i64 = work.query_row("SELECT count(*) FROM photo_of", [], |row| row.get(0))?;
    let photos = (named as u64).saturating_sub(photos.unsigned_abs());
    Ok(Settled { quilts, lost: lost.into_iter().map(QuiltId).collect(), photos })
}
