//! Quilt files of all kinds, for laws that hold of every one.

use proptest::prelude::*;
use seamfall_model::{Block, Shape, starter_blocks};

/// Blocks on a grid of four, with their parts: triangles of both kinds, squares, a shape without an axis, an arc.
const BLOCKS: [(&str, &str, &str); 5] = [
    ("half", "[[0, 0, 4, 4]]", "{ red = [[1, 3]], blue = [[3, 1]] }"),
    ("quarter", "[[0, 0, 4, 4], [0, 4, 4, 0]]", "{ red = [[2, 3.5], [2, 0.5]], blue = [[0.5, 2], [3.5, 2]] }"),
    ("squares", "[[2, 0, 2, 4], [0, 2, 2, 2]]", "{ red = [[1, 1], [3, 2]], blue = [[1, 3]] }"),
    ("arrow", "[[0, 0, 1, 4]]", "{ red = [[0.25, 3]], blue = [[3, 1]] }"),
    ("path", "[{ arc = [3, 0, 0, 3], centre = [0, 0] }]", "{ red = [[1, 1]], blue = [[3.5, 3.5]] }"),
];

/// A quilt file with a top of all that changes the cut list, and nothing besides.
pub fn any_top() -> impl Strategy<Value = String> {
    let layout = prop_oneof![
        Just("layout = \"straight\""),
        Just("layout = \"on-point\"\ntriangles = \"red\""),
        Just("layout = \"rows\"\nfiller = \"blue\"")
    ];
    let frame = prop_oneof![Just(""), Just("\"butted\""), Just("\"mitred\""), Just("{ squares = \"blue\" }")];
    let sashing = prop_oneof![
        Just(""),
        Just("\ncornerstones = \"blue\""),
        Just("\naround = true"),
        Just("\ncornerstones = \"blue\"\naround = true")
    ];
    let band = (3_u32..80, prop_oneof![Just("\"butted\""), Just("\"mitred\""), Just("{ squares = \"red\" }")]);
    (
        (prop_oneof![Just("inch"), Just("cm")], 16_u32..120, 1_usize..5, 1_usize..5, layout),
        (prop::collection::vec(0_usize..BLOCKS.len(), 1..4), frame, proptest::option::of((2_u32..30, sashing)), prop::collection::vec(band, 0..3)),
        (any::<bool>(), 0_u8..4, prop_oneof![Just("none"), Just("two-way"), Just("one-way")]),
    )
        .prop_map(|((measure, eighths, columns, rows, layout), (pattern, frame, sashing, bands), (mirror, turn, print))| {
            let length = |eighths: u32| f64::from(eighths) / 8.0;
            let mut text = format!(
                "format = 1\nname = \"Any\"\nmeasure = \"{measure}\"\n[cloth.red]\ncolour = \"#aa3333\"\nprint = \"{print}\"\n\
                 [cloth.blue]\ncolour = \"#3333aa\"\n"
            );
            for (key, seams, patches) in BLOCKS {
                text += &format!("[block.{key}]\nshape = \"square\"\nsize = \"{}\"\ngrid = 4\nseams = {seams}\npatches = {patches}\n", length(eighths));
            }
            let names: Vec<String> = pattern.iter().map(|&block| format!("\"{}\"", BLOCKS[block].0)).collect();
            if !frame.is_empty() {
                text += &format!("[frame.f]\ncorners = {frame}\nstrips = [{{ width = \"1\", cloth = \"red\" }}, {{ width = \"1.5\", cloth = \"blue\" }}]\n");
            }
            if layout.contains("rows") {
                // Rows of one height and different lengths, each in full.
                let row = |row: usize| (0..1 + (columns + row) % 4).map(|place| names[(row + place) % names.len()].as_str()).collect::<Vec<_>>();
                let rows: Vec<String> = (0..rows).map(|number| format!("[{}]", row(number).join(", "))).collect();
                text += &format!("[setting]\n{layout}\npattern = [{}]\n", rows.join(", "));
            } else {
                text += &format!("[setting]\n{layout}\ncolumns = {columns}\nrows = {rows}\npattern = [[{}]]\n", names.join(", "));
            }
            if !frame.is_empty() {
                text += "frame = \"f\"\n";
            }
            text += &format!("[[place]]\nat = \"A1\"\nmirror = {mirror}\nturn = {turn}\nswap = {{ red = \"blue\" }}\n");
            if let Some((width, rest)) = sashing {
                text += &format!("[sashing]\nwidth = \"{}\"\ncloth = \"red\"{rest}\n", length(width));
            }
            for (width, corners) in bands {
                text += &format!("[[band]]\nwidth = \"{}\"\ncloth = \"blue\"\ncorners = {corners}\n", length(width));
            }
            text
        })
}

/// Any of these, or nothing.
fn one_of(texts: &'static [&'static str]) -> impl Strategy<Value = &'static str> {
    (0..=texts.len()).prop_map(|number| texts.get(number).copied().unwrap_or_default())
}

