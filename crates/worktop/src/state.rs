//! What every route can reach.

use crate::guard::Hosts;
use crate::problem::Problem;
use crate::sharing::{Invitation, Say, Sharing};
use desk::Desk;
use std::net::SocketAddr;
use std::sync::Arc;
use tokio::sync::broadcast;

/// What every route can reach. Cheap to clone.
#[derive(Clone)]
pub struct State(Arc<Inner>);

struct Inner {
    desk: Arc<Desk>,
    hosts: Hosts,
    sharing: Option<Arc<Sharing>>,
    told: broadcast::Sender<Told>,
}

/// Something that pages on other devices want to know.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Told {
    /// The order of this number changed, or was set at the bench.
    Order(i64),
    /// The shelf changed.
    Shelf,
    /// The worktop closes: nobody need listen any more.
    Closing,
}

/// So many changes may wait for a slow listener; a slower one is told to look again.
const WAITING: usize = 64;

impl State {
    fn new(desk: Arc<Desk>, hosts: Hosts, sharing: Option<Arc<Sharing>>) -> State {
        State(Arc::new(Inner { desk, hosts, sharing, told: broadcast::Sender::new(WAITING) }))
    }

    /// Over a desk, for requests from this machine at `port`.
    pub fn local(desk: Arc<Desk>, port: u16) -> State {
        State::new(desk, Hosts::local(port), None)
    }

    /// As [`State::local`], and for paired devices at `addresses`. `say` is told each pairing code.
    ///
    /// # Errors
    /// The machine has no source of chance.
    pub fn shared(
        desk: Arc<Desk>,
        port: u16,
        addresses: Vec<SocketAddr>,
        say: Say,
    ) -> Result<State, Problem> {
        let sharing = Sharing::new(addresses, say)?;
        Ok(State::new(desk, Hosts::local(port), Some(Arc::new(sharing))))
    }

    /// What other devices need to come in; none if it is not shared.
    pub fn invitation(&self) -> Option<Invitation> {
        self.0.sharing.as_ref().map(|s| s.invitation())
    }

    /// Other devices, if it is shared.
    pub(crate) fn sharing(&self) -> Option<&Arc<Sharing>> {
        self.0.sharing.as_ref()
    }

    /// The hosts by which it may be called on this machine.
    pub(crate) fn hosts(&self) -> &Hosts {
        &self.0.hosts
    }

    /// The desk itself, for what takes no time.
    pub(crate) fn desk(&self) -> &Arc<Desk> {
        &self.0.desk
    }

    /// Does something at the desk off the threads that answer requests.
    ///
    /// # Errors
    /// What the desk says; a panic there becomes a problem, too.
    pub(crate) async fn at_desk<T, E>(
        &self,
        work: impl FnOnce(&Desk) -> Result<T, E> + Send + 'static,
    ) -> Result<T, Problem>
    where
        T: Send + 'static,
        E: Into<Problem> + Send + 'static,
    {
        let desk = Arc::clone(&self.0.desk);
        match tokio::task::spawn_blocking(move || work(&desk)).await {
            Ok(done) => done.map_err(Into::into),
            Err(_) => Err(Problem::ours()),
        }
    }

    /// Tells every listening page.
    pub(crate) fn tell(&self, told: Told) {
        // Nobody may be listening.
        let _ = self.0.told.send(told);
    }

    /// What is told from now on.
    pub(crate) fn listen(&self) -> broadcast::Receiver<Told> {
        self.0.told.subscribe()
    }
}
