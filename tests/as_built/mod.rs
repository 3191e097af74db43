//! Frames that stand otherwise than drawn, measured and found again.
//!
//! The poses are made here by turning points of the solved wood about axes, each turn by itself (Rodrigues' formula), and not by the
//! program's own coordinates of a frame.

mod told;

use crate::common::shop::{Shop, text};
use fullsize::as_built::{Found, Number, Side, find};
use fullsize::board::{PartRole, Source};
use fullsize::effects::SizeOf;
use fullsize::geometry::{Point3, Vec3};
use fullsize::job::Job;
use fullsize::layout::assembly::{NamedPoint, named_points};
use fullsize::layout::pinch_rod::pinch_rods;
use fullsize::model::Project;
use fullsize::model::as_built::{AsBuilt, BetweenRails, BothFrames, Instrument};
use fullsize::piece::Piece;
use fullsize::project::read;
use fullsize::remaining::Remaining;
use fullsize::units::{Angle, Length};
use serde_json::{Value as Json, json};

const TABLE: &str = include_str!("../../templates-demo/reading_table.json");

/// The lean of the table's frames, degrees.
const LEAN: f64 = 7.0;

/// The readings of a maker who has ten: over the frames at heads and feet, the diagonals of the floor and of the front, over the feet
/// of each frame; then those of one who has fourteen.
const PAIRS: [&str; 14] =
    ["A'-B'", "D'-C'", "A-B", "D-C", "A-C", "B-D", "A-B'", "B-A'", "A-D", "B-C", "A'-C'", "B'-D'", "D-C'", "C-D'"];

struct Random(u64);

impl Random {
    /// Even between 0 and 1.
    fn even(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Of a normal distribution.
    fn normal(&mut self) -> f64 {
        let (a, b) = (self.even().max(1e-300), self.even());
        (-2.0 * a.ln()).sqrt() * (std::f64::consts::TAU * b).cos()
    }
}

/// How far each frame stands from the drawing: leans, twists and splays in degrees, and the spread in mm.
#[derive(Debug, Clone, Copy)]
struct Truth {
    lean: [f64; 2],
    twist: [f64; 2],
    spread: f64,
    splay: [f64; 2],
}

impl Truth {
    /// As far as a good maker misses: standard deviations of half a degree of lean, 0.4 of twist and splay, 3 mm of spread.
    fn of(random: &mut Random) -> Truth {
        let mut two = |size: f64| [size * random.normal(), size * random.normal()];
        let (lean, twist, splay) = (two(0.5), two(0.4), two(0.4));
        Truth { lean, twist, splay, spread: 3.0 * random.normal() }
    }

    /// By how much one of the seven numbers is off: degrees or mm.
    fn off(&self, number: Number) -> f64 {
        let index = |side: Side| usize::from(side == Side::Right);
        match number {
            Number::Lean(side) => self.lean[index(side)],
            Number::Twist(side) => self.twist[index(side)],
            Number::Spread => self.spread,
            Number::Splay(side) => self.splay[index(side)],
        }
    }
}

/// A vector turned about an axis of length 1, anticlockwise as seen from its tip (Rodrigues).
fn turned(v: Vec3, axis: Vec3, degrees: f64) -> Vec3 {
    let (sin, cos) = degrees.to_radians().sin_cos();
    v * cos + axis.cross(v) * sin + axis * (axis.dot(v) * (1.0 - cos))
}

/// The drawn piece.
struct Drawn {
    project: Project,
    piece: Piece,
    points: Vec<NamedPoint>,
}

impl Drawn {
    fn table() -> Drawn {
        let file: Json = serde_json::from_str(TABLE).expect("a file");
        let reading = read("table.json", file.to_string().as_bytes(), None, None);
        let project = reading.project.expect("a project");
        let piece = Job::new(project.clone()).needed_piece().expect("a piece").clone();
        let points = named_points(&piece);
        Drawn { project, piece, points }
    }

    fn named(&self, name: &str) -> &NamedPoint {
        self.points.iter().find(|point| point.name == name).expect("such a point")
    }

    /// The middle of a frame's heads on its outside face: between the two head points.
    fn middle(&self, right: bool) -> Point3 {
        let [front, back] = if right { ["B'", "C'"] } else { ["A'", "D'"] };
        self.named(front).at.midway(self.named(back).at)
    }

