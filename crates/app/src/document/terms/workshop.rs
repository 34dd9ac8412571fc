//! `[workshop]` and `[[log]]`: how the maker works, and what really happened before.

use super::value::maybe;
use crate::document::mixes::{Shelf, kind_named};
use crate::document::walk::Node;
use jiff::civil::{Date, Weekday};
use planning::calendar::Hours;
use planning::hours::{Level, Work};
use rust_decimal::Decimal;
use toml::de::DeValue;
use units::{grouped, trimmed};

/// How the maker works. What is `None` was not said.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Workshop {
    /// How sure it must be that the whole order can be finished without buying again, 0..1.
    pub sure: Option<f64>,
    /// Loss: of the stones handled, how many are lost, broken or unusable.
    pub loss: Option<f64>,
    /// How many handled stones the assumed loss is worth against the log.
    pub trust: Option<u64>,
    /// How fast stones are set, in plain rows of middling stones, stones/h.
    pub rate_per_h: Option<f64>,
    /// Air at the bench, °C.
    pub temperature_c: Option<f64>,
    /// Relative humidity, 0..=1.
    pub humidity: Option<f64>,
    /// The day on which work can begin.
    pub start: Option<Date>,
    /// Days of the week on which work is done.
    pub days: Option<Vec<Weekday>>,
    /// Hours of a day in which work is done, in order, not overlapping.
    pub hours: Option<Vec<Hours>>,
    /// Days on which no work is done.
    pub closed: Vec<Date>,
    /// Blanks that lie side by side on the bench.
    pub bench: Option<u32>,
    /// Getting everything out and away again, once an order, minutes.
    pub set_up_min: Option<f64>,
    /// What an hour of work costs.
    pub wage: Option<Decimal>,
    /// What an hour of the workshop costs beside it: rent, light, tools.
    pub overhead: Option<Decimal>,
}

/// One entry of the log: work that was done.
#[derive(Clone, Debug, PartialEq)]
pub struct LogEntry {
    /// The kind, an index into the document's kinds.
    pub kind: Option<usize>,
    /// How the stones lay.
    pub work: Option<Work>,
    /// Stones set.
    pub stones: u64,
    /// Stones lost, broken or unusable on the way.
    pub lost: Option<u64>,
    /// Time it took, minutes.
    pub time_min: Option<f64>,
}

/// Stones of a whole log: more than a working life.
const MOST_STONES: u64 = 10_000_000;

const LEVELS: &[(&str, Level)] =
    &[("beginner", Level::Beginner), ("practised", Level::Practised), ("fast", Level::Fast)];

const DAYS: &[(&str, Weekday)] = &[
    ("monday", Weekday::Monday),
    ("tuesday", Weekday::Tuesday),
    ("wednesday", Weekday::Wednesday),
    ("thursday", Weekday::Thursday),
    ("friday", Weekday::Friday),
    ("saturday", Weekday::Saturday),
    ("sunday", Weekday::Sunday),
];

const ARRANGEMENTS: &[(&str, Work)] = &[
    ("honeycomb", Work::Rows),
    ("square", Work::Rows),
    ("rings", Work::Rows),
    ("scatter", Work::Scatter),
];

/// Reads `[workshop]`.
pub(super) fn workshop(node: &Node<'_, '_>) -> Option<Workshop> {
    let mut f = node.fields("a workshop", "`[workshop]` with its keys below")?;
    let sure = maybe(f.get("sure"), |n| {
        let sure = n.share()?;
        if (0.01..=0.999_999).contains(&sure) {
            return Some(sure);
        }
        n.wrong(
            format!("out of range: {} %", trimmed(sure * 100.0, 4)),
            "it must be 1 to 99.9999 %: nothing is quite sure",
        )
    });
    let loss = maybe(f.get("loss"), loss);
    let level = maybe(f.get("level"), |n| n.choice("level", LEVELS));
    let rate_node = f.get("rate");
    let rate = maybe(rate_node.clone(), |n| n.whole(10..5001, "stones an hour, like 320"));
    if let (Some(node), true) = (&rate_node, f.has("level")) {
        node.wrong::<()>("a rate beside a level", "give one of them: the rate is the better one");
    }
    let temperature = maybe(f.get("temperature"), Node::temperature);
    let humidity = maybe(f.get("humidity"), |n| n.part(1.0));
    let start = maybe(f.get("start"), Node::date);
    let days = maybe(f.get("days"), |n| {
        let days = n.all("day", "it like [\"monday\", \"tuesday\"]", |n| n.choice("day", DAYS))?;
        if days.is_empty() {
            return n.wrong("no day is left to work on", "name one at least, or leave it out");
        }
        if let Some(twice) =
            days.iter().enumerate().find_map(|(i, d)| days[..i].contains(d).then_some(d))
        {
            let name = DAYS.iter().find(|d| d.1 == *twice).map_or("", |d| d.0);
            return n.wrong(format!("a day is named twice: {name}"), "name each day once");
        }
        Some(days)
    });
    let hours = maybe(f.get("hours"), working_hours);
    let closed = maybe(f.get("closed"), |n| n.all("day", "it like [\"2026-12-24\"]", Node::date));
    let bench = maybe(f.get("bench"), |n| n.whole(1..1001, "it like 6"));
    let set_up = maybe(f.get("set_up"), |n| n.span(0.0, 1440.0, "\"15 min\""));
    let wage = maybe(f.get("wage"), Node::hourly);
    let overhead = maybe(f.get("overhead"), Node::hourly);
    f.done();
    let (level, rate) = (level?, rate?);
    let (loss, trust) = loss?.map_or((None, None), |(rate, trust)| (Some(rate), trust));
    Some(Workshop {
        sure: sure?,
        loss,
        trust,
        rate_per_h: rate.map(|r| r as f64).or(level.map(Level::base_per_h)),
        temperature_c: temperature?,
        humidity: humidity?,
        start: start?,
        days: days?,
        hours: hours?,
        closed: closed?.unwrap_or_default(),
        bench: bench?.map(|n| n as u32),
        set_up_min: set_up?,
        wage: wage?,
        overhead: overhead?,
    })
}

