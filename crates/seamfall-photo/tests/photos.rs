//! Photographs that are taken, those that are not and what is said of them, and what is left of what the camera noted.

use image::codecs::gif::GifEncoder;
use image::codecs::jpeg::JpegEncoder;
use image::codecs::png::PngEncoder;
use image::{ExtendedColorType, ImageEncoder, Rgb, RgbImage};
use seamfall_photo::{KEPT_SIDE, MOST_BYTES, PhotoError, greys, read, read_while};

/// Left half red, right half blue.
fn picture(width: u32, height: u32) -> RgbImage {
    RgbImage::from_fn(width, height, |x, _| if x < width / 2 { Rgb([250, 10, 10]) } else { Rgb([10, 10, 250]) })
}

fn jpeg(of: &RgbImage) -> Vec<u8> {
    let mut bytes = Vec::new();
    of.write_with_encoder(JpegEncoder::new_with_quality(&mut bytes, 95)).unwrap();
    bytes
}

fn png(of: &RgbImage) -> Vec<u8> {
    let mut bytes = Vec::new();
    PngEncoder::new(&mut bytes).write_image(of.as_raw(), of.width(), of.height(), ExtendedColorType::Rgb8).unwrap();
    bytes
}

/// A JPEG whose header says another size. Source of the layout: ITU-T T.81, B.2.2: the frame header has height, then width, behind its precision.
fn said_to_be(width: u16, height: u16) -> Vec<u8> {
    let mut bytes = jpeg(&picture(16, 16));
    let at = bytes.windows(2).position(|two| two == [0xff, 0xc0]).unwrap() + 5;
    bytes[at..at + 2].copy_from_slice(&height.to_be_bytes());
    bytes[at + 2..at + 4].copy_from_slice(&width.to_be_bytes());
    bytes
}

/// The beginning of a PNG that says its size and depth. Source: the PNG specification, 11.2.2; checksum by its annex D.
fn png_header(width: u32, height: u32, depth: u8, kind: u8) -> Vec<u8> {
    let mut chunk = b"IHDR".to_vec();
    chunk.extend(width.to_be_bytes());
    chunk.extend(height.to_be_bytes());
    chunk.extend([depth, kind, 0, 0, 0]);
    let mut check = u32::MAX;
    for byte in &chunk {
        check ^= u32::from(*byte);
        for _ in 0..8 {
            check = if check & 1 == 1 { (check >> 1) ^ 0xedb8_8320 } else { check >> 1 };
        }
    }
    let mut bytes = b"\x89PNG\r\n\x1a\n".to_vec();
    bytes.extend(13_u32.to_be_bytes());
    bytes.extend(chunk);
    bytes.extend((!check).to_be_bytes());
    // The pixels would begin here.
    bytes.extend([0, 0, 0, 0]);
    bytes.extend(b"IDAT");
    bytes.extend([0x35, 0xaf, 0x06, 0x1e]);
    bytes
}

/// A note of the camera's: which way it was held, and a place. Source: Exif 2.3, 4.6: tag 0x0112 is the orientation.
fn noted(bytes: &[u8], orientation: u8) -> Vec<u8> {
    let mut note = b"Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0".to_vec();
    note.extend([orientation, 0, 0, 0, 0, 0, 0]);
    note.extend(b"GPS 60.1699 24.9384");
    let mut out = bytes[..2].to_vec();
    out.extend([0xff, 0xe1]);
    out.extend(u16::try_from(note.len() + 2).unwrap().to_be_bytes());
    out.extend(note);
    out.extend(&bytes[2..]);
    out
}

