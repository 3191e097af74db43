//! Mortises and standing tenons on the patterns of a board: their mouths, what lies hidden in the wood, their centre lines.

use super::cutouts;
use super::lines::{CENTRE_DASH, CUT_WIDTH, MARK_WIDTH, cross, line, stroke, words};
use super::tapers::is_taper;
use crate::board::{Fitting, Mortise, Source, Surface};
use crate::geometry::{Affine, Path, Point, Segment, Vec2};
use crate::joinery::{Marking, centre_line, far_marking, far_mouth, hull, marked_span, marking, mouth};
use crate::page::{Anchor, Item, Label as About, Pen, Role, Text, readable};
use crate::piece::{SolvedBoard, Spot};
use crate::units::{Length, Notation};

/// Dash and gap of what lies hidden in the wood, mm: ISO 128 type 02 shortened, so that it is told from the far side's edge.
pub const HIDDEN_DASH: [f64; 2] = [2.0, 0.8];

/// How far a centre line is carried on beyond what it is the middle of, mm.
const BEYOND: f64 = 6.0;

/// Reach of the cross at a place that is to be looked at, mm.
const SPOT: f64 = 4.0;

/// How far to either side of such a place its words may stand, mm.
const SPOT_WORDS: f64 = 30.0;

/// How far to either side of a mouth the words may stand that tell from where it is marked, mm.
const MIDDLE_WORDS: f64 = 90.0;

/// Where along a centre line its name stands, as a share of it: clear of what lies at the ends and in the middle.
const NAMED_AT: f64 = 0.38;

/// A centre line of which less than this share lies in the face is too short to be sighted along.
const STEEP: f64 = 0.5;

/// The joints of a board as seen from its face side.
pub fn on_face(solved: &SolvedBoard) -> Vec<Item> {
    let mut items = Vec::new();
    for mortise in &solved.mortises {
        let Some(ring) = hull(&solved.board, mortise) else { continue };
        let open = open_on(solved, mortise, Source::Face);
        match mortise.fitting {
            Fitting::Standing => items.push(stroke(Role::Outline, ring, Pen::solid(CUT_WIDTH))),
            _ if mortise.on == Some(Source::Face) => {}
            _ => items.push(stroke(Role::Mark, ring, Pen::dashed(MARK_WIDTH, &HIDDEN_DASH))),
        }
        items.extend(open.into_iter().map(|path| stroke(Role::Mark, path, Pen::solid(MARK_WIDTH))));
        items.extend(centre_lines(mortise));
    }
    items.extend(marking_lines(solved));
    items.extend(cutouts::on_face(solved));
    items.extend(solved.spots.iter().flat_map(|spot| cross(Role::Mark, spot.at, SPOT)));
    items
}

/// The centre lines from which mortises and cutouts are marked, where no edge is straight, each with its name at one of its ends.
fn marking_lines(solved: &SolvedBoard) -> Vec<Item> {
    let mortises = solved.mortises.iter().filter_map(|own| marking(solved, own));
    let cutouts = solved.joint_cutouts().filter_map(|own| Some(marked_span(solved, &own)?.marking));
    let far = solved.mortises.iter().filter_map(|own| Some(far_marking(solved, own)?.1));
    let wanted: Vec<Surface> = mortises.chain(far).chain(cutouts).filter_map(|told| told.drawn_on()).collect();
    let faces = [(Surface::Face, Source::Face, "centre line"), (Surface::Far, Source::Far, "centre line, far side")];
    let mut items = Vec::new();
    for (_, source, name) in faces.into_iter().filter(|(face, ..)| wanted.contains(face)) {
        let Some(drawn) = centre_line(&solved.board, &solved.solid, source) else { continue };
        let [a, b] = drawn.ends.map(|p| Point::new(p.x, p.y));
        let along = (b - a).normalize();
        let angle = readable(along.atan2());
        items.push(line(Role::Mark, a, b, Pen::dashed(MARK_WIDTH, &CENTRE_DASH)));
        let at = a.lerp(b, NAMED_AT) + Vec2::from_angle(angle).turn_90() * 0.8;
        let said = Text::new(at, 2.5, name).anchored(Anchor::Middle).turned(angle);
        items.push(words(Role::Text, said.about(About::along(Path::line(a, b)).on_each_sheet())));
    }
    items
}

