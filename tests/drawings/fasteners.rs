//! What holds a top in a drawing: slots, holes and mortises of buttons where the solved boards have them, read back from the SVG, and
//! told with their sizes and places.

use super::sheets::shop;
use fullsize::geometry::{Affine, Point, Point3, Rect};
use fullsize::job::Job;
use fullsize::layout::Setup;
use fullsize::layout::elevation::{Content, Options, Scale, draw};
use fullsize::page::{Document, Page, Role, Shape};
use fullsize::piece::{Piece, SolvedBoard};
use fullsize::project::read;
use fullsize::solid::{Does, End, Prism, Shape as Solid, Why};
use fullsize::units::Notation;
use fullsize::view::{Model, Subject, View};
use fullsize::write::{SvgStyle, svg};
use kurbo::{BezPath, ParamCurveNearest};
use serde_json::json;
use usvg::tiny_skia_path::PathSegment;

/// A point of a sheet as another reader finds it, mm: single precision over two metres.
pub const READ: f64 = 0.02;

/// A table on leaning frames, one of them twisted, its top held in one way.
fn table(by: &str, twist: f64) -> Job {
    let file = json!({ "fullsize": 1, "title": "Table", "units": "mm",
        "base": { "kind": "leaning_frames", "height": 700, "length_at_top": 1200, "width_at_top": 640, "lean": 6,
            "leg": { "splay": 8, "thickness": 40, "head": 90, "foot": 60 },
            "top_rail": { "thickness": 26, "depth": 70 },
            "apron": { "thickness": 20, "depth": 70, "inset": 8, "drop": 0 },
            "frames": { "left": { "lean": 6, "twist": twist }, "right": { "lean": 9, "twist": 0 } } },
        "top": { "length": 1500, "width": 860, "thickness": 24, "species": "white oak",
            "moisture": { "today": 8, "driest": 6, "dampest": 11 }, "fasteners": { "by": by } } });
    let reading = read("table.json", file.to_string().as_bytes(), None, None);
    let job = Job::new(reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings)));
    assert!(job.needed_piece().is_ok(), "{:#?}", job.piece_findings());
    job
}

/// The same solved.
fn solved(by: &str, twist: f64) -> Piece {
    table(by, twist).needed_piece().expect("a piece").clone()
}

/// One view at full size on one page.
pub fn alone(piece: &Piece, content: Content) -> Document {
    let options = Options { scale: Scale::Reduced(1), only: vec![content], untiled: true, ..Options::default() };
    let shop = shop("A4");
    let model = Model::of(piece);
    let subject = Subject { piece, model: &model };
    draw(
        subject,
        &Setup { shop: &shop, notation: Notation::default(), title: "Table", readings_from: None },
        &options,
    )
    .expect("a sheet")
    .document
}

/// Every line of a page as another reader sees it, mm from the lower left corner.
pub fn lines(document: &Document, page: &Page) -> Vec<BezPath> {
    let written = svg(document, page, SvgStyle::Picture).expect("an SVG");
    let tree = usvg::Tree::from_str(&written, &usvg::Options::default()).expect("readable");
    let mut found = Vec::new();
    collect(tree.root(), &mut found);
    // usvg works in pixels, 96 an inch.
    let map = Affine::new([25.4 / 96.0, 0.0, 0.0, -25.4 / 96.0, 0.0, page.height]);
    found.into_iter().map(|path| map * path).collect()
}

fn collect(group: &usvg::Group, found: &mut Vec<BezPath>) {
    for node in group.children() {
        match node {
            usvg::Node::Group(group) => collect(group, found),
            usvg::Node::Path(path) => {
                let data = path.data().clone().transform(path.abs_transform()).expect("a map");
                let mut own = BezPath::new();
                let at = |p: usvg::tiny_skia_path::Point| (f64::from(p.x), f64::from(p.y));
                data.segments().for_each(|segment| match segment {
                    PathSegment::MoveTo(p) => own.move_to(at(p)),
                    PathSegment::LineTo(p) => own.line_to(at(p)),
                    PathSegment::QuadTo(a, p) => own.quad_to(at(a), at(p)),
                    PathSegment::CubicTo(a, b, p) => own.curve_to(at(a), at(b), at(p)),
                    PathSegment::Close => own.close_path(),
                });
                found.push(own);
            }
            _ => {}
        }
    }
}

/// Takes the view from below to its page: the top is what reaches farthest.
fn onto(page: &Page, piece: &Piece) -> Affine {
    let outlines = page.items.iter().filter(|item| item.role == Role::Outline);
    let boxes = outlines.filter_map(|item| match &item.shape {
        Shape::Stroke { path, .. } => path.bounding_box(),
        _ => None,
    });
    let drawn = boxes.reduce(|a, b| a.union(b)).expect("lines");
    let top = piece.top().expect("a top");
    let place = top.copies[0].placement;
    let seen = top.solid.far.path().nodes().into_iter();
    let seen: Vec<Point> =
        seen.map(|p| View::BELOW.project(place.to_world(Point3::new(p.x, p.y, -top.board.thickness)))).collect();
    let wood = seen.iter().fold(Rect::from_points(seen[0], seen[0]), |around, p| around.union_pt(*p));
    assert!((drawn.width() - wood.width()).abs() < 1e-6 && (drawn.height() - wood.height()).abs() < 1e-6);
    Affine::translate(drawn.center() - wood.center())
}

