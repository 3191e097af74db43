//! What was read on parts that exist, and what that makes of them: held against plain geometry.

use super::made::{bare, judged, mm, number, part, read};
use super::{changed, desk, snapshot, table};
use fullsize::board::Source;
use fullsize::change::{Lack, Outcome, Patch, Rescue, Step, Wood, Worked, measured};
use fullsize::finding::Place;
use fullsize::geometry::{Point3, Vec3};
use fullsize::model::made::{MadePart, Readings};
use fullsize::units::{Angle, Length};
use serde_json::json;

fn all(name: &str, mm: f64) -> Vec<(String, Length)> {
    vec![(name.to_owned(), Length::from_mm(mm))]
}

/// Along the straight lower edge of the apron a cut square to its end by `by` takes `by` over the sine between the two: so much shorter it
/// reads. Told by what was trimmed, by the length that is left or by both, the same wood is left.
#[test]
fn a_length_that_is_left_is_not_taken_off_twice() {
    let (piece, by) = (snapshot(&table()), 20.0);
    let apron = part(&piece, "apron");
    let lower = apron.surfaces().into_iter().find(|source| apron.name_of(*source) == "lower edge").expect("an edge");
    let ends: Vec<_> = apron.solid.face.part(lower).flat_map(|piece| [piece.start(), piece.end()]).collect();
    let (from, to) = (ends[0], ends[ends.len() - 1]);
    let left = apron.surfaces().into_iter().find(|source| apron.name_of(*source) == "left end");
    let Some(Source::Cut(index)) = left else { panic!("a sawn end") };
    let out = apron.board.cuts[index].plane.normal();
    let along = (to - from) / from.distance(to);
    let shorter = by / (out.x * along.x + out.y * along.y).abs();
    let length = all("lower edge", from.distance(to) - shorter);
    // A rule reads it on the face.
    let trimmed = all("left end", by / out.x.hypot(out.y));
    for read_as in [
        Readings { trimmed: trimmed.clone(), ..Readings::default() },
        Readings { lengths: length.clone(), short_at: Some("left end".to_owned()), ..Readings::default() },
        Readings { trimmed: trimmed.clone(), lengths: length.clone(), ..Readings::default() },
    ] {
        let wood = read(apron, read_as.clone());
        let moved = apron.board.cuts[index].plane.offset() - wood.board.cuts[index].plane.offset();
        // The angles are held as drawn by a weight beside the reading.
        assert!((moved - by).abs() < 1e-4, "{moved}: {read_as:?}");
        let lacks: f64 = judged(&wood, apron)
            .lacks
            .iter()
            .map(|lack| if let Lack::At(_, by) = lack { by.mm() } else { 0.0 })
            .sum();
        assert!((lacks - by).abs() < 0.05, "{lacks}: {read_as:?}");
    }
}

/// What may be short anyway is sawn off nobody's end, and no mortise in it is told deeper for it.
#[test]
fn no_mortise_is_told_deeper_for_what_is_not_sawn() {
    let piece = snapshot(&table());
    let rail = part(&piece, "bottom_rail");
    let drawn = rail.surfaces().into_iter().find(|source| rail.name_of(*source) == "lower edge").expect("an edge");
    let arris = rail
        .solid
        .arris(drawn)
        .expect("an arris")
        .chord
        .map_or_else(|| rail.solid.arris(drawn).expect("an arris").face, |(face, _)| face);
    let mut sawn = 0;
    for longer in [0.2, 0.29, 0.31, 0.45, 0.6, 2.0] {
        let wood = read(rail, Readings { lengths: all("lower edge", arris + longer), ..Readings::default() });
        let steps = judged(&wood, rail).steps;
        let saws = steps.iter().any(|step| matches!(step, Step::Saw { .. }));
        let deepens = steps.iter().any(|step| matches!(step, Step::Deepen { .. }));
        assert!(saws || !deepens, "{longer}: {steps:?}");
        sawn += usize::from(saws && deepens);
    }
    assert!(sawn > 0, "what is sawn goes from the depth");
}

/// The corners of a mouth about its middle.
fn mouth(worked: &Worked) -> Vec<Vec3> {
    worked.corners().into_iter().take(4).map(|corner| corner - worked.mouth()).collect()
}

