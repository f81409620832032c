//! Mats and pictures, as other programs read them: `xtask/readers`.

use seamfall_model::{Print, Quilt};
use seamfall_plan::Plan;
use seamfall_plan::cut::Use;
use seamfall_plan::mats::{Mat, mats};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// A demo quilt, or the weir: rows in centimetres.
fn demo(name: &str) -> PathBuf {
    let folder = if name == "weir" { "../seamfall-book/tests/quilts" } else { "../../quilts" };
    [env!("CARGO_MANIFEST_DIR"), folder, &format!("{name}.quilt.toml")].iter().collect()
}

fn planned(name: &str) -> (Quilt, Plan) {
    let text = std::fs::read_to_string(demo(name)).expect("the demo is there");
    let quilt = seamfall_model::read(&text).expect("the demo reads");
    let plan = seamfall_plan::plan(&quilt);
    (quilt, plan)
}

fn draw(folder: &Path, name: &str, words: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_seamfall"))
        .arg("draw")
        .arg(demo(name))
        .args(words)
        .current_dir(folder)
        .env("NO_COLOR", "1")
        .output()
        .expect("the command was built with this test")
}

/// Has a script of `xtask/readers` hold a file against what is expected of it.
fn read_by(script: &str, folder: &Path, expected: &Value) {
    let tools = std::env::var("SEAMFALL_READERS")
        .unwrap_or_else(|_| format!("{}/.cache/seamfall-readers", std::env::var("HOME").expect("there is a home")));
    let file = folder.join("expected.json");
    std::fs::write(&file, expected.to_string()).expect("the folder can be written to");
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../xtask/readers").join(script);
    let output = Command::new(format!("{tools}/bin/python")).arg(script).arg(file).output();
    let output = output.expect("xtask/install-test-tools.sh has installed the readers");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
}

/// Area and number of the pieces of every cloth, from the cut list and the drafts; those of `left_out` are none.
fn pieces(quilt: &Quilt, plan: &Plan, left_out: &[&str]) -> BTreeMap<String, Vec<(f64, usize)>> {
    let mut all: BTreeMap<String, Vec<(f64, usize)>> = BTreeMap::new();
    for piece in &plan.cutting.pieces {
        let Some(cloth) = piece.of.cloth() else { continue };
        for one in &piece.uses {
            let Use::Template { block, template, count } = *one else { continue };
            let template = &plan.drafts[block.0].templates[template];
            let name = format!("{} {}", quilt.blocks[block.0].name, template.letter);
            let area = template.cut.as_ref().expect("demos have room for their allowance").area();
            if !left_out.contains(&name.as_str()) {
                all.entry(quilt.cloths[cloth.0].key.clone()).or_default().push((area, count));
            }
        }
    }
    all
}

/// `  night-1, 2 ×: ...`: how often each mat is cut, as told.
fn times(output: &Output) -> BTreeMap<String, usize> {
    let said = String::from_utf8_lossy(&output.stdout).into_owned();
    let line = |line: &str| {
        let (stem, rest) = line.trim().split_once(", ")?;
        Some((stem.to_owned(), rest.split_once(" ×:")?.0.parse().ok()?))
    };
    said.lines().filter_map(line).collect()
}

