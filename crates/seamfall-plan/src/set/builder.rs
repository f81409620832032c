//! Collects blocks and strips as they are laid, gives them their names, and closes the sections.

use super::rings::{RingPart, ring};
use super::{PieceKind, PlacedBlock, Section, Top, TopPiece, divide, footprint};
use seamfall_geom::{Loop, Point, Pose, Rect, TOLERANCE, Vec2};
use seamfall_model::{ClothId, Finding, FrameChoice, PartId, Quilt, Rounding, Rule, Spot, Working, place_name, term};
use tr::tr;

/// The top while it is laid. Sections are numbered as they are opened and renamed in reading order at the end.
pub(super) struct Builder<'a> {
    pub quilt: &'a Quilt,
    places: Vec<PlacedBlock>,
    strips: Vec<TopPiece>,
    /// Direction of the seams of each section, in degrees.
    tilts: Vec<f64>,
    pub workings: Vec<Working>,
}

impl<'a> Builder<'a> {
    pub fn new(quilt: &'a Quilt) -> Self {
        Self { quilt, places: Vec::new(), strips: Vec::new(), tilts: Vec::new(), workings: Vec::new() }
    }

    /// Opens a section whose seams run at `tilt_deg`.
    pub fn open_section(&mut self, tilt_deg: f64) -> usize {
        self.tilts.push(tilt_deg);
        self.tilts.len() - 1
    }

    /// Lays the block of a place with its frame: `cell` brings the middle of the place to the top, `tilt_deg` turns it there.
    pub fn lay_place(&mut self, row: usize, number: usize, middle: Point, tilt_deg: f64, section: usize) {
        let place = &self.quilt.setting.places[row][number];
        let block = &self.quilt.blocks[place.block.0];
        let size = footprint::block_size(block);
        let mut local = Pose::shift(Vec2::new(-size.x / 2.0, -size.y / 2.0));
        if place.mirrored {
            local = local.then(Pose::mirror());
        }
        let cell = Pose::turn_deg(tilt_deg).then(Pose::shift(middle.to_vec2()));
        let pose = local.then(Pose::turn_deg(f64::from(place.turns) * 90.0)).then(cell);
        let name = place_name(row, number);
        let frame = match place.frame {
            FrameChoice::Bare => None,
            FrameChoice::Framed(id) => Some(id),
        };
        let index = self.places.len();
        self.places.push(PlacedBlock {
            name: name.clone(),
            row,
            number,
            block: place.block,
            pose,
            outline: Loop::rect(Rect::new(0.0, 0.0, size.x, size.y)).moved(pose),
            cloths: (0..block.parts.len()).map(|part| place.cloth(block, PartId(part))).collect(),
            frame,
            section,
        });
        let Some(frame) = frame else { return };
        let lying = if place.turns % 2 == 1 { Vec2::new(size.y, size.x) } else { size };
        let mut inner = Rect::from_center_size(Point::ORIGIN, (lying.x, lying.y));
        for (strip, cut) in self.quilt.frames[frame.0].strips.iter().enumerate() {
            let corners = self.quilt.frames[frame.0].corners;
            for (part, outline) in ring(inner, cut.width.value(), corners) {
                let kind = match part {
                    RingPart::Strip(side) => PieceKind::Frame { place: index, strip, side },
                    RingPart::Square(_) => PieceKind::FrameSquare { place: index, strip },
                };
                let cloth = part.cloth(corners, cut.cloth);
                let label = format!("{name}.frame{}.{}", strip + 1, part.word());
                self.lay(label, kind, cloth, outline.moved(cell), section);
            }
            inner = inner.inflate(cut.width.value(), cut.width.value());
        }
    }

    /// Lays one piece.
    pub fn lay(&mut self, name: String, kind: PieceKind, cloth: ClothId, outline: Loop, section: usize) {
        self.strips.push(TopPiece { name, kind, cloth, outline, section });
    }

