//! Motifs that are chosen for patches: the check of what is written, and the writing of it.
//!
//! In: raw values with the blocks and cloths they name; or a quilt. Out: motifs that lie on what is kept of a photograph; or their lines.

use super::check::{Check, shortened};
use super::raw::*;
use super::suggestion;
use super::write::{cloth_key, text};
use crate::*;
use std::fmt::Write as _;
use tr::tr;

impl Check<'_> {
    pub(super) fn fussies(&mut self, raw: &[RawFussy], blocks: &[Block], cloths: &[Cloth]) -> Vec<Fussy> {
        if let Some(over) = raw.get(limits::FUSSY) {
            self.too_many(over.of.span(), raw.len(), &tr!("motifs"), limits::FUSSY);
        }
        let mut all: Vec<Fussy> = Vec::new();
        for one in raw.iter().take(limits::FUSSY) {
            let Some(fussy) = self.fussy(one, blocks, cloths) else { continue };
            if all.iter().any(|other| (other.cloth, other.block, other.of) == (fussy.cloth, fussy.block, fussy.of)) {
                let reason = tr!(
                    "a motif of `{cloth}` is chosen twice for `{of}`",
                    cloth = shortened(&one.cloth),
                    of = shortened(&one.of)
                );
                self.problems.add(one.of.span(), reason, tr!("take one of the two away"));
            }
            all.push(fussy);
        }
        all
    }

    fn fussy(&mut self, raw: &RawFussy, blocks: &[Block], cloths: &[Cloth]) -> Option<Fussy> {
        let cloth = self.cloth_id(&raw.cloth);
        let look = cloths.get(cloth.0).and_then(|cloth| cloth.look.as_ref());
        let Some(photo) = look.and_then(Look::photo) else {
            let reason = tr!("a motif is chosen of cloth `{cloth}`, which has no photograph", cloth = shortened(&raw.cloth));
            let help = tr!("give the cloth a photograph, or take the motif away first");
            self.problems.add(raw.cloth.span(), reason, help);
            return None;
        };
        let (block, of) = self.fussy_of(&raw.of, blocks)?;
        let turn_deg = raw.turn.as_ref().map_or(0.0, |turn| self.degrees(turn, "turn"));
        Some(Fussy { cloth, block, of, at: self.motif_at(&raw.at, photo), turn_deg })
    }

    fn fussy_of(&mut self, raw: &At<String>, blocks: &[Block]) -> Option<(BlockId, FussyOf)> {
        let Some((key, name)) = raw.split_once('.') else {
            let reason = tr!("`{value}` is no part and no patch of a block", value = shortened(raw));
            self.problems.add(raw.span(), reason, tr!("write it like \"star.centre\" or \"star.p3\""));
            return None;
        };
        let Some(block) = blocks.iter().position(|block| block.key == key) else {
            let help = suggestion(key, blocks.iter().map(|block| block.key.as_str()));
            self.problems.add(raw.span(), tr!("there is no block `{written}`", written = shortened(key)), help);
            return None;
        };
        let number = name.strip_prefix('p').filter(|number| !number.starts_with('0') && number.len() <= 6);
        if let Some(patch) = number.and_then(|number| number.parse().ok()) {
            return Some((BlockId(block), FussyOf::Patch(patch)));
        }
        let parts = &blocks[block].parts;
        let Some(part) = parts.iter().position(|part| part.name == name) else {
            let help = suggestion(name, parts.iter().map(|part| part.name.as_str()));
            self.problems.add(raw.span(), tr!("block `{key}` has no part `{written}`", key, written = shortened(name)), help);
            return None;
        };
        Some((BlockId(block), FussyOf::Part(PartId(part))))
    }

    fn motif_at(&mut self, raw: &At<Vec<f64>>, photo: &Photo) -> [f64; 2] {
        let [left, top, right, bottom] = photo.crop;
        let Ok([x, y]) = <[f64; 2]>::try_from(raw.as_slice()) else {
            let reason = tr!("`at` has two numbers, in per cent of the photograph from its left and from its top");
            self.problems.add(raw.span(), reason, tr!("write it like `at = [42.5, 30]`"));
            return [50.0; 2];
        };
        // A motif on the part that is cut off is the same one a repeat further.
        if !(left..=100.0 - right).contains(&x) || !(top..=100.0 - bottom).contains(&y) {
            let reason = tr!("the motif lies on what is cut off the photograph");
            let help = tr!(
                "choose a point from {left} to {right} per cent across and from {top} to {bottom} down",
                left = decimal(left, 2),
                right = decimal(100.0 - right, 2),
                top = decimal(top, 2),
                bottom = decimal(100.0 - bottom, 2)
            );
            self.problems.add(raw.span(), reason, help);
        }
        [x, y]
    }
}

/// `[[fussy]]`, for every motif.
pub(super) fn write(out: &mut String, quilt: &Quilt) {
    for fussy in &quilt.fussy {
        let [x, y] = fussy.at;
        let _ = writeln!(
            out,
            "\n[[fussy]]\ncloth = {}\nof = {}\nat = [{x}, {y}]",
            cloth_key(quilt, fussy.cloth),
            text(&named(quilt, fussy))
        );
        if fussy.turn_deg != 0.0 {
            let _ = writeln!(out, "turn = {}", fussy.turn_deg);
        }
    }
}

/// `star.centre` or `star.p3`.
pub(super) fn named(quilt: &Quilt, fussy: &Fussy) -> String {
    let block = &quilt.blocks[fussy.block.0];
    match fussy.of {
        FussyOf::Part(PartId(part)) => format!("{}.{}", block.key, block.parts[part].name),
        FussyOf::Patch(patch) => format!("{}.p{patch}", block.key),
    }
}
