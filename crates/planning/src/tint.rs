//! The colour to put under stones so that bare places vanish.

use crate::{Given, Origin, Reason};
use lay::finding::Page;
use lay::{Colour, Finding, Severity};
use palette::color_difference::Ciede2000;
use palette::convert::FromColorUnclamped;
use palette::white_point::D65;
use palette::{Lab, LinSrgb, Srgb};
use schemars::JsonSchema;
use serde::Serialize;
use units::trimmed;

/// Stones and the adhesive that is to be tinted under them.
#[derive(Clone, Debug, PartialEq)]
pub struct TintWork {
    /// Name of the piece under whose stones it goes.
    pub piece: String,
    /// Name of the adhesive that is tinted.
    pub adhesive: String,
    /// The kinds that lie on it.
    pub kinds: Vec<TintKind>,
    /// Adhesive to tint, mixed weight, g.
    pub adhesive_g: f64,
    /// Pigment as a part of the weight of adhesive. See [`USUAL_PIGMENT`].
    pub pigment: Given<f64>,
    /// The most pigment that the adhesive's label allows, as a part of its weight.
    pub pigment_limit: Option<f64>,
}

/// One kind on a tinted base.
#[derive(Clone, Debug, PartialEq)]
pub struct TintKind {
    /// The kind.
    pub kind: String,
    /// Its colour.
    pub colour: Colour,
    /// The area that its stones cover, mm².
    pub covered_mm2: f64,
}

/// A base tint.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Tint {
    /// The tint, sRGB as `#rrggbb`.
    pub shown: String,
    /// The tint in Lab (D65): L, a, b.
    pub shown_lab: [f64; 3],
    /// Mean of the stones' colours in Lab (D65), by covered area.
    pub mean_lab: [f64; 3],
    /// Difference between tint and mean, CIEDE2000.
    pub shown_difference: f64,
    /// Whether the mean is a colour that sRGB can show; else the tint is the nearest by channel.
    pub in_gamut: bool,
    /// The kind that stands out most against the tint.
    pub furthest_kind: String,
    /// By how much, CIEDE2000; 0 where all stones have the tint's colour, so that none stands out.
    pub furthest_difference: f64,
    /// Pigment to stir in, g: as asked for, or the label's limit if that is less.
    pub pigment_g: f64,
    /// The same as a part of the weight of adhesive.
    pub pigment: f64,
    /// How the figures came about.
    pub reasons: Vec<Reason>,
}

/// Why no tint can be named.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum TintError {
    /// No stone covers any area.
    #[error("no stone lies on the base that is to be tinted")]
    Bare,
    /// A number out of its range.
    #[error("{what} must be {wanted}: {value}")]
    Range {
        /// Which number.
        what: String,
        /// The value given.
        value: f64,
        /// What it must be.
        wanted: &'static str,
    },
}

/// Pigment as a part of the weight of adhesive where nothing is said: 3 %, the middle of the 1 to
/// 5 % that are common practice (no source).
pub const USUAL_PIGMENT: f64 = 0.03;
/// What is commonly stirred in at most (common practice, no source).
const COMMON_MOST: f64 = 0.05;

/// Channels that leave 0..=1 by no more than this are taken as rounding of the conversion, whose
/// matrices have seven digits.
const GAMUT_TOLERANCE: f64 = 1e-6;

/// Findings of this module.
pub(crate) const PAGES: &[Page] = &[
    Page {
        code: "plan.pigment-over",
        what: "The maker asks for more pigment than the adhesive's label allows, or than is common practice where the label says nothing. The usual part is lowered to the label's limit without a word.",
        why: "Too much pigment keeps a resin from curing, or makes it brittle.",
        example: "6 % of paste by weight in a resin whose label says 5 %.",
        remedy: "Stir in no more than the limit; a stronger pigment gives more colour at the same weight.",
    },
    Page {
        code: "plan.tint-clamped",
        what: "The mean colour of the stones cannot be shown on a screen; the nearest that can, channel by channel, is given.",
        why: "What you see beside the stones is not quite the colour to mix.",
        example: "A mix of the purest yellow and magenta.",
        remedy: "Mix a trial and hold it beside the stones.",
    },
];