/// An apron's slope is its line in the plane of the leg's inside face: at another slope its mortises in the leg are turned in that face by the
/// difference. They are filled and cut again, and told so: turned that way about their middles, the old mouths are the new ones, and turned
/// the other way they are not.
#[test]
fn a_mortise_that_is_turned_in_its_face_is_told_by_its_turn() {
    let at = |slope: f64| {
        let piece = snapshot(&changed(&table(), &[("/base/apron/slope", json!(format!("{slope} deg")))]));
        part(&piece, "leg").clone()
    };
    for (was, is) in [(6.0, 10.0), (9.0, 7.0)] {
        let (made, new) = (at(was), at(is));
        let steps = judged(&made, &new).steps;
        let turns: Vec<f64> = steps
            .iter()
            .filter_map(|step| if let Step::Fill { rolled, .. } = step { *rolled } else { None })
            .collect();
        assert_eq!(turns.len(), 2, "two mortises an apron: {steps:?}");
        for by in turns {
            assert!((by.abs() - f64::abs(is - was)).abs() < 0.05, "{was} to {is}: {by}");
            let of = |wood: &Wood| {
                let is_apron = |one: &&Worked| one.of == "apron tenon" && one.number == 1;
                wood.worked.iter().find(is_apron).expect("a mortise").clone()
            };
            let (old, wanted) = (of(&made), of(&new));
            // Clockwise for who looks into it: right-handed about the way in.
            let axis = old.frame().w();
            let off = |degrees: f64| {
                let (sin, cos) = degrees.to_radians().sin_cos();
                let turned = |v: Vec3| v * cos + axis.cross(v) * sin + axis * (axis.dot(v) * (1.0 - cos));
                let nearest = |v: Vec3| {
                    mouth(&wanted).into_iter().map(|other| (turned(v) - other).length()).fold(f64::MAX, f64::min)
                };
                mouth(&old).into_iter().map(nearest).fold(0.0, f64::max)
            };
            assert!(off(by) < 0.1 && off(-by) > 0.5, "{was} to {is}: {by}, {} and {}", off(by), off(-by));
        }
    }
}

/// Three lengths fix an end whatever its angles are; a fourth that contradicts them is told with what it is off.
#[test]
fn three_lengths_fix_an_end_and_a_fourth_checks_them() {
    let piece = snapshot(&desk());
    let rail = part(&piece, "bottom_rail");
    let of =
        |edge: &str| rail.solid.arrises.iter().find(|arris| rail.name_of(arris.source) == edge).expect("an edge");
    let (upper, lower) = (of("upper edge"), of("lower edge"));
    let lengths = |lengths: [f64; 2]| {
        ["upper edge", "lower edge"].into_iter().zip(lengths).map(|(name, by)| (name.to_owned(), mm(by))).collect()
    };
    let made = |more: f64| MadePart {
        name: rail.id.clone(),
        place: Place::default(),
        part: rail.id.clone(),
        code: rail.revision.clone(),
        only: Vec::new(),
        read: Readings {
            lengths: lengths([upper.face - 1.0, lower.face - 3.0]),
            far_lengths: lengths([upper.far - 2.0, lower.far - 4.0 + more]),
            ..Readings::default()
        },
        worked: true,
        tolerance: None,
    };
    let plane = measured(rail, &made(0.0)).expect("it fits");
    assert!(plane.residuals.iter().all(|(_, off)| *off < 1e-6), "{:?}", plane.residuals);
    let of = |edge: &str| {
        plane.wood.solid.arrises.iter().find(|arris| plane.wood.name_of(arris.source) == edge).expect("an edge")
    };
    for (edge, face, far) in
        [("upper edge", upper.face - 1.0, upper.far - 2.0), ("lower edge", lower.face - 3.0, lower.far - 4.0)]
    {
        let is = of(edge);
        assert!((is.face - face).abs() < 1e-3 && (is.far - far).abs() < 1e-3, "{edge}: {is:?}, {face} {far}");
    }
    let wind = measured(rail, &made(1.2)).expect("it fits");
    assert!(wind.residuals.iter().any(|(_, off)| *off > 0.2), "{:?}", wind.residuals);
}

