//! Cloth as it looks, at true size: patterns of stripes, checks, dots and photographs, each turned as the patch is cut.
//!
//! In: the look of a cloth, how the cloth is turned, and where the picture of a photograph can be had. Out: `<pattern>` elements of the
//! document's unit, one for every cloth and turn that is used, and the fill that refers to it. A cloth whose picture is not given, and a
//! program that knows no patterns, show its colour. Pixels are never seen here.

use crate::page::number;
use crate::text::Escaped;
use seamfall_geom::{Pose, Vec2};
use seamfall_model::{Cloth, Figure, FigureKind, Length, Look, Photo, Quilt};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;
use tr::tr;

/// Where the picture of a photograph can be had: an address or the whole of it as `data:`.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Picture {
    /// In its colours.
    pub colours: String,
    /// In greys as light as these.
    pub greys: String,
}

/// Pictures by the names of their files, as the quilt file has them.
pub type Pictures = BTreeMap<String, Picture>;

/// How far a cloth is turned to the left, in tenths of a degree, 0 to 3,599.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Turn(u16);

impl Turn {
    pub const NONE: Self = Self(0);

    /// Of a cloth that points `up_deg` (from the x axis) on what is then moved by `pose`. A mirrored piece is cut reversed: its outline is
    /// mirrored, its print is not.
    pub fn of(up_deg: f64, pose: Pose) -> Self {
        let up = pose.apply_vec(Pose::turn_deg(up_deg).apply_vec(Vec2::new(1.0, 0.0)));
        Self::of_deg(up.atan2().to_degrees() - 90.0)
    }

    fn of_deg(deg: f64) -> Self {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "it lies between 0 and 3,600")]
        let tenths = (deg.rem_euclid(360.0) * 10.0).round() as u16;
        Self(tenths % 3_600)
    }

    pub fn deg(self) -> f64 {
        f64::from(self.0) / 10.0
    }
}

/// What is shown of a look.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Shades {
    Colours,
    Greys,
    /// Both; the page shows the one or the other.
    Both,
}

/// Patterns that a drawing refers to, gathered while it is made.
pub(crate) struct Patterns<'a> {
    quilt: &'a Quilt,
    pictures: &'a Pictures,
    prefix: String,
    shades: Shades,
    used: BTreeSet<(usize, Turn)>,
    /// Motifs that are shown, by their numbers in the quilt.
    motifs: BTreeSet<usize>,
}

impl<'a> Patterns<'a> {
    /// `prefix` keeps the ids of several drawings of a page apart.
    pub fn new(quilt: &'a Quilt, pictures: &'a Pictures, prefix: &str, shades: Shades) -> Self {
        let mut used = BTreeSet::new();
        if shades == Shades::Both {
            // Swatches elsewhere on the page show the cloth as it lies.
            used.extend((0..quilt.cloths.len()).filter(|&i| quilt.cloths[i].look.is_some()).map(|i| (i, Turn::NONE)));
        }
        Self { quilt, pictures, prefix: prefix.to_owned(), shades, used, motifs: BTreeSet::new() }
    }

    /// The value of a fill: the pattern, and the colour where that cannot be drawn.
    pub fn fill(&mut self, cloth: usize, turn: Turn) -> String {
        self.used.insert((cloth, turn));
        format!("url(#{}{cloth}-{}) {}", self.prefix, turn.0, self.quilt.cloths[cloth].colour.hex())
    }

    /// The same for what shows a motif: its middle is the origin, and up is up on the template.
    pub fn motif(&mut self, motif: usize) -> String {
        self.motifs.insert(motif);
        let cloth = self.quilt.fussy[motif].cloth.0;
        format!("url(#{}motif-{motif}) {}", self.prefix, self.quilt.cloths[cloth].colour.hex())
    }

    pub fn is_empty(&self) -> bool {
        self.used.is_empty() && self.motifs.is_empty()
    }

    /// All patterns that were referred to.
    pub fn write(&self, out: &mut String) {
        out.push_str("<defs>");
        for &(cloth, turn) in &self.used {
            let Some(look) = &self.quilt.cloths[cloth].look else { continue };
            let id = format!("{}{cloth}-{}", self.prefix, turn.0);
            let turned = Turned { rotate: -turn.deg() - look.angle_deg(), from: [0.0; 2] };
            pattern(out, &id, &self.quilt.cloths[cloth], look, turned, (self.pictures, self.shades));
        }
        for &motif in &self.motifs {
            let fussy = &self.quilt.fussy[motif];
            let cloth = &self.quilt.cloths[fussy.cloth.0];
            let Some(Look::Photo(photo)) = &cloth.look else { continue };
            let id = format!("{}motif-{motif}", self.prefix);
            let turned = Turned { rotate: -fussy.turn_deg, from: motif_in_repeat(photo, fussy.at) };
            pattern(out, &id, cloth, &Look::Photo(photo.clone()), turned, (self.pictures, self.shades));
        }
        out.push_str("</defs>");
    }
}

/// How a pattern lies.
#[derive(Clone, Copy)]
struct Turned {
    /// As SVG counts.
    rotate: f64,
    /// The point of the repeat, from its upper left corner, that comes to the origin.
    from: [f64; 2],
}

