//! A folder of its own in which the program is run.

use crate::common::program::{NO_SHOP, PROGRAM, program};
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
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
        program()
            .args(arguments)
            .current_dir(self.folder.path())
            .stdin(Stdio::null())
            .output()
            .expect("the program runs")
    }

    /// Runs the program with some words on its standard input.
    pub fn run_with(&self, arguments: &[&str], input: &str) -> Output {
        let mut child = program()
            .args(arguments)
            .current_dir(self.folder.path())
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the program runs");
        let mut typed = child.stdin.take().expect("a pipe");
        // A program that refuses its arguments reads nothing.
        let _ = typed.write_all(input.as_bytes());
        drop(typed);
        child.wait_with_output().expect("it ends")
    }

    /// Runs a line as a person would paste it into a shell.
    pub fn pasted(&self, line: &str) -> Output {
        let program = Path::new(PROGRAM).parent().expect("a folder");
        let path = std::env::var("PATH").unwrap_or_default();
        Command::new("sh")
            .args(["-c", line])
            .current_dir(self.folder.path())
            .env(NO_SHOP.0, NO_SHOP.1)
            .env("PATH", format!("{}:{path}", program.display()))
            .stdin(Stdio::null())
            .output()
            .expect("a shell")
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
