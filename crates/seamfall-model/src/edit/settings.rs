//! Settings of a whole quilt at once, as the search for a size finds them: sizes and numbers change, what stands in the quilt stays.

use super::{Edit, EditError, NewSettings, Scalar, add, path, place};
use crate::{ClothId, Layout, Quilt};
use toml_edit::{DocumentMut, Item};

/// Layout, numbers, then every width by its path in the file, so that the comments beside it stay.
pub(super) fn take(doc: &mut DocumentMut, quilt: &Quilt, new: &NewSettings) -> Result<(), EditError> {
    let layout = if new.on_point.is_some() { Layout::OnPoint { triangles: ClothId(0) } } else { Layout::Straight };
    lay_out(doc, quilt, new.on_point.as_deref())?;
    place::resize(doc, quilt, layout, new.rows, new.columns)?;
    let mut put = |path: &[&str], width: &str| set(doc, path, width);
    for (key, size) in &new.blocks {
        put(&["block", key, "size"], size)?;
    }
    for (key, width) in &new.frames {
        let strips = quilt.frames.iter().find(|frame| frame.key == *key).map_or(0, |frame| frame.strips.len());
        put(&["frame", key, "strips", &strips.saturating_sub(1).to_string(), "width"], width)?;
    }
    if let Some(width) = &new.sashing {
        put(&["sashing", "width"], width)?;
    }
    for (number, width) in new.bands.iter().enumerate() {
        if number < quilt.bands.len() {
            set(doc, &["band", &number.to_string(), "width"], width)?;
        } else {
            add::band(doc, width, &new.band_cloth)?;
        }
    }
    Ok(())
}

fn lay_out(doc: &mut DocumentMut, quilt: &Quilt, triangles: Option<&str>) -> Result<(), EditError> {
    let was_on_point = matches!(quilt.setting.layout, Layout::OnPoint { .. });
    match triangles {
        Some(_) if was_on_point => Ok(()),
        Some(cloth) => {
            set(doc, &["setting", "layout"], "on-point")?;
            set(doc, &["setting", "triangles"], cloth)
        }
        None => {
            if quilt.setting.layout != Layout::Straight {
                set(doc, &["setting", "layout"], "straight")?;
            }
            if let Some(setting) = doc.get_mut("setting").and_then(Item::as_table_like_mut) {
                for key in ["triangles", "filler"] {
                    setting.remove(key);
                }
            }
            Ok(())
        }
    }
}

fn set(doc: &mut DocumentMut, path: &[&str], value: &str) -> Result<(), EditError> {
    let path: Vec<String> = path.iter().map(|&step| step.to_owned()).collect();
    path::set(doc, &path, &Scalar::Text(value.to_owned()))
}

impl From<NewSettings> for Edit {
    fn from(new: NewSettings) -> Self {
        Self::Settings(new)
    }
}
