//! What was read on parts that exist, and what that makes of them: held against plain geometry.

use super::{changed, snapshot, table};
use fullsize::board::Source;
use fullsize::change::{Lack, MadeName, SHORT, Snapshot, Step, Verdict, Wood, Worked, measured, verdict};
use fullsize::finding::Place;
use fullsize::geometry::Vec3;
use fullsize::model::made::{MadePart, Readings};
use fullsize::units::{Length, Notation, Units};
use serde_json::json;

fn part<'a>(piece: &'a Snapshot, id: &str) -> &'a Wood {
    piece.parts.iter().find(|wood| wood.id == id).unwrap_or_else(|| panic!("no {id}"))
}

fn judged(made: &Wood, new: &Wood) -> Verdict {
    let name = MadeName { part: "part".to_owned(), code: "code".to_owned(), only: Vec::new(), measured: false };
    verdict(made, new, name, SHORT, &Notation::of(Units::Mm))
}

/// A part with readings.
fn read(wood: &Wood, read: Readings) -> Wood {
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
    measured(wood, &made).expect("readings that go with the part").wood
}

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
    let trimmed = all("left end", by);
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
