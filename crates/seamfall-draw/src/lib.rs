//! SVG and DXF drawings of the plan.
//!
//! In: a quilt and its plan. Out: text, the same for the same plan on every machine. Drawings compute nothing that is sewn; they
//! place what the plan says. Units: the document's, so that a viewBox can be measured; axes are flipped once, in `page`.
//! No drawing holds a `style` attribute or element, so that a page may forbid both.

mod bed;
mod block;
mod charts;
mod cloth;
mod csv;
mod cutter;
mod dimension;
mod drafting;
mod edge;
mod falls;
mod foundation;
mod hem;
mod ink;
mod join;
mod look;
mod marking;
mod mat;
mod motif;
mod needle;
mod numbering;
mod page;
mod progress;
mod quilt;
mod quilting;
mod section;
mod setting;
mod template;
mod text;

pub use bed::{bed_svg, bed_views_svg};
pub use block::{BlockStyle, PatchLabels, block_svg, block_svg_with};
pub use charts::{falls_svg, pressing_svg, unit_svg};
pub use cloth::{ClothDrawing, cloth_svgs};
pub use csv::cut_list_csv;
pub use cutter::{section_dxf, template_dxf};
pub use drafting::{SheetAxes, drafting_svg, on_sheet, plane_on_sheet, sheet_images};
pub use edge::{bias_svg, corner_template_svg, edge_corner_svg, edge_template_svg, finish_steps_svg, point_svg};
pub use falls::{FallSign, seam_course};
pub use foundation::foundation_svg;
pub use ink::{Colours, Paint, cloth_css, sign_svg};
pub use join::{cross_section_svg, join_map_svg, join_step_svg};
pub use look::{Picture, Pictures, swatch_svg};
pub use marking::{MarkingDrawing, is_marked, marked_course, marking_svg};
pub use mat::{mat_dxf, mat_svg};
pub use needle::{DrawnStretch, design_svg, needle_way};
pub use progress::progress_svg;
pub use quilt::{Attribute, Element, QuiltDrawing, QuiltStyle, quilt_drawing, quilt_drawing_with, quilt_svg};
pub use quilting::{QuiltingSign, quilting_svg};
pub use section::{SectionDrawing, section_svg};
pub use setting::setting_svg;
pub use template::{TemplateDrawing, template_svg, template_svg_with};

/// Sets the language of this crate's words; English unless said. Once, at the start of the program.
pub fn speak(language: impl tr::Translator + 'static) {
    tr::set_translator!(language);
}
