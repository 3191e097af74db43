//! What parts that exist ask of the piece: distances that follow its numbers and the places of its parts.

use crate::board::Source;
use crate::change::differs::met;
use crate::change::kept::Kept;
use crate::change::measured::measured;
use crate::change::place::{BothWorked, Off, Pair, Place, pairs, points_on};
use crate::change::verdict::{SHORT, Verdict, of_copies, wanted, without_named};
use crate::change::wood::{Kind, Wood, Worked};
use crate::geometry::{Point3, Vec3};
use crate::model::made::MadePart;
use crate::tolerance::{LENGTH_NUDGE, SAME_PLACE};
use crate::units::Length;

/// A point that moves by more than this, mm, while a number is moved by a tenth of that is another one.
const JUMPED: f64 = 10.0 * LENGTH_NUDGE;

/// A part that exists, and the part of the piece that is wanted of it.
#[derive(Debug)]
pub(super) struct Task {
    /// The key of the part that is wanted.
    pub(super) part: String,
    /// What is there.
    pub(super) wood: Wood,
    /// By how much that may fall short, mm.
    pub(super) may_lack: f64,
    made: MadePart,
}

impl Task {
    /// Whether a verdict is about it.
    pub(super) fn is_of(&self, verdict: &Verdict) -> bool {
        verdict.part.as_ref() == Some(&self.part)
            && verdict.name.code == self.made.code
            && verdict.name.only == self.made.only
    }

    /// Of all boards of the piece that a file says exist, those that are known and are still wanted: numbers of the base move nothing of parts
    /// that the file draws directly.
    pub(super) fn all(made: &[MadePart], kept: &Kept, now: &[Wood]) -> Vec<Task> {
        let of = |part: &MadePart| -> Vec<Task> {
            let Some(made) = without_named(part, made, kept) else { return Vec::new() };
            let drawn = kept.drawn(&made.part, &made.code).filter(|drawn| matches!(drawn.kind, Kind::Board(_)));
            let Some(found) = drawn.and_then(|drawn| measured(drawn, &made).ok()) else {
                return Vec::new();
            };
            let may_lack = made.tolerance.map_or(SHORT, Length::mm) + found.accuracy;
            let task =
                |new: &Wood| Task { part: new.id.clone(), wood: found.wood.clone(), may_lack, made: made.clone() };
            wanted(&found.wood, &made, now).into_iter().map(task).collect()
        };
        made.iter().flat_map(of).collect()
    }
}

/// A part as it is wanted, with the points of each of its surfaces.
#[derive(Debug)]
struct Part {
    wood: Wood,
    surfaces: Vec<(Source, Vec<Point3>)>,
}

/// The parts that are wanted at some numbers, one for each task.
#[derive(Debug)]
pub(super) struct Stand {
    parts: Vec<Part>,
}

impl Stand {
    /// Of the parts of a piece; `None` where one is missing.
    pub(super) fn of(woods: &[Wood], tasks: &[Task]) -> Option<Stand> {
        let part = |task: &Task| {
            let wood = of_copies(woods.iter().find(|wood| wood.id == task.part)?, &task.made);
            let surfaces = wood.surfaces().into_iter().map(|source| (source, points_on(&wood, source))).collect();
            Some(Part { wood, surfaces })
        };
        Some(Stand { parts: tasks.iter().map(part).collect::<Option<_>>()? })
    }

    /// Whether another has the same surfaces and points, none of which has jumped.
    pub(super) fn is_like(&self, other: &Stand) -> bool {
        let near =
            |a: &[Point3], b: &[Point3]| a.len() == b.len() && a.iter().zip(b).all(|(p, q)| p.distance(*q) < JUMPED);
        self.parts.iter().zip(&other.parts).all(|(a, b)| {
            a.surfaces.len() == b.surfaces.len()
                && a.wood.worked.len() == b.wood.worked.len()
                && a.surfaces.iter().zip(&b.surfaces).all(|(a, b)| a.0 == b.0 && near(&a.1, &b.1))
        })
    }

    /// The same place of each part as its own axes and those of what is there have it.
    pub(super) fn places(&self, tasks: &[Task]) -> Vec<Place> {
        let of = |(part, task): (&Part, &Task)| {
            Place::of_axes(task.wood.solid.blank.center().midpoint(part.wood.solid.blank.center()))
        };
        self.parts.iter().zip(tasks).map(of).collect()
    }

    /// The sawn ends of each part, by key.
    pub(super) fn ends(&self, tasks: &[Task]) -> Vec<(String, Source)> {
        let of = |(part, task): (&Part, &Task)| {
            let ends = part.surfaces.iter().filter(|(source, _)| part.wood.is_end(*source));
            ends.map(|(source, _)| (task.part.clone(), *source)).collect::<Vec<_>>()
        };
        // Copies that have entries of their own are of one part.
        let mut all: Vec<(String, Source)> = Vec::new();
        for end in self.parts.iter().zip(tasks).flat_map(of) {
            if !all.contains(&end) {
                all.push(end);
            }
        }
        all
    }

    /// The surface of a part as it is wanted that is that one of what is there.
    pub(super) fn as_wanted(&self, task: usize, tasks: &[Task], old: Source) -> Option<(String, Source)> {
        let (part, task) = (self.parts.get(task)?, tasks.get(task)?);
        let pair = pairs(&task.wood, &part.wood).0.into_iter().find(|pair| pair.sources[0] == old)?;
        Some((task.part.clone(), pair.sources[1]))
    }
}

