//! The lines of an SVG file that a maker brings.
//!
//! In: the bytes of the file. Out: the path data of one path with every shape's transforms worked in, as the quilt file keeps it.
//! Shapes are read by `usvg`. Scripts, pictures, words and whatever lies outside the file are never looked at. Only the run of the
//! lines matters; colours and widths do not.

use seamfall_geom::has_far_number;
use seamfall_model::limits::PATH_BYTES;
use std::fmt::Write;
use tr::tr;
use usvg::roxmltree::{Document, ParsingOptions};
use usvg::tiny_skia_path::PathSegment;
use usvg::{Group, ImageHrefResolver, Node, Options, Tree};

/// Largest file that is read, in bytes.
pub const LARGEST: usize = 1024 * 1024;

/// Groups in groups, at most.
pub const DEEPEST: usize = 200;

/// The path data, or why there is none, in words.
pub fn path_data(file: &[u8]) -> Result<String, String> {
    if file.len() > LARGEST {
        return Err(tr!("the drawing has more than 1 MiB; draw it with fewer points"));
    }
    let text = std::str::from_utf8(file).map_err(|_| tr!("the file is not an SVG drawing: it is no text"))?;
    let nothing = ImageHrefResolver { resolve_data: Box::new(|_, _, _| None), resolve_string: Box::new(|_, _| None) };
    let options = Options { image_href_resolver: nothing, ..Options::default() };
    let unread = |error: String| tr!("the file is not an SVG drawing that can be read: {error}", error);
    let parsing = ParsingOptions { allow_dtd: true, ..ParsingOptions::default() };
    let document = Document::parse_with_options(text, parsing).map_err(|error| unread(error.to_string()))?;
    ordinary(&document)?;
    let tree = Tree::from_xmltree(&document, &options).map_err(|error| unread(error.to_string()))?;
    let mut data = String::new();
    draw(tree.root(), &mut data)?;
    if data.is_empty() {
        return Err(tr!("the drawing has no lines; words and pictures must be turned into paths before"));
    }
    Ok(data)
}

/// Refuses what would take a reader out of all measure: groups in groups without end, and arcs so far away that they become millions of curves.
fn ordinary(document: &Document) -> Result<(), String> {
    let (mut depth, mut node) = (0, document.root());
    // Down, along, and up again, by hand: a drawing that is too deep for the reader is too deep for any that calls itself.
    loop {
        if node.attribute("d").is_some_and(has_far_number) {
            return Err(tr!("a number in the drawing is far larger than any drawing; draw it smaller"));
        }
        if let Some(child) = node.first_child() {
            (depth, node) = (depth + 1, child);
            if depth > DEEPEST {
                return Err(tr!("the drawing has groups in groups, more than {deepest} deep; ungroup it", deepest = DEEPEST));
            }
            continue;
        }
        while node.next_sibling().is_none() {
            let Some(above) = node.parent() else { return Ok(()) };
            (depth, node) = (depth - 1, above);
        }
        node = node.next_sibling().expect("it was just seen");
    }
}

fn draw(group: &Group, data: &mut String) -> Result<(), String> {
    for node in group.children() {
        match node {
            Node::Group(group) => draw(group, data)?,
            Node::Path(path) => {
                let Some(path) = path.data().clone().transform(path.abs_transform()) else { continue };
                for segment in path.segments() {
                    let _ = match segment {
                        PathSegment::MoveTo(p) => write!(data, "M{} {}", p.x, p.y),
                        PathSegment::LineTo(p) => write!(data, "L{} {}", p.x, p.y),
                        PathSegment::QuadTo(a, p) => write!(data, "Q{} {} {} {}", a.x, a.y, p.x, p.y),
                        PathSegment::CubicTo(a, b, p) => write!(data, "C{} {} {} {} {} {}", a.x, a.y, b.x, b.y, p.x, p.y),
                        PathSegment::Close => write!(data, "Z"),
                    };
                    if data.len() > PATH_BYTES {
                        return Err(tr!(
                            "the lines of the drawing take more than {path_bytes} KiB; draw it with fewer points",
                            path_bytes = PATH_BYTES / 1024
                        ));
                    }
                }
            }
            Node::Image(_) | Node::Text(_) => {}
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shapes_come_with_their_transforms_and_without_what_is_not_lines() {
        let file = br#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100"><script>alert(1)</script>
            <image href="file:///etc/hosts" width="10" height="10"/><g transform="translate(10 20) scale(2)"><path d="M0 0L5 0" stroke="black"/></g></svg>"#;
        assert_eq!(path_data(file).as_deref(), Ok("M10 20L20 20"));
    }

    #[test]
    fn what_cannot_be_read_is_said_in_words() {
        let start =
            |file: &[u8]| path_data(file).expect_err("it cannot be read").split(';').next().unwrap_or_default().to_owned();
        assert_eq!(start(&vec![b' '; LARGEST + 1]), "the drawing has more than 1 MiB");
        assert_eq!(start(b"\xff\xd8\xff"), "the file is not an SVG drawing: it is no text");
        assert!(start(b"<html></html>").starts_with("the file is not an SVG drawing that can be read"));
        assert_eq!(start(br#"<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>"#), "the drawing has no lines");
        let many = format!(
            r#"<svg xmlns="http://www.w3.org/2000/svg"><path stroke="red" d="M0 0{}"/></svg>"#,
            "l1.5 2.5l3 -9".repeat(8000)
        );
        assert_eq!(start(many.as_bytes()), "the lines of the drawing take more than 64 KiB");
    }

    #[test]
    fn drawings_out_of_all_measure_are_refused() {
        let start = |inside: &str| {
            let file = format!(r#"<svg xmlns="http://www.w3.org/2000/svg">{inside}</svg>"#);
            path_data(file.as_bytes()).expect_err("it cannot be read").split(';').next().unwrap_or_default().to_owned()
        };
        let deep = |groups: usize| format!("{}<path d=\"M0 0L5 0\"/>{}", "<g>".repeat(groups), "</g>".repeat(groups));
        assert!(start(&deep(100_000)).starts_with("the drawing has groups in groups, more than 200 deep"));
        let file = format!(r#"<svg xmlns="http://www.w3.org/2000/svg">{}</svg>"#, deep(150));
        assert_eq!(path_data(file.as_bytes()).as_deref(), Ok("M0 0L5 0"));
        assert_eq!(start(r#"<path d="M0,01e38A5  1 0 1 0 9 9"/>"#), "a number in the drawing is far larger than any drawing");
    }

    /// Entities that stand for one another, each for ten of the next.
    #[test]
    fn a_drawing_that_would_grow_without_end_is_refused() {
        let entities: String = (1..30).map(|n| format!("<!ENTITY e{n} \"{}\">", format!("&e{};", n - 1).repeat(10))).collect();
        let file = format!(
            "<!DOCTYPE svg [<!ENTITY e0 \"x\">{entities}]><svg xmlns=\"http://www.w3.org/2000/svg\"><title>&e29;</title></svg>"
        );
        assert!(path_data(file.as_bytes()).is_err());
    }
}
