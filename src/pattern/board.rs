//! A board of the piece, looked at straight from its face side.

use super::clear::Clear;
use super::joints::Label;
use super::landed::landed;
use super::lines::{CENTRE_DASH, CUT_WIDTH, LANDING_DASH, MARK_WIDTH, arrow, line, stroke, words};
use super::{Pattern, edge_names, far, hands, joints, on_part, tapers, title, turned};
use crate::board::{EdgeName, FarSide, Role as CutRole, SawCut, Source};
use crate::geometry::{
    Affine, Arc, Flat, Path, PathIndex, Placement, Point, Point3, Rect, Region, Segment, Vec2, Vec3,
};
use crate::joinery::squared_across;
use crate::model::DrawnPattern;
use crate::page::{Anchor, Item, Label as Said, Part, Pen, Role, Room, Shape, Text, corners, readable};
use crate::piece::{Handed, SolvedBoard};
use crate::router::OnPart;
use crate::stock::Stock;
use crate::tolerance::{IN_THE_MIDDLE, ONE_WAY, SHOWN_SQUARE, UNSEEN};
use crate::units::{Angle, Length, Notation};

/// Length of a bevel arrow, mm.
const BEVEL_ARROW: f64 = 12.0;

/// Length of the arrows that say which way is up, front, right and out, mm.
const WAY_ARROW: f64 = 14.0;

/// From one name of a landing to the next, where several stand together, mm.
const NAME_LINE: f64 = 3.5;

/// An arrow is drawn for a direction of which at least this share lies in the face.
const SEEN: f64 = 0.5;

/// Length of the square line from which a mitre is told, mm, and the share of its cut that it takes at most.
const SQUARE_LINE: (f64, f64) = (40.0, 0.6);

/// The arc from the square line to the cut stands at this share of the line.
const ARC: f64 = 0.75;

/// How far beside the middle of a line it is asked whether that side lies on the board, mm.
const BESIDE: f64 = 0.5;

/// How many steps of 5 mm words are moved off their line to find room: past a standing tenon of 40 mm and its own words.
const STEPS_OFF: u32 = 14;

/// Shares of a cut's line at which its bevel arrow is tried, and how far the arrow keeps off other lines, mm.
const ARROW_PLACES: [f64; 9] = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88];
const ARROW_CLEAR: f64 = 1.5;

/// Shares of a line at which words beside it are tried.
const PLACES: [f64; 5] = [0.5, 0.35, 0.65, 0.2, 0.8];

/// Draws a board of the piece at full size, with the stock it is sawn from, its revision code, and with what is routed on it and was
/// found of that.
pub fn draw(
    solved: &SolvedBoard,
    routed: Option<(&DrawnPattern, &OnPart)>,
    stock: &Stock,
    code: &str,
    project: &str,
    notation: &Notation,
) -> Pattern {
    if let (Some(turning), None) = (solved.turning(), routed) {
        return turned::draw((solved, &turning), stock, code, project, notation);
    }
    let mut board = Drawing { solved, notation, items: Vec::new(), shape: 0 };
    let face = solved.solid.face.path();
    board.items.push(stroke(Role::Outline, face.clone(), Pen::solid(CUT_WIDTH)));
    let thickness = solved.board.thickness;
    board.items.extend(far::drawn(&solved.board, &solved.solid));
    board.shape = board.items.len();
    board.landings();
    board.edge_landings();
    board.items.extend(tapers::words_of(solved, notation));
    board.items.extend(joints::on_face(solved));
    let labels: Vec<Label> = joints::labels(solved, notation).into_iter().chain(joints::spots(solved)).collect();
    for label in &labels {
        let apart = |other: &&Label| other.at.distance(label.at) > UNSEEN;
        let others: Vec<Point> = labels.iter().filter(apart).map(|other| other.at).collect();
        board.label(label, &others);
    }
    board.middle_line();
    solved.cuts.iter().for_each(|cut| board.cut_words(cut));
    board.edge_names();
    board.items.extend(match routed {
        Some((part, found)) => on_part::marks(part, found, face, &board.items, notation),
        None => {
            let tangents: Vec<Point> = solved.rounded_corners().flatten().collect();
            let mut rounded = on_part::tangent_ticks(&tangents, face);
            let mut clear = Clear::new(board.items.iter().chain(&rounded));
            rounded.extend(on_part::corner_words(&tangents, face, notation, &mut clear));
            rounded
        }
    });
    board.ways();
    let mut items = board.items;
    let sizes = format!("net blank {}", stock.net.flat_words(notation));
    let make = make_words(solved);
    let part = Part::new(solved.label.as_str(), code);
    let mut block = vec![
        make.clone(),
        format!("{} thick", notation.length(Length::from_mm(thickness))),
        format!("face side: {}", solved.board.sides[0]),
        sizes.clone(),
        stock.rough_words(notation),
        format!("{project} · rev {}", part.revision),
    ];
    if stock.for_screws {
        block.push(stock.why_words().to_owned());
    }
    let mut staying = vec![0];
    if solved.handed.is_some() {
        staying.push(block.len());
        block.push("mirrored ones: turn the template over".to_owned());
    }
    block.extend(hands::chalked(solved));
    title::write(&mut items, face, &solved.label, (&block, &staying), Some(Angle::ZERO));
    Pattern::around(part, make, sizes, Flat::from_outside(items).paper())
}

