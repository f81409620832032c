//! A book as a reader gets it, by poppler.

use std::path::Path;
use std::process::Command;

/// What `program`, of Debian's poppler-utils, prints.
pub fn poppler(program: &str, arguments: &[&str]) -> String {
    let output = Command::new(program).args(arguments).output().expect("poppler-utils is installed: see CONTRIBUTING.md");
    assert!(output.status.success(), "{program}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8_lossy(&output.stdout).into_owned()
}

/// A book in a file, and the text of its pages.
pub struct Printed {
    folder: tempfile::TempDir,
    pub pages: Vec<String>,
}

impl Printed {
    pub fn new(pdf: &[u8]) -> Self {
        let folder = tempfile::tempdir().expect("a folder for a book");
        std::fs::write(folder.path().join("book.pdf"), pdf).expect("the folder can be written to");
        let path = folder.path().join("book.pdf");
        let text = poppler("pdftotext", &["-layout", text_of(&path), "-"]);
        let mut pages: Vec<String> = text.split('\u{c}').map(str::to_owned).collect();
        pages.pop();
        Self { folder, pages }
    }

    pub fn path(&self) -> std::path::PathBuf {
        self.folder.path().join("book.pdf")
    }

    /// Numbers, from 1, of the pages with a test square.
    pub fn template_sheets(&self) -> Vec<usize> {
        let is = |text: &String| text.contains("Measure before you cut: print at 100 %");
        (1..).zip(&self.pages).filter(|(_, text)| is(text)).map(|(number, _)| number).collect()
    }

    /// A page at 300 dpi.
    pub fn rendered(&self, page: usize) -> Page {
        let number = page.to_string();
        let (book, out) = (self.path(), self.folder.path().join("page"));
        let arguments = ["-r", "300", "-singlefile", "-f", &number, "-l", &number, text_of(&book), text_of(&out)];
        poppler("pdftoppm", &arguments);
        Page::read(&std::fs::read(out.with_extension("ppm")).expect("a page was written"))
    }
}

impl Printed {
    /// All pages at so many dots to the inch.
    pub fn every_page(&self, dpi: u32) -> Vec<Page> {
        let out = self.folder.path().join("all");
        poppler("pdftoppm", &["-r", &dpi.to_string(), text_of(&self.path()), text_of(&out)]);
        let files =
            std::fs::read_dir(self.folder.path()).expect("the folder is there").map(|file| file.expect("it reads").path());
        let pages = files.filter(|file| file.extension().is_some_and(|ending| ending == "ppm"));
        pages.map(|file| Page::read(&std::fs::read(file).expect("a page was written"))).collect()
    }
}

/// The pixels of a page, row by row.
pub struct Page {
    pub width: usize,
    pub height: usize,
    pixels: Vec<[u8; 3]>,
}

impl Page {
    /// Reads a binary PPM: `P6`, width, height, 255 and one white space, then three bytes a pixel.
    fn read(file: &[u8]) -> Self {
        let words: Vec<&[u8]> = file.splitn(5, u8::is_ascii_whitespace).collect();
        let [b"P6", width, height, b"255", body] = words[..] else { panic!("no PPM of eight bits a colour") };
        let pixels = body.as_chunks::<3>().0.to_vec();
        let number = |word: &[u8]| std::str::from_utf8(word).ok().and_then(|text| text.parse().ok()).expect("a number");
        let page = Self { width: number(width), height: number(height), pixels };
        assert_eq!(page.pixels.len(), page.width * page.height);
        page
    }

    pub fn pixels(&self) -> &[[u8; 3]] {
        &self.pixels
    }

    pub fn at(&self, x: usize, y: usize) -> [u8; 3] {
        self.pixels[y * self.width + x]
    }
}

pub fn text_of(path: &Path) -> &str {
    path.to_str().expect("temporary folders have plain names")
}

/// Width and height of what is printed in exactly `colour`, and how many pixels that is.
pub fn extent(page: &Page, colour: [u8; 3]) -> (usize, usize, usize) {
    let found = || (0..page.pixels.len()).filter(|&i| page.pixels[i] == colour).map(|i| (i % page.width, i / page.width));
    let span = |axis: &dyn Fn((usize, usize)) -> usize| {
        let (low, high) = (found().map(axis).min(), found().map(axis).max());
        low.zip(high).map_or(0, |(low, high)| high - low + 1)
    };
    (span(&|p| p.0), span(&|p| p.1), found().count())
}

/// The colours of the test squares, as `typst/sheets.typ` has them.
pub const INCH: [u8; 3] = [0x00, 0x00, 0x78];
pub const TWO_CENTIMETRES: [u8; 3] = [0x00, 0x64, 0x00];

/// The longest run of what is so.
pub fn longest_run(line: impl Iterator<Item = bool>) -> usize {
    line.fold((0, 0), |(longest, now), black| if black { (longest.max(now + 1), now + 1) } else { (longest, 0) }).0
}

/// Has `files` read by a script of `xtask/readers`; what it finds wrong is the failure.
pub fn read_by(script: &str, files: &[std::path::PathBuf]) {
    let tools = std::env::var("SEAMFALL_READERS").unwrap_or_else(|_| {
        let home = std::env::var("HOME").expect("there is a home");
        format!("{home}/.cache/seamfall-readers")
    });
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../xtask/readers").join(script);
    let output = Command::new(format!("{tools}/bin/python")).arg(script).args(files).output();
    let output = output.expect("xtask/install-test-tools.sh has installed the readers");
    let said = String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{said}");
}
