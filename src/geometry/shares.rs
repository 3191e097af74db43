//! Work shared out among the cores of the machine: what comes of it is the same on any number of them.

use std::num::NonZero;
use std::ops::Range;
use std::panic::resume_unwind;
use std::thread;

/// More threads than this gain little and hold memory of their own.
const MOST: usize = 8;

/// What is made of things numbered from 0 to `count`, in their order. `work` makes it of a run of them, each thing by itself, so that it
/// does not matter how they are shared out. No share has fewer than `least`, since a thread costs some tens of microseconds.
pub fn in_shares<R: Send>(count: usize, least: usize, work: impl Fn(Range<usize>) -> Vec<R> + Sync) -> Vec<R> {
    let cores = thread::available_parallelism().map_or(1, NonZero::get).min(MOST);
    let shares = (count / least.max(1)).clamp(1, cores);
    let run = |share: usize| count * share / shares..count * (share + 1) / shares;
    if shares == 1 {
        return work(run(0));
    }
    thread::scope(|scope| {
        let work = &work;
        let others: Vec<_> = (1..shares).map(run).map(|run| scope.spawn(move || work(run))).collect();
        let mut made = work(run(0));
        for other in others {
            // What goes wrong in one thread goes wrong in all.
            made.extend(other.join().unwrap_or_else(|fault| resume_unwind(fault)));
        }
        made
    })
}

#[cfg(test)]
mod tests {
    use super::in_shares;

    #[test]
    fn everything_is_made_once_and_in_order() {
        for count in [0, 1, 7, 8, 1000] {
            for least in [0, 1, 3, 5000] {
                let made = in_shares(count, least, |run| run.map(|k| k * k).collect());
                assert_eq!(made, (0..count).map(|k| k * k).collect::<Vec<usize>>(), "{count} {least}");
            }
        }
    }
}
