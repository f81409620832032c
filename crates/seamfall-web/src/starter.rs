//! The starter set and the maker's own blocks, drawn in neutral cloths.

use seamfall_draw::{BlockStyle, block_svg};
use seamfall_model::{
    Allowance, Block, BlockId, Cloth, Colour, Finishing, Lap, Layout, Length, Measure, Print, Quilt, Setting, Shrinkage, Step,
    Value, starter_blocks,
};
use std::sync::OnceLock;

/// Light to dark and back, so that parts that follow one another can be told apart.
const CLOTHS: [Colour; 8] = [
    Colour(0xf3, 0xea, 0xd8),
    Colour(0x3b, 0x4a, 0x54),
    Colour(0xb9, 0x8f, 0x6b),
    Colour(0x8a, 0x9a, 0x8c),
    Colour(0xd9, 0xc7, 0xa3),
    Colour(0x6e, 0x4b, 0x3f),
    Colour(0xa8, 0xb4, 0xba),
    Colour(0x55, 0x60, 0x4e),
];

/// The drawing of a starter block; each is made once.
pub fn drawing(key: &str) -> Option<&'static str> {
    static DRAWN: OnceLock<Vec<OnceLock<String>>> = OnceLock::new();
    let at = starter_blocks().iter().position(|block| block.key == key)?;
    let drawn = DRAWN.get_or_init(|| starter_blocks().iter().map(|_| OnceLock::new()).collect());
    Some(drawn[at].get_or_init(|| draw(&starter_blocks()[at])))
}

/// The drawing of a block whose part `i` has cloth `i`.
pub fn draw(block: &Block) -> String {
    let count = block.parts.iter().map(|part| part.cloth.0 + 1).max().unwrap_or(0);
    let cloths = (0..count).map(|i| Cloth {
        key: format!("c{i}"),
        name: String::new(),
        colour: CLOTHS[i % CLOTHS.len()],
        value: Value::Medium,
        print: Print::None,
        width: Length::new(42.0),
        shrinkage: Shrinkage(0),
        price: None,
        from: Vec::new(),
        look: None,
    });
    let quilt = Quilt {
        name: block.name.clone(),
        measure: Measure::Inch,
        allowance: Allowance(Length::new(0.25)),
        step: Step::Eighth,
        cloths: cloths.collect(),
        blocks: vec![block.clone()],
        frames: Vec::new(),
        setting: Setting { layout: Layout::Straight, places: Vec::new() },
        sashing: None,
        bands: Vec::new(),
        largest_section: Length::new(24.0),
        bed: None,
        corners: seamfall_model::CornerShape::Square,
        pressings: None,
        falls: Vec::new(),
        ways: Vec::new(),
        fussy: Vec::new(),
        reserve: Length::ZERO,
        cutting_stages: 5,
        binding: None,
        backing: None,
        batting: None,
        sample: None,
        thread: None,
        lap: Lap::usual(Measure::Inch),
        quilting: Vec::new(),
        joining: seamfall_model::Joining::usual(Measure::Inch),
        finish: Finishing::default(),
    };
    let draft = seamfall_plan::draft::derive(&quilt, block).result;
    block_svg(&quilt, &draft, BlockId(0), &BlockStyle::default())
}
