//! What is drawn when less, or larger, is asked for than the usual sheets.

use super::pieces::{deg, leaning, random, solved, splayed, top};
use super::sheets::{all_words, drawn, texts};
use crate::common::draws::for_all;
use fullsize::geometry::{Point, Point3, Rect, Vec3};
use fullsize::layout::assembly::assembly;
use fullsize::layout::elevation::{Content, Options, Scale};
use fullsize::model::base::Base;
use fullsize::page::{Page, Role, Shape};
use fullsize::piece::Piece;
use fullsize::units::Notation;
use fullsize::view::Model;

fn table() -> Piece {
    solved(&Base::LeaningFrames(Box::new(leaning())), Some(&top(1700.0, 800.0))).expect("a table")
}

fn full_size(only: Vec<Content>, untiled: bool) -> Options<'static> {
    Options { scale: Scale::Reduced(1), only, untiled, ..Options::default() }
}

/// Around the wide lines of a page, those of wood.
fn wood(page: &Page) -> Rect {
    let outlines = page.items.iter().filter(|item| item.role == Role::Outline);
    let boxes = outlines.filter_map(|item| match &item.shape {
        Shape::Stroke { path, .. } => path.bounding_box(),
        _ => None,
    });
    boxes.reduce(|a, b| a.union(b)).expect("wood")
}

/// The worked example is 745 high and 1700 long with its top.
#[test]
fn an_elevation_for_a_plotter_stands_whole_on_one_page_at_true_size() {
    let options = full_size(vec![Content::Front], true);
    let document = drawn(&table(), "A4", Notation::default(), &options);
    assert_eq!(document.pages.len(), 1);
    let around = wood(&document.pages[0]);
    assert!((around.width() - 1700.0).abs() < 1e-6 && (around.height() - 745.0).abs() < 1e-6, "{around:?}");
    let svg = fullsize::write::svg(&document, &document.pages[0], fullsize::write::SvgStyle::Picture);
    let tree = usvg::Tree::from_str(&svg.expect("an SVG"), &usvg::Options::default()).expect("it can be read");
    // SVG's unit is a 96th of an inch.
    let wide = f64::from(tree.size().width()) * 25.4 / 96.0;
    assert!((wide - document.pages[0].width).abs() < 1e-3 && wide > 1700.0, "{wide}");
}

#[test]
fn everything_for_a_plotter_is_on_one_page_and_the_assembly_behind_it() {
    let document = drawn(&table(), "A3", Notation::default(), &full_size(Vec::new(), true));
    let names: Vec<&str> = texts(&document.pages[0]).map(|(text, _)| text.content.as_str()).collect();
    for name in ["front", "left side", "from above", "from below"] {
        assert_eq!(names.iter().filter(|n| **n == name).count(), 1, "{name} in {names:?}");
    }
    assert!(document.pages.len() == 2 && document.pages[1].name.starts_with("assembly"));
}

/// The feet of the worked example stand on 1622.660 x 949.519.
#[test]
fn the_feet_are_tiled_at_full_size_as_a_floor_pattern() {
    let document = drawn(&table(), "A3", Notation::default(), &full_size(vec![Content::Assembly], false));
    assert!(document.pages.len() > 10, "{}", document.pages.len());
    assert!(document.pages[0].name.contains("feet on the floor") || document.parts[0].name == "feet on the floor");
    let whole = drawn(&table(), "A3", Notation::default(), &full_size(vec![Content::Assembly], true));
    let around = wood(&whole.pages[0]);
    assert!((around.width() - 1622.660).abs() < 1e-3 && (around.height() - 949.519).abs() < 1e-3, "{around:?}");
    let words = all_words(&whole);
    for name in ["A", "B", "C", "D", "1622.7", "949.5"] {
        assert!(words.iter().any(|w| w == name), "{name}: {words:?}");
    }
    // On a sheet that holds them they are drawn at the scale asked for.
    let asked = Options { scale: Scale::Reduced(5), ..full_size(vec![Content::Assembly], false) };
    let small = drawn(&table(), "A3", Notation::default(), &asked);
    assert!((wood(&small.pages[0]).width() - 1622.660 / 5.0).abs() < 1e-3);
}

#[test]
fn a_sheet_says_which_views_it_shows_and_at_what_scale() {
    let stool = solved(&Base::SplayedLegs(Box::new(splayed())), None).expect("a stool");
    let document = drawn(&stool, "A5", Notation::default(), &Options::default());
    let said = |page: &Page| -> String {
        let captions = texts(page).filter(|(_, role)| *role == Role::Caption);
        captions.map(|(text, _)| text.content.clone()).collect()
    };
    // A list that so small a sheet does not hold beside its view has the next one.
    let is_list = |page: &String| page.contains(", its list ·");
    let pages: Vec<String> = document.pages.iter().map(said).filter(|page| !is_list(page)).collect();
    for (page, name) in pages.iter().zip(["front", "left side", "from above", "from below", "isometric", "assembly"])
    {
        assert!(page.contains(&format!("· {name} ·")), "{name}: {page}");
    }
    let scale = |words: &String| -> u32 {
        let after = words.split("scale 1:").nth(1).and_then(|w| w.split(' ').next());
        after.and_then(|n| n.parse().ok()).expect("a scale")
    };
    // No view is drawn larger than the front.
    assert!(pages[..4].iter().all(|page| scale(page) >= scale(&pages[0])), "{pages:?}");
}

