//! Blocks that sit on a sawn end or a face and hold the cutter along a mortise.

use super::super::AidProblem;
use super::Bench;
use super::figure::{Aid, AtPlaces, Figure, Look};
use super::guide::Guide;
use super::landing::{known, named};
use crate::board::{Fitting, Mortise, Role, Source, spoken};
use crate::finding::{Finding, nearest};
use crate::geometry::{Affine, Path, Point, Rect, Vec2};
use crate::joinery::{mouth, surface_plane};
use crate::model::aid::{AidRequest, Block, Wanted};
use crate::piece::{Fact, FactName, SolvedBoard, SurfaceAxes};
use crate::tolerance::{NO_LEAN, SHOWN_SQUARE};
use crate::units::Angle;

/// Width and length of the cheek that lies on the face side, mm, as it is drawn.
const CHEEK: [f64; 2] = [12.0, 60.0];

/// A block longer than this, mm, is sawn like any other piece (common practice, no source: nothing under 300 mm by hand).
const SMALL: f64 = 300.0;

/// The mortises of one surface, on one landing, that one block serves.
struct Group<'a> {
    board: &'a SolvedBoard,
    on: Source,
    /// What the block is set by.
    seat: Seat<'a>,
    members: Vec<&'a Mortise>,
}

/// What a block is set by.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Seat<'a> {
    /// The rim of the sawn end and the face side.
    End,
    /// The rim of another board's landing.
    Landing(&'a Path),
    /// The centre of a drilled hole: a turned leg leaves no rim that could be marked.
    Hole,
    /// The centre lines of the mouths.
    Mouths,
}

