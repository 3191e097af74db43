//! From where the middle of a mouth is marked: one rule for pattern, drawing, schedule and data.
//!
//! A place is told from two lines that exist on the sawn part, are straight, can be felt or are drawn, and cross each other: along
//! the one from the nearer surface that stops it, then square off it. On an end or an edge the first line is the arris of the face
//! side, from which every gauge is set; on a face it is the nearest arris, of those within reach of a gauge one that runs with the
//! mortise, so that its cheeks are gauged too. Where curves leave no such arris, it is the centre line of the face, which is drawn.

mod words;

use super::arrises::{CROSSES, Straight, arrises, centre_line};
use super::run::run;
use super::surface_plane;
use crate::board::{Mortise, Source, Surface};
use crate::geometry::{Point, Point3, Rect, Vec3};
use crate::piece::{JointCutout, SolvedBoard, plane_of};
use crate::tolerance::{BELOW_A_RULE, NO_LEAN, SAME_PLACE, SHOWN};

/// Where the middle of a mouth lies, as it is marked with rule, square and gauge.
#[derive(Debug, Clone, PartialEq)]
pub struct Marking {
    /// The line along which it is counted first.
    pub line: Line,
    /// From where along that line.
    pub from: From,
    /// How far from there, mm, to where the middle lies square off the line.
    pub station: f64,
    /// How far off, mm, in the mouth's own surface: square to the line, or once squared over to that surface, to the arris of the
    /// face side.
    pub offset: f64,
    /// To which side of a drawn line: the surface there.
    pub towards: Option<Surface>,
    /// On an end or an edge how far the middle lies from the line's own side square to that side, mm: less than the offset where the
    /// two are not square to each other.
    pub square: Option<f64>,
    /// Whether the shop's marking gauge reaches so far.
    pub gauged: bool,
    /// The ends from which or on which it is marked and that a template leaves long: they are sawn first.
    pub saw_first: Vec<Surface>,
}

/// Along what a place is counted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Line {
    /// The arris that another surface makes with the mouth's own.
    Arris(Surface),
    /// The centre line of a face, on which the mouth lies.
    Centre(Surface),
    /// The centre line of the face side, from which the place is squared over to the mouth's own surface.
    SquaredOver,
    /// A side of the squared blank, before the part has its shape.
    Blank(BlankSide),
    /// The squared blank, from which the place is squared over to an edge.
    BlankOver,
    /// A glue line of a top, whose boards are mortised before the top has its shape.
    GlueLine,
}

/// A side of a squared blank.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BlankSide {
    /// The end at the lesser u.
    Left,
    /// The end at the greater u.
    Right,
    /// The edge at the lesser v.
    Lower,
    /// The edge at the greater v.
    Upper,
}

/// From where along a line a place is counted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum From {
    /// Where a surface stops the line.
    Surface(Surface),
    /// The middle line of a part whose two ends are alike: the place lies on it.
    Middle,
    /// An end of the squared blank.
    Blank(BlankSide),
    /// The line squared across all boards of a top before they are glued, when their ends are still rough; towards which end of the
    /// top the place lies from it, or none where it lies on it.
    Across(Option<BlankSide>),
}

impl Marking {
    /// The surface whose centre line has to be drawn for it.
    pub fn drawn_on(&self) -> Option<Surface> {
        match &self.line {
            Line::Centre(face) => Some(face.clone()),
            Line::SquaredOver => Some(Surface::Face),
            Line::Arris(_) | Line::Blank(_) | Line::BlankOver | Line::GlueLine => None,
        }
    }

    /// The surfaces of which its words speak, beside the mouth's own.
    pub fn surfaces(&self) -> impl Iterator<Item = &Surface> {
        let along = match &self.line {
            Line::Arris(with) => Some(with),
            Line::Centre(_) | Line::SquaredOver | Line::Blank(_) | Line::BlankOver | Line::GlueLine => None,
        };
        let from = match &self.from {
            From::Surface(from) => Some(from),
            From::Middle | From::Blank(_) | From::Across(_) => None,
        };
        [along, from, self.towards.as_ref()].into_iter().flatten()
    }

    /// Whether two mortises of a row can be told in one breath.
    pub fn is_in_line(&self, other: &Marking) -> bool {
        self.line == other.line
            && self.from == other.from
            && self.towards == other.towards
            && (self.offset - other.offset).abs() < SHOWN
    }
}

