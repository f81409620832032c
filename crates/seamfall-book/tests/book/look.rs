//! Books for paper in black and white, and for eyes that want large type.

use crate::printed::*;
use crate::{DATE, harbour, weir};
use seamfall_book::{BookOptions, Ink, Marking, Paper, TypeSize, book};
use seamfall_model::Quilt;

fn made(quilt: &Quilt, options: BookOptions) -> Vec<u8> {
    book(quilt, &seamfall_plan::plan(quilt), &BookOptions { date: DATE, ..options }).expect("samples make a book")
}

/// Every pixel of every page is a grey, which the usual book's are not; and what a cloth is called stands there all the same.
#[test]
fn a_book_in_black_has_no_colour_on_any_page() {
    let coloured = |printed: &Printed| {
        let all = printed.every_page(40);
        assert_eq!(all.len(), printed.pages.len());
        all.iter().filter(|page| page.pixels().iter().any(|&[r, g, b]| r != g || g != b)).count()
    };
    for quilt in [harbour(), seamfall_testkit::market_rows()] {
        let options = BookOptions { ink: Ink::Black, marking: Marking::Both, ..BookOptions::on(Paper::Letter) };
        let printed = Printed::new(&made(&quilt, options));
        assert_eq!(coloured(&printed), 0, "{}", quilt.name);
        let all = printed.pages.join("\n");
        for cloth in &quilt.cloths {
            assert!(all.contains(&cloth.name), "{}", cloth.name);
        }
    }
    assert!(coloured(&Printed::new(&made(&harbour(), BookOptions::on(Paper::Letter)))) > 5);
}

/// Large type: 18 points and more, the least that the American Printing House for the Blind calls large print. Read from the PDF's text, drawings
/// and template sheets left out; and no word leaves its page. In black too, and both can be read aloud.
#[test]
fn large_type_is_large_everywhere_and_nothing_is_cut_off() {
    let folder = tempfile::tempdir().expect("a folder for books");
    let books: Vec<_> = [(harbour(), Paper::Letter, Ink::Colour), (weir(), Paper::A4, Ink::Black)]
        .into_iter()
        .enumerate()
        .map(|(number, (quilt, paper, ink))| {
            let path = folder.path().join(format!("book-{number}.pdf"));
            let options = BookOptions { ink, size: TypeSize::Large, ..BookOptions::on(paper) };
            std::fs::write(&path, made(&quilt, options)).expect("the folder can be written to");
            path
        })
        .collect();
    let mut asked = vec![std::path::PathBuf::from("18")];
    asked.extend(books.iter().cloned());
    read_by("type.py", &asked);
    read_by("tagged.py", &books[1..]);
}

/// Test squares stay what they are: 1 in is 300 pixels at 300 dpi.
#[test]
fn large_type_leaves_sheets_to_scale() {
    let printed = Printed::new(&made(&harbour(), BookOptions { size: TypeSize::Large, ..BookOptions::on(Paper::Letter) }));
    let sheets = printed.template_sheets();
    for page in [sheets[0], *sheets.last().expect("there are sheets")] {
        let image = printed.rendered(page);
        assert!(image.width.abs_diff(2550) <= 1 && image.height.abs_diff(3300) <= 1, "{} by {}", image.width, image.height);
        let (width, height, _) = extent(&image, INCH);
        assert!(width.abs_diff(300) <= 1 && height.abs_diff(300) <= 1, "{width} by {height}");
    }
}
