//! How different two colours look.

use lay::Colour;
use palette::color_difference::Ciede2000;
use palette::{IntoColor, Lab, Srgb};

/// Lightness, a and b of an sRGB colour in CIE Lab, white D65, 2° (IEC 61966-2-1, CIE 15).
pub fn lab(colour: Colour) -> [f64; 3] {
    let rgb: Srgb<f64> = Srgb::new(colour.0, colour.1, colour.2).into_format();
    let lab: Lab<palette::white_point::D65, f64> = rgb.into_color();
    [lab.l, lab.a, lab.b]
}

/// The difference of two colours in CIE Lab by CIEDE2000 (CIE 142; G. Sharma, W. Wu, E. N. Dalal,
/// Color Research & Application 30, 2005). About 1 can just be seen side by side.
///
/// Within 0.0005 of the formula: where two hues lie on both sides of red, `palette` takes their mean
/// a whole turn further on, which the formula's term for blue hues notices in the fourth decimal.
pub fn lab_difference(a: [f64; 3], b: [f64; 3]) -> f64 {
    let lab = |c: [f64; 3]| Lab::<palette::white_point::D65, f64>::new(c[0], c[1], c[2]);
    lab(a).difference(lab(b))
}

/// The difference of two sRGB colours by CIEDE2000.
pub fn colour_difference(a: Colour, b: Colour) -> f64 {
    lab_difference(lab(a), lab(b))
}
