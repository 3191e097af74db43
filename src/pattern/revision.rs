//! Revision codes: each short code changes when a tool would do something else to what it stands on, and only then.
//!
//! A code hashes solids with their joints and fastenings, profiles, templates with tool, side and feed; marks, words and names do not
//! count. It is made of the piece as its codes take it (see [`Project::settled`](crate::model::Project::settled)), so that numbers
//! which no shop tells apart give one code, and so does one length that is written in two ways.

use crate::geometry::{Path, Placement, Plane, Point, Point3, Rect, Segment, Vec3};
use crate::joinery::aids::{Aid, Look};
use crate::joinery::glue_lines;
use crate::model::fixing::{Breadboard, Fasteners, Glued, Hold, MadeFasteners, OuterPins};
use crate::model::top::Top;
use crate::model::{
    BearingAt, BlankTemplate, CollarTool, CutterTool, DrawnPattern, EdgeProfile, LiesOn, TemplateKind,
    ThumbnailCurve, Work, edge_of,
};
use crate::page::{Item, Role, Shape};
use crate::piece::{Handed, Piece, SolvedBoard, Value, end_piece, landings};
use crate::router::{Blank, CornerGauge, ProfileSection, RoutedTemplate, TemplateSetting, TemplateShape};
use crate::solid::{Does, End, Feature, Shape as Solid, Why};
use crate::units::{Angle, Length};
use sha2::{Digest, Sha256};

/// Steps to a millimetre in which geometry counts as the same: well below what can be cut, well above what arithmetic
/// in another order would change.
const STEPS_PER_MM: f64 = 1000.0;

/// Where between two steps rounding turns: no part of an inch or of a millimetre lies there, so that what arithmetic adds to
/// a number of the shop turns none.
const TURNS_AT: f64 = 0.236_067_977_499_789_7;

/// Radians are hashed as what they come to, mm, over this length: a turn below the steps is below a step there.
const ARM: f64 = 1000.0;

/// Letters and digits that are not mistaken for each other in bad light (no I, L, O, U).
const ALPHABET: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";

/// Characters in a code: 25 bits, so that two drawings of one piece rarely share a code by chance.
const CHARACTERS: usize = 5;

/// What goes into a code.
#[derive(Debug, Clone, Default)]
struct Code(Sha256);

impl Code {
    /// The code as a person reads it.
    fn read(self) -> String {
        let bits = self.0.finalize().iter().take(4).fold(0_u32, |bits, byte| bits << 8 | u32::from(*byte));
        (0..CHARACTERS).map(|i| char::from(ALPHABET[(bits >> (5 * i) & 31) as usize])).collect()
    }

    /// Which of several things follows.
    fn which(&mut self, number: usize) {
        self.0.update((number as u64).to_le_bytes());
    }

    fn mm(&mut self, mm: f64) {
        self.0.update(((mm * STEPS_PER_MM + TURNS_AT).floor() as i64).to_le_bytes());
    }

    fn length(&mut self, length: Length) {
        self.mm(length.mm());
    }

    fn angle(&mut self, angle: Angle) {
        self.mm(angle.radians() * ARM);
    }

    fn optional(&mut self, length: Option<Length>) {
        self.which(usize::from(length.is_some()));
        length.into_iter().for_each(|length| self.length(length));
    }

    fn point(&mut self, p: Point) {
        [p.x, p.y].into_iter().for_each(|mm| self.mm(mm));
    }

    fn place(&mut self, p: Point3) {
        [p.x, p.y, p.z].into_iter().for_each(|mm| self.mm(mm));
    }

    fn direction(&mut self, d: Vec3) {
        [d.x, d.y, d.z].into_iter().for_each(|share| self.mm(share * ARM));
    }

    fn plane(&mut self, plane: &Plane) {
        self.direction(plane.normal());
        self.mm(plane.distance(Point3::ORIGIN));
    }

