//! What an aid is made of: flat figures at full size, measures and words.

use crate::geometry::{Affine, Drawn, EitherWay, Flat, Paper, Path, Point, Rect};
use crate::piece::{Fact, FactName, Value};
use crate::tolerance::SAME_POINT;
use crate::units::Notation;

/// An angle above this, degrees, is told without its slope, which would be in hundreds.
const STEEPEST_SLOPE: f64 = 60.0;

/// What a line of a figure is there for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Look {
    /// Saw to it.
    Cut,
    /// Drill it: a circle with its centre.
    Drill,
    /// Look at it or mark along it.
    Mark,
    /// A centre line.
    Centre,
    /// What lies on the other side or in the wood.
    Hidden,
}

/// A line of a figure.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Its path, mm.
    pub path: Path,
    /// What it is for.
    pub look: Look,
}

/// Words beside a point of a figure.
#[derive(Debug, Clone, PartialEq)]
pub struct Said {
    /// The middle of their base line, mm.
    pub at: Point,
    /// The words.
    pub words: String,
}

/// A flat figure at full size, mm, y up.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Figure {
    /// What stands under it.
    pub name: String,
    /// Its lines, what is sawn first.
    pub lines: Vec<Line>,
    /// Words on it.
    pub words: Vec<Said>,
}

impl Figure {
    /// A figure of a name.
    pub(super) fn new(name: impl Into<String>) -> Figure {
        Figure { name: name.into(), ..Figure::default() }
    }

    /// Adds a line.
    pub(super) fn line(&mut self, look: Look, path: Path) {
        self.lines.push(Line { path, look });
    }

    /// Adds a straight line.
    pub(super) fn straight(&mut self, look: Look, from: Point, to: Point) {
        self.line(look, Path::line(from, to));
    }

    /// Adds a closed polygon.
    pub(super) fn polygon(&mut self, look: Look, corners: &[Point]) {
        self.line(look, Path::polyline(corners, true));
    }

    /// Adds words.
    pub(super) fn say(&mut self, at: Point, words: impl Into<String>) {
        self.words.push(Said { at, words: words.into() });
    }

    /// As the section of what is made by it, which is the same from either side.
    pub(super) fn section(self) -> Paper<Figure> {
        Flat::<EitherWay, Figure>::either_way(self).paper()
    }

    /// Around its lines.
    pub fn bounds(&self) -> Rect {
        let all = self.lines.iter().filter_map(|line| line.path.bounding_box());
        all.reduce(|a, b| a.union(b)).unwrap_or(Rect::ZERO)
    }

    /// Whether it may be turned over and is the same again.
    pub(super) fn is_its_mirror_image(&self) -> bool {
        self.lies_on(self, Affine::FLIP_X) || self.lies_on(self, Affine::FLIP_Y)
    }

    /// Whether another figure, moved by `map`, lies on this one, wherever both stand.
    fn lies_on(&self, other: &Figure, map: Affine) -> bool {
        let turned = |line: &Line| Line { path: line.path.transformed(map), look: line.look };
        let moved: Vec<Line> = other.lines.iter().map(turned).collect();
        let around =
            moved.iter().filter_map(|line| line.path.bounding_box()).reduce(|a, b| a.union(b)).unwrap_or(Rect::ZERO);
        let own = self.bounds();
        let shift = Point::new(own.x0, own.y0) - Point::new(around.x0, around.y0);
        let same = |line: &Line, other: &Line| {
            let (a, b) = (line.path.nodes(), other.path.nodes());
            line.look == other.look
                && a.len() == b.len()
                && a.iter().all(|p| b.iter().any(|q| p.distance(*q + shift) < SAME_POINT))
        };
        self.lines.len() == moved.len() && self.lines.iter().all(|line| moved.iter().any(|other| same(line, other)))
    }
}

impl Drawn for Figure {
    fn moved(mut self, map: Affine) -> Figure {
        self.lines.iter_mut().for_each(|line| line.path = line.path.transformed(map));
        self.words.iter_mut().for_each(|said| said.at = map * said.at);
        self
    }
}

/// Words with the places of the part for which they are said; none where they are said of the whole.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct AtPlaces {
    words: String,
    places: Vec<String>,
}

impl AtPlaces {
    /// Words about the whole.
    pub(super) fn alone(words: impl Into<String>) -> AtPlaces {
        AtPlaces { words: words.into(), places: Vec::new() }
    }

    /// Words about a place.
    pub(super) fn at(place: impl Into<String>, words: impl Into<String>) -> AtPlaces {
        AtPlaces { words: words.into(), places: vec![place.into()] }
    }

    /// Takes words up: the same about several places once.
    fn put(self, all: &mut Vec<AtPlaces>) {
        let alike =
            |known: &&mut AtPlaces| known.words == self.words && known.places.is_empty() == self.places.is_empty();
        let Some(known) = all.iter_mut().find(alike) else { return all.push(self) };
        for place in self.places {
            if !known.places.contains(&place) {
                known.places.push(place);
            }
        }
    }
}

