//! Whole-number problems with a proof.
