//! Tests of reading and writing quilt files.

mod bed;
mod class;
mod finish;
mod joining;
mod ledger;
mod look;
mod materials;
mod quilting;
mod reading;
mod sewing;
mod writing;
