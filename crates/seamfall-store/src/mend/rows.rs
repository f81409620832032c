//! Rows of a damaged store, read through the database as far as it finds its way, and off the pages beyond that.
//!
//! In: a copy of the file, which may be written to. Out: for every table that a whole store has, the rows that were found, by their numbers.

use super::pages;
use crate::{StoreError, file, schema};
use rusqlite::types::{Value, ValueRef};
use rusqlite::{Connection, Row};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

/// A column of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Its name.
    pub name: String,
    /// `INTEGER`, `REAL`, `TEXT` or `BLOB`.
    pub kind: String,
    /// What a row has there that is older than the column.
    pub default: Option<Value>,
    /// Whether it is the number of the row.
    pub is_number: bool,
}

/// A table and what was found of it.
#[derive(Debug, Clone)]
pub struct Table {
    /// Its name.
    pub name: String,
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows, a value for each column.
    pub rows: BTreeMap<i64, Vec<Value>>,
    /// Whether the database read it to its end.
    pub is_whole: bool,
}

/// What was found of a store.
#[derive(Debug)]
pub struct Found {
    /// Its tables.
    pub tables: Vec<Table>,
    /// States that there were, each with its quilt, as far as their index tells.
    pub states: BTreeMap<i64, i64>,
    /// Whether it told all.
    pub is_listed: bool,
    /// The highest number that each table has given out.
    pub highest: BTreeMap<String, i64>,
}

impl Found {
    /// One of the tables.
    pub fn table(&self, name: &str) -> &Table {
        self.tables.iter().find(|table| table.name == name).expect("a whole store has it")
    }

    /// Tables of which more may be lost than is known. What states there were is told by their index, and what quilts there were by the states.
    pub fn unsure(&self) -> Vec<String> {
        let sure = |table: &&Table| table.is_whole || self.is_listed && matches!(&*table.name, "quilt" | "state");
        self.tables.iter().filter(|table| !sure(table)).map(|table| table.name.clone()).collect()
    }
}

/// All that is found.
pub fn read(copy: &Path) -> Result<Found, StoreError> {
    let tables = tables_of(copy)?;
    let pairs = |query| Connection::open(copy).and_then(|connection| pairs(&connection, query)).unwrap_or_default();
    let (states, is_listed) = pairs("SELECT rowid, quilt FROM state INDEXED BY sqlite_autoindex_state_1");
    let (states, highest) = (states.into_iter(), pairs("SELECT name, seq FROM sqlite_sequence").0.into_iter());
    let number = |value: Value| if let Value::Integer(number) = value { Some(number) } else { None };
    let name = |value: Value| if let Value::Text(name) = value { Some(name) } else { None };
    Ok(Found {
        tables,
        is_listed,
        states: states.filter_map(|(state, quilt)| Some((number(state)?, number(quilt)?))).collect(),
        highest: highest.filter_map(|(table, seq)| Some((name(table)?, number(seq)?))).collect(),
    })
}

/// Pairs as far as they can be read, and whether that is to the end.
fn pairs(connection: &Connection, query: &str) -> rusqlite::Result<(Vec<(Value, Value)>, bool)> {
    let mut query = connection.prepare(query)?;
    let mut rows = query.query([])?;
    let mut pairs = Vec::new();
    loop {
        match rows.next() {
            Ok(Some(row)) => pairs.push((row.get(0)?, row.get(1)?)),
            end => return Ok((pairs, end.is_ok())),
        }
    }
}

fn tables_of(copy: &Path) -> Result<Vec<Table>, StoreError> {
    let mut tables = tables()?;
    read_all(copy, &mut tables);
    if tables.iter().any(|table| !table.is_whole) && pages::mend_head(copy).is_ok() {
        // With a head that can be read the database may find more.
        read_all(copy, &mut tables);
        let bytes = fs::read(copy).map_err(|source| StoreError::Beside { file: copy.to_owned(), source })?;
        pages::read(&bytes, &mut tables);
    }
    Ok(tables)
}

