//! Changes that are planted, and found again by plain geometry worked out apart from the program.

use super::{changed, desk, differences, moved, snapshot, table};
use crate::common::draws::{Draws, for_all};
use fullsize::change::{Compared, How, SawAngle, Snapshot, WorkedHow};
use serde_json::{Value as Json, json};

fn compared<'a>(old: &'a Snapshot, new: &'a Snapshot) -> Compared<'a> {
    Compared::of(old, new)
}

fn near(a: f64, b: f64, within: f64) -> bool {
    (a - b).abs() <= within
}

/// The desk's legs are straight: along this line of its numbers nothing of them moves but the feet, which stand in level planes 20 mm
/// apart (plain geometry: the outside edge is the same line, so that `foot` grows by what the two edges part over 20 mm).
#[test]
fn a_desk_lowered_by_its_feet_is_told_as_feet_sawn_off() {
    let file = desk();
    let (splay, lean) = (9_f64.to_radians(), 6_f64.to_radians());
    // In the frame's face the leg's inside edge runs from the head's to the foot's inner corner.
    let slope_height = (735.0 - 24.0) / lean.cos();
    let (outer, inner) = ([92.0, slope_height * splay.tan()], [0.0, slope_height * splay.tan() + 92.0 - 52.0]);
    let taper = (outer[1] - inner[1] + 92.0 - 52.0) / slope_height;
    assert!(taper.abs() < 1e-9, "the inside edge parts from the outside one by what head and foot differ in");
    let foot = 52.0 + (92.0 - 52.0) / slope_height * (20.0 / lean.cos());
    let lowered = changed(
        &file,
        &[
            ("/sizes/height", json!(715)),
            ("/base/leg/foot", json!(foot)),
            ("/base/bottom_rail/height", json!(100)),
            ("/base/stretcher/height", json!(110)),
        ],
    );
    let (old, new) = (snapshot(&file), snapshot(&lowered));
    let compared = compared(&old, &new);
    let leg = differences(&compared, "leg").expect("the leg differs");
    let told = moved(&leg);
    assert!(leg.worked.is_empty(), "{:?}", leg.worked);
    let [(name, [low, high])] = told.as_slice() else { panic!("{told:?}") };
    assert!(name == "foot" && near(*low, -20.0, 1e-6) && near(*high, -20.0, 1e-6), "{told:?}");
    for rest in ["top_rail", "bottom_rail", "apron", "stretcher", "top"] {
        assert_eq!(differences(&compared, rest).map(|all| moved(&all)), None, "{rest}");
    }
}

/// A random frame with straight legs, and the same one with its feet sawn off level: `foot` grows by what the leg's edges part over that
/// height, and what is measured from the floor comes down by it (plain geometry).
#[test]
fn random_frames_lowered_by_their_feet_are_told_as_feet_sawn_off() {
    for_all(24, |draws| {
        let (height, head, foot) =
            (draws.between(600.0, 800.0), draws.between(85.0, 110.0), draws.between(50.0, 75.0));
        let (rail, sawn) = (draws.between(120.0, 170.0), draws.between(1.0, 40.0));
        let file = json!({ "fullsize": 1, "title": "f", "units": "mm",
            "base": { "kind": "leaning_frames", "height": height,
                "length_at_top": draws.between(1000.0, 1600.0), "width_at_top": draws.between(480.0, 700.0),
                "lean": format!("{} deg", draws.between(0.0, 10.0)),
                "leg": { "splay": format!("{} deg", draws.between(0.0, 12.0)), "thickness": 40, "head": head, "foot": foot },
                "top_rail": { "thickness": 28, "depth": 70 },
                "bottom_rail": { "thickness": 28, "depth": 60, "height": rail },
                "stretcher": { "thickness": 24, "depth": 40, "height": rail + 8.0 } },
            "joints": { "rail tenon": { "from": "bottom_rail", "into": "leg", "thickness": 10, "width": 36, "length": 50 } } });
        let lowered = changed(
            &file,
            &[
                ("/base/height", json!(height - sawn)),
                ("/base/leg/foot", json!(foot + (head - foot) * sawn / height)),
                ("/base/bottom_rail/height", json!(rail - sawn)),
                ("/base/stretcher/height", json!(rail + 8.0 - sawn)),
            ],
        );
        let (old, new) = (snapshot(&file), snapshot(&lowered));
        let compared = compared(&old, &new);
        for part in &old.parts {
            let told = differences(&compared, &part.id);
            if part.id != "leg" {
                assert_eq!(told, None, "{}", part.id);
                continue;
            }
            let told = told.expect("the leg differs");
            assert!(told.worked.is_empty(), "{:?}", told.worked);
            let moved = moved(&told);
            let [(name, [low, high])] = moved.as_slice() else { panic!("{moved:?}, sawn {sawn}") };
            assert!(name == "foot" && near(*low, -sawn, 1e-3) && near(*high, -sawn, 1e-3), "{moved:?}, sawn {sawn}");
        }
    });
}

