//! What to buy of every material, and where every piece lies on it.
//!
//! In: the cut list, and how each material comes. Out: for cloth off the bolt and batting off the roll the shortest layout that was found
//! and a length that none is shorter than, made into what the shop cuts; for cloth and batting in sizes (fat quarters, scraps, packages)
//! which of them to take and how each is cut up. Where batting can be had both ways, the cheaper one is taken.

use super::kinds::{Lying, ticks_down, ticks_up};
use super::nest::Nest;
use super::{CutPiece, Cutting, Material, Way, rules};
use crate::Wanted;
use seamfall_cutting::job::{Job, JobError, Kind, Stages};
use seamfall_cutting::sheets::{FirstCut, Sheet, SheetCutting, SheetJob, cut_sheets_while};
use seamfall_cutting::{Budget, steps};
use seamfall_model::{ClothId, Finding, Length, Measure, Price, Print, Quilt, Shrinkage, Spot, Step, Supply, Working};

pub use super::kinds::{KindOf, Part, ticks_per_unit};
use tr::tr;

/// No remnant narrower than this is told of, in inches: it is hardly used again. Source: common practice.
const OFFCUT_IN: f64 = 2.0;

/// What to buy of a material.
#[derive(Debug, Clone, PartialEq)]
pub struct ToBuy {
    /// Which.
    pub of: Material,
    /// The piece that each kind of the layout is for.
    pub kinds: Vec<KindOf>,
    /// Blocks of pieces by template; see [`Part::Nest`].
    pub nests: Vec<Nest>,
    /// Whether less may be had by searching: the first answer, in which every piece by template takes its bounds, is all that was looked at.
    pub is_first: bool,
    /// Where they lie. Nothing where they cannot, which is a finding.
    pub laid: Option<Laid>,
    /// What it costs, in hundredths, where that is known.
    pub price: Option<u64>,
    /// Batting that could have been bought the other way: what that would be, in words.
    pub instead: Option<String>,
}

/// Where pieces lie.
#[derive(Debug, Clone, PartialEq)]
pub enum Laid {
    /// On a length of cloth or batting.
    OffTheBolt(Box<OffTheBolt>),
    /// On fat quarters, scraps or packages.
    OutOfSizes(OutOfSizes),
}

/// A length, and how it is cut up.
#[derive(Debug, Clone, PartialEq)]
pub struct OffTheBolt {
    /// Width and pieces, in ticks.
    pub job: Job,
    /// The layout with its bound.
    pub cutting: seamfall_cutting::Cutting,
    /// Length of the layout.
    pub needed: Working,
    /// What is bought for it.
    pub length: Working,
    /// What would have to be bought for the bound: no layout takes less.
    pub least: Working,
}

/// Sizes, and how each is cut up.
#[derive(Debug, Clone, PartialEq)]
pub struct OutOfSizes {
    /// Sizes and pieces, in ticks.
    pub job: SheetJob,
    /// Which sizes are taken and where pieces lie on them.
    pub cutting: SheetCutting,
}

impl OffTheBolt {
    /// Whether no layout needs less cloth.
    #[must_use]
    pub fn is_least(&self) -> bool {
        self.cutting.layout.length == self.cutting.bound.length
    }

    /// Whether no layout lets less be bought.
    #[must_use]
    pub fn buys_least(&self) -> bool {
        self.length.value <= self.least.value
    }
}

impl ToBuy {
    /// `1 7/8 yd`, `1.8 m`, or `4 fat quarters`.
    #[must_use]
    pub fn shown(&self, quilt: &Quilt) -> String {
        match &self.laid {
            Some(Laid::OffTheBolt(laid)) => shown_length(&laid.length, quilt.measure),
            Some(Laid::OutOfSizes(laid)) => shown_sizes(laid),
            None => tr!("cannot be cut"),
        }
    }

