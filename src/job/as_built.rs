//! How the piece stands, found from what was read on it.

use super::Job;
use crate::as_built::Found;

impl Job {
    /// What the readings in the file tell of how the piece stands; `None` where nothing was read or something stops the work.
    pub fn as_found(&self) -> Option<&Found> {
        if self.worked().stops() { None } else { self.worked().as_found.as_ref() }
    }
}