/// An aid.
#[derive(Debug, Clone, PartialEq)]
pub struct Aid {
    /// Its name in the file, numbered where it took several.
    pub name: String,
    /// What it is: `caul`.
    pub kind: &'static str,
    /// What it is for, each with the places where it is.
    pub(super) purposes: Vec<AtPlaces>,
    /// How many to make as drawn.
    pub make: u32,
    /// How many to make of its mirror image.
    pub mirrored: u32,
    /// Its figures.
    pub figures: Vec<Paper<Figure>>,
    /// What was measured.
    pub facts: Vec<Fact>,
    /// How it is used, each with the places for which it holds.
    pub(super) advice: Vec<AtPlaces>,
    /// What to beware of.
    pub cautions: Vec<String>,
    /// How those as drawn lie, and those mirrored, in words that are not yet sentences; told at the end by [`Aid::told`].
    pub(super) hands: [Vec<String>; 2],
    /// Whether its figure is laid on large work, and does not share a sheet.
    pub large: bool,
}

impl Aid {
    /// Takes an aid up; one that is alike another, or its mirror image, is told with it.
    pub(super) fn put(all: &mut Vec<Aid>, mut aid: Aid) {
        // Of one figure, but measured of another thing: a wedge against the fence is none under the part.
        let measured =
            |known: &Aid| known.facts.iter().map(|fact| fact.name).eq(aid.facts.iter().map(|fact| fact.name));
        let pairs = |known: &Aid, lies: &dyn Fn(&Figure, &Figure) -> bool| {
            measured(known)
                && known.figures.len() == aid.figures.len()
                && known.figures.iter().zip(&aid.figures).all(|(a, b)| lies(a, b))
        };
        // A block without a cheek may be turned half round.
        let turned = Affine::rotate(std::f64::consts::PI);
        let free = !aid.facts.iter().any(|fact| fact.name == FactName::Cheek);
        let same = |a: &Figure, b: &Figure| a.lies_on(b, Affine::IDENTITY) || free && a.lies_on(b, turned);
        // Sections are the same on both hands; what is seen from above turns over.
        let over = |a: &Figure, b: &Figure| a.lies_on(b, Affine::FLIP_X) || free && a.lies_on(b, Affine::FLIP_Y);
        let either = |a: &Figure, b: &Figure| same(a, b) || over(a, b);
        let known = all.iter().position(|known| pairs(known, &either));
        let is_same = known.is_some_and(|at| pairs(&all[at], &same));
        if let Some(known) = known.and_then(|at| all.get_mut(at)) {
            if !is_same {
                std::mem::swap(&mut aid.make, &mut aid.mirrored);
                aid.hands.reverse();
            }
            known.make = known.make.max(aid.make);
            known.mirrored = known.mirrored.max(aid.mirrored);
            known.told_with(aid);
            return;
        }
        all.push(aid);
    }

    /// Adds what another aid of the same figures is for.
    fn told_with(&mut self, aid: Aid) {
        aid.purposes.into_iter().for_each(|purpose| purpose.put(&mut self.purposes));
        aid.advice.into_iter().for_each(|advice| advice.put(&mut self.advice));
        for (own, other) in self.hands.iter_mut().zip(aid.hands) {
            let new: Vec<String> = other.into_iter().filter(|said| !own.contains(said)).collect();
            own.extend(new);
        }
    }

    /// With how each hand lies told before the other words.
    pub(super) fn told(mut self) -> Aid {
        let heads: &[&str] = if self.mirrored == 0 { &[""] } else { &["as drawn: ", "mirrored: "] };
        let said = heads.iter().zip(&self.hands).filter(|(_, ways)| !ways.is_empty());
        let mut advice: Vec<AtPlaces> =
            said.map(|(head, ways)| AtPlaces::alone(sentence(&format!("{head}{}", ways.join("; "))))).collect();
        advice.append(&mut self.advice);
        self.advice = advice;
        self.hands = [Vec::new(), Vec::new()];
        self
    }

    /// What it is for, in a maker's words.
    pub fn what(&self) -> String {
        let said = self.purposes.iter().map(|purpose| match purpose.places.as_slice() {
            [] => purpose.words.clone(),
            places => format!("{}: {}", purpose.words, places.join(", ")),
        });
        said.collect::<Vec<String>>().join("; ")
    }

    /// How it is used: a sentence each.
    pub fn words(&self) -> Vec<String> {
        let said = self.advice.iter().map(|advice| match advice.places.as_slice() {
            [] => advice.words.clone(),
            places => format!("{}: {}", places.join(", "), advice.words),
        });
        said.collect()
    }

    /// How many, and which way round.
    pub fn count(&self) -> String {
        match self.mirrored {
            0 => format!("make {}", self.make),
            mirrored => format!("make {} as drawn, {mirrored} mirrored (turn the template over)", self.make),
        }
    }

    /// What was measured, in a maker's words.
    pub fn measured(&self, notation: &Notation) -> Vec<String> {
        let say = |value: Value| match value {
            Value::Length(length) | Value::Movement(length) => notation.length(length),
            Value::Angle(angle) if angle.degrees() > STEEPEST_SLOPE => notation.angle(angle),
            Value::Angle(angle) => notation.angle_and_slope(angle),
            Value::Force(newtons) => format!("{newtons:.0} N"),
        };
        self.facts.iter().map(|fact| format!("{}: {}", fact.words, say(fact.value))).collect()
    }
}

/// Names one after the other, each once: `head and foot`.
pub(super) fn listed(names: impl IntoIterator<Item = String>, between: &str) -> String {
    let mut once: Vec<String> = Vec::new();
    for name in names {
        if !once.contains(&name) {
            once.push(name);
        }
    }
    once.join(between)
}

/// Words as a sentence.
fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    let first: String = letters.next().into_iter().flat_map(char::to_uppercase).collect();
    format!("{first}{}.", letters.as_str())
}
