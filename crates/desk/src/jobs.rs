//! Long work, on a thread of its own: a page asks how far it is, waits a moment, or stops it.

use crate::{CompareAsked, Comparison, Desk, DeskError, Opened, Tries};
use app::laying::LaidPiece;
use app::plan::Plan;
use lay::Watch;
use schemars::JsonSchema;
use serde::Serialize;
use shop::{DocumentId, RevisionId};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

/// How far some work has come.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Progress {
    /// What is done now, in words.
    pub what: String,
    /// Steps done.
    pub done: usize,
    /// Of so many; 0 if that is not known.
    pub total: usize,
    /// Whether it is over, one way or the other.
    pub over: bool,
}

/// Some work that goes on, or is over.
pub struct Job<T> {
    progress: Mutex<Progress>,
    stop: AtomicBool,
    result: Mutex<Option<Result<Arc<T>, Arc<DeskError>>>>,
    over: Condvar,
}

/// The lay of a piece in the making.
pub type Laying = Job<LaidPiece>;
/// A plan in the making.
pub type Planning = Job<Plan>;
/// A comparison in the making.
pub type Comparing = Job<Comparison>;

/// What a piece's lay or comparison, or (without a number) an order's plan, is being made for; and
/// what else was asked, in short.
type Key = (DocumentId, Option<usize>, RevisionId, String);

/// The work that was begun last for each piece and order.
pub(crate) struct Jobs<T>(Mutex<Vec<(Key, Arc<Job<T>>)>>);

/// What is kept in memory is found within this time.
const A_MOMENT: Duration = Duration::from_millis(100);
/// So many are remembered.
const MOST_JOBS: usize = 64;

impl<T> Default for Jobs<T> {
    fn default() -> Jobs<T> {
        Jobs(Mutex::new(vec![]))
    }
}

fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

impl<T> Job<T> {
    fn new() -> Job<T> {
        Job {
            progress: Mutex::default(),
            stop: AtomicBool::new(false),
            result: Mutex::new(None),
            over: Condvar::new(),
        }
    }

    /// How far it has come.
    pub fn progress(&self) -> Progress {
        locked(&self.progress).clone()
    }

    /// Asks it to stop.
    pub fn stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
    }

    /// What came of it; `None` if it is not over after `patience`.
    pub fn wait(&self, patience: Duration) -> Option<Result<Arc<T>, Arc<DeskError>>> {
        let result = locked(&self.result);
        let waited = self.over.wait_timeout_while(result, patience, |r| r.is_none());
        waited.unwrap_or_else(PoisonError::into_inner).0.clone()
    }

    /// What came of it, once it is over.
    ///
    /// # Errors
    /// What went wrong.
    pub fn result(&self) -> Result<Arc<T>, Arc<DeskError>> {
        let mut result = locked(&self.result);
        loop {
            if let Some(over) = &*result {
                return over.clone();
            }
            result = self.over.wait(result).unwrap_or_else(PoisonError::into_inner);
        }
    }

    fn finish(&self, result: Result<Arc<T>, DeskError>) {
        *locked(&self.result) = Some(result.map_err(Arc::new));
        locked(&self.progress).over = true;
        self.over.notify_all();
    }
}

impl<T: Send + Sync> Watch for Job<T> {
    fn step(&self, what: &str, done: usize, total: usize) {
        *locked(&self.progress) = Progress { what: what.to_owned(), done, total, over: false };
    }

    fn stopped(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }
}

impl<T> Jobs<T> {
    /// The job of `key`, and whether it is new. An older revision's is stopped: nobody waits for
    /// it any more.
    fn of(&self, key: Key) -> (Arc<Job<T>>, bool) {
        let mut all = locked(&self.0);
        let stopped = |job: &Job<T>| job.stop.load(Ordering::Relaxed);
        if let Some((_, job)) = all.iter().find(|(k, job)| *k == key && !stopped(job)) {
            return (Arc::clone(job), false);
        }
        let job = Arc::new(Job::new());
        all.retain(|(k, old)| {
            let same = (k.0, k.1) == (key.0, key.1);
            if same {
                old.stop();
            }
            !same
        });
        all.push((key, Arc::clone(&job)));
        if all.len() > MOST_JOBS {
            all.remove(0);
        }
        (job, true)
    }

    fn stop(&self, document: DocumentId, number: Option<usize>) {
        let all = locked(&self.0);
        all.iter()
            .filter(|(k, _)| (k.0, k.1) == (document, number))
            .for_each(|(_, job)| job.stop());
    }

    fn forget(&self, job: &Arc<Job<T>>) {
        locked(&self.0).retain(|(_, j)| !Arc::ptr_eq(j, job));
    }
}

