//! The stage as a whole, on quilts written as a maker would write them. Sizes are reckoned by hand: 1/4 in allowance, up to 1/8 in.

use super::*;
use seamfall_model::{Finding, read};

/// Cloths 42 in wide (`stripe` with a direction), blocks `half` (two triangles), `arrow` (a long triangle and the rest).
fn quilt(rest: &str) -> Quilt {
    let text = format!(
        r##"
format = 1
name = "Test"
measure = "inch"
{rest}
[cloth.red]
colour = "#aa3333"
width = "42"
[cloth.blue]
colour = "#3333aa"
width = "42"
[block.half]
shape = "square"
size = "12"
grid = 4
seams = [[0, 0, 4, 4]]
patches = {{ red = [[1, 3]], blue = [[3, 1]] }}
[block.arrow]
shape = "square"
size = "12"
grid = 4
seams = [[0, 0, 1, 4]]
patches = {{ red = [[0.25, 3]], blue = [[3, 1]] }}
"##
    );
    read(&text).unwrap_or_else(|error| panic!("{error:?}\n{text}"))
}

/// Rows of `pattern` by columns.
fn grid(columns: usize, rows: usize, pattern: &str, more: &str) -> String {
    format!("[setting]\nlayout = \"straight\"\ncolumns = {columns}\nrows = {rows}\npattern = [[\"{pattern}\"]]\n{more}")
}

fn cut(rest: &str) -> (Quilt, Staged<Cutting>) {
    let quilt = quilt(rest);
    let plan = crate::plan(&quilt);
    let staged = derive(&quilt, &plan.drafts, &plan.top, &plan.making);
    (quilt, staged)
}

/// One line a piece: cloth, how many are sewn and cut, way, size, what for.
fn lines(rest: &str) -> Vec<String> {
    let (quilt, staged) = cut(rest);
    let piece = |piece: &CutPiece| {
        let way = match &piece.way {
            Way::Rectangle => "rectangle",
            Way::HalfSquare => "half",
            Way::QuarterSquare => "quarter",
            Way::Unit(way) => way.word(),
            Way::Joined => "joined",
            Way::Mitred => "mitred",
            Way::Template { reversed: false, .. } => "template",
            Way::Template { reversed: true, .. } => "reversed",
        };
        let uses = piece.uses.iter().map(|each| match each {
            Use::Template { block, template, count } => format!("{} {template} x{count}", quilt.blocks[block.0].key),
            Use::Top { what, count } => format!("{what} x{count}"),
        });
        let (needed, cut, cloth) = (piece.needed, piece.cut, &quilt.cloths[piece.cloth.0].key);
        let [width, length] = [&piece.width, &piece.length].map(|size| size.length().shown(quilt.step));
        format!("{cloth} {needed}/{cut} {way} {width} x {length}: {}", uses.collect::<Vec<_>>().join("; "))
    };
    staged.result.pieces.iter().map(piece).collect()
}

fn findings(rest: &str) -> Vec<Finding> {
    cut(rest).1.findings
}

/// 12 + 0.8536 = 12.8536, up to 12 7/8; three places give three triangles of each cloth, out of two squares, whether these are sewn
/// before they are cut or after.
#[test]
fn triangles_are_cut_two_from_a_square() {
    assert_eq!(
        lines(&grid(3, 1, "half", "")),
        ["red 3/2 two 12 7/8 x 12 7/8: half 0 x3", "blue 3/2 two 12 7/8 x 12 7/8: half 0 x3"]
    );
    assert_eq!(
        lines(&grid(3, 1, "half", "[[way]]\nof = \"half.p1\"\nuse = \"plain\"\n")),
        ["red 3/2 half 12 7/8 x 12 7/8: half 0 x3", "blue 3/2 half 12 7/8 x 12 7/8: half 0 x3"]
    );
}

#[test]
fn equal_pieces_of_several_blocks_are_one_entry() {
    let more =
        "[block.other]\nshape = \"square\"\nsize = \"12\"\nseams = [[0, 12, 12, 0]]\npatches = { red = [[3, 3], [9, 9]] }\n";
    let pieces = lines(&grid(2, 1, "half\", \"other", more));
    assert_eq!(pieces[0], "red 3/2 half 12 7/8 x 12 7/8: other 0 x2; half 0 x1");
}

