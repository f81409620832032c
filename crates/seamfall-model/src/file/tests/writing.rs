//! Tests of writing: whatever is written reads back as it was.

use super::super::starter::sized;
use super::super::*;
use crate::*;
use proptest::prelude::*;

/// Choices, taken one after another; an empty tape always chooses the first.
struct Tape {
    choices: std::vec::IntoIter<u32>,
}

impl Tape {
    /// A number below `count`.
    fn pick(&mut self, count: usize) -> usize {
        self.choices.next().unwrap_or(0) as usize % count
    }

    fn yes(&mut self) -> bool {
        self.pick(2) == 1
    }

    /// A length that can be sewn: on the step, off it, and with endless places.
    fn length(&mut self) -> Length {
        Length::new([12.0, 4.5, 7.2, 1.0 / 3.0, 2.0 + 5.0 / 64.0, 0.3, 30.0, 239.999][self.pick(8)])
    }

    fn point(&mut self) -> GridPoint {
        let number = |tape: &mut Self| [0.0, 1.0, 2.5, -1.0, 1.0 / 3.0, 4.0, 1e-7][tape.pick(7)];
        GridPoint { u: number(self), v: number(self) }
    }

    fn grain(&mut self) -> Grain {
        [Grain::Across, Grain::Along][self.pick(2)]
    }

    fn price(&mut self) -> Option<Price> {
        [None, Some(Price(0)), Some(Price(1)), Some(Price(1250)), Some(Price(100_000_000))][self.pick(5)]
    }

    fn oversize(&mut self) -> Length {
        Length::new([2.0, 1.5, 2.5, 5.5, 4.0 / 3.0][self.pick(5)])
    }

    /// A side of a piece of cloth.
    fn size(&mut self) -> Length {
        Length::new([18.0, 22.5, 10.0 / 3.0][self.pick(3)])
    }

    fn cloth(&mut self, cloths: usize) -> ClothId {
        ClothId(self.pick(cloths))
    }

    fn corners(&mut self, cloths: usize) -> Corners {
        [Corners::Butted, Corners::Mitred, Corners::Squares(self.cloth(cloths))][self.pick(3)]
    }

    fn frame(&mut self, frames: usize) -> FrameChoice {
        let pick = self.pick(frames + 1);
        if pick == 0 { FrameChoice::Bare } else { FrameChoice::Framed(FrameId(pick - 1)) }
    }
}

const NAMES: [&str; 6] = ["Harbour lights", "x", "Kühl ½", "say \"so\"", "it's \\ so", "'''"];

