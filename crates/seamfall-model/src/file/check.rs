//! From what is written to a checked [`Quilt`].
//!
//! In: a [`RawQuilt`]. Out: a quilt in which every reference leads somewhere and every size can be sewn, or all problems that
//! could be found. Where something is wrong a stand-in takes its place so that the check can go on; no quilt with a stand-in
//! leaves this module, since a problem has been noted by then.

use super::block;
use super::problems::{Problems, suggestion};
use super::raw::*;
use super::{materials, setting, sewing};
use crate::*;
use crate::{mark, spoken};
use std::ops::Range;
use tr::tr;

/// What a key looks like, as the schema has it.
pub(super) const KEY_PATTERN: &str = "^[a-z0-9][a-z0-9-]{0,39}$";

/// Characters of a name.
pub(super) const NAME_CHARS: usize = 200;

/// What every check needs.
pub(super) struct Check<'a> {
    pub problems: &'a mut Problems,
    pub measure: Measure,
    /// Keys of the cloths, blocks and frames.
    pub cloths: Vec<String>,
    pub blocks: Vec<String>,
    pub frames: Vec<String>,
}

/// Checks the whole file.
pub(super) fn quilt(raw: &RawQuilt, problems: &mut Problems) -> Quilt {
    let measure = match raw.measure {
        RawMeasure::Inch => Measure::Inch,
        RawMeasure::Cm => Measure::Centimetre,
    };
    let mut check = Check { problems, measure, cloths: names(&raw.cloth), blocks: names(&raw.block), frames: names(&raw.frame) };
    if *raw.format != 1 {
        let reason = tr!("format {value} is not known to this version, which reads format 1", value = *raw.format);
        check.problems.add(raw.format.span(), reason, tr!("write `format = 1`, or use a newer version"));
    }
    check.keys(&raw.cloth, &tr!("cloths"), limits::CLOTHS);
    check.keys(&raw.block, &tr!("blocks"), limits::BLOCKS);
    check.keys(&raw.frame, &tr!("frames"), limits::FRAMES);
    let step = check.step(raw.step.as_ref());
    let allowance = match &raw.seam {
        Some(seam) => Allowance(check.length(seam, "seam", (limits::SHORTEST_IN, limits::SEAM_IN))),
        None => measure.usual_allowance(),
    };
    let largest_section = match &raw.largest_section {
        Some(side) => check.length(side, "largest-section", (1.0, limits::SIDE_IN)),
        None => usual_section(measure),
    };
    let bed = raw.bed.as_ref().map(|bed| check.bed(bed));
    let corners = raw.corners.as_ref().map_or(CornerShape::Square, |corners| check.foot_corners(corners, bed.as_ref()));
    let cloths: Vec<Cloth> = raw.cloth.0.iter().map(|(key, cloth)| check.cloth(key, cloth)).collect();
    let frames = raw.frame.0.iter().map(|(key, frame)| check.frame(key, frame)).collect();
    let blocks: Vec<Block> = raw.block.0.iter().map(|(key, block)| block::block(&mut check, key, block)).collect();
    let setting = setting::setting(&mut check, raw, &blocks);
    let sashing = raw.sashing.as_ref().map(|sashing| check.sashing(sashing));
    if let Some(band) = raw.band.get(limits::BANDS) {
        check.too_many(band.width.span(), raw.band.len(), &tr!("bands"), limits::BANDS);
    }
    let bands = raw.band.iter().map(|band| check.band(band)).collect();
    let name = check.name(&raw.name);
    let pressings = raw.pressings.as_ref().map(|pressings| sewing::pressings(&mut check, pressings));
    let falls = sewing::falls(&mut check, &raw.fall, &setting);
    let ways = sewing::ways(&mut check, &raw.way);
    let fussy = check.fussies(&raw.fussy, &blocks, &cloths);
    let reserve = raw.reserve.as_ref().map_or(Length::ZERO, |reserve| check.length(reserve, "reserve", (0.0, limits::SIDE_IN)));
    let cutting_stages = raw.cutting_stages.as_ref().map_or(materials::STAGES, |stages| check.cutting_stages(stages));
    let binding = raw.binding.as_ref().map(|binding| check.binding(binding));
    let backing = raw.backing.as_ref().map(|backing| check.backing(backing));
    let batting = raw.batting.as_ref().map(|batting| check.batting(batting));
    let sample = raw.sample.as_ref().map(|sample| check.sample(sample));
    let thread = raw.thread.as_ref().map(|thread| check.thread(thread));
    let lap = raw.lap.as_ref().map_or_else(|| Lap::usual(measure), |lap| check.lap(lap));
    let quilting = check.quiltings(&raw.quilting, raw.band.len());
    let joining = raw.join.as_ref().map_or_else(|| Joining::usual(measure), |join| check.joining(join));
    let finish = check.finishing(raw);
    Quilt {
        name,
        measure,
        allowance,
        step,
        bed,
        corners,
        cloths,
        blocks,
        frames,
        setting,
        sashing,
        bands,
        largest_section,
        pressings,
        falls,
        ways,
        fussy,
        reserve,
        cutting_stages,
        binding,
        backing,
        batting,
        sample,
        thread,
        lap,
        quilting,
        joining,
        finish,
    }
}

