//! Binding, starting, stopping.

use crate::guard;
use crate::sharing::Say;
use crate::state::{State, Told};
use crate::{api, assets, pages};
use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::http::StatusCode;
use axum::middleware::{from_fn, from_fn_with_state};
use axum::routing::get;
use desk::Desk;
use std::net::{IpAddr, Ipv4Addr, SocketAddr};
use std::sync::Arc;
use tokio::net::TcpListener;
use tower_http::catch_panic::CatchPanicLayer;
use tower_http::compression::CompressionLayer;
use tower_http::timeout::TimeoutLayer;

/// How to serve.
#[derive(Clone)]
pub struct Options {
    /// The port; 0 takes any that is free.
    pub port: u16,
    /// Addresses of this machine at which paired devices may reach it, too; none as a rule.
    pub share: Vec<IpAddr>,
    /// Told at every new pairing code.
    pub say: Say,
}

/// Why the worktop could not be served.
#[derive(Debug, thiserror::Error)]
pub enum ServeError {
    /// The port is taken.
    #[error("port {port} is taken by another program")]
    PortTaken {
        /// The port.
        port: u16,
    },
    /// The machine refused.
    #[error("the worktop cannot listen on port {port}: {source}")]
    World {
        /// The port.
        port: u16,
        /// What the machine said.
        source: std::io::Error,
    },
}

impl ServeError {
    /// What to do about it.
    pub fn hint(&self) -> &'static str {
        match self {
            ServeError::PortTaken { .. } => "name another with `--port`, or `--port 0` for any",
            ServeError::World { .. } => "name another port with `--port`",
        }
    }
}

/// Every route, over `state`.
pub fn router(state: &State) -> Router {
    let people = pages::router().layer(from_fn(pages::problems_as_pages));
    let rest = Router::new()
        .nest("/api", api::router())
        .route("/assets/{content}/{*file}", get(assets::serve));
    people
        .merge(rest)
        .layer(DefaultBodyLimit::max(guard::MOST_BYTES))
        .layer(CompressionLayer::new())
        .layer(TimeoutLayer::with_status_code(StatusCode::REQUEST_TIMEOUT, guard::WHOLE))
        .layer(CatchPanicLayer::custom(|_: Box<dyn std::any::Any + Send>| {
            axum::response::IntoResponse::into_response(crate::problem::Problem::ours())
        }))
        .layer(from_fn_with_state(state.clone(), guard::watch))
        .with_state(state.clone())
}

/// Serves until `stop` is done. `ready` is told the address once requests are answered.
///
/// # Errors
/// The port is taken, or the machine refuses.
pub async fn serve(
    desk: Arc<Desk>,
    options: Options,
    ready: impl FnOnce(SocketAddr),
    stop: impl Future<Output = ()> + Send + 'static,
) -> Result<(), ServeError> {
    let here = bind(IpAddr::V4(Ipv4Addr::LOCALHOST), options.port).await?;
    let address = here.local_addr().map_err(|e| world(options.port, e))?;
    let port = address.port();
    let mut listeners = vec![here];
    for ip in &options.share {
        listeners.push(bind(*ip, port).await?);
    }
    let state = if options.share.is_empty() {
        State::local(desk, port)
    } else {
        let addresses = options.share.iter().map(|ip| SocketAddr::new(*ip, port)).collect();
        let no_chance = |_| world(port, std::io::Error::other("it has no source of chance"));
        State::shared(desk, port, addresses, options.say).map_err(no_chance)?
    };
    ready(address);
    if let Some(sharing) = state.sharing() {
        sharing.say();
    }
    let (stopping, stopped) = tokio::sync::watch::channel(());
    let serving: Vec<_> = listeners
        .into_iter()
        .map(|listener| {
            let service = router(&state).into_make_service_with_connect_info::<guard::Door>();
            let mut stopped = stopped.clone();
            let over = async move {
                // The other end going away stops it, too.
                let _ = stopped.changed().await;
            };
            tokio::spawn(axum::serve(listener, service).with_graceful_shutdown(over).into_future())
        })
        .collect();
    stop.await;
    // Listening pages would hold it open.
    state.tell(Told::Closing);
    drop(stopping);
    for served in serving {
        match served.await {
            Ok(done) => done.map_err(|e| world(port, e))?,
            Err(e) => return Err(world(port, std::io::Error::other(e))),
        }
    }
    Ok(())
}

async fn bind(ip: IpAddr, port: u16) -> Result<TcpListener, ServeError> {
    TcpListener::bind(SocketAddr::new(ip, port)).await.map_err(|e| world(port, e))
}

fn world(port: u16, source: std::io::Error) -> ServeError {
    match source.kind() {
        std::io::ErrorKind::AddrInUse => ServeError::PortTaken { port },
        _ => ServeError::World { port, source },
    }
}
