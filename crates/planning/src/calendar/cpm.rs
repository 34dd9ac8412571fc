//! The critical path method: earliest and latest times of tasks that wait for one another.
//!
//! Kelley and Walker, Critical-path planning and scheduling, 1959: a forward pass gives the earliest
//! times, a backward pass from the end the latest, their difference is the float.

/// A task and what has to be done before it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Task {
    /// How long it takes, min.
    pub duration_min: u32,
    /// Tasks that have to end before it begins, by index.
    pub predecessors: Vec<usize>,
}

/// When a task can and must happen, minutes from the beginning of all.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TaskTimes {
    /// The earliest beginning.
    pub earliest_start_min: i64,
    /// The earliest end.
    pub earliest_end_min: i64,
    /// The latest beginning that does not put off the end of all.
    pub latest_start_min: i64,
    /// The latest end that does not put off the end of all.
    pub latest_end_min: i64,
}

impl TaskTimes {
    /// By how much it can begin later without putting off the end of all, min.
    pub fn float_min(&self) -> i64 {
        self.latest_start_min - self.earliest_start_min
    }
}

/// Tasks in time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Network {
    /// Times of every task, in the order given.
    pub times: Vec<TaskTimes>,
    /// How long all of it takes, min.
    pub length_min: i64,
    /// One chain of tasks without float from a first to the last, by index.
    pub critical_path: Vec<usize>,
}

/// Why tasks have no critical path.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum CpmError {
    /// A predecessor that is no task.
    #[error("task {task} waits for task {predecessor}, which does not exist")]
    Unknown {
        /// The task, by index.
        task: usize,
        /// What it waits for.
        predecessor: usize,
    },
    /// Tasks that wait for each other in a circle.
    #[error("task {task} waits, through others, for itself")]
    Circle {
        /// One of them, by index.
        task: usize,
    },
}

/// Earliest and latest times, float and critical path of `tasks`, which may stand in any order.
///
/// # Errors
/// A predecessor that does not exist, or tasks that wait for each other in a circle.
pub fn critical_path(tasks: &[Task]) -> Result<Network, CpmError> {
    let order = sorted(tasks)?;
    let mut place = vec![0; tasks.len()];
    for (at, task) in order.iter().enumerate() {
        place[*task] = at;
    }
    let before: Vec<Vec<usize>> = order
        .iter()
        .map(|task| tasks[*task].predecessors.iter().map(|p| place[*p]).collect())
        .collect();
    let durations: Vec<i64> = order.iter().map(|t| i64::from(tasks[*t].duration_min)).collect();
    let timing = Plain { durations: &durations };
    let times = passes(&before, &timing);
    let chain = driving_chain(&before, &times, |_, _| false);
    Ok(Network {
        times: place.iter().map(|at| times[*at]).collect(),
        length_min: times.iter().map(|t| t.earliest_end_min).max().unwrap_or(0),
        critical_path: chain.iter().map(|at| order[*at]).collect(),
    })
}

/// How long tasks take when they begin, or end, at a given time.
pub(super) trait Timing {
    /// Beginning and end of `task` if it may begin from `not_before` on.
    fn earliest(&self, task: usize, not_before: i64) -> (i64, i64);
    /// Beginning and end of `task` if it has to end by `not_after`.
    fn latest(&self, task: usize, not_after: i64) -> (i64, i64);
}

/// The same duration at all times, and a beginning at 0.
struct Plain<'a> {
    durations: &'a [i64],
}

impl Timing for Plain<'_> {
    fn earliest(&self, task: usize, not_before: i64) -> (i64, i64) {
        let begin = not_before.max(0);
        (begin, begin + self.durations[task])
    }

    fn latest(&self, task: usize, not_after: i64) -> (i64, i64) {
        (not_after - self.durations[task], not_after)
    }
}

/// Both passes over tasks in an order in which each stands behind those it waits for.
pub(super) fn passes(before: &[Vec<usize>], timing: &impl Timing) -> Vec<TaskTimes> {
    let mut times: Vec<TaskTimes> = Vec::with_capacity(before.len());
    for (task, waits_for) in before.iter().enumerate() {
        let ready =
            waits_for.iter().map(|p| times[*p].earliest_end_min).max().unwrap_or(i64::MIN / 2);
        let (begin, end) = timing.earliest(task, ready);
        times.push(TaskTimes {
            earliest_start_min: begin,
            earliest_end_min: end,
            latest_start_min: 0,
            latest_end_min: i64::MAX / 2,
        });
    }
    let end = times.iter().map(|t| t.earliest_end_min).max().unwrap_or(0);
    for (task, waits_for) in before.iter().enumerate().rev() {
        let (begin, finish) = timing.latest(task, times[task].latest_end_min.min(end));
        times[task].latest_start_min = begin;
        times[task].latest_end_min = finish;
        for p in waits_for {
            times[*p].latest_end_min = times[*p].latest_end_min.min(begin);
        }
    }
    times
}