fn quilt(choices: Vec<u32>) -> Quilt {
    let mut tape = Tape { choices: choices.into_iter() };
    let measure = [Measure::Inch, Measure::Centimetre][tape.pick(2)];
    let step = match measure {
        Measure::Inch => [Step::Eighth, Step::Sixteenth][tape.pick(2)],
        Measure::Centimetre => Step::Millimetre,
    };
    let allowance = [measure.usual_allowance(), Allowance(Length::new(0.375)), Allowance(Length::new(0.3))][tape.pick(3)];
    let bed = tape.yes().then(|| bed(&mut tape, measure));
    let corners = CornerShape::ALL[if bed.is_some() { tape.pick(5) } else { tape.pick(2) }];
    let cloths: Vec<Cloth> = (0..tape.pick(4) + 1).map(|i| cloth(&mut tape, i)).collect();
    let frames: Vec<Frame> = (0..tape.pick(3))
        .map(|i| Frame {
            key: format!("frame-{i}"),
            corners: tape.corners(cloths.len()),
            strips: (0..tape.pick(3) + 1).map(|_| Strip { width: tape.length(), cloth: tape.cloth(cloths.len()) }).collect(),
        })
        .collect();
    let mut blocks: Vec<Block> =
        (0..tape.pick(3) + 1).map(|i| block(&mut tape, i, measure, cloths.len(), frames.len())).collect();
    blocks[0].shape = Shape::Square { side: Length::new(12.0) };
    if blocks[0].starter.is_some() {
        blocks[0] = drawn(&mut tape, measure, cloths.len(), Shape::Square { side: Length::new(12.0) });
        blocks[0].key = "block-0".to_owned();
    }
    let setting = setting(&mut tape, &blocks, cloths.len(), frames.len());
    let sashing = tape.yes().then(|| Sashing {
        width: tape.length(),
        cloth: tape.cloth(cloths.len()),
        cornerstones: tape.yes().then(|| tape.cloth(cloths.len())),
        around: tape.yes(),
        grain: tape.grain(),
    });
    let bands: Vec<Band> = (0..tape.pick(3))
        .map(|_| Band {
            width: tape.length(),
            cloth: tape.cloth(cloths.len()),
            corners: tape.corners(cloths.len()),
            grain: tape.grain(),
        })
        .collect();
    let largest_section = Length::new([if measure == Measure::Inch { 24.0 } else { 60.0 }, 30.5][tape.pick(2)]);
    let name = NAMES[tape.pick(6)].to_owned();
    let pressings = [None, Some(Pressings::Shared(1)), Some(Pressings::Shared(4)), Some(Pressings::Own)][tape.pick(4)];
    let falls = (0..tape.pick(4)).map(|i| fall(&mut tape, i)).collect();
    let ways = (1..tape.pick(4) + 1).map(|patch| way(&mut tape, blocks.len(), patch)).collect();
    let fussy = fussies(&mut tape, &cloths, &blocks);
    let lap = lap(&mut tape, measure);
    let quilting = (0..tape.pick(6)).map(|_| quilting(&mut tape, &blocks, &frames, bands.len())).collect();
    Quilt {
        name,
        measure,
        allowance,
        step,
        bed,
        corners,
        cloths,
        blocks,
        frames,
        setting,
        sashing,
        bands,
        largest_section,
        pressings,
        falls,
        ways,
        fussy,
        reserve: Length::new([0.0, 4.5][tape.pick(2)]),
        cutting_stages: [5, 2, 3][tape.pick(3)],
        binding: tape.yes().then(|| Binding {
            cloth: ClothId(0),
            width: [Length::new(6.5), tape.oversize()][tape.pick(2)],
            on: [BindingOn::Straight, BindingOn::Bias][tape.pick(2)],
        }),
        backing: tape.yes().then(|| Backing { cloth: ClothId(0), oversize: tape.oversize() }),
        batting: tape.yes().then(|| batting(&mut tape)),
        sample: tape.yes().then(|| Sample { cloth: ClothId(0), size: tape.size(), count: [1, 7][tape.pick(2)] }),
        thread: tape.yes().then(|| Thread { spool: Length::new(7200.0), price: tape.price() }),
        lap,
        quilting,
        joining: joining(&mut tape, measure),
        finish: finish(&mut tape, measure),
    }
}

fn bed(tape: &mut Tape, measure: Measure) -> Bed {
    let bed = match tape.pick(3) {
        0 => Bed::usual(measure, Length::new(100.5), Length::new(119.0)),
        _ => Bed::standard(measure, &BEDS[tape.pick(BEDS.len())]),
    };
    if tape.yes() {
        return bed;
    }
    let height = Length::new([8.0, 60.0, 55.5][tape.pick(3)]);
    let drop = |tape: &mut Tape| Length::new([12.0_f64, 30.0, 0.0, 7.75][tape.pick(4)].min(height.value()));
    Bed {
        length: [bed.length, Length::new(90.25)][tape.pick(2)],
        height,
        sides: drop(tape),
        foot: drop(tape),
        tuck: Length::new([0.0, 10.0][tape.pick(2)]),
        posts: tape.yes(),
        take_up: [PerCent::TAKE_UP, PerCent { least: 0.5, most: 4.0 / 3.0 }][tape.pick(2)],
        shrinkage: [PerCent::SHRINKAGE, PerCent::NONE][tape.pick(2)],
        ..bed
    }
}

fn joining(tape: &mut Tape, measure: Measure) -> Joining {
    let usual = Joining::usual(measure);
    if tape.yes() {
        return usual;
    }
    Joining {
        order: [None, Some(JoinOrder::ALL[tape.pick(4)])][tape.pick(2)],
        catch_batting: [None, Some(false), Some(true)][tape.pick(3)],
        back_overlap: [Length::ZERO, Length::new(measure.inch() / 3.0)][tape.pick(2)],
        hand_minutes_a_foot: [None, Some(10.0 / 3.0)][tape.pick(2)],
        cloth_weight: [usual.cloth_weight, 124.5][tape.pick(2)],
        ..usual
    }
}

