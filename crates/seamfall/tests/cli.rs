//! The commands as a new user runs them: what they print, what they write, and with which code they end.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn seamfall(folder: &Path, words: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_seamfall"))
        .args(words)
        .current_dir(folder)
        .env("NO_COLOR", "1")
        .output()
        .expect("the command was built with this test")
}

fn demo(name: &str) -> String {
    let path: PathBuf = [env!("CARGO_MANIFEST_DIR"), "../../quilts", name].iter().collect();
    path.display().to_string()
}

fn out(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned()
}

fn err(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

#[test]
fn a_new_quilt_can_be_planned_at_once() {
    let folder = tempfile::tempdir().expect("a folder");
    for (file, more, size) in [("inch.quilt.toml", None, "56 x 68 in"), ("cm.quilt.toml", Some("--cm"), "140 x 170 cm")] {
        let mut words = vec!["new", file, "--name", "Tom \"the\" cat"];
        words.extend(more);
        assert_eq!(seamfall(folder.path(), &words).status.code(), Some(0));
        let planned = seamfall(folder.path(), &["plan", file]);
        assert_eq!(planned.status.code(), Some(0), "{}", err(&planned));
        assert!(out(&planned).starts_with("Tom \"the\" cat\n"), "{}", out(&planned));
        assert!(out(&planned).contains(&format!("finished {size}")), "{}", out(&planned));
    }
}

#[test]
fn a_quilt_is_begun_from_a_bed_and_a_block() {
    let folder = tempfile::tempdir().expect("a folder");
    let begun = seamfall(folder.path(), &["new", "bed.quilt.toml", "--bed", "us twin", "--block", "ohio-star"]);
    assert_eq!(begun.status.code(), Some(0), "{}", err(&begun));
    let checked = seamfall(folder.path(), &["check", "bed.quilt.toml"]);
    assert_eq!(checked.status.code(), Some(0), "{}", out(&checked));
    for (words, said) in [(["--bed", "us twn"], "us twn"), (["--block", "hexagon"], "no square starter block `hexagon`")] {
        let refused = seamfall(folder.path(), &["new", "other.quilt.toml", words[0], words[1]]);
        assert_eq!(refused.status.code(), Some(2), "{}", err(&refused));
        assert!(err(&refused).contains(said), "{}", err(&refused));
        assert!(!folder.path().join("other.quilt.toml").exists());
    }
}

#[test]
fn new_never_writes_over_a_file() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("mine.quilt.toml");
    fs::write(&file, "precious").expect("it can be written");
    let again = seamfall(folder.path(), &["new", "mine.quilt.toml"]);
    assert_eq!(again.status.code(), Some(4));
    assert_eq!(fs::read_to_string(&file).expect("still there"), "precious");
}

#[test]
fn an_unknown_key_is_told_with_its_place_and_a_suggestion() {
    let folder = tempfile::tempdir().expect("a folder");
    seamfall(folder.path(), &["new", "a.quilt.toml"]);
    let file = folder.path().join("a.quilt.toml");
    let text = fs::read_to_string(&file).expect("it is there");
    let line = text.lines().position(|line| line.starts_with("colour")).expect("a cloth has a colour") + 1;
    fs::write(&file, text.replacen("colour", "colur", 1)).expect("it can be written");
    let checked = seamfall(folder.path(), &["check", "a.quilt.toml"]);
    assert_eq!(checked.status.code(), Some(3));
    let said = err(&checked);
    assert!(said.contains("`colur` is not a key of a cloth"), "{said}");
    assert!(said.contains("did you mean `colour`?"), "{said}");
    assert!(said.contains(&format!("a.quilt.toml:{line}:1")), "{said}");
    assert_eq!(out(&checked), "", "results alone go to standard output");
}

#[test]
fn a_finding_that_stops_the_work_gives_its_own_exit_code() {
    let folder = tempfile::tempdir().expect("a folder");
    seamfall(folder.path(), &["new", "a.quilt.toml"]);
    let file = folder.path().join("a.quilt.toml");
    let text = fs::read_to_string(&file).expect("it is there");
    fs::write(&file, text.replacen("[setting]", "[block.lost]\nshape = \"square\"\nsize = \"12\"\ngrid = 4\nseams = [[0, 2, 3, 2]]\npatches = { sailcloth = [[1, 1]] }\n\n[setting]", 1))
        .expect("it can be written");
    let checked = seamfall(folder.path(), &["check", "a.quilt.toml"]);
    assert_eq!(checked.status.code(), Some(1), "{}{}", out(&checked), err(&checked));
    assert!(out(&checked).contains("stop  block lost, seam 1: "), "{}", out(&checked));
    assert!(out(&checked).contains("\n      help: "), "{}", out(&checked));
}

