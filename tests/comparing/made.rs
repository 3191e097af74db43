//! What becomes of parts that exist: asked of plain geometry where it is planted, and of a foreign solid library where it is drawn by lot.

use super::{changed, desk, snapshot, table};
use crate::common::draws::{Draws, for_all};
use crate::common::foreign::outside;
use fullsize::board::{Board, Edge};
use fullsize::change::{Fit, Lack, MadeName, Outcome, SHORT, Snapshot, Step, Verdict, Wood, measured, verdict};
use fullsize::finding::Place;
use fullsize::geometry::{Mesh, Plane, Point, Point3, Segment, Vec2, Vec3};
use fullsize::model::made::{MadePart, Readings};
use fullsize::units::{Length, Notation, Units};
use serde_json::{Value as Json, json};
use std::env;

fn name() -> MadeName {
    MadeName { part: "part".to_owned(), code: "code".to_owned(), only: Vec::new(), measured: false }
}

pub(super) fn part<'a>(piece: &'a Snapshot, id: &str) -> &'a Wood {
    piece.parts.iter().find(|wood| wood.id == id).unwrap_or_else(|| panic!("no {id}"))
}

pub(super) fn judged(made: &Wood, new: &Wood) -> Verdict {
    verdict(made, new, name(), SHORT, &Notation::of(Units::Mm))
}

/// What becomes of a part of a piece where some of its numbers are others.
fn after(file: &Json, id: &str, changes: &[(&str, Json)]) -> Verdict {
    judged(part(&snapshot(file), id), part(&snapshot(&changed(file, changes)), id))
}

/// A part of a piece with readings.
pub(super) fn read(wood: &Wood, read: Readings) -> Wood {
    let made = MadePart {
        name: wood.id.clone(),
        place: Place::default(),
        part: wood.id.clone(),
        code: wood.revision.clone(),
        only: Vec::new(),
        read,
        worked: true,
        tolerance: None,
    };
    measured(wood, &made).unwrap_or_else(|why| panic!("{why:?}")).wood
}

pub(super) fn mm(length: f64) -> Length {
    Length::from_mm(length)
}

/// The ends that are to be sawn, each with the most that goes.
fn sawn(verdict: &Verdict) -> Vec<(&str, f64)> {
    let of = |step: &'_ Step| match step {
        Step::Saw { by: [_, most], .. } => Some(most.mm()),
        _ => None,
    };
    let name = |step: &'_ Step| -> Option<f64> { of(step) };
    verdict
        .steps
        .iter()
        .filter_map(|step| match step {
            Step::Saw { end, .. } => Some((end.as_str(), name(step)?)),
            _ => None,
        })
        .collect()
}

/// Steps along a curve, so fine that its chords lie less than 0.01 mm off it.
const FINE: u32 = 60;

/// A part with each of its surfaces moved out by as much: every side of its outline, every cut, both faces (plain geometry: lines moved along
/// their normals and met again).
fn swollen(wood: &Wood, by: f64) -> Mesh {
    let sampled = |piece: &Segment| -> Vec<Point> {
        let steps = if matches!(piece, Segment::Line(_)) { 1 } else { FINE };
        (0..steps).map(|step| piece.eval(f64::from(step) / f64::from(steps))).collect()
    };
    let mut ring: Vec<Point> = wood.board.edges.iter().flat_map(|edge| &edge.segments).flat_map(sampled).collect();
    ring.dedup_by(|a, b| a.distance(*b) < 1e-6);
    let count = ring.len();
    let way = |i: usize| (ring[(i + 1) % count] - ring[i % count]).normalize();
    let moved: Vec<Point> = (0..count)
        .map(|i| {
            let (before, after) = (way(i + count - 1), way(i));
            let (a, b) = (Vec2::new(before.y, -before.x), Vec2::new(after.y, -after.x));
            // The corner of two lines that were moved out lies along the sum of their normals.
            ring[i] + (a + b) * (by / (1.0 + a.dot(b)))
        })
        .collect();
    let segments = (0..count).map(|i| Segment::line(moved[i], moved[(i + 1) % count])).collect();
    let cuts = wood.board.cuts.iter().map(|cut| {
        let n = cut.plane.normal();
        let on = Point3::ORIGIN + n * (cut.plane.offset() + by) - Vec3::Z * by;
        fullsize::board::Cut { plane: Plane::through(on, n).expect("a plane"), ..cut.clone() }
    });
    let name = wood.board.edges[0].name.clone();
    let board = Board {
        thickness: wood.board.thickness + 2.0 * by,
        edges: vec![Edge::new(name, segments)],
        cuts: cuts.collect(),
        ..wood.board.clone()
    };
    let mut mesh = board.mesh();
    mesh.vertices.iter_mut().for_each(|p| *p = *p + Vec3::Z * by);
    mesh
}

