//! What the label says, over what is usual.

use super::sort::{AdhesiveSort, DENSITY_A, DENSITY_B, PIGMENT};
use crate::{Given, Origin};
use rust_decimal::Decimal;
use schemars::JsonSchema;
use serde::Serialize;
use units::Ratio;

/// One adhesive of the workshop.
#[derive(Clone, Debug, PartialEq)]
pub struct Adhesive {
    /// The maker's own name for it.
    pub name: String,
    /// Its sort.
    pub sort: AdhesiveSort,
    /// What its label says.
    pub label: Label,
}

/// What the label of a product says; all of it may be missing.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Label {
    /// Open time at 25 °C, min.
    pub open_min: Option<f64>,
    /// Pot life of 100 g at 25 °C, min.
    pub pot_min: Option<f64>,
    /// Until the piece may be handled, min.
    pub handle_min: Option<f64>,
    /// Until it has its full strength, min.
    pub cure_min: Option<f64>,
    /// Until the next coat may go on, min.
    pub recoat_min: Option<f64>,
    /// Parts of A and of B.
    pub ratio: Option<Ratio>,
    /// How those parts are measured.
    pub ratio_by: Option<RatioBy>,
    /// Density, mixed if it is mixed, g/ml.
    pub density_g_per_ml: Option<f64>,
    /// Density of part A, g/ml.
    pub density_a_g_per_ml: Option<f64>,
    /// Density of part B, g/ml.
    pub density_b_g_per_ml: Option<f64>,
    /// What is lost, as a share of what is needed.
    pub waste: Option<f64>,
    /// How much one container holds, both parts together.
    pub container: Option<Container>,
    /// Price of one container, in the order's currency.
    pub price: Option<Decimal>,
    /// Most pigment, share of the mix by weight.
    pub pigment_limit: Option<f64>,
}

/// How the parts of a ratio are measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum RatioBy {
    /// By volume: cups, syringes.
    Volume,
    /// By weight: scales.
    Weight,
}

/// How much one container holds.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Container {
    /// So many ml.
    Ml(f64),
    /// So many g.
    G(f64),
    /// A sheet of so many cm².
    Cm2(f64),
}

/// A label value that cannot be worked with.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("adhesive `{adhesive}`: {what} must be {limit}: {value}")]
pub struct LabelError {
    /// Whose label.
    pub adhesive: String,
    /// Which value.
    pub what: &'static str,
    /// What it was.
    pub value: String,
    /// What would be right.
    pub limit: &'static str,
}

/// Everything that is reckoned with: the label's word, or else what is usual for the sort.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Facts {
    /// Open time at 25 °C, min; `None`: no limit.
    pub open_min: Option<Given<f64>>,
    /// Pot life of 100 g at 25 °C, min; only what is mixed from two parts has one.
    pub pot_min: Option<Given<f64>>,
    /// Until the piece may be handled, min.
    pub handle_min: Given<f64>,
    /// Until it has its full strength, min.
    pub cure_min: Given<f64>,
    /// Until the next coat may go on, min.
    pub recoat_min: Option<Given<f64>>,
    /// Density, g/ml; of what is mixed, by its parts, so that volume and weight are of one mix.
    /// `None` for a sheet.
    pub density_g_per_ml: Option<Given<f64>>,
    /// How it is mixed, if it is.
    pub two_part: Option<TwoPart>,
    /// What is lost, as a share of what is needed.
    pub waste: Given<f64>,
    /// Most pigment, share of the mix by weight.
    pub pigment_limit: Given<f64>,
}

/// How two parts are mixed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TwoPart {
    /// Parts of A and of B, as the label writes them.
    pub ratio: Given<Ratio>,
    /// How they are measured.
    pub by: Given<RatioBy>,
    /// Density of part A, g/ml.
    pub density_a_g_per_ml: Given<f64>,
    /// Density of part B, g/ml.
    pub density_b_g_per_ml: Given<f64>,
}

