//! Help: how to begin, the words, the cautions, and every finding explained.

use crate::problem::sentence;
use crate::view::{Here, Shell};
use app::pages as explained;
use maud::{Markup, html};

/// The words, as the makers of this program keep them.
const GLOSSARY: &str = include_str!("../../../../docs/glossary.md");

/// `GET /help`
pub(super) async fn begin(shell: Shell) -> Markup {
    let body = html! {
        div.narrow {
            h1 { "Help" }
            (rooms("begin"))
            p.lead { "An order goes through the worktop in this order. Every step can be taken back." }
            ol.steps {
                li { strong { "Take the order. " } "Give it a name and, if there is one, the day on which it must be ready. " a href="/orders/new" { "New order" } }
                li { strong { "Add a piece. " } "Pick the shape of the bare thing or drop an SVG outline, and type the size you measured, in millimetres or inches (" code { "60 mm" } ", " code { "2 3/8 in" } ")." }
                li { strong { "Cover it. " } "Pick stones and an arrangement: the lay is there at once, in true millimetres. Bare spots, rows and the order of setting can be laid over the picture." }
                li { strong { "Compare. " } "See arrangements and stones side by side, with coverage, hours and price, and take one." }
                li { strong { "Plan. " } "What to buy and keep spare, adhesive, hours, the day it is ready, and what to charge. Open any figure to see how it came about." }
                li { strong { "Quote. " } "Print it for the customer, and note the yes: it stays tied to the lay they saw." }
                li { strong { "Set. " } "At the bench one stretch stands on the screen at a time, with its glue line and its clock. Every press is kept, whatever happens to the machine." }
            }
            p { "What you set, lose and use becomes your own rate, and the next plan goes by it." }
            form method="post" action="/tour" {
                input type="hidden" name="back" value="/";
                button name="step" value="0" { "Look round once more" }
            }
            h2 { "Keys" }
            p { "The board has keys while it has the focus: arrows go from stone to stone, " kbd { "+" } " and " kbd { "−" } " zoom, " kbd { "0" } " shows the whole piece. They can be switched off beside the board. At the bench, " kbd { "Enter" } " is done and " kbd { "Backspace" } " is back: a foot pedal that sends them will do." }
        }
    };
    shell.page("Help", Some(Here::Help), &body)
}

/// `GET /help/words`
pub(super) async fn words(shell: Shell) -> Markup {
    let entries = GLOSSARY.lines().filter_map(|l| l.strip_prefix("- **")?.split_once("**: "));
    let body = html! {
        div.narrow {
            h1 { "Words" }
            (rooms("words"))
            dl.words {
                @for (word, meaning) in entries { dt id=(word.replace(' ', "-")) { (word) } dd { (sentence(meaning)) } }
            }
        }
    };
    shell.page("Words", Some(Here::Help), &body)
}

/// `GET /help/cautions`
pub(super) async fn cautions(shell: Shell) -> Markup {
    let body = html! {
        div.narrow {
            h1 { "Cautions" }
            (rooms("cautions"))
            p.lead { "The safety sheet of the product in your hand, your local rules and licensed practice come before anything that stands here." }
            @for (title, text) in CAUTIONS { h2 { (title) } p { (text) } }
        }
    };
    shell.page("Cautions", Some(Here::Help), &body)
}

/// `GET /help/findings`
pub(super) async fn findings(shell: Shell) -> Markup {
    let body = html! {
        div.narrow {
            h1 { "What the notices mean" }
            (rooms("findings"))
            @for page in explained::all() {
                section id=(page.code) {
                    h2 { code { (page.code) } }
                    p { strong { (sentence(page.what)) "." } }
                    p { "Why it matters: " (page.why) "." }
                    p { "For example: " (page.example) "." }
                    p { "What to do: " (page.remedy) "." }
                }
            }
        }
    };
    shell.page("Notices", Some(Here::Help), &body)
}

fn rooms(here: &str) -> Markup {
    let all = [
        ("begin", "/help", "How to begin"),
        ("words", "/help/words", "Words"),
        ("cautions", "/help/cautions", "Cautions"),
        ("findings", "/help/findings", "Notices explained"),
    ];
    html! {
        nav.ways aria-label="Help" {
            @for (name, href, title) in all { a href=(href) aria-current=[(name == here).then_some("page")] { (title) } }
        }
    }
}

/// Common practice, no source; each defers to the product's own safety sheet.
const CAUTIONS: &[(&str, &str)] = &[
    (
        "Small parts",
        "Loose stones can be swallowed or breathed in: keep them from children under three and from animals, and count what goes back into the box.",
    ),
    (
        "Solvent adhesives",
        "They burn, and their vapour makes dizzy: open a window, keep flames and heaters away, wear the gloves that the safety sheet names. They can craze stressed acrylic and weaken a protective helmet: ask the maker of the blank first.",
    ),
    (
        "Epoxy",
        "Uncured resin and hardener can make you allergic for life: gloves, no skin contact, no sanding before it is fully cured. A large mix grows hot in its cup.",
    ),
    (
        "Dust",
        "Mica powder, glitter and the dust of sanding do not belong in lungs: a mask that fits, wet sanding, and no sweeping dry.",
    ),
    (
        "Leaded crystal",
        "Some glass stones hold lead. They are nothing for children's things, nor for what touches food or drink. Ask the maker what is in the stones.",
    ),
    (
        "Cups and flasks",
        "Keep stones and adhesive off the lip and the inside: some twenty millimetres below a drinking rim stay bare.",
    ),
    (
        "Protective helmets",
        "Glue, solvent and drilling can take away what a helmet is for. Decorate only what its maker allows.",
    ),
];
