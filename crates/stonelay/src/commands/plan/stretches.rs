//! The bench order: what is glued and set in one go.

use super::table::{table, time, watch, work};
use crate::output::{number, plural, wrapped};
use app::plan::{Part, PieceStretches, Plan, PlanFinding};
use planning::stretches::Limit;
use units::trimmed;

/// The stretches of some pieces of a plan.
pub(super) fn text(plan: &Plan, pieces: &[&PieceStretches]) -> String {
    let total: usize = pieces.iter().map(|p| p.stretches.stretches.len() * p.copies as usize).sum();
    let minutes: f64 = pieces.iter().map(|p| p.stretches.usual_min * f64::from(p.copies)).sum();
    let mut text = format!(
        "{} in all, {} before what is learnt over copies\n",
        plural(total, "stretch", "stretches"),
        work(minutes)
    );
    let frame = "from and to: mm to the right and down from the top left corner of the blank's box";
    text += &(wrapped(frame, "", "  ") + "\n");
    for p in pieces {
        text += &piece(p);
    }
    let about =
        |f: &&PlanFinding| pieces.iter().any(|p| f.text.contains(&format!("`{}`", p.piece)));
    text + &watch(plan.findings_of(Part::Stretches).filter(about))
}

/// Minutes to a tenth, where a minute more or less matters.
fn exact(minutes: f64) -> String {
    if minutes < 100.0 { format!("{} min", trimmed(minutes, 1)) } else { time(minutes) }
}

fn piece(p: &PieceStretches) -> String {
    let s = &p.stretches;
    let limit = match (s.limited_by, s.open_min) {
        (Limit::OpenTime, Some(open)) => {
            let label =
                s.label_open_min.map_or(String::new(), |l| format!("{} by the label, ", time(l)));
            format!(
                "open {label}{} at {} °C, less a fifth {}",
                exact(open),
                trimmed(s.open_at_c, 1),
                exact(s.limit_min)
            )
        }
        _ => format!("nothing skins over; a break after {}", time(s.limit_min)),
    };
    let copies = if p.copies > 1 {
        format!(", {} copies", number(p.copies as usize))
    } else {
        String::new()
    };
    let head = format!(
        "{}{copies}: {} a copy, {}; {limit}",
        p.piece,
        plural(s.stretches.len(), "stretch", "stretches"),
        time(s.usual_min)
    );
    let mut text = format!("\n{}\n", wrapped(&head, "", "  "));
    let zones = s.stretches.iter().any(|x| x.zone_index > 0);
    let rows = s.stretches.iter().map(|x| {
        let rows = if x.first_row == x.last_row {
            format!("row {}", x.first_row)
        } else {
            format!("rows {}–{}", x.first_row, x.last_row)
        };
        let place = if zones { format!("{}, {rows}", x.zone) } else { rows };
        let kinds: Vec<String> =
            x.kinds.iter().map(|k| format!("{} {}", k.stones, k.kind)).collect();
        let line = if x.glue_width_mm.is_some() {
            let wide = x.glue_width_mm.map_or(String::new(), |w| format!(" × {}", trimmed(w, 1)));
            format!("{:.0}{wide} mm", x.glue_line_mm)
        } else {
            format!("{} cm²", trimmed(x.area_cm2, 1))
        };
        [
            x.number.to_string(),
            place,
            kinds.join(", "),
            line,
            format!("{:.0}, {:.0}", x.start.right_mm, x.start.down_mm),
            format!("{:.0}, {:.0}", x.stop.right_mm, x.stop.down_mm),
            exact(x.usual_min),
        ]
    });
    let head = ["no", "where", "stones", "glue", "from", "to", "takes"];
    text += &table(head, rows.collect(), 0..=0);
    text
}
