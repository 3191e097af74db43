//! What lies behind a board's face side or shows beyond its edge is drawn, and every shape of it is closed: held against the faces of
//! the body, which know nothing of the pattern.

use super::random::{boxes, for_all_pieces, leaning, splayed, top};
use crate::common::stock::plain_stock;
use fullsize::geometry::{Path, Point};
use fullsize::job::Job;
use fullsize::model::base::Base;
use fullsize::page::{Role, Shape};
use fullsize::pattern::{draw_board, far_lines};
use fullsize::piece::{Piece, SolvedBoard};
use fullsize::project::read;
use fullsize::units::Notation;
use std::path::{Path as FilePath, PathBuf};

/// As near as a printed line can be told from another, mm.
const ON: f64 = 0.02;

/// Points tried along each piece of a rim.
const ALONG: usize = 8;

fn near(lines: &[Path], p: Point) -> bool {
    lines.iter().any(|line| line.nearest(p).is_some_and(|(away, _)| away < ON))
}

/// Holds the far lines of a piece against its solids; how many boards.
fn held(name: &str, piece: &Piece) -> usize {
    let sawn = piece.boards.iter().filter(|board| board.turned.is_none() && board.board.keep.is_none());
    sawn.filter_map(|board| hold(name, board)).count()
}

fn hold(name: &str, solved: &SolvedBoard) -> Option<()> {
    let (board, rim) = (&solved.board, vec![solved.solid.face.path().clone()]);
    let lines = far_lines(board, &solved.solid);
    let all: Vec<Path> = rim.iter().chain(&lines).cloned().collect();
    for face in board.body().faces()? {
        let looks_away = face.axes.plane.normal().z < -0.87;
        for piece in face.rings.iter().flat_map(|ring| ring.segments().to_vec()) {
            let steps = if looks_away { ALONG } else { 1 };
            for k in 0..=steps {
                let p = face.axes.lift(piece.eval(k as f64 / steps as f64));
                assert!(
                    near(&all, Point::new(p.x, p.y)),
                    "{name}, {}: nothing is drawn at {p:?}: {lines:?}",
                    solved.label
                );
            }
        }
    }
    // Each line ends on the face side's rim or on another line.
    for (k, line) in lines.iter().enumerate() {
        let others: Vec<Path> =
            rim.iter().chain(lines.iter().enumerate().filter(|(i, _)| *i != k).map(|(_, l)| l)).cloned().collect();
        let is_round = line.start().zip(line.end()).is_some_and(|(a, b)| a.distance(b) < ON);
        for end in [line.start(), line.end()].into_iter().flatten() {
            assert!(
                is_round || near(&others, end),
                "{name}, {}: a line stays open at {end:?}: {lines:?}",
                solved.label
            );
        }
    }
    // What is worked out is what is drawn, in dashes.
    let pattern = draw_board(solved, None, &plain_stock(solved), "", "x", &Notation::default());
    for line in &lines {
        let is_drawn = pattern.items.iter().any(|item| match &item.shape {
            Shape::Stroke { path, pen } => item.role == Role::Mark && path == line && !pen.dash.is_empty(),
            _ => false,
        });
        assert!(is_drawn, "{name}, {}: {line:?}", solved.label);
    }
    Some(())
}

fn files() -> Vec<PathBuf> {
    let root = FilePath::new(env!("CARGO_MANIFEST_DIR"));
    let mut all: Vec<PathBuf> = Vec::new();
    for folder in ["templates-demo", "fixtures/good", "fixtures/routed", "fixtures/codes", "fixtures/names"] {
        let found = std::fs::read_dir(root.join(folder)).expect("a folder").flatten().map(|entry| entry.path());
        all.extend(found.filter(|path| path.extension().is_some_and(|kind| kind == "json")));
    }
    all.sort();
    all
}

#[test]
fn far_lines_of_every_kept_file_are_whole_and_closed() {
    let mut boards = 0;
    for path in files() {
        let (name, text) = (path.display().to_string(), std::fs::read(&path).expect("a file"));
        let Some(project) = read(&name, &text, None, None).project else { continue };
        let job = Job::new(project);
        let Ok(Some(piece)) = job.piece() else { continue };
        boards += held(&name, piece);
    }
    assert!(boards > 40, "{boards}");
}

#[test]
fn far_lines_of_random_boards_are_whole_and_closed() {
    let mut boards = 0;
    for_all_pieces(
        10,
        |d| {
            let curved = d.chance(0.5);
            (Base::LeaningFrames(Box::new(leaning(d, curved))), Some(top(d)))
        },
        |piece, _| boards += held("leaning frames", &piece),
    );
    for_all_pieces(
        10,
        |d| (Base::SplayedLegs(Box::new(splayed(d))), None),
        |piece, _| boards += held("legs", &piece),
    );
    for_all_pieces(20, |d| (Base::SplayedBox(boxes(d)), None), |piece, _| boards += held("box", &piece));
    assert!(boards >= 100, "{boards}");
}
