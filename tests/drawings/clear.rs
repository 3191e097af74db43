//! Words keep clear of each other and of every line; leaders keep clear of dimension lines.

use super::joints::jointed;
use super::pieces::random;
use super::sheets::{INCH, demos, drawn, texts};
use crate::common::draws::for_all;
use fullsize::geometry::{Path, Plane, Point, Point3, Rect, Segment, Vec3};
use fullsize::layout::elevation::{Options, Overlay, Scale};
use fullsize::layout::rod::rod;
use fullsize::page::{Item, Page, Role, Shape};
use fullsize::piece::Piece;
use fullsize::units::Notation;

/// Words stand off every line by this at least, mm.
const CLEAR: f64 = 0.2;

/// Leaders run at odd multiples of this angle, degrees, and nothing else that is narrow does (hatching is at 45).
const LEADER: f64 = 7.5;

/// Width of a leader and of a dimension line, mm.
const NARROW: f64 = 0.18;

fn runs_through(path: &Path, r: Rect) -> bool {
    let steps = |s: &Segment| (s.length() / 0.4) as usize + 2;
    let near = path.segments().iter().filter(|s| s.bounding_box().inflate(1e-9, 1e-9).overlaps(r));
    near.into_iter().any(|s| (0..=steps(s)).any(|k| r.contains(s.eval(k as f64 / steps(s) as f64))))
}

/// The rings and lines of what is drawn, but for what a frame and its title block are made of.
fn lines(items: &[Item]) -> impl Iterator<Item = &Path> {
    let drawn = items.iter().filter(|item| item.role != Role::Caption);
    drawn.flat_map(|item| match &item.shape {
        Shape::Stroke { path, .. } => std::slice::from_ref(path).iter(),
        Shape::Fill { rings, .. } => rings.iter(),
        Shape::Text(_) => [].iter(),
    })
}

fn words_are_clear(page: &Page, of: &str) {
    let words: Vec<(Rect, &str, Role)> =
        texts(page).map(|(text, role)| (text.bounding_box(), text.content.as_str(), role)).collect();
    for (k, (own, said, role)) in words.iter().enumerate() {
        let inside = own.x0 >= 0.0 && own.y0 >= 0.0 && own.x1 <= page.width && own.y1 <= page.height;
        assert!(inside, "{of} {}: {said} runs over the edge", page.name);
        for (other, words, _) in &words[k + 1..] {
            let over = own.intersect(*other);
            let apart = over.width() <= 0.0 || over.height() <= 0.0;
            assert!(apart, "{of} {}: {said} stands on {words}", page.name);
        }
        if *role != Role::Caption {
            let around = own.inflate(CLEAR, CLEAR);
            let crossed = lines(&page.items).find(|path| runs_through(path, around)).map(Path::bounding_box);
            assert!(crossed.is_none(), "{of} {}: {said} at {own:?} stands on a line of {crossed:?}", page.name);
        }
    }
}

/// Narrow straight lines.
fn narrow(page: &Page) -> impl Iterator<Item = (Point, Point)> {
    page.items.iter().filter_map(|item| match &item.shape {
        Shape::Stroke { path, pen } if pen.width == NARROW && pen.dash.is_empty() && item.role == Role::Mark => {
            match path.segments() {
                [Segment::Line(line)] => Some((line.p0, line.p1)),
                _ => None,
            }
        }
        _ => None,
    })
}

/// The tips of arrowheads and the way back along their shafts.
fn arrowheads(page: &Page) -> Vec<(Point, fullsize::geometry::Vec2)> {
    let heads = page.items.iter().filter_map(|item| match &item.shape {
        Shape::Fill { rings, .. } => match rings[0].segments() {
            [a, b, _] => Some((a.start(), a.end().midpoint(b.end()) - a.start())),
            _ => None,
        },
        _ => None,
    });
    heads.collect()
}

fn leaders_are_clear(page: &Page, of: &str) {
    let turn = |(a, b): (Point, Point)| (b - a).atan2().to_degrees().rem_euclid(2.0 * LEADER);
    let level = |(a, b): (Point, Point)| (a.x - b.x).abs() < 1e-9 || (a.y - b.y).abs() < 1e-9;
    let leaders: Vec<_> = narrow(page).filter(|l| (turn(*l) - LEADER).abs() < 1e-6 && !level(*l)).collect();
    let heads = arrowheads(page);
    let is_dimension = |(a, b): (Point, Point)| {
        let along = (b - a).normalize();
        heads.iter().any(|(tip, back)| {
            let s = (*tip - a).dot(along);
            s > -1e-6
                && s < a.distance(b) + 1e-6
                && (*tip - a).cross(along).abs() < 1e-6
                && back.cross(along).abs() < 1e-6
        })
    };
    let dimensions: Vec<_> = narrow(page).filter(|l| level(*l) && is_dimension(*l)).collect();
    let side = |p: Point, q: Point, r: Point| (q - p).cross(r - p);
    for (a, b) in &leaders {
        for (c, d) in leaders.iter().chain(&dimensions).filter(|other| **other != (*a, *b)) {
            let crossed = side(*a, *b, *c) * side(*a, *b, *d) < -1e-9 && side(*c, *d, *a) * side(*c, *d, *b) < -1e-9;
            assert!(!crossed, "{of} {}: a leader at {a:?} crosses {c:?} {d:?}", page.name);
        }
    }
}

