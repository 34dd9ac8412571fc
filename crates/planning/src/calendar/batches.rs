//! Copies in batches, and what happens to each batch in turn.

use super::{Activity, PieceWork, Work};

/// Copies of one piece that go over the bench together.
pub(super) struct Batch {
    /// The piece, by index.
    pub(super) piece: usize,
    /// From 1, within the piece.
    pub(super) number: u32,
    /// First copy, from 1.
    pub(super) first: u32,
    /// Last copy.
    pub(super) last: u32,
    /// What happens, in order; nothing that takes no time.
    pub(super) steps: Vec<BatchStep>,
    /// Where each stage of hands-on work, with the waits behind it, begins among the steps:
    /// preparation, first side, next sides. Packing comes after the last.
    pub(super) stages: Vec<std::ops::Range<usize>>,
    /// Steps at whose end the bench is free again; 0 if it never lies on it. Setting up keeps the
    /// place free, too.
    pub(super) on_bench: usize,
}

/// One activity of a batch.
pub(super) struct BatchStep {
    pub(super) activity: Activity,
    pub(super) side: Option<u32>,
    pub(super) takes: Takes,
    /// Whether it needs the stones.
    pub(super) needs_stones: bool,
}

/// How an activity takes its time.
pub(super) enum Takes {
    /// Hands-on, in stretches that no break may cut, min.
    Hands(Vec<i64>),
    /// On the clock, min.
    Clock(i64),
}

impl Batch {
    /// Number of copies.
    pub(super) fn copies(&self) -> u32 {
        self.last - self.first + 1
    }
}

/// All batches of all pieces, in `order`: each piece in as few batches of at most
/// `most` copies as do, of nearly the same size. `longest_min` is the longest time without a break.
pub(super) fn batches(work: &Work, order: &[usize], most: u32, longest_min: u32) -> Vec<Batch> {
    let mut out = vec![];
    for idx in order {
        let piece = &work.pieces[*idx];
        let n = piece.copies.div_ceil(most.max(1));
        let mut first = 1;
        for number in 1..=n {
            // u64: copies times batches may pass 32 bits.
            let last = (u64::from(piece.copies) * u64::from(number) / u64::from(n.max(1))) as u32;
            // Whatever comes first begins the order too.
            let order_min = if out.is_empty() { work.set_up_min.value } else { 0.0 };
            let piece_min = if number == 1 { piece.set_up_min.value } else { 0.0 };
            let set_up_min = order_min + piece_min;
            let longest_min = f64::from(longest_min);
            out.push(batch(piece, *idx, number, (first, last), set_up_min, longest_min));
            first = last + 1;
        }
    }
    out
}

fn batch(
    piece: &PieceWork,
    idx: usize,
    number: u32,
    (first, last): (u32, u32),
    set_up_min: f64,
    longest_min: f64,
) -> Batch {
    let copies = (last - first + 1) as usize;
    let mut b = Builder { steps: vec![], stages: vec![], begun: 0 };
    b.hands(Activity::SettingUp, None, &blocks(1, longest_min, |_| set_up_min));
    b.hands(Activity::Preparing, None, &blocks(copies, longest_min, |_| piece.prepare_min.value));
    b.wait(Activity::Drying, None, piece.dry_min.value);
    b.stage();
    let stretch =
        piece.stretch_min.map_or(longest_min, |s| whole_stretch(s.value).min(longest_min));
    let handle = piece.waits.handle_min.value;
    let cure = (piece.waits.cure_min.value - handle).max(0.0);
    for side in 1..=piece.sides {
        if side > 1 {
            let turn = blocks(copies, longest_min, |_| piece.turn_min.value);
            b.hands(Activity::Turning, Some(side), &turn);
        }
        let share =
            |copy: usize| piece.setting_min[first as usize - 1 + copy] / f64::from(piece.sides);
        b.hands(Activity::Setting, Some(side), &blocks(copies, stretch, share));
        b.wait(Activity::Handling, Some(side), handle);
        if piece.cure_before_turn && side < piece.sides {
            b.wait(Activity::Curing, Some(side), cure);
        }
        b.stage();
    }
    let on_bench = b.steps.len();
    b.wait(Activity::Curing, Some(piece.sides), cure);
    if let Some(last_stage) = b.stages.last_mut() {
        last_stage.end = b.steps.len();
    }
    b.begun = b.steps.len();
    b.hands(Activity::Packing, None, &blocks(copies, longest_min, |_| piece.pack_min.value));
    Batch { piece: idx, number, first, last, steps: b.steps, stages: b.stages, on_bench }
}

struct Builder {
    steps: Vec<BatchStep>,
    stages: Vec<std::ops::Range<usize>>,
    begun: usize,
}

impl Builder {
    fn hands(&mut self, activity: Activity, side: Option<u32>, blocks: &[i64]) {
        if !blocks.is_empty() {
            let needs_stones = activity == Activity::Setting;
            let takes = Takes::Hands(blocks.to_vec());
            self.steps.push(BatchStep { activity, side, takes, needs_stones });
        }
    }

    fn wait(&mut self, activity: Activity, side: Option<u32>, minutes: f64) {
        let minutes = minutes.ceil() as i64;
        if minutes > 0 {
            let takes = Takes::Clock(minutes);
            self.steps.push(BatchStep { activity, side, takes, needs_stones: false });
        }
    }

    fn stage(&mut self) {
        self.stages.push(self.begun..self.steps.len());
        self.begun = self.steps.len();
    }
}

/// A stretch in whole minutes, as the calendar has it.
pub(super) fn whole_stretch(minutes: f64) -> f64 {
    minutes.ceil().max(1.0)
}

/// The work on each copy in equal stretches of at most `longest_min`, in whole minutes. Only the sum
/// is rounded up, so that a batch takes less than a minute longer than its copies.
fn blocks(copies: usize, longest_min: f64, minutes: impl Fn(usize) -> f64) -> Vec<i64> {
    let mut out = vec![];
    let mut done = 0.0;
    let mut shown = 0;
    for copy in 0..copies {
        let each = minutes(copy);
        let parts = (each / longest_min).ceil().max(1.0);
        let before = done;
        for part in 1..=parts as u64 {
            let now = before + each * part as f64 / parts;
            // A sum of decimal minutes may lie a rounding above a whole one.
            let until = (now - 1e-6).ceil() as i64;
            if until > shown {
                out.push(until - shown);
                shown = until;
            }
            done = now;
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_sum_is_rounded_up() {
        assert_eq!(blocks(3, 60.0, |_| 12.4), [13, 12, 13]);
        assert_eq!(blocks(10, 60.0, |_| 0.1), [1]);
        assert_eq!(blocks(2, 60.0, |_| 0.0), Vec::<i64>::new());
        assert_eq!(blocks(1, 40.0, |_| 100.0), [34, 33, 33]);
        assert!(blocks(50, 31.0, |c| 200.0 - c as f64).iter().all(|b| *b <= 31));
    }
}