/// Four legs that splay both ways and are set out from their heads: a lower piece is the same one with its feet sawn off. Where no mortise
/// stands in them the head might as well have been sawn, and that is said.
#[test]
fn random_splayed_legs_made_shorter_are_told_by_their_feet() {
    for_all(16, |draws| {
        let (height, taller) = (draws.between(400.0, 760.0), draws.between(1.0, 60.0));
        let mut file = json!({ "fullsize": 1, "title": "s", "units": "mm", "base": { "kind": "splayed_legs", "height": height,
            "length_at_top": draws.between(300.0, 1200.0), "width_at_top": draws.between(250.0, 600.0),
            "splay_front": format!("{} deg", draws.between(0.0, 12.0)), "splay_side": format!("{} deg", draws.between(0.0, 12.0)),
            "leg": { "width": 45, "thickness": 40 }, "apron": { "thickness": 20, "depth": 70, "inset": 5 },
            "end_apron": { "thickness": 20, "depth": 70, "inset": 8 } } });
        let is_jointed = draws.chance(0.5);
        if is_jointed {
            let tenon = json!({ "from": "apron", "into": "leg", "thickness": 6, "width": 24, "length": 28 });
            file["joints"] = json!({ "apron tenon": tenon });
        }
        let (old, new) = (snapshot(&file), snapshot(&changed(&file, &[("/base/height", json!(height + taller))])));
        let compared = compared(&old, &new);
        for met in &compared.parts {
            let id = &met.wood().expect("a part").id;
            let told = differences(&compared, id);
            if !id.ends_with("leg") {
                assert_eq!(told, None, "{id}");
                continue;
            }
            let told = told.expect("a leg differs");
            let moved = moved(&told);
            let [(name, [low, high])] = moved.as_slice() else { panic!("{moved:?}, {taller} mm") };
            assert!(near(*low, taller, 1e-3) && near(*high, taller, 1e-3), "{moved:?}, {taller} mm");
            let ends = (name.as_str(), told.surfaces[0].or.as_deref());
            let meant: &[_] =
                if is_jointed { &[("foot", None)] } else { &[("foot", Some("head")), ("head", Some("foot"))] };
            assert!(meant.contains(&ends), "{ends:?}, jointed: {is_jointed}");
        }
    });
}

/// Both ends of a rail between legs that come nearer together: what is lost is the width.
#[test]
fn a_narrower_frame_shortens_its_rails_alone() {
    let file = table();
    let narrower = changed(&file, &[("/base/width_at_top", json!(604))]);
    let (old, new) = (snapshot(&file), snapshot(&narrower));
    let compared = compared(&old, &new);
    for same in ["leg", "apron", "stretcher"] {
        assert_eq!(differences(&compared, same), None, "{same}");
    }
    for rail in ["top_rail", "bottom_rail"] {
        let told = differences(&compared, rail).expect("the rails differ");
        let ends: Vec<f64> = told
            .surfaces
            .iter()
            .filter(|one| one.name.ends_with("end"))
            .map(|one| match &one.how {
                How::Moved { out, .. } => {
                    assert!(near(out[0], out[1], 0.05), "{told:?}");
                    out[0]
                }
                other => panic!("{other:?}"),
            })
            .collect();
        // Square to its cut an end gives a little less than along the rail: by the cosine of the leg's lean in the frame.
        let lost: f64 = ends.iter().sum();
        assert!(lost < -5.6 && lost > -6.0, "{rail}: {told:?}");
    }
}

