//! What stands around every page: the head, the way to the rooms, how it looks.

use crate::assets;
use axum::extract::FromRequestParts;
use axum::http::{HeaderMap, header, request::Parts};
use maud::{DOCTYPE, Markup, html};
use std::convert::Infallible;

/// Which colours a person chose.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Look {
    /// As the machine says.
    #[default]
    Machine,
    /// Dark on light.
    Light,
    /// Light on dark.
    Dark,
}

impl Look {
    /// Its name in the cookie and on the form.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Look::Machine => "machine",
            Look::Light => "light",
            Look::Dark => "dark",
        }
    }

    /// When a page is shown in the dark, as a media query; `None` for never.
    fn dark_media(self) -> Option<&'static str> {
        match self {
            Look::Machine => Some("(prefers-color-scheme: dark)"),
            Look::Light => None,
            Look::Dark => Some("all"),
        }
    }

    /// Of a name.
    pub(crate) fn named(name: &str) -> Look {
        match name {
            "light" => Look::Light,
            "dark" => Look::Dark,
            _ => Look::Machine,
        }
    }
}

/// The rooms of the worktop, in the bar on top.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Here {
    /// Orders.
    Orders,
    /// The shelf.
    Shelf,
    /// The bench.
    Bench,
    /// How the workshop works: its document, and this program's own settings.
    Workshop,
    /// Help.
    Help,
}

const ROOMS: &[(Here, &str, &str)] = &[
    (Here::Orders, "/", "Orders"),
    (Here::Bench, "/bench", "Bench"),
    (Here::Shelf, "/shelf", "Shelf"),
    (Here::Workshop, "/workshop", "Workshop"),
    (Here::Help, "/help", "Help"),
];

/// The colours of every page, and those that take their place in the dark.
const COLOURS: [&str; 2] = ["css/base.css", "css/dark.css"];

/// The other style sheets, in the order in which they build on one another.
const SHEETS: &[&str] = &[
    "css/parts.css",
    "css/pages.css",
    "css/plan.css",
    "css/shelf.css",
    "css/board.css",
    "css/bench.css",
];

/// What a page needs to know of the request that it answers.
#[derive(Clone, Debug, Default)]
pub(crate) struct Shell {
    /// Its colours.
    pub(crate) look: Look,
    /// The path and query that was asked for.
    pub(crate) path: String,
    /// What was just done, to be said once: the key `done` of the query.
    pub(crate) done: Option<String>,
}

impl Shell {
    /// From the parts of a request.
    pub(crate) fn of(headers: &HeaderMap, uri: &axum::http::Uri) -> Shell {
        let cookies = headers.get_all(header::COOKIE).iter().filter_map(|v| v.to_str().ok());
        let look = cookies.flat_map(|c| c.split(';')).find_map(|c| c.trim().strip_prefix("look="));
        let query: Vec<(String, String)> =
            axum::extract::Query::try_from_uri(uri).map(|q| q.0).unwrap_or_default();
        Shell {
            look: look.map(Look::named).unwrap_or_default(),
            path: uri.path_and_query().map(ToString::to_string).unwrap_or_default(),
            done: query.into_iter().find(|(k, _)| k == "done").map(|(_, v)| v),
        }
    }

    /// A whole page.
    pub(crate) fn page(&self, title: &str, here: Option<Here>, body: &Markup) -> Markup {
        html! {
            (DOCTYPE)
            html lang="en" {
                head {
                    meta charset="utf-8";
                    meta name="viewport" content="width=device-width, initial-scale=1";
                    meta name="color-scheme" content="light dark";
                    title { (title) " · stonelay" }
                    link rel="icon" href=(assets::href("icons/stone.svg"));
                    link rel="stylesheet" href=(assets::href(COLOURS[0]));
                    @if let Some(media) = self.look.dark_media() {
                        link rel="stylesheet" href=(assets::href(COLOURS[1])) media=(media);
                    }
                    @for sheet in SHEETS {
                        link rel="stylesheet" href=(assets::href(sheet));
                    }
                    script type="module" src=(assets::href("js/main.js")) {}
                }
                body {
                    a.skip href="#main" { "To the content" }
                    header.top {
                        a.brand href="/" { (mark()) span { "stonelay" } }
                        nav aria-label="Rooms" {
                            @for (room, href, name) in ROOMS {
                                a href=(href) aria-current=[(here == Some(*room)).then_some("page")] { (name) }
                            }
                        }
                        (self.looks())
                    }
                    main #main tabindex="-1" {
                        div role="status" .said data-module="said" {
                            @if let Some(done) = &self.done { p { (done) } }
                        }
                        (body)
                    }
                    footer.foot {
                        p { "Loose stones are small parts: nothing for children under three. The maker's safety sheet and your local rules come before anything said here. " a href="/help/cautions" { "Cautions" } }
                    }
                }
            }
        }
    }

    /// Light, dark, or as the machine says.
    fn looks(&self) -> Markup {
        html! {
            form.looks method="post" action="/look" {
                input type="hidden" name="back" value=(self.path);
                fieldset {
                    legend.quiet { "Colours" }
                    @for (look, name) in [(Look::Machine, "Auto"), (Look::Light, "Light"), (Look::Dark, "Dark")] {
                        button name="look" value=(look.name()) aria-pressed=(self.look == look) { (name) }
                    }
                }
            }
        }
    }
}

impl<S: Send + Sync> FromRequestParts<S> for Shell {
    type Rejection = Infallible;

    async fn from_request_parts(parts: &mut Parts, _: &S) -> Result<Shell, Infallible> {
        Ok(Shell::of(&parts.headers, &parts.uri))
    }
}

/// The mark of the program: three stones in a nest.
fn mark() -> Markup {
    html! {
        svg.mark viewBox="0 0 24 24" aria-hidden="true" {
            circle cx="7.2" cy="15.6" r="4.7" {}
            circle cx="16.8" cy="15.6" r="4.7" {}
            circle cx="12" cy="7.3" r="4.7" {}
        }
    }
}
