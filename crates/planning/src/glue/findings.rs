//! What is worth knowing about adhesives, bases and the air.

use super::pages;
use super::{Base, GlueInput, GluePlan, GluedPiece, PieceGlue};
use crate::adhesive::{Adhesive, AdhesiveSort, Apply, Facts, TwoPart};
use crate::stretches::Stretch;
use lay::{Arrangement, Finding, Kind};
use units::trimmed;

/// Temperatures to work at, °C (one source).
const WORK_AT_C: (f64, f64) = (21.0, 27.0);
/// Relative humidity to work under (one source).
const HUMIDITY_MAX: f64 = 0.60;
/// Below this a batch is hard to measure by volume, ml (common practice, no source).
const BATCH_SMALL_ML: f64 = 2.0;
/// Height of a flat-back stone over its diameter (from memory).
const HEIGHT_PART: f64 = 0.4;
/// By how much the density of a mix may differ from that of its parts before we say so (ours).
const DENSITY_OFF: f64 = 0.03;

/// Everything worth knowing: piece by piece, adhesive by adhesive, then the air.
pub(super) fn of(input: &GlueInput<'_>, facts: &[Facts], plan: &GluePlan) -> Vec<Finding> {
    let mut found = vec![];
    for (glued, piece) in input.pieces.iter().zip(&plan.pieces) {
        let adhesive = &input.adhesives[glued.adhesive];
        found.extend(base_crazes(glued, adhesive));
        found.extend(base_flexes(glued, adhesive));
        found.extend(base_protects(glued, adhesive));
        found.extend(foil_shades(glued, adhesive));
        found.extend(bead_wide(glued, adhesive));
        found.extend(film_thick(glued, adhesive));
        found.extend(batch_small(piece));
    }
    for need in &plan.adhesives {
        let i = need.adhesive_index as usize;
        let (adhesive, facts) = (&input.adhesives[i], &facts[i]);
        if let Some(two) = facts.two_part {
            found.extend(ratio_basis(adhesive, &two));
            found.extend(density_unclear(adhesive, &two));
        }
    }
    let liquid = plan.adhesives.iter().any(|a| a.sort != AdhesiveSort::AdhesiveSheet);
    if liquid {
        found.extend(air_damp(input));
        found.extend(air_temperature(input));
    }
    found
}

/// A finding with this code, and the severity that belongs to it.
fn finding(code: &'static str, text: String, hint: &str) -> Finding {
    Finding::new(code, pages::severity(code), text, hint)
}

fn base_crazes(glued: &GluedPiece<'_>, adhesive: &Adhesive) -> Option<Finding> {
    let (base, stressed) = match glued.base? {
        Base::Polycarbonate => ("polycarbonate", ""),
        Base::Acrylic if glued.stressed => ("acrylic", "stressed "),
        _ => return None,
    };
    (adhesive.sort == AdhesiveSort::SolventGel).then(|| {
        finding(
            "plan.base-crazes",
            format!(
                "`{}`: the solvent in `{}` can craze {stressed}{base} (published)",
                glued.piece.name, adhesive.name
            ),
            "take an epoxy or a sheet, or test on scrap of the same stock first; the label and the \
            safety sheet come first",
        )
    })
}

fn base_flexes(glued: &GluedPiece<'_>, adhesive: &Adhesive) -> Option<Finding> {
    let soft = matches!(glued.base, Some(Base::Leather | Base::Fabric));
    (adhesive.sort.epoxy() && (glued.flexible || soft)).then(|| {
        finding(
            "plan.base-flexes",
            format!(
                "`{}` bends in use, and `{}` sets hard: stones come off with a crack (common \
                practice, no source)",
                glued.piece.name, adhesive.name
            ),
            "take a gel, a water-based adhesive or a sheet that stays flexible; see its label",
        )
    })
}

fn base_protects(glued: &GluedPiece<'_>, adhesive: &Adhesive) -> Option<Finding> {
    let solvent = adhesive.sort == AdhesiveSort::SolventGel;
    (glued.base? == Base::ProtectiveHelmet).then(|| {
        let why = if solvent {
            "solvents can weaken its shell (published)"
        } else {
            "adhesives may weaken its shell (published for solvents)"
        };
        finding(
            "plan.base-protects",
            format!("`{}` is worn for protection: {why}", glued.piece.name),
            "never on a helmet worn for protection: decorate a cover or a shell that is only for \
            show; its maker's word comes first",
        )
    })
}