/// A new part's surface where a fit lays it in the old one.
fn laid(mesh: &Mesh, fit: &Fit) -> Mesh {
    let vertices = mesh.vertices.iter().map(|p| fit.place.there(*p) + Vec3::Z * fit.lift).collect();
    Mesh { vertices, triangles: mesh.triangles.clone() }
}

/// An old part's surface as it lies to the new one.
fn back(mesh: &Mesh, fit: &Fit) -> Mesh {
    let vertices = mesh.vertices.iter().map(|p| fit.place.back(*p - Vec3::Z * fit.lift)).collect();
    Mesh { vertices, triangles: mesh.triangles.clone() }
}

/// What both allow beside the tolerance, mm: points along curves are looked at one by one.
const BESIDE: f64 = 0.05;

/// Volumes below this are none, mm³.
const NO_VOLUME: f64 = 0.05;

/// Numbers of either piece that are changed by lot, each with the most that it changes by, mm or degrees.
const NUMBERS: [(&str, f64, bool); 14] = [
    ("/base/width_at_top", 8.0, false),
    ("/base/length_at_top", 12.0, false),
    ("/base/lean", 0.6, true),
    ("/base/leg/splay", 0.6, true),
    ("/base/leg/thickness", 3.0, false),
    ("/base/leg/head", 6.0, false),
    ("/base/leg/foot", 6.0, false),
    ("/base/top_rail/depth", 6.0, false),
    ("/base/bottom_rail/depth", 6.0, false),
    ("/base/bottom_rail/height", 10.0, false),
    ("/base/apron/depth", 6.0, false),
    ("/base/apron/thickness", 3.0, false),
    ("/base/apron/inset", 3.0, false),
    ("/base/stretcher/depth", 6.0, false),
];

pub(super) fn number(file: &Json, path: &str) -> Option<f64> {
    let value = file.pointer(path)?;
    let words = value.as_str().map(|words| words.trim_end_matches("deg").trim_end_matches('°').trim().to_owned());
    value.as_f64().or_else(|| words?.parse().ok())
}

/// A file with one to three of its numbers changed, more often to less wood than to more.
fn drawn(file: &Json, draws: &mut Draws) -> Json {
    let known: Vec<(&str, f64, bool)> =
        NUMBERS.iter().copied().filter(|(path, ..)| number(file, path).is_some()).collect();
    let mut other = file.clone();
    for _ in 0..1 + draws.below(3) {
        let (path, most, is_angle) = draws.one_of(&known);
        let now = number(&other, path).expect("a number") + draws.between(-1.0, 0.6) * most;
        let value = if is_angle { json!(format!("{now} deg")) } else { json!(now) };
        other = changed(&other, &[(path, value)]);
    }
    other
}

/// A piece of a file; `None` where its numbers make none.
fn tried(file: &Json) -> Option<Snapshot> {
    let reading = fullsize::project::read("piece.json", file.to_string().as_bytes(), None, None);
    Snapshot::of(&fullsize::job::Job::new(reading.project?)).ok()
}

/// The wood alone: mortises are asked elsewhere.
pub(super) fn bare(wood: &Wood) -> Wood {
    Wood { worked: Vec::new(), numbers: Vec::new(), ..wood.clone() }
}

