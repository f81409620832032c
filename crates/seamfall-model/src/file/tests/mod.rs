//! Tests of reading and writing quilt files.

mod materials;
mod quilting;
mod reading;
mod sewing;
mod writing;
