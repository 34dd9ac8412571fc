//! What was worked out last, by what it depends on. Who asks for what is being worked out already
//! waits for it: nothing is done twice at once.

use std::collections::VecDeque;
use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

/// Values, the one used longest ago goes first.
pub(crate) struct Recent<K, V> {
    most: usize,
    most_weight: usize,
    weigh: fn(&V) -> usize,
    state: Mutex<State<K, V>>,
    /// Something was finished or given up.
    over: Condvar,
}

struct State<K, V> {
    /// Used longest ago first.
    kept: VecDeque<(K, V)>,
    weight: usize,
    making: Vec<K>,
}

/// How often somebody who waits looks whether to give up.
const LOOK: Duration = Duration::from_millis(20);

impl<K: PartialEq + Clone, V: Clone> Recent<K, V> {
    /// For `most` values that together weigh at most `most_weight`; the last is always kept.
    pub(crate) fn new(most: usize, most_weight: usize, weigh: fn(&V) -> usize) -> Recent<K, V> {
        let state = State { kept: VecDeque::new(), weight: 0, making: vec![] };
        Recent { most, most_weight, weigh, state: Mutex::new(state), over: Condvar::new() }
    }

    /// For `most` values, whatever they weigh.
    pub(crate) fn of(most: usize) -> Recent<K, V> {
        Recent::new(most, usize::MAX, |_| 0)
    }

    fn locked(&self) -> MutexGuard<'_, State<K, V>> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The value of `key` if it is there.
    pub(crate) fn find(&self, key: &K) -> Option<V> {
        self.locked().find(key)
    }

    /// The value of `key`: as kept, as somebody else is making it now, or made here. `given_up` is
    /// asked while waiting, and gives what to answer then.
    ///
    /// # Errors
    /// What `make` or `given_up` says.
    pub(crate) fn get<E>(
        &self,
        key: K,
        given_up: impl Fn() -> Option<E>,
        make: impl FnOnce() -> Result<V, E>,
    ) -> Result<V, E> {
        let mut state = self.locked();
        loop {
            if let Some(value) = state.find(&key) {
                return Ok(value);
            }
            if !state.making.contains(&key) {
                break;
            }
            state = self.over.wait_timeout(state, LOOK).unwrap_or_else(PoisonError::into_inner).0;
            if let Some(error) = given_up() {
                return Err(error);
            }
        }
        state.making.push(key.clone());
        drop(state);
        // Also when `make` panics, or those who wait would wait for ever.
        let making = Making { recent: self, key: key.clone() };
        let value = make()?;
        let weight = (self.weigh)(&value);
        let mut state = self.locked();
        state.kept.push_back((key, value.clone()));
        state.weight = state.weight.saturating_add(weight);
        while state.kept.len() > 1
            && (state.kept.len() > self.most || state.weight > self.most_weight)
        {
            let Some((_, gone)) = state.kept.pop_front() else { break };
            state.weight -= (self.weigh)(&gone);
        }
        drop(state);
        drop(making);
        Ok(value)
    }
}

impl<K: PartialEq, V: Clone> State<K, V> {
    fn find(&mut self, key: &K) -> Option<V> {
        let at = self.kept.iter().position(|(k, _)| k == key)?;
        let entry = self.kept.remove(at)?;
        let value = entry.1.clone();
        self.kept.push_back(entry);
        Some(value)
    }
}

struct Making<'a, K: PartialEq + Clone, V: Clone> {
    recent: &'a Recent<K, V>,
    key: K,
}

impl<K: PartialEq + Clone, V: Clone> Drop for Making<'_, K, V> {
    fn drop(&mut self) {
        self.recent.locked().making.retain(|k| *k != self.key);
        self.recent.over.notify_all();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::atomic::{AtomicUsize, Ordering};

    #[test]
    fn what_is_being_made_is_not_made_twice() {
        let recent: Recent<u32, u32> = Recent::of(4);
        let made = AtomicUsize::new(0);
        std::thread::scope(|scope| {
            for _ in 0..8 {
                scope.spawn(|| {
                    let value = recent.get(
                        7,
                        || None::<()>,
                        || {
                            made.fetch_add(1, Ordering::SeqCst);
                            std::thread::sleep(Duration::from_millis(50));
                            Ok(49)
                        },
                    );
                    assert_eq!(value, Ok(49));
                });
            }
        });
        assert_eq!(made.load(Ordering::SeqCst), 1);
    }

    #[test]
    fn who_waits_makes_it_if_the_first_gives_up_and_may_give_up_too() {
        let recent: Recent<u32, u32> = Recent::of(4);
        std::thread::scope(|scope| {
            scope.spawn(|| {
                let first = recent.get(
                    1,
                    || None,
                    || {
                        std::thread::sleep(Duration::from_millis(80));
                        Err("stopped")
                    },
                );
                assert_eq!(first, Err("stopped"));
            });
            std::thread::sleep(Duration::from_millis(20));
            assert_eq!(recent.get(1, || Some("no patience"), || Ok(2)), Err("no patience"));
            assert_eq!(recent.get(1, || None::<&str>, || Ok(3)), Ok(3));
        });
    }

    #[test]
    fn the_heaviest_and_oldest_go_first() {
        let recent: Recent<u32, Vec<u8>> = Recent::new(3, 10, Vec::len);
        for (key, weight) in [(1, 4), (2, 4), (3, 4), (4, 40)] {
            let value: Result<_, ()> = recent.get(key, || None, || Ok(vec![0; weight]));
            assert!(value.is_ok());
        }
        assert!(recent.find(&3).is_none(), "nothing beside what is too heavy");
        assert!(recent.find(&4).is_some(), "the last is always kept");
    }
}