fn finish(tape: &mut Tape, measure: Measure) -> Finishing {
    let cloth = ClothId(0);
    let size = |tape: &mut Tape| [Length::new(4.0), Length::new(10.0), Length::new(2.0), Length::new(7.5)][tape.pick(4)];
    let arcs = |tape: &mut Tape| Arcs {
        width: [4.0, 10.0].map(Length::new)[tape.pick(2)],
        depth: size(tape),
        corner: tape.yes().then(|| size(tape)),
    };
    let edge = match tape.pick(7) {
        1 => EdgeFinish::PrairiePoints {
            cloth,
            square: size(tape),
            spacing: tape.yes().then(|| size(tape)),
            fold: [PointFold::Nested, PointFold::Overlapping][tape.pick(2)],
        },
        2 => EdgeFinish::Scallops(arcs(tape)),
        3 => EdgeFinish::Waves(arcs(tape)),
        4 => EdgeFinish::Ruffle { cloth, depth: size(tape), fullness: [2.0, 2.5, 4.0 / 3.0][tape.pick(3)] },
        5 => EdgeFinish::Facing { cloth, depth: size(tape) },
        6 => EdgeFinish::Piping { cloth, cord: [0.3, 0.25, 1.0].map(Length::new)[tape.pick(3)], flat: tape.yes() },
        _ => EdgeFinish::Straight,
    };
    Finishing {
        edge,
        sleeve: tape.yes().then(|| Sleeve { cloth, depth: size(tape) }),
        label: tape.yes().then(|| Label { cloth, size: [[4.0, 10.0, 7.5].map(Length::new)[tape.pick(3)], Length::new(4.0)] }),
        cover: tape.yes().then(|| Cover {
            larger: [Length::ZERO, Length::new(1.0), Length::new(2.5)][tape.pick(3)],
            channel: tape.yes().then(|| Length::new(10.0)),
            grams: tape.yes().then_some(162.5),
            ties: tape.yes().then(|| Length::new(30.0)),
            tie_length: [Length::new(3.0), Length::new(7.5)][tape.pick(2)],
            flap: tape.yes().then(|| Length::new(20.0)),
            seam: SeamKind::ALL[tape.pick(5)],
            ..Cover::usual(measure, cloth)
        }),
    }
}

fn lap(tape: &mut Tape, measure: Measure) -> Lap {
    let usual = Lap::usual(measure);
    if tape.yes() {
        return usual;
    }
    Lap {
        margin: [usual.margin, Length::new(measure.inch() / 1.5)][tape.pick(2)],
        reach: [usual.reach, Length::ZERO][tape.pick(2)],
        needleful: Length::new(50.0),
        minutes_a_foot: [usual.minutes_a_foot, 4.0 / 3.0][tape.pick(2)],
        ..usual
    }
}

fn quilting(tape: &mut Tape, blocks: &[Block], frames: &[Frame], bands: usize) -> Quilting {
    let on = match tape.pick(5) {
        1 => QuiltedOn::Block(BlockId(tape.pick(blocks.len()))),
        2 if !frames.is_empty() => QuiltedOn::Frame(FrameId(tape.pick(frames.len()))),
        3 if bands > 0 => QuiltedOn::Band(tape.pick(bands)),
        4 => QuiltedOn::Sashing,
        _ => QuiltedOn::Quilt,
    };
    let repeats = [None, Some(3)][tape.pick(2)];
    let size = [tape.oversize(), tape.oversize()];
    let design = match tape.pick(8) {
        0 => QuiltingDesign::InTheDitch,
        1 => QuiltingDesign::Mitres,
        2 => QuiltingDesign::Outline { distance: tape.oversize() },
        3 => QuiltingDesign::Echo { distance: tape.oversize(), count: 1 + tape.pick(4) as u32 },
        4 => QuiltingDesign::Parallel { angle_deg: [45.0, -30.5, 0.0][tape.pick(3)], spacing: tape.oversize() },
        5 => QuiltingDesign::Stippling { spacing: tape.oversize() },
        6 => QuiltingDesign::Path { data: "M 0 0 C 1 2 3 2 4 0".to_owned(), size, repeats },
        _ => QuiltingDesign::Motif { motif: Motif::ALL[tape.pick(7)], size: tape.yes().then_some(size), repeats },
    };
    Quilting { on, design }
}