/// For so many pairs of a change and a part that exists, "keep", "trim" and "again" agree with what a foreign library finds of the solids:
/// where the part is kept or trimmed, nothing of the new one lies outside the old one with its surfaces moved out by the tolerance; where it is
/// kept, nothing of the old one lies outside the new one, likewise; where it is made again, something of the new one lies outside wherever it
/// is tried. `FULLSIZE_PAIRS=300` asks so many.
#[test]
fn a_foreign_library_finds_the_same_of_what_is_kept_trimmed_and_made_again() {
    let pairs: u32 = env::var("FULLSIZE_PAIRS").ok().and_then(|said| said.parse().ok()).unwrap_or(40);
    let files = [desk(), table()];
    let olds = files.each_ref().map(snapshot);
    let mut seen = [0; 3];
    for_all(pairs, |draws| {
        let index = draws.below(2);
        let Some(now) = tried(&drawn(&files[index], draws)) else { return };
        let old = bare(&olds[index].parts[draws.below(olds[index].parts.len())]);
        let Some(new) = now.parts.iter().find(|wood| wood.id == old.id).map(bare) else { return };
        let found = judged(&old, &new);
        let fit = found.fit.as_ref().expect("a fit");
        let (old_mesh, new_mesh) = (old.board.mesh(), new.board.mesh());
        let by = SHORT + BESIDE;
        let is_inside =
            |fit: &Fit, by: f64| outside(&laid(&new_mesh, fit), Vec3::default(), &swollen(&old, by)) < NO_VOLUME;
        let is_all_there = outside(&back(&old_mesh, fit), Vec3::default(), &swollen(&new, by)) < NO_VOLUME;
        let told = || format!("{}: {:?}; {:?} {:?}", old.id, found.steps, found.lacks, fit);
        match found.outcome() {
            Outcome::Keep => {
                seen[0] += 1;
                assert!(is_inside(fit, by) && is_all_there, "{}", told());
            }
            Outcome::Trim => {
                seen[1] += 1;
                let taken = outside(&back(&old_mesh, fit), Vec3::default(), &swollen(&new, SHORT - BESIDE));
                assert!(is_inside(fit, by) && taken >= NO_VOLUME, "{}", told());
            }
            Outcome::Again => {
                seen[2] += 1;
                assert!(!is_inside(fit, SHORT - BESIDE), "{}", told());
                for _ in 0..8 {
                    let place = fit.place.nudged([
                        draws.between(-4.0, 4.0),
                        draws.between(-2.0, 2.0),
                        draws.between(-0.3, 0.3),
                    ]);
                    let other = Fit { place, ..fit.clone() };
                    assert!(!is_inside(&other, SHORT - BESIDE), "{} {place:?}", told());
                }
            }
            Outcome::Rescue => panic!("nothing is worked: {}", told()),
        }
    });
    assert!(seen.iter().all(|count| *count * 12 > pairs), "of each kind some: {seen:?}");
}

/// Along this line of the desk's numbers nothing of its legs moves but the feet, in level planes 20 mm apart (plain geometry, as in `planted`).
#[test]
fn feet_that_come_lower_are_sawn_and_every_joint_stays() {
    let file = desk();
    let (lean, splay) = (6_f64.to_radians(), 9_f64.to_radians());
    let slope_height = (735.0 - 24.0) / lean.cos();
    let foot = 52.0 + (92.0 - 52.0) / slope_height * (20.0 / lean.cos());
    let lower = [
        ("/sizes/height", json!(715)),
        ("/base/leg/foot", json!(foot)),
        ("/base/bottom_rail/height", json!(100)),
        ("/base/stretcher/height", json!(110)),
    ];
    let leg = after(&file, "leg", &lower);
    assert_eq!(leg.outcome(), Outcome::Trim, "{leg:?}");
    let [Step::Saw { end, by: [least, most], on_face, saw: Some(saw), is_shoulder: false }] = leg.steps.as_slice()
    else {
        panic!("{leg:?}")
    };
    assert!(end == "foot" && (least.mm() - 20.0).abs() < 1e-3 && (most.mm() - 20.0).abs() < 1e-3, "{leg:?}");
    // On the face, which leans, two level planes 20 mm apart are farther apart: that is what a rule on it reads.
    let on_face = on_face.expect("a bevelled foot is told on the face");
    assert!(on_face.iter().all(|by| (by.mm() - 20.0 / lean.cos()).abs() < 1e-3), "{on_face:?}");
    // A foot is cut at the lean across its thickness, and in the face off the outside edge by the splay.
    assert!((saw.bevel.degrees().abs() - 6.0).abs() < 1e-6, "{saw:?}");
    assert!((saw.mitre.expect("an end").degrees() - splay.to_degrees()).abs() < 1e-6, "{saw:?}");
    for rest in ["top_rail", "bottom_rail", "apron", "stretcher", "top"] {
        let kept = after(&file, rest, &lower);
        assert_eq!(kept.outcome(), Outcome::Keep, "{rest}: {kept:?}");
    }
}