#[test]
fn what_cannot_be_taken_is_told_with_what_to_do() {
    let whole = jpeg(&picture(400, 300));
    let mut gif = Vec::new();
    GifEncoder::new(&mut gif).encode(picture(8, 8).as_raw(), 8, 8, ExtendedColorType::Rgb8).unwrap();
    let small_with_end_inside = noted(&whole[..whole.len() / 2], 1);
    let cases: Vec<(&str, Vec<u8>, &str)> = vec![
        ("nothing", Vec::new(), "an empty file"),
        (
            "text called photo.jpg",
            b"Dear Ann, the cloth is lovely".to_vec(),
            "no photograph; take a photograph saved as JPEG, PNG or HEIC",
        ),
        ("a web page", b"<html>".to_vec(), "a web page or an SVG drawing"),
        ("a PDF", b"%PDF-1.7".to_vec(), "a PDF"),
        ("a GIF", gif, "this is a GIF"),
        ("WebP", b"RIFF\0\0\0\0WEBPVP8 ".to_vec(), "a WebP picture"),
        ("raw", b"II*\0\0\0".to_vec(), "a camera's raw picture"),
        (
            "AVIF",
            b"\0\0\0\x18ftypavif\0\0\0\0".to_vec(),
            "save it as JPEG: in the settings of the camera choose the most compatible format",
        ),
        ("the first bytes of a HEIC", b"\0\0\0\x18ftypheic\0\0\0\0".to_vec(), "its end is missing"),
        ("half a HEIC", heic(&picture(400, 300))[..400].to_vec(), "its end is missing"),
        ("a film", b"\0\0\0\x18ftypqt  ".to_vec(), "a film"),
        ("half a JPEG", whole[..whole.len() / 2].to_vec(), "its end is missing"),
        ("half a JPEG with notes", small_with_end_inside, "its end is missing"),
        ("the first bytes of a JPEG", vec![0xff, 0xd8, 0xff], "damaged"),
        ("half a PNG", png(&picture(400, 300))[..200].to_vec(), "damaged"),
        ("200 megapixels, JPEG", said_to_be(20_000, 10_000), "20000 by 10000 pixels, more than the 64 million"),
        ("200 megapixels, PNG", png_header(20_000, 10_000, 8, 2), "20000 by 10000 pixels, more than the 64 million"),
        ("four thousand million pixels", png_header(65_535, 65_535, 8, 2), "more than the 64 million"),
        ("16 bits and a veil", png_header(7_000, 6_000, 16, 6), "takes more memory than is given"),
        ("too many bytes", vec![0xff; MOST_BYTES + 1], "33 MB, more than the 33 MB"),
    ];
    for (name, bytes, words) in cases {
        let told = read(&bytes).expect_err(name).to_string();
        assert!(told.contains(words), "{name}: {told}");
    }
}

#[test]
fn a_file_is_what_its_bytes_say() {
    for bytes in [jpeg(&picture(60, 40)), png(&picture(60, 40)), heic(&picture(60, 40))] {
        let photo = read(&bytes).unwrap();
        assert_eq!(photo.pixels, [60, 40]);
        assert!(photo.jpeg.starts_with(&[0xff, 0xd8, 0xff]));
    }
}

#[test]
fn a_large_photograph_is_made_small_and_keeps_its_proportions() {
    let photo = read(&jpeg(&picture(4_096, 1_024))).unwrap();
    assert_eq!(photo.pixels, [KEPT_SIDE, KEPT_SIDE / 4]);
    assert!(photo.jpeg.len() < 1_000_000);
}

/// Orientation 6: the camera was turned so that the first row is the right side. A picture of 60 by 40, red on the left, is upright 40 by 60
/// with red at the top. Source: Exif 2.3, 4.6.4.
#[test]
fn it_stands_upright_and_tells_no_place() {
    let photo = read(&noted(&jpeg(&picture(60, 40)), 6)).unwrap();
    assert_eq!(photo.pixels, [40, 60]);
    let upright = image::load_from_memory(&photo.jpeg).unwrap().into_rgb8();
    assert!(upright.get_pixel(20, 5)[0] > 200 && upright.get_pixel(20, 55)[2] > 200);
    let holds = |words: &[u8]| photo.jpeg.windows(words.len()).any(|some| some == words);
    assert!(!holds(b"Exif") && !holds(b"GPS"));
}

