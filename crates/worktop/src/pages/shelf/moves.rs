//! Stones that come, go, are kept for an order or counted, as the forms of a stone's page say it.

use super::href;
use super::stone::{Draft, shown};
use crate::pages::go;
use crate::problem::Problem;
use crate::state::{State, Told};
use crate::view::{Shell, Who};
use axum::Form;
use axum::extract::State as Ask;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use desk::{DeskError, MoveSort, StonesMoved};
use rust_decimal::Decimal;
use shop::Entry;
use std::collections::BTreeMap;

/// What can be done with stones: as the form calls it, in words, and what it is.
pub(super) const SORTS: &[(&str, &str, MoveSort)] = &[
    ("received", "Received", MoveSort::Received),
    ("counted", "Counted", MoveSort::Counted),
    ("lost", "Lost or broken", MoveSort::Lost),
    ("used", "Used", MoveSort::Used),
    ("reserved", "Keep for an order", MoveSort::Reserved),
    ("released", "Keep no longer", MoveSort::Released),
];

/// `POST /shelf/moves`
pub(super) async fn write(
    Ask(state): Ask<State>,
    shell: Shell,
    who: Who,
    Form(pairs): Form<Vec<(String, String)>>,
) -> Result<Response, Problem> {
    let values: BTreeMap<String, String> = pairs.into_iter().collect();
    let text = |key: &str| values.get(key).map_or("", |v| v.trim());
    let stone = text("stone").to_owned();
    let done = match moved(&values) {
        Ok(said) => state.at_desk(move |desk| Ok::<_, Problem>(desk.move_stones(&[said]))).await?,
        Err(wrong) => Err(wrong),
    };
    match done {
        Ok(lines) => {
            state.tell(Told::Shelf);
            let said = lines.first().map_or_else(String::new, kept);
            Ok(Who::remember(text("who"), &who, go(&href(&stone), &said)))
        }
        Err(wrong) => {
            let problem = Problem::from(wrong);
            if problem.status().is_server_error() {
                return Err(problem);
            }
            let status = problem.status();
            let what = text("what").to_owned();
            let draft = Draft { what, values, wrong: Some(problem), ..Draft::default() };
            let page = shown(&state, &shell, &who, &stone, None, &draft).await?;
            Ok((
                if status == StatusCode::NOT_FOUND {
                    StatusCode::UNPROCESSABLE_ENTITY
                } else {
                    status
                },
                page,
            )
                .into_response())
        }
    }
}

/// What was typed, as a move.
fn moved(values: &BTreeMap<String, String>) -> Result<StonesMoved, DeskError> {
    let text = |key: &str| values.get(key).map_or("", |v| v.trim()).to_owned();
    let what = text("what");
    let sort = SORTS.iter().find(|s| s.0 == what).map(|s| s.2).ok_or_else(|| {
        DeskError::unfit("the form does not say what happened", "reload the page")
    })?;
    let amount = text("amount");
    let order = text("order");
    let price = text("unit_price");
    Ok(StonesMoved {
        nonce: text("nonce"),
        what: sort,
        stone: text("stone"),
        lot: text("lot"),
        amount: whole(&amount).ok_or_else(|| {
            DeskError::unfit(
                format!("this is no number of stones: `{amount}`"),
                "write a whole number in digits: 144",
            )
        })?,
        packs: text("unit") == "packs",
        unit_price: match price.as_str() {
            "" => None,
            typed => Some(decimal(typed).ok_or_else(|| {
                DeskError::unfit(
                    format!("the price of one stone cannot be read: `{typed}`"),
                    "write the amount alone: 0.004",
                )
            })?),
        },
        supplier: Some(text("supplier")),
        order: match order.as_str() {
            "" => None,
            id => Some(id.parse().map_err(|_| {
                DeskError::unfit("there is no such order", "choose one of the list")
            })?),
        },
        piece: Some(text("piece")),
        who: text("who"),
        why: text("why"),
    })
}

/// A whole number; blanks between thousands are skipped.
fn whole(typed: &str) -> Option<i64> {
    let digits: String = typed.chars().filter(|c| !c.is_whitespace()).collect();
    let plain = !digits.is_empty() && digits.bytes().all(|b| b.is_ascii_digit());
    plain.then(|| digits.parse().ok()).flatten()
}

fn decimal(typed: &str) -> Option<Decimal> {
    let plain = typed.replace(',', ".");
    let sound = plain.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    if sound { plain.parse().ok() } else { None }
}

/// What was written, in words.
fn kept(line: &Entry) -> String {
    let after = format!("{} are there now", super::number(line.on_hand_after));
    let short =
        if line.short() { ", which is fewer than is kept for orders: count them" } else { "" };
    let lot =
        if line.said.lot.is_empty() { String::new() } else { format!(" of lot {}", line.said.lot) };
    format!("Written down{lot}: {after}{short}.")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_read_as_they_are_typed() {
        assert_eq!(whole("1 440"), Some(1440));
        assert_eq!(whole("0"), Some(0));
        for bad in ["", "-3", "1.5", "many", "99999999999999999999"] {
            assert_eq!(whole(bad), None, "{bad}");
        }
        assert_eq!(decimal("0,004"), decimal("0.004"));
        assert_eq!(decimal("4 EUR"), None);
    }
}
