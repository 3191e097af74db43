//! The shape of a top, its glue lines, and its half templates.

use super::{checked, first_mm, measured, told};
use crate::common::words::InWords;
use fullsize::geometry::{Point, Segment};
use fullsize::job::Job;
use fullsize::page::{About, Item, Shape, Text};
use fullsize::pattern::half_template;
use fullsize::schedule::{json as json_of, text};
use serde_json::{Value as Json, json};

fn top(changes: &[(&str, Json)]) -> Json {
    let mut file = json!({
        "fullsize": 1, "title": "Top", "units": "mm",
        "top": { "length": 1800, "width": 900, "thickness": 24 }
    });
    for (name, value) in changes {
        file["top"][*name] = value.clone();
    }
    file
}

/// Turned over at the mirror line the half goes on as the other half of the top: every point of the whole outline lies on one of
/// the two, for a bowed, an oval and a round top and either line.
#[test]
fn a_half_template_makes_the_whole_top() {
    let shapes: [&[(&str, Json)]; 3] = [
        &[
            ("long_edges", json!({ "rise": 25 })),
            ("short_edges", json!({ "rise": 12 })),
            ("corner_radius", json!(40)),
        ],
        &[("shape", json!("oval"))],
        &[("shape", json!("round")), ("width", json!(1800))],
    ];
    for shape in shapes {
        for line in ["x", "y"] {
            let mut file = top(shape);
            file["top"]["half_template"] = json!(line);
            let (project, piece, _) = checked(&file);
            let made = half_template(&piece, project.top.as_ref().expect("a top")).expect("a half template");
            let half = made.built.half.expect("a half");
            let turned = half.path().transformed(half.line().map());
            let face = piece.boards[0].solid.face.path();
            let points = face.segments().iter().flat_map(|s: &Segment| (0..50).map(|i| s.eval(f64::from(i) / 50.0)));
            for p in points {
                let near = |path: &fullsize::geometry::Path| path.nearest(p).expect("it is not empty").0;
                assert!(near(half.path()).min(near(&turned)) < 1e-6, "{p:?}");
            }
            let router = half.router(80.0).expect("a run-on");
            assert!(router.ends.iter().all(|end| end.off_square < 1e-6 && end.cuts_in < 1e-6), "{:?}", router.ends);
        }
    }
}

/// A top of 900 from six boards of 150; tenons by rule stay inside an oval, tenons by hand are told with the move that cures them.
#[test]
fn tenons_along_glue_lines_stay_inside_the_final_shape() {
    let with = |shape: &str, joint: Json| {
        let mut file = top(&[("shape", json!(shape)), ("glue_up", json!([150, 150, 150, 150, 150, 150]))]);
        file["joints"] = json!({ "glue": joint });
        file
    };
    let by_rule = json!({ "from": "top", "into": "top", "thickness": 8, "width": 40, "length": 50, "count": 4 });
    let (_, piece, _) = checked(&with("oval", by_rule));
    let mortises = &piece.boards[0].mortises;
    assert_eq!(mortises.len(), 5 * 4 * 2);
    // The ellipse x²/900² + y²/450² = 1 holds the four corners of every mortise seen from above.
    for m in mortises {
        let (o, way) = (m.frame.origin(), m.frame.w());
        for (x, y) in [(-20.0, 0.0), (20.0, 0.0), (-20.0, m.depth), (20.0, m.depth)] {
            let p = Point::new(o.x + x, o.y + way.y * y);
            let inside = (p.x / 900.0).powi(2) + (p.y / 450.0).powi(2);
            assert!(inside < 1.0, "{p:?} {inside}");
        }
    }
    // By hand: the outer corner of a tenon at x from the middle, on the line y = 300, 26 deep outwards, lies at (x + 20, 326).
    let at = |x: f64| {
        let place = 900.0 + x;
        with(
            "oval",
            json!({ "from": "top", "into": "top", "thickness": 8, "width": 40, "length": 50, "at": [place] }),
        )
    };
    let edge = 900.0 * (1.0 - (326.0_f64 / 450.0).powi(2)).sqrt() - 20.0;
    assert!(told(&at(edge - 0.5), "mortise-cut-open").is_empty());
    let open = told(&at(edge + 15.0), "mortise-cut-open");
    assert!(!open.is_empty());
    let moved = measured(&open[0], "move");
    assert!(told(&at(edge + 15.0 - moved - 0.05), "mortise-cut-open").is_empty());
    assert!(told(&at(edge + 15.0 - moved - 0.05), "thin-wall").is_empty());
}

