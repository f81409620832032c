//! The stage as a whole, on quilts written as a maker would write them.

use super::*;
use crate::Staged;
use seamfall_geom::TOLERANCE;
use seamfall_model::{Grade, read};

/// A quilt with two plain blocks, `a` of 12 in and `tall` of 9 x 12 in, and the lines given.
fn quilt(rest: &str) -> Quilt {
    let text = format!(
        r##"
format = 1
name = "Test"
measure = "inch"
[cloth.red]
colour = "#aa3333"
[cloth.blue]
colour = "#3333aa"
[block.a]
shape = "square"
size = "12"
grid = 2
seams = [[0, 0, 2, 2]]
patches = {{ red = [[0.5, 1.5]], blue = [[1.5, 0.5]] }}
[block.tall]
shape = "rectangle"
size = "9 x 12"
grid = [3, 4]
seams = [[0, 2, 3, 2]]
patches = {{ red = [[1, 1]], blue = [[1, 3]] }}
[frame.wide]
corners = "mitred"
strips = [ {{ width = "1 1/2", cloth = "red" }}, {{ width = "1", cloth = "blue" }} ]
[frame.butted]
corners = "butted"
strips = [ {{ width = "1 1/2", cloth = "red" }} ]
{rest}
"##
    );
    read(&text).unwrap_or_else(|error| panic!("{error:?}\n{text}"))
}

fn set(rest: &str) -> Staged<Top> {
    derive(&quilt(rest))
}

/// Laws of every top: pieces cover it without overlap, sections hold every piece once and are no larger than allowed.
fn check_laws(quilt: &Quilt, top: &Top) {
    let pieces: f64 =
        top.places.iter().map(|place| place.outline.area()).chain(top.strips.iter().map(|strip| strip.outline.area())).sum();
    let whole = top.size.x * top.size.y;
    assert!((pieces - whole).abs() < 1e-9 * whole, "pieces {pieces}, top {whole}");
    let sections: f64 = top.sections.iter().map(|section| section.outline.area()).sum();
    assert!((sections - whole).abs() < 1e-6 * whole, "sections {sections}, top {whole}");
    let mut places: Vec<usize> = top.sections.iter().flat_map(|section| section.places.clone()).collect();
    places.sort_unstable();
    assert_eq!(places, (0..top.places.len()).collect::<Vec<_>>());
    let mut strips: Vec<usize> = top.sections.iter().flat_map(|section| section.strips.clone()).collect();
    strips.sort_unstable();
    assert_eq!(strips, (0..top.strips.len()).collect::<Vec<_>>());
    let mut names: Vec<&str> = top.strips.iter().map(|strip| strip.name.as_str()).collect();
    names.sort_unstable();
    let count = names.len();
    names.dedup();
    assert_eq!(names.len(), count, "names are used once");
    let largest = quilt.largest_section.value();
    for section in &top.sections {
        assert!(section.size.x.max(section.size.y) <= largest + TOLERANCE, "{} is {:?}", section.name, section.size);
    }
}

fn lawful(rest: &str) -> Top {
    let quilt = quilt(rest);
    let staged = derive(&quilt);
    assert_eq!(staged.findings, [], "{rest}");
    check_laws(&quilt, &staged.result);
    staged.result
}

const GRID: &str = "[setting]\nlayout = \"straight\"\ncolumns = 5\nrows = 6\npattern = [[\"a\"]]\n";

/// Five by six blocks of 12 in make 60 by 72 in.
/// Source: "Sizes", delawarequilts.com (check value cutting.layout.blocks_5x6).
#[test]
fn five_by_six_blocks_of_twelve_inches() {
    let top = lawful(GRID);
    assert_eq!((top.size.x, top.size.y), (60.0, 72.0));
    assert_eq!(top.places.len(), 30);
    // 24 in hold two blocks: three groups across, three down.
    assert_eq!(top.sections.len(), 9);
}