/// Rails of a narrower frame lose what its legs come nearer by, less the slant; rails of a wider one lack it.
#[test]
fn rails_are_trimmed_for_a_narrower_frame_and_made_again_for_a_wider_one() {
    let file = table();
    let top = number(&file, "/base/width_at_top").expect("a width");
    let narrower = after(&file, "top_rail", &[("/base/width_at_top", json!(top - 6.0))]);
    let lost: f64 = sawn(&narrower).iter().map(|(_, by)| by).sum();
    assert!(lost > 5.5 && lost < 6.0, "{narrower:?}");
    let wider = after(&file, "top_rail", &[("/base/width_at_top", json!(top + 6.0))]);
    assert_eq!(wider.outcome(), Outcome::Again, "{wider:?}");
    let missing: f64 = wider
        .lacks
        .iter()
        .map(|lack| match lack {
            Lack::At(end, by) if end.ends_with("end") => by.mm(),
            other => panic!("{other:?}"),
        })
        .sum();
    assert!(missing > 5.5 && missing < 6.0, "{wider:?}");
}

#[test]
fn thickness_is_planed_off_or_lacks() {
    let file = table();
    let old = number(&file, "/base/apron/thickness").expect("a thickness");
    let thinner = after(&file, "apron", &[("/base/apron/thickness", json!(old - 2.0))]);
    assert!(
        matches!(thinner.steps.first(), Some(Step::Plane { by, .. }) if (by.mm() - 2.0).abs() < 1e-9),
        "{thinner:?}"
    );
    let thicker = after(&file, "apron", &[("/base/apron/thickness", json!(old + 2.0))]);
    assert!(
        thicker.lacks.iter().any(|lack| matches!(lack, Lack::Thickness(by) if (by.mm() - 2.0).abs() < 1e-9)),
        "{thicker:?}"
    );
}

/// A mortise 0.4 mm off is pared, one 4 mm off is filled and cut again, and what is deeper is cut deeper; the wood itself stays.
#[test]
fn mortises_are_pared_filled_or_cut_deeper() {
    let file = desk();
    let near = number(&file, "/base/bottom_rail/height").expect("a height");
    let moved = |by: f64| after(&file, "leg", &[("/base/bottom_rail/height", json!(near + by))]);
    let far = moved(4.0);
    assert_eq!(far.outcome(), Outcome::Rescue, "{far:?}");
    assert!(
        far.steps
            .iter()
            .any(|step| matches!(step, Step::Fill { off, .. } if off.iter().any(|(by, _)| by.mm() > 3.5))),
        "{far:?}"
    );
    let little = moved(0.1);
    assert_eq!(little.outcome(), Outcome::Keep, "{little:?}");
}

