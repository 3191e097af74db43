//! A maker who has nothing but the sheet of a part: what stands beside each mortise is read off the paper and laid back on the solid.

use super::made::{Board, Made, kept, root};
use super::marking::{SAID, ground, marked, text};
use super::{pieces, told_mm};
use fullsize::geometry::{Mesh, Point3, Vec3};
use fullsize::page::{Item, Shape};
use serde_json::{Value as Json, json};
use std::sync::OnceLock;

/// Half of the last place in which a length is printed, mm, along a line and again off it, and what arithmetic adds; in inches half of a
/// 64th, where a fraction is near enough to stand alone.
const PRINTED: f64 = 2.0 * SAID;
const PRINTED_IN_INCHES: f64 = 25.4 / 64.0;

/// Farther than this, mm, a mark is seen to stand elsewhere.
const SEEN: f64 = 1.0;

fn printed(made: &Made) -> f64 {
    if made.file["units"] == "in" { PRINTED_IN_INCHES } else { PRINTED }
}

/// Pieces of random numbers, and some of our own whose far faces taper.
fn all() -> impl Iterator<Item = &'static Made> {
    static OWN: OnceLock<Vec<Made>> = OnceLock::new();
    let files = ["templates-demo/saddle_stool", "fixtures/good/potting_bench", "fixtures/good/porch_bench"];
    let own = OWN.get_or_init(|| {
        let made = files.iter().map(|name| kept(&root().join(format!("{name}.json"))).expect("a piece"));
        made.collect()
    });
    pieces().iter().chain(own)
}

/// The blocks of words of a pattern, line by line.
fn blocks(items: &[Item]) -> Vec<Vec<&str>> {
    let mut all: Vec<Vec<&str>> = Vec::new();
    let mut more = 0;
    for item in items {
        let Shape::Text(text) = &item.shape else { continue };
        match all.last_mut().filter(|_| more > 0) {
            Some(block) => {
                block.push(&text.content);
                more -= 1;
            }
            None => {
                all.push(vec![&text.content]);
                more = text.label.as_ref().map_or(0, |label| label.more);
            }
        }
    }
    all
}

fn vector(json: &Json) -> Vec3 {
    let at = |i: usize| json[i].as_f64().expect("a number");
    Vec3::new(at(0), at(1), at(2))
}

/// The numbers of mortises as they are told: `4`, `1 and 3`, `1 to 4`.
fn counted(words: &str) -> Vec<usize> {
    let one = |word: &str| word.trim().parse::<usize>().unwrap_or_else(|_| panic!("no number: {words}"));
    match words.split_once(" to ") {
        Some((first, last)) => (one(first)..=one(last)).collect(),
        None => words.split(" and ").flat_map(|part| part.split(',')).map(one).collect(),
    }
}

/// The joints of a board that bear a name and one of some numbers.
fn named<'a>(made: &'a Made, board: &Board, name: &str, numbers: &[usize]) -> Vec<&'a Json> {
    let all = made.json["joints"].as_array().expect("joints").iter();
    let own = |joint: &&Json| {
        let is_number = joint["number"].as_u64().is_some_and(|number| numbers.contains(&(number as usize)));
        joint["board"] == board.json["id"] && joint["joint"] == name && is_number
    };
    all.filter(own).collect()
}

/// A joint's name and numbers before the words of a block: `apron tenon 1 and 2`.
fn head<'a>(made: &'a Made, board: &Board, words: &str) -> Option<(&'a str, Vec<usize>)> {
    let all =
        made.json["joints"].as_array().expect("joints").iter().filter(|joint| joint["board"] == board.json["id"]);
    let names = all.map(|joint| text(joint, "joint"));
    let found = names.filter_map(|name| Some((name, words.strip_prefix(name)?.strip_prefix(' ')?)));
    let (name, numbers) = found.max_by_key(|(name, _)| name.len())?;
    numbers.starts_with(|c: char| c.is_ascii_digit()).then(|| (name, counted(numbers)))
}

