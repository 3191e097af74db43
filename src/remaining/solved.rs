//! The piece with the numbers that were found, and the sizes of the parts that go between its frames.

use super::problem::{Next, NotDrawn};
use crate::as_built::{Found, Number, Pose, Side};
use crate::board::{Against, EndFace, Source};
use crate::effects::{Effects, Size, SizeEffects, SizeOf};
use crate::finding::{Finding, Offered, Place, Severity};
use crate::geometry::Point3;
use crate::job::{Job, Refusal, ToDo};
use crate::model::base::{Base, FrameTurn, Span};
use crate::model::path::named;
use crate::model::{self, Kind, Project};
use crate::piece::{BoardCopy, Piece, SolvedBoard};
use crate::units::{Angle, Length};

/// So many standard deviations to either side hold 19 of 20.
pub(super) const OFTEN: f64 = 1.96;

/// What a part may be off at most in length, mm: what is left on by that is taken off with a saw and a few strokes of a plane. Beyond
/// that a pattern shows another part (common practice, no source).
const MOST_PARED: f64 = 5.0;

/// What an end may stand open at most by an angle that is not known, mm: more than that neither a pared shoulder closes nor the play of
/// a tenon takes up (a guess of ours).
const MOST_OPEN: f64 = 1.0;

/// What is to be made for a piece as it stands.
#[derive(Debug)]
pub struct Remaining<'a> {
    /// What the readings tell.
    pub found: &'a Found,
    /// The piece as it stands.
    pub job: Job,
    /// Stretcher and aprons, without those that the file says exist.
    pub parts: Vec<RemainingPart>,
    /// What those are called that exist, all copies of them.
    pub made: Vec<String>,
}

/// A part that goes between the frames.
#[derive(Debug, Clone, PartialEq)]
pub struct RemainingPart {
    /// Its key.
    pub id: String,
    /// What a maker calls it.
    pub label: String,
    /// What its face side and its far side are called.
    pub sides: [String; 2],
    /// The numbers on which it hangs as the piece stands, too, and that are not decided, as the file names them.
    pub waits_for: Vec<String>,
    /// Its sizes.
    pub sizes: Vec<RemainingSize>,
}

/// A size of a part.
#[derive(Debug, Clone, PartialEq)]
pub struct RemainingSize {
    /// What, where and how much it is as the piece stands.
    pub size: Size,
    /// What the place is called.
    pub place: String,
    /// What stands against it: a part's left end is that which is on the left as its own sheet shows it.
    pub against: Option<String>,
    /// At which frame an end is; `None` of an edge.
    pub frame: Option<Side>,
    /// How well the readings fix it, as a standard deviation, mm or degrees.
    pub deviation: f64,
    /// How much it is as drawn; `None` where the drawn part has no such.
    pub drawn: Option<f64>,
    /// Over how much of an end an angle tells, mm: a mitre over its depth, a bevel over its thickness; 0 of all else.
    pub over: f64,
}

/// Why nothing can be solved for the piece as it stands.
#[derive(Debug)]
pub enum Unsolved {
    /// The file says nothing that was read on the piece.
    NothingRead,
    /// Such a piece cannot be made: what stops it.
    Stops(Vec<Finding>),
    /// Something else.
    Refused(Refusal),
}

impl From<Refusal> for Unsolved {
    fn from(refusal: Refusal) -> Unsolved {
        Unsolved::Refused(refusal)
    }
}

/// The numbers of the base that were found, each with what the seven numbers of a pose have in it.
const FOUND: [(&str, &[Number]); 6] = [
    ("/base/frames/left/lean", &[Number::Lean(Side::Left)]),
    ("/base/frames/right/lean", &[Number::Lean(Side::Right)]),
    ("/base/frames/left/twist", &[Number::Twist(Side::Left)]),
    ("/base/frames/right/twist", &[Number::Twist(Side::Right)]),
    ("/base/length_at_top", &[Number::Spread]),
    // The base has one splay: the mean of both frames'.
    ("/base/leg/splay", &[Number::Splay(Side::Left), Number::Splay(Side::Right)]),
];

/// Where the numbers stand that follow from how the frames stand: those that were found, and all that says the same in another way.
const OF_STANCE: [&str; 8] = [
    "/base/lean",
    "/base/frames",
    "/base/length_at_top",
    "/base/length_at_floor",
    "/base/width_at_top",
    "/base/width_at_floor",
    "/base/overhang",
    "/base/leg/splay",
];

