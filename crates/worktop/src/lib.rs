//! The worktop: a local page on which the whole job is done, and the same as JSON.
//!
//! Routes ask the [`desk`], and print what it answers: as HTML for people (it works without
//! script; small modules under `assets/js` sharpen it) and as JSON for programs, described by an
//! OpenAPI document made from the same declarations. The only room with HTTP and HTML in it; it
//! knows no SQL and no geometry.
//!
//! | need | item |
//! |---|---|
//! | serve it | [`serve`], [`Options`], [`ServeError`] |
//! | share it with other devices | [`Options::share`], [`Invitation`], [`Say`] |
//! | its routes, to test them in process | [`router`], [`State`] |
//! | the description of its JSON | [`api::document`] |
//!
//! | room | what is in it |
//! |---|---|
//! | `server` | binding, starting, stopping |
//! | `guard` | who may ask: hosts, origins, headers, sizes |
//! | `sharing` | other devices: the code that pairs one, the secret it keeps |
//! | `assets` | scripts and styles, under a name made of their content |
//! | `problem` | what is told when something cannot be done |
//! | `view` | the shell of a page and its parts |
//! | `pages` | a file for each screen |
//! | `api` | the same as JSON |

pub mod api;
mod assets;
mod guard;
mod nonce;
mod pages;
mod problem;
mod server;
mod sharing;
mod state;
mod view;
mod zip;

pub use guard::Door;
pub use problem::Problem;
pub use server::{Options, ServeError, router, serve};
pub use sharing::{Invitation, Say};
pub use state::State;
