//! The pages of the findings about adhesives, and how much each matters.

use lay::Severity;
use lay::finding::Page;

/// Every finding about adhesives.
pub(crate) const PAGES: &[Page] = &[
    Page {
        code: "plan.air-damp",
        what: "The workshop's humidity is over 60 %.",
        why: "Epoxies blush and turn cloudy, solvent gels and water-based adhesives dry slowly and unevenly.",
        example: "70 % on a rainy day.",
        remedy: "Dry the room, or wait. Source: one decent source. The label and the safety sheet come first.",
    },
    Page {
        code: "plan.air-temperature",
        what: "The workshop is colder than 21 °C or warmer than 27 °C.",
        why: "Cold adhesive is thick, holds bubbles and may not cure; warm adhesive goes off sooner than its label says.",
        example: "17 °C in an unheated room.",
        remedy: "Warm or cool the room, the piece and the containers. Source: one decent source. The label and the safety sheet come first.",
    },
    Page {
        code: "plan.base-crazes",
        what: "A solvent gel is to go on polycarbonate, or on acrylic that is under stress (bent, drilled, cut by laser).",
        why: "Solvents make fine cracks that grow, hours or weeks later.",
        example: "A solvent gel on a badge cut from acrylic sheet by laser.",
        remedy: "Take an epoxy or a sheet, or try it on scrap of the same stock and wait a week. Source: published. The label and the safety sheet come first.",
    },
    Page {
        code: "plan.base-flexes",
        what: "An epoxy is to go on leather, cloth, or something that is said to be flexible.",
        why: "It sets hard: where the base bends, it cracks and stones come off.",
        example: "A 5-minute epoxy on a cap of cloth.",
        remedy: "Take a solvent gel, a water-based adhesive or heat-set backs that stay flexible. Source: common practice, no source. The label comes first.",
    },
    Page {
        code: "plan.base-protects",
        what: "The piece is a helmet that is worn for protection.",
        why: "Solvents can weaken a polycarbonate shell without a trace, and it no longer protects.",
        example: "A bicycle helmet for a parade.",
        remedy: "Never decorate it with adhesive: use a cover, or a shell that is only for show. Source: published. The helmet maker's word comes first.",
    },
    Page {
        code: "plan.batch-small",
        what: "Some batch of a two-part adhesive is under 2 ml.",
        why: "A drop more of one part is several percent, and a mix off its ratio stays soft.",
        example: "0.3 ml for the stones of one badge.",
        remedy: "Weigh both parts to 0.01 g, serve several copies with one batch, or mix more and say so with `waste`. Source: common practice, no source.",
    },
    Page {
        code: "plan.bead-wide",
        what: "The bead along the rows is wider than the smallest stone, or than the rows of a honeycomb lie apart.",
        why: "It comes up between the stones and lies on their faces.",
        example: "A bead of 2.5 mm under stones of 2 mm.",
        remedy: "Take a finer needle, or dots. Needles lay a line of one to two bores (common practice, no source).",
    },
    Page {
        code: "plan.density-unclear",
        what: "The label's density of the mix does not agree within 3 % with the densities of A and B, as the label or else as usual. A and B are reckoned by their own densities, and the mix weighs what they weigh.",
        why: "Some density is wrong, and with it the weights of A and B, or how much the containers hold.",
        example: "A 1.16, B 0.95, and a mix of 1.12 g/ml at 1:1.",
        remedy: "Say `density_a` and `density_b` as the product's maker gives them, or weigh a measured volume of each.",
    },
    Page {
        code: "plan.film-thick",
        what: "The film that stones are set into is thicker than half the height of the smallest stone; a flat-back stone is about 0.4 of its diameter high (from memory).",
        why: "Adhesive comes up over the girdle and onto the face: the stone drowns.",
        example: "A film of 0.5 mm under stones of 2 mm, which are about 0.8 mm high.",
        remedy: "Pour a thinner film; build height with coats that cure one after the other, and set the stones into the last. The label comes first.",
    },
    Page {
        code: "plan.foil-shades",
        what: "A light-cured adhesive is to hold stones with a foil, metal or pearl back.",
        why: "It stays liquid where no light reaches, and the stones slide off or come off later.",
        example: "A light-cured drop behind a foil-backed stone on wood.",
        remedy: "Use it under clear stones only, or light it through a clear base if the label allows. Source: published. The label and the safety sheet come first.",
    },
    Page {
        code: "plan.ratio-basis",
        what: "The document does not say whether the ratio of a two-part adhesive is by volume or by weight. It is taken by volume.",
        why: "The two parts differ in density: 1:1 by volume is about 100:81 to 100:89 by weight (from memory). Over about 5 % off the ratio weakens the mix (weak source).",
        example: "1:1 by volume, weighed as 1:1: 18 % too much hardener.",
        remedy: "Read the label, and write `by`. The label comes first.",
    },
];

/// How much a finding with this code matters.
pub(super) fn severity(code: &str) -> Severity {
    match code {
        "plan.base-crazes" | "plan.base-protects" | "plan.foil-shades" => Severity::Serious,
        "plan.batch-small" | "plan.density-unclear" => Severity::Note,
        _ => Severity::Warning,
    }
}
