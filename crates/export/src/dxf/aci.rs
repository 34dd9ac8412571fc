//! The numbered colours of release 12.

use lay::Colour;

/// Black on white and white on black.
pub(super) const FOREGROUND: u8 = 7;

/// Greys whose look most programs agree on: 250 is nearly black, 255 white. The others differ from
/// program to program. From memory, no public source; held against another library's table by
/// `checks/dxf_files.py`.
const GREYS: [(u8, Colour); 4] = [
    (8, Colour(128, 128, 128)),
    (9, Colour(192, 192, 192)),
    (250, Colour(0, 0, 0)),
    (255, Colour(255, 255, 255)),
];

/// The numbered colour nearest to `colour`: the least sum of squares in sRGB, the lowest number of
/// those.
pub(super) fn nearest(colour: Colour) -> u8 {
    let hues = (10..250).filter(is_agreed).map(|n| (n, hued(n)));
    let off = |c: Colour| {
        let d = |a: u8, b: u8| u32::from(a.abs_diff(b)).pow(2);
        d(c.0, colour.0) + d(c.1, colour.1) + d(c.2, colour.2)
    };
    GREYS.into_iter().chain(hues).min_by_key(|&(n, c)| (off(c), n)).map_or(FOREGROUND, |c| c.0)
}

/// Programs do not agree on the two darkest of the weaker shades, whose numbers end in 7 and 9.
fn is_agreed(number: &u8) -> bool {
    !matches!(number % 10, 7 | 9)
}

/// The colours from 10 to 249: 24 hues of 15°, ten shades each, five of them half as strong.
fn hued(number: u8) -> Colour {
    let (hue, shade) = (u32::from(number / 10 - 1), number % 10);
    // Hundredths of a channel.
    let high = 255 * [100_u32, 65, 50, 30, 15][usize::from(shade / 2)];
    let low_twice = if shade % 2 == 1 { high } else { 0 };
    // So many quarters of the way from the low channel to the high one; digits behind are cut off.
    let level = |quarters: u32| ((4 * low_twice + (2 * high - low_twice) * quarters) / 800) as u8;
    let (low, top) = (level(0), level(4));
    let (up, down) = (level(hue % 4), level(4 - hue % 4));
    match hue / 4 {
        0 => Colour(top, up, low),
        1 => Colour(down, top, low),
        2 => Colour(low, top, up),
        3 => Colour(low, down, top),
        4 => Colour(up, low, top),
        _ => Colour(top, low, down),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_numbered_colour_is_its_own_nearest() {
        for number in (10..250).filter(is_agreed) {
            let found = nearest(hued(number));
            assert_eq!(hued(found), hued(number), "{number}");
        }
        assert_eq!(nearest(Colour(255, 255, 255)), 255);
        assert_eq!(nearest(Colour(3, 2, 5)), 250);
    }

    #[test]
    fn shades_are_those_of_the_table() {
        // Worked by hand: red, orange darkened, green, blue at half strength.
        let cases =
            [(10, 0xff0000), (22, 0xa52900), (33, 0xa57c52), (90, 0x00ff00), (171, 0x7f7fff)];
        for (number, rgb) in cases {
            assert_eq!(hued(number).hex(), format!("#{rgb:06x}"), "{number}");
        }
    }
}