    /// Remnants that are worth keeping: width, length, how many; the largest first. What the shop's step and the reserve add to the length is
    /// the first of them.
    #[must_use]
    pub fn offcuts(&self, quilt: &Quilt) -> Vec<(Length, Length, u32)> {
        let least = ticks_up(quilt.step, Length::new(OFFCUT_IN * quilt.measure.inch()));
        let size = |ticks: u32| Length::new(f64::from(ticks) / f64::from(ticks_per_unit(quilt.step)));
        let told = |offcut: steps::Offcut| (size(offcut.width), size(offcut.height), offcut.count);
        match &self.laid {
            Some(Laid::OffTheBolt(laid)) => {
                let (strips, kinds) = (&laid.cutting.layout.strips, laid.job.kinds());
                let over = ticks_down(quilt.step, Length::new(laid.after_the_wash(quilt, self.of) - laid.needed.value));
                let end = (over >= least).then(|| (size(laid.job.width()), size(over), 1));
                let cut = steps::offcuts(strips, kinds, laid.job.width(), 0, least);
                end.into_iter().chain(cut.into_iter().map(told)).collect()
            }
            Some(Laid::OutOfSizes(laid)) => {
                steps::sheet_offcuts(&laid.job, &laid.cutting.sheets, least).into_iter().map(told).collect()
            }
            None => Vec::new(),
        }
    }
}

impl OffTheBolt {
    /// What the bought length measures at the table.
    fn after_the_wash(&self, quilt: &Quilt, of: Material) -> f64 {
        let shrinkage = of.cloth().map_or(Shrinkage(0), |cloth| quilt.cloths[cloth.0].shrinkage);
        self.length.value * (1.0 - shrinkage.share())
    }
}

/// `1 7/8 yd`, or `1.8 m`.
#[must_use]
pub fn shown_length(length: &Working, measure: Measure) -> String {
    match measure {
        // What a shop cuts is an eighth of a yard, so a yard of length is written as an inch of it would be.
        Measure::Inch => format!("{} yd", Length::new(length.value / 36.0).shown(Step::Eighth)),
        Measure::Centimetre => format!("{:.1} m", length.value / 100.0),
    }
}

/// `3 fat quarter, 1 crib`: sizes are called as the maker calls one of them.
fn shown_sizes(laid: &OutOfSizes) -> String {
    let taken = |number: usize| -> u32 {
        laid.cutting.sheets.iter().filter(|sheet| sheet.sheet == number).map(|sheet| sheet.times).sum()
    };
    let sizes = laid.job.sheets().iter().enumerate().map(|(number, sheet)| (taken(number), &sheet.name));
    sizes.filter(|(count, _)| *count > 0).map(|(count, name)| format!("{count} × {name}")).collect::<Vec<_>>().join(", ")
}

/// Works out what to buy; a piece that fits on nothing, and a cloth that is not used, are findings. Nothing once nobody wants it any more.
pub(super) fn derive(
    quilt: &Quilt,
    pieces: &[CutPiece],
    budget: Budget,
    findings: &mut Vec<Finding>,
    wanted: Wanted,
) -> Option<Vec<ToBuy>> {
    let cloths = (0..quilt.cloths.len()).map(|cloth| Material::Cloth(ClothId(cloth)));
    let materials = cloths.chain(quilt.batting.is_some().then_some(Material::Batting));
    let mut bought = Vec::new();
    for of in materials {
        let material = one(quilt, pieces, of, (budget, wanted), findings);
        wanted().then_some(())?;
        if let (None, Material::Cloth(cloth)) = (&material, of) {
            let key = &quilt.cloths[cloth.0].key;
            findings.push(
                Finding::note(Spot::Cloth(key.clone()), tr!("no piece is cut from it"))
                    .help(tr!("give it to a part, a frame or a band, or take it out of the file"))
                    .remove(&["cloth", key]),
            );
        }
        bought.extend(material);
    }
    Some(bought)
}

/// How long to search, and for as long as it is wanted: what was not looked at then is left out.
type Search<'a> = (Budget, Wanted<'a>);

/// What to buy of one material; nothing where it is not used.
fn one(quilt: &Quilt, pieces: &[CutPiece], of: Material, search: Search, findings: &mut Vec<Finding>) -> Option<ToBuy> {
    let own: Vec<(usize, &CutPiece)> = pieces.iter().enumerate().filter(|(_, piece)| piece.of == of).collect();
    if own.is_empty() {
        return None;
    }
    match of {
        Material::Cloth(cloth) => Some(of_cloth(quilt, cloth, &own, search, findings)),
        Material::Batting => of_batting(quilt, &own, search, findings),
    }
}

