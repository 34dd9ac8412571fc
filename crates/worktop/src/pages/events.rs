//! What other devices did, told as it happens: a stream of server-sent events.
//!
//! An event names an order and the revision it stands at, so that a page can tell its own change
//! from another's. Whoever listens too slowly is told to look again.

use crate::problem::Problem;
use crate::state::{State, Told};
use axum::extract::State as Ask;
use axum::response::Sse;
use axum::response::sse::{Event, KeepAlive};
use shop::DocumentId;
use std::convert::Infallible;
use tokio_stream::wrappers::BroadcastStream;
use tokio_stream::{Stream, StreamExt};

/// `GET /events`
pub(super) async fn events(
    Ask(state): Ask<State>,
) -> Sse<impl Stream<Item = Result<Event, Infallible>>> {
    let told = BroadcastStream::new(state.listen());
    let told = told.take_while(|t| !matches!(t, Ok(Told::Closing)));
    let events = told.then(move |told| {
        let state = state.clone();
        async move {
            Ok(match told {
                Ok(Told::Order(order)) => changed(&state, order).await,
                Ok(Told::Shelf | Told::Closing) => Event::default().event("shelf").data("{}"),
                Err(_) => Event::default().event("look").data("{}"),
            })
        }
    });
    Sse::new(events).keep_alive(KeepAlive::default())
}

async fn changed(state: &State, order: i64) -> Event {
    let head =
        state.at_desk(move |desk| desk.shop().head(DocumentId(order)).map_err(Problem::from)).await;
    let data = match head {
        Ok(head) => format!("{{\"order\":{order},\"revision\":{}}}", head.revision.id),
        // It is gone: whoever shows it should look again.
        Err(_) => format!("{{\"order\":{order},\"revision\":0}}"),
    };
    Event::default().event("order").data(data)
}