#[test]
fn files_that_are_no_quilt_are_refused() {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("picture.quilt.toml"), [0xff, 0xd8, 0xff, 0xe0]).expect("it can be written");
    fs::write(folder.path().join("huge.quilt.toml"), vec![b'#'; 3 << 20]).expect("it can be written");
    for (file, reason) in [
        ("nowhere.quilt.toml", "cannot be read"),
        ("picture.quilt.toml", "it is not UTF-8 text"),
        ("huge.quilt.toml", "it is larger than 2 MiB"),
    ] {
        let checked = seamfall(folder.path(), &["check", file]);
        assert_eq!(checked.status.code(), Some(3), "{file}");
        assert!(err(&checked).contains(reason), "{}", err(&checked));
    }
}

#[test]
fn every_demo_quilt_is_planned_drawn_and_checked_without_a_stop() {
    let folder = tempfile::tempdir().expect("a folder");
    // Eight arcs of an orange peel meet in its middle and none runs on: whichever two are sewn through bend there.
    let bend = "note  block pebbles: sewing it takes 1 set-in corner; no order has fewer\n";
    // Frames and bands that meet at the corners of four sections lie many layers thick there.
    let balks = |crossings: u32| {
        format!(
            "note  joins: the machine may balk at {crossings} crossings of joins\n      help: the steps say where, and leave the ends of earlier joins free there\n"
        )
    };
    let nothing = "nothing to say against it\n".to_owned();
    for (name, said) in
        [("tide-pool", bend.to_owned()), ("lamplight", balks(20)), ("hill-farm", nothing), ("market-rows", balks(2))]
    {
        let file = demo(&format!("{name}.quilt.toml"));
        let checked = seamfall(folder.path(), &["check", &file]);
        assert_eq!((checked.status.code(), out(&checked)), (Some(0), said), "{name}");
        let planned = seamfall(folder.path(), &["plan", &file, "--json"]);
        let json: serde_json::Value = serde_json::from_str(&out(&planned)).expect("the plan is JSON");
        assert_eq!(json["format"], 1, "{name}");
        let drawn = folder.path().join(format!("{name}.svg"));
        let drawing = seamfall(folder.path(), &["draw", &file, "-o", &drawn.display().to_string()]);
        assert_eq!(drawing.status.code(), Some(0), "{}", err(&drawing));
        assert!(fs::read_to_string(&drawn).expect("it was written").starts_with("<svg"), "{name}");
    }
}

#[test]
fn the_book_is_written_beside_the_quilt() {
    let folder = tempfile::tempdir().expect("a folder");
    seamfall(folder.path(), &["new", "harbour.quilt.toml"]);
    let printed = seamfall(folder.path(), &["book", "harbour.quilt.toml", "--paper", "a4", "--marking", "both"]);
    assert_eq!((printed.status.code(), out(&printed).trim()), (Some(0), "harbour.pdf"), "{}", err(&printed));
    assert!(fs::read(folder.path().join("harbour.pdf")).expect("it was written").starts_with(b"%PDF-"));
    let nowhere = seamfall(folder.path(), &["book", "harbour.quilt.toml", "-o", "no/such/folder/b.pdf"]);
    assert_eq!(nowhere.status.code(), Some(4));
}

#[test]
fn a_block_that_is_not_there_is_answered_with_those_that_are() {
    let folder = tempfile::tempdir().expect("a folder");
    seamfall(folder.path(), &["new", "a.quilt.toml"]);
    let asked = seamfall(folder.path(), &["draw", "a.quilt.toml", "templates", "--block", "frist"]);
    assert_eq!(asked.status.code(), Some(2));
    assert!(err(&asked).contains("this quilt has: first"), "{}", err(&asked));
    let drawn = seamfall(folder.path(), &["draw", "a.quilt.toml", "templates", "--block", "first"]);
    assert_eq!(out(&drawn).trim(), "a.first.dxf", "{}", err(&drawn));
}