#[test]
fn boards_that_do_not_make_the_width_are_told() {
    let glued = |last: f64| told(&top(&[("glue_up", json!([300, 300, last]))]), "glue-up-too-narrow");
    assert!(glued(310.0).is_empty() && glued(300.0).is_empty());
    let short = glued(290.0);
    assert!((measured(&short[0], "made") - 890.0).abs() < 1e-9);
    assert!(short[0].words().remedy.contains("add 10 mm"), "{}", short[0].words().remedy);
}

/// A tenon that lies outside the oval with both its mortises: told once, by the farthest of its corners from the ellipse, and
/// cured by the move that is told.
#[test]
fn a_tenon_outside_the_final_shape_is_told_once() {
    let at = |place: f64| {
        let mut file = top(&[("shape", json!("oval")), ("glue_up", json!([150, 600, 150]))]);
        file["joints"] = json!({ "glue": {
            "from": "top", "into": "top", "thickness": 8, "width": 40, "length": 50, "at": [place]
        } });
        file
    };
    let open = told(&at(60.0), "mortise-cut-open");
    assert_eq!(open.len(), 1, "both lines are alike: {open:#?}");
    // The corner of the outer mortise: 840 + 20 from the middle along the line at 300, 26 farther out.
    let corner = Point::new(860.0, 326.0);
    let ellipse = (0..200_000).map(|i| f64::from(i) / 200_000.0 * std::f64::consts::FRAC_PI_2);
    let beyond =
        ellipse.map(|t| corner.distance(Point::new(900.0 * t.cos(), 450.0 * t.sin()))).fold(f64::MAX, f64::min);
    assert!((measured(&open[0], "beyond") - beyond).abs() < 1e-3, "{beyond} {open:#?}");
    let cured = at(60.0 + measured(&open[0], "move") + 0.05);
    assert!(told(&cured, "mortise-cut-open").is_empty() && told(&cured, "thin-wall").is_empty());
}

/// Every change that is offered for a tenon that is cut open does: one moved, one narrower, one less deep. Where the line is too
/// short for any, leaving the tenon out is what is left.
#[test]
fn a_tenon_that_is_cut_open_is_cured_by_the_least_change() {
    let at = |places: &[f64], width: f64, depths: [f64; 2]| {
        let mut file = top(&[("shape", json!("oval")), ("glue_up", json!([150, 600, 150]))]);
        file["joints"] = json!({ "glue": {
            "from": "top", "into": "top", "thickness": 8, "width": width, "depths": depths, "at": places
        } });
        told(&file, "mortise-cut-open").into_iter().chain(told(&file, "thin-wall")).collect::<Vec<_>>()
    };
    // The corner (x - 20, 326) of the outer mortise lies on the ellipse at x = 279.6 from the blank's end.
    let told = at(&[299.0, 900.0], 40.0, [26.0, 26.0]);
    assert_eq!(told.len(), 1, "{told:#?}");
    let remedy = &told[0].words().remedy;
    assert!(remedy.contains("in place of the 299 mm under \"at\""), "{remedy}");
    assert!(at(&[first_mm(remedy), 900.0], 40.0, [26.0, 26.0]).is_empty(), "{remedy}");
    let narrower = first_mm(remedy.split("\"width\" of ").nth(1).expect("a narrower one"));
    assert!(narrower < 40.0 && at(&[299.0, 900.0], narrower, [26.0, 26.0]).is_empty(), "{remedy}");
    // A hair farther in it is thin walled and no longer open; then it is not told at all.
    assert_eq!(at(&[301.0, 900.0], 40.0, [26.0, 26.0])[0].code, "thin-wall");
    assert!(at(&[330.0, 900.0], 40.0, [26.0, 26.0]).is_empty());
}

