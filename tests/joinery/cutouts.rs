//! What a joint cuts into its boards without a tenon: put in by hand here, as a joint of that kind would, and read back from
//! solids, patterns, schedule and codes.

use crate::drawings::sheets::{all_words, drawn};
use fullsize::board::{Fitting, Mortise, Source};
use fullsize::check::check;
use fullsize::finding::Finding;
use fullsize::geometry::{Path, Placement, Point, Point3, Rect, Vec3};
use fullsize::job::Job;
use fullsize::layout::elevation::Options;
use fullsize::page::{Item, Role, Shape};
use fullsize::pattern::{draw_board, revision};
use fullsize::piece::{CutFor, Cutout, Piece, SolvedBoard};
use fullsize::project::read;
use fullsize::schedule::{Schedule, json as schedule_json, tables, text};
use fullsize::solid::{Does, End, Feature, FeatureId, Prism, Shape as Solid, Why};
use fullsize::units::Notation;
use fullsize::view::{Model, View};
use serde_json::json;

/// Two boards of 60 x 20 that cross in one plane: `long` from x = 0 to 400, `cross` from y = -120 to 180 at x = 170 to 230.
fn crossing() -> Job {
    let outline =
        |length: f64| json!([{ "to": [0, 0] }, { "to": [length, 0] }, { "to": [length, 60] }, { "to": [0, 60] }]);
    let board = |length: f64, at: [f64; 3], along: [f64; 3]| json!({ "thickness": 20, "outline": outline(length), "at": at, "along": along, "face": [0, 0, 1] });
    let file = json!({
        "fullsize": 1, "title": "Crossing", "units": "mm",
        "base": { "kind": "boards", "boards": {
            "long": board(400.0, [0.0, 0.0, 20.0], [1.0, 0.0, 0.0]),
            "cross": board(300.0, [230.0, -120.0, 20.0], [0.0, 1.0, 0.0])
        } }
    });
    let reading = read("crossing.json", file.to_string().as_bytes(), None, None);
    Job::new(reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings)))
}

/// What is taken of a board from u = `from` over 60 mm, from a level of w to beyond the wood.
fn halving(from: f64, ends: [End; 2], on: Source) -> Cutout {
    let frame = Placement::of_axes(Point3::ORIGIN, [Vec3::X, Vec3::Y, Vec3::Z]);
    let outline = Path::rectangle(Rect::new(from, -10.0, from + 60.0, 70.0));
    let id = FeatureId { why: Why::Halving, of: 0, number: 1 };
    let feature = Feature::of_all(id, Does::Take(Solid::Prism(Prism { outline, frame, ends })));
    let made_for = CutFor::Joint { name: "lap".into(), pointer: "/joints/lap".into(), on };
    Cutout { made_for, feature }
}

/// The piece with its boards halved into each other, the upper one from its far side, to a depth from the face side.
fn halved(job: &Job, depth: f64) -> Piece {
    let mut piece = job.needed_piece().expect("a piece").clone();
    let cut = [
        halving(170.0, [End::To(-depth), End::Open], Source::Face),
        halving(120.0, [End::Open, End::To(-depth)], Source::Far),
    ];
    for (board, cutout) in piece.boards.iter_mut().zip(cut) {
        board.cutouts.push(cutout);
    }
    piece
}

fn is_close(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-6 * b.abs().max(1.0)
}

#[test]
fn both_solids_lose_their_half() {
    let piece = halved(&crossing(), 8.0);
    let volumes: Vec<f64> = piece.boards.iter().map(|board| board.bulk().0).collect();
    assert!(is_close(volumes[0], 400.0 * 60.0 * 20.0 - 60.0 * 60.0 * 8.0), "{volumes:?}");
    assert!(is_close(volumes[1], 300.0 * 60.0 * 20.0 - 60.0 * 60.0 * 12.0), "{volumes:?}");
    // The closed meshes are another's work.
    for (part, volume) in piece.scene("model").parts.iter().zip(volumes) {
        assert!(!part.as_sawn && is_close(part.mesh.volume(), volume), "{}", part.name);
    }
}

