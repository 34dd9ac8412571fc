//! The chances of a sum of two independent counts.

/// Products of entries up to which the plain sum is taken: below, it is as fast and has no noise.
const PLAIN: usize = 1 << 18;

/// Chance of each sum of an index of `a` and an index of `b`. Neither is empty.
///
/// Plain sums where there are few; else by the fast Fourier transform, whose result is off by less
/// than 1e-15 in all.
pub(super) fn convolve(a: &[f64], b: &[f64]) -> Vec<f64> {
    if a.len() * b.len() <= PLAIN { plain(a, b) } else { by_transform(a, b) }
}

fn plain(a: &[f64], b: &[f64]) -> Vec<f64> {
    let mut sum = vec![0.0; a.len() + b.len() - 1];
    for (i, p) in a.iter().enumerate() {
        for (s, q) in sum[i..].iter_mut().zip(b) {
            *s += p * q;
        }
    }
    sum
}

fn by_transform(a: &[f64], b: &[f64]) -> Vec<f64> {
    let len = a.len() + b.len() - 1;
    let n = len.next_power_of_two();
    let roots = roots(n);
    let mut x = transformed(a, n, &roots);
    let y = transformed(b, n, &roots);
    for (p, q) in x.iter_mut().zip(&y) {
        *p = times(*p, *q);
    }
    // Transforming twice turns the order round: n·x[−i].
    let mut x = in_place(x, &roots);
    x[1..].reverse();
    // Rounding may go below 0 where there is nothing.
    x.iter().take(len).map(|c| (c.0 / n as f64).max(0.0)).collect()
}

type Complex = (f64, f64);

fn times(a: Complex, b: Complex) -> Complex {
    (a.0 * b.0 - a.1 * b.1, a.0 * b.1 + a.1 * b.0)
}

/// The first half of the `n`-th roots of 1, clockwise.
fn roots(n: usize) -> Vec<Complex> {
    let root = |k: usize| {
        let (sin, cos) = libm::sincos(-std::f64::consts::TAU * k as f64 / n as f64);
        (cos, sin)
    };
    (0..n / 2).map(root).collect()
}

fn transformed(values: &[f64], n: usize, roots: &[Complex]) -> Vec<Complex> {
    let mut x: Vec<Complex> = values.iter().map(|&v| (v, 0.0)).collect();
    x.resize(n, (0.0, 0.0));
    in_place(x, roots)
}

/// The discrete Fourier transform by halves (Cooley, Tukey 1965); the length is a power of 2.
fn in_place(mut x: Vec<Complex>, roots: &[Complex]) -> Vec<Complex> {
    let n = x.len();
    let bits = n.trailing_zeros();
    for i in 0..n {
        let j = i.reverse_bits() >> (usize::BITS - bits);
        if i < j {
            x.swap(i, j);
        }
    }
    let mut half = 1;
    while half < n {
        let stride = n / (2 * half);
        for block in x.chunks_exact_mut(2 * half) {
            let (low, high) = block.split_at_mut(half);
            for (k, (p, q)) in low.iter_mut().zip(high).enumerate() {
                let turned = times(*q, roots[k * stride]);
                (*p, *q) = ((p.0 + turned.0, p.1 + turned.1), (p.0 - turned.0, p.1 - turned.1));
            }
        }
        half *= 2;
    }
    x
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(ProptestConfig {
            cases: 40,
            failure_persistence: None,
            rng_seed: proptest::test_runner::RngSeed::Fixed(32),
            ..ProptestConfig::default()
        })]

        #[test]
        fn the_transform_gives_what_plain_sums_give(
            a in prop::collection::vec(0.0..1.0_f64, 1..700),
            b in prop::collection::vec(0.0..1.0_f64, 2..700),
        ) {
            let share = |v: &[f64]| -> Vec<f64> {
                let sum: f64 = v.iter().sum::<f64>().max(1e-300);
                v.iter().map(|p| p / sum).collect()
            };
            let (a, b) = (share(&a), share(&b));
            let (slow, fast) = (plain(&a, &b), by_transform(&a, &b));
            prop_assert_eq!(slow.len(), fast.len());
            let off: f64 = slow.iter().zip(&fast).map(|(p, q)| (p - q).abs()).sum();
            prop_assert!(off < 1e-14, "{}", off);
        }
    }
}
