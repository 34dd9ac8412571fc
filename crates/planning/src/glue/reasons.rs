//! How the amounts of adhesive came about.

use super::{AdhesiveNeed, GlueInput, GluedPiece, PieceGlue};
use crate::adhesive::{
    Adhesive, AdhesiveSort, Amount, Apply, Container, Facts, RatioBy, Section, TwoPart,
};
use crate::{Origin, Reason};
use units::trimmed;

/// The reasons for every piece, then for every adhesive.
pub(super) fn of(
    input: &GlueInput<'_>,
    facts: &[Facts],
    pieces: &[PieceGlue],
    adhesives: &[AdhesiveNeed],
) -> Vec<Reason> {
    let glued = input.pieces.iter().zip(pieces);
    let mut reasons = vec![];
    for (g, p) in glued.clone() {
        if let (Some(adhesive), Some(facts)) =
            (input.adhesives.get(g.adhesive), facts.get(g.adhesive))
        {
            reasons.push(on_copy(g, p, adhesive.sort, facts));
        }
    }
    for (g, p) in glued {
        reasons.extend(facts.get(g.adhesive).and_then(|f| batches(input, p, f)));
    }
    for need in adhesives {
        let i = need.adhesive_index as usize;
        if let (Some(adhesive), Some(facts)) = (input.adhesives.get(i), facts.get(i)) {
            reasons.extend(mixed(need, facts));
            reasons.push(whole(need, facts));
            reasons.extend(containers(need, adhesive));
        }
    }
    reasons
}

fn ml(x: f64) -> String {
    format!("{} ml", trimmed(x, 2))
}

fn amount(need: &Amount) -> String {
    if need.cm2 > 0.0 {
        return format!("{} cm²", trimmed(need.cm2, 1));
    }
    format!("{}, {} g", ml(need.ml), trimmed(need.g, 2))
}

fn on_copy(glued: &GluedPiece<'_>, piece: &PieceGlue, sort: AdhesiveSort, facts: &Facts) -> Reason {
    let stretches = &glued.stretches.stretches;
    let area: f64 = stretches.iter().map(|s| s.area_cm2).sum();
    let line: f64 = stretches.iter().map(|s| s.glue_line_mm).sum();
    let stones: u32 = stretches.iter().map(|s| s.stones).sum();
    let mm = |x: f64| format!("{} mm", trimmed(x, 2));
    let applied = glued.apply.origin;
    let reason = |formula: &str| {
        Reason::new(format!("adhesive on one {}", piece.piece), amount(&piece.on_copy), formula)
    };
    let reason = match glued.apply.value {
        Apply::Dot => reason(
            "sum of the dots: half a sphere of half the stone's diameter, 0.0327 d³ µl (closed \
            form)",
        )
        .with("put on as", "dots", applied)
        .with("stones", stones.to_string(), Origin::Lay),
        Apply::Bead { width_mm, section } => reason(match section {
            Section::Half => "half-round bead: π w² / 8 × length (closed form)",
            Section::Round => "round bead: π w² / 4 × length (closed form)",
        })
        .with("width", mm(width_mm), applied)
        .with("length", mm(line), Origin::Plan),
        Apply::Film { thickness_mm } => {
            reason("0.1 ml for each cm² and mm of thickness (closed form)")
                .with("thickness", mm(thickness_mm), applied)
                .with("area of the zones", format!("{} cm²", trimmed(area, 1)), Origin::Lay)
        }
        Apply::Sheet => reason("the area of the zones").with(
            "area of the zones",
            format!("{} cm²", trimmed(area, 1)),
            Origin::Lay,
        ),
    };
    let Some(density) = facts.density_g_per_ml else { return reason };
    let usual = sort.values().density_g_per_ml.filter(|_| density.origin == Origin::Usual);
    let usual = usual.map_or(String::new(), |u| format!(" ({})", u.words()));
    let value = format!("{} g/ml{usual}", trimmed(density.value, 3));
    reason.with("density", value, density.origin)
}