/// What is said at the places that are to be looked at: one that is said twice at one place once.
pub fn spots(solved: &SolvedBoard) -> Vec<Label> {
    let mut said: Vec<&Spot> = Vec::new();
    for spot in &solved.spots {
        if !said.iter().any(|known| known.words == spot.words && known.at.distance(spot.at) < SPOT) {
            said.push(spot);
        }
    }
    let beside = |at: Point| Segment::line(at - Vec2::new(SPOT_WORDS, 0.0), at + Vec2::new(SPOT_WORDS, 0.0));
    let label = |spot: &Spot| Label {
        at: spot.at,
        beside: beside(spot.at),
        towards: Vec2::new(0.0, 1.0),
        words: vec![spot.words.clone()],
    };
    said.into_iter().map(label).collect()
}

/// The mouths of a mortise that lie on a surface.
fn open_on(solved: &SolvedBoard, mortise: &Mortise, surface: Source) -> Vec<Path> {
    if mortise.fitting == Fitting::Standing {
        return Vec::new();
    }
    let near = mouth(&solved.board, &solved.solid, mortise).filter(|_| mortise.on == Some(surface));
    let far = far_mouth(&solved.board, &solved.solid, mortise).filter(|(on, _)| *on == surface).map(|(_, path)| path);
    near.into_iter().chain(far).collect()
}

/// The centre line as seen from the face side; where it points at the eye, a cross.
fn centre_lines(mortise: &Mortise) -> Vec<Item> {
    let origin = mortise.frame.origin();
    let (at, axis) = (Point::new(origin.x, origin.y), mortise.frame.w());
    let along = Vec2::new(axis.x, axis.y);
    let pen = || Pen::dashed(MARK_WIDTH, &CENTRE_DASH);
    let beyond = |d: Vec2, half: f64| d.normalize() * (half + BEYOND);
    if along.hypot() > STEEP {
        let tip = at + along * mortise.depth + along.normalize() * BEYOND;
        return vec![line(Role::Mark, at - along.normalize() * BEYOND, tip, pen())];
    }
    let [thickness, width, _] = mortise.tenon;
    let (u, v) = (mortise.frame.u(), mortise.frame.v());
    let arms = [(Vec2::new(u.x, u.y), width / 2.0), (Vec2::new(v.x, v.y), thickness / 2.0)];
    arms.into_iter().map(|(d, half)| line(Role::Mark, at - beyond(d, half), at + beyond(d, half), pen())).collect()
}

/// Words that belong beside a line.
pub struct Label {
    /// What the words are about: the place of the first mortise, or of what is to be looked at.
    pub at: Point,
    /// The line: the centre line of the first mortise that the words are about.
    pub beside: Segment,
    /// Where they are wanted, away from it.
    pub towards: Vec2,
    /// The words.
    pub words: Vec<String>,
}

/// Names and sizes, those that are alike on one surface told once.
pub fn labels(solved: &SolvedBoard, notation: &Notation) -> Vec<Label> {
    let mut groups: Vec<(Vec<String>, Vec<&Mortise>)> = Vec::new();
    for mortise in &solved.mortises {
        let size = size(solved, mortise, notation);
        let alike = |known: &&mut (Vec<String>, Vec<&Mortise>)| {
            known.0 == size && known.1.first().is_some_and(|m| m.joint == mortise.joint && m.on == mortise.on)
        };
        match groups.iter_mut().find(alike) {
            Some((_, members)) => members.push(mortise),
            None => groups.push((size, vec![mortise])),
        }
    }
    let sizes = groups.iter().filter_map(|(size, members)| label(size, members));
    let middles = groups.iter().flat_map(|(_, members)| middles(solved, members, notation));
    sizes.chain(middles).chain(cutouts::labels(solved, notation)).collect()
}