impl<'a> Remaining<'a> {
    /// Solves stretcher and aprons for the piece as it stands.
    ///
    /// # Errors
    /// Where nothing was read, and where something stops the work.
    pub fn of(job: &'a Job) -> Result<Remaining<'a>, Unsolved> {
        let drawn = job.needed_piece()?;
        let found = job.as_found().ok_or(Unsolved::NothingRead)?;
        let stands = Job::new(as_it_stands(job.project(), found).ok_or(Unsolved::NothingRead)?);
        if stands.stops() {
            let stops = stands.cured_stops().into_iter().filter(|one| one.severity == Severity::Stop);
            return Err(Unsolved::Stops(stops.cloned().collect()));
        }
        let is_found = |pointer: &str| FOUND.iter().any(|(path, _)| *path == pointer);
        let effects = Effects::of_numbers(&stands, &|number| is_found(&number.place.pointer))?;
        let piece = stands.needed_piece()?;
        let between = piece.boards.iter().filter(|board| board.role.is_between());
        // Frames that stand otherwise make two parts of what is one as drawn.
        let exists = |board: &&SolvedBoard| {
            let copies: Vec<&str> = board.copies.iter().map(|copy| copy.label.as_str()).collect();
            as_drawn(board, drawn).is_some_and(|own| job.to_do_of(own.id.as_str(), &copies) != ToDo::Make)
        };
        let (made, wanted): (Vec<&SolvedBoard>, Vec<&SolvedBoard>) = between.partition(exists);
        let parts = wanted.into_iter().filter_map(|board| part(board, (&effects, found), (job, drawn))).collect();
        let made = made.into_iter().map(|board| board.label.clone()).collect();
        Ok(Remaining { found, job: stands, parts, made })
    }

    /// Why no pattern of some parts is to be drawn yet; `None` where they can be cut by.
    pub fn not_drawn(&self, parts: &[&RemainingPart]) -> Option<Finding> {
        let next = || Offered(Next::of(self.found));
        let problem = match () {
            () if self.found.readings.is_empty() => Some(NotDrawn::NothingRead { next: next() }),
            () if !self.found.fitted.suspects().is_empty() => Some(NotDrawn::Disagree {}),
            () => loose(parts, &next),
        };
        problem.map(|problem| Finding::of(problem, Place::pointer("/as_built")))
    }

    /// The names of the parts that may be cut, as their patterns have them, and of those that wait for a number.
    pub fn names(&self) -> [Vec<String>; 2] {
        let (held, free): (Vec<&RemainingPart>, Vec<&RemainingPart>) =
            self.parts.iter().partition(|part| !part.waits_for.is_empty());
        [free, held].map(|parts| parts.into_iter().map(|part| part.label.clone()).collect())
    }
}

/// The part that is known least: by its length, else by an end.
fn loose(parts: &[&RemainingPart], next: &dyn Fn() -> Offered<Option<Next>>) -> Option<NotDrawn> {
    let length = parts.iter().max_by(|a, b| a.loosest().total_cmp(&b.loosest()))?;
    let off = OFTEN * length.loosest();
    if off > MOST_PARED {
        let [off, most] = [off, MOST_PARED].map(Length::from_mm);
        return Some(NotDrawn::LengthLoose { part: length.label.clone(), off, most, next: next() });
    }
    let ends = parts.iter().flat_map(|part| part.sizes.iter().map(move |size| (part, size)));
    let (part, end) = ends.max_by(|(_, a), (_, b)| a.opens().total_cmp(&b.opens()))?;
    (end.opens() > MOST_OPEN).then(|| NotDrawn::EndLoose {
        part: part.label.clone(),
        end: end.place.clone(),
        is_mitre: end.size.of == SizeOf::Mitre,
        off: Angle::from_degrees(OFTEN * end.deviation),
        opens: Length::from_mm(end.opens()),
        most: Length::from_mm(MOST_OPEN),
        next: next(),
    })
}

/// The project with the numbers that were found.
fn as_it_stands(project: &Project, found: &Found) -> Option<Project> {
    let mut project = Project { as_built: None, ..project.piece_alone() };
    project.title = format!("{}, as it stands", project.title);
    let Some(Base::LeaningFrames(base)) = &mut project.base else { return None };
    let pose = found.fitted.pose;
    let number = |wanted: Number| {
        let value = Number::ALL.iter().zip(pose).find(|(one, _)| **one == wanted).map(|(_, value)| value);
        value.unwrap_or_default()
    };
    let angle = |wanted: Number| Angle::from_radians(number(wanted));
    base.frames = Some(
        Side::BOTH.map(|side| FrameTurn { lean: Some(angle(Number::Lean(side))), twist: angle(Number::Twist(side)) }),
    );
    base.length = Span::AtTop(Length::from_mm(number(Number::Spread)));
    // The heads stand where the made rails hold them.
    base.width = Span::AtTop(Length::from_mm(found.stance.width_at_top()));
    base.overhang = None;
    let splay: f64 = Side::BOTH.map(|side| number(Number::Splay(side))).into_iter().sum();
    base.leg.splay = Angle::from_radians(splay / 2.0);
    Some(project)
}

/// The board of the drawn piece that is this one as the piece stands.
fn as_drawn<'p>(board: &SolvedBoard, drawn: &'p Piece) -> Option<&'p SolvedBoard> {
    let copy = board.copies.first()?;
    drawn.boards.iter().find(|board| board.copies.iter().any(|one| one.label == copy.label))
}

