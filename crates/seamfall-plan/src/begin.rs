//! The first file of a quilt: from a bed and a block to settings that cover the one with the other.
//!
//! In: what the maker chose. Out: the text of a quilt file, small, complete and meant to be changed. Where a bed is named, the settings are the best
//! that [`fit::search()`] finds for it; without one the quilt has four by five blocks.

use crate::answer::Ruler;
use crate::fit;
use crate::set;
use seamfall_model::{Block, ClothId, Measure, Shape, apply, mark, read, starter_blocks};
use std::fmt::Write;

/// What a quilt is begun from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Beginning<'a> {
    /// What the maker calls it.
    pub name: &'a str,
    /// The unit.
    pub measure: Measure,
    /// Name of a standard bed: `us queen`; none unless said.
    pub bed: Option<&'a str>,
    /// Key of a starter block, square.
    pub block: &'a str,
    /// The cloths to begin with.
    pub cloths: &'a Palette,
}

/// A cloth of a palette: its name, its colour, its value.
type Shade = (&'static str, &'static str, &'static str);

/// Cloths that go together, invented; the first is the ground, the last goes round the outside.
#[derive(Debug, PartialEq, Eq)]
pub struct Palette {
    /// What it is called.
    pub name: &'static str,
    /// Its cloths.
    pub cloths: [Shade; 4],
}

/// The palettes to choose from.
pub const PALETTES: [Palette; 4] = [
    Palette {
        name: mark!("Harbour"),
        cloths: [
            ("Sailcloth", "#f0e8d6", "light"),
            ("Deep water", "#27425a", "dark"),
            ("Rope", "#b98f5f", "medium"),
            ("Slate", "#4c5a63", "dark"),
        ],
    },
    Palette {
        name: mark!("Orchard"),
        cloths: [
            ("Blossom", "#f7e9e3", "light"),
            ("Leaf", "#3f5d43", "dark"),
            ("Apple", "#a63d34", "medium"),
            ("Bark", "#5d4636", "dark"),
        ],
    },
    Palette {
        name: mark!("Evening"),
        cloths: [
            ("Haze", "#e9e2ee", "light"),
            ("Plum", "#4b2f4e", "dark"),
            ("Ember", "#c4703f", "medium"),
            ("Night", "#2b2f45", "dark"),
        ],
    },
    Palette {
        name: mark!("Kitchen"),
        cloths: [
            ("Flour", "#fbf6ea", "light"),
            ("Enamel blue", "#2f5f8a", "dark"),
            ("Butter", "#e3b94f", "medium"),
            ("Tea", "#7a4a2b", "dark"),
        ],
    },
];

/// Starter blocks that a quilt can be begun from: those that are square.
pub fn blocks() -> impl Iterator<Item = &'static Block> {
    starter_blocks().iter().filter(|block| matches!(block.shape, Shape::Square { .. }))
}

/// The text of the file.
///
/// # Errors
/// A block or a bed that there is not, or a bed that no usual setting covers: why, in one sentence, and what could be taken instead.
pub fn begin(beginning: &Beginning) -> Result<String, String> {
    let Some(block) = blocks().find(|block| block.key == beginning.block) else {
        return Err(format!("there is no square starter block `{}`; `churn-dash` is one", beginning.block));
    };
    let text = text(beginning, block);
    let quilt = read(&text)
        .map_err(|error| error.problems.first().map_or_else(|| error.to_string(), |problem| problem.reason.clone()))?;
    if quilt.bed.is_none() {
        return Ok(text);
    }
    let top = set::derive(&quilt).result;
    let fit = fit::derive(&quilt, crate::pieced(&top)).result.ok_or("the quilt has no bed after all")?;
    let none = |none: crate::answer::Impossible| format!("{}; {}", none.reason, none.nearest);
    let (mut wishes, base) = fit::wishes(&quilt, fit.wanted.to_piece()).map_err(none)?;
    wishes.in_whole_steps(quilt.measure);
    wishes.standings.retain(|standing| *standing == fit::Standing::Straight);
    let found = fit::search(&wishes, &base, Ruler::of(&quilt)).map_err(none)?;
    let edit = found.best.first().and_then(|best| fit::as_edit(&quilt, best));
    let edit = edit.ok_or("no usual setting of this block covers this bed; take another block, or begin without a bed")?;
    apply(&text, &edit).map_err(|error| error.to_string())
}

