//! What the largest and most awkward files cost, each as a whole process: `cargo bench --bench budgets`.
//!
//! Two seconds are the most that a file of up to one megabyte may take.

use divan::Bencher;
use serde_json::{Value, json};
use std::f64::consts::TAU;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

fn main() {
    divan::main();
}

/// A wheel of so many corners in turn on two radii, mm, about a centre, each rounded where asked.
fn wheel(corners: u32, radii: [f64; 2], centre: [f64; 2], rounded: Option<f64>) -> Value {
    let corner = |i: u32| {
        let (angle, radius) = (TAU * f64::from(i) / f64::from(corners), radii[(i % 2) as usize]);
        let at = [centre[0] + radius * angle.cos(), centre[1] + radius * angle.sin()];
        let mut corner = json!({ "to": at.map(|x| (x * 1e4).round() / 1e4) });
        if let Some(radius) = rounded {
            corner["corner_radius"] = json!(radius);
        }
        corner
    };
    (0..corners).map(corner).collect()
}

/// A file of one part.
fn part(outline: Value, more: Value) -> Value {
    let mut part = json!({ "thickness": 12, "outline": outline });
    for (key, value) in more.as_object().into_iter().flatten() {
        part[key] = value.clone();
    }
    json!({
        "fullsize": 1, "title": "Large", "units": "mm", "patterns": { "part": part },
        "shop": {
            "cutters": { "spiral": { "diameter": 6 } },
            "collars": { "large": { "diameter": 12, "projection": 7 } }
        }
    })
}

fn board() -> Value {
    json!([{ "to": [0, 0] }, { "to": [1300, 0] }, { "to": [1300, 700] }, { "to": [0, 700] }])
}

/// Times `check` on a file; some stop, and that is an answer too.
fn check(bencher: Bencher, file: &Value) {
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("large.json"), file.to_string()).expect("a file");
    run(bencher, folder.path());
}

fn run(bencher: Bencher, folder: &Path) {
    bencher.bench(|| {
        let done = Command::new(env!("CARGO_BIN_EXE_fullsize"))
            .env("FULLSIZE_SHOP", "")
            .args(["check", "large.json"])
            .current_dir(folder)
            .output()
            .expect("it runs");
        assert!(done.status.code().is_some_and(|code| code <= 1), "{done:?}");
    });
}

const WHEEL: [f64; 2] = [600.0, 570.0];

#[divan::bench(sample_count = 3)]
fn cutter_round_1000_corners(bencher: Bencher) {
    check(bencher, &part(wheel(1000, WHEEL, [0.0; 2], None), json!({ "check_cutter": "spiral" })));
}

#[divan::bench(sample_count = 3)]
fn collar_round_1000_corners(bencher: Bencher) {
    let template = json!({ "kind": "collar", "work": "outside", "collar": "large", "cutter": "spiral" });
    check(bencher, &part(wheel(1000, WHEEL, [0.0; 2], None), json!({ "template": template })));
}

#[divan::bench(sample_count = 3)]
fn saw_line_round_1000_rounded_corners(bencher: Bencher) {
    let template = json!({ "template": { "kind": "saw_line", "distance": 3 } });
    check(bencher, &part(wheel(1000, WHEEL, [0.0; 2], Some(0.5)), template));
}

#[divan::bench(sample_count = 3)]
fn grain_round_1000_corners(bencher: Bencher) {
    let grain = json!({ "grain": "30 deg", "grain_runs": { "along": 4, "end": 60 } });
    check(bencher, &part(wheel(1000, WHEEL, [0.0; 2], None), grain));
}

/// A fret of 50 openings of 60 corners each.
#[divan::bench(sample_count = 3)]
fn cutter_in_50_openings(bencher: Bencher) {
    let at = |i: u32| [60.0 + 120.0 * f64::from(i % 10), 60.0 + 120.0 * f64::from(i / 10)];
    let openings: Vec<Value> = (0..50).map(|i| wheel(60, [40.0, 40.0], at(i), None)).collect();
    check(bencher, &part(board(), json!({ "openings": openings, "check_cutter": "spiral" })));
}

#[divan::bench(sample_count = 3)]
fn cutter_in_200_ellipses(bencher: Bencher) {
    let at = |i: u32| [40.0 + 60.0 * f64::from(i % 20), 40.0 + 60.0 * f64::from(i / 20)];
    let openings: Vec<Value> = (0..200).map(|i| json!({ "ellipse": [40, 25], "at": at(i) })).collect();
    check(bencher, &part(board(), json!({ "openings": openings, "check_cutter": "spiral" })));
}

/// 1,000 openings close to each other, all of them curves.
#[divan::bench(sample_count = 3)]
fn cutter_in_1000_ellipses(bencher: Bencher) {
    let at = |i: u32| [30 + 30 * (i % 40), 20 + 26 * (i / 40)];
    let openings: Vec<Value> = (0..1000).map(|i| json!({ "ellipse": [20, 12], "at": at(i) })).collect();
    check(bencher, &part(board(), json!({ "openings": openings, "check_cutter": "spiral" })));
}

