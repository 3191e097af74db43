//! How fast numbers become a solved piece: `cargo bench --bench piece`.

use divan::{Bencher, black_box};
use fullsize::model::Project;
use fullsize::piece::solve;
use fullsize::project::read;

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
