//! The empty spaces beside the wood that a tool goes into, and the largest tool that follows their edges.

use super::collar::TemplateFault;
use super::shortfall::{Shortfall, deep_shortfalls};
use crate::geometry::{Join, Nearest, Path, Point, Rect, Vec2, clip_half_plane, offset, voids};
use crate::tolerance::{BALL_SKIN, UNSEEN};

/// A ball shrinks to its size in a few steps, each of them a question of distance; most never need five.
const SHRINKS: usize = 32;
/// An empty space beside the wood. What a tool reaches in one hangs on no other: it never crosses wood.
pub(super) struct Space {
    /// What bounds it.
    pub(super) rings: Vec<Path>,
    /// Whether it is an opening, rather than what lies around the part.
    is_opening: bool,
}

/// The spaces beside the wood that rings enclose by the even-odd rule.
pub(super) fn spaces(rings: &[Path]) -> Vec<Space> {
    let spaces = voids(rings).into_iter().map(|void| Space {
        rings: void.bounds.into_iter().map(|ring| rings[ring].clone()).collect(),
        is_opening: void.is_opening,
    });
    spaces.collect()
}

impl Space {
    /// The edge of the wood beside it when every hollow that a round tool cannot enter is filled, wood on its left; the
    /// tool's middle goes round the wood's corners as `join` says. None of an opening that the tool does not enter.
    ///
    /// # Errors
    /// A part narrower than the tool, or edges that cannot be set off.
    pub(super) fn filled(&self, radius: f64, join: Join) -> Result<Vec<Path>, TemplateFault> {
        // By itself an opening is what its edge encloses.
        let into = if self.is_opening { -radius } else { radius };
        self.followed_back(offset(&self.rings, into, join)?.rings, radius)
    }

    /// As [`Space::filled`], where the ways of the tool's middle in the space are known already.
    ///
    /// # Errors
    /// As [`Space::filled`].
    pub(super) fn followed_back(&self, centre: Vec<Path>, radius: f64) -> Result<Vec<Path>, TemplateFault> {
        let into = if self.is_opening { -radius } else { radius };
        let rings = if centre.is_empty() { centre } else { offset(&centre, -into, Join::Round)?.rings };
        match rings {
            rings if self.is_opening => Ok(rings.iter().map(Path::reversed).collect()),
            rings if rings.is_empty() => Err(TemplateFault::TooNarrow),
            rings => Ok(rings),
        }
    }

    /// The largest radius in steps no wider than `apart`, mm, below `most` that comes within `short` mm of every place, where a
    /// larger one left `left` and these places: 0 where none does. `follows` tells of a whole space whether a radius does, `join`
    /// how the tool's middle goes round the wood's corners.
    pub(super) fn largest(
        &self,
        (left, places): (&[Path], &[Shortfall]),
        Wanted { most, apart, short, join }: Wanted,
        follows: impl Fn(&Space, f64) -> bool,
    ) -> f64 {
        let steps = Steps::of(most, apart);
        let Some((guess, worst)) = self.worst(left, places, short, most) else { return 0.0 };
        // What lies about the worst place decides what a tool does there, and is much less than the whole.
        let around = self.around(&worst.stretch, most);
        let beside = Nearest::of(std::slice::from_ref(&worst.stretch));
        let follows_worst = |radius: f64| {
            around.filled(radius, join).is_ok_and(|left| {
                let missed = deep_shortfalls(&around.rings, &left, radius, short);
                !missed.iter().any(|place| beside.distance(place.at) < UNSEEN)
            })
        };
        let most_there = steps.last(steps.count, steps.below(guess), follows_worst);
        if most_there == 0.0 || follows(self, steps.size(most_there)) {
            return steps.size(most_there);
        }
        steps.size(steps.last(most_there, most_there - 1.0, |radius| follows(self, radius)))
    }

