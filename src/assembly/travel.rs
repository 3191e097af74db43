//! How parts travel when joints are drawn up, and how far tenons run into their cheeks where they cannot.
//!
//! A tenon lets its part travel along its own axis, and aside by its play over what stands out of it. All of that is linear in the
//! travels, so that whether parts go together is a small linear program: each part has a straight travel of its own, the first
//! none, and at its end every tenon is out.

use super::link::Link;
use crate::geometry::Vec3;
use crate::geometry::simplex::{Row, least};
use crate::tolerance::{NO_LEAN, UNSEEN};

/// Tenons that run into their cheeks by more than this, mm, do not go together however loose.
const FAR: f64 = 200.0;

/// What a travel costs beside going aside: of two that bind alike the shorter one.
const TRAVEL_COST: f64 = 1e-6;

/// A tenon between two parts that travel, by their index: the first part of all stays.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pull<'a> {
    /// The part on which it stands.
    pub on: usize,
    /// The part into which it goes.
    pub into: usize,
    /// The tenon.
    pub link: &'a Link,
}

/// The travel of each of `parts` parts, mm, at the end of which every tenon is out, where tenons have so much more play
/// than their own, mm; `None` where there is none.
pub(super) fn apart(parts: usize, pulls: &[Pull], more: f64) -> Option<Vec<Vec3>> {
    let pulls = unlike(pulls);
    let table = Table { moving: parts.saturating_sub(1), sideways: 2 * pulls.len() };
    let mut cost = vec![0.0; table.width()];
    let mut rows = Vec::with_capacity(7 * pulls.len());
    for (index, pull) in pulls.iter().enumerate() {
        let link = pull.link;
        let along = table.travel(pull, link.axis);
        cost.iter_mut().zip(&along).for_each(|(cost, c)| *cost += c * TRAVEL_COST);
        rows.push(Row { of: along.iter().map(|c| -c).collect(), limit: -link.stands });
        for (k, across) in link.across.into_iter().enumerate() {
            let aside = table.aside(2 * index + k);
            cost[aside] += 1.0;
            for way in [across, -across] {
                let mut of = table.travel(pull, way);
                of[aside] -= 1.0;
                rows.push(Row { of, limit: 0.0 });
            }
            let mut of: Vec<f64> = along.iter().map(|c| -c * (link.play + more) / link.stands).collect();
            of[aside] += 1.0;
            rows.push(Row { of, limit: 0.0 });
        }
    }
    let found = least(&cost, &rows)?;
    Some((0..parts).map(|part| table.found(&found, part)).collect())
}

/// The least play, mm beyond what each tenon has, with which parts go together; `None` where none is enough.
pub(super) fn least_play(parts: usize, pulls: &[Pull]) -> Option<f64> {
    let goes = |more: f64| apart(parts, pulls, more).is_some();
    let (mut bad, mut good) = (0.0, FAR);
    if !goes(good) {
        return None;
    }
    while good - bad > UNSEEN {
        let middle = (good + bad) / 2.0;
        if goes(middle) { good = middle } else { bad = middle }
    }
    Some(good)
}

/// Tenons that say the same of the same two parts once: those that stand beside each other in one end, the longest of them.
fn unlike<'a>(pulls: &[Pull<'a>]) -> Vec<Pull<'a>> {
    let mut found: Vec<Pull<'a>> = Vec::new();
    for pull in pulls {
        let same = |known: &&mut Pull<'a>| {
            let ways = [(known.link.axis, pull.link.axis), (known.link.across[0], pull.link.across[0])];
            known.on == pull.on && known.into == pull.into && ways.iter().all(|(a, b)| (*a - *b).length() < NO_LEAN)
        };
        match found.iter_mut().find(same) {
            Some(known) if known.link.stands < pull.link.stands => *known = *pull,
            Some(_) => {}
            None => found.push(*pull),
        }
    }
    found
}

/// Which unknown stands where: of each travelling part its travel along three axes, forth and back, then how far each tenon goes
/// aside, two ways.
struct Table {
    moving: usize,
    sideways: usize,
}

impl Table {
    const fn width(&self) -> usize {
        6 * self.moving + self.sideways
    }

    const fn aside(&self, index: usize) -> usize {
        6 * self.moving + index
    }

    /// The part of the row that measures how far a tenon's two parts travel from each other along a direction.
    fn travel(&self, pull: &Pull, way: Vec3) -> Vec<f64> {
        let mut row = vec![0.0; self.width()];
        for (part, sign) in [(pull.into, 1.0), (pull.on, -1.0)] {
            let Some(first) = part.checked_sub(1).map(|moving| 6 * moving) else { continue };
            for (k, c) in [way.x, way.y, way.z].into_iter().enumerate() {
                row[first + 2 * k] += sign * c;
                row[first + 2 * k + 1] -= sign * c;
            }
        }
        row
    }

    fn found(&self, found: &[f64], part: usize) -> Vec3 {
        let Some(first) = part.checked_sub(1).map(|moving| 6 * moving) else { return Vec3::default() };
        let axis = |k: usize| found[first + 2 * k] - found[first + 2 * k + 1];
        Vec3::new(axis(0), axis(1), axis(2))
    }
}