/// The rectangles that are marked on the pattern of a board, each with whether it is dashed.
fn marked(board: &SolvedBoard, job: &Job) -> Vec<(Rect, bool)> {
    let stock = &job.stocks().expect("stocks").boards[0];
    let pattern = draw_board(board, None, stock, "CODE", "Crossing", &Notation::default());
    let mark = |item: &Item| match &item.shape {
        Shape::Stroke { path, pen } if item.role == Role::Mark && path.is_closed() => {
            Some((path.bounding_box()?, !pen.dash.is_empty()))
        }
        _ => None,
    };
    pattern.items.iter().filter_map(mark).collect()
}

#[test]
fn their_mouths_are_marked_on_both_patterns() {
    let job = crossing();
    let piece = halved(&job, 8.0);
    let is = |known: &(Rect, bool), rect: Rect, dashed: bool| {
        let apart = [known.0.x0 - rect.x0, known.0.y0 - rect.y0, known.0.x1 - rect.x1, known.0.y1 - rect.y1];
        known.1 == dashed && apart.iter().all(|mm| mm.abs() < 1e-6)
    };
    let wanted = [(Rect::new(170.0, 0.0, 230.0, 60.0), false), (Rect::new(120.0, 0.0, 180.0, 60.0), true)];
    for (board, (rect, dashed)) in piece.boards.iter().zip(wanted) {
        let all = marked(board, &job);
        assert!(all.iter().any(|known| is(known, rect, dashed)), "{}: {all:?}", board.label);
    }
}

#[test]
fn the_schedule_tells_them() {
    let job = crossing();
    let piece = halved(&job, 8.0);
    let schedule = Schedule { piece: &piece, ..job.schedule().expect("a schedule") };
    let words = text(&schedule);
    let [face, far] = [0, 1].map(|i: usize| piece.boards[i].board.sides[i]);
    // Told from the arris that comes first, from the end that is as near as the other or nearer.
    let [long, cross] = [0, 1].map(|i: usize| &piece.boards[i]);
    let (ends, edges) =
        ([edge(long, 0.0, 30.0), edge(cross, 0.0, 30.0)], [edge(long, 200.0, 60.0), edge(cross, 150.0, 60.0)]);
    for line in [
        format!(
            "joint lap 1 on the {face}: halving 60 mm x 60 mm, 8 mm deep\n    from 170 mm to 230 mm from the {} along the {} and from 0 mm to 60 mm off it\n    thinnest wall 12 mm to the {}",
            ends[0], edges[0], long.board.sides[1]
        ),
        format!(
            "joint lap 1 on the {far}: halving 60 mm x 60 mm, 12 mm deep\n    from 120 mm to 180 mm from the {} along the {} and from 0 mm to 60 mm off it\n    thinnest wall 8 mm to the {}",
            ends[1], edges[1], cross.board.sides[0]
        ),
    ] {
        assert!(words.contains(&line), "{line}\n{words}");
    }
    let joints = schedule_json(&schedule)["joints"].as_array().expect("a list").clone();
    let wanted = [([60.0, 60.0, 8.0], [170.0, 230.0]), ([60.0, 60.0, 12.0], [120.0, 180.0])];
    assert_eq!(joints.len(), wanted.len());
    for (told, (size, along)) in joints.iter().zip(wanted) {
        assert_eq!(told["kind"], "halving");
        for (told, mm) in [(&told["size"], &size[..]), (&told["along"], &along[..])] {
            let numbers: Vec<f64> = told.as_array().expect("a list").iter().filter_map(|n| n.as_f64()).collect();
            assert!(numbers.len() == mm.len() && numbers.iter().zip(mm).all(|(a, b)| is_close(*a, *b)), "{told}");
        }
    }
    let rows = tables(&schedule).into_iter().find(|table| table.title == "Joints").expect("a table").rows;
    assert_eq!(rows.len(), 2);
    assert_eq!(rows[0][4], "halving 60 mm x 60 mm, 8 mm deep");
}

