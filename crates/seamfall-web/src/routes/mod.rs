//! What can be asked for.

mod api;
mod begin;
mod class;
mod cloth;
mod drape;
mod drawing;
mod edit;
mod falls;
mod files;
mod fit;
mod guild;
mod lap;
mod look;
mod own;
mod pages;
mod print;
mod sewing;
mod versions;

pub use api::{Server, api_json};
pub use guild::{LONGEST_NAME, guild};
pub use pages::scripts;

use crate::room::Room;
use crate::share;
use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::response::Redirect;
use axum::routing::{get, post};
use seamfall_model::limits::FILE_BYTES;
use std::sync::Arc;

/// All routes.
pub fn all(room: Arc<Room>) -> Router {
    Router::new()
        .route("/", get(pages::first))
        .route("/api.json", get(api::description))
        .route("/quilts", get(pages::quilts))
        .route("/q/{id}", get(pages::workroom))
        .route("/q/{id}/cloths.css", get(pages::cloths))
        .route("/assets/{name}", get(pages::asset))
        // Asked for by browsers where a page names no icon, as beside a PDF.
        .route("/favicon.ico", get(|| async { Redirect::permanent("/assets/icon.svg") }))
        .route("/starter/{file}", get(pages::starter))
        .route("/demo/{file}", get(pages::demo))
        .route("/q/{id}/state", get(edit::state))
        .route("/q/{id}/about/{element}", get(edit::about))
        .route("/q/{id}/region/{name}", get(edit::region))
        .route("/q/{id}/seam", get(edit::seam))
        .route("/q/{id}/find", get(edit::find))
        .route("/q/{id}/layer/{name}", get(edit::layer))
        .route("/q/{id}/edit", post(edit::edit))
        .route("/q/{id}/undo", post(edit::undo))
        .route("/q/{id}/redo", post(edit::redo))
        .route("/q/{id}/turning", get(falls::turning))
        .route("/q/{id}/search", post(falls::search))
        .route("/q/{id}/shuffle", post(versions::shuffle))
        .route("/q/{id}/versions", get(versions::page).post(versions::keep))
        .route("/q/{id}/versions/{version}/name", post(versions::rename))
        .route("/q/{id}/versions/{version}/drop", post(versions::let_go))
        .route("/q/{id}/versions/{version}/take", post(versions::take))
        .route("/q/{id}/versions/{version}/file", get(versions::file))
        .route("/q/{id}/versions/{version}/quilt.svg", get(versions::drawing))
        .route("/q/{id}/cloth/search", post(cloth::search))
        .route("/q/{id}/cloth/{key}/keep", post(cloth::keep))
        .route("/q/{id}/cloth/{key}", get(cloth::page))
        .route("/q/{id}/cloth/{key}/photo", post(look::bring).layer(DefaultBodyLimit::max(seamfall_photo::MOST_BYTES + 1)))
        .route("/photo/{hash}/{file}", get(look::photo))
        .route("/q/{id}/photo/{name}", get(look::file))
        .route("/q/{id}/cloth/{key}/{file}", get(cloth::drawing))
        .route("/q/{id}/drape", get(drape::page).post(drape::frame))
        .route("/q/{id}/draw", get(drawing::new))
        .route("/q/{id}/draw/{block}", get(drawing::of))
        .route("/q/{id}/drawing", post(drawing::sheet))
        .route("/q/{id}/drawing/arcs", post(drawing::arcs))
        .route("/q/{id}/drawing/save", post(drawing::save))
        .route("/q/{id}/drawing/keep", post(drawing::keep))
        .route("/q/{id}/own", get(own::all))
        .route("/q/{id}/own/{own}/take", post(own::take))
        .route("/own", post(own::import))
        .route("/own/{own}", get(own::file))
        .route("/own/{own}/name", post(own::rename))
        .route("/own/{own}/remove", post(own::remove))
        .route("/q/{id}/class", get(class::page))
        .route("/q/{id}/class/state", get(class::state))
        .route("/q/{id}/class/edit", post(class::edit))
        .route("/q/{id}/class/begin", post(class::begin))
        .route("/q/{id}/class/undo", post(class::undo))
        .route("/q/{id}/class/redo", post(class::redo))
        .route("/q/{id}/class/file", get(class::export).post(class::import))
        .route("/q/{id}/class/handouts.pdf", get(class::handouts))
        .route("/q/{id}/class/cloth/{key}/{file}", get(class::drawing))
        .route("/q/{id}/cut-list.csv", get(cloth::list))
        .route("/q/{id}/share", get(sewing::sharing).post(sewing::share))
        .route("/q/{id}/sewing", get(sewing::page))
        .route("/q/{id}/sewn", get(sewing::all_sewn))
        .route("/q/{id}/revision", get(sewing::revision))
        .route("/q/{id}/tick", post(sewing::tick))
        .route("/q/{id}/join/{file}", get(sewing::join))
        .route("/q/{id}/ledger", get(files::ledger).post(sewing::note))
        .route("/q/{id}/ledger/import", post(files::bring_ledger))
        .route("/design/{file}", get(lap::design))
        .route("/drawing", post(lap::drawing))
        .route("/q/{id}/section/{name}", get(lap::section))
        .route("/q/{id}/section/{name}/{file}", get(lap::file))
        .route("/begin", get(begin::page).post(begin::create))
        .route("/new/{demo}", post(files::new))
        .route("/import", post(files::import))
        .route("/q/{id}/remove", post(files::remove))
        .route("/q/{id}/file", get(files::export))
        .route("/q/{id}/quilt.svg", get(files::drawing))
        .route("/q/{id}/edge.svg", get(files::edge))
        .route("/q/{id}/settings", get(fit::settings))
        .route("/q/{id}/corner/{file}", get(fit::corner))
        .route("/q/{id}/plan.json", get(files::plan))
        .route("/q/{id}/book.pdf", get(print::book))
        .route("/q/{id}/print", get(print::page))
        .route("/q/{id}/quilt.png", get(print::picture))
        .route("/q/{id}/mats", get(print::all_mats))
        .route("/q/{id}/mats/{file}", get(print::mat))
        .route("/q/{id}/units/{file}", get(files::unit))
        .route("/q/{id}/templates/{block}", get(files::all_templates))
        .route("/q/{id}/templates/{block}/{file}", get(files::template))
        .fallback(pages::nothing_here)
        .layer(DefaultBodyLimit::max(FILE_BYTES))
        .with_state(room)
}

