//! What of the lines of boards the eye sees.

use super::direction::View;
use super::edges::{SeenLine, arrises, silhouettes};
use super::merge::{Taken, once};
use super::prism::{FAR_AWAY, Prism, level_map};
use super::rim::Rim;
use super::round;
use super::split::{Found, Splits};
use crate::geometry::{Affine, BoxTree, Point, Point3, Rect, Segment, Vec2, Vec3};
use crate::solid::Body;
use crate::tolerance::{BELOW_CUTTING, SAME_POINT, TRUE_TO, UNSEEN};
use std::cell::OnceCell;
use std::ops::Range;

/// How many tests of line against line are done for each line of a view, on average, and how many in any view, before lines are drawn
/// without asking what hides them: a view of 100,000 lines then takes some tenths of a second.
const TESTS_A_LINE: usize = 100;
const LEAST_TESTS: usize = 4_000_000;

/// What it costs to ask whether a board hides a place, in such tests.
const TESTS_A_BOARD: usize = 8;

/// A line of a board as drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Stroke {
    /// The line on the page's plane, mm, true to size.
    pub line: Segment,
    /// Its board: an index into the piece's boards.
    pub board: usize,
    /// Which copy of it.
    pub copy: usize,
}

/// Seen and hidden lines.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sight {
    /// What the eye sees.
    pub visible: Vec<Stroke>,
    /// What stands behind wood.
    pub hidden: Vec<Stroke>,
    /// Mortises inside the wood.
    pub joints: Vec<Stroke>,
    /// Lines that are taken for seen because there were too many to ask what hides each.
    pub untold: usize,
}

/// A board that may stand before others.
struct Screen<'a> {
    /// Its place among the boards.
    index: usize,
    prism: &'a Prism,
    /// Direction to the eye, board axes.
    sight: Vec3,
    /// Length of that direction's part along the face.
    pace: f64,
    level: Affine,
    rim: OnceCell<Rim>,
    /// What is turned, every surface moved in by as much as only grazes.
    round: Option<Body>,
    /// Around it as seen.
    seen: Rect,
    nearest: f64,
}

/// Around a board as seen, and how near to the eye it comes.
fn extent(prism: &Prism, view: &View) -> (Rect, f64) {
    let first = view.project(prism.corners[0]);
    let seen = prism.corners.iter().map(|p| view.project(*p));
    let seen = seen.fold(Rect::from_points(first, first), |r, p| r.union_pt(p));
    (seen, prism.corners.iter().map(|p| view.nearness(*p)).fold(f64::MIN, f64::max))
}

impl<'a> Screen<'a> {
    fn new(index: usize, prism: &'a Prism, view: &View) -> Screen<'a> {
        let (seen, nearest) = extent(prism, view);
        let sight = prism.placement.direction_to_board(view.towards());
        let flat = Vec2::new(sight.x, sight.y);
        let level = if flat.hypot() > 0.0 { level_map(flat) } else { Affine::IDENTITY };
        Screen {
            index,
            prism,
            sight,
            pace: flat.hypot(),
            level,
            rim: OnceCell::new(),
            round: prism.turned.as_ref().map(|turned| round::body(prism, turned, None, BELOW_CUTTING)),
            seen,
            nearest,
        }
    }

    /// The rim, the line of sight level: made when something comes to stand before or behind the board.
    fn rim(&self) -> &Rim {
        self.rim.get_or_init(|| Rim::new(&self.prism.outline, self.level))
    }

    /// Whether the wood stands before a point that is seen at a place of the page, so near to the eye.
    fn covers(&self, (p, seen, depth): (Point3, Point, f64)) -> bool {
        self.nearest > depth && self.seen.contains(seen) && self.hides(p)
    }

    /// Whether the wood stands between a point and the eye.
    fn hides(&self, p: Point3) -> bool {
        let from = self.prism.placement.to_board(p);
        if let Some(body) = &self.round {
            let stretches = body.on_line(from, self.sight, self.sight);
            return stretches.stretches().iter().any(|(low, high)| high - low.max(0.0) > BELOW_CUTTING);
        }
        let Some((low, high)) = self.prism.between(from, self.sight, &[], BELOW_CUTTING) else { return false };
        let (low, high) = (low.max(0.0), high.min(FAR_AWAY));
        if high - low <= BELOW_CUTTING {
            return false;
        }
        let at = self.level * Point::new(from.x, from.y);
        let (x0, x1) = (at.x + low * self.pace, at.x + high * self.pace);
        if x1 - x0 <= BELOW_CUTTING {
            return self.rim().holds_well(Point::new(0.5 * (x0 + x1), at.y), BELOW_CUTTING)
                && self.prism.leaves_any(from, self.sight, (low, high));
        }
        if self.prism.worked.is_empty() {
            return self.rim().has_stretch(at.y, x0, x1, BELOW_CUTTING);
        }
        let along = |x: f64| (x - at.x) / self.pace;
        let stretches = self.rim().stretches(at.y, x0, x1, BELOW_CUTTING).into_iter();
        stretches.map(|(a, b)| (along(a), along(b))).any(|own| self.prism.leaves_any(from, self.sight, own))
    }
}

/// Boards that may stand before others, the nearest first.
struct Screens<'a> {
    screens: Vec<Screen<'a>>,
    /// Their places, from left to right as seen, and a tree over their boxes in that order.
    from_left: Vec<usize>,
    tree: BoxTree,
}

