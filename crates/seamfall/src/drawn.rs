//! `seamfall draw`: a drawing as SVG, DXF or PNG, or the mats of a cutting machine as a folder of both.
//!
//! In: a quilt file and what of it is drawn. Out: a file, or a new folder, there whole or not at all.

use crate::args::{Draw, DrawWhat};
use crate::asked::{Asked, say};
use crate::failure::Failure;
use crate::{files, photos, planned};
use seamfall_draw::{BlockStyle, QuiltStyle, block_svg_with, quilt_drawing_with, setting_svg, template_dxf};
use seamfall_model::{BlockId, Measure, Quilt};
use seamfall_plan::Plan;
use seamfall_plan::mats::{ClothMats, Laid, Mat, mats};
use std::path::Path;
use tr::tr;

/// Draws what is asked for, and says where it is.
pub fn draw(file: &Path, asked: &Draw) -> Result<String, Failure> {
    let (quilt, plan) = planned(file)?;
    if let Some(mat) = &asked.mat {
        return on_mats(file, (&quilt, &plan), mat, asked);
    }
    let (drawing, ending) = drawing(file, &quilt, &plan, asked)?;
    let (bytes, out) = match &asked.png {
        None => {
            let out = asked.out.clone().unwrap_or_else(|| files::beside(file, &ending));
            (drawing.into_bytes(), out)
        }
        Some(png) => {
            if ending.ends_with("dxf") {
                return Err(Failure::Picture(tr!("lines for machines are no picture; leave `--png` out")));
            }
            let picture = seamfall_book::png(&drawing, asked.width).map_err(|error| Failure::Picture(error.to_string()))?;
            (picture, png.clone())
        }
    };
    files::write(&out, &bytes)?;
    Ok(format!("{}\n", out.display()))
}

/// A drawing, and how its file ends.
fn drawing(file: &Path, quilt: &Quilt, plan: &Plan, asked: &Draw) -> Result<(String, String), Failure> {
    let side = if asked.mirrored { ".mirrored" } else { "" };
    Ok(match asked.what {
        DrawWhat::Quilt => {
            let pictures = photos::within(&photos::beside(file, quilt));
            (quilt_drawing_with(quilt, plan, &QuiltStyle::default(), &pictures).svg, "svg".to_owned())
        }
        DrawWhat::Setting => (setting_svg(quilt, plan), "setting.svg".to_owned()),
        DrawWhat::Block => {
            let id = block(quilt, asked.block.as_deref())?;
            let pictures = photos::within(&photos::beside(file, quilt));
            let drawn = block_svg_with(quilt, &plan.drafts[id.0], id, &BlockStyle::default(), &pictures);
            (drawn, format!("{}.svg", quilt.blocks[id.0].key))
        }
        DrawWhat::Templates => {
            let id = block(quilt, asked.block.as_deref())?;
            (template_dxf(quilt, &plan.drafts[id.0]), format!("{}.dxf", quilt.blocks[id.0].key))
        }
        DrawWhat::Quilting => (seamfall_draw::quilting_svg(quilt, plan), "quilting.svg".to_owned()),
        DrawWhat::Section => {
            let (number, name) = section(plan, asked.section.as_deref())?;
            let drawn = seamfall_draw::section_svg(quilt, plan, number, asked.mirrored).map(|drawing| drawing.svg);
            (drawn.expect("the section is there"), format!("{name}{side}.svg"))
        }
        DrawWhat::Lines => {
            let (number, name) = section(plan, asked.section.as_deref())?;
            let drawn = seamfall_draw::section_dxf(quilt, plan, number, asked.mirrored);
            (drawn.expect("the section is there"), format!("{name}{side}.dxf"))
        }
    })
}

fn block(quilt: &Quilt, wanted: Option<&str>) -> Result<BlockId, Failure> {
    let known = || quilt.blocks.iter().map(|block| block.key.clone()).collect();
    let key = wanted.ok_or_else(|| Failure::NoBlock { wanted: None, known: known() })?;
    let found = quilt.blocks.iter().position(|block| block.key == key).map(BlockId);
    found.ok_or_else(|| Failure::NoBlock { wanted: Some(key.to_owned()), known: known() })
}

/// A lap section by its name, which may be typed in small letters.
fn section<'a>(plan: &'a Plan, wanted: Option<&str>) -> Result<(usize, &'a str), Failure> {
    let names = || plan.top.sections.iter().map(|section| section.name.as_str());
    let known = || names().map(str::to_owned).collect();
    let name = wanted.ok_or_else(|| Failure::NoSection { wanted: None, known: known() })?;
    names()
        .enumerate()
        .find(|(_, other)| other.eq_ignore_ascii_case(name))
        .ok_or_else(|| Failure::NoSection { wanted: Some(name.to_owned()), known: known() })
}

/// A folder with every mat as DXF and as SVG, and what there is to say of them.
fn on_mats(file: &Path, (quilt, plan): (&Quilt, &Plan), size: &str, asked: &Draw) -> Result<String, Failure> {
    let mat = mat(quilt, size, asked)?;
    let all = mats(quilt, plan, &mat);
    let mut inside: Vec<(String, String)> = Vec::new();
    let mut said = String::new();
    for cloth in &all {
        let name = &quilt.cloths[cloth.cloth.0];
        let area = cloth.least(plan, &mat);
        say(
            &mut said,
            format_args!(
                "{}",
                tr!(
                    "{cloth}: mats to cut: {count}; the area alone asks for {area}",
                    cloth = name.name,
                    count = cloth.count(),
                    area
                )
            ),
        );
        for (number, laid) in (1..).zip(&cloth.mats) {
            let stem = format!("{}-{number}", name.key);
            say(&mut said, format_args!("  {stem}, {} ×: {}", laid.times, pieces(quilt, plan, cloth, laid)));
            inside.push((format!("{stem}.dxf"), seamfall_draw::mat_dxf(quilt, plan, &mat, cloth, laid)));
            inside.push((format!("{stem}.svg"), seamfall_draw::mat_svg(quilt, plan, &mat, cloth, laid)));
        }
        for piece in &cloth.pieces {
            if let Some(why) = &piece.left_out {
                say(
                    &mut said,
                    format_args!(
                        "  {}",
                        tr!("left out: {count} of {piece}: {why}", count = piece.count, piece = piece.name(quilt, plan), why)
                    ),
                );
            }
        }
    }
    inside.push(("mats.txt".to_owned(), said.clone()));
    let out = asked.out.clone().unwrap_or_else(|| files::beside(file, "mats"));
    files::create_folder(&out, &inside)?;
    Ok(format!("{said}{}\n", out.display()))
}

/// `12 of Churn dash A, 4 of Churn dash B`.
fn pieces(quilt: &Quilt, plan: &Plan, cloth: &ClothMats, laid: &Laid) -> String {
    let each =
        laid.counts(cloth).into_iter().map(|(piece, count)| tr!("{count} of {piece}", count, piece = piece.name(quilt, plan)));
    each.collect::<Vec<_>>().join(", ")
}

fn mat(quilt: &Quilt, size: &str, asked: &Draw) -> Result<Mat, Failure> {
    let typed = Asked::new(quilt.measure == Measure::Centimetre);
    let sides = typed.size(size)?;
    let gap = typed.or(asked.gap.as_ref(), [0.125, 0.3])?.value();
    let mat = Mat { width: sides.x, length: sides.y, gap, face_down: asked.face_down };
    mat.check(quilt).map_err(Failure::Length)?;
    Ok(mat)
}
