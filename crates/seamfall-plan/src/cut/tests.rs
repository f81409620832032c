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
    let staged = derive(&quilt, &plan.drafts, &plan.top, &plan.making, &plan.finish.pieces, Budget::FIRST);
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
            Way::Joined { .. } => "joined",
            Way::Mitred => "mitred",
            Way::Template { reversed: false, .. } => "template",
            Way::Template { reversed: true, .. } => "reversed",
        };
        let uses = piece.uses.iter().map(|each| match each {
            Use::Template { block, template, count } => format!("{} {template} x{count}", quilt.blocks[block.0].key),
            Use::Top { what, count, .. } | Use::Besides { what, count } => format!("{what} x{count}"),
        });
        let (needed, cut, cloth) = (piece.needed, piece.cut, piece.of.key(&quilt));
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
        let red = staged.result.pieces.iter().filter(|piece| piece.of == Material::Cloth(ClothId(0)));
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
    let joined = staged.result.pieces.iter().find_map(|piece| piece.joined.as_ref()).expect("it is joined");
    assert_eq!(joined.value, 4.0);
    assert_eq!(joined.numbers, "up((2 × 68.5 − 0.5) ÷ (42 − 0.5))");
    // 5 triangles from 3 squares of 12 7/8, three to a strip; 4 strips of 4 1/2; the sides, 12 1/2 long, both out of one strip.
    let blue = off_the_bolt(&staged.result, 1);
    assert_eq!((blue.needed.value, blue.length.value), (12.875 + 4.0 * 4.5 + 4.5, 36.0));
    // Three strips across the whole width, and of the fourth what is still wanted: 137 less three times 41 1/2.
    let kinds: Vec<_> = blue.job.kinds().iter().map(|kind| (kind.width, kind.height, kind.count)).collect();
    assert!(kinds.contains(&(42 * 8, 36, 3)) && kinds.contains(&(100, 36, 1)), "{kinds:?}");
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
    let stripe = off_the_bolt(&staged.result, 0);
    // One strip 60 1/2 high for both sides, four of 4 1/2 joined for top and bottom.
    assert_eq!(stripe.needed.value, 60.5 + 4.0 * 4.5);
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
    assert_eq!(cutting.bought[0].shown(&quilt), "0.4 m");
}

fn off_the_bolt(cutting: &Cutting, number: usize) -> &OffTheBolt {
    let Some(Laid::OffTheBolt(laid)) = &cutting.bought[number].laid else { panic!("it is cut off the bolt") };
    laid
}

/// A band round 60 x 12 in lies along the selvage in one piece: 68 1/2 long, four of 4 1/2 side by side.
#[test]
fn a_band_along_the_selvage_stays_in_one_piece() {
    let band = "[[band]]\nwidth = \"4\"\ncloth = \"stripe\"\ncut = \"along\"\n[cloth.stripe]\ncolour = \"#777777\"\n";
    let (_, staged) = cut(&format!("{LONG}{}", grid(5, 1, "half", band)));
    let piece = staged.result.pieces.iter().find(|piece| piece.of == Material::Cloth(ClothId(0)) && piece.length.value > 60.0);
    let piece = piece.expect("top and bottom are cut");
    assert_eq!((&piece.way, piece.grain, piece.joined.as_ref()), (&Way::Rectangle, Grain::Along, None));
    let laid = off_the_bolt(&staged.result, 0);
    let kind = laid.job.kinds().iter().find(|kind| kind.height > 400).expect("it lies along");
    assert_eq!((kind.width, kind.height, kind.turn), (36, 548, false));
    assert_eq!(laid.cutting.bound.length, 548);
}

/// Five sections of 12 in, cut 12 1/2: backing 2 in more, batting 1 1/2 in more (`lap.batting_square` of the check values says 14 in); a practice piece of each; binding.
const LAYERS: &str = "[backing]\ncloth = \"blue\"\n[batting]\nroll = \"45\"\nprice = 9\n\
                      [sample]\ncloth = \"red\"\nsize = \"14\"\n[binding]\ncloth = \"red\"\n[thread]\nspool = \"100 yd\"\nprice = 3.5\n";

#[test]
fn layers_binding_and_practice_pieces_are_cut() {
    let pieces = lines(&format!("largest-section = \"12\"\n{}", grid(5, 1, "half", LAYERS)));
    // Once round 60 x 12 and 12 in more.
    assert!(pieces.contains(&"red 1/1 joined 2 1/2 x 156: binding x1".to_owned()), "{pieces:?}");
    assert!(pieces.contains(&"red 1/1 rectangle 14 x 14: practice pieces x1".to_owned()), "{pieces:?}");
    assert!(pieces.contains(&"blue 5/5 rectangle 14 1/2 x 14 1/2: backing of the sections x5".to_owned()), "{pieces:?}");
    assert_eq!(pieces.last(), Some(&"batting 6/6 rectangle 14 x 14: batting of the sections x5; practice pieces x1".to_owned()));
}