fn batting(tape: &mut Tape) -> Batting {
    let roll = tape.yes().then(|| Roll { width: Length::new(90.0), price: tape.price() });
    let count = tape.pick(3) + usize::from(roll.is_none());
    let packages = (0..count).map(|_| supply(tape)).collect();
    Batting { name: ["Batting", "Wool ½"][tape.pick(2)].to_owned(), oversize: tape.oversize(), roll, packages }
}

fn supply(tape: &mut Tape) -> Supply {
    let (width, length) = (tape.size(), tape.size());
    Supply {
        name: NAMES[tape.pick(6)].to_owned(),
        width,
        length,
        count: [None, Some(1), Some(10_000)][tape.pick(3)],
        price: tape.price().unwrap_or(Price(0)),
    }
}

fn fall(tape: &mut Tape, i: usize) -> FixedFall {
    let first = ["block-0.p1", "A1.p12", "A1", "sash.2.3", "A1.frame1.top", "Kühl \"½\""][tape.pick(6)];
    let to = [FallTo::First, FallTo::Second, FallTo::Open][tape.pick(3)];
    FixedFall { between: [first.to_owned(), format!("band1.left.{i}")], to }
}

fn way(tape: &mut Tape, blocks: usize, patch: usize) -> ChosenWay {
    let ways = [MakingWay::Plain, MakingWay::TwoAtATime, MakingWay::EightAtATime, MakingWay::FourAtATime, MakingWay::StripSet];
    ChosenWay { block: BlockId(tape.pick(blocks)), patch, way: ways[tape.pick(5)] }
}

fn cloth(tape: &mut Tape, i: usize) -> Cloth {
    Cloth {
        key: format!("part-{i}"),
        name: NAMES[tape.pick(6)].to_owned(),
        colour: Colour(tape.pick(256) as u8, tape.pick(256) as u8, 7),
        value: [Value::Light, Value::Medium, Value::Dark][tape.pick(3)],
        look: look(tape),
        print: [Print::None, Print::TwoWay, Print::OneWay][tape.pick(3)],
        width: Length::new([42.0, 107.0, 44.5][tape.pick(3)]),
        shrinkage: Shrinkage([0, 30, 25, 250][tape.pick(4)]),
        price: tape.price(),
        from: (0..tape.pick(3)).map(|_| supply(tape)).collect(),
    }
}

/// A motif of every cloth with a photograph, for its own part.
fn fussies(tape: &mut Tape, cloths: &[Cloth], blocks: &[Block]) -> Vec<Fussy> {
    let photographed =
        cloths.iter().enumerate().filter(|(_, cloth)| cloth.look.as_ref().is_some_and(|look| look.photo().is_some()));
    let motif = |(i, cloth): (usize, &Cloth)| {
        let [left, top, right, bottom] = cloth.look.as_ref().and_then(Look::photo).map_or([0.0; 4], |photo| photo.crop);
        let of = if blocks[0].parts.is_empty() || tape.yes() { FussyOf::Patch(3) } else { FussyOf::Part(PartId(0)) };
        let at = [left + (100.0 - left - right) / 4.0, top + (100.0 - top - bottom) / 2.0];
        Fussy { cloth: ClothId(i), block: BlockId(0), of, at, turn_deg: [0.0, 90.0, -12.5][tape.pick(3)] }
    };
    photographed.map(motif).collect()
}

fn look(tape: &mut Tape) -> Option<Look> {
    let repeat = Length::new([1.0, 2.0, 0.75, 4.0 / 3.0][tape.pick(4)]);
    match tape.pick(3) {
        0 => None,
        1 => Some(Look::Figure(Figure {
            kind: FigureKind::ALL[tape.pick(3)],
            colour: Colour(9, tape.pick(256) as u8, 200),
            size: repeat * [0.5, 1.0 / 3.0, 0.3][tape.pick(3)],
            repeat,
            angle_deg: [0.0, 45.0, -12.5, 180.0][tape.pick(4)],
        })),
        _ => Some(Look::Photo(Photo {
            file: ["moss.jpg", "my \"best\" cloth ½.png"][tape.pick(2)].to_owned(),
            width: tape.size(),
            pixels: [[2048, 1536], [1, 30_000]][tape.pick(2)],
            crop: [[0.0; 4], [5.0, 0.0, 12.25, 0.1], [0.0, 99.0, 33.0, 0.0]][tape.pick(3)],
        })),
    }
}