/// Where in the repeat a point of the photograph lies, from the repeat's upper left corner.
fn motif_in_repeat(photo: &Photo, at: [f64; 2]) -> [f64; 2] {
    let [left, top, _, _] = photo.kept().map(Length::value);
    let [width, height] = photo.whole().map(Length::value);
    [width * at[0] / 100.0 - left, height * at[1] / 100.0 - top]
}

/// One pattern.
fn pattern(
    out: &mut String,
    id: &str,
    cloth: &Cloth,
    look: &Look,
    Turned { rotate, from: [x, y] }: Turned,
    (pictures, shades): (&Pictures, Shades),
) {
    let [width, height] = look.repeat().map(Length::value);
    let _ = write!(
        out,
        r#"<pattern id="{}" width="{}" height="{}" patternUnits="userSpaceOnUse""#,
        Escaped(id),
        number(width),
        number(height)
    );
    let shifted = if x == 0.0 && y == 0.0 { String::new() } else { format!("translate({} {})", number(-x), number(-y)) };
    match (rotate != 0.0, shifted.is_empty()) {
        (false, true) => {}
        (true, _) => {
            let _ = write!(out, r#" patternTransform="rotate({}){shifted}""#, number(rotate));
        }
        (false, false) => {
            let _ = write!(out, r#" patternTransform="{shifted}""#);
        }
    }
    out.push('>');
    for (grey, class) in [(false, "in-colours"), (true, "in-greys")] {
        let is_wanted = match shades {
            Shades::Colours => !grey,
            Shades::Greys => grey,
            Shades::Both => true,
        };
        if !is_wanted {
            continue;
        }
        if shades == Shades::Both {
            let _ = write!(out, r#"<g class="{class}">"#);
        }
        tile(out, cloth, look, pictures, grey);
        if shades == Shades::Both {
            out.push_str("</g>");
        }
    }
    out.push_str("</pattern>");
}

/// One repeat, its upper left corner at the origin.
fn tile(out: &mut String, cloth: &Cloth, look: &Look, pictures: &Pictures, grey: bool) {
    let shade = |colour: seamfall_model::Colour| if grey { colour.grey().hex() } else { colour.hex() };
    let [width, height] = look.repeat().map(|side| number(side.value()));
    let ground = shade(cloth.colour);
    let _ = write!(out, r#"<rect width="{width}" height="{height}" fill="{ground}" stroke="none"/>"#);
    match look {
        Look::Figure(figure) => figure_tile(out, figure, &shade(figure.colour)),
        Look::Photo(photo) => {
            if let Some(picture) = pictures.get(&photo.file) {
                image(out, photo, if grey { &picture.greys } else { &picture.colours });
            }
        }
    }
}

fn figure_tile(out: &mut String, figure: &Figure, colour: &str) {
    let (size, repeat) = (figure.size.value(), figure.repeat.value());
    let (s, r, h) = (number(size), number(repeat), number(repeat / 2.0));
    let _ = match figure.kind {
        FigureKind::Stripes => write!(out, r#"<rect width="{s}" height="{r}" fill="{colour}" stroke="none"/>"#),
        FigureKind::Checks => write!(
            out,
            r#"<g fill="{colour}" stroke="none"><path d="M0 0h{s}v{r}h-{s}z" fill-opacity=".5"/><path d="M0 0h{r}v{s}h-{r}z" fill-opacity=".5"/><path d="M0 0h{s}v{s}h-{s}z"/></g>"#
        ),
        FigureKind::Dots => {
            let corners = [("0", "0"), (&*r, "0"), ("0", &*r), (&*r, &*r), (&*h, &*h)];
            let radius = number(size / 2.0);
            let _ = write!(out, r#"<g fill="{colour}" stroke="none">"#);
            for (x, y) in corners {
                let _ = write!(out, r#"<circle cx="{x}" cy="{y}" r="{radius}"/>"#);
            }
            write!(out, "</g>")
        }
    };
}

/// The whole photograph at its true size; the pattern's own edges cut off what is not kept.
fn image(out: &mut String, photo: &Photo, address: &str) {
    let [left, top, _, _] = photo.kept().map(Length::value);
    let [width, height] = photo.whole().map(Length::value);
    let _ = write!(
        out,
        r#"<image href="{}" x="{}" y="{}" width="{}" height="{}" preserveAspectRatio="none"/>"#,
        Escaped(address),
        number(-left),
        number(-top),
        number(width),
        number(height)
    );
}

/// A piece of cloth as it lies, `across` wide and `along` high in the document's unit; nothing for a plain cloth.
#[must_use]
pub fn swatch_svg(quilt: &Quilt, cloth: usize, pictures: &Pictures, [across, along]: [f64; 2]) -> Option<String> {
    let described = quilt.cloths.get(cloth)?;
    described.look.as_ref()?;
    let mut patterns = Patterns::new(quilt, pictures, &format!("swatch-{}-", described.key), Shades::Colours);
    let fill = patterns.fill(cloth, Turn::NONE);
    let mut out = String::new();
    crate::page::open(&mut out, (0.0, 0.0, across, along), &tr!("{name} as it lies", name = described.name));
    patterns.write(&mut out);
    let _ = write!(out, r#"<rect width="{}" height="{}" fill="{fill}"/></svg>"#, number(across), number(along));
    Some(out)
}
