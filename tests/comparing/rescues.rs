//! What saves a part that exists, held against plain geometry: a planer that takes everything above a plane over its bed, similar
//! triangles, cuts of a rectangle.

use super::{changed, table};
use fullsize::change::{MadeName, PLANED_SAFELY, Priced, Rescue, SHORT, Snapshot, Verdict, Wedge, Wood, verdict};
use fullsize::geometry::{Plane, Point3, Vec3};
use fullsize::job::Job;
use fullsize::project::read;
use fullsize::units::{Notation, Units};
use serde_json::{Value as Json, json};

fn job(file: &Json) -> Job {
    let reading = read("piece.json", file.to_string().as_bytes(), None, None);
    Job::new(reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings)))
}

fn wood(job: &Job, id: &str) -> Wood {
    let snapshot = Snapshot::of(job).expect("a piece");
    snapshot.parts.into_iter().find(|wood| wood.id == id).expect("such a part")
}

fn judged(made: &Wood, new: &Wood) -> Verdict {
    let name = MadeName { part: "part".to_owned(), code: "code".to_owned(), only: Vec::new(), measured: false };
    verdict(made, new, name, SHORT, &Notation::of(Units::Mm))
}

fn wedge(verdict: &Verdict) -> Option<&Wedge> {
    verdict.rescues.iter().find_map(|one| match &one.rescue {
        Rescue::Wedge(wedge) => Some(wedge),
        _ => None,
    })
}

/// A section of a part near its middle: y and z of the arrises, face lower and upper, far lower and upper.
fn section(wood: &Wood) -> [[f64; 2]; 4] {
    let arrises = |path: &fullsize::geometry::Path, z: f64| {
        let (low, high) = path
            .nodes()
            .into_iter()
            .map(|p| p.y)
            .fold((f64::MAX, f64::MIN), |(low, high), y| (low.min(y), high.max(y)));
        [[low, z], [high, z]]
    };
    let [a, b] = arrises(wood.solid.face.path(), 0.0);
    let [c, d] = arrises(wood.solid.far.path(), -wood.board.thickness);
    [a, b, c, d]
}

/// The table with its aprons at an angle.
fn at(slope: f64) -> Job {
    job(&changed(&table(), &[("/base/apron/slope", json!(format!("{slope} deg")))]))
}

/// The board lies on its far side, one far arris on the bed and the other on the wedge; the planer takes all above the arris that is kept. The
/// face that it leaves is the wanted one in the world, and what is left is as thick as told.
#[test]
fn a_planer_leaves_the_wanted_face_of_a_part_on_its_wedge() {
    let mut ways = [0, 0];
    for (was, is) in [(6.0, 7.5), (8.0, 6.0), (5.0, 8.0), (9.0, 8.5)] {
        let (old, new) = (at(was), at(is));
        let (made, wanted) = (wood(&old, "apron"), wood(&new, "apron"));
        let verdict = judged(&made, &wanted);
        let wedge = wedge(&verdict).unwrap_or_else(|| panic!("{was} to {is}: {verdict:#?}"));
        let [face_low, face_high, far_low, far_high] = section(&made);
        // Which far arris stands on the wedge is told by the edge's name; the board is turned about the other.
        let lifts_upper = wedge.under == "upper edge";
        let (pivot, lifted, kept) =
            if lifts_upper { (far_low, far_high, face_low) } else { (far_high, far_low, face_high) };
        let across = (lifted[0] - pivot[0]).abs();
        let height = wedge.heights[0].mm();
        // Similar triangles: the wedge is to the far side's width as the sine of the tilt.
        let tilt = (height / across).asin();
        assert!((tilt.to_degrees() - wedge.turn.degrees()).abs() < 1e-6, "{tilt} {wedge:?}");
        let turn = if lifts_upper { tilt } else { -tilt };
        // As it stands on bed and wedge, y across and z up.
        let stood = |[y, z]: [f64; 2]| {
            let (y, z) = (y - pivot[0], z - pivot[1]);
            [y * turn.cos() - z * turn.sin(), y * turn.sin() + z * turn.cos()]
        };
        assert!((stood(lifted)[1] - height).abs() < 1e-9 && stood(lifted)[1] > 0.0, "{:?}", stood(lifted));
        let plane = stood(kept)[1];
        // Everything above is taken, so nothing stands higher; the other arris of the face did.
        let other = if lifts_upper { face_high } else { face_low };
        assert!(stood(other)[1] > plane, "there is something to plane");
        let left = plane - stood(lifted)[1];
        assert!((left - wedge.left.mm()).abs() < 1e-6, "left {left}, told {wedge:?}");
        // The planed face in the board's axes, then in the world, beside the face of the apron as it is wanted.
        let normal = Vec3::new(0.0, turn.sin(), turn.cos());
        let face = |job: &Job, normal: Vec3| {
            let piece = job.piece().expect("no stop").expect("a piece");
            let board = piece.boards.iter().find(|board| board.id.as_str() == "apron").expect("an apron");
            let plane = Plane::through(Point3::ORIGIN, normal).expect("a plane");
            board.copies[0].placement.plane_to_world(&plane).normal()
        };
        let off = (face(&old, normal) - face(&new, Vec3::Z)).length().to_degrees();
        assert!(off < 0.02, "{was} to {is}: {off} degrees off the wanted face");
        ways[usize::from(lifts_upper)] += 1;
    }
    assert!(ways.iter().all(|count| *count > 0), "both ways: {ways:?}");
}