/// What can be asked for through the door to the local network.
pub fn shared(room: Arc<Room>) -> Router {
    Router::new()
        .route("/join/{key}", get(share::join))
        .route("/assets/{name}", get(pages::asset))
        .route("/q/{id}/sewing", get(sewing::shared_page))
        .route("/q/{id}/sewn", get(sewing::shared_sewn))
        .route("/q/{id}/revision", get(sewing::revision))
        .route("/q/{id}/tick", post(sewing::tick).layer(axum::middleware::from_fn(share::may_tick)))
        .route("/q/{id}/join/{file}", get(sewing::join))
        .route("/q/{id}/section/{name}", get(lap::section))
        .route("/q/{id}/section/{name}/{file}", get(lap::file))
        .fallback(pages::nothing_here)
        .with_state(room)
}

/// The position, from 0, of what a file `1.svg` draws.
fn numbered(file: &str) -> Option<usize> {
    file.strip_suffix(".svg")?.parse::<usize>().ok()?.checked_sub(1)
}

/// `Harbour lights` as `harbour-lights`: letters and digits that every system takes; `otherwise` where a name has none.
fn plain_name(name: &str, otherwise: &str) -> String {
    let plain: String = name.to_lowercase().chars().map(|c| if c.is_ascii_alphanumeric() { c } else { ' ' }).collect();
    let plain = plain.split_whitespace().collect::<Vec<_>>().join("-");
    if plain.is_empty() { otherwise.to_owned() } else { plain }
}