/// The tint under which bare places vanish: the mean colour of the stones.
///
/// The mean is taken in Lab (CIE 15, white D65; sRGB after IEC 61966-2-1), weighted by the area that
/// the stones of each kind cover; differences are CIEDE2000. Colours are those of the document's
/// kinds: foil and facets throw light about, so that a trial is worth its gram.
///
/// # Errors
/// No covered area, or numbers out of their range.
pub fn tint(work: &TintWork) -> Result<(Tint, Vec<Finding>), TintError> {
    check(work)?;
    let area: f64 = work.kinds.iter().map(|k| k.covered_mm2).sum();
    let labs: Vec<Lab<D65, f64>> = work.kinds.iter().map(|k| lab_of(k.colour)).collect();
    let mut mean = Lab::<D65, f64>::new(0.0, 0.0, 0.0);
    for (kind, lab) in work.kinds.iter().zip(&labs) {
        mean += *lab * (kind.covered_mm2 / area);
    }
    let linear = LinSrgb::<f64>::from_color_unclamped(mean);
    let room = -GAMUT_TOLERANCE..=1.0 + GAMUT_TOLERANCE;
    let in_gamut = [linear.red, linear.green, linear.blue].iter().all(|c| room.contains(c));
    let shown = shown_of(linear);
    let shown_lab = lab_of(shown);
    let mut furthest = (String::new(), -1.0);
    for (kind, lab) in work.kinds.iter().zip(&labs).filter(|(k, _)| k.covered_mm2 > 0.0) {
        let difference = shown_lab.difference(*lab);
        if difference > furthest.1 {
            furthest = (kind.kind.clone(), difference);
        }
    }
    let asked = work.pigment.value;
    let pigment = work.pigment_limit.map_or(asked, |limit| asked.min(limit));
    let mut tint = Tint {
        shown: shown.hex(),
        shown_lab: rounded(shown_lab),
        mean_lab: rounded(mean),
        shown_difference: to_millionths(shown_lab.difference(mean)),
        in_gamut,
        furthest_kind: furthest.0,
        furthest_difference: to_millionths(furthest.1),
        pigment_g: pigment * work.adhesive_g,
        pigment,
        reasons: vec![],
    };
    tint.reasons = reasons(work, &tint);
    let findings = findings(work, &tint);
    Ok((tint, findings))
}

fn check(work: &TintWork) -> Result<(), TintError> {
    let range = |what: &str, value: f64, wanted, right: bool| {
        if right {
            return Ok(());
        }
        Err(TintError::Range { what: what.to_owned(), value, wanted })
    };
    for k in &work.kinds {
        let right = (0.0..=1e12).contains(&k.covered_mm2);
        range(&format!("area covered by `{}`", k.kind), k.covered_mm2, "0 mm² or more", right)?;
    }
    let right = (0.0..=1e6).contains(&work.adhesive_g);
    range("adhesive to tint", work.adhesive_g, "from 0 g to 1 t", right)?;
    let part = work.pigment.value;
    range("pigment", part, "from 0 to 50 %", (0.0..=0.5).contains(&part))?;
    if let Some(limit) = work.pigment_limit {
        range("pigment limit", limit, "from 0 to 100 %", (0.0..=1.0).contains(&limit))?;
    }
    let area: f64 = work.kinds.iter().map(|k| k.covered_mm2).sum();
    if area > 0.0 { Ok(()) } else { Err(TintError::Bare) }
}

fn lab_of(Colour(r, g, b): Colour) -> Lab<D65, f64> {
    Lab::from_color_unclamped(Srgb::new(r, g, b).into_format::<f64>().into_linear())
}

/// Each channel put back into its range, then to 8 bits.
fn shown_of(linear: LinSrgb<f64>) -> Colour {
    let clamped = LinSrgb::new(
        linear.red.clamp(0.0, 1.0),
        linear.green.clamp(0.0, 1.0),
        linear.blue.clamp(0.0, 1.0),
    );
    let Srgb { red, green, blue, .. } = Srgb::<f64>::from_linear(clamped);
    let byte = |c: f64| (c * 255.0).round() as u8;
    Colour(byte(red), byte(green), byte(blue))
}

