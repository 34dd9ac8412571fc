//! Whole numbers that add up.

/// `total` things by `shares`, on any positive scale, in whole numbers that add up to it: each
/// rounded down, what is left over to the largest remainders, the first of equal ones first
/// (Hamilton's method of apportionment). All 0 if the shares add up to nothing.
pub fn largest_remainder(shares: &[f64], total: u64) -> Vec<u64> {
    let sum: f64 = shares.iter().sum();
    if sum.is_nan() || sum <= 0.0 {
        return vec![0; shares.len()];
    }
    let wanted: Vec<f64> = shares.iter().map(|s| s / sum * total as f64).collect();
    // A share that is whole but for the rounding of floats must not lose one.
    let mut counts: Vec<u64> = wanted.iter().map(|w| (w + 1e-9).floor() as u64).collect();
    let mut order: Vec<usize> = (0..shares.len()).filter(|i| shares[*i] > 0.0).collect();
    let rests: Vec<f64> = wanted.iter().zip(&counts).map(|(w, n)| w - *n as f64).collect();
    order.sort_by(|a, b| rests[*b].total_cmp(&rests[*a]));
    let mut left = total.saturating_sub(counts.iter().sum());
    for i in order.iter().cycle() {
        if left == 0 {
            break;
        }
        counts[*i] += 1;
        left -= 1;
    }
    counts
}
