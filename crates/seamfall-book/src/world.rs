//! What the typesetter may see: the templates, the fonts, and the files of one book. Nothing else, no disk, no network, no clock.
//!
//! In: files by name, to which the words of the templates are added. Out: the PDF. Names are the same for every book (`/figure/3.svg`), since the typesetter keeps every name
//! it has ever met for as long as the process runs. Whether the book is still wanted is asked with every font and file that the typesetter takes, many thousand
//! times a book: that is the one place where it can be stopped.

use crate::BookError;
use std::collections::BTreeMap;
use std::sync::LazyLock;
use typst::diag::{FileError, FileResult, SourceDiagnostic};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

/// The templates, by the name they import one another with; the first is where the book starts.
pub const TEMPLATES: [(&str, &str); 10] = [
    ("/book.typ", include_str!("../typst/book.typ")),
    ("/style.typ", include_str!("../typst/style.typ")),
    ("/pages.typ", include_str!("../typst/pages.typ")),
    ("/sewing.typ", include_str!("../typst/sewing.typ")),
    ("/truing.typ", include_str!("../typst/truing.typ")),
    ("/joining.typ", include_str!("../typst/joining.typ")),
    ("/finishing.typ", include_str!("../typst/finishing.typ")),
    ("/lap.typ", include_str!("../typst/lap.typ")),
    ("/sheets.typ", include_str!("../typst/sheets.typ")),
    ("/class.typ", include_str!("../typst/class.typ")),
];

/// Inter, under the SIL Open Font License (`fonts/OFL-Inter.txt`): a sans face with fractions and figures of one width.
pub const SANS: [&[u8]; 2] = [include_bytes!("../fonts/Inter-Regular.otf"), include_bytes!("../fonts/Inter-Bold.otf")];

/// How a book looks, as the templates read it.
#[derive(Debug, Clone, Copy, Default, serde::Serialize)]
pub struct Look {
    /// Printed in black only.
    pub black: bool,
    /// In large type.
    pub large: bool,
}

impl Look {
    /// The file that the templates read it from.
    pub fn json(&self) -> Vec<u8> {
        serde_json::to_vec(self).expect("yes and no become JSON")
    }
}

/// What all books share.
struct Press {
    library: LazyHash<Library>,
    book: LazyHash<FontBook>,
    fonts: Vec<Font>,
}

static PRESS: LazyLock<Press> = LazyLock::new(|| {
    let fonts: Vec<Font> = SANS.into_iter().chain(typst_assets::fonts()).flat_map(|data| Font::iter(Bytes::new(data))).collect();
    Press { library: LazyHash::new(Library::default()), book: LazyHash::new(FontBook::from_fonts(&fonts)), fonts }
});

/// Says whether a book is still wanted.
pub type Wanted<'a> = &'a (dyn Fn() -> bool + Send + Sync);

/// What the typesetter is stopped with; it has no other way out.
struct NotWanted;

/// The files of one book.
struct Files<'a> {
    wanted: Wanted<'a>,
    main: FileId,
    sources: BTreeMap<&'static str, Source>,
    files: BTreeMap<String, Bytes>,
}

fn id(path: &str) -> FileId {
    let path = VirtualPath::new(path).expect("names of the book's files are plain");
    FileId::new(RootedPath::new(VirtualRoot::Project, path))
}

impl Files<'_> {
    fn go_on(&self) {
        if !(self.wanted)() {
            // Not a panic: nothing is wrong, and nothing is told.
            std::panic::resume_unwind(Box::new(NotWanted));
        }
    }
}

impl World for Files<'_> {
    fn library(&self) -> &LazyHash<Library> {
        &PRESS.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &PRESS.book
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        self.sources.get(id.vpath().get_with_slash()).cloned().ok_or_else(|| missing(id))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        self.go_on();
        self.files.get(id.vpath().get_with_slash()).cloned().ok_or_else(|| missing(id))
    }

    fn font(&self, index: usize) -> Option<Font> {
        self.go_on();
        PRESS.fonts.get(index).cloned()
    }

    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}

fn missing(id: FileId) -> FileError {
    FileError::NotFound(id.vpath().get_without_slash().into())
}

/// Sets the templates with `files` (by name, such as `/book.json`) and gives the PDF.
///
/// It is made to PDF/UA-1 (ISO 14289-1), readable aloud. Names in a script that no font here can show break that standard;
/// then the book is made without its promise rather than not at all.
///
/// # Errors
/// [`BookError`], when templates and contents do not fit together, which is a fault of ours, and when the book is not `wanted` any more.
pub fn set(files: BTreeMap<String, Vec<u8>>, wanted: Wanted) -> Result<Vec<u8>, BookError> {
    set_from(TEMPLATES[0].0, files, wanted)
}

/// The same, starting from another of the templates.
///
/// # Errors
/// As [`set`].
pub fn set_from(main: &str, mut files: BTreeMap<String, Vec<u8>>, wanted: Wanted) -> Result<Vec<u8>, BookError> {
    files.insert("/words.json".to_owned(), crate::language::json(TEMPLATES.map(|(_, text)| text)));
    let world = Files {
        wanted,
        main: id(main),
        sources: TEMPLATES.iter().map(|(path, text)| (*path, Source::new(id(path), (*text).to_owned()))).collect(),
        files: files.into_iter().map(|(path, bytes)| (path, Bytes::new(bytes))).collect(),
    };
    let set = || {
        typst::compile::<PagedDocument>(&world).output.and_then(|document| {
            world.go_on();
            let readable = PdfStandards::new(&[PdfStandard::Ua_1]).expect("one standard agrees with itself");
            let options = |standards| PdfOptions { standards, ..PdfOptions::default() };
            typst_pdf::pdf(&document, &options(readable))
                .or_else(|_| typst_pdf::pdf(&document, &options(PdfStandards::default())))
        })
    };
    // What the typesetter remembers of a book that was stopped is whole, since it remembers results only; and it is forgotten.
    let result = std::panic::catch_unwind(std::panic::AssertUnwindSafe(set));
    comemo::evict(0);
    let result = match result {
        Ok(result) => result,
        Err(stopped) if stopped.is::<NotWanted>() => return Err(BookError::NotWanted),
        Err(fault) => std::panic::resume_unwind(fault),
    };
    result.map_err(|faults| BookError::Setting { reason: faults.iter().map(told).collect::<Vec<_>>().join("; ") })
}

fn told(fault: &SourceDiagnostic) -> String {
    let hints: String = fault.hints.iter().map(|hint| format!(" ({})", hint.v)).collect();
    format!("{}{hints}", fault.message)
}
