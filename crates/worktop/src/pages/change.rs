//! Changes of a document from the fields of a page.
//!
//! A field's name is its path; a change is a field that differs from what the document says. A
//! button `do` adds, copies, moves or takes out an entry. With script the same is sent field by
//! field, and answered with the new revision.

use crate::pages::{go, order, own_path, piece, plan, shelf, wants_json, workshop};
use crate::problem::Problem;
use crate::state::{State, Told};
use crate::view::{Shell, Typed, decoded};
use app::edit::{Change, Path as Key, Sheet};
use axum::extract::{Path, State as Ask};
use axum::http::{HeaderMap, StatusCode};
use axum::response::{IntoResponse, Response};
use axum::{Form, Json};
use desk::{DeskError, Opened};
use serde::Serialize;
use shop::{DocumentId, RevisionId};
use std::collections::BTreeMap;

/// What a script is told after a change.
#[derive(Serialize)]
pub(super) struct Changed {
    revision: i64,
    undo: Option<String>,
    redo: Option<String>,
}

/// What was sent: the revision it is about, the page, the button, the fields.
struct Sent {
    from: RevisionId,
    page: String,
    button: Option<String>,
    fields: Vec<(String, String)>,
}

impl Sent {
    fn of(pairs: Vec<(String, String)>) -> Result<Sent, Problem> {
        let mut sent =
            Sent { from: RevisionId(0), page: "/".to_owned(), button: None, fields: vec![] };
        let bad = || {
            Problem::unfit("the form says not which revision it is about").hint("reload the page")
        };
        for (name, value) in pairs {
            match name.as_str() {
                "from" => sent.from = RevisionId(value.parse().map_err(|_| bad())?),
                "page" => sent.page = own_path(&value).to_owned(),
                "do" => sent.button = Some(value),
                _ => sent.fields.push((name, value)),
            }
        }
        if sent.from.0 == 0 { Err(bad()) } else { Ok(sent) }
    }

    /// The changes against what the text says.
    fn changes(&self, sheet: &Sheet<'_>) -> Result<Vec<Change>, DeskError> {
        let mut changes = vec![];
        let mut lists: BTreeMap<Key, Vec<&str>> = BTreeMap::new();
        for (name, value) in &self.fields {
            let (name, list) =
                name.strip_suffix("[]").map_or((name.as_str(), false), |n| (n, true));
            let path: Key = name.parse().map_err(|_| {
                DeskError::unfit(format!("there is no such field: `{name}`"), "reload the page")
            })?;
            if list {
                let chosen = lists.entry(path).or_default();
                if !value.is_empty() {
                    chosen.push(value);
                }
                continue;
            }
            let value = value.trim();
            if sheet.value(&path).unwrap_or_default().trim() != value {
                changes.push(Change::Set { path, value: value.to_owned() });
            }
        }
        for (path, chosen) in lists {
            let now: Vec<String> =
                (1..=sheet.count(&path)).filter_map(|n| sheet.value(&path.number(n))).collect();
            if now != chosen {
                changes.push(if chosen.is_empty() {
                    Change::Clear { path }
                } else {
                    let quoted: Vec<String> = chosen.iter().map(|c| desk::quoted(c)).collect();
                    Change::Set { path, value: format!("[{}]", quoted.join(", ")) }
                });
            }
        }
        changes.extend(self.pressed(sheet)?);
        Ok(changes)
    }

    /// The change of the button that was pressed.
    fn pressed(&self, sheet: &Sheet<'_>) -> Result<Option<Change>, DeskError> {
        let Some(button) = &self.button else { return Ok(None) };
        let bad =
            || DeskError::unfit(format!("there is no such button: `{button}`"), "reload the page");
        let (what, path) = button.split_once(' ').ok_or_else(bad)?;
        let path: Key = path.parse().map_err(|_| bad())?;
        let number = path.split_last().and_then(|(_, step)| match step {
            app::edit::Step::Number(n) => Some(*n),
            app::edit::Step::Key(_) => None,
        });
        Ok(Some(match (what, number) {
            ("add", _) => {
                Change::Add { toml: desk::new_entry(sheet, &path).ok_or_else(bad)?, path }
            }
            ("remove", _) => Change::Remove { path },
            ("copy", _) => Change::Copy { path },
            ("up", Some(n)) if n > 1 => Change::Move { path, to: n - 1 },
            ("down", Some(n)) => Change::Move { path, to: n + 1 },
            ("clear", _) => Change::Clear { path },
            ("detail", _) => Change::Set { value: desk::detail(&path).ok_or_else(bad)?, path },
            ("mix", _) => {
                let path = path.key("mix");
                let kind = sheet.value(&path).unwrap_or_default();
                Change::Set { value: format!("[{{ kind = {} }}]", desk::quoted(&kind)), path }
            }
            _ => return Err(bad()),
        }))
    }

