//! What has to be painted anew after an edit.
//!
//! In: the quilt before and after, each worked out. Out: the elements of the drawing and the parts of the page that came out
//! differently. Both are compared as text, so that nothing can be forgotten. A drawing whose elements are not the same ones in the
//! same order (another size or setting) is sent whole.

use crate::photos::Photos;
use crate::room::Worked;
use crate::view::{about, cloths, cut, draft, fall, findings, finish, fit, head, join, lap, piece, setting, truing};
use maud::Markup;
use seamfall_draw::{Colours, QuiltDrawing, QuiltStyle, cloth_css, quilt_drawing_with};
use seamfall_model::Quilt;
use seamfall_plan::Plan;
use serde::Serialize;
use std::collections::BTreeMap;
use std::sync::OnceLock;

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

/// Parts of the page that follow from the quilt, by id. The first two are always seen, of the others one at a time: a panel is written when it
/// is shown, so that an edit costs no more for every panel that is added.
pub const REGIONS: [&str; 13] =
    ["head", "findings", "fit", "cloths", "draft", "setting", "piece", "fall", "cut", "lap", "true", "join", "finish"];
const ALWAYS: usize = 2;

/// A part of the page, written.
fn region(id: &str, base: &str, quilt: &Quilt, plan: &Plan, photos: &Photos) -> String {
    match id {
        "head" => head::region(quilt, plan),
        "findings" => findings::region(plan),
        "fit" => fit::region(base, quilt, plan),
        "cloths" => cloths::region(base, quilt, plan, photos),
        "draft" => draft::region(base, quilt, plan, photos),
        "setting" => setting::region(quilt, plan),
        "piece" => piece::region(base, quilt, plan),
        "fall" => fall::region(quilt, plan),
        "cut" => cut::region(base, quilt, plan),
        "lap" => lap::region(base, quilt, plan),
        "true" => truing::region(base, quilt, plan),
        "join" => join::region(base, quilt, plan),
        "finish" => finish::region(base, quilt, plan),
        _ => Markup::default(),
    }
    .into_string()
}

/// A quilt as it is painted.
pub struct Painted {
    /// The drawing, its elements and its names, whose tone goes with the cloth below.
    pub drawing: QuiltDrawing,
    /// Photographs that are shown.
    pub photos: Photos,
    /// Rules that give the cloths their colours.
    pub css: String,
    /// Parts of the page, in the order of [`REGIONS`], those that were asked for.
    regions: [OnceLock<String>; REGIONS.len()],
}

impl Painted {
    /// Paints a quilt.
    pub fn new(quilt: &Quilt, plan: &Plan, photos: Photos) -> Self {
        let drawing = quilt_drawing_with(quilt, plan, &STYLE, &photos.pictures);
        Self { drawing, photos, css: cloth_css(quilt), regions: Default::default() }
    }

    fn names(&self) -> &str {
        &self.drawing.svg[self.drawing.names.clone()]
    }
}

impl Worked {
    /// A part of the page by its id; nothing where there is none of that id.
    pub fn region(&self, id: &str) -> Option<&str> {
        let at = REGIONS.iter().position(|each| *each == id)?;
        Some(
            self.painted.regions[at]
                .get_or_init(|| region(id, &format!("/q/{}/", self.id), &self.quilt, &self.plan, &self.painted.photos)),
        )
    }

    /// The elements of a layer of the drawing.
    pub fn layer(&self, layer: &str) -> Vec<&str> {
        let drawing = &self.painted.drawing;
        let of_it = drawing.elements.iter().filter(|(id, _)| layer_of(id) == Some(layer));
        of_it.map(|(_, at)| &drawing.svg[at.clone()]).collect()
    }

    /// Whether a part is as it was `before`. One that was not written then was not shown either.
    fn is_same_region(&self, before: &Self, at: usize) -> bool {
        before.painted.regions[at].get().is_some_and(|old| Some(old.as_str()) == self.region(REGIONS[at]))
    }
}