fn batches(input: &GlueInput<'_>, piece: &PieceGlue, facts: &Facts) -> Option<Reason> {
    let stated = facts.pot_min?;
    let largest = piece.batches.iter().max_by(|a, b| a.amount.g.total_cmp(&b.amount.g))?;
    let n: u64 = piece.batches.iter().map(|b| u64::from(b.times)).sum();
    let min = |x: f64| format!("{} min", trimmed(x, 1));
    let temperature = input.room.temperature_c;
    Some(
        Reason::new(
            format!("batches for {}", piece.piece),
            format!("{n}, the largest usable for {}", min(largest.pot_min)),
            "what is set at the slow pace within the pot life less a fifth; pot life of 100 g × 2 \
            for each 10 °C below 25 °C, ÷ 2 above (one source); over 100 g × (100 g / m)^⅓, since \
            heat leaves by the surface (our choice)",
        )
        .with("stated pot life", min(stated.value), stated.origin)
        .with("temperature", format!("{} °C", trimmed(temperature.value, 1)), temperature.origin)
        .with("largest batch", format!("{} g", trimmed(largest.amount.g, 2)), Origin::Plan),
    )
}

fn mixed(need: &AdhesiveNeed, facts: &Facts) -> Option<Reason> {
    let (two, parts) = (facts.two_part?, need.need.parts?);
    let value = format!(
        "A {} or {} g, B {} or {} g",
        ml(parts.a_ml),
        trimmed(parts.a_g, 2),
        ml(parts.b_ml),
        trimmed(parts.b_g, 2)
    );
    let density = |d: crate::Given<f64>| (format!("{} g/ml", trimmed(d.value, 3)), d.origin);
    let (a, b) = (density(two.density_a_g_per_ml), density(two.density_b_g_per_ml));
    let formula =
        "parts by volume × density = parts by weight; the mix weighs what they weigh together";
    Some(
        Reason::new(format!("parts of {}", need.adhesive), value, formula)
            .with("ratio", ratio(&two), two.ratio.origin)
            .with("measured", by(two.by.value), two.by.origin)
            .with("density of A", a.0, a.1)
            .with("density of B", b.0, b.1),
    )
}

/// `1:1`, as the label writes it.
fn ratio(two: &TwoPart) -> String {
    let r = two.ratio.value;
    format!("{}:{}", trimmed(r.a, 2), trimmed(r.b, 2))
}

fn by(by: RatioBy) -> &'static str {
    match by {
        RatioBy::Volume => "by volume",
        RatioBy::Weight => "by weight",
    }
}

fn whole(need: &AdhesiveNeed, facts: &Facts) -> Reason {
    let waste = format!("{} %", trimmed(facts.waste.value * 100.0, 1));
    let formula = "on all copies × (1 + waste); usual waste 15–20 % of a mix (published), 10 % of \
        anything else (common practice, no source)";
    Reason::new(format!("need of {}", need.adhesive), amount(&need.need), formula)
        .with("on the pieces", amount(&need.on_pieces), Origin::Plan)
        .with("waste", waste, facts.waste.origin)
}

fn containers(need: &AdhesiveNeed, adhesive: &Adhesive) -> Option<Reason> {
    // Need and leftover in the measure in which it is sold.
    let container = adhesive.label.container?;
    let sold = |x: &Amount| match container {
        Container::Ml(_) => ml(x.ml),
        Container::G(_) => format!("{} g", trimmed(x.g, 2)),
        Container::Cm2(_) => amount(x),
    };
    let holds = match container {
        Container::Ml(x) => ml(x),
        Container::G(x) => format!("{} g", trimmed(x, 2)),
        Container::Cm2(x) => format!("{} cm²", trimmed(x, 1)),
    };
    let figure = format!("containers of {}", need.adhesive);
    let left = need.leftover.map_or(String::new(), |l| format!(", {} left over", sold(&l)));
    let value = format!("{}{left}", need.containers?);
    let reason = Reason::new(figure, value, "need / content, rounded up")
        .with("need", sold(&need.need), Origin::Plan)
        .with("content", holds, Origin::Document);
    Some(match adhesive.label.price {
        Some(price) => reason.with("price of one", price.to_string(), Origin::Document),
        None => reason,
    })
}
