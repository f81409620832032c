//! Serves a guild: its own store, one address for all its members.
//!
//! In: a folder or a database, where to listen, and where it is reached from outside. Out: the server until it is interrupted; on the first start the first
//! keeper's invitation on standard output. TLS is not spoken: see docs/guild.md.

use crate::args::Guild;
use crate::failure::Failure;
use crate::workroom;
use seamfall_web::guild;
use std::future::Future;
use std::time::Duration;
use tr::tr;

/// So long those who are being answered are waited for when the server is told to close; a book takes longer, and is asked for again.
const LAST_ANSWERS: Duration = Duration::from_secs(10);

/// Serves until interrupted.
pub fn serve(how: &Guild) -> Result<(), Failure> {
    let place = workroom::place_said(how.data.as_deref(), how.database.as_deref())?.ok_or(Failure::NoPlace)?;
    let failed = |error| Failure::Store { place: place.to_string(), error };
    let cannot = |error: std::io::Error| Failure::Guild { listen: how.listen, why: error.to_string() };
    let store = workroom::open(&place)?;
    let is_new = guild::is_new(&store).map_err(failed)?;
    let listener = std::net::TcpListener::bind(how.listen).map_err(cannot)?;
    let at = listener.local_addr().map_err(cannot)?;
    let address = how.address.clone().unwrap_or_else(|| guild::Address::plain(at));
    eprintln!("{}", tr!("{guild} is open at {page}, and listens at {at}", guild = how.name, page = address.page("/"), at));
    eprintln!("{}", tr!("Everything is kept in {place}. Ctrl+C closes it.", place));
    if !address.is_encrypted() && !at.ip().is_loopback() {
        eprintln!(
            "{}",
            tr!(
                "Caution: what is sent to this address is not encrypted. Whoever is on the way can read the members' keys and use them. Put a proxy that speaks TLS in front of it and say its address with `--address https://…`, as the administrator of your network advises."
            )
        );
    }
    // Before the runtime begins: see `Store::at`.
    if is_new || how.invite_keeper {
        let link = guild::invite_keeper(&store, &address).map_err(|why| Failure::Guild { listen: how.listen, why })?;
        eprintln!("{}", tr!("Whoever opens this link first becomes a keeper of the guild; it holds for seven days:"));
        println!("{link}");
    }
    let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().worker_threads(2).build().map_err(cannot)?;
    runtime.block_on(async {
        listener.set_nonblocking(true).map_err(cannot)?;
        let listener = tokio::net::TcpListener::from_std(listener).map_err(cannot)?;
        let closes = Closes::new().map_err(cannot)?;
        let (close, closing) = tokio::sync::oneshot::channel::<()>();
        let name = how.name.clone();
        let serving = tokio::spawn(async move {
            guild::serve(listener, store, &name, address, async { closing.await.unwrap_or_default() }).await
        });
        closes.wait().await;
        drop(close);
        // Who is still being answered is waited for, and not for ever.
        if let Ok(Ok(served)) = tokio::time::timeout(LAST_ANSWERS, serving).await {
            served.map_err(cannot)?;
        }
        eprintln!("{}", tr!("{guild} is closed; everything that was answered is kept.", guild = how.name));
        Ok(())
    })
}

/// What closes the server: Ctrl+C, and what a system sends to a service that it stops.
struct Closes {
    #[cfg(unix)]
    stop: tokio::signal::unix::Signal,
}

impl Closes {
    #[cfg_attr(not(unix), expect(clippy::unnecessary_wraps, reason = "it cannot fail there"))]
    fn new() -> std::io::Result<Self> {
        Ok(Self {
            #[cfg(unix)]
            stop: tokio::signal::unix::signal(tokio::signal::unix::SignalKind::terminate())?,
        })
    }

    async fn wait(mut self) {
        let mut interrupt = std::pin::pin!(tokio::signal::ctrl_c());
        std::future::poll_fn(|turn| {
            #[cfg(unix)]
            if self.stop.poll_recv(turn).is_ready() {
                return std::task::Poll::Ready(());
            }
            interrupt.as_mut().poll(turn).map(drop)
        })
        .await;
    }
}
