//! What measured diagonals of a taped pattern say of the print: how much too long or short it is, and how far out of square.

use super::candidates::across_is_x;
use super::tile::TiledPattern;
use crate::geometry::Vec2;
use crate::model::{Correction, Printer, Shop};

/// A diagonal of a taped pattern.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Diagonal {
    /// From its one cross to the other as drawn, mm.
    pub drawn: Vec2,
    /// What a rule reads from cross to cross, mm.
    pub read: f64,
}

/// How a print differs from what is drawn: it is longer by these shares of its lengths along x and along y, and what is drawn plumb
/// leans towards x by so much of its height.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Stretch {
    /// Along x.
    pub x: f64,
    /// Along y.
    pub y: f64,
    /// Towards x, for each millimetre of y.
    pub skew: f64,
}

/// From which share of the stretch along a pattern on that across it is told too.
const TOLD_OF_BOTH: f64 = 0.5;

/// How often the stretch is mended by what it leaves unexplained: each time squares the error, so that errors of a tenth vanish.
const ROUNDS: usize = 6;

impl Stretch {
    /// What a line that is drawn comes out as.
    pub fn of(self, drawn: Vec2) -> Vec2 {
        Vec2::new((1.0 + self.x) * drawn.x + self.skew * drawn.y, (1.0 + self.y) * drawn.y)
    }

    /// The least stretch that explains what was read of one diagonal, or of two that cross; `None` where they are no two that cross.
    ///
    /// Of one nothing is known of the skew, which is taken for none. Two numbers do not fix three: of all stretches that explain them the
    /// one with the smallest squares is taken, which of a long narrow pattern changes its length and leaves its width alone.
    pub fn explaining(diagonals: &[Diagonal]) -> Option<Stretch> {
        let mut stretch = Stretch::default();
        for _ in 0..ROUNDS {
            let rows: Vec<([f64; 3], f64)> = diagonals.iter().map(|one| stretch.row(one, diagonals.len())).collect();
            let dot = |a: &[f64; 3], b: &[f64; 3]| a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
            let weights = match rows.as_slice() {
                [(a, r)] => vec![r / dot(a, a)],
                [(a, r), (b, s)] => {
                    let (aa, ab, bb) = (dot(a, a), dot(a, b), dot(b, b));
                    let det = aa * bb - ab * ab;
                    vec![(r * bb - s * ab) / det, (s * aa - r * ab) / det]
                }
                _ => return None,
            };
            for (weight, (row, _)) in weights.into_iter().zip(&rows) {
                stretch.x += weight * row[0];
                stretch.y += weight * row[1];
                stretch.skew += weight * row[2];
            }
        }
        [stretch.x, stretch.y, stretch.skew].into_iter().all(f64::is_finite).then_some(stretch)
    }

    /// By which share it changes lengths at most.
    pub fn largest(self) -> f64 {
        self.x.abs().max(self.y.abs())
    }

    /// Whether it tells of the way along a pattern alone, which is too narrow to tell of the other.
    pub fn is_of_one_way(self) -> bool {
        self.x.abs().min(self.y.abs()) <= TOLD_OF_BOTH * self.x.abs().max(self.y.abs())
    }

    /// How the length of a diagonal changes with each of the three, and what of its reading is not explained yet.
    fn row(self, of: &Diagonal, count: usize) -> ([f64; 3], f64) {
        let now = self.of(of.drawn);
        let long = now.hypot();
        let skewed = if count > 1 { now.x * of.drawn.y / long } else { 0.0 };
        ([now.x * of.drawn.x / long, now.y * of.drawn.y / long, skewed], of.read - long)
    }

    /// Whether what is across the paper for the printer lies along x of a pattern.
    pub fn lies_across(shop: &Shop, plan: &TiledPattern) -> bool {
        across_is_x(shop, plan.page_size)
    }

    /// The printer's correction with which the print comes out as long as it is drawn, where it was made with that of a shop; the
    /// skew is left, since pages carry none.
    pub fn corrected(self, shop: &Shop, plan: &TiledPattern) -> Printer {
        // What the readings tell next to nothing of is left as it is.
        let most = if self.is_of_one_way() { self.x.abs().max(self.y.abs()) } else { 0.0 };
        let [x, y] = [self.x, self.y].map(|share| if share.abs() < most { 0.0 } else { share });
        let (across, up) = if Self::lies_across(shop, plan) { (x, y) } else { (y, x) };
        let Printer { across: Correction(a), up: Correction(u) } = shop.printer;
        Printer { across: Correction(a / (1.0 + across)), up: Correction(u / (1.0 + up)) }
    }
}

#[cfg(test)]
mod tests {
    use super::{Diagonal, Stretch};
    use crate::geometry::Vec2;

    fn read(true_stretch: Stretch, drawn: Vec2) -> Diagonal {
        Diagonal { drawn, read: true_stretch.of(drawn).hypot() }
    }

    /// Both diagonals of a sheet that is stretched alike both ways and askew give it back.
    #[test]
    fn two_diagonals_give_scale_and_skew() {
        for (wide, high) in [(1700.0, 240.0), (500.0, 480.0), (180.0, 900.0)] {
            for (share, skew) in [(0.005, 0.003), (-0.02, -0.001), (0.029, 0.0)] {
                let stretched = Stretch { x: share, y: share, skew };
                let both = [Vec2::new(wide, high), Vec2::new(wide, -high)].map(|drawn| read(stretched, drawn));
                let found = Stretch::explaining(&both).expect("two that cross");
                for diagonal in both {
                    assert!((found.of(diagonal.drawn).hypot() - diagonal.read).abs() < 1e-9);
                }
                assert!((found.skew - skew).abs() < 0.05 * share.abs() + 1e-9, "{found:?} for {stretched:?}");
            }
        }
    }

    /// By hand: 995 for 1000 on a diagonal of 600 and 800 is 0.5 % both ways at most, and along a line all of it.
    #[test]
    fn one_diagonal_gives_the_length_along_it() {
        let along = Stretch::explaining(&[Diagonal { drawn: Vec2::new(1000.0, 0.0), read: 995.0 }]).expect("one");
        assert!((along.x + 0.005).abs() < 1e-12 && along.y == 0.0 && along.skew == 0.0, "{along:?}");
        let square =
            Stretch::explaining(&[Diagonal { drawn: Vec2::new(500.0, 500.0), read: 0.995 * 500.0 * 2f64.sqrt() }]);
        let square = square.expect("one");
        assert!((square.x + 0.005).abs() < 1e-12 && (square.y + 0.005).abs() < 1e-12, "{square:?}");
    }

    #[test]
    fn what_does_not_cross_tells_nothing() {
        let twice = Diagonal { drawn: Vec2::new(300.0, 400.0), read: 501.0 };
        assert_eq!(Stretch::explaining(&[twice, Diagonal { read: 499.0, ..twice }]), None);
        assert_eq!(Stretch::explaining(&[]), None);
    }
}
