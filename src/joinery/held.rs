//! From where what holds a top is marked on the part beneath it.

use super::marking::{Marking, Place};
use super::run;
use crate::board::Source;
use crate::geometry::Point3;
use crate::piece::{Entry, Hole, Piece};

/// Where a fastener of a top is marked on its part.
#[derive(Debug, Clone, PartialEq)]
pub struct HeldMark {
    /// The surface with its mouth.
    pub on: Source,
    /// From where the middle of its mouth is marked, as the top lies today.
    pub marking: Marking,
}

/// The marks of a landing that are told in one breath, with how far along each stands, mm, the nearest first.
pub fn marks_in_lines<'a>(marks: impl IntoIterator<Item = &'a HeldMark>) -> Vec<(&'a HeldMark, Vec<f64>)> {
    let mut lines: Vec<(&HeldMark, Vec<f64>)> = Vec::new();
    for mark in marks {
        match lines.iter_mut().find(|(known, _)| known.on == mark.on && known.marking.is_in_line(&mark.marking)) {
            Some((_, stations)) => stations.push(mark.marking.station),
            None => lines.push((mark, vec![mark.marking.station])),
        }
    }
    lines.iter_mut().for_each(|(_, stations)| stations.sort_by(f64::total_cmp));
    lines
}

/// From where each fastener of a landing is marked, all of one part from one pair of lines; `landing` is an index into the piece's
/// [`crate::piece::Held::landings`]. `None` for one that comes to no wood, and on what is turned.
pub fn held_marks(piece: &Piece, landing: usize) -> Vec<Option<HeldMark>> {
    let (Some(own), Some(holes)) = (piece.held.landings.get(landing), piece.held.holes.get(landing)) else {
        return Vec::new();
    };
    let Some(board) = piece.boards.get(own.board) else { return Vec::new() };
    let entries: Vec<Option<Entry>> = own.plays.iter().map(|play| piece.entry(own, play)).collect();
    let row: Vec<Point3> = entries.iter().flatten().map(|entry| entry.at).collect();
    let mark = |(entry, hole): (&Option<Entry>, &Hole)| {
        let entry = entry.as_ref()?;
        let on = match own.button {
            // From within the wood out by which it goes in.
            Some(_) => run(&board.board, entry.at + entry.into * (own.thick() / 2.0), -entry.into)?.1,
            None => own.on,
        };
        let place = Place {
            board,
            at: entry.at,
            by_number: own.plays.len() > 1,
            is_drilled: matches!(hole, Hole::Round(_)),
            on,
            normal: -entry.into,
            run: entry.run,
            row: row.clone(),
        };
        Some(HeldMark { on, marking: place.marked()? })
    };
    entries.iter().zip(holes).map(mark).collect()
}
