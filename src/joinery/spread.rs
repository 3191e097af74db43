//! Tenons side by side along a line.

use super::{Fewer, OffLanding, SeatProblem};
use crate::finding::Finding;
use crate::model::joint::{Joint, Spread};
use crate::piece::search;
use crate::tolerance::JUST;
use crate::units::{Length, Notation};

/// The room for tenons along a line, measured from the reference edge, mm.
#[derive(Debug, Clone, Copy)]
pub struct Room {
    /// Where it begins.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
    /// How much of the line one tenon takes.
    pub each: f64,
}

/// The distances of the tenons' centres from the reference edge, mm.
///
/// # Errors
/// Where they do not fit, with the largest number (or place) that does.
pub fn spread(joint: &Joint, room: Room, notation: &Notation) -> Result<Vec<f64>, Box<Finding>> {
    match &joint.spread {
        Spread::At(at) => at.iter().enumerate().map(|(i, at)| by_hand(joint, room, i, *at, notation)).collect(),
        Spread::Even { count, spacing, margin } => {
            let given = [*spacing, *margin];
            let [spacing, margin] = given.map(|length| length.map(Length::mm));
            // As many as fit stand in the middle: their margin is the least at either end.
            let (count, first) = match count {
                Some(count) => (*count as usize, margin),
                None => (as_many(room, spacing, margin), margin.filter(|_| spacing.is_none())),
            };
            even(room, count, spacing, first).ok_or_else(|| too_many(joint, room, count, given))
        }
    }
}

fn by_hand(joint: &Joint, room: Room, index: usize, at: Length, notation: &Notation) -> Result<f64, Box<Finding>> {
    let (low, high) = (room.from + room.each / 2.0, room.to - room.each / 2.0);
    if (low - JUST..=high + JUST).contains(&at.mm()) {
        return Ok(at.mm());
    }
    // Where no number that can be written lies between the two, no place does either.
    let written = |mm: f64, up: bool| search::length(mm, up, false, notation);
    let how = match written(high, false) < written(low, true) {
        true => {
            OffLanding::NoPlace { landing: Length::from_mm(room.to - room.from), takes: Length::from_mm(room.each) }
        }
        false => OffLanding::Beside,
    };
    let (smallest, largest) = (Some(Length::from_mm(low)), Some(Length::from_mm(high)));
    let problem = SeatProblem::OffLanding { how, at: Some(at), smallest, largest, beyond: None };
    Err(Box::new(Finding::of(problem, joint.place.child("at").child(index))))
}

/// As many as fit at a spacing; one where none is given.
fn as_many(room: Room, spacing: Option<f64>, margin: Option<f64>) -> usize {
    let free = room.to - room.from - 2.0 * margin.unwrap_or(0.0) - room.each;
    spacing.filter(|_| free > 0.0).map_or(1, |spacing| 1 + ((free + JUST) / spacing) as usize)
}

/// By rule: spread evenly, or a group of the given spacing in the middle; a margin puts the first against it.
fn even(room: Room, count: usize, spacing: Option<f64>, margin: Option<f64>) -> Option<Vec<f64>> {
    let n = count as f64;
    let free = room.to - room.from - 2.0 * margin.unwrap_or(0.0);
    let half = room.each / 2.0;
    if let Some(spacing) = spacing {
        let group = (n - 1.0) * spacing + room.each;
        if group > free + JUST || (count > 1 && spacing < room.each - JUST) {
            return None;
        }
        let first = match margin {
            Some(margin) => room.from + margin + half,
            None => room.from + (room.to - room.from - group) / 2.0 + half,
        };
        return Some((0..count).map(|i| first + spacing * i as f64).collect());
    }
    if n * room.each > free + JUST {
        return None;
    }
    let (first, step) = match margin {
        Some(margin) if count > 1 => (room.from + margin + half, (free - room.each) / (n - 1.0)),
        Some(margin) => (room.from + margin + half, 0.0),
        None => {
            let gap = (free - n * room.each) / (n + 1.0);
            (room.from + gap + half, gap + room.each)
        }
    };
    Some((0..count).map(|i| first + step * i as f64).collect())
}

/// So many tenons that have no room, and how many have.
fn too_many(joint: &Joint, room: Room, count: usize, [spacing, margin]: [Option<Length>; 2]) -> Box<Finding> {
    let even = |count: usize| even(room, count, spacing.map(Length::mm), margin.map(Length::mm));
    let fits = (1..count).rev().find(|count| even(*count).is_some()).unwrap_or(0);
    let problem = SeatProblem::DoNotFit {
        landing: Length::from_mm(room.to - room.from),
        margin,
        spacing,
        room: Length::from_mm(room.to - room.from - 2.0 * margin.map_or(0.0, Length::mm)),
        each: Length::from_mm(room.each),
        count,
        largest: u32::try_from(fits).unwrap_or(u32::MAX),
        fewer: Fewer::Untried,
    };
    Box::new(Finding::of(problem, joint.place.clone()))
}

#[cfg(test)]
mod tests {
    use super::{Room, as_many, even, spread};
    use crate::finding::Place;
    use crate::model::joint::{Axis, Ends, Joint, Kind, Mortise, Spread, StandsWith};
    use crate::units::{Length, Notation};

    const ROOM: Room = Room { from: 10.0, to: 110.0, each: 20.0 };

    #[test]
    fn tenons_are_spread_by_rule() {
        assert_eq!(even(ROOM, 1, None, None), Some(vec![60.0]));
        assert_eq!(even(ROOM, 2, None, Some(10.0)), Some(vec![30.0, 90.0]));
        assert_eq!(even(ROOM, 2, Some(40.0), None), Some(vec![40.0, 80.0]));
        // Three of 20 leave four gaps of 10.
        assert_eq!(even(ROOM, 3, None, None), Some(vec![30.0, 60.0, 90.0]));
    }

    /// Between the outermost centres 80 are free, or 50 inside margins of 15.
    #[test]
    fn a_spacing_without_a_count_takes_as_many_as_fit() {
        assert_eq!(as_many(ROOM, Some(40.0), None), 3);
        assert_eq!(as_many(ROOM, Some(40.1), None), 2);
        assert_eq!(as_many(ROOM, Some(25.0), Some(15.0)), 3);
        assert_eq!(as_many(ROOM, Some(400.0), None), 1);
        assert_eq!(as_many(ROOM, None, None), 1);
    }

    #[test]
    fn as_many_as_fit_stand_in_the_middle() {
        let mm = Length::from_mm;
        let joint = Joint {
            name: "j".to_owned(),
            place: Place::pointer("/joints/j"),
            stands_with: StandsWith::Joints,
            from: "top".to_owned(),
            into: "top".to_owned(),
            kind: Kind::Loose,
            mortise: Mortise::Blind,
            thickness: mm(8.0),
            width: mm(20.0),
            depths: [mm(21.0); 2],
            clearance: mm(2.0),
            spread: Spread::Even { count: None, spacing: Some(mm(30.0)), margin: Some(mm(15.0)) },
            from_face: None,
            axis: Axis::Square,
            ends: Ends::Round,
        };
        // 100 less margins of 15 hold two of 20 at 30 apart: a group of 50 in the middle.
        assert_eq!(spread(&joint, ROOM, &Notation::default()), Ok(vec![45.0, 75.0]));
    }

    #[test]
    fn five_just_fit_and_six_do_not() {
        assert!(even(ROOM, 5, None, None).is_some());
        assert_eq!(even(ROOM, 6, None, None), None);
        assert_eq!(even(ROOM, 2, Some(19.0), None), None);
    }
}