    /// Quarter points fix a line, an arc or a cubic without saying how it is held.
    fn along(path: &Path) -> impl Iterator<Item = Point> + '_ {
        path.segments().iter().flat_map(|piece: &Segment| [0.0, 0.25, 0.5, 0.75, 1.0].map(|t| piece.eval(t)))
    }

    fn path(&mut self, path: &Path) {
        self.which(usize::from(path.is_closed()));
        Code::along(path).for_each(|p| self.point(p));
    }

    fn paths<'a>(&mut self, paths: impl IntoIterator<Item = &'a Path>) {
        for path in paths {
            self.which(1);
            self.path(path);
        }
        self.which(0);
    }

    fn rect(&mut self, rect: Rect) {
        [rect.x0, rect.y0, rect.x1, rect.y1].into_iter().for_each(|mm| self.mm(mm));
    }

    fn framed(&mut self, outline: &Path, frame: &Placement) {
        Code::along(outline).for_each(|p| self.place(frame.to_world(Point3::new(p.x, p.y, 0.0))));
        self.direction(frame.w());
    }

    fn end(&mut self, end: &End) {
        match end {
            End::To(mm) => {
                self.which(0);
                self.mm(*mm);
            }
            End::On(plane) => {
                self.which(1);
                self.plane(plane);
            }
            End::Open => self.which(2),
        }
    }

    fn solid(&mut self, solid: &Solid) {
        match solid {
            Solid::Prism(prism) => {
                self.which(0);
                self.framed(&prism.outline, &prism.frame);
                prism.ends.iter().for_each(|end| self.end(end));
            }
            Solid::Turned(turned) => {
                self.which(1);
                turned.profile.iter().for_each(|p| self.point(*p));
                self.place(turned.frame.origin());
                self.direction(turned.frame.w());
            }
        }
    }

    /// One of the things worked in a board, and in which of its copies, where not in all.
    fn feature(&mut self, feature: &Feature, copies: usize) {
        match &feature.does {
            Does::Beyond(plane) => {
                self.which(0);
                self.plane(plane);
            }
            Does::Take(solid) => {
                self.which(1);
                self.solid(solid);
            }
            Does::Add(solid) => {
                self.which(2);
                self.solid(solid);
            }
        }
        let some = feature.copies.iter().filter(|some| some.len() != copies).flatten();
        some.for_each(|copy| self.which(*copy));
    }

    fn profile(&mut self, profile: &EdgeProfile) {
        match profile {
            EdgeProfile::RoundOver(radius) => {
                self.which(0);
                self.length(*radius);
            }
            EdgeProfile::Chamfer { across, down } => {
                self.which(1);
                [across, down].into_iter().for_each(|length| self.length(*length));
            }
            EdgeProfile::Thumbnail { width, depth, step, curve } => {
                self.which(2 + usize::from(*curve == ThumbnailCurve::Ellipse));
                [width, depth, step].into_iter().for_each(|length| self.length(*length));
            }
            EdgeProfile::Underbevel { across, up } => {
                self.which(4);
                [across, up].into_iter().for_each(|length| self.length(*length));
            }
            EdgeProfile::Drawn(line) => {
                self.which(5);
                self.path(line);
            }
            EdgeProfile::Arrises { face, far } => {
                self.which(6);
                [face, far].into_iter().for_each(|profile| self.profile(profile));
            }
        }
    }

    /// What is worked along the edges of a part: which edges these are is told by where they stand in its outline.
    fn profiles(&mut self, part: &DrawnPattern) {
        let edges = &part.routing.edges;
        self.unordered(part.routing.profiles.iter().map(|worked| {
            let mut code = Code::default();
            let edge = worked.edge.as_ref().map(|edge| edge_of(edges, edge).map_or(0, |index| index + 1));
            code.which(edge.unwrap_or(usize::MAX));
            code.profile(&worked.profile);
            code
        }));
    }

    /// Things whose order makes no difference to a tool.
    fn unordered(&mut self, all: impl IntoIterator<Item = Code>) {
        let mut all: Vec<_> = all.into_iter().map(|code| code.0.finalize()).collect();
        all.sort();
        self.which(all.len());
        all.iter().for_each(|one| self.0.update(one));
    }

    fn cutter(&mut self, tool: &CutterTool) {
        let cutter = &tool.cutter;
        self.length(cutter.diameter);
        self.optional(cutter.bearing);
        self.which(match cutter.bearing_at {
            None => 0,
            Some(BearingAt::Tip) => 1,
            Some(BearingAt::Shank) => 2,
        });
    }

    fn collar(&mut self, tool: &CollarTool) {
        self.length(tool.collar.diameter);
    }

    fn blank(&mut self, wanted: &BlankTemplate, blank: &Blank) {
        self.path(&blank.outline);
        self.paths(&blank.ends);
        blank.leave_long.iter().for_each(|long| self.which(usize::from(*long)));
        blank.screws.iter().for_each(|screw| self.point(screw.at));
        blank.feeds.iter().for_each(|feed| self.paths(&feed.arrow));
        self.which(usize::from(wanted.lies_on == LiesOn::Far));
        self.which(usize::from(wanted.cutter.is_some()));
        wanted.cutter.iter().for_each(|tool| self.cutter(tool));
    }

    fn template(&mut self, kind: &TemplateKind, shape: &TemplateShape) {
        match kind {
            TemplateKind::Collar { work, collar, cutter } => {
                self.which(match work {
                    Work::Outside => 0,
                    Work::Inside => 1,
                });
                self.collar(collar);
                self.cutter(cutter);
            }
            TemplateKind::Inlay { large, small, cutter } => {
                [large, small].into_iter().for_each(|tool| self.collar(tool));
                self.cutter(cutter);
            }
            TemplateKind::SawLine { distance } => self.length(*distance),
            TemplateKind::Blank(_) => {}
        }
        match (shape, kind) {
            (TemplateShape::Collar(template), _) => self.paths(&template.rings),
            (TemplateShape::Inlay(pair), _) => self.paths(&pair.template),
            (TemplateShape::SawLine(rings), _) => self.paths(rings),
            (TemplateShape::Blank(blank), TemplateKind::Blank(wanted)) => self.blank(wanted, blank),
            (TemplateShape::Blank(blank), _) => self.path(&blank.outline),
        }
    }

    /// What holds a top: where each thing stands and how far it moves.
    fn fasteners(&mut self, piece: &Piece, top: &Top, made: &MadeFasteners) {
        self.which(match made.by {
            Hold::Glue => 0,
            Hold::Screws => 1,
            Hold::Slots => 2,
            Hold::Buttons => 3,
        });
        self.length(made.screw);
        for landing in landings(piece, top) {
            for play in &landing.plays {
                [play.at].into_iter().chain(play.in_base()).for_each(|p| self.point(p));
            }
        }
    }

    /// The breadboard ends of a top.
    fn breadboard(&mut self, board: &SolvedBoard, top: &Top, ends: &Breadboard) {
        self.length(ends.pin);
        self.which(usize::from(ends.outer_pins == OuterPins::Slotted));
        self.which(usize::from(ends.glue == Glued::Along));
        if let Some(end) = end_piece(board, top) {
            self.path(&end.ring);
            [end.tongue, end.groove].into_iter().for_each(|rect| self.rect(rect));
            self.mm(end.thickness);
            end.holes(ends.outer_pins).into_iter().flatten().for_each(|p| self.point(p));
        }
    }

    /// What is worked in a top beside its outline and its joints: its boards, its ends, what holds it.
    fn top(&mut self, piece: &Piece, board: &SolvedBoard, top: &Top) {
        glue_lines(top).into_iter().for_each(|y| self.mm(y));
        if let Some(Fasteners::Made(made)) = &top.fasteners {
            self.fasteners(piece, top, made);
        }
        if let Some(ends) = &top.breadboard {
            self.breadboard(board, top, ends);
        }
    }
}