/// The tables of a whole store, without rows.
fn tables() -> Result<Vec<Table>, StoreError> {
    let pattern = file::pattern()?;
    let mut query =
        pattern.prepare("SELECT name FROM sqlite_schema WHERE type = 'table' AND name <> 'sqlite_sequence' ORDER BY rowid")?;
    let names: Vec<String> = query.query_map([], |row| row.get(0))?.collect::<Result<_, _>>()?;
    let table = |name: String| {
        let mut query = pattern.prepare("SELECT name, type, dflt_value, pk, (SELECT count(*) FROM pragma_table_info(?1) WHERE pk > 0) FROM pragma_table_info(?1)")?;
        let columns = query.query_map([&name], |row| {
            let (kind, default): (String, Option<String>) = (row.get(1)?, row.get(2)?);
            let is_number = kind == "INTEGER" && row.get::<_, i64>(3)? == 1 && row.get::<_, i64>(4)? == 1;
            // The one default there is, of a ledger that is empty.
            let default = default.map(|text| Value::Text(text.trim_matches('\'').to_owned()));
            Ok(Column { name: row.get(0)?, kind, default, is_number })
        })?;
        let columns = columns.collect::<Result<_, _>>()?;
        Ok(Table { name, columns, rows: BTreeMap::new(), is_whole: false })
    };
    names.into_iter().map(table).collect()
}

fn read_all(copy: &Path, tables: &mut [Table]) {
    let Ok(connection) = Connection::open(copy) else { return };
    let _ = connection.execute_batch("PRAGMA cell_size_check = ON; PRAGMA trusted_schema = OFF; PRAGMA wal_checkpoint(TRUNCATE)");
    // No row takes less than four bytes: more of them is a circle.
    let most = fs::metadata(copy).map_or(0, |about| about.len() / 4);
    for table in tables.iter_mut().filter(|table| !table.is_whole) {
        table.is_whole = read_table(&connection, table, true, most).is_ok();
        if !table.is_whole {
            let _ = read_table(&connection, table, false, most);
        }
    }
}

/// Reads rows from one end until one cannot be read, or stands out of order: of two such it is not known which number is wrong.
fn read_table(connection: &Connection, table: &mut Table, forth: bool, most: u64) -> rusqlite::Result<()> {
    let order = if forth { "ASC" } else { "DESC" };
    let mut query = connection.prepare(&format!("SELECT rowid AS row_number, * FROM {} ORDER BY rowid {order}", table.name))?;
    let at: Vec<Option<usize>> = table.columns.iter().map(|column| query.column_index(&column.name).ok()).collect();
    let mut rows = query.query([])?;
    let (mut seen, mut last) = (0, None);
    while let Some(row) = rows.next()? {
        seen += 1;
        if seen > most {
            return Err(rusqlite::Error::InvalidQuery);
        }
        let values =
            table.columns.iter().zip(&at).map(|(column, at)| value(row, column, *at)).collect::<rusqlite::Result<_>>()?;
        let number: i64 = row.get(0)?;
        if let Some(last) = last.filter(|last| if forth { number <= *last } else { number >= *last }) {
            table.rows.remove(&last);
            return Err(rusqlite::Error::InvalidQuery);
        }
        last = Some(number);
        table.rows.entry(number).or_insert(values);
    }
    Ok(())
}

fn value(row: &Row, column: &Column, at: Option<usize>) -> rusqlite::Result<Value> {
    let Some(at) = at else { return Ok(column.default.clone().unwrap_or(Value::Null)) };
    Ok(match row.get_ref(at)? {
        // A text stays one, whatever became of its letters.
        ValueRef::Text(bytes) => Value::Text(String::from_utf8_lossy(bytes).into_owned()),
        _ => row.get(at)?,
    })
}

/// Whether the tables are those of the latest layout, whatever number it bears; so they are taken to be where they cannot be read.
pub fn is_of_this_layout(copy: &Path) -> Result<bool, StoreError> {
    let there = Connection::open(copy).and_then(|connection| layout(&connection));
    let pattern = layout(&file::pattern()?)?;
    Ok(there.map_or(true, |there| there == pattern))
}

fn layout(connection: &Connection) -> rusqlite::Result<BTreeSet<(String, String)>> {
    let mut query = connection.prepare("SELECT name, coalesce(sql, '') FROM sqlite_schema")?;
    query.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?.collect()
}

/// Whether it is a database whose tables can be read, and none is ours.
pub fn is_anothers(copy: &Path) -> bool {
    let there = Connection::open(copy).and_then(|connection| layout(&connection));
    there.is_ok_and(|tables| !tables.is_empty() && tables.iter().all(|(name, _)| !["quilt", "state"].contains(&&**name)))
}

/// Whether its head bears our mark.
pub fn is_marked(copy: &Path) -> Result<bool, StoreError> {
    let bytes = fs::read(copy).map_err(|source| StoreError::Beside { file: copy.to_owned(), source })?;
    Ok(bytes
        .get(68..72)
        .is_some_and(|mark| i64::from(u32::from_be_bytes(mark.try_into().expect("four bytes"))) == schema::APPLICATION))
}
