//! A file that is written to be looked at and stays only where the work is brought to its end.

use std::fs;
use std::path::{Path, PathBuf};

/// A file before it is written: dropped, it is as it was; kept, it stays as it is.
#[derive(Debug)]
pub struct Preview {
    path: PathBuf,
    before: Option<Vec<u8>>,
    kept: bool,
}

impl Preview {
    /// Remembers how a file is.
    pub fn of(path: &Path) -> Preview {
        Preview { path: path.to_owned(), before: fs::read(path).ok(), kept: false }
    }

    /// Leaves the file as it has become.
    pub fn keep(mut self) {
        self.kept = true;
    }
}

impl Drop for Preview {
    fn drop(&mut self) {
        // There is nobody left to tell of what fails here.
        let _ = match &self.before {
            _ if self.kept => Ok(()),
            Some(before) => fs::write(&self.path, before),
            None => fs::remove_file(&self.path),
        };
    }
}