fn block(tape: &mut Tape, i: usize, measure: Measure, cloths: usize, frames: usize) -> Block {
    let side = tape.length();
    let mut block = if tape.pick(3) == 2 {
        let design = &starter_blocks()[tape.pick(starter_blocks().len())];
        let shape = match design.shape {
            Shape::Square { .. } => Shape::Square { side },
            // Long rectangles must stay within the limits.
            Shape::Rectangle { width, height } => {
                let side = Length::new([7.2, 9.0][tape.pick(2)]);
                Shape::Rectangle { width: side, height: side * (height.value() / width.value()) }
            }
            Shape::EquilateralTriangle { .. } => Shape::EquilateralTriangle { side },
            Shape::RightTriangle { .. } => Shape::RightTriangle { leg: side },
            Shape::Diamond { angle_deg, .. } => Shape::Diamond { side, angle_deg },
            Shape::Hexagon { .. } => Shape::Hexagon { side },
        };
        sized(design, shape, measure).expect("it keeps its proportions")
    } else {
        let shape = [
            Shape::Square { side },
            Shape::Rectangle { width: side, height: tape.length() },
            Shape::EquilateralTriangle { side },
            Shape::RightTriangle { leg: side },
            Shape::Diamond { side, angle_deg: [45.0, 60.0, 33.3][tape.pick(3)] },
            Shape::Hexagon { side },
        ][tape.pick(6)];
        drawn(tape, measure, cloths, shape)
    };
    block.key = format!("block-{i}");
    block.frame = tape.yes().then(|| tape.frame(frames));
    for part in &mut block.parts {
        part.cloth = tape.cloth(cloths);
    }
    block
}

fn drawn(tape: &mut Tape, measure: Measure, cloths: usize, shape: Shape) -> Block {
    let n = tape.pick(8) as u32 + 1;
    let square = matches!(shape, Shape::Square { .. });
    let grid = match shape {
        _ if tape.yes() => None,
        Shape::Rectangle { .. } => Some((n, tape.pick(8) as u32 + 1)),
        Shape::Square { .. } if tape.yes() => Some((n, tape.pick(8) as u32 + 1)),
        _ => Some((n, n)),
    };
    // A quarter about a point of a square grid is round; on other axes it need not be.
    let round = square && grid.is_none_or(|(n, m)| n == m);
    let seam = |tape: &mut Tape| {
        let centre = tape.point();
        if round && tape.yes() {
            let from = GridPoint { u: centre.u + 2.0, ..centre };
            let to = GridPoint { v: centre.v + 2.0, ..centre };
            Seam::Arc(Arc { from, to, centre, long_way: tape.yes() })
        } else {
            let steps = 1..tape.pick(3) + 2;
            let rest = steps.map(|i| GridPoint { u: centre.u + i as f64, v: centre.v + 0.25 });
            Seam::Line(std::iter::once(centre).chain(rest).collect())
        }
    };
    let seams = (0..tape.pick(4)).map(|_| seam(tape)).collect();
    let marked = tape.pick(3);
    let marks: Vec<Mark> = (0..marked)
        .flat_map(|part| (0..tape.pick(3)).map(|_| Mark { at: tape.point(), part: PartId(part) }).collect::<Vec<_>>())
        .collect();
    let mut parts = marked;
    let mut overlays = Vec::new();
    for _ in 0..tape.pick(3) {
        let part = tape.pick(parts + 1);
        parts = parts.max(part + 1);
        let (a, b, c) = (GridPoint { u: 0.0, v: 0.0 }, GridPoint { u: 2.0, v: 0.0 }, GridPoint { u: 1.0, v: 1.5 });
        let usual = if measure == Measure::Inch { 0.1875 } else { 0.5 };
        let turn_under = Length::new([usual, 0.25][tape.pick(2)]);
        overlays.push(Overlay {
            outline: vec![Seam::Line(vec![a, b, c]), Seam::Line(vec![c, a])],
            part: PartId(part),
            turn_under,
        });
    }
    let parts = (0..parts).map(|i| Part { name: format!("part-{i}"), cloth: tape.cloth(cloths) }).collect();
    let name = NAMES[tape.pick(6)].to_owned();
    Block { key: String::new(), name, starter: None, shape, grid, seams, marks, overlays, parts, frame: None }
}