/// A mitre 1° out leaves as much missing at the end as its depth times the tangent of what it is out by (plain geometry).
#[test]
fn a_mitre_that_is_out_lacks_what_its_depth_makes_of_it() {
    let piece = snapshot(&desk());
    let apron = part(&piece, "apron");
    let index = apron.board.cuts.iter().position(|cut| cut.place.words() == "right end").expect("an end");
    let saw = apron.saw(Source::Cut(index)).expect("a saw cut");
    let mitres = vec![("right end".to_owned(), Angle::from_degrees(saw.mitre().degrees() + 1.0))];
    let out = read(apron, Readings { mitres, ..Readings::default() });
    let now = out.saw(Source::Cut(index)).expect("a saw cut");
    assert!(
        (now.mitre().degrees() - saw.mitre().degrees() - 1.0).abs() < 1e-6,
        "{:?} {:?}",
        now.mitre(),
        saw.mitre()
    );
    let found = judged(&Wood { worked: Vec::new(), ..out }, &bare(apron));
    assert_eq!(found.outcome(), Outcome::Again, "{found:?}");
    let [Lack::At(_, by)] = found.lacks.as_slice() else { panic!("{found:?}") };
    // The saw was set 1° on about the longest corner: every other lies as far outside as the turned plane says, each on its own face.
    let corners: Vec<Point3> =
        apron.board.end_corners(index, &apron.solid).into_iter().map(|corner| corner.at).collect();
    let longest = corners.iter().max_by(|p, q| p.x.total_cmp(&q.x)).expect("a corner");
    let n = apron.board.cuts[index].plane.normal();
    let outside = [1_f64, -1.0].map(|sign| {
        let (sin, cos) = (sign.to_radians()).sin_cos();
        let turned = Vec3::new(cos * n.x - sin * n.y, sin * n.x + cos * n.y, n.z);
        corners.iter().map(|p| (*p - *longest).dot(turned)).fold(0.0, f64::max)
    });
    assert!(outside.iter().any(|most| (by.mm() - most).abs() < 1e-3), "{found:?}, {outside:?}");
}

/// A leg that was planed 2 mm narrower at its foot lacks that at its inside edge, nothing at its head.
#[test]
fn a_width_at_one_end_tilts_a_straight_edge() {
    let piece = snapshot(&desk());
    let leg = part(&piece, "leg");
    let (head, foot) =
        (number(&desk(), "/base/leg/head").expect("a head"), number(&desk(), "/base/leg/foot").expect("a foot"));
    let widths = vec![("head".to_owned(), mm(head)), ("foot".to_owned(), mm(foot - 2.0))];
    let narrow = read(leg, Readings { widths, ..Readings::default() });
    let of = |name: &str| {
        narrow.solid.arrises.iter().find(|arris| narrow.name_of(arris.source) == name).expect("an end").face
    };
    assert!(
        (of("head") - head).abs() < 1e-6 && (of("foot") - (foot - 2.0)).abs() < 1e-6,
        "{} {}",
        of("head"),
        of("foot")
    );
    let found = judged(&bare(&narrow), &bare(leg));
    assert_eq!(found.outcome(), Outcome::Again, "{found:?}");
}

/// A top's grain runs along it: what went off its right edge is glued to end grain, what went off its front edge is not.
#[test]
fn what_is_glued_across_the_grain_of_a_top_is_told_so() {
    let piece = snapshot(&table());
    let top = part(&piece, "top");
    for (edge, is_end_grain) in [("right edge", true), ("left edge", true), ("front edge", false)] {
        let wood = read(top, Readings { trimmed: all(edge, 12.0), ..Readings::default() });
        let packs: Vec<bool> = judged(&wood, top)
            .rescues
            .iter()
            .filter_map(|one| if let Rescue::Patched(all) = &one.rescue { Some(all.clone()) } else { None })
            .flatten()
            .filter_map(|patch| if let Patch::Pack { is_end, .. } = patch { Some(is_end) } else { None })
            .collect();
        assert!(!packs.is_empty() && packs.iter().all(|is_end| *is_end == is_end_grain), "{edge}: {packs:?}");
    }
}

/// What holds a top holds it a little aslant: an apron at another slope keeps its mortises for that until the slope is quite another.
#[test]
fn what_holds_a_top_is_not_filled_for_a_little() {
    let at = |slope: f64| {
        let piece = snapshot(&changed(&desk(), &[("/base/apron/slope", json!(format!("{slope} deg")))]));
        part(&piece, "apron").clone()
    };
    let fills = |is: f64| {
        let (made, new) = (at(8.0), at(is));
        let held = made.worked.iter().filter(|one| one.holds_top()).count();
        assert!(held > 0, "the desk's aprons hold its top");
        let filled =
            |step: &&Step| matches!(step, Step::Fill { what, turned: Some(_), .. } if !what.contains("tenon"));
        judged(&made, &new).steps.iter().filter(filled).count()
    };
    assert_eq!(fills(9.0), 0);
    assert!(fills(13.0) > 0);
}
