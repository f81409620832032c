//! Every quilting design on a plain block or frame, drawn for the choice of one.

use seamfall_draw::design_svg;
use std::sync::OnceLock;
use tr::tr;

/// Word in the file, and what it is to a person, in the order of the choice.
pub fn designs() -> [(&'static str, String); MANY] {
    [
        ("in-the-ditch", tr!("in the ditch")),
        ("outline", tr!("outline")),
        ("echo", tr!("echo")),
        ("parallel", tr!("parallel lines")),
        ("crossed", tr!("crossed lines")),
        ("oval", tr!("oval")),
        ("circle", tr!("circle")),
        ("leaf", tr!("leaf")),
        ("cable", tr!("cable")),
        ("fan", tr!("fan")),
        ("feather", tr!("feather")),
        ("arcs", tr!("grid of arcs")),
        ("stippling", tr!("stippling")),
        ("mitres", tr!("mitres")),
        ("path", tr!("own drawing")),
    ]
}

/// So many there are.
const MANY: usize = 15;

/// What a design is called.
pub fn name(word: &str) -> String {
    designs().into_iter().find(|(key, _)| *key == word).map_or_else(|| word.to_owned(), |(_, name)| name)
}

/// The drawing of a design; each is made once.
pub fn drawing(word: &str) -> Option<&'static str> {
    static DRAWN: [OnceLock<String>; MANY] = [const { OnceLock::new() }; MANY];
    let at = designs().iter().position(|(key, _)| *key == word)?;
    Some(DRAWN[at].get_or_init(|| draw(word)))
}

fn draw(word: &str) -> String {
    let (on, more) = match word {
        "parallel" | "crossed" | "stippling" => ("block", "spacing = \"1\""),
        "cable" | "mitres" => ("frame", ""),
        "path" => ("block", "path = \"M0 6C2 0 5 0 6 4S11 9 12 3\"\nsize = \"7\""),
        "oval" | "leaf" | "circle" => ("block", "size = \"6 x 4\""),
        "fan" | "arcs" => ("block", "size = \"2 1/2\""),
        _ => ("block", ""),
    };
    let frame = if on == "frame" { "frame = \"frame\"" } else { "" };
    let text = format!("{PLAIN}{frame}\n[[quilting]]\non = \"{on}\"\ndesign = \"{word}\"\n{more}\n");
    let quilt = seamfall_model::read(&text).unwrap_or_else(|error| unreachable!("the sample of {word}: {error}"));
    design_svg(&seamfall_plan::plan(&quilt))
}

/// A block of four patches with a frame in hand.
const PLAIN: &str = r##"
format = 1
name = "sample"
measure = "inch"
[cloth.a]
colour = "#ffffff"
[block.block]
shape = "square"
size = "8"
grid = 2
seams = [[1, 0, 1, 2], [0, 1, 2, 1]]
patches = { a = [[0.5, 0.5], [1.5, 0.5], [0.5, 1.5], [1.5, 1.5]] }
[frame.frame]
corners = "mitred"
strips = [{ width = "2", cloth = "a" }]
[setting]
layout = "straight"
rows = 1
columns = 1
pattern = [["block"]]
"##;

#[cfg(test)]
mod tests {
    use super::*;
    use seamfall_model::Motif;

    #[test]
    fn every_design_of_the_file_can_be_chosen_and_is_drawn() {
        for (word, name) in designs() {
            let svg = drawing(word).unwrap_or_else(|| panic!("{name} is not drawn"));
            let lines = svg.rsplit(" d=\"").next().unwrap_or_default();
            assert!(lines.starts_with('M'), "{name} draws nothing: {svg}");
        }
        assert!(Motif::ALL.iter().all(|motif| designs().iter().any(|(word, _)| *word == motif.word())));
    }
}
