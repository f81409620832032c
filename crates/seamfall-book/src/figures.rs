//! The drawings of the book, as files for the typesetter.
//!
//! Each is named by its number, so that the names of any two books are the same few.

use seamfall_draw::{
    BlockStyle, FallSign, MarkingDrawing, Paint, PatchLabels, QuiltStyle, QuiltingSign, TemplateDrawing, bed_svg, block_svg,
    corner_template_svg, cross_section_svg, edge_template_svg, falls_svg, finish_steps_svg, foundation_svg, join_map_svg,
    join_step_svg, marking_svg, pressing_svg, quilt_svg, quilting_svg, section_svg, setting_svg, sign_svg, template_svg,
    unit_svg,
};
use seamfall_model::{BlockId, ClothId, Quilt};
use seamfall_plan::{
    Plan,
    draft::Draft,
    piece::{Foundation, Unit},
};
use serde::Serialize;
use std::collections::BTreeMap;

/// A drawing and its words.
#[derive(Debug, Serialize)]
pub struct Figure {
    /// Its name.
    pub path: String,
    /// What it shows, for those who hear the book.
    pub alt: String,
}

/// Drawings made so far.
#[derive(Debug)]
pub struct Figures {
    /// What is shown of the cloths.
    pub paint: Paint,
    /// The hatching of each cloth that was asked for.
    cloths: BTreeMap<ClothId, String>,
    svgs: Vec<String>,
}

impl Figures {
    /// None yet.
    pub fn new(paint: Paint) -> Self {
        Self { paint, cloths: BTreeMap::new(), svgs: Vec::new() }
    }

    /// What stands for a cloth beside its name: its colour, or the drawing of its hatching.
    pub fn swatch(&mut self, quilt: &Quilt, cloth: ClothId) -> String {
        if self.paint != Paint::Signs {
            return quilt.cloths[cloth.0].colour.hex();
        }
        if let Some(drawn) = self.cloths.get(&cloth) {
            return drawn.clone();
        }
        let drawn = self.add(sign_svg(quilt, cloth));
        self.cloths.insert(cloth, drawn.clone());
        drawn
    }

    fn add(&mut self, svg: String) -> String {
        self.svgs.push(svg);
        path(self.svgs.len())
    }

    /// A drawing at full size, with its width and height in inches of paper.
    fn full_size(&mut self, quilt: &Quilt, drawing: TemplateDrawing) -> (String, (f64, f64)) {
        let inch = quilt.measure.inch();
        (self.add(drawing.svg), (drawing.width / inch, drawing.height / inch))
    }

    /// The whole top.
    pub fn quilt(&mut self, quilt: &Quilt, plan: &Plan) -> String {
        self.add(quilt_svg(quilt, plan, &QuiltStyle { paint: self.paint, ..QuiltStyle::default() }))
    }

    /// The setting with the names of places and lap sections.
    pub fn setting(&mut self, quilt: &Quilt, plan: &Plan) -> String {
        self.add(setting_svg(quilt, plan))
    }

    /// A block with the letters of its templates and the numbers of its cloths.
    pub fn block(&mut self, quilt: &Quilt, plan: &Plan, id: BlockId) -> String {
        let style = BlockStyle { labels: PatchLabels::LettersAndCloths, paint: self.paint, ..BlockStyle::default() };
        self.add(block_svg(quilt, &plan.drafts[id.0], id, &style))
    }

    /// A unit with the seams of its step.
    pub fn unit(&mut self, quilt: &Quilt, unit: &Unit) -> String {
        self.add(unit_svg(quilt, unit, self.paint))
    }

    /// How a block is pressed.
    pub fn pressing(&mut self, quilt: &Quilt, plan: &Plan, design: usize, pressing: usize) -> String {
        self.add(pressing_svg(quilt, plan, (design, pressing), self.paint))
    }

    /// How cloth is cut up.
    pub fn cloth(&mut self, svg: String) -> String {
        self.add(svg)
    }