impl Adhesive {
    /// What is reckoned with.
    ///
    /// # Errors
    /// A time, density, ratio or container that is not a number over 0, a waste below 0 or a
    /// pigment limit outside 0..=1; values that contradict each other or the sort.
    pub fn facts(&self) -> Result<Facts, LabelError> {
        self.checked()?;
        self.consistent()?;
        let (label, usual) = (&self.label, self.sort.values());
        let two_part = self.two_part();
        let usual_open = usual.open_min.map(|u| Given::usual(u.taken));
        let said = |value: Option<f64>| value.map(Given::document);
        // Of two parts, makers print one of the two times: it stands for both.
        let (open_min, pot_min) = match two_part {
            None => (said(label.open_min).or(usual_open), None),
            Some(_) => (
                said(label.open_min.or(label.pot_min)).or(usual_open),
                said(label.pot_min.or(label.open_min)).or(usual_open),
            ),
        };
        // What is cured may be handled: what the label says of one bounds what is usual for both.
        let usual_handle = usual.handle_min.taken.min(label.cure_min.unwrap_or(f64::INFINITY));
        let usual_cure = usual.cure_min.taken.max(label.handle_min.unwrap_or(0.0));
        Ok(Facts {
            open_min,
            pot_min,
            handle_min: Given::or_usual(label.handle_min, usual_handle),
            cure_min: Given::or_usual(label.cure_min, usual_cure),
            recoat_min: said(label.recoat_min).or(usual.recoat_min.map(|u| Given::usual(u.taken))),
            density_g_per_ml: self.density(two_part),
            two_part,
            waste: Given::or_usual(label.waste, usual.waste.taken),
            pigment_limit: Given::or_usual(label.pigment_limit, PIGMENT.taken),
        })
    }

    /// How it is mixed; a ratio on the label makes any sort one of two parts.
    fn two_part(&self) -> Option<TwoPart> {
        let label = &self.label;
        (self.sort.two_part() || label.ratio.is_some()).then(|| TwoPart {
            ratio: Given::or_usual(label.ratio, Ratio { a: 1.0, b: 1.0 }),
            by: Given::or_usual(label.ratio_by, RatioBy::Volume),
            density_a_g_per_ml: Given::or_usual(label.density_a_g_per_ml, DENSITY_A.taken),
            density_b_g_per_ml: Given::or_usual(label.density_b_g_per_ml, DENSITY_B.taken),
        })
    }

    /// Of a mix that of its parts; else the label's; else the usual. A mix measured by the label's
    /// own density would not weigh what its parts weigh.
    fn density(&self, two_part: Option<TwoPart>) -> Option<Given<f64>> {
        if let Some(parts) = two_part {
            return Some(Given { value: parts.density_g_per_ml(), origin: Origin::Plan });
        }
        let usual = self.sort.values().density_g_per_ml?;
        Some(Given::or_usual(self.label.density_g_per_ml, usual.taken))
    }

