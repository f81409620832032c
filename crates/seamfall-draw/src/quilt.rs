//! The whole top, to scale.
//!
//! Out: one `<g>` a place with the patches, shapes and frame strips of that place, then the other strips, then what is laid over
//! (sections, falls, names). Ids are those of the plan: place `C4`, patch `C4.p3`, shape laid over `C4.o1`, strip `B3.frame1.top`.

use crate::falls::layer;
use crate::hem;
use crate::ink::{Colours, Inks, PAGE_HATCH, PAGE_LOOK, Paint, hatchings, signs};
use crate::look::{Pictures, Turn};
use crate::motif::Shown;
use crate::needle;
use crate::page::{Page, number};
use crate::text::{Anchor, Escaped, Label, Tone, width};
use seamfall_geom::{Loop, Point, Pose};
use seamfall_model::{ClothId, PartId, Quilt};
use seamfall_plan::{
    Plan,
    cut::up_deg,
    set::{PieceKind, PlacedBlock, Section, TopPiece},
};
use std::fmt::{self, Write};
use std::ops::Range;
use tr::tr;

/// What a drawing of the top shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct QuiltStyle {
    /// What is shown of the cloths.
    pub paint: Paint,
    /// How fills are written.
    pub colours: Colours,
    /// Whether lap sections are outlined and named.
    pub sections: bool,
    /// Whether every seam shows to which side it falls, and where seams stack.
    pub falls: bool,
    /// Whether quilting lines lie over it: for the workroom, which colours them.
    pub quilting: bool,
    /// Whether places are named.
    pub names: bool,
    /// Whether elements have ids, classes and data: for the workroom, not for paper.
    pub ids: bool,
}

/// A drawing of the top, and where its elements stand in it, so that one can be compared and swapped by itself.
#[derive(Debug, Clone, PartialEq)]
pub struct QuiltDrawing {
    /// The whole SVG.
    pub svg: String,
    /// Every element: where there are ids the hatchings, then the `<g>` of each place, then the `<path>` of each strip that is not part of
    /// a frame, the layer of the edge where that is more than a rectangle, where there are ids the outline with the sections, those of the
    /// falls, the layer of the quilting.
    pub elements: Vec<Element>,
    /// Attributes that follow from the size of the quilt and stand outside of the elements, where there are ids.
    pub attributes: Vec<Attribute>,
    /// Bytes of the names over it; none where the style has none.
    pub names: Range<usize>,
    /// Left, top, width and height of its viewBox, in the document's unit: what is sewn to the edge stands out beyond the top.
    pub view: [f64; 4],
}

/// An element of a drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Element {
    /// Its id.
    pub id: String,
    /// Its bytes.
    pub at: Range<usize>,
    /// The bytes of where it stands, the value of its `transform`: the `<g>` of a place is drawn about its own upper left corner where there are
    /// ids, so that one which only moves is only moved.
    pub moved: Option<Range<usize>>,
}

impl From<(String, Range<usize>)> for Element {
    fn from((id, at): (String, Range<usize>)) -> Self {
        Self { id, at, moved: None }
    }
}

/// An attribute whose value changes with the size of the quilt.
#[derive(Debug, Clone, PartialEq)]
pub struct Attribute {
    /// Id of what has it.
    pub of: &'static str,
    /// Its name.
    pub name: &'static str,
    /// The bytes of its value.
    pub at: Range<usize>,
}

/// The top of `quilt` with its edge. The viewBox is in the document's unit, with room for the outline's stroke and for what is sewn to it.
#[must_use]
pub fn quilt_svg(quilt: &Quilt, plan: &Plan, style: &QuiltStyle) -> String {
    quilt_drawing(quilt, plan, style).svg
}

/// [`quilt_svg`], with the places of its elements.
#[must_use]
pub fn quilt_drawing(quilt: &Quilt, plan: &Plan, style: &QuiltStyle) -> QuiltDrawing {
    quilt_drawing_with(quilt, plan, style, &Pictures::new())
}

