//! Whatever bytes or files come in: the reader and every output answer without falling over, in bounds, and the same each time.
//!
//! `FULLSIZE_FUZZ_INPUTS=1000000 cargo test --release --test computed fuzz::bytes` runs as many inputs as it says, and
//! `FULLSIZE_FUZZ_SEED` takes other ones. What fails is shrunk, and told with its text: that belongs into `fixtures/corpus`.

mod bytes;
mod files;
mod outputs;

use std::fs;
use std::path::Path;

/// How many inputs of a kind.
fn inputs(usual: u32) -> u32 {
    asked("FULLSIZE_FUZZ_INPUTS").unwrap_or(usual)
}

/// Which inputs.
fn seed() -> u32 {
    asked("FULLSIZE_FUZZ_SEED").unwrap_or(0)
}

fn asked(variable: &str) -> Option<u32> {
    std::env::var(variable).ok().and_then(|number| number.parse().ok())
}

/// The files of a folder with an ending, by their names.
fn stored(folder: &str, ending: &str) -> Vec<(String, Vec<u8>)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let mut files: Vec<(String, Vec<u8>)> = fs::read_dir(folder)
        .expect("a folder")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|e| e == ending))
        .map(|path| {
            (path.file_name().expect("a name").to_string_lossy().into_owned(), fs::read(&path).expect("a file"))
        })
        .collect();
    files.sort();
    files
}

/// What was put in, told where a test falls over.
struct Told<'a>(&'a [u8]);

impl Drop for Told<'_> {
    fn drop(&mut self) {
        if std::thread::panicking() {
            eprintln!("fell over at:\n{}", String::from_utf8_lossy(self.0));
        }
    }
}