/// Where nothing between its ends tells which of them was cut, that is said; where a mortise does, each end is told.
#[test]
fn an_end_that_might_as_well_be_the_other_is_told_with_it() {
    let file = table();
    let shorter = changed(&file, &[("/base/length_at_top", json!(1476))]);
    let (old, new) = (snapshot(&file), snapshot(&shorter));
    let told = differences(&compared(&old, &new), "stretcher").expect("it differs");
    let [end] = told.surfaces.as_slice() else { panic!("{told:?}") };
    assert!(end.name != *end.or.as_ref().expect("the other end") && end.name.ends_with("end"), "{end:?}");
    let narrower = changed(&file, &[("/base/width_at_top", json!(604))]);
    let new = snapshot(&narrower);
    let told = differences(&compared(&old, &new), "bottom_rail").expect("it differs");
    assert!(told.worked.is_empty(), "the stretcher's mortise stays in the middle: {:?}", told.worked);
    let ends: Vec<&str> = told.surfaces.iter().map(|one| one.name.as_str()).collect();
    assert_eq!(ends, ["left end", "right end"]);
    assert!(told.surfaces.iter().all(|end| end.or.is_none()), "{:?}", told.surfaces);
}

/// Parts whose ends are alike before and since: these are told alike, or one of them alone where the other might as well be cut.
#[test]
fn ends_that_change_alike_are_told_alike() {
    let file = table();
    let mut held = 0;
    for changes in [
        vec![("/base/lean", json!("9 deg")), ("/base/length_at_top", json!(1536))],
        vec![("/base/lean", json!("7 deg"))],
        vec![("/base/lean", json!("9.5 deg")), ("/base/height", json!(760))],
    ] {
        let (old, new) = (snapshot(&file), snapshot(&changed(&file, &changes)));
        for id in ["stretcher", "apron"] {
            let Some(told) = differences(&compared(&old, &new), id) else { continue };
            let ends: Vec<(String, [f64; 2])> =
                moved(&told).into_iter().filter(|(name, _)| name.ends_with("end")).collect();
            if let [(_, one), (_, other)] = ends.as_slice() {
                assert!(near(one[0], other[0], 0.06) && near(one[1], other[1], 0.06), "{id}: {ends:?}");
                held += 1;
            }
        }
    }
    assert!(held > 2, "{held}");
}

/// A mortise of the apron deeper, wider or thicker is told with both numbers, and nothing else of the leg.
#[test]
fn a_mortise_is_told_by_its_own_measures() {
    let file = table();
    for (field, to) in [("length", 50.0), ("width", 30.0), ("thickness", 9.0)] {
        let other = changed(&file, &[(&format!("/joints/apron tenon/{field}"), json!(to))]);
        let (old, new) = (snapshot(&file), snapshot(&other));
        let leg = differences(&compared(&old, &new), "leg").expect("the leg differs");
        assert!(leg.surfaces.is_empty(), "{field}: {:?}", leg.surfaces);
        assert!(!leg.worked.is_empty());
        for one in &leg.worked {
            assert_eq!(one.what.of, "apron tenon");
            let WorkedHow::Changed { size, depth, .. } = &one.how else { panic!("{one:?}") };
            match field {
                "length" => {
                    let [Some(was), Some(is)] = depth.expect("its depth") else { panic!("{depth:?}") };
                    // A loose tenon that is 6 mm longer goes 3 mm deeper into either part.
                    assert!(near(is - was, 3.0, 1e-6), "{depth:?}");
                }
                "width" => assert!(size[0].is_some_and(|[was, is]| near(was, 24.0, 1e-9) && near(is, 30.0, 1e-9))),
                _ => assert!(size[1].is_some_and(|[was, is]| near(was, 8.0, 1e-9) && near(is, 9.0, 1e-9))),
            }
        }
    }
}

