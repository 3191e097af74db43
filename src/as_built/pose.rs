//! The pose of two stiff frames: seven numbers, and where points of the wood come to stand with them.

use crate::board::PartRole;
use crate::geometry::{Point3, Vec3};
use crate::layout::assembly::named_points;
use crate::layout::rail_face::RailFace;
use crate::model::base::LeaningFrames;
use crate::piece::{BoardCopy, FactName, Frame, Piece, SolvedBoard, Value};
use crate::units::Angle;

/// How many numbers a pose has.
pub const NUMBERS: usize = 7;

/// The seven numbers, in the order of [`Number::ALL`]: radians, and mm.
pub type Pose = [f64; NUMBERS];

/// A frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// At the lesser x.
    Left,
    /// At the greater x.
    Right,
}

impl Side {
    /// Both.
    pub const BOTH: [Side; 2] = [Side::Left, Side::Right];

    /// What a maker calls it.
    pub const fn words(self) -> &'static str {
        match self {
            Side::Left => "left",
            Side::Right => "right",
        }
    }

    /// Its index, and which way it lies along x.
    pub(super) const fn place(self) -> (usize, f64) {
        match self {
            Side::Left => (0, -1.0),
            Side::Right => (1, 1.0),
        }
    }
}

/// One of the seven numbers. A shift of one frame across is none of them: x runs through the middles of both.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Number {
    /// The lean of a frame.
    Lean(Side),
    /// Its twist about the plumb line through the middle of its heads.
    Twist(Side),
    /// The length over the frames' outside faces at the heads, in the middle.
    Spread,
    /// The splay of a frame's legs.
    Splay(Side),
}

impl Number {
    /// All, in the order of a [`Pose`].
    pub const ALL: [Number; NUMBERS] = [
        Number::Lean(Side::Left),
        Number::Lean(Side::Right),
        Number::Twist(Side::Left),
        Number::Twist(Side::Right),
        Number::Spread,
        Number::Splay(Side::Left),
        Number::Splay(Side::Right),
    ];

    /// Whether it is an angle, in radians; else it is a length, in mm.
    pub const fn is_angle(self) -> bool {
        !matches!(self, Number::Spread)
    }

    /// How far a dry assembly may stand from what was drawn, as a standard deviation: 2 degrees, or 20 mm. So loose that it weighs
    /// nothing where anything was read.
    pub(super) fn prior(self) -> f64 {
        if self.is_angle() { Angle::from_degrees(2.0).radians() } else { 20.0 }
    }

    /// What a maker calls it.
    pub fn words(self) -> String {
        match self {
            Number::Lean(side) => format!("lean of the {} frame", side.words()),
            Number::Twist(side) => format!("twist of the {} frame", side.words()),
            Number::Spread => "length over the frames at the heads".to_owned(),
            Number::Splay(side) => format!("splay of the {} frame", side.words()),
        }
    }

    /// As scripts call it.
    pub fn key(self) -> String {
        match self {
            Number::Lean(side) => format!("lean_{}", side.words()),
            Number::Twist(side) => format!("twist_{}", side.words()),
            Number::Spread => "length_at_top".to_owned(),
            Number::Splay(side) => format!("splay_{}", side.words()),
        }
    }
}

/// A point of the wood in its frame: across from the frame's centre line, down the slope from the heads, and in from the outside
/// face, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Spot {
    side: Side,
    across: f64,
    down: f64,
    depth: f64,
}

/// A point that the assembly sheet names.
#[derive(Debug, Clone, PartialEq)]
struct Held {
    name: String,
    spot: Spot,
    /// The head of its leg, about which the leg turns in the frame's face.
    about: Spot,
}

/// The inside face of a frame's bottom rail.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Face {
    /// Its lower arris on the centre line, down from the heads.
    low: f64,
    /// Its depth below the frame's outside face.
    depth: f64,
}

/// Two frames of which the wood is known and the pose is asked.
#[derive(Debug, Clone, PartialEq)]
pub struct Stance {
    /// As they were drawn.
    pub drawn: Pose,
    /// Floor to heads, mm.
    height: f64,
    points: Vec<Held>,
    rails: Option<[Face; 2]>,
    /// How far up the rails' inside faces the stretcher's lower edge lands, mm.
    pub(super) stretcher_up: Option<f64>,
    /// The same of both aprons, with how far off the centre line.
    pub(super) aprons: Vec<[f64; 2]>,
}

impl Stance {
    /// The frames of a solved piece.
    pub(super) fn of(base: &LeaningFrames, piece: &Piece) -> Option<Stance> {
        let fact = |wanted: FactName| {
            let fact = piece.facts.iter().find(|fact| fact.name == wanted)?;
            if let Value::Length(length) = fact.value { Some(length.mm()) } else { None }
        };
        let (height, spread) = (fact(FactName::BaseHeight)?, fact(FactName::LengthAtTop)?);
        let turns = base.frames.unwrap_or_default();
        let lean = turns.map(|turn| turn.lean.unwrap_or(base.lean.angle).radians());
        let twist = turns.map(|turn| turn.twist.radians());
        let splay = base.leg.splay.radians();
        let drawn = [lean[0], lean[1], twist[0], twist[1], spread, splay, splay];
        let mut stance =
            Stance { drawn, height, points: Vec::new(), rails: None, stretcher_up: None, aprons: Vec::new() };
        stance.points = stance.held(piece);
        let rails = Side::BOTH.map(|side| stance.rail(side, piece));
        stance.rails = if let [Some(left), Some(right)] = rails { Some([left, right]) } else { None };
        let landing = base.stretcher.as_ref().zip(stance.rails);
        stance.stretcher_up = landing.map(|(stretcher, [left, _])| {
            let frame = stance.frame(Side::Left, &drawn);
            left.low - (frame.slope - frame.s_at(stretcher.height.mm(), left.depth))
        });
        stance.aprons = stance.apron_lines(piece);
        (stance.points.len() == 8).then_some(stance)
    }