fn setting(tape: &mut Tape, blocks: &[Block], cloths: usize, frames: usize) -> Setting {
    let layout = match tape.pick(3) {
        0 => Layout::Straight,
        1 => Layout::OnPoint { triangles: tape.cloth(cloths) },
        _ => Layout::Rows { filler: tape.yes().then(|| tape.cloth(cloths)) },
    };
    let fits = |block: &Block| match block.shape {
        Shape::Square { .. } => true,
        Shape::Rectangle { .. } => !matches!(layout, Layout::OnPoint { .. }),
        _ => false,
    };
    let standing: Vec<BlockId> = (0..blocks.len()).filter(|i| fits(&blocks[*i])).map(BlockId).collect();
    let (rows, columns) = (tape.pick(4) + 1, tape.pick(4) + 1);
    let lengths: Vec<usize> = match layout {
        Layout::Straight => vec![columns; rows],
        Layout::OnPoint { .. } => (0..2 * rows - 1).map(|row| columns - row % 2).collect(),
        Layout::Rows { .. } => (0..rows).map(|_| tape.pick(4) + 1).collect(),
    };
    let regular = tape.yes();
    let place = |tape: &mut Tape, row: usize, number: usize| {
        let block = standing[if regular { (row + number) % standing.len() } else { tape.pick(standing.len()) }];
        let frame = if tape.yes() { tape.frame(frames) } else { blocks[block.0].frame.unwrap_or(FrameChoice::Bare) };
        let swaps = (0..tape.pick(3).min(cloths)).map(|from| (ClothId(from), tape.cloth(cloths))).collect();
        Place { block, turns: tape.pick(4) as u8, mirrored: tape.yes(), swaps, frame }
    };
    let places = lengths.iter().enumerate().map(|(row, n)| (0..*n).map(|number| place(tape, row, number)).collect()).collect();
    Setting { layout, places }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn what_is_written_reads_back_as_it_was(choices in prop::collection::vec(any::<u32>(), 0..400)) {
        let quilt = quilt(choices);
        let text = write(&quilt);
        let back = read(&text).map_err(|error| TestCaseError::fail(format!("{:#?}\n{text}", error.problems)))?;
        prop_assert_eq!(&back, &quilt, "{}", text);
        prop_assert_eq!(write(&back), text);
    }

    #[test]
    fn any_text_gets_an_answer(text in "[a-z=\\[\\]\"{}0-9. #\n,-]{0,200}") {
        prop_assert!(read(&text).is_err());
    }
}

