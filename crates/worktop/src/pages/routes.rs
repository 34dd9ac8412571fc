//! The routes of the pages: what shows something, and what does something, with the operation of
//! the JSON that does the same. Whatever does something is here, as there is no other way to add it.

use crate::state::State;
use axum::Router;
use axum::handler::Handler;
use axum::routing::{get, post};

/// Who else can do what a page does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Same {
    /// Programs, by the operation of this name.
    Operation(&'static str),
    /// Nobody: this browser alone keeps it, in a cookie.
    Browser,
}

/// Routes of pages.
#[derive(Default)]
pub(crate) struct Routes {
    router: Router<State>,
    shown: Vec<&'static str>,
    done: Vec<(&'static str, Same)>,
}

impl Routes {
    /// `GET path` shows something.
    pub(crate) fn shows<H, P>(mut self, path: &'static str, handler: H) -> Routes
    where
        H: Handler<P, State>,
        P: 'static,
    {
        self.shown.push(path);
        Routes { router: self.router.route(path, get(handler)), ..self }
    }

    /// `POST path` does what this operation does.
    pub(crate) fn does<H, P>(
        self,
        path: &'static str,
        operation: &'static str,
        handler: H,
    ) -> Routes
    where
        H: Handler<P, State>,
        P: 'static,
    {
        self.posts(path, Same::Operation(operation), handler)
    }

    /// `POST path` chooses something that this browser alone keeps.
    pub(crate) fn chooses<H, P>(self, path: &'static str, handler: H) -> Routes
    where
        H: Handler<P, State>,
        P: 'static,
    {
        self.posts(path, Same::Browser, handler)
    }

    fn posts<H, P>(mut self, path: &'static str, same: Same, handler: H) -> Routes
    where
        H: Handler<P, State>,
        P: 'static,
    {
        self.done.push((path, same));
        Routes { router: self.router.route(path, post(handler)), ..self }
    }

    /// With the routes of a room.
    pub(crate) fn and(mut self, room: Routes) -> Routes {
        self.shown.extend(room.shown);
        self.done.extend(room.done);
        Routes { router: self.router.merge(room.router), ..self }
    }

    /// All of them, to be served.
    pub(crate) fn into_router(self) -> Router<State> {
        self.router
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{api, pages};
    use axum::body::Body;
    use axum::http::{Request, StatusCode, header};
    use desk::Desk;
    use shop::{Opening, Shop, SystemClock};
    use std::collections::BTreeSet;
    use std::sync::Arc;
    use tower::ServiceExt;

    #[test]
    fn whatever_a_page_does_an_operation_does() {
        let routes = pages::routes();
        let operations = api::names_of_posts();
        let named = routes.done.iter().filter_map(|(path, same)| match same {
            Same::Operation(name) => Some((path, name)),
            Same::Browser => None,
        });
        let unknown: Vec<_> = named.filter(|(_, name)| !operations.contains(*name)).collect();
        assert!(unknown.is_empty(), "no operation of this name: {unknown:?}");
        let kept_here: Vec<_> = routes.done.iter().filter(|d| d.1 == Same::Browser).collect();
        assert_eq!(
            kept_here.len(),
            2,
            "only how it looks and where the tour stands: {kept_here:?}"
        );
    }

    #[tokio::test]
    async fn no_page_does_anything_that_the_table_does_not_say() {
        let folder = tempfile::tempdir().unwrap();
        let shop = Shop::open(&folder.path().join("shop.db"), Opening::default()).unwrap();
        let zone = jiff::tz::TimeZone::UTC;
        let desk = Desk::new(Arc::new(shop), Arc::new(SystemClock), zone).unwrap();
        let served = crate::router(&State::local(Arc::new(desk), 7878));
        let routes = pages::routes();
        let done: BTreeSet<&str> = routes.done.iter().map(|d| d.0).collect();
        assert!(done.len() > 30 && routes.shown.len() > 30, "there is something to look at");
        for path in routes.shown.iter().copied().chain(done.iter().copied()) {
            let asked = path.replace("{part}", "work").replace(['{', '}'], "");
            let request = Request::post(&asked).header(header::HOST, "127.0.0.1:7878");
            let answer =
                served.clone().oneshot(request.body(Body::empty()).unwrap()).await.unwrap();
            let does = answer.status() != StatusCode::METHOD_NOT_ALLOWED;
            assert_eq!(does, done.contains(path), "POST {asked}: {}", answer.status());
        }
    }
}
