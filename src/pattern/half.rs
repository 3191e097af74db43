//! The edge of a part that is drawn whole, or as a half to trace or rout by.

use super::lines::{CENTRE_DASH, CUT_WIDTH, MARK_WIDTH, line, stroke, words as words_of};
use crate::geometry::{HalfOutline, LARGEST, MirrorLine, Path, Point, Rect, RouterHalf, Vec2, clip_to_rect};
use crate::model::{DrawnPattern, HalfShow, HalfUse, InHalf, Laid};
use crate::page::{Anchor, Item, Label, Pen, Role, Shape, Text, readable};

/// Length by which the mirror line is carried past the edge, mm: enough to knife a mark on the wood.
const WITNESS: f64 = 8.0;

/// The edge of a part as its pattern shows it, as a ring and as items.
pub fn edge(drawn: &DrawnPattern) -> (Path, Vec<Item>) {
    let whole = || {
        let ring = drawn.built.outline.path().clone();
        (ring.clone(), vec![stroke(Role::Outline, ring, Pen::solid(CUT_WIDTH))])
    };
    let (Some(half), Some(outline)) = (&drawn.half, &drawn.built.half) else { return whole() };
    match (half.show, half.use_) {
        (HalfShow::Whole, _) => {
            let (ring, mut items) = whole();
            let ends = outline.path().start().zip(outline.path().end());
            items.extend(ends.into_iter().flat_map(|(a, b)| mirror_line(a, b)));
            (ring, items)
        }
        (HalfShow::Half, HalfUse::Tracing) => tracing(outline),
        (HalfShow::Half, HalfUse::Router) => match outline.router(half.run_on.mm()) {
            Some(router) => routed(router),
            // A run-on of nothing is a half that stops at the line.
            None => tracing(outline),
        },
    }
}

/// What stands on a half template beside what is made at its first laying alone.
const ONCE: &str = "one half only";

/// How much of what lies on a part its pattern shows.
pub struct Shown {
    /// The template's side of its straight edge, where half of the part is shown.
    template: Option<Rect>,
}

impl Shown {
    /// What the pattern of a part shows, whose edge is `ring`.
    pub fn of(drawn: &DrawnPattern, ring: &Path) -> Shown {
        let half = drawn.half.as_ref().filter(|half| half.show == HalfShow::Half);
        let template =
            half.zip(drawn.built.half.as_ref()).zip(ring.bounding_box()).map(|((half, outline), bounds)| {
                let mut side = bounds.inflate(LARGEST, LARGEST);
                match (half.about, outline.side() > 0.0) {
                    (MirrorLine::X, true) => side.y0 = bounds.y0,
                    (MirrorLine::X, false) => side.y1 = bounds.y1,
                    (MirrorLine::Y, true) => side.x0 = bounds.x0,
                    (MirrorLine::Y, false) => side.x1 = bounds.x1,
                }
                side
            });
        Shown { template }
    }

    /// All of it, for whoever asks of the part and not of its template.
    pub fn all() -> Shown {
        Shown { template: None }
    }

    /// What is shown: all, but on a half template no mirror images, which the turned template brings.
    pub fn each<'a, T>(&self, all: &'a [Laid<T>]) -> impl Iterator<Item = &'a Laid<T>> {
        let half = self.template.is_some();
        all.iter().filter(move |laid| !(half && laid.half == InHalf::Image))
    }

    /// What is said of something on a half template that is made once; `None` elsewhere.
    pub fn said_once(&self, half: InHalf) -> Option<&'static str> {
        (self.template.is_some() && half == InHalf::Once).then_some(ONCE)
    }

    /// Lines, without what would run over the straight edge of a half template.
    pub fn kept(&self, items: impl IntoIterator<Item = Item>) -> Vec<Item> {
        let kept = |item: Item| match (&item.shape, self.template) {
            (Shape::Stroke { path, pen }, Some(template)) => {
                let runs = runs_within(path, template).into_iter();
                runs.map(|run| stroke(item.role, run, pen.clone())).collect()
            }
            _ => vec![item],
        };
        items.into_iter().flat_map(kept).collect()
    }
}

