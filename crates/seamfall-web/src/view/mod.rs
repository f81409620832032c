//! Pages and the parts of them that change with the quilt.
//!
//! A control carries the edit it makes in `data-edit`, as JSON; `$` in it stands for what is typed or chosen, `$name` for the field
//! of that name in the same form. The script sends it, and repaints what the answer says. Ids are stable, so that the keyboard's
//! focus and what is unfolded survive a repaint.

pub mod about;
pub mod answers;
pub mod begin;
pub mod class;
pub mod cloths;
pub mod cut;
pub mod draft;
pub mod drape;
pub mod drawing;
pub mod fall;
pub mod fields;
pub mod find;
pub mod findings;
pub mod finish;
pub mod fit;
pub mod fussy;
pub mod guild;
pub mod head;
pub mod join;
pub mod key_words;
pub mod lap;
pub mod look;
mod materials;
pub mod own;
pub mod page;
pub mod piece;
pub mod player;
pub mod print;
pub mod seam;
pub mod setting;
pub mod sewing;
pub mod share;
pub mod table;
pub mod truing;
pub mod versions;
pub mod ways;
pub mod words;
