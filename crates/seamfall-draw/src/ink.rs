//! What patches are filled with: cloth colours, greys by value, or hatching for paper in black and white.

use crate::look::{Patterns, Pictures, Shades, Turn};
use crate::{page::number, text::Tone};
use seamfall_model::{Cloth, ClothId, Quilt, Value};
use std::fmt::Write;

/// What is shown of the cloths.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Paint {
    /// Their colours.
    #[default]
    Cloths,
    /// Their values, as greys.
    Values,
    /// Their values, hatched: light left white, medium in lines, dark in crossed lines. Survives a photocopy.
    Lines,
    /// Each cloth in a hatching of its own, the lighter the sparser, so that cloths are told apart without a colour or a grey.
    Signs,
}

/// How fills are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Colours {
    /// As `fill` attributes: the drawing stands alone.
    #[default]
    Attributes,
    /// As classes `c0`, `c1`, ..., filled by [`cloth_css`]; the class of the root (`cloths`, `values` or `lines`) says what is
    /// shown, so that another view or another colour needs no new drawing.
    Classes,
}

/// Rules for the classes of [`Colours::Classes`], all three views.
#[must_use]
pub fn cloth_css(quilt: &Quilt) -> String {
    let mut css = String::from(".cx{fill:#fff}\n");
    for (i, cloth) in quilt.cloths.iter().enumerate() {
        let seam = |paint| if is_dark(cloth, paint) { SEAM_ON_DARK } else { SEAM };
        if cloth.look.is_some() {
            css_of_look(&mut css, i, cloth, &seam);
        }
        let _ = writeln!(css, ".c{i}{{fill:{};stroke:{}}}", cloth.colour.hex(), seam(Paint::Cloths));
        let _ = writeln!(css, ".values .c{i}{{fill:{};stroke:{}}}", grey(cloth.value), seam(Paint::Values));
        let _ = writeln!(css, ".lines .c{i}{{fill:{};stroke:{SEAM}}}", hatch(PAGE_HATCH, cloth.value));
    }
    css
}

/// Rules for a cloth with a look. Patches of class `l0`, `l1`, ... bring their own fill, since each is turned its own way.
fn css_of_look(css: &mut String, i: usize, cloth: &Cloth, seam: &dyn Fn(Paint) -> &'static str) {
    let _ = writeln!(css, ".l{i}{{stroke:{}}}", seam(Paint::Cloths));
    let _ = writeln!(css, ".values .l{i}{{stroke:{}}}", seam(Paint::Values));
    let _ = writeln!(css, ".lines .l{i}{{fill:{};stroke:{SEAM}}}", hatch(PAGE_HATCH, cloth.value));
    let _ = writeln!(css, ".swatch .c{i}{{fill:url(#{PAGE_LOOK}{i}-0) {}}}", cloth.colour.hex());
}

/// Prefix of the patterns that [`cloth_css`] refers to, which are those of the top's drawing.
pub(crate) const PAGE_LOOK: &str = "look";

/// Seams, and those between dark cloths, where black would not be seen.
const SEAM: &str = "#000";
const SEAM_ON_DARK: &str = "#ccc";

/// Prefix of the hatchings that [`cloth_css`] refers to.
pub(crate) const PAGE_HATCH: &str = "value";

/// The fill attribute of every cloth of a quilt, written once.
pub(crate) struct Inks<'a> {
    quilt: &'a Quilt,
    paint: Paint,
    fills: Vec<String>,
    none: &'static str,
    colours: Colours,
    /// Of cloths with a look.
    patterns: Patterns<'a>,
}

impl<'a> Inks<'a> {
    /// `prefix` names the hatchings, see [`hatchings`]; cloths have their colours only.
    pub fn plain(quilt: &'a Quilt, paint: Paint, colours: Colours, prefix: &str) -> Self {
        static NONE: Pictures = Pictures::new();
        Self::new(quilt, paint, colours, prefix, (PAGE_LOOK, &NONE))
    }

