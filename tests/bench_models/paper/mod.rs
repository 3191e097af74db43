//! The one test of hand for all that is stuck or laid on wood: each paper is laid on the solved solid as it stands in the piece, from
//! outside, moved and turned but turned over only where its own words say so, and has to fit with all its words and marks.

mod as_they_are;
mod blocks;
mod drawn;
mod ends;
mod faces;
mod fixed;
mod gauges;
mod kinds;
mod lay;
mod lies;
mod named;
mod strips;
mod under;

pub use lay::laying;

use super::made::{Board, Made};
use super::{clamp, drill, each, in_parallel, pieces, router, sled};
use lay::sheets;

/// What a model lays of a piece, and how much of it all pieces have to give together.
type Model = (&'static str, fn(&Made) -> usize, usize);

const MODELS: [Model; 13] = [
    ("faces", |made| on_boards(made, faces::lay), 100),
    ("ends", |made| on_boards(made, ends::lay), 120),
    ("strips", |made| on_boards(made, strips::lay), 3),
    ("blocks on faces and ends", |made| blocks::lay(made)[0], 50),
    ("blocks on edges", |made| blocks::lay(made)[1], 5),
    ("wedges at ends", |made| sled::lay(made)[0], 60),
    ("wedges at long edges", |made| sled::lay(made)[1], 20),
    ("cauls", |made| clamp::lay(made)[0], 40),
    ("plans of cauls", |made| clamp::lay(made)[1], 5),
    ("drilling sheets", drill::lay, 20),
    ("rims under a top", under::lay, 3),
    ("slots, and mortises of buttons", |made| fixed::lay(made)[0], 10),
    ("holes and breadboard ends", |made| fixed::lay(made)[1..3].iter().sum(), 10),
];

fn on_boards(made: &Made, lay: fn(&Made, &Board) -> usize) -> usize {
    made.boards().iter().map(|board| lay(made, board)).sum()
}

#[test]
fn paper_lies_on_the_wood_from_outside_with_its_marks() {
    let lay_all = |made: &Made| MODELS.map(|(what, lay, _)| sheets(made, what, lay).map(|(laid, _)| laid));
    let found: Vec<[usize; 13]> =
        in_parallel(pieces(), |made| lay_all(made).map(|laid| laid.unwrap_or_else(|wrong| panic!("{wrong}"))));
    for (k, (what, _, least)) in MODELS.iter().enumerate() {
        let laid: usize = found.iter().map(|own| own[k]).sum();
        assert!(laid >= *least, "{what}: {laid}");
    }
    // Legs with templates are pieces of their own.
    let seeds: Vec<u64> = (0..each().max(12)).collect();
    let fed: usize = in_parallel(&seeds, |seed| router::lay(*seed)).iter().sum();
    assert!(fed > 8, "{fed}");
}
