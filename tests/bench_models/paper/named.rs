//! What the paper calls things: arrows, level lines, landings, and how many are made.

use super::super::made::{Made, kept, root};
use super::super::{near, number, pieces};
use super::lay::{nodes, point, words};
use fullsize::geometry::{Path, Point, Point3, Vec2, Vec3, convex_hull};
use fullsize::model::base::Base;
use fullsize::page::Shape;
use fullsize::pattern::Pattern;

/// Arrows that say which way is up, to the front, to the right and outwards, on every copy as it stands.
#[test]
fn arrows_on_patterns_point_as_the_part_stands() {
    let mut told = 0;
    for made in pieces() {
        for board in made.boards() {
            let pattern = board.pattern(made);
            for trio in pattern.items.windows(3) {
                let [Shape::Stroke { path: shaft, .. }, Shape::Stroke { path: barb, .. }, Shape::Text(text)] =
                    [&trio[0].shape, &trio[1].shape, &trio[2].shape]
                else {
                    continue;
                };
                let nodes = shaft.nodes();
                if nodes.len() != 2 || barb.nodes().get(1) != Some(&nodes[1]) {
                    continue;
                }
                // One sheet serves every copy.
                for (copy, at) in &board.places {
                    let centre = at.to_world(point(&board.json["centroid"]));
                    let wanted = match text.content.as_str() {
                        "up" => Vec3::Z,
                        "front" => -Vec3::Y,
                        "right" => Vec3::X,
                        "out" => {
                            // A board that stands over the middle of the piece has no way out of it.
                            let corners = [0, 1].map(|side| board.corners_of(side)).concat();
                            let around = corners.into_iter().map(|p| at.to_world(p)).map(|p| Point::new(p.x, p.y));
                            let hull = convex_hull(around.collect());
                            assert!(!Path::polyline(&hull, true).encloses(Point::ORIGIN), "{copy}");
                            Vec3::new(centre.x, centre.y, 0.0).unit().unwrap_or_else(|| panic!("{copy} {centre:?}"))
                        }
                        _ => continue,
                    };
                    let way: Vec2 = (nodes[1] - nodes[0]).normalize();
                    let points = at.direction_to_world(Vec3::new(way.x, way.y, 0.0));
                    assert!(points.dot(wanted) > 0.25, "{copy} {}: {points:?}", text.content);
                }
                told += usize::from(["up", "front", "right", "out"].contains(&text.content.as_str()));
            }
            // Turned over, the template gives the mirrored ones.
            let over = words(&pattern.items).iter().any(|(word, _)| *word == "mirrored ones: turn the template over");
            let hands = [false, true].map(|hand| board.places.iter().any(|(_, at)| at.is_mirrored() == hand));
            assert_eq!(over, hands == [true, true], "{}", board.label);
        }
    }
    assert!(told > 60, "{told}");
}

/// A top is told by its front and its right.
#[test]
fn a_top_says_which_edge_is_the_front_and_which_end_the_right() {
    let mut tops = 0;
    for made in pieces() {
        for board in made.boards().iter().filter(|board| board.label == "top") {
            let pattern = board.pattern(made);
            let said = words(&pattern.items);
            let has = |wanted: &str| said.iter().any(|(word, _)| *word == wanted);
            assert!(has("front") && has("right") && !has("out"), "{said:?}");
            tops += 1;
        }
    }
    assert!(tops > 5, "{tops}");
}

/// The number of pieces that a pattern asks for is that of its copies.
#[test]
fn a_pattern_is_made_as_often_as_its_part_stands() {
    for made in pieces() {
        for board in made.boards() {
            near(&board.label, number(&board.pattern(made).make), board.places.len() as f64, 0.0);
        }
    }
}

