//! How a cloth looks: the check of what is written, and the writing of it.
//!
//! In: raw values; or a look. Out: a figure or a photograph with every size checked; or its line in the file.

use super::check::{Check, shortened};
use super::raw::*;
use super::write::{length, text};
use crate::*;
use std::fmt::Write as _;
use tr::tr;

/// From one stripe or dot to the next unless said, in inches and in centimetres. Common practice: a stripe that reads across a room.
const REPEAT: [f64; 2] = [1.0, 2.0];

/// Share of the repeat that a stripe takes unless said, and that a dot does.
const STRIPE: f64 = 0.5;
const DOT: f64 = 1.0 / 3.0;

fn usual_repeat(measure: Measure) -> Length {
    Length::new(if measure == Measure::Inch { REPEAT[0] } else { REPEAT[1] })
}

fn usual_size(kind: FigureKind, repeat: Length) -> Length {
    repeat * if kind == FigureKind::Dots { DOT } else { STRIPE }
}

impl Check<'_> {
    pub(super) fn look(&mut self, raw: &At<RawLook>) -> Look {
        let kind = match raw.kind {
            RawLookKind::Stripes => FigureKind::Stripes,
            RawLookKind::Checks => FigureKind::Checks,
            RawLookKind::Dots => FigureKind::Dots,
            RawLookKind::Photo => return self.photo(raw),
        };
        let strange = [
            ("file", raw.file.as_ref().map(At::span)),
            ("width", raw.width.as_ref().map(At::span)),
            ("pixels", raw.pixels.as_ref().map(At::span)),
            ("crop", raw.crop.as_ref().map(At::span)),
        ];
        self.not_of_this_look(strange, kind.word(), &tr!("write `kind = \"photo\"`, or take it away"));
        let repeat = match &raw.repeat {
            Some(repeat) => self.length(repeat, "repeat", limits::FIGURE_IN),
            None => usual_repeat(self.measure),
        };
        let size = match &raw.size {
            Some(size) => self.length(size, "size", (1.0 / 64.0, limits::FIGURE_IN.1)),
            None => usual_size(kind, repeat),
        };
        if let Some(typed) = raw.size.as_ref().filter(|_| size.value() >= repeat.value()) {
            let reason = tr!("`size` is as large as the `repeat` or larger, so that nothing of the ground is seen");
            self.problems.add(typed.span(), reason, tr!("make `size` smaller, or `repeat` larger"));
        }
        let colour = match &raw.colour {
            Some(colour) => self.colour(colour),
            None => {
                let help = tr!("add `colour = \"#f6f0e0\"`; the ground is the cloth's own colour");
                self.problems.add(raw.span(), tr!("{word} need the key `colour`", word = kind.word()), help);
                Colour(0, 0, 0)
            }
        };
        let angle_deg = raw.angle.as_ref().map_or(0.0, |angle| self.degrees(angle, "angle"));
        Look::Figure(Figure { kind, colour, size, repeat, angle_deg })
    }

    fn photo(&mut self, raw: &At<RawLook>) -> Look {
        let strange = [
            ("colour", raw.colour.as_ref().map(At::span)),
            ("size", raw.size.as_ref().map(At::span)),
            ("repeat", raw.repeat.as_ref().map(At::span)),
            ("angle", raw.angle.as_ref().map(At::span)),
        ];
        let help = tr!("take it away; what repeats is what `crop` leaves of the photograph");
        self.not_of_this_look(strange, &tr!("a photograph"), &help);
        for (key, is_there) in [("file", raw.file.is_some()), ("width", raw.width.is_some()), ("pixels", raw.pixels.is_some())] {
            if !is_there {
                let help = match key {
                    "file" => tr!("add `file = \"moss.jpg\"`: the photograph beside the quilt file"),
                    "width" => tr!("add `width = \"12\"`: how wide the photographed piece of cloth really is"),
                    _ => tr!("add `pixels = [2048, 1536]`: the photograph's pixels across and down"),
                };
                self.problems.add(raw.span(), tr!("a photograph needs the key `{key}`", key), help.to_owned());
            }
        }
        Look::Photo(Photo {
            file: raw.file.as_ref().map_or_else(String::new, |file| self.photo_name(file)),
            width: raw.width.as_ref().map_or(Length::new(1.0), |width| self.length(width, "width", (0.25, limits::SIDE_IN))),
            pixels: raw.pixels.as_ref().map_or([1, 1], |pixels| self.pixels(pixels)),
            crop: raw.crop.as_ref().map_or([0.0; 4], |crop| self.crop(crop)),
        })
    }

    fn not_of_this_look<const N: usize>(&mut self, strange: [(&str, Option<std::ops::Range<usize>>); N], of: &str, help: &str) {
        for (key, span) in strange {
            if let Some(span) = span {
                self.problems.add(span, tr!("`{key}` is no key of {of}", key, of), help.to_owned());
            }
        }
    }

    /// An angle between half a turn to the right and to the left.
    pub(super) fn degrees(&mut self, raw: &At<f64>, what: &str) -> f64 {
        if (-180.0..=180.0).contains(&**raw) {
            return **raw;
        }
        let reason = tr!("`{what}` is {value} degrees, but must lie between -180 and 180", what, value = **raw);
        self.problems.add(raw.span(), reason, tr!("count it to the left; to the right it is negative"));
        0.0
    }

    /// A plain name, so that it is found beside the quilt file on every machine and nowhere else.
    fn photo_name(&mut self, raw: &At<String>) -> String {
        let name = self.words(raw, &tr!("name of the file"), limits::PHOTO_NAME);
        if name.contains(['/', '\\', ':']) || name.starts_with('.') {
            let reason = tr!("`{written}` leads to another folder", written = shortened(&name));
            self.problems.add(raw.span(), reason, tr!("put the photograph beside the quilt file and write its name alone"));
        }
        name
    }

    fn pixels(&mut self, raw: &At<Vec<i64>>) -> [u32; 2] {
        let count = |n: &i64| u32::try_from(*n).ok().filter(|n| (1..=limits::PIXELS).contains(n));
        if let [across, down] = raw.as_slice()
            && let (Some(across), Some(down)) = (count(across), count(down))
        {
            return [across, down];
        }
        let reason = tr!("`pixels` are two whole numbers from 1 to {most}, across and down", most = limits::PIXELS);
        self.problems.add(raw.span(), reason, tr!("write it like `pixels = [2048, 1536]`"));
        [1, 1]
    }

    fn crop(&mut self, raw: &At<Vec<f64>>) -> [f64; 4] {
        let help = tr!("left, top, right, bottom: `crop = [5, 0, 10, 0]` cuts 5 per cent off at the left and 10 at the right");
        let Ok(crop) = <[f64; 4]>::try_from(raw.as_slice()) else {
            let reason = tr!("`crop` has four numbers, in per cent of the photograph");
            self.problems.add(raw.span(), reason, help.to_owned());
            return [0.0; 4];
        };
        let [left, top, right, bottom] = crop;
        let fits = |one: f64, other: f64| one >= 0.0 && other >= 0.0 && one + other <= 100.0 - limits::KEPT;
        if !fits(left, right) || !fits(top, bottom) {
            let reason = tr!("`crop` leaves nothing of the photograph, or cuts off less than nothing");
            self.problems.add(raw.span(), reason, help.to_owned());
            return [0.0; 4];
        }
        crop
    }
}

/// `look = { ... }`.
pub(super) fn write(out: &mut String, quilt: &Quilt, look: &Look) {
    match look {
        Look::Figure(figure) => {
            let _ = write!(out, "look = {{ kind = \"{}\", colour = \"{}\"", figure.kind.word(), figure.colour.hex());
            if figure.size != usual_size(figure.kind, figure.repeat) {
                let _ = write!(out, ", size = {}", length(quilt, figure.size));
            }
            if figure.repeat != usual_repeat(quilt.measure) {
                let _ = write!(out, ", repeat = {}", length(quilt, figure.repeat));
            }
            if figure.angle_deg != 0.0 {
                let _ = write!(out, ", angle = {}", figure.angle_deg);
            }
        }
        Look::Photo(photo) => {
            let [across, down] = photo.pixels;
            let _ =
                write!(out, "look = {{ kind = \"photo\", file = {}, width = {}", text(&photo.file), length(quilt, photo.width));
            let _ = write!(out, ", pixels = [{across}, {down}]");
            if photo.crop != [0.0; 4] {
                let _ = write!(out, ", crop = [{}]", photo.crop.map(|cut| cut.to_string()).join(", "));
            }
        }
    }
    out.push_str(" }\n");
}