fn rounded(lab: Lab<D65, f64>) -> [f64; 3] {
    [to_millionths(lab.l), to_millionths(lab.a), to_millionths(lab.b)]
}

/// To six decimals, never -0.
fn to_millionths(value: f64) -> f64 {
    (value * 1e6).round() / 1e6 + 0.0
}

fn findings(work: &TintWork, tint: &Tint) -> Vec<Finding> {
    let percent = |part: f64| format!("{} %", trimmed(part * 100.0, 2));
    let mut all = vec![];
    let asked = work.pigment.value;
    let limit = work.pigment_limit.unwrap_or(COMMON_MOST);
    // Nobody asked for what is usual: then the label's limit is simply taken.
    if asked > limit && work.pigment.origin != Origin::Usual {
        let (severity, whose) = match work.pigment_limit {
            Some(_) => (Severity::Serious, format!("the label of `{}` allows", work.adhesive)),
            None => (Severity::Warning, format!("is common practice in `{}`", work.adhesive)),
        };
        let text = format!("`{}`: more pigment is asked for than {whose}", work.piece);
        let mut f =
            Finding::new("plan.pigment-over", severity, text, "take a stronger pigment, not more");
        f.measured = Some(percent(asked));
        f.wanted = Some(format!("at most {} by weight", percent(limit)));
        all.push(f);
    }
    if !tint.in_gamut {
        let text = format!(
            "`{}`: the mean colour of the stones lies outside what a screen can show",
            work.piece
        );
        let mut f = Finding::new(
            "plan.tint-clamped",
            Severity::Note,
            text,
            "mix a trial and hold it beside the stones",
        );
        f.measured = Some(format!("{} off by CIEDE2000", trimmed(tint.shown_difference, 1)));
        all.push(f);
    }
    all
}