impl<'a> Screens<'a> {
    fn of(prisms: &'a [Prism], view: &View) -> Screens<'a> {
        let screens = prisms.iter().enumerate().map(|(index, prism)| Screen::new(index, prism, view));
        let mut screens: Vec<Screen> = screens.collect();
        screens.sort_by(|a, b| b.nearest.total_cmp(&a.nearest));
        let mut from_left: Vec<usize> = (0..screens.len()).collect();
        from_left.sort_by(|a, b| screens[*a].seen.x0.total_cmp(&screens[*b].seen.x0));
        let tree = BoxTree::new(from_left.iter().map(|place| screens[*place].seen).collect());
        Screens { screens, from_left, tree }
    }

    /// Those of which something may be seen in a rectangle of the page and lies nearer to the eye than a depth, the nearest first.
    fn before(&self, around: Rect, depth: f64) -> Vec<&Screen<'a>> {
        let mut places: Vec<usize> = self.tree.meeting(around).map(|place| self.from_left[place]).collect();
        places.sort_unstable();
        let near = places.into_iter().map(|place| &self.screens[place]);
        near.filter(|screen| screen.nearest > depth && screen.seen.overlaps(around)).collect()
    }

    /// Whether wood stands between a point and the eye.
    fn hide(&self, p: Point3, view: &View) -> bool {
        let (seen, depth) = (view.project(p), view.nearness(p));
        let near = self.tree.meeting(Rect::from_points(seen, seen)).map(|place| &self.screens[self.from_left[place]]);
        near.into_iter().any(|screen| screen.covers((p, seen, depth)))
    }
}

/// Tells of points whether wood stands between them and the eye.
pub fn hider<'a>(prisms: &'a [Prism], view: &'a View) -> impl Fn(Point3) -> bool + 'a {
    let screens = Screens::of(prisms, view);
    move |p| screens.hide(p, view)
}

/// Looks at boards and their mortises: lines split where they pass behind wood. Lines that are left when so many tests of line
/// against line and of line against board are done are taken for seen.
pub fn look(prisms: &[Prism], fittings: &[Prism], view: &View, most_tests: Option<usize>) -> Sight {
    let mut lines = Vec::with_capacity(prisms.iter().chain(fittings).map(most_lines).sum());
    add_lines(prisms, 0, view, &mut lines);
    add_lines(fittings, prisms.len(), view, &mut lines);
    let splits = Splits::of(&lines, prisms.len() + fittings.len());
    let most = most_tests.unwrap_or_else(|| LEAST_TESTS.max(TESTS_A_LINE.saturating_mul(lines.len())));
    let looker = Looker { lines: &lines, splits: &splits, screens: &Screens::of(prisms, view), view };
    let parted = looker.parted(most);
    let mut sight = Sight { untold: parted.untold, ..Sight::default() };
    let seen = parted.parts.iter().filter(|(_, _, hidden)| !hidden).count();
    sight.visible.reserve_exact(seen);
    sight.hidden.reserve_exact(parted.parts.len() - seen);
    for (line, range) in lines.iter().zip(&parted.of_line) {
        let index = line.line.prism;
        let Some(owner) = prisms.get(index).or_else(|| fittings.get(index - prisms.len())) else { continue };
        for (from, to, hidden) in parted.parts[range.clone()].iter().copied() {
            let stroke = Stroke { line: line.seen.subsegment(from, to), board: owner.board, copy: owner.copy };
            let kept = match hidden {
                false => &mut sight.visible,
                true if index < prisms.len() => &mut sight.hidden,
                true => &mut sight.joints,
            };
            kept.push(stroke);
        }
    }
    drop(lines);
    let (visible, hidden) = once(sight.visible, sight.hidden);
    let joints = if sight.joints.is_empty() { Vec::new() } else { once(visible.clone(), sight.joints).1 };
    Sight { visible, hidden, joints, untold: sight.untold }
}

/// No board has more lines than this but for those of profiles.
fn most_lines(prism: &Prism) -> usize {
    prism.outline.segments().len() * (prism.planes.len() + 1) + prism.planes.len()
}

/// Adds every line of the prisms, numbered from `first`, that has any length as seen.
fn add_lines(prisms: &[Prism], first: usize, view: &View, lines: &mut Vec<SeenLine>) {
    let long = |line: &SeenLine| {
        let b = line.seen.bounding_box();
        b.width().max(b.height()) > SAME_POINT
    };
    for (index, prism) in prisms.iter().enumerate() {
        let own = arrises(first + index, prism).into_iter().chain(silhouettes(first + index, prism, view));
        own.for_each(|line| line.seen(view, |seen| lines.extend(Some(seen).filter(long))));
    }
}

