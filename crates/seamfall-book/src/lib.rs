//! The printed book of a plan, typeset by typst.
//!
//! In: a quilt, its plan, the paper and a date. Out: a PDF: the cover, what to buy, the cut list, the blocks, the units and
//! how blocks are pressed, the setting and how the whole top is pressed, the lap sections and how they are quilted, measured and trimmed, their joining step by step, full-size templates with their index, lines to mark, and how the numbers came about. The same input gives the same bytes.
//!
//! `contents` puts the plan into words, `class` what a teacher prints for a class, `figures` has it drawn, `sheets` lays templates out on paper, `world` typesets;
//! how it looks is in `typst/*.typ`. Nothing is computed here about the quilt: every number is the plan's.

mod bed;
mod class;
mod contents;
mod cutting;
mod faster;
mod figures;
mod finishing;
mod foundations;
mod joining;
mod language;
mod lap;
mod marking;
mod picture;
mod pressing;
mod sheets;
mod templates;
mod truing;
mod units;
mod words;
mod workings;
mod world;

pub use class::{class_pdf, class_pdf_while};
pub use picture::{PictureError, WIDEST, png};
pub use world::Wanted;

use seamfall_draw::Paint;
use seamfall_model::Quilt;
use seamfall_plan::Plan;
use tr::tr;

/// Sets the language of this crate's words; English unless said. Once, at the start of the program.
pub fn speak(language: impl tr::Translator + 'static) {
    tr::set_translator!(language);
}

/// How the book is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BookOptions {
    /// What it is printed on.
    pub paper: Paper,
    /// Year, month and day on its cover and in its properties; the caller's, since nothing here knows a clock.
    pub date: Option<(i32, u8, u8)>,
    /// Which sheets for marking the quilting are in it.
    pub marking: Marking,
    /// What it is printed with.
    pub ink: Ink,
    /// How large its type is.
    pub size: TypeSize,
}

impl BookOptions {
    /// In colours, at the usual size, undated, with marking sheets as seen from the front.
    #[must_use]
    pub fn on(paper: Paper) -> Self {
        Self { paper, date: None, marking: Marking::Front, ink: Ink::Colour, size: TypeSize::Usual }
    }
}

/// What is printed with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Ink {
    /// Colours.
    #[default]
    Colour,
    /// Black: cloths are told apart by hatchings, numbers and names.
    Black,
}

/// How large type is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum TypeSize {
    /// Nine and a half points.
    #[default]
    Usual,
    /// Eighteen points and more, on paper that lies on its side; drawings grow with it.
    Large,
}

/// Sheets for marking the quilting, at full size.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Marking {
    /// None.
    None,
    /// As seen from the front.
    #[default]
    Front,
    /// As seen from the front, and mirrored for marking from the back.
    Both,
}

/// Paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// 8 1/2 by 11 in.
    Letter,
    /// 210 by 297 mm.
    A4,
}

/// Why there is no book.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum BookError {
    /// The date is not in the calendar.
    #[error("{}", tr!("there is no day {year}-{month}-{day}; give a date of the calendar, or none", year, month = format_args!("{:02}", month), day = format_args!("{:02}", day)))]
    NoSuchDay {
        /// As given.
        year: i32,
        /// As given.
        month: u8,
        /// As given.
        day: u8,
    },
    /// The typesetter refused the book, which is a fault of this program.
    #[error("{}", tr!("the book could not be set: {reason}; please report this together with the quilt file", reason))]
    Setting {
        /// In the typesetter's words.
        reason: String,
    },
    /// Nobody waits for it any more.
    #[error("{}", tr!("the book was not wanted any more, and so it was not finished"))]
    NotWanted,
}

/// Makes the book of `quilt`, planned as `plan`, as a PDF.
///
/// # Errors
/// [`BookError`], when the date does not exist or the typesetter refuses.
pub fn book(quilt: &Quilt, plan: &Plan, options: &BookOptions) -> Result<Vec<u8>, BookError> {
    book_while(quilt, plan, options, &|| true)
}

/// The same for as long as it is `wanted`, which is asked all the while and must be quick to tell.
///
/// # Errors
/// As [`book`], and [`BookError::NotWanted`].
pub fn book_while(quilt: &Quilt, plan: &Plan, options: &BookOptions, wanted: Wanted) -> Result<Vec<u8>, BookError> {
    if let Some((year, month, day)) = options.date
        && typst::foundations::Datetime::from_ymd(year, month, day).is_none()
    {
        return Err(BookError::NoSuchDay { year, month, day });
    }
    let mut figures = figures::Figures::new(if options.ink == Ink::Black { Paint::Signs } else { Paint::Cloths });
    let contents = contents::contents(quilt, plan, options, &mut figures);
    if !wanted() {
        return Err(BookError::NotWanted);
    }
    let mut files = figures.into_files();
    let json = serde_json::to_vec(&contents).expect("text and numbers become JSON");
    files.insert("/book.json".to_owned(), json);
    let look = world::Look { black: options.ink == Ink::Black, large: options.size == TypeSize::Large };
    files.insert("/look.json".to_owned(), look.json());
    world::set(files, wanted)
}
