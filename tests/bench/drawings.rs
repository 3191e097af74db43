//! How fast a piece becomes views and sheets: `cargo bench --bench drawings`.

#[allow(dead_code, reason = "the tests use the rest")]
#[path = "../common"]
mod common {
    pub mod draws;
}
#[path = "../drawings/pieces.rs"]
#[allow(dead_code, reason = "the tests use the rest")]
mod pieces;

use divan::{Bencher, black_box};
use fullsize::geometry::{Placement, Point3};
use fullsize::layout::Setup;
use fullsize::layout::elevation::{Options, draw};
use fullsize::model::base::{Base, BoxEdges, Corner};
use fullsize::piece::Piece;
use fullsize::project::read;
use fullsize::units::Notation;
use fullsize::view::{Model, Subject, View};

fn main() {
    divan::main();
}

fn table() -> Piece {
    let (base, top) = pieces::curved();
    pieces::solved(&base, Some(&top)).expect("a table")
}

/// Front, side, above, below and isometric of a table of leaning frames with curved legs and a bowed top.
#[divan::bench]
fn all_views(bencher: Bencher) {
    let piece = table();
    let views = [View::FRONT, View::LEFT, View::ABOVE, View::BELOW, View::isometric()];
    bencher.bench(|| {
        let model = Model::of(black_box(&piece));
        views.iter().map(|view| model.seen(view).visible.len()).sum::<usize>()
    });
}

/// Views with their numbers, and the assembly, on A3.
#[divan::bench]
fn sheets(bencher: Bencher) {
    let piece = table();
    let text = br#"{"fullsize": 1, "title": "t", "units": "mm", "shop": {"paper": "A3"},
        "patterns": {"disc": {"thickness": 10, "make": 1, "outline": {"circle": 100}}}}"#;
    let shop = read("shop.json", text, None, None).project.expect("a project").shop;
    let setup = Setup { shop: &shop, notation: Notation::default(), title: "Table", readings_from: None };
    bencher.bench(|| {
        let model = Model::of(black_box(&piece));
        let subject = Subject { piece: &piece, model: &model };
        draw(subject, &setup, &Options::default()).map(|drawn| drawn.document.pages.len())
    });
}

/// An isometric view of so many boards: eight-sided boxes, one behind the other.
#[divan::bench(args = [8, 24, 48, 96, 200])]
fn isometric(bencher: Bencher, boards: usize) {
    let base = Base::SplayedBox(pieces::splayed_box(8, Corner::Mitred, BoxEdges::Level, 15.0));
    let mut piece = pieces::solved(&base, None).expect("a box");
    let ring = piece.boards[0].copies.clone();
    let copies = (0..boards).map(|k| {
        let mut copy = ring[k % 8].clone();
        let place = copy.placement;
        let shift = (k / 8) as f64;
        let origin = place.origin();
        let moved = Point3::new(origin.x + 230.0 * (shift % 5.0), origin.y + 310.0 * (shift / 5.0).floor(), origin.z);
        copy.placement = Placement::facing(moved, place.u(), place.w()).expect("a place");
        copy
    });
    piece.boards[0].copies = copies.collect();
    bencher.bench(|| Model::of(black_box(&piece)).seen(&View::isometric()).visible.len());
}