    /// That what the label says goes with its sort and with itself.
    fn consistent(&self) -> Result<(), LabelError> {
        let (l, sheet) = (&self.label, self.sort == AdhesiveSort::AdhesiveSheet);
        let refused = |what, value: String, limit| {
            Err(LabelError { adhesive: self.name.clone(), what, value, limit })
        };
        let number = |x: f64, unit: &str| format!("{} {unit}", units::trimmed(x, 2));
        match l.container {
            Some(Container::Cm2(x)) if !sheet => {
                return refused(
                    "the container",
                    number(x, "cm²"),
                    "in ml or g, since this sort is no sheet",
                );
            }
            Some(Container::Ml(x)) if sheet => {
                return refused(
                    "the container",
                    number(x, "ml"),
                    "the two sides of a sheet, like 20 x 30 cm",
                );
            }
            Some(Container::G(x)) if sheet => {
                return refused(
                    "the container",
                    number(x, "g"),
                    "the two sides of a sheet, like 20 x 30 cm",
                );
            }
            _ => {}
        }
        if let Some(r) = l.ratio.filter(|_| sheet) {
            return refused(
                "the ratio",
                format!("{}:{}", r.a, r.b),
                "left out, since a sheet is not mixed",
            );
        }
        if !self.sort.two_part() && l.ratio.is_none() {
            let unmixed = "left out, or stand beside a `ratio`, since this sort is not mixed";
            let by = l.ratio_by.map(|by| match by {
                RatioBy::Volume => "volume".to_owned(),
                RatioBy::Weight => "weight".to_owned(),
            });
            let density = |d: Option<f64>| d.map(|d| number(d, "g/ml"));
            let parts = [
                ("`by`", by),
                ("`density_a`", density(l.density_a_g_per_ml)),
                ("`density_b`", density(l.density_b_g_per_ml)),
            ];
            if let Some((what, value)) = parts.into_iter().find_map(|(w, v)| Some((w, v?))) {
                return refused(what, value, unmixed);
            }
        }
        match (l.handle_min, l.cure_min) {
            (Some(handle), Some(cure)) if handle > cure => refused(
                "the handling time",
                format!("{}, and cured after {}", number(handle, "min"), number(cure, "min")),
                "at most the cure",
            ),
            _ => Ok(()),
        }
    }

    fn checked(&self) -> Result<(), LabelError> {
        let l = &self.label;
        let container = l.container.map(|c| match c {
            Container::Ml(x) | Container::G(x) | Container::Cm2(x) => x,
        });
        let over_0 = [
            ("the open time", l.open_min),
            ("the pot life", l.pot_min),
            ("the handling time", l.handle_min),
            ("the cure", l.cure_min),
            ("the recoat time", l.recoat_min),
            ("part A of the ratio", l.ratio.map(|r| r.a)),
            ("part B of the ratio", l.ratio.map(|r| r.b)),
            ("the density", l.density_g_per_ml),
            ("the density of A", l.density_a_g_per_ml),
            ("the density of B", l.density_b_g_per_ml),
            ("the container", container),
        ];
        let refused = |what, value: String, limit| {
            Err(LabelError { adhesive: self.name.clone(), what, value, limit })
        };
        for (what, value) in over_0 {
            if let Some(x) = value.filter(|x| !(x.is_finite() && *x > 0.0)) {
                return refused(what, x.to_string(), "a number over 0");
            }
        }
        for (what, value) in [("the waste", l.waste), ("the pigment limit", l.pigment_limit)] {
            if let Some(x) = value.filter(|x| !(0.0..=1.0).contains(x)) {
                return refused(what, x.to_string(), "between 0 % and 100 %");
            }
        }
        match l.price {
            Some(p) if p < Decimal::ZERO => refused("the price", p.to_string(), "at least 0"),
            _ => Ok(()),
        }
    }
}

impl TwoPart {
    /// A to B by volume.
    ///
    /// By weight to by volume: each part divided by its density.
    pub fn by_volume(&self) -> Ratio {
        let Ratio { a, b } = self.ratio.value;
        match self.by.value {
            RatioBy::Volume => Ratio { a, b },
            RatioBy::Weight => {
                Ratio { a: a / self.density_a_g_per_ml.value, b: b / self.density_b_g_per_ml.value }
            }
        }
    }

    /// A to B by weight: each part by volume times its density.
    pub fn by_weight(&self) -> Ratio {
        let Ratio { a, b } = self.ratio.value;
        match self.by.value {
            RatioBy::Weight => Ratio { a, b },
            RatioBy::Volume => {
                Ratio { a: a * self.density_a_g_per_ml.value, b: b * self.density_b_g_per_ml.value }
            }
        }
    }

    /// Density of the mix if it neither shrinks nor swells, g/ml: the parts' weights over their
    /// volumes.
    pub fn density_g_per_ml(&self) -> f64 {
        let v = self.by_volume();
        (v.a * self.density_a_g_per_ml.value + v.b * self.density_b_g_per_ml.value) / (v.a + v.b)
    }
}
