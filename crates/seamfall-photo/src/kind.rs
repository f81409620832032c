//! What a file is, by its first bytes, and whether a JPEG has its end.
//!
//! Sources: ITU-T T.81, annex B (JPEG markers); the PNG specification, section 5.2; ISO/IEC 14496-12, section 4.3 (`ftyp`).

use crate::PhotoError;
use seamfall_model::mark;

/// Kinds that are read.
pub enum Kind {
    /// JPEG.
    Jpeg,
    /// PNG.
    Png,
    /// HEIC, or what calls itself so.
    Heic,
}

/// First bytes of what people send by mistake, and what it is.
const OTHERS: [(&[u8], &str); 8] = [
    (b"GIF8", mark!("a GIF")),
    (b"RIFF", mark!("a WebP picture or a sound")),
    (b"BM", mark!("a BMP picture")),
    (b"II*\0", mark!("a TIFF or a camera's raw picture")),
    (b"MM\0*", mark!("a TIFF or a camera's raw picture")),
    (b"%PDF", mark!("a PDF")),
    (b"PK\x03\x04", mark!("a ZIP or an office document")),
    (b"<", mark!("a web page or an SVG drawing")),
];

/// The kind of a file.
pub fn of(file: &[u8]) -> Result<Kind, PhotoError> {
    if file.starts_with(&[0xff, 0xd8, 0xff]) {
        return if has_end(file) { Ok(Kind::Jpeg) } else { Err(PhotoError::Damaged) };
    }
    if file.starts_with(b"\x89PNG\r\n\x1a\n") {
        return Ok(Kind::Png);
    }
    if file.get(4..8) == Some(b"ftyp") {
        let brand = file.get(8..12).unwrap_or_default();
        return match brand {
            b"heic" | b"heix" | b"heif" | b"mif1" | b"msf1" | b"heim" | b"heis" => Ok(Kind::Heic),
            b"hevc" | b"avif" | b"avis" => Err(PhotoError::Heic),
            _ => Err(PhotoError::OtherKind(mark!("a film"))),
        };
    }
    if file.is_empty() {
        return Err(PhotoError::OtherKind(mark!("an empty file")));
    }
    let other = OTHERS.iter().find(|(first, _)| file.starts_with(first)).map_or(mark!("no photograph"), |(_, words)| words);
    Err(PhotoError::OtherKind(other))
}

/// Whether the pixels of a JPEG are followed by the mark of its end. Decoders fill what is missing with grey, which no cloth is.
fn has_end(file: &[u8]) -> bool {
    let mut at = 2;
    // Segments up to the pixels, skipped by their length: a small picture within them has an end of its own.
    while let Some(&[0xff, marker, high, low]) = file.get(at..at + 4).and_then(|four| <&[u8; 4]>::try_from(four).ok()) {
        match marker {
            0xff => at += 1,
            0xda => return file[at..].windows(2).any(|two| two == [0xff, 0xd9]),
            _ => at += 2 + usize::from(u16::from_be_bytes([high, low])),
        }
    }
    false
}
