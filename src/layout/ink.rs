//! Which cells of a grid a pattern's lines and words reach, and what of them a window shows.

use super::grid::Grid;
use super::vacant::Squares;
use crate::geometry::{Affine, BoxTree, Path, PathIndex, Rect, Region};
use crate::page::{Item, Pen, Role, Shape, Text};
use crate::tolerance::SAME_POINT;

/// The lines and words of a pattern, prepared for many windows.
pub struct Ink<'a> {
    items: Vec<(&'a Item, Body<'a>)>,
    /// How many of them, the first, are lines that run on from sheet to sheet.
    running: usize,
    /// Over their boxes.
    tree: BoxTree,
}

enum Body<'a> {
    /// A stroke: clipped exactly.
    Stroke(PathIndex<'a>, &'a Pen),
    /// Words or a filled area: shown through the window.
    Block(Rect),
}

impl Body<'_> {
    /// Whether any of it lies in a rectangle.
    fn reaches(&self, r: Rect) -> bool {
        match self {
            Body::Stroke(index, _) => index.touches(r),
            Body::Block(bounds) => bounds.overlaps(r),
        }
    }
}

impl<'a> Ink<'a> {
    /// Prepares the items.
    pub fn new(items: impl IntoIterator<Item = &'a Item>) -> Self {
        let items: Vec<&Item> = items.into_iter().collect();
        let tree = BoxTree::new(items.iter().map(|item| item.bounding_box().unwrap_or(Rect::ZERO)).collect());
        let items = items.into_iter().map(|item| {
            let body = match &item.shape {
                Shape::Stroke { path, pen } => Body::Stroke(PathIndex::new(path), pen),
                Shape::Text(text) => Body::Block(text.bounding_box()),
                Shape::Fill { rings, .. } => Body::Block(
                    rings.iter().filter_map(Path::bounding_box).reduce(|a, b| a.union(b)).unwrap_or(Rect::ZERO),
                ),
            };
            (item, body)
        });
        let items: Vec<_> = items.collect();
        Ink { running: items.len(), items, tree }
    }

    /// The same, with words and what stands with them, of which each belongs to the one sheet on which it lies whole.
    pub fn lettered(lines: impl IntoIterator<Item = &'a Item>, lettering: &'a [Item]) -> Self {
        let lines: Vec<&Item> = lines.into_iter().collect();
        let running = lines.len();
        Ink { running, ..Ink::new(lines.into_iter().chain(lettering)) }
    }

    /// What the edges of the part enclose.
    pub fn region(&self) -> Region {
        let edges = self.items.iter().filter_map(|(item, _)| match &item.shape {
            Shape::Stroke { path, .. } if matches!(item.role, Role::Outline | Role::Opening) && path.is_closed() => {
                Some(path.clone())
            }
            _ => None,
        });
        Region::of(&edges.collect::<Vec<Path>>())
    }

    /// What may reach into a rectangle, in order.
    fn near(&self, r: Rect) -> impl Iterator<Item = &(&'a Item, Body<'a>)> {
        self.numbered_near(r).map(|(_, item)| item)
    }

    /// The same with their places in the order.
    fn numbered_near(&self, r: Rect) -> impl Iterator<Item = (usize, &(&'a Item, Body<'a>))> {
        self.tree.meeting(r).filter_map(|index| Some((index, self.items.get(index)?)))
    }

    /// The cells in which some line or word lies, in no order, each perhaps several times.
    pub fn cells(&self, grid: &Grid) -> Vec<(usize, usize)> {
        let mut found = vec![false; grid.rows * grid.columns];
        let mut cells = Vec::new();
        let mut mark = |cell: (usize, usize)| {
            if !std::mem::replace(&mut found[cell.0 * grid.columns + cell.1], true) {
                cells.push(cell);
            }
        };
        for (item, body) in &self.items {
            match (body, &item.shape) {
                (Body::Stroke(index, _), Shape::Stroke { path, .. }) => {
                    for segment in path.segments() {
                        let touched: Vec<_> = grid.touched(segment.bounding_box()).collect();
                        if let [only] = touched[..] {
                            mark(only);
                        } else {
                            touched
                                .into_iter()
                                .filter(|(row, column)| index.touches(grid.cell(*row, *column)))
                                .for_each(&mut mark);
                        }
                    }
                }
                (Body::Stroke(..), _) => {}
                (Body::Block(bounds), _) => grid.touched(*bounds).for_each(&mut mark),
            }
        }
        cells
    }

    /// Takes the squares to which any line or word comes within `clear`, mm.
    pub fn take(&self, squares: &mut Squares, clear: f64) {
        for (index, (_, body)) in self.numbered_near(squares.area().inflate(clear, clear)) {
            let bounds = self.tree.piece(index).inflate(clear, clear);
            squares.take(bounds, &|r| body.reaches(r.inflate(clear, clear)));
        }
    }

    /// Whether any line or word lies in a rectangle.
    pub fn touches(&self, r: Rect) -> bool {
        self.near(r).any(|(_, body)| body.reaches(r))
    }

    /// Whether any words overlap a rectangle.
    pub fn words_overlap(&self, r: Rect) -> bool {
        let overlaps = |body: &Body| matches!(body, Body::Block(bounds) if bounds.overlaps(r));
        self.near(r).any(|(item, body)| matches!(item.shape, Shape::Text(_)) && overlaps(body))
    }