/// What distances are about.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Of {
    /// How far points of a surface that is wanted lie outside the same surface of what is there.
    Surface {
        /// Which it is of the part that is wanted.
        source: Source,
        /// Whether it is sawn: an end.
        is_end: bool,
    },
    /// How far something worked stands off, along one axis across itself.
    Worked {
        /// The surface from which it goes in.
        on: Option<Source>,
    },
}

/// A distance, mm: what it is now, and what it changes by with shift and turn of its part and with each number that was moved.
#[derive(Debug)]
pub(super) struct Line {
    pub(super) now: f64,
    pub(super) place: [f64; 3],
    pub(super) by: Vec<f64>,
}

/// Distances of which the largest counts.
#[derive(Debug)]
pub(super) struct Group {
    /// The task whose part it is.
    pub(super) task: usize,
    pub(super) of: Of,
    pub(super) lines: Vec<Line>,
}

impl Group {
    /// The same with some of the numbers alone.
    pub(super) fn of_columns(self, columns: &[usize]) -> Group {
        let line = |line: Line| {
            let by = columns.iter().map(|column| line.by.get(*column).copied().unwrap_or_default()).collect();
            Line { by, ..line }
        };
        Group { lines: self.lines.into_iter().map(line).collect(), ..self }
    }
}

/// The distances of all tasks where the piece stands at some numbers and its parts lie at some places. `nudged` is the piece with each of
/// some numbers moved, and by how much.
pub(super) fn asked_of(tasks: &[Task], at: &Stand, nudged: &[(f64, &Stand)], places: &[Place]) -> Vec<Group> {
    let mut all = Vec::new();
    for (index, (task, part)) in tasks.iter().zip(&at.parts).enumerate() {
        let Some(place) = places.get(index) else { continue };
        let moved: Vec<(f64, &Part)> =
            nudged.iter().filter_map(|(by, stand)| Some((*by, stand.parts.get(index)?))).collect();
        let of = Asked { task, part, moved, place };
        let surfaces = pairs(&task.wood, &part.wood).0;
        all.extend(surfaces.iter().map(|pair| {
            let source = pair.sources[1];
            let of_surface = Of::Surface { source, is_end: part.wood.is_end(source) };
            Group { task: index, of: of_surface, lines: of.surface(pair) }
        }));
        all.extend(of.worked().into_iter().map(|(on, line)| Group {
            task: index,
            of: Of::Worked { on },
            lines: vec![line],
        }));
    }
    all
}

/// A part that is asked.
struct Asked<'a> {
    task: &'a Task,
    part: &'a Part,
    moved: Vec<(f64, &'a Part)>,
    place: &'a Place,
}

impl Asked<'_> {
    fn line(&self, off: Off, by: Vec<f64>) -> Line {
        Line { now: off.now, place: off.by, by }
    }

    /// How far points of a surface that is wanted lie outside that of what is there.
    fn surface(&self, pair: &Pair) -> Vec<Line> {
        let points_of = |part: &Part| {
            part.surfaces.iter().find(|(source, _)| *source == pair.sources[1]).map(|(_, points)| points.clone())
        };
        let moved: Vec<(f64, Vec<Point3>)> =
            self.moved.iter().map(|(by, part)| (*by, points_of(part).unwrap_or_default())).collect();
        let own = &pair.points[1];
        let is_first = |(index, p): &(usize, &Point3)| own[..*index].iter().all(|q| q.distance(**p) > SAME_PLACE);
        let line = |(index, p): (usize, &Point3)| {
            let at = self.place.there(*p);
            let (now, way) = pair.skins[0].outside(at)?;
            let by = moved.iter().map(|(step, points)| {
                let to = points.get(index).copied().unwrap_or(*p);
                self.place.way(to - *p).dot(way) / step
            });
            Some(self.line(Off::along(now, way, at, self.place), by.collect()))
        };
        own.iter().enumerate().filter(is_first).filter_map(line).collect()
    }

    /// How far what is worked in both stands off, along either axis across itself.
    fn worked(&self) -> Vec<(Option<Source>, Line)> {
        let wood = &self.part.wood;
        let of = |(was, is): (&Worked, &Worked)| {
            let number = wood.worked.iter().position(|one| std::ptr::eq(one, is));
            let on = self.part.surfaces.iter().map(|(source, _)| *source);
            let on = on.into_iter().find(|source| is.on.as_ref() == Some(&wood.board.surface(*source)));
            let at = self.place.there(is.mouth());
            let line = |axis: Vec3| {
                let by = self.moved.iter().map(|(step, part)| {
                    let to = number.and_then(|number| part.wood.worked.get(number)).map_or(is.mouth(), Worked::mouth);
                    self.place.way(to - is.mouth()).dot(axis) / step
                });
                self.line(Off::along((at - was.mouth()).dot(axis), axis, at, self.place), by.collect())
            };
            let both = BothWorked::needed(was, is, &self.task.wood);
            both.across.into_iter().map(|axis| (on, line(axis))).collect::<Vec<_>>()
        };
        let both = met(&self.task.wood.worked, &wood.worked);
        both.into_iter().filter_map(|(was, is)| Some((was?, is?))).flat_map(of).collect()
    }
}