/// The numbers of some mortises of one joint, each once: the two of a loose tenon in one glue line share theirs.
fn numbered(members: &[&Mortise]) -> String {
    let mut numbers: Vec<usize> = members.iter().map(|m| m.number).collect();
    numbers.sort_unstable();
    numbers.dedup();
    counted(&numbers)
}

/// `1`, `1 and 3`, `1, 2 and 6`, `1 to 4`: numbers in order, each once.
fn counted(numbers: &[usize]) -> String {
    let run = |all: &[usize]| all.windows(2).all(|pair| pair[1] == pair[0] + 1);
    match numbers {
        [] => String::new(),
        [one] => one.to_string(),
        [first, .., last] if numbers.len() > 2 && run(numbers) => format!("{first} to {last}"),
        [rest @ .., last] => {
            let rest: Vec<String> = rest.iter().map(usize::to_string).collect();
            format!("{} and {last}", rest.join(", "))
        }
    }
}

fn label(size: &[String], members: &[&Mortise]) -> Option<Label> {
    let first = members.first()?;
    let numbers = numbered(members);
    let (origin, axis) = (first.frame.origin(), first.frame.w());
    let at = Point::new(origin.x, origin.y);
    let along = Vec2::new(axis.x, axis.y);
    // A mortise that points at the eye is named along its width.
    let along = if along.hypot() > STEEP { along * first.depth } else { across(first) };
    let towards = across(first);
    let towards = if along.normalize().cross(towards.normalize()).abs() > 0.5 {
        towards.normalize()
    } else {
        along.normalize().turn_90()
    };
    let mut words = vec![format!("{} {numbers}", first.joint)];
    words.extend_from_slice(size);
    Some(Label { at, beside: Segment::line(at, at + along), towards, words })
}

/// A mouth whose middle is told.
struct Mouth<'a> {
    own: &'a Mortise,
    /// The surface on which it lies; none of a glue line.
    on: Option<Source>,
    /// Whether a through mortise comes out by it.
    is_far: bool,
    told: Marking,
}

impl Mouth<'_> {
    fn is_in_line(&self, other: &Mouth) -> bool {
        self.on == other.on && self.is_far == other.is_far && self.told.is_in_line(&other.told)
    }
}

/// From where the middles are marked, those of one row together, beside the row along the board; of through mortises first those by
/// which they go in, then those by which they come out.
fn middles(solved: &SolvedBoard, members: &[&Mortise], notation: &Notation) -> Vec<Label> {
    let say = |mm: f64| notation.bare_fine(Length::from_mm(mm));
    let near =
        members.iter().filter_map(|own| Some(Mouth { own, on: own.on, is_far: false, told: marking(solved, own)? }));
    let far = members.iter().filter_map(|own| {
        let (exit, told) = far_marking(solved, own)?;
        Some(Mouth { own, on: Some(exit), is_far: true, told })
    });
    let mut rows: Vec<Vec<Mouth>> = Vec::new();
    for mouth in near.chain(far) {
        match rows.iter_mut().find(|row| row.iter().any(|known| known.is_in_line(&mouth))) {
            Some(row) => row.push(mouth),
            None => rows.push(vec![mouth]),
        }
    }
    let label = |row: Vec<Mouth>| {
        let first = row.first()?;
        let mut stations: Vec<String> = Vec::new();
        for station in row.iter().map(|mouth| say(mouth.told.station)) {
            if !stations.contains(&station) {
                stations.push(station);
            }
        }
        let [from, line] = first.told.along_in_two(&stations.join(" and "), solved);
        // The mouth may lie on another surface than the one that is drawn: the far face, and what tapers to it, have ends and edges of
        // their own, which stand elsewhere.
        let there = if first.on.is_some_and(|on| is_behind(solved, on)) { "measured there, " } else { "" };
        let on = first.on.map_or_else(String::new, |on| format!("on the {}, {there}", solved.board.name_of(on)));
        let out = if first.is_far { "comes out " } else { "" };
        let own: Vec<&Mortise> = row.iter().map(|mouth| mouth.own).collect();
        let name = format!("{} {}: {out}{on}middle {from}", first.own.joint, numbered(&own));
        let words = [name, line, first.told.off(&say, solved, first.on)];
        let origin = first.own.frame.origin();
        let (at, reach) = (Point::new(origin.x, origin.y), Vec2::new(MIDDLE_WORDS, 0.0));
        let middle = solved.solid.face.path().centroid().unwrap_or(at);
        Some(Label {
            at,
            beside: Segment::line(at - reach, at + reach),
            towards: Vec2::new(0.0, if at.y < middle.y { -1.0 } else { 1.0 }),
            words: words.into_iter().filter(|words| !words.is_empty()).collect(),
        })
    };
    rows.into_iter().filter_map(label).collect()
}