/// A quilt file with one design, drawn section by section; a section that is not there is answered with those that are.
#[test]
fn quilting_is_drawn_as_svg_and_dxf() {
    let folder = tempfile::tempdir().expect("a folder");
    let queen = demo("lamplight.quilt.toml");
    fs::copy(&queen, folder.path().join("q.quilt.toml")).expect("the demo is there");
    for (arguments, file, starts) in [
        (&["draw", "q.quilt.toml", "quilting"][..], "q.quilting.svg", "<svg"),
        (&["draw", "q.quilt.toml", "section", "--section", "s7"], "q.S7.svg", "<svg"),
        (&["draw", "q.quilt.toml", "section", "--section", "S7", "--mirrored"], "q.S7.mirrored.svg", "<svg"),
        (&["draw", "q.quilt.toml", "lines", "--section", "S7"], "q.S7.dxf", "  0"),
    ] {
        let drawn = seamfall(folder.path(), arguments);
        assert_eq!((drawn.status.code(), out(&drawn).trim()), (Some(0), file), "{}", err(&drawn));
        let text = fs::read_to_string(folder.path().join(file)).expect("it was written");
        assert!(text.starts_with(starts), "{file} begins with {:?}", &text[..20]);
    }
    for (arguments, said) in [
        (&["draw", "q.quilt.toml", "lines"][..], "say which section, with `--section`"),
        (&["draw", "q.quilt.toml", "lines", "--section", "S99"], "there is no section `S99`"),
    ] {
        let asked = seamfall(folder.path(), arguments);
        assert_eq!(asked.status.code(), Some(2));
        assert!(err(&asked).contains(said) && err(&asked).contains("S1, S2"), "{}", err(&asked));
    }
}

/// Two bars of 2 1/2 x 40 1/8 in lie side by side in cloth of 40 in: no layout is shorter than one of them.
#[test]
fn a_list_is_cut_with_its_bound() {
    let folder = tempfile::tempdir().expect("a folder");
    let list = r#"{"name": "Bars", "unit": "in", "strip_width": 40,
        "pieces": [{"id": "bar", "w": 2.5, "h": 40.125, "count": 2, "rotate": false}]}"#;
    fs::write(folder.path().join("bars.json"), list).expect("it can be written");
    let cut = seamfall(folder.path(), &["cut", "bars.json"]);
    assert_eq!(cut.status.code(), Some(0), "{}", err(&cut));
    for words in ["Bars\n", "length 40.125 in of cloth 40 in wide", "proven: nothing shorter exists", "2 of bar (2.5 x 40.125)"] {
        assert!(out(&cut).contains(words), "{}", out(&cut));
    }
    let json = seamfall(folder.path(), &["cut", "bars.json", "--json", "--stages", "2"]);
    let json: serde_json::Value = serde_json::from_str(&out(&json)).expect("the layout is JSON");
    assert_eq!((json["length"].as_f64(), json["placements"].as_array().map(Vec::len)), (Some(40.125), Some(2)));
    for (list, said) in [
        (list.replace("40.125", "NaN"), "not NaN"),
        (list.replace("\"w\": 2.5", "\"w\": 41"), "`bar`"),
        (list.replace("\"count\": 2", "\"count\": 0"), "`bar`"),
    ] {
        fs::write(folder.path().join("bad.json"), list).expect("it can be written");
        let refused = seamfall(folder.path(), &["cut", "bad.json"]);
        assert_eq!(refused.status.code(), Some(3));
        assert!(err(&refused).contains(said), "{}", err(&refused));
    }
}

/// Twelve tumblers by turns need 12 x 4 1/4 + 3/4 in of the width, 120 of them ten strips of 5 1/2 in.
/// The cut list for a spreadsheet, and how every cloth is cut; a list that is no quilt has no cut list.
#[test]
fn a_quilt_is_cut_cloth_by_cloth() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::copy(demo("tide-pool") + ".quilt.toml", folder.path().join("pool.quilt.toml")).unwrap();
    let cut = seamfall(folder.path(), &["cut", "pool.quilt.toml"]);
    assert_eq!(cut.status.code(), Some(0), "{}", err(&cut));
    for words in ["Shallows: ", "no layout", "1.1 ", "left over: ", "Wool batting: 1 × crib package"] {
        assert!(out(&cut).contains(words), "{words}: {}", out(&cut));
    }
    let csv = seamfall(folder.path(), &["cut", "pool.quilt.toml", "--csv"]);
    let csv = out(&csv);
    let mut lines = csv.lines();
    assert_eq!(lines.next(), Some("material,piece,cut,sewn,how,size,width in,length in,for"));
    assert!(csv.contains("Wool batting,") && lines.count() > 20, "{csv}");
    std::fs::write(folder.path().join("list.json"), "{}").unwrap();
    assert_eq!(seamfall(folder.path(), &["cut", "list.json", "--csv"]).status.code(), Some(3));
}

