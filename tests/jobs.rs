//! One pipeline from a file to everything that is made from it: each stage once, and the same whatever is asked for first.

use fullsize::finding::Severity;
use fullsize::job::{Job, Refusal};
use fullsize::layout::elevation::Options;
use fullsize::project::{Reading, read_with};
use fullsize::schedule::text;
use fullsize::write::gltf;
use std::fs;
use std::path::Path;

/// The good files of the fixtures and the examples of the program, by name.
fn jobs() -> Vec<(String, Job)> {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    let drawings = |name: &str| fs::read(here.join("fixtures/svg").join(name)).map_err(|error| error.to_string());
    let mut all = Vec::new();
    for folder in ["fixtures/good", "templates-demo"] {
        let mut files: Vec<_> =
            fs::read_dir(here.join(folder)).expect("a folder").flatten().map(|e| e.path()).collect();
        files.retain(|file| file.extension().is_some_and(|extension| extension == "json"));
        files.sort();
        for file in files {
            let name = file.display().to_string();
            let bytes = fs::read(&file).expect("a file");
            let Reading { project, findings, .. } = read_with(&name, &bytes, None, None, &drawings);
            all.push((name, Job::new(project.unwrap_or_else(|| panic!("{findings:#?}")))));
        }
    }
    assert!(all.len() > 15);
    all
}

/// Everything that a job gives, as words; backwards the last first.
fn everything(job: &Job, backwards: bool) -> Vec<String> {
    let all: [&dyn Fn() -> String; 8] = [
        &|| format!("{:?}", job.findings().collect::<Vec<_>>()),
        &|| format!("{:?}", job.piece()),
        &|| format!("{:?}", job.aids()),
        &|| format!("{:?}", job.patterns()),
        &|| format!("{:?}", job.revision()),
        &|| job.schedule().map_or_else(|refusal| refusal.to_string(), |schedule| text(&schedule)),
        &|| job.scene().map_or_else(|refusal| refusal.to_string(), |scene| format!("{:?}", gltf(&scene))),
        &|| format!("{:?}", job.cured_findings().collect::<Vec<_>>()),
    ];
    match backwards {
        false => all.iter().map(|one| one()).collect(),
        true => {
            let mut words: Vec<String> = all.iter().rev().map(|one| one()).collect();
            words.reverse();
            words
        }
    }
}

#[test]
fn each_stage_runs_once_and_the_order_of_asking_changes_nothing() {
    for ((name, job), (_, other)) in jobs().into_iter().zip(jobs()) {
        assert_eq!(
            job.stages().all().iter().map(|(_, runs)| runs).sum::<u32>(),
            0,
            "{name}: nothing before it is asked for"
        );
        let forwards = everything(&job, false);
        assert_eq!(forwards, everything(&job, false), "{name}");
        assert_eq!(forwards, everything(&other, true), "{name}");
        for (stage, runs) in job.stages().all().into_iter().chain(other.stages().all()) {
            assert!(runs <= 1, "{name}: {stage} {runs} times");
        }
    }
}

#[test]
fn patterns_sheets_and_models_never_search_cures() {
    for (name, job) in jobs() {
        let patterns = job.patterns_named(&[]).unwrap_or_else(|refusal| panic!("{name}: {refusal}"));
        assert!(!job.plotted(&patterns).document.pages.is_empty(), "{name}");
        let _ = job.scene();
        let stages = job.stages();
        assert_eq!((stages.cured, stages.patterned, stages.drawn), (0, 1, 1), "{name}");
    }
}

/// A rule may find what stops the work as well: then nothing is made, and every other rule has been asked all the same.
#[test]
fn what_a_rule_stops_is_not_drawn() {
    let file = r#"{ "fullsize": 1, "title": "Top", "units": "mm", "top": { "length": 900, "width": 400, "thickness": 25,
        "species": "white oak", "moisture": { "today": 8, "driest": 6, "dampest": 11 }, "glue_up": [200, 200],
        "breadboard": { "width": 60, "pins": 51 } } }"#;
    let reading = read_with("top.json", file.as_bytes(), None, None, &|_| Err(String::new()));
    let job = Job::new(reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings)));
    let stops: Vec<&str> =
        job.findings().filter(|finding| finding.severity == Severity::Stop).map(|finding| finding.code).collect();
    assert_eq!(stops, ["pins-too-near"]);
    assert_eq!(job.patterns().err(), Some(Refusal::Stopped));
    assert!(job.stops() && job.aids().is_empty() && job.schedule().is_err() && job.scene().is_err());
}

/// A stop about what is routed: the piece is known, and nothing is handed out of it but to who says that he wants it all the same.
#[test]
fn what_the_router_stops_is_not_handed_out_unasked() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/stopped");
    let job = |name: &str| {
        let bytes = fs::read(folder.join(name)).expect("a file");
        let reading = read_with(name, &bytes, None, None, &|_| Err(String::new()));
        Job::new(reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings)))
    };
    let refused = |job: &Job| {
        let options = Options::default();
        [
            job.schedule().err(),
            job.drawing(&options).err(),
            job.rod(false).err(),
            job.picture().err(),
            job.scene().err(),
            job.drawn_parts().err(),
        ]
    };
    let mut table = job("leg_not_to_be_routed.json");
    assert!(table.needed_piece().is_ok() && table.stops());
    assert_eq!(refused(&table), [const { Some(Refusal::Stopped) }; 6]);
    table.allow_stops();
    assert_eq!(refused(&table), [const { None }; 6]);
    let schedule = table.schedule().expect("a schedule");
    assert!(text(&schedule).contains("leg"));
    // A part that is drawn directly is nothing to see as a piece, allowed or not.
    let mut inlay = job("inlay_without_plug.json");
    assert_eq!(inlay.schedule().err(), Some(Refusal::Stopped));
    inlay.allow_stops();
    assert!(inlay.schedule().is_ok());
    assert_eq!(inlay.patterns().err(), Some(Refusal::Stopped), "no pattern is cut by a file with a stop");
}

#[test]
fn what_is_asked_for_and_is_not_there_is_told() {
    let (_, job) = jobs().into_iter().find(|(name, _)| name.ends_with("leaning_table.json")).expect("the table");
    let told = job.patterns_named(&["apronn".to_owned()]).expect_err("no such pattern");
    assert!(told.to_string().contains("did you mean \"apron\"?"), "{told}");
    let (_, parts) = jobs().into_iter().find(|(name, _)| name.ends_with("router_bracket.json")).expect("the bracket");
    assert_eq!(parts.scene().err(), Some(Refusal::NoPiece));
}