/// Batting 45 in wide: three squares of 14 in across, two rows; 28 in are 7/8 yd at 9.00, 7.88. Seams: five diagonals of 12 √2 and four of 12
/// between the blocks, 132.85 in; two and a half times that 332 in; one spool.
#[test]
fn batting_and_thread_are_bought() {
    let (quilt, staged) = cut(&format!("largest-section = \"12\"\n{}", grid(5, 1, "half", LAYERS)));
    let cutting = staged.result;
    let batting = cutting.bought.last().expect("batting is bought");
    assert_eq!((batting.of, batting.shown(&quilt).as_str(), batting.price), (Material::Batting, "7/8 yd", Some(788)));
    let seams = 5.0 * 12.0 * std::f64::consts::SQRT_2 + 48.0;
    assert!((cutting.thread.seams.value - seams).abs() < 1e-9 && (cutting.thread.thread.value - 2.5 * seams).abs() < 1e-9);
    assert_eq!((cutting.thread.spools.as_ref().map(Working::count), cutting.thread.price), (Some(1), Some(350)));
    assert_eq!(cutting.price(), Some(788 + 350));
}

/// Packages and a roll: whichever costs less. 28 in off the roll cost 7.88; a package of 45 x 30 for 7 is cheaper, for 8 it is not.
#[test]
fn batting_is_bought_the_cheaper_way() {
    let bought = |price: u32| {
        let packages = format!("price = 9\npackages = [ {{ size = \"45 x 30\", name = \"crib\", price = {price} }} ]");
        let setting = grid(5, 1, "half", &LAYERS.replace("price = 9", &packages));
        let (quilt, staged) = cut(&format!("largest-section = \"12\"\n{setting}"));
        let batting = staged.result.bought.last().expect("batting is bought").clone();
        (batting.shown(&quilt), batting.instead)
    };
    assert_eq!(bought(7), ("1 × crib".to_owned(), Some("7/8 yd, 7.88".to_owned())));
    assert_eq!(bought(8), ("7/8 yd".to_owned(), Some("1 × crib, 8.00".to_owned())));
}

/// Three squares of 12 7/8 in: one out of each fat quarter of 20 x 18, and the two in hand of 14 x 27, which hold two each, come first.
#[test]
fn cloth_comes_in_sizes() {
    let red = |from: &str| {
        let plain = "[[way]]\nof = \"half.p1\"\nuse = \"plain\"\n";
        let sized = format!("[cloth.sized]\ncolour = \"#cccccc\"\nfrom = [{from}]\n");
        let swapped = (1..=6).map(|i| format!("[[place]]\nat = \"A{i}\"\nswap = {{ red = \"sized\" }}\n")).collect::<String>();
        let (quilt, staged) = cut(&grid(6, 1, "half", &format!("{plain}{sized}{swapped}")));
        let bought = staged.result.bought.iter().find(|bought| bought.of.name(&quilt) == "sized").expect("it is used").clone();
        (bought.shown(&quilt), bought.price, bought.offcuts(&quilt).len(), staged.findings)
    };
    let fat = "{ size = \"20 x 18\", name = \"fat quarter\", price = 3 }";
    assert_eq!(red(fat).0, "3 × fat quarter");
    assert_eq!((red(fat).1, red(fat).2 > 0), (Some(900), true));
    assert_eq!(red(&format!("{fat}, {{ size = \"14 x 27\", name = \"scrap\", count = 1 }}")).0, "1 × fat quarter, 1 × scrap");
    let (shown, _, _, findings) = red("{ size = \"14 x 14\", count = 2 }");
    assert_eq!(shown, "cannot be cut");
    assert!(findings.iter().any(|finding| finding.reason.contains("do not suffice")), "{findings:?}");
    let (_, _, _, findings) = red("{ size = \"12 x 27\" }");
    assert!(
        findings
            .iter()
            .any(|finding| finding.reason == "a piece cut 12 7/8 in x 12 7/8 in fits on none of the sizes it comes in"),
        "{findings:?}"
    );
}

/// `fabric.shrink.compose` of the check values: 90 in at 3 per cent are 92.783505 in, not 92.7. A reserve comes on top.
#[test]
fn wash_and_reserve_are_bought_on_top() {
    let buy = |shrinkage, reserve| {
        rules::length_to_buy("x", 90.0, seamfall_model::Shrinkage(shrinkage), Length::new(reserve), seamfall_model::Measure::Inch)
    };
    assert!((buy(30, 0.0).exact - 92.783_505).abs() < 1e-6);
    assert_eq!(
        buy(30, 4.5).line(),
        "x = needed ÷ (all − lost in the wash) + reserve = 90 ÷ (1 − 0.03) + 4.5 = 97.2835, up to 2 3/4 yd"
    );
    assert_eq!((buy(0, 0.0).value, buy(0, 1.0).value), (90.0, 94.5));
}