    /// What may reach into a rectangle, to be asked of many smaller ones in it.
    pub fn about(&self, r: Rect) -> About<'_> {
        About(self.near(r).map(|(item, body)| (matches!(item.shape, Shape::Text(_)), body)).collect())
    }

    /// Whether any line lies in a rectangle.
    pub fn lines_touch(&self, r: Rect) -> bool {
        self.near(r).any(|(_, body)| matches!(body, Body::Stroke(index, _) if index.touches(r)))
    }

    /// The boxes of words.
    pub fn words(&self) -> impl Iterator<Item = Rect> + '_ {
        self.items.iter().filter_map(|(item, body)| match (body, &item.shape) {
            (Body::Block(bounds), Shape::Text(_)) => Some(*bounds),
            _ => None,
        })
    }

    /// What a sheet shows, moved by `to_page`, as items of the pattern numbered `part`: lines through its whole window,
    /// words and what stands with them only as far as its own cell goes, for what overlaps lies on or under the next sheet and bears the
    /// seam's words.
    pub fn shown(&self, window: Rect, cell: Rect, to_page: Affine, part: usize) -> Vec<Item> {
        let mut shown = Vec::new();
        for (number, (item, body)) in self.numbered_near(window.union(cell)) {
            match body {
                Body::Stroke(index, pen) => {
                    let runs = index.clip_to_rect(if number < self.running { window } else { cell });
                    let runs = if pen.dash.is_empty() { joined_at_the_start(runs) } else { runs };
                    shown.extend(runs.into_iter().map(|(path, start)| {
                        let pen = Pen { phase: pen.phase + start, ..(*pen).clone() };
                        let shape = Shape::Stroke { path: path.transformed(to_page), pen };
                        Item { role: item.role, part: Some(part), clip: None, shape }
                    }))
                }
                Body::Block(bounds) => {
                    let is_of_sheet = number >= self.running || matches!(item.shape, Shape::Text(_));
                    let shows = if is_of_sheet { cell } else { window };
                    if !bounds.overlaps(shows) {
                        continue;
                    }
                    let clip = (!shows.contains_rect(*bounds)).then(|| to_page.transform_rect_bbox(shows));
                    let shape = moved(&item.shape, to_page);
                    shown.push(Item { role: item.role, part: Some(part), clip, shape });
                }
            }
        }
        shown
    }
}

/// Lines and words about a rectangle; of each whether it is words.
pub struct About<'a>(Vec<(bool, &'a Body<'a>)>);

impl About<'_> {
    /// Whether any line or word lies in a smaller rectangle.
    pub fn touches(&self, r: Rect) -> bool {
        self.0.iter().any(|(_, body)| body.reaches(r))
    }

    /// Whether any words overlap a smaller rectangle.
    pub fn words_overlap(&self, r: Rect) -> bool {
        self.0.iter().any(|(is_words, body)| matches!(body, Body::Block(bounds) if *is_words && bounds.overlaps(r)))
    }
}

/// The runs of a line, those that meet at its start as one: a ring has a corner there like any other, and two ends of a broad line
/// would leave it open.
fn joined_at_the_start(mut runs: Vec<(Path, f64)>) -> Vec<(Path, f64)> {
    let ends = |path: &Path| Some((path.segments().first()?.start(), path.segments().last()?.end()));
    let meet = match (runs.first(), runs.last()) {
        (Some((first, start)), Some((last, _))) if runs.len() > 1 && *start == 0.0 => {
            ends(first).zip(ends(last)).is_some_and(|((from, _), (_, to))| from.distance(to) < SAME_POINT)
        }
        _ => false,
    };
    if meet {
        let (first, _) = runs.remove(0);
        if let Some((last, _)) = runs.last_mut() {
            *last = Path::open([last.segments(), first.segments()].concat());
        }
    }
    runs
}

/// A shape moved by a map that turns nothing.
pub fn moved(shape: &Shape, map: Affine) -> Shape {
    match shape {
        Shape::Stroke { path, pen } => Shape::Stroke { path: path.transformed(map), pen: pen.clone() },
        Shape::Fill { rings, grey } => {
            Shape::Fill { rings: rings.iter().map(|ring| ring.transformed(map)).collect(), grey: *grey }
        }
        Shape::Text(text) => Shape::Text(Text { at: map * text.at, ..text.clone() }),
    }
}

#[cfg(test)]
mod tests {
    use super::Ink;
    use crate::geometry::{Affine, Path, Point, Rect};
    use crate::page::{Item, Pen, Role, Shape, Text};

    #[test]
    fn lines_run_through_what_overlaps_and_words_end_at_the_seam() {
        let words = Shape::Text(Text::new(Point::new(80.0, 20.0), 5.0, "words over a seam"));
        let line =
            Shape::Stroke { path: Path::line((0.0, 50.0).into(), (200.0, 50.0).into()), pen: Pen::solid(0.25) };
        let item = |role, shape| Item { role, part: None, clip: None, shape };
        let items = [item(Role::Text, words), item(Role::Mark, line)];
        let (window, cell) = (Rect::new(0.0, 0.0, 110.0, 100.0), Rect::new(0.0, 0.0, 102.5, 100.0));
        let shown = Ink::new(&items).shown(window, cell, Affine::translate((10.0, 0.0)), 0);
        assert_eq!(shown[0].clip, Some(Rect::new(10.0, 0.0, 112.5, 100.0)));
        let end = shown[1].bounding_box().expect("a line").x1;
        assert!(shown[1].clip.is_none() && (end - 120.0).abs() < 1e-9, "the line ends at {end}");
    }
}