/// A curve that is more hollow takes wood from its edge where it bows most, and one that is less hollow lacks it.
#[test]
fn a_curve_is_cut_deeper_and_not_filled() {
    let file = table();
    let path = "/base/leg/outside_edge/rise";
    let rise = number(&file, path).expect("a curved leg");
    let one = |by: f64| {
        let (old, new) = (snapshot(&file), snapshot(&changed(&file, &[(path, json!(rise + by))])));
        judged(&bare(part(&old, "leg")), &bare(part(&new, "leg")))
    };
    let hollow = one(-2.0);
    assert_eq!(hollow.outcome(), Outcome::Trim, "{hollow:?}");
    assert_eq!(one(2.0).outcome(), Outcome::Again);
}

/// A rail that came out 6 mm short is 6 mm short: what was drawn lacks that along it, square to the cut by the slant of the end (plain
/// geometry), whichever edge the rule was laid along.
#[test]
fn a_rail_that_is_measured_short_lacks_so_much() {
    let piece = snapshot(&desk());
    let rail = part(&piece, "top_rail");
    let lower = rail.solid.arrises.iter().find(|arris| rail.name_of(arris.source) == "lower edge").expect("an edge");
    let lengths = vec![("lower edge".to_owned(), mm(lower.face - 6.0))];
    let short = read(rail, Readings { lengths, ..Readings::default() });
    let found = judged(&short, rail);
    assert_eq!(found.outcome(), Outcome::Again, "{found:?}");
    let [Lack::At(end, by)] = found.lacks.as_slice() else { panic!("{found:?}") };
    let slant =
        rail.board.cuts.iter().find(|cut| cut.place.words() == end.as_str()).expect("the end").plane.normal().x.abs();
    assert!((by.mm() - 6.0 * slant).abs() < 1e-3, "{found:?}");
    // Another rail of the same piece that is 6 mm shorter is cut from it at once.
    let drawn = judged(rail, &short);
    assert!(drawn.outcome() != Outcome::Again && !drawn.steps.is_empty(), "{drawn:?}");
}

/// A rail whose lower edge was read 6 mm short goes with a frame whose legs stand 6 mm nearer (similar triangles: both legs move in parallel):
/// its ends, and the mortises in them, stand as they are wanted, whichever end came out short.
#[test]
fn a_rail_read_short_goes_with_a_frame_as_much_narrower() {
    for file in [desk(), table()] {
        let width = number(&file, "/base/width_at_top").expect("a width");
        let drawn = snapshot(&file);
        let narrower = snapshot(&changed(&file, &[("/base/width_at_top", json!(width - 6.0))]));
        for short_at in ["left end", "right end"] {
            let rail = part(&drawn, "top_rail");
            let lengths = vec![("lower edge".to_owned(), mm(corners(rail, "lower edge") - 6.0))];
            let short = read(rail, Readings { lengths, short_at: Some(short_at.to_owned()), ..Readings::default() });
            let found = judged(&short, part(&narrower, "top_rail"));
            // What holds the top stays where it was worked, and the top is marked through it.
            let is_none = |step: &Step| matches!(step, Step::MarkThrough(_));
            assert!(found.outcome() == Outcome::Keep && found.steps.iter().all(is_none), "{short_at}: {found:#?}");
        }
    }
}

/// A straight rule across the curve of an edge, from corner to corner, reads less than the curve is long: read as drawn, a part with a hollow
/// edge is as drawn, and one that is read shorter by 6 is sawn by 6 along itself (corners read back off the outline).
#[test]
fn a_rule_lies_across_the_curve_of_an_edge() {
    let piece = snapshot(&table());
    let rail = part(&piece, "top_rail");
    let across = corners(rail, "lower edge");
    assert!(long(rail, "lower edge") - across > 0.3, "the edge is curved");
    for by in [0.0, 6.0, -6.0] {
        let lengths = vec![("lower edge".to_owned(), mm(across - by))];
        let short = read(rail, Readings { lengths, ..Readings::default() });
        // The corner that moves goes on along the curve, whose last 6 mm rise by 0.4.
        assert!(
            (corners(&short, "lower edge") - (across - by)).abs() < 0.02,
            "{by}: {}",
            corners(&short, "lower edge")
        );
    }
}

