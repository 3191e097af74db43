//! Files whose pages are asked.

use crate::common::draws::{Draws, for_all_from};
use fullsize::job::Job;
use fullsize::model::Paper;
use fullsize::project::read;
use fullsize::units::{Notation, Units};
use serde_json::{Value, json};
use std::fs;
use std::path::Path;

const PAPERS: [&str; 6] = ["A4", "A3", "Letter", "Tabloid", "A2", "roll 24 in"];

/// More sheets than this are left to the demos.
pub const MOST_SHEETS: usize = 40;

/// How many pieces with altered numbers are asked where nobody says.
pub const USUAL: usize = 60;

/// How many pieces with altered numbers are asked.
pub fn wanted() -> usize {
    std::env::var("FULLSIZE_PAGES").ok().and_then(|number| number.parse().ok()).unwrap_or(USUAL)
}

/// The demos, good files and what the guide shows as whole files, by name.
pub fn examples() -> Vec<(String, String)> {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut all = Vec::new();
    for folder in ["templates-demo", "fixtures/good", "fixtures/routed"] {
        let mut paths: Vec<_> =
            fs::read_dir(here.join(folder)).expect("a folder").map(|e| e.unwrap().path()).collect();
        paths.sort();
        for path in paths.iter().filter(|path| path.extension().is_some_and(|e| e == "json")) {
            let name = path.file_stem().expect("a name").to_string_lossy().into_owned();
            all.push((name, fs::read_to_string(path).expect("a file")));
        }
    }
    all.extend(crate::common::guide::examples());
    all
}

/// A file that needs nothing beside it as a job, on other paper and perhaps in inches; `None` where it is not read.
pub fn job(text: &str, paper: &str, inches: bool) -> Option<Job> {
    let mut project = read("example.json", text.as_bytes(), None, None).project?;
    if inches {
        project.notation = Notation { units: Units::Inch, ..project.notation.clone() };
    }
    let mut job = Job::new(project);
    job.set_paper(Paper::read(paper, Units::Mm).expect("paper"));
    Some(job)
}

/// Changes a few numbers of a file by a quarter at most.
fn alter(file: &mut Value, draws: &mut Draws) {
    fn numbers(value: &Value, here: &str, found: &mut Vec<String>) {
        match value {
            Value::Object(members) => members.iter().for_each(|(name, value)| {
                numbers(value, &format!("{here}/{}", name.replace('~', "~0").replace('/', "~1")), found);
            }),
            Value::Array(entries) => {
                entries.iter().enumerate().for_each(|(k, value)| numbers(value, &format!("{here}/{k}"), found));
            }
            Value::Number(_) if here != "/fullsize" => found.push(here.to_owned()),
            _ => {}
        }
    }
    let mut all = Vec::new();
    numbers(file, "", &mut all);
    for _ in 0..1 + draws.below(4) {
        if all.is_empty() {
            return;
        }
        let at = all[draws.below(all.len())].clone();
        if let Some(number) = file.pointer_mut(&at) {
            let own = number.as_f64().unwrap_or(1.0);
            *number = json!((own * draws.between(0.8, 1.25) * 100.0).round() / 100.0);
        }
    }
}

/// Hands over pieces with altered numbers until enough were made; how many.
pub fn altered(mut ask: impl FnMut(&str, &Job) -> bool) -> usize {
    let seeds: Vec<(String, Value)> =
        examples().into_iter().filter_map(|(name, text)| Some((name, serde_json::from_str(&text).ok()?))).collect();
    let mut asked = 0;
    for_all_from(15, 4 * wanted() as u32, |draws| {
        if asked >= wanted() {
            return;
        }
        let (name, file) = &seeds[draws.below(seeds.len())];
        let mut file = file.clone();
        alter(&mut file, draws);
        let text = file.to_string();
        let paper = draws.one_of(&PAPERS);
        let Some(mut job) = job(&text, paper, draws.chance(0.4)) else { return };
        job.limit_sheets(MOST_SHEETS);
        asked += usize::from(ask(&format!("{name} {asked} on {paper}"), &job));
    });
    asked
}