#[test]
fn frames_sashing_and_bands_add_to_the_size() {
    for (rest, width, height) in [
        // Frames add 2 1/2 in all round each block.
        (format!("{GRID}frame = \"wide\"\n"), 5.0 * 17.0, 6.0 * 17.0),
        (format!("{GRID}frame = \"butted\"\n"), 5.0 * 15.0, 6.0 * 15.0),
        (format!("{GRID}[sashing]\nwidth = \"2\"\ncloth = \"blue\"\n"), 68.0, 82.0),
        (format!("{GRID}[sashing]\nwidth = \"2\"\ncloth = \"blue\"\ncornerstones = \"red\"\naround = true\n"), 72.0, 86.0),
        (
            format!(
                "{GRID}[[band]]\nwidth = \"4\"\ncloth = \"blue\"\ncorners = \"mitred\"\n[[band]]\nwidth = \"1\"\ncloth = \"red\"\ncorners = {{ squares = \"blue\" }}\n"
            ),
            70.0,
            82.0,
        ),
    ] {
        let top = lawful(&rest);
        assert_eq!((top.size.x, top.size.y), (width, height), "{rest}");
        let [across, down] = ["width of the top", "height of the top"]
            .map(|what| top.workings.iter().find(|working| working.what == what).expect("the size has a working").value);
        assert_eq!((across, down), (width, height), "the working comes to the size it explains: {rest}");
    }
}

#[test]
fn cornerstones_stand_at_every_crossing() {
    let kinds = |rest: &str| {
        let top = lawful(rest);
        let count = |kind: PieceKind| top.strips.iter().filter(|strip| strip.kind == kind).count();
        (count(PieceKind::Sash), count(PieceKind::Cornerstone))
    };
    // 5 x 6 blocks: 4 x 6 upright and 5 x 5 level sashes, 4 x 5 crossings; with sashing outside 6 x 6, 5 x 7 and 6 x 7.
    assert_eq!(kinds(&format!("{GRID}[sashing]\nwidth = \"2\"\ncloth = \"blue\"\ncornerstones = \"red\"\n")), (49, 20));
    assert_eq!(
        kinds(&format!("{GRID}[sashing]\nwidth = \"2\"\ncloth = \"blue\"\ncornerstones = \"red\"\naround = true\n")),
        (71, 42)
    );
}

/// Side triangles 2 (x-1) + 2 (y-1), four corners, x y + (x-1)(y-1) blocks.
/// Source: check value cutting.onpoint.triangles (derived: geometry of the setting).
#[test]
fn on_point_five_across_and_six_down() {
    let top = lawful(&on_point(""));
    assert_eq!(top.places.len(), 50);
    let count = |kind: PieceKind| top.strips.iter().filter(|strip| strip.kind == kind).count();
    assert_eq!((count(PieceKind::SideTriangle), count(PieceKind::CornerTriangle)), (18, 4));
    let diagonal = 12.0 * 2_f64.sqrt();
    assert!((top.size.x - 5.0 * diagonal).abs() < 1e-9 && (top.size.y - 6.0 * diagonal).abs() < 1e-9);
}

fn on_point(rest: &str) -> String {
    format!("[setting]\nlayout = \"on-point\"\ncolumns = 5\nrows = 6\npattern = [[\"a\"]]\ntriangles = \"blue\"\n{rest}")
}

#[test]
fn on_point_with_sashing_and_bands_keeps_the_laws() {
    for rest in [
        "[sashing]\nwidth = \"2\"\ncloth = \"red\"\ncornerstones = \"blue\"\n",
        "[sashing]\nwidth = \"2\"\ncloth = \"red\"\n",
        "[sashing]\nwidth = \"2\"\ncloth = \"red\"\ncornerstones = \"blue\"\naround = true\n",
        "[[band]]\nwidth = \"5\"\ncloth = \"red\"\ncorners = \"mitred\"\n[[band]]\nwidth = \"3\"\ncloth = \"blue\"\ncorners = \"butted\"\n",
        "frame = \"wide\"\n[sashing]\nwidth = \"2\"\ncloth = \"red\"\naround = true\n[[band]]\nwidth = \"5\"\ncloth = \"red\"\ncorners = { squares = \"blue\" }\n",
    ] {
        lawful(&on_point(rest));
    }
}

