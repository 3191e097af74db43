//! What fastens a top: strips and mortises on the parts beneath it, the template with the holes of its screws, breadboard ends.

use super::super::made::{Board, Made};
use super::super::told_mm;
use super::lay::{Before, TRUE, laying, strokes, ways, words};
use super::under::laid;
use fullsize::geometry::{Affine, Path, Point, Point3, Vec2, Vec3};
use fullsize::joinery::aids::Look;
use fullsize::page::Role;
use fullsize::pattern::Pattern;
use fullsize::solid::{Does, Shape, Why};

/// What the solid has for one fastener, in the piece.
struct Hole {
    /// Where its screw stands today in the underside of the top; of a button's mortise the middle of its mouth's height there.
    at: Point3,
    /// The rim of what is cut.
    rim: Vec<Point3>,
}

/// The holes of a kind in a copy of a board.
fn cut(board: &Board, copy: usize, why: Why) -> Vec<Hole> {
    let at = board.places[copy].1;
    let own = board
        .solved
        .cutouts
        .iter()
        .map(|cutout| &cutout.feature)
        .filter(|feature| feature.id.why == why && feature.is_in(copy));
    let hole = |prism: &fullsize::solid::Prism| {
        let lift = |p: Point| at.to_world(prism.frame.to_world(Point3::new(p.x, p.y, 0.0)));
        Hole { at: lift(Point::ORIGIN), rim: prism.outline.nodes().into_iter().map(lift).collect() }
    };
    own.map(|feature| match &feature.does {
        Does::Take(Shape::Prism(prism)) => hole(prism),
        other => panic!("{other:?}"),
    })
    .collect()
}

/// Lays everything that fastens a top: how many parts with slots, buttons or screws, how many holes of templates, how many ends of tops,
/// how many parts with pockets.
pub fn lay(made: &Made) -> [usize; 4] {
    if made.project.top.is_none() {
        return [0; 4];
    }
    let all = made.fixings();
    let mut found = [0, holes(made), 0, 0];
    for board in made.boards() {
        // Of several sheets of a part the one that names the copy.
        let named = |what: &str, copy: usize| {
            let own = || all.iter().filter(|pattern| pattern.part.name == format!("{}, {what}", board.label));
            let says = |pattern: &&Pattern| {
                words(&pattern.items).iter().any(|(said, _)| said.contains(&board.places[copy].0))
            };
            own().find(says).or_else(|| own().next())
        };
        for copy in 0..board.places.len() {
            found[0] += named("fastener slots", copy).map_or(0, |pattern| slots(&board, copy, pattern));
            found[0] += named("screw holes", copy).map_or(0, |pattern| slots(&board, copy, pattern));
            found[0] += named("mortises for buttons", copy).map_or(0, |pattern| buttons(&board, copy, pattern));
            found[3] += named("pockets", copy).map_or(0, |pattern| pockets(made, &board, copy, pattern));
        }
        let name = format!("button for the {}", board.label);
        for pattern in all.iter().filter(|pattern| pattern.part.name == name) {
            let is_counted = words(&pattern.items).iter().any(|(said, _)| said.contains(pattern.make.as_str()));
            assert!(is_counted, "{name}: nothing on the paper says {}", pattern.make);
            button(&board, pattern);
        }
    }
    let named = |name: &str| all.iter().find(|pattern| pattern.part.name == name);
    if let Some((end, tongue)) = named("breadboard end").zip(named("tongue of the top")) {
        found[2] += breadboard(made, end, tongue);
    }
    found
}

/// Middles of the crosses of a role.
fn crosses(pattern: &Pattern, role: Role) -> Vec<Point> {
    let lines = strokes(&pattern.items, role)
        .into_iter()
        .filter(|(path, pen)| path.segments().len() == 1 && pen.dash.is_empty());
    let middles: Vec<Point> = lines.map(|(path, _)| path.segments()[0].eval(0.5)).collect();
    middles.chunks(2).map(|pair| pair[0]).collect()
}

/// The corners of a copy that lie under the top.
fn under_top(board: &Board, copy: usize) -> Vec<Point3> {
    let at = board.places[copy].1;
    let all: Vec<Point3> =
        [0, 1].into_iter().flat_map(|side| board.corners_of(side)).map(|p| at.to_world(p)).collect();
    let high = all.iter().map(|p| p.z).fold(f64::MIN, f64::max);
    all.into_iter().filter(|p| high - p.z < TRUE).collect()
}