#[test]
fn only_what_is_asked_for_is_drawn() {
    let options = Options { only: vec![Content::Above], creator: Some("A. Maker".into()), ..Options::default() };
    let document = drawn(&table(), "A3", Notation::default(), &options);
    assert_eq!(document.pages.len(), 1);
    let words = all_words(&document);
    assert!(words.iter().any(|w| w == "from above") && !words.iter().any(|w| w == "front"), "{words:?}");
    assert!(words.iter().any(|w| w.contains("drawn by A. Maker")), "{words:?}");
    let framed = Options { framed: true, ..options };
    assert!(all_words(&drawn(&table(), "A3", Notation::default(), &framed)).iter().any(|w| w == "A. Maker"));
}

/// The worked example reaches 1700 / 2 along, 949.519 / 2 across on the floor, and 745 up.
#[test]
fn a_piece_reaches_as_far_as_its_numbers_say() {
    let model = Model::of(&table());
    for (direction, low, high) in [(Vec3::X, -850.0, 850.0), (Vec3::Y, -474.7595, 474.7595), (Vec3::Z, 0.0, 745.0)] {
        let reach = model.reach_along(direction).expect("boards");
        assert!((reach.0 - low).abs() < 1e-3 && (reach.1 - high).abs() < 1e-3, "{reach:?}");
    }
}

/// Every check is a distance between two corners of wood.
#[test]
fn checks_and_spacers_are_those_of_the_solved_corners() {
    let mut seen = 0;
    for_all(60, |draws| {
        let Some(piece) = random(draws) else { return };
        seen += 1;
        let corners: Vec<_> = piece
            .boards
            .iter()
            .flat_map(|b| {
                let rings = [(0.0, &b.solid.face), (-b.board.thickness, &b.solid.far)];
                rings.into_iter().flat_map(move |(w, ring)| {
                    let own: Vec<Point> = ring.corners().into_iter().map(|(p, ..)| p).collect();
                    b.copies.iter().flat_map(move |c| {
                        let at = |p: &Point| c.placement.to_world(Point3::new(p.x, p.y, w));
                        own.iter().map(at).collect::<Vec<_>>()
                    })
                })
            })
            .collect();
        let work = assembly(&piece);
        for point in &work.points {
            let nearest = corners.iter().map(|c| c.distance(point.at)).fold(f64::MAX, f64::min);
            assert!(nearest < 1e-6, "{point:?} is no corner");
        }
        let at = |name: &str| work.points.iter().find(|p| p.name == name).expect("a named point").at;
        for check in &work.checks {
            let (a, b) = (at(&check.between.0), at(&check.between.1));
            let apart = ((a.x - b.x).powi(2) + (a.y - b.y).powi(2) + (a.z - b.z).powi(2)).sqrt();
            assert!((apart - check.reads).abs() < 1e-9, "{check:?}");
        }
    });
    assert!(seen > 40);
    let mut turned = leaning();
    turned.lean = deg(5.0).into();
    let piece = solved(&Base::LeaningFrames(Box::new(turned)), None).expect("a table");
    // The feet's inside faces: 1420 / 2 + 745 tan 5° at the outside, less 40 / cos 5° of leg; by hand.
    let inside = 710.0 + 745.0 * 5_f64.to_radians().tan() - 40.0 / 5_f64.to_radians().cos();
    let along = assembly(&piece).spacers.into_iter().find(|s| s.between.contains("left")).expect("a spacer");
    assert!((along.length - 2.0 * inside).abs() < 1e-3, "{along:?} {inside}");
}

/// The jointed table's list is longer than an A4 sheet has room for under its side view at a readable scale.
#[test]
fn a_long_list_stands_beside_its_view_or_on_the_next_sheet_and_never_drives_it_to_tiles() {
    for (name, piece) in super::joints::jointed() {
        for paper in ["A4", "A5", "Letter"] {
            let document = drawn(&piece, paper, Notation::default(), &Options::default());
            assert!(document.pages.iter().all(|page| !page.name.contains("1-1")), "{name} on {paper} is tiled");
            // Every letter that a view shows is in its list or on the sheet behind it.
            for (k, page) in document
                .pages
                .iter()
                .enumerate()
                .filter(|(_, p)| p.name.starts_with("left side") && !p.name.contains("its list"))
            {
                let behind = document.pages.get(k + 1).filter(|next| next.name.contains("its list"));
                let words = || texts(page).chain(behind.into_iter().flat_map(texts)).map(|(text, _)| &text.content);
                let shown = words().filter(|w| *w == "a").count();
                assert!(shown == 0 || shown == 2, "{name} on {paper}: {shown} letters a");
            }
        }
    }
}

