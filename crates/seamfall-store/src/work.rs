//! The small door to the database: one SQL text, for SQLite and for PostgreSQL.
//!
//! In: a statement with `?1`, `?2` … in it, and what is given for them. Out: rows of plain values, or the number of rows that were changed. A statement
//! uses only what both databases know: `RETURNING id` for the number of a new row, `ON CONFLICT` for one that is there already. Where they differ
//! there is a method here ([`Work::hold`]), so that the rest of the crate need not know which of the two it works on.

use crate::server::Session;
use crate::{QuiltId, StoreError};
use rusqlite::types::{ToSqlOutput, ValueRef};
use rusqlite::{Connection, Statement, params_from_iter};
use std::borrow::Cow;

/// What is given for a place in a statement.
#[derive(Debug, Clone, Copy)]
pub enum Given<'a> {
    /// A whole number.
    Number(i64),
    /// Any number.
    Real(f64),
    /// A text.
    Text(&'a str),
    /// Bytes.
    Bytes(&'a [u8]),
}

impl From<i64> for Given<'_> {
    fn from(number: i64) -> Self {
        Self::Number(number)
    }
}

impl From<f64> for Given<'_> {
    fn from(number: f64) -> Self {
        Self::Real(number)
    }
}

impl<'a> From<&'a str> for Given<'a> {
    fn from(text: &'a str) -> Self {
        Self::Text(text)
    }
}

impl<'a> From<&'a [u8]> for Given<'a> {
    fn from(bytes: &'a [u8]) -> Self {
        Self::Bytes(bytes)
    }
}

/// A text as both databases can keep it: PostgreSQL has no place for the letter of number 0, which no text of ours needs.
pub fn without_nul(text: &str) -> Cow<'_, str> {
    if text.contains('\0') { Cow::Owned(text.replace('\0', "\u{fffd}")) } else { Cow::Borrowed(text) }
}

impl rusqlite::ToSql for Given<'_> {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        Ok(match *self {
            Self::Number(number) => number.into(),
            Self::Real(number) => number.into(),
            Self::Bytes(bytes) => ToSqlOutput::Borrowed(ValueRef::Blob(bytes)),
            Self::Text(text) => match without_nul(text) {
                Cow::Borrowed(text) => ToSqlOutput::Borrowed(text.into()),
                Cow::Owned(text) => text.into(),
            },
        })
    }
}

/// A value of a row.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// None.
    Nothing,
    /// A whole number.
    Number(i64),
    /// Any number.
    Real(f64),
    /// A text.
    Text(String),
    /// Bytes.
    Bytes(Vec<u8>),
}

impl Value {
    /// A text, whatever became of its letters: those that a damaged disk has spoiled are shown as `\u{fffd}`, and all the others are there.
    fn of_file(value: ValueRef) -> Self {
        match value {
            ValueRef::Null => Self::Nothing,
            ValueRef::Integer(number) => Self::Number(number),
            ValueRef::Real(number) => Self::Real(number),
            ValueRef::Text(text) => Self::Text(String::from_utf8_lossy(text).into_owned()),
            ValueRef::Blob(bytes) => Self::Bytes(bytes.to_vec()),
        }
    }
}

/// A row. Its columns are counted from 0; texts and bytes are taken out of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Row(pub Vec<Value>);

impl Row {
    fn take(&mut self, column: usize) -> Value {
        self.0.get_mut(column).map_or(Value::Nothing, |value| std::mem::replace(value, Value::Nothing))
    }

    /// A whole number.
    pub fn number(&mut self, column: usize) -> Result<i64, StoreError> {
        match self.take(column) {
            Value::Number(number) => Ok(number),
            other => Err(odd(&other)),
        }
    }

    /// Any number.
    pub fn real(&mut self, column: usize) -> Result<f64, StoreError> {
        match self.take(column) {
            Value::Real(number) => Ok(number),
            other => Err(odd(&other)),
        }
    }

    /// A text.
    pub fn text(&mut self, column: usize) -> Result<String, StoreError> {
        match self.take(column) {
            Value::Text(text) => Ok(text),
            other => Err(odd(&other)),
        }
    }

    /// A text, or none.
    pub fn text_if_any(&mut self, column: usize) -> Result<Option<String>, StoreError> {
        match self.take(column) {
            Value::Nothing => Ok(None),
            Value::Text(text) => Ok(Some(text)),
            other => Err(odd(&other)),
        }
    }

    /// Bytes.
    pub fn bytes(&mut self, column: usize) -> Result<Vec<u8>, StoreError> {
        match self.take(column) {
            Value::Bytes(bytes) => Ok(bytes),
            other => Err(odd(&other)),
        }
    }
}

