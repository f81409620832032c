//! Tests of reading: what reads, what is wrong, and how it is said.

use super::super::starter::read_starter;
use super::super::starter_list::STARTER;
use super::super::*;
use crate::*;

/// The example of the documentation.
pub(super) fn page() -> String {
    let page = include_str!("../../../../../docs/quilt-file.md");
    let toml = page.split("```toml\n").nth(1).and_then(|rest| rest.split("```").next());
    toml.expect("the page opens with an example").to_owned()
}

/// A small quilt that reads, with `extra` put in front of its setting.
pub(super) fn with(extra: &str) -> String {
    format!(
        r##"format = 1
name = "Small"
measure = "inch"
[cloth.night]
colour = "#22304f"
[cloth.linen]
colour = "#eee8dc"
[block.plain]
shape = "square"
size = "12"
grid = 4
patches = {{ night = [[1, 1]] }}
{extra}
[setting]
layout = "straight"
columns = 2
rows = 2
pattern = [["plain"]]
"##
    )
}

/// The problems of a file, one a line, as a terminal would have them.
pub(super) fn problems(text: &str) -> String {
    let error = read(text).expect_err("this file has problems");
    let line = |p: &Problem| {
        let help = p.help.as_ref().map_or(String::new(), |help| format!(" | {help}"));
        format!("{}:{} {}{help}\n", p.line, p.column, p.reason)
    };
    error.problems.iter().map(line).collect()
}

#[test]
fn the_page_of_the_format_shows_a_file_that_reads() {
    let text = page();
    let quilt = read(&text).unwrap_or_else(|error| panic!("{error}\n{}", problems(&text)));
    assert_eq!(quilt.setting.places.len(), 5);
    assert_eq!(quilt.blocks[1].starter.as_deref(), Some("churn-dash"));
    assert_eq!(quilt.setting.places[1][2].turns, 1);
}

#[test]
fn every_starter_block_reads() {
    for (key, text) in STARTER {
        if let Err(error) = read_starter(key, text) {
            panic!("{key}: {:#?}", error.problems);
        }
    }
    assert_eq!(starter_blocks().len(), STARTER.len());
}

#[test]
fn the_list_of_starter_blocks_is_the_folder() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/starter");
    let names = std::fs::read_dir(folder).expect("the folder is there").filter_map(Result::ok);
    let mut files: Vec<_> = names.map(|entry| entry.file_name().to_string_lossy().replace(".toml", "")).collect();
    files.sort();
    let listed: Vec<_> = STARTER.iter().map(|(key, _)| *key).collect();
    assert_eq!(listed, files);
}