fn reasons(work: &TintWork, tint: &Tint) -> Vec<Reason> {
    let mut colour = Reason::new(
        "base tint",
        tint.shown.clone(),
        "mean of the kinds' colours in Lab (CIE 15, D65), weighted by covered area",
    );
    for k in work.kinds.iter().filter(|k| k.covered_mm2 > 0.0) {
        let value = format!("{}, {} cm²", k.colour.hex(), trimmed(k.covered_mm2 / 100.0, 2));
        colour = colour.with(&*k.kind, value, Origin::Lay);
    }
    let percent = |part: f64| format!("{} %", trimmed(part * 100.0, 2));
    let mut pigment = Reason::new(
        "pigment",
        format!("{} g", trimmed(tint.pigment_g, 2)),
        "weight of adhesive × the part asked for, or the label's limit if that is less; usual part 3 %, of 1 to 5 % (common practice, no source)",
    )
    .with("adhesive", format!("{} g", trimmed(work.adhesive_g, 1)), Origin::Plan)
    .with("part", percent(work.pigment.value), work.pigment.origin);
    if let Some(limit) = work.pigment_limit {
        pigment = pigment.with("label's limit", percent(limit), Origin::Document);
    }
    vec![colour, pigment]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn work(kinds: &[(&str, f64)]) -> TintWork {
        let kind = |(hex, covered_mm2): &(&str, f64)| TintKind {
            kind: (*hex).into(),
            colour: Colour::from_hex(hex).unwrap(),
            covered_mm2: *covered_mm2,
        };
        TintWork {
            piece: "badge".into(),
            adhesive: "clear coat".into(),
            kinds: kinds.iter().map(kind).collect(),
            adhesive_g: 40.0,
            pigment: Given::usual(USUAL_PIGMENT),
            pigment_limit: None,
        }
    }

    /// Closed form for a grey of sRGB value v: Y = ((v + 0.055)/1.055)^2.4 (IEC 61966-2-1), and
    /// L = 116 Y^(1/3) − 16 (CIE 15), a = b = 0.
    fn lightness(byte: f64) -> f64 {
        116.0 * libm::cbrt(libm::pow((byte / 255.0 + 0.055) / 1.055, 2.4)) - 16.0
    }

    #[test]
    fn greys_have_the_lightness_of_the_closed_form() {
        for byte in [64u8, 119, 188, 255] {
            let hex = format!("#{byte:02x}{byte:02x}{byte:02x}");
            let (tint, findings) = tint(&work(&[(&hex, 10.0)])).unwrap();
            let [l, a, b] = tint.mean_lab;
            assert!((l - lightness(f64::from(byte))).abs() < 1e-4, "{byte}: {l}");
            // The library's matrix and its white agree to seven digits.
            assert!(a.abs() < 1e-3 && b.abs() < 1e-3, "{byte}: {a} {b}");
            assert_eq!((tint.shown.as_str(), tint.in_gamut), (hex.as_str(), true));
            assert!(findings.is_empty());
        }
    }

    /// Of greys, CIEDE2000 is ΔL/S with S = 1 + 0.015 (L̄ − 50)²/√(20 + (L̄ − 50)²) (Sharma, Wu, Dalal
    /// 2005, equations 4 and 15).
    #[test]
    fn greys_are_mixed_by_area_and_told_apart_by_the_closed_form() {
        let (tint, _) = tint(&work(&[("#ffffff", 30.0), ("#404040", 10.0)])).unwrap();
        let mean = 0.75 * lightness(255.0) + 0.25 * lightness(64.0);
        assert!((tint.mean_lab[0] - mean).abs() < 1e-4);
        let middle = (tint.shown_lab[0] + lightness(64.0)) / 2.0 - 50.0;
        let s = 1.0 + 0.015 * middle * middle / (20.0 + middle * middle).sqrt();
        let wanted = (tint.shown_lab[0] - lightness(64.0)) / s;
        assert_eq!(tint.furthest_kind, "#404040");
        assert!((tint.furthest_difference - wanted).abs() < 1e-3);
        assert!(tint.shown_difference < 0.5, "8 bits are finer than that");
    }

    #[test]
    fn a_mean_that_no_screen_shows_is_clamped_and_said() {
        let (tint, findings) = tint(&work(&[("#ffff00", 10.0), ("#ff00ff", 10.0)])).unwrap();
        // Its linear red would be 1.145, by the matrices of IEC 61966-2-1 in NumPy.
        assert!(!tint.in_gamut && tint.shown_difference > 1.0, "{tint:?}");
        assert!(tint.shown.starts_with("#ff"));
        assert_eq!(findings[0].code, "plan.tint-clamped");
        assert!(findings[0].text.starts_with("`badge`: "), "{findings:?}");
    }

    #[test]
    fn the_usual_pigment_is_lowered_to_the_label_without_a_word() {
        let usual = TintWork { pigment_limit: Some(0.02), ..work(&[("#808080", 10.0)]) };
        let (tint, findings) = tint(&usual).unwrap();
        assert!((tint.pigment - 0.02).abs() < 1e-12 && (tint.pigment_g - 0.8).abs() < 1e-12);
        assert!(findings.is_empty(), "{findings:?}");
        let reason = tint.reasons.last().unwrap();
        assert!(reason.inputs.iter().any(|i| i.name == "label's limit" && i.value == "2 %"));
    }

    #[test]
    fn of_a_single_kind_nothing_stands_out() {
        for hex in ["#2a9d8f", "#ffffff", "#7f0312"] {
            assert_eq!(tint(&work(&[(hex, 10.0)])).unwrap().0.furthest_difference, 0.0, "{hex}");
        }
    }

    #[test]
    fn the_label_wins_over_the_pigment_asked_for() {
        let mut asked = work(&[("#808080", 10.0)]);
        assert!((tint(&asked).unwrap().0.pigment_g - 1.2).abs() < 1e-12);
        asked.pigment = Given::document(0.06);
        let (common, findings) = tint(&asked).unwrap();
        assert!((common.pigment_g - 2.4).abs() < 1e-12);
        assert_eq!(
            (findings[0].code, findings[0].severity),
            ("plan.pigment-over", Severity::Warning)
        );
        asked.pigment_limit = Some(0.02);
        let (limited, findings) = tint(&asked).unwrap();
        assert!((limited.pigment_g - 0.8).abs() < 1e-12);
        assert_eq!(findings[0].severity, Severity::Serious);
        let text = "`badge`: more pigment is asked for than the label of `clear coat` allows";
        assert_eq!(findings[0].text, text);
        assert_eq!(tint(&work(&[("#808080", 0.0)])).unwrap_err(), TintError::Bare);
    }
}