/// The code of a board: its solid with joints and fastenings, and what is worked along its edges; of a top also its boards, its
/// breadboard ends and what holds it.
pub fn board(solved: &SolvedBoard, routed: Option<&DrawnPattern>, top: Option<(&Piece, &Top)>) -> String {
    let mut code = Code::default();
    code.mm(solved.board.thickness);
    [&solved.solid.face, &solved.solid.far].into_iter().for_each(|ring| code.path(ring.path()));
    for (cut, end) in solved.board.cuts.iter().zip(&solved.solid.ends) {
        if !end.rings.is_empty() {
            code.plane(&cut.plane);
        }
    }
    // The blank and its cuts are known by what is left of them, but for one that is turned.
    let is_turned = |feature: &Feature| matches!(&feature.does, Does::Add(Solid::Turned(_)));
    let worked = solved.body().features;
    let worked = worked.iter().filter(|one| !matches!(one.id.why, Why::Blank | Why::Cut) || is_turned(one));
    code.unordered(worked.map(|feature| {
        let mut code = Code::default();
        code.feature(feature, solved.copies.len());
        code
    }));
    routed.into_iter().for_each(|part| code.profiles(part));
    top.into_iter().for_each(|(piece, top)| code.top(piece, solved, top));
    code.read()
}

/// The code of a part that the file draws directly, whose pattern has these lines.
pub(super) fn drawn(part: &DrawnPattern, cut: &[Item]) -> String {
    let mut code = lines(cut, part.thickness.mm());
    code.profiles(part);
    code.read()
}