/// A strip on the upper edge of a part, seen from above.
fn slots(board: &Board, copy: usize, pattern: &Pattern) -> usize {
    laying(&pattern.part.name);
    let wood = under_top(board, copy);
    let before = Before::surface(wood[0], Vec3::Z);
    let rim: Vec<Point> = wood.iter().map(|p| before.see(*p)).collect();
    let ring = strokes(&pattern.items, Role::Outline)[0].0;
    let over = side_to_wood(board, copy, pattern);
    let paper: Vec<Point> = ring.nodes().into_iter().map(|p| over * p).collect();
    let all: Vec<Affine> = ways(&paper, &rim).into_iter().map(|map| map * over).collect();
    assert!(!all.is_empty(), "{}: {:?} on {rim:?}", pattern.part.name, ring.nodes());
    let allowed: Vec<Affine> = all.into_iter().filter(|map| is_as_told(pattern, ring, map, &before)).collect();
    assert!(!allowed.is_empty(), "{}: its words lie elsewhere", pattern.part.name);
    let holes = cut(board, copy, Why::Slot);
    // Every screw stands in the middle between the part's two faces, however the part stands, or off it as it is told.
    let told = words(&pattern.items)
        .iter()
        .find_map(|(said, _)| said.split_once(" off the middle of its thickness towards the "));
    for hole in &holes {
        let deep = board.places[copy].1.to_board(hole.at).z + board.thickness / 2.0;
        let off = told.map_or(0.0, |(off, side)| {
            let way = if side.starts_with(&board.sides[0]) { 1.0 } else { -1.0 };
            way * super::super::number(off)
        });
        let within = if told.is_some() { 0.051 } else { TRUE };
        assert!((deep - off).abs() < within, "{} {copy}: a screw {deep} off the middle", pattern.part.name);
    }
    let openings = strokes(&pattern.items, Role::Opening);
    let marks = crosses(pattern, Role::Mark);
    assert!(holes.len() == openings.len() && holes.len() == marks.len(), "{}", pattern.part.name);
    // The wide part for the heads is dashed: as many as the solid has, each over its own.
    let wide = cut(board, copy, Why::Counterbore);
    let dashed: Vec<&Path> = strokes(&pattern.items, Role::Mark)
        .into_iter()
        .filter(|(path, pen)| path.is_closed() && !pen.dash.is_empty())
        .map(|(path, _)| path)
        .collect();
    assert_eq!(wide.len(), dashed.len(), "{}", pattern.part.name);
    for map in &allowed {
        // A round one, of two half turns, by its middle and its width: those may begin anywhere.
        let width = |all: &[Point]| all[0].distance(all[1]);
        let over = |path: &Path, rim: &[Point3]| {
            let seen: Vec<Point> = rim.iter().map(|q| before.see(*q)).collect();
            let nodes: Vec<Point> = path.nodes().into_iter().map(|p| *map * p).collect();
            match (nodes.len(), seen.len()) {
                (2, 2) => {
                    nodes[0].midpoint(nodes[1]).distance(seen[0].midpoint(seen[1])) < TRUE
                        && (width(&nodes) - width(&seen)).abs() < TRUE
                }
                _ => seen.iter().all(|q| nodes.iter().any(|p| p.distance(*q) < TRUE)),
            }
        };
        for bore in &wide {
            let is_over = dashed.iter().any(|path| over(path, &bore.rim));
            assert!(is_over, "{} {copy}: no wide part over {:?}", pattern.part.name, bore.at);
        }
        let on = |p: Point, q: &Point3| (*map * p).distance(before.see(*q)) < TRUE;
        for hole in &holes {
            assert!(
                marks.iter().any(|p| on(*p, &hole.at)),
                "{} {copy}: no cross at {:?}",
                pattern.part.name,
                hole.at
            );
            assert!(
                openings.iter().any(|(path, _)| over(path, &hole.rim)),
                "{} {copy}: no slot at {:?}",
                pattern.part.name,
                hole.at
            );
        }
    }
    1
}