/// The length of an edge along its part from corner to corner on the face side, mm.
fn corners(wood: &Wood, edge: &str) -> f64 {
    let edge = wood.surfaces().into_iter().find(|source| wood.name_of(*source) == edge).expect("an edge");
    let points: Vec<Point> = wood.solid.face.part(edge).flat_map(|piece| [piece.start(), piece.end()]).collect();
    let [left, right] = [f64::min, f64::max].map(|pick| points.iter().map(|p| p.x).reduce(pick).expect("points"));
    right - left
}

/// The length of an edge of a part along its face, mm.
fn long(wood: &Wood, edge: &str) -> f64 {
    let arris = wood.solid.arrises.iter().find(|arris| wood.name_of(arris.source) == edge);
    arris.expect("an edge").face
}

/// A rail whose lower edge was read so much longer than it was drawn is sawn by all of that, square to the slant of its end.
#[test]
fn a_rail_read_long_is_sawn_by_all_of_it() {
    let piece = snapshot(&desk());
    let rail = part(&piece, "top_rail");
    for by in [3.0, 20.0, 90.0] {
        let lengths = vec![("lower edge".to_owned(), mm(long(rail, "lower edge") + by))];
        let found = judged(&read(rail, Readings { lengths, ..Readings::default() }), rail);
        let slant = rail.board.cuts[0].plane.normal().x.abs();
        let sawn = sawn(&found);
        let all: f64 = sawn.iter().map(|(_, most)| most).sum();
        assert!((all - by * slant).abs() < 1e-3, "{by}: {found:#?}");
    }
}

/// Widths read at both ends of a part with curved edges turn its edge: where the head lacks 10 mm it lacks them, however much the foot has over.
#[test]
fn widths_at_both_ends_of_a_curved_leg_turn_its_edge() {
    let piece = snapshot(&table());
    let leg = part(&piece, "leg");
    let wide = |end: &str| {
        let source = leg.surfaces().into_iter().find(|source| leg.name_of(*source) == end).expect("an end");
        leg.solid.arrises.iter().find(|arris| arris.source == source).expect("an arris").face
    };
    let widths = vec![("head".to_owned(), mm(wide("head") - 10.0)), ("foot".to_owned(), mm(wide("foot") + 10.0))];
    let found = judged(&read(leg, Readings { widths, ..Readings::default() }), leg);
    assert_eq!(found.outcome(), Outcome::Again, "{found:#?}");
    let most = found.lacks.iter().map(|lack| if let Lack::At(_, by) = lack { by.mm() } else { 0.0 });
    // Laid a little aside and turned, it lacks half of it at either edge at the least.
    assert!(most.fold(0.0, f64::max) > 4.0, "{found:#?}");
}

/// A leg that tapers in its thickness and is wanted thicker at the foot lacks as much there, and thinner it is planed by as much (plain
/// geometry: the taper turns about its upper end).
#[test]
fn a_taper_across_the_thickness_is_looked_at() {
    let stool = |foot: f64| {
        json!({
            "fullsize": 1, "title": "Stool", "units": "mm",
            "base": { "kind": "splayed_legs", "height": 450, "length_at_top": 320, "width_at_top": 300, "splay_front": 5, "splay_side": 5,
                "leg": { "width": 40, "thickness": 40, "taper": { "from": 120, "foot_width": 28, "foot_thickness": foot } },
                "apron": { "thickness": 20, "depth": 60, "inset": 4 } }
        })
    };
    let leg = |foot: f64| bare(part(&snapshot(&stool(foot)), "leg"));
    let thicker = judged(&leg(28.0), &leg(34.0));
    assert_eq!(thicker.outcome(), Outcome::Again, "{thicker:#?}");
    let thinner = judged(&leg(34.0), &leg(28.0));
    assert_eq!(thinner.outcome(), Outcome::Trim, "{thinner:#?}");
    let planed = thinner.steps.iter().filter_map(|step| match step {
        Step::Edge { by: [_, most], .. } => Some(most.mm()),
        _ => None,
    });
    let most = planed.fold(0.0, f64::max);
    assert!(most > 5.5 && most < 6.1, "{thinner:#?}");
}

