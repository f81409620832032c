//! Nesting of templates: patterns with a known density, whole lists, and laws that hold for any outline.

mod check;
mod laws;
mod lists;
mod patterns;
