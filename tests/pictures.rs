//! The pictures of README and guide are what the program draws today, and can be read where they are shown. FULLSIZE_BLESS=1 draws them anew;
//! then look at them.

use fullsize::job::Job;
use fullsize::layout::elevation::{Content, Options};
use fullsize::layout::{Pictured, Setup, picture, tile};
use fullsize::page::{Document, Shape};
use fullsize::pattern::Pattern;
use fullsize::write::{SvgStyle, svg};
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

/// What makes a document, and which of its pages is shown.
type Made = fn() -> (Document, usize);

/// Every picture of README and guide with its page.
const PICTURES: [(&str, Made); 5] = [
    ("hall_bench.svg", all_patterns_of_the_bench),
    ("leg_sheet.svg", a_sheet_of_the_leg),
    ("reading_table.svg", the_table_as_seen),
    ("saddle_stool.svg", the_stool_as_seen),
    ("planter.svg", the_planter_as_seen),
];

/// How wide a picture is shown at most where the README is read, pixels, and pixels to a millimetre of one that is narrower (a
/// browser's 96 to the inch).
const SHOWN: f64 = 830.0;
const PIXELS: f64 = 96.0 / 25.4;

/// Capitals lower than this, pixels, are guessed at.
const READABLE: f64 = 8.0;

#[test]
fn the_pictures_of_the_readme_are_drawn_today() {
    for (name, made) in PICTURES {
        let (document, page) = made();
        let drawn = svg(&document, &document.pages[page], SvgStyle::Picture).expect("a picture");
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
}

/// README and guide show these and no others.
#[test]
fn every_picture_of_the_readme_and_guide_is_made_here() {
    let text: String = crate::common::guide::pages().into_iter().map(|(_, page)| page).collect();
    let shown: Vec<&str> = text
        .split("templates-demo/")
        .skip(1)
        .filter_map(|rest| rest.split_once(".svg)"))
        .map(|(name, _)| name)
        .collect();
    let made = PICTURES.map(|(name, _)| name.trim_end_matches(".svg"));
    assert_eq!(BTreeSet::from_iter(shown.iter().copied()), BTreeSet::from(made));
    assert_eq!(text.matches("![").count(), shown.len(), "a picture from elsewhere");
    assert!(!text.contains("<img"), "a picture of a size of its own");
}

#[test]
fn words_of_the_pictures_can_be_read_in_the_readme() {
    for (name, made) in PICTURES {
        let (document, page) = made();
        let page = &document.pages[page];
        let pixels = PIXELS.min(SHOWN / page.width);
        let mut words = 0;
        for item in &page.items {
            let Shape::Text(text) = &item.shape else { continue };
            let high = text.height * pixels;
            assert!(high >= READABLE, "{name}: \"{}\" is {high:.1} pixels high", text.content);
            words += 1;
        }
        assert!(words > 3, "{name}");
    }
}

fn job(name: &str, text: &[u8]) -> Job {
    Job::new(fullsize::project::read(name, text, None, None).project.expect("a good file"))
}

fn bench() -> (Job, Vec<Pattern>) {
    let job = job("hall_bench.json", include_bytes!("../templates-demo/hall_bench.json"));
    let patterns = job.patterns_named(&[]).expect("patterns");
    (job, patterns)
}

/// As `show` draws it.
fn all_patterns_of_the_bench() -> (Document, usize) {
    let (job, patterns) = bench();
    let plain = |pattern| Pictured { pattern, dimensions: Vec::new(), guides: Vec::new(), was: Vec::new() };
    let drawn: Vec<Pictured> = patterns.into_iter().map(plain).collect();
    (picture(&drawn, job.heading(), job.project().notation.clone()), 0)
}

/// A demo as `draw` draws it on its own paper: the first page, whose words are larger beside the page than those of a sheet for all views.
fn as_seen(name: &str, text: &[u8]) -> (Document, usize) {
    let job = job(name, text);
    (job.drawing(&Options { only: Content::VIEWS.to_vec(), ..Options::default() }).expect("sheets").document, 0)
}

fn the_table_as_seen() -> (Document, usize) {
    as_seen("reading_table.json", include_bytes!("../templates-demo/reading_table.json"))
}

fn the_stool_as_seen() -> (Document, usize) {
    as_seen("saddle_stool.json", include_bytes!("../templates-demo/saddle_stool.json"))
}

fn the_planter_as_seen() -> (Document, usize) {
    as_seen("planter.json", include_bytes!("../templates-demo/planter.json"))
}

/// How much of a sheet is shown, mm from its left edge: narrow enough for its smallest words.
const LEFT_OF_SHEET: f64 = 178.0;

/// The left of a sheet of the leg as `print` lays it, without words that would be cut.
fn a_sheet_of_the_leg() -> (Document, usize) {
    let (job, patterns) = bench();
    let project = job.project();
    let setup =
        Setup { shop: &project.shop, notation: project.notation.clone(), title: &project.title, readings_from: None };
    let (document, manifest) = tile(&patterns, &setup);
    let page = manifest.patterns[0].as_ref().expect("sheets").sheets[0].page;
    let mut document = document;
    let sheet = &mut document.pages[page];
    sheet.width = LEFT_OF_SHEET;
    sheet.items.retain(|item| match &item.shape {
        Shape::Text(text) => text.bounding_box().x1 < LEFT_OF_SHEET,
        _ => true,
    });
    (document, page)
}
