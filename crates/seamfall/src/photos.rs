//! Photographs of cloths that lie beside a quilt file.
//!
//! One that is missing or cannot be read is told, and its cloth is shown in its colour: a drawing without it is better than none.

use seamfall_draw::{Picture, Pictures};
use seamfall_model::Quilt;
use seamfall_photo::{MOST_BYTES, Photo, PhotoError};
use std::collections::BTreeSet;
use std::fs;
use std::io::Read;
use std::path::Path;
use tr::tr;

/// The photographs that the cloths of `quilt` name, read from beside `file`, each with its name.
pub fn beside(file: &Path, quilt: &Quilt) -> Vec<(String, Photo)> {
    let looks = quilt.cloths.iter().filter_map(|cloth| cloth.look.as_ref()?.photo());
    let mut seen = BTreeSet::new();
    let mut all = Vec::new();
    for named in looks.filter(|photo| seen.insert(photo.file.clone())) {
        match read(&file.with_file_name(&named.file)) {
            Ok(photo) => {
                tell_of_other_shape(named, &photo);
                all.push((named.file.clone(), photo));
            }
            Err(why) => {
                eprintln!("{}", tr!("the photograph {file}: {why}; its cloth is shown in its colour", file = named.file, why))
            }
        }
    }
    all
}

/// A photograph that is not of the shape that the quilt file says would be shown out of proportion.
fn tell_of_other_shape(named: &seamfall_model::Photo, photo: &Photo) {
    let shape = |[across, down]: [u32; 2]| f64::from(down) / f64::from(across);
    let (said, is) = (shape(named.pixels), shape(photo.pixels));
    // A pixel more or less is what making it smaller leaves.
    if (said / is - 1.0).abs() > 0.01 {
        let [across, down] = photo.pixels;
        eprintln!(
            "{}",
            tr!(
                "the photograph {file} has another shape than the quilt file says and is drawn out of proportion; write `pixels = [{across}, {down}]`",
                file = named.file,
                across,
                down
            )
        );
    }
}

fn read(file: &Path) -> Result<Photo, String> {
    let mut bytes = Vec::new();
    let limit = u64::try_from(MOST_BYTES).unwrap_or(u64::MAX).saturating_add(1);
    let opened = fs::File::open(file).map_err(|error| error.to_string())?;
    let length = opened.metadata().map_or(0, |about| about.len());
    opened.take(limit).read_to_end(&mut bytes).map_err(|error| error.to_string())?;
    if bytes.len() > MOST_BYTES {
        return Err(PhotoError::TooManyBytes(usize::try_from(length).unwrap_or(usize::MAX)).to_string());
    }
    seamfall_photo::read(&bytes).map_err(|error| error.to_string())
}

/// They themselves, for a drawing that stands alone.
pub fn within(photos: &[(String, Photo)]) -> Pictures {
    let picture = |photo: &Photo| {
        let colours = seamfall_photo::as_address(&photo.jpeg);
        Picture { greys: colours.clone(), colours }
    };
    photos.iter().map(|(name, photo)| (name.clone(), picture(photo))).collect()
}
