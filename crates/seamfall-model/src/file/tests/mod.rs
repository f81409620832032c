//! Tests of reading and writing quilt files.

mod reading;
mod sewing;
mod writing;
