//! The book as it is heard: by checkers that share nothing with the typesetter.

use crate::printed::*;
use crate::{DATE, harbour, made, weir};
use seamfall_book::{BookOptions, Paper, book};

/// PDF/UA-1 (ISO 14289-1) by page-validation, what a listener meets by outloud, and the structure by pikepdf: `xtask/readers/tagged.py`,
/// which also spoils a book in five ways and asks whether each is seen.
#[test]
fn books_can_be_read_aloud() {
    let folder = tempfile::tempdir().expect("a folder for books");
    let samples = [harbour(), weir()];
    let books: Vec<_> = samples
        .iter()
        .enumerate()
        .map(|(number, quilt)| {
            let path = folder.path().join(format!("book-{number}.pdf"));
            let paper = if number % 2 == 0 { Paper::Letter } else { Paper::A4 };
            std::fs::write(&path, made(quilt, paper)).expect("the folder can be written to");
            path
        })
        .collect();
    read_by("tagged.py", &books);
}

/// Source: the sheets themselves, by their headings; how often is the plan's.
#[test]
fn the_index_names_every_template_with_its_page_and_how_often_it_is_cut() {
    for quilt in [harbour(), weir(), seamfall_testkit::hill_farm()] {
        let plan = seamfall_plan::plan(&quilt);
        let options = BookOptions { date: DATE, ..BookOptions::on(Paper::Letter) };
        let printed = Printed::new(&book(&quilt, &plan, &options).expect("samples make a book"));
        let plain = |text: &str| text.replace('\u{2009}', " ");
        let from = printed.pages.iter().rposition(|page| page.contains("Index of templates")).expect("there is an index");
        let sheets = printed.template_sheets();
        let lines: Vec<String> =
            printed.pages[from..sheets[0] - 1].iter().flat_map(|page| page.lines().map(plain).collect::<Vec<_>>()).collect();
        let mut seen = 0;
        for (block, draft) in quilt.blocks.iter().zip(&plan.drafts) {
            for template in &draft.templates {
                let name = format!("{} {}", block.name, template.letter);
                let line = lines.iter().find(|line| line.trim_start().starts_with(&format!("{name} ")));
                let line = line.unwrap_or_else(|| panic!("{name} is not in the index of {}", quilt.name));
                let words: Vec<&str> = line.split_whitespace().collect();
                if line.contains("not printed") {
                    continue;
                }
                let number = |word: &&str| word.parse::<usize>().ok().filter(|page| sheets.contains(page));
                let page = words.last().and_then(number).unwrap_or_else(|| panic!("no page: {line}"));
                let first =
                    if words.get(words.len() - 2) == Some(&"to") { number(&words[words.len() - 3]).unwrap() } else { page };
                for page in [first, page] {
                    let heading = plain(printed.pages[page - 1].lines().next().unwrap_or(""));
                    assert!(heading.contains(&name), "{name} should be on page {page}, which is headed {heading}");
                }
                assert!(first == page || printed.pages[page].lines().next().is_none_or(|next| !next.contains(&name)), "{name}");
                seen += 1;
            }
        }
        assert!(seen > 3, "{seen} templates");
        // As the cells follow one another, not as they lie.
        let raw = poppler("pdftotext", &["-raw", "-f", &(from + 1).to_string(), text_of(&printed.path()), "-"]);
        let joined = raw.split_whitespace().collect::<Vec<_>>().join(" ");
        for piece in &plan.cutting.pieces {
            let of_blocks = |one: &&seamfall_plan::cut::Use| matches!(one, seamfall_plan::cut::Use::Template { .. });
            if piece.uses.iter().filter(of_blocks).count() == 1
                && let Some(seamfall_plan::cut::Use::Template { count, .. }) = piece.uses.first()
            {
                let line = format!("{count} of {}, {}", piece.of.name(&quilt), piece.name);
                assert!(joined.contains(&line), "`{line}` is not in the index of {}", quilt.name);
            }
        }
    }
}
