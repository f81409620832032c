//! Photographs beside a quilt file, on the command line.

use image::{Rgb, RgbImage};
use std::path::Path;
use std::process::{Command, Output};

const QUILT: &str = r##"format = 1
name = "Moss"
measure = "inch"
[cloth.moss]
colour = "#406040"
look = { kind = "photo", file = "moss.png", width = "8", pixels = [80, 60] }
[block.plain]
shape = "square"
size = "3"
grid = 1
patches = { moss = [[0.5, 0.5]] }
[setting]
layout = "straight"
rows = 2
columns = 5
pattern = [["plain"]]
[[fussy]]
cloth = "moss"
of = "plain.moss"
at = [50, 50]
"##;

fn run(folder: &Path, words: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_seamfall"));
    command.args(words).current_dir(folder).env("NO_COLOR", "1").output().expect("the command was built with this test")
}

fn folder(text: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("moss.quilt.toml"), text).unwrap();
    folder
}

#[test]
fn a_drawing_holds_the_photographs_beside_the_quilt_file() {
    let folder = folder(QUILT);
    RgbImage::from_pixel(80, 60, Rgb([60, 120, 60])).save(folder.path().join("moss.png")).unwrap();
    let drawn = run(folder.path(), &["draw", "moss.quilt.toml"]);
    assert!(drawn.status.success() && drawn.stderr.is_empty(), "{}", String::from_utf8_lossy(&drawn.stderr));
    let svg = std::fs::read_to_string(folder.path().join("moss.svg")).unwrap();
    assert!(svg.contains("data:image/jpeg;base64,"));
}

#[test]
fn a_photograph_that_cannot_be_had_is_said_and_the_colour_stands_in() {
    for (file, bytes, words) in [
        ("other.png", &b""[..], "moss.png: "),
        ("moss.png", &b"Dear Ann"[..], "no photograph"),
        ("moss.png", &b"\0\0\0\x18ftypavif"[..], "save it as JPEG"),
    ] {
        let folder = folder(QUILT);
        std::fs::write(folder.path().join(file), bytes).unwrap();
        let drawn = run(folder.path(), &["draw", "moss.quilt.toml"]);
        let said = String::from_utf8_lossy(&drawn.stderr).into_owned();
        assert!(drawn.status.success() && said.contains(words) && said.contains("shown in its colour"), "{said}");
        assert!(!std::fs::read_to_string(folder.path().join("moss.svg")).unwrap().contains("<image"));
    }
    let folder = folder(&QUILT.replace("[80, 60]", "[80, 80]"));
    RgbImage::from_pixel(80, 60, Rgb([60, 120, 60])).save(folder.path().join("moss.png")).unwrap();
    let said = String::from_utf8_lossy(&run(folder.path(), &["draw", "moss.quilt.toml"]).stderr).into_owned();
    assert!(said.contains("write `pixels = [80, 60]`"), "{said}");
}

/// By hand, as in the plan's own tests: ten squares cut 3 1/2 in on a repeat of 8 by 6 lie 4 side by side in 3 rows, 21 1/2 in of cloth.
#[test]
fn the_cut_list_counts_motifs() {
    let folder = folder(QUILT);
    let said = String::from_utf8_lossy(&run(folder.path(), &["plan", "moss.quilt.toml"]).stdout).into_owned();
    for words in
        ["by the motif, one by one", "= 4\n", "rows of motifs = up(pieces ÷ motifs side by side) = up(10 ÷ 4) = 3", "21 1/2"]
    {
        assert!(said.contains(words), "{words}: {said}");
    }
}
