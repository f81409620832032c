//! Rows read off the pages of the file themselves, where the database finds no way to them.
//!
//! In: the bytes of a database. Out: rows, told apart by the shape of their columns: a page holds rows of one table. The layout of pages, cells
//! and records is that of "Database File Format", sqlite.org/fileformat2.html, sections 1.3 to 2.1. Pages that the file lists as free are left out,
//! so that what was taken away stays away.

use super::rows::{Column, Table};
use crate::schema::APPLICATION;
use rusqlite::types::Value;
use std::collections::BTreeSet;
use std::fs;
use std::io;
use std::path::Path;

/// Bytes of a page, unless the head says otherwise.
const PAGE: usize = 4096;

/// First byte of a page that holds rows.
const LEAF_OF_TABLE: u8 = 13;

/// Writes what is the same in the head of every store of ours over the head of the file.
pub fn mend_head(copy: &Path) -> io::Result<()> {
    let mut bytes = fs::read(copy)?;
    let pages = u32::try_from(bytes.len() / PAGE).unwrap_or(u32::MAX);
    if pages == 0 {
        return Ok(());
    }
    let log = if fs::metadata(super::beside(copy, "-wal")).is_ok_and(|about| about.len() > 0) { 2 } else { 1 };
    bytes[..16].copy_from_slice(b"SQLite format 3\0");
    bytes[16..24].copy_from_slice(&[0x10, 0, log, log, 0, 64, 32, 32]);
    bytes[28..32].copy_from_slice(&pages.to_be_bytes());
    bytes.copy_within(24..28, 92);
    bytes[44..60].copy_from_slice(&[0, 0, 0, 4, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1]);
    bytes[64..68].fill(0);
    bytes[68..72].copy_from_slice(&u32::try_from(APPLICATION).expect("four letters").to_be_bytes());
    bytes[72..92].fill(0);
    fs::write(copy, bytes)
}

/// Adds the rows of all pages to those tables that were not read to their end. Rows whose numbers stand in order on their page come first, so that a
/// number that was altered does not take the place of the row that has it.
pub fn read(bytes: &[u8], tables: &mut [Table]) {
    let file = File { bytes };
    let free = file.free();
    let mut doubtful = Vec::new();
    for number in (1..=file.count()).filter(|number| !free.contains(number)) {
        let rows = file.rows(number);
        let likeness = |table: &Table| rows.iter().map(|row| table.likeness(row)).sum::<u32>();
        let best = tables.iter().enumerate().map(|(place, table)| (likeness(table), usize::MAX - place)).max();
        let Some((1.., place)) = best else { continue };
        let place = usize::MAX - place;
        let table = &mut tables[place];
        if table.is_whole {
            continue;
        }
        for (at, row) in rows.iter().enumerate() {
            if table.likeness(row) == 0 {
                continue;
            }
            let before = at.checked_sub(1).is_none_or(|before| rows[before].number < row.number);
            let values = table.fitted(row);
            if before && rows.get(at + 1).is_none_or(|after| row.number < after.number) {
                table.rows.entry(row.number).or_insert(values);
            } else {
                doubtful.push((place, row.number, values));
            }
        }
    }
    for (place, number, values) in doubtful {
        tables[place].rows.entry(number).or_insert(values);
    }
}

/// A row of some table.
struct Record {
    number: i64,
    values: Vec<Value>,
}

impl Table {
    /// 2 for a row with every column of the table, 1 for one from before the last were added, 0 for none of it.
    fn likeness(&self, row: &Record) -> u32 {
        let older = self.columns.iter().rev().take_while(|column| column.default.is_some()).count();
        let fits = |(column, value): (&Column, &Value)| match value {
            Value::Null => column.is_number,
            Value::Integer(_) => !column.is_number && matches!(&*column.kind, "INTEGER" | "REAL"),
            Value::Real(_) => column.kind == "REAL",
            Value::Text(_) => column.kind == "TEXT",
            Value::Blob(_) => column.kind == "BLOB",
        };
        let (all, there) = (self.columns.len(), row.values.len());
        if there > all || there + older < all || !self.columns.iter().zip(&row.values).all(fits) {
            return 0;
        }
        if there == all { 2 } else { 1 }
    }

    /// The values of a row that is like the table, one for each column.
    fn fitted(&self, row: &Record) -> Vec<Value> {
        let value = |(place, column): (usize, &Column)| match row.values.get(place) {
            _ if column.is_number => Value::Integer(row.number),
            Some(value) => value.clone(),
            None => column.default.clone().unwrap_or(Value::Null),
        };
        self.columns.iter().enumerate().map(value).collect()
    }
}

struct File<'a> {
    bytes: &'a [u8],
}

impl<'a> File<'a> {
    /// How many pages there are; one that is cut off is none.
    fn count(&self) -> usize {
        self.bytes.len() / PAGE
    }