/// What a block says of where the middles of a row lie on a surface: that surface's name, whether it is `measured there`, and the marks
/// for [`marked`], one for each place along the line. `None` of other blocks and of such as are told from no arris.
fn row<'a>(made: &Made, block: &[&'a str]) -> Option<(&'a str, bool, Vec<Json>)> {
    let (_, said) = block.first()?.split_once(": on the ")?;
    let (on, middle) = said.split_once(", ")?;
    let (there, middle) = middle.strip_prefix("measured there, ").map_or((false, middle), |rest| (true, rest));
    let (stations, from) = middle.strip_prefix("middle ")?.split_once(" from the ")?;
    let from = from.split(" (saw the ").next()?;
    let [_, along, off] = block else { return None };
    let of = along.strip_prefix("along the ").filter(|of| !of.starts_with("centre line"))?;
    let mark = |station: &str| json!({ "line": "arris", "of": of, "from": from, "station": told_mm(made, station), "offset": told_mm(made, off) });
    Some((on, there, stations.split(" and ").map(mark).collect()))
}

/// The surface of a board as the marks are laid on it, by what it is called.
fn called<'a>(board: &'a Board, name: &'a str) -> &'a str {
    let side = board.sides.iter().position(|side| side == name);
    side.map_or(name, |side| ["face", "far_face"][side])
}

/// Whether a surface lies on the side of a board that its pattern does not show.
fn is_behind(board: &Board, name: &str) -> bool {
    board.out_of(name).z < -0.7
}

/// On every pattern of every piece: the number beside a mortise in the far face, or in what tapers to it, says that it is measured there,
/// and measured there it is the mortise's; numbers of other surfaces do not say so. Laid off on the face that is drawn, some would lie
/// elsewhere.
#[test]
fn a_number_that_is_measured_on_the_far_face_finds_the_mortise_there() {
    let (mut there, mut tapered, mut elsewhere) = (0, 0, 0);
    for made in all() {
        for board in made.boards().iter().filter(|board| board.solved.turned.is_none()) {
            for block in blocks(&board.pattern(made).items) {
                let Some((on, said, marks)) = row(made, &block) else { continue };
                assert_eq!(said, is_behind(board, on), "{} {}: {block:?}", made.name, board.label);
                let (name, numbers) =
                    head(made, board, block[0].split(": ").next().expect("a name")).expect("a joint");
                let key = called(board, on);
                let own = named(made, board, name, &numbers);
                let own: Vec<&&Json> = own.iter().filter(|joint| joint["on"] == key).collect();
                assert!(!own.is_empty(), "{block:?}");
                for joint in own {
                    let centre = Point3::ORIGIN + vector(&joint["centre"]);
                    let off = |key: &str| {
                        let laid = marks.iter().flat_map(|mark| marked(made, board, &ground(board, key), mark));
                        laid.map(|at| at.distance(centre)).fold(f64::MAX, f64::min)
                    };
                    assert!(off(key) < printed(made), "{} {}: {} off, {block:?}", made.name, board.label, off(key));
                    there += usize::from(key == "far_face");
                    tapered += usize::from(said && key != "far_face");
                    // The same numbers laid off on the side that is drawn, seen from there.
                    let flat = |p: Point3| Point3::new(p.x, p.y, 0.0);
                    if key == "far_face" && has_line(board, &marks[0]) {
                        let drawn = marks.iter().flat_map(|mark| marked(made, board, &ground(board, "face"), mark));
                        let nearest = drawn.map(|at| at.distance(flat(centre))).fold(f64::MAX, f64::min);
                        elsewhere += usize::from(nearest > SEEN);
                    }
                }
            }
        }
    }
    assert!(there > 20 && tapered > 0 && elsewhere > 5, "{there} {tapered} {elsewhere}");
}

/// Whether the face side has the line from which a mark is told, and the end.
fn has_line(board: &Board, mark: &Json) -> bool {
    let has = |name: &str| board.rims[0].iter().any(|stretch| stretch.name == name);
    let rim = &board.rims[0];
    let meet = (0..rim.len()).any(|i| {
        let pair = [&rim[i].name, &rim[(i + 1) % rim.len()].name];
        pair.iter().any(|name| *name == text(mark, "of")) && pair.iter().any(|name| *name == text(mark, "from"))
    });
    meet && has(text(mark, "of"))
}