/// 40 boards of 300 corners beside each other.
#[divan::bench(sample_count = 3)]
fn neighbours_of_300_corners(bencher: Bencher) {
    let board = |i: u32| {
        let outline = wheel(300, [100.0, 90.0], [0.0; 2], None);
        let at = [210 * (i % 8), 210 * (i / 8), 0];
        (
            format!("b{i}"),
            json!({ "thickness": 20, "outline": outline, "at": at, "along": [1, 0, 0], "face": [0, 0, 1] }),
        )
    };
    let boards: serde_json::Map<String, Value> = (0..40).map(board).collect();
    let base = json!({ "kind": "boards", "boards": boards });
    check(bencher, &json!({ "fullsize": 1, "title": "Boards", "units": "mm", "base": base }));
}

/// A table whose rails stand so high, mm, and the stretcher that runs between them.
fn table(top: Value, rail: u32, stretcher: u32) -> Value {
    json!({
        "fullsize": 1, "title": "Table", "units": "mm",
        "base": {
            "kind": "leaning_frames", "height": 745, "length_at_top": 1420, "width_at_top": 640, "lean": "8 deg",
            "leg": { "splay": "12 deg", "thickness": 40, "head": 95, "foot": 60 },
            "top_rail": { "thickness": 30, "depth": 75 },
            "bottom_rail": { "thickness": 30, "depth": 70, "height": rail },
            "apron": { "thickness": 25, "depth": 85, "inset": 5 },
            "stretcher": { "thickness": 25, "depth": 45, "height": stretcher }
        },
        "top": top
    })
}

/// A rail set far too high under a top whose batten has 16 points: every try makes the piece anew.
#[divan::bench(sample_count = 3)]
fn a_wrong_number_beside_a_batten_of_16_points(bencher: Bencher) {
    let points: Vec<[u32; 2]> = (0..16).map(|i| [25 + 50 * i, if i % 2 == 0 { 4 } else { 34 }]).collect();
    let top = json!({
        "length": 1800, "width": 860, "thickness": 24, "corner_radius": 40,
        "long_edges": { "rise": 15 }, "short_edges": { "batten": points }
    });
    check(bencher, &table(top, 1400, 152));
}

/// An oval top with glue tenons whose walls are too thin, and which shaping opens.
#[divan::bench(sample_count = 3)]
fn an_oval_with_faulty_glue_tenons(bencher: Bencher) {
    let boards = [125; 8];
    let mut file = table(
        json!({ "length": 1900, "width": 1000, "thickness": 20, "shape": "oval", "glue_up": boards }),
        200,
        205,
    );
    for k in 0..4 {
        file["joints"][format!("g{k}")] = json!({
            "from": "top", "into": "top", "thickness": 15.0 + 0.5 * f64::from(k), "width": 40 + 5 * k, "length": 50,
            "spacing": 250 + 20 * k, "margin": 10 + k
        });
    }
    check(bencher, &file);
}

/// An SVG element of 230,000 attributes.
#[divan::bench(sample_count = 3)]
fn a_drawing_of_230000_attributes(bencher: Bencher) {
    let folder = tempfile::tempdir().expect("a folder");
    let attributes: String = (0..230_000).map(|i| format!(" d{i}=\"x\"")).collect();
    let svg = format!("<svg xmlns=\"http://www.w3.org/2000/svg\"><path d=\"M0 0H50V50H0Z\"{attributes}/></svg>");
    std::fs::write(folder.path().join("leaf.svg"), svg).expect("a file");
    let file = part(json!({ "svg": "leaf.svg", "width": 100 }), json!({}));
    std::fs::write(folder.path().join("large.json"), file.to_string()).expect("a file");
    run(bencher, folder.path());
}

/// 60 parts of 4 m on 4,920 sheets of A4; the most memory that it took is told beside the time.
#[divan::bench(sample_count = 1)]
fn print_on_4920_sheets(bencher: Bencher) {
    let outline = json!([
        { "to": [0, 0] }, { "to": [4000, 0] }, { "to": [4000, 3600], "corner_radius": 50 }, { "to": [0, 3200] }
    ]);
    let mut file = part(outline, json!({}));
    let part = file["patterns"]["part"].clone();
    file["patterns"] = (0..60).map(|k| (format!("p{k}"), part.clone())).collect::<serde_json::Map<_, _>>().into();
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("large.json"), file.to_string()).expect("a file");
    bencher.bench(|| {
        let mut child = Command::new(env!("CARGO_BIN_EXE_fullsize"))
            .env("FULLSIZE_SHOP", "")
            .args(["print", "large.json", "--sheets", "5000"])
            .current_dir(folder.path())
            .stdout(Stdio::null())
            .spawn()
            .expect("it runs");
        eprintln!("at most {} kB of memory", most_memory(&mut child));
    });
}

