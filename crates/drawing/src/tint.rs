//! Lighter and darker tints of a colour, and small repeatable irregularities.

use lay::Colour;

/// White.
pub(crate) const WHITE: Colour = Colour(255, 255, 255);
/// Black.
pub(crate) const BLACK: Colour = Colour(0, 0, 0);

/// `share` of the way from `a` to `b`, in sRGB values.
pub(crate) fn mix(a: Colour, b: Colour, share: f64) -> Colour {
    let share = share.clamp(0.0, 1.0);
    let channel = |a: u8, b: u8| {
        let (a, b) = (f64::from(a), f64::from(b));
        (a + (b - a) * share).round() as u8
    };
    Colour(channel(a.0, b.0), channel(a.1, b.1), channel(a.2, b.2))
}

/// How bright a colour looks, 0..=1: luma after ITU-R BT.709 (coefficients from memory).
pub(crate) fn luma(c: Colour) -> f64 {
    (0.2126 * f64::from(c.0) + 0.7152 * f64::from(c.1) + 0.0722 * f64::from(c.2)) / 255.0
}

/// `colour` under more or less light: −1 is deep shade, 0 the colour itself, 1 a glare.
///
/// As in coloured glass, shade turns deep and light turns brilliant before it turns white: neither
/// goes through grey.
pub(crate) fn lit(colour: Colour, light: f64) -> Colour {
    let light = light.clamp(-1.0, 1.0);
    let strongest = f64::from(colour.0.max(colour.1).max(colour.2)).max(1.0);
    // A dark colour has more room to turn brilliant before it must turn white.
    let gain = 0.55 + 1.1 * (1.0 - strongest / 255.0);
    let channel = |c: u8| {
        let c = f64::from(c);
        let bent = if light >= 0.0 {
            let brilliant = (c * (1.0 + gain * light)).min(255.0);
            brilliant + (255.0 - brilliant) * light * (0.20 + 0.76 * light)
        } else {
            c * (1.0 + light * (0.64 + 0.26 * (1.0 - c / strongest)))
        };
        bent.clamp(0.0, 255.0).round() as u8
    };
    Colour(channel(colour.0), channel(colour.1), channel(colour.2))
}

/// A number in 0..1 that depends on `a` and `b` alone and looks random: the finaliser of
/// SplitMix64 (Steele, Lea, Flood 2014; constants from memory). For looks only.
pub(crate) fn speckle(a: u64, b: u64) -> f64 {
    let mut z = a.wrapping_mul(0x9e37_79b9_7f4a_7c15).wrapping_add(b.wrapping_add(1) << 32 | b);
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^= z >> 31;
    (z >> 11) as f64 / (1u64 << 53) as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn light_goes_from_deep_to_glare_and_passes_through_the_colour() {
        let coral = Colour(240, 110, 90);
        assert_eq!(lit(coral, 0.0), coral);
        let steps: Vec<f64> = (-10..=10).map(|i| luma(lit(coral, f64::from(i) / 10.0))).collect();
        assert!(steps.is_sorted(), "{steps:?}");
        assert!(steps[0] < 0.25 && steps[20] > 0.9, "{steps:?}");
    }

    #[test]
    fn speckle_is_spread_over_the_unit_interval() {
        let values: Vec<f64> = (0..1000).map(|i| speckle(i, 7)).collect();
        assert!(values.iter().all(|v| (0.0..1.0).contains(v)));
        let mean = values.iter().sum::<f64>() / 1000.0;
        // Standard error of the mean of 1,000 uniform numbers: 0.009.
        assert!((mean - 0.5).abs() < 0.04, "{mean}");
    }
}
