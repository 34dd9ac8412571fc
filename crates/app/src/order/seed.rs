//! Seeds of zones, each independent of the others.

/// The seed of a zone: the document's seed, the index of the piece and that of the zone, each
/// folded in by one step of SplitMix64 (Steele, Lea and Flood 2014; its constants from memory).
///
/// The upper 53 bits are kept: a number of JSON holds no more.
pub(super) fn zone_seed(document: u64, piece: usize, zone: usize) -> u64 {
    let steps = [piece as u64, zone as u64];
    steps.iter().fold(split_mix(document), |state, step| split_mix(state ^ step)) >> 11
}

/// The output of SplitMix64 for the state `x`.
fn split_mix(x: u64) -> u64 {
    let z = x.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    /// First output for seed 0 of the reference implementation, from memory.
    #[test]
    fn the_generator_is_the_named_one() {
        assert_eq!(split_mix(0), 0xe220_a839_7b1d_cdaf);
    }

    #[test]
    fn zones_get_seeds_of_their_own_that_json_can_hold() {
        let mut seen = BTreeSet::new();
        for document in [0, 1, 20_261] {
            for piece in 0..20 {
                for zone in 0..20 {
                    let seed = zone_seed(document, piece, zone);
                    assert!(seed < 1 << 53);
                    assert!(seen.insert(seed));
                }
            }
        }
    }
}
