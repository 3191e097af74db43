//! What stands on the sheets: numbers that agree with the solved piece, words that keep clear of each other.

use super::pieces::{curved, deg, leaning, solved, splayed, splayed_box, top};
use fullsize::geometry::{Plane, Point, Point3, Rect, Segment, Vec3};
use fullsize::layout::assembly::assembly;
use fullsize::layout::elevation::{Options, Overlay, Scale, draw};
use fullsize::layout::rod::{Direction, rod, ticks};
use fullsize::layout::{Setup, tile};
use fullsize::model::Shop;
use fullsize::model::base::{Base, BoxEdges, Corner};
use fullsize::page::{Document, Page, Role, Shape, Text};
use fullsize::piece::Piece;
use fullsize::project::read;
use fullsize::units::{Notation, Units};
use fullsize::view::{Model, Subject, View};

/// Inches, as a tape has them.
pub const INCH: Notation = Notation::of(Units::Inch);

pub fn shop(paper: &str) -> Shop {
    let text = format!(
        r#"{{"fullsize": 1, "title": "t", "units": "mm", "shop": {{"paper": "{paper}"}},
            "patterns": {{"disc": {{"thickness": 10, "make": 1, "outline": {{"circle": 100}}}}}}}}"#
    );
    read("shop.json", text.as_bytes(), None, None).project.expect("a project").shop
}

pub fn demos() -> Vec<(&'static str, Piece)> {
    let (base, curved_top) = curved();
    let made = |base: Base, top| solved(&base, top).expect("a piece");
    vec![
        ("leaning", made(Base::LeaningFrames(Box::new(leaning())), Some(&top(1700.0, 800.0)))),
        ("without top", made(Base::LeaningFrames(Box::new(leaning())), None)),
        ("curved", made(base, Some(&curved_top))),
        ("splayed", made(Base::SplayedLegs(Box::new(splayed())), Some(&top(700.0, 520.0)))),
        ("box", made(Base::SplayedBox(splayed_box(6, Corner::Mitred, BoxEdges::Level, 15.0)), None)),
        ("bench", made(Base::Boards(super::pieces::bench(0.1)), None)),
    ]
}

pub fn drawn(piece: &Piece, paper: &str, notation: Notation, options: &Options) -> Document {
    let shop = shop(paper);
    let model = Model::of(piece);
    let subject = Subject { piece, model: &model };
    draw(subject, &Setup { shop: &shop, notation, title: "A piece", readings_from: None }, options)
        .expect("sheets without a limit")
        .document
}

pub fn texts(page: &Page) -> impl Iterator<Item = (&Text, Role)> {
    page.items.iter().filter_map(|item| match &item.shape {
        Shape::Text(text) => Some((text, item.role)),
        _ => None,
    })
}

pub fn all_words(document: &Document) -> Vec<String> {
    document.pages.iter().flat_map(texts).map(|(text, _)| text.content.clone()).collect()
}

/// The worked example of the conventions: 721 floor to heads, footprint 1622.660 x 949.519, bottom rail at 140, stretcher
/// at 148 and 193; the rail's upper arris 140 + 70 cos 8°, the top rail's lower one 721 - 75 cos 8° up to what its set back adds.
#[test]
fn numbers_are_those_of_the_worked_example() {
    let (_, piece) = demos().swap_remove(0);
    let document = drawn(&piece, "A3", Notation::default(), &Options::default());
    let words = all_words(&document);
    for number in [
        "745", "721", "1420", "640", "1622.7", "949.5", "1700", "800", "140", "148", "193", "209.3", "95", "60", "80",
    ] {
        assert!(words.iter().any(|w| w == number), "{number} is not among {words:?}");
    }
    for said in [
        "lean 8°",
        "splay in the frame 12°",
        "(14.1 to 100)",
        "(21.3 to 100)",
        "bottom rail 30 x 70",
        "apron 25 x 85",
        "stretcher 25 x 45",
        "top rail 30 x 75",
        "leg 40 thick",
        "top 24 thick",
        "R 40",
        "rise 30",
        "rise 12",
    ] {
        assert!(words.iter().any(|w| w.starts_with(said)), "{said} is not among {words:?}");
    }
    // Heights over the floor and both spans over the heads are said once.
    for number in ["1420", "640", "148"] {
        assert_eq!(words.iter().filter(|w| *w == number).count(), 1, "{number}");
    }
}

