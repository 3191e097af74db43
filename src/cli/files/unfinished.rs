//! Files that are not finished yet: written beside their places, so that a name is never that of half a file.
//!
//! Each is locked as long as its run lives. What nobody holds is left over from a run that was killed, and is removed.

use super::{Identity, folder_of};
use std::fs::{self, File, TryLockError};
use std::io::{self, Write};
use std::path::Path;
use tempfile::NamedTempFile;

/// What the name of an unfinished file begins and ends with.
const BEGINS: &str = ".fullsize-";
const ENDS: &str = ".part";
/// Letters and digits between.
const BETWEEN: usize = 6;
/// How often an unfinished file is begun anew that another run took for a left-over between its making and its locking.
const MOST_TRIES: usize = 100;

/// A file that will stand in its place when it is finished.
pub struct Unfinished(NamedTempFile);

impl Unfinished {
    /// An empty file in the folder where the finished one will stand, so that renaming it never copies.
    pub fn beside(place: &Path) -> io::Result<Unfinished> {
        for _ in 0..MOST_TRIES {
            let file = made_in(folder_of(place))?;
            let held = match file.as_file().try_lock() {
                Ok(()) => true,
                Err(TryLockError::WouldBlock) => false,
                // Where nothing can be locked, nothing is taken for a left-over either.
                Err(TryLockError::Error(_)) => return Ok(Unfinished(file)),
            };
            if held && Identity::of(file.path()) == Identity::of_open(file.as_file(), file.path()) {
                return Ok(Unfinished(file));
            }
        }
        Err(io::ErrorKind::ResourceBusy.into())
    }

    /// Writes all of it, down to the disk.
    pub fn fill(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.0.write_all(bytes)?;
        self.0.as_file().sync_all()
    }

    /// Marks it as another file was.
    pub fn mark(&self, marks: fs::Permissions) -> io::Result<()> {
        self.0.as_file().set_permissions(marks)
    }

    /// Renames it over what stands there.
    pub fn over(self, place: &Path) -> io::Result<()> {
        self.0.persist(place).map(|_| ()).map_err(|error| error.error)
    }

    /// Renames it to where nothing stands; where something does by now, it is given back.
    pub fn into_free(self, place: &Path) -> Result<(), (Unfinished, io::Error)> {
        self.0.persist_noclobber(place).map(|_| ()).map_err(|error| (Unfinished(error.file), error.error))
    }
}

fn made_in(folder: &Path) -> io::Result<NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(BEGINS).suffix(ENDS).rand_bytes(BETWEEN);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // As any new file: the user's mask takes away what it should.
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    builder.tempfile_in(folder)
}

/// Removes what killed runs left in a folder. What cannot be removed stays: it hinders nobody.
pub fn sweep(folder: &Path) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    for entry in entries.flatten() {
        let is_file = entry.file_type().is_ok_and(|kind| kind.is_file());
        if !is_file || !entry.file_name().to_str().is_some_and(is_ours) {
            continue;
        }
        let path = entry.path();
        let Ok(file) = File::open(&path) else { continue };
        // Held until it is gone, so that whoever has just made it sees it.
        if file.try_lock().is_ok() {
            let _ = fs::remove_file(&path);
        }
    }
}

/// Whether an unfinished file of ours has such a name.
fn is_ours(name: &str) -> bool {
    let between = name.strip_prefix(BEGINS).and_then(|rest| rest.strip_suffix(ENDS));
    between.is_some_and(|between| between.len() == BETWEEN && between.bytes().all(|c| c.is_ascii_alphanumeric()))
}
