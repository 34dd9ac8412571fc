//! Binding, starting, stopping.

use crate::guard::{self, Hosts};
use crate::state::{State, Told};
use crate::{api, assets, pages};
use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::middleware::{from_fn, from_fn_with_state};
use axum::routing::get;
use desk::Desk;
use std::net::{IpAddr, Ipv4Addr, SocketAddr};
use std::sync::Arc;
use tower_http::catch_panic::CatchPanicLayer;
use tower_http::compression::CompressionLayer;

/// How to serve.
#[derive(Clone, Debug)]
pub struct Options {
    /// The port; 0 takes any that is free.
    pub port: u16,
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
    let port = options.port;
    let world = |source: std::io::Error| match source.kind() {
        std::io::ErrorKind::AddrInUse => ServeError::PortTaken { port },
        _ => ServeError::World { port, source },
    };
    let address = SocketAddr::new(IpAddr::V4(Ipv4Addr::LOCALHOST), port);
    let listener = tokio::net::TcpListener::bind(address).await.map_err(world)?;
    let address = listener.local_addr().map_err(world)?;
    let state = State::new(desk, Hosts::local(address.port()));
    ready(address);
    let closing = state.clone();
    let stop = async move {
        stop.await;
        // Listening pages would hold it open.
        closing.tell(Told::Closing);
    };
    axum::serve(listener, router(&state)).with_graceful_shutdown(stop).await.map_err(world)
}
