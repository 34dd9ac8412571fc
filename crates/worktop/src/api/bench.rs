//! The bench: settings, presses, repairs, the maker's own rates.

use super::extract::{At, Body};
use super::operation::Operation;
use crate::problem::Problem;
use crate::state::{State, Told};
use axum::Json;
use axum::extract::State as Ask;
use axum::response::{IntoResponse, Response};
use desk::bench::{AtBench, BeginAsked, GlueClock, PressAsked, Step};
use desk::rates::Rates;
use desk::repair::{RepairAsked, RepairPlace, SetCopies};
use lay::Unwatched;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::json;
use shop::{DocumentId, RevisionId, Setting, SettingId};
use std::collections::BTreeMap;

pub(super) fn operations() -> Vec<Operation> {
    vec![
        Operation::get("/settings", "settings", "Settings that are not closed, the last begun first.", all)
            .gives::<Vec<SettingShown>>(),
        Operation::post("/orders/{order}/settings", "begin_setting", "Begins to set copies of a piece; lay and stretches are frozen.", begin)
            .takes::<Begin>(json!({ "from": 2, "setting": { "nonce": "example-begin", "number": 1, "first": 1, "last": 1 } }))
            .gives::<SettingShown>(),
        Operation::get("/settings/{setting}", "setting", "A setting as it stands now.", one)
            .gives::<AtBenchShown>(),
        Operation::post("/settings/{setting}/presses", "press", "A press; it is on the disk when it is answered, and the same nonce again is the same press.", press)
            .takes::<PressAsked>(json!({ "nonce": "example-press", "copy": 1, "act": "note", "text": "begun at noon" }))
            .gives::<AtBenchShown>(),
        Operation::post("/settings/{setting}/close", "close_setting", "Closes a setting: no more presses.", close)
            .gives::<AtBenchShown>(),
        Operation::get("/orders/{order}/copies", "set_copies", "Copies of an order that are set.", copies)
            .gives::<Vec<SetCopies>>(),
        Operation::post("/orders/{order}/repair", "repair_place", "What lies at a place of a finished copy, and what a new stone there comes to.", place)
            .takes::<RepairAsked>(json!({ "setting": 1, "copy": 1, "place_no": 1 }))
            .gives::<RepairPlace>(),
        Operation::post("/orders/{order}/repairs", "repaired", "Writes down that a stone was replaced.", repaired)
            .takes::<Repaired>(json!({ "nonce": "example-repair", "why": "fell off", "place": { "setting": 1, "copy": 1, "place_no": 1 } })),
        Operation::get("/rates", "rates", "The maker's own rates, by every press so far.", rates).gives::<Rates>(),
    ]
}

/// A setting.
#[derive(Serialize, JsonSchema)]
struct SettingShown {
    /// Its number.
    id: i64,
    /// Of which order.
    order: i64,
    /// Of which revision.
    revision: i64,
    /// Name of the piece.
    piece: String,
    /// The first copy, from 1.
    first: u32,
    /// The last copy.
    last: u32,
    /// Hash of the lay.
    lay_hash: String,
    /// From which lot each kind is taken.
    lots: BTreeMap<String, String>,
    /// When it began, milliseconds since 1970 in UTC.
    begun_ms: i64,
    /// When it was closed.
    closed_ms: Option<i64>,
}

impl From<Setting> for SettingShown {
    fn from(s: Setting) -> SettingShown {
        SettingShown {
            id: s.id.0,
            order: s.document.0,
            revision: s.revision.0,
            piece: s.piece,
            first: s.first_copy,
            last: s.last_copy,
            lay_hash: s.lay_hash,
            lots: s.lots.into_iter().collect(),
            begun_ms: s.begun_ms,
            closed_ms: s.closed_ms,
        }
    }
}

/// How a press names the step that it is about.
#[derive(Serialize, JsonSchema)]
struct Named {
    /// The copy.
    copy: u32,
    /// The stretch; one past the last where a copy is to be looked over.
    stretch: Option<u32>,
    /// The row.
    row: Option<u32>,
}