#[test]
fn what_has_no_room_in_a_view_is_headed_and_says_what_it_is() {
    // At 1:100 no number of the view has room.
    let options = Options { scale: Scale::Reduced(100), only: vec![Content::Front], ..Options::default() };
    let words = all_words(&drawn(&table(), "A4", Notation::default(), &options));
    let heading = words.iter().position(|w| w == "not marked in the view:").expect("a heading");
    let said = words[heading + 1..].join(" ");
    assert!(said.contains("over the floor") || said.contains("apron 25 x 85"), "{said}");
    let bare = |w: &&String| w.parse::<f64>().is_ok();
    assert_eq!(words[heading + 1..].iter().find(bare), None);
}

/// The table's top is 1700 x 800. Without a top the base is 745 high in place of 721: it stands on 1420 + 2 x 745 tan 8° = 1629.40 by
/// 640 + 309.519 x 745 / 721 = 959.82.
#[test]
fn the_view_from_above_says_how_long_and_wide_it_is() {
    let bare = solved(&Base::LeaningFrames(Box::new(leaning())), None).expect("a base");
    for (piece, numbers) in [(table(), ["1700", "800"]), (bare, ["1629.4", "959.8"])] {
        let options = Options { only: vec![Content::Above], ..Options::default() };
        let words = all_words(&drawn(&piece, "A3", Notation::default(), &options));
        for number in numbers {
            assert_eq!(words.iter().filter(|w| *w == number).count(), 1, "{number}: {words:?}");
        }
    }
}

/// The starter's brace runs up to its post at 45 degrees, 699 mm along and up: its upper side meets the floor at -765 + 70 - 70 * sqrt 2 = -794, the post stands at -95.
#[test]
fn a_brace_says_its_reach_and_its_angle() {
    let text = fullsize::project::read("brace.json", BRACE.as_bytes(), None, None).project.expect("a project");
    let piece = solved(text.base.as_ref().expect("boards"), None).expect("a piece");
    let options = Options { only: vec![Content::Front], ..Options::default() };
    let words = all_words(&drawn(&piece, "A3", Notation::default(), &options));
    assert!(words.iter().any(|w| w == "brace from plumb 45°"), "{words:?}");
    assert_eq!(words.iter().filter(|w| *w == "699").count(), 2, "up and across: {words:?}");
}

const BRACE: &str = r#"{ "fullsize": 1, "title": "Brace", "units": "mm", "base": { "kind": "boards", "boards": {
    "post": { "thickness": 45, "outline": [{ "to": [0, 0] }, { "to": [1200, 0] }, { "to": [1200, 95] },
        { "to": [0, 95], "name": "left side" }], "at": [0, 0, 0], "along": [0, 0, 1], "face": [0, -1, 0] },
    "brace": { "thickness": 45, "outline": [{ "to": [0, 0] }, { "to": [1180, 0] }, { "to": [1180, 70] }, { "to": [0, 70] }],
        "at": [-765, 0, -70], "along": [1, 0, 1], "face": [0, -1, 0],
        "cuts": [{ "level": 0 }, { "plane": { "through": [-95, 0, 0], "normal": [1, 0, 0] } }] } } } }"#;

/// An apron that leans has its two lower arrises at two heights: the front view tells both, with whose they are, and the lower is the knee
/// room that the schedule tells.
#[test]
fn the_height_of_a_leaning_edge_says_which_arris_it_is_of() {
    let table = table();
    let document =
        drawn(&table, "A4", Notation::default(), &Options { only: vec![Content::Front], ..Options::default() });
    let said: String = document.pages.iter().flat_map(texts).map(|(text, _)| format!("{} ", text.content)).collect();
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    let told = said.split("apron, lower edge over the floor: ").nth(1).unwrap_or_else(|| panic!("{said}"));
    let number = |words: &str| words.trim().parse::<f64>().unwrap_or_else(|_| panic!("{words} in {told}"));
    let (outside, rest) = told.split_once(" outside, ").expect("the face side");
    let (inside, _) = rest.split_once(" inside").expect("the far side");
    // Of the solved apron, over the floor.
    let apron = table.boards.iter().find(|board| board.label == "apron").expect("an apron");
    let lowest = |rim: &fullsize::geometry::Path, deep: f64| {
        let at = apron.copies[0].placement;
        let corners = rim.nodes().into_iter().map(|p| at.to_world(fullsize::geometry::Point3::new(p.x, p.y, deep)).z);
        corners.fold(f64::MAX, f64::min)
    };
    let wanted = [lowest(apron.solid.face.path(), 0.0), lowest(apron.solid.far.path(), -apron.board.thickness)];
    for (told, wanted) in [number(outside), number(inside)].into_iter().zip(wanted) {
        assert!((told - wanted).abs() < 0.051, "{told}, not {wanted}");
    }
    assert!((wanted[0] - wanted[1]).abs() > 0.5, "{wanted:?}");
}