/// The code of a template: its shape, its board, the tools that follow it, its side, its feed, how deep they cut.
pub fn template(part: &DrawnPattern, made: &RoutedTemplate) -> String {
    let mut code = Code::default();
    code.template(&made.asked.kind, &made.shape);
    code.optional(made.asked.thickness);
    let setting = TemplateSetting::new(part, made);
    [setting.must_cut, setting.recess].into_iter().for_each(|cut| code.optional(cut));
    code.read()
}

/// The code of a gauge for corners.
pub fn corner_gauge(of: &CornerGauge) -> String {
    let mut code = Code::default();
    code.path(if of.stands_out { &of.gauge.over } else { &of.gauge.into });
    code.read()
}

/// The code of a gauge for an edge profile.
pub fn profile_gauge(section: &ProfileSection) -> String {
    let mut code = Code::default();
    code.path(&section.gauge);
    code.read()
}

/// The code of an aid: what is sawn and drilled, and what was measured of it.
pub fn aid(aid: &Aid) -> String {
    let mut code = Code::default();
    for figure in &aid.figures {
        let worked = figure.lines.iter().filter(|line| matches!(line.look, Look::Cut | Look::Drill));
        code.paths(worked.map(|line| &line.path));
    }
    for fact in &aid.facts {
        match fact.value {
            Value::Length(length) | Value::Movement(length) => code.length(length),
            Value::Angle(angle) => code.angle(angle),
            Value::Force(_) => {}
        }
    }
    code.read()
}

/// The code of what is cut and drilled of some lines, and of a thickness (mm). Marks and words do not count: they do not make a part
/// wrong.
pub(super) fn of_lines(items: &[Item], thickness: f64) -> String {
    lines(items, thickness).read()
}

fn lines(items: &[Item], thickness: f64) -> Code {
    let mut code = Code::default();
    code.mm(thickness);
    for item in items.iter().filter(|i| matches!(i.role, Role::Outline | Role::Opening | Role::Drill)) {
        if let Shape::Stroke { path, .. } = &item.shape {
            code.which(item.role as usize);
            code.path(path);
        }
    }
    code
}

/// The code of a sheet of angles.
pub(super) fn angles(all: impl IntoIterator<Item = Angle>) -> String {
    let mut code = Code::default();
    all.into_iter().for_each(|angle| code.angle(angle));
    code.read()
}

/// The code of several things together, each with how many are made of it: it changes when one of theirs does.
pub fn together<'a>(all: impl IntoIterator<Item = (&'a str, [u32; 2])>) -> String {
    let mut code = Code::default();
    code.unordered(all.into_iter().map(|(own, made)| {
        let mut code = Code::default();
        code.0.update(own.as_bytes());
        made.into_iter().for_each(|count| code.which(count as usize));
        code
    }));
    code.read()
}

/// The code of the loose tenons of a piece.
pub fn loose_tenons(piece: &Piece) -> String {
    let mut code = Code::default();
    let loose = piece.boards.iter().flat_map(|board| &board.mortises).filter(|mortise| mortise.loose);
    code.unordered(loose.map(|mortise| {
        let mut code = Code::default();
        mortise.tenon.into_iter().for_each(|mm| code.mm(mm));
        code.which(usize::from(mortise.round));
        code
    }));
    code.read()
}

/// How many boards are made from a pattern as drawn, and how many with it turned over.
pub fn made(board: &SolvedBoard) -> [u32; 2] {
    board.handed.map_or([board.count, 0], |Handed { as_drawn, mirrored }| [as_drawn, mirrored])
}

#[cfg(test)]
mod tests {
    use super::of_lines;
    use crate::geometry::{Path, Rect};
    use crate::page::{Item, Pen, Role, Shape};

    fn board(width: f64, role: Role) -> Vec<Item> {
        let path = Path::rectangle(Rect::new(0.0, 0.0, width, 40.0));
        vec![Item { role, part: None, clip: None, shape: Shape::Stroke { path, pen: Pen::solid(0.25) } }]
    }

    #[test]
    fn the_code_follows_the_cut_lines_and_the_thickness() {
        let first = of_lines(&board(600.0, Role::Outline), 20.0);
        assert_eq!(first.len(), 5);
        assert_eq!(first, of_lines(&board(600.0 + 1e-9, Role::Outline), 20.0));
        assert_ne!(first, of_lines(&board(600.01, Role::Outline), 20.0));
        assert_ne!(first, of_lines(&board(600.0, Role::Outline), 20.5));
    }

    #[test]
    fn marks_do_not_count() {
        assert_eq!(of_lines(&board(600.0, Role::Mark), 20.0), of_lines(&board(700.0, Role::Mark), 20.0));
    }
}