/// The numbers that are not decided and on which a drawn part hangs, but for those that the frames decide as they stand.
fn waits_for(job: &Job, id: &str) -> Vec<String> {
    let held = job.held_back(id);
    if held.is_empty() {
        return held;
    }
    let numbers = job.project().spelt_out().numbers();
    let is_of = |number: &model::Number, pointer: &str| {
        number.place.pointer.strip_prefix(pointer).is_some_and(|rest| rest.is_empty() || rest.starts_with('/'))
    };
    let is_found = |number: &&model::Number| OF_STANCE.iter().any(|pointer| is_of(number, pointer));
    let is_open = |name: &String| {
        let meant = named(&numbers, name);
        meant.is_empty() || !meant.iter().all(is_found)
    };
    held.into_iter().filter(is_open).collect()
}

fn part(
    board: &SolvedBoard,
    (effects, found): (&Effects, &Found),
    (job, drawn): (&Job, &Piece),
) -> Option<RemainingPart> {
    let own = effects.parts.iter().find(|part| part.id == board.id.as_str())?;
    let as_drawn = as_drawn(board, drawn);
    let before = as_drawn.map(Size::all).unwrap_or_default();
    let sizes = own.sizes.iter().map(|one| RemainingSize {
        size: one.size.clone(),
        place: one.place.clone(),
        against: against(board, &one.size),
        frame: frame(board, &one.size),
        deviation: deviation(one, effects, found),
        drawn: before.iter().find(|old| old.is_same_as(&one.size)).map(|old| old.value),
        over: over(board, &one.size),
    });
    Some(RemainingPart {
        id: own.id.clone(),
        label: own.label.clone(),
        sides: board.board.sides.map(str::to_owned),
        waits_for: as_drawn.map(|drawn| waits_for(job, drawn.id.as_str())).unwrap_or_default(),
        sizes: sizes.collect(),
    })
}

/// What stands against an end, in a maker's words.
fn against(board: &SolvedBoard, size: &Size) -> Option<String> {
    let cut = board.board.cuts.iter().enumerate();
    let mut own = cut.filter(|(index, _)| board.board.surface(Source::Cut(*index)) == size.at);
    own.next().and_then(|(_, cut)| cut.against.as_ref().map(Against::words))
}

/// The cut that makes an end.
fn cut_of(board: &SolvedBoard, size: &Size) -> Option<usize> {
    let is_its = |cut: &usize| size.is_end && board.board.surface(Source::Cut(*cut)) == size.at;
    board.cuts.iter().map(|saw| saw.cut).find(is_its)
}

/// Over how much of an end an angle tells, mm; 0 of all else.
fn over(board: &SolvedBoard, size: &Size) -> f64 {
    let end = cut_of(board, size).and_then(|cut| board.solid.ends.get(cut));
    let corners = end.map(EndFace::corners).unwrap_or_default();
    let extent = |along: &dyn Fn(Point3) -> f64| {
        let all = || corners.iter().map(|(corner, ..)| along(*corner));
        all().fold(f64::MIN, f64::max) - all().fold(f64::MAX, f64::min)
    };
    match size.of {
        _ if corners.is_empty() => 0.0,
        SizeOf::Mitre => extent(&|p| p.y),
        SizeOf::Bevel => extent(&|p| p.z),
        _ => 0.0,
    }
}

/// At which frame an end of a part is, where all its copies have it there.
fn frame(board: &SolvedBoard, size: &Size) -> Option<Side> {
    let cut = cut_of(board, size)?;
    let (corner, ..) = *board.solid.ends.get(cut)?.corners().first()?;
    let side = |copy: &BoardCopy| if copy.placement.to_world(corner).x < 0.0 { Side::Left } else { Side::Right };
    let (first, others) = board.copies.split_first()?;
    others.iter().all(|copy| side(copy) == side(first)).then(|| side(first))
}

/// How well the readings fix a size: how it follows the numbers, and how those are known together.
fn deviation(size: &SizeEffects, effects: &Effects, found: &Found) -> f64 {
    let mut slopes: Pose = [0.0; Number::ALL.len()];
    for effect in &size.by {
        let Some(number) = effects.numbers.get(effect.number) else { continue };
        let Some((_, shares)) = FOUND.iter().find(|(path, _)| *path == number.place.pointer) else { continue };
        // Effects are told a degree, poses in radians.
        let each = if number.kind == Kind::Angle { effect.each.to_degrees() } else { effect.each };
        for share in *shares {
            let index = Number::ALL.iter().position(|one| one == share);
            if let Some(slope) = index.and_then(|index| slopes.get_mut(index)) {
                *slope += each / shares.len() as f64;
            }
        }
    }
    found.fitted.variance(&slopes).max(0.0).sqrt()
}

impl RemainingPart {
    /// How well its least known length is known, as a standard deviation: mm.
    pub fn loosest(&self) -> f64 {
        let lengths = self.sizes.iter().filter(|size| !size.size.of.is_angle() && !size.size.is_end);
        lengths.map(|size| size.deviation).fold(0.0, f64::max)
    }
}

impl RemainingSize {
    /// Whether it is the thickness, which no reading changes.
    pub(super) fn is_thickness(&self) -> bool {
        self.size.of == SizeOf::Thickness
    }

    /// How far an end may stand open across it by what its angle is not known, 19 times of 20: mm; 0 of all else.
    pub fn opens(&self) -> f64 {
        (OFTEN * self.deviation).to_radians() * self.over
    }
}