    /// The place that needs the smallest tool, and about its radius, mm, up to `most`: that of a ball that comes within `short`
    /// mm of the place, which is true in a hollow and in a slot.
    fn worst<'a>(
        &self,
        left: &[Path],
        places: &'a [Shortfall],
        short: f64,
        most: f64,
    ) -> Option<(f64, &'a Shortfall)> {
        let (edge, left_near) = (Nearest::of(&self.rings), Nearest::of(left));
        let radius = |place: &Shortfall| {
            if place.is_whole_ring() {
                // Nothing goes into it: what does is no larger than it is deep.
                return Some(place.depth);
            }
            let near = left_near.to(place.at)?;
            let way = (left.get(near.path)?.point_at(near.place)? - place.at) / near.distance;
            Some(self.ball(&edge, place.at + way * short, way, most))
        };
        let tried = places.iter().filter_map(|place| Some((radius(place)?, place)));
        tried.min_by(|a, b| a.0.total_cmp(&b.0))
    }

    /// The part of it that decides what a tool of up to `radius` mm reaches along a stretch of its edge: a tool that touches the
    /// stretch lies within its width.
    fn around(&self, stretch: &Path, radius: f64) -> Space {
        let bounds = stretch.bounding_box().unwrap_or(Rect::ZERO).inflate(3.0 * radius, 3.0 * radius);
        let sides = [
            (bounds.origin(), Vec2::new(1.0, 0.0)),
            (bounds.origin(), Vec2::new(0.0, 1.0)),
            (Point::new(bounds.x1, bounds.y1), Vec2::new(-1.0, 0.0)),
            (Point::new(bounds.x1, bounds.y1), Vec2::new(0.0, -1.0)),
        ];
        let cut = |rings: Vec<Path>, (point, inwards): (Point, Vec2)| clip_half_plane(&rings, point, inwards);
        Space { rings: sides.into_iter().fold(self.rings.clone(), cut), is_opening: self.is_opening }
    }

    /// The radius of the largest ball, up to `most`, that touches a point from where `way` shows and holds nothing of the edge:
    /// it is shrunk until what was nearest to its middle lies on it.
    fn ball(&self, edge: &Nearest, touched: Point, way: Vec2, most: f64) -> f64 {
        let mut radius = most;
        for _ in 0..SHRINKS {
            let inside = edge.nearer(touched + way * radius, radius * (1.0 - BALL_SKIN));
            let point = inside.and_then(|near| self.rings.get(near.path)?.point_at(near.place));
            let Some(off) = point.map(|point| point - touched).filter(|off| off.dot(way) > 0.0) else { break };
            radius = off.hypot2() / (2.0 * off.dot(way));
        }
        radius
    }
}

/// What size is looked for.
pub(super) struct Wanted {
    /// Radii below this, mm.
    pub(super) most: f64,
    /// In steps no wider than this, mm.
    pub(super) apart: f64,
    /// That come so near to every place, mm.
    pub(super) short: f64,
    /// How the tool's middle goes round the wood's corners.
    pub(super) join: Join,
}

/// Equal steps from nothing up to a size.
pub(super) struct Steps {
    most: f64,
    /// How many, a whole number.
    pub(super) count: f64,
}

impl Steps {
    /// Halved until they are no wider than `apart`.
    pub(super) fn of(most: f64, apart: f64) -> Steps {
        Steps { most, count: (most / apart).max(1.0).log2().ceil().exp2() }
    }

    /// The size of a step.
    pub(super) fn size(&self, step: f64) -> f64 {
        self.most * (step / self.count)
    }

    /// The last step that is no larger than a size.
    fn below(&self, size: f64) -> f64 {
        (size / self.most * self.count).floor()
    }

    /// The last step before `high` whose size `follows` takes, where it takes smaller ones and not `high`; 0 where it takes none.
    /// It is looked for from `guess` outward, so that a good guess costs two trials.
    pub(super) fn last(&self, high: f64, guess: f64, follows: impl Fn(f64) -> bool) -> f64 {
        let (mut low, mut high, mut next, mut stride) = (0.0, high, guess, 1.0);
        let (mut is_low_tried, mut is_high_tried) = (false, false);
        while high - low > 1.0 {
            let step = next.clamp(low + 1.0, high - 1.0);
            let is_followed = follows(self.size(step));
            if is_followed {
                (low, is_low_tried) = (step, true);
            } else {
                (high, is_high_tried) = (step, true);
            }
            next = match is_followed {
                _ if is_low_tried && is_high_tried => ((low + high) / 2.0).floor(),
                true => low + stride,
                false => high - stride,
            };
            stride *= 2.0;
        }
        low
    }
}

#[cfg(test)]
mod tests {
    use super::Steps;
    use std::cell::Cell;

    #[test]
    fn a_good_guess_costs_two_trials_and_a_bad_one_finds_the_same() {
        let trials = Cell::new(0);
        let steps = Steps::of(8.0, 0.01);
        let look = |guess: f64, true_size: f64| {
            trials.set(0);
            let found = steps.last(steps.count, steps.below(guess), |size| {
                trials.set(trials.get() + 1);
                size <= true_size
            });
            (steps.size(found), trials.get())
        };
        // Steps of 8 / 1024.
        assert_eq!(look(3.0, 3.0), (3.0, 2));
        for guess in [0.0, 0.4, 2.9, 3.1, 7.9, 8.0, 90.0] {
            let (found, count) = look(guess, 3.0);
            assert_eq!(found, 3.0, "from {guess}");
            // Out by doubling and back by halving.
            assert!(count <= 20, "{count} trials from {guess}");
        }
        assert_eq!(look(5.0, 0.001).0, 0.0, "where none is followed");
        assert_eq!(look(0.0, 7.999).0, 8.0 - 8.0 / 1024.0);
    }
}