    /// In words, for the list of steps.
    fn what(changes: &[Change]) -> String {
        let words = |c: &Change| match c {
            Change::Set { path, value } => format!("{} {value}", desk::label(path)),
            Change::Clear { path } => format!("{} as usual", desk::label(path)),
            Change::Add { path, .. } => format!("{} added", desk::label(path)),
            Change::Remove { path } => format!("{} taken out", desk::label(path)),
            Change::Copy { path } => format!("{} copied", desk::label(path)),
            Change::Move { path, .. } => format!("{} moved", desk::label(path)),
            Change::Rename { name, .. } => format!("named {name}"),
        };
        let mut all: Vec<String> = changes.iter().take(3).map(words).collect();
        if changes.len() > 3 {
            all.push(format!("{} more", changes.len() - 3));
        }
        all.join(", ")
    }
}

/// `POST /orders/{document}/change`
pub(super) async fn change(
    Ask(state): Ask<State>,
    shell: Shell,
    headers: HeaderMap,
    Path(id): Path<i64>,
    Form(pairs): Form<Vec<(String, String)>>,
) -> Result<Response, Problem> {
    let sent = Sent::of(pairs)?;
    let id = DocumentId(id);
    let (from, page, fields) = (sent.from, sent.page.clone(), sent.fields.clone());
    let done = state
        .at_desk(move |desk| {
            let text = desk.shop().revision(sent.from)?.text;
            let sheet = Sheet::of(&text).ok_or(DeskError::Missing("text"))?;
            let made = sent.changes(&sheet).and_then(|changes| {
                if changes.is_empty() {
                    return desk.open(id);
                }
                desk.change(id, from, &changes, &Sent::what(&changes), None)
            });
            Ok::<_, DeskError>(made)
        })
        .await?;
    match done {
        Ok(opened) => {
            state.tell(Told::Order(id.0));
            if wants_json(&headers) {
                return Ok(Json(changed(&opened)).into_response());
            }
            Ok(go(&page, "Kept."))
        }
        Err(wrong) => {
            let problem = Problem::from(wrong);
            if wants_json(&headers) || problem.status() != StatusCode::UNPROCESSABLE_ENTITY {
                return Err(problem);
            }
            again(&state, &shell, id, &page, fields, problem).await
        }
    }
}

/// The page once more, with everything that was typed and what is wrong with it.
async fn again(
    state: &State,
    shell: &Shell,
    id: DocumentId,
    page: &str,
    fields: Vec<(String, String)>,
    problem: Problem,
) -> Result<Response, Problem> {
    let mut typed = Typed { values: fields.into_iter().collect(), faults: problem.faults.clone() };
    if typed.faults.is_empty() {
        typed.faults.push(crate::problem::FaultAt {
            path: None,
            place: String::new(),
            text: problem.title.clone(),
            hint: problem.detail.clone(),
        });
    }
    let path = page.split(['?', '#']).next().unwrap_or(page);
    let parts: Vec<&str> = path.trim_matches('/').split('/').collect();
    let number = |text: &str| text.parse::<usize>().ok();
    let shown = match parts[..] {
        ["orders", _] => order::render(state, shell, id, &typed).await?,
        ["orders", _, "pieces", piece] if number(piece).is_some() => {
            piece::render(state, shell, id, number(piece).unwrap_or(1), &typed).await?
        }
        ["orders", _, part] if plan::is_part(part) => {
            plan::again(state, shell, id, part, &typed).await?
        }
        ["workshop", part] => workshop::render(state, shell, part, &typed).await?,
        ["shelf", "stones", name] => shelf::render(state, shell, &decoded(name), &typed).await?,
        _ => return Err(problem),
    };
    Ok((StatusCode::UNPROCESSABLE_ENTITY, shown).into_response())
}

pub(super) fn changed(opened: &Opened) -> Changed {
    Changed {
        revision: opened.revision.id.0,
        undo: opened.ways.undo.clone(),
        redo: opened.ways.redo.clone(),
    }
}

/// From which revision undo or redo goes, and to which page.
#[derive(serde::Deserialize)]
pub(super) struct Back {
    from: i64,
    #[serde(default)]
    back: String,
}

/// `POST /orders/{document}/undo`
pub(super) async fn undo(
    Ask(state): Ask<State>,
    headers: HeaderMap,
    Path(id): Path<i64>,
    Form(back): Form<Back>,
) -> Result<Response, Problem> {
    let from = RevisionId(back.from);
    let opened = state.at_desk(move |desk| desk.undo(DocumentId(id), from)).await?;
    step(&state, &headers, &opened, &back, "Taken back.")
}

/// `POST /orders/{document}/redo`
pub(super) async fn redo(
    Ask(state): Ask<State>,
    headers: HeaderMap,
    Path(id): Path<i64>,
    Form(back): Form<Back>,
) -> Result<Response, Problem> {
    let from = RevisionId(back.from);
    let opened = state.at_desk(move |desk| desk.redo(DocumentId(id), from)).await?;
    step(&state, &headers, &opened, &back, "Brought back.")
}

fn step(
    state: &State,
    headers: &HeaderMap,
    opened: &Opened,
    back: &Back,
    done: &str,
) -> Result<Response, Problem> {
    state.tell(Told::Order(opened.document.id.0));
    if wants_json(headers) {
        return Ok(Json(changed(opened)).into_response());
    }
    Ok(go(own_path(&back.back), done))
}
