//! What the solids of a piece with its joints cost: `cargo bench --bench solid`.

use divan::{Bencher, black_box};
use fullsize::geometry::Scene;
use fullsize::job::Job;
use fullsize::project::read;
use fullsize::solid::Body;

fn main() {
    divan::main();
}

/// The demo table with its joints.
fn table() -> Job {
    let text = include_str!("../../templates-demo/reading_table.json");
    Job::new(read("reading_table.json", text.as_bytes(), None, None).project.expect("a good file"))
}

/// Its bodies, each as its first copy is.
fn bodies() -> Vec<Body> {
    let job = table();
    let piece = job.needed_piece().expect("a table");
    piece.boards.iter().map(|board| board.body().of_copy(0)).collect()
}

/// Every flat face of every board.
#[divan::bench]
fn faces(bencher: Bencher) {
    let bodies = bodies();
    bencher.bench(|| black_box(&bodies).iter().filter_map(Body::faces).map(|faces| faces.len()).sum::<usize>());
}

/// Volumes and centres of gravity: what stands apart by closed form.
#[divan::bench]
fn bulks(bencher: Bencher) {
    let bodies = bodies();
    bencher.bench(|| black_box(&bodies).iter().filter_map(Body::bulk).map(|bulk| bulk.volume).sum::<f64>());
}

/// The same by the surface alone.
#[divan::bench]
fn bulks_by_surface(bencher: Bencher) {
    let bodies = bodies();
    bencher
        .bench(|| black_box(&bodies).iter().filter_map(Body::bulk_by_surface).map(|bulk| bulk.volume).sum::<f64>());
}

/// The closed surfaces of all boards.
#[divan::bench]
fn meshes(bencher: Bencher) {
    let job = table();
    let piece = job.needed_piece().expect("a table");
    bencher.bench(|| -> Scene { black_box(piece).scene("table") });
}