/// A level and a plumb line lie as they are called once the part stands in the piece, and what lies on the far side is said to.
#[test]
fn lines_and_landings_are_called_what_they_are() {
    let (mut lines, mut landings) = (0, 0);
    for made in pieces() {
        for board in made.boards() {
            let (pattern, at) = (board.pattern(made), board.places[0].1);
            for item in pattern.items.iter() {
                let Shape::Text(text) = &item.shape else { continue };
                let way = at.direction_to_world(Vec3::new(text.angle.cos(), text.angle.sin(), 0.0));
                let upright = at.direction_to_world(Vec3::Z).z;
                match text.content.as_str() {
                    "level" => near(&board.label, way.z, 0.0, 1e-6),
                    "plumb" => near(&board.label, way.z.abs(), (1.0 - upright * upright).sqrt(), 1e-6),
                    _ => continue,
                }
                lines += 1;
            }
            if !board.json["turned"].is_null() {
                continue;
            }
            // What lies alike in all copies is told once.
            let meets = board.json["meets"].as_array().expect("meets").iter().filter(|meet| meet["on"] == "far_face");
            let mut rims: Vec<Vec<Point>> = Vec::new();
            for rim in meets.map(|meet| nodes(meet["contact"].as_str().expect("a path"))) {
                let lies = |own: &Vec<Point>| rim.iter().all(|p| own.iter().any(|q| p.distance(*q) < 1e-3));
                if !rims.iter().any(lies) {
                    rims.push(rim);
                }
            }
            let behind = rims.len();
            let far = format!(", on the far side, the {}", board.sides[1]);
            let said = words(&pattern.items).iter().filter(|(word, _)| word.ends_with(&far)).count();
            assert_eq!(said, behind, "{}", board.label);
            landings += behind;
        }
    }
    assert!(lines > 20 && landings > 10, "{lines} {landings}");
}

/// What comes against a straight edge is named there where its own length runs into it.
#[test]
fn landings_on_an_edge_are_marked_where_the_other_part_comes() {
    let mut marked = 0;
    for made in pieces() {
        let boards = made.boards();
        for board in &boards {
            let (pattern, (_, own)) = (board.pattern(made), &board.places[0]);
            for meet in board.json["meets"].as_array().expect("meets").iter().filter(|meet| meet["own_copy"] == 0) {
                let edge: Vec<_> = board.rims[0].iter().filter(|s| meet["on"] == s.name && s.cut.is_none()).collect();
                let [stretch] = edge.as_slice() else { continue };
                let fullsize::geometry::Segment::Line(line) = stretch.segment else { continue };
                let Some(other) = boards.iter().find(|other| other.json["id"] == meet["board"]) else { continue };
                let there = other.places[meet["copy"].as_u64().expect("a copy") as usize].1;
                let from = own.to_board(there.to_world(other.middle() + Vec3::Z * (-0.5 * other.thickness)));
                let way = own.direction_to_board(there.direction_to_world(Vec3::X));
                let (along, out) = ((line.p1 - line.p0).normalize(), board.out_of(&stretch.name));
                if way.dot(out).abs() < 0.7 {
                    continue;
                }
                let hit = from - way * ((from - Point3::new(line.p0.x, line.p0.y, 0.0)).dot(out) / way.dot(out));
                let place = (Point::new(hit.x, hit.y) - line.p0).dot(along);
                let reach = nodes(meet["contact"].as_str().expect("a path"));
                let [low, high] =
                    [f64::min, f64::max].map(|pick| reach.iter().map(|p| p.x).reduce(pick).expect("a rim"));
                let named = words(&pattern.items).into_iter().filter(|(word, _)| {
                    !word.is_empty() && other.label.ends_with(word.split(", only").next().unwrap_or(word))
                });
                let near = named.map(|(_, at)| ((at - line.p0).dot(along) - place).abs()).fold(f64::MAX, f64::min);
                assert!(near < high - low, "{}: the {} is named {near} off", board.label, other.label);
                marked += 1;
            }
        }
    }
    assert!(marked > 10, "{marked}");
}

/// What lies between splayed legs is drawn as someone before its face side sees it, at the ends of the piece too: its upper edge up.
#[test]
fn boards_between_splayed_legs_are_drawn_the_right_way_up() {
    let mut upright = 0;
    let splayed = |made: &&Made| matches!(made.project.base, Some(Base::SplayedLegs(_)));
    for made in pieces().iter().filter(splayed) {
        for board in made.boards() {
            let at = board.places[0].1;
            let level = at.direction_to_world(Vec3::X).z.abs() < 0.5 && at.direction_to_world(Vec3::Z).z.abs() < 0.7;
            if level {
                let up = at.direction_to_world(Vec3::Y);
                assert!(up.z > 0.0, "{}: {up:?}", board.label);
                upright += 1;
            }
        }
    }
    assert!(upright > 20, "{upright}");
}