/// The example of the page, written anew: the same quilt, in the order of the page.
#[test]
fn the_example_is_written_as_the_page_has_it() {
    let page = super::reading::page();
    let quilt = read(&page).expect("another test reads it");
    let text = write(&quilt);
    assert_eq!(read(&text).expect("it was written"), quilt);
    insta::assert_snapshot!(text, @r##"
format = 1
name = "Harbour lights"
measure = "inch"
reserve = "4 1/2"
cutting-stages = 4
pressings = 2

[bed]
standard = "us queen"
length = "79 1/2"
height = "25"
sides = "14"
foot = "14"
tuck = "10"
take-up = [2, 4]
shrinkage = [0, 3]

[corners]
shape = "set-back"

[cloth.night]
name = "Night blue"
colour = "#22304f"
value = "dark"
look = { kind = "stripes", colour = "#8fa0c8", size = "1/4" }
shrinkage = 3
price = 11.50

[cloth.linen]
colour = "#eee8dc"
value = "light"

[cloth.amber]
colour = "#d79a3a"
value = "medium"
from = [{ size = "20 x 18", name = "fat quarter", price = 3.25 }, { size = "10 x 27", count = 2 }]

[cloth.rust]
colour = "#8f4527"
value = "medium"

[block.lantern]
name = "Lantern"
shape = "square"
size = "12"
grid = 4
seams = [
  [0, 2, 2, 4],
  [0, 0, 1, 1, 2, 2],
  { arc = [2, 0, 0, 2], centre = [0, 0] },
  { arc = [4, 2, 2, 4], centre = [4, 4], long = true },
]
patches = { night = [[1, 3], [3, 1]], glow = [[1.2, 0.5]] }
overlay = [
  { part = "glow", outline = [[1, 1, 3, 1], { arc = [3, 1, 1, 1], centre = [2, 1] }] },
]
cloths = { glow = "amber" }
frame = "narrow"

[block.churn]
starter = "churn-dash"
size = "12"
cloths = { light = "linen", dark = "night" }

[frame.narrow]
corners = "mitred"
strips = [{ width = "1 1/2", cloth = "night" }, { width = "1", cloth = "linen" }]

[setting]
layout = "straight"
columns = 4
rows = 5
pattern = [
  ["lantern", "churn"],
  ["churn", "lantern"],
]
frame = "narrow"

[[place]]
at = "B3"
turn = 1
mirror = true
swap = { night = "rust" }
frame = "none"

[sashing]
width = "2"
cloth = "linen"
cornerstones = "amber"
around = true

[[band]]
width = "4"
cloth = "night"
corners = "butted"
cut = "along"

[binding]
cloth = "night"
width = "2 1/4"
on = "bias"

[backing]
cloth = "linen"
oversize = "1 1/2"

[batting]
name = "Cotton batting"
oversize = "1"
roll = "90"
price = 12.00
packages = [{ size = "45 x 60", name = "crib", price = 16.00 }, { size = "90 x 108", name = "queen", price = 38.00 }]

[sample]
cloth = "linen"
size = "12"
count = 2

[thread]
spool = "7200"
price = 3.40

[[quilting]]
on = "lantern"
design = "in-the-ditch"

[[quilting]]
on = "lantern"
design = "outline"

[[quilting]]
on = "narrow"
design = "cable"
size = "3 x 1"
repeats = 8

[[quilting]]
on = "churn"
design = "path"
path = "M 0 0 C 1 2 3 2 4 0 S 7 -2 8 0"
size = "6 x 3"

[[quilting]]
on = "quilt"
design = "crossed"
spacing = "2"

[join]
order = "rows"
catch-batting = true
hand-minutes-a-foot = 3

[finish]
edge = "prairie-points"
cloth = "amber"
spacing = "2"

[sleeve]
cloth = "linen"

[label]
cloth = "linen"
size = "8 x 5"

[cover]
lining = "linen"
channel = "4"
ties = "20"
flap = "10"
grams = 160

[[fall]]
between = ["churn.p1", "churn.p2"]
to = "churn.p2"

[[way]]
of = "churn.p1"
use = "two"
"##);
}

/// The shortest pattern is found even where rows differ in length.
#[test]
fn patterns_are_written_as_short_as_they_repeat() {
    let page = super::reading::page();
    let pattern = |layout: &str, pattern: &str| {
        let start = page.find("layout =").expect("it has a setting");
        let end = page.find("[[place]]").expect("it has places");
        let text = format!("{}{layout}\npattern = {pattern}\n", &page[..start]);
        assert!(end > start);
        let text = write(&read(&text).unwrap_or_else(|error| panic!("{error}")));
        let line = text.split("pattern = ").nth(1).and_then(|rest| rest.split("]\n").next()).expect("it has a pattern");
        line.replace(['\n', ' '], "")
    };
    let (a, b) = ("\"lantern\"", "\"churn\"");
    let straight = "layout = \"straight\"\ncolumns = 4\nrows = 4";
    assert_eq!(
        pattern(straight, &format!("[[{a},{b},{a},{b}],[{b},{a}],[{a},{b}],[{b},{a},{b},{a}]]")),
        format!("[[{a},{b}],[{b},{a}],")
    );
    assert_eq!(pattern(straight, &format!("[[{a},{a},{a}]]")), format!("[[{a}]"));
    let on_point = "layout = \"on-point\"\ntriangles = \"linen\"\ncolumns = 3\nrows = 3";
    assert_eq!(pattern(on_point, &format!("[[{a}],[{b}]]")), format!("[[{a}],[{b}],"));
    assert_eq!(pattern(on_point, &format!("[[{a},{b},{a}]]")), format!("[[{a},{b}]"));
}

#[test]
fn lengths_are_written_so_that_they_read_back() {
    for (value, measure, text) in [
        (12.5, Measure::Inch, "\"12 1/2\""),
        (0.875, Measure::Inch, "\"7/8\""),
        (3.0, Measure::Inch, "\"3\""),
        (2.015_625, Measure::Inch, "\"2 1/64\""),
        (0.3, Measure::Inch, "\"0.3\""),
        (12.5, Measure::Centimetre, "\"12.5\""),
    ] {
        assert_eq!(exact_length(Length::new(value), measure), text);
    }
}
