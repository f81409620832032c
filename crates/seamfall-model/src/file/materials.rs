//! What is bought: the check of what is written, and the writing of it.
//!
//! In: raw values; or a quilt. Out: supplies, binding, backing, batting, samples and thread with every size and price checked;
//! or their lines in the file. What is as it would be anyway is not written.

use super::check::{Check, shortened};
use super::raw::*;
use super::write::{cloth_key, length, text};
use crate::*;
use std::fmt::Write as _;
use tr::tr;

/// Lengths unless said, in inches and in centimetres. Sources: a binding cut 2 1/2 in wide is common practice; a batting of 14 in
/// for a block cut 12 1/2 in is `lap.batting_square` of the check values, so 3/4 in on each side; 1 to 2 in of backing beyond a
/// block is what `lap.back_whole` of the check values says.
const BINDING: [f64; 2] = [2.5, 6.5];
const BACKING_OVERSIZE: [f64; 2] = [1.0, 2.5];
const BATTING_OVERSIZE: [f64; 2] = [0.75, 2.0];
const SAMPLE: [f64; 2] = [14.0, 35.0];

fn usual([inches, centimetres]: [f64; 2], measure: Measure) -> Length {
    Length::new(if measure == Measure::Inch { inches } else { centimetres })
}

/// Stages of cuts unless said: as many as there are, for the least cloth.
pub(super) const STAGES: u8 = 5;

const BATTING: &str = "Batting";