/// [`quilt_drawing`], with the pictures of the photographs of its cloths.
#[must_use]
pub fn quilt_drawing_with(quilt: &Quilt, plan: &Plan, style: &QuiltStyle, pictures: &Pictures) -> QuiltDrawing {
    let size = plan.top.size;
    let long = size.x.max(size.y).max(1.0);
    let rim = long / 500.0;
    let room = rim + hem::stands_out(quilt, plan);
    let view = [-room, -room, size.x + 2.0 * room, size.y + 2.0 * room];
    let mut top = Drawn::new(quilt, plan, style, pictures);
    top.out.reserve(
        160 * plan
            .top
            .places
            .iter()
            .map(|place| plan.drafts.get(place.block.0).map_or(0, |draft| draft.patches.len()))
            .sum::<usize>(),
    );
    let class = match (style.colours, style.paint) {
        (Colours::Attributes, _) => "",
        (Colours::Classes, Paint::Cloths) => r#" class="quilt cloths""#,
        (Colours::Classes, Paint::Values) => r#" class="quilt values""#,
        (Colours::Classes, Paint::Lines | Paint::Signs) => r#" class="quilt lines""#,
    };
    top.out.push_str(r#"<svg xmlns="http://www.w3.org/2000/svg""#);
    top.out.push_str(if style.ids { r#" id="drawn-quilt" role="group""# } else { r#" role="img""# });
    let [left, upper, width, height] = view.map(number);
    top.attribute("drawn-quilt", "viewBox", format_args!("{left} {upper} {width} {height}"));
    let _ = write!(top.out, r#"{class} aria-label="{}" font-family="sans-serif">"#, Escaped(&quilt.name));
    let from = top.out.len();
    match style.colours {
        Colours::Classes => hatchings(&mut top.out, PAGE_HATCH, long / 90.0),
        Colours::Attributes if style.paint == Paint::Lines => hatchings(&mut top.out, HATCH, long / 90.0),
        Colours::Attributes if style.paint == Paint::Signs => signs(&mut top.out, HATCH, quilt, long / 90.0),
        Colours::Attributes => {}
    }
    top.element("drawn-hatchings", from);
    let seam =
        if matches!(style.paint, Paint::Lines | Paint::Signs) { r#"stroke-opacity="1""# } else { r#"stroke-opacity=".5""# };
    let _ = write!(top.out, r##"<g stroke="#000" {seam} stroke-linejoin="round""##);
    if style.ids {
        top.out.push_str(r#" id="drawn-seams""#);
    }
    top.attribute("drawn-seams", "stroke-width", format_args!("{}", number(long / 1600.0)));
    top.out.push('>');
    let mut frames = vec![Vec::new(); plan.top.places.len()];
    for (i, strip) in plan.top.strips.iter().enumerate() {
        if let Some(of_place) = framed_place(strip).and_then(|place| frames.get_mut(place)) {
            of_place.push(i);
        }
    }
    for (place, strips) in plan.top.places.iter().zip(&frames) {
        top.place(place, strips);
    }
    for strip in plan.top.strips.iter().filter(|strip| framed_place(strip).is_none()) {
        let from = top.out.len();
        top.strip(strip);
        top.elements.push((strip.name.clone(), from..top.out.len()).into());
    }
    top.out.push_str("</g>");
    if let Some(patterns) = top.inks.patterns() {
        let from = top.out.len();
        top.out.push_str(r#"<g id="looks">"#);
        patterns.write(&mut top.out);
        top.out.push_str("</g>");
        top.elements.push(("looks".to_owned(), from..top.out.len()).into());
    }
    let edge = hem::layer(&mut top.out, quilt, plan, &top.inks, (top.page, long / 800.0), style.ids);
    top.elements.extend(edge.map(Element::from));
    let from = top.out.len();
    top.outline(rim * 0.8);
    if style.sections {
        top.sections(long);
    }
    top.element("drawn-lines", from);
    if style.falls {
        let falls = layer(&mut top.out, quilt, plan, top.page, style.ids);
        top.elements.extend(falls.into_iter().map(Element::from));
    }
    if style.quilting {
        let quilting = needle::layer(&mut top.out, plan, top.page);
        top.elements.push(quilting.into());
    }
    let from = top.out.len();
    if style.names {
        top.names();
    }
    let names = from..top.out.len();
    top.out.push_str("</svg>");
    QuiltDrawing { svg: top.out, elements: top.elements, attributes: top.attributes, names, view }
}

/// Prefix of the hatchings of a drawing that stands alone.
const HATCH: &str = "quilt";

/// The place to whose frame `strip` belongs.
fn framed_place(strip: &TopPiece) -> Option<usize> {
    match strip.kind {
        PieceKind::Frame { place, .. } | PieceKind::FrameSquare { place, .. } => Some(place),
        _ => None,
    }
}

/// A drawing of the top as it grows.
struct Drawn<'a> {
    quilt: &'a Quilt,
    plan: &'a Plan,
    style: &'a QuiltStyle,
    inks: Inks<'a>,
    page: Page,
    out: String,
    elements: Vec<Element>,
    attributes: Vec<Attribute>,
}

impl<'a> Drawn<'a> {
    fn new(quilt: &'a Quilt, plan: &'a Plan, style: &'a QuiltStyle, pictures: &'a Pictures) -> Self {
        let inks = Inks::new(quilt, style.paint, style.colours, HATCH, (PAGE_LOOK, pictures));
        let page = Page { left: 0.0, top: plan.top.size.y };
        Self { quilt, plan, style, inks, page, out: String::new(), elements: Vec::new(), attributes: Vec::new() }
    }

    /// Writes an attribute that follows from the size.
    fn attribute(&mut self, of: &'static str, name: &'static str, value: fmt::Arguments<'_>) {
        let _ = write!(self.out, r#" {name}=""#);
        let from = self.out.len();
        let _ = write!(self.out, r#"{value}""#);
        if self.style.ids {
            self.attributes.push(Attribute { of, name, at: from..self.out.len() - 1 });
        }
    }

    /// What was written since `from` is an element; without ids there is no telling it from the rest.
    fn element(&mut self, id: &str, from: usize) {
        if self.style.ids && from < self.out.len() {
            let open = format!(r#"<g id="{id}">"#);
            self.out.insert_str(from, &open);
            self.out.push_str("</g>");
            self.elements.push((id.to_owned(), from..self.out.len()).into());
        }
    }

    fn place(&mut self, place: &PlacedBlock, strips: &[usize]) {
        let (Some(block), Some(draft)) = (self.quilt.blocks.get(place.block.0), self.plan.drafts.get(place.block.0)) else {
            return;
        };
        let (from, page) = (self.out.len(), self.page);
        let mut moved = None;
        self.out.push_str("<g");
        if self.style.ids {
            let _ = write!(self.out, r#" id="{}" class="place" data-block="{}""#, Escaped(&place.name), Escaped(&block.key));
            if let Some(section) = self.plan.top.sections.get(place.section) {
                let _ = write!(self.out, r#" data-section="{}""#, Escaped(&section.name));
            }
            let bounds = place.outline.bounds();
            let corner = page.at(Point::new(bounds.x0, bounds.y1));
            self.page = Page { left: bounds.x0, top: bounds.y1 };
            self.out.push_str(r#" transform=""#);
            let start = self.out.len();
            let _ = write!(self.out, "translate({} {})", number(corner.x), number(corner.y));
            moved = Some(start..self.out.len());
            self.out.push('"');
        }
        let _ =
            write!(self.out, "><title>{}: {}{}</title>", Escaped(&place.name), Escaped(&block.name), turned(self.quilt, place));
        for &strip in strips {
            self.strip(&self.plan.top.strips[strip]);
        }
        let cloth = |part: PartId| place.cloths.get(part.0).copied();
        for (i, patch) in draft.patches.iter().enumerate() {
            let id = (place.name.as_str(), 'p', i + 1);
            let shown = Shown::patch(place.block, i, patch);
            let loops = std::iter::once(&patch.outline).chain(&patch.holes);
            self.patch(id, patch.part.and_then(cloth), shown, place.pose, loops);
        }
        for (i, shape) in draft.overlays.iter().enumerate() {
            let id = (place.name.as_str(), 'o', i + 1);
            self.patch(id, cloth(shape.part), Shown::over(place.block, shape), place.pose, [&shape.outline]);
        }
        self.out.push_str("</g>");
        self.page = page;
        self.elements.push(Element { id: place.name.clone(), at: from..self.out.len(), moved });
    }

    fn patch<'l>(
        &mut self,
        id: (&str, char, usize),
        cloth: Option<ClothId>,
        shown: Shown<'_>,
        pose: Pose,
        loops: impl IntoIterator<Item = &'l Loop>,
    ) {
        self.out.push_str("<path");
        if self.style.ids {
            let _ = write!(self.out, r#" id="{}.{}{}""#, Escaped(id.0), id.1, id.2);
        }
        match cloth.filter(|_| self.inks.has_look(cloth)) {
            Some(cloth) => {
                if let Some(motif) = shown.motif(self.quilt, cloth) {
                    return shown.write(&mut self.out, &mut self.inks, (cloth, motif), (self.page, pose), loops);
                }
                self.out.push_str(&self.inks.look(cloth, Turn::of(shown.up_deg, pose)));
            }
            None => self.out.push_str(self.inks.fill(cloth)),
        }
        self.out.push_str(r#" d=""#);
        self.page.loops(&mut self.out, pose, loops);
        self.out.push_str(r#""/>"#);
    }

    fn strip(&mut self, strip: &TopPiece) {
        self.out.push_str("<path");
        if self.style.ids {
            let _ = write!(self.out, r#" id="{}""#, Escaped(&strip.name));
        }
        if self.inks.has_look(Some(strip.cloth)) {
            let turn = Turn::of(up_deg(self.quilt, strip), Pose::IDENTITY);
            self.out.push_str(&self.inks.look(strip.cloth, turn));
        } else {
            self.out.push_str(self.inks.fill(Some(strip.cloth)));
        }
        self.out.push_str(r#" d=""#);
        self.page.loops(&mut self.out, Pose::IDENTITY, [&strip.outline]);
        let _ = write!(self.out, r#""><title>{}</title></path>"#, Escaped(&words(self.plan, strip)));
    }

    /// The edge as it is cut.
    fn outline(&mut self, stroke: f64) {
        let (size, stroke) = (self.plan.top.size, number(stroke));
        if self.plan.top.corners.is_empty() && self.plan.finish.curved.is_none() {
            let (width, height) = (number(size.x), number(size.y));
            let _ = write!(
                self.out,
                r##"<rect width="{width}" height="{height}" fill="none" stroke="#000" stroke-width="{stroke}" pointer-events="none"/>"##,
            );
            return;
        }
        let _ = write!(self.out, r##"<path fill="none" stroke="#000" stroke-width="{stroke}" pointer-events="none" d=""##);
        self.page.loops(&mut self.out, Pose::IDENTITY, [self.plan.finish.edge(&self.plan.top)]);
        self.out.push_str(r#""/>"#);
    }

    /// Sections, drawn a little smaller than they are so that two neighbours' lines do not fall on one another.
    fn sections(&mut self, long: f64) {
        let sections = &self.plan.top.sections;
        // Lines keep in proportion to the usual section, names to their own.
        let mut sides: Vec<_> = sections.iter().map(|section| section.size.y).collect();
        sides.sort_by(f64::total_cmp);
        let unit = sides.get(sides.len() / 2).copied().unwrap_or(long).min(long / 4.0) / 50.0;
        for (colour, opacity, width, dash) in
            [("#fff", ".8", unit * 0.7, String::new()), ("#000", "1", unit * 0.35, number(unit * 2.5))]
        {
            let _ = write!(
                self.out,
                r#"<g class="sections" pointer-events="none" fill="none" stroke="{colour}" stroke-opacity="{opacity}" stroke-width="{}" stroke-linejoin="round""#,
                number(width)
            );
            if !dash.is_empty() {
                let _ = write!(self.out, r#" stroke-dasharray="{dash} {}""#, number(unit * 1.25));
            }
            self.out.push('>');
            for section in sections {
                self.out.push_str(r#"<path d=""#);
                self.page.loops(&mut self.out, Pose::IDENTITY, [&smaller(&section.outline, unit)]);
                self.out.push_str(r#""/>"#);
            }
            self.out.push_str("</g>");
        }
        self.out.push_str(r#"<g class="section-names" pointer-events="none">"#);
        for section in sections {
            let wide = section.outline.bounds().width() * 0.65;
            let size = (unit * 5.0).min(section.size.y * 0.3).min(wide / width(&section.name, 1.0));
            let (at, anchor) = corner(section, size);
            Label { text: &section.name, at: self.page.at(at), size, anchor, bold: true, tone: Tone::OnLight }
                .write(&mut self.out, "");
        }
        self.out.push_str("</g>");
    }

    fn names(&mut self) {
        self.out.push_str(r#"<g class="names" pointer-events="none">"#);
        for place in &self.plan.top.places {
            let bounds = place.outline.bounds();
            let at = place.outline.label_point();
            let below = self.plan.drafts.get(place.block.0).and_then(|draft| {
                let over = draft.overlays.iter().rev().map(|shape| (&shape.outline, Some(shape.part)));
                let patches = draft.patches.iter().map(|patch| (&patch.outline, patch.part));
                over.chain(patches).find(|(outline, _)| outline.moved(place.pose).contains(at)).and_then(|(_, part)| part)
            });
            let tone = self.inks.tone(below.and_then(|part| place.cloths.get(part.0).copied()));
            let size = bounds.width().min(bounds.height()) * 0.2;
            Label { text: &place.name, at: self.page.at(at), size, anchor: Anchor::Middle, bold: true, tone }
                .write(&mut self.out, "");
        }
        self.out.push_str("</g>");
    }
}

/// `outline` of straight sides drawn in towards the middle of its bounds by `inset` on every side of them.
fn smaller(outline: &Loop, inset: f64) -> Loop {
    let bounds = outline.bounds();
    let middle = bounds.center();
    let scale = |long: f64| if long > 4.0 * inset { 1.0 - 2.0 * inset / long } else { 0.5 };
    let (across, up) = (scale(bounds.width()), scale(bounds.height()));
    let corners: Vec<_> =
        outline.corners().map(|p| Point::new(middle.x + (p.x - middle.x) * across, middle.y + (p.y - middle.y) * up)).collect();
    Loop::polygon(&corners)
}

/// Where the name of a section stands: in its upper left corner, or below its highest one.
fn corner(section: &Section, size: f64) -> (Point, Anchor) {
    let bounds = section.outline.bounds();
    let near = |p: Point| (p.x - bounds.x0).abs() < 1e-6 && (p.y - bounds.y1).abs() < 1e-6;
    if section.outline.corners().any(near) {
        return (Point::new(bounds.x0 + size * 0.7, bounds.y1 - size * 1.1), Anchor::Start);
    }
    let highest = section.outline.corners().fold(Point::new(0.0, f64::NEG_INFINITY), |a, b| if b.y > a.y { b } else { a });
    (Point::new(highest.x, highest.y - size * 2.0), Anchor::Middle)
}

/// How the block of a place is turned, in words that follow its name.
fn turned(quilt: &Quilt, place: &PlacedBlock) -> String {
    let Some(here) = quilt.setting.places.get(place.row).and_then(|row| row.get(place.number)) else {
        return String::new();
    };
    let turn = match here.turns % 4 {
        1 => tr!(", turned a quarter to the left"),
        2 => tr!(", turned half round"),
        3 => tr!(", turned a quarter to the right"),
        _ => String::new(),
    };
    if here.mirrored { tr!(", mirrored") + &turn } else { turn }
}

/// What a strip is, in words.
fn words(plan: &Plan, strip: &TopPiece) -> String {
    let place = |i: usize| plan.top.places.get(i).map_or("", |place| place.name.as_str());
    match strip.kind {
        PieceKind::Frame { place: i, strip, side } => {
            tr!("frame of {place}, strip {strip}, {side}", place = place(i), strip = strip + 1, side = side.said())
        }
        PieceKind::FrameSquare { place: i, strip } => {
            tr!("frame of {place}, strip {strip}, corner square", place = place(i), strip = strip + 1)
        }
        PieceKind::SideTriangle => tr!("side triangle"),
        PieceKind::CornerTriangle => tr!("corner triangle"),
        PieceKind::Sash => tr!("sashing"),
        PieceKind::Cornerstone => tr!("cornerstone"),
        PieceKind::Filler => tr!("filler"),
        PieceKind::Band { band, side } => tr!("band {band}, {side}", band = band + 1, side = side.said()),
        PieceKind::BandSquare { band } => tr!("band {band}, corner square", band = band + 1),
    }
}
