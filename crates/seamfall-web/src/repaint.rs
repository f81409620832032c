//! What has to be painted anew after an edit.
//!
//! In: the quilt before and after, each worked out. Out: the elements of the drawing and the parts of the page that came out
//! differently. Both are compared as text, so that nothing can be forgotten. A place that only moved, because another became larger, is
//! told where it stands. A drawing whose elements are not the same ones in the same order (another setting) is sent whole.

use crate::offered;
use crate::photos::Photos;
use crate::room::Worked;
use crate::view::{about, cloths, cut, draft, fall, findings, finish, fit, head, join, lap, piece, setting, truing};
use maud::Markup;
use seamfall_draw::{Colours, QuiltDrawing, QuiltStyle, cloth_css, quilt_drawing_with};
use seamfall_model::Quilt;
use seamfall_plan::Plan;
use serde::Serialize;
use std::collections::BTreeMap;
use std::ops::Range;
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
        let of_it = drawing.elements.iter().filter(|element| layer_of(&element.id) == Some(layer));
        of_it.map(|element| &drawing.svg[element.at.clone()]).collect()
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
#[derive(Debug, Serialize, schemars::JsonSchema)]
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
    /// Attributes that changed without their elements: id, name, value.
    pub attributes: Vec<[String; 3]>,
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
        let (whole, elements, attributes) = match old.and_then(|old| changed(&old.drawing, &new.drawing)) {
            Some(Changed { elements, attributes }) => {
                let (seen, hidden): (Vec<_>, Vec<_>) =
                    elements.into_iter().partition(|(id, _)| layer_of(id).is_none_or(|layer| shown.has(layer)));
                stale_layers =
                    LAYERS.into_iter().filter(|layer| hidden.iter().any(|(id, _)| layer_of(id) == Some(layer))).collect();
                (None, seen.into_iter().map(|(_, svg)| svg.to_owned()).collect(), attributes)
            }
            None => (Some(new.drawing.svg.clone()), Vec::new(), Vec::new()),
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
            attributes,
            colours: old.is_none_or(|old| old.css != new.css),
            regions: changed_regions
                .map(|at| (REGIONS[at], offered::to_her(after.region(REGIONS[at]).unwrap_or_default().to_owned())))
                .collect(),
            stale: hidden.into_iter().map(|at| REGIONS[at]).collect(),
            stale_layers,
            about: offered::to_her(about::region(after, shown.about).into_string()),
        }
    }
}

/// What differs between two drawings of the same elements.
struct Changed<'a> {
    /// Elements, by id.
    elements: Vec<(&'a str, &'a str)>,
    /// Attributes: id, name, value.
    attributes: Vec<[String; 3]>,
}

/// What differs; nothing when the drawing has to be painted whole.
fn changed<'a>(old: &QuiltDrawing, new: &'a QuiltDrawing) -> Option<Changed<'a>> {
    if old.elements.len() != new.elements.len() || !rest(old).eq(rest(new)) {
        return None;
    }
    let told = |of: &str, name: &str, at: &Range<usize>| [of, name, &new.svg[at.clone()]].map(str::to_owned);
    let mut changed = Changed { elements: Vec::new(), attributes: Vec::new() };
    for (before, after) in old.attributes.iter().zip(&new.attributes) {
        if old.svg[before.at.clone()] != new.svg[after.at.clone()] {
            changed.attributes.push(told(after.of, after.name, &after.at));
        }
    }
    for (before, after) in old.elements.iter().zip(&new.elements) {
        if before.id != after.id {
            return None;
        }
        let (was, is) = (&old.svg[before.at.clone()], &new.svg[after.at.clone()]);
        if was == is {
            continue;
        }
        match (&before.moved, &after.moved) {
            (Some(from), Some(to))
                if old.svg[before.at.start..from.start] == new.svg[after.at.start..to.start]
                    && old.svg[from.end..before.at.end] == new.svg[to.end..after.at.end] =>
            {
                changed.attributes.push(told(&after.id, "transform", to));
            }
            _ => changed.elements.push((after.id.as_str(), is)),
        }
    }
    Some(changed)
}

/// What is written outside of elements, names and attributes of their own.
fn rest(drawing: &QuiltDrawing) -> impl Iterator<Item = &str> {
    let attributes = drawing.attributes.iter().map(|attribute| &attribute.at);
    let mut apart: Vec<_> =
        attributes.chain(drawing.elements.iter().map(|element| &element.at)).chain([&drawing.names]).collect();
    apart.sort_by_key(|at| at.start);
    let starts = [0].into_iter().chain(apart.iter().map(|at| at.end)).collect::<Vec<_>>();
    let ends = apart.into_iter().map(|at| at.start).chain([drawing.svg.len()]).collect::<Vec<_>>();
    starts.into_iter().zip(ends).map(|(from, to)| &drawing.svg[from..to])
}

#[cfg(test)]
mod tests {
    use super::*;
    use seamfall_draw::quilt_drawing;
    use seamfall_model::{Edit, Scalar, apply, read};
    use seamfall_testkit::SAMPLES;

    fn drawing(text: &str) -> QuiltDrawing {
        let quilt = read(text).expect("it reads");
        quilt_drawing(&quilt, &seamfall_plan::plan(&quilt), &STYLE)
    }

    /// `old` with what changed put in the place of what was there.
    fn mended(old: &QuiltDrawing, new: &QuiltDrawing, changed: &Changed) -> String {
        let mut swaps = vec![(old.names.clone(), &new.svg[new.names.clone()])];
        for (before, after) in old.elements.iter().zip(&new.elements) {
            let whole = changed.elements.iter().find(|(id, _)| *id == after.id).map(|(_, svg)| (before.at.clone(), *svg));
            let moved = || {
                let to = changed.attributes.iter().find(|[id, name, _]| *id == after.id && name == "transform")?;
                Some((before.moved.clone()?, to[2].as_str()))
            };
            swaps.extend(whole.or_else(moved));
        }
        for attribute in &old.attributes {
            let to = changed.attributes.iter().find(|[id, name, _]| id == attribute.of && name == attribute.name);
            swaps.extend(to.map(|to| (attribute.at.clone(), to[2].as_str())));
        }
        swaps.sort_by_key(|(at, _)| at.start);
        let mut svg = old.svg.clone();
        swaps.into_iter().rev().for_each(|(at, text)| svg.replace_range(at, text));
        svg
    }

    /// What is sent after an edit makes the drawing before it into the drawing after it, byte for byte.
    #[test]
    fn what_is_sent_is_all_that_changed() {
        let turn = Edit::Turn { row: 0, number: 0, times: 1 };
        let wider =
            Edit::Set { path: ["band", "0", "width"].map(str::to_owned).to_vec(), value: Scalar::Text("4 1/2".to_owned()) };
        let mut sent = 0;
        for (name, text) in SAMPLES {
            let old = drawing(text);
            for edit in [&turn, &wider] {
                let Ok(text) = apply(text, edit) else { continue };
                let new = drawing(&text);
                let Some(changed) = changed(&old, &new) else { continue };
                assert!(mended(&old, &new, &changed) == new.svg, "{name}, {edit:?}");
                sent += 1;
            }
        }
        assert!(sent > SAMPLES.len(), "{sent} of {} are sent in parts", 2 * SAMPLES.len());
    }
}
