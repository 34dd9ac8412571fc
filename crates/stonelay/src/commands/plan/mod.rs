//! `stonelay plan FILE` and the verbs that show one part of a plan.

mod buying;
mod calendar;
mod glue;
mod kits;
mod price;
mod stretches;
mod summary;
mod table;
pub(super) mod why;

use super::open;
use crate::args::{self, PlanPart};
use crate::exit::Exit;
use crate::output;
use crate::progress::Progress;
use anyhow::{Context, Result, anyhow, bail};
use app::laying;
use app::plan::{Plan, PlanError};
use jiff::{Timestamp, ZonedDateTime};
use planning::Reason;
use serde::Serialize;

/// `plan`: all of it on one screen.
pub(super) fn whole(args: &PlanPart) -> Result<Exit> {
    with_plan(args, |plan| print(args, plan, &plan.reasons(), || summary::text(plan)))
}

/// `buy`.
pub(super) fn buy(args: &PlanPart) -> Result<Exit> {
    with_plan(args, |plan| {
        let reasons: Vec<_> = plan.spare.reasons.iter().chain(&plan.purchase.reasons).collect();
        let json = serde_json::json!({ "spare": plan.spare, "purchase": plan.purchase });
        print(args, &json, &reasons, || buying::text(plan))
    })
}

/// `glue`.
pub(super) fn glue(args: &PlanPart) -> Result<Exit> {
    with_plan(args, |plan| {
        let tints = plan.tints.iter().flat_map(|t| &t.tint.reasons);
        let reasons: Vec<_> = plan.glue.reasons.iter().chain(tints).collect();
        let json = serde_json::json!({ "glue": plan.glue, "tints": plan.tints });
        print(args, &json, &reasons, || glue::text(plan))
    })
}

/// `stretches`.
pub(super) fn stretches(args: &args::Stretches) -> Result<Exit> {
    with_plan(&args.part, |plan| {
        for name in &args.piece {
            if !plan.stretches.iter().any(|s| s.piece == *name) {
                let all: Vec<_> = plan.stretches.iter().map(|s| format!("`{}`", s.piece)).collect();
                bail!("there is no piece `{name}` in this order; it has {}", all.join(", "));
            }
        }
        let wanted = |name: &String| args.piece.is_empty() || args.piece.contains(name);
        let shown: Vec<_> = plan.stretches.iter().filter(|s| wanted(&s.piece)).collect();
        let reasons: Vec<_> = shown.iter().flat_map(|s| &s.stretches.reasons).collect();
        let json = serde_json::json!({ "stretches": shown });
        print(&args.part, &json, &reasons, || stretches::text(plan, &shown))
    })
}

/// `calendar`.
pub(super) fn calendar(args: &args::Calendar) -> Result<Exit> {
    with_plan(&args.part, |plan| {
        if let Some(path) = &args.out {
            let stamp = match args.part.on {
                Some(day) => day.at(0, 0, 0, 0),
                None => jiff::tz::TimeZone::UTC.to_datetime(Timestamp::now()),
            };
            let bytes = plan.ical(stamp).into_bytes();
            app::write_atomically(path, &bytes, args.replace).map_err(|e| anyhow!(e))?;
            output::message(&format!("written: {}", path.display()));
        }
        let reasons: Vec<_> = plan.calendar.reasons.iter().collect();
        let json = serde_json::json!({ "calendar": plan.calendar });
        print(&args.part, &json, &reasons, || calendar::text(plan))
    })
}

/// `price`.
pub(super) fn price(args: &args::Price) -> Result<Exit> {
    with_plan(&args.part, |plan| {
        let Some(price) = &plan.price else {
            output::message(
                "error: the order names no currency, so there is no price\n\
                 hint: add `[price]` with `currency = \"EUR\"` and what you charge",
            );
            return Ok(Exit::Refused);
        };
        if args.quote {
            let text = plan.quote_text(args.customer.as_deref()).unwrap_or_default();
            output::print(&text)?;
            return Ok(Exit::Done);
        }
        let json = serde_json::json!({ "hours": plan.hours, "price": plan.price });
        let reasons: Vec<_> = plan.hours.reasons.iter().chain(&price.reasons).collect();
        print(&args.part, &json, &reasons, || price::text(plan, price))
    })
}

/// `kit`.
pub(super) fn kit(args: &args::Kit) -> Result<Exit> {
    with_plan(&args.part, |plan| {
        if args.labels {
            output::print(&kits::labels(plan))?;
            return Ok(Exit::Done);
        }
        let bags = plan.bags.iter().flat_map(|b| &b.reasons);
        let reasons: Vec<_> = plan.kits.iter().flat_map(|k| &k.reasons).chain(bags).collect();
        let json = serde_json::json!({ "kits": plan.kits, "bags": plan.bags });
        print(&args.part, &json, &reasons, || kits::text(plan))
    })
}

/// Opens, lays and plans the order, and gives the plan to `show`.
fn with_plan(args: &PlanPart, show: impl FnOnce(&Plan) -> Result<Exit>) -> Result<Exit> {
    let order = match open::order(&args.file)? {
        Ok(order) => order,
        Err(refused) => {
            open::refuse(&refused);
            return Ok(Exit::Refused);
        }
    };
    let today = args.on.unwrap_or_else(|| ZonedDateTime::now().date());
    let progress = Progress::new();
    let made = laying::lay_order(order, &progress)
        .map_err(PlanError::from)
        .and_then(|laid| app::plan::plan(&laid, today, &progress));
    progress.finish();
    match made {
        Ok(plan) => show(&plan),
        Err(PlanError::Stopped) => {
            output::message("stopped");
            Ok(Exit::Stopped)
        }
        Err(e) => {
            output::message(&format!("error: {}: {e}", args.file.display()));
            Ok(Exit::Refused)
        }
    }
}

/// Prints `json` or the text, and the reasons if they are asked for.
fn print(
    args: &PlanPart,
    json: &impl Serialize,
    reasons: &[&Reason],
    text: impl FnOnce() -> String,
) -> Result<Exit> {
    if args.json {
        let json = serde_json::to_string_pretty(json).context("the plan could not be written")?;
        output::print(&(json + "\n"))?;
        return Ok(Exit::Done);
    }
    let mut text = text();
    if args.why {
        text += &why::text(reasons);
    }
    output::print(&text)?;
    Ok(Exit::Done)
}