/// A long triangle has no axis: in a mirrored place its template is laid on its face. Half a square has one.
#[test]
fn only_shapes_without_an_axis_are_reversed_in_a_mirrored_place() {
    let mirrored = "[[place]]\nat = \"A2\"\nmirror = true\n[[place]]\nat = \"A3\"\nmirror = true\nturn = 2\n";
    let counts = |block: &str| -> Vec<(usize, Option<bool>)> {
        let (_, staged) = cut(&grid(3, 1, block, mirrored));
        let reversed = |way: &Way| if let Way::Template { reversed, .. } = way { Some(*reversed) } else { None };
        let red = staged.result.pieces.iter().filter(|piece| piece.cloth == ClothId(0));
        red.map(|piece| (piece.needed, reversed(&piece.way))).collect()
    };
    assert_eq!(counts("arrow"), [(1, Some(false)), (2, Some(true))]);
    assert_eq!(counts("half"), [(3, None)]);
}

#[test]
fn a_swapped_cloth_is_cut_from_the_other() {
    let pieces = lines(&grid(2, 1, "half", "[[place]]\nat = \"A2\"\nswap = { red = \"blue\" }\n"));
    assert_eq!(pieces, ["red 1/1 half 12 7/8 x 12 7/8: half 0 x1", "blue 3/2 half 12 7/8 x 12 7/8: half 0 x3"]);
}

/// A frame 1 1/2 in wide round 12 in. Butted: sides 12, top and bottom 15. Mitred: each 15 along its outer edge. And 1/2 in more.
#[test]
fn frames_are_cut_as_their_corners_are_sewn() {
    let frame = |corners: &str| {
        let frame =
            format!("frame = \"f\"\n[frame.f]\ncorners = {corners}\nstrips = [{{ width = \"1 1/2\", cloth = \"blue\" }}]\n");
        let mut pieces = lines(&grid(2, 1, "half", &frame));
        pieces.retain(|line| line.contains("frame"));
        pieces
    };
    assert_eq!(
        frame("\"butted\""),
        [
            "blue 4/4 rectangle 2 x 15 1/2: frame f, top and bottom x4",
            "blue 4/4 rectangle 2 x 12 1/2: frame f, left and right x4"
        ]
    );
    assert_eq!(frame("\"mitred\""), ["blue 8/8 mitred 2 x 15 1/2: frame f x8"]);
    assert_eq!(
        frame("{ squares = \"red\" }"),
        ["red 8/8 rectangle 2 x 2: frame f, corner squares x8", "blue 8/8 rectangle 2 x 12 1/2: frame f x8"]
    );
}

/// On point nothing of the setting lies level, and all the same its sizes are those of its own edges: sashes 2 1/2 x 12 1/2.
/// Two by two (and one between): four crossings inside, eight on the edge. Cornerstones of 2 in: whole 2 1/2; halves at the edge, long side 2 √2 = 2.8284, and 1.2071 = 4.0355, up to 4 1/8.
#[test]
fn sizes_on_point_are_those_of_the_edges() {
    let setting = "[setting]\nlayout = \"on-point\"\ncolumns = 2\nrows = 2\npattern = [[\"half\"]]\ntriangles = \"blue\"\n\
                   [sashing]\nwidth = \"2\"\ncloth = \"red\"\ncornerstones = \"blue\"\n";
    let mut pieces = lines(setting);
    pieces.retain(|line| line.contains("sash") || line.contains("cornerstones"));
    assert_eq!(
        pieces,
        [
            "red 16/16 rectangle 2 1/2 x 12 1/2: sashing x16",
            "blue 8/2 quarter 4 1/8 x 4 1/8: cornerstones x8",
            "blue 4/4 rectangle 2 1/2 x 2 1/2: cornerstones x4"
        ]
    );
}

const LONG: &str = "largest-section = \"100\"\n";

/// Bands round 60 x 12 in, 4 in wide: sides 12, top and bottom 68; cut 68 1/2, two of them out of cloth 42 in wide.
/// 137 in joined from strips of 42: three give 126 less two joins, four give 168 less three, 166 1/2.
#[test]
fn strips_longer_than_the_cloth_is_wide_are_joined() {
    let band = "[[band]]\nwidth = \"4\"\ncloth = \"blue\"\n";
    let setting = format!("{LONG}{}", grid(5, 1, "half", band));
    assert!(lines(&setting).contains(&"blue 2/2 joined 4 1/2 x 68 1/2: band 1, top and bottom x2".to_owned()));
    let (_, staged) = cut(&setting);
    let blue = &staged.result.cloths[1];
    let of = |way: Way| blue.strips.iter().find(|strip| staged.result.pieces[strip.piece].way == way).expect("it is cut");
    let joined = of(Way::Joined);
    assert_eq!(joined.strips.value, 4.0);
    assert_eq!(joined.strips.numbers, "up((2 × 68.5 − 0.25 × 2) ÷ (42 − 0.25 × 2))");
    // 5 triangles from 3 squares of 12 7/8, three to a strip; 4 strips of 4 1/2; the sides, 12 1/2 long, both out of one strip.
    assert_eq!((blue.length.exact, blue.length.value), (12.875 + 4.0 * 4.5 + 4.5, 36.0));
}

