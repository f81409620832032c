//! Where pieces lie on the cloth: strip by strip, to scale, numbered in the order of cutting.
//!
//! In: what is bought of a material, from the plan. Out: drawings with the strips one below the other as they are cut, each kind of strip
//! once with how often it is cut; pieces with their names, cuts of the first two stages heavier than those that follow, what is left over
//! hatched. Below each strip stands what the ruler is set to for its pieces, beside it the width of the strip itself.

use crate::ink::{Colours, Inks, Paint};
use crate::page::{Page, number};
use crate::text::{Anchor, Escaped, Label, Tone, width};
use seamfall_cutting::job::Kind;
use seamfall_cutting::layout::{Content, Panel, Strip};
use seamfall_geom::{Point, Pose, Vec2};
use seamfall_model::{Length, Quilt};
use seamfall_plan::Plan;
use seamfall_plan::cut::{CutSheet, Part, ToBuy, Way, kind_name, sheets, ticks_per_unit};
use std::fmt::Write;
use std::ops::Range;
use tr::tr;

/// A drawing of strips.
#[derive(Debug, Clone, PartialEq)]
pub struct ClothDrawing {
    /// The drawing; its viewBox is in the document's unit.
    pub svg: String,
    /// Its width and its height, in the document's unit.
    pub size: [f64; 2],
    /// What it shows, in words: `Night blue, strips 1 to 6`.
    pub title: String,
    /// Number of the sheet among [`sheets`], and the lines of its table that are drawn.
    pub sheet: usize,
    /// The same lines, from and to.
    pub lines: Range<usize>,
}

/// Drawings of all that is cut from a material. One is not higher than it may be beside its lines of the table on a page, and has no more
/// of these than stand beside it, unless a single strip is so.
#[must_use]
pub fn cloth_svgs(quilt: &Quilt, plan: &Plan, bought: &ToBuy, paint: Paint) -> Vec<ClothDrawing> {
    let sheets = sheets(quilt, &plan.cutting, bought);
    sheets.iter().enumerate().flat_map(|(i, sheet)| Table::new(quilt, plan, bought, sheet, paint).drawings(i)).collect()
}

/// What is drawn on.
struct Table<'a> {
    quilt: &'a Quilt,
    plan: &'a Plan,
    bought: &'a ToBuy,
    sheet: &'a CutSheet,
    inks: Inks<'a>,
    paint: Paint,
    /// Size of a line of text.
    text: f64,
    unit: f64,
}

/// Height of a drawing by the width of the cloth, and lines of the table beside it: what fits on a page together. Found by trying.
const HIGHEST: f64 = 2.2;
const MOST_LINES: usize = 44;

/// Hatching of what is left over.
const LEFT: &str = "left-over";

impl<'a> Table<'a> {
    fn new(quilt: &'a Quilt, plan: &'a Plan, bought: &'a ToBuy, sheet: &'a CutSheet, paint: Paint) -> Self {
        let inks = Inks::plain(quilt, paint, Colours::Attributes, "cloth");
        let unit = f64::from(ticks_per_unit(quilt.step));
        Self { quilt, plan, bought, sheet, inks, paint, text: sheet.width.value() / 46.0, unit }
    }

    fn size(&self, ticks: u32) -> f64 {
        f64::from(ticks) / self.unit
    }

    /// Height of a strip and of the line of settings below it.
    fn row(&self, strip: &Strip) -> f64 {
        self.size(strip.panel.height) + self.text * 1.9
    }

    fn drawings(&self, sheet: usize) -> Vec<ClothDrawing> {
        let most = self.sheet.width.value() * HIGHEST;
        // Where the lines of each strip begin, and where they all end.
        let all = self.sheet.lines.iter().enumerate();
        let mut begin: Vec<usize> = all.filter(|(_, line)| line.depth == 0).map(|(at, _)| at).collect();
        begin.push(self.sheet.lines.len());
        let mut drawings = Vec::new();
        let mut first = 0;
        while first < self.sheet.strips.len() {
            let mut height = self.row(&self.sheet.strips[first]);
            let mut next = first + 1;
            while next < self.sheet.strips.len()
                && height + self.row(&self.sheet.strips[next]) <= most
                && begin[next + 1] - begin[first] <= MOST_LINES
            {
                height += self.row(&self.sheet.strips[next]);
                next += 1;
            }
            let title = self.title(first, next);
            let (svg, size) = self.drawing(first, next, height, &title);
            drawings.push(ClothDrawing { svg, size, title, sheet, lines: begin[first]..begin[next] });
            first = next;
        }
        drawings
    }

