//! What of a label stays as it was wished, and where it goes when it cannot.

use super::ways::UP;
use super::{Furniture, lettered};
use crate::geometry::{Flat, Path, Point, Rect};
use crate::page::{About, Item, Label, Part, Pen, Rank, Role, Shape, Text};
use crate::pattern::Pattern;

const SEAM: f64 = 150.0;

fn line(role: Role, path: Path) -> Item {
    Item::stroke(role, path, Pen::solid(0.25))
}

fn words(text: Text) -> Item {
    Item { role: Role::Text, part: None, clip: None, shape: Shape::Text(text) }
}

fn pattern(items: Vec<Item>) -> Pattern {
    let bounds = Item::bounds_of_all(&items).unwrap_or_default();
    let made = ("make 2".to_owned(), String::new());
    Pattern::new(Part::new("rail", "ABCDE"), made, Flat::from_outside(items).paper(), bounds)
}

/// Two sheets side by side, as much of each as words may stand on.
fn sheets() -> Vec<Rect> {
    vec![Rect::new(0.0, 0.0, SEAM - 1.0, 200.0), Rect::new(SEAM + 1.0, 0.0, 300.0, 200.0)]
}

fn set(items: Vec<Item>) -> Vec<Item> {
    lettered(&pattern(items), sheets(), &Furniture { firm: &[], broken: &[] })
}

/// All texts but those that say of each sheet which way it lies.
fn texts(items: &[Item]) -> Vec<&Text> {
    let texts = items.iter().filter_map(|item| if let Shape::Text(text) = &item.shape { Some(text) } else { None });
    texts.filter(|text| text.content != UP).collect()
}

fn is_whole(text: &Text) -> bool {
    sheets().iter().any(|sheet| sheet.contains_rect(text.bounding_box()))
}

/// A plate of a name and three lines about a point.
fn plate(at: Point) -> Vec<Item> {
    let label = Label { staying: vec![0, 1], ..Label::new(About::Part, Rank::Plate) }.with_more(3);
    let lines = ["rail", "make 2", "a line that tells of the blank that it is sawn from", "Shelf · rev ABCDE"];
    let text = |(k, said): (usize, &str)| {
        let text = Text::new(at - crate::geometry::Vec2::new(0.0, 6.0 * k as f64), 3.5, said);
        words(if k == 0 { text.about(label.clone()) } else { text })
    };
    lines.into_iter().enumerate().map(text).collect()
}

#[test]
fn words_that_are_whole_and_alone_stay_where_they_were_wished() {
    let wished = Text::new(Point::new(20.0, 50.0), 3.5, "end grain");
    let edge = Path::line(Point::new(10.0, 45.0), Point::new(100.0, 45.0));
    let items = set(vec![line(Role::Mark, edge.clone()), words(wished.clone().about(Label::along(edge)))]);
    assert_eq!(texts(&items), [&wished]);
}

#[test]
fn words_on_a_seam_slide_along_their_line_to_one_sheet() {
    let edge = Path::line(Point::new(100.0, 45.0), Point::new(280.0, 45.0));
    let wished = Text::new(Point::new(130.0, 50.0), 3.5, "against the grain").about(Label::along(edge.clone()));
    let items = set(vec![line(Role::Mark, edge), words(wished)]);
    let said = texts(&items);
    assert!(said.len() == 1 && is_whole(said[0]), "{said:?}");
    let off = said[0].bounding_box();
    assert!((off.y0 - 45.0).abs() < 15.0 || (off.y1 - 45.0).abs() < 15.0, "{off:?}");
    let near = off.inflate(3.0, 3.0);
    let leads = |item: &Item| matches!(&item.shape, Shape::Stroke { path, .. } if path.nodes().iter().any(|p| near.contains(*p)));
    assert!(!items.iter().any(leads), "words beside their line need no leader");
}