/// How many are made, and which way round.
pub fn make_words(solved: &SolvedBoard) -> String {
    match solved.handed {
        Some(Handed { as_drawn, mirrored: 0 }) => format!("make {as_drawn} as drawn"),
        Some(Handed { as_drawn: 0, mirrored }) => format!("make {mirrored}, mirrored"),
        Some(handed) => {
            format!("make {}: {} as drawn, {} mirrored", solved.count, handed.as_drawn, handed.mirrored)
        }
        None => format!("make {}", solved.count),
    }
}

/// Where an arrow on a board points.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Way {
    /// Plumb up.
    Up,
    /// To the front of the piece.
    Front,
    /// To the right of someone before it.
    Right,
    /// Away from the plumb line through its middle.
    Out,
}

impl Way {
    const fn words(self) -> &'static str {
        match self {
            Way::Up => "up",
            Way::Front => "front",
            Way::Right => "right",
            Way::Out => "out",
        }
    }
}

struct Drawing<'a> {
    solved: &'a SolvedBoard,
    notation: &'a Notation,
    items: Vec<Item>,
    /// How many of the items, the first, are the board's own shape: the face side's rim and the far lines.
    shape: usize,
}

impl Drawing<'_> {
    /// Whether a mortise goes in or comes out within a part of a surface.
    fn is_mortised(&self, on: Source, bounds: Rect) -> bool {
        self.solved.mortises.iter().any(|mortise| {
            let origin = mortise.frame.origin();
            let here = mortise.on == Some(on) || mortise.exit == Some(on);
            here && bounds.contains(Point::new(origin.x, origin.y))
        })
    }

    /// Where neighbours lie on the two faces, so that a round-over or finish stays off.
    fn landings(&mut self) {
        let all = landed(self.solved);
        let mut named: Vec<Point> = Vec::new();
        for meet in &all {
            let (contact, taper) = match meet.on {
                Source::Face | Source::Far => (meet.contact.to_vec(), None),
                _ => match tapers::landed_on(self.solved, meet) {
                    Some((contact, name)) => (contact, Some(name)),
                    None => continue,
                },
            };
            for rim in &contact {
                self.items.push(stroke(Role::Mark, rim.clone(), Pen::dashed(MARK_WIDTH, &LANDING_DASH)));
            }
            let Some(bounds) = contact.iter().filter_map(Path::bounding_box).reduce(|a, b| a.union(b)) else {
                continue;
            };
            let name = match (meet.on, taper) {
                (_, Some(taper)) => format!("{}, on the far side, the {taper}", meet.words(self.solved)),
                (Source::Far, None) => {
                    format!("{}, on the far side, the {}", meet.words(self.solved), self.solved.board.sides[1])
                }
                (_, None) => meet.words(self.solved),
            };
            let text = Text::new(Point::ORIGIN, 2.5, name);
            let fits = text.width() + 2.0 < bounds.width() && bounds.height() > 5.0;
            // Off the middle, where a centre line may run.
            let quarter = bounds.size() * 0.25;
            let middle = Vec2::new(bounds.center().x, 0.0);
            let (at, angle) = if self.is_mortised(meet.on, bounds) {
                // Beside the landing, on the side where the template goes on.
                let [below, above] = [bounds.y0 - 3.7, bounds.y1 + 1.2].map(|y| Point::new(0.0, y) + middle);
                let face = self.solved.solid.face.path();
                (if face.encloses(below) { below } else { above }, 0.0)
            } else if fits || bounds.width() >= bounds.height() {
                (bounds.center() + Vec2::new(0.0, quarter.height - 1.25), 0.0)
            } else {
                (bounds.center() + Vec2::new(1.25 - quarter.width, 0.0), std::f64::consts::FRAC_PI_2)
            };
            // Neighbours of several copies may lie all but on each other: then their names stand in lines, away from the landing.
            let next = match (angle == 0.0, at.y > bounds.y1) {
                (true, true) => Vec2::new(0.0, NAME_LINE),
                (true, false) => Vec2::new(0.0, -NAME_LINE),
                (false, _) => Vec2::new(NAME_LINE, 0.0),
            };
            let is_taken = |at: Point| named.iter().any(|other| other.distance(at) < 0.9 * NAME_LINE);
            let at = (0..=named.len()).map(|lines| at + next * lines as f64).find(|at| !is_taken(*at)).unwrap_or(at);
            named.push(at);
            let text = Text { at, ..text }.anchored(Anchor::Middle).turned(angle);
            self.items.push(words(Role::Text, text.about(Said::at(bounds.center()))));
        }
    }

    /// Where a neighbour lies on an edge or on a cut edge: a tick at each end of the landing, and its name between.
    fn edge_landings(&mut self) {
        let pieces: Vec<(Segment, Source)> = self.solved.solid.face.pieces().map(|(p, s)| (*p, s)).collect();
        for (piece, source) in pieces {
            for (from, to, name) in self.landings_on(&piece, source) {
                let landing = piece.subsegment(from, to);
                for t in [0.0, 1.0] {
                    let (at, inwards) = (landing.eval(t), landing.tangent(t).turn_90());
                    let (out, inside) = (at - inwards * 3.0, at + inwards * 8.0);
                    self.items.push(line(Role::Mark, out, inside, Pen::solid(MARK_WIDTH)));
                }
                self.beside(&landing, -landing.tangent(0.5).turn_90(), &[name]);
            }
        }
    }

    /// The landings on a piece of the face side's rim: from and to, as parameters of the piece, and the neighbour's name.
    fn landings_on(&self, piece: &Segment, source: Source) -> Vec<(f64, f64, String)> {
        let Source::Edge(index) = source else { return Vec::new() };
        if let Some(EdgeName::Landing(role)) = self.solved.board.edge_of(source) {
            return vec![(0.0, 1.0, role.words().to_owned())];
        }
        // Contacts are given from the start of the edge before cuts, along its chord; only a straight edge is its chord.
        let edge = self.solved.board.edges.get(index).map(|edge| edge.segments.as_slice()).unwrap_or_default();
        let ([Segment::Line(whole)], Segment::Line(shown)) = (edge, piece) else { return Vec::new() };
        let along = (whole.p1 - whole.p0).normalize();
        let length = (shown.p1 - shown.p0).hypot();
        let share = |x: f64| ((whole.p0 + along * x - shown.p0).dot(along) / length).clamp(0.0, 1.0);
        let own = landed(self.solved).into_iter().filter(|meet| meet.on == source);
        own.filter_map(|meet| {
            let bounds = meet.contact.iter().filter_map(Path::bounding_box).reduce(|a, b| a.union(b))?;
            let (from, to) = (share(bounds.x0), share(bounds.x1));
            (to > from).then(|| (from, to, meet.words(self.solved)))
        })
        .collect()
    }

    /// A line across the middle of a board whose two ends are alike, and of one that is glued up with tenons in its glue lines: there it
    /// is squared across all boards before they are glued.
    fn middle_line(&mut self) {
        let squared = squared_across(self.solved);
        let (blank, Some(middle)) = (self.solved.solid.blank, squared.or_else(|| self.solved.middle())) else {
            return;
        };
        let (from, to) = (Point::new(middle, blank.y0 - 3.0), Point::new(middle, blank.y1 + 3.0));
        self.items.push(line(Role::Mark, from, to, Pen::dashed(MARK_WIDTH, &CENTRE_DASH)));
        let name = if squared.is_some() { "middle, squared across all boards before gluing" } else { "middle" };
        let said = Text::new(Point::new(middle + 1.0, blank.y1 + 1.0), 2.5, name);
        let mut said = said.about(Said::along(Path::line(from, to)).on_each_sheet());
        if let (Some(_), Some(label)) = (squared, said.label.as_mut()) {
            label.shorter.push("middle, squared across".to_owned());
        }
        self.items.push(words(Role::Text, said));
    }

    /// A cut's angles beside its line, which part meets it, and an arrow on the side to which the saw leans.
    fn cut_words(&mut self, saw: &SawCut) {
        let Some(cut) = self.solved.board.cuts.get(saw.cut) else { return };
        let pieces: Vec<Segment> = self.solved.solid.face.part(Source::Cut(saw.cut)).copied().collect();
        let Some(longest) = pieces.iter().max_by(|a, b| a.length().total_cmp(&b.length())) else { return };
        let out = Vec2::new(cut.plane.normal().x, cut.plane.normal().y).normalize();
        let mut said = vec![self.solved.board.name_of(Source::Cut(saw.cut)).into_owned()];
        if let Some(against) = &cut.against {
            said.push(format!("meets {}", against.words()));
        }
        let mitre = saw.mitre();
        // A ripped edge is set by the fence: only its bevel is a setting.
        if saw.role == CutRole::End && mitre.degrees() > SHOWN_SQUARE {
            let edge = saw.registers.first().map(|register| format!("off square to the {}", register.edge));
            said.push(format!("mitre {}", self.notation.angle_and_slope(mitre)));
            said.extend(edge);
            self.mitre_lines(saw);
        }
        let far = self.solved.board.sides[1];
        let mut arrow = None;
        if saw.tapers() {
            let slope = self.notation.angle_and_slope(Angle::from_degrees(90.0) - saw.bevel);
            said.push(format!("{far} tapered by {slope}"));
        } else if saw.bevel.degrees() > SHOWN_SQUARE {
            let side = self.far_side(saw);
            said.push(format!("bevel {}", self.notation.angle_and_slope(saw.bevel)));
            said.push(format!("{far} {side} (dashed)"));
            arrow = self.bevel_arrow(longest, out, saw.far_side);
        } else {
            said.push("square to the face".to_owned());
        }
        // Words about a bevel stand on the sheet that shows its arrow.
        let about = Path::open(vec![arrow.unwrap_or(*longest)]);
        self.place((longest, out), &said, Said::along(about), |_| true);
    }

    /// The names of the edges of which the words of joints speak.
    fn edge_names(&mut self) {
        let mut clear = Clear::new(&self.items);
        for (edge, name) in edge_names::spoken_of(self.solved) {
            let named = clear.beside(&Path::open(vec![edge]), &[&name], 2.5);
            self.items.extend(named.map(on_each_sheet));
        }
    }

    /// The line square to the edge off which a mitre is told, from where the cut begins there, and the arc from it to the cut: an
    /// angle off an edge can be read as one from it.
    fn mitre_lines(&mut self, saw: &SawCut) {
        let Some(register) = saw.registers.first() else { return };
        let face = &self.solved.solid.face;
        let own = Source::Cut(saw.cut);
        let meets =
            |before: Source, after: Source| [(before, after), (after, before)].contains(&(own, register.source));
        let corner = face.corners().into_iter().find(|(_, before, after)| meets(*before, *after)).map(|(at, ..)| at);
        let Some(corner) = corner else { return };
        // Ends of pieces meet at the very corner; the other end of each is away from it.
        let leaving = |source: Source| {
            let pieces = face.part(source).flat_map(|piece| [piece.start(), piece.end()]);
            pieces.max_by(|a, b| a.distance(corner).total_cmp(&b.distance(corner))).map(|far| far - corner)
        };
        let (Some(cut), Some(edge)) = (leaving(own), leaving(register.source)) else { return };
        let square = edge.turn_90().normalize();
        let square = if square.dot(cut) < 0.0 { -square } else { square };
        let length = SQUARE_LINE.0.min(SQUARE_LINE.1 * cut.hypot());
        let turn = square.cross(cut).atan2(square.dot(cut));
        let arc = Arc::circular(corner, length * ARC, square.atan2(), turn);
        self.items.push(line(Role::Mark, corner, corner + square * length, Pen::dashed(MARK_WIDTH, &LANDING_DASH)));
        self.items.push(stroke(Role::Mark, Path::open(vec![Segment::Arc(arc)]), Pen::solid(MARK_WIDTH)));
    }

    fn far_side(&self, saw: &SawCut) -> &'static str {
        match (saw.far_side, saw.role) {
            (FarSide::Longer, CutRole::End) => "longer",
            (FarSide::Shorter, CutRole::End) => "shorter",
            (FarSide::Longer, CutRole::Edge) => "wider",
            (FarSide::Shorter, CutRole::Edge) => "narrower",
            (FarSide::Equal, _) => "equal",
        }
    }

    /// An arrow across the cut's line towards its place on the far side: where it lies on no other line, or on as few as may be. The
    /// stretch of the cut at which it stands.
    fn bevel_arrow(&mut self, cut: &Segment, out: Vec2, far: FarSide) -> Option<Segment> {
        let along = if far == FarSide::Longer { out } else { -out };
        let turn = Affine::rotate(-along.atan2());
        let others = self.items.iter().skip(self.shape).map(|item| title::obstacle(item).transformed(turn));
        let others: Vec<Path> = others.collect();
        let others: Vec<PathIndex> = others.iter().map(PathIndex::new).collect();
        let ends = |share: &f64| {
            let from = cut.eval(*share) - along * (BEVEL_ARROW / 3.0);
            (from, from + along * BEVEL_ARROW)
        };
        let crossed = |share: &f64| {
            let (from, tip) = ends(share);
            let around = Rect::from_points(turn * from, turn * tip).inflate(ARROW_CLEAR, ARROW_CLEAR);
            others.iter().filter(|path| path.touches(around)).count()
        };
        let share = ARROW_PLACES.iter().min_by_key(|share| crossed(share))?;
        let (from, tip) = ends(share);
        self.items.extend(arrow(Role::Mark, from, tip));
        let beside = BESIDE / cut.length().max(2.0 * BESIDE);
        Some(cut.subsegment((share - beside).max(0.0), (share + beside).min(1.0)))
    }

    /// The words of a joint. Where there is room, they stand nearer to what they are about than to any of the others, whose words
    /// they would be taken for.
    fn label(&mut self, label: &Label, others: &[Point]) {
        let is_nearest = |texts: &Vec<Text>| {
            let Some(block) = texts.iter().map(Text::bounding_box).reduce(|a, b| a.union(b)) else { return true };
            let own = block.center().distance(label.at);
            others.iter().all(|other| block.center().distance(*other) > own)
        };
        let about = Said::at(label.at);
        self.place((&label.beside, label.towards), &label.words, about, is_nearest);
    }

    /// Words along a line.
    fn beside(&mut self, at: &Segment, out: Vec2, said: &[String]) {
        self.place((at, out), said, Said::along(Path::open(vec![*at])), |_| true);
    }

    /// Words along a line: inside the board, where they stay on the template, if they are clear of all that is drawn
    /// there; else outside. Of places that are clear the first that is right is taken, else the first.
    fn place(
        &mut self,
        (at, out): (&Segment, Vec2),
        said: &[String],
        about: Said,
        is_right: impl Fn(&Vec<Text>) -> bool,
    ) {
        let angle = readable(at.tangent(0.5).atan2());
        let up = Vec2::from_angle(angle).turn_90();
        // Seen along the words, so that a slanted block is no larger than it is.
        let turn = Affine::rotate(-angle);
        let drawn: Vec<Path> = self.items.iter().map(|item| title::obstacle(item).transformed(turn)).collect();
        let drawn: Vec<PathIndex> = drawn.iter().map(PathIndex::new).collect();
        let clear = |texts: &Vec<Text>| {
            texts.iter().all(|text| {
                let level = Text { at: turn * text.at, angle: 0.0, ..text.clone() };
                let block = level.bounding_box();
                drawn.iter().all(|path| !path.touches(block))
            })
        };
        // Beyond the next edge they would be taken for that one's.
        let face = Region::of(std::slice::from_ref(self.solved.solid.face.path()));
        let keeps_side = |towards: Vec2, texts: &[Text]| {
            let is_within = face.holds(at.eval(0.5) + towards * BESIDE);
            texts.iter().flat_map(corners).all(|corner| face.holds(corner) == is_within)
        };
        // On which side, how far along the line, and how many steps off it.
        let tries = [-out, out]
            .into_iter()
            .flat_map(|towards| (0..STEPS_OFF).flat_map(move |off| PLACES.map(|t| (towards, t, f64::from(off)))));
        let set = |(towards, t, off): (Vec2, f64, f64)| -> Vec<Text> {
            lines_beside(at.eval(t) + towards * (off * 5.0), towards, up, angle, said)
        };
        let beside = || tries.clone().map(|tried| (tried.0, set(tried)));
        let fits = |(towards, texts): &(Vec2, Vec<Text>)| clear(texts) && keeps_side(*towards, texts);
        let right = beside().filter(|(_, texts)| is_right(texts)).find(fits);
        let placed = right.or_else(|| beside().find(fits)).map(|(_, texts)| texts);
        let fallback = (out, PLACES[0], 0.0);
        let mut texts = placed.unwrap_or_else(|| set(fallback));
        if let Some(first) = texts.first_mut() {
            first.label = Some(Box::new(about.with_more(said.len() - 1)));
        }
        self.items.extend(texts.into_iter().map(|text| words(Role::Text, text)));
    }

    /// Arrows that say which way is up, front, right and out, and a level line where the board stands askew.
    fn ways(&mut self) {
        let mut seen: Vec<(Way, Vec2)> = Vec::new();
        for way in [Way::Up, Way::Front, Way::Right, Way::Out] {
            let Some(flat) = self.lies(way) else { continue };
            if seen.iter().all(|(_, other)| flat.dot(*other) < 0.9) {
                seen.push((way, flat));
            }
        }
        let mut named: Vec<(String, Vec2)> =
            seen.iter().map(|(way, along)| (way.words().to_owned(), *along)).collect();
        if named.is_empty() {
            named.extend(self.upper_edge().map(|name| (name, Vec2::new(0.0, 1.0))));
        }
        if named.is_empty() {
            return;
        }
        let face = self.solved.solid.face.path();
        let obstacles: Vec<Path> = self.items.iter().skip(1).map(title::obstacle).collect();
        let (blank, size) = (self.solved.solid.blank, 2.0 * (WAY_ARROW + 6.0));
        let wish = Point::new(blank.x1, blank.center().y);
        let inside = Room::new(face, &obstacles, 0.0).and_then(|mut room| room.place(size, size, wish));
        let middle = inside.unwrap_or_else(|| Point::new(blank.x0 + size, blank.y0 - size));
        let more = named.len() - 1;
        for (index, (name, along)) in named.into_iter().enumerate() {
            let tip = middle + along * WAY_ARROW;
            let drawn = arrow(Role::Text, middle, tip);
            let at = tip + along * 4.0 - Vec2::new(0.0, 1.25);
            let said = Text::new(at, 2.5, name).anchored(Anchor::Middle);
            // All arrows stay together.
            let label = (index == 0).then(|| Box::new(Said::way(drawn.len()).on_each_sheet().with_more(more)));
            self.items.extend(drawn);
            self.items.push(words(Role::Text, Text { label, ..said }));
        }
        self.level_line(&seen);
    }

    /// What the longest edge is called that lies uppermost on the pattern.
    fn upper_edge(&self) -> Option<String> {
        let face = &self.solved.solid.face;
        let rises = |piece: &Segment| -piece.tangent(0.5).turn_90().y * piece.length();
        let edges = face.pieces().filter(|(piece, _)| rises(piece) > SEEN * piece.length());
        let (_, source) = edges.max_by(|(a, _), (b, _)| rises(a).total_cmp(&rises(b)))?;
        Some(self.solved.board.name_of(source).into_owned())
    }

    /// Where a way lies on the pattern, of length 1: nowhere where it points through the face, nor where it is another on one copy than
    /// on the next, for one sheet serves them all. A board that stands is told by what is up and by its ends, which are left and right
    /// to someone before its face side: only of one that lies is told what lies to the right. No way leads out of the piece from a board
    /// that the plumb line through its middle passes.
    fn lies(&self, way: Way) -> Option<Vec2> {
        let on_copy = |placement: &Placement| -> Option<Vec2> {
            let centre = placement.to_world(self.solved.solid.centroid);
            let out = Vec3::new(centre.x, centre.y, 0.0);
            let direction = match way {
                Way::Up => Vec3::Z,
                Way::Front => -Vec3::Y,
                Way::Right if placement.w().z.powi(2) > 1.0 - SEEN * SEEN => Vec3::X,
                Way::Out if out.length() > IN_THE_MIDDLE && !self.is_in_the_middle(placement) => out,
                Way::Right | Way::Out => return None,
            };
            let in_board = placement.direction_to_board(direction.unit()?);
            let flat = Vec2::new(in_board.x, in_board.y);
            (flat.hypot() >= SEEN).then(|| flat.normalize())
        };
        let mut all = self.solved.copies.iter().map(|copy| on_copy(&copy.placement));
        let first = all.next()??;
        all.all(|other| other.is_some_and(|other| other.dot(first) > ONE_WAY)).then_some(first)
    }

    /// Whether the plumb line through the middle of the piece passes through the board as a copy stands.
    fn is_in_the_middle(&self, placement: &Placement) -> bool {
        let (from, way) = (placement.to_board(Point3::ORIGIN), placement.direction_to_board(Vec3::Z));
        !self.solved.board.body().on_line(from, way, Vec3::X).is_empty()
    }

    /// A level and a plumb line on the face of a board that stands askew to both.
    fn level_line(&mut self, seen: &[(Way, Vec2)]) {
        let Some((_, up)) = seen.iter().find(|(way, _)| *way == Way::Up) else { return };
        let askew = up.x.abs().min(up.y.abs()) > 0.01;
        let Some(middle) = self.solved.solid.face.path().centroid().filter(|_| askew) else { return };
        let span = 0.3 * self.solved.solid.blank.height().min(120.0);
        for (way, name) in [(up.turn_90(), "level"), (*up, "plumb")] {
            let (from, to) = (middle - way * span, middle + way * span);
            self.items.push(line(Role::Mark, from, to, Pen::dashed(MARK_WIDTH, &CENTRE_DASH)));
            let angle = readable(way.atan2());
            let at = to + Vec2::from_angle(angle).turn_90() * 0.8;
            let said = Text::new(at, 2.5, name).anchored(Anchor::Middle).turned(angle);
            self.items.push(words(Role::Text, said.about(Said::along(Path::line(from, to)))));
        }
    }
}

/// Words that stand on every sheet on which what they are about is seen.
fn on_each_sheet(mut item: Item) -> Item {
    if let Shape::Text(Text { label: Some(label), .. }) = &mut item.shape {
        label.again = true;
    }
    item
}

/// Lines of words along `up`'s base line on the side of `towards`, the first nearest the top.
fn lines_beside(middle: Point, towards: Vec2, up: Vec2, angle: f64, said: &[String]) -> Vec<Text> {
    let leading = 2.5 * 1.6;
    let above = up.dot(towards) >= 0.0;
    let first = if above { 3.0 + leading * (said.len() as f64 - 1.0) } else { -3.0 - 2.5 };
    let line = |(i, words): (usize, &String)| {
        let at = middle + up * (first - leading * i as f64);
        Text::new(at, 2.5, words.as_str()).anchored(Anchor::Middle).turned(angle)
    };
    said.iter().enumerate().map(line).collect()
}