    fn title(&self, first: usize, next: usize) -> String {
        let name = self.bought.of.name(self.quilt);
        let sheet = self.sheet.name.as_ref().map_or_else(String::new, |size| {
            let size = format!(", {} × {size}", self.sheet.times);
            if self.sheet.turned { tr!("{size}, turned", size) } else { size }
        });
        let strips =
            if first + 1 == next { tr!("strip {next}", next) } else { tr!("strips {first} to {next}", first = first + 1, next) };
        format!("{name}{sheet}, {strips}")
    }

    fn drawing(&self, first: usize, next: usize, height: f64, title: &str) -> (String, [f64; 2]) {
        let (left, right) = (self.text * 3.4, self.text * 4.4);
        let wide = left + self.sheet.width.value() + right;
        let mut out = format!(
            r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {} {}" font-family="sans-serif" stroke="black" role="img" aria-label="{}">"#,
            number(wide),
            number(height),
            Escaped(title)
        );
        self.hatching(&mut out);
        let mut y = 0.0;
        for (i, strip) in self.sheet.strips.iter().enumerate().take(next).skip(first) {
            let high = self.size(strip.panel.height);
            self.label(&mut out, &(i + 1).to_string(), Point::new(left / 2.0, y + high / 2.0 - self.text * 0.5), true);
            let times = format!("{} ×", strip.times);
            self.label(&mut out, &times, Point::new(left / 2.0, y + high / 2.0 + self.text * 0.7), false);
            let area = Area { x: left, y, width: self.sheet.width.value(), height: high };
            self.rect(
                &mut out,
                area,
                &format!(r##"fill="url(#{LEFT})" stroke="#000" stroke-width="{}""##, number(self.text * 0.12)),
            );
            self.panel(&mut out, &strip.panel, Point::new(left, y), 0);
            self.settings(&mut out, &strip.panel, Point::new(left, y + high));
            let at = Point::new(left + self.sheet.width.value() + right / 2.0, y + high / 2.0);
            self.label(&mut out, &self.shown(strip.panel.height), at, false);
            y += self.row(strip);
        }
        out.push_str("</svg>");
        (out, [wide, height])
    }

    fn hatching(&self, out: &mut String) {
        let step = number(self.text * 0.7);
        let _ = write!(
            out,
            r##"<defs><pattern id="{LEFT}" width="{step}" height="{step}" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="{step}" height="{step}" fill="#fff" stroke="none"/><path d="M0 0v{step}" fill="none" stroke="#777" stroke-width="{}"/></pattern></defs>"##,
            number(self.text * 0.12)
        );
        if self.paint == Paint::Lines {
            crate::ink::hatchings(out, "cloth", self.text * 0.8);
        }
        if self.paint == Paint::Signs {
            crate::ink::signs(out, "cloth", self.quilt, self.text * 0.8);
        }
    }

    /// A panel with its upper left corner at `at`; along the cloth runs down.
    fn panel(&self, out: &mut String, panel: &Panel, at: Point, depth: usize) {
        match &panel.content {
            Content::Piece { kind, turned } => self.piece(out, *kind, *turned, at),
            Content::Across(panels) => {
                let mut x = at.x;
                for part in panels {
                    self.panel(out, part, Point::new(x, at.y), depth + 1);
                    x += self.size(part.width);
                    self.cut(out, Point::new(x, at.y), Point::new(x, at.y + self.size(panel.height)), depth);
                }
            }
            Content::Along(panels) => {
                let mut y = at.y;
                for part in panels {
                    self.panel(out, part, Point::new(at.x, y), depth + 1);
                    y += self.size(part.height);
                    self.cut(out, Point::new(at.x, y), Point::new(at.x + self.size(panel.width), y), depth);
                }
            }
        }
    }

    fn piece(&self, out: &mut String, kind: usize, turned: bool, at: Point) {
        let piece: &Kind = &self.sheet.kinds[kind];
        let (wide, high) = if turned { (piece.height, piece.width) } else { (piece.width, piece.height) };
        let area = Area { x: at.x, y: at.y, width: self.size(wide), height: self.size(high) };
        let cloth = self.bought.of.cloth();
        if let Part::Nest(block) = self.bought.kinds[kind].part {
            return self.nest(out, (kind, block), turned, area);
        }
        let stroke = number(self.text * 0.06);
        self.rect(out, area, &format!(r#"stroke-width="{stroke}"{}"#, self.inks.fill(cloth)));
        let name = kind_name(&self.plan.cutting, self.bought, self.bought.kinds[kind]);
        // As large as it fits, and none rather than one that cannot be read.
        let size = self.text.min(area.height * 0.8).min(area.width * 0.9 / width(&name, 1.0));
        if size >= self.text * 0.5 {
            let at = Point::new(area.x + area.width / 2.0, area.y + area.height / 2.0);
            Label { text: &name, at, size, anchor: Anchor::Middle, bold: false, tone: self.inks.tone(cloth) }.write(out, "");
        }
    }

    /// Templates as they lie in their block.
    fn nest(&self, out: &mut String, (kind, block): (usize, usize), turned: bool, area: Area) {
        let of = self.bought.kinds[kind].piece;
        let Way::Template { outline, .. } = &self.plan.cutting.pieces[of].way else { return };
        let nest = &self.bought.nests[block];
        let fill = self.inks.fill(self.bought.of.cloth());
        // Turned a quarter, the block's width runs along the cloth.
        let turn = if turned { Pose::turn_deg(90.0).then(Pose::shift(Vec2::new(nest.height, 0.0))) } else { Pose::IDENTITY };
        let page = Page { left: -area.x, top: area.y + area.height };
        let _ = write!(out, r#"<path stroke-width="{}"{fill} d=""#, number(self.text * 0.06));
        for place in &nest.places {
            page.loops(out, place.then(turn), [outline]);
        }
        out.push_str(r#""/>"#);
        let name = kind_name(&self.plan.cutting, self.bought, self.bought.kinds[kind]);
        let size = self.text.min(area.height * 0.8).min(area.width * 0.9 / width(&name, 1.0));
        if size >= self.text * 0.5 {
            let at = Point::new(area.x + area.width / 2.0, area.y + area.height / 2.0);
            let tone = self.inks.tone(self.bought.of.cloth());
            Label { text: &name, at, size, anchor: Anchor::Middle, bold: true, tone }.write(out, "");
        }
    }

    /// A cut; the earlier it is made the heavier.
    fn cut(&self, out: &mut String, from: Point, to: Point, depth: usize) {
        let heavy = match depth {
            0 => 0.16,
            1 => 0.1,
            _ => 0.06,
        };
        let _ = write!(
            out,
            r##"<path d="M{} {}L{} {}" fill="none" stroke="#fff" stroke-width="{}"/><path d="M{} {}L{} {}" fill="none" stroke="#000" stroke-width="{}"/>"##,
            number(from.x),
            number(from.y),
            number(to.x),
            number(to.y),
            number(self.text * heavy * 2.2),
            number(from.x),
            number(from.y),
            number(to.x),
            number(to.y),
            number(self.text * heavy)
        );
    }

    /// What the ruler is set to for the cuts across a strip: `8 × 4 7/8` below each run of equal ones.
    fn settings(&self, out: &mut String, panel: &Panel, at: Point) {
        let Content::Across(panels) = &panel.content else { return };
        let mut x = at.x;
        for equal in panels.chunk_by(|a, b| a == b) {
            let wide: f64 = equal.iter().map(|part| self.size(part.width)).sum();
            let long = format!("{} × {}", equal.len(), self.shown(equal[0].width));
            let short = self.shown(equal[0].width);
            let text = [if equal.len() > 1 { &long } else { &short }, &short];
            let fitting = text.into_iter().find(|text| width(text, self.text * 0.8) <= wide);
            let middle = Point::new(x + wide / 2.0, at.y + self.text * 0.85);
            if let Some(text) = fitting {
                let label =
                    Label { text, at: middle, size: self.text * 0.8, anchor: Anchor::Middle, bold: false, tone: Tone::Plain };
                label.write(out, "");
            }
            x += wide;
        }
    }

    fn shown(&self, ticks: u32) -> String {
        Length::new(self.size(ticks)).shown(self.quilt.step)
    }

    fn label(&self, out: &mut String, text: &str, at: Point, bold: bool) {
        Label { text, at, size: self.text, anchor: Anchor::Middle, bold, tone: Tone::Plain }.write(out, "");
    }

    fn rect(&self, out: &mut String, area: Area, attributes: &str) {
        let _ = write!(
            out,
            r#"<rect x="{}" y="{}" width="{}" height="{}" {attributes}/>"#,
            number(area.x),
            number(area.y),
            number(area.width),
            number(area.height)
        );
    }
}

/// A rectangle of the drawing.
#[derive(Debug, Clone, Copy)]
struct Area {
    x: f64,
    y: f64,
    width: f64,
    height: f64,
}
