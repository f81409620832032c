//! A workroom to test: a real server on a free port of this machine, on a store of its own.

use seamfall_store::{QuiltId, Store};
use std::net::SocketAddr;
use std::time::Duration;

/// A small quilt on which the sums can be made by hand: two by two blocks of 6 in, each of two triangles, and a band of 2 in.
pub const SMALL: &str = r##"# made by hand
format = 1
name = "Small"
measure = "inch"

[cloth.night]
name = "Night"
colour = "#203050"
value = "dark"

[cloth.day]
name = "Day"
colour = "#f0e0c0"
value = "light"

[cloth.rust]
name = "Rust"
colour = "#a04020"

[block.half]
name = "Half and half"
shape = "square"
size = "6"
grid = 2
seams = [[0, 0, 2, 2]]
patches = { dark = [[0.5, 1.5]], light = [[1.5, 0.5]] }
cloths = { dark = "night", light = "day" }

[block.plain]
name = "Plain"
shape = "square"
size = "6"
grid = 1
patches = { plain = [[0.5, 0.5]] }
cloths = { plain = "day" }

[setting]
layout = "straight"
rows = 2
columns = 2
pattern = [["half"]] # all alike

[[band]]
width = "2"
cloth = "night"
corners = "butted"
"##;

/// A server that runs until the test ends.
pub struct Served {
    /// Where it listens.
    pub address: SocketAddr,
    /// The quilt it was given.
    pub quilt: QuiltId,
    /// Folder of its store.
    pub folder: tempfile::TempDir,
    _runtime: tokio::runtime::Runtime,
}

impl Served {
    /// Serves a quilt.
    pub fn quilt(text: &str) -> Self {
        Self::quilts(&[text], Duration::from_secs(300))
    }

    /// Serves some quilts, the first of which is `~`; a request is worked at no longer than this.
    pub fn quilts(texts: &[&str], longest: Duration) -> Self {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let store = Store::open(&folder.path().join("seamfall.sqlite")).expect("a new store opens");
        let quilts = texts.iter().map(|text| seamfall_web::bring_in(&store, text, "").expect("a new store takes a quilt"));
        let quilt = quilts.collect::<Vec<_>>()[0];
        let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build().expect("a runtime");
        let listener = runtime.block_on(tokio::net::TcpListener::bind("127.0.0.1:0")).expect("a free port");
        let address = listener.local_addr().expect("it listens");
        runtime.spawn(seamfall_web::serve_hurried(listener, store, longest));
        Self { address, quilt, folder, _runtime: runtime }
    }

    /// The address of a page; `~` stands for the quilt.
    pub fn url(&self, path: &str) -> String {
        format!("http://{}{}", self.address, path.replace('~', &format!("/q/{}", self.quilt)))
    }
}
