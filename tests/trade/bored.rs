//! Plumb slots and screw holes in parts that lean.

use super::{cured, job};
use fullsize::board::Source;
use fullsize::finding::Finding;
use fullsize::geometry::{Point3, Vec3};
use fullsize::page::{Item, Shape as PageShape};
use fullsize::piece::plane_of;
use fullsize::schedule::{json as json_of, text};
use fullsize::solid::{Does, Shape, Why};
use fullsize::units::Notation;
use serde_json::{Value as Json, json};

/// A table on splayed legs whose aprons lean with them, its top screwed through slots.
fn table(splay: f64, thickness: f64, depth: f64) -> Json {
    json!({
        "fullsize": 1, "title": "Table", "units": "mm",
        "base": {
            "kind": "splayed_legs", "height": 700, "length_at_top": 800, "width_at_top": 400,
            "splay_front": 2, "splay_side": splay,
            "leg": { "width": 50, "thickness": 50 }, "apron": { "thickness": thickness, "depth": depth, "inset": 5 }
        },
        "top": {
            "length": 1000, "width": 560, "thickness": 22, "species": "white oak",
            "moisture": { "today": 8, "driest": 8, "dampest": 8 }, "fasteners": { "by": "slots", "screw": 5 }
        }
    })
}

fn told(file: &Json) -> Vec<Finding> {
    super::told_as("screw-hole-near-face", file)
}

/// What a hole of this radius leaves: it stands in the middle of an apron's upper edge, which is level, and goes down plumb; the apron
/// leans by the splay, its lower edge is square to its faces, and its depth is that of the outer face, on which its upper edge lies lower
/// by the thickness times the tangent of the splay than on the inner one.
fn wall(splay: f64, thickness: f64, depth: f64, radius: f64) -> f64 {
    let (slope, cos) = (splay.to_radians().tan(), splay.to_radians().cos());
    thickness / 2.0 - (depth + thickness / 2.0 * slope) * slope - radius / cos
}

/// The schedule says which way the holes run that the solid has: plumb, so that they lie off the faces of an apron by as much as it leans.
#[test]
fn the_schedule_tells_how_far_off_the_faces_of_a_leaning_part_its_holes_are_drilled() {
    // Slots through the whole of a shallow apron, and those that are widened from below in a deep one.
    for (splay, thickness, depth) in [(10.0, 40.0, 34.0), (6.0, 40.0, 90.0)] {
        let job = job(&table(splay, thickness, depth));
        let piece = job.needed_piece().expect("a table");
        let schedule = job.schedule().expect("a schedule");
        let (words, all) = (text(&schedule), json_of(&schedule));
        let [told] = all["fixings"]["fasteners"].as_array().expect("a list").as_slice() else { panic!("{all}") };
        let board = piece.boards.iter().find(|board| told["part"] == json!(board.label)).expect("a part");
        let slot =
            board.body().features.into_iter().find(|feature| feature.id.why == Why::Slot).map(|slot| slot.does);
        let Some(Does::Take(Shape::Prism(prism))) = slot else { panic!("no slot in the {}", board.label) };
        // The face side is the board's own level.
        let off = prism.frame.w().z.abs().asin().to_degrees();
        assert!((off - splay).abs() < 1e-9, "{off}");
        assert!((told["off_face"].as_f64().expect("an angle") - off).abs() < 1e-9, "{told}");
        assert!(
            words.contains(&format!("in the middle of its thickness under the top, plumb: {splay}° (")),
            "{words}"
        );
    }
    // Upright ones are told nothing of it.
    assert!(!text(&job(&super::fixings::bench(&[])).schedule().expect("a schedule")).contains("plumb:"));
}