/// What an edge that is bevelled again takes off the depth: a triangle on the thickness.
#[test]
fn an_edge_bevelled_again_loses_what_its_thickness_makes_of_it() {
    let mut told = 0;
    for (was, is) in [(6.0, 7.5), (8.0, 6.0), (5.0, 8.0)] {
        let (made, wanted) = (wood(&at(was), "apron"), wood(&at(is), "apron"));
        let bevel = |wood: &Wood| {
            let cut = wood.board.cuts.iter().find(|cut| cut.role == fullsize::board::Role::Edge).expect("an edge");
            let n = cut.plane.normal();
            n.z / n.y.abs()
        };
        let lost = made.board.thickness * (bevel(&wanted) - bevel(&made)).abs();
        for Priced { rescue, cost } in &judged(&made, &wanted).rescues {
            if let Rescue::Rebevel { lost: found, .. } = rescue {
                assert!((found.mm() - lost).abs() < 1e-6, "{found:?} for {lost}");
                assert!(cost.away > 0.0 && cost.glue_ups == 0);
                told += 1;
            }
        }
    }
    assert!(told > 0);
}

/// A rail 1 mm short takes veneer at an end, one 6 mm short a piece; what is cheaper in work stands first.
#[test]
fn a_short_rail_is_packed_at_its_ends() {
    let file = table();
    let width = file.pointer("/base/width_at_top").and_then(Json::as_f64).expect("a width");
    let made = wood(&job(&file), "top_rail");
    for (by, veneer) in [(1.0, true), (6.0, false)] {
        let wider = job(&changed(&file, &[("/base/width_at_top", json!(width + by))]));
        let verdict = judged(&made, &wood(&wider, "top_rail"));
        let packs: Vec<(f64, [f64; 2], bool)> = verdict
            .rescues
            .iter()
            .filter_map(|one| match &one.rescue {
                Rescue::Pack { thickness, size, is_veneer, .. } => {
                    Some((thickness.mm(), size.map(|side| side.mm()), *is_veneer))
                }
                _ => None,
            })
            .collect();
        assert!(!packs.is_empty(), "{verdict:#?}");
        // Both ends together lack it; the slant of the ends takes a little.
        let all: f64 = packs.iter().map(|pack| pack.0).sum();
        assert!(all > 0.9 * by && all < 1.01 * by, "{packs:?}");
        assert_eq!(packs.iter().all(|pack| pack.2), veneer, "{packs:?}");
        // As large as the rail's section, which its schedule tells: depth along the end, thickness across.
        for (_, [long, wide], _) in packs {
            let depth = file.pointer("/base/top_rail/depth").and_then(Json::as_f64).expect("a depth");
            assert!(long >= 0.9 * depth && (wide - made.board.thickness).abs() < 0.1 * wide, "{long} by {wide}");
        }
        let work: Vec<u32> = verdict.rescues.iter().map(|one| one.cost.set_ups + one.cost.glue_ups).collect();
        assert!(work.windows(2).all(|pair| pair[0] <= pair[1]), "{work:?}");
    }
}

/// A part too short for a planer says so.
#[test]
fn a_short_part_is_planed_by_hand() {
    let made = wood(&at(6.0), "apron");
    let wedge = Wedge::of(&made, 0.02).expect("a wedge");
    assert!(wedge.is_long_enough() && wedge.length.mm() > PLANED_SAFELY);
    let short = Wedge { length: fullsize::units::Length::from_mm(250.0), ..wedge };
    assert!(!short.is_long_enough());
}

/// The command tells them, with what they cost.
#[test]
fn what_saves_a_part_is_told_with_its_cost() {
    let shop = super::shop();
    super::ran(&shop, &["made", "table.json", "apron"]);
    super::ran(&shop, &["set", "table.json", "base.apron.slope=4 deg"]);
    let told = crate::common::shop::text(&super::ran(&shop, &["made", "table.json"]).stdout);
    assert!(told.contains("on a wedge as long as the part") && told.contains("2 set-ups"), "{told}");
    assert!(told.contains("manual"), "{told}");
}
