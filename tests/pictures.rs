//! The README's pictures are what the program draws today. FULLSIZE_BLESS=1 draws them anew; then look at them.

use crate::common::routing::routed;
use fullsize::layout::elevation::{Content, Options, draw as draw_piece};
use fullsize::layout::{Pictured, Setup, picture, tile};
use fullsize::model::Project;
use fullsize::page::{Document, Page};
use fullsize::pattern::{Pattern, draw};
use fullsize::view::{Model, Subject};
use fullsize::write::{SvgStyle, svg};
use std::fs;
use std::path::Path;

fn bench() -> (Project, Vec<Pattern>) {
    let text = include_bytes!("../templates-demo/hall_bench.json");
    let project = fullsize::project::read("hall_bench.json", text, None, None).project.expect("a good file");
    let patterns =
        project.patterns.iter().map(|p| draw(p, &routed(p).on_part, "", &project.title, &project.notation)).collect();
    (project, patterns)
}

fn same(name: &str, document: &Document, page: &Page) {
    let drawn = svg(document, page, SvgStyle::Picture).expect("a picture");
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("templates-demo").join(name);
    if std::env::var_os("FULLSIZE_BLESS").is_some() {
        fs::write(&path, &drawn).expect("may write");
    }
    let known = fs::read_to_string(&path).unwrap_or_default();
    assert!(
        known == drawn,
        "{name} is not what is drawn today: look, then FULLSIZE_BLESS=1 cargo test --test computed pictures"
    );
}

#[test]
fn all_patterns_of_the_bench() {
    let (project, patterns) = bench();
    let plain = |pattern| Pictured { pattern, dimensions: Vec::new(), guides: Vec::new() };
    let drawn: Vec<Pictured> = patterns.into_iter().map(plain).collect();
    let document = picture(&drawn, &project.title, project.notation);
    same("hall_bench.svg", &document, &document.pages[0]);
}

/// The first sheet of views of a demo, as `show` draws it.
fn as_seen(name: &str, text: &[u8], paper: &str) {
    let mut project = fullsize::project::read(name, text, None, None).project.expect("a good file");
    project.shop.paper = fullsize::model::Paper::read(paper).expect("a paper");
    let piece = fullsize::piece::solve(project.base.as_ref(), project.top.as_ref(), &project.notation);
    let piece = piece.unwrap_or_else(|found| panic!("{name}: {found:#?}"));
    let setup = Setup { shop: &project.shop, notation: project.notation, title: &project.title };
    let model = Model::of(&piece);
    let subject = Subject { piece: &piece, model: &model };
    let document = draw_piece(subject, &setup, &Options { only: Content::VIEWS.to_vec(), ..Options::default() })
        .expect("sheets without a limit");
    same(name, &document, &document.pages[0]);
}

#[test]
fn the_table_as_seen() {
    as_seen("reading_table.svg", include_bytes!("../templates-demo/reading_table.json"), "a3");
}

#[test]
fn the_stool_as_seen() {
    as_seen("saddle_stool.svg", include_bytes!("../templates-demo/saddle_stool.json"), "tabloid");
}

#[test]
fn the_planter_as_seen() {
    as_seen("planter.svg", include_bytes!("../templates-demo/planter.json"), "a3");
}

#[test]
fn a_sheet_of_the_leg() {
    let (project, patterns) = bench();
    let setup = Setup { shop: &project.shop, notation: project.notation, title: &project.title };
    let (document, manifest) = tile(&patterns, &setup);
    let leg = manifest.patterns[0].as_ref().expect("sheets");
    same("leg_sheet.svg", &document, &document.pages[leg.sheets[0].page]);
}
