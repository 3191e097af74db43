//! What saves a part that exists, held against plain geometry: a planer that takes everything above a plane over its bed, similar
//! triangles, cuts of a rectangle.

use super::{changed, table};
use fullsize::board::Source;
use fullsize::change::{
    Kept, MadeName, Patch, Priced, Rescue, SHORT, Snapshot, Step, Verdict, Verdicts, Wedge, Wood, verdict,
};
use fullsize::geometry::{Plane, Point3, Vec3};
use fullsize::job::Job;
use fullsize::page::{Role, Shape};
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

/// Across the section an edge is a line. At its new slant, which is read off the wanted section, it is pushed into the wood until it lies
/// outside of neither old arris: the arris that it does not then pass through has lost what is told. The blade tilts as the new line does.
#[test]
fn an_edge_bevelled_again_loses_what_its_thickness_makes_of_it() {
    let mut told = 0;
    for (was, is) in [(6.0, 7.5), (8.0, 6.0), (5.0, 8.0)] {
        let (made, wanted) = (wood(&at(was), "apron"), wood(&at(is), "apron"));
        for Priced { rescue, cost, .. } in &judged(&made, &wanted).rescues {
            let Rescue::Rebevel { lost: found, edge, saw, .. } = rescue else { continue };
            let upper = usize::from(edge == "upper edge");
            // How far in the arrises of the edge on the face and on the far side lie.
            let inward = if upper == 1 { -1.0 } else { 1.0 };
            let depths = |wood: &Wood| [upper, 2 + upper].map(|arris| inward * section(wood)[arris][0]);
            let [old, new] = [depths(&made), depths(&wanted)];
            let push = (0..2).map(|side| old[side] - new[side]).fold(f64::MIN, f64::max);
            let lost = (0..2).map(|side| new[side] + push - old[side]).fold(f64::MIN, f64::max);
            assert!(lost > 0.1 && (found.mm() - lost).abs() < 0.01, "{found:?} for {lost}");
            // The far side is longer where its arris lies farther out.
            let tilt = (new[0] - new[1]).atan2(wanted.board.thickness).to_degrees();
            let bevel = saw.expect("a setting").bevel.degrees();
            assert!((bevel - tilt).abs() < 0.02, "{bevel} for {tilt}");
            assert!(cost.away > 0.0 && cost.glue_ups == 0);
            told += 1;
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
                Rescue::Patched(all) => Some(all),
                _ => None,
            })
            .flatten()
            .filter_map(|patch| match patch {
                Patch::Pack { thickness, size, is_veneer, is_end, .. } => {
                    assert!(is_end, "{patch:?}");
                    Some((thickness.mm(), size.map(|side| side.mm()), *is_veneer))
                }
                Patch::Loose { .. } => None,
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

/// What a part lacks is put on all at once, or it is not saved: a rail short at both ends and in thickness takes three pieces, and the wood
/// that they hold is what the part lacks.
#[test]
fn what_a_part_lacks_is_put_on_together() {
    let file = table();
    let made = wood(&job(&file), "top_rail");
    let width = file.pointer("/base/width_at_top").and_then(Json::as_f64).expect("a width");
    let more = [("/base/width_at_top", json!(width + 6.0)), ("/base/top_rail/thickness", json!(32))];
    let wanted = wood(&job(&changed(&file, &more)), "top_rail");
    let verdict = judged(&made, &wanted);
    let patched = |one: &Priced| match &one.rescue {
        Rescue::Patched(all) => Some(all.len()),
        _ => None,
    };
    let all: Vec<usize> = verdict.rescues.iter().filter_map(patched).collect();
    assert_eq!(all, [3], "{verdict:#?}");
    assert_eq!(verdict.rescues.len(), 1, "nothing else is offered beside it: {verdict:#?}");
    let [was, is] =
        [&made, &wanted].map(|wood| wood.solid.blank.width() * wood.solid.blank.height() * wood.board.thickness);
    let added = verdict.rescues[0].cost.added;
    assert!((added - (is - was)).abs() < 0.1 * (is - was), "{added} added, {} lacking", is - was);
}

/// The wedge of a part with slanting ends is as high as its whole depth makes it: the sine of the turn on the far side, arris to arris.
#[test]
fn a_wedge_is_as_high_as_the_whole_depth_makes_it() {
    let side = |slope: f64| {
        let file = json!({
            "fullsize": 1, "title": "Tub", "units": "mm",
            "base": { "kind": "splayed_box", "sides": 4, "side": 400, "depth": 300, "thickness": 20, "slope": slope }
        });
        wood(&job(&file), "side")
    };
    let made = side(12.0);
    let wedge = Wedge::of(&made, 1_f64.to_radians()).expect("a wedge");
    let far = made.solid.far.path().bounding_box().expect("a far side");
    for height in wedge.heights {
        assert!((height.mm() - far.height() * 1_f64.to_radians().sin()).abs() < 0.05, "{height:?} of {far:?}");
    }
}

/// A part too short for a planer says so, and a long one does not.
#[test]
fn a_short_part_is_planed_by_hand() {
    for (length, by_hand) in [(350.0, true), (1480.0, false)] {
        let job = |slope: f64| {
            let slope = json!(format!("{slope} deg"));
            job(&changed(&table(), &[("/base/apron/slope", slope), ("/base/length_at_top", json!(length))]))
        };
        let verdict = judged(&wood(&job(6.0), "apron"), &wood(&job(7.5), "apron"));
        let wedge = wedge(&verdict).unwrap_or_else(|| panic!("{verdict:#?}"));
        assert_eq!(!wedge.is_long_enough(), by_hand, "{wedge:?}");
    }
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

/// Lengths and angles of a polygon's corners, in its order.
fn sides(corners: &[Point3], normal: Vec3) -> Vec<[f64; 2]> {
    let count = corners.len();
    let to = |from: usize, to: usize| corners[to % count] - corners[from % count];
    let area: f64 =
        (0..count).map(|k| corners[k].to_vec().cross(corners[(k + 1) % count].to_vec()).dot(normal)).sum();
    let ordered: Vec<usize> = if area > 0.0 { (0..count).collect() } else { (0..count).rev().collect() };
    let side = |k: usize| {
        let [a, b, c] = [k, k + 1, k + 2].map(|k| ordered[k % count]);
        let (one, next) = (to(a, b), to(b, c));
        [one.length(), one.dot(next) / one.length() / next.length()]
    };
    (0..count).map(side).collect()
}

/// Packing for the end of a part that came out short is drawn as the end is seen from outside: gone round anticlockwise, its sides and corners
/// follow each other on paper as they do on the wood. Mirrored they do not, or the test would tell nothing.
#[test]
fn packing_is_drawn_as_the_wood_is_seen_from_outside() {
    let file = table();
    let mut told = 0;
    for (id, wider) in [("top_rail", "/base/width_at_top"), ("apron", "/base/length_at_top")] {
        let before = file.pointer(wider).and_then(Json::as_f64).expect("a number");
        let made = wood(&job(&file), id);
        let mut now = changed(&file, &[(wider, json!(before + 6.0))]);
        now["made"] = json!({ id: { "code": made.revision } });
        let mut kept = Kept::default();
        kept.keep(&made, &[]);
        let job = job(&now);
        let notation = Notation::of(Units::Mm);
        let verdicts = Verdicts::of(&job.project().made, &kept, &Snapshot::of(&job).expect("a piece"), &notation);
        for pattern in verdicts.shims(&notation) {
            let Some(index) = (0..made.board.cuts.len()).find(|index| {
                pattern.part.name == format!("packing, {} of {}", made.name_of(Source::Cut(*index)), made.name)
            }) else {
                continue;
            };
            let rim: Vec<Point3> = pattern
                .items
                .iter()
                .filter(|item| item.role == Role::Outline)
                .filter_map(|item| match &item.shape {
                    Shape::Stroke { path, .. } => Some(path.nodes()),
                    _ => None,
                })
                .flatten()
                .map(|p| Point3::new(p.x, p.y, 0.0))
                .collect();
            let end = &made.solid.ends[index];
            let on_wood: Vec<Point3> = end.corners().into_iter().map(|(corner, ..)| corner).collect();
            let on_paper = sides(&rim, Vec3::Z);
            let normal = made.board.cuts[index].plane.normal();
            let goes_with = |wood: &[[f64; 2]]| {
                let near = |a: &[f64; 2], b: &[f64; 2]| (a[0] - b[0]).abs() < 0.01 && (a[1] - b[1]).abs() < 1e-4;
                (0..wood.len())
                    .any(|turn| on_paper.iter().zip(wood.iter().cycle().skip(turn)).all(|(a, b)| near(a, b)))
            };
            assert_eq!(on_paper.len(), on_wood.len());
            assert!(goes_with(&sides(&on_wood, normal)), "{}: {on_paper:?}", pattern.part.name);
            let mirrored: Vec<Point3> = on_wood.iter().map(|p| Point3::new(p.x, p.y, -p.z)).collect();
            let flipped = Vec3::new(normal.x, normal.y, -normal.z);
            assert!(!goes_with(&sides(&mirrored, flipped)), "{} is its own mirror image", pattern.part.name);
            assert!(pattern.part.name.contains("end") && pattern.make.starts_with("make "), "{}", pattern.make);
            told += 1;
        }
    }
    assert!(told > 1, "{told}");
}

/// The wedge is drawn as its section: the part lies on its slope from arris to arris, turned by as much as its face is to turn.
#[test]
fn a_wedge_is_drawn_as_its_section() {
    let made = wood(&at(6.0), "apron");
    let mut kept = Kept::default();
    kept.keep(&made, &[]);
    let mut file = changed(&table(), &[("/base/apron/slope", json!("7.5 deg"))]);
    file["made"] = json!({ "apron": { "code": made.revision } });
    let (job, notation) = (job(&file), Notation::of(Units::Mm));
    let verdicts = Verdicts::of(&job.project().made, &kept, &Snapshot::of(&job).expect("a piece"), &notation);
    let drawn = verdicts.shims(&notation);
    let pattern = drawn.iter().find(|one| one.part.name.starts_with("wedge under ")).expect("a wedge");
    let outline = pattern.items.iter().find_map(|item| match &item.shape {
        Shape::Stroke { path, .. } if item.role == Role::Outline => path.bounding_box(),
        _ => None,
    });
    let outline = outline.expect("an outline");
    // From one far arris to the other.
    let [_, _, low, high] = section(&made);
    let slope = outline.width().hypot(outline.height());
    assert!((slope - (high[0] - low[0])).abs() < 0.01, "{slope}");
    assert!((outline.height().atan2(outline.width()).to_degrees() - 1.5).abs() < 0.02, "{outline:?}");
}

/// A way in which the part stays as its joints hold it asks for nothing besides, and one that bevels an edge again does not plane that edge once
/// more.
#[test]
fn no_way_asks_for_what_it_does_itself() {
    let mut seen = [0, 0];
    for (was, is) in [(5.0, 8.0), (8.0, 5.0), (6.0, 9.0)] {
        let verdict = judged(&wood(&at(was), "apron"), &wood(&at(is), "apron"));
        for Priced { rescue, then, .. } in &verdict.rescues {
            match rescue {
                Rescue::Wedge(_) => {
                    assert_eq!(then, &[]);
                    seen[0] += 1;
                }
                Rescue::Rebevel { edge: own, .. } => {
                    assert!(
                        !then.iter().any(|step| matches!(step, Step::Edge { edge, .. } if edge == own)),
                        "{then:?}"
                    );
                    assert_eq!(then.len() + usize::from(is_planed(&verdict, own)), verdict.steps.len());
                    seen[1] += 1;
                }
                Rescue::Patched(_) => assert_eq!(then, &verdict.steps),
            }
        }
    }
    assert!(seen.iter().all(|count| *count > 0), "{seen:?}");
}

fn is_planed(verdict: &Verdict, own: &str) -> bool {
    verdict.steps.iter().any(|step| matches!(step, Step::Edge { edge, .. } if edge == own))
}
