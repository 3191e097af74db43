//! Models read back by another reader: closed, of the right volume, joints closed, nothing inside anything else.

use super::random::{boxes, for_all_pieces, leaning, splayed, top};
use crate::common::draws::Draws;
use fullsize::board::Source;
use fullsize::geometry::{Path, Placement, Point3, Rect, Vec3};
use fullsize::model::base::Base;
use fullsize::piece::{CutFor, Cutout, Piece, SolvedBoard};
use fullsize::solid::{Does, End, Feature, FeatureId, Prism, Shape, Why};
use fullsize::units::Notation;
use fullsize::write::gltf;
use std::collections::BTreeMap;

type V = [f64; 3];

fn sub(a: V, b: V) -> V {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

fn cross(a: V, b: V) -> V {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

fn dot(a: V, b: V) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn mix(a: V, b: V, t: f64) -> V {
    [0, 1, 2].map(|i| a[i] + (b[i] - a[i]) * t)
}

/// A placed mesh in world millimetres, z up.
struct Placed {
    name: String,
    points: Vec<V>,
    triangles: Vec<[usize; 3]>,
    low: V,
    high: V,
    /// Volume in its own axes, mm³.
    volume: f64,
}

/// Reads a GLB file with the `gltf` crate.
fn read(bytes: &[u8]) -> Vec<Placed> {
    let (document, buffers, _) = ::gltf::import_slice(bytes).expect("a valid GLB file");
    let mut placed = Vec::new();
    for node in document.nodes() {
        let mesh = node.mesh().expect("every node is a board");
        let primitive = mesh.primitives().next().expect("one surface");
        let reader = primitive.reader(|buffer| Some(&buffers[buffer.index()]));
        let own: Vec<V> =
            reader.read_positions().expect("points").map(|p| p.map(|c| f64::from(c) * 1000.0)).collect();
        let indices: Vec<usize> = reader.read_indices().expect("indices").into_u32().map(|i| i as usize).collect();
        let triangles: Vec<[usize; 3]> = indices.chunks_exact(3).map(|t| [t[0], t[1], t[2]]).collect();
        let m = node.transform().matrix().map(|column| column.map(f64::from));
        let place = |p: &V| {
            let at = |r: usize| m[0][r] * p[0] + m[1][r] * p[1] + m[2][r] * p[2] + m[3][r] * 1000.0;
            // The file's y is up; its z points to the front.
            [at(0), -at(2), at(1)]
        };
        let volume = triangles.iter().map(|[a, b, c]| dot(own[*a], cross(own[*b], own[*c]))).sum::<f64>() / 6.0;
        let points: Vec<V> = own.iter().map(place).collect();
        let bound = |pick: fn(f64, f64) -> f64, from: f64| {
            points.iter().fold([from; 3], |b, p| [0, 1, 2].map(|i| pick(b[i], p[i])))
        };
        let (low, high) = (bound(f64::min, f64::MAX), bound(f64::max, f64::MIN));
        placed.push(Placed { name: node.name().expect("a name").to_owned(), points, triangles, low, high, volume });
    }
    placed
}

impl Placed {
    fn corners(&self, t: &[usize; 3]) -> [V; 3] {
        t.map(|i| self.points[i])
    }

    /// Every edge is run once each way.
    fn is_closed(&self) -> bool {
        let mut edges: BTreeMap<(usize, usize), i32> = BTreeMap::new();
        for [a, b, c] in &self.triangles {
            for (from, to) in [(a, b), (b, c), (c, a)] {
                *edges.entry((*from, *to)).or_default() += 1;
            }
        }
        edges.iter().all(|((a, b), n)| *n == 1 && edges.get(&(*b, *a)) == Some(&1))
    }

    /// Distance from a point to the surface.
    fn distance(&self, p: V) -> f64 {
        self.triangles.iter().map(|t| to_triangle(p, self.corners(t))).fold(f64::MAX, f64::min)
    }

    fn boxes(&self, p: &V) -> bool {
        (0..3).all(|i| self.low[i] < p[i] && p[i] < self.high[i])
    }

    fn near(&self, other: &Placed) -> bool {
        (0..3).all(|i| self.low[i] < other.high[i] && other.low[i] < self.high[i])
    }

    /// The planes of the surface, unit normals outwards; `None` for a surface that is not convex or has very many.
    fn planes(&self) -> Option<Vec<(V, f64)>> {
        if self.triangles.len() > 200 {
            return None;
        }
        let mut planes: Vec<(V, f64)> = Vec::new();
        for t in &self.triangles {
            let [a, b, c] = self.corners(t);
            let normal = cross(sub(b, a), sub(c, a));
            let size = dot(normal, normal).sqrt();
            // A needle's normal has no digits; its neighbours give the plane.
            if size < 1.0 {
                continue;
            }
            let n = normal.map(|x| x / size);
            planes.push((n, dot(n, a)));
        }
        // A mirrored copy's triangles are wound the other way.
        let middle = mix(self.low, self.high, 0.5);
        planes.iter_mut().filter(|(n, d)| dot(*n, middle) > *d).for_each(|(n, d)| (*n, *d) = (n.map(|x| -x), -*d));
        planes.iter().all(|(n, d)| self.points.iter().all(|p| dot(*n, *p) < d + 0.01)).then_some(planes)
    }

    /// Whether any part of this surface lies deeper than `depth` inside a convex solid.
    fn enters(&self, planes: &[(V, f64)], depth: f64) -> bool {
        self.triangles.iter().any(|t| {
            let mut polygon = self.corners(t).to_vec();
            for (n, d) in planes {
                let out = |p: &V| dot(*n, *p) - d + depth;
                let mut inside = Vec::with_capacity(polygon.len() + 1);
                for i in 0..polygon.len() {
                    let (p, q) = (polygon[i], polygon[(i + 1) % polygon.len()]);
                    let (a, b) = (out(&p), out(&q));
                    if a < 0.0 {
                        inside.push(p);
                    }
                    if (a < 0.0) != (b < 0.0) {
                        inside.push(mix(p, q, a / (a - b)));
                    }
                }
                polygon = inside;
                if polygon.is_empty() {
                    return false;
                }
            }
            true
        })
    }

    /// Whether a point lies inside, by the solid angle under which the surface is seen (van Oosterom and Strackee; from memory).
    fn holds(&self, p: V) -> bool {
        let seen: f64 = self
            .triangles
            .iter()
            .map(|t| {
                let [a, b, c] = self.corners(t).map(|q| sub(q, p));
                let [la, lb, lc] = [a, b, c].map(|v| dot(v, v).sqrt());
                let below = la * lb * lc + dot(a, b) * lc + dot(b, c) * la + dot(c, a) * lb;
                2.0 * dot(a, cross(b, c)).atan2(below)
            })
            .sum();
        seen.abs() > std::f64::consts::TAU
    }
}

fn to_triangle(p: V, [a, b, c]: [V; 3]) -> f64 {
    let n = cross(sub(b, a), sub(c, a));
    let size = dot(n, n);
    let to_edge = |a: V, b: V| {
        let along = sub(b, a);
        let length = dot(along, along);
        let t = if length > 0.0 { (dot(sub(p, a), along) / length).clamp(0.0, 1.0) } else { 0.0 };
        let d = sub(p, mix(a, b, t));
        dot(d, d).sqrt()
    };
    let inside = |a: V, b: V| dot(cross(sub(b, a), sub(p, a)), n) >= 0.0;
    if size > 1e-12 && inside(a, b) && inside(b, c) && inside(c, a) {
        return (dot(sub(p, a), n) / size.sqrt()).abs();
    }
    to_edge(a, b).min(to_edge(b, c)).min(to_edge(c, a))
}

/// What single precision leaves of a coordinate of two metres, and of the turn of a matrix over it.
const SINGLE: f64 = 0.0006;

/// Every node of every contact lies on both surfaces within a micrometre and what single precision leaves.
fn joints_are_closed(piece: &Piece, placed: &[Placed]) {
    let find = |id: &str, copy: usize| {
        let name = format!("{id}.{copy}");
        placed.iter().find(|p| p.name == name).unwrap_or_else(|| panic!("{name}"))
    };
    for board in &piece.boards {
        for meet in board.meets.iter().filter(|m| matches!(m.on, Source::Cut(_))) {
            let Source::Cut(cut) = meet.on else { continue };
            assert!(!meet.contact.is_empty(), "{} meets {} nowhere", board.id, meet.board);
            for p in meet.contact.iter().flat_map(|path| path.nodes()) {
                let world = world(board, meet.own_copy, board.solid.ends[cut].lift(p));
                for (id, copy) in [(&board.id, meet.own_copy), (&meet.board, meet.copy)] {
                    let away = find(id.as_str(), copy).distance(world);
                    assert!(
                        away < 0.001 + SINGLE,
                        "{} on {} copy {}: {id} is {away} away",
                        board.id,
                        meet.board,
                        meet.copy
                    );
                }
            }
        }
    }
}

fn world(board: &SolvedBoard, copy: usize, p: Point3) -> V {
    let p = board.copies[copy].placement.to_world(p);
    [p.x, p.y, p.z]
}

/// No board reaches into another by more than two micrometres and what single precision leaves.
fn nothing_overlaps(placed: &[Placed], what: &str) {
    let planes: Vec<Option<Vec<(V, f64)>>> = placed.iter().map(Placed::planes).collect();
    for (i, a) in placed.iter().enumerate() {
        for (b, planes) in placed.iter().zip(&planes).skip(i + 1).filter(|(b, _)| a.near(b)) {
            let enters = match planes {
                Some(planes) => a.enters(planes, 0.002 + SINGLE),
                None => {
                    a.points.iter().step_by(61).any(|p| b.boxes(p) && b.holds(*p) && b.distance(*p) > 0.002 + SINGLE)
                }
            };
            assert!(!enters, "{} reaches into {} in {what}", a.name, b.name);
        }
    }
}

fn check(piece: &Piece, what: &str) {
    let placed = read(&gltf(&piece.scene(what)));
    assert_eq!(placed.len(), piece.boards.iter().map(|b| b.copies.len()).sum::<usize>());
    for part in &placed {
        assert!(part.is_closed(), "{} of {what} is not closed", part.name);
        let id = part.name.rsplit_once('.').expect("id.copy").0;
        let board = piece.boards.iter().find(|b| b.id.as_str() == id).expect("its board");
        // Curves in steps lose half a micrometre over their surface at the most; single precision loses a little everywhere.
        let skin = board.solid.face.path().length() * board.board.thickness * 0.001;
        assert!(
            (part.volume - board.solid.volume).abs() < skin,
            "{} of {what}: {} {}",
            part.name,
            part.volume,
            board.solid.volume
        );
    }
    joints_are_closed(piece, &placed);
    if !piece.findings.iter().any(|f| f.code.ends_with("off-leg")) {
        nothing_overlaps(&placed, what);
    }
}

#[test]
fn leaning_frames() {
    let kind = |draws: &mut Draws| (Base::LeaningFrames(Box::new(leaning(draws, false))), None);
    let possible = for_all_pieces(500, kind, |piece, _| check(&piece, "leaning frames"));
    assert!(possible > 250, "only {possible} of 500 are possible");
}

#[test]
fn curved_leaning_frames() {
    let kind = |draws: &mut Draws| (Base::LeaningFrames(Box::new(leaning(draws, true))), Some(top(draws)));
    let possible = for_all_pieces(16, kind, |piece, _| check(&piece, "curved leaning frames"));
    assert!(possible > 5, "only {possible} of 16 are possible");
}

#[test]
fn splayed_legs() {
    let kind = |draws: &mut Draws| (Base::SplayedLegs(Box::new(splayed(draws))), None);
    let possible = for_all_pieces(500, kind, |piece, _| check(&piece, "splayed legs"));
    assert!(possible > 250, "only {possible} of 500 are possible");
}

#[test]
fn splayed_boxes() {
    let kind = |draws: &mut Draws| (Base::SplayedBox(boxes(draws)), None);
    let possible = for_all_pieces(500, kind, |piece, _| check(&piece, "boxes"));
    assert!(possible > 400, "only {possible} of 500 are possible");
}

/// The model of a file, with the piece that it shows.
fn model_of(name: &str) -> (Vec<Placed>, Piece) {
    let text = std::fs::read(format!("{}/fixtures/good/{name}.json", env!("CARGO_MANIFEST_DIR"))).expect("a fixture");
    let project = fullsize::project::read(name, &text, None, None).project.expect("it is read");
    let job = fullsize::job::Job::new(project);
    let placed = read(&gltf(&job.scene().expect("a model")));
    (placed, job.needed_piece().expect("a piece").clone())
}

/// Joints and screws' slots are cut in the model: closed, and of the volume and the area of our own faces. A skin over a mortise would
/// hide from the volume.
#[test]
fn joints_are_cut_in_the_model() {
    let mut cut = 0;
    for name in ["aids", "turned_stool"] {
        let (placed, piece) = model_of(name);
        for part in &placed {
            let (id, copy) = part.name.rsplit_once('.').expect("id.copy");
            let board = piece.boards.iter().find(|b| b.id.to_string() == id).expect("its board");
            let body = board.body().of_copy(copy.parse().expect("a number"));
            assert!(part.is_closed(), "{} of {name} is not closed", part.name);
            let (volume, area) = (body.bulk().expect("it is there").volume, body.area().expect("it is there"));
            let own: f64 = part
                .triangles
                .iter()
                .map(|t| {
                    let [a, b, c] = part.corners(t);
                    let n = cross(sub(b, a), sub(c, a));
                    dot(n, n).sqrt() / 2.0
                })
                .sum();
            // Curves in steps lose half a micrometre over the surface, and a hundredth of a millimetre over the walls of joints.
            let walls: f64 = board.mortises.iter().map(|m| m.section().length() * m.depth).sum();
            let skin = 0.0005 * area + 0.01 * walls;
            assert!((part.volume - volume).abs() < skin, "{} of {name}: {} {volume}", part.name, part.volume);
            assert!((own - area).abs() < 1e-3 * area, "{} of {name}: {own} {area}", part.name);
            cut += usize::from((volume - board.solid.volume).abs() > 100.0);
        }
    }
    assert!(cut > 4, "{cut}");
}

/// A pocket without depth closes no surface, and one as large as the board leaves nothing to weigh: the board is shown and weighed as
/// sawn, and both are told.
#[test]
fn what_is_taken_as_sawn_is_told() {
    let (_, mut piece) = model_of("aids");
    assert!(
        piece.weighed_as_sawn(&piece.bulks()).is_empty() && piece.shown_as_sawn(&piece.scene("model")).is_empty()
    );
    let board = &mut piece.boards[0];
    let outline = Path::rectangle(Rect::new(-1e4, -1e4, 1e4, 1e4));
    let frame = Placement::facing(Point3::ORIGIN, Vec3::X, Vec3::Z).expect("axes");
    let id = FeatureId { why: Why::Pocket, of: 0, number: 0 };
    let fastener = |feature: Feature| vec![Cutout { made_for: CutFor::Fastener, feature }];
    let mut pocket = |ends: [End; 2]| {
        let prism = Prism { outline: outline.clone(), frame, ends };
        board.cutouts = fastener(Feature::of_all(id, Does::Take(Shape::Prism(prism))));
        board.label.clone()
    };
    let flat = pocket([End::To(-1.0), End::To(-1.0)]);
    let codes = |piece: &Piece| {
        let told =
            piece.shown_as_sawn(&piece.scene("model")).into_iter().chain(piece.weighed_as_sawn(&piece.bulks()));
        told.map(|finding| (finding.code, finding.said(&Notation::default()).message)).collect::<Vec<_>>()
    };
    assert!(codes(&piece).iter().any(|(code, said)| *code == "shown-as-sawn" && said.contains(&flat)));
    let board = &mut piece.boards[0];
    let whole = Prism { outline, frame, ends: [End::To(-1e4), End::To(1e4)] };
    board.cutouts = fastener(Feature::of_all(id, Does::Take(Shape::Prism(whole))));
    let sawn = board.solid.volume;
    assert_eq!(board.bulk().0, sawn);
    assert!(codes(&piece).iter().any(|(code, said)| *code == "weighed-as-sawn" && said.contains(&flat)));
}

/// A mortise and tenon by hand: a section times the length of its centre line.
#[test]
fn the_volume_of_a_joint_by_hand() {
    let (_, piece) = model_of("aids");
    for board in &piece.boards {
        let worked: f64 = board
            .mortises
            .iter()
            .filter(|m| m.copies.contains(&0))
            .map(|m| {
                let area = m.section().signed_area();
                area * m.depth * if m.fitting == fullsize::board::Fitting::Standing { 1.0 } else { -1.0 }
            })
            .sum();
        let plain =
            board.cutouts.is_empty() && board.mortises.iter().all(|m| m.fitting != fullsize::board::Fitting::Through);
        if plain && board.turned.is_none() && worked != 0.0 {
            let (volume, _) = board.bulk();
            assert!((volume - board.solid.volume - worked).abs() < 1e-6 * volume, "{}: {volume} {worked}", board.id);
        }
    }
}