/// What is wrong, line by line, in a file with one of most kinds of slip.
#[test]
fn every_slip_is_found_at_once() {
    let text = r##"format = 2
name = ""
measure = "inch"
seam = "2"
step = "1/4"

[cloth.Night]
colour = "blue"
colr = "#223344"
[cloth.linen]
colour = "#eee8dc"
width = "6,5"

[block.lantern]
shape = "square"
size = "-12"
grid = 0
seams = [[0, 0, 1], [0, 0, 0, 0], { arc = [1, 0, 0, 2], centre = [0, 0] }, [0, 0, nan, 4]]
patches = { linen = [[1, 1], [1]], glow = [[2, 2]] }
cloths = { glwo = "linen" }
frame = "narow"
[block.tower]
shape = "rectangle"
size = "12"
[block.tile]
shape = "diamond"
size = "4"
[block.churn]
starter = "churn-dish"
size = "12"
seams = []

[frame.narrow]
strips = []

[setting]
layout = "straight"
columns = 2
rows = 0
pattern = [["lantrn"], []]
triangles = "linen"

[[place]]
at = "C1"
turn = 4
swap = { linen = "nigth" }

[[band]]
width = "300"
cloth = "linen"
corners = { square = "linen" }
"##;
    insta::assert_snapshot!(problems(text), @r"
    9:1 `colr` is not a key of a cloth | did you mean `colour`?
    51:13 `square` is not a key of corners with squares | did you mean `squares`?
    ");
    // Keys that are not known stop the reading; without them the rest is checked.
    let text = text.replace("colr = \"#223344\"\n", "").replace("corners = { square = \"linen\" }\n", "");
    insta::assert_snapshot!(problems(&text), @r##"
    1:10 format 2 is not known to this version, which reads format 1 | write `format = 1`, or use a newer version
    2:8 the name is empty | give it a name, or take the key away
    4:8 `seam` is 2 in, more than the most that is taken here, 1 in | make it 1 in or less
    5:8 `step` is not one of the steps of this measure | write "1/8" or "1/16"
    7:8 `Night` cannot be a key: up to 40 small letters, digits and hyphens can | write `night`; a `name` may hold whatever you like
    8:10 `blue` is not a colour | write it like "#22304f": red, green, blue
    11:9 `width`: `6,5` can be read in two ways | write it with a point, like `6.5`, or with its unit, like `6,5 cm`
    15:8 `size`: `-12` is no length that can be sewn | it must lie between 0 and 1,000 yd
    16:8 a grid has 1 to 240 divisions | 4 or 6 are usual; without a grid points are lengths
    17:10 seam 1 has 3 numbers, but two points or more need an even count | write it like [0, 2, 2, 4]: from 0, 2 to 2, 4
    17:21 seam 2 has two points in one place | take one of them away
    17:35 seam 3: the ends of the arc are not equally far from its centre, 1 in and 2 in | move the centre, or one of the ends
    17:76 NaN lies outside every block | numbers of a point lie between -1000 and 1000
    18:30 a point in a patch is two numbers | write it like [1, 3]
    18:36 part `glow` of block `lantern` has no cloth | add `glow = "CLOTH"` to its `cloths`
    19:12 block `lantern` has no part `glwo` | did you mean `glow`?
    20:9 there is no frame `narow` | did you mean `narrow`?
    23:8 a rectangle needs width and height | write it like "9 x 12"
    25:9 a diamond needs its `angle` | add `angle = 60`
    28:11 the starter set has no block `churn-dish` | did you mean `churn-dash`?
    30:9 a starter block brings its own `seams` | take it away, or take `starter` away and draw the block here
    33:10 frame `narrow` has no strips | add a strip: { width = "1", cloth = "CLOTH" }
    38:8 `rows` is 0, but must lie between 1 and 100
    39:13 there is no block `lantrn` | did you mean `lantern`?
    39:24 this line of the pattern is empty | name at least one block: pattern = [["BLOCK"]]
    40:13 `triangles` is only for layout `on-point` | take it away, or change the layout
    44:8 4 is no number of quarter turns | 0 leaves it, 1, 2 and 3 turn it to the left
    45:18 there is no cloth `nigth` | there is: `Night`, `linen`
    48:9 `width` is 300 in, more than the most that is taken here, 240 in | make it 240 in or less
    "##);
}

#[test]
fn unknown_keys_are_named_with_what_was_meant() {
    let extra = "[frame.thin]\ncorner = \"mitred\"\nstrips = [{ widht = \"1\", cloth = \"night\" }]\n";
    let text =
        with(extra).replace("size = \"12\"", "size = \"12\"\nseam = [[0, 0, 4, 4]]").replace("rows = 2", "rows = 2\nrow = 3");
    let text = format!("colour = 3\n{text}[sashing]\nwidth = \"2\"\nclot = \"night\"\n");
    insta::assert_snapshot!(problems(&text), @r"
    1:1 `colour` is not a key of the quilt file
    12:1 `seam` is not a key of a block | did you mean `seams`?
    16:1 `corner` is not a key of a frame | did you mean `corners`?
    17:13 `widht` is not a key of a strip | did you mean `width`?
    23:1 `row` is not a key of the setting | did you mean `rows`?
    27:1 `clot` is not a key of the sashing | did you mean `cloth`?
    ");
}

#[test]
fn wrong_kinds_are_said_in_plain_words() {
    let text = with("seams = [3, [0, 0, \"a\", 4]]")
        .replace("name = \"Small\"", "name = 3")
        .replace("\"inch\"", "\"inches\"")
        .replace("grid = 4", "grid = 4.5")
        .replace("size = \"12\"", "size = true")
        .replace("columns = 2", "columns = \"2\"");
    insta::assert_snapshot!(problems(&text), @r#"
    2:8 `name` cannot be `3` | it must be text in quotes
    3:11 `measure` cannot be `inches` | did you mean `inch`?
    10:8 `size` cannot be read: a length is text like "2 1/2" or a number
    11:8 `grid` cannot be read: a grid is a whole number like 4, or two like [3, 4]
    13:10 `seams` cannot be `3` | it must be a seam like [x, y, x, y] or { arc = [x, y, x, y], centre = [x, y] }
    13:20 `seams` cannot be the text "a" | it must be a number
    16:11 `columns` cannot be the text "2" | it must be a whole number
    "#);
    insta::assert_snapshot!(problems("format = 1\nname = \"x\nmeasure = \"inch\""), @r#"2:10 this is not TOML: invalid basic string, expected `"` | text stands between two straight quotes: name = "Night blue""#);
    insta::assert_snapshot!(problems("format = 1\nname = \"x\"\nname = \"y\""), @"3:1 this is not TOML: duplicate key | each key stands once; take one of them away");
    insta::assert_snapshot!(problems(""), @"1:1 the quilt file needs the key `format` | add `format = ...`");
    insta::assert_snapshot!(problems(&with("").replace("columns = 2\n", "").replace("colour = \"#22304f\"\n", "")), @"4:1 a cloth needs the key `colour` | add `colour = ...`");
    insta::assert_snapshot!(problems(&with("").replace("columns = 2\n", "")), @"14:1 the setting needs the key `columns` | add `columns = 4`, or however many you want");
}

#[test]
fn shapes_stand_only_where_they_fit() {
    let with_tile = |layout: &str, shape: &str| {
        with(&format!("[block.tile]\n{shape}\n"))
            .replace("layout = \"straight\"", layout)
            .replace("[[\"plain\"]]", "[[\"plain\", \"tile\"]]")
            .replace("grid = 4\npatches = { night = [[1, 1]] }", "")
    };
    let on_point = "layout = \"on-point\"\ntriangles = \"night\"";
    let wide = "shape = \"rectangle\"\nsize = \"12 x 6\"";
    assert!(read(&with_tile("layout = \"straight\"", wide)).is_ok());
    insta::assert_snapshot!(problems(&with_tile(on_point, wide)), @"21:22 block `tile` is a rectangle, and only squares can stand on their corners so far | put another block here; its templates are made all the same as long as it is in the file");
    for shape in ["triangle", "right-triangle", "hexagon", "diamond"] {
        let tile = format!("shape = \"{shape}\"\nsize = \"12\"\n{}", if shape == "diamond" { "angle = 60" } else { "" });
        let said = problems(&with_tile("layout = \"straight\"", &tile));
        assert!(said.contains("only squares and rectangles can stand in rows"), "{said}");
    }
    insta::assert_snapshot!(problems(&with("").replace("\"straight\"", "\"on-point\"")), @r#"14:1 a setting on point needs a cloth for its side and corner triangles | add `triangles = "CLOTH"` to the setting"#);
}

/// The pattern of the page: on point, two lines go to the longer rows and to those between.
#[test]
fn patterns_repeat_over_the_places() {
    let rows = |setting: &str| {
        let text = with("[block.other]\nshape = \"square\"\nsize = \"12\"\n");
        let start = text.find("[setting]").expect("it has a setting");
        let quilt = read(&format!("{}[setting]\n{setting}", &text[..start])).unwrap_or_else(|error| panic!("{error}"));
        let letters = |row: &Vec<Place>| row.iter().map(|place| if place.block.0 == 0 { 'p' } else { 'o' }).collect::<String>();
        quilt.setting.places.iter().map(letters).collect::<Vec<_>>().join(" ")
    };
    let pattern = "pattern = [[\"plain\", \"other\"], [\"other\"]]";
    assert_eq!(rows(&format!("layout = \"straight\"\ncolumns = 3\nrows = 3\n{pattern}")), "pop ooo pop");
    let on_point = format!("layout = \"on-point\"\ntriangles = \"night\"\ncolumns = 3\nrows = 3\n{pattern}");
    assert_eq!(rows(&on_point), "pop oo pop oo pop");
    assert_eq!(rows(&format!("layout = \"rows\"\n{pattern}")), "po o");
}

#[test]
fn frames_come_from_the_place_then_the_block_then_the_setting() {
    let frames = "[frame.thin]\nstrips = [{ width = \"1\", cloth = \"night\" }]\n[frame.wide]\nstrips = [{ width = \"2\", cloth = \"night\" }]\n";
    let text = with(&format!("[block.own]\nshape = \"square\"\nsize = \"12\"\nframe = \"wide\"\n{frames}"))
        .replace("[[\"plain\"]]", "[[\"plain\", \"own\"]]\nframe = \"thin\"")
        + "[[place]]\nat = \"B1\"\nframe = \"none\"\n[[place]]\nat = \"B2\"\nframe = \"thin\"\n";
    let quilt = read(&text).unwrap_or_else(|error| panic!("{error}"));
    let frame = |row: usize, number: usize| quilt.setting.places[row][number].frame;
    let (thin, wide) = (FrameChoice::Framed(FrameId(0)), FrameChoice::Framed(FrameId(1)));
    assert_eq!([frame(0, 0), frame(0, 1), frame(1, 0), frame(1, 1)], [thin, wide, FrameChoice::Bare, thin]);
}

/// A point on a leaning axis is as far from the origin as its number says; the arc about it is round only in the plane.
#[test]
fn arcs_are_measured_in_the_plane() {
    let block = |shape: &str, arc: &str| {
        with(&format!(
            "[block.tile]\nshape = \"{shape}\"\nsize = \"4\"\ngrid = 4\nseams = [{arc}]\npatches = {{ night = [[1, 1]] }}\n"
        ))
    };
    // In a triangle (2,0), (0,2) are both 2 from the corner; (2,2) is 2√3 away, since the axes lean at 60 degrees.
    assert!(read(&block("triangle", "{ arc = [2, 0, 0, 2], centre = [0, 0] }")).is_ok());
    insta::assert_snapshot!(problems(&block("triangle", "{ arc = [2, 0, 2, 2], centre = [0, 0] }")), @"17:10 seam 1: the ends of the arc are not equally far from its centre, 2 in and 3.4641 in | move the centre, or one of the ends");
    // On the grid of a square (2,2) would be 2√2 away.
    insta::assert_snapshot!(problems(&block("square", "{ arc = [2, 0, 2, 2], centre = [0, 0] }")), @"17:10 seam 1: the ends of the arc are not equally far from its centre, 2 in and 2.8284 in | move the centre, or one of the ends");
    assert!(read(&block("square", "{ arc = [2.828427, 0, 2, 2], centre = [0, 0] }")).is_ok());
    insta::assert_snapshot!(problems(&block("square", "{ arc = [2, 0, 2, 0], centre = [0, 0] }")), @"17:10 seam 1: the arc ends where it starts | draw a full circle as two halves");
}

#[test]
fn outlines_close() {
    let overlay = |outline: &str| {
        with("").replace("patches =", &format!("overlay = [{{ part = \"linen\", outline = [{outline}] }}]\npatches ="))
    };
    let drop = "[1, 1, 3, 1], { arc = [3, 1, 1, 1], centre = [2, 1] }";
    let quilt = read(&overlay(drop)).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(quilt.blocks[0].overlays[0].turn_under, Length::new(3.0 / 16.0));
    insta::assert_snapshot!(problems(&overlay("[1, 1, 3, 1], [3, 1, 3, 3]")), @"12:40 the outline is not closed: piece 2 ends where piece 1 does not start | let each piece start where the one before ends");
    insta::assert_snapshot!(problems(&overlay("")), @"12:40 the outline is empty | give it lines or arcs that go all the way round");
}

#[test]
fn starter_blocks_come_in_the_size_that_is_wanted() {
    let text = with("[block.churn]\nstarter = \"churn-dash\"\nsize = \"9\"\ncloths = { light = \"linen\", dark = \"night\" }\n");
    let churn = &read(&text).unwrap_or_else(|error| panic!("{error}")).blocks[1];
    assert_eq!(churn.shape, Shape::Square { side: Length::new(9.0) });
    assert_eq!((churn.key.as_str(), churn.starter.as_deref()), ("churn", Some("churn-dash")));
    let design = starter_blocks().iter().find(|block| block.key == "churn-dash").expect("it is in the set");
    assert_eq!((&churn.seams, &churn.marks, &churn.name), (&design.seams, &design.marks, &design.name));
    let text = with("[block.churn]\nstarter = \"churn-dash\"\nsize = \"9\"\ngrid = 3\n");
    insta::assert_snapshot!(problems(&text), @r#"
    14:11 part `light` of block `churn` has no cloth | add `light = "CLOTH"` to its `cloths`
    14:11 part `dark` of block `churn` has no cloth | add `dark = "CLOTH"` to its `cloths`
    16:8 a starter block brings its own `grid` | take it away, or take `starter` away and draw the block here
    "#);
}

/// Thirds of the way from black to white, by the weights of ITU-R BT.601: 0.299, 0.587, 0.114.
#[test]
fn values_follow_from_colours() {
    let (light, medium, dark) = (Value::Light, Value::Medium, Value::Dark);
    for (colour, value) in [
        ("#ffffff", light),
        ("#000000", dark),
        ("#808080", medium),
        // 0.299 × 255 = 76, just below a third; 0.587 × 255 = 150; 0.886 × 255 = 226.
        ("#ff0000", dark),
        ("#00ff00", medium),
        ("#ffff00", light),
        ("#0000ff", dark),
    ] {
        let quilt = read(&with("").replace("#eee8dc", colour)).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(quilt.cloths[1].value, value, "{colour}");
    }
}

#[test]
fn what_is_beyond_the_limits_is_refused() {
    let said = |text: &str| problems(text).lines().take(3).collect::<Vec<_>>().join("\n");
    let huge = format!("# {}\n{}", "x".repeat(50_000_000), with(""));
    insta::assert_snapshot!(said(&huge), @"1:1 the file has 50000269 bytes, more than the 2097152 that the quilt file may have | it holds what was decided or sewn and no pictures; see whether this is the right file");
    let seams = format!("seams = [{}]", "[0,0,1,1],".repeat(100_000));
    insta::assert_snapshot!(said(&with(&seams)), @"13:9 there are 100000 seams, more than the 2000 that can be planned");
    let polyline = format!("seams = [[{}0,0]]", "0,0,1,1,".repeat(50_000));
    insta::assert_snapshot!(said(&with(&polyline)), @"13:9 there are 100000 seams, more than the 2000 that can be planned");
    let bad = format!("seams = [{}]", "\"a\",".repeat(100_000));
    assert!(said(&with(&bad)).contains("`seams` cannot be the text \"a\""));
    let wrong = format!("seams = [{}]", "[nan,0,0],".repeat(2_000));
    assert_eq!(read(&with(&wrong)).expect_err("no seam is one").problems.len(), 100);
    let deep = format!("{}{}", "[".repeat(100_000), "]".repeat(100_000));
    assert!(said(&format!("x = {deep}")).contains("this is not TOML"));
    let bands = "[[band]]\nwidth = \"1\"\ncloth = \"night\"\n".repeat(13);
    insta::assert_snapshot!(said(&format!("{}{bands}", with(""))), @"56:9 there are 13 bands, more than the 12 that can be planned");
    let many: String = (0..201).map(|i| format!("[cloth.c{i}]\ncolour = \"#000000\"\n")).collect();
    insta::assert_snapshot!(said(&with(&many)), @"409:8 there are 203 cloths, more than the 200 that can be planned");
    for (from, to) in [("rows = 2", "rows = 101"), ("rows = 2", "rows = -1"), ("columns = 2", "columns = 9223372036854775807")] {
        assert!(said(&with("").replace(from, to)).contains("must lie between 1 and 100"), "{to}");
    }
    for size in ["nan", "inf", "-3", "1e300", "0", "241", "0.01"] {
        assert!(read(&with("").replace("size = \"12\"", &format!("size = {size}"))).is_err(), "{size}");
    }
    for point in ["[nan, 1]", "[inf, 1]", "[1, 1e9]", "[1]", "[1, 2, 3]"] {
        assert!(read(&with("").replace("[1, 1]", point)).is_err(), "{point}");
    }
}

#[test]
fn lines_and_columns_count_as_people_do() {
    let text =
        with("").replace("name = \"Small\"", "name = \"Kühl\" # ½").replace("colour = \"#eee8dc\"", "colour =    \"ünreal\"");
    let error = read(&text).expect_err("it is no colour");
    assert_eq!((error.problems[0].line, error.problems[0].column), (7, 13));
    assert_eq!(&text[error.problems[0].span.clone()], "\"ünreal\"");
}

#[test]
fn the_report_shows_the_line_and_the_help() {
    let text = with("").replace("colour = \"#eee8dc\"", "colour = \"#eee\"");
    let error = read(&text).expect_err("it is no colour");
    let handler = miette::NarratableReportHandler::new();
    let mut shown = String::new();
    handler.render_report(&mut shown, error.report("small.quilt.toml", &text).as_ref()).expect("text can be written");
    for part in ["`#eee` is not a colour", "small.quilt.toml", "colour = \"#eee\"", "write it like"] {
        assert!(shown.contains(part), "{part} in {shown}");
    }
}

/// The schema is held against files that read, by an independent library: it must take them, and refuse what is unknown.
#[test]
fn the_schema_takes_what_reads_and_refuses_unknown_keys() {
    let schema: serde_json::Value = serde_json::from_str(&json_schema()).expect("the schema is JSON");
    let check = jsonschema::validator_for(&schema).expect("the schema is a schema");
    let json = |text: &str| serde_json::to_value(toml::from_str::<toml::Table>(text).expect("it is TOML")).expect("it is JSON");
    for text in [
        page(),
        page().replace("pressings = 2", "pressings = \"own\""),
        with(""),
        with("[block.b]\nstarter = \"churn-dash\"\nsize = 9\ncloths = { light = \"linen\", dark = \"night\" }\n"),
    ] {
        let errors: Vec<_> = check.iter_errors(&json(&text)).map(|error| error.to_string()).collect();
        assert_eq!(errors, Vec::<String>::new(), "{text}");
        assert!(read(&text).is_ok());
    }
    for (from, to) in [
        ("format = 1", "format = 2"),
        ("name = \"Small\"", "nam = \"Small\""),
        ("colour = \"#22304f\"", "colour = \"blue\""),
        ("[cloth.night]", "[cloth.Night]"),
        ("size = \"12\"", "size = true"),
        ("layout = \"straight\"", "layout = \"crooked\""),
        ("[cloth.night]", "pressings = 5\n[cloth.night]"),
        ("[cloth.night]", "pressings = \"owned\"\n[cloth.night]"),
        ("[setting]", "[[fall]]\nbetween = [\"A1\", \"A2\", \"B1\"]\nto = \"A1\"\n[setting]"),
        ("[setting]", "[[fall]]\nbetween = [\"A1\", \"A2\"]\n[setting]"),
        ("[setting]", "[[way]]\nof = \"plain.p01\"\nuse = \"two\"\n[setting]"),
        ("[setting]", "[[way]]\nof = \"plain.p1\"\nuse = \"three\"\n[setting]"),
    ] {
        assert!(!check.is_valid(&json(&with("").replace(from, to))), "{to}");
    }
}