/// What to buy of a material of a plan, searched for anew.
#[must_use]
pub fn searched(quilt: &Quilt, cutting: &Cutting, bought: &ToBuy, budget: Budget) -> ToBuy {
    searched_while(quilt, cutting, bought, budget, &|| true).expect("it is wanted")
}

/// The same; nothing once nobody wants it any more, which is asked piece by piece.
pub fn searched_while(quilt: &Quilt, cutting: &Cutting, bought: &ToBuy, budget: Budget, wanted: Wanted) -> Option<ToBuy> {
    // What is to be said was said of the plan; no search changes it.
    let found = one(quilt, &cutting.pieces, bought.of, (budget, wanted), &mut Vec::new());
    wanted().then(|| found.unwrap_or_else(|| bought.clone()))
}

/// How one material comes, and what is cut from it.
struct Order<'a> {
    quilt: &'a Quilt,
    of: Material,
    own: &'a [(usize, &'a CutPiece)],
    budget: Budget,
    wanted: Wanted<'a>,
}

/// Rectangles to cut from a material.
#[derive(Default)]
struct Rectangles {
    kinds: Vec<Kind>,
    of: Vec<KindOf>,
    nests: Vec<Nest>,
}

/// A way to buy a material, laid out.
struct Offer {
    kinds: Vec<KindOf>,
    nests: Vec<Nest>,
    laid: Laid,
    price: Option<u64>,
}

fn of_cloth(quilt: &Quilt, id: ClothId, own: &[(usize, &CutPiece)], search: Search, findings: &mut Vec<Finding>) -> ToBuy {
    let cloth = &quilt.cloths[id.0];
    let order = Order { quilt, of: Material::Cloth(id), own, budget: search.0, wanted: search.1 };
    let offer = if cloth.from.is_empty() {
        order.off_the_bolt(cloth.width, cloth.print, cloth.shrinkage, cloth.price, findings)
    } else {
        order.out_of_sizes(&cloth.from, cloth.print, findings)
    };
    order.bought(offer, None)
}

fn of_batting(quilt: &Quilt, own: &[(usize, &CutPiece)], search: Search, findings: &mut Vec<Finding>) -> Option<ToBuy> {
    let batting = quilt.batting.as_ref()?;
    let order = Order { quilt, of: Material::Batting, own, budget: search.0, wanted: search.1 };
    // What does not fit on the one is no finding as long as it fits on the other.
    let (mut of_roll, mut of_packages) = (Vec::new(), Vec::new());
    let roll = batting.roll.and_then(|roll| order.off_the_bolt(roll.width, Print::None, Shrinkage(0), roll.price, &mut of_roll));
    let packages =
        if batting.packages.is_empty() { None } else { order.out_of_sizes(&batting.packages, Print::None, &mut of_packages) };
    let either = roll.is_some() || packages.is_some();
    if !either {
        findings.append(&mut of_roll);
        findings.append(&mut of_packages);
    }
    Some(match (roll, packages) {
        (Some(roll), Some(packages)) if packages.beats(&roll) => order.bought(Some(packages), Some(roll)),
        (Some(roll), other) => order.bought(Some(roll), other),
        (None, packages) => order.bought(packages, None),
    })
}

impl Offer {
    /// Whether it costs less; where a price is not known, whether it is less batting.
    fn beats(&self, other: &Self) -> bool {
        match (self.price, other.price) {
            (Some(own), Some(other)) => own < other,
            _ => self.area() < other.area(),
        }
    }

    /// What is bought, in squares of the ruler's step.
    fn area(&self) -> f64 {
        match &self.laid {
            Laid::OffTheBolt(laid) => {
                let ticks = laid.cutting.layout.length as f64 * laid.length.value / laid.needed.value;
                f64::from(laid.job.width()) * ticks
            }
            Laid::OutOfSizes(laid) => {
                let area = |sheet: &Sheet| f64::from(sheet.width) * f64::from(sheet.height);
                laid.cutting.sheets.iter().map(|cut| f64::from(cut.times) * area(&laid.job.sheets()[cut.sheet])).sum()
            }
        }
    }
}