/// Where the middle of a mouth lies; all mortises of a row from one pair of lines. `None` of what is turned, which is marked about
/// its centres.
pub fn marking(board: &SolvedBoard, mortise: &Mortise) -> Option<Marking> {
    if board.turned.is_some() {
        return None;
    }
    let Some(on) = mortise.on else { return Some(in_glue_line(board, mortise)) };
    let run = run_of(board, mortise)?;
    let row: Vec<Point3> = row(board, mortise, run).map(|own| own.frame.origin()).collect();
    let normal = surface_plane(&board.board, mortise)?.normal();
    let at = mortise.frame.origin();
    Place { board, at, by_number: false, is_drilled: mortise.is_drilled(), on, normal, run, row }.marked()
}

/// Where the middle of the mouth lies by which a through mortise comes out, and on which surface: marked from there, so that it can be
/// cut from both sides; on a curved edge squared over from the centre line of the face side. `None` of others, and of what is turned.
pub fn far_marking(board: &SolvedBoard, mortise: &Mortise) -> Option<(Source, Marking)> {
    let exit = mortise.exit.filter(|_| board.turned.is_none())?;
    let near_run = run_of(board, mortise)?;
    let Some(plane) = plane_of(&board.board, exit) else {
        return Some((exit, out_of_curve(board, mortise, (exit, near_run))?));
    };
    let out = |own: &Mortise| own.carried(Point::ORIGIN, &plane);
    let row = row(board, mortise, near_run).filter(|own| own.exit == Some(exit)).filter_map(out).collect();
    let (normal, run) = (plane.normal(), run_in(mortise, plane.normal())?);
    let place = Place {
        board,
        at: out(mortise)?,
        by_number: false,
        is_drilled: mortise.is_drilled(),
        on: exit,
        normal,
        run,
        row,
    };
    Some((exit, place.marked()?))
}

/// Where a through mortise comes out of a curved edge, which is square to the face side: so far along the centre line of that, squared over
/// to the edge, and down it.
fn out_of_curve(board: &SolvedBoard, mortise: &Mortise, (exit, near_run): (Source, Vec3)) -> Option<Marking> {
    let out = |own: &Mortise| {
        let start = own.frame.to_world(Point3::new(0.0, 0.0, own.depth / 2.0));
        let (length, by) = run(&board.board, start, own.frame.w())?;
        (by == exit).then_some(start + own.frame.w() * length)
    };
    let flat = |p: Point3| Point3::new(p.x, p.y, 0.0);
    let at = out(mortise)?;
    let centre = centre_line(&board.board, &board.solid, Source::Face)?;
    let row = row(board, mortise, near_run).filter(|own| own.exit == Some(exit)).filter_map(out).map(flat).collect();
    let place = Place {
        board,
        at,
        by_number: false,
        is_drilled: mortise.is_drilled(),
        on: exit,
        normal: mortise.frame.w(),
        run: centre.direction()?,
        row,
    };
    let choice = place.choice(centre)?;
    let (along, _) = centre.of(flat(at))?;
    let station = if choice.end == 0 { along } else { centre.length() - along };
    let from = From::Surface(board.board.surface(centre.stops[choice.end]?));
    let told = Marking {
        line: Line::SquaredOver,
        from,
        station,
        offset: -at.z,
        towards: None,
        square: Some(-at.z),
        gauged: is_gauged(board, -at.z),
        saw_first: Vec::new(),
    };
    Some(Marking { saw_first: ends_to_saw(board, &told, Some(exit)), ..told })
}

/// The ends that a template leaves long and that must be there when a place is marked.
fn ends_to_saw(board: &SolvedBoard, marking: &Marking, on: Option<Source>) -> Vec<Surface> {
    let is_needed = |end: &Surface| match (&marking.line, &marking.from) {
        // It runs from the middle of one end to the middle of the other.
        (Line::Centre(_) | Line::SquaredOver, _) => true,
        (Line::Arris(with), _) if with == end => true,
        (_, From::Surface(from)) => from == end,
        (_, From::Middle | From::Blank(_) | From::Across(_)) => false,
    };
    let ends = board.left_long.iter().map(|cut| (Source::Cut(*cut), board.board.surface(Source::Cut(*cut))));
    ends.filter(|(source, end)| on == Some(*source) || is_needed(end)).map(|(_, end)| end).collect()
}

/// From where to where the mouth of what a joint takes without a tenon is marked.
#[derive(Debug, Clone, PartialEq)]
pub struct MarkedSpan {
    /// Where one of its corners lies; the station and the offset are the least.
    pub marking: Marking,
    /// The least and the largest station, mm.
    pub stations: [f64; 2],
    /// The least and the largest offset, mm; `None` where it lies on both sides of a drawn line.
    pub offsets: Option<[f64; 2]>,
}