/// What is less than 40 deep is screwed through whole; deeper, the screws' heads, twice as wide, go up from below.
#[test]
fn holes_through_leaning_aprons_are_told_with_what_is_left_beside_them() {
    for (splay, thickness, depth, radius) in
        [(10.0, 20.0, 34.0, 2.5), (14.0, 22.0, 30.0, 2.5), (20.0, 18.0, 28.0, 2.5), (6.0, 24.0, 90.0, 5.0)]
    {
        let file = table(splay, thickness, depth);
        let wanted = wall(splay, thickness, depth, radius);
        assert!(wanted < 3.0, "{wanted}");
        let found = told(&file);
        let finding = found.first().unwrap_or_else(|| panic!("{splay} {thickness}: nothing told, {wanted} is left"));
        let left = finding.measure("wall").expect("a wall");
        assert!((left - wanted).abs() < 0.01, "{splay} {thickness}: {left}, not {wanted}");
        let said = finding.said(&Notation::default());
        let out = ["come out of its", "comes out of its"].iter().any(|words| said.message.contains(words));
        assert_eq!(out, wanted < 0.0, "{said:?}");
        assert!(said.remedy.contains("slanted pockets") || said.remedy.contains("a cleat"), "{said:?}");
    }
    // In an upright apron of 9 mm round holes leave 2 mm; of slots the rule of their ends tells it.
    let mut thin = table(0.0, 9.0, 38.0);
    assert_eq!(told(&thin), []);
    thin["top"]["fasteners"]["by"] = json!("screws");
    let found = told(&thin);
    assert!((found[0].measure("wall").expect("a wall") - 2.0).abs() < 0.01, "{found:#?}");
    // Upright, or thick enough, nothing is told.
    assert_eq!(told(&table(0.0, 20.0, 38.0)), []);
    assert!(wall(5.0, 24.0, 34.0, 2.5) > 4.0);
    assert_eq!(told(&table(5.0, 24.0, 34.0)), []);
}

/// Every cure that is offered heals, made as it is said; a thickness less by half a millimetre does not.
#[test]
fn a_cure_of_a_hole_near_a_face_heals() {
    let (mut tried, mut kinds) = (0, Vec::new());
    for (splay, thickness, depth) in [(10.0, 20.0, 38.0), (12.0, 22.0, 44.0), (6.0, 24.0, 90.0)] {
        let file = table(splay, thickness, depth);
        let found = told(&file);
        assert!(!found.is_empty(), "{splay} {thickness} {depth}");
        for cure in found.iter().flat_map(|finding| finding.cures.all()) {
            assert_eq!(told(&cured(&file, cure)), [], "{}", cure.said(&Notation::default()));
            let place = cure.settings.first().map(|set| set.place.pointer.clone());
            if let Some(place) = place.clone().filter(|place| place.ends_with("/thickness")) {
                let mut less = cured(&file, cure);
                let number = less.pointer_mut(&place).expect("a number");
                *number = json!(number.as_f64().expect("a number") - 0.5);
                assert!(!told(&less).is_empty(), "{less:#}");
            }
            kinds.push(place);
            tried += 1;
        }
    }
    kinds.sort();
    kinds.dedup();
    assert!(tried > 4 && kinds.len() > 1, "{tried} {kinds:?}");
}

/// In an apron of 15 mm that leans by 2 degrees a drilled hole leaves enough, and the head of its screw finds no seat: what is offered for
/// that also leaves enough beside the wide part that it brings. 16 mm would make a seat and no more.
#[test]
fn a_cure_of_a_seat_leaves_wood_beside_it_all_the_way_down() {
    let mut tried = 0;
    for (splay, thickness, depth) in [(2.0, 15.0, 50.0), (1.0, 14.0, 60.0), (3.0, 15.5, 45.0)] {
        let file = table(splay, thickness, depth);
        let unseated = |file: &Json| super::told_as("screw-head-has-no-seat", file);
        let found = unseated(&file);
        assert_eq!(found.len(), 1, "{splay} {thickness} {depth}");
        for cure in found[0].cures.all() {
            let made = cured(&file, cure);
            let said = cure.said(&Notation::default());
            assert!(unseated(&made).is_empty() && told(&made).is_empty(), "{said}");
            tried += usize::from(!cure.settings.is_empty());
        }
        // A thickness that just makes the seat.
        let mut seated = file.clone();
        seated["base"]["apron"]["thickness"] = json!(16);
        assert!(unseated(&seated).is_empty() && !told(&seated).is_empty(), "{splay} {thickness} {depth}");
    }
    assert!(tried >= 3, "{tried}");
}

