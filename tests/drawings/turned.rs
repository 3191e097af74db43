//! Turned legs are measured where a maker can: at the middle of the foot, or at its rim.

use super::fasteners::{alone, lines, off};
use super::sheets::{all_words, drawn};
use fullsize::board::EdgeName;
use fullsize::geometry::{Point, Point3};
use fullsize::layout::assembly::{assembly, floor};
use fullsize::layout::elevation::{Content, Options};
use fullsize::layout::rod::{Direction, ticks};
use fullsize::model::Project;
use fullsize::page::{Role, Shape};
use fullsize::piece::{Piece, solve};
use fullsize::project::read;
use fullsize::units::Notation;
use fullsize::view::{Model, Subject, View};

/// A stool on legs turned to 38 and 24, whose centre lines stand 300 by 200 apart under a slab of 45, 415 over the floor.
fn stool() -> (Project, Piece) {
    let text = include_str!("../../fixtures/good/turned_stool.json");
    let project = read("stool.json", text.as_bytes(), None, None).project.expect("a good file");
    let piece = solve(project.base.as_ref(), project.top.as_ref(), &project.notation).expect("a stool");
    (project, piece)
}

/// How far along and across the centre of a foot lies from the middle, mm: the splays are 12 and 8 degrees.
fn foot() -> (f64, f64) {
    (150.0 + 415.0 * 12_f64.to_radians().tan(), 100.0 + 415.0 * 8_f64.to_radians().tan())
}

#[test]
fn turned_feet_are_checked_from_centre_to_centre() {
    let (_, piece) = stool();
    let (x, y) = foot();
    let work = assembly(&piece);
    assert!(work.turned && work.points.len() == 4, "{:?}", work.points);
    for point in &work.points {
        let away = (point.at.x.abs() - x).abs() + (point.at.y.abs() - y).abs() + point.at.z.abs();
        assert!(away < 1e-9, "{point:?}");
    }
    let mut reads: Vec<f64> = work.checks.iter().map(|check| check.reads).collect();
    reads.sort_by(f64::total_cmp);
    let wanted = [2.0 * y, 2.0 * y, 2.0 * x, 2.0 * x, 2.0 * x.hypot(y), 2.0 * x.hypot(y)];
    assert!(reads.len() == 6 && reads.iter().zip(wanted).all(|(a, b)| (a - b).abs() < 1e-9), "{reads:?}");
    assert_eq!(work.spacers.len(), 2);
    for (spacer, wanted) in work.spacers.iter().zip([2.0 * (x - out(12.0)), 2.0 * (y - out(8.0))]) {
        assert!((spacer.length - wanted).abs() < 1e-6 && spacer.between.contains("rim to rim"), "{spacer:?}");
    }
}

/// From the centre of a foot to its rim along one axis, mm. Round something 24 thick along (tan 12, tan 8, -1) the floor cuts a
/// ring 24 across square to its lean; along x it reaches 12 sqrt(1 + tan 12 squared) from its centre.
fn out(splay: f64) -> f64 {
    12.0 * splay.to_radians().tan().hypot(1.0)
}

#[test]
fn the_floor_shows_the_rims_of_turned_feet() {
    let (project, piece) = stool();
    let (x, y) = foot();
    let subject = Subject { piece: &piece, model: &Model::of(&piece) };
    let (items, _) = floor(subject, &project.notation, 1);
    let rims = items.iter().filter(|item| item.role == Role::Outline).filter_map(|item| match &item.shape {
        Shape::Stroke { path, .. } => path.bounding_box(),
        _ => None,
    });
    let around = rims.reduce(|a, b| a.union(b)).expect("feet");
    assert!((around.x1 - x - out(12.0)).abs() < 1e-6 && (around.y1 - y - out(8.0)).abs() < 1e-6, "{around:?}");
    assert!((around.x0 + around.x1).abs() < 1e-6 && (around.y0 + around.y1).abs() < 1e-6, "{around:?}");
}

