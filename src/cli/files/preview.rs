//! A file that is written to be looked at and stays only where the work is brought to its end.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// A file before it is written: dropped, or where the run is ended from outside (Ctrl-C, a window that is closed), it is as it was;
/// kept, it stays as it is.
#[derive(Debug)]
pub struct Preview {
    file: Arc<Before>,
    #[cfg(unix)]
    signals: Option<signal_hook::iterator::Handle>,
}

/// How a file was.
#[derive(Debug)]
struct Before {
    path: PathBuf,
    bytes: Option<Vec<u8>>,
    /// Whether it is kept, or is as it was already.
    is_settled: AtomicBool,
}

impl Before {
    fn put_back(&self) {
        if self.is_settled.swap(true, Ordering::SeqCst) {
            return;
        }
        // There is nobody left to tell of what fails here.
        let _ = match &self.bytes {
            Some(bytes) => fs::write(&self.path, bytes),
            None => fs::remove_file(&self.path),
        };
    }
}

impl Preview {
    /// Remembers how a file is.
    pub fn of(path: &Path) -> Preview {
        let bytes = fs::read(path).ok();
        let file = Arc::new(Before { path: path.to_owned(), bytes, is_settled: AtomicBool::new(false) });
        Preview {
            #[cfg(unix)]
            signals: watched(&file),
            file,
        }
    }

    /// Leaves the file as it has become.
    pub fn keep(self) {
        self.file.is_settled.store(true, Ordering::SeqCst);
    }
}

impl Drop for Preview {
    fn drop(&mut self) {
        self.file.put_back();
        #[cfg(unix)]
        self.signals.iter().for_each(signal_hook::iterator::Handle::close);
    }
}

/// Puts a file back before a signal ends the run, which it then does as ever. Where signals cannot be heard they end it at once.
#[cfg(unix)]
fn watched(file: &Arc<Before>) -> Option<signal_hook::iterator::Handle> {
    use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM};
    let mut signals = signal_hook::iterator::Signals::new([SIGHUP, SIGINT, SIGTERM]).ok()?;
    let (handle, file) = (signals.handle(), Arc::clone(file));
    std::thread::spawn(move || {
        for signal in signals.forever() {
            file.put_back();
            let _ = signal_hook::low_level::emulate_default_handler(signal);
        }
    });
    Some(handle)
}
