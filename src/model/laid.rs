//! What is laid on a part of which half is drawn, and its mirror image.

use super::drawn::{Hole, Mark, Slot};
use crate::geometry::{Affine, MirrorLine, Outline, Point, Rect, Vec2};
use crate::page::{Text, readable};
use crate::tolerance::UNSEEN;
use crate::units::Angle;

/// The halves of a part in which something lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum InHalf {
    /// Both: it is its own mirror image, or the part is not halved.
    #[default]
    Both,
    /// The half that is drawn; its mirror image lies in the other.
    Drawn,
    /// The other half, as the mirror image of what is drawn.
    Image,
    /// One half only, where it is written.
    Once,
}

/// Something laid on a part.
#[derive(Debug, Clone, PartialEq)]
pub struct Laid<T> {
    /// What it is.
    pub what: T,
    /// Its place in the list of the file, from 0; that of a mirror image is its original's.
    pub entry: usize,
    /// The halves in which it lies.
    pub half: InHalf,
}

/// What has a mirror image on its part.
pub trait Mirrored: Sized {
    /// Its mirror image.
    fn mirrored(&self, about: MirrorLine) -> Self;

    /// Whether it is its own mirror image, to what nobody sees.
    fn is_own_image(&self, about: MirrorLine) -> bool;

    /// The smallest upright rectangle around what is cut or written, mm; of lines and crosses, what they are drawn through.
    fn bounds(&self) -> Rect;
}

fn image_of(about: MirrorLine, point: Point) -> Point {
    about.map() * point
}

fn are_one(a: Point, b: Point) -> bool {
    a.distance(b) <= UNSEEN
}

impl Mirrored for Hole {
    fn mirrored(&self, about: MirrorLine) -> Self {
        Hole { at: image_of(about, self.at), ..self.clone() }
    }

    fn is_own_image(&self, about: MirrorLine) -> bool {
        are_one(self.at, image_of(about, self.at))
    }

    fn bounds(&self) -> Rect {
        let radius = self.diameter.mm() / 2.0;
        Rect::from_points(self.at, self.at).inflate(radius, radius)
    }
}

impl Mirrored for Slot {
    fn mirrored(&self, about: MirrorLine) -> Self {
        Slot { from: image_of(about, self.from), to: image_of(about, self.to), ..self.clone() }
    }

    fn is_own_image(&self, about: MirrorLine) -> bool {
        let [from, to] = [self.from, self.to].map(|end| image_of(about, end));
        (are_one(self.from, from) && are_one(self.to, to)) || (are_one(self.from, to) && are_one(self.to, from))
    }

    fn bounds(&self) -> Rect {
        let radius = self.width.mm() / 2.0;
        Rect::from_points(self.from, self.to).inflate(radius, radius)
    }
}

impl Mirrored for Outline {
    fn mirrored(&self, about: MirrorLine) -> Self {
        Outline::mirrored(self, about)
    }

    fn is_own_image(&self, about: MirrorLine) -> bool {
        let image = Outline::mirrored(self, about);
        image.path().runs_along(self.path(), UNSEEN) && self.path().runs_along(image.path(), UNSEEN)
    }

    fn bounds(&self) -> Rect {
        self.path().bounding_box().unwrap_or(Rect::ZERO)
    }
}

impl Mirrored for Mark {
    /// Words are written in the mirrored place as they are read, not in mirror writing.
    fn mirrored(&self, about: MirrorLine) -> Self {
        match self {
            Mark::Line { points, label } => {
                let points = points.iter().map(|point| image_of(about, *point)).collect();
                Mark::Line { points, label: label.clone() }
            }
            Mark::Cross { at, label } => Mark::Cross { at: image_of(about, *at), label: label.clone() },
            Mark::Text { at, words, height, angle } => {
                let written = Vec2::from_angle(angle.radians());
                let [along, up] = [written, written.turn_90()].map(|way| mirrored_way(about, way));
                let turn = readable(along.atan2());
                // Read the other way, the words begin at what was their end; read the same way, they stand on what was their top.
                let begins = match Vec2::from_angle(turn).dot(along) < 0.0 {
                    true => along * Text::new(*at, height.mm(), words.as_str()).width(),
                    false => up * height.mm(),
                };
                let (at, angle) = (image_of(about, *at) + begins, Angle::from_radians(turn));
                Mark::Text { at, words: words.clone(), height: *height, angle }
            }
        }
    }

    fn is_own_image(&self, about: MirrorLine) -> bool {
        match (self, self.mirrored(about)) {
            (Mark::Line { points, .. }, Mark::Line { points: image, .. }) => {
                let same = |mut pairs: Vec<(&Point, &Point)>| pairs.drain(..).all(|(a, b)| are_one(*a, *b));
                same(points.iter().zip(&image).collect()) || same(points.iter().rev().zip(&image).collect())
            }
            (Mark::Cross { at, .. }, Mark::Cross { at: image, .. }) => are_one(*at, image),
            (Mark::Text { at, angle, .. }, Mark::Text { at: image, angle: turned, .. }) => {
                are_one(*at, image) && Vec2::from_angle(angle.radians()).dot(Vec2::from_angle(turned.radians())) > 0.0
            }
            _ => false,
        }
    }

    fn bounds(&self) -> Rect {
        match self {
            Mark::Line { points, .. } => {
                let boxes = points.iter().map(|point| Rect::from_points(*point, *point));
                boxes.reduce(|a, b| a.union(b)).unwrap_or(Rect::ZERO)
            }
            Mark::Cross { at, .. } => Rect::from_points(*at, *at),
            Mark::Text { at, words, height, angle } => {
                Text::new(*at, height.mm(), words.as_str()).turned(angle.radians()).bounding_box()
            }
        }
    }
}

/// A direction in the mirror.
fn mirrored_way(about: MirrorLine, way: Vec2) -> Vec2 {
    let map: Affine = about.map();
    (map * way.to_point()).to_vec2()
}