/// A setting as it stands.
#[derive(Serialize, JsonSchema)]
struct AtBenchShown {
    /// The setting.
    setting: SettingShown,
    /// What is next.
    next: Step,
    /// Whose the copy at hand is, if it is anybody's.
    whose: Option<String>,
    /// How a press on it names it.
    named: Named,
    /// How the glue of the stretch at hand stands.
    glue: GlueClock,
    /// Copies that are set.
    copies_done: u32,
    /// Rows of the copy at hand that are set.
    rows_set: usize,
    /// Rows of a copy.
    rows: usize,
    /// Whether it is paused.
    paused: bool,
    /// Stones lost, by kind.
    lost: BTreeMap<String, u64>,
    /// Presses so far.
    presses: usize,
}

impl From<AtBench> for AtBenchShown {
    fn from(at: AtBench) -> AtBenchShown {
        let (copy, stretch, row) = at.course.step().named(at.course.shape());
        AtBenchShown {
            next: at.course.step(),
            whose: at.whose().map(str::to_owned),
            named: Named { copy, stretch, row },
            glue: at.glue(),
            copies_done: at.course.copies_done(),
            rows_set: at.course.rows_set(),
            rows: at.course.shape().rows_of_copy(),
            paused: at.course.paused(),
            lost: at.course.lost().clone(),
            presses: at.course.presses(),
            setting: at.setting.into(),
        }
    }
}

type Given<T> = Result<Json<T>, Problem>;

async fn all(Ask(state): Ask<State>) -> Given<Vec<SettingShown>> {
    let settings = state.at_desk(|desk| desk.shop().open_settings()).await?;
    Ok(Json(settings.into_iter().map(SettingShown::from).collect()))
}

/// What is to be set, and by which revision.
#[derive(Deserialize, JsonSchema)]
struct Begin {
    /// The revision; it must be the head.
    from: i64,
    /// What is to be begun.
    setting: BeginAsked,
}

async fn begin(
    Ask(state): Ask<State>,
    At(id): At<i64>,
    Body(begin): Body<Begin>,
) -> Given<SettingShown> {
    let setting = state
        .at_desk(move |desk| {
            desk.begin_setting(DocumentId(id), RevisionId(begin.from), &begin.setting, &Unwatched)
        })
        .await?;
    state.tell(Told::Order(id));
    Ok(Json(setting.into()))
}

async fn one(Ask(state): Ask<State>, At(id): At<i64>) -> Given<AtBenchShown> {
    Ok(Json(state.at_desk(move |desk| desk.at_bench(SettingId(id))).await?.into()))
}

async fn press(
    Ask(state): Ask<State>,
    At(id): At<i64>,
    Body(asked): Body<PressAsked>,
) -> Given<AtBenchShown> {
    let at = state.at_desk(move |desk| desk.press(SettingId(id), &asked)).await?;
    state.tell(Told::Order(at.setting.document.0));
    Ok(Json(at.into()))
}

async fn close(Ask(state): Ask<State>, At(id): At<i64>) -> Given<AtBenchShown> {
    let at = state.at_desk(move |desk| desk.close_setting(SettingId(id))).await?;
    state.tell(Told::Order(at.setting.document.0));
    Ok(Json(at.into()))
}

async fn copies(Ask(state): Ask<State>, At(id): At<i64>) -> Given<Vec<SetCopies>> {
    Ok(Json(state.at_desk(move |desk| desk.set_copies(DocumentId(id))).await?))
}

async fn place(
    Ask(state): Ask<State>,
    At(id): At<i64>,
    Body(asked): Body<RepairAsked>,
) -> Given<RepairPlace> {
    let place =
        state.at_desk(move |desk| desk.repair_place(&desk.open(DocumentId(id))?, &asked)).await?;
    Ok(Json(place))
}

/// A stone that was replaced.
#[derive(Deserialize, JsonSchema)]
struct Repaired {
    /// Made up by whoever asks: the same nonce again is the same repair.
    nonce: String,
    /// The place.
    place: RepairAsked,
    /// Why.
    #[serde(default)]
    why: String,
}

async fn repaired(
    Ask(state): Ask<State>,
    At(id): At<i64>,
    Body(done): Body<Repaired>,
) -> Result<(), Problem> {
    state
        .at_desk(move |desk| {
            let opened = desk.open(DocumentId(id))?;
            desk.repaired(&opened, &done.place, &done.nonce, &done.why)
        })
        .await?;
    state.tell(Told::Shelf);
    Ok(())
}

async fn rates(Ask(state): Ask<State>) -> Result<Response, Problem> {
    let rates = state.at_desk(|desk| desk.rates()).await?;
    Ok(Json(&*rates).into_response())
}
