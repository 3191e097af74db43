//! Stretches along which two pieces run alongside, and what kind of meeting each is.

use super::{Contact, ContactKind, Pair};
use crate::tolerance::{BESIDE_STRETCH, LONG_TANGENCY, SAME_PARAMETER};
use std::cmp::Ordering;

/// Parameter ranges, rising, within which two pieces meet; equal ends for a plain crossing.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stretch {
    pub(super) first: (f64, f64),
    pub(super) second: (f64, f64),
}

impl Stretch {
    fn union(&self, other: &Stretch) -> Stretch {
        let hull = |a: (f64, f64), b: (f64, f64)| (a.0.min(b.0), a.1.max(b.1));
        Stretch { first: hull(self.first, other.first), second: hull(self.second, other.second) }
    }

    fn order(&self, other: &Stretch) -> Ordering {
        self.first.0.total_cmp(&other.first.0)
    }
}

impl Pair<'_> {
    /// Stretches that belong together made into one: those that adjoin, and neighbours with nothing but contact between.
    pub(super) fn gathered(&self, mut raw: Vec<Stretch>) -> Vec<Stretch> {
        raw.sort_by(Stretch::order);
        let mut groups: Vec<Stretch> = Vec::new();
        for next in raw {
            let slack_a = self.slack(self.a, next.first.0, 2.0);
            let slack_b = self.slack(self.b, next.second.0, 2.0);
            let adjoins = |g: &Stretch| {
                next.first.0 <= g.first.1 + slack_a
                    && next.second.0 <= g.second.1 + slack_b
                    && next.second.1 >= g.second.0 - slack_b
            };
            match groups.iter_mut().rev().find(|g| adjoins(g)) {
                Some(group) => *group = group.union(&next),
                None => groups.push(next),
            }
        }
        groups.sort_by(Stretch::order);
        let mut merged: Vec<Stretch> = Vec::new();
        for next in groups {
            match merged.last_mut().filter(|last| self.contact_between(last, &next)) {
                Some(last) => *last = last.union(&next),
                None => merged.push(next),
            }
        }
        merged
    }

    /// Whether the pieces stay within tolerance all the way from one stretch to the next.
    fn contact_between(&self, x: &Stretch, y: &Stretch) -> bool {
        let middle = (x.second.0 + x.second.1 + y.second.0 + y.second.1) / 4.0;
        let gap = (y.second.0 - x.second.1).max(x.second.0 - y.second.1);
        let (from, to) = (x.first.1.min(y.first.0), y.first.0);
        let hull = x.union(y).second;
        gap < 0.1
            && to - from < 0.1
            && (0..=4).map(|i| from + (to - from) * f64::from(i) / 4.0).all(|t| {
                let point = self.a.eval(t);
                let u = self.b.approach(point, middle);
                self.b.eval(u).distance(point) <= self.tolerance
                    && u >= hull.0 - BESIDE_STRETCH
                    && u <= hull.1 + BESIDE_STRETCH
            })
    }

    /// Whether a parameter pair lies within a stretch, or within some tolerances of it.
    pub(super) fn in_stretch(&self, stretch: &Stretch, (t, u): (f64, f64)) -> bool {
        let (slack_a, slack_b) = (self.slack(self.a, t, 4.0), self.slack(self.b, u, 4.0));
        let within = |v: f64, range: (f64, f64), slack: f64| v >= range.0 - slack && v <= range.1 + slack;
        within(t, stretch.first, slack_a) && within(u, stretch.second, slack_b)
    }

    /// What a stretch is: where the gap between the curves changes sign they cross, where they are parallel they touch.
    pub(super) fn resolve(&self, stretch: &Stretch) -> Option<Contact> {
        let (from, to) = stretch.first;
        let middle = (stretch.second.0 + stretch.second.1) / 2.0;
        let beside = |t: f64| self.b.approach(self.a.eval(t), middle);
        let gap = |t: f64| {
            let u = beside(t);
            self.b.derivative(u).cross(self.a.eval(t) - self.b.eval(u))
        };
        let turn = |t: f64| self.b.derivative(beside(t)).cross(self.a.derivative(t));
        let changes = |f: &dyn Fn(f64) -> f64| (f(from) > 0.0) != (f(to) > 0.0);
        let is_place = to - from < SAME_PARAMETER;
        let crosses = is_place || changes(&gap);
        let (t, u) = if is_place {
            (from, middle)
        } else {
            let t = if crosses {
                halved(&gap, from, to)
            } else if changes(&turn) {
                halved(&turn, from, to)
            } else if gap(from).abs() < gap(to).abs() {
                from
            } else {
                to
            };
            (t, beside(t))
        };
        let point = self.a.eval(t);
        if point.distance(self.b.eval(u)) > self.tolerance {
            return None;
        }
        if !is_place && self.a.eval(from).distance(self.a.eval(to)) > LONG_TANGENCY {
            let second = (beside(from), beside(to));
            return Some(Contact { kind: ContactKind::Overlap, first: stretch.first, second, point });
        }
        let kind = if crosses { ContactKind::Cross } else { ContactKind::Touch };
        Some(Contact { kind, first: (t, t), second: (u, u), point })
    }
}

/// The place between `low` and `high` where a function changes sign, by halving.
fn halved(f: &dyn Fn(f64) -> f64, mut low: f64, mut high: f64) -> f64 {
    let positive = f(low) > 0.0;
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if (f(middle) > 0.0) == positive { low = middle } else { high = middle }
    }
    (low + high) / 2.0
}