    /// How the whole top is pressed; `labels` name the chart of each place.
    pub fn falls(&mut self, quilt: &Quilt, plan: &Plan, labels: &[String]) -> String {
        self.add(falls_svg(quilt, plan, labels, self.paint))
    }

    /// A sign of the charts.
    pub fn sign(&mut self, sign: FallSign) -> String {
        self.add(sign.svg())
    }

    /// The quilting over the joined quilt.
    pub fn quilting(&mut self, quilt: &Quilt, plan: &Plan) -> String {
        self.add(quilting_svg(quilt, plan))
    }

    /// A sign of the quilting.
    pub fn quilting_sign(&mut self, sign: QuiltingSign) -> String {
        self.add(sign.svg())
    }

    /// A section with its paths.
    pub fn section(&mut self, quilt: &Quilt, plan: &Plan, section: usize) -> Option<String> {
        Some(self.add(section_svg(quilt, plan, section, false)?.svg))
    }

    /// The joins of the whole quilt.
    pub fn join_map(&mut self, quilt: &Quilt, plan: &Plan) -> String {
        self.add(join_map_svg(quilt, plan))
    }

    /// A join cut across.
    pub fn join_across(&mut self, quilt: &Quilt, plan: &Plan) -> String {
        self.add(cross_section_svg(quilt, &plan.join.manner.section))
    }

    /// What is done at one join.
    pub fn join_step(&mut self, quilt: &Quilt, plan: &Plan, step: usize) -> Option<String> {
        Some(self.add(join_step_svg(quilt, plan, step)?))
    }

    /// The lines to mark on a section, and the drawing itself.
    pub fn marking(&mut self, quilt: &Quilt, plan: &Plan, section: usize, mirrored: bool) -> Option<(String, MarkingDrawing)> {
        let drawing = marking_svg(quilt, plan, section, mirrored)?;
        Some((self.add(drawing.svg.clone()), drawing))
    }

    /// A template, with its width and height in inches of paper.
    pub fn template(&mut self, quilt: &Quilt, draft: &Draft, block: BlockId, template: usize) -> Option<(String, (f64, f64))> {
        Some(self.full_size(quilt, template_svg(quilt, draft, block, template)?))
    }

    /// A section of a foundation, with its width and height in inches of paper; for mirrored blocks where `of` says so.
    pub fn foundation(
        &mut self,
        quilt: &Quilt,
        draft: &Draft,
        of: (BlockId, bool),
        foundation: &Foundation,
        section: usize,
    ) -> Option<(String, (f64, f64))> {
        Some(self.full_size(quilt, foundation_svg(quilt, draft, of, foundation, section)?))
    }

    /// How a part of the finish is made, where that is drawn.
    pub fn finish_steps(&mut self, quilt: &Quilt, plan: &Plan, question: &str) -> Option<String> {
        Some(self.add(finish_steps_svg(quilt, plan, question)?))
    }

    /// The template of a curved edge, with its width and height in inches of paper.
    pub fn edge_template(&mut self, quilt: &Quilt, plan: &Plan) -> Option<(String, (f64, f64))> {
        Some(self.full_size(quilt, edge_template_svg(plan.finish.curved.as_ref()?, quilt.measure)))
    }

    /// The quilt on its bed.
    pub fn bed(&mut self, quilt: &Quilt, plan: &Plan) -> Option<String> {
        Some(self.add(bed_svg(quilt, plan)?))
    }

    /// The template of a changed corner, with its width and height in inches of paper.
    pub fn corner_template(&mut self, quilt: &Quilt, plan: &Plan, corner: usize) -> Option<(String, (f64, f64))> {
        Some(self.full_size(quilt, corner_template_svg(quilt, &plan.top, corner)?))
    }

    /// All drawings by name.
    pub fn into_files(self) -> BTreeMap<String, Vec<u8>> {
        (1..).zip(self.svgs).map(|(number, svg)| (path(number), svg.into_bytes())).collect()
    }
}

fn path(number: usize) -> String {
    format!("/figure/{number}.svg")
}
