//! Strips that lose little, made of pieces, stacks, rows of these and columns of rows.
//!
//! In: what is still wanted, and what a piece of each kind is worth. Out: for any height the best strip found. Level by level, each
//! filled by the table: stacks of pieces of nearly one width; rows of pieces and stacks of nearly one height; columns of rows;
//! at last strips of pieces, stacks and columns. How many levels there are is the limit of stages. Only what is nearly full
//! is kept on the way, for a strip cannot be fuller than its parts.

use std::rc::Rc;

use super::table::{Cell, Item, Used, blocks, fill, is_new};
use crate::grid::{Grid, Lie};
use crate::layout::{Content, Panel};

/// Most parts of one strip's table, best first. Found by trying.
const MOST_PARTS: usize = 20;
/// The loss that is supposed at first when a strip is filled.
const LITTLE: f32 = 0.02;
/// Most heights of rows.
const MOST_ROWS: usize = 70;

/// A rectangle of pieces.
#[derive(Debug)]
pub(crate) struct Block<const N: usize> {
    pub width: u32,
    pub height: u32,
    pub used: Used<N>,
    pub made: Made<N>,
}

/// How a block is made.
#[derive(Debug)]
pub(crate) enum Made<const N: usize> {
    /// One piece, by its lie.
    Piece(Lie),
    Across(Vec<Rc<Block<N>>>),
    Along(Vec<Rc<Block<N>>>),
}

impl<const N: usize> Block<N> {
    /// The panel in ticks.
    pub fn panel(&self, grid: &Grid) -> Panel {
        let parts = |parts: &[Rc<Self>]| parts.iter().map(|part| part.panel(grid)).collect();
        let content = match &self.made {
            Made::Piece(lie) => Content::Piece { kind: lie.kind, turned: lie.turned },
            Made::Across(blocks) => Content::Across(parts(blocks)),
            Made::Along(blocks) => Content::Along(parts(blocks)),
        };
        Panel { width: grid.side(self.width), height: grid.side(self.height), content }
    }

    pub fn across(parts: Vec<Rc<Self>>) -> Rc<Self> {
        if let [only] = &parts[..] {
            return only.clone();
        }
        let width = parts.iter().map(|part| part.width).sum();
        let height = parts.iter().map(|part| part.height).max().unwrap_or(0);
        Rc::new(Self { width, height, used: sum(&parts), made: Made::Across(parts) })
    }

    pub fn along(parts: Vec<Rc<Self>>) -> Rc<Self> {
        if let [only] = &parts[..] {
            return only.clone();
        }
        let height = parts.iter().map(|part| part.height).sum();
        let width = parts.iter().map(|part| part.width).max().unwrap_or(0);
        Rc::new(Self { width, height, used: sum(&parts), made: Made::Along(parts) })
    }
}

fn sum<const N: usize>(parts: &[Rc<Block<N>>]) -> Used<N> {
    parts.iter().fold(Used::NONE, |sum, part| sum.plus(&part.used))
}

/// What pieces are worth, by kind; about one for each square step.
pub(crate) struct Values<const N: usize>(pub [f32; N]);

impl<const N: usize> Values<N> {
    pub fn of(&self, used: &Used<N>) -> f32 {
        self.0.iter().zip(&used.0).map(|(value, &count)| value * f32::from(count)).sum()
    }
}

/// A row table: all rows of one height.
struct Rows<const N: usize> {
    height: u32,
    parts: Vec<Rc<Block<N>>>,
    items: Vec<Item<N>>,
    cells: Vec<Cell<N>>,
}

/// A column table: all columns of one width.
struct Column<const N: usize> {
    width: u32,
    /// Which row table each item is.
    rows: Vec<usize>,
    items: Vec<Item<N>>,
    cells: Vec<Cell<N>>,
}

/// Everything that strips can be made of.
pub(crate) struct Library<'a, const N: usize> {
    grid: &'a Grid,
    /// Limit of stages.
    pub stages: u8,
    values: Values<N>,
    pieces: Vec<Rc<Block<N>>>,
    /// With their value.
    stacks: Vec<(f32, Rc<Block<N>>)>,
    rows: Vec<Rows<N>>,
    columns: Vec<Column<N>>,
    /// Highest strip with columns of any width.
    pub highest: u32,
    /// What a stack, row or column may lose of its area.
    loss: f32,
}

