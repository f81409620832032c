//! A file that is read for as long as it is wanted.
//!
//! In: the bytes of a file, and whether they are still wanted. Out: the bytes, a few at a time, and an error once they are not: a decoder that reads as
//! it goes stops there. What reads a whole file before it decodes is not stopped.

use std::io::{BufRead, Cursor, Error, Read, Result, Seek, SeekFrom};

/// Bytes that are given at one time.
const GIVEN: usize = 4_096;

/// A file in memory.
pub struct Asked<'a> {
    file: Cursor<&'a [u8]>,
    wanted: &'a dyn Fn() -> bool,
}

impl<'a> Asked<'a> {
    pub fn new(file: &'a [u8], wanted: &'a dyn Fn() -> bool) -> Self {
        Self { file: Cursor::new(file), wanted }
    }
}

impl BufRead for Asked<'_> {
    fn fill_buf(&mut self) -> Result<&[u8]> {
        if !(self.wanted)() {
            return Err(Error::other("it is not wanted any more"));
        }
        let rest = self.file.fill_buf()?;
        Ok(&rest[..rest.len().min(GIVEN)])
    }

    fn consume(&mut self, count: usize) {
        self.file.consume(count);
    }
}

impl Read for Asked<'_> {
    fn read(&mut self, into: &mut [u8]) -> Result<usize> {
        let count = self.fill_buf()?.read(into)?;
        self.consume(count);
        Ok(count)
    }
}

impl Seek for Asked<'_> {
    fn seek(&mut self, to: SeekFrom) -> Result<u64> {
        self.file.seek(to)
    }
}
