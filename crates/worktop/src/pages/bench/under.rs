//! The piece at true size, to lie under a clear blank: light surroundings, a mark in every stone, no
//! zoom.

use crate::problem::Problem;
use crate::state::State;
use crate::view::{Here, Shell};
use axum::extract::{Path, State as Ask};
use desk::bench::Step;
use maud::{Markup, html};
use shop::SettingId;

/// `GET /bench/{setting}/under`
pub(super) async fn page(
    Ask(state): Ask<State>,
    shell: Shell,
    Path(setting): Path<i64>,
) -> Result<Markup, Problem> {
    let at = state.at_desk(move |desk| desk.at_bench(SettingId(setting))).await?;
    let id = at.setting.id;
    let f = &at.frozen;
    let row = match at.course.step() {
        Step::Row { stretch, row, .. } => format!("&stretch={stretch}&row={row}"),
        _ => String::new(),
    };
    let body = html! {
        h1 { (at.setting.piece) ", to lie on" }
        div.bench-under data-module="under" data-width-mm=(f.width_mm) data-height-mm=(f.height_mm) {
            p.no-print {
                "Lay the clear blank on the picture and set through it. "
                @if !f.blank.clear { "Nobody said that this blank is clear: say so with its base, or lay it beside. " }
                strong.bench-measured { "This screen is not measured: true size may be off by a fifth." }
            }
            div.actions.no-print {
                a.button.bench-act href={ "/bench/" (id) } { "Back to the rows" }
            }
            div.bench-sheet tabindex="0" role="group" aria-label="the piece at true size" {
                img src={ "/bench/" (id) "/picture.svg?view=under" (row) } alt={ (f.stones.kind.len()) " stones of the " (at.setting.piece) ", each with the mark of its kind; the row at hand in full colour" };
            }
            ul.bench-kinds.bench-legend {
                @for kind in &f.kinds { li { (super::now::mark(&kind.colour, &kind.mark)) span { (kind.name) " " (kind.size) } } }
            }
        }
    };
    Ok(shell.page(&format!("{} at true size", at.setting.piece), Some(Here::Bench), &body))
}