/// Whether a surface lies on the side that is not drawn.
fn is_behind(solved: &SolvedBoard, surface: Source) -> bool {
    surface == Source::Far || is_taper(solved, surface)
}

fn across(mortise: &Mortise) -> Vec2 {
    let u = mortise.frame.u();
    Vec2::new(u.x, u.y) * mortise.tenon[1]
}

/// Size, depth, and the copies that have it where not all do, line by line.
fn size(solved: &SolvedBoard, mortise: &Mortise, notation: &Notation) -> Vec<String> {
    let say = |mm: f64| notation.bare_fine(Length::from_mm(mm));
    let [thickness, width, _] = mortise.tenon;
    let what = match mortise.fitting {
        Fitting::Blind => vec![format!("mortise {} deep", say(mortise.depth))],
        Fitting::Through => vec!["mortise through".to_owned()],
        Fitting::Standing => {
            vec![format!("tenon {} long", say(mortise.depth)), "standing beyond the shoulder".to_owned()]
        }
    };
    let around = match mortise.is_drilled() {
        true => format!("round {}", say(thickness)),
        false => format!("{} x {}", say(thickness), say(width)),
    };
    let mut lines = [vec![around], what].concat();
    if mortise.copies.len() != solved.copies.len() {
        let labels = mortise.copies.iter().filter_map(|copy| solved.copies.get(*copy));
        let labels: Vec<&str> = labels.map(|copy| copy.label.as_str()).collect();
        lines.push(format!("only {}", labels.join(", ")));
    }
    lines
}

/// The mouths on a sawn end with their centre lines, in the axes of the end face.
pub fn on_end(solved: &SolvedBoard, cut: usize) -> Vec<Item> {
    on_surface(solved, Source::Cut(cut), Affine::IDENTITY)
}

/// The mouths on a surface, taken by `place` from its axes to the drawing.
pub fn on_surface(solved: &SolvedBoard, surface: Source, place: Affine) -> Vec<Item> {
    let mut items = cutouts::on_surface(solved, surface, place);
    for mortise in &solved.mortises {
        let mouths = match mortise.fitting {
            // The section of a standing tenon is what is left between the shoulders.
            Fitting::Standing if mortise.on == Some(surface) => {
                mouth(&solved.board, &solved.solid, mortise).into_iter().collect()
            }
            Fitting::Standing => Vec::new(),
            _ => open_on(solved, mortise, surface),
        };
        for path in mouths {
            let path = path.transformed(place);
            let Some(bounds) = path.bounding_box() else { continue };
            let middle = bounds.center();
            let arms = [Vec2::new(bounds.width() / 2.0 + 3.0, 0.0), Vec2::new(0.0, bounds.height() / 2.0 + 3.0)];
            let pen = || Pen::dashed(MARK_WIDTH, &CENTRE_DASH);
            items.push(stroke(Role::Mark, path, Pen::solid(MARK_WIDTH)));
            items.extend(arms.into_iter().map(|arm| line(Role::Mark, middle - arm, middle + arm, pen())));
        }
    }
    items
}

#[cfg(test)]
mod tests {
    use super::counted;

    #[test]
    fn numbers_that_follow_each_other_are_told_as_a_run() {
        let told = [&[4][..], &[1, 2], &[1, 3], &[1, 2, 6], &[3, 4, 5, 6]].map(counted);
        assert_eq!(told, ["4", "1 and 2", "1 and 3", "1, 2 and 6", "3 to 6"]);
    }
}