/// `"3 %"` or `{ rate = "3 %", trust = 500 }`: the rate, and what it is worth.
fn loss(node: &Node<'_, '_>) -> Option<(f64, Option<u64>)> {
    const MOST: f64 = 0.8;
    let DeValue::Table(_) = node.value else { return Some((node.part(MOST)?, None)) };
    let mut f = node.fields("a loss", "it like { rate = \"3 %\", trust = 500 }")?;
    let rate = f.need("rate", "`rate = \"3 %\"`").and_then(|n| n.part(MOST));
    let trust = maybe(f.get("trust"), |n| n.whole(10..10_000_001, "handled stones, like 500"));
    f.done();
    Some((rate?, trust?))
}

fn working_hours(node: &Node<'_, '_>) -> Option<Vec<Hours>> {
    let hours = match node.value {
        DeValue::String(_) => vec![node.hours()?],
        _ => node.all("hours", "it like [\"09:00-12:30\", \"13:30-17:00\"]", Node::hours)?,
    };
    if hours.is_empty() {
        return node.wrong("no hour is left to work in", "name some, or leave it out");
    }
    if hours.windows(2).any(|w| w[0].to_min > w[1].from_min) {
        return node.wrong(
            "these hours overlap or are out of order",
            "write them one after the other, earliest first",
        );
    }
    Some(hours)
}

/// Reads one `[[log]]`.
pub(super) fn entry(node: &Node<'_, '_>, shelf: &Shelf) -> Option<LogEntry> {
    let mut f = node.fields("an entry of the log", "`[[log]]` with its keys below")?;
    let kind = maybe(f.get("kind"), |n| kind_named(n, shelf));
    let work = maybe(f.get("arrangement"), |n| n.choice("arrangement", ARRANGEMENTS));
    let stones = f.need("stones", "how many were set, like `stones = 3000`");
    let stones = stones.and_then(|n| n.whole(1..MOST_STONES + 1, "it like 3000"));
    let lost_node = f.get("lost");
    let lost = maybe(lost_node.clone(), |n| n.whole(0..MOST_STONES + 1, "it like 85"));
    let time_node = f.get("time");
    let time = maybe(time_node.clone(), |n| n.span(1.0, 6e6, "\"9 h 40 min\""));
    f.done();
    if let (Some(node), Some(stones), Some(Some(min))) = (&time_node, stones, time) {
        pace(node, stones, min)?;
    }
    if let (Some(node), Some(stones), Some(Some(lost))) = (&lost_node, stones, lost)
        && lost > stones
    {
        return node.wrong(
            format!("more stones lost ({lost}) than set ({stones})"),
            "count the stones that were lost, broken or unusable",
        );
    }
    Some(LogEntry { kind: kind?, work: work?, stones: stones?, lost: lost?, time_min: time? })
}

/// Refuses a pace that nobody keeps: minutes and hours were mixed up, or a night was counted in.
fn pace(node: &Node<'_, '_>, stones: u64, min: f64) -> Option<()> {
    let per_h = stones as f64 * 60.0 / min;
    if (5.0..=5000.0).contains(&per_h) {
        return Some(());
    }
    let text = format!(
        "{} stones in this time are {} an hour",
        grouped(stones),
        if per_h < 5.0 { trimmed(per_h, 2) } else { grouped(per_h as u64) }
    );
    node.wrong(text, "give the time that was spent setting, like \"9 h 40 min\"")
}

/// Refuses a log that is longer than anybody's.
pub(super) fn whole_log(nodes: &[Node<'_, '_>], log: &[LogEntry]) -> Option<()> {
    let mut all = 0;
    for (node, entry) in nodes.iter().zip(log) {
        all += entry.stones + entry.lost.unwrap_or(0);
        if all > MOST_STONES {
            return node.wrong(
                format!("the log has more than {} stones up to here", grouped(MOST_STONES)),
                "leave the oldest entries out: they say least of how you work today",
            );
        }
    }
    Some(())
}
