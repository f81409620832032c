//! Starts the workroom: the store in the user's data folder, a server on this machine alone, the user's browser.

use crate::args::Workroom;
use crate::failure::Failure;
use crate::files;
use crate::photos;
use seamfall_photo::Photo;
use seamfall_store::{NewPhoto, Place, Store};
use std::path::Path;
use tr::tr;

/// The file of the store, in its folder.
const STORE: &str = "seamfall.sqlite";

/// Runs the workroom until it is interrupted; with a file, brings that and its ledger in first.
pub fn start(file: Option<&Path>, how: &Workroom) -> Result<(), Failure> {
    let bring_in = file.map(texts).transpose()?;
    let place = place(how.data.as_deref(), how.database.as_deref())?;
    let failed = |error| Failure::Store { place: place.to_string(), error };
    let store = open(&place)?;
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
        eprintln!("{}", tr!("Everything is kept in {place}. Ctrl+C closes the workroom.", place));
        if !how.no_browser && open::that_detached(&page).is_err() {
            eprintln!("{}", tr!("No browser could be opened: open the address above yourself."));
        }
        seamfall_web::serve(listener, store).await.map_err(|error| Failure::Workroom(error.to_string()))
    })
}

/// Where the store is: where it is said to be, else in the user's data folder.
pub fn place(data: Option<&Path>, database: Option<&str>) -> Result<Place, Failure> {
    match place_said(data, database)? {
        Some(place) => Ok(place),
        None => {
            let user = directories::ProjectDirs::from("", "", "Seamfall").ok_or(Failure::NoFolder)?;
            Ok(Place::File(user.data_dir().join(STORE)))
        }
    }
}

/// Where the store is said to be: in a folder, in a database, or in one that the environment names.
pub fn place_said(data: Option<&Path>, database: Option<&str>) -> Result<Option<Place>, Failure> {
    if let Some(folder) = data {
        return Ok(Some(Place::File(folder.join(STORE))));
    }
    let said = std::env::var("SEAMFALL_DATABASE").ok().filter(|address| !address.is_empty());
    let server = |address: String| Place::server(&address).map_err(|error| Failure::Store { place: tr!("in a database"), error });
    database.map(str::to_owned).or(said).map(server).transpose()
}

/// Opens the store, in a folder that is made if need be. Not from within a runtime: see [`Store::at`].
pub fn open(place: &Place) -> Result<Store, Failure> {
    if let Place::File(file) = place {
        let folder = file.parent().expect("a file in a folder");
        std::fs::create_dir_all(folder).map_err(|source| Failure::Write { file: folder.to_owned(), source })?;
    }
    Store::at(place).map_err(|error| Failure::Store { place: place.to_string(), error })
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