/// A queen, curves and centimetres, each face up and face down. Left out is what is told, and only that. Units: AutoCAD DXF Reference,
/// `$INSUNITS`, 1 for inches and 5 for centimetres.
#[test]
fn mats_hold_every_piece_of_the_plan_once() {
    for (name, mat, sides, unit, left_out) in [
        ("lamplight", "12x24", [12.0, 24.0], 1, vec![]),
        ("hill-farm", "7 x 7", [7.0, 7.0], 1, vec!["Cake stand A", "Cake stand D"]),
        ("tide-pool", "12x12", [12.0, 12.0], 1, vec![]),
        ("weir", "60 x 90", [60.0, 90.0], 5, vec![]),
    ] {
        let folder = tempfile::tempdir().expect("a folder");
        let (quilt, plan) = planned(name);
        let up = draw(folder.path(), name, &["templates", "--mat", mat, "--out", "up"]);
        assert_eq!(up.status.code(), Some(0), "{}", String::from_utf8_lossy(&up.stderr));
        let said = String::from_utf8_lossy(&up.stdout).into_owned();
        let told: Vec<&str> = said.lines().filter(|line| line.contains("left out: ")).collect();
        assert!(
            told.iter().all(|line| left_out.iter().any(|piece| line.contains(&format!("of {piece}: it is larger than the mat")))),
            "{told:?}"
        );
        assert_eq!(told.is_empty(), left_out.is_empty(), "{said}");
        let mut expected = json!({
            "folder": folder.path().join("up"), "mat": sides, "gap": if unit == 1 { 0.125 } else { 0.3 }, "unit": unit,
            "times": times(&up), "cloths": pieces(&quilt, &plan, &left_out),
        });
        read_by("mats.py", folder.path(), &expected);
        let down = draw(folder.path(), name, &["templates", "--mat", mat, "--face-down", "--out", "down"]);
        assert_eq!(times(&down), times(&up));
        expected["mirror_of"] = expected["folder"].take();
        expected["folder"] = json!(folder.path().join("down"));
        read_by("mats.py", folder.path(), &expected);
    }
}

/// A print that runs one way is never turned, one that runs both ways by halves only; without one, in quarters.
#[test]
fn a_print_keeps_its_direction_on_the_mat() {
    let (mut quilt, _) = planned("market-rows");
    for print in [Print::OneWay, Print::TwoWay, Print::None] {
        for cloth in &mut quilt.cloths {
            cloth.print = print;
        }
        let plan = seamfall_plan::plan(&quilt);
        let all = mats(&quilt, &plan, &Mat { width: 60.0, length: 90.0, gap: 0.3, face_down: false });
        let poses = all.iter().flat_map(|cloth| &cloth.mats).flat_map(|mat| &mat.places);
        let mut seen = 0;
        for (_, pose) in poses {
            let [a, b, _, _, _, _] = pose.coefficients();
            let turned_by = |cosine: f64, sine: f64| (a.abs() - cosine).abs() < 1e-9 && (b.abs() - sine).abs() < 1e-9;
            match print {
                Print::OneWay => assert!(turned_by(1.0, 0.0) && (a > 0.0) != pose.is_mirrored(), "{pose:?}"),
                Print::TwoWay => assert!(turned_by(1.0, 0.0), "{pose:?}"),
                Print::None => assert!(turned_by(1.0, 0.0) || turned_by(0.0, 1.0), "{pose:?}"),
            }
            seen += 1;
        }
        assert!(seen > 10, "{seen}");
    }
}