    /// A page by its number, from 1.
    fn page(&self, number: usize) -> Option<&'a [u8]> {
        let start = number.checked_sub(1)?.checked_mul(PAGE)?;
        self.bytes.get(start..start.checked_add(PAGE)?)
    }

    /// The pages that hold nothing any more; none where the list of them cannot be followed.
    fn free(&self) -> BTreeSet<usize> {
        let mut free = BTreeSet::new();
        let mut trunk = self.bytes.get(32..).and_then(big_endian_4).unwrap_or(0);
        while trunk != 0 {
            let Some(page) = self.page(trunk) else { return BTreeSet::new() };
            let leaves = big_endian_4(&page[4..]).unwrap_or(0);
            if leaves > PAGE / 4 - 2 || !free.insert(trunk) {
                return BTreeSet::new();
            }
            free.extend(page[8..].chunks_exact(4).take(leaves).filter_map(big_endian_4));
            trunk = big_endian_4(page).unwrap_or(0);
        }
        free
    }

    /// The rows of a page that holds rows.
    fn rows(&self, number: usize) -> Vec<Record> {
        let Some(page) = self.page(number) else { return Vec::new() };
        // The first page begins with the head of the file.
        let head = if number == 1 { 100 } else { 0 };
        if page[head] != LEAF_OF_TABLE {
            return Vec::new();
        }
        let cells = usize::from(u16::from_be_bytes([page[head + 3], page[head + 4]]));
        let places =
            page[head + 8..].chunks_exact(2).take(cells).map(|place| usize::from(u16::from_be_bytes([place[0], place[1]])));
        places.filter_map(|place| self.row(page.get(place..)?)).collect()
    }

    /// The row of a cell.
    fn row(&self, cell: &[u8]) -> Option<Record> {
        let (length, cell) = varint(cell)?;
        let (number, cell) = varint(cell)?;
        let length = usize::try_from(length).ok().filter(|length| *length <= self.bytes.len())?;
        Some(Record { number, values: record(&self.payload(length, cell)?)? })
    }

    /// The payload of a cell, with what lies on pages of its own.
    fn payload(&self, length: usize, cell: &[u8]) -> Option<Vec<u8>> {
        if length <= PAGE - 35 {
            return cell.get(..length).map(<[u8]>::to_vec);
        }
        let least = (PAGE - 12) * 32 / 255 - 23;
        let here = least + (length - least) % (PAGE - 4);
        let here = if here <= PAGE - 35 { here } else { least };
        let mut payload = cell.get(..here)?.to_vec();
        let mut next = big_endian_4(cell.get(here..)?)?;
        // A chain that runs in a circle ends with the length.
        while payload.len() < length {
            let page = self.page(next)?;
            let more = (length - payload.len()).min(PAGE - 4);
            payload.extend_from_slice(&page[4..4 + more]);
            next = big_endian_4(page)?;
        }
        Some(payload)
    }
}

/// The values of a record.
fn record(payload: &[u8]) -> Option<Vec<Value>> {
    let (head, after) = varint(payload)?;
    let head = usize::try_from(head).ok()?;
    let mut kinds = payload.get(payload.len() - after.len()..head)?;
    let mut body = payload.get(head..)?;
    let mut values = Vec::new();
    while !kinds.is_empty() {
        let (kind, rest) = varint(kinds)?;
        kinds = rest;
        let (value, rest) = of_kind(kind, body)?;
        values.push(value);
        body = rest;
    }
    Some(values)
}

/// A value of a serial type, and what follows it.
fn of_kind(kind: i64, body: &[u8]) -> Option<(Value, &[u8])> {
    let length = match kind {
        0 | 8 | 9 => 0,
        1..=4 => usize::try_from(kind).ok()?,
        5 => 6,
        6 | 7 => 8,
        12.. => usize::try_from((kind - 12) / 2).ok()?,
        _ => return None,
    };
    let (bytes, rest) = body.split_at_checked(length)?;
    let value = match kind {
        0 => Value::Null,
        1..=6 => Value::Integer(big_endian(bytes)),
        7 => Value::Real(f64::from_bits(big_endian(bytes).cast_unsigned())),
        8 => Value::Integer(0),
        9 => Value::Integer(1),
        _ if kind % 2 == 0 => Value::Blob(bytes.to_vec()),
        _ => Value::Text(String::from_utf8_lossy(bytes).into_owned()),
    };
    Some((value, rest))
}

/// A whole number with its sign, of up to eight bytes.
fn big_endian(bytes: &[u8]) -> i64 {
    let first = if bytes.first().is_some_and(|byte| byte & 0x80 != 0) { -1 } else { 0 };
    bytes.iter().fold(first, |number, byte| number << 8 | i64::from(*byte))
}

fn big_endian_4(bytes: &[u8]) -> Option<usize> {
    let four: [u8; 4] = bytes.get(..4)?.try_into().ok()?;
    usize::try_from(u32::from_be_bytes(four)).ok()
}

/// A number of one to nine bytes, and what follows it.
fn varint(bytes: &[u8]) -> Option<(i64, &[u8])> {
    let mut number: i64 = 0;
    for (place, byte) in bytes.iter().take(9).enumerate() {
        if place == 8 {
            return Some((number << 8 | i64::from(*byte), &bytes[9..]));
        }
        number = number << 7 | i64::from(byte & 0x7f);
        if byte & 0x80 == 0 {
            return Some((number, &bytes[place + 1..]));
        }
    }
    None
}