/// What is cut out and stuck or laid on wood (ends, strips) says for which hand it is, which side of it goes to the wood, and between
/// which sides and edges it lies: a leg's names head and foot.
#[test]
fn paper_that_is_stuck_on_says_its_hand_and_its_side() {
    let mut seen = [0; 2];
    for made in pieces() {
        for board in made.boards() {
            let papers = board
                .ends(made)
                .into_iter()
                .map(|end| (0, end))
                .chain(board.strips(made).into_iter().map(|strip| (1, strip)));
            for (kind, pattern) in papers {
                let said: Vec<String> = words(&pattern.items).into_iter().map(|(word, _)| word.to_owned()).collect();
                let says = |what: &str| said.iter().any(|word| word.contains(what));
                let hands = [false, true].map(|hand| board.places.iter().any(|(_, at)| at.is_mirrored() == hand));
                assert!(says("this side away from the wood"), "{}: {said:?}", pattern.part.name);
                assert_eq!(
                    says("turned over, this side to the wood"),
                    hands == [true, true],
                    "{}: {said:?}",
                    pattern.part.name
                );
                assert!(board.sides.iter().any(|side| said.contains(side)), "{}: {said:?}", pattern.part.name);
                if kind == 0 {
                    let ends =
                        board.cuts.iter().filter(|cut| cut.is_end && pattern.part.name.contains(cut.place.as_str()));
                    assert!(ends.count() > 0, "{}", pattern.part.name);
                } else {
                    let ends = board.cuts.iter().filter(|cut| said.contains(&cut.place));
                    assert!(ends.count() >= 2, "{}: {said:?}", pattern.part.name);
                }
                seen[kind] += 1;
            }
        }
    }
    assert!(seen[0] > 50 && seen[1] > 5, "{seen:?}");
}

/// The paper of a block names the side from which its foot is seen and laid, beside that foot.
#[test]
fn the_paper_of_a_block_says_which_side_goes_to_the_wood() {
    let mut seen = 0;
    for name in ["tea_table", "hay_stool", "aids", "boards_table"] {
        let made = kept(&root().join(format!("fixtures/good/{name}.json"))).expect("a piece");
        let is_block = |sheet: &&Pattern| words(&sheet.items).iter().any(|(said, _)| said.starts_with("block · "));
        for sheet in made.sheets.iter().filter(is_block) {
            let said = words(&sheet.items);
            let foot = said
                .iter()
                .find(|(said, _)| said.starts_with("foot, looking at the wood: lay it on printed side up"));
            assert!(foot.is_some(), "{}: {said:?}", sheet.part.name);
            seen += 1;
        }
    }
    assert!(seen > 2, "{seen}");
}

/// Both boards of a glue line have a mortise of the same number: beside the row it is told once.
#[test]
fn numbers_of_mortises_in_glue_lines_are_told_once() {
    let made = kept(&root().join("fixtures/good/tea_table.json")).expect("a piece");
    let top = made.sheets.iter().find(|sheet| sheet.part.name == "top").expect("the top");
    let said = words(&top.items);
    // The line is squared across boards that are still rough; the top is 846 long.
    for row in [
        "glue line 1, 2, 5, 6, 9, 10, 13 and 14: middle 285 and 95 to the left of the line squared across all boards",
        "glue line 3, 4, 7, 8, 11, 12, 15 and 16: middle 95 and 285 to the right of the line squared across all boards",
    ] {
        assert!(said.iter().any(|(words, _)| *words == row), "{said:?}");
    }
}

/// Unlike frames bring aprons to the two legs of a frame that lie all but on each other: no name is written over another.
#[test]
fn names_of_landings_are_not_written_over_each_other() {
    let made = kept(&root().join("fixtures/good/harbour_console.json")).expect("a piece");
    for leg in ["left leg", "right leg"] {
        let sheet = made.sheets.iter().find(|sheet| sheet.part.name == leg).expect("the leg");
        let said = words(&sheet.items);
        let names: Vec<Point> =
            said.iter().filter(|(words, _)| words.contains("apron, only")).map(|(_, at)| *at).collect();
        assert_eq!(names.len(), 2, "{leg}: {said:?}");
        assert!(names[0].distance(names[1]) > 3.0, "{leg}: {names:?}");
    }
}