fn is_number(words: &str) -> bool {
    words.starts_with(|c: char| c.is_ascii_digit())
        && words.chars().all(|c| c.is_ascii_digit() || ". /\"'+-".contains(c))
}

/// Numbers that a view could not show stand in a list under it: words with a name, never a bare number.
fn lists_name_what_they_say(page: &Page, of: &str) {
    let upright = texts(page).filter(|(text, role)| *role == Role::Text && text.angle == 0.0);
    let bare = upright.filter(|(text, _)| is_number(&text.content));
    let shafts: Vec<(Point, Point)> = narrow(page).collect();
    for (text, _) in bare {
        let near = text.bounding_box().inflate(5.0, 5.0);
        let beside = shafts.iter().any(|(a, b)| runs_through(&Path::line(*a, *b), near));
        assert!(beside, "{of} {}: {} stands by no line", page.name, text.content);
    }
}

fn checked(piece: &Piece, of: &str, paper: &str, notation: Notation, options: &Options) {
    for page in &drawn(piece, paper, notation, options).pages {
        words_are_clear(page, of);
        leaders_are_clear(page, of);
        // The list of checks is wrapped, and a line of it may begin with a number.
        if !page.name.starts_with("assembly") {
            lists_name_what_they_say(page, of);
        }
    }
}

fn planes() -> Vec<Plane> {
    let through = |x: f64, y: f64, z: f64, n| Plane::through(Point3::new(x, y, z), n).expect("a plane");
    vec![through(10.0, 0.0, 0.0, Vec3::X), through(0.0, -5.0, 0.0, Vec3::Y), through(0.0, 0.0, 110.0, Vec3::Z)]
}

#[test]
fn words_and_leaders_are_clear_in_every_demo() {
    let mut pieces = demos();
    pieces.extend(jointed());
    for (name, piece) in pieces {
        let hidden = Options { hidden: true, ..Options::default() };
        let framed = Options {
            framed: true,
            date: Some("2026-11-25".into()),
            sections: planes(),
            overlays: vec![Overlay::Seated, Overlay::Places],
            ..Options::default()
        };
        checked(&piece, name, "A3", Notation::default(), &hidden);
        checked(&piece, name, "Letter", INCH, &framed);
        checked(&piece, name, "A4", Notation::default(), &Options::default());
        let full = Options { scale: Scale::Reduced(1), untiled: true, sections: planes(), ..Options::default() };
        checked(&piece, name, "A4", INCH, &full);
    }
}

#[test]
fn words_and_leaders_are_clear_in_pieces_of_random_numbers() {
    let mut seen = 0;
    for_all(16, |draws| {
        let Some(piece) = random(draws) else { return };
        seen += 1;
        let options = Options { sections: planes(), hidden: draws.chance(0.3), ..Options::default() };
        match draws.chance(0.5) {
            true => checked(&piece, "random piece", "A2", Notation::default(), &options),
            false => checked(&piece, "random piece", "Tabloid", INCH, &options),
        }
    });
    assert!(seen > 10, "{seen}");
}

#[test]
fn names_on_the_rod_are_clear() {
    for (name, piece) in demos() {
        for notation in [Notation::default(), INCH] {
            for strip in rod(&piece, &notation, "ABCDE") {
                let to_page = strip.bounds;
                let page = Page {
                    width: to_page.width(),
                    height: to_page.height(),
                    name: strip.part.name.clone(),
                    section: None,
                    items: strip.items.to_vec(),
                };
                let words: Vec<(Rect, &str)> =
                    texts(&page).map(|(text, _)| (text.bounding_box(), text.content.as_str())).collect();
                for (k, (own, said)) in words.iter().enumerate() {
                    for (other, words) in &words[k + 1..] {
                        let over = own.intersect(*other);
                        assert!(over.width() <= 0.0 || over.height() <= 0.0, "{name}: {said} stands on {words}");
                    }
                    assert!(!lines(&page.items).any(|path| runs_through(path, *own)), "{name}: {said} on a line");
                }
            }
        }
    }
}