impl Check<'_> {
    fn size_or(&mut self, typed: Option<&At<Typed>>, what: &str, usual_sizes: [f64; 2], bounds_in: (f64, f64)) -> Length {
        match typed {
            Some(typed) => self.length(typed, what, bounds_in),
            None => usual(usual_sizes, self.measure),
        }
    }

    /// A price between nothing and [`limits::PRICE`], in hundredths.
    pub(super) fn price(&mut self, raw: &At<f64>) -> Price {
        if !(0.0..=limits::PRICE).contains(&**raw) {
            let reason = tr!("`price` is {value}, but must lie between 0 and {most}", value = **raw, most = limits::PRICE);
            self.problems.add(raw.span(), reason, tr!("write it as a plain number, such as 12.50"));
            return Price(0);
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "it lies between 0 and a hundred million")]
        Price((**raw * 100.0).round() as u32)
    }

    /// What cloth loses of its length in the wash.
    pub(super) fn shrinkage(&mut self, raw: &At<f64>) -> Shrinkage {
        if !(0.0..=limits::SHRINKAGE).contains(&**raw) {
            let reason = tr!(
                "`shrinkage` is {value} per cent, but must lie between 0 and {most}",
                value = **raw,
                most = limits::SHRINKAGE
            );
            let help = tr!("write what the cloth loses of its length, in per cent: `shrinkage = 3`");
            self.problems.add(raw.span(), reason, help.to_owned());
            return Shrinkage(0);
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "it lies between 0 and 250")]
        Shrinkage((**raw * 10.0).round() as u16)
    }

    fn count(&mut self, raw: &At<i64>, most: u32) -> u32 {
        u32::try_from(**raw).ok().filter(|count| (1..=most).contains(count)).unwrap_or_else(|| {
            let reason = tr!("`count` is {value}, but must lie between 1 and {most}", value = **raw, most);
            self.problems.add(raw.span(), reason, tr!("leave `count` out where as many can be had as are wanted"));
            1
        })
    }

    /// Stages of straight cuts, 2 to 5.
    pub(super) fn cutting_stages(&mut self, raw: &At<i64>) -> u8 {
        u8::try_from(**raw).ok().filter(|stages| (2..=STAGES).contains(stages)).unwrap_or_else(|| {
            let reason = tr!("`cutting-stages` is {value}, but must lie between 2 and {most}", value = **raw, most = STAGES);
            let help = tr!("2 is strips and what is cut off them; each more turns the cloth once more and may save some");
            self.problems.add(raw.span(), reason, help);
            STAGES
        })
    }

    /// Sizes in which something comes.
    pub(super) fn supplies(&mut self, raw: &[RawSupply], what: &str) -> Vec<Supply> {
        if let Some(over) = raw.get(limits::SUPPLIES) {
            self.too_many(over.size.span(), raw.len(), what, limits::SUPPLIES);
        }
        raw.iter().take(limits::SUPPLIES).map(|supply| self.supply(supply)).collect()
    }

    fn supply(&mut self, raw: &RawSupply) -> Supply {
        let (width, length) = self.width_and_length(&raw.size);
        Supply {
            name: raw.name.as_ref().map_or_else(|| raw.size.trim().to_owned(), |name| self.name(name)),
            width,
            length,
            count: raw.count.as_ref().map(|count| self.count(count, limits::OF_A_SUPPLY)),
            price: raw.price.as_ref().map_or(Price(0), |price| self.price(price)),
        }
    }

    /// `22 x 18`; a unit behind the second goes for the first as well where that has none of its own.
    pub(super) fn width_and_length(&mut self, size: &At<String>) -> (Length, Length) {
        let sides = size.split_once(['x', '×', 'X']);
        let Some((width, length)) = sides else {
            let reason = tr!("`size` is `{written}`, but has a width and a length", written = shortened(size));
            self.problems.add(size.span(), reason, tr!("write it like \"22 x 18\": across, then along the selvage"));
            return (Length::new(1.0), Length::new(1.0));
        };
        let mut side = |text: &str| match parse_length(text, self.measure) {
            Ok(length) => {
                self.between(length, size.span(), "size", (1.0, limits::SIDE_IN));
                length
            }
            Err(error) => {
                self.not_a_length(&error, size.span(), "size");
                Length::new(1.0)
            }
        };
        (side(width), side(length))
    }

    pub(super) fn binding(&mut self, raw: &RawBinding) -> Binding {
        Binding {
            cloth: self.cloth_id(&raw.cloth),
            width: self.size_or(raw.width.as_ref(), "width", BINDING, (0.5, 12.0)),
            on: match raw.on {
                Some(RawBindingOn::Bias) => BindingOn::Bias,
                Some(RawBindingOn::Straight) | None => BindingOn::Straight,
            },
        }
    }

    pub(super) fn backing(&mut self, raw: &RawBacking) -> Backing {
        Backing {
            cloth: self.cloth_id(&raw.cloth),
            oversize: self.size_or(raw.oversize.as_ref(), "oversize", BACKING_OVERSIZE, (0.0, 6.0)),
        }
    }

    pub(super) fn batting(&mut self, raw: &At<RawBatting>) -> Batting {
        if raw.roll.is_none() && raw.packages.is_empty() {
            let reason = tr!("the batting has neither a `roll` nor `packages`");
            let help = tr!(
                "give the width of the roll, `roll = \"90\"`, or packaged sizes, `packages = [ {package} ]`",
                package = "{ size = \"90 x 108\" }"
            );
            self.problems.add(raw.span(), reason, help.to_owned());
        }
        if let (None, Some(price)) = (&raw.roll, &raw.price) {
            let help = tr!("give the `roll` its width, or write the price into each package");
            self.problems.add(price.span(), tr!("`price` is that of a yard or a metre off the roll"), help);
        }
        Batting {
            name: raw.name.as_ref().map_or_else(|| BATTING.to_owned(), |name| self.name(name)),
            oversize: self.size_or(raw.oversize.as_ref(), "oversize", BATTING_OVERSIZE, (0.0, 6.0)),
            roll: raw.roll.as_ref().map(|width| Roll {
                width: self.length(width, "roll", (1.0, limits::SIDE_IN)),
                price: raw.price.as_ref().map(|price| self.price(price)),
            }),
            packages: self.supplies(&raw.packages, "packages"),
        }
    }

    pub(super) fn sample(&mut self, raw: &RawSample) -> Sample {
        Sample {
            cloth: self.cloth_id(&raw.cloth),
            size: self.size_or(raw.size.as_ref(), "size", SAMPLE, (1.0, 60.0)),
            count: raw.count.as_ref().map_or(1, |count| self.count(count, limits::SAMPLES)),
        }
    }

    pub(super) fn thread(&mut self, raw: &RawThread) -> Thread {
        Thread {
            spool: self.length(&raw.spool, "spool", (36.0, limits::SPOOL_IN)),
            price: raw.price.as_ref().map(|price| self.price(price)),
        }
    }
}

