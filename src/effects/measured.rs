//! Derivatives by central differences through the pipeline.

use super::size::{Size, SizeOf};
use crate::board::{Against, PartId};
use crate::job::{Job, Refusal};
use crate::model::base::Base;
use crate::model::{Kind, Number};
use crate::piece::{Piece, SolvedBoard};
use crate::tolerance::{ANGLE_NUDGE, JUMPS, LENGTH_NUDGE, NO_EFFECT, ONE_SLOPE, SHOWN};
use crate::units::Units;

/// By so much a length of the work usually comes out otherwise, mm, in a file of millimetres and in one of inches (1/16): common
/// practice, no source.
const USUAL_LENGTHS: [f64; 2] = [1.0, 25.4 / 16.0];

/// By so much an angle of the work usually comes out otherwise, degrees: common practice, no source.
const USUAL_ANGLE: f64 = 0.5;

/// What each number of a piece does to each of its parts.
#[derive(Debug, Clone, PartialEq)]
pub struct Effects {
    /// The lengths and angles of base and top, in the order of their fields.
    pub numbers: Vec<Number>,
    /// By how much the work usually misses a length, mm, and an angle, degrees.
    pub usual: [f64; 2],
    /// Of the numbers the indices of those that cannot be moved either way without a stop.
    pub held: Vec<usize>,
    /// The parts in the order in which they are best cut.
    pub parts: Vec<PartEffects>,
}

/// A part.
#[derive(Debug, Clone, PartialEq)]
pub struct PartEffects {
    /// Its key.
    pub id: String,
    /// What a maker calls it.
    pub label: String,
    /// How far its longest side comes out otherwise, mm, where each number that is not the part's own does so by what is usual
    /// ([`Effects::usual`]): root of the sum of squares, since they do so independently.
    pub hangs_by: f64,
    /// Its sizes.
    pub sizes: Vec<SizeEffects>,
    /// Of these the index of its longest side; `None` of a part without any.
    pub longest: Option<usize>,
}

/// A size of a part.
#[derive(Debug, Clone, PartialEq)]
pub struct SizeEffects {
    /// What, where and how much it is.
    pub size: Size,
    /// What the place is called.
    pub place: String,
    /// What moves it.
    pub by: Vec<Effect>,
}

/// What a number does to a size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Effect {
    /// The number: an index into [`Effects::numbers`].
    pub number: usize,
    /// By how much the size grows for each mm or degree of the number, mm or degrees: the mean of both ways.
    pub each: f64,
    /// The same for less and for more of the number, where these differ; `None` of a side on which the piece cannot be made.
    pub ways: Option<[Option<f64>; 2]>,
    /// Whether it is a number of the part itself.
    pub is_own: bool,
}

/// The first steps to the numbers that make a base and its top.
const OF_THE_PIECE: [&str; 2] = ["base", "top"];

impl Effects {
    /// Measures what every number of base and top does: each is moved a little both ways and the piece is made anew.
    ///
    /// # Errors
    /// Where a finding stops the work, and where there is no piece.
    pub fn of(job: &Job) -> Result<Effects, Refusal> {
        Effects::of_numbers(job, &|_| true)
    }

    /// As [`Effects::of`], of some numbers alone.
    ///
    /// # Errors
    /// As there.
    pub fn of_numbers(job: &Job, is_wanted: &dyn Fn(&Number) -> bool) -> Result<Effects, Refusal> {
        let piece = job.needed_piece()?;
        let is_of_piece = |number: &Number| {
            let first = number.place.steps().next();
            matches!(number.kind, Kind::Length | Kind::Angle)
                && OF_THE_PIECE.iter().any(|part| first.as_deref() == Some(part))
        };
        let numbers: Vec<Number> =
            job.project().numbers().into_iter().filter(|one| is_of_piece(one) && is_wanted(one)).collect();
        let mut parts: Vec<PartEffects> = piece.boards.iter().map(part).collect();
        let mut held = Vec::new();
        for (index, number) in numbers.iter().enumerate() {
            let nudge = nudge(number);
            let jobs = [-1.0, 1.0].map(|way| job.with_number(&number.place, number.value + way * nudge));
            let pieces = jobs.each_ref().map(|job| job.as_ref().and_then(|job| job.piece().ok().flatten()));
            if pieces == [None, None] {
                held.push(index);
                continue;
            }
            for (part, board) in parts.iter_mut().zip(&piece.boards) {
                part.take(board, (index, number, nudge), pieces);
            }
        }
        let inches = job.project().notation.units == Units::Inch;
        let usual = [USUAL_LENGTHS[usize::from(inches)], USUAL_ANGLE];
        for part in &mut parts {
            part.hangs_by = part.hangs_by(&numbers, usual);
        }
        let are_frames = matches!(job.project().base, Some(Base::LeaningFrames(_)));
        let parts = in_order(parts, &piece.boards, are_frames);
        Ok(Effects { numbers, usual, held, parts })
    }

    /// What an effect comes to where its number comes out otherwise by what is usual: mm or degrees.
    pub fn usually(&self, effect: &Effect) -> f64 {
        self.numbers.get(effect.number).map_or(0.0, |number| effect.each * usual_of(number, self.usual))
    }
}