#[test]
fn words_that_find_no_room_nearby_are_led_to() {
    let at = Point::new(70.0, 100.0);
    // Lines all round, nearer to each other than words are high.
    let lines = (-12..=12).map(|k| {
        let y = at.y + 2.0 * f64::from(k);
        line(Role::Mark, Path::line(Point::new(40.0, y), Point::new(100.0, y)))
    });
    let wished = Text::new(at, 3.5, "screw").about(Label::at(at));
    let items = set(lines.chain([words(wished)]).collect());
    let said = texts(&items);
    assert!(said.len() == 1 && said[0].bounding_box().center().distance(at) > 20.0, "{said:?}");
    let ends = items.iter().find_map(|item| match &item.shape {
        Shape::Stroke { path, .. } => path.start().zip(path.end()),
        Shape::Fill { .. } | Shape::Text(_) => None,
    });
    let (from, to) = ends.expect("a leader");
    assert!(from.distance(at) < 1e-9 && said[0].bounding_box().inflate(1.0, 1.0).contains(to));
    assert!(!said[0].bounding_box().contains(to), "the leader ends before the words");
}

#[test]
fn a_narrow_part_keeps_its_name_and_number_and_repeats_the_name() {
    let ring = Path::rectangle(Rect::new(10.0, 80.0, 290.0, 94.0));
    let mut items = vec![line(Role::Outline, ring)];
    // Wished below the part, as where nothing of it finds room.
    items.extend(plate(Point::new(20.0, 60.0)));
    let items = set(items);
    let said = texts(&items);
    assert!(said.iter().all(|text| is_whole(text)), "{said:?}");
    let on_part = |text: &&&Text| {
        let own = text.bounding_box();
        own.y0 > 80.0 && own.y1 < 94.0
    };
    let kept: Vec<&str> = said.iter().filter(on_part).map(|text| text.content.as_str()).collect();
    assert!(kept.contains(&"rail") && kept.iter().any(|said| said.contains("make 2")), "{kept:?}");
    let sides = [0.0, SEAM].map(|from| {
        let here = |text: &&&Text| (from..from + SEAM).contains(&text.bounding_box().center().x);
        said.iter().filter(on_part).filter(here).filter(|text| text.content.starts_with("rail")).count()
    });
    assert_eq!(sides, [1, 1]);
}

#[test]
fn words_of_the_sheet_are_broken_rather_than_cut() {
    let long = "Keep the collar against the template and the router flat on it, and lift it only when the cutter stands still.";
    let label = Label::new(About::Sheet, Rank::Caution);
    let items = set(vec![words(Text::new(Point::new(60.0, 20.0), 2.5, long).about(label))]);
    let said = texts(&items);
    assert!(said.len() > 1 && said.iter().all(|text| is_whole(text)), "{said:?}");
    let again: Vec<&str> = said.iter().map(|text| text.content.as_str()).collect();
    assert_eq!(again.join(" "), long);
}

#[test]
fn no_two_words_stand_on_each_other() {
    let at = Point::new(70.0, 100.0);
    let same = (0..6).map(|k| words(Text::new(at, 2.5, format!("mortise {k}")).about(Label::at(at))));
    let items = set(same.collect());
    let texts = texts(&items);
    let boxes: Vec<Rect> = texts.iter().map(|text| text.bounding_box()).collect();
    for (k, own) in boxes.iter().enumerate() {
        assert!(boxes[k + 1..].iter().all(|other| !own.overlaps(*other)), "{boxes:?}");
    }
    // What finds no room about the point stands in a list, with its number at the point.
    let said = |words: &str| texts.iter().filter(|text| text.content.ends_with(words)).count();
    assert!((0..6).all(|k| said(&format!("mortise {k}")) == 1), "{texts:?}");
    let numbers = texts.iter().filter(|text| text.content.starts_with('(') && text.content.ends_with(')')).count();
    let listed = texts.iter().filter(|text| text.content.starts_with('(')).count() - numbers;
    assert_eq!((numbers, texts.len()), (listed, 6 + listed));
}