fn text(beginning: &Beginning, block: &Block) -> String {
    let name = beginning.name.replace('\\', "\\\\").replace('"', "\\\"");
    // A roll of batting so wide is common practice.
    let (measure, size, band, roll) = match beginning.measure {
        Measure::Inch => ("inch", "12", "4", "90"),
        Measure::Centimetre => ("cm", "30", "10", "230"),
    };
    let mut text = format!(
        "# A quilt for Seamfall. Every key is described in docs/quilt-file.md.\nformat = 1\nname = \"{name}\"\nmeasure = \"{measure}\"\n"
    );
    let mut add = |line: std::fmt::Arguments| text.write_fmt(line).expect("writing to a string cannot fail");
    if let Some(bed) = beginning.bed {
        add(format_args!("\n[bed]\nstandard = \"{}\"\n", bed.replace('\\', "\\\\").replace('"', "\\\"")));
    }
    let keys = beginning.cloths.cloths.map(|(name, ..)| name.to_lowercase().replace(' ', "-"));
    for (key, (name, colour, value)) in keys.iter().zip(&beginning.cloths.cloths) {
        add(format_args!("\n[cloth.{key}]\nname = \"{name}\"\ncolour = \"{colour}\"\nvalue = \"{value}\"\n"));
    }
    let cloths: Vec<String> = block
        .parts
        .iter()
        .zip(for_parts(block))
        .map(|(part, ClothId(cloth))| format!("{} = \"{}\"", part.name, keys[cloth]))
        .collect();
    add(format_args!("\n[block.first]\nstarter = \"{}\"\nsize = \"{size}\"\ncloths = {{ {} }}\n", block.key, cloths.join(", ")));
    add(format_args!("\n[setting]\nlayout = \"straight\"\ncolumns = 4\nrows = 5\npattern = [[\"first\"]]\n"));
    add(format_args!("\n[[band]]\nwidth = \"{band}\"\ncloth = \"{}\"\ncorners = \"mitred\"\n", keys[3]));
    add(format_args!("\n[backing]\ncloth = \"{0}\"\n\n[batting]\nroll = \"{roll}\"\n\n[binding]\ncloth = \"{0}\"\n", keys[1]));
    add(format_args!("\n[[quilting]]\non = \"first\"\ndesign = \"in-the-ditch\"\n"));
    text
}

/// A cloth for each part: what is called light the light one, what is called dark the dark one, the others in turn.
fn for_parts(block: &Block) -> Vec<ClothId> {
    let usual = [("light", 0), ("background", 0), ("dark", 1)];
    let named = |name: &str| usual.iter().find(|(word, _)| name.contains(word)).map(|(_, cloth)| *cloth);
    let mut others =
        [1, 2, 0, 3].into_iter().filter(|cloth| !block.parts.iter().any(|part| named(&part.name) == Some(*cloth))).cycle();
    block.parts.iter().map(|part| ClothId(named(&part.name).or_else(|| others.next()).unwrap_or(0))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan;
    use seamfall_model::{BEDS, Grade, Layout, Length};

    fn beginning<'a>(block: &'a str, bed: Option<&'a str>, measure: Measure) -> Beginning<'a> {
        Beginning { name: "A \"first\" quilt", measure, bed, block, cloths: &PALETTES[0] }
    }

    /// From every bed a quilt that covers it, and nothing that stops the work.
    #[test]
    fn a_quilt_is_begun_for_every_bed() {
        for (number, bed) in BEDS.iter().enumerate() {
            let measure = [Measure::Inch, Measure::Centimetre][number % 2];
            let text = begin(&beginning("churn-dash", Some(bed.key), measure)).unwrap_or_else(|why| panic!("{}: {why}", bed.key));
            let quilt = read(&text).expect("it reads");
            let plan = plan(&quilt);
            let stops: Vec<_> = plan.findings.iter().filter(|finding| finding.grade == Grade::Stop).collect();
            assert!(stops.is_empty(), "{}: {stops:?}", bed.key);
            let wanted = plan.fit.as_ref().expect("it has a bed").wanted.to_piece();
            let off = (plan.top.size.x - wanted.x).abs().max((plan.top.size.y - wanted.y).abs());
            assert!(off <= Length::new(1.0).value() * measure.inch() + 1e-6, "{}: {off} off", bed.key);
        }
    }

    #[test]
    fn a_quilt_is_begun_from_every_block_and_in_every_palette() {
        for (number, block) in blocks().enumerate() {
            let cloths = &PALETTES[number % PALETTES.len()];
            let text = begin(&Beginning { cloths, ..beginning(&block.key, None, Measure::Inch) }).expect("it is begun");
            let quilt = read(&text).expect("it reads");
            assert!(matches!(quilt.setting.layout, Layout::Straight));
            let used: std::collections::BTreeSet<_> = quilt.blocks[0].parts.iter().map(|part| part.cloth).collect();
            assert!(used.len() >= 2.min(quilt.blocks[0].parts.len()), "{}: all of one cloth", block.key);
        }
    }

    #[test]
    fn what_cannot_be_begun_is_said() {
        assert!(begin(&beginning("hexagon", None, Measure::Inch)).unwrap_err().contains("no square starter block"));
        assert!(begin(&beginning("churn-dash", Some("us qeen"), Measure::Inch)).unwrap_err().contains("qeen"));
    }
}