impl<'a, const N: usize> Library<'a, N> {
    /// Builds all levels for what is `left`. Strips are no higher than `highest`, tall pieces apart.
    pub fn new(
        grid: &'a Grid,
        stages: u8,
        left: &Used<N>,
        values: Values<N>,
        (highest, loss): (u32, f32),
        steps: &mut u64,
    ) -> Self {
        let pieces = grid.lies.iter().filter(|lie| left.0[lie.kind] > 0).map(|lie| Rc::new(piece(lie))).collect();
        let mut library =
            Self { grid, stages, values, pieces, stacks: Vec::new(), rows: Vec::new(), columns: Vec::new(), highest, loss };
        if stages >= 3 {
            library.stack(left, steps);
        }
        if stages >= 4 {
            library.row(stages >= 5, left, steps);
            library.column(left, steps);
        }
        library
    }

    /// Widest column.
    fn widest(&self) -> u32 {
        self.grid.width * 7 / 10
    }

    /// Least value for its length that is nearly full when it is `across` the other way.
    fn least(&self, across: u32) -> f32 {
        (1.0 - self.loss) * across as f32
    }

    /// Whether a value nearly fills an area.
    fn full(&self, value: f32, width: u32, height: u32) -> bool {
        value >= (1.0 - self.loss) * width as f32 * height as f32
    }

    fn item(&self, size: u32, block: &Block<N>) -> Item<N> {
        item_of(size, block, &self.values)
    }

    fn stack(&mut self, left: &Used<N>, steps: &mut u64) {
        let mut widths: Vec<u32> = self.pieces.iter().map(|piece| piece.width).collect();
        widths.sort_unstable();
        widths.dedup();
        for width in widths {
            let near = |piece: &&Rc<Block<N>>| {
                piece.width <= width && piece.height <= self.highest && self.full(piece.width as f32, width, 1)
            };
            let parts: Vec<Rc<Block<N>>> = self.pieces.iter().filter(near).cloned().collect();
            let items: Vec<Item<N>> = parts.iter().map(|part| self.item(part.height, part)).collect();
            let cells = fill(&items, self.highest, left, self.least(width), steps);
            for height in 1..=self.highest {
                let cell = &cells[height as usize];
                if is_new(&cells, height as usize) && self.full(cell.value, width, height) {
                    let made = blocks(&cells, &items, height as usize);
                    if made.len() > 1 {
                        let stack = Block::along(made.into_iter().map(|part| parts[part].clone()).collect());
                        self.stacks.push((cell.value, stack));
                    }
                }
            }
        }
    }

    /// The pieces, and the stacks if wanted, that nearly reach `height`.
    fn reaching(&self, height: u32, stacks: bool) -> Vec<Rc<Block<N>>> {
        let near = |block: &&Rc<Block<N>>| block.height <= height && self.full(block.height as f32, 1, height);
        let stacks = self.stacks.iter().map(|stack| &stack.1).filter(|_| stacks);
        self.pieces.iter().chain(stacks).filter(near).cloned().collect()
    }

    /// Heights of rows: those of pieces, and of stacks if wanted.
    fn row_heights(&self, stacks: bool) -> Vec<u32> {
        let mut heights: Vec<u32> =
            self.pieces.iter().map(|piece| piece.height).filter(|&height| height <= self.highest).collect();
        heights.sort_unstable();
        heights.dedup();
        if stacks {
            let mut more: Vec<u32> = self.stacks.iter().map(|stack| stack.1.height).collect();
            more.sort_unstable();
            more.dedup();
            more.retain(|height| !heights.contains(height));
            more.truncate(MOST_ROWS.saturating_sub(heights.len()));
            heights.extend(more);
        }
        heights
    }

    fn row(&mut self, stacks: bool, left: &Used<N>, steps: &mut u64) {
        for height in self.row_heights(stacks) {
            let parts = self.reaching(height, stacks);
            let items: Vec<Item<N>> = parts.iter().map(|part| self.item(part.width, part)).collect();
            let cells = fill(&items, self.widest(), left, self.least(height), steps);
            self.rows.push(Rows { height, parts, items, cells });
        }
    }

