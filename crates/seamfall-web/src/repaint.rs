//! What has to be painted anew after an edit.
//!
//! In: the quilt before and after, each worked out. Out: the elements of the drawing and the parts of the page that came out
//! differently. Both are compared as text, so that nothing can be forgotten. A drawing whose elements are not the same ones in the
//! same order (another size or setting) is sent whole.

use crate::room::Worked;
use crate::view::{cloths, cut, draft, fall, findings, finish, head, join, lap, piece, setting, truing};
use seamfall_draw::{Colours, QuiltDrawing, QuiltStyle, cloth_css, quilt_drawing};
use seamfall_model::Quilt;
use seamfall_plan::Plan;
use serde::Serialize;
use std::collections::BTreeMap;

/// How the top is drawn in the workroom; names, sections and falls are in it, and shown or hidden by the page.
pub const STYLE: QuiltStyle = QuiltStyle {
    paint: seamfall_draw::Paint::Cloths,
    colours: Colours::Classes,
    sections: true,
    falls: true,
    quilting: true,
    names: true,
    ids: true,
};

/// A quilt as it is painted.
pub struct Painted {
    /// The drawing, its elements and its names, whose tone goes with the cloth below.
    pub drawing: QuiltDrawing,
    /// Rules that give the cloths their colours.
    pub css: String,
    /// Parts of the page, by id.
    pub regions: BTreeMap<&'static str, String>,
}

impl Painted {
    /// Paints a quilt, whose pages lie below `base`, `/q/1/`.
    pub fn new(base: &str, quilt: &Quilt, plan: &Plan) -> Self {
        let regions = BTreeMap::from([
            ("head", head::region(quilt, plan).into_string()),
            ("findings", findings::region(plan).into_string()),
            ("cloths", cloths::region(quilt, plan).into_string()),
            ("draft", draft::region(base, quilt, plan).into_string()),
            ("setting", setting::region(quilt, plan).into_string()),
            ("piece", piece::region(base, quilt, plan).into_string()),
            ("fall", fall::region(quilt, plan).into_string()),
            ("cut", cut::region(base, quilt, plan).into_string()),
            ("lap", lap::region(base, quilt, plan).into_string()),
            ("true", truing::region(base, quilt, plan).into_string()),
            ("join", join::region(base, quilt, plan).into_string()),
            ("finish", finish::region(base, quilt, plan).into_string()),
        ]);
        Self { drawing: quilt_drawing(quilt, plan, &STYLE), css: cloth_css(quilt), regions }
    }

    fn names(&self) -> &str {
        &self.drawing.svg[self.drawing.names.clone()]
    }
}

/// What the browser is told after an edit.
#[derive(Debug, Serialize)]
pub struct Repaint {
    /// The state it shows from now on.
    pub revision: i64,
    /// What undo would take back.
    pub undo: Option<String>,
    /// What redo would do again.
    pub redo: Option<String>,
    /// What was done, in words.
    pub said: String,
    /// The drawing, when it has to be painted whole.
    pub whole: Option<String>,
    /// Else its elements that changed, in the order of the drawing.
    pub elements: Vec<String>,
    /// The names, if they changed.
    pub names: Option<String>,
    /// Whether the colours of the cloths changed.
    pub colours: bool,
    /// Parts of the page that changed, by id.
    pub regions: BTreeMap<&'static str, String>,
    /// The panel about what is pointed at.
    pub about: String,
}

impl Repaint {
    /// From `before`, if it is known what the browser shows, to `after`.
    pub fn new(before: Option<&Worked>, after: &Worked, said: String, about: String) -> Self {
        let (old, new) = (before.map(|before| &before.painted), &after.painted);
        let (whole, elements) = match old.and_then(|old| changed(old, new, before.map(|before| &before.plan), &after.plan)) {
            Some(elements) => (None, elements),
            None => (Some(new.drawing.svg.clone()), Vec::new()),
        };
        let regions = new.regions.iter().filter(|(id, html)| old.is_none_or(|old| old.regions.get(*id) != Some(html)));
        Self {
            revision: after.stored.revision.0,
            undo: after.stored.undo.clone(),
            redo: after.stored.redo.clone(),
            said,
            names: (whole.is_none() && old.is_some_and(|old| old.names() != new.names())).then(|| new.names().to_owned()),
            whole,
            elements,
            colours: old.is_none_or(|old| old.css != new.css),
            regions: regions.map(|(id, html)| (*id, html.clone())).collect(),
            about,
        }
    }
}

/// The elements that differ; nothing when the drawing has to be painted whole.
fn changed(old: &Painted, new: &Painted, before: Option<&Plan>, after: &Plan) -> Option<Vec<String>> {
    let same_frame = before.is_some_and(|before| before.top.size == after.top.size && before.top.sections == after.top.sections);
    let (old, new) = (&old.drawing, &new.drawing);
    if !same_frame || old.elements.len() != new.elements.len() {
        return None;
    }
    let mut changed = Vec::new();
    for ((old_id, old_at), (id, at)) in old.elements.iter().zip(&new.elements) {
        if old_id != id {
            return None;
        }
        let svg = &new.svg[at.clone()];
        if old.svg[old_at.clone()] != *svg {
            changed.push(svg.to_owned());
        }
    }
    Some(changed)
}