fn foil_shades(glued: &GluedPiece<'_>, adhesive: &Adhesive) -> Option<Finding> {
    if adhesive.sort != AdhesiveSort::LightCured {
        return None;
    }
    let shading: Vec<String> = used_kinds(glued)
        .filter(|(_, k)| k.finish != lay::Finish::Clear)
        .map(|(_, k)| format!("`{}`", k.name))
        .collect();
    if shading.is_empty() {
        return None;
    }
    Some(finding(
        "plan.foil-shades",
        format!(
            "`{}`: no light reaches `{}` behind {}, where it stays liquid (published)",
            glued.piece.name,
            adhesive.name,
            shading.join(", ")
        ),
        "light-cured only under clear stones, or through a clear base if the label says so; see \
        the label",
    ))
}

/// The kinds that are set on a piece, each once, in its order of kinds.
fn used_kinds<'a>(glued: &GluedPiece<'a>) -> impl Iterator<Item = (usize, &'a Kind)> {
    let set = move |i: usize| {
        let mut kinds = glued.stretches.stretches.iter().flat_map(|s| &s.kinds);
        kinds.any(|k| k.kind_index as usize == i)
    };
    glued.piece.kinds.iter().enumerate().filter(move |(i, _)| set(*i))
}

/// A bead fits under a stone and beside its neighbour: rows of a honeycomb lie √3/2 of a pitch
/// apart (closed form), all others at least a stone.
fn bead_wide(glued: &GluedPiece<'_>, adhesive: &Adhesive) -> Option<Finding> {
    let Apply::Bead { width_mm, .. } = glued.apply.value else { return None };
    let room = |s: &Stretch, k: &Kind| {
        let zone = glued.piece.zones.get(s.zone_index as usize);
        let rows = zone.filter(|z| matches!(z.arrangement, Arrangement::Honeycomb(_)));
        let apart = rows.map(|z| (k.fit_mm + z.spacing_mm) * 3.0_f64.sqrt() / 2.0);
        apart.map_or(k.reach_mm, |apart| apart.min(k.reach_mm))
    };
    let all = glued.stretches.stretches.iter().flat_map(|s| {
        let kinds = s.kinds.iter().map(|k| &glued.piece.kinds[k.kind_index as usize]);
        kinds.map(move |k| (k, room(s, k)))
    });
    let (kind, room_mm) = all.min_by(|a, b| a.1.total_cmp(&b.1)).filter(|k| k.1 < width_mm)?;
    let over = if room_mm < kind.reach_mm { "the rows of " } else { "" };
    Some(
        finding(
            "plan.bead-wide",
            format!(
                "`{}`: the bead of `{}` is wider than {over}`{}`",
                glued.piece.name, adhesive.name, kind.name
            ),
            "take a finer needle, or dots",
        )
        .with(
            format!("{} mm", trimmed(width_mm, 2)),
            format!("at most {} mm", trimmed(room_mm, 2)),
        ),
    )
}

fn film_thick(glued: &GluedPiece<'_>, adhesive: &Adhesive) -> Option<Finding> {
    let Apply::Film { thickness_mm } = glued.apply.value else { return None };
    let height_mm = |(i, kind): (usize, &Kind)| {
        let said = glued.heights_mm.get(i).copied().flatten();
        said.unwrap_or(kind.reach_mm * HEIGHT_PART)
    };
    let heights = used_kinds(glued).map(|k| (k.1, height_mm(k)));
    let (lowest, height_mm) = heights.min_by(|a, b| a.1.total_cmp(&b.1))?;
    let most_mm = height_mm / 2.0;
    (thickness_mm > most_mm).then(|| {
        finding(
            "plan.film-thick",
            format!("`{}`: `{}` drowns in `{}`", glued.piece.name, lowest.name, adhesive.name),
            "pour a thinner film, or several that cure one after the other, and set the stones \
            into the last",
        )
        .with(
            format!("a film of {} mm", trimmed(thickness_mm, 2)),
            format!("at most {} mm, half the stone's height", trimmed(most_mm, 2)),
        )
    })
}