    fn column(&mut self, left: &Used<N>, steps: &mut u64) {
        for width in 1..=self.widest() {
            let good = |rows: &Rows<N>| self.full(rows.cells[width as usize].value, width, rows.height);
            let rows: Vec<usize> = (0..self.rows.len()).filter(|&number| good(&self.rows[number])).collect();
            if !rows.iter().any(|&number| is_new(&self.rows[number].cells, width as usize)) {
                continue;
            }
            let item = |&number: &usize| {
                let rows = &self.rows[number];
                let cell = &rows.cells[width as usize];
                Item { size: rows.height, value: cell.value, used: cell.used }
            };
            let items: Vec<Item<N>> = rows.iter().map(item).collect();
            let cells = fill(&items, self.highest, left, self.least(width), steps);
            self.columns.push(Column { width, rows, items, cells });
        }
    }

    /// The best strip of this height within what is `left`, if there is any worth `floor`, with its value.
    pub fn strip(
        &self,
        height: u32,
        left: &Used<N>,
        values: &Values<N>,
        floor: f32,
        steps: &mut u64,
    ) -> Option<(f32, Rc<Block<N>>)> {
        let mut items = Vec::new();
        let mut parts = Vec::new();
        *steps += (self.columns.len() + self.stacks.len()) as u64 / 2;
        // Low pieces lose most of a strip; they are of use only at the end.
        let few = left.0.iter().map(|&count| u32::from(count)).sum::<u32>() <= 40;
        let high_enough = |block: &Block<N>| few || 2 * block.height >= height;
        for block in self.pieces.iter().filter(|block| block.height <= height && high_enough(block) && block.used.within(left)) {
            items.push(item_of(block.width, block, values));
            parts.push(Part::Block(block.clone()));
        }
        let mut more: Vec<(f32, Item<N>, Part<N>)> = Vec::new();
        for (value, block) in self.stacks.iter().filter(|(_, block)| block.height <= height) {
            if self.full(*value, block.width, height) && block.used.within(left) {
                let item = item_of(block.width, block, values);
                more.push((item.value / item.size as f32, item, Part::Block(block.clone())));
            }
        }
        for (number, column) in self.columns.iter().enumerate() {
            let Some(cell) = column.cells.get(height as usize) else { break };
            if self.full(cell.value, column.width, height) && cell.used.within(left) {
                let item = Item { size: column.width, value: values.of(&cell.used), used: cell.used };
                more.push((item.value / item.size as f32, item, Part::Column(number)));
            }
        }
        more.sort_by(|a, b| b.0.total_cmp(&a.0).then(b.1.size.cmp(&a.1.size)));
        more.truncate(MOST_PARTS);
        for (_, item, part) in more {
            items.push(item);
            parts.push(part);
        }
        let (value, chosen) = densest(&items, self.grid.width, left, floor, steps)?;
        if chosen.is_empty() {
            return None;
        }
        let chosen = chosen.into_iter().map(|number| match &parts[number] {
            Part::Block(block) => block.clone(),
            Part::Column(column) => self.build(&self.columns[*column], height),
        });
        Some((value, Block::across(chosen.collect())))
    }

    /// The best column of this size within what is `left`, if it takes any piece, with its value: a column of rows, or when `single` of
    /// pieces one above the other. Built for itself: a column in a zone of long bands may be as long as the bands.
    pub fn long_column(
        &self,
        (width, height): (u32, u32),
        single: bool,
        left: &Used<N>,
        values: &Values<N>,
        steps: &mut u64,
    ) -> Option<(f32, Rc<Block<N>>)> {
        let rows: Vec<Rc<Block<N>>> = if single {
            self.pieces.iter().filter(|piece| piece.width <= width && piece.used.within(left)).cloned().collect()
        } else {
            let heights = self.row_heights(self.stages >= 5);
            heights
                .into_iter()
                .filter(|&high| high <= height)
                .filter_map(|high| self.long_row(width, high, left, values, steps))
                .collect()
        };
        let items: Vec<Item<N>> = rows.iter().map(|row| item_of(row.height, row, values)).collect();
        let cells = fill(&items, height, left, 0.0, steps);
        let chosen = blocks(&cells, &items, height as usize);
        let value = cells[height as usize].value;
        (!chosen.is_empty()).then(|| (value, Block::along(chosen.into_iter().map(|row| rows[row].clone()).collect())))
    }

