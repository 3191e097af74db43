//! Writing into what is no file: pipes and devices.

use crate::cli::output::Trouble;
use std::fs;
use std::path::Path;

/// How long a pipe is given to find a reader: one that was started together with the run.
#[cfg(unix)]
const FOR_A_READER: std::time::Duration = std::time::Duration::from_secs(2);

/// How long is waited between two tries.
#[cfg(unix)]
const BETWEEN: std::time::Duration = std::time::Duration::from_millis(2);

/// Writes into a pipe or a device. A pipe that nobody reads from would hold the run for ever.
///
/// # Errors
/// Says what went wrong, and that a pipe has no reader.
#[cfg(unix)]
pub fn write_into(path: &Path, bytes: &[u8]) -> Result<(), Trouble> {
    use std::io::{ErrorKind, Write};
    use std::os::unix::fs::{FileTypeExt, OpenOptionsExt};
    use std::thread::sleep;
    let trouble = |error: std::io::Error| Trouble::writing(path, &error);
    if !fs::metadata(path).map_err(trouble)?.file_type().is_fifo() {
        return fs::write(path, bytes).map_err(trouble);
    }
    let started = std::time::Instant::now();
    let mut pipe = loop {
        match fs::OpenOptions::new().write(true).custom_flags(libc::O_NONBLOCK).open(path) {
            Err(error) if error.raw_os_error() == Some(libc::ENXIO) => {
                if started.elapsed() > FOR_A_READER {
                    return Err(unread(path));
                }
                sleep(BETWEEN);
            }
            opened => break opened.map_err(trouble)?,
        }
    };
    let mut left = bytes;
    while !left.is_empty() {
        match pipe.write(left) {
            Ok(written) => left = left.get(written..).unwrap_or_default(),
            // Its reader has not come so far yet.
            Err(error) if error.kind() == ErrorKind::WouldBlock => sleep(BETWEEN),
            Err(error) if error.kind() == ErrorKind::Interrupted => {}
            Err(error) => return Err(trouble(error)),
        }
    }
    Ok(())
}

/// Writes into a device.
///
/// # Errors
/// Says what went wrong.
#[cfg(not(unix))]
pub fn write_into(path: &Path, bytes: &[u8]) -> Result<(), Trouble> {
    fs::write(path, bytes).map_err(|error| Trouble::writing(path, &error))
}

#[cfg(unix)]
fn unread(path: &Path) -> Trouble {
    Trouble::new(format!(
        "cannot write {}: it is a pipe from which nobody reads; start its reader first, or write to standard output with -o -",
        path.display()
    ))
}