/// From the task that ends last, back along the one that each had to wait for; in order of time.
/// `held(task, ready)` says whether something other than another task held it beyond `ready`.
pub(super) fn driving_chain(
    before: &[Vec<usize>],
    times: &[TaskTimes],
    held: impl Fn(usize, i64) -> bool,
) -> Vec<usize> {
    let mut chain = vec![];
    let mut at = latest_of(0..times.len(), times);
    while let Some(task) = at {
        chain.push(task);
        at = latest_of(before[task].iter().copied(), times)
            .filter(|p| !held(task, times[*p].earliest_end_min));
    }
    chain.reverse();
    chain
}

/// The task that ends last, the first of them if several do.
fn latest_of(tasks: impl Iterator<Item = usize>, times: &[TaskTimes]) -> Option<usize> {
    let mut best: Option<usize> = None;
    for task in tasks {
        if best.is_none_or(|b| times[task].earliest_end_min > times[b].earliest_end_min) {
            best = Some(task);
        }
    }
    best
}

/// Tasks in an order in which each stands behind those it waits for.
fn sorted(tasks: &[Task]) -> Result<Vec<usize>, CpmError> {
    let mut open = vec![0usize; tasks.len()];
    let mut after: Vec<Vec<usize>> = vec![vec![]; tasks.len()];
    for (i, task) in tasks.iter().enumerate() {
        for p in &task.predecessors {
            let Some(list) = after.get_mut(*p) else {
                return Err(CpmError::Unknown { task: i, predecessor: *p });
            };
            list.push(i);
            open[i] += 1;
        }
    }
    let mut order: Vec<usize> = (0..tasks.len()).filter(|i| open[*i] == 0).collect();
    let mut next = 0;
    while next < order.len() {
        for later in &after[order[next]] {
            open[*later] -= 1;
            if open[*later] == 0 {
                order.push(*later);
            }
        }
        next += 1;
    }
    let Some(mut task) = (0..tasks.len()).find(|i| open[*i] > 0) else {
        return Ok(order);
    };
    // Each task left waits for one that is left: so many steps back, one stands in the circle.
    for _ in tasks {
        task = tasks[task].predecessors.iter().copied().find(|p| open[*p] > 0).unwrap_or(task);
    }
    Err(CpmError::Circle { task })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn task(duration_min: u32, predecessors: &[usize]) -> Task {
        Task { duration_min, predecessors: predecessors.to_vec() }
    }

    /// The plant project, activities A to N in weeks, of Hillier and Lieberman, Introduction to
    /// Operations Research, chapter on project management with PERT/CPM (from memory): 44 weeks, by
    /// A-B-C-E-F-J-L-N.
    #[test]
    fn a_textbook_project_has_its_critical_path_and_floats() {
        let tasks = [
            task(2, &[]),       // A
            task(4, &[0]),      // B
            task(10, &[1]),     // C
            task(6, &[2]),      // D
            task(4, &[2]),      // E
            task(5, &[4]),      // F
            task(7, &[3]),      // G
            task(9, &[4, 6]),   // H
            task(7, &[2]),      // I
            task(8, &[5, 8]),   // J
            task(4, &[9]),      // K
            task(5, &[9]),      // L
            task(2, &[7]),      // M
            task(6, &[10, 11]), // N
        ];
        let network = critical_path(&tasks).unwrap();
        assert_eq!(network.length_min, 44);
        assert_eq!(network.critical_path, [0, 1, 2, 4, 5, 9, 11, 13]);
        let floats: Vec<i64> = network.times.iter().map(TaskTimes::float_min).collect();
        assert_eq!(floats, [0, 0, 0, 4, 0, 0, 4, 4, 2, 0, 1, 0, 4, 0]);
        let starts: Vec<i64> = network.times.iter().map(|t| t.earliest_start_min).collect();
        assert_eq!(starts, [0, 2, 6, 16, 16, 20, 22, 29, 16, 25, 33, 33, 38, 38]);
    }

    #[test]
    fn order_does_not_matter_and_circles_are_refused() {
        let forward = critical_path(&[task(3, &[]), task(4, &[0])]).unwrap();
        let backward = critical_path(&[task(4, &[1]), task(3, &[])]).unwrap();
        assert_eq!(forward.length_min, backward.length_min);
        assert_eq!(backward.critical_path, [1, 0]);
        let circle = [task(1, &[1]), task(1, &[0])];
        assert_eq!(critical_path(&circle).unwrap_err(), CpmError::Circle { task: 0 });
        let behind = [task(1, &[1]), task(1, &[1])];
        assert_eq!(critical_path(&behind).unwrap_err(), CpmError::Circle { task: 1 });
        let unknown = critical_path(&[task(1, &[7])]).unwrap_err();
        assert_eq!(unknown, CpmError::Unknown { task: 0, predecessor: 7 });
        assert_eq!(critical_path(&[]).unwrap().critical_path, Vec::<usize>::new());
    }
}