impl Desk {
    /// Begins to lay a piece, or joins who did. A lay of an older revision of it is stopped.
    ///
    /// # Errors
    /// There is no such piece; no thread can be had.
    pub fn begin_lay(
        self: &Arc<Desk>,
        opened: &Opened,
        number: usize,
    ) -> Result<Arc<Laying>, DeskError> {
        let asked = opened.piece(number)?.clone();
        let key = (opened.document.id, Some(number), opened.revision.id, String::new());
        self.begin(|desk| &desk.layings, key, move |desk, job| desk.lay(&asked, job))
    }

    /// How far the lay of a piece is; begins it if nobody did.
    ///
    /// # Errors
    /// There is no such piece; no thread can be had; the shop's.
    pub fn progress_of(
        self: &Arc<Desk>,
        id: DocumentId,
        number: usize,
    ) -> Result<Progress, DeskError> {
        let opened = self.open(id)?;
        if self.is_laid(opened.piece(number)?) {
            return Ok(Progress { over: true, ..Progress::default() });
        }
        Ok(self.begin_lay(&opened, number)?.progress())
    }

    /// Stops the lay of a piece that goes on.
    pub fn stop_laying(&self, document: DocumentId, number: usize) {
        self.layings.stop(document, Some(number));
    }

    /// Begins to plan an order, or joins who did.
    ///
    /// # Errors
    /// No thread can be had.
    pub fn begin_plan(self: &Arc<Desk>, opened: &Opened) -> Result<Arc<Planning>, DeskError> {
        let key = (opened.document.id, None, opened.revision.id, String::new());
        let opened = opened.clone();
        self.begin(|desk| &desk.plannings, key, move |desk, job| desk.plan(&opened, job))
    }

    /// Begins to plan an order with other figures, or joins who did. Other figures for the same
    /// order are stopped.
    ///
    /// # Errors
    /// No thread can be had.
    pub fn begin_tries(
        self: &Arc<Desk>,
        opened: &Opened,
        tries: &Tries,
    ) -> Result<Arc<Planning>, DeskError> {
        let key = (opened.document.id, None, opened.revision.id, format!("{tries:?}"));
        let (opened, tries) = (opened.clone(), tries.clone());
        self.begin(|desk| &desk.tryings, key, move |desk, job| desk.plan_with(&opened, &tries, job))
    }

    /// How far planning an order with other figures is; begins it if nobody did.
    ///
    /// # Errors
    /// No thread can be had; the shop's.
    pub fn progress_of_tries(
        self: &Arc<Desk>,
        id: DocumentId,
        tries: &Tries,
    ) -> Result<Progress, DeskError> {
        let job = self.begin_tries(&self.open(id)?, tries)?;
        // What is over already is found in memory: it is not to look like work that goes on.
        job.wait(A_MOMENT);
        Ok(job.progress())
    }

    /// Stops planning an order with other figures.
    pub fn stop_tries(&self, document: DocumentId) {
        self.tryings.stop(document, None);
    }

    /// Begins to compare ways of covering a piece, or joins who did. Another choice for the same
    /// piece is stopped.
    ///
    /// # Errors
    /// There is no such piece; no thread can be had.
    pub fn begin_compare(
        self: &Arc<Desk>,
        opened: &Opened,
        number: usize,
        asked: &CompareAsked,
    ) -> Result<Arc<Comparing>, DeskError> {
        opened.piece(number)?;
        let key = (opened.document.id, Some(number), opened.revision.id, format!("{asked:?}"));
        let (opened, asked) = (opened.clone(), asked.clone());
        self.begin(
            |desk| &desk.comparings,
            key,
            move |desk, job| desk.compare(&opened, number, &asked, job),
        )
    }

    /// Stops every comparison of a piece that goes on.
    pub fn stop_comparing(&self, document: DocumentId, number: usize) {
        self.comparings.stop(document, Some(number));
    }

    fn begin<T: Send + Sync + 'static>(
        self: &Arc<Desk>,
        jobs: fn(&Desk) -> &Jobs<T>,
        key: Key,
        work: impl FnOnce(&Desk, &Job<T>) -> Result<Arc<T>, DeskError> + Send + 'static,
    ) -> Result<Arc<Job<T>>, DeskError> {
        let (job, new) = jobs(self).of(key);
        if new {
            let (desk, mine) = (Arc::clone(self), Arc::clone(&job));
            let thread = std::thread::Builder::new().spawn(move || {
                let caught =
                    std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| work(&desk, &mine)));
                let ours = || Err(DeskError::Ours("laying failed".to_owned()));
                mine.finish(caught.unwrap_or_else(|_| ours()));
                // What came of it is kept elsewhere; what depends on the shelf must be asked anew.
                jobs(&desk).forget(&mine);
            });
            thread.map_err(|e| DeskError::Ours(format!("no thread can be had: {e}")))?;
        }
        Ok(job)
    }
}