impl MarkedSpan {
    /// What is set off along the line, with lengths as `say` writes them: `from 170 to 230 from the left end along the lower edge`.
    pub fn along(&self, say: &dyn Fn(f64) -> String, board: &SolvedBoard) -> String {
        let [from, to] = self.stations.map(say);
        format!("from {from} to {to}{}", self.marking.along("", board))
    }

    /// What is set off next: `from 0 to 60 off it`; nothing where that is not told.
    pub fn off(&self, say: &dyn Fn(f64) -> String) -> String {
        let words = |offsets: [f64; 2]| {
            let [from, to] = offsets.map(say);
            format!("from {from} to {to} off it")
        };
        self.offsets.map_or_else(String::new, words)
    }
}

/// From where to where the mouth of a joint's cutout is marked, all its corners from one pair of lines; `None` on a curved edge and on
/// what is turned.
pub fn marked_span(board: &SolvedBoard, cutout: &JointCutout) -> Option<MarkedSpan> {
    let corners = cutout.corners()?;
    let (on, run) = (cutout.on, cutout.run()?);
    let normal = plane_of(&board.board, on)?.normal();
    let told = corners.iter().map(|at| {
        let row = corners.clone();
        Place { board, at: *at, by_number: true, is_drilled: false, on, normal, run, row }.marked()
    });
    let told: Vec<Marking> = told.collect::<Option<_>>()?;
    let range = |of: fn(&Marking) -> f64| {
        let all = told.iter().map(of);
        all.fold([f64::MAX, f64::MIN], |[low, high], mm| [low.min(mm), high.max(mm)])
    };
    let (stations, offsets) = (range(|told| told.station), range(|told| told.offset));
    let first = told.first()?;
    let one_side = told.iter().all(|other| other.towards == first.towards);
    let marking = Marking { station: stations[0], offset: offsets[0], ..first.clone() };
    Some(MarkedSpan { marking, stations, offsets: one_side.then_some(offsets) })
}

/// Where along a top the line is squared across all its boards before they are glued, mm: in the middle of its net blank; `None` of
/// what has no mortise in a glue line.
pub fn squared_across(board: &SolvedBoard) -> Option<f64> {
    board.mortises.iter().any(|mortise| mortise.on.is_none()).then(|| board.blank().center().x)
}

/// A top's mortise in a glue line, marked on boards whose ends are still rough: from the line squared across them.
fn in_glue_line(board: &SolvedBoard, mortise: &Mortise) -> Marking {
    let at = mortise.frame.origin();
    let off = at.x - board.blank().center().x;
    let side = if off < 0.0 { BlankSide::Left } else { BlankSide::Right };
    Marking {
        line: Line::GlueLine,
        from: From::Across((off.abs() >= BELOW_A_RULE).then_some(side)),
        station: off.abs(),
        offset: -at.z,
        towards: None,
        square: None,
        gauged: is_gauged(board, -at.z),
        saw_first: Vec::new(),
    }
}

/// Whether the shop's marking gauge reaches so far off a line, mm.
fn is_gauged(board: &SolvedBoard, offset: f64) -> bool {
    offset <= board.gauge.mm()
}

/// The direction of the mouth's length in its surface.
fn run_of(board: &SolvedBoard, mortise: &Mortise) -> Option<Vec3> {
    run_in(mortise, surface_plane(&board.board, mortise)?.normal())
}

/// The same in a surface with a normal.
fn run_in(mortise: &Mortise, normal: Vec3) -> Option<Vec3> {
    let (axis, across) = (mortise.frame.w(), mortise.frame.u());
    (across - axis * (across.dot(normal) / axis.dot(normal))).unit()
}

/// The mortises of a joint that stand in one line along their length, on one surface.
fn row<'a>(board: &'a SolvedBoard, mortise: &'a Mortise, run: Vec3) -> impl Iterator<Item = &'a Mortise> {
    board.mortises.iter().filter(move |other| {
        let alike = other.of == mortise.of && other.on == mortise.on && other.fitting == mortise.fitting;
        let from = other.frame.origin() - mortise.frame.origin();
        let turned = other.frame.w().cross(mortise.frame.w()).length() > NO_LEAN;
        alike && !turned && from.cross(run).length() < SHOWN
    })
}