/// Pockets on the inside face of a part, the paper's upper line on the arris under the top: a drill as wide as a screw's head, set up over
/// each mouth at the slant that the paper tells, is aimed at the screw; as deep as told it stops before the edge by what stays under
/// the head.
fn pockets(made: &Made, board: &Board, copy: usize, pattern: &Pattern) -> usize {
    laying(&pattern.part.name);
    let said: Vec<&str> = words(&pattern.items).into_iter().map(|(said, _)| said).collect();
    let after = |what: &str| {
        let found = said.iter().find_map(|said| said.split_once(what));
        found.unwrap_or_else(|| panic!("{}: no {what} in {said:?}", pattern.part.name)).1
    };
    let told = |words: &str| told_mm(made, words);
    // Lengths are told to a tenth, or to a 64th.
    let printed = if made.file["units"] == "in" { 25.4 / 64.0 } else { 0.051 };
    let head = told(after("better a pocket for each: "));
    let side =
        board.sides.iter().find(|side| after(" wide, from the ").starts_with(&format!("{side}, "))).expect("a side");
    let slant = super::super::number(after(" wide, from the ")).to_radians();
    let (below, deep) = (told(after("its middle starts ")), told(after("aimed up at that mark, ")));
    let under_head = told(after(" deep; "));
    let at = board.places[copy].1;
    let out = at.direction_to_world(board.out_of(side));
    let up = (Vec3::Z - out * out.z).unit().expect("a part that stands");
    let right = up.cross(out);
    // Its arris under the top.
    let index = board.sides.iter().position(|own| own == side).expect("a side");
    let corners: Vec<Point3> = board.corners_of(index).into_iter().map(|p| at.to_world(p)).collect();
    let high = corners.iter().map(|p| p.z).fold(f64::MIN, f64::max);
    let arris: Vec<Point3> = corners.into_iter().filter(|p| high - p.z < TRUE).collect();
    let along = |p: &Point3| (*p - arris[0]).dot(right);
    let [left, end] = arris.iter().map(along).fold([f64::MAX, f64::MIN], |[l, r], x| [l.min(x), r.max(x)]);
    let middle = arris[0] + right * (0.5 * (left + end));
    let ring = strokes(&pattern.items, Role::Outline)[0].0.bounding_box().expect("a ring");
    assert!((ring.width() - (end - left)).abs() < TRUE && ring.y1.abs() < TRUE, "{}", pattern.part.name);
    let over = side_to_wood(board, copy, pattern);
    let lift = |p: Point| middle + right * (over * p).x + up * p.y;
    let holes = cut(board, copy, Why::Slot);
    let mouths = strokes(&pattern.items, Role::Opening);
    assert!(!holes.is_empty() && holes.len() == mouths.len(), "{}", pattern.part.name);
    let axis = up * slant.cos() - out * slant.sin();
    for (mouth, _) in &mouths {
        let rim: Vec<Point3> =
            mouth.segments().iter().flat_map(|piece| (0..8).map(|k| lift(piece.eval(f64::from(k) / 8.0)))).collect();
        let bounds = mouth.bounding_box().expect("a mouth");
        let centre = lift(bounds.center());
        assert!(((centre - middle).dot(up) + below).abs() < printed, "{}: {below} below", pattern.part.name);
        let station = along(&centre);
        // A slot is two half turns about its ends, a hole two about its middle.
        let ends = |hole: &Hole| match hole.rim.as_slice() {
            [a, b, c, d] => [a.midway(*b), c.midway(*d)].map(|end| along(&end)),
            rim => [along(&rim[0].midway(rim[1])); 2],
        };
        let off = |hole: &Hole| (ends(hole).iter().sum::<f64>() / 2.0 - station).abs();
        let own = holes.iter().min_by(|a, b| off(a).total_cmp(&off(b))).expect("a hole");
        let run = (ends(own)[1] - ends(own)[0]).abs();
        assert!(off(own) < TRUE, "{} {copy}: a mouth {} beside its screw", pattern.part.name, off(own));
        assert!((bounds.width() - head - run).abs() < 2.0 * printed, "{} {copy}: it runs {run}", pattern.part.name);
        // Where the plumb hole is a slot the pocket is as long along the part.
        if run > 2.0 * printed {
            continue;
        }
        let tip = centre + axis * (deep + under_head);
        assert!(own.at.distance(tip) < 3.0 * printed, "{} {copy}: {} off", pattern.part.name, own.at.distance(tip));
        let screw = own.at;
        // What is drawn is exact: every point of the mouth lies on the drill that is aimed at the screw.
        let drill = (screw - centre).unit().expect("a way");
        for p in rim {
            let away = p - screw;
            let off = (away - drill * away.dot(drill)).length();
            assert!((off - head / 2.0).abs() < TRUE, "{} {copy}: {off} off the axis", pattern.part.name);
        }
    }
    1
}

/// As printed, or turned over for a copy of which the paper says so.
fn side_to_wood(board: &Board, copy: usize, pattern: &Pattern) -> Affine {
    let said: Vec<&str> = words(&pattern.items).into_iter().map(|(said, _)| said).collect();
    let said = said.join(" ");
    let turned = said.split("turned over, this side to the wood").nth(1).unwrap_or("");
    if turned.contains(&board.places[copy].0) { Affine::FLIP_X } else { Affine::IDENTITY }
}