/// Half black, half white gives back half the light: L* = 116 · cbrt(0.5) - 16 = 76.07 (CIE 15:2004, 8.2.1), however dark the mean of the bytes looks.
#[test]
fn lightness_is_that_of_the_light() {
    let half = RgbImage::from_fn(64, 64, |x, _| if x < 32 { Rgb([0; 3]) } else { Rgb([255; 3]) });
    let photo = read(&png(&half)).unwrap();
    assert!((photo.luminance - 0.5).abs() < 1e-9);
    let seen = seamfall_model::lightness::lightness(photo.luminance).value;
    assert!((seen - 76.07).abs() < 0.01, "{seen}");
}

#[test]
fn greys_are_as_light_as_the_colours() {
    let photo = read(&png(&RgbImage::from_pixel(32, 32, Rgb([255, 0, 0])))).unwrap();
    let grey = image::load_from_memory(&greys(&photo.jpeg).unwrap()).unwrap().into_rgb8();
    let pixel = grey.get_pixel(16, 16).0;
    // #7f for red, as in the drawing's tests; the JPEG on the way takes a step or two.
    assert!(pixel.iter().all(|&channel| channel.abs_diff(0x7f) <= 3) && pixel[0].abs_diff(pixel[2]) <= 1, "{pixel:?}");
}

#[test]
fn the_same_picture_has_the_same_name() {
    let one = read(&png(&picture(60, 40))).unwrap();
    assert_eq!(one.hash, read(&png(&picture(60, 40))).unwrap().hash);
    assert_ne!(one.hash, read(&png(&picture(60, 42))).unwrap().hash);
}

fn heic(picture: &RgbImage) -> Vec<u8> {
    heifer::encode_rgb8(picture.width(), picture.height(), picture.as_raw(), &heifer::EncodeOptions::default()).unwrap()
}

/// Written by one library and read by another: the same picture, but for what both leave out.
#[test]
fn a_heic_is_the_picture_that_was_written() {
    let whole = picture(400, 300);
    let (from_heic, from_png) = (read(&heic(&whole)).unwrap(), read(&png(&whole)).unwrap());
    assert_eq!(from_heic.pixels, [400, 300]);
    assert!((from_heic.luminance - from_png.luminance).abs() < 0.02, "{} {}", from_heic.luminance, from_png.luminance);
    let far = from_heic.colour.iter().zip(from_png.colour).map(|(one, other)| one.abs_diff(other)).max();
    assert!(far.is_some_and(|far| far <= 6), "{:?} {:?}", from_heic.colour, from_png.colour);
}

/// Whatever is changed or missing in it, a HEIC is read or refused in words.
#[test]
fn damaged_heics_are_refused() {
    let whole = heic(&picture(64, 48));
    let mut refused = 0;
    for at in 0..whole.len().min(1_500) {
        for changed in [0, 0xff, whole[at] ^ 0x10] {
            let mut damaged = whole.clone();
            damaged[at] = changed;
            refused += u32::from(read(&damaged).is_err());
        }
        refused += u32::from(read(&whole[..at]).is_err());
    }
    assert!(refused > 500, "{refused}");
}

/// Every answer but the last one can be the first no, in the middle of the pixels too.
#[test]
fn a_photograph_that_is_not_wanted_is_read_no_further() {
    let speckled = |x: u32, y: u32| Rgb([x, y, x * y].map(|value| u8::try_from(value * 37 % 251).expect("it is below 251")));
    let png = png(&RgbImage::from_fn(400, 300, speckled));
    let asked = |yes: usize| {
        let asked = std::cell::Cell::new(0);
        let wanted = || {
            asked.set(asked.get() + 1);
            asked.get() <= yes
        };
        (read_while(&png, &wanted), asked.get())
    };
    let (photo, all) = asked(usize::MAX);
    assert_eq!(photo, read(&png));
    assert!(all > 20, "asked only {all} times of {} bytes", png.len());
    for yes in 0..all {
        let (none, then) = asked(yes);
        assert_eq!(none, Err(PhotoError::NotWanted));
        assert!(then <= yes + 2, "{then} questions, and the first no was to question {}", yes + 1);
    }
}
