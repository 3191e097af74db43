//! What the router's side of a part adds to its drawing: tangent points, places out of reach, runs of the grain.

use super::clear::Clear;
use super::hatch::{beside_left, hatched, left_words};
use super::lines::{MARK_WIDTH, line, stroke};
use crate::geometry::{Comb, Nearest, Path, PathIndex, Point, Region, Segment, Vec2, contacts};
use crate::model::DrawnPattern;
use crate::page::{Anchor, Item, Label, Pen, Role, Text};
use crate::router::{GrainRun, GrainWay, OnPart, Rotation, Shortfall};
use crate::tolerance::{BELOW_A_RULE, CONTACT_TOLERANCE, SAME_POINT, SHOWN, UNSEEN};
use crate::units::{Length, Notation};

/// Length of the tick at a tangent point, mm.
const TICK: f64 = 2.5;
/// Length of the tick at the end of a run of the grain, mm.
const RUN_TICK: f64 = 5.0;
/// Height of the capitals, mm.
const LETTERING: f64 = 2.5;
/// Dashes of the lines that an edge profile leaves, mm.
const PROFILE: [f64; 2] = [3.0, 1.5];

/// Everything to be marked along the drawn edge of a part, which may be half of it, of what the router's side found; its words keep
/// clear of what is drawn already.
pub fn marks(drawn: &DrawnPattern, found: &OnPart, ring: &Path, standing: &[Item], say: &Notation) -> Vec<Item> {
    let rings = std::slice::from_ref(ring);
    let (edge, inside) = (Nearest::of(rings), Region::of(rings));
    let pieces = PathIndex::new(ring);
    let mut sheet = Sheet { edge, inside, pieces, say, items: Vec::new(), clear: Clear::new(standing) };
    sheet.add(tangent_ticks(&drawn.built.tangents, ring));
    // Every line before the first words.
    let left = found.reach.iter().flat_map(|reach| &reach.left);
    let left: Vec<Shortfall> = left.filter(|place| sheet.shows(place.at)).cloned().collect();
    sheet.add(hatched(&left));
    sheet.add(found.comb.as_ref().map(teeth).unwrap_or_default());
    let lines = [(&found.on_face, "profile, on the face"), (&found.on_far_side, "profile, on the far side")];
    let lines = lines.map(|(lines, said)| (sheet.profile(lines), said));
    let runs: Vec<(Path, &GrainRun)> = minded(&found.grain).collect();
    let runs: Vec<(Path, &GrainRun)> = runs.into_iter().filter(|(path, _)| sheet.shows_middle(path)).collect();
    sheet.add(runs.iter().flat_map(|(path, _)| end_ticks(path)).collect());
    let radii = corner_words(&drawn.built.tangents, ring, say, &mut sheet.clear);
    sheet.items.extend(radii);
    for place in &left {
        let words = beside_left(place, left_words(place, say), Some(&sheet.inside), &mut sheet.clear);
        sheet.items.extend(words);
    }
    for (lines, said) in &lines {
        sheet.beside(lines.iter().max_by(|a, b| a.length().total_cmp(&b.length())), &[said]);
    }
    for (path, run) in &runs {
        sheet.beside(Some(path), words_of(run));
    }
    sheet.legend(found.comb.as_ref());
    sheet.items
}

/// A tick at each tangent point that lies on the drawn edge, square to it, into the part.
pub fn tangent_ticks(tangents: &[Point], ring: &Path) -> Vec<Item> {
    let tick = |at: &Point| {
        let place = ring.nearest(*at).filter(|(off, _)| *off < BELOW_A_RULE).map(|(_, place)| place)?;
        let along = ring.tangent_at(place)?;
        Some(line(Role::Mark, *at, *at + along.turn_90() * TICK, Pen::solid(MARK_WIDTH)))
    };
    tangents.iter().filter_map(tick).collect()
}

/// So many corners of one radius are named one by one; of more the first one tells how many there are.
const MOST_NAMED: usize = 4;

/// How far off its corner a radius is tried, mm: within the part, then beside it.
const OFF_CORNERS: [f64; 8] = [4.0, 7.0, 10.0, 14.0, 18.0, -6.5, -10.0, -14.0];