/// Whole sashes on point are as long as the block; only cornerstones are cut by the edge.
#[test]
fn on_point_sashes_are_whole() {
    let top = lawful(&on_point("[sashing]\nwidth = \"2\"\ncloth = \"red\"\ncornerstones = \"blue\"\n"));
    for sash in top.strips.iter().filter(|strip| strip.kind == PieceKind::Sash) {
        assert!((sash.outline.area() - 24.0).abs() < 1e-9, "{}", sash.name);
    }
    let halves =
        top.strips.iter().filter(|strip| strip.kind == PieceKind::Cornerstone && strip.outline.edges().len() == 3).count();
    // One on the edge between neighbouring places: 2 x 5 + 2 x 6.
    assert_eq!(halves, 22);
}

#[test]
fn rows_of_different_blocks_are_filled_up() {
    let rows = "[setting]\nlayout = \"rows\"\npattern = [[\"a\", \"a\", \"a\"], [\"tall\", \"tall\", \"tall\"]]\n";
    let filled = lawful(&format!("{rows}filler = \"blue\"\n"));
    assert_eq!((filled.size.x, filled.size.y), (36.0, 24.0));
    let fillers: Vec<f64> = filled.strips.iter().map(|strip| strip.outline.area()).collect();
    assert_eq!(fillers, [4.5 * 12.0, 4.5 * 12.0]);

    let short = set(rows);
    assert_eq!(short.findings.len(), 1);
    assert_eq!((short.findings[0].grade, short.findings[0].spot.to_string()), (Grade::Stop, "row 2".to_owned()));
}

#[test]
fn a_block_that_does_not_fill_its_place_is_found() {
    let staged = set(
        "[setting]\nlayout = \"straight\"\ncolumns = 2\nrows = 1\npattern = [[\"a\", \"tall\"]]\n[[place]]\nat = \"A2\"\nturn = 1\n",
    );
    assert_eq!(staged.findings.len(), 1, "{:?}", staged.findings);
    assert_eq!(staged.findings[0].spot.to_string(), "A2");
    assert_eq!(staged.findings[0].reason, "its block and frame take 9 in, but its row takes 12 in");
}

#[test]
fn a_top_that_cannot_be_divided_says_where() {
    assert_eq!(set(GRID).findings, []);
    let mut small = quilt(GRID);
    small.largest_section = seamfall_model::Length::new(10.0);
    let staged = derive(&small);
    assert_eq!(staged.findings.len(), 30, "every block is too large");
    assert_eq!(staged.findings[0].reason, "it measures 12 in x 12 in, more than the 10 in that a section may have");
}

#[test]
fn turned_and_mirrored_blocks_stay_in_their_places() {
    let quilt = quilt(&format!("{GRID}[[place]]\nat = \"B2\"\nturn = 1\nmirror = true\n"));
    let top = derive(&quilt).result;
    let place = top.places.iter().find(|place| place.name == "B2").expect("B2 exists");
    let bounds = place.outline.bounds();
    assert_eq!((bounds.x0, bounds.y0, bounds.x1, bounds.y1), (12.0, 48.0, 24.0, 60.0));
    // Mirrored first, then turned to the left: the lower left corner goes to the lower right, then to the upper right.
    let corner = place.pose.apply(seamfall_geom::Point::new(0.0, 0.0));
    assert_eq!((corner.x, corner.y), (24.0, 60.0));
}

#[test]
fn groups_are_fewest_and_even() {
    let table: [(&[f64], f64, &[usize]); 5] = [
        (&[12.0; 5], 24.0, &[0, 2, 4]),
        (&[4.0, 12.0, 12.0, 12.0, 4.0], 24.0, &[0, 2, 3]),
        (&[30.0, 4.0, 4.0], 24.0, &[0, 1]),
        (&[10.0], 24.0, &[0]),
        (&[6.0; 6], 24.0, &[0, 3]),
    ];
    for (items, limit, firsts) in table {
        assert_eq!(divide::group(items, limit), firsts, "{items:?}");
    }
}
