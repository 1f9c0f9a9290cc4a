//! What is still to be judged, what stands out most first.

use alloc::collections::BinaryHeap;
use core::cmp::Ordering;

/// Rows, or parts of them, by how far the clearest of what is in them stands out.
#[derive(Default)]
pub(crate) struct Queue(BinaryHeap<Entry>);

struct Entry {
    stands: f64,
    which: usize,
}

impl Ord for Entry {
    /// Of two that stand out as much, the one before the other in its row comes first.
    fn cmp(&self, other: &Self) -> Ordering {
        self.stands.total_cmp(&other.stands).then(other.which.cmp(&self.which))
    }
}

impl PartialOrd for Entry {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Entry {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Entry {}

impl Queue {
    pub fn push(&mut self, stands: f64, which: usize) {
        self.0.push(Entry { stands, which });
    }

    pub fn pop(&mut self) -> Option<(f64, usize)> {
        self.0.pop().map(|entry| (entry.stands, entry.which))
    }
}
