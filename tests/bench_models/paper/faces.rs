//! The pattern of a board on the face side of each of its copies.

use super::super::made::{Board, Made};
use super::lay::{Before, TRUE, hand, landed, laying, mouths_in, strokes, ways, words};
use fullsize::geometry::{Affine, Path, Point, Point3, Vec3};
use fullsize::page::Role;

/// Lays the pattern on every copy; on how many it lies in one way only.
pub fn lay(made: &Made, board: &Board) -> usize {
    // A turned leg has no face side: its page is a profile.
    if !board.json["turned"].is_null() {
        return 0;
    }
    laying(&board.label);
    let sheet = Sheet::of(made, board);
    (0..board.places.len()).filter(|copy| sheet.on_copy(*copy) == 1).count()
}

/// A pattern, with what is drawn on it.
struct Sheet<'a> {
    made: &'a Made,
    board: &'a Board<'a>,
    said: Vec<(String, Point)>,
    make: String,
    rim: Path,
    marks: Vec<(Path, bool)>,
}

impl Sheet<'_> {
    fn of<'a>(made: &'a Made, board: &'a Board<'a>) -> Sheet<'a> {
        let pattern = board.pattern(made);
        let said = words(&pattern.items).into_iter().map(|(word, at)| (word.to_owned(), at)).collect();
        let rim = strokes(&pattern.items, Role::Outline)[0].0.clone();
        let marks = strokes(&pattern.items, Role::Mark).into_iter();
        let marks = marks.map(|(path, pen)| (path.clone(), !pen.dash.is_empty())).collect();
        Sheet { made, board, said, make: pattern.make.clone(), rim, marks }
    }

    /// In how many ways the paper lies on the face side of a copy.
    fn on_copy(&self, copy: usize) -> usize {
        let (board, at) = (self.board, &self.board.places[copy].1);
        let over = hand(&self.make, at);
        let before = Before::surface(at.to_world(Point3::ORIGIN), at.direction_to_world(Vec3::Z));
        let see = |p: Point3| before.see(at.to_world(p));
        let paper: Vec<Point> = self.rim.nodes().into_iter().map(|p| over * p).collect();
        let wood: Vec<Point> = board.corners_of(0).into_iter().map(see).collect();
        let all = ways(&paper, &wood);
        assert!(!all.is_empty(), "{}: {paper:?} does not lie on {wood:?}", board.label);
        // What has an upper edge is read as it stands.
        let is_upright = |map: &Affine| (*map * over * Point::new(0.0, 1.0)).y > (*map * over * Point::ZERO).y;
        let has_upper = board.rims.iter().flatten().any(|stretch| stretch.name == "upper edge");
        let upside_down = |map: &Affine| (has_upper && !is_upright(map)).then(|| "upside down".to_owned());
        let wrong = |map: &Affine| upside_down(map).or_else(|| self.wrong(copy, *map * over, &see));
        let found = all.iter().map(wrong).collect::<Vec<_>>();
        assert!(found.iter().any(Option::is_none), "{}, copy {copy}: {found:?}", board.label);
        all.len()
    }

    /// What does not lie where the solid has it.
    fn wrong(&self, copy: usize, map: Affine, see: &dyn Fn(Point3) -> Point) -> Option<String> {
        let board = self.board;
        let drawn: Vec<(Path, bool)> =
            self.marks.iter().map(|(path, dashed)| (path.transformed(map), *dashed)).collect();
        let rim = self.rim.transformed(map);
        let off = |path: &Path, p: Point| path.nearest(p).map_or(f64::MAX, |found| found.0);
        // Mouths are drawn in full lines about their middles.
        for hole in mouths_in(self.made, board, "face", copy) {
            let p = see(hole);
            let about =
                |path: &Path| path.is_closed() && path.bounding_box().is_some_and(|b| b.center().distance(p) < TRUE);
            if !drawn.iter().any(|(path, dashed)| !dashed && about(path)) {
                return Some(format!("no mouth at {p:?}"));
            }
        }
        // The far side's corners lie on its dashed line, or under the face side's own.
        for p in board.corners_of(1).into_iter().map(see) {
            if off(&rim, p) > TRUE && drawn.iter().all(|(path, dashed)| !dashed || off(path, p) > TRUE) {
                return Some(format!("the far side has a corner at {p:?}"));
            }
        }
        // What ends on a face is drawn there, in dashes.
        for (label, corners, out) in landed(self.made, board, copy) {
            // An end that is flush with the face lies beside it.
            let on =
                |z: f64| corners.iter().all(|p| (p.z - z).abs() < TRUE) && out.z * (z + board.thickness / 2.0) < 0.0;
            if corners.is_empty() || !(on(0.0) || on(-board.thickness)) {
                continue;
            }
            for p in corners.into_iter().map(see).filter(|p| rim.encloses(*p)) {
                if !drawn.iter().any(|(path, dashed)| *dashed && path.is_closed() && off(path, p) < TRUE) {
                    return Some(format!("the {label} ends at {p:?}"));
                }
            }
        }
        self.misnamed(map, see)
    }

    /// A sawn end's name that does not stand on its side.
    fn misnamed(&self, map: Affine, see: &dyn Fn(Point3) -> Point) -> Option<String> {
        let middle = see(self.board.middle());
        for cut in self.board.cuts.iter().filter(|cut| cut.is_end) {
            let out = see(self.board.middle() + Vec3::new(cut.normal.x, cut.normal.y, 0.0)) - middle;
            for (word, at) in self.said.iter().filter(|(word, _)| *word == cut.place) {
                if (map * *at - middle).dot(out) < 0.0 {
                    return Some(format!("{word} stands on the other side"));
                }
            }
        }
        None
    }
}
