//! Gauges for corner radii and edge profiles as small patterns.

use super::caution::caution_lines;
use super::lines::{CUT_WIDTH, MARK_WIDTH, line, stroke, words};
use super::{Pattern, SolidLine, title};
use crate::geometry::{Flat, Path, Point, Rect};
use crate::model::DrawnPattern;
use crate::page::{Item, Label, Part, Pen, Role, Text};
use crate::router::{Caution, CornerGauge, ProfileSection};
use crate::tolerance::SAME_POINT;
use crate::units::{Length, Notation};

/// Length of the tick at a tangent point, mm.
const TICK: f64 = 4.0;

/// Height of the capitals, and their distance from a line, mm.
const LETTERS: f64 = 2.5;
const OFF: f64 = 1.5;

/// A gauge of a part's corners, with its revision code.
pub fn gauge(part: &str, of: &CornerGauge, code: &str, say: &Notation) -> Pattern {
    let (ring, how, side) = match of.stands_out {
        true => (&of.gauge.over, "fits over the corner", -1.0),
        false => (&of.gauge.into, "fits into the corner", 1.0),
    };
    let mut items = vec![stroke(Role::Outline, ring.clone(), Pen::solid(CUT_WIDTH))];
    for tangent in of.gauge.tangents {
        // Square to the edge, into the gauge.
        let inward = (of.gauge.center - tangent).normalize() * (side * TICK);
        items.push(line(Role::Mark, tangent, tangent + inward, Pen::solid(MARK_WIDTH)));
    }
    let radius = say.measured(of.radius);
    let name = format!("{part}, radius gauge {radius}");
    let corners = if of.count == 1 { "1 corner".to_owned() } else { format!("{} corners", of.count) };
    let made = Part::new(name, code);
    let set_off = say.measured(Length::from_mm(of.gauge.set_off));
    let block = vec![
        format!("{how}, {corners} of {}", say.angle(of.corner)),
        format!("the arc begins {set_off} from the corner"),
        format!("rev {}", made.revision),
    ];
    let sizes = format!("radius {radius}");
    finished(items, ring, made, &block, sizes, (&[], say))
}

/// A gauge of a part's edge profile, with its revision code, the wood that stays and the line that it leaves, and what to mind beneath.
pub fn profile_gauge(
    part: &DrawnPattern,
    edge: Option<&str>,
    section: &ProfileSection,
    code: &str,
    cautions: &[Caution],
    say: &Notation,
) -> Pattern {
    let mut items = vec![stroke(Role::Outline, section.gauge.clone(), Pen::solid(CUT_WIDTH))];
    let wood = Path::open(section.wood.segments().to_vec());
    items.extend(side_words(part, &wood));
    items.push(stroke(Role::Mark, wood, Pen::dashed(MARK_WIDTH, &[3.0, 1.5])));
    let length = |mm: f64| say.measured(Length::from_mm(mm));
    let (from, to) = section.edge_from_to;
    let mut block = vec!["fits over the edge from outside; the part is dashed".to_owned()];
    let left = [(section.on_face, "face"), (section.on_far_side, "far side")];
    block.extend(
        left.iter().filter(|(mm, _)| *mm > 0.0).map(|(mm, side)| format!("{} in on the {side}", length(*mm))),
    );
    block.push(match to - from > SAME_POINT {
        true => format!("edge left from {} to {} below the face", length(from), length(to)),
        false => "nothing is left of the edge".to_owned(),
    });
    let name = edge
        .map_or_else(|| format!("{}, edge profile", part.name), |edge| format!("{}, profile of {edge}", part.name));
    let made = Part::new(name, code);
    block.push(format!("eats in {}; rev {}", length(section.eats_in), made.revision));
    let sizes = format!("eats in {}", length(section.eats_in));
    finished(items, &section.gauge, made, &block, sizes, (cautions, say))
}

/// Which side of the part lies where, beside the wood that goes on there: a gauge may be turned over.
fn side_words(part: &DrawnPattern, wood: &Path) -> [Item; 2] {
    let bounds = wood.bounding_box().unwrap_or(Rect::ZERO);
    let middle = bounds.center().y;
    // Apart from each other on a part thinner than the words.
    let lines = [(bounds.y1 - LETTERS).max(middle + 0.5), bounds.y0.min(middle - 0.5 - LETTERS)];
    [0, 1].map(|side| {
        let kind = ["face side", "far side"][side];
        let said = part.board.map_or_else(|| kind.to_owned(), |board| format!("{kind}: {}", board.sides[side]));
        let at = Point::new(bounds.x1 + OFF, lines[side]);
        words(Role::Text, Text::new(at, LETTERS, said).about(Label::at(at)))
    })
}

/// The pattern with its words.
fn finished(
    mut items: Vec<Item>,
    ring: &Path,
    part: Part,
    block: &[String],
    sizes: String,
    (cautions, say): (&[Caution], &Notation),
) -> Pattern {
    title::write(&mut items, ring, &part.name, (block, &[]), None);
    let bounds = ring.bounding_box().unwrap_or(Rect::ZERO);
    let drawn: Rect = items.iter().filter_map(Item::bounding_box).fold(bounds, |all: Rect, one: Rect| all.union(one));
    items.extend(caution_lines(cautions, drawn, say));
    let all: Rect = items.iter().filter_map(Item::bounding_box).fold(bounds, |all: Rect, one: Rect| all.union(one));
    let bounds = all.inflate(title::CLEAR, title::CLEAR);
    // Cardboard is turned over as one likes.
    let items = Flat::either_way(items).paper();
    let made = ("make 1".to_owned(), sizes);
    Pattern { small: true, solid: SolidLine::GaugeEdge, ..Pattern::new(part, made, items, bounds) }
}
