//! Changing a file where it stands.

use super::unfinished::{Unfinished, sweep};
use super::{Files, Identity, folder_of, limited, no_project, stays_in_its_folder};
use crate::cli::load::Stopped;
use crate::cli::output::Trouble;
use std::fs::{self, File, TryLockError};
use std::io;
use std::path::{Path, PathBuf};
use std::thread::sleep;
use std::time::Duration;

/// How long another program may hold a file before we give up, and how often it is tried.
const PATIENCE: Duration = Duration::from_secs(30);
const BETWEEN_TRIES: Duration = Duration::from_millis(10);

/// How often a change is made anew because the file was changed by somebody who does not lock it.
const MOST_CHANGES: usize = 20;

impl Files {
    /// Changes a file: no change that another run of ours makes at the same time is lost, since the file is locked from its reading
    /// to its replacing; what another program has written meanwhile is read anew.
    ///
    /// # Errors
    /// Where the file cannot be read or written, and where `change` refuses; then it is as it was.
    pub fn change(
        &self,
        path: &Path,
        mut change: impl FnMut(&[u8]) -> Result<Vec<u8>, Stopped>,
    ) -> Result<(), Stopped> {
        let trouble = |error: &io::Error| Trouble::writing(path, error);
        for _ in 0..MOST_CHANGES {
            let (held, real) = held(path)?;
            let marks = held.metadata().map_err(|error| Trouble::reading(path, &error))?.permissions();
            if marks.readonly() {
                let words = format!("cannot write {}: the file is marked read-only", path.display());
                return Err(Trouble::new(words).into());
            }
            let before = limited(&held, super::READ_LIMIT).map_err(|error| Trouble::reading(path, &error))?;
            let after = change(&before)?;
            sweep(folder_of(&real));
            let mut unfinished = Unfinished::beside(&real).map_err(|error| trouble(&error))?;
            unfinished.fill(&after).and_then(|()| unfinished.mark(marks)).map_err(|error| trouble(&error))?;
            if fs::read(&real).is_ok_and(|now| now == before) {
                unfinished.over(&real).map_err(|error| trouble(&error))?;
                return Ok(());
            }
        }
        let words = format!("{} is changed again and again by another program; nothing was changed", path.display());
        Err(Trouble::new(words).into())
    }
}

/// The file at a path, locked, and its path without links. Another run may have replaced it while we waited: then its
/// successor is taken.
fn held(path: &Path) -> Result<(File, PathBuf), Trouble> {
    let trouble = |error: io::Error| no_project(path, &error);
    for _ in 0..PATIENCE.as_millis() / BETWEEN_TRIES.as_millis() {
        // Before it is opened: opening a pipe waits until somebody writes into it.
        let known = fs::metadata(path).map_err(trouble)?;
        if !known.is_file() && !known.is_dir() {
            let words = "is a pipe or a device and cannot be changed; with - in its place, standard input is changed to standard output";
            return Err(Trouble::new(format!("{} {words}", path.display())));
        }
        let real = path.canonicalize().map_err(trouble)?;
        stays_in_its_folder(path, &real)?;
        let file = File::open(&real).map_err(trouble)?;
        match file.try_lock() {
            Err(TryLockError::WouldBlock) => sleep(BETWEEN_TRIES),
            // Where nothing can be locked, the comparison before the replacing remains.
            Ok(()) | Err(TryLockError::Error(_)) => {
                if Identity::of(path) == Identity::of_open(&file, &real) {
                    return Ok((file, real));
                }
            }
        }
    }
    Err(Trouble::new(format!("cannot change {}: another program holds it", path.display())))
}