    /// Lays a piece that is cut where sections end: its parts, each with its section, are numbered if there are several.
    pub fn lay_parts(&mut self, name: &str, kind: PieceKind, cloth: ClothId, parts: Vec<(Loop, usize)>) {
        let whole = parts.len() == 1;
        for (i, (part, section)) in parts.into_iter().enumerate() {
            let label = if whole { name.to_owned() } else { format!("{name}.{}", i + 1) };
            self.lay(label, kind, cloth, part, section);
        }
    }

    /// Closes the top: every section that holds something gets its outline and its name, in reading order.
    pub fn finish(mut self, size: Vec2, findings: &mut Vec<Finding>) -> Top {
        let largest = self.quilt.largest_section.value();
        let mut sections: Vec<(usize, Section)> = Vec::new();
        for (id, members) in self.members().into_iter().enumerate() {
            let outlines: Vec<&Loop> = members
                .0
                .iter()
                .map(|&i| &self.places[i].outline)
                .chain(members.1.iter().map(|&i| &self.strips[i].outline))
                .collect();
            if outlines.is_empty() {
                continue;
            }
            let outline = divide::union(&outlines);
            let level = outline.moved(Pose::turn_deg(-self.tilts[id])).bounds();
            let workings =
                [(tr!("width of the section"), level.x0, level.x1), (tr!("height of the section"), level.y0, level.y1)].map(
                    |(what, first, last)| {
                        Working::new(
                            Rule::SectionSize,
                            &what,
                            term(&tr!("last edge"), last) - term(&tr!("first edge"), first),
                            Rounding::Exact,
                        )
                    },
                );
            let section = Section {
                name: String::new(),
                outline,
                size: Vec2::new(workings[0].value, workings[1].value),
                workings,
                places: members.0,
                strips: members.1,
                kept: None,
            };
            sections.push((id, section));
        }
        let reading = |section: &Section| {
            let bounds = section.outline.bounds();
            // Whole thousandths, so that sections side by side are not told apart by rounding.
            ((-bounds.y1 * 1000.0).round() as i64, (bounds.x0 * 1000.0).round() as i64)
        };
        sections.sort_by_key(|(_, section)| reading(section));
        let mut renumbered = vec![0; self.tilts.len()];
        for (number, (id, section)) in sections.iter_mut().enumerate() {
            renumbered[*id] = number;
            section.name = format!("S{}", number + 1);
            if section.size.x.max(section.size.y) > largest + TOLERANCE {
                let measure = |x: f64| seamfall_model::Length::new(x).shown_with_unit(self.quilt.step);
                findings.push(
                    Finding::stop(
                        Spot::Section(section.name.clone()),
                        tr!(
                            "it measures {x} x {y}, more than the {largest} that a section may have",
                            x = measure(section.size.x),
                            y = measure(section.size.y),
                            largest = measure(largest)
                        ),
                    )
                    .help(tr!(
                        "no straight seam divides it further; use smaller blocks or narrower bands, or raise `largest-section`"
                    ))
                    .decide(&["largest-section"]),
                );
            }
        }
        for place in &mut self.places {
            place.section = renumbered[place.section];
        }
        for strip in &mut self.strips {
            strip.section = renumbered[strip.section];
        }
        let sections: Vec<Section> = sections.into_iter().map(|(_, section)| section).collect();
        let count = |what: &str, rule, n: usize| Working::new(rule, what, term(what, n as f64), Rounding::Whole);
        self.workings.push(count(&tr!("blocks"), Rule::Count, self.places.len()));
        self.workings.push(count(&tr!("lap sections"), Rule::Sections, sections.len()));
        Top {
            size,
            outline: Loop::rect(Rect::new(0.0, 0.0, size.x, size.y)),
            corners: Vec::new(),
            places: self.places,
            strips: self.strips,
            sections,
            workings: self.workings,
        }
    }

    /// Places and strips of every section.
    fn members(&self) -> Vec<(Vec<usize>, Vec<usize>)> {
        let mut members = vec![(Vec::new(), Vec::new()); self.tilts.len()];
        for (i, place) in self.places.iter().enumerate() {
            members[place.section].0.push(i);
        }
        for (i, strip) in self.strips.iter().enumerate() {
            members[strip.section].1.push(i);
        }
        members
    }
}
