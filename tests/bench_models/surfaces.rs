//! On which surface something is to be marked or lies, where it is not the one that is drawn.

use super::made::{Stretch, made};
use super::{files, number, pieces};
use fullsize::page::{Item, Shape};

fn words(items: &[Item]) -> impl Iterator<Item = &str> {
    items.iter().filter_map(|item| match &item.shape {
        Shape::Text(text) => Some(&*text.content),
        _ => None,
    })
}

/// The ends of an inner face stand elsewhere than those of the outer one that is drawn: wherever a pattern tells from where a mortise is
/// marked it says on which surface that is.
#[test]
fn a_pattern_says_on_which_surface_a_mortise_is_marked() {
    let (mut told, mut elsewhere) = (0, 0);
    for made in pieces() {
        for board in made.boards() {
            let pattern = board.pattern(made);
            let joints = made.json["joints"].as_array().expect("joints").iter();
            let own = joints.filter(|joint| joint["board"] == board.json["id"] && joint["middle"].is_object());
            for joint in own.filter(|joint| joint["on"].is_string()) {
                let on = joint["on"].as_str().expect("a surface");
                let side = ["face", "far_face"].iter().position(|face| *face == on);
                let name = side.map_or(on, |side| board.sides[side].as_str());
                let head = joint["joint"].as_str().expect("a name");
                let wanted = format!(": on the {name}, ");
                let says = |said: &str| said.starts_with(head) && said.contains(&wanted) && said.contains("middle");
                assert!(words(&pattern.items).any(says), "{} {}: {joint:#}", made.name, board.label);
                told += 1;
                elsewhere += usize::from(on != "face");
            }
        }
    }
    assert!(told > 100 && elsewhere > 50, "{told} {elsewhere}");
}

/// An edge of which the words of a mark speak bears its name: nearer to it than to any other stretch of the face's rim.
#[test]
fn edges_of_which_marks_speak_are_named_at_their_place() {
    let mut named = 0;
    for made in pieces() {
        for board in made.boards() {
            let items = &board.pattern(made).items;
            let all: Vec<&str> = words(items).collect();
            let spoken = |name: &str| {
                let by = ["along the ", ": on the ", " from the "].map(|by| format!("{by}{name}"));
                let follows = |rest: &str| rest.is_empty() || rest.starts_with([',', ' ']);
                all.iter().any(|said| by.iter().any(|by| said.split(by.as_str()).skip(1).any(follows)))
            };
            let edges = board.rims[0].iter().filter(|stretch| stretch.cut.is_none());
            let mut names: Vec<&str> = edges.map(|stretch| stretch.name.as_str()).collect();
            names.dedup();
            for name in names.into_iter().filter(|name| !name.ends_with(" landing") && spoken(name)) {
                let stands = items.iter().find_map(|item| match &item.shape {
                    Shape::Text(text) if text.content == name => item.bounding_box().map(|around| around.center()),
                    _ => None,
                });
                let at = stands.unwrap_or_else(|| panic!("{} {}: no {name}: {all:?}", made.name, board.label));
                let off = |stretch: &Stretch| stretch.segment.nearest(at).0;
                let nearest = board.rims[0].iter().min_by(|a, b| off(a).total_cmp(&off(b))).expect("a rim");
                assert_eq!(nearest.name, name, "{} {}", made.name, board.label);
                named += 1;
            }
        }
    }
    assert!(named > 40, "{named}");
}

/// Legs that are tapered in thickness: where that begins is said, with the thickness that is left, as the file gives it but for the bevel
/// of the foot; and what lies on the taper is drawn and named.
#[test]
fn a_taper_of_the_thickness_is_told_where_it_begins() {
    let mut tapers = 0;
    for seed in 0..20 {
        let file = files::splayed(seed);
        let Some(foot) = file["base"]["leg"]["taper"]["foot_thickness"].as_f64() else { continue };
        let Some(made) = made(&file) else { continue };
        let leg = made.boards().into_iter().find(|board| board.label == "leg").expect("a leg");
        let said: Vec<&str> =
            words(&leg.pattern(&made).items).filter(|said| said.contains(" begins here: ")).collect();
        assert_eq!(said.len(), 1, "{said:?}");
        let thick = number(said[0].split(" begins here: ").nth(1).expect("a thickness"));
        assert!((thick - foot).abs() < 2.0, "{foot}: {said:?}");
        tapers += 1;
    }
    assert!(tapers > 3, "{tapers}");
    let text = include_str!("../../templates-demo/saddle_stool.json");
    let stool = made(&serde_json::from_str(text).expect("a file")).expect("a stool");
    let leg = stool.boards().into_iter().find(|board| board.label == "leg").expect("a leg");
    let says =
        |said: &str| said.starts_with("end stretcher") && said.contains(", on the far side, the tapered inner");
    assert!(words(&leg.pattern(&stool).items).any(says));
}