/// What is told of holes that leave too little stands where they are drilled: in the schedule and on the sheet of the holes, with the
/// number of the finding; sound ones say nothing of it.
#[test]
fn what_a_hole_leaves_too_little_of_stands_in_the_schedule_and_on_the_sheet() {
    let said = |file: &Json| {
        let job = job(file);
        let words = text(&job.schedule().expect("a schedule"));
        let sheets =
            job.patterns().expect("patterns").iter().filter(|one| one.pattern.part.name.contains("fastener slots"));
        let sheet: Vec<String> = sheets.flat_map(|one| texts(&one.pattern.items)).collect();
        assert!(!sheet.is_empty());
        (words, sheet.join("\n"))
    };
    for (splay, thickness, depth) in [(14.0, 20.0, 34.0), (9.0, 20.0, 34.0), (6.0, 24.0, 90.0)] {
        let file = table(splay, thickness, depth);
        let found = told(&file);
        let left = found.first().expect("it is told").measure("wall").expect("a wall");
        let (words, sheet) = said(&file);
        let number = format!("{} mm", (left.abs() * 10.0).floor() / 10.0);
        let wanted = match left < 0.0 {
            true => "DO NOT BORE IT SO: on its way down the ".to_owned(),
            false => format!("leaves {number} to the "),
        };
        for place in [&words, &sheet] {
            assert!(place.contains(&wanted), "{wanted}\n{place}");
        }
        let job = job(&file);
        let data = json_of(&job.schedule().expect("a schedule"));
        let wall = data["fixings"]["fasteners"][0]["wall"].as_f64().expect("a wall");
        assert!((wall - left).abs() < 1e-9, "{wall} {left}");
    }
    let (words, sheet) = said(&table(5.0, 24.0, 34.0));
    assert!(!words.contains("on its way down") && !sheet.contains("on its way down") && !words.contains("pocket"));
}

fn texts(items: &[Item]) -> Vec<String> {
    let text = |item: &Item| match &item.shape {
        PageShape::Text(text) => Some(text.content.clone()),
        _ => None,
    };
    items.iter().filter_map(text).collect()
}

/// A drill set by the numbers of a pocket (so far down the inside face from its arris under the top, so far off that face) comes out under
/// the top where the screw stands; the whole head lies in wood at the bottom of the pocket, with 3 mm to the outside face, and its mouth
/// stays above the lower edge.
#[test]
fn a_pocket_bored_as_told_comes_out_at_the_screw() {
    let mut bored = 0;
    for (splay, thickness, depth, by) in [
        (0.0, 15.0, 80.0, "screws"),
        (6.0, 24.0, 90.0, "slots"),
        (8.0, 22.0, 100.0, "screws"),
        (-5.0, 20.0, 90.0, "screws"),
    ] {
        let mut file = table(splay, thickness, depth);
        file["top"]["fasteners"]["by"] = json!(by);
        let job = job(&file);
        let (piece, schedule) = (job.needed_piece().expect("a table"), job.schedule().expect("a schedule"));
        let all = json_of(&schedule)["fixings"]["fasteners"].as_array().expect("a list").clone();
        for row in all.iter().filter(|row| row["pocket"].is_object()) {
            let board = piece.boards.iter().find(|board| row["board"] == json!(board.id.as_str())).expect("a part");
            let copy = row["copies"][0].as_u64().expect("a copy") as usize;
            let place = board.copies[copy].placement;
            let number = |name: &str| row["pocket"][name].as_f64().expect("a number");
            let (inside, outside) = match row["pocket"]["from"] == json!("face") {
                true => (Source::Face, Source::Far),
                false => (Source::Far, Source::Face),
            };
            let [inside, outside] =
                [inside, outside].map(|face| place.plane_to_world(&plane_of(&board.board, face).expect("a face")));
            let out = inside.normal();
            // Towards the middle of the piece.
            assert!(out.dot(place.origin() - Point3::ORIGIN) < 0.0, "{row:#}");
            let down = (out * out.z - Vec3::Z).unit().expect("a direction");
            let level = Vec3::new(out.x, out.y, 0.0).unit().expect("a direction");
            let top = piece.top().expect("a top");
            for hole in row["holes"].as_array().expect("holes") {
                let at = |i: usize| hole["at"][i].as_f64().expect("a number");
                let screw = top.copies[0].placement.to_world(Point3::new(at(0), at(1), -top.board.thickness));
                let arris = screw + level * (-inside.distance(screw) / level.dot(out));
                let start = arris + down * number("below_arris");
                let slant = number("off_face").to_radians();
                let way = -down * slant.cos() - out * slant.sin();
                let bottom = start + way * number("depth");
                let end = bottom + way * number("under_head");
                assert!(end.distance(screw) < 0.06, "{} off: {row:#}", end.distance(screw));
                let across = way.cross(out).unit().expect("a direction");
                let other = way.cross(across);
                for k in 0..24 {
                    let (sin, cos) = (f64::from(k) * 15.0).to_radians().sin_cos();
                    let rim = bottom + (across * cos + other * sin) * (number("width") / 2.0);
                    assert!(inside.distance(rim) < 1e-6 && outside.distance(rim) < -3.0 + 1e-6, "{row:#}");
                }
                let mouth = number("below_arris") + number("width") / 2.0 / slant.sin();
                assert!(mouth < row["part_depth"].as_f64().expect("a depth"), "{row:#}");
                bored += 1;
            }
            let said = text(&schedule);
            let from = if row["pocket"]["from"] == json!("face") { Source::Face } else { Source::Far };
            let angle = format!("from the {}, {:.0}° (", board.board.name_of(from), number("off_face"));
            assert!(said.contains(&angle), "{angle} {said}");
            assert!(said.contains("in a pocket: wood screw from "), "{said}");
        }
    }
    assert!(bored > 8, "{bored}");
}

