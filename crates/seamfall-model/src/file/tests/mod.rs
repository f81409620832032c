//! Tests of reading and writing quilt files.

mod materials;
mod reading;
mod sewing;
mod writing;
