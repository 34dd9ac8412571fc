//! Orders that tests begin with.

use crate::Worktop;
use desk::{Bundle, Opened};

/// Badges for the marshals of a lantern festival, and one plate.
pub(crate) const BADGES: &str = r##"
stonelay = 1
order = "Lantern badges"

[[kind]]
name = "sea glass"
size = "SS16"
colour = "#2a9d8f"
pack = 144
weight = "0.036 g"

[[kind]]
name = "ember"
size = "SS20"
colour = "#d6432b"
pack = 144
weight = "0.064 g"

[[adhesive]]
name = "bench gel"
sort = "solvent gel"
container = "50 ml"
price = "6.00"

[[supplier]]
name = "quayside stones"
delivery = "4.90"
lead = 2
offers = [
  { kind = "sea glass", pack = 144, price = "2.40" },
  { kind = "ember", pack = 144, price = "3.10" },
]

[[piece]]
name = "badge"
quantity = 4
margin = "0.5 mm"
blank = { shape = "rounded rectangle", width = "40 mm", height = "25 mm", corner = "4 mm" }
adhesive = "bench gel"
blank_price = "0.80"
arrangement = "honeycomb"
along = "left"
mix = "sea glass"

[[piece]]
name = "plate"
margin = "0.5 mm"
blank = { shape = "circle", diameter = "30 mm" }
adhesive = "bench gel"
arrangement = "rings"
mix = "ember"

[workshop]
loss = "3 %"
level = "practised"
wage = "15.00"

[price]
currency = "EUR"
margin = "30 %"
tax = "20 %"

[[kit]]
name = "try it yourself"
piece = "badge"
copies = 2

[[bag]]
name = "glass by the bag"
mix = "sea glass"
weight = "5 g"
"##;

impl Worktop {
    /// With such an order, and its address.
    pub(crate) fn with_order(text: &str) -> (Worktop, Opened, String) {
        let worktop = Worktop::new();
        let bundle = Bundle { text: text.to_owned(), files: vec![] };
        let opened = worktop.desk.import(&bundle).unwrap();
        let at = format!("/orders/{}", opened.document.id);
        (worktop, opened, at)
    }

    /// With the order above, laid and planned already.
    pub(crate) fn with_plan() -> (Worktop, Opened, String) {
        let (worktop, opened, at) = Worktop::with_order(BADGES);
        worktop.desk.plan(&opened, &lay::Unwatched).unwrap();
        (worktop, opened, at)
    }
}
