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
        (self.colours == Colours::Classes || self.paint != Paint::Lines) && cloth.is_some_and(looks)
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

/// Whether white reads better than black on `cloth`: luma by ITU-R BT.601, below half. Hatchings are taken for light.
fn is_dark(cloth: &Cloth, paint: Paint) -> bool {
    match paint {
        Paint::Values => cloth.value == Value::Dark,
        Paint::Lines => false,
        Paint::Cloths => {
            let colour = cloth.colour;
            299 * u32::from(colour.0) + 587 * u32::from(colour.1) + 114 * u32::from(colour.2) < 128_000
        }
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