/// An apron hung lower moves its mortises in the leg by as much down the leg, and what lands there.
#[test]
fn a_mortise_that_moves_is_told_with_how_far_and_towards_what() {
    let file = table();
    let lower = changed(&file, &[("/base/bottom_rail/height", json!(162))]);
    let (old, new) = (snapshot(&file), snapshot(&lower));
    let leg = differences(&compared(&old, &new), "leg").expect("the leg differs");
    let rail = leg.worked.iter().filter(|one| one.what.of == "bottom rail tenon");
    let mut found = 0;
    for one in rail {
        let WorkedHow::Changed { moved, .. } = &one.how else { panic!("{one:?}") };
        let (by, towards) = moved.iter().max_by(|a, b| a.0.total_cmp(&b.0)).expect("it moves");
        // 12 mm plumb are 12 / cos 7° along the frame, and a little more along a leg that splays by 11° and curves.
        assert!(towards == "head" && *by > 12.0 && *by < 12.9, "{moved:?}");
        found += 1;
    }
    assert!(found > 0);
    assert!(leg.worked.iter().all(|one| one.what.of == "bottom rail tenon"), "{:?}", leg.worked);
}

#[test]
fn a_thickness_is_told_by_both_numbers() {
    let file = table();
    let thinner = changed(&file, &[("/base/apron/thickness", json!(22))]);
    let (old, new) = (snapshot(&file), snapshot(&thinner));
    let apron = differences(&compared(&old, &new), "apron").expect("it differs");
    assert_eq!(apron.thickness, Some([24.0, 22.0]));
}

/// A hollow that is 6 mm deeper: 6 mm in the middle of its chord, where the chord stays.
#[test]
fn a_curve_is_told_by_how_far_and_where() {
    let file = table();
    let deeper = changed(&file, &[("/base/top_rail/lower_edge/rise", json!(-14))]);
    let (old, new) = (snapshot(&file), snapshot(&deeper));
    let rail = differences(&compared(&old, &new), "top_rail").expect("it differs");
    let told = moved(&rail);
    let [(name, [low, high])] = told.as_slice() else { panic!("{told:?}") };
    assert!(name == "lower edge" && near(*low, -6.0, 0.05) && high.abs() < 0.05, "{told:?}");
    let How::Moved { most: Some((at, _)), .. } = &rail.surfaces[0].how else { panic!("{rail:?}") };
    let half = old.parts.iter().find(|part| part.id == "top_rail").expect("a rail").solid.blank.width() / 2.0;
    assert!(near(*at, half, 5.0), "{at} of {half}");
}

/// A board cut at another angle about its upper arris: the angles are those of the two planes.
#[test]
fn a_bevel_and_a_mitre_are_told_by_both_angles() {
    let board = |normal: [f64; 3]| {
        json!({ "fullsize": 1, "title": "b", "units": "mm", "base": { "kind": "boards", "boards": { "one": {
            "thickness": 20, "outline": [{ "to": [0, 0] }, { "to": [300, 0] }, { "to": [300, 80] }, { "to": [0, 80] }],
            "at": [0, 0, 0], "along": [1, 0, 0], "face": [0, 0, 1],
            "cuts": [{ "plane": { "through": [250, 0, 0], "normal": normal } }],
        } } } })
    };
    let degrees = |y: f64, x: f64| y.atan2(x).to_degrees();
    for (was, is) in [([1.0, 0.0, 0.2], [1.0, 0.0, 0.25]), ([1.0, 0.1, 0.0], [1.0, 0.14, 0.0])] {
        let (old, new) = (snapshot(&board(was)), snapshot(&board(is)));
        let one = differences(&compared(&old, &new), "one").expect("it differs");
        let [surface] = one.surfaces.as_slice() else { panic!("{:?}", one.surfaces) };
        let [angle] = surface.angles.as_slice() else { panic!("{:?}", surface.angles) };
        let (of, meant) = match was[2] > 0.0 {
            true => (SawAngle::Bevel, [degrees(was[2], was[0]), degrees(is[2], is[0])]),
            false => (SawAngle::Mitre, [degrees(was[1], was[0]), degrees(is[1], is[0])]),
        };
        assert_eq!(angle.of, of);
        for (told, meant) in angle.degrees.iter().zip(meant) {
            assert!(near(told.abs(), meant, 1e-6), "{angle:?}: {meant}");
        }
    }
}