/// Where the top moves across the part no pocket is offered, since a slanted screw would not follow.
#[test]
fn no_pocket_is_offered_where_the_top_moves_across_the_part() {
    let mut file = table(6.0, 24.0, 90.0);
    file["top"]["moisture"] = json!({ "today": 8, "driest": 6, "dampest": 11 });
    let job = job(&file);
    let schedule = job.schedule().expect("a schedule");
    let all = json_of(&schedule)["fixings"]["fasteners"].clone();
    let along: Vec<&Json> =
        all.as_array().expect("a list").iter().filter(|row| row["board"] == json!("apron")).collect();
    assert!(!along.is_empty() && along.iter().all(|row| row["pocket"].is_null()), "{all:#}");
    assert!(text(&schedule).contains("no pocket does here: screw the top to a cleat on the inside face"));
}

/// Where an edge is off square by less than the maker's rule shows, the distance down it and the one square to the face read alike: it is
/// told once.
#[test]
fn two_distances_that_read_alike_are_told_once() {
    let (mut once, mut both) = (0, 0);
    for splay in [0.5, 4.0, 7.0, 25.0] {
        let file = json!({
            "fullsize": 1, "title": "Table", "units": "in",
            "base": {
                "kind": "splayed_legs", "height": 26, "length_at_top": 32, "width_at_top": 16, "splay_front": 2, "splay_side": splay,
                "leg": { "width": 2, "thickness": 2 }, "apron": { "thickness": 1, "depth": "1 3/8", "inset": "1/4" }
            },
            "top": { "length": 44, "width": 24, "thickness": "7/8", "fasteners": { "by": "screws", "screw": "1/8" } },
            "shop": { "denominator": 16 }
        });
        let said = text(&job(&file).schedule().expect("a schedule"));
        for line in said.lines().filter(|line| line.contains("on the upper edge, middle ")) {
            let off = line.split(" and ").nth(1).expect("a distance off");
            match off.split_once(" down the ") {
                Some((down, rest)) => {
                    let square = rest.split('(').nth(1).and_then(|rest| rest.split(" square").next());
                    assert!(square.is_some_and(|square| square != down), "{line}");
                    both += 1;
                }
                None => once += 1,
            }
        }
    }
    assert!(once > 0 && both > 0, "{once} {both}");
}
