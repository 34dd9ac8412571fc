//! How figures came about: formula and inputs, one figure after the other.

use crate::output;
use planning::{Origin, Reason};

/// All of them, below a line that says so.
pub(in crate::commands) fn text(reasons: &[&Reason]) -> String {
    told(reasons, of_a_plan)
}

/// As [`text`], where no document was read: what was given stood on the command line.
pub(in crate::commands) fn without_document(reasons: &[&Reason]) -> String {
    told(reasons, |origin| match origin {
        Origin::Document => "given",
        Origin::Plan => "from above",
        other => of_a_plan(other),
    })
}

fn told(reasons: &[&Reason], origin: impl Fn(Origin) -> &'static str) -> String {
    let mut text = "\nWhy\n".to_owned();
    for reason in reasons {
        text += &(output::wrapped(&format!("{}: {}", reason.figure, reason.value), "  ", "    ")
            + "\n");
        text += &(output::wrapped(&reason.formula, "    ", "    ") + "\n");
        for input in &reason.inputs {
            let line = format!("{} = {} ({})", input.name, input.value, origin(input.origin));
            text += &(output::wrapped(&line, "      ", "        ") + "\n");
        }
    }
    text
}

fn of_a_plan(origin: Origin) -> &'static str {
    match origin {
        Origin::Document => "the document",
        Origin::Usual => "usual, since nothing was said",
        Origin::Log => "your log",
        Origin::Lay => "the lay",
        Origin::Plan => "another figure of the plan",
    }
}
