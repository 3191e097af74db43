//! Tenons side by side along a line.

use crate::finding::Finding;
use crate::model::joint::{Joint, Spread};
use crate::piece::search;
use crate::units::{Length, Notation};

/// Slack for a tenon that just fits, mm: what arithmetic adds.
const JUST: f64 = 1e-6;

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
            let (spacing, margin) = (spacing.map(|s| s.mm()), margin.map(|m| m.mm()));
            // As many as fit stand in the middle: their margin is the least at either end.
            let (count, first) = match count {
                Some(count) => (*count as usize, margin),
                None => (as_many(room, spacing, margin), margin.filter(|_| spacing.is_none())),
            };
            even(room, count, spacing, first).ok_or_else(|| too_many(joint, room, count, notation))
        }
    }
}

fn by_hand(joint: &Joint, room: Room, index: usize, at: Length, notation: &Notation) -> Result<f64, Box<Finding>> {
    let (low, high) = (room.from + room.each / 2.0, room.to - room.each / 2.0);
    if (low - JUST..=high + JUST).contains(&at.mm()) {
        return Ok(at.mm());
    }
    let say = |mm: f64| notation.exact(Length::from_mm(mm));
    let message = format!("a tenon centred {} from the reference edge leaves the landing", say(at.mm()));
    // Where no number that can be written lies between the two, no place does either.
    let written = |mm: f64, up: bool| search::length(mm, up, false, notation);
    let remedy = if written(high, false) < written(low, true) {
        format!(
            "no place does: the landing is {} long there and the tenon takes {}",
            say(room.to - room.from),
            say(room.each)
        )
    } else {
        let (low, high) = (Length::from_mm(low), Length::from_mm(high));
        format!("from {} to {} it lies on it", notation.at_least(low), notation.at_most(high))
    };
    let finding =
        Finding::stop("tenon-off-the-landing", joint.place.child("at").child(index), message).remedy(remedy);
    Err(Box::new(finding.measured("at", at.mm()).measured("smallest", low).measured("largest", high)))
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

fn too_many(joint: &Joint, room: Room, count: usize, notation: &Notation) -> Box<Finding> {
    let Spread::Even { spacing, margin, .. } = &joint.spread else {
        return Box::new(Finding::stop("tenons-do-not-fit", joint.place.clone(), ""));
    };
    let (spacing, margin) = (spacing.map(|s| s.mm()), margin.map(|m| m.mm()));
    let fits = (0..count).rev().find(|n| *n > 0 && even(room, *n, spacing, margin).is_some());
    let say = |mm: f64| notation.exact(Length::from_mm(mm));
    let free = room.to - room.from - 2.0 * margin.unwrap_or(0.0);
    let they = if count == 1 { "a tenon does".to_owned() } else { format!("{count} side by side do") };
    let (each, whole) = (say(room.each), say(room.to - room.from));
    let leaves = match margin {
        Some(margin) if free <= 0.0 => format!("margins of {} leave nothing of the landing of {whole}", say(margin)),
        _ => format!("the landing leaves {}", say(free)),
    };
    let each = if count == 1 { format!("it takes {each}") } else { format!("each takes {each}") };
    let apart =
        spacing.filter(|_| count > 1).map_or_else(String::new, |s| format!(" and they stand {} apart", say(s)));
    let message = format!("{they} not fit: {leaves}, {each}{apart}");
    let finding = Finding::stop("tenons-do-not-fit", joint.place.clone(), message)
        .remedy("make them fewer, narrower or thinner, or the part larger");
    let finding = finding.measured("room", free).measured("each", room.each).measured("count", count as f64);
    Box::new(finding.measured("largest", fits.unwrap_or(0) as f64))
}

#[cfg(test)]
mod tests {
    use super::{Room, as_many, even, spread};
    use crate::finding::Place;
    use crate::model::joint::{Axis, Ends, Joint, Kind, Mortise, Spread};
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