/// Longest side of a lap section unless said. Source: common practice.
pub(super) fn usual_section(measure: Measure) -> Length {
    Length::new(if measure == Measure::Inch { 24.0 } else { 60.0 })
}

/// Usable width of a cloth unless said. Source: common practice.
pub(super) fn usual_width(measure: Measure) -> Length {
    Length::new(if measure == Measure::Inch { 42.0 } else { 107.0 })
}

/// The step of a file that does not say one.
pub(super) fn usual_step(measure: Measure) -> Step {
    if measure == Measure::Inch { Step::Eighth } else { Step::Millimetre }
}

/// Keys, in the order of the file.
pub(super) fn names<T>(named: &Named<T>) -> Vec<String> {
    named.0.iter().map(|(key, _)| (**key).clone()).collect()
}

impl Check<'_> {
    /// Whether the keys of a table can be keys, and are not too many.
    pub(super) fn keys<T>(&mut self, named: &Named<T>, what: &str, most: usize) {
        if let Some((key, _)) = named.0.get(most) {
            self.too_many(key.span(), named.0.len(), what, most);
        }
        for (key, _) in named.0.iter().take(most) {
            self.key(key);
        }
    }

    /// Whether `key` can be a key.
    pub(super) fn key(&mut self, key: &At<String>) {
        if is_key(key) {
            return;
        }
        let mended: String = key.to_lowercase().chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' }).collect();
        let mended: String = mended.trim_matches('-').chars().take(40).collect();
        let help = is_key(&mended).then(|| tr!("write `{mended}`; a `name` may hold whatever you like", mended));
        let reason = tr!("`{written}` cannot be a key: up to 40 small letters, digits and hyphens can", written = shortened(key));
        self.problems.add(key.span(), reason, help);
    }

    /// Notes that there are too many of something.
    pub(super) fn too_many(&mut self, span: Range<usize>, count: usize, what: &str, most: usize) {
        self.problems.add(
            span,
            tr!("there are {count} {what}, more than the {most} that can be planned", count, what, most),
            None,
        );
    }

    /// A name that can be shown and printed.
    pub(super) fn name(&mut self, name: &At<String>) -> String {
        self.words(name, &tr!("name"), NAME_CHARS)
    }

    /// Words in one line that can be shown and printed.
    pub(super) fn words(&mut self, words: &At<String>, what: &str, most: usize) -> String {
        if words.trim().is_empty() {
            self.problems.add(
                words.span(),
                tr!("the {what} is empty", what),
                tr!("give it a {what}, or take the key away", what),
            );
        } else if words.chars().count() > most {
            let reason = tr!("the {what} has more than {most} characters", what, most);
            self.problems.add(words.span(), reason, tr!("shorten it"));
        } else if words.chars().any(char::is_control) {
            let reason = tr!("the {what} holds a line break or another character that cannot be printed", what);
            self.problems.add(words.span(), reason, None);
        }
        (**words).clone()
    }

    /// A typed length between two bounds, in inches.
    pub(super) fn length(&mut self, typed: &At<Typed>, what: &str, bounds_in: (f64, f64)) -> Length {
        let read = match &**typed {
            Typed::Text(text) => parse_length(text, self.measure),
            // The same rules hold for bare numbers.
            Typed::Number(number) => parse_length(&number.to_string(), self.measure),
        };
        match read {
            Ok(length) => {
                self.between(length, typed.span(), what, bounds_in);
                length
            }
            Err(error) => {
                self.not_a_length(&error, typed.span(), what);
                Length::new(1.0)
            }
        }
    }

    /// Notes that a length was not understood; the message says behind its semicolon how to write it.
    pub(super) fn not_a_length(&mut self, error: &LengthError, span: Range<usize>, what: &str) {
        let text = error.to_string();
        let (reason, help) = text.rsplit_once("; ").unwrap_or((&text, ""));
        self.problems.add(span, format!("`{what}`: {reason}"), help.to_owned());
    }

    /// Whether `length` lies between two bounds, in inches.
    pub(super) fn between(&mut self, length: Length, span: Range<usize>, what: &str, (least, most): (f64, f64)) {
        let inch = self.measure.inch();
        let shown = |length: Length| shown(length, self.measure);
        // A billionth is forgiven: 1/16 in typed in centimetres is not 1/16 in to the last bit.
        if length.value() < least * inch * (1.0 - 1e-9) {
            let bound = shown(Length::new(least * inch));
            let reason =
                tr!("`{what}` is {length}, less than the least that can be sewn, {bound}", what, length = shown(length), bound);
            self.problems.add(span, reason, tr!("make it {bound} or more", bound));
        } else if length.value() > most * inch * (1.0 + 1e-9) {
            let bound = shown(Length::new(most * inch));
            let reason =
                tr!("`{what}` is {length}, more than the most that is taken here, {bound}", what, length = shown(length), bound);
            self.problems.add(span, reason, tr!("make it {bound} or less", bound));
        }
    }

    /// A reference to a cloth.
    pub(super) fn cloth_id(&mut self, key: &At<String>) -> ClothId {
        ClothId(reference(self.problems, key, mark!("cloth"), &self.cloths))
    }

    /// A reference to a block.
    pub(super) fn block_id(&mut self, key: &At<String>) -> BlockId {
        BlockId(reference(self.problems, key, mark!("block"), &self.blocks))
    }

    /// A reference to a frame, or `none`.
    pub(super) fn frame_choice(&mut self, key: &At<String>) -> FrameChoice {
        if **key == "none" {
            return FrameChoice::Bare;
        }
        FrameChoice::Framed(FrameId(reference(self.problems, key, mark!("frame"), &self.frames)))
    }

    fn step(&mut self, typed: Option<&At<Typed>>) -> Step {
        let usual = usual_step(self.measure);
        let Some(typed) = typed else { return usual };
        let length = self.length(typed, "step", (0.0, 1.0));
        let known: &[Step] = match self.measure {
            Measure::Inch => &[Step::Eighth, Step::Sixteenth],
            Measure::Centimetre => &[Step::Millimetre],
        };
        known.iter().copied().find(|step| (step.size() - length.value()).abs() < 1e-9).unwrap_or_else(|| {
            let help = match self.measure {
                Measure::Inch => tr!("write \"1/8\" or \"1/16\""),
                Measure::Centimetre => tr!("write \"1 mm\""),
            };
            self.problems.add(typed.span(), tr!("`step` is not one of the steps of this measure"), help.to_owned());
            usual
        })
    }

    pub(super) fn cloth(&mut self, key: &At<String>, raw: &RawCloth) -> Cloth {
        let colour = self.colour(&raw.colour);
        Cloth {
            key: (**key).clone(),
            name: raw.name.as_ref().map_or_else(|| (**key).clone(), |name| self.name(name)),
            colour,
            value: raw.value.map_or_else(
                || usual_value(colour),
                |value| match value {
                    RawValue::Light => Value::Light,
                    RawValue::Medium => Value::Medium,
                    RawValue::Dark => Value::Dark,
                },
            ),
            look: raw.look.as_ref().map(|look| self.look(look)),
            print: match raw.print {
                None | Some(RawPrint::None) => Print::None,
                Some(RawPrint::TwoWay) => Print::TwoWay,
                Some(RawPrint::OneWay) => Print::OneWay,
            },
            width: match &raw.width {
                Some(width) => self.length(width, "width", (1.0, limits::SIDE_IN)),
                None => usual_width(self.measure),
            },
            shrinkage: raw.shrinkage.as_ref().map_or(Shrinkage(0), |shrinkage| self.shrinkage(shrinkage)),
            price: raw.price.as_ref().map(|price| self.price(price)),
            from: self.supplies(&raw.from, &tr!("sizes in `from`")),
        }
    }

    /// A colour by its six digits.
    pub(super) fn colour(&mut self, raw: &At<String>) -> Colour {
        parse_colour(raw).unwrap_or_else(|| {
            let reason = tr!("`{value}` is not a colour", value = shortened(raw));
            self.problems.add(raw.span(), reason, tr!("write it like \"#22304f\": red, green, blue"));
            Colour(0, 0, 0)
        })
    }

    fn frame(&mut self, key: &At<String>, raw: &RawFrame) -> Frame {
        if **key == "none" {
            self.problems.add(
                key.span(),
                tr!("a frame cannot be called `none`, which means no frame"),
                tr!("choose another key"),
            );
        }
        if raw.strips.is_empty() {
            let help = tr!("add a strip: {strip}", strip = "{ width = \"1\", cloth = \"CLOTH\" }");
            self.problems.add(raw.strips.span(), tr!("frame `{written}` has no strips", written = shortened(key)), help);
        } else if raw.strips.len() > limits::STRIPS {
            self.too_many(raw.strips.span(), raw.strips.len(), &tr!("strips in this frame"), limits::STRIPS);
        }
        let strips = raw.strips.iter().map(|strip| Strip {
            width: self.length(&strip.width, "width", (limits::SHORTEST_IN, limits::SIDE_IN)),
            cloth: self.cloth_id(&strip.cloth),
        });
        let strips = strips.collect();
        Frame { key: (**key).clone(), corners: self.corners(raw.corners.as_ref()), strips }
    }

    fn corners(&mut self, raw: Option<&RawCorners>) -> Corners {
        match raw {
            None | Some(RawCorners::Plain(PlainCorners::Butted)) => Corners::Butted,
            Some(RawCorners::Plain(PlainCorners::Mitred)) => Corners::Mitred,
            Some(RawCorners::Squares(squares)) => Corners::Squares(self.cloth_id(&squares.squares)),
        }
    }

    fn sashing(&mut self, raw: &RawSashing) -> Sashing {
        Sashing {
            width: self.length(&raw.width, "width", (limits::SHORTEST_IN, limits::SIDE_IN)),
            cloth: self.cloth_id(&raw.cloth),
            cornerstones: raw.cornerstones.as_ref().map(|key| self.cloth_id(key)),
            around: raw.around,
            grain: materials::grain(raw.cut),
        }
    }

    fn band(&mut self, raw: &RawBand) -> Band {
        Band {
            width: self.length(&raw.width, "width", (limits::SHORTEST_IN, limits::SIDE_IN)),
            cloth: self.cloth_id(&raw.cloth),
            corners: self.corners(raw.corners.as_ref()),
            grain: materials::grain(raw.cut),
        }
    }
}