/// How far a line from a point runs through what is no wood until it meets a surface of a closed mesh, mm.
fn free(mesh: &Mesh, from: Point3, way: Vec3) -> f64 {
    let corner = |i: u32| mesh.vertices[i as usize];
    let met = mesh.triangles.iter().filter_map(|[a, b, c]| {
        // Where the line passes the triangle (Möller and Trumbore, from memory).
        let (edge, other) = (corner(*b) - corner(*a), corner(*c) - corner(*a));
        let across = way.cross(other);
        let size = edge.dot(across);
        if size.abs() < 1e-12 {
            return None;
        }
        let off = from - corner(*a);
        let u = off.dot(across) / size;
        let along = off.cross(edge);
        let (v, t) = (way.dot(along) / size, other.dot(along) / size);
        (u > -1e-9 && v > -1e-9 && u + v < 1.0 + 1e-9 && t > 1e-6).then_some(t)
    });
    met.fold(f64::MAX, f64::min)
}

/// The mortise of a joint in the solid: how wide, how long and how deep from the middle of its mouth, mm.
fn measured(mesh: &Mesh, joint: &Json) -> [f64; 3] {
    let (centre, axis, across) =
        (Point3::ORIGIN + vector(&joint["centre"]), vector(&joint["axis"]), vector(&joint["across"]));
    let half = joint["depth"].as_f64().expect("a depth") / 2.0;
    let inside = centre + axis * half;
    let both = |way: Vec3| free(mesh, inside, way) + free(mesh, inside, -way);
    [both(axis.cross(across)), both(across), half + free(mesh, inside, axis)]
}

/// Each mortise that a pattern names is in the solid, as a mortise, as wide, as long and as deep as the words beside it say; what stands is
/// called a tenon, and what goes through has no depth.
#[test]
fn a_mortise_is_as_deep_in_the_solid_as_the_words_beside_it_say() {
    let (mut blind, mut through, mut standing) = (0, 0, 0);
    for made in all() {
        for board in made.boards().iter().filter(|board| board.solved.turned.is_none()) {
            let body = board.solved.body();
            let meshes: Vec<Mesh> = (0..board.places.len())
                .map(|copy| board.solved.board.mesh_of(&body.of_copy(copy)).expect("it closes"))
                .collect();
            for block in blocks(&board.pattern(made).items) {
                let [first, around, what, ..] = block[..] else { continue };
                if first.contains(':') {
                    continue;
                }
                let Some((name, numbers)) = head(made, board, first) else { continue };
                let kind = ["mortise through", "mortise ", "tenon "].iter().position(|kind| what.starts_with(kind));
                let Some(kind) = kind else { continue };
                let sizes: Vec<f64> = around.split(" x ").map(|size| told_mm(made, size)).collect();
                let own = named(made, board, name, &numbers).into_iter().filter(|joint| {
                    let is_kind = ["through mortise", "mortise", "standing tenon"][kind] == joint["kind"];
                    let tenon = &joint["tenon"];
                    let is_size = ["thickness", "width"].iter().zip(&sizes).all(|(key, size)| {
                        tenon[*key].as_f64().is_some_and(|own| (own - size).abs() < printed(made))
                    });
                    is_kind && is_size
                });
                let mut found = 0;
                for joint in own {
                    found += 1;
                    let copies: Vec<usize> = joint["copies"]
                        .as_array()
                        .expect("copies")
                        .iter()
                        .map(|copy| copy.as_u64().expect("a copy") as usize)
                        .collect();
                    if kind == 2 {
                        standing += 1;
                        continue;
                    }
                    for copy in copies {
                        let [wide, long, deep] = measured(&meshes[copy], joint);
                        let said = format!("{} {}: {block:?}, {wide} x {long}, {deep}", made.name, board.label);
                        if kind == 1 {
                            let depth = told_mm(made, what);
                            // Sizes of one joint may stand in one block for rows of several depths.
                            if (joint["depth"].as_f64().expect("a depth") - depth).abs() > printed(made) {
                                found -= 1;
                                continue;
                            }
                            assert!((deep - depth).abs() < printed(made), "{said}");
                            blind += 1;
                        } else {
                            through += 1;
                        }
                        assert!((wide - sizes[0]).abs() < printed(made), "{said}");
                        assert!((long - sizes.get(1).unwrap_or(&sizes[0])).abs() < printed(made), "{said}");
                    }
                }
                assert!(found > 0, "{} {}: nothing is {block:?}", made.name, board.label);
            }
        }
    }
    assert!(blind > 200 && through > 0 && standing > 5, "{blind} {through} {standing}");
}