/// Over the feet and the heads every view measures from centre to centre, and says so.
#[test]
fn views_of_turned_legs_measure_to_their_centre_lines() {
    let (_, piece) = stool();
    let (x, y) = foot();
    let words = all_words(&drawn(&piece, "A3", Notation::default(), &Options::default()));
    let tenth = |mm: f64| format!("{}", (mm * 10.0).round() / 10.0);
    for wanted in [tenth(2.0 * x), tenth(2.0 * y), "300".to_owned(), "200".to_owned()] {
        assert!(words.contains(&wanted), "{wanted}: {words:?}");
    }
    // Over the square blanks' corners: 516.5 by 355, 340 by 238.5.
    assert!(!words.iter().any(|said| ["516.5", "340", "238.5"].contains(&said.as_str())), "{words:?}");
    assert!(words.iter().any(|said| said.contains("turned ⌀ 38, foot ⌀ 24")), "{words:?}");
}

/// Seen from the front a turned leg ends on either side where its own body does, half its diameter off its centre line, and not where
/// its square blank had its arrises. Read back from the SVG.
#[test]
fn a_turned_leg_is_drawn_round() {
    let (_, piece) = stool();
    let document = alone(&piece, Content::Front);
    let page = &document.pages[0];
    let lines = lines(&document, page);
    // The slab is what reaches farthest, and lies evenly about the middle.
    let outlines = page.items.iter().filter(|item| item.role == Role::Outline).filter_map(|item| match &item.shape {
        Shape::Stroke { path, .. } => path.bounding_box(),
        _ => None,
    });
    let drawn = outlines.reduce(|a, b| a.union(b)).expect("lines");
    let onto = |p: Point3| {
        let seen = View::FRONT.project(p);
        Point::new(drawn.center().x + seen.x, drawn.y0 + seen.y)
    };
    let legs = piece.boards.iter().filter(|board| board.turned.is_some());
    let mut told = 0;
    for board in legs {
        let ends = [EdgeName::Foot, EdgeName::Head].map(|end| board.centre_at(&end).expect("a centre"));
        let turned = board.turned.expect("a turned leg");
        for copy in &board.copies {
            let [foot, head] = ends.map(|p| copy.placement.to_world(p));
            let way = (onto(head) - onto(foot)).normalize();
            for share in [0.3, 0.5, 0.7] {
                let middle = onto(foot + (head - foot) * share);
                let half = 0.5 * (turned.foot + (turned.head - turned.foot) * share);
                for side in [1.0, -1.0] {
                    let away = |d: f64| off(&lines, middle + way.turn_90() * (side * d));
                    // Its sides close by 14 mm over its length: to the thousandth part the line stands square off.
                    assert!(away(half) < 0.05, "{}: {} off", copy.label, away(half));
                    assert!(away(0.5 * turned.head + 3.0) > 1.0, "{}: the blank's arris is drawn", copy.label);
                    told += 1;
                }
            }
        }
    }
    assert!(told >= 24, "{told}");
}

/// The rod has both sides of each foot where the floor cuts the turned leg, not those of its squared blank.
#[test]
fn the_rod_tells_the_turned_foot_and_not_its_blank() {
    let (_, piece) = stool();
    let (x, y) = foot();
    let [dx, dy] = [12_f64, 8.0].map(|splay| splay.to_radians().tan());
    let flat = dx.hypot(dy);
    // An ellipse, longer along the lean by as much as the leg leans.
    let long = 12.0 * (1.0 + flat * flat).sqrt();
    let half = |along: f64| (long * along / flat).hypot(12.0 * (1.0 - (along / flat).powi(2)).sqrt());
    for (direction, centre, half) in [(Direction::Lengths, x, half(dx)), (Direction::Widths, y, half(dy))] {
        let mut told: Vec<f64> = ticks(&piece, direction)
            .into_iter()
            .filter(|tick| tick.at > 0.0 && tick.names.iter().any(|name| name.contains("leg foot")))
            .map(|tick| tick.at)
            .collect();
        told.sort_by(f64::total_cmp);
        assert_eq!(told.len(), 2, "{told:?}");
        assert!((told[0] - (centre - half)).abs() < 1e-6 && (told[1] - (centre + half)).abs() < 1e-6, "{told:?}");
    }
    let heights = ticks(&piece, Direction::Heights);
    assert!(heights.iter().any(|tick| tick.at.abs() < 1e-9 && tick.names == ["floor", "leg foot"]), "{heights:?}");
}