    /// Where a point of a frame stands, its leg's splay left alone.
    fn posed(&self, p: Point3, right: bool, truth: &Truth) -> Point3 {
        let (index, sign) = if right { (1, 1.0) } else { (0, -1.0) };
        let middle = self.middle(right);
        // More lean brings the feet out: about y, which way hangs on the side.
        let leant = turned(p - middle, Vec3::Y, -sign * truth.lean[index]);
        let twisted = turned(leant, Vec3::Z, truth.twist[index]);
        middle + Vec3::X * (sign * truth.spread / 2.0) + twisted
    }

    /// Where a named point stands.
    fn stands(&self, name: &str, truth: &Truth) -> Point3 {
        let (at, letter) = (self.named(name).at, name.trim_end_matches('\''));
        let right = at.x > 0.0;
        let (index, sign) = if right { (1, 1.0) } else { (0, -1.0) };
        let head = self.named(&format!("{letter}'")).at;
        let lean = LEAN.to_radians();
        let out = Vec3::new(sign * lean.cos(), 0.0, lean.sin());
        let splayed = turned(at - head, out, sign * head.y.signum() * truth.splay[index]);
        self.posed(head + splayed, right, truth)
    }

    fn distance(&self, pair: &str, truth: &Truth) -> f64 {
        let (a, b) = pair.split_once('-').expect("two letters");
        self.stands(a, truth).distance(self.stands(b, truth))
    }

    /// Three points of the inside face of a bottom rail as they stand.
    fn rail(&self, right: bool, truth: &Truth) -> [Point3; 3] {
        let mut copies = self.piece.of_role(PartRole::BottomRail).flat_map(|b| b.copies.iter().map(move |c| (b, c)));
        let is_its = |x: f64| (x > 0.0) == right;
        let (board, copy) = copies.find(|(_, copy)| is_its(copy.placement.origin().x)).expect("a rail");
        let at = |u: f64, v: f64| copy.placement.to_world(Point3::new(u, v, -board.board.thickness));
        [at(0.0, 0.0), at(100.0, 0.0), at(0.0, 50.0)].map(|p| self.posed(p, right, truth))
    }

    /// How long a stretcher between the rails is along the line at (y, z), and the directions of both planes.
    fn between(&self, [y, z]: [f64; 2], truth: &Truth) -> (f64, [Vec3; 2]) {
        let plane = |right: bool| {
            let [o, a, b] = self.rail(right, truth);
            let n = (a - o).cross(b - o).unit().expect("a plane");
            (o.x - (n.y * (y - o.y) + n.z * (z - o.z)) / n.x, n)
        };
        let (left, right) = (plane(false), plane(true));
        (right.0 - left.0, [left.1, right.1])
    }

    /// What is found of some readings.
    fn found(&self, given: AsBuilt) -> Found {
        let project = Project { as_built: Some(given), ..self.project.clone() };
        let (found, findings) = find(&project, &self.piece);
        found.unwrap_or_else(|| panic!("{findings:#?}"))
    }