/// The rims of what is cut for fasteners in a copy, with the place today, in the world.
fn cut(board: &SolvedBoard, copy: usize) -> Vec<(Why, Point3, Vec<Point3>)> {
    let at = board.copies[copy].placement;
    let own = board.cutouts.iter().map(|cutout| &cutout.feature).filter(|feature| feature.is_in(copy));
    let hole = |(why, prism): (Why, &Prism)| {
        let lift = |p: Point| at.to_world(prism.frame.to_world(Point3::new(p.x, p.y, 0.0)));
        let rim = prism.outline.segments().iter().flat_map(|s| [s.start(), s.eval(0.5)]).map(lift).collect();
        (why, lift(Point::ORIGIN), rim)
    };
    own.map(|feature| match &feature.does {
        Does::Take(Solid::Prism(prism)) => hole((feature.id.why, prism)),
        other => panic!("{other:?}"),
    })
    .collect()
}

/// How far off the nearest line a point lies, mm.
pub fn off(lines: &[BezPath], p: Point) -> f64 {
    let of = |line: &BezPath| line.segments().map(|s| s.nearest(p, 1e-4).distance_sq).fold(f64::MAX, f64::min);
    lines.iter().map(of).fold(f64::MAX, f64::min).sqrt()
}

fn words(page: &Page) -> String {
    let said = page.items.iter().filter_map(|item| match &item.shape {
        Shape::Text(text) => Some(text.content.as_str()),
        _ => None,
    });
    said.collect::<Vec<_>>().join(" ")
}

/// Whether the list under the view tells a place by both its numbers, to a tenth of a millimetre, of what holds the top on a part.
fn is_told(said: &str, label: &str, place: [f64; 2]) -> bool {
    let head = format!("{label}, for the top:");
    let number = |word: &str| word.parse::<f64>().ok();
    let own = said.split(&head).skip(1).filter_map(|rest| rest.split(" middle ").nth(1)?.split_once(" from the "));
    let mut told = own.map(|(stations, rest)| {
        let numbers = |words: &str, many: usize| -> Vec<f64> {
            words.split(|c: char| !(c.is_ascii_digit() || c == '.')).filter_map(number).take(many).collect()
        };
        (numbers(stations, usize::MAX), numbers(rest.split_once(", ").map_or("", |(_, off)| off), 1))
    });
    let near = |told: &f64, wanted: f64| (told - wanted).abs() < 0.051;
    told.any(|(along, off)| along.iter().any(|one| near(one, place[0])) && off.iter().any(|one| near(one, place[1])))
}

#[test]
fn what_holds_a_top_is_drawn_from_below_and_told_with_its_place() {
    for (by, sizes) in [("slots", "slot 5 x "), ("screws", "hole 5, "), ("buttons", " deep, on the inside, middle ")]
    {
        let mut found = 0;
        for twist in [0.0, 3.0] {
            let job = table(by, twist);
            let piece = job.needed_piece().expect("a piece").clone();
            let document = alone(&piece, Content::Below);
            let page = &document.pages[0];
            let (lines, onto, said) = (lines(&document, page), onto(page, &piece), words(page));
            assert!(said.contains(sizes), "{by}: {said}");
            let copies = piece.boards.iter().flat_map(|b| (0..b.copies.len()).map(move |copy| (b, copy)));
            for (board, copy) in copies {
                for (why, today, rim) in cut(board, copy) {
                    found += 1;
                    // A button's mortise begins behind the inside face.
                    // The head's wide part may run into an arris: lines nearer than half a millimetre are printed as one.
                    let within = if why == Why::Counterbore { 0.5 + READ } else { READ };
                    let drawn = |p: &Point3| off(&lines, onto * View::BELOW.project(*p)) < within;
                    assert!(why == Why::Button || rim.iter().all(drawn), "{by} {}: {why:?} {today:?}", board.id);
                }
            }
            // The list tells what the schedule does, which a maker with rule and square finds on the wood (`bench_models`).
            let told = fullsize::schedule::json(&job.schedule().expect("a schedule"));
            for row in told["fixings"]["fasteners"].as_array().expect("fasteners") {
                let board = piece.boards.iter().find(|board| row["board"] == board.id.as_str()).expect("a board");
                for hole in row["holes"].as_array().expect("holes") {
                    let middle = |name: &str| hole["middle"][name].as_f64().expect("a length");
                    let is_told = is_told(&said, &board.label, [middle("station"), middle("offset")]);
                    assert!(is_told, "{by} {}: {hole:#} is not told: {said}", board.id);
                }
            }
        }
        assert!(found > 8, "{by}: {found}");
    }
}

/// The mortises of buttons, seen from below, have their sides where the solved boards have them.
#[test]
fn mortises_of_buttons_are_drawn_as_deep_as_they_are() {
    let piece = solved("buttons", 0.0);
    let document = alone(&piece, Content::Below);
    let page = &document.pages[0];
    let (lines, onto) = (lines(&document, page), onto(page, &piece));
    let mut told = 0;
    for board in &piece.boards {
        for feature in
            board.cutouts.iter().map(|cutout| &cutout.feature).filter(|feature| feature.id.why == Why::Button)
        {
            let Does::Take(Solid::Prism(prism)) = &feature.does else { panic!("{feature:?}") };
            let End::To(depth) = prism.ends[1] else { panic!("{prism:?}") };
            let bounds = prism.outline.bounding_box().expect("an outline");
            for copy in feature.copies.clone().expect("copies") {
                for x in [bounds.x0, bounds.x1] {
                    let bottom = prism.frame.to_world(Point3::new(x, bounds.y0, depth));
                    let p = onto * View::BELOW.project(board.copies[copy].placement.to_world(bottom));
                    assert!(off(&lines, p) < READ, "{} {copy}: {} off {p:?}", board.id, off(&lines, p));
                    told += 1;
                }
            }
        }
    }
    assert!(told > 20, "{told}");
}