/// The number of the name that `key` refers to; 0, and a problem, when there is none.
fn reference(problems: &mut Problems, key: &At<String>, what: &str, names: &[String]) -> usize {
    names.iter().position(|name| *name == **key).unwrap_or_else(|| {
        let help = suggestion(key, names.iter().map(String::as_str));
        let help = help.unwrap_or_else(|| tr!("add it under `[{what}.{written}]`", what, written = shortened(key)));
        problems.add(key.span(), tr!("there is no {what} `{written}`", what = spoken(what), written = shortened(key)), help);
        0
    })
}

/// Whether `text` can be a key; see [`KEY_PATTERN`].
pub(crate) fn is_key(text: &str) -> bool {
    let allowed = |b: u8| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-';
    (1..=40).contains(&text.len()) && !text.starts_with('-') && text.bytes().all(allowed)
}

/// A length for a message: on the finest step as people write it, else with the decimals that tell it from a bound.
pub(super) fn shown(length: Length, measure: Measure) -> String {
    let step = if measure == Measure::Inch { Step::Sixteenth } else { Step::Millimetre };
    let shown = length.shown_with_unit(step);
    if shown.starts_with('~') { format!("{} {}", decimal(length.value(), 4), measure.sign()) } else { shown }
}

/// The start of a text that may be long, for a message.
pub(super) fn shortened(text: &str) -> String {
    if text.chars().count() <= 40 { text.to_owned() } else { text.chars().take(39).chain(['…']).collect() }
}

fn parse_colour(text: &str) -> Option<Colour> {
    let digits = text.strip_prefix('#').filter(|digits| digits.len() == 6 && digits.bytes().all(|b| b.is_ascii_hexdigit()))?;
    let part = |i: usize| u8::from_str_radix(&digits[i..i + 2], 16).ok();
    Some(Colour(part(0)?, part(2)?, part(4)?))
}

/// How light a colour is, in thirds of the way from black to white. Source of the weights: ITU-R BT.601.
pub(crate) fn usual_value(Colour(red, green, blue): Colour) -> Value {
    let thousandths = 299 * u32::from(red) + 587 * u32::from(green) + 114 * u32::from(blue);
    match thousandths / 1000 {
        170.. => Value::Light,
        85.. => Value::Medium,
        _ => Value::Dark,
    }
}