/// Quarter circles in the corners of a block: every piece lies in one block, inside it, and blocks hold as many as are cut.
#[test]
fn templates_lie_in_blocks() {
    let petals = "[block.petal]\nshape = \"square\"\nsize = \"6\"\ngrid = 6\nseams = [{ arc = [4, 0, 0, 4], centre = [0, 0] }]\n\
                  patches = { red = [[1, 1]], blue = [[5, 5]] }\n";
    for places in [1, 5, 37] {
        let (quilt, staged) = cut(&grid(places, 1, "petal", petals));
        let bought: Vec<ToBuy> =
            staged.result.bought.iter().map(|first| searched(&quilt, &staged.result, first, Budget::QUICK)).collect();
        assert!(staged.result.bought.iter().all(|first| first.is_first && first.nests.is_empty()));
        for bought in &bought {
            let Some(Laid::OffTheBolt(laid)) = &bought.laid else { panic!("it comes off the bolt") };
            let mut pieces = 0;
            for (kind, of) in laid.job.kinds().iter().zip(&bought.kinds) {
                let Part::Nest(block) = of.part else { panic!("all are cut by template: {kind:?}") };
                let nest = &bought.nests[block];
                pieces += nest.places.len() * kind.count as usize;
                let Way::Template { outline, .. } = &staged.result.pieces[of.piece].way else { panic!("by template") };
                for place in &nest.places {
                    let lies = outline.moved(*place).bounds();
                    assert!(lies.x0 > -1e-6 && lies.y0 > -1e-6 && lies.x1 < nest.width + 1e-6 && lies.y1 < nest.height + 1e-6);
                }
                assert!(f64::from(kind.width) / 8.0 >= nest.width - 1e-6 && f64::from(kind.height) / 8.0 >= nest.height - 1e-6);
                let of_pieces = outline.area() * nest.places.len() as f64;
                assert!((nest.density - of_pieces / (nest.width * nest.height)).abs() < 1e-9 && nest.density <= 1.0);
            }
            assert_eq!(pieces, places);
        }
    }
}

/// Strip sets and the binding of a cloth that comes in fat quarters are as long as these are wide.
#[test]
fn strips_across_are_as_long_as_the_sizes_are_wide() {
    let from = "from = [{ size = \"20 x 18\", name = \"fat quarter\" }]\n";
    let text = format!(
        "format = 1\nname = \"Test\"\nmeasure = \"inch\"\n[cloth.red]\ncolour = \"#aa3333\"\n{from}[cloth.blue]\ncolour = \"#3333aa\"\n{from}\
         [block.rail]\nshape = \"square\"\nsize = \"6\"\ngrid = 2\nseams = [[1, 0, 1, 2]]\npatches = {{ red = [[0.5, 1]], blue = [[1.5, 1]] }}\n\
         [setting]\nlayout = \"straight\"\ncolumns = 6\nrows = 3\npattern = [[\"rail\"]]\n[binding]\ncloth = \"red\"\n"
    );
    let plan = crate::plan(&read(&text).unwrap_or_else(|error| panic!("{error:?}\n{text}")));
    assert!(plan.findings.iter().all(|finding| finding.grade != seamfall_model::Grade::Stop), "{:?}", plan.findings);
    let set =
        plan.cutting.pieces.iter().find(|piece| piece.way == Way::Unit(MakingWay::StripSet)).expect("rails are made from sets");
    assert_eq!(set.length.value, 20.0);
    let binding = plan.cutting.pieces.iter().find_map(|piece| piece.joined.as_ref()).expect("the binding is joined");
    // Once round 36 x 18 and 12 in more, 2 1/2 in lost at each join: 120 in out of strips of 20.
    assert_eq!((binding.numbers.as_str(), binding.value), ("up((1 × 120 − 2.5) ÷ (20 − 2.5))", 7.0));
}

/// With two stages the proof is one about strips and sub-cuts, and says so.
#[test]
fn the_proof_says_what_it_is_about() {
    let said = |head: &str| {
        let (quilt, staged) = cut(&format!("{head}{}", grid(3, 1, "half", "")));
        crate::words::proof(&quilt, &staged.result.bought[0])
    };
    assert_eq!(said(""), "It takes 12 7/8 in; it is proven that no layout takes less.");
    assert_eq!(
        said("cutting-stages = 2\n"),
        "It takes 12 7/8 in; it is proven that no layout in strips and sub-cuts takes less."
    );
}
