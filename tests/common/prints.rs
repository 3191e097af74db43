//! What `print` makes of the demos and the good files of the fixtures: made once for each paper, whichever tests ask.

use fullsize::job::{Job, Sheets};
use fullsize::model::Paper;
use fullsize::page::Document;
use fullsize::project::read_with;
use fullsize::units::Units;
use std::collections::BTreeMap;
use std::fs;
use std::path::PathBuf;
use std::sync::{Mutex, OnceLock};

/// One file's print.
pub struct Print {
    /// The file's name, without ending.
    pub name: String,
    /// Its sheets.
    pub sheets: Sheets<'static>,
    /// All pages.
    pub document: Document,
    /// Names of the piece's patterns, of which small ones share a sheet.
    pub own: Vec<String>,
}

/// The demos and the good files of the fixtures.
pub fn jobs() -> Vec<(String, Job)> {
    let here = concat!(env!("CARGO_MANIFEST_DIR"), "/");
    let drawings = |name: &str| fs::read(format!("{here}fixtures/svg/{name}")).map_err(|error| error.to_string());
    let folders = ["fixtures/good", "templates-demo"].map(|folder| fs::read_dir(format!("{here}{folder}")).unwrap());
    let mut files: Vec<_> = folders.into_iter().flatten().map(|entry| entry.unwrap().path()).collect();
    files.retain(|file| file.extension().is_some_and(|extension| extension == "json"));
    files.sort();
    let made = |file: PathBuf| {
        let name = file.file_stem().unwrap().to_string_lossy().into_owned();
        let read = read_with(&name, &fs::read(&file).unwrap(), None, None, &drawings);
        (name, Job::new(read.project.expect("a good file")))
    };
    files.into_iter().map(made).collect()
}

/// The prints of all files on a paper. They are kept until the tests end.
pub fn on(paper: &str) -> &'static [Print] {
    static MADE: Mutex<BTreeMap<String, &'static OnceLock<Vec<Print>>>> = Mutex::new(BTreeMap::new());
    // Other papers are not waited for.
    let own = *MADE.lock().unwrap().entry(paper.to_owned()).or_insert_with(|| Box::leak(Box::default()));
    own.get_or_init(|| jobs().into_iter().map(|(name, job)| print(name, job, paper)).collect())
}

/// All patterns of a job on sheets.
pub fn laid(job: &Job) -> Sheets<'_> {
    job.sheets(job.patterns_named(&[]).expect("patterns")).expect("sheets")
}

fn print(name: String, mut job: Job, paper: &str) -> Print {
    job.set_paper(Paper::read(paper, Units::Mm).unwrap());
    let job: &'static Job = Box::leak(Box::new(job));
    let own = job.patterns().expect("patterns").iter().map(|one| one.pattern.part.name.clone()).collect();
    let sheets = laid(job);
    Print { name, document: sheets.document(), sheets, own }
}