/// Whether a strip so laid has its words where they are true.
fn is_as_told(pattern: &Pattern, ring: &Path, map: &Affine, before: &Before) -> bool {
    let bounds = ring.bounding_box().expect("a ring");
    let (middle, wide, high) =
        (bounds.center(), Vec2::new(bounds.width() / 2.0, 0.0), Vec2::new(0.0, bounds.height() / 2.0));
    let place = |p: Point| before.on_wood(*map * p);
    let off = |p: Point| place(p).y.abs();
    words(&pattern.items).iter().all(|(said, _)| match *said {
        "the upper long line lies towards the middle of the top" => off(middle + high) < off(middle - high),
        "the left end lies to the front" => place(middle - wide).y < place(middle + wide).y,
        _ => true,
    })
}

/// A button from its side, its upper side against the top: its tongue goes into the mortises of its part and draws the top down, its
/// screw stands in its body, and its words say what is drawn.
fn button(board: &Board, pattern: &Pattern) {
    laying(&pattern.part.name);
    let nodes = strokes(&pattern.items, Role::Outline)[0].0.nodes();
    let dashed: Vec<f64> = strokes(&pattern.items, Role::Mark).iter().map(|(path, _)| path.nodes()[0].x).collect();
    let [face, screw] = dashed[..] else { panic!("{}: {dashed:?}", pattern.part.name) };
    let levels = |right: bool| {
        let own = nodes.iter().filter(|p| (p.x > screw) == right).map(|p| p.y);
        own.fold([f64::MAX, f64::MIN], |[low, high], y| [low.min(y), high.max(y)])
    };
    let upper = nodes.iter().map(|p| p.y).fold(f64::MIN, f64::max);
    let tip = nodes.iter().map(|p| p.x).fold(f64::MAX, f64::min);
    let tongue: Vec<f64> = nodes.iter().filter(|p| p.x < tip + TRUE).map(|p| upper - p.y).collect();
    let shoulder = nodes.iter().filter(|p| p.y > upper - TRUE).map(|p| p.x).fold(f64::MAX, f64::min);
    assert!(levels(true)[1] - upper > -TRUE && screw > shoulder, "{}: the screw misses", pattern.part.name);
    let under = under_top(board, 0)[0].z;
    for hole in (0..board.places.len()).flat_map(|copy| cut(board, copy, Why::Button)) {
        let below = hole.rim.iter().map(|p| under - p.z);
        let [near, far] = below.fold([f64::MAX, f64::MIN], |[low, high], z| [low.min(z), high.max(z)]);
        // Its tongue bears on the mortise's upper side before the body is home.
        assert!(tongue.iter().all(|z| (near - 2.0..far).contains(z)), "{}: {tongue:?}", pattern.part.name);
        assert!(tongue.iter().any(|z| *z < near), "{}: it draws nothing down", pattern.part.name);
    }
    let said: Vec<f64> = words(&pattern.items)
        .into_iter()
        .filter(|(said, _)| said.starts_with("tongue ") || said.starts_with("screw "))
        .flat_map(|(said, _)| said.split(", ").map(super::super::number).collect::<Vec<_>>())
        .collect();
    for (wanted, drawn) in said.iter().zip([face - tip, shoulder - face, screw - face]) {
        assert!((wanted - drawn).abs() < 0.051, "{}: {wanted} is told, {drawn} drawn", pattern.part.name);
    }
    assert!(said.len() >= 3, "{said:?}");
}

