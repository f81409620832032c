//! Serves a guild: its own store, one address for all its members.
//!
//! In: a folder, where to listen, and where it is reached from outside. Out: the server until it is interrupted; on the first start the first
//! keeper's invitation on standard output. TLS is not spoken: see docs/guild.md.

use crate::args::Guild;
use crate::failure::Failure;
use crate::workroom::STORE;
use seamfall_store::Store;
use seamfall_web::guild;
use tr::tr;

/// Serves until interrupted.
pub fn serve(how: &Guild) -> Result<(), Failure> {
    std::fs::create_dir_all(&how.data).map_err(|source| Failure::Write { file: how.data.clone(), source })?;
    let file = how.data.join(STORE);
    let failed = |error| Failure::Store { file: file.clone(), error };
    let store = Store::open(&file).map_err(failed)?;
    let is_new = guild::is_new(&store).map_err(failed)?;
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .worker_threads(2)
        .build()
        .map_err(|error| Failure::Guild { listen: how.listen, why: error.to_string() })?;
    runtime.block_on(async {
        let cannot = |error: std::io::Error| Failure::Guild { listen: how.listen, why: error.to_string() };
        let listener = tokio::net::TcpListener::bind(how.listen).await.map_err(cannot)?;
        let at = listener.local_addr().map_err(cannot)?;
        let address = how.address.clone().unwrap_or_else(|| guild::Address::plain(at));
        eprintln!("{}", tr!("{guild} is open at {page}, and listens at {at}", guild = how.name, page = address.page("/"), at));
        eprintln!("{}", tr!("Everything is kept in {folder}. Ctrl+C closes it.", folder = how.data.display()));
        if !address.is_encrypted() && !at.ip().is_loopback() {
            eprintln!("{}", tr!("Caution: what is sent to this address is not encrypted. Whoever is on the way can read the members' keys and use them. Put a proxy that speaks TLS in front of it and say its address with `--address https://…`, as the administrator of your network advises."));
        }
        if is_new || how.invite_keeper {
            let why = |why| Failure::Guild { listen: how.listen, why };
            let link = guild::invite_keeper(&store, &address).map_err(why)?;
            eprintln!("{}", tr!("Whoever opens this link first becomes a keeper of the guild; it holds for seven days:"));
            println!("{link}");
        }
        guild::serve(listener, store, &how.name, address).await.map_err(cannot)
    })
}