#[test]
fn templates_are_nested_in_strips() {
    let folder = tempfile::tempdir().expect("a folder");
    let list = r#"{"name": "Tumblers", "unit": "in", "strip_width": 54, "items": [{"id": "tumbler",
        "polygon": [[0, 0], [5, 0], [4.25, 5.5], [0.75, 5.5]], "count": 120, "turns": [0, 180]}]}"#;
    fs::write(folder.path().join("tumblers.json"), list).expect("it can be written");
    let cut = seamfall(folder.path(), &["cut", "tumblers.json"]);
    assert_eq!(cut.status.code(), Some(0), "{}", err(&cut));
    let words =
        ["length 55 in of cloth 54 in wide", "94.4 %", "51.9444 in", "10 x 5.5", "6 of tumbler, 6 of tumbler turned by 180"];
    for words in words {
        assert!(out(&cut).contains(words), "{}", out(&cut));
    }
    let json = seamfall(folder.path(), &["cut", "tumblers.json", "--json"]);
    let json: serde_json::Value = serde_json::from_str(&out(&json)).expect("the layout is JSON");
    assert_eq!((json["length"].as_f64(), json["strips"][0]["times"].as_u64()), (Some(55.0), Some(10)));
    fs::write(folder.path().join("bad.json"), list.replace("[5, 0]", "[55, 0]")).expect("it can be written");
    let refused = seamfall(folder.path(), &["cut", "bad.json"]);
    assert_eq!(refused.status.code(), Some(3));
    assert!(err(&refused).contains("`tumbler`"), "{}", err(&refused));
}

/// A new quilt with a ledger beside it.
fn with_ledger(folder: &Path, ledger: &str) {
    seamfall(folder, &["new", "a.quilt.toml", "--name", "Small"]);
    fs::write(folder.join("a.ledger.toml"), ledger).expect("it can be written");
}

#[test]
fn the_ledger_beside_a_quilt_is_read_with_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let ledger =
        "format = 1\nquilt = \"Small\"\n[[section]]\nname = \"S2\"\nstate = \"quilted\"\nmeasured = [12.5, \"12 3/8\"]\n";
    with_ledger(folder.path(), ledger);
    let planned = seamfall(folder.path(), &["plan", "a.quilt.toml"]);
    assert!(out(&planned).contains(": 1 quilted, "), "{}", out(&planned));
    let json = out(&seamfall(folder.path(), &["plan", "a.quilt.toml", "--json"]));
    let plan: serde_json::Value = serde_json::from_str(&json).expect("it is JSON");
    assert_eq!(plan["sewn"]["sections"][1]["state"], "quilted");
    assert_eq!(plan["sewn"]["sections"][1]["measured"], serde_json::json!([12.5, 12.375, 12.5, 12.375]));
    assert_eq!(plan["sewn"]["sections"][0]["state"], "planned");
    for command in ["check", "book", "draw", "cut"] {
        let done = seamfall(folder.path(), &[command, "a.quilt.toml"]);
        assert_ne!(done.status.code(), Some(3), "{command}: {}", err(&done));
    }
}

#[test]
fn a_ledger_that_cannot_be_used_stops_every_command_with_its_place() {
    let folder = tempfile::tempdir().expect("a folder");
    let head = "format = 1\nquilt = \"Small\"\n";
    for (ledger, said) in [
        (format!("{head}[[section]]\nname = \"S1\"\nmeasured = 0\n"), "`measured` is 0 in"),
        (head.replace("Small", "Large"), "this is the ledger of `Large`"),
        (head.replace("format = 1", "format = 2"), "format 2 is not known"),
        (String::new(), "it is empty, though a ledger names its quilt"),
    ] {
        with_ledger(folder.path(), &ledger);
        for command in ["plan", "check", "book", "draw", "cut", "open"] {
            let refused = seamfall(folder.path(), &[command, "a.quilt.toml"]);
            assert_eq!(refused.status.code(), Some(3), "{command}");
            // A long sentence is broken beside a bar.
            let words = err(&refused).split_whitespace().filter(|word| *word != "│").collect::<Vec<_>>().join(" ");
            assert!(words.contains(said) && words.contains("a.ledger.toml"), "{command}: {words}");
        }
        assert_eq!(fs::read_to_string(folder.path().join("a.ledger.toml")).expect("it is there"), ledger);
    }
}

#[test]
fn sections_that_a_quilt_does_not_have_stop_the_check() {
    let folder = tempfile::tempdir().expect("a folder");
    with_ledger(folder.path(), "format = 1\nquilt = \"Small\"\n[[section]]\nname = \"S999\"\nstate = \"cut\"\n");
    let checked = seamfall(folder.path(), &["check", "a.quilt.toml"]);
    assert_eq!(checked.status.code(), Some(1));
    assert!(out(&checked).contains("stop  section S999: it is cut according to the ledger"), "{}", out(&checked));
}