const QUILTED: &[&str] = &[
    "on = \"half\"\ndesign = \"in-the-ditch\"",
    "on = \"path\"\ndesign = \"outline\"\ndistance = \"3/8\"",
    "on = \"quarter\"\ndesign = \"echo\"\ndistance = \"1/2\"\ncount = 3",
    "on = \"squares\"\ndesign = \"circle\"",
    "on = \"starter\"\ndesign = \"in-the-ditch\"",
    "on = \"starter\"\ndesign = \"leaf\"\nsize = \"2 x 1\"",
    "on = \"quilt\"\ndesign = \"parallel\"\nangle = 30\nspacing = \"3\"",
    "on = \"quilt\"\ndesign = \"crossed\"\nspacing = \"4\"",
    "on = \"quilt\"\ndesign = \"stippling\"\nspacing = \"3\"",
];

const EDGED: &[&str] = &[
    "[finish]\nedge = \"prairie-points\"\ncloth = \"red\"",
    "[finish]\nedge = \"scallops\"\nwidth = \"5\"\ndepth = \"1\"\n[binding]\ncloth = \"blue\"\non = \"bias\"",
    "[finish]\nedge = \"waves\"\nwidth = \"4\"\ndepth = \"1\"\n[binding]\ncloth = \"blue\"\non = \"bias\"",
    "[finish]\nedge = \"ruffle\"\ncloth = \"red\"",
    "[finish]\nedge = \"facing\"\ncloth = \"red\"",
    "[binding]\ncloth = \"red\"",
];

/// A bed, and how the cloth ends at the corners of its foot.
const HUNG: &[&str] = &[
    "[bed]\nstandard = \"us twin\"",
    "[bed]\nwidth = \"12 in\"\nlength = \"14 in\"\nheight = \"10 in\"\n[corners]\nshape = \"level\"",
    "[bed]\nwidth = \"12 in\"\nlength = \"14 in\"\nheight = \"10 in\"\n[corners]\nshape = \"straight\"",
    "[corners]\nshape = \"set-back\"",
];

const LAYERED: &[&str] = &[
    "[backing]\ncloth = \"blue\"",
    "[batting]\nname = \"Cotton\"\nroll = \"90\"\nprice = 12\npackages = [{ size = \"45 x 60\", name = \"crib\", price = 16 }]",
];

/// Starter blocks that can stand among the others.
fn square_starters() -> Vec<&'static Block> {
    starter_blocks().iter().filter(|block| matches!(block.shape, Shape::Square { .. })).collect()
}

/// A whole quilt file: a top, in which a starter block may stand, and what is quilted, joined and finished of it.
pub fn any_quilt() -> impl Strategy<Value = String> {
    let starter = prop::option::of(0..square_starters().len());
    let quilting = (prop::collection::vec(0..QUILTED.len(), 0..4), 4_u32..9, 0_u32..13);
    let words = (
        prop_oneof![Just(""), Just("pressings = 1\n"), Just("pressings = 3\n"), Just("pressings = \"own\"\n")],
        prop_oneof![Just(""), Just("largest-section = \"9\"\n"), Just("largest-section = \"40\"\n")],
        one_of(&["[join]\norder = \"rows\"", "[join]\norder = \"columns\"", "[join]\norder = \"halves\"\ncatch-batting = false"]),
    );
    (any_top(), starter, quilting, words, (one_of(EDGED), one_of(LAYERED), one_of(HUNG))).prop_map(
        |(top, starter, (quilting, margin, reach), (pressings, largest, join), (edge, layers, hung))| {
            let mut text = top.replacen("name = \"Any\"\n", &format!("name = \"Any\"\n{pressings}{largest}"), 1);
            let size = text.split_once("size = ").and_then(|(_, rest)| rest.split_once('\n')).map(|(size, _)| size.to_owned());
            let block = square_starters()[starter.unwrap_or_default()];
            let cloths = block
                .parts
                .iter()
                .zip(["red", "blue"].iter().cycle())
                .map(|(part, cloth)| format!("{} = \"{cloth}\"", part.name));
            let cloths = cloths.collect::<Vec<_>>().join(", ");
            text += &format!(
                "[block.starter]\nstarter = \"{}\"\nsize = {}\ncloths = {{ {cloths} }}\n",
                block.key,
                size.expect("every block has a size")
            );
            if starter.is_some() {
                text = text.replacen("pattern = [[", "pattern = [[\"starter\", ", 1);
            }
            for design in quilting {
                text += &format!("[[quilting]]\n{}\n", QUILTED[design]);
            }
            let inches = |eighths: u32| format!("{eighths}/8 in");
            text += &format!("[lap]\nmargin = \"{}\"\nreach = \"{}\"\n", inches(margin), inches(reach));
            text + &[join, edge, layers, hung].join("\n") + "\n"
        },
    )
}
