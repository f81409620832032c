//! Starts the workroom: the store in the user's data folder, a server on this machine alone, the user's browser.

use crate::args::Workroom;
use crate::failure::Failure;
use crate::files;
use crate::photos;
use seamfall_photo::Photo;
use seamfall_store::NewPhoto;
use std::path::{Path, PathBuf};
use tr::tr;

/// The file of the store, in its folder.
pub const STORE: &str = "seamfall.sqlite";

/// Runs the workroom until it is interrupted; with a file, brings that and its ledger in first.
pub fn start(file: Option<&Path>, how: &Workroom) -> Result<(), Failure> {
    let bring_in = file.map(texts).transpose()?;
    let folder = data_folder(how.data.as_deref())?;
    std::fs::create_dir_all(&folder).map_err(|source| Failure::Write { file: folder.clone(), source })?;
    let file = folder.join(STORE);
    let failed = |error| Failure::Store { file: file.clone(), error };
    let store = seamfall_store::Store::open(&file).map_err(failed)?;
    let first = match bring_in {
        Some(Brought { text, ledger, photos }) => {
            let id = seamfall_web::bring_in(&store, &text, &ledger).map_err(failed)?;
            for (name, photo) in &photos {
                let new = NewPhoto { name, hash: &photo.hash, bytes: &photo.jpeg, luminance: photo.luminance };
                store.put_photo(id, new).map_err(failed)?;
            }
            id
        }
        None => seamfall_web::last_or_demo(&store).map_err(failed)?,
    };
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .worker_threads(2)
        .build()
        .map_err(|error| Failure::Workroom(error.to_string()))?;
    runtime.block_on(async {
        let listener =
            tokio::net::TcpListener::bind(("127.0.0.1", how.port)).await.map_err(|error| Failure::Workroom(error.to_string()))?;
        let address = listener.local_addr().map_err(|error| Failure::Workroom(error.to_string()))?;
        let page = format!("http://{address}/q/{first}");
        eprintln!("{}", tr!("The workroom is open at {page}", page));
        eprintln!("{}", tr!("Everything is kept in {folder}. Ctrl+C closes the workroom.", folder = folder.display()));
        if !how.no_browser && open::that_detached(&page).is_err() {
            eprintln!("{}", tr!("No browser could be opened: open the address above yourself."));
        }
        seamfall_web::serve(listener, store).await.map_err(|error| Failure::Workroom(error.to_string()))
    })
}

/// A quilt file with what lies beside it.
struct Brought {
    text: String,
    ledger: String,
    photos: Vec<(String, Photo)>,
}

/// The texts of a quilt file and of the ledger beside it, both of which have been read, and the photographs beside them.
fn texts(file: &Path) -> Result<Brought, Failure> {
    let (quilt, _) = crate::read(file)?;
    let ledger = files::ledger(file)?.map_or_else(String::new, |(_, text)| text);
    Ok(Brought { text: files::read(file)?, ledger, photos: photos::beside(file, &quilt) })
}

/// The folder of the store.
pub fn data_folder(said: Option<&Path>) -> Result<PathBuf, Failure> {
    match said {
        Some(folder) => Ok(folder.to_owned()),
        None => Ok(directories::ProjectDirs::from("", "", "Seamfall").ok_or(Failure::NoFolder)?.data_dir().to_owned()),
    }
}
