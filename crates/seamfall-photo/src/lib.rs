//! Photographs of cloth.
//!
//! In: the bytes of a file as it came from a camera or a phone. Out: a picture small enough for the screen, upright, without anything that the
//! camera wrote beside it (the place, the day), and how light it is; or why it cannot be taken and what to do. What a file is is told by its
//! first bytes and never by its name. Its size is read before its pixels are, so that no file takes more memory than is said here.
//!
//! Colours are taken for sRGB, as a screen shows them; a profile that says otherwise is not followed.

mod asked;
pub mod drawing;
mod heic;
mod kind;

use asked::Asked;
use base64::Engine;
use image::codecs::jpeg::{JpegDecoder, JpegEncoder};
use image::codecs::png::PngDecoder;
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, ImageError, Limits, RgbImage};
use kind::Kind;
use seamfall_model::lightness::{channel, linear, luminance};
use sha2::{Digest, Sha256};
use std::fmt::Write;
use std::io::Cursor;
use tr::tr;

/// Sets the language of this crate's words; English unless said. Once, at the start of the program.
pub fn speak(language: impl tr::Translator + 'static) {
    tr::set_translator!(language);
}

/// Largest file that is read, in bytes.
pub const MOST_BYTES: usize = 32 * 1024 * 1024;

/// Most pixels that are read: more than the usual camera of a phone takes.
pub const MOST_PIXELS: u64 = 64_000_000;

/// Most memory that the pixels of one photograph take while it is read, in bytes: [`MOST_PIXELS`] of three.
pub const MOST_MEMORY: u64 = 3 * MOST_PIXELS;

/// Longer side of what is kept, in pixels: a screen shows no more of it.
pub const KEPT_SIDE: u32 = 2_048;

/// Quality of the JPEG that is kept. Found by trying: the threads of a cloth are still told apart.
const QUALITY: u8 = 88;

/// A photograph as it is kept.
#[derive(Debug, Clone, PartialEq)]
pub struct Photo {
    /// A JPEG without any notes of the camera's.
    pub jpeg: Vec<u8>,
    /// Pixels across and down.
    pub pixels: [u32; 2],
    /// How much light the cloth gives back on the whole, from 0 to 1: that of all pixels of the file on average.
    pub luminance: f64,
    /// Its mean colour.
    pub colour: [u8; 3],
    /// Name made of what it holds: the same picture, the same name.
    pub hash: String,
}

/// Why a file is not taken. Each says what can be done.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PhotoError {
    /// Too many bytes.
    #[error("{}", tr!("the photograph has {size} MB, more than the {most} MB that are taken; save it smaller, 4,000 pixels wide is plenty", size = _0 / 1_000_000, most = MOST_BYTES / 1_000_000))]
    TooManyBytes(usize),
    /// Too many pixels.
    #[error(
        "{}", tr!("the photograph has {width} by {height} pixels, more than the 64 million that are taken; save it smaller, 4,000 pixels wide is plenty", width = _0, height = _1))]
    TooManyPixels(u32, u32),
    /// AVIF, or a kind of HEIC that is not read.
    #[error(
        "{}",
        tr!(
            "this is a photograph in AVIF, or in a kind of HEIC that is not read here; save it as JPEG: in the settings of the camera choose the most compatible format, or send it to yourself by mail; on a computer open it and export it as JPEG"
        )
    )]
    Heic,
    /// Another kind of file.
    #[error("{}", tr!("this is {kind}; take a photograph saved as JPEG, PNG or HEIC", kind = seamfall_model::spoken(_0)))]
    OtherKind(&'static str),
    /// Its end is missing, or what it holds makes no picture.
    #[error("{}", tr!("the photograph is damaged or its end is missing; copy it from the camera or the phone once more"))]
    Damaged,
    /// Nobody waits for it any more.
    #[error("{}", tr!("the photograph was not wanted any more, and so it was not read to its end"))]
    NotWanted,
    /// Its pixels take more memory than is given.
    #[error("{}", tr!("each pixel of the photograph takes more memory than is given; save it as a JPEG"))]
    TooDeep,
}

/// Reads a file as it came.
///
/// # Errors
/// [`PhotoError`]; no more than [`MOST_MEMORY`] was taken for its pixels.
pub fn read(file: &[u8]) -> Result<Photo, PhotoError> {
    read_while(file, &|| true)
}