pub(super) fn grain(raw: RawGrain) -> Grain {
    match raw {
        RawGrain::Across => Grain::Across,
        RawGrain::Along => Grain::Along,
    }
}

/// `\ncut = "along"`, where strips do not lie across.
pub(super) fn write_grain(out: &mut String, grain: Grain) {
    if grain != Grain::Across {
        let _ = writeln!(out, "cut = \"{}\"", grain.word());
    }
}

/// How a cloth shrinks, what it costs, and how it comes.
pub(super) fn write_cloth(out: &mut String, quilt: &Quilt, cloth: &Cloth) {
    if cloth.shrinkage != Shrinkage(0) {
        let _ = writeln!(out, "shrinkage = {}", cloth.shrinkage.per_cent());
    }
    write_price(out, cloth.price);
    if !cloth.from.is_empty() {
        let _ = writeln!(out, "from = {}", supplies(quilt, &cloth.from));
    }
}

/// Binding, backing, batting, samples and thread.
pub(super) fn write(out: &mut String, quilt: &Quilt) {
    let cloth = |cloth| cloth_key(quilt, cloth);
    let size = |out: &mut String, key: &str, value: Length, sizes| {
        if value != usual(sizes, quilt.measure) {
            let _ = writeln!(out, "{key} = {}", length(quilt, value));
        }
    };
    if let Some(binding) = &quilt.binding {
        let _ = writeln!(out, "\n[binding]\ncloth = {}", cloth(binding.cloth));
        size(out, "width", binding.width, BINDING);
        if binding.on != BindingOn::default() {
            let _ = writeln!(out, "on = \"{}\"", binding.on.word());
        }
    }
    if let Some(backing) = &quilt.backing {
        let _ = writeln!(out, "\n[backing]\ncloth = {}", cloth(backing.cloth));
        size(out, "oversize", backing.oversize, BACKING_OVERSIZE);
    }
    if let Some(batting) = &quilt.batting {
        let _ = writeln!(out, "\n[batting]");
        if batting.name != BATTING {
            let _ = writeln!(out, "name = {}", text(&batting.name));
        }
        size(out, "oversize", batting.oversize, BATTING_OVERSIZE);
        if let Some(roll) = &batting.roll {
            let _ = writeln!(out, "roll = {}", length(quilt, roll.width));
            write_price(out, roll.price);
        }
        if !batting.packages.is_empty() {
            let _ = writeln!(out, "packages = {}", supplies(quilt, &batting.packages));
        }
    }
    if let Some(sample) = &quilt.sample {
        let _ = writeln!(out, "\n[sample]\ncloth = {}", cloth(sample.cloth));
        size(out, "size", sample.size, SAMPLE);
        if sample.count != 1 {
            let _ = writeln!(out, "count = {}", sample.count);
        }
    }
    if let Some(thread) = &quilt.thread {
        let _ = writeln!(out, "\n[thread]\nspool = {}", length(quilt, thread.spool));
        write_price(out, thread.price);
    }
}

fn write_price(out: &mut String, price: Option<Price>) {
    if let Some(price) = price {
        let _ = writeln!(out, "price = {}", price.shown());
    }
}

fn supplies(quilt: &Quilt, all: &[Supply]) -> String {
    let one = |supply: &Supply| {
        let bare = |side| length(quilt, side).trim_matches('"').to_owned();
        let size = format!("{} x {}", bare(supply.width), bare(supply.length));
        let mut out = format!("{{ size = \"{size}\"");
        if supply.name != size {
            let _ = write!(out, ", name = {}", text(&supply.name));
        }
        if let Some(count) = supply.count {
            let _ = write!(out, ", count = {count}");
        }
        if supply.price != Price(0) {
            let _ = write!(out, ", price = {}", supply.price.shown());
        }
        out + " }"
    };
    format!("[{}]", all.iter().map(one).collect::<Vec<_>>().join(", "))
}