/// From the front the board lies at z = 0 to 20, its halving from x = 170 to 230 and down to z = 12. It opens the front edge, so that
/// its bottom and its sides are seen; from above its bottom lies under what fills it.
#[test]
fn views_show_them() {
    let piece = halved(&crossing(), 8.0);
    let sight = Model::of(&piece).only(|board| board == 0).seen(&View::FRONT);
    let is_drawn = |from: (f64, f64), to: (f64, f64)| {
        let near = |a: Point, b: (f64, f64)| a.distance(b.into()) < 1e-6;
        sight.visible.iter().map(|stroke| stroke.line).any(|line| {
            let (a, b) = (line.start(), line.end());
            near(a, from) && near(b, to) || near(a, to) && near(b, from)
        })
    };
    for (from, to) in [((170.0, 12.0), (230.0, 12.0)), ((170.0, 12.0), (170.0, 20.0)), ((230.0, 12.0), (230.0, 20.0))]
    {
        assert!(is_drawn(from, to), "{from:?} to {to:?} among {:?}", sight.visible);
    }
    // It was cut from beside the wood, and nothing is drawn there.
    let within = |p: Point| (-1e-6..=400.0 + 1e-6).contains(&p.x) && (-1e-6..=20.0 + 1e-6).contains(&p.y);
    let all = sight.visible.iter().chain(&sight.hidden).chain(&sight.joints);
    assert!(all.map(|stroke| stroke.line).all(|line| within(line.start()) && within(line.end())));
}

/// The view from below lists it as it lists mortises, from the same lines.
#[test]
fn views_list_them() {
    let piece = halved(&crossing(), 8.0);
    let document = drawn(&piece, "A2", Notation::default(), &Options::default());
    let words = all_words(&document).join(" ");
    let board = &piece.boards[0];
    let (end, arris) = (edge(board, 0.0, 30.0), edge(board, 200.0, 60.0));
    for part in [
        "long, joint lap: halving 60 x 60, 8 deep,".to_owned(),
        format!("from 170 to 230 from the {end} along the {arris}, from 0 to 60 off it"),
        "cross, joint lap: halving 60 x 60, 12 deep,".to_owned(),
    ] {
        assert!(words.contains(&part), "{part} in {words}");
    }
}

/// The name of the edge whose middle lies at a place.
fn edge(board: &SolvedBoard, x: f64, y: f64) -> String {
    let middle = |source: &Source| match source {
        Source::Edge(index) => board.board.edges[*index].segments[0].eval(0.5),
        _ => unreachable!(),
    };
    let is_there = |source: &Source| middle(source).distance((x, y).into()) < 1e-6;
    let found = (0..board.board.edges.len()).map(Source::Edge).find(is_there).expect("an edge");
    board.board.name_of(found).into_owned()
}

/// What is told of a piece whose boards have these cutouts and mortises.
fn told(job: &Job, change: impl Fn(&mut SolvedBoard)) -> Vec<Finding> {
    let mut piece = job.needed_piece().expect("a piece").clone();
    change(&mut piece.boards[0]);
    check(&mut piece, job.project()).findings
}

/// 6 mm are wanted in a board of 20, as around a mortise. What a halving opens is no wall of it: the edges on either side, the face.
#[test]
fn the_wood_that_they_leave_is_held_to_the_rules_of_walls() {
    let job = crossing();
    let thin = |from: f64, depth: f64| -> Vec<(String, f64)> {
        let found = told(&job, |board| board.cutouts.push(halving(from, [End::To(-depth), End::Open], Source::Face)));
        let walls = found.iter().filter(|told| told.code == "thin-wall");
        walls.map(|told| (told.said(&Notation::default()).message, told.measure("wall").expect("a wall"))).collect()
    };
    assert_eq!(thin(170.0, 8.0), []);
    assert_eq!(thin(334.0, 14.0), [], "6 mm beyond and below");
    // 4 mm of wood below it, then 4 mm before the end of the board.
    for (from, depth, to) in [(170.0, 16.0, None), (336.0, 8.0, Some((400.0, 30.0)))] {
        let [(words, wall)] = thin(from, depth).try_into().expect("one wall");
        assert!((wall - 4.0).abs() < 1e-6, "{words}");
        let board = &job.needed_piece().expect("a piece").boards[0];
        let surface = to.map_or(board.board.sides[1].to_owned(), |(x, y)| edge(board, x, y));
        assert!(words.starts_with("the halving of lap 1 in the long leaves a wall of 4 mm to the"), "{words}");
        assert!(words.contains(&surface), "{words}: no {surface}");
    }
}