/// What goes in through more than one surface is as deep as from the side through which it goes, and where it is wanted deeper it is cut
/// deeper and stays (a button's tongue is deeper by half of what more the top moves).
#[test]
fn a_button_mortise_is_cut_deeper_and_not_filled() {
    let with = |dampest: f64| {
        let mut file = table();
        file["top"]["moisture"] = json!({ "today": 8, "driest": 6, "dampest": dampest });
        file["top"]["species"] = json!("white oak");
        file["top"]["fasteners"] = json!({ "by": "buttons" });
        snapshot(&file)
    };
    let (old, new) = (with(11.0), with(14.0));
    let mut deeper = 0;
    for id in ["apron", "top_rail"] {
        let (made, wanted) = (part(&old, id), part(&new, id));
        let thick = made.board.thickness;
        let buttons = made.worked.iter().filter(|one| one.holds_top());
        assert!(buttons.clone().all(|one| one.depth().is_some_and(|depth| depth < thick)), "{id}");
        let found = judged(made, wanted);
        assert!(!found.steps.iter().any(|step| matches!(step, Step::Fill { .. })), "{id}: {found:#?}");
        deeper += found.steps.iter().filter(|step| matches!(step, Step::Deepen { .. })).count();
    }
    assert!(deeper > 0);
}

/// Of a leg that is wanted shorter as much is sawn off the foot as it is shorter, and what is worked in it stays but what its own numbers
/// move: few things are moved much rather than all a little.
#[test]
fn a_shorter_leg_moves_as_little_of_its_joints_as_can_be() {
    let file = table();
    let height = number(&file, "/base/height").expect("a height");
    let found = after(&file, "leg", &[("/base/height", json!(height - 10.0))]);
    let ends: Vec<&str> = sawn(&found).into_iter().map(|(end, _)| end).collect();
    assert_eq!(ends, ["foot"], "{found:#?}");
    let fills = found.steps.iter().filter(|step| matches!(step, Step::Fill { .. })).count();
    assert!(fills <= 1, "the bottom rail's alone: {found:#?}");
}

/// Sawn off at an end, a rail has the mortise in it less deep by as much as that goes along it, and is told to be cut deeper by that; where no
/// depth is left, it is cut anew.
#[test]
fn what_is_sawn_off_an_end_goes_from_the_mortise_in_it() {
    let file = desk();
    let width = number(&file, "/base/width_at_top").expect("a width");
    for by in [10.0, 130.0] {
        let narrower = changed(&file, &[("/base/width_at_top", json!(width - by))]);
        let (old, new) = (snapshot(&file), snapshot(&narrower));
        let (made, wanted) = (part(&old, "top_rail"), part(&new, "top_rail"));
        let found = judged(made, wanted);
        let deeper: Vec<f64> = found
            .steps
            .iter()
            .filter_map(|step| match step {
                Step::Deepen { by, .. } => Some(by.mm()),
                _ => None,
            })
            .collect();
        let cut = found.steps.iter().filter(|step| matches!(step, Step::Cut(_))).count();
        // Legs that move along the rail take all of it; it may be sawn off one end. Each mortise goes in along its own axis.
        let axis = made.worked.iter().find(|one| one.of == "top rail tenon").expect("a mortise").frame().w();
        let lost = by * axis.x.abs();
        if by < 50.0 {
            let all: f64 = deeper.iter().sum();
            assert!((all - lost).abs() < 0.05 && deeper.len() == sawn(&found).len(), "{lost}: {found:#?}");
        } else {
            assert!(deeper.is_empty() && cut == sawn(&found).len() && cut > 0, "{found:#?}");
        }
    }
}

/// Every part of every piece stays good where nothing changes.
#[test]
fn nothing_is_to_be_done_where_nothing_changes() {
    for file in [desk(), table()] {
        let piece = snapshot(&file);
        for wood in &piece.parts {
            let found = judged(wood, wood);
            assert_eq!((found.outcome(), found.steps.len()), (Outcome::Keep, 0), "{}: {found:?}", wood.id);
        }
    }
}