#[test]
fn numbers_are_written_in_the_makers_units() {
    let (_, piece) = demos().swap_remove(0);
    let words = all_words(&drawn(&piece, "A1", INCH, &Options::default()));
    // 1622.660 mm is 63.8842 in: 28.29 thirty-seconds; 949.519 mm is 37.3826 in: 12.24; 745 mm is 29.3307 in: 10.58.
    for number in ["63 7/8\" full", "37 3/8\"", "29 11/32\" bare"] {
        assert!(words.iter().any(|w| w == number), "{number} is not among {words:?}");
    }
    assert!(words.iter().any(|w| w.contains("dimensions in inches")));
}

#[test]
fn splay_rises_and_slopes_are_those_that_were_given() {
    let pieces = demos();
    let words = |k: usize| all_words(&drawn(&pieces[k].1, "A1", Notation::default(), &Options::default()));
    let curved = words(2);
    for said in ["rise 18", "hollow 12", "hollow 14", "rise 30"] {
        assert!(curved.iter().any(|w| w == said), "{said} is not among {curved:?}");
    }
    let splayed = words(3);
    for said in ["splay 8°", "splay 6°", "apron 20 x 90", "120"] {
        assert!(splayed.iter().any(|w| w.starts_with(said)), "{said} is not among {splayed:?}");
    }
    assert!(words(4).iter().any(|w| w.starts_with("slope 15°")));
    // Its slat, 60 deep between edges that have no names.
    assert!(words(5).iter().any(|w| w.starts_with("brace ") && w.ends_with(" x 60")), "{:?}", words(5));
}

#[test]
fn the_rod_holds_every_height_where_it_is() {
    let (_, piece) = demos().swap_remove(0);
    let heights = ticks(&piece, Direction::Heights);
    let at = |name: &str| {
        let tick = heights.iter().find(|t| t.names.iter().any(|n| n == name));
        tick.unwrap_or_else(|| panic!("no {name} among {heights:?}")).at
    };
    for (name, mm) in [
        ("floor", 0.0),
        ("bottom rail lower edge", 140.0),
        ("stretcher lower edge", 148.0),
        ("stretcher upper edge", 193.0),
        ("leg head, outside edge", 721.0),
        ("top upper side", 745.0),
        ("top lower side", 721.0),
    ] {
        assert!((at(name) - mm).abs() < 1e-6, "{name}: {}", at(name));
    }
    let widths = ticks(&piece, Direction::Widths);
    let far = widths.last().expect("a tick");
    assert!((far.at - 949.519 / 2.0).abs() < 5e-4 && far.names[0].starts_with("leg foot"), "{far:?}");
    let strips = rod(&piece, &Notation::default(), "ABCDE");
    assert_eq!(strips.len(), 3);
    let shop = shop("A4");
    let setup = Setup { shop: &shop, notation: Notation::default(), title: "Rod", readings_from: None };
    assert!(tile(&strips, &setup).1.patterns.iter().all(Option::is_some), "it can be printed on small sheets");
}