/// What the browser shows of a quilt.
#[derive(Debug, Default, Clone, Copy)]
pub struct Shown<'a> {
    /// What is pointed at.
    pub about: &'a str,
    /// The parts of the page and layers of the drawing that are shown besides those that always are, with spaces between them; all of them where
    /// it is not said.
    pub parts: Option<&'a str>,
}

impl Shown<'_> {
    fn has(&self, part: &str) -> bool {
        self.parts.is_none_or(|parts| parts.split(' ').any(|each| each == part))
    }
}

/// Layers of the drawing that are only sometimes shown. One turned block can change the falls over the whole quilt.
const LAYERS: [&str; 2] = ["falls", "quilting"];

/// The layer that an element of the drawing belongs to.
fn layer_of(id: &str) -> Option<&'static str> {
    let is_fall = id.ends_with(".falls") || id == "stacks";
    if is_fall { Some(LAYERS[0]) } else { LAYERS[1..].iter().copied().find(|layer| *layer == id) }
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
    /// Parts of the page that changed, by id, of those that are shown.
    pub regions: BTreeMap<&'static str, String>,
    /// Parts that are not shown and may have changed.
    pub stale: Vec<&'static str>,
    /// Layers of the drawing that are not shown and have changed.
    pub stale_layers: Vec<&'static str>,
    /// The panel about what is pointed at.
    pub about: String,
}

impl Repaint {
    /// From `before`, if it is known what the browser shows, to `after`.
    pub fn new(before: Option<&Worked>, after: &Worked, said: String, shown: Shown) -> Self {
        let (old, new) = (before.map(|before| &before.painted), &after.painted);
        let mut stale_layers = Vec::new();
        let (whole, elements) = match old.and_then(|old| changed(old, new, before.map(|before| &before.plan), &after.plan)) {
            Some(changed) => {
                let (seen, hidden): (Vec<_>, Vec<_>) =
                    changed.into_iter().partition(|(id, _)| layer_of(id).is_none_or(|layer| shown.has(layer)));
                stale_layers =
                    LAYERS.into_iter().filter(|layer| hidden.iter().any(|(id, _)| layer_of(id) == Some(layer))).collect();
                (None, seen.into_iter().map(|(_, svg)| svg.to_owned()).collect())
            }
            None => (Some(new.drawing.svg.clone()), Vec::new()),
        };
        let is_shown = |at: usize| at < ALWAYS || shown.has(REGIONS[at]);
        let (seen, hidden): (Vec<usize>, Vec<usize>) = (0..REGIONS.len()).partition(|&at| is_shown(at));
        let changed_regions = seen.into_iter().filter(|&at| before.is_none_or(|before| !after.is_same_region(before, at)));
        Self {
            revision: after.stored.revision.0,
            undo: after.stored.undo.clone(),
            redo: after.stored.redo.clone(),
            said,
            names: (whole.is_none() && old.is_some_and(|old| old.names() != new.names())).then(|| new.names().to_owned()),
            whole,
            elements,
            colours: old.is_none_or(|old| old.css != new.css),
            regions: changed_regions.map(|at| (REGIONS[at], after.region(REGIONS[at]).unwrap_or_default().to_owned())).collect(),
            stale: hidden.into_iter().map(|at| REGIONS[at]).collect(),
            stale_layers,
            about: about::region(after, shown.about).into_string(),
        }
    }
}

/// The elements that differ, by id; nothing when the drawing has to be painted whole.
fn changed<'a>(old: &Painted, new: &'a Painted, before: Option<&Plan>, after: &Plan) -> Option<Vec<(&'a str, &'a str)>> {
    let same_frame = before.is_some_and(|before| before.top.size == after.top.size && before.top.sections == after.top.sections);
    let (old, new) = (&old.drawing, &new.drawing);
    // What is sewn to the edge may stand out farther than before.
    if !same_frame || old.view != new.view || old.elements.len() != new.elements.len() {
        return None;
    }
    let mut changed = Vec::new();
    for ((old_id, old_at), (id, at)) in old.elements.iter().zip(&new.elements) {
        if old_id != id {
            return None;
        }
        let svg = &new.svg[at.clone()];
        if old.svg[old_at.clone()] != *svg {
            changed.push((id.as_str(), svg));
        }
    }
    Some(changed)
}