/// The mortises for buttons on the inside face of a part, seen from inside the piece, its upper edge under the top.
fn buttons(board: &Board, copy: usize, pattern: &Pattern) -> usize {
    laying(&pattern.part.name);
    let wood = under_top(board, copy);
    let [low, high] = [f64::min, f64::max].map(|pick| {
        let of = |axis: fn(&Point3) -> f64| wood.iter().map(axis).reduce(pick).expect("corners");
        Point3::new(of(|p| p.x), of(|p| p.y), of(|p| p.z))
    });
    let middle = low.midway(high);
    // Towards the middle of the top, square to the part, which may stand aslant.
    let along = board.places[copy].1.direction_to_world(Vec3::X);
    let square = Vec3::new(-along.y, along.x, 0.0).unit().expect("a part that lies");
    let towards =
        if along.x.abs() > along.y.abs() { Vec3::Y * -middle.y.signum() } else { Vec3::X * -middle.x.signum() };
    let inside = if square.dot(towards) > 0.0 { square } else { -square };
    let right = Vec3::Z.cross(inside);
    // The strip's ends are those of the edge between inside face and top.
    let inmost = wood.iter().map(|p| (*p - middle).dot(inside)).fold(f64::MIN, f64::max);
    let extent = |all: &mut dyn Iterator<Item = &Point3>| {
        let along = all.map(|p| (*p - middle).dot(right));
        along.fold([f64::MAX, f64::MIN], |[l, r], x| [l.min(x), r.max(x)])
    };
    let ends = extent(&mut wood.iter().filter(|p| (**p - middle).dot(inside) > inmost - TRUE));
    let middle = middle + right * (0.5 * (ends[0] + ends[1]));
    let ring = strokes(&pattern.items, Role::Outline)[0].0.bounding_box().expect("a ring");
    assert!((ring.width() - (ends[1] - ends[0])).abs() < TRUE && ring.y1.abs() < TRUE, "{}", pattern.part.name);
    let over = side_to_wood(board, copy, pattern);
    let lift = |p: Point| middle + right * (over * (p - ring.center().to_vec2())).x + Vec3::Z * p.y;
    let level = |p: Point3| p - inside * (p - middle).dot(inside);
    let holes = cut(board, copy, Why::Button);
    let openings = strokes(&pattern.items, Role::Opening);
    let marks = crosses(pattern, Role::Mark);
    assert!(holes.len() == openings.len() && holes.len() == marks.len(), "{}", pattern.part.name);
    for hole in &holes {
        let on = |p: Point, q: &Point3| lift(p).distance(level(*q)) < TRUE;
        assert!(marks.iter().any(|p| on(*p, &hole.at)), "{} {copy}: no cross at {:?}", pattern.part.name, hole.at);
        let same = |path: &Path| hole.rim.iter().all(|q| path.nodes().iter().any(|p| on(*p, q)));
        assert!(
            openings.iter().any(|(path, _)| same(path)),
            "{} {copy}: no mortise at {:?}",
            pattern.part.name,
            hole.at
        );
    }
    1
}

/// Holes of the template laid on the underside from below, with its front to the front: each is where a screw stands in the solid, and
/// none is missing.
fn holes(made: &Made) -> usize {
    let all: Vec<Hole> = made
        .boards()
        .iter()
        .flat_map(|board| {
            (0..board.places.len())
                .flat_map(|copy| [Why::Slot, Why::Button].map(|why| cut(board, copy, why)))
                .flatten()
                .collect::<Vec<_>>()
        })
        .collect();
    let mut found = 0;
    for aid in made.aids.iter().filter(|aid| aid.kind == "template" && !all.is_empty()) {
        laying(&aid.name);
        let drilled = aid.figures[0].lines.iter().filter(|line| line.look == Look::Drill);
        let holes: Vec<Point> =
            drilled.map(|line| laid(line.path.bounding_box().expect("a hole").center())).collect();
        assert_eq!(holes.len(), all.len(), "{}", aid.what());
        for own in &all {
            let at = Point::new(own.at.x, own.at.y);
            let off = holes.iter().map(|p| p.distance(at)).fold(f64::MAX, f64::min);
            assert!(off < TRUE, "{}: no hole at {at:?}: {holes:?}", aid.what());
        }
        found += holes.len();
    }
    found
}

/// The end piece laid on either end of the top from above, its shoulder inwards; the pins of the tongue under those of the end piece.
fn breadboard(made: &Made, end: &Pattern, tongue: &Pattern) -> usize {
    [end, tongue].into_iter().for_each(|sheet| laying(&sheet.part.name));
    let top = made.project.top.as_ref().expect("a top");
    let shoulder = top.length.mm() / 2.0 - top.breadboard.as_ref().expect("breadboard ends").width.mm();
    let rim = Path::closed(made.board("top").rims[0].iter().map(|stretch| stretch.segment).collect());
    let ring = strokes(&end.items, Role::Outline)[0].0;
    for side in [1.0, -1.0] {
        for p in ring.nodes() {
            let at = Point::new(side * (shoulder - p.y), side * p.x);
            let off = rim.nearest(at).expect("a rim").0;
            assert!(off < TRUE, "the end piece lies {off} off at {at:?}");
        }
    }
    let (pins, today) = (crosses(end, Role::Drill), crosses(tongue, Role::Mark));
    assert!(pins.len() == today.len() && !pins.is_empty(), "{pins:?} {today:?}");
    for pin in &pins {
        assert!(today.iter().any(|at| at.distance(*pin) < TRUE), "no cross for the pin at {pin:?}: {today:?}");
    }
    1
}
