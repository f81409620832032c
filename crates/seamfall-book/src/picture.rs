//! Drawings as pictures of pixels.
//!
//! In: an SVG of ours and a width. Out: a PNG on white, as high as the drawing asks for. Letters are set in the book's own face, so that a
//! picture looks the same on every machine.

use crate::world::SANS;
use resvg::tiny_skia::{Color, Pixmap, Transform};
use resvg::usvg::{Options, Tree, fontdb};
use std::sync::{Arc, LazyLock};
use tr::tr;

/// Widest and highest picture: 64 million pixels at most, a quarter of a gigabyte while it is made.
pub const WIDEST: u32 = 8_000;

/// Why there is no picture.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PictureError {
    /// Too small or too large to be drawn.
    #[error(
        "{}", tr!("a picture {width} pixels wide would be {height} high; ask for a width at which neither side is 0 or beyond {most}, {fits} at most", width, height, most = WIDEST, fits))]
    Size {
        /// As asked for.
        width: u32,
        /// As follows.
        height: u32,
        /// The widest that would do.
        fits: u32,
    },
    /// The drawing was refused, which is a fault of this program.
    #[error("{}", tr!("the drawing could not be made a picture: {value}; please report this together with the quilt file", value = _0))]
    Drawing(String),
}

/// The faces of the book, under the name by which our drawings ask for them.
static FACES: LazyLock<Arc<fontdb::Database>> = LazyLock::new(|| {
    let mut faces = fontdb::Database::new();
    for face in SANS {
        faces.load_font_data(face.to_vec());
    }
    faces.set_sans_serif_family("Inter");
    Arc::new(faces)
});

/// `svg` as a PNG, `width` pixels wide.
///
/// # Errors
/// [`PictureError`] where a side would be nothing or too long, or the drawing is refused.
pub fn png(svg: &str, width: u32) -> Result<Vec<u8>, PictureError> {
    let options = Options { fontdb: FACES.clone(), font_family: "Inter".to_owned(), ..Options::default() };
    let drawing = Tree::from_str(svg, &options).map_err(|error| PictureError::Drawing(error.to_string()))?;
    let shape = f64::from(drawing.size().height()) / f64::from(drawing.size().width());
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "casts saturate, and what is too long is refused"
    )]
    let (height, fits) = ((f64::from(width) * shape).round() as u32, (f64::from(WIDEST) / shape.max(1.0)) as u32);
    if width == 0 || height == 0 || width.max(height) > WIDEST {
        return Err(PictureError::Size { width, height, fits });
    }
    let mut pixels = Pixmap::new(width, height).ok_or(PictureError::Size { width, height, fits })?;
    pixels.fill(Color::WHITE);
    #[expect(clippy::cast_precision_loss, reason = "at most eight thousand")]
    let scale = width as f32 / drawing.size().width();
    resvg::render(&drawing, Transform::from_scale(scale, scale), &mut pixels.as_mut());
    pixels.encode_png().map_err(|error| PictureError::Drawing(error.to_string()))
}