/// A mortise 12 deep from the face, its cheek so far beyond the halving's side.
#[test]
fn a_mortise_beside_one_is_held_to_the_rules_of_walls_too() {
    let job = crossing();
    let told = |apart: f64| -> Vec<(&'static str, String)> {
        let centre = Point3::new(230.0 + apart + 4.0, 30.0, 0.0);
        let mortise = Mortise {
            joint: "rail".into(),
            pointer: "/joints/rail".into(),
            of: 1,
            loose: true,
            number: 1,
            fitting: Fitting::Blind,
            frame: Placement::facing(centre, Vec3::Y, -Vec3::Z).expect("directions"),
            tenon: [8.0, 30.0, 24.0],
            depth: 12.0,
            round: true,
            on: Some(Source::Face),
            exit: None,
            copies: vec![0],
        };
        let found = told(&job, |board| {
            board.cutouts.push(halving(170.0, [End::To(-8.0), End::Open], Source::Face));
            board.mortises.push(mortise.clone());
        });
        let own = found.iter().filter(|told| ["thin-wall-between", "mortises-cross"].contains(&told.code));
        own.map(|told| (told.code, told.said(&Notation::default()).message)).collect()
    };
    assert_eq!(told(6.0), []);
    let [(code, words)] = told(4.0).try_into().expect("one");
    assert_eq!(code, "thin-wall-between");
    assert!(
        words.starts_with("in the long the mortise of rail 1 and the halving of lap 1 leave a wall of 4 mm"),
        "{words}"
    );
    let [(code, words)] = told(-3.0).try_into().expect("one");
    assert_eq!(code, "mortises-cross");
    assert!(words.contains("run into each other by 3 mm"), "{words}");
}

/// A round recess of 20 mm, 5 deep, 4 mm before the board's curved end: half a disc of 60.
#[test]
fn walls_to_a_curved_edge_are_told_too() {
    let outline =
        json!([{ "to": [0, 0] }, { "to": [400, 0] }, { "to": [400, 60], "edge": { "rise": 30 } }, { "to": [0, 60] }]);
    let file = json!({ "fullsize": 1, "title": "Rounded", "units": "mm", "base": { "kind": "boards", "boards": {
        "long": { "thickness": 20, "outline": outline, "at": [0, 0, 20], "along": [1, 0, 0], "face": [0, 0, 1] } } } });
    let reading = read("rounded.json", file.to_string().as_bytes(), None, None);
    let job = Job::new(reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings)));
    let thin = |wall: f64| -> Vec<f64> {
        let frame = Placement::of_axes(Point3::ORIGIN, [Vec3::X, Vec3::Y, Vec3::Z]);
        let outline = Path::circle((420.0 - wall, 30.0).into(), 10.0);
        let ends = [End::To(-5.0), End::Open];
        let id = FeatureId { why: Why::Pocket, of: 0, number: 1 };
        let feature = Feature::of_all(id, Does::Take(Solid::Prism(Prism { outline, frame, ends })));
        let made_for = CutFor::Joint { name: "lap".into(), pointer: "/joints/lap".into(), on: Source::Face };
        let cutout = Cutout { made_for, feature };
        let found = told(&job, |board| board.cutouts.push(cutout.clone()));
        found.iter().filter(|told| told.code == "thin-wall").filter_map(|told| told.measure("wall")).collect()
    };
    assert!(thin(6.1).is_empty());
    let [wall] = thin(4.0).try_into().expect("one wall");
    assert!((wall - 4.0).abs() < 0.02, "{wall}");
}

#[test]
fn the_codes_of_both_boards_follow_them() {
    let job = crossing();
    let codes =
        |piece: &Piece| piece.boards.iter().map(|board| revision::board(board, None, None)).collect::<Vec<_>>();
    let (plain, one, other) =
        (codes(job.needed_piece().expect("a piece")), codes(&halved(&job, 8.0)), codes(&halved(&job, 9.0)));
    for i in 0..2 {
        assert!(plain[i] != one[i] && one[i] != other[i], "{plain:?} {one:?} {other:?}");
    }
}

/// That boards run into each other is told until nothing is left that both hold.
#[test]
fn halved_boards_no_longer_run_into_each_other() {
    let job = crossing();
    let clashes = |piece: &Piece| piece.findings.iter().filter(|told: &&Finding| told.code == "boards-clash").count();
    assert_eq!(clashes(job.needed_piece().expect("a piece")), 1);
    let mut piece = halved(&job, 8.0);
    piece.leave_out_parted_clashes();
    assert_eq!(clashes(&piece), 0);
    // Less is taken of the one than the other leaves.
    let mut shallow = halved(&job, 8.0);
    shallow.boards[1].cutouts[0] = halving(120.0, [End::Open, End::To(-14.0)], Source::Far);
    shallow.leave_out_parted_clashes();
    assert_eq!(clashes(&shallow), 1);
}
