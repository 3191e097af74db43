//! The order of work, held against a bench that keeps account of the wood: which lines, sides and ends of each part are there when a step
//! is done. The bench asks the solved board itself what a step must have; the plan only says which step is next.

mod bench;
mod made;
mod told;
mod undecided;

use crate::common::guide::examples;
use fullsize::job::Job;
use fullsize::order::{Plan, Step, Work};
use fullsize::project::{read, read_with};
use serde_json::Value as Json;
use std::path::{Path, PathBuf};

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// A job on a file of ours, where something may be made of it.
fn job_of(name: &str, bytes: &[u8], folder: &Path) -> Option<Job> {
    let beside = |name: &str| {
        let folders = [folder.to_owned(), root().join("fixtures/svg")];
        let found = folders.iter().find_map(|folder| std::fs::read(folder.join(name)).ok());
        found.ok_or_else(|| "none".to_owned())
    };
    let job = Job::new(read_with(name, bytes, None, None, &beside).project?);
    (!job.stops()).then_some(job)
}

fn fixtures() -> Vec<(String, Job)> {
    let mut all = Vec::new();
    for folder in ["fixtures/good", "fixtures/routed", "templates-demo"] {
        let folder = root().join(folder);
        let mut files: Vec<PathBuf> =
            std::fs::read_dir(&folder).expect("a folder").map(|entry| entry.expect("an entry").path()).collect();
        files.sort();
        for path in files.into_iter().filter(|path| path.extension().is_some_and(|ending| ending == "json")) {
            let bytes = std::fs::read(&path).expect("a file");
            let name = path.display().to_string();
            all.extend(job_of(&name, &bytes, &folder).map(|job| (name, job)));
        }
    }
    for (name, file) in examples() {
        all.extend(job_of(&name, file.as_bytes(), &root()).map(|job| (name, job)));
    }
    all
}

fn plan(file: &Json) -> (Job, Plan) {
    let reading = read("piece.json", file.to_string().as_bytes(), None, None);
    let job = Job::new(reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings)));
    let plan = Plan::of(&job).expect("an order");
    (job, plan)
}

/// Where the first step of a part that is of a kind stands.
fn at(plan: &Plan, part: &str, is: impl Fn(&Work) -> bool) -> usize {
    let of = |step: &Step| step.part.is_some_and(|at| plan.parts[at].id == part);
    plan.steps.iter().position(|step| of(step) && is(&step.work)).unwrap_or_else(|| panic!("no such step of {part}"))
}

const TABLE: &str = include_str!("../../templates-demo/reading_table.json");

fn table() -> Json {
    serde_json::from_str(TABLE).expect("a file")
}

/// Where the dry assembly stands.
fn dry(plan: &Plan) -> usize {
    plan.steps.iter().position(|step| step.work.key() == "dry").expect("a dry assembly")
}

/// What is told of a step, by its index: its own line and those beneath it.
fn lines_of(told: &str, step: usize) -> Vec<&str> {
    let number = |line: &str| line.trim_start().split_once(". ").and_then(|(number, _)| number.parse::<usize>().ok());
    let from = told.lines().skip_while(|line| number(line) != Some(step + 1));
    let own = from.enumerate().take_while(|(at, line)| *at == 0 || line.starts_with("      "));
    own.map(|(_, line)| line).collect()
}
