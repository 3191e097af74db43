//! The same piece with one number changed, to be measured.

use super::Job;
use super::stages::Counts;
use crate::finding::Place;

impl Job {
    /// A job on the same piece with another value of one number, mm, degrees, or as it is; no rule is asked about it, and what is
    /// drawn beside the piece is left out. `None` where there is no such number, or it does not take the value.
    pub fn with_number(&self, place: &Place, value: f64) -> Option<Job> {
        self.with_numbers(&[(place, value)])
    }

    /// As [`Job::with_number`], of several numbers.
    pub fn with_numbers(&self, values: &[(&Place, f64)]) -> Option<Job> {
        let mut project = self.project.piece_alone();
        let takes_all = values.iter().all(|(place, value)| project.set_number(place, *value));
        takes_all.then(|| Job { counts: Counts::of_trial(), for_codes: true, ..Job::new(project) })
    }
}