#[test]
fn prints_with_a_direction_are_not_turned() {
    let stripe = "[cloth.stripe]\ncolour = \"#777777\"\nprint = \"one-way\"\nwidth = \"42\"\n[[band]]\nwidth = \"4\"\ncloth = \"stripe\"\n";
    let setting = format!("{LONG}{}", grid(5, 5, "half", stripe));
    let mut pieces = lines(&setting);
    pieces.retain(|line| line.starts_with("stripe"));
    // Upright bands are cut along the cloth, as long as they are; level ones across it, joined.
    assert_eq!(
        pieces,
        [
            "stripe 2/2 joined 68 1/2 x 4 1/2: band 1, top and bottom x2",
            "stripe 2/2 rectangle 4 1/2 x 60 1/2: band 1, left and right x2"
        ]
    );
    let (_, staged) = cut(&setting);
    let stripe = &staged.result.cloths[0];
    // One strip 60 1/2 high for both sides, four of 4 1/2 joined for top and bottom.
    assert_eq!(stripe.length.exact, 60.5 + 4.0 * 4.5);
    let strips: Vec<_> = stripe.strips.iter().map(|strip| (strip.strips.value, strip.width.value())).collect();
    assert_eq!(strips, [(1.0, 60.5), (4.0, 4.5)]);
}

#[test]
fn a_cloth_that_is_not_used_is_noted() {
    let found = findings(&grid(1, 1, "half", "[cloth.spare]\ncolour = \"#ffffff\"\n"));
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!((found[0].spot.to_string().as_str(), found[0].reason.as_str()), ("cloth spare", "no piece is cut from it"));
}

#[test]
fn a_piece_wider_than_the_cloth_stops_the_work() {
    let narrow = "[cloth.ribbon]\ncolour = \"#ffffff\"\nwidth = \"9\"\n[[place]]\nat = \"A1\"\nswap = { red = \"ribbon\" }\n";
    let found = findings(&grid(2, 1, "half", narrow));
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(found[0].grade, seamfall_model::Grade::Stop);
    assert_eq!(found[0].reason, "a piece cut 12 7/8 in x 12 7/8 in is wider than its usable width: 9 in");
}

#[test]
fn narrow_strips_are_warned_of_once() {
    let band = |width: &str| findings(&grid(2, 1, "half", &format!("[[band]]\nwidth = \"{width}\"\ncloth = \"blue\"\n")));
    assert_eq!(band("1/2"), []);
    let found = band("3/8");
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!((found[0].spot.to_string().as_str(), found[0].grade), ("band 1", seamfall_model::Grade::Warn));
}

/// 30 cm, 0.75 cm allowance: 30 + 3.4142 · 0.75 = 32.5607, up to 32.6; three squares to 107 cm; one strip, bought by the tenth of a metre.
#[test]
fn centimetres_are_bought_by_the_tenth_of_a_metre() {
    let text = "format = 1\nname = \"Test\"\nmeasure = \"cm\"\n[cloth.red]\ncolour = \"#aa3333\"\n[block.a]\nshape = \"square\"\nsize = \"30\"\n\
                seams = [[0, 0, 30, 30]]\npatches = { red = [[10, 20], [20, 10]] }\n\
                [setting]\nlayout = \"straight\"\ncolumns = 2\nrows = 1\npattern = [[\"a\"]]\n";
    let quilt = read(text).expect("a whole quilt");
    let cutting = crate::plan(&quilt).cutting;
    let [piece] = cutting.pieces.as_slice() else { panic!("one kind of piece: {:?}", cutting.pieces) };
    assert!((piece.width.value - 32.6).abs() < 1e-9, "{}", piece.width.value);
    assert_eq!((piece.needed, piece.cut), (4, 2));
    assert_eq!(cutting.cloths[0].shown(&quilt), "0.4 m");
}
