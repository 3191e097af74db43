//! A folder of its own in which the program is run.

use std::fs;
use std::path::PathBuf;
use std::process::{Command, Output, Stdio};
use tempfile::TempDir;

pub struct Shop {
    folder: TempDir,
}

impl Shop {
    pub fn new() -> Shop {
        Shop { folder: tempfile::tempdir().expect("a folder") }
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub fn file(&self, name: &str, text: &str) -> PathBuf {
        fs::write(self.path(name), text).expect("a file");
        self.path(name)
    }

    pub fn run(&self, arguments: &[&str]) -> Output {
        Command::new(env!("CARGO_BIN_EXE_fullsize"))
            .args(arguments)
            .current_dir(self.folder.path())
            .stdin(Stdio::null())
            .output()
            .expect("the program runs")
    }

    pub fn names(&self) -> Vec<String> {
        let entries = fs::read_dir(self.folder.path()).expect("a folder");
        let mut names: Vec<String> =
            entries.map(|e| e.expect("an entry").file_name().to_string_lossy().into_owned()).collect();
        names.sort();
        names
    }
}

pub fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("text")
}