/// A value of a kind that its column cannot have.
fn odd(value: &Value) -> StoreError {
    let kind = match value {
        Value::Nothing => "nothing",
        Value::Number(_) => "a whole number",
        Value::Real(_) => "a number",
        Value::Text(_) => "a text",
        Value::Bytes(_) => "bytes",
    };
    StoreError::Damaged(format!("a row holds {kind} where something else belongs"))
}

/// A connection at work, in a transaction or outside of one.
pub enum Work<'a> {
    /// On a file.
    File(&'a Connection),
    /// On a server.
    Server(&'a mut Session),
}

impl Work<'_> {
    /// Does something. Gives the number of rows that were changed.
    pub fn execute(&mut self, sql: &'static str, given: &[Given]) -> Result<u64, StoreError> {
        match self {
            Self::File(connection) => {
                Ok(connection.prepare_cached(sql)?.execute(params_from_iter(given)).map(|rows| rows as u64)?)
            }
            Self::Server(session) => session.execute(sql, given),
        }
    }

    /// All rows of the answer.
    pub fn rows(&mut self, sql: &'static str, given: &[Given]) -> Result<Vec<Row>, StoreError> {
        match self {
            Self::File(connection) => Ok(rows(&mut *connection.prepare_cached(sql)?, given)?),
            Self::Server(session) => session.rows(sql, given),
        }
    }

    /// The first row of the answer.
    pub fn row(&mut self, sql: &'static str, given: &[Given]) -> Result<Option<Row>, StoreError> {
        Ok(self.rows(sql, given)?.into_iter().next())
    }

    /// The one row that there always is, such as a number of rows, or what `RETURNING` gives.
    pub fn one(&mut self, sql: &'static str, given: &[Given]) -> Result<Row, StoreError> {
        self.row(sql, given)?.ok_or_else(|| StoreError::Damaged("a row is missing that was there".to_owned()))
    }

    /// Holds a quilt until the end of the transaction: nobody else edits it, its class, its versions or what else hangs on it. Every transaction that
    /// does so begins with this. What is read after it stands as the last edit left it; a join in this very statement would not, for
    /// a server that has waited looks again at the row it waited for alone.
    ///
    /// # Errors
    /// [`StoreError::NoSuchQuilt`], or what the database says.
    pub fn hold(&mut self, quilt: QuiltId) -> Result<(), StoreError> {
        let sql = match self {
            // The whole file is held.
            Self::File(_) => "SELECT id FROM quilt WHERE id = ?1",
            Self::Server(_) => "SELECT id FROM quilt WHERE id = ?1 FOR UPDATE",
        };
        self.row(sql, &[quilt.0.into()])?.map(drop).ok_or(StoreError::NoSuchQuilt(quilt))
    }

    /// Holds all of a thing that does not hang on one quilt, known by a number of its own, until the end of the transaction. After [`Work::hold`],
    /// never before it: who holds things in the same order never wait for one another in a circle.
    pub fn hold_all(&mut self, thing: Thing) -> Result<(), StoreError> {
        match self {
            Self::File(_) => Ok(()),
            Self::Server(_) => self.rows("SELECT pg_advisory_xact_lock(?1)", &[(thing as i64).into()]).map(drop),
        }
    }

    /// Makes a quilt the one worked on last.
    pub fn touch(&mut self, quilt: QuiltId) -> Result<(), StoreError> {
        let sql = match self {
            Self::File(_) => "UPDATE quilt SET touched = (SELECT max(touched) + 1 FROM quilt) WHERE id = ?1",
            Self::Server(_) => "UPDATE quilt SET touched = nextval('touch') WHERE id = ?1",
        };
        self.execute(sql, &[quilt.0.into()]).map(drop)
    }
}

/// What is held as a whole.
#[derive(Debug, Clone, Copy)]
pub enum Thing {
    /// The layout, while steps are done.
    Layout = crate::schema::APPLICATION as isize,
    /// The photographs: one is taken away when no quilt knows it any more.
    Photos,
    /// The members of a guild: one of them is a keeper.
    Members,
}

fn rows(statement: &mut Statement, given: &[Given]) -> rusqlite::Result<Vec<Row>> {
    let columns = statement.column_count();
    let mut rows = statement.query(params_from_iter(given))?;
    let mut all = Vec::new();
    while let Some(row) = rows.next()? {
        all.push(Row((0..columns).map(|column| row.get_ref(column).map(Value::of_file)).collect::<Result<_, _>>()?));
    }
    Ok(all)
}