/// Beside each rounded corner its radius, clear of what stands already if it can be; `tangents` as for the ticks, two a corner.
pub fn corner_words(tangents: &[Point], ring: &Path, say: &Notation, clear: &mut Clear) -> Vec<Item> {
    let arc = |ends: &[Point]| {
        let is_it = |piece: &&Segment| {
            let own = [piece.start(), piece.end()];
            ends.iter().all(|end| own.iter().any(|p| p.distance(*end) < SAME_POINT))
        };
        ring.segments().iter().find(is_it).and_then(|piece| match piece {
            Segment::Arc(arc) => Some((*piece, arc.radius(SAME_POINT)?)),
            _ => None,
        })
    };
    let mut radii: Vec<(f64, Vec<Segment>)> = Vec::new();
    for (piece, radius) in tangents.chunks_exact(2).filter_map(arc) {
        match radii.iter_mut().find(|(known, _)| (known - radius).abs() < UNSEEN) {
            Some((_, corners)) => corners.push(piece),
            None => radii.push((radius, vec![piece])),
        }
    }
    let mut named = Vec::new();
    for (radius, corners) in &radii {
        let radius = format!("radius {}", say.bare_length(Length::from_mm(*radius)));
        let (count, said) = match corners.len() {
            many if many > MOST_NAMED => (1, format!("{radius}, {many} corners")),
            few => (few, radius),
        };
        for corner in corners.iter().take(count) {
            let (at, inwards) = (corner.eval(0.5), corner.tangent(0.5).normalize().turn_90());
            let about = Label::along(Path::open(vec![*corner]));
            let text = |off: f64| Text::new(at + inwards * off, LETTERING, said.clone()).anchored(Anchor::Middle);
            named.extend(clear.first(OFF_CORNERS.map(|off| text(off).about(about.clone()))));
        }
    }
    named
}

/// The drawing of a part, being added to.
struct Sheet<'a> {
    /// The drawn edge.
    edge: Nearest,
    /// What it encloses.
    inside: Region,
    /// Its pieces.
    pieces: PathIndex<'a>,
    say: &'a Notation,
    items: Vec<Item>,
    clear: Clear,
}

impl Sheet<'_> {
    fn add(&mut self, items: Vec<Item>) {
        items.iter().for_each(|item| self.clear.keep_off(item));
        self.items.extend(items);
    }

    fn on_edge(&self, point: Point) -> bool {
        self.edge.nearer(point, BELOW_A_RULE).is_some()
    }

    /// Whether a place lies on what is shown of the part.
    fn shows(&self, point: Point) -> bool {
        self.on_edge(point) || self.inside.holds(point)
    }

    /// The stretches of a piece that lie on what is shown of the part.
    fn shown(&self, piece: &Segment) -> Vec<Segment> {
        let near = self.pieces.near(piece.bounding_box().inflate(BELOW_A_RULE, BELOW_A_RULE));
        let meets = near.flat_map(|edge| contacts(piece, edge, CONTACT_TOLERANCE).unwrap_or_default());
        let mut knots: Vec<f64> =
            meets.flat_map(|contact| [contact.first.0, contact.first.1]).chain([0.0, 1.0]).collect();
        knots.sort_by(f64::total_cmp);
        let stretches = knots.windows(2).map(|pair| piece.subsegment(pair[0], pair[1]));
        stretches.filter(|stretch| stretch.length() > BELOW_A_RULE && self.shows(stretch.eval(0.5))).collect()
    }

    /// The lines that an edge profile leaves, as far as they are shown.
    fn profile(&mut self, lines: &[Path]) -> Vec<Path> {
        let mut shown: Vec<Path> = Vec::new();
        let pieces: Vec<Segment> =
            lines.iter().flat_map(|line| line.segments()).flat_map(|s| self.shown(s)).collect();
        for segment in &pieces {
            let goes_on =
                |path: &&mut Path| path.end().is_some_and(|end| end.distance(segment.start()) < BELOW_A_RULE);
            match shown.last_mut().filter(goes_on) {
                Some(path) => *path = Path::open(path.segments().iter().copied().chain([*segment]).collect()),
                None => shown.push(Path::open(vec![*segment])),
            }
        }
        let pen = Pen::dashed(MARK_WIDTH, &PROFILE);
        self.add(shown.iter().map(|path| stroke(Role::Mark, path.clone(), pen.clone())).collect());
        shown
    }

    /// Words beside a path, as many as there is room for.
    fn beside(&mut self, path: Option<&Path>, said: &[&str]) {
        let item = path.and_then(|path| self.clear.beside(path, said, LETTERING));
        self.items.extend(item);
    }

    fn shows_middle(&self, path: &Path) -> bool {
        let middle = path.place_at_length(path.length() / 2.0).and_then(|place| path.point_at(place));
        middle.is_some_and(|middle| self.shows(middle))
    }

    /// What the comb's longest tooth stands for, outside its tip.
    fn legend(&mut self, comb: Option<&Comb>) {
        let longest = |comb: &Comb| comb.teeth.iter().max_by(|a, b| a.length().total_cmp(&b.length())).cloned();
        let Some((tightest, tooth)) = comb.and_then(|comb| comb.tightest.zip(longest(comb))) else { return };
        let Some((from, tip)) = tooth.start().zip(tooth.end()).filter(|(from, tip)| from != tip) else { return };
        let said = format!("comb: the longest tooth is a radius of {}", self.say.length(Length::from_mm(tightest)));
        let out = (tip - from).normalize();
        let level = if out.y < 0.0 { LETTERING } else { 0.0 };
        let tried = (1..=12).flat_map(|step| {
            let at = tip + out * (4.0 * f64::from(step)) - Vec2::new(0.0, level);
            let text = Text::new(at, LETTERING, said.as_str()).about(Label::at(tip));
            [Anchor::Middle, Anchor::Start, Anchor::End].map(|anchor| text.clone().anchored(anchor))
        });
        let item = self.clear.first(tried);
        self.items.extend(item);
    }
}