/// Boards are mortised when their ends are still rough: places in glue lines are told from a line squared across all boards, which the
/// pattern has in the middle of the net blank, also where that is shorter than the top, and which the schedule says to square first.
#[test]
fn places_in_glue_lines_are_told_from_a_line_that_exists_before_gluing() {
    for (fields, long) in [(vec![], 900.0), (vec![("breadboard", json!({ "width": 100, "depth": 30 }))], 760.0)] {
        let mut all = vec![("length", json!(900)), ("glue_up", json!([450, 450]))];
        all.extend(fields);
        let mut file = top(&all);
        file["joints"] = json!({ "glue": {
            "from": "top", "into": "top", "thickness": 8, "width": 40, "length": 50, "at": [200, 450, 650] } });
        let job = super::job(&file);
        let schedule = job.schedule().expect("a schedule");
        let (said, data) = (text(&schedule), json_of(&schedule));
        let across = schedule.piece.top().expect("a top").blank();
        assert!((across.width() - long).abs() < 1e-9 && across.center().x.abs() < 1e-9, "{across:?}");
        let half = format!("at least {} mm of wood stays to either side of it", long / 2.0);
        assert!(said.contains("square a line across all of them") && said.contains(&half), "{said}");
        let words = [(-250.0, "250 mm to the left of the"), (0.0, "on the"), (200.0, "200 mm to the right of the")];
        let told = data["joints"].as_array().expect("joints");
        assert_eq!(told.len(), 6);
        for joint in told {
            let x = joint["centre"][0].as_f64().expect("a number");
            let station = joint["middle"]["station"].as_f64().expect("a number");
            assert!((station - x.abs()).abs() < 1e-6, "{joint:#}");
            let (_, words) = words.iter().find(|(at, _)| (at - x).abs() < 1e-6).expect("a place");
            let line = format!("middle {words} line squared across all boards along the glue line and ");
            assert!(said.contains(&line), "{line}\n{said}");
        }
        let sheets = job.patterns().expect("patterns");
        let sheet = sheets.iter().find(|sheet| sheet.pattern.part.name == "top").expect("the top");
        let is_name = |item: &&Item| matches!(&item.shape, Shape::Text(text) if text.content.starts_with("middle, squared across"));
        let name = sheet.pattern.items.iter().find(is_name).expect("a name");
        let about = match &name.shape {
            Shape::Text(Text { label: Some(label), .. }) => &label.about,
            _ => panic!("no label"),
        };
        let About::Along(path) = about else { panic!("{about:?}") };
        let ends = [path.nodes()[0], path.nodes()[1]];
        assert!(ends.iter().all(|p| p.x.abs() < 1e-9) && (ends[1].y - ends[0].y).abs() > 900.0, "{ends:?}");
    }
}

/// Breadboard ends take their width off the glue lines: tenons by rule stop at the shoulders.
#[test]
fn tenons_stop_at_the_shoulders_of_breadboard_ends() {
    let mut file = top(&[("glue_up", json!([450, 450])), ("breadboard", json!({ "width": 100 }))]);
    file["joints"] = json!({ "glue": {
        "from": "top", "into": "top", "thickness": 8, "width": 40, "length": 50, "count": 3, "margin": 5
    } });
    let (_, piece, _) = checked(&file);
    let ends = piece.boards[0].mortises.iter().map(|m| m.frame.origin().x.abs() + 20.0).fold(0.0, f64::max);
    assert!((ends - 795.0).abs() < 1e-6, "{ends}");
}

/// Each rounded corner has its radius beside it, where it lies: of many alike the first, with how many there are.
#[test]
fn rounded_corners_tell_their_radius() {
    let of = |file: &Json, name: &str| {
        let job = Job::new(super::project(file).expect("a good file"));
        let sheets = job.patterns().expect("patterns");
        let sheet = sheets.iter().find(|sheet| sheet.pattern.part.name == name).expect("a pattern");
        let told = sheet.pattern.items.iter().filter_map(|item| match &item.shape {
            Shape::Text(text) if text.content.starts_with("radius ") => Some(text.clone()),
            _ => None,
        });
        told.map(|text| {
            let Some(About::Along(path)) = text.label.map(|label| label.about) else { panic!("{}", text.content) };
            let radius = match path.segments() {
                [Segment::Arc(arc)] => arc.radius(1e-6).expect("a round arc"),
                other => panic!("{other:?}"),
            };
            (text.content, radius)
        })
        .collect::<Vec<(String, f64)>>()
    };
    let told = of(&top(&[("corner_radius", json!(40))]), "top");
    assert_eq!(told.len(), 4);
    assert!(told.iter().all(|(said, radius)| said == "radius 40" && (radius - 40.0).abs() < 1e-6), "{told:?}");
    let corner = |x: i32, y: i32, radius: i32| json!({ "to": [x, y], "corner_radius": radius });
    let plate = [(0, 0, 12), (180, 0, 12), (180, 46, 12), (60, 46, 18), (60, 140, 12), (0, 140, 12)];
    let outline: Vec<Json> = plate.iter().map(|(x, y, radius)| corner(*x, *y, *radius)).collect();
    let file = json!({ "fullsize": 1, "title": "Hook", "units": "mm",
        "patterns": { "plate": { "thickness": 15, "outline": outline } } });
    let mut told = of(&file, "plate");
    told.sort_by(|a, b| a.0.cmp(&b.0));
    let words: Vec<&str> = told.iter().map(|(said, _)| said.as_str()).collect();
    assert_eq!(words, ["radius 12, 5 corners", "radius 18"]);
    assert!((told[0].1 - 12.0).abs() < 1e-6 && (told[1].1 - 18.0).abs() < 1e-6, "{told:?}");
}