impl<'a> Seat<'a> {
    fn of(board: &'a SolvedBoard, on: Source, mortise: &Mortise) -> Seat<'a> {
        if mortise.is_drilled() {
            return Seat::Hole;
        }
        if matches!(on, Source::Cut(_)) {
            return Seat::End;
        }
        let copy = mortise.copies.first().copied().unwrap_or_default();
        let axes = SurfaceAxes::of(&board.board, &board.solid, on);
        let meets = board.meets.iter().filter(|meet| meet.on == on && meet.own_copy == copy);
        let mut rims = meets.flat_map(|meet| &meet.contact);
        let around = axes.and_then(|axes| rims.find(|rim| rim.encloses(axes.drop(mortise.frame.origin()))));
        around.map_or(Seat::Mouths, Seat::Landing)
    }
}

/// The blocks of a joint, one for each surface that it mortises.
///
/// # Errors
/// Where there is no such joint, or it mortises nothing.
pub(super) fn make(asked: &AidRequest, bench: &Bench) -> Result<Vec<Aid>, Box<Finding>> {
    let Wanted::Block(Block { joint, part, height, margin }) = &asked.wanted else { return Ok(Vec::new()) };
    if !bench.joints.iter().any(|known| known.name == *joint) {
        return Err(unknown_joint(asked, joint, bench));
    }
    if let Some(part) = part {
        known(bench.piece, &asked.place, part, "part")?;
    }
    let mut groups: Vec<Group> = Vec::new();
    let own = part.as_ref().map(|part| named(bench.piece, part));
    for (index, board) in bench.piece.boards.iter().enumerate() {
        if own.as_ref().is_some_and(|own| !own.contains(&index)) {
            continue;
        }
        for mortise in board.mortises.iter().filter(|m| m.joint == *joint && m.fitting != Fitting::Standing) {
            let Some(on) = mortise.on else { continue };
            let seat = Seat::of(board, on, mortise);
            let alike = |group: &&mut Group| {
                let first = group.members.first();
                let same = first.is_some_and(|first| {
                    first.copies == mortise.copies && first.frame.w().cross(mortise.frame.w()).length() < NO_LEAN
                });
                group.board.id == board.id && group.on == on && group.seat == seat && same
            };
            match groups.iter_mut().find(alike) {
                Some(group) => group.members.push(mortise),
                None => groups.push(Group { board, on, seat, members: vec![mortise] }),
            }
        }
    }
    let made = groups.iter().filter_map(|group| block(asked, bench, group, height.mm(), margin.mm()));
    let mut all: Vec<Aid> = Vec::new();
    made.for_each(|aid| Aid::put(&mut all, aid));
    if all.is_empty() {
        let problem = AidProblem::NoMortise { joint: joint.clone(), part: part.as_deref().map(spoken) };
        return Err(Box::new(Finding::of(problem, asked.place.clone())));
    }
    Ok(all)
}

fn unknown_joint(asked: &AidRequest, joint: &str, bench: &Bench) -> Box<Finding> {
    let names = || bench.joints.iter().map(|joint| joint.name.as_str());
    let near = nearest(joint, names()).map(str::to_owned);
    let known = names().map(str::to_owned).collect();
    let problem = AidProblem::UnknownJoint { joint: joint.to_owned(), near, known };
    Box::new(Finding::of(problem, asked.place.child("joint")))
}

/// Where a group's centre lines pass its surface, in the axes of the surface.
struct Laid {
    /// The middle of all of them.
    middle: Point,
    /// The way the cutter leans as it comes out, of length 1; along x where it is square.
    lean: Vec2,
    tilt: Angle,
    mouths: Vec<Path>,
}

fn laid(group: &Group, axes: &SurfaceAxes) -> Option<Laid> {
    let (board, solid) = (&group.board.board, &group.board.solid);
    let first = group.members.first()?;
    let normal = surface_plane(board, first)?.normal();
    let out = -first.frame.w();
    let origin = first.frame.origin();
    let lean = axes.drop(origin + out) - axes.drop(origin);
    let tilt = lean.hypot().atan2(out.dot(normal));
    let centres: Vec<Vec2> = group.members.iter().map(|m| axes.drop(m.frame.origin()).to_vec2()).collect();
    let middle = centres.iter().copied().fold(Vec2::ZERO, |a, b| a + b) / centres.len() as f64;
    let tilt = Angle::from_radians(tilt);
    let lean = if tilt.degrees() > SHOWN_SQUARE { lean.normalize() } else { Vec2::new(1.0, 0.0) };
    let mouths = group.members.iter().filter_map(|m| mouth(board, solid, m)).collect();
    Some(Laid { middle: middle.to_point(), lean, tilt, mouths })
}

fn block(asked: &AidRequest, bench: &Bench, group: &Group, height: f64, margin: f64) -> Option<Aid> {
    let axes = SurfaceAxes::of(&group.board.board, &group.board.solid, group.on)?;
    let laid = laid(group, &axes)?;
    let first = group.members.first()?;
    let foot = laid.mouths.iter().filter_map(Path::bounding_box).reduce(|a, b| a.union(b))?;
    let guide = guide(&laid, foot.inflate(margin, margin), height);
    // With the top's mouths inside as well; the block grows by at most what its tilt shifts them.
    let top = on_top(&laid, &guide);
    let all = laid.mouths.iter().map(|m| m.transformed(top)).filter_map(|m| m.bounding_box());
    let around = all.fold(foot, |a, b| a.union(b)).inflate(margin, margin);
    let guide = Guide { foot: reach_along(&laid, around), ..guide };
    let is_tilted = laid.tilt.degrees() > SHOWN_SQUARE;
    let section = if is_tilted { "section along the tilt" } else { "section across the foot" };
    let surface = group.board.board.name_of(group.on);
    // The block is laid on from outside.
    let plan = axes.from_outside(plan(group, &laid, &guide, around)).paper();
    // Wanted on mirrored copies alone it is drawn as it is made for them.
    let plan = if hands_of(group, first) == [false, true] { plan.other_hand(Affine::FLIP_X) } else { plan };
    let mut figures = vec![plan, guide.figure(section).section()];
    let mut facts = facts(group, &laid, &guide);
    if let Some((figure, angle)) = cheek(group) {
        figures.push(figure.section());
        facts.push(Fact::angle(FactName::Cheek, "between the block's foot and its cheek on the face side", angle));
    }
    let (label, joint) = (&group.board.label, &first.joint);
    let purpose = match group.seat {
        Seat::Hole => AtPlaces::alone(format!("drilling the {label} for {joint}")),
        _ => AtPlaces::at(surface.to_string(), format!("mortising the {label} for {joint}")),
    };
    let (advice, cautions) = (words(group, &laid, bench), vec![caution(around)]);
    let is_handed = is_handed(group, first, &figures[0]);
    let place = |of: String| vec![place(group, first, &surface, &of)];
    let hands = match is_handed {
        true => ["a", "a mirrored"].map(|one| place(format!(" of {one} {label}"))),
        false => [place(String::new()), Vec::new()],
    };
    Some(Aid {
        name: asked.name.clone(),
        kind: "block",
        purposes: vec![purpose],
        make: 1,
        mirrored: u32::from(is_handed),
        figures,
        facts,
        advice: advice.into_iter().map(AtPlaces::alone).collect(),
        cautions,
        hands,
        large: false,
    })
}

/// What is measured of the block.
fn facts(group: &Group, laid: &Laid, guide: &Guide) -> Vec<Fact> {
    let depth = group.members.iter().map(|m| m.depth).fold(0.0, f64::max);
    let mut facts = vec![
        Fact::length(FactName::BlockHeight, "block along the cutter", guide.reach()),
        Fact::length(FactName::Reach, "the cutter reaches below the block's top", guide.reach() + depth),
    ];
    if laid.tilt.degrees() > SHOWN_SQUARE {
        facts.insert(0, Fact::angle(FactName::Tilt, "cutter off square to the wood", laid.tilt.radians()));
        let turn = laid.lean.y.abs().atan2(laid.lean.x.abs());
        if turn.to_degrees() > SHOWN_SQUARE {
            facts.push(Fact::angle(FactName::Turn, "the tilt turned on the surface, off its long line", turn));
        }
    }
    facts
}

/// Where the block sits, in a maker's words: of several landings on a surface, on that by the end that it is nearest to; of
/// holes, on that of the part which stands in it.
fn place(group: &Group, mortise: &Mortise, surface: &str, of: &str) -> String {
    let middle = mortise.frame.origin();
    let board = group.board;
    match group.seat {
        Seat::Landing(_) => {
            let ends = board.board.cuts.iter().enumerate().filter(|(_, cut)| cut.role == Role::End);
            let nearest =
                ends.min_by(|a, b| a.1.plane.distance(middle).abs().total_cmp(&b.1.plane.distance(middle).abs()));
            let by = nearest
                .map_or_else(String::new, |(cut, _)| format!(", by its {}", board.board.name_of(Source::Cut(cut))));
            format!("on the {surface}{of}{by}")
        }
        Seat::Hole => {
            let axes = SurfaceAxes::of(&board.board, &board.solid, group.on);
            let at = axes.map(|axes| axes.drop(middle)).unwrap_or_default();
            let mut meets = board.meets.iter().filter(|meet| meet.on == group.on);
            let own = meets.find(|meet| meet.contact.iter().any(|rim| rim.encloses(at)));
            own.map_or_else(|| format!("on the {surface}"), |meet| format!("for the {}", meet.label))
        }
        Seat::End | Seat::Mouths => format!("on the {surface}{of}"),
    }
}

/// Whether the part's mirror images want a block of the other hand.
fn is_handed(group: &Group, mortise: &Mortise, plan: &Figure) -> bool {
    hands_of(group, mortise) == [true, true] && !plan.is_its_mirror_image()
}

/// Whether any copies with a mortise are as drawn, and any mirrored.
fn hands_of(group: &Group, mortise: &Mortise) -> [bool; 2] {
    let copies = || mortise.copies.iter().filter_map(|copy| group.board.copies.get(*copy));
    [false, true].map(|hand| copies().any(|copy| copy.placement.is_mirrored() == hand))
}

/// What to beware of.
fn caution(foot: Rect) -> String {
    let small = "Saw the block long and cut it off last: a piece this small is not held by hand near a blade. ";
    let small = if foot.width().max(foot.height()) < SMALL { small } else { "" };
    format!("{small}Try it on scrap; clamp work and block both; the machine's manual comes first.")
}

/// From where to where a rectangle reaches along the lean, from the middle, mm.
fn reach_along(laid: &Laid, around: Rect) -> [f64; 2] {
    let corners = [(around.x0, around.y0), (around.x1, around.y0), (around.x1, around.y1), (around.x0, around.y1)];
    let along = corners.map(|p| (Point::from(p) - laid.middle).dot(laid.lean));
    [along.into_iter().fold(f64::MAX, f64::min), along.into_iter().fold(f64::MIN, f64::max)]
}

fn guide(laid: &Laid, around: Rect, height: f64) -> Guide {
    // Turned so that the lean lies along x.
    let turn = Affine::rotate(-laid.lean.atan2()) * Affine::translate(-laid.middle.to_vec2());
    let turned = laid.mouths.iter().filter_map(|mouth| mouth.transformed(turn).bounding_box());
    let mouths = turned.map(|around| [around.x0, around.x1]).collect();
    Guide { tilt: laid.tilt, foot: reach_along(laid, around), mouths, height }
}

/// From the wood along the cutter to the block's top, as seen square to the wood.
fn on_top(laid: &Laid, guide: &Guide) -> Affine {
    let sin = guide.tilt.radians().sin();
    let (m, t) = (laid.middle.to_vec2(), laid.lean);
    // p + (reach - (p - m) . t sin) sin t
    let k = sin * sin;
    let shift = t * (guide.reach() * sin + m.dot(t) * k);
    Affine::new([1.0 - k * t.x * t.x, -k * t.x * t.y, -k * t.x * t.y, 1.0 - k * t.y * t.y, shift.x, shift.y])
}

/// The block's foot as it lies on the wood, with the mouths.
fn plan(group: &Group, laid: &Laid, guide: &Guide, around: Rect) -> Figure {
    let is_tilted = laid.tilt.degrees() > SHOWN_SQUARE;
    let dashed = if is_tilted { "; dashed: the mouths on the block's top" } else { "" };
    // The surfaces are named with what the block is for: one block may serve several.
    let mut figure = Figure::new(format!("foot, looking at the wood: lay it on printed side up{dashed}"));
    figure.line(Look::Cut, Path::rectangle(around));
    match (group.seat, group.on) {
        (Seat::End, Source::Cut(cut)) => {
            let end = group.board.solid.ends.get(cut);
            let rings = end.into_iter().flat_map(|end| &end.rings);
            rings.for_each(|ring| figure.line(Look::Mark, ring.path().clone()));
        }
        (Seat::Landing(rim), _) => figure.line(Look::Mark, rim.clone()),
        _ => {}
    }
    for mouth in &laid.mouths {
        figure.line(Look::Mark, mouth.clone());
        if is_tilted {
            figure.line(Look::Hidden, mouth.transformed(on_top(laid, guide)));
        }
    }
    if is_tilted {
        let [a, b] = guide.foot;
        figure.straight(Look::Centre, laid.middle + laid.lean * a, laid.middle + laid.lean * b);
    }
    figure
}

/// The section across an end: the foot and the cheek that lies on the face side, at the angle of the wood between them.
fn cheek(group: &Group) -> Option<(Figure, f64)> {
    let Source::Cut(cut) = group.on else { return None };
    let normal = group.board.board.cuts.get(cut)?.plane.normal();
    let angle = std::f64::consts::FRAC_PI_2 + normal.z.clamp(-1.0, 1.0).asin();
    let [wide, long] = CHEEK;
    let down = Vec2::new(angle.cos(), -angle.sin());
    let out = Vec2::new(down.y, -down.x);
    let o = Point::ORIGIN;
    let mut figure = Figure::new(format!("cheek on the {}", group.board.board.sides[0]));
    figure.polygon(Look::Cut, &[o, o + down * long, o + down * long + out * wide, o + out * wide]);
    let through = group.board.board.thickness / angle.sin();
    figure.straight(Look::Mark, o, Point::new(through, 0.0));
    figure.straight(Look::Hidden, Point::new(through, 0.0), Point::new(through, 0.0) + down * long);
    figure.say(Point::new(through / 2.0, 2.0), "foot");
    Some((figure, angle))
}

fn words(group: &Group, laid: &Laid, bench: &Bench) -> Vec<String> {
    let mut words = Vec::new();
    if laid.tilt.degrees() > SHOWN_SQUARE {
        let tilt = bench.notation.angle(laid.tilt);
        words.push(format!(
            "The block's top is square to the cutter, which leans {tilt} along the centre line of the foot."
        ));
    } else {
        let fit = match group.seat {
            Seat::End => ", its fit is in the cheek",
            Seat::Landing(_) => ", its fit is in the landing",
            Seat::Hole | Seat::Mouths => "",
        };
        words.push(format!("The cutter stands square to the wood: the block is square{fit}."));
    }
    words.push(
        match group.seat {
            Seat::End => "Set the foot on the sawn end by its outline, the cheek on the face side; clamp it there.",
            Seat::Landing(_) => {
                "Set the foot by the landing that is drawn round the mouths, as it is marked on the part; clamp it there."
            }
            Seat::Hole => "Set the foot by the hole's centre, its centre line on the sightline; clamp it there.",
            Seat::Mouths => "Set the foot by the mouths' outlines, as they are marked on the part; clamp it there.",
        }
        .to_owned(),
    );
    words
}

#[cfg(test)]
mod tests {
    use super::{Guide, Laid, on_top};
    use crate::geometry::{Point, Vec2};
    use crate::units::Angle;

    /// A cutter that leans 30 degrees along x, 40 from the wood to the block's top: its centre comes out 20 farther along; a
    /// point 10 along meets the sloping top after 40 - 10 sin 30 = 35, 17.5 farther along.
    #[test]
    fn mouths_are_carried_along_the_cutter() {
        let laid = Laid {
            middle: Point::new(5.0, 7.0),
            lean: Vec2::new(1.0, 0.0),
            tilt: Angle::from_degrees(30.0),
            mouths: Vec::new(),
        };
        let guide = Guide { tilt: laid.tilt, foot: [-20.0, 20.0], mouths: vec![[-4.0, 4.0]], height: 40.0 };
        let map = on_top(&laid, &guide);
        assert!((map * Point::new(5.0, 7.0)).distance(Point::new(25.0, 7.0)) < 1e-9);
        assert!((map * Point::new(15.0, 9.0)).distance(Point::new(32.5, 9.0)) < 1e-9);
    }
}
