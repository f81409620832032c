//! Photographs.
//!
//! In: the bytes of a file. Out: a refusal with its reason, or a picture of the size that is kept at most, with a name made of what it shows, that can be
//! read again by the same reader and turned into greys.

use seamfall_photo::{KEPT_SIDE, Photo, PhotoError, greys, read};

/// Bytes up to which a file is tried: what is wrong is wrong in its first ones.
const TRIED: usize = 64 * 1024;
/// Pixels up to which a header is believed here, so that one picture does not take the time of a thousand.
const PIXELS: u32 = 1 << 20;

pub fn trial(data: &[u8]) {
    if data.len() > TRIED || claims_much(data) {
        return;
    }
    match read(data) {
        Ok(photo) => holds(&photo),
        Err(error) => assert!(!error.to_string().trim().is_empty(), "a photograph is refused without a reason"),
    }
}

/// Whether some size in the file is that of a large picture. Those that are larger than what is taken are tried: they are refused by the header alone.
fn claims_much(data: &[u8]) -> bool {
    let png = data.starts_with(b"\x89PNG") && data.len() >= 24;
    let number = |at: usize| u32::from_be_bytes([data[at], data[at + 1], data[at + 2], data[at + 3]]);
    let much = |width: u64, height: u64| {
        let pixels = width * height;
        pixels > u64::from(PIXELS) && pixels <= seamfall_photo::MOST_PIXELS
    };
    if png {
        return much(number(16).into(), number(20).into());
    }
    // Frame headers of JPEG: FF Cn, length, precision, height, width (ITU-T T.81, B.2.2).
    let two = |at: usize| u64::from(u16::from_be_bytes([data[at], data[at + 1]]));
    let jpeg = (0..data.len().saturating_sub(8))
        .any(|at| data[at] == 0xff && data[at + 1] & 0xf0 == 0xc0 && much(two(at + 5), two(at + 7)));
    // Spatial extents of HEIF: `ispe`, version and flags, width, height (ISO/IEC 23008-12, 6.5.3).
    let extents = |at: usize| data[at..].starts_with(b"ispe") && much(number(at + 8).into(), number(at + 12).into());
    data.starts_with(&[0xff, 0xd8]) && jpeg || (0..data.len().saturating_sub(16)).any(extents)
}

fn holds(photo: &Photo) {
    assert!(photo.pixels.iter().all(|side| (1..=KEPT_SIDE).contains(side)), "{:?} pixels are kept", photo.pixels);
    assert!((0.0..=1.0).contains(&photo.luminance), "light of {}", photo.luminance);
    assert!(photo.hash.len() == 32 && photo.hash.bytes().all(|byte| byte.is_ascii_hexdigit()));
    let again = read(&photo.jpeg).expect("what is kept can be read");
    assert_eq!(again.pixels, photo.pixels);
    let grey = greys(&photo.jpeg).expect("what is kept has its greys");
    assert_ne!(read(&grey).map(|grey| grey.pixels), Err(PhotoError::Damaged));
}