fn batch_small(piece: &PieceGlue) -> Option<Finding> {
    let smallest = piece
        .batches
        .iter()
        .map(|b| b.amount.ml)
        .min_by(f64::total_cmp)
        .filter(|&ml| ml < BATCH_SMALL_ML)?;
    let mut f = finding(
        "plan.batch-small",
        format!(
            "`{}`: batches of `{}` are too small to measure by volume",
            piece.piece, piece.adhesive
        ),
        "weigh the parts to 0.01 g, or mix more and count it as waste on the label",
    );
    f.measured = Some(format!("{} ml", trimmed(smallest, 2)));
    f.wanted = Some(format!("at least {} ml", trimmed(BATCH_SMALL_ML, 0)));
    Some(f)
}

fn ratio_basis(adhesive: &Adhesive, two: &TwoPart) -> Option<Finding> {
    if adhesive.label.ratio_by.is_some() {
        return None;
    }
    let (r, w) = (two.ratio.value, two.by_weight());
    // Weighed as written, part B is off by the ratio of the densities.
    let off = (r.b / r.a) / (w.b / w.a) - 1.0;
    let mut f = finding(
        "plan.ratio-basis",
        format!(
            "`{}`: {}:{} is taken by volume, that is 100:{} by weight",
            adhesive.name,
            trimmed(r.a, 2),
            trimmed(r.b, 2),
            trimmed(100.0 * w.b / w.a, 1)
        ),
        "look at the label and say `by = \"volume\"` or `by = \"weight\"`; over about 5 % off \
        weakens it (weak source)",
    );
    f.measured = Some(format!("{:+.0} % of B if it is weighed", 100.0 * off));
    f.wanted = Some("within 5 %".into());
    Some(f)
}

fn density_unclear(adhesive: &Adhesive, two: &TwoPart) -> Option<Finding> {
    let l = &adhesive.label;
    let mixed = l.density_g_per_ml?;
    let of_parts = two.density_g_per_ml();
    let said = l.density_a_g_per_ml.and(l.density_b_g_per_ml).is_some();
    let whose = if said { "" } else { ", where not said the usual ones," };
    ((mixed / of_parts - 1.0).abs() > DENSITY_OFF).then(|| {
        let mut f = finding(
            "plan.density-unclear",
            format!(
                "`{}`: the densities of A and B{whose} do not agree with that of the mix; A and B \
                are taken",
                adhesive.name
            ),
            "say `density_a` and `density_b` as its maker gives them, or weigh a measured volume \
            of each",
        );
        f.measured = Some(format!("{} g/ml mixed", trimmed(mixed, 3)));
        f.wanted = Some(format!("about {} g/ml by its parts", trimmed(of_parts, 3)));
        f
    })
}

fn air_damp(input: &GlueInput<'_>) -> Option<Finding> {
    let humidity = input.room.humidity.value;
    (humidity > HUMIDITY_MAX).then(|| {
        let mut f = finding(
            "plan.air-damp",
            "the air is damper than adhesives like".into(),
            "dry the room, or wait for another day; the label comes first",
        );
        f.measured = Some(format!("{} % humidity", trimmed(humidity * 100.0, 0)));
        f.wanted = Some(format!("under {} %", trimmed(HUMIDITY_MAX * 100.0, 0)));
        f
    })
}

fn air_temperature(input: &GlueInput<'_>) -> Option<Finding> {
    let t = input.room.temperature_c.value;
    let (low, high) = WORK_AT_C;
    (t < low || t > high).then(|| {
        let mut f = finding(
            "plan.air-temperature",
            format!(
                "the room is {} than adhesives like",
                if t < low { "colder" } else { "warmer" }
            ),
            "warm or cool the room and the containers; the label comes first",
        );
        f.measured = Some(format!("{} °C", trimmed(t, 1)));
        f.wanted = Some(format!("{} to {} °C", trimmed(low, 0), trimmed(high, 0)));
        f
    })
}