    /// The same with looks: the prefix of their patterns, and the pictures of photographs.
    pub fn new(quilt: &'a Quilt, paint: Paint, colours: Colours, prefix: &str, (looks, pictures): (&str, &'a Pictures)) -> Self {
        let fill = |(i, cloth): (usize, &Cloth)| {
            if colours == Colours::Classes {
                return format!(r#" class="c{i}""#);
            }
            let fill = match paint {
                Paint::Cloths => cloth.colour.hex(),
                Paint::Values => grey(cloth.value).to_owned(),
                Paint::Lines => hatch(prefix, cloth.value),
                Paint::Signs => format!("url(#{prefix}-c{i})"),
            };
            let stroke = if is_dark(cloth, paint) { format!(r#" stroke="{SEAM_ON_DARK}""#) } else { String::new() };
            format!(r#" fill="{fill}"{stroke}"#)
        };
        let fills = quilt.cloths.iter().enumerate().map(fill).collect();
        let none = if colours == Colours::Classes { r#" class="cx""# } else { r##" fill="#fff""## };
        let shades = match (colours, paint) {
            (Colours::Classes, _) => Shades::Both,
            (Colours::Attributes, Paint::Values) => Shades::Greys,
            (Colours::Attributes, _) => Shades::Colours,
        };
        Self { quilt, paint, fills, none, colours, patterns: Patterns::new(quilt, pictures, looks, shades) }
    }

    /// Whether `cloth` is drawn with a pattern.
    pub fn has_look(&self, cloth: Option<ClothId>) -> bool {
        let looks = |cloth: ClothId| self.quilt.cloths.get(cloth.0).is_some_and(|cloth| cloth.look.is_some());
        (self.colours == Colours::Classes || !matches!(self.paint, Paint::Lines | Paint::Signs)) && cloth.is_some_and(looks)
    }

    /// The attributes for a cloth with a look, turned as the patch is cut.
    pub fn look(&mut self, ClothId(cloth): ClothId, turn: Turn) -> String {
        let fill = self.patterns.fill(cloth, turn);
        self.filled(cloth, &fill)
    }

    fn filled(&self, cloth: usize, fill: &str) -> String {
        if self.colours == Colours::Classes {
            return format!(r#" class="l{cloth}" fill="{fill}""#);
        }
        let dark = is_dark(&self.quilt.cloths[cloth], self.paint);
        let stroke = if dark { format!(r#" stroke="{SEAM_ON_DARK}""#) } else { String::new() };
        format!(r#" fill="{fill}"{stroke}"#)
    }

    /// The attributes for a patch that shows a motif.
    pub fn motif(&mut self, ClothId(cloth): ClothId, motif: usize) -> String {
        let fill = self.patterns.motif(motif);
        self.filled(cloth, &fill)
    }

    /// The patterns that were referred to, if there are any.
    pub fn patterns(&self) -> Option<&Patterns<'a>> {
        (!self.patterns.is_empty()).then_some(&self.patterns)
    }

    /// The attribute for `cloth`; white for a patch without one.
    pub fn fill(&self, cloth: Option<ClothId>) -> &str {
        cloth.and_then(|cloth| self.fills.get(cloth.0)).map_or(self.none, String::as_str)
    }

    /// What a label on `cloth` has to stand out from.
    pub fn tone(&self, cloth: Option<ClothId>) -> Tone {
        match cloth.and_then(|cloth| self.quilt.cloths.get(cloth.0)) {
            Some(cloth) if is_dark(cloth, self.paint) => Tone::OnDark,
            _ => Tone::OnLight,
        }
    }
}

/// Luma by ITU-R BT.601, in thousandths of a 256th.
fn luma(cloth: &Cloth) -> u32 {
    let colour = cloth.colour;
    299 * u32::from(colour.0) + 587 * u32::from(colour.1) + 114 * u32::from(colour.2)
}

/// Whether white reads better than black on `cloth`: luma below half. Hatchings are taken for light.
fn is_dark(cloth: &Cloth, paint: Paint) -> bool {
    match paint {
        Paint::Values => cloth.value == Value::Dark,
        Paint::Lines | Paint::Signs => false,
        Paint::Cloths => luma(cloth) < 128_000,
    }
}

fn grey(value: Value) -> &'static str {
    match value {
        Value::Light => "#eee",
        Value::Medium => "#a6a6a6",
        Value::Dark => "#4a4a4a",
    }
}

fn hatch(prefix: &str, value: Value) -> String {
    match value {
        Value::Light => "#fff".to_owned(),
        Value::Medium => format!("url(#{prefix}-medium)"),
        Value::Dark => format!("url(#{prefix}-dark)"),
    }
}

/// The hatchings, `{prefix}-medium` and `{prefix}-dark`, lines `step` apart.
pub(crate) fn hatchings(out: &mut String, prefix: &str, step: f64) {
    let (s, thin, dense) = (number(step), number(step * 0.1), number(step * 0.6));
    let _ = write!(
        out,
        r##"<defs><pattern id="{prefix}-medium" width="{s}" height="{s}" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="{s}" height="{s}" fill="#fff"/><path d="M{h} 0v{s}" fill="none" stroke="#000" stroke-width="{thin}"/></pattern><pattern id="{prefix}-dark" width="{dense}" height="{dense}" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="{dense}" height="{dense}" fill="#fff"/><path d="M{d} 0v{dense}M0 {d}h{dense}" fill="none" stroke="#000" stroke-width="{thick}"/></pattern></defs>"##,
        h = number(step / 2.0),
        d = number(step * 0.3),
        thick = number(step * 0.16),
    );
}

/// Hatchings by which cloths are told apart, from sparse to dense: a turn in degrees, and what is in a cell of ten by ten.
const SIGNS: [(u16, &str); 18] = [
    (0, ""),
    (0, r##"<circle cx="5" cy="5" r="1.1"/>"##),
    (45, r##"<path d="M0 5h10" stroke="#000" stroke-width=".8"/>"##),
    (0, r##"<path d="M5 2.5v5M2.5 5h5" stroke="#000" stroke-width=".9"/>"##),
    (135, r##"<path d="M0 5h10" stroke="#000" stroke-width=".8"/>"##),
    (0, r##"<circle cx="5" cy="5" r="2.6" fill="none" stroke="#000" stroke-width=".8"/>"##),
    (0, r##"<path d="M0 5h10" stroke="#000" stroke-width=".9"/>"##),
    (0, r##"<path d="M1 2.5h5M6 7.5h4M0 7.5h1" stroke="#000" stroke-width="1.3"/>"##),
    (90, r##"<path d="M0 5h10" stroke="#000" stroke-width=".9"/>"##),
    (0, r##"<circle cx="5" cy="5" r="2.2"/>"##),
    (0, r##"<path d="M0 5h10M5 0v10" stroke="#000" stroke-width=".8"/>"##),
    (45, r##"<path d="M0 5h10M5 0v10" stroke="#000" stroke-width=".8"/>"##),
    (45, r##"<path d="M0 5h10" stroke="#000" stroke-width="3"/>"##),
    (0, r##"<path d="M0 5h10" stroke="#000" stroke-width="3"/>"##),
    (135, r##"<path d="M0 5h10" stroke="#000" stroke-width="3"/>"##),
    (0, r##"<path d="M0 5h10M5 0v10" stroke="#000" stroke-width="2.4"/>"##),
    (0, r##"<circle cx="5" cy="5" r="3.4"/>"##),
    (45, r##"<path d="M0 5h10M5 0v10" stroke="#000" stroke-width="2.8"/>"##),
];

/// The hatching of every cloth, `{prefix}-c0` and so on, cells `step` wide: spread over [`SIGNS`] from light to dark, and where there are more
/// cloths than signs, the next round of them in larger cells.
pub(crate) fn signs(out: &mut String, prefix: &str, quilt: &Quilt, step: f64) {
    let mut by_light: Vec<usize> = (0..quilt.cloths.len()).collect();
    by_light.sort_by_key(|&i| (std::cmp::Reverse(luma(&quilt.cloths[i])), i));
    let apart = (SIGNS.len() / by_light.len().max(1)).max(1);
    out.push_str("<defs>");
    for (rank, &cloth) in by_light.iter().enumerate() {
        let (turn, cell) = SIGNS[(rank * apart) % SIGNS.len()];
        let scale = number(step / 10.0 * if rank < SIGNS.len() { 1.0 } else { 1.7 });
        let _ = write!(
            out,
            r##"<pattern id="{prefix}-c{cloth}" width="10" height="10" patternUnits="userSpaceOnUse" patternTransform="scale({scale}) rotate({turn})"><rect width="10" height="10" fill="#fff" stroke="none"/><g stroke="none" fill="#000">{cell}</g></pattern>"##,
        );
    }
    out.push_str("</defs>");
}

/// A swatch of a cloth's hatching, three units wide and two high.
#[must_use]
pub fn sign_svg(quilt: &Quilt, cloth: ClothId) -> String {
    let mut out = String::from(r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 3 2" aria-hidden="true">"#);
    signs(&mut out, "sign", quilt, 0.6);
    let _ = write!(
        out,
        r##"<rect x=".04" y=".04" width="2.92" height="1.92" fill="url(#sign-c{})" stroke="#000" stroke-width=".08"/></svg>"##,
        cloth.0
    );
    out
}