/// At 100 pixels to the inch a square of 3 in finished, 3 1/2 in cut, is 350 pixels wide, and one stroke of 1/100 in.
#[test]
fn an_svg_of_a_mat_is_to_scale() {
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(
        folder.path().join("squares.quilt.toml"),
        r##"
format = 1
name = "Squares"
measure = "inch"
[cloth.plain]
colour = "#f2ead8"
[block.one]
shape = "square"
size = "3"
patches = { plain = [[1, 1]] }
[setting]
layout = "straight"
columns = 2
rows = 2
pattern = [["one"]]
"##,
    )
    .expect("it can be written");
    let made = Command::new(env!("CARGO_BIN_EXE_seamfall"))
        .args(["draw", "squares.quilt.toml", "templates", "--mat", "12x24", "--out", "mats"])
        .current_dir(folder.path())
        .output()
        .expect("the command was built with this test");
    assert!(String::from_utf8_lossy(&made.stdout).contains("plain-1, 1 ×: 4 of one A"), "{made:?}");
    let svg = std::fs::read_to_string(folder.path().join("mats/plain-1.svg")).expect("there is one mat");
    assert!(svg.contains(r#"width="12in" height="24in" viewBox="0 0 12 24""#), "{svg}");
    std::fs::write(folder.path().join("mat.png"), seamfall_book::png(&svg, 1200).expect("it is drawn"))
        .expect("it can be written");
    let expected = json!({ "file": folder.path().join("mat.png"), "size": [1200, 2400], "pixels": [], "run": 351 });
    read_by("picture.py", folder.path(), &expected);
}

/// Its size as asked for, and in the middle of some patches the colour of their cloths.
#[test]
fn a_picture_has_its_size_and_the_colours_of_the_cloths() {
    let folder = tempfile::tempdir().expect("a folder");
    let (quilt, plan) = planned("lamplight");
    let drawn = draw(folder.path(), "lamplight", &["--png", "quilt.png", "--width", "1000"]);
    assert_eq!(drawn.status.code(), Some(0), "{}", String::from_utf8_lossy(&drawn.stderr));
    let view = seamfall_draw::quilt_drawing(&quilt, &plan, &seamfall_draw::QuiltStyle::default()).view;
    let scale = 1000.0 / view[2];
    let mut pixels = Vec::new();
    for place in plan.top.places.iter().take(6) {
        let draft = &plan.drafts[place.block.0];
        let largest = draft.patches.iter().max_by(|a, b| a.area.total_cmp(&b.area)).expect("a block has patches");
        if !draft.overlays.is_empty() {
            continue;
        }
        let at = place.pose.apply(largest.outline.label_point());
        let cloth = place.cloths[largest.part.expect("demos have all cloths").0];
        let (x, y) = ((at.x - view[0]) * scale, (plan.top.size.y - at.y - view[1]) * scale);
        pixels.push(json!([x.floor(), y.floor(), quilt.cloths[cloth.0].colour.hex()]));
    }
    assert!(pixels.len() > 2);
    let size = [1000.0, (view[3] * scale).round()];
    read_by("picture.py", folder.path(), &json!({ "file": folder.path().join("quilt.png"), "size": size, "pixels": pixels }));
}

/// Nothing is there by half: an unknown folder, one that may not be written to, a device that is full, a disk that ends within the file (here by
/// a limit on its size).
#[cfg(target_os = "linux")]
#[test]
fn what_cannot_be_written_is_told_and_leaves_nothing_behind() {
    let folder = tempfile::tempdir().expect("a folder");
    let within = |command: &str, words: &[&str]| {
        let limit = r#"trap "" XFSZ; ulimit -f 1; exec "$@""#;
        let mut asked = Command::new("sh");
        asked.args(["-c", limit, "sh", env!("CARGO_BIN_EXE_seamfall"), command]).arg(demo("tide-pool")).args(words);
        asked.current_dir(folder.path()).env("NO_COLOR", "1").output().expect("there is a shell")
    };
    let nowhere = [
        vec!["--out", "no/such/folder/x.svg"],
        vec!["--png", "/proc/x.png"],
        vec!["templates", "--mat", "12x24", "--out", "/proc/x"],
    ];
    let cases = nowhere.iter().map(|words| draw(folder.path(), "tide-pool", words));
    let full = [
        draw(folder.path(), "tide-pool", &["--out", "/dev/full"]),
        within("draw", &["--out", "half.svg"]),
        within("draw", &["--png", "half.png"]),
        within("draw", &["templates", "--mat", "12x24", "--out", "half"]),
        within("book", &["--out", "half.pdf"]),
    ];
    for output in cases.chain(full) {
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(4), "{said}");
        assert!(said.contains("cannot be written") && said.contains("nothing was changed"), "{said}");
    }
    let left = std::fs::read_dir(folder.path()).expect("it is there").count();
    assert_eq!(left, 0, "something is left behind");
}