/// The parts in the order in which they are best cut: each after those against which its ends are sawn, what goes between frames
/// after all that makes the frames, else that which hangs on the least first; of those that hang on as much to a maker, the one that comes first in the piece.
fn in_order(parts: Vec<PartEffects>, boards: &[SolvedBoard], are_frames: bool) -> Vec<PartEffects> {
    let needs = |board: &SolvedBoard| -> Vec<PartId> {
        let against = board.board.cuts.iter().filter_map(|cut| match &cut.against {
            Some(Against::Part { part, .. }) if *part != board.id => Some(part.clone()),
            _ => None,
        });
        against.collect()
    };
    let mut left: Vec<(PartEffects, &SolvedBoard)> = parts.into_iter().zip(boards).collect();
    let mut placed: Vec<PartEffects> = Vec::new();
    while !left.is_empty() {
        let waits =
            |board: &SolvedBoard| needs(board).iter().any(|need| left.iter().any(|(_, other)| other.id == *need));
        let rank = |(part, board): &(PartEffects, &SolvedBoard)| {
            let is_between = are_frames && board.role.is_between();
            (waits(board), is_between, (part.hangs_by / SHOWN).round() as i64)
        };
        let next = (0..left.len()).min_by_key(|index| rank(&left[*index])).unwrap_or_default();
        placed.push(left.remove(next).0);
    }
    placed
}

fn usual_of(number: &Number, [length, angle]: [f64; 2]) -> f64 {
    if number.kind == Kind::Angle { angle } else { length }
}

/// By how much a number is moved: mm or degrees.
fn nudge(number: &Number) -> f64 {
    if number.kind == Kind::Angle { ANGLE_NUDGE } else { LENGTH_NUDGE }
}

/// A part on which nothing is known to have an effect yet.
fn part(board: &SolvedBoard) -> PartEffects {
    let place = |size: &Size| match size.of {
        SizeOf::Thickness => String::new(),
        _ => board.board.words_of(&size.at),
    };
    let sizes: Vec<SizeEffects> =
        Size::all(board).into_iter().map(|size| SizeEffects { place: place(&size), size, by: Vec::new() }).collect();
    let lengths = sizes.iter().enumerate().filter(|(_, one)| one.size.of == SizeOf::OnFace);
    let longest = lengths.max_by(|(_, a), (_, b)| a.size.value.total_cmp(&b.size.value)).map(|(index, _)| index);
    PartEffects { id: board.id.as_str().to_owned(), label: board.label.clone(), hangs_by: 0.0, sizes, longest }
}

impl PartEffects {
    /// Takes up what one number does: `pieces` are made with less and with more of it.
    fn take(&mut self, board: &SolvedBoard, number: (usize, &Number, f64), pieces: [Option<&Piece>; 2]) {
        let (index, number, nudge) = number;
        let prefix = format!("{}/", board.pointer);
        let is_own = board.pointer != "/base" && number.place.pointer.starts_with(&prefix);
        // Copies that are alike may become different: each is looked up, and what moves most is told.
        let found =
            board.copies.iter().map(|copy| pieces.map(|piece| piece.and_then(|piece| sizes_of(piece, &copy.label))));
        let found: Vec<[Option<Vec<Size>>; 2]> = found.collect();
        for one in &mut self.sizes {
            let all = found.iter().filter_map(|both| slopes(&one.size, both, nudge));
            let most = all.max_by(|a, b| a.0.abs().total_cmp(&b.0.abs()));
            let moved = most.filter(|(each, ways)| each.abs() > NO_EFFECT || ways.is_some());
            one.by.extend(moved.map(|(each, ways)| Effect { number: index, each, ways, is_own }));
        }
    }

    /// See the member of that name.
    fn hangs_by(&self, numbers: &[Number], usual: [f64; 2]) -> f64 {
        let longest = self.longest.and_then(|index| self.sizes.get(index));
        let effects = longest.into_iter().flat_map(|size| &size.by).filter(|effect| !effect.is_own);
        let missed = effects.filter_map(|effect| Some(effect.each * usual_of(numbers.get(effect.number)?, usual)));
        missed.map(|mm| mm * mm).sum::<f64>().sqrt()
    }
}

/// The sizes of the board of which a copy is called so.
fn sizes_of(piece: &Piece, copy: &str) -> Option<Vec<Size>> {
    let board = piece.boards.iter().find(|board| board.copies.iter().any(|one| one.label == copy))?;
    Some(Size::all(board))
}

/// By how much a size grows with its number, and the same for either way where they differ.
fn slopes(size: &Size, moved: &[Option<Vec<Size>>; 2], nudge: f64) -> Option<(f64, Option<[Option<f64>; 2]>)> {
    let grown = |moved: &Option<Vec<Size>>| {
        let now = moved.as_ref()?.iter().find(|now| now.is_same_as(size))?;
        let by = now.value - size.value;
        // So much more than any number makes of so little is another end or edge that bears the name now.
        (by.abs() < JUMPS).then_some(by / nudge)
    };
    let [less, more] = moved.each_ref().map(grown);
    let ways = [less.map(|by| -by), more];
    match ways {
        [Some(less), Some(more)] => {
            let differ = (less - more).abs() > ONE_SLOPE * less.abs().max(more.abs()).max(1.0);
            Some(((less + more) / 2.0, differ.then_some(ways)))
        }
        [Some(each), None] | [None, Some(each)] => Some((each, Some(ways))),
        [None, None] => None,
    }
}
