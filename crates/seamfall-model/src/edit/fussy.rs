//! Motifs that are cut for patches.

use super::path::written;
use super::{drop_when_empty, put, tables};
use crate::Scalar;
use toml_edit::{DocumentMut, Item, Table};

/// Sets the motif of `cloth` for `of`, or takes it away.
pub(super) fn set(doc: &mut DocumentMut, of: &str, cloth: &str, at: Option<[f64; 2]>, turn: f64) {
    let is_here = |entry: &Table| {
        let says = |key: &str, word: &str| entry.get(key).and_then(Item::as_str) == Some(word);
        says("of", of) && says("cloth", cloth)
    };
    let Some(at) = at else {
        if doc.contains_key("fussy") {
            tables(doc, "fussy").retain(|entry| !is_here(entry));
            drop_when_empty(doc, "fussy");
        }
        return;
    };
    let entries = tables(doc, "fussy");
    let there = entries.iter().position(is_here);
    let place = there.unwrap_or_else(|| {
        let mut entry = Table::new();
        entry.decor_mut().set_prefix("\n");
        entry.insert("cloth", Item::Value(cloth.into()));
        entry.insert("of", Item::Value(of.into()));
        entries.push(entry);
        entries.len() - 1
    });
    let Some(entry) = entries.get_mut(place) else { return };
    put(entry, "at", written(&Scalar::Numbers(at.to_vec())));
    if turn == 0.0 {
        entry.remove("turn");
    } else {
        put(entry, "turn", written(&Scalar::Number(turn)));
    }
}
