//! The store of quilts, edits and undo.