/// The runs of a path inside a rectangle; one that passes the start of a ring is one run.
fn runs_within(path: &Path, within: Rect) -> Vec<Path> {
    let mut runs: Vec<Path> = clip_to_rect(path, within).into_iter().map(|(run, _)| run).collect();
    let starts = |run: &Path| run.start() == path.start();
    let ends = |run: &Path| path.is_closed() && !run.is_closed() && run.end() == path.start();
    if let [first, .., last] = runs.as_slice()
        && starts(first)
        && ends(last)
    {
        let joined = last.segments().iter().chain(first.segments()).copied().collect();
        runs.pop();
        if let Some(first) = runs.first_mut() {
            *first = Path::open(joined);
        }
    }
    runs
}

/// What a half says beside its name.
pub fn words(drawn: &DrawnPattern) -> Option<&'static str> {
    let half = drawn.half.as_ref().filter(|half| half.show == HalfShow::Half)?;
    Some(match half.use_ {
        HalfUse::Tracing => "half: trace, turn over at the mirror line, trace again",
        HalfUse::Router => "half: rout, turn over on the mirror line, rout again",
    })
}

/// The half closed along the mirror line, with marks by which the turned half is laid to the first.
fn tracing(outline: &HalfOutline) -> (Path, Vec<Item>) {
    let ring = outline.tracing();
    let mut items = vec![stroke(Role::Outline, ring.clone(), Pen::solid(CUT_WIDTH))];
    if let Some((start, end)) = outline.path().start().zip(outline.path().end()) {
        items.extend(mirror_words(start, end, "mirror line: turn over here"));
        items.extend(witness_marks(start, end));
    }
    (ring, items)
}

/// The half that runs on past the mirror line, with that line across it and its reference edge named.
fn routed(router: RouterHalf) -> (Path, Vec<Item>) {
    let mut items = vec![stroke(Role::Outline, router.ring.clone(), Pen::solid(CUT_WIDTH))];
    items.extend(mirror_line(router.mirror.0, router.mirror.1));
    items.extend(mirror_words(router.mirror.0, router.mirror.1, "mirror line: turn over here"));
    items.extend(mirror_words(router.datum.0, router.datum.1, "reference edge"));
    items.extend(witness_marks(router.mirror.0, router.mirror.1));
    (router.ring, items)
}

/// The mirror line as a centre line.
fn mirror_line(from: Point, to: Point) -> Option<Item> {
    (from.distance(to) > 0.0).then(|| line(Role::Mark, from, to, Pen::dashed(MARK_WIDTH, &CENTRE_DASH)))
}

/// Words along a line, on the side of the half.
fn mirror_words(from: Point, to: Point, what: &str) -> Option<Item> {
    let along = to - from;
    let text = Text::new(from.midpoint(to), 2.5, what).anchored(Anchor::Middle);
    if along.hypot() < text.width() {
        return None;
    }
    // Words are read from below or from the right.
    let angle = readable(along.atan2());
    let up = Vec2::from_angle(angle).turn_90();
    let at = text.at + up * 1.2;
    let text = Text { at, ..text }.turned(angle);
    Some(words_of(Role::Text, text.about(Label::along(Path::line(from, to)))))
}

/// The mirror line carried past both ends: marks that are drawn on the wood with the first half and to which the turned
/// half is laid.
fn witness_marks(start: Point, end: Point) -> Vec<Item> {
    let length = start.distance(end);
    if length <= 0.0 {
        return Vec::new();
    }
    let along = (end - start) / length;
    [(start, -along), (end, along)]
        .into_iter()
        .map(|(at, out)| line(Role::Mark, at, at + out * WITNESS, Pen::solid(MARK_WIDTH)))
        .collect()
}
