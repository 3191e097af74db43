//! How fast numbers become a solved piece: `cargo bench --bench piece`.

use divan::{Bencher, black_box};
use fullsize::as_built::find;
use fullsize::change::{Ask, Change, Kept, Snapshot, offers};
use fullsize::job::Job;
use fullsize::layout::assembly::named_points;
use fullsize::model::as_built::AsBuilt;
use fullsize::model::{Number, Project};
use fullsize::piece::solve;
use fullsize::project::read;
use fullsize::units::Length;
use serde_json::{Value as Json, json};

fn main() {
    divan::main();
}

fn project(text: &str) -> Project {
    read("piece.json", text.as_bytes(), None, None).project.expect("a good file")
}

/// The demo table, solved with everything that patterns and schedule need.
#[divan::bench]
fn demo_table(bencher: Bencher) {
    let table = project(include_str!("../../templates-demo/reading_table.json"));
    bencher.bench(|| solve(black_box(&table).base.as_ref(), table.top.as_ref(), &table.notation).expect("a table"));
}

/// A thousand bases, each with other numbers.
#[divan::bench(sample_count = 5)]
fn a_thousand_bases(bencher: Bencher) {
    let projects: Vec<Project> = (0..1000)
        .map(|i| {
            let (lean, splay, height) = (f64::from(i % 13), f64::from(i % 17), 600 + i % 190);
            let text = format!(
                r#"{{ "fullsize": 1, "title": "Base", "units": "mm", "base": {{ "kind": "leaning_frames",
                "height": {height}, "length_at_top": 1400, "width_at_top": 700, "lean": "{lean} deg",
                "leg": {{ "splay": "{splay} deg", "thickness": 40, "head": 95, "foot": 60 }},
                "top_rail": {{ "thickness": 30, "depth": 75 }}, "bottom_rail": {{ "thickness": 30, "depth": 70, "height": 140 }},
                "apron": {{ "thickness": 25, "depth": 85, "inset": 5 }} }} }}"#
            );
            project(&text)
        })
        .collect();
    bencher.bench(|| {
        let solved = black_box(&projects).iter().filter(|p| solve(p.base.as_ref(), None, &p.notation).is_ok());
        assert_eq!(solved.count(), 1000);
    });
}

/// How the demo table stands, found from 20 readings, with what to read next.
#[divan::bench]
fn twenty_readings_fitted(bencher: Bencher) {
    let table = project(include_str!("../../templates-demo/reading_table.json"));
    let piece = solve(table.base.as_ref(), table.top.as_ref(), &table.notation).expect("a table");
    let points = named_points(&piece);
    let pairs = points.iter().enumerate().flat_map(|(k, a)| points.iter().skip(k + 1).map(move |b| (a, b)));
    let legs_apart = pairs.filter(|(a, b)| a.leg != b.leg).take(20);
    // As a maker reads them: each half a millimetre off, one way or the other.
    let distances = legs_apart.enumerate().map(|(k, (a, b))| {
        let off = if k % 2 == 0 { 0.5 } else { -0.5 };
        (format!("{}-{}", a.name, b.name), Length::from_mm(a.at.distance(b.at) + off))
    });
    let given = AsBuilt {
        rule: Length::from_mm(0.5),
        rod: Length::from_mm(0.2),
        gauge: AsBuilt::USUAL_GAUGE,
        distances: distances.collect(),
        between_rails: None,
        leans: None,
        splays: None,
        gaps: Vec::new(),
    };
    let table = Project { as_built: Some(given), ..table };
    bencher.bench(|| find(black_box(&table), &piece).0.expect("a pose").readings.len());
}

/// Other numbers for the demo table, all of whose base is cut, 20 mm lower: one second is meant.
#[divan::bench(sample_count = 5)]
fn offers_for_a_lower_table(bencher: Bencher) {
    let table: Json = serde_json::from_str(include_str!("../../templates-demo/reading_table.json")).expect("a file");
    let piece = Snapshot::of(&Job::new(project(&table.to_string()))).expect("a piece");
    let (mut kept, mut lower) = (Kept::default(), table);
    for wood in piece.parts.iter().filter(|wood| wood.id != "top") {
        kept.keep(wood, &piece.numbers);
        lower["made"][&wood.id] = json!({ "code": wood.revision });
    }
    lower["base"]["height"] = json!(720);
    let as_set = |changes: &[Change]| {
        let mut file = lower.clone();
        for Change { number, to } in changes {
            *file.pointer_mut(&number.place.pointer)? = json!(to);
        }
        read("piece.json", file.to_string().as_bytes(), None, None).project
    };
    let is_free = |number: &Number| {
        let pointer = &number.place.pointer;
        pointer.starts_with("/base") && !pointer.ends_with("thickness") && pointer != "/base/height"
    };
    let job = Job::new(project(&lower.to_string()));
    let now = Snapshot::of(&job).expect("a piece");
    let ask = Ask { is_free: &is_free, as_set: &as_set, tick: &|_| {} };
    bencher.bench_local(|| {
        let found = offers(black_box(&job), (&kept, &now), ask);
        assert!(!found.all.is_empty());
        found.solutions
    });
}