impl Order<'_> {
    fn bought(&self, offer: Option<Offer>, other: Option<Offer>) -> ToBuy {
        let instead = other.map(|offer| self.with(offer, None)).map(|other| {
            let costs = other.price.map_or_else(String::new, |price| format!(", {}", seamfall_model::shown_money(price)));
            format!("{}{costs}", other.shown(self.quilt))
        });
        match offer {
            Some(offer) => self.with(offer, instead),
            None => {
                ToBuy { of: self.of, kinds: Vec::new(), nests: Vec::new(), is_first: false, laid: None, price: None, instead }
            }
        }
    }

    fn with(&self, Offer { kinds, nests, laid, price }: Offer, instead: Option<String>) -> ToBuy {
        let proven = match &laid {
            Laid::OffTheBolt(laid) => laid.is_least(),
            Laid::OutOfSizes(laid) => laid.cutting.price <= laid.cutting.bound,
        };
        let by_bounds = self.own.iter().any(|(_, piece)| matches!(piece.way, Way::Template { .. }));
        let is_first = self.budget == Budget::FIRST && (by_bounds || !proven);
        ToBuy { of: self.of, kinds, nests, is_first, laid: Some(laid), price, instead }
    }

    fn lying(&self, print: Print, width: Length, off_the_bolt: bool) -> Lying {
        let quilt = self.quilt;
        Lying { step: quilt.step, print, width, inch: quilt.measure.inch(), off_the_bolt, nests: self.budget != Budget::FIRST }
    }

    /// All rectangles to cut; those that `fits` does not hold for become findings.
    fn rectangles(&self, lying: Lying, fits: impl Fn(&Kind) -> bool, findings: &mut Vec<Finding>) -> Rectangles {
        let mut all = Rectangles::default();
        // A template is laid in many patterns, so that this can take as long as the search.
        for &(number, piece) in self.own.iter().take_while(|_| (self.wanted)()) {
            for (kind, mut of, nest) in lying.kinds(number, piece) {
                if !fits(&kind) {
                    findings.push(self.too_large(piece, lying.print));
                    continue;
                }
                if let Part::Nest(block) = &mut of.part {
                    *block = all.nests.len();
                }
                all.kinds.push(kind);
                all.of.push(of);
                all.nests.extend(nest);
            }
        }
        all
    }

    fn off_the_bolt(
        &self,
        width: Length,
        print: Print,
        shrinkage: Shrinkage,
        price: Option<Price>,
        findings: &mut Vec<Finding>,
    ) -> Option<Offer> {
        let quilt = self.quilt;
        let lying = self.lying(print, width, true);
        let usable = ticks_down(quilt.step, width);
        let fits = |kind: &Kind| kind.width <= usable || kind.turn && kind.height <= usable;
        let Rectangles { kinds, of, nests } = self.rectangles(lying, fits, findings);
        if kinds.is_empty() {
            return None;
        }
        let job = self.accepted(Job::new(usable, 0, stages(quilt), kinds), findings)?;
        let cutting = seamfall_cutting::cut_while(&job, self.budget, self.wanted)?;
        let length = |ticks: f64| Length::new(ticks / f64::from(ticks_per_unit(quilt.step)));
        let strips = cutting.layout.strips.iter().map(|strip| (f64::from(strip.times), length(strip.panel.height.into())));
        let needed = rules::length_needed(strips);
        let buy = |what, needed: f64| rules::length_to_buy(what, needed, shrinkage, quilt.reserve, quilt.measure);
        let (to_buy, least) =
            (buy(&tr!("length to buy"), needed.value), buy(&tr!("least to buy"), length(cutting.bound.length as f64).value()));
        let price = price.map(|price| price_of(&to_buy, price, quilt.measure));
        let laid = OffTheBolt { job, cutting, needed, length: to_buy, least };
        Some(Offer { kinds: of, nests, laid: Laid::OffTheBolt(Box::new(laid)), price })
    }

    fn out_of_sizes(&self, supplies: &[Supply], print: Print, findings: &mut Vec<Finding>) -> Option<Offer> {
        let lying = self.lying(print, Supply::widest(supplies)?, false);
        let size = |supply: &Supply| [supply.width, supply.length].map(|side| ticks_down(self.quilt.step, side));
        let fits = |kind: &Kind| {
            let within = |width, height| supplies.iter().map(size).any(|[w, h]| width <= w && height <= h);
            within(kind.width, kind.height) || kind.turn && within(kind.height, kind.width)
        };
        let Rectangles { kinds, of, nests } = self.rectangles(lying, fits, findings);
        if kinds.is_empty() {
            return None;
        }
        // Where nothing has a price, the least cloth is as good as cheapest.
        let free = supplies.iter().all(|supply| supply.price == Price(0));
        let sheet = |supply: &Supply| {
            let [width, height] = size(supply);
            let price = if free { u64::from(width) * u64::from(height) } else { supply.price.0.into() };
            Sheet { name: supply.name.clone(), width, height, price, available: supply.count }
        };
        let sheets = supplies.iter().map(sheet).collect();
        let job = SheetJob::new(sheets, 0, stages(self.quilt), FirstCut::Any, kinds);
        let job = self.accepted(job, findings)?;
        let budget = if self.budget == Budget::FIRST { Budget::QUICK } else { self.budget };
        let cutting = self.accepted(cut_sheets_while(&job, budget, self.wanted), findings)?;
        let price = if free { 0 } else { cutting.price };
        Some(Offer { kinds: of, nests, laid: Laid::OutOfSizes(OutOfSizes { job, cutting }), price: Some(price) })
    }

    /// What the engine refused becomes a finding.
    fn accepted<T>(&self, answer: Result<T, JobError>, findings: &mut Vec<Finding>) -> Option<T> {
        answer
            .map_err(|error| {
                let text = error.to_string();
                let otherwise = || (text.clone(), tr!("divide what is cut from it among several cloths"));
                let (reason, help) =
                    text.split_once(": ").map_or_else(otherwise, |(reason, help)| (reason.to_owned(), help.to_owned()));
                findings.push(Finding::stop(self.spot(), reason).help(help));
            })
            .ok()
    }

    fn spot(&self) -> Spot {
        match self.of {
            Material::Cloth(cloth) => Spot::Cloth(self.quilt.cloths[cloth.0].key.clone()),
            Material::Batting => Spot::Batting,
        }
    }

    fn too_large(&self, piece: &CutPiece, print: Print) -> Finding {
        let show = |length: f64| Length::new(length).shown_with_unit(self.quilt.step);
        let size = tr!("a piece cut {width} x {piece}", width = show(piece.width.value), piece = show(piece.length.value));
        let comes_in_sizes = match self.of {
            Material::Cloth(cloth) => !self.quilt.cloths[cloth.0].from.is_empty(),
            Material::Batting => self.quilt.batting.as_ref().is_some_and(|batting| batting.roll.is_none()),
        };
        match (comes_in_sizes, self.of.width(self.quilt)) {
            (false, Some(width)) => {
                let reason = tr!("{size} is wider than its usable width: {width}", size, width = show(width.value()));
                let help = if self.of == Material::Batting {
                    tr!("take a wider roll, or smaller sections")
                } else if print == Print::None {
                    tr!("take a wider cloth, or divide the piece by a seam")
                } else {
                    tr!("take a wider cloth, divide the piece by a seam, or let the print be turned")
                };
                Finding::stop(self.spot(), reason).help(help)
            }
            _ => Finding::stop(self.spot(), tr!("{size} fits on none of the sizes it comes in", size))
                .help(tr!("add a larger size, or divide the piece by a seam")),
        }
    }
}

fn stages(quilt: &Quilt) -> Stages {
    Stages::new(quilt.cutting_stages).expect("a quilt file is checked for it")
}

/// What a length costs, up to a hundredth.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "lengths and prices are limited and not negative")]
#[must_use]
pub fn price_of(length: &Working, price: Price, measure: Measure) -> u64 {
    let unit = if measure == Measure::Inch { 36.0 } else { 100.0 };
    (length.value / unit * f64::from(price.0) - 1e-6).ceil() as u64
}
