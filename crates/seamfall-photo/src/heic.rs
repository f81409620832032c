//! What phones write: HEIC, one picture or tiles of one.
//!
//! In: the bytes of a file. Out: its picture, upright. Its size is read before its pixels are. The reader is young: what it does not know, and
//! a file on which it gives up, is told with how to save it as JPEG.

use crate::{MOST_MEMORY, MOST_PIXELS, PhotoError};
use heic_rs::{DecodeOptions, Error, PixelLayout, decode, probe};
use image::RgbImage;

/// Bytes that a pixel takes while it is read: three of colour, and light and half a colour in two bytes each.
const A_PIXEL: u64 = 6;

/// Reads the picture.
pub fn read(file: &[u8]) -> Result<RgbImage, PhotoError> {
    let info = probe(file).map_err(|error| of_reading(&error))?;
    let pixels = u64::from(info.coded_width) * u64::from(info.coded_height);
    if pixels > MOST_PIXELS {
        return Err(PhotoError::TooManyPixels(info.width, info.height));
    }
    if pixels * A_PIXEL > MOST_MEMORY {
        return Err(PhotoError::TooDeep);
    }
    let options = DecodeOptions { layout: PixelLayout::Rgb8, max_pixels: Some(MOST_PIXELS), ..DecodeOptions::default() };
    let picture = std::panic::catch_unwind(|| decode(file, &options)).map_err(|_| PhotoError::Heic)?;
    let picture = picture.map_err(|error| of_reading(&error))?;
    RgbImage::from_raw(picture.width, picture.height, picture.data).ok_or(PhotoError::Heic)
}

fn of_reading(error: &Error) -> PhotoError {
    if matches!(error, Error::Unsupported(_)) { PhotoError::Heic } else { PhotoError::Damaged }
}