#[test]
fn checks_read_what_a_tape_between_the_corners_reads() {
    let (_, piece) = demos().swap_remove(0);
    let work = assembly(&piece);
    let reads = |a: &str, b: &str| {
        work.checks
            .iter()
            .find(|c| c.between == (a.into(), b.into()))
            .unwrap_or_else(|| panic!("{a}-{b}: {work:?}"))
            .reads
    };
    // Feet 1622.660 x 949.519, heads 1420 x 640 in the plane z = 721; by hand.
    let along = |a: f64, b: f64, c: f64| (a * a + b * b + c * c).sqrt();
    assert!((reads("A", "C") - along(1622.660, 949.519, 0.0)).abs() < 1e-3);
    assert!((reads("A", "B") - 1622.660).abs() < 1e-3);
    let frame = along((1622.660 - 1420.0) / 2.0, (949.519 + 640.0) / 2.0, 721.0);
    assert!((reads("B", "C'") - frame).abs() < 1e-3 && (reads("C", "B'") - frame).abs() < 1e-3);
    assert_eq!(work.spacers.len(), 2);
    assert!(work.order.len() == 4 && work.order[1].contains("bottom rail") && work.order[3].contains("top"));
}

#[test]
fn a_section_shows_the_wood_that_it_cuts() {
    let (_, piece) = demos().swap_remove(1);
    let plane = Plane::through(Point3::new(100.0, 0.0, 0.0), Vec3::X).expect("a plane");
    let view = View::of_section(&plane).expect("a view");
    let cut = Model::of(&piece).behind(&plane);
    let hatching = cut.hatching(&view, 3.0);
    // Stretcher 25 x 45 upright at 148, its middle on the centre line.
    let stretcher = piece.boards.iter().position(|b| b.id.as_str() == "stretcher").expect("a stretcher");
    let own: Vec<&Segment> = hatching.iter().filter(|s| s.board == stretcher).map(|s| &s.line).collect();
    let reach = own.iter().map(|l| l.bounding_box()).reduce(|a, b| a.union(b)).expect("it is cut");
    let wood = Rect::new(-12.5, 148.0, 12.5, 193.0);
    assert!(wood.inflate(1e-6, 1e-6).contains_rect(reach) && reach.area() > 0.8 * wood.area(), "{reach:?}");
    // Hatching covers its wood: its length times its spacing is the area, to the lines at the rim.
    let covered: f64 = own.iter().map(|l| l.length() * 3.0).sum();
    assert!((covered - wood.area()).abs() < 0.1 * wood.area(), "{covered}");
    let rim = [(-12.5, 148.0), (12.5, 148.0), (12.5, 193.0), (-12.5, 193.0)].map(Point::from);
    let seen = cut.seen(&view);
    for (k, corner) in rim.iter().enumerate() {
        let middle = corner.midpoint(rim[(k + 1) % 4]);
        let on = |p: Point| seen.visible.iter().any(|s| s.line.nearest(p).0 < 1e-6);
        assert!(on(middle), "{middle:?}");
    }
}

#[test]
fn dates_frames_and_overlays_come_only_when_asked_for() {
    let (_, piece) = demos().swap_remove(0);
    let plain = all_words(&drawn(&piece, "A3", Notation::default(), &Options::default()));
    assert!(!plain.iter().any(|w| w.contains("2026") || w == "drawn by" || w.contains("ADA")));
    let mut steeper = leaning();
    steeper.lean = deg(11.0).into();
    let variant = solved(&Base::LeaningFrames(Box::new(steeper)), Some(&top(1700.0, 800.0))).expect("a variant");
    let other = Model::of(&variant);
    let options = Options {
        date: Some("2026-11-25".into()),
        framed: true,
        overlays: vec![Overlay::Variant { model: &other, name: "steeper" }, Overlay::Seated, Overlay::Places],
        ..Options::default()
    };
    let asked = all_words(&drawn(&piece, "A2", Notation::default(), &options));
    for word in ["2026-11-25", "drawn by", "variant steeper", "knees and toes, ADA 306"] {
        assert!(asked.iter().any(|w| w == word), "{word}: {asked:?}");
    }
}

#[test]
fn a_scale_too_large_for_the_sheet_is_tiled() {
    let (_, piece) = demos().swap_remove(0);
    let options = Options { scale: Scale::Reduced(1), ..Options::default() };
    let document = drawn(&piece, "A3", Notation::default(), &options);
    assert!(document.pages.len() > 20, "{}", document.pages.len());
    assert!(document.pages[0].name.contains("first"));
}