/// A part of a line between two parameters of its picture, and whether it is hidden.
type Part = (f64, f64, bool);

/// Lines in parts.
struct Parted {
    parts: Vec<Part>,
    /// Which of the parts are those of each line.
    of_line: Vec<Range<usize>>,
    /// Lines that were not asked about.
    untold: usize,
}

/// What tells lines that are seen from hidden ones.
struct Looker<'a> {
    lines: &'a [SeenLine],
    splits: &'a Splits<'a>,
    screens: &'a Screens<'a>,
    view: &'a View,
}

impl<'a> Looker<'a> {
    /// Each line in parts, told seen or hidden. One that lies on longer ones which are seen from end to end is told as seen: these
    /// are drawn for it.
    fn parted(&self, most: usize) -> Parted {
        let across = |line: &SeenLine| line.seen.start().distance(line.seen.end());
        let mut order: Vec<(usize, f64)> = self.lines.iter().map(across).enumerate().collect();
        order.sort_by(|a, b| b.1.total_cmp(&a.1));
        let mut all = Parted { parts: Vec::with_capacity(order.len()), of_line: vec![0..0; order.len()], untold: 0 };
        let (mut taken, mut found) = (Taken::default(), Found::default());
        for (place, _) in order {
            let (line, first) = (&self.lines[place], all.parts.len());
            if found.tests > most {
                all.untold += 1;
                all.parts.push((0.0, 1.0, false));
            } else if taken.holds(&line.seen) {
                all.parts.push((0.0, 1.0, false));
            } else {
                self.part(place, &mut found, &mut all.parts);
                if let [(_, _, false)] = all.parts[first..] {
                    taken.add(&line.seen);
                }
            }
            all.of_line[place] = first..all.parts.len();
        }
        all
    }

    /// Adds a line in parts, each told seen or hidden.
    fn part(&self, place: usize, found: &mut Found, parts: &mut Vec<Part>) {
        let (line, view, around) = (&self.lines[place], self.view, self.splits.around(place));
        let farthest = line.line.least(|p| view.nearness(p), view.towards()) - UNSEEN;
        let near = self.screens.before(around, farthest);
        found.places.clear();
        let at = |t: f64| {
            let middle = line.at(t, view);
            (middle, view.project(middle), view.nearness(middle))
        };
        let halfway = at(0.5);
        let is_end = |t: f64| [0.0, 1.0].iter().any(|end| line.seen.eval(t).distance(line.seen.eval(*end)) < TRUE_TO);
        // What a profile leaves hides to where no line may be drawn: then every line in the way stands for such a place.
        let is_worked = near.iter().any(|screen| !screen.prism.worked.is_empty());
        if is_worked {
            self.splits.by_all(place, found);
        }
        let mut changing: Vec<&Screen> = Vec::new();
        for screen in near {
            let own = found.places.len();
            self.splits.by(place, (screen.index, screen.prism), view, found);
            if is_worked || found.places[own..].iter().any(|t| *t > 0.0 && *t < 1.0 && !is_end(*t)) {
                changing.push(screen);
                continue;
            }
            found.tests += TESTS_A_BOARD;
            if screen.covers(halfway) {
                // What one board hides from end to end no other need be asked about.
                return parts.push((0.0, 1.0, true));
            }
        }
        // What hides one part hides the next more often than not.
        let mut hider: Option<&Screen> = None;
        let mut asked = 0;
        told(line, &mut found.places, parts, |t| {
            let place = at(t);
            asked += 1;
            if !hider.is_some_and(|screen| screen.covers(place)) {
                asked += changing.len();
                hider = changing.iter().find(|screen| screen.covers(place)).copied();
            }
            hider.is_some()
        });
        found.tests += asked * TESTS_A_BOARD;
    }
}

/// Adds the parts between parameters, each told by its middle.
fn told(line: &SeenLine, splits: &mut Vec<f64>, parts: &mut Vec<Part>, mut hides: impl FnMut(f64) -> bool) {
    splits.retain(|t| *t > 0.0 && *t < 1.0);
    splits.sort_by(f64::total_cmp);
    splits.push(1.0);
    let first = parts.len();
    let mut from = 0.0;
    for to in splits.iter().copied() {
        if to <= from {
            continue;
        }
        let short = line.seen.eval(from).distance(line.seen.eval(to)) < TRUE_TO
            && line.seen.eval(from).distance(line.seen.eval(0.5 * (from + to))) < TRUE_TO;
        if short {
            if to < 1.0 {
                continue;
            }
            if let Some(last) = parts[first..].last_mut() {
                last.1 = to;
                break;
            }
        }
        let hidden = hides(0.5 * (from + to));
        match parts[first..].last_mut() {
            Some(last) if last.2 == hidden => last.1 = to,
            _ => parts.push((from, to, hidden)),
        }
        from = to;
    }
}

#[cfg(test)]
mod tests;
