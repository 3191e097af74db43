//! Where level words stand at the end of a line that leads to what they are about: beside a pattern's lines and beside those of a view.

use super::block::Block;
use crate::geometry::{Point, Rect, Vec2};
use crate::page::{Standing, Text};
use std::f64::consts::PI;

/// Clear room round words that are moved, mm.
pub const CLEAR: f64 = 0.8;

/// Between the rings of places that are tried, mm, and how many rings: a longer leader would be lost among the lines.
const RING: f64 = 6.0;
const RINGS: i32 = 13;

/// Places on each ring: none level with what the words are about, nor plumb over it, since most lines run so.
const SPOKES: usize = 24;

/// How far a leader keeps off words, mm.
const OFF_WORDS: f64 = 0.4;

/// Words and their leader.
#[derive(Debug, Clone)]
pub struct Led {
    /// The words where they stand.
    pub block: Block,
    /// What they are about.
    pub from: Point,
    /// The leader's end at the words.
    pub to: Point,
}

/// A block as it stands left and right of a leader whose end is the origin, so many mm off it.
pub fn sides(block: &Block, gap: f64) -> [Block; 2] {
    let off = gap + block.size.x / 2.0;
    [-off, off].map(|x| block.moved(Point::new(x, 0.0) - block.center))
}

/// Whether a leader runs clear of all words and along no line.
pub fn may_lead(standing: &Standing, from: Point, to: Point) -> bool {
    !standing.words_cross(from, to, OFF_WORDS) && !standing.runs_along(from, to)
}

/// The places of words about one of some points, the nearest first, in which neither they nor their leader is in the way of what stands.
/// `sides` are the words left and right of a leader that ends at the origin; only what stands where it `may_stand` is asked further.
/// Where a leader may not run for what `is_barred` says, none that runs on from it may: what bars one bars the longer ones too.
pub fn about<'a>(
    points: &'a [Point],
    sides: &'a [Block; 2],
    standing: &'a Standing,
    may_stand: &'a dyn Fn(Rect) -> bool,
    is_barred: &'a dyn Fn(Point, Point) -> bool,
) -> impl Iterator<Item = Led> + 'a {
    let around = sides.each_ref().map(|block| block.rim().bounding_box().unwrap_or_default());
    let ways: [Vec2; SPOKES] =
        std::array::from_fn(|spoke| Vec2::from_angle(2.0 * PI / SPOKES as f64 * (spoke as f64 + 0.5)));
    let spokes = move |reach: f64| {
        let tips = points.iter().flat_map(move |at| ways.map(|way| (*at, *at + way * reach)));
        tips.enumerate()
    };
    let tips = (1..=RINGS).flat_map(move |ring| spokes(RING * f64::from(ring)));
    let mut barred = vec![false; points.len() * SPOKES];
    tips.filter_map(move |(spoke, (from, to))| {
        let side = usize::from(to.x >= from.x);
        let block = around[side] + to.to_vec2();
        if barred[spoke] || !may_stand(block) || standing.touches(block.inflate(CLEAR, CLEAR)) {
            return None;
        }
        barred[spoke] = is_barred(from, to) || !may_lead(standing, from, to);
        (!barred[spoke]).then(|| Led { block: sides[side].moved(to.to_vec2()), from, to })
    })
}

impl Led {
    /// Its lines where they stand.
    pub fn texts(&self) -> &[Text] {
        self.block.texts()
    }
}