/// The most memory that a process takes until it ends, kB; 0 where the system does not tell.
fn most_memory(child: &mut Child) -> u64 {
    let status = format!("/proc/{}/status", child.id());
    let mut most = 0;
    while child.try_wait().expect("it is ours").is_none() {
        let told = std::fs::read_to_string(&status).unwrap_or_default();
        let line = told.lines().find_map(|line| line.strip_prefix("VmHWM:"));
        most = most.max(line.and_then(|line| line.trim().trim_end_matches(" kB").parse().ok()).unwrap_or(0));
        std::thread::sleep(Duration::from_millis(20));
    }
    most
}

/// Outlines near one megabyte that cross themselves nowhere.
#[divan::bench(sample_count = 3)]
fn one_outline_of_25000_corners(bencher: Bencher) {
    check(bencher, &part(wheel(25_000, [3000.0, 2999.5], [0.0; 2], None), json!({})));
}

/// A drawing of one path of so many points, 0.8 MB for 50,000, checked with a cutter.
fn traced(bencher: Bencher, radius: impl Fn(f64) -> f64, points: u32) {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |i: u32| {
        let angle = TAU * f64::from(i) / f64::from(points);
        format!("{:.3} {:.3}", 600.0 + radius(angle) * angle.cos(), 600.0 + radius(angle) * angle.sin())
    };
    let data = (0..points).map(at).collect::<Vec<String>>().join("L");
    let svg = format!("<svg xmlns=\"http://www.w3.org/2000/svg\"><path d=\"M{data}Z\"/></svg>");
    std::fs::write(folder.path().join("leaf.svg"), svg).expect("a file");
    let file = part(json!({ "svg": "leaf.svg", "width": 1180 }), json!({ "check_cutter": "spiral" }));
    std::fs::write(folder.path().join("large.json"), file.to_string()).expect("a file");
    run(bencher, folder.path());
}

#[divan::bench(sample_count = 3)]
fn cutter_round_a_traced_circle_of_50000_corners(bencher: Bencher) {
    traced(bencher, |_| 590.0, 50_000);
}

#[divan::bench(sample_count = 3)]
fn cutter_round_a_traced_leaf_of_50000_corners(bencher: Bencher) {
    traced(bencher, |angle| 400.0 + 150.0 * (7.0 * angle).cos() + 30.0 * (61.0 * angle).cos(), 50_000);
}

/// 110 openings of 300 sharp corners each: 0.9 MB, and a word at each of 16,500 places when it is printed.
fn of_110_openings(more: Value) -> Value {
    let at = |i: u32| [60.0 + 100.0 * f64::from(i % 30), 60.0 + 100.0 * f64::from(i / 30)];
    let openings: Vec<Value> = (0..110).map(|i| wheel(300, [40.0, 36.0], at(i), None)).collect();
    let board = json!([{ "to": [0, 0] }, { "to": [3100, 0] }, { "to": [3100, 1600] }, { "to": [0, 1600] }]);
    let mut file = part(board, more);
    file["patterns"]["part"]["openings"] = openings.into();
    file
}

#[divan::bench(sample_count = 3)]
fn cutter_in_110_openings_of_300_corners(bencher: Bencher) {
    check(bencher, &of_110_openings(json!({ "check_cutter": "spiral" })));
}

#[divan::bench(sample_count = 3)]
fn saw_line_in_110_openings_of_300_corners(bencher: Bencher) {
    check(bencher, &of_110_openings(json!({ "template": { "kind": "saw_line", "distance": 3 } })));
}

#[divan::bench(args = ["outside", "inside"], sample_count = 3)]
fn collar_in_110_openings_of_300_corners(bencher: Bencher, work: &str) {
    let template = json!({ "kind": "collar", "work": work, "collar": "large", "cutter": "spiral" });
    check(bencher, &of_110_openings(json!({ "template": template })));
}

/// Boards of 300 corners one behind the other, all drawn: 0.9 MB of file for 110 of them.
#[divan::bench(args = [110, 450], sample_count = 1)]
fn draw_boards_behind_each_other(bencher: Bencher, count: u32) {
    let board = |i: u32| {
        let outline = wheel(300, [100.0, 90.0], [0.0; 2], None);
        let at = [7 * (i % 4), 30 * i, 5 * (i % 3)];
        (
            format!("b{i}"),
            json!({ "thickness": 20, "outline": outline, "at": at, "along": [1, 0, 0], "face": [0, 1, 0] }),
        )
    };
    let boards: serde_json::Map<String, Value> = (0..count).map(board).collect();
    let base = json!({ "kind": "boards", "boards": boards });
    let file = json!({ "fullsize": 1, "title": "Boards", "units": "mm", "base": base });
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("large.json"), file.to_string()).expect("a file");
    bencher.bench(|| {
        let mut child = Command::new(env!("CARGO_BIN_EXE_fullsize"))
            .args(["draw", "large.json", "--force"])
            .current_dir(folder.path())
            .env("FULLSIZE_SHOP", "")
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .expect("it runs");
        eprintln!("at most {} kB of memory", most_memory(&mut child));
    });
}
