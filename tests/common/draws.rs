//! Random numbers to build shapes and pieces of: the same on every run, made by `proptest`, which shrinks them where a test fails.

use fullsize::units::{Angle, Length};
use proptest::collection::vec;
use proptest::num::u32::ANY;
use proptest::strategy::Strategy;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use std::cell::RefCell;
use std::fmt;

/// How many numbers a case may draw; whoever draws more gets the lower end of every range.
const NUMBERS: usize = 160;

/// Numbers drawn one after another from a list. As the list shrinks, each number falls to the lower end of the range that it is
/// asked for, each choice to the first, and what may be there or not is left away.
#[derive(Clone)]
pub struct Draws {
    list: Vec<u32>,
    drawn: usize,
}

impl Draws {
    /// Every number in the middle of its range.
    pub fn middle() -> Draws {
        Draws { list: vec![1 << 31; NUMBERS], drawn: 0 }
    }

    /// A number from 0 up to but not including 1.
    pub fn share(&mut self) -> f64 {
        let number = self.list.get(self.drawn).copied().unwrap_or(0);
        self.drawn += 1;
        f64::from(number) / 2.0_f64.powi(32)
    }

    /// A number between two.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    /// A whole number from 0 up to but not including `end`.
    pub fn below(&mut self, end: usize) -> usize {
        (self.share() * end as f64) as usize
    }

    /// One of several.
    pub fn one_of<T: Copy>(&mut self, all: &[T]) -> T {
        all[self.below(all.len())]
    }

    /// Yes in a share of all cases.
    pub fn chance(&mut self, share: f64) -> bool {
        self.share() >= 1.0 - share
    }

    /// A length between two, mm.
    pub fn length(&mut self, low: f64, high: f64) -> Length {
        Length::from_mm(self.between(low, high))
    }

    /// An angle between two, degrees.
    pub fn angle(&mut self, low: f64, high: f64) -> Angle {
        Angle::from_degrees(self.between(low, high))
    }
}

/// The list, without the zeros at its end.
impl fmt::Debug for Draws {
    fn fmt(&self, out: &mut fmt::Formatter) -> fmt::Result {
        let end = self.list.iter().rposition(|number| *number > 0).map_or(0, |last| last + 1);
        write!(out, "{:?}", &self.list[..end])
    }
}

/// Lists of numbers.
pub fn draws() -> impl Strategy<Value = Draws> {
    vec(ANY, NUMBERS).prop_map(|list| Draws { list, drawn: 0 })
}

/// Runs a test on lists of numbers to draw from, the same ones on every run. A list that fails is shrunk and told.
pub fn for_all(cases: u32, test: impl FnMut(&mut Draws)) {
    for_all_from(0, cases, test);
}

/// As [`for_all`], with lists of their own for every seed.
pub fn for_all_from(seed: u32, cases: u32, test: impl FnMut(&mut Draws)) {
    let test = RefCell::new(test);
    let config = Config { cases, failure_persistence: None, max_shrink_time: 30_000, ..Config::default() };
    let mut own = [0; 32];
    own[..4].copy_from_slice(&seed.to_le_bytes());
    let mut runner = TestRunner::new_with_rng(config, TestRng::from_seed(RngAlgorithm::ChaCha, &own));
    let run = runner.run(&draws(), |mut draws| {
        (test.borrow_mut())(&mut draws);
        Ok(())
    });
    run.unwrap_or_else(|failed| panic!("{failed}"));
}