    /// Distances read on a piece, each with an error.
    fn given(&self, pairs: &[&str], truth: &Truth, rule: f64, mut error: impl FnMut(usize) -> f64) -> AsBuilt {
        let read = |(index, pair): (usize, &&str)| {
            ((*pair).to_owned(), Length::from_mm(self.distance(pair, truth) + error(index)))
        };
        AsBuilt { distances: pairs.iter().enumerate().map(read).collect(), rule: Length::from_mm(rule), ..nothing() }
    }
}

fn nothing() -> AsBuilt {
    AsBuilt {
        rule: Length::from_mm(0.5),
        rod: Length::from_mm(0.2),
        gauge: Angle::from_degrees(0.2),
        distances: Vec::new(),
        between_rails: None,
        leans: None,
        splays: None,
        gaps: Vec::new(),
    }
}

/// How far the found numbers are off, degrees or mm.
fn missed(found: &Found, truth: &Truth) -> [f64; 7] {
    std::array::from_fn(|k| beyond_drawing(found, k) - truth.off(Number::ALL[k]))
}

/// 500 poses, read exactly: the loose beliefs weigh a few millionths.
#[test]
fn ten_exact_readings_tell_all_seven_numbers() {
    let (drawn, mut random) = (Drawn::table(), Random(7));
    for _ in 0..500 {
        let truth = Truth::of(&mut random);
        let found = drawn.found(drawn.given(&PAIRS[..10], &truth, 0.05, |_| 0.0));
        for (number, missed) in Number::ALL.iter().zip(missed(&found, &truth)) {
            assert!(missed.abs() < 2e-4, "{number:?} is off by {missed} of {truth:?}");
            assert!(found.fitted.is_known(*number), "{number:?}");
        }
        assert!(found.weak.is_none() && found.fitted.suspects().is_empty());
    }
}

/// 500 poses, read to half a millimetre: the stretcher's length to 0.3 mm, each number in its range nineteen times of twenty.
#[test]
fn ten_readings_of_a_rule_tell_what_they_say_as_often_as_they_say() {
    let (drawn, mut random) = (Drawn::table(), Random(11));
    let (mut held, mut squares) = ([0_u32; 8], 0.0);
    for _ in 0..500 {
        let truth = Truth::of(&mut random);
        let found = drawn.found(drawn.given(&PAIRS[..10], &truth, 0.5, |_| 0.5 * random.normal()));
        for (k, missed) in missed(&found, &truth).into_iter().enumerate() {
            let deviation = found.fitted.deviation(Number::ALL[k]);
            let deviation = if Number::ALL[k].is_angle() { deviation.to_degrees() } else { deviation };
            held[k] += u32::from(missed.abs() < 1.96 * deviation);
        }
        // The length at the height of the stretcher by the found pose, which is turned into a pose of this test.
        let by: [f64; 7] = std::array::from_fn(|k| beyond_drawing(&found, k));
        let seen = Truth { lean: [by[0], by[1]], twist: [by[2], by[3]], spread: by[4], splay: [by[5], by[6]] };
        let missed = drawn.between([0.0, 160.0], &seen).0 - drawn.between([0.0, 160.0], &truth).0;
        squares += missed * missed / 500.0;
        // Its slopes by this test's own poses.
        let slopes: [f64; 7] = std::array::from_fn(|k| {
            let moved = |step: f64| drawn.between([0.0, 160.0], &nudged(seen, k, step)).0;
            let slope = (moved(1e-4) - moved(-1e-4)) / 2e-4;
            if Number::ALL[k].is_angle() { slope.to_degrees() } else { slope }
        });
        held[7] += u32::from(missed.abs() < 1.96 * found.fitted.variance(&slopes).sqrt());
    }
    assert!(squares.sqrt() < 0.3, "the stretcher is known to {} mm", squares.sqrt());
    for (k, held) in held.into_iter().enumerate() {
        let share = f64::from(held) / 500.0;
        assert!((0.91..=0.99).contains(&share), "number {k} lies in its range in {share}");
    }
}

/// What is found of one number beyond the drawing, degrees or mm.
fn beyond_drawing(found: &Found, k: usize) -> f64 {
    let by = found.fitted.pose[k] - found.stance.drawn[k];
    if Number::ALL[k].is_angle() { by.to_degrees() } else { by }
}

fn nudged(mut truth: Truth, k: usize, by: f64) -> Truth {
    let slot = match k {
        0 | 1 => &mut truth.lean[k],
        2 | 3 => &mut truth.twist[k - 2],
        4 => &mut truth.spread,
        _ => &mut truth.splay[k - 5],
    };
    *slot += by;
    truth
}

/// How often a slip is noticed, is among those that are named, and is cried of where none is.
fn slips(pairs: &[&str], slip: f64) -> [f64; 3] {
    let (drawn, mut random) = (Drawn::table(), Random(23));
    let mut counts = [0.0; 3];
    for _ in 0..500 {
        let truth = Truth::of(&mut random);
        let errors: Vec<f64> = pairs.iter().map(|_| 0.5 * random.normal()).collect();
        let bad = (random.even() * pairs.len() as f64) as usize;
        let honest = drawn.found(drawn.given(pairs, &truth, 0.5, |index| errors[index])).fitted.suspects();
        let with = |index: usize| errors[index] + if index == bad { slip } else { 0.0 };
        let named = drawn.found(drawn.given(pairs, &truth, 0.5, with)).fitted.suspects();
        for (count, is) in counts.iter_mut().zip([!named.is_empty(), named.contains(&bad), !honest.is_empty()]) {
            *count += f64::from(u8::from(is)) / 500.0;
        }
    }
    counts
}

#[test]
fn a_slip_of_5_mm_is_named_as_often_as_is_told() {
    let [noticed, named, cried] = slips(&PAIRS[..10], 5.0);
    assert!(named >= 0.60 && noticed >= named && cried < 0.03, "of ten: {noticed} {named} {cried}");
    let [noticed, named, cried] = slips(&PAIRS, 5.0);
    assert!(named >= 0.85 && noticed >= named && cried < 0.03, "of fourteen: {noticed} {named} {cried}");
}

/// A slip as large as a reading says is noticed four times of five.
#[test]
fn the_least_slip_that_would_show_shows() {
    let (drawn, mut random) = (Drawn::table(), Random(31));
    let (mut shown, mut tried) = (0_u32, 0_u32);
    for round in 0..400 {
        let truth = Truth::of(&mut random);
        let errors: Vec<f64> = PAIRS.iter().map(|_| 0.5 * random.normal()).collect();
        let honest = drawn.found(drawn.given(&PAIRS, &truth, 0.5, |index| errors[index]));
        let bad = round % PAIRS.len();
        let Some(least) = honest.fitted.residuals[bad].least_slip else { continue };
        let with = |index: usize| errors[index] + if index == bad { least } else { 0.0 };
        let found = drawn.found(drawn.given(&PAIRS, &truth, 0.5, with));
        tried += 1;
        shown += u32::from(found.fitted.residuals[bad].normalised.abs() > 3.29);
    }
    let share = f64::from(shown) / f64::from(tried);
    assert!(tried > 300 && (0.73..=0.87).contains(&share), "{shown} of {tried}");
}

/// Four lengths do not tell how each frame leans; what is to be read next does what it says.
#[test]
fn what_is_read_next_tells_as_much_as_it_says() {
    let (drawn, truth) = (Drawn::table(), Truth::of(&mut Random(3)));
    let mut pairs: Vec<String> = PAIRS[..4].iter().map(|pair| (*pair).to_owned()).collect();
    for round in 0..6 {
        let names: Vec<&str> = pairs.iter().map(String::as_str).collect();
        let found = drawn.found(drawn.given(&names, &truth, 0.5, |_| 0.0));
        let unknown = Number::ALL.iter().filter(|number| !found.fitted.is_known(**number)).count();
        assert!(round > 0 || (unknown >= 3 && found.weak.is_some()), "{unknown}");
        let Some((next, deviations)) = found.next.clone() else { break };
        if !next.name.contains('-') {
            break;
        }
        let [_, then] = deviations.expect("a stretcher");
        pairs.push(next.name);
        let names: Vec<&str> = pairs.iter().map(String::as_str).collect();
        let after = drawn.found(drawn.given(&names, &truth, 0.5, |_| 0.0));
        // What it would tell after that stands where the next is offered.
        if let Some((_, Some([now, _]))) = after.next {
            // The pose moves on with the reading, and its slopes with it.
            assert!((now - then).abs() < 0.04 * then, "{now} and {then}");
        }
    }
    let names: Vec<&str> = pairs.iter().map(String::as_str).collect();
    let found = drawn.found(drawn.given(&names, &truth, 0.5, |_| 0.0));
    assert!(Number::ALL.iter().all(|number| found.fitted.is_known(*number)), "{pairs:?}");
}

/// The stretcher of the piece as it stands, solved by the whole pipeline, fits between the rails as this test turns them: its lower
/// arrises on both sides, and the bevels of both ends, which a twist makes different.
#[test]
fn the_stretcher_fits_between_the_rails_as_they_stand() {
    let (drawn, mut random) = (Drawn::table(), Random(41));
    for _ in 0..8 {
        let truth = Truth::of(&mut random);
        let given = drawn.given(&PAIRS[..10], &truth, 0.05, |_| 0.0);
        let job = Job::new(Project { as_built: Some(given), ..drawn.project.clone() });
        let remaining = Remaining::of(&job).unwrap_or_else(|why| panic!("{why:?}"));
        let piece = remaining.job.needed_piece().expect("a piece");
        let board = piece.of_role(PartRole::Stretcher).next().expect("a stretcher");
        let placement = board.copies[0].placement;
        let part = remaining.parts.iter().find(|part| part.id == board.id.as_str()).expect("the stretcher");
        let size = |of: SizeOf, place: &str| {
            part.sizes.iter().find(|one| one.size.of == of && one.place == place).expect("such a size")
        };
        let low = placement.to_world(Point3::new(0.0, 0.0, 0.0));
        let far = placement.to_world(Point3::new(0.0, 0.0, -board.board.thickness));
        for (of, at) in [(SizeOf::OnFace, low), (SizeOf::OnFar, far)] {
            let one = size(of, "lower edge");
            let (wanted, _) = drawn.between([at.y, at.z], &truth);
            assert!((one.size.value - wanted).abs() < 0.002, "{} and {wanted}", one.size.value);
            assert!(one.deviation > 0.0 && one.deviation < 0.1, "{}", one.deviation);
        }
        let (_, planes) = drawn.between([0.0, low.z], &truth);
        let face = placement.w();
        for saw in &board.cuts {
            let place = board.board.words_of(&board.board.surface(Source::Cut(saw.cut)));
            let end = board.solid.ends[saw.cut].corners()[0].0;
            let plane = planes[usize::from(placement.to_world(end).x > 0.0)];
            let bevel = size(SizeOf::Bevel, &place).size.value.abs();
            let wanted = plane.dot(face).abs().asin().to_degrees();
            assert!((bevel - wanted).abs() < 1e-3, "{place}: {bevel} and {wanted}");
        }
    }
}

/// A rod between the rails tells the length of the stretcher by itself, as closely as it is read.
#[test]
fn a_pinch_rod_tells_the_stretcher_by_itself() {
    let (drawn, truth) = (Drawn::table(), Truth::of(&mut Random(5)));
    let rod = |reads: f64, up: f64| BetweenRails {
        reads: Length::from_mm(reads),
        up: Some(Length::from_mm(up)),
        off_centre: Length::ZERO,
        mitres: None,
        bevels: None,
        with: Instrument::Rod,
    };
    let exact = drawn.found(drawn.given(&PAIRS[..10], &truth, 0.05, |_| 0.0));
    let found = drawn.found(AsBuilt { between_rails: Some(vec![rod(1545.0, 8.0)]), ..nothing() });
    let residual = found.fitted.residuals[0];
    assert!(residual.off.abs() < 0.01 && residual.least_slip.is_none_or(|least| least > 5.0), "{residual:?}");
    assert!(exact.next.is_none_or(|(_, gain)| gain.is_some_and(|[now, then]| now < 0.1 && then < now)));
}

/// Three rods with a gauge at both ends of each, and nothing else: the stretcher's ends are told to both their angles.
#[test]
fn a_rod_and_a_gauge_take_length_and_both_ends_off_the_work() {
    let (drawn, mut random) = (Drawn::table(), Random(61));
    for _ in 0..5 {
        let truth = Truth::of(&mut random);
        let at = |right: bool, up: f64, off: f64| {
            let rail = drawn.rail(right, &Truth { lean: [0.0; 2], twist: [0.0; 2], spread: 0.0, splay: [0.0; 2] });
            // From the lowest point of the rail's inside face in its middle, up the face and towards the back.
            let sign = if right { 1.0 } else { -1.0 };
            let lean = LEAN.to_radians();
            let up_face = Vec3::new(-sign * lean.sin(), 0.0, lean.cos());
            let corner = rail[0] - Vec3::Y * rail[0].y;
            drawn.posed(corner + up_face * (up + LOW) + Vec3::Y * off, right, &truth)
        };
        let rod = |up: f64, off: f64| {
            let (left, right) = (at(false, up, off), at(true, up, off));
            let out = (right - left).unit().expect("a way");
            let ends = |which: usize| {
                let angle = |right: bool, out: Vec3| {
                    let [o, a, b] = drawn.rail(right, &truth);
                    let (mut across, mut above) = ((a - o).unit().expect("a way"), (b - o).unit().expect("a way"));
                    across = if across.y < 0.0 { -across } else { across };
                    above = if above.z < 0.0 { -above } else { above };
                    let sines = [-out.dot(above), out.dot(across)];
                    Some(Angle::from_radians(sines[which].asin()))
                };
                Some(BothFrames { left: angle(false, -out), right: angle(true, out) })
            };
            BetweenRails {
                reads: Length::from_mm(left.distance(right)),
                up: Some(Length::from_mm(up + LOW)),
                off_centre: Length::from_mm(off),
                mitres: ends(0),
                bevels: ends(1),
                with: Instrument::Rod,
            }
        };
        let rods = vec![rod(0.0, -12.0), rod(0.0, 12.0), rod(40.0, 0.0)];
        let given = AsBuilt {
            rod: Length::from_mm(0.01),
            gauge: Angle::from_degrees(0.01),
            between_rails: Some(rods),
            ..nothing()
        };
        let found = drawn.found(given);
        for (number, missed) in Number::ALL.iter().zip(missed(&found, &truth)) {
            // A splay moves nothing between the rails.
            if !matches!(number, Number::Splay(_)) {
                assert!(missed.abs() < 0.01, "{number:?} is off by {missed}");
            }
        }
    }
}

/// How far up the rails' faces the rods of the test are held, mm.
const LOW: f64 = 8.0;

/// What the strip of a pinch rod tells, and what it says of its sticks, goes together to the drawn lengths.
#[test]
fn the_strip_of_a_pinch_rod_tells_the_length_over_both_sticks() {
    let drawn = Drawn::table();
    let rods = pinch_rods(&drawn.piece, &drawn.project.notation);
    let [rod] = rods.as_slice() else { panic!("{rods:?}") };
    assert!((rod.lead + rod.other - rod.from_to[0]).abs() < 1e-9, "{rod:?}");
    let board = drawn.piece.of_role(PartRole::Stretcher).next().expect("a stretcher");
    assert_eq!(rod.drawn.len(), 4);
    for tick in &rod.drawn {
        let is_its = |mm: f64| (mm - tick.at).abs() < 1e-9;
        assert!(board.solid.arrises.iter().any(|arris| is_its(arris.face) || is_its(arris.far)), "{tick:?}");
        assert!(rod.from_to[0] < tick.at - 14.0 && tick.at + 14.0 < rod.from_to[1], "{rod:?}");
    }
    // Between its lines the strip is as long as what it tells: full size.
    let strips = Job::new(drawn.project.clone()).pinch_rods().expect("strips");
    let width = strips[0].bounds.width();
    assert!(strips.len() == 1 && width >= rod.from_to[1] - rod.from_to[0], "{width}");
    let shop = Shop::new();
    shop.file("table.json", TABLE);
    let done = shop.run(&["as-built", "table.json", "--rod", "-o", "rod.pdf"]);
    assert!(done.status.success() && shop.path("rod.pdf").exists(), "{}", text(&done.stderr));
    // Neither goes over the other unasked.
    let truth = Truth { lean: [0.0; 2], twist: [0.0; 2], spread: 0.0, splay: [0.0; 2] };
    let distances: serde_json::Map<String, Json> =
        PAIRS.iter().map(|pair| ((*pair).to_owned(), json!(drawn.distance(pair, &truth)))).collect();
    shop.file("read.json", &with(json!({ "distances": distances })).to_string());
    let done = shop.run(&["as-built", "read.json", "-o", "rod.pdf"]);
    assert!(!done.status.success() && text(&done.stderr).contains("as-built --rod"), "{}", text(&done.stderr));
}

/// Each mark of the strip says where its arris meets the rails, and a rod that reads there what the mark tells is as drawn.
#[test]
fn each_mark_of_a_strip_says_where_the_rod_is_laid() {
    let drawn = Drawn::table();
    let rods = pinch_rods(&drawn.piece, &drawn.project.notation);
    for mark in &rods[0].drawn {
        let [up, off_centre] = mark.spot.expect("a spot").map(Length::from_mm);
        let rod = BetweenRails {
            reads: Length::from_mm(mark.at),
            up: Some(up),
            off_centre,
            mitres: None,
            bevels: None,
            with: Instrument::Rod,
        };
        let found = drawn.found(AsBuilt { between_rails: Some(vec![rod]), ..nothing() });
        let reads = found.readings[0].what.of(&found.stance, &found.stance.drawn);
        assert!((reads - mark.at).abs() < 1e-3, "{mark:?}: {reads}");
    }
    // The lower arrises land where a reading without a place is taken to be, on either side of the centre line.
    let [first, second] = [2, 3].map(|index| rods[0].drawn[index].spot.expect("a spot"));
    assert!((first[0] - second[0]).abs() < 0.01 && (first[1] + second[1]).abs() < 0.01, "{first:?} {second:?}");
}

/// The length of the stretcher comes first: nothing tells it as a rule between the rails does.
#[test]
fn what_is_read_next_makes_the_stretcher_known_best() {
    let drawn = Drawn::table();
    let truth = Truth { lean: [0.0; 2], twist: [0.0; 2], spread: 0.0, splay: [0.0; 2] };
    let found = drawn.found(drawn.given(&PAIRS[..1], &truth, 0.5, |_| 0.0));
    let (next, known) = found.next.clone().expect("something to read");
    let [now, then] = known.expect("a stretcher");
    assert!(next.name.starts_with("between the rails") && now > 5.0 && then < 0.51, "{next:?} {now} {then}");
    let (_, off) = found.expected(&next);
    assert!(off > now, "it is not known to {off} before it is read, now {now}");
}

/// The table with readings, as a file.
fn with(as_built: Json) -> Json {
    let mut file: Json = serde_json::from_str(TABLE).expect("a file");
    file["as_built"] = as_built;
    file
}
