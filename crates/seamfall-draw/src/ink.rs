//! What patches are filled with: cloth colours, greys by value, or hatching for paper in black and white.

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
        let _ = writeln!(css, ".c{i}{{fill:{};stroke:{}}}", cloth.colour.hex(), seam(Paint::Cloths));
        let _ = writeln!(css, ".values .c{i}{{fill:{};stroke:{}}}", grey(cloth.value), seam(Paint::Values));
        let _ = writeln!(css, ".lines .c{i}{{fill:{};stroke:{SEAM}}}", hatch(PAGE_HATCH, cloth.value));
    }
    css
}

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
}

impl<'a> Inks<'a> {
    /// `prefix` names the hatchings, see [`hatchings`].
    pub fn new(quilt: &'a Quilt, paint: Paint, colours: Colours, prefix: &str) -> Self {
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
        Self { quilt, paint, fills, none }
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
