//! A bench: models of saw, fence, gauge, mortiser, wedge, caul, block and clamp, each of which takes only what the paper, the
//! schedule or its data says, sets itself up as told, and is held against the solid.

mod clamp;
mod drill;
mod files;
mod gap;
mod machine;
pub(crate) mod made;
mod marking;
mod marking_held;
mod paper;
mod router;
mod saw;
mod sled;
mod stage;
mod stance;
mod surfaces;
mod told;

use fullsize::geometry::Vec3;
use fullsize::units::Units;
use made::{Made, made};
use serde_json::Value as Json;
use std::panic::resume_unwind;
use std::sync::OnceLock;
use std::sync::atomic::AtomicUsize;
use std::sync::atomic::Ordering::Relaxed;

/// The kinds of pieces with random numbers.
const KINDS: [fn(u64) -> Json; 6] =
    [files::leaning, files::splayed, files::boxes, files::boards, files::under, files::held];

/// Pieces of every kind, those of the guide first; the same ones for every model.
fn pieces() -> &'static [Made] {
    static ALL: OnceLock<Vec<Made>> = OnceLock::new();
    ALL.get_or_init(|| {
        let all: Vec<Json> =
            files::guide().into_iter().chain((0..each()).flat_map(|seed| KINDS.map(|kind| kind(seed)))).collect();
        let solved: Vec<Made> = in_parallel(&all, made).into_iter().flatten().collect();
        assert!(solved.len() * 5 > all.len() * 4, "{} of {}", solved.len(), all.len());
        solved
    })
}

/// The same done to each, in their order, by as many threads as there are cores.
fn in_parallel<T: Sync, R: Send>(all: &[T], each: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let next = AtomicUsize::new(0);
    let work = || {
        let mut own = Vec::new();
        while let Some((index, one)) = Some(next.fetch_add(1, Relaxed)).and_then(|i| Some((i, all.get(i)?))) {
            own.push((index, each(one)));
        }
        own
    };
    let mut done: Vec<(usize, R)> = std::thread::scope(|scope| {
        let cores = std::thread::available_parallelism().map_or(1, usize::from);
        let workers: Vec<_> = (0..cores).map(|_| scope.spawn(work)).collect();
        workers.into_iter().flat_map(|one| one.join().unwrap_or_else(|why| resume_unwind(why))).collect()
    });
    done.sort_by_key(|(index, _)| *index);
    done.into_iter().map(|(_, result)| result).collect()
}

/// Files of random numbers, so many of every kind.
pub fn random(each: u64) -> Vec<Json> {
    (0..each).flat_map(|seed| KINDS.map(|kind| kind(seed))).collect()
}

/// So many of every kind; `FULLSIZE_PIECES=60` for a long run.
fn each() -> u64 {
    std::env::var("FULLSIZE_PIECES").ok().and_then(|count| count.parse().ok()).unwrap_or(12)
}

/// Between two directions, degrees.
fn between(a: Vec3, b: Vec3) -> f64 {
    a.cross(b).length().atan2(a.dot(b)).to_degrees()
}

/// A direction turned about an axis of length 1, degrees, anticlockwise as seen from its tip (Rodrigues).
fn turned(v: Vec3, axis: Vec3, degrees: f64) -> Vec3 {
    let (sin, cos) = degrees.to_radians().sin_cos();
    v * cos + axis.cross(v) * sin + axis * (axis.dot(v) * (1.0 - cos))
}

/// The first number of words: `12.1° (21.4 to 100)`.
fn number(words: &str) -> f64 {
    let start = words.find(|c: char| c.is_ascii_digit() || c == '-').unwrap_or_else(|| panic!("no number: {words}"));
    let rest = &words[start..];
    let end = rest.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == '-')).unwrap_or(rest.len());
    rest[..end].parse().unwrap_or_else(|_| panic!("no number: {words}"))
}

/// The first length of words, as a pattern tells it: millimetres, or inches with their fraction and a decimal where that is not all
/// (`1 25/32" full (1.796")`), mm.
fn told_mm(made: &Made, words: &str) -> f64 {
    if made.project.notation.units == Units::Mm {
        return number(words);
    }
    let start = words.find(|c: char| c.is_ascii_digit()).unwrap_or_else(|| panic!("no length: {words}"));
    let (_, words) = words.split_at(start);
    let end = words.find(|c: char| !(c.is_ascii_digit() || " /".contains(c))).unwrap_or(words.len());
    let (fraction, rest) = words.split_at(end);
    let rest = rest.trim_start_matches('"').trim_start_matches(" full").trim_start_matches(" bare").trim_start();
    match rest.strip_prefix('(').filter(|_| rest.split(')').next().is_some_and(|inner| inner.contains('.'))) {
        Some(exact) => number(exact) * 25.4,
        None => made.mm(&Json::from(fraction.trim())).unwrap_or_else(|| panic!("no length: {words}")),
    }
}

/// Half of the last place in which angles are printed, degrees, and what arithmetic adds.
const PRINTED: f64 = 0.0501;

/// An angle in words: `square` is none.
fn degrees(words: &str) -> f64 {
    if words.starts_with("square") { 0.0 } else { number(words) }
}

fn near(what: &str, found: f64, wanted: f64, within: f64) {
    assert!((found - wanted).abs() <= within, "{what}: {found}, not {wanted}");
}