    /// The names of the points.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.points.iter().map(|held| held.name.as_str())
    }

    /// The names of the points on the floor.
    pub fn feet(&self) -> impl Iterator<Item = &str> {
        let feet = self.points.iter().filter(|held| held.spot != held.about);
        feet.map(|held| held.name.as_str())
    }

    /// The index of a named point.
    pub(super) fn point(&self, name: &str) -> Option<usize> {
        self.points.iter().position(|held| held.name == name)
    }

    /// Whether two points are the foot and the head of one leg.
    pub(super) fn are_one_leg(&self, a: usize, b: usize) -> bool {
        self.points.get(a).zip(self.points.get(b)).is_some_and(|(a, b)| a.about == b.about)
    }

    /// Whether there are bottom rails to measure between.
    pub(super) fn has_rails(&self) -> bool {
        self.rails.is_some()
    }

    /// The width over the legs' outside edges at the heads, mm, as the wood has it.
    pub fn width_at_top(&self) -> f64 {
        self.points.iter().map(|held| 2.0 * held.about.across.abs()).fold(0.0, f64::max)
    }

    fn frame(&self, side: Side, pose: &Pose) -> Frame {
        let (index, sign) = side.place();
        Frame::new(sign, pose[4] / 2.0, self.height, pose[index], pose[2 + index])
    }

    fn spot(&self, side: Side, p: Point3) -> Spot {
        let frame = self.frame(side, &self.drawn);
        let [across, s, depth] = frame.local(p);
        Spot { side, across, down: frame.slope - s, depth }
    }

    /// The points that the assembly sheet names, with the heads of their legs.
    fn held(&self, piece: &Piece) -> Vec<Held> {
        let named = named_points(piece);
        let side = |p: Point3| if p.x < 0.0 { Side::Left } else { Side::Right };
        let head = |leg: &Option<String>| {
            let ends = named.iter().filter(|point| point.leg.is_some() && point.leg == *leg);
            ends.max_by(|a, b| a.at.z.total_cmp(&b.at.z))
        };
        let held = named.iter().filter_map(|point| {
            let about = head(&point.leg)?;
            let spots = [point, about].map(|end| self.spot(side(end.at), end.at));
            Some(Held { name: point.name.clone(), spot: spots[0], about: spots[1] })
        });
        held.collect()
    }

    /// The inside face of a frame's bottom rail on the frame's centre line.
    fn rail(&self, side: Side, piece: &Piece) -> Option<Face> {
        let (_, sign) = side.place();
        let spot = self.spot(side, RailFace::of(piece, sign)?.lowest());
        Some(Face { low: spot.down, depth: spot.depth })
    }

    /// Where the aprons' lower corners land, as if the rails' inside faces went so far up: how far up and off the centre line, mm.
    fn apron_lines(&self, piece: &Piece) -> Vec<[f64; 2]> {
        let Some([left, _]) = self.rails else { return Vec::new() };
        let copies =
            piece.of_role(PartRole::Apron).flat_map(|board| board.copies.iter().map(move |copy| (board, copy)));
        let corner = |(board, copy): (&SolvedBoard, &BoardCopy)| {
            let corners = board.solid.face.path().nodes().into_iter();
            let corners = corners.map(|p| copy.placement.to_world(Point3::new(p.x, p.y, 0.0)));
            corners.min_by(|a, b| a.x.total_cmp(&b.x))
        };
        let spots = copies.filter_map(corner).map(|at| self.spot(Side::Left, at));
        spots.map(|spot| [left.low - spot.down, spot.across]).collect()
    }

    /// Where a point of the wood stands.
    fn at(&self, spot: &Spot, pose: &Pose) -> Point3 {
        let frame = self.frame(spot.side, pose);
        frame.point(spot.across, frame.slope - spot.down, spot.depth)
    }

    /// Where a named point stands; its leg turns about its head in the frame's face by what its splay differs from the drawing.
    pub(super) fn stands(&self, index: usize, pose: &Pose) -> Option<Point3> {
        let Held { spot, about, .. } = self.points.get(index)?;
        let (side, _) = spot.side.place();
        let turn = (pose[5 + side] - self.drawn[5 + side]) * about.across.signum();
        let (sin, cos) = turn.sin_cos();
        let (across, down) = (spot.across - about.across, spot.down - about.down);
        let turned = Spot {
            across: about.across + across * cos + down * sin,
            down: about.down + down * cos - across * sin,
            ..*spot
        };
        Some(self.at(&turned, pose))
    }

    /// Both ends of a line between the bottom rails' inside faces: so far up from their lower arris, and off the centre line.
    pub(super) fn between_rails(&self, [up, off_centre]: [f64; 2], pose: &Pose) -> Option<[Point3; 2]> {
        let [left, right] = self.rails?;
        let at = |side: Side, rail: Face| {
            self.at(&Spot { side, across: off_centre, down: rail.low - up, depth: rail.depth }, pose)
        };
        Some([at(Side::Left, left), at(Side::Right, right)])
    }
}

impl Stance {
    /// Up and across the inside face of a frame's bottom rail, and the way out of the piece: directions of length 1.
    pub(super) fn rail_axes(&self, side: Side, pose: &Pose) -> [Vec3; 3] {
        let frame = self.frame(side, pose);
        [frame.up, frame.across, frame.out]
    }
}