    fn long_row(&self, width: u32, height: u32, left: &Used<N>, values: &Values<N>, steps: &mut u64) -> Option<Rc<Block<N>>> {
        let mut parts = self.reaching(height, self.stages >= 5);
        parts.retain(|part| part.used.within(left) && part.width <= width);
        let items: Vec<Item<N>> = parts.iter().map(|part| item_of(part.width, part, values)).collect();
        let cells = fill(&items, width, left, 0.0, steps);
        let chosen = blocks(&cells, &items, width as usize);
        (!chosen.is_empty()).then(|| Block::across(chosen.into_iter().map(|part| parts[part].clone()).collect()))
    }

    /// The pieces that may be laid, each by itself.
    pub fn pieces(&self) -> &[Rc<Block<N>>] {
        &self.pieces
    }

    fn build(&self, column: &Column<N>, height: u32) -> Rc<Block<N>> {
        let rows = blocks(&column.cells, &column.items, height as usize).into_iter().map(|number| {
            let rows = &self.rows[column.rows[number]];
            let parts = blocks(&rows.cells, &rows.items, column.width as usize);
            Block::across(parts.into_iter().map(|part| rows.parts[part].clone()).collect())
        });
        Block::along(rows.collect())
    }

    /// Heights of pieces that are still wanted, lowest first.
    pub fn heights(&self, left: &Used<N>) -> Vec<u32> {
        let mut heights: Vec<u32> =
            self.pieces.iter().filter(|block| block.used.within(left)).map(|block| block.height).collect();
        heights.sort_unstable();
        heights.dedup();
        heights
    }

    /// Heights at which columns are full, with the width of the columns that are.
    pub fn promising(&self) -> Vec<u32> {
        (1..=self.highest)
            .filter(|&height| {
                self.columns.iter().any(|column| {
                    is_new(&column.cells, height as usize) && self.full(column.cells[height as usize].value, column.width, height)
                }) || self.stacks.iter().any(|stack| stack.1.height == height)
            })
            .collect()
    }
}

/// The most value in `room` and the places of its items, if it is `floor` or more. First as if next to nothing were lost, which is quick,
/// then with no more lost than by a greedy filling.
fn densest<const N: usize>(
    items: &[Item<N>],
    room: u32,
    left: &Used<N>,
    floor: f32,
    steps: &mut u64,
) -> Option<(f32, Vec<usize>)> {
    let most = items.iter().map(|item| item.value / item.size as f32).fold(0.0, f32::max);
    let floor = floor / room as f32;
    let least = (greedy(items, room, left) / room as f32).max(floor);
    let guess = [(1.0 - LITTLE) * most].into_iter().filter(|&guess| guess > least);
    for least in guess.chain([least, floor]) {
        // An item that loses more by itself has no place.
        let may_lose = (most - least) * room as f32;
        let fitting: Vec<usize> =
            (0..items.len()).filter(|&item| most * items[item].size as f32 - items[item].value <= may_lose).collect();
        let fewer: Vec<Item<N>> = fitting.iter().map(|&item| items[item]).collect();
        let cells = fill(&fewer, room, left, least, steps);
        let value = cells[room as usize].value;
        if value >= least * room as f32 {
            let chosen = blocks(&cells, &fewer, room as usize);
            return Some((value, chosen.into_iter().map(|item| fitting[item]).collect()));
        }
    }
    None
}

/// Value of the densest items, each as often as it goes in.
fn greedy<const N: usize>(items: &[Item<N>], room: u32, left: &Used<N>) -> f32 {
    let mut order: Vec<(f32, &Item<N>)> = items.iter().map(|item| (item.value / item.size as f32, item)).collect();
    order.sort_by(|a, b| b.0.total_cmp(&a.0));
    let (mut value, mut free, mut used) = (0.0, room, Used::NONE);
    for (_, item) in order {
        while item.size <= free && used.fits_with(&item.used, left) {
            used = used.plus(&item.used);
            free -= item.size;
            value += item.value;
        }
    }
    // A little less, for the sums are rounded in another order.
    value * (1.0 - 1e-5)
}

enum Part<const N: usize> {
    Block(Rc<Block<N>>),
    Column(usize),
}

fn piece<const N: usize>(lie: &Lie) -> Block<N> {
    let mut used = Used::NONE;
    used.0[lie.kind] = 1;
    Block { width: lie.width, height: lie.height, used, made: Made::Piece(*lie) }
}

fn item_of<const N: usize>(size: u32, block: &Block<N>, values: &Values<N>) -> Item<N> {
    Item { size, value: values.of(&block.used), used: block.used }
}