/// A mouth that is to be told, with its row.
pub(super) struct Place<'a> {
    pub(super) board: &'a SolvedBoard,
    /// Its middle, or the corner of it that is told.
    pub(super) at: Point3,
    /// Whether it is told by a number also where it lies on a middle line: a corner, and one of a row that is counted through.
    pub(super) by_number: bool,
    /// Whether it is a round hole, which runs no way.
    pub(super) is_drilled: bool,
    pub(super) on: Source,
    /// The way out of its surface.
    pub(super) normal: Vec3,
    /// The direction of its length.
    pub(super) run: Vec3,
    /// The middles of the row.
    pub(super) row: Vec<Point3>,
}

/// A line from which a row can be told.
struct Choice {
    line: Straight,
    /// Which of its ends is told from.
    end: usize,
    /// The farthest off it that a mouth of the row lies, mm.
    offset: f64,
}

impl Place<'_> {
    /// From where it is marked, and which ends are sawn before; `None` of what is turned.
    pub(super) fn marked(&self) -> Option<Marking> {
        let told = self.told_from().filter(|_| self.board.turned.is_none())?;
        Some(Marking { saw_first: ends_to_saw(self.board, &told, Some(self.on)), ..told })
    }

    /// From the best line there is.
    fn told_from(&self) -> Option<Marking> {
        self.on_surface().or_else(|| self.squared_over()).or_else(|| self.on_blank())
    }

    fn is_on_face(&self) -> bool {
        matches!(self.on, Source::Face | Source::Far)
    }

    /// The end of a line from which the row is told; `None` where nothing stops it, or a square held to it would not reach all of
    /// the row.
    fn choice(&self, line: Straight) -> Option<Choice> {
        let (length, slack) = (line.length(), SAME_PLACE);
        let places: Option<Vec<(f64, f64)>> = self.row.iter().map(|p| line.of(*p)).collect();
        let places = places?;
        if places.iter().any(|(station, _)| *station < -slack || *station > length + slack) {
            return None;
        }
        let farthest = |end: usize| {
            let of = |station: f64| if end == 0 { station } else { length - station };
            line.stops[end].map(|_| (end, places.iter().map(|(station, _)| of(*station)).fold(0.0, f64::max)))
        };
        // Of two as far the usual one.
        let nearer = |a: (usize, f64), b: (usize, f64)| if b.1 < a.1 - SHOWN { b } else { a };
        let (end, _) = [0, 1].into_iter().filter_map(farthest).reduce(nearer)?;
        let offset = places.iter().map(|(_, off)| *off).fold(0.0, f64::max);
        Some(Choice { line, end, offset })
    }

    /// Which lines come first.
    fn rank(&self, choice: &Choice) -> u8 {
        let gauged = is_gauged(self.board, choice.offset);
        let with = choice.line.direction().is_some_and(|way| way.cross(self.run).length() < CROSSES);
        let first = match self.is_on_face() {
            true => with || self.is_drilled,
            false => choice.line.with == Source::Face,
        };
        match (gauged, self.is_drawn(&choice.line), first) {
            (true, false, true) => 0,
            (true, true, true) => 1,
            (true, false, false) => 2,
            (true, true, false) => 3,
            (false, ..) => 4,
        }
    }

    /// Whether a line is the centre line of the mouth's own face, and no arris.
    fn is_drawn(&self, line: &Straight) -> bool {
        line.with == self.on
    }

    /// From the best arris of the mouth's surface, or the centre line of its face.
    fn on_surface(&self) -> Option<Marking> {
        let (board, solid) = (&self.board.board, &self.board.solid);
        let centre = self.is_on_face().then(|| centre_line(board, solid, self.on)).flatten();
        let before = |a: Choice, b: Choice| {
            let (first, second) = (self.rank(&a), self.rank(&b));
            if second < first || (second == first && b.offset < a.offset - SHOWN) { b } else { a }
        };
        let all = arrises(board, solid, self.on).into_iter().chain(centre);
        let best = all.filter_map(|line| self.choice(line)).reduce(before)?;
        let with = board.surface(best.line.with);
        self.told(&best, if self.is_drawn(&best.line) { Line::Centre(with) } else { Line::Arris(with) })
    }

    /// What is told of this mouth from the line chosen for its row.
    fn told(&self, choice: &Choice, line: Line) -> Option<Marking> {
        let at = self.at;
        let (along, offset) = choice.line.of(at)?;
        let station = if choice.end == 0 { along } else { choice.line.length() - along };
        let stop = self.board.board.surface(choice.line.stops[choice.end]?);
        let is_centre = matches!(line, Line::Centre(_));
        let side = plane_of(&self.board.board, choice.line.with).filter(|_| !self.is_on_face());
        let from =
            if !self.by_number && self.is_in_the_middle(&choice.line) { From::Middle } else { From::Surface(stop) };
        Some(Marking {
            station: if from == From::Middle { 0.0 } else { station },
            from,
            offset,
            towards: if is_centre { self.side_of(choice, along) } else { None },
            square: side.map(|side| side.distance(at).abs()),
            gauged: is_gauged(self.board, offset),
            saw_first: Vec::new(),
            line,
        })
    }

    /// Whether the mouth lies on the middle line that the pattern of a part with two ends alike has, square to the line chosen.
    fn is_in_the_middle(&self, line: &Straight) -> bool {
        let along = line.direction().is_some_and(|way| way.y.abs() < NO_LEAN && way.z.abs() < NO_LEAN);
        let x = self.at.x;
        along && self.board.middle().is_some_and(|middle| (x - middle).abs() < BELOW_A_RULE)
    }

    /// On which side of a drawn line it lies.
    fn side_of(&self, choice: &Choice, along: f64) -> Option<Surface> {
        let way = choice.line.direction()?;
        let off = self.at - (choice.line.ends[0] + way * along);
        let (_, by) = run(&self.board.board, self.at, off.unit()?)?;
        Some(self.board.board.surface(by))
    }

    /// On a flat in a curved edge: along the centre line of the face side, squared over to the arris of the flat, then down it.
    fn squared_over(&self) -> Option<Marking> {
        if self.is_on_face() {
            return None;
        }
        let (board, solid) = (&self.board.board, &self.board.solid);
        let all = arrises(board, solid, self.on);
        let arris = all.into_iter().find(|line| line.with == Source::Face)?;
        let centre = centre_line(board, solid, Source::Face)?;
        let (along, over) = (arris.direction()?, centre.direction()?);
        // The squared line crosses the arris.
        if along.dot(over).abs() < CROSSES {
            return None;
        }
        let on_arris = |p: &Point3| arris.of(*p).map(|(station, _)| arris.ends[0] + along * station);
        let row: Option<Vec<Point3>> = self.row.iter().map(on_arris).collect();
        let choice = Place { row: row?, ..*self }.choice(centre)?;
        let at = self.at;
        let (_, offset) = arris.of(at)?;
        let (station, _) = centre.of(on_arris(&at)?)?;
        let station = if choice.end == 0 { station } else { centre.length() - station };
        let from = From::Surface(board.surface(centre.stops[choice.end]?));
        let gauged = is_gauged(self.board, offset);
        Some(Marking {
            line: Line::SquaredOver,
            from,
            station,
            offset,
            towards: None,
            square: Some(-at.z),
            gauged,
            saw_first: Vec::new(),
        })
    }

    /// Where nothing of the shaped part is straight: from the nearer end and edge of the squared blank.
    fn on_blank(&self) -> Option<Marking> {
        let Rect { x0, y0, x1, y1 } = self.board.blank();
        let at = self.at;
        let nearer = |sides: [BlankSide; 2], of: fn(Point3) -> f64, [low, high]: [f64; 2]| {
            let far = |off: &dyn Fn(f64) -> f64| self.row.iter().map(|p| off(of(*p))).fold(0.0, f64::max);
            match far(&|x| x - low) <= far(&|x| high - x) + SHOWN {
                true => (sides[0], of(at) - low),
                false => (sides[1], high - of(at)),
            }
        };
        let end = nearer([BlankSide::Left, BlankSide::Right], |p| p.x, [x0, x1]);
        let edge = nearer([BlankSide::Lower, BlankSide::Upper], |p| p.y, [y0, y1]);
        if self.is_on_face() {
            let (line, from) = (Line::Blank(edge.0), From::Blank(end.0));
            let gauged = is_gauged(self.board, edge.1);
            return Some(Marking {
                line,
                from,
                station: end.1,
                offset: edge.1,
                towards: None,
                square: None,
                gauged,
                saw_first: Vec::new(),
            });
        }
        let normal = self.normal;
        let (side, station) = if normal.x.abs() > normal.y.abs() { edge } else { end };
        let from = From::Blank(side);
        let gauged = is_gauged(self.board, -at.z);
        Some(Marking {
            line: Line::BlankOver,
            from,
            station,
            offset: -at.z,
            towards: None,
            square: None,
            gauged,
            saw_first: Vec::new(),
        })
    }
}