/// The teeth of a comb and the lines along their tips.
fn teeth(comb: &Comb) -> Vec<Item> {
    let lines = comb.teeth.iter().chain(&comb.tips).filter(|line| line.length() > SHOWN);
    lines.map(|path| stroke(Role::Mark, path.clone(), Pen::solid(MARK_WIDTH))).collect()
}

/// The runs of the grain along which something is to be minded, each with its stretch run so that the wood lies on its left,
/// whichever way it is travelled.
pub fn minded(runs: &[GrainRun]) -> impl Iterator<Item = (Path, &GrainRun)> {
    let minded = runs.iter().filter(|run| !words_of(run).is_empty());
    minded.map(|run| {
        let path = match run.rotation {
            Rotation::Anticlockwise => run.stretch.clone(),
            Rotation::Clockwise => run.stretch.reversed(),
        };
        (path, run)
    })
}

/// A tick at either end of a stretch, into the wood on its left.
pub fn end_ticks(stretch: &Path) -> Vec<Item> {
    let ends = stretch.segments().first().zip(stretch.segments().last());
    let ends = ends.map(|(first, last)| [(first.start(), first.tangent(0.0)), (last.end(), last.tangent(1.0))]);
    let tick =
        |(at, along): (Point, Vec2)| line(Role::Mark, at, at + along.turn_90() * RUN_TICK, Pen::solid(MARK_WIDTH));
    ends.into_iter().flatten().map(tick).collect()
}

/// What is to be written beside a run, the fullest first, none longer than the run but for the last; nothing where nothing is
/// to be minded. Against the grain is said of one feed, with the router on the side that is drawn or on the other: fed from
/// there, the run is with the grain.
pub fn words_of(run: &GrainRun) -> &'static [&'static str] {
    let said: &[&str] = match (run.way, run.rotation) {
        (GrainWay::Against, Rotation::Anticlockwise) => &[
            "against the grain with the router on this side: stop, turn the work over, bearing at the other end",
            "against the grain, router on this side: stop, turn over",
            "against, router on this side: turn over",
            "router this side: turn over",
        ],
        (GrainWay::Against, Rotation::Clockwise) => &[
            "against the grain with the router on the other side: stop, turn the work over, bearing at the other end",
            "against the grain, router on the other side: stop, turn over",
            "against, router on the other side: turn over",
            "router other side: turn over",
        ],
        (GrainWay::End, _) => &["end grain"],
        (GrainWay::Along | GrainWay::With, _) => &[],
    };
    let length = run.stretch.length();
    let fits = |said: &&str| Text::new(Point::ORIGIN, LETTERING, *said).width() < length;
    let first = said.iter().position(fits).unwrap_or(said.len().saturating_sub(1));
    said.get(first..).unwrap_or_default()
}