/// The same for as long as it is `wanted`, which is asked before each of the steps: reading its pixels, making it small, writing what is kept;
/// and while a PNG is read.
///
/// # Errors
/// As [`read`], and [`PhotoError::NotWanted`].
pub fn read_while(file: &[u8], wanted: &dyn Fn() -> bool) -> Result<Photo, PhotoError> {
    if file.len() > MOST_BYTES {
        return Err(PhotoError::TooManyBytes(file.len()));
    }
    let damaged = |_: ImageError| PhotoError::Damaged;
    let still = || if wanted() { Ok(()) } else { Err(PhotoError::NotWanted) };
    still()?;
    let read = || match kind::of(file)? {
        Kind::Jpeg => upright(JpegDecoder::new(Cursor::new(file)).map_err(damaged)?),
        Kind::Heic => Ok((DynamicImage::ImageRgb8(heic::read(file)?), Orientation::NoTransforms)),
        Kind::Png => upright(PngDecoder::with_limits(Asked::new(file, wanted), limits()).map_err(|error| of_reading(&error))?),
    };
    let whole = read();
    // What was broken off is no damaged file.
    still()?;
    let (whole, orientation) = whole?;
    let small = small(whole, orientation);
    still()?;
    kept(&small)
}

fn limits() -> Limits {
    let mut limits = Limits::default();
    limits.max_alloc = Some(MOST_MEMORY);
    limits
}

/// Decodes.
fn upright(mut decoder: impl ImageDecoder) -> Result<(DynamicImage, Orientation), PhotoError> {
    let (width, height) = decoder.dimensions();
    if u64::from(width) * u64::from(height) > MOST_PIXELS {
        return Err(PhotoError::TooManyPixels(width, height));
    }
    if decoder.total_bytes() > MOST_MEMORY {
        return Err(PhotoError::TooDeep);
    }
    decoder.set_limits(limits()).map_err(|_| PhotoError::TooDeep)?;
    let orientation = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    Ok((DynamicImage::from_decoder(decoder).map_err(|error| of_reading(&error))?, orientation))
}

/// A picture as small as it is kept, and upright.
fn small(whole: DynamicImage, orientation: Orientation) -> RgbImage {
    let large = whole.width().max(whole.height()) > KEPT_SIDE;
    let mut small = if large { whole.thumbnail(KEPT_SIDE, KEPT_SIDE) } else { whole };
    small.apply_orientation(orientation);
    small.into_rgb8()
}

/// What is kept of it, without notes.
fn kept(small: &RgbImage) -> Result<Photo, PhotoError> {
    let mean = mean(small);
    let pixels = [small.width(), small.height()];
    let jpeg = encoded(small)?;
    let hash = Sha256::digest(&jpeg).iter().take(16).fold(String::new(), |mut name, byte| {
        let _ = write!(name, "{byte:02x}");
        name
    });
    Ok(Photo { pixels, luminance: luminance(mean), colour: mean.map(channel), hash, jpeg })
}

fn of_reading(error: &ImageError) -> PhotoError {
    if matches!(error, ImageError::Limits(_)) { PhotoError::TooDeep } else { PhotoError::Damaged }
}

fn encoded(picture: &RgbImage) -> Result<Vec<u8>, PhotoError> {
    let mut jpeg = Vec::new();
    picture.write_with_encoder(JpegEncoder::new_with_quality(&mut jpeg, QUALITY)).map_err(|_| PhotoError::Damaged)?;
    Ok(jpeg)
}

/// Red, green and blue light on average.
fn mean(picture: &RgbImage) -> [f64; 3] {
    let table: Vec<f64> = (0..=u8::MAX).map(linear).collect();
    let mut sums = [0.0; 3];
    for pixel in picture.pixels() {
        for (sum, channel) in sums.iter_mut().zip(pixel.0) {
            *sum += table[usize::from(channel)];
        }
    }
    let count = f64::from(picture.width()) * f64::from(picture.height());
    sums.map(|sum| sum / count)
}

/// A kept picture in greys, each as light as the colour it stands for.
///
/// # Errors
/// [`PhotoError::Damaged`] where it is none.
pub fn greys(jpeg: &[u8]) -> Result<Vec<u8>, PhotoError> {
    let decoder = JpegDecoder::new(Cursor::new(jpeg)).map_err(|_| PhotoError::Damaged)?;
    let mut picture = DynamicImage::from_decoder(decoder).map_err(|_| PhotoError::Damaged)?.into_rgb8();
    let table: Vec<f64> = (0..=u8::MAX).map(linear).collect();
    // The way back in 4,096 steps: finer than the 256 greys it ends in.
    let back: Vec<u8> = (0..=4_096_u32).map(|step| channel(f64::from(step) / 4_096.0)).collect();
    for pixel in picture.pixels_mut() {
        let light = luminance(pixel.0.map(|channel| table[usize::from(channel)]));
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "light lies between 0 and 1")]
        let grey = back[(light * 4_096.0).round() as usize];
        pixel.0 = [grey; 3];
    }
    encoded(&picture)
}

/// The picture itself in place of an address, for a drawing that stands alone.
#[must_use]
pub fn as_address(jpeg: &[u8]) -> String {
    format!("data:image/jpeg;base64,{}", base64::engine::general_purpose::STANDARD.encode(jpeg))
}