/// A convex part of so many corners about the origin, its edges named.
fn corners(draws: &mut Draws, count: usize) -> Vec<[f64; 2]> {
    let step = std::f64::consts::TAU / count as f64;
    let corner = |index: usize, draws: &mut Draws| {
        let angle = step * (index as f64 + draws.between(-0.2, 0.2));
        [draws.between(220.0, 260.0) * angle.cos(), draws.between(150.0, 180.0) * angle.sin()]
    };
    (0..count).map(|index| corner(index, draws)).collect()
}

fn part(corners: &[[f64; 2]]) -> Json {
    let edges = corners.iter().enumerate().map(|(index, to)| json!({ "to": to, "name": format!("side {index}") }));
    json!({ "fullsize": 1, "title": "p", "units": "mm", "patterns": { "plate": {
        "thickness": 12, "outline": edges.collect::<Vec<Json>>() } } })
}

/// Where two lines meet, each by a point and a direction.
fn meeting(p: [f64; 2], d: [f64; 2], q: [f64; 2], e: [f64; 2]) -> [f64; 2] {
    let cross = d[0] * e[1] - d[1] * e[0];
    let t = ((q[0] - p[0]) * e[1] - (q[1] - p[1]) * e[0]) / cross;
    [p[0] + t * d[0], p[1] + t * d[1]]
}

/// A random part is moved and turned on its drawing, and one of its edges is planed: that edge is told, by what was planed, and no other.
#[test]
fn one_edge_of_a_part_that_is_drawn_elsewhere_is_told_alone() {
    for_all(60, |draws| {
        let count = 4 + draws.below(4);
        let shape = corners(draws, count);
        let edge = draws.below(count);
        let planed = draws.between(0.5, 30.0) * if draws.chance(0.5) { 1.0 } else { -1.0 };
        // The edge that arrives at a corner runs from the one before it; the corners run anticlockwise.
        let at = |index: usize| shape[(index + count) % count];
        let along = |index: usize| {
            let (from, to) = (at(index + count - 1), at(index));
            [to[0] - from[0], to[1] - from[1]]
        };
        let own = along(edge);
        let long = own[0].hypot(own[1]);
        let out = [own[1] / long, -own[0] / long];
        let on = [at(edge)[0] + out[0] * planed, at(edge)[1] + out[1] * planed];
        let mut other = shape.clone();
        let before = (edge + count - 1) % count;
        other[before] = meeting(on, own, at(before), along(before));
        other[edge] = meeting(on, own, at(edge), along(edge + 1));
        let (sin, cos) = draws.between(-0.03, 0.03).sin_cos();
        let shift = [draws.between(-40.0, 40.0), draws.between(-40.0, 40.0)];
        let elsewhere: Vec<[f64; 2]> =
            other.iter().map(|[x, y]| [x * cos - y * sin + shift[0], x * sin + y * cos + shift[1]]).collect();
        let (old, new) = (snapshot(&part(&shape)), snapshot(&part(&elsewhere)));
        let told = moved(&differences(&compared(&old, &new), "plate").expect("it differs"));
        let [(name, [low, high])] = told.as_slice() else { panic!("{told:?}, planed {planed} off side {edge}") };
        assert_eq!(*name, format!("side {edge}"));
        assert!(near(*low, planed, 1e-3) && near(*high, planed, 1e-3), "{told:?}, planed {planed}");
    });
}
