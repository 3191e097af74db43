//! Sheets of parts that a file draws itself, laid on what the file says: its corners, curves, holes, slots and lines, worked out here
//! once more from its numbers, and its templates beside them.

use super::super::made::Made;
use super::super::router;
use super::as_they_are::listed;
use super::lay::{TRUE, laying, strokes};
use fullsize::geometry::{Path, Point, Rect, Segment};
use fullsize::page::{Pen, Role};
use fullsize::pattern::Pattern;
use serde_json::Value as Json;

/// Every part that is drawn directly; how many sheets.
pub fn lay(made: &Made) -> usize {
    let parts = made.file["patterns"].as_object().into_iter().flatten();
    parts.map(|(name, asked)| Part { made, name, asked }.lay()).sum()
}

struct Part<'a> {
    made: &'a Made,
    name: &'a str,
    asked: &'a Json,
}

impl Part<'_> {
    fn lay(&self) -> usize {
        let sheet = self.sheet("");
        let ring = strokes(&sheet.items, Role::Outline)[0].0;
        self.rim(ring);
        self.cut(sheet);
        let openings: Vec<&Path> = strokes(&sheet.items, Role::Opening).into_iter().map(|(path, _)| path).collect();
        1 + self.templates(&[vec![ring], openings].concat())
    }

    /// The sheet of what is made of the part.
    fn sheet(&self, what: &str) -> &Pattern {
        let name = format!("{}{what}", self.name);
        laying(&name);
        self.made.sheets.iter().find(|sheet| sheet.part.name == name).expect("a sheet")
    }

    /// A length of the file, mm: a number, a size's name, or two of them with a sign between.
    fn number(&self, json: &Json) -> f64 {
        let Some(words) = json.as_str() else { return self.made.mm(json).expect("a length") };
        if let Some(written) = self.made.mm(json) {
            return written;
        }
        let two = [" - ", " + ", " / ", " * "].iter().find_map(|sign| Some((sign, words.split_once(sign)?)));
        let size = |words: &str| self.number(&self.made.file["sizes"][words]);
        let of = |words: &str| self.made.mm(&Json::from(words)).unwrap_or_else(|| size(words));
        // By what is multiplied or divided has no unit.
        let times = |words: &str| words.parse().unwrap_or_else(|_| size(words));
        match two {
            Some((&" - ", (a, b))) => of(a) - of(b),
            Some((&" + ", (a, b))) => of(a) + of(b),
            Some((&" / ", (a, b))) => of(a) / times(b),
            Some((_, (a, b))) => times(a) * times(b),
            None => of(words),
        }
    }

    fn point(&self, json: &Json) -> Point {
        Point::new(self.number(&json[0]), self.number(&json[1]))
    }

    /// Each corner with the one before it.
    fn edges(&self) -> Vec<(Point, Point, &Json)> {
        let corners = self.asked["outline"].as_array().expect("an outline of corners");
        let before = corners.iter().cycle().skip(corners.len() - 1);
        before.zip(corners).map(|(from, to)| (self.point(&from["to"]), self.point(&to["to"]), to)).collect()
    }

    /// Sharp corners, the middles of bows and the points of battens lie on the edge of the paper; a rounded corner lies off it by what
    /// its radius takes.
    fn rim(&self, ring: &Path) {
        let off = |p: Point| ring.nearest(p).expect("a rim").0;
        for (from, to, corner) in self.edges() {
            match &corner["corner_radius"] {
                Json::Null => assert!(off(to) < TRUE, "no corner at {to:?}"),
                radius => {
                    let radius = self.number(radius);
                    assert!((0.05 * radius..radius).contains(&off(to)), "{to:?} is not rounded by {radius}");
                }
            }
            let edge = &corner["edge"];
            if !edge["rise"].is_null() {
                // Outside lies to the right of the way round; a bow of positive rise bulges out of the part.
                let out = -(to - from).normalize().turn_90();
                let middle = from.midpoint(to) + out * self.number(&edge["rise"]);
                assert!(off(middle) < TRUE, "the bow lies {} off {middle:?}", off(middle));
            }
            for p in edge["batten"].as_array().into_iter().flatten().map(|p| self.point(p)) {
                assert!(off(p) < TRUE, "the batten lies {} off {p:?}", off(p));
            }
        }
    }

    /// Holes, slots and lines.
    fn cut(&self, sheet: &Pattern) {
        let listed = |what: &str| self.asked[what].as_array().cloned().unwrap_or_default();
        let of = |role: Role| strokes(&sheet.items, role).into_iter().filter_map(|(path, _)| path.bounding_box());
        // Of a half what lies over its straight edge ends there.
        let half = (self.asked["half"]["about"] == "y" && self.asked["half"]["show"] == "half").then_some(0.0);
        let is_seen = |found: &Rect, wanted: Rect| {
            let wanted = Rect { x0: half.map_or(wanted.x0, |line| wanted.x0.max(line)), ..wanted };
            let corners = |r: &Rect| [Point::new(r.x0, r.y0), Point::new(r.x1, r.y1)];
            corners(found).iter().zip(corners(&wanted)).all(|(p, q)| p.distance(q) < TRUE)
        };
        let round: Vec<_> = of(Role::Drill).collect();
        for hole in listed("holes") {
            let (at, wide) = (self.point(&hole["at"]), self.number(&hole["diameter"]));
            let wanted = Rect::from_points(at, at).inflate(wide / 2.0, wide / 2.0);
            assert!(round.iter().any(|found| is_seen(found, wanted)), "no hole of {wide} at {at:?}");
        }
        let slots: Vec<_> = of(Role::Opening).collect();
        for slot in listed("slots") {
            let ([a, b], wide) = (["from", "to"].map(|end| self.point(&slot[end])), self.number(&slot["width"]));
            let wanted = Rect::from_points(a, b).inflate(wide / 2.0, wide / 2.0);
            assert!(slots.iter().any(|found| is_seen(found, wanted)), "no slot from {a:?} to {b:?}");
        }
        for line in listed("marks").iter().filter_map(|mark| mark["line"].as_array()) {
            let [a, b] = [0, 1].map(|end| self.point(&line[end]));
            let lies = |path: &Path| {
                let ends = [path.start(), path.end()].map(|p| p.expect("a line"));
                ends[0].distance(a).max(ends[1].distance(b)) < TRUE
            };
            assert!(strokes(&sheet.items, Role::Mark).iter().any(|(path, _)| lies(path)), "no line {a:?} {b:?}");
        }
    }

    /// The templates of the part, laid on its edge.
    fn templates(&self, rings: &[&Path]) -> usize {
        let all = listed(&self.asked["template"]);
        for wanted in &all {
            match wanted["kind"].as_str().expect("a kind") {
                "blank" => {
                    let named = |name: &str| -> Vec<Segment> {
                        let own = self.edges().into_iter().filter(|(_, _, corner)| corner["name"] == name);
                        own.map(|(from, to, _)| Segment::line(from, to)).collect()
                    };
                    assert!(router::blank(&named, self.sheet(", template blank"), wanted) > 0);
                }
                "collar" => {
                    on_collar(self.made, rings, self.sheet(", collar template"), wanted);
                }
                "inlay" => {
                    let off = offset(self.made, wanted, "large");
                    beside(rings, self.sheet(", inlay template"), off, true);
                }
                "saw_line" => beside(rings, self.sheet(", saw line"), self.number(&wanted["distance"]), true),
                other => panic!("no model of a template of kind {other}"),
            }
        }
        all.len()
    }
}

/// How far the edge on which a collar runs stands off the cut, mm.
fn offset(made: &Made, wanted: &Json, collar: &str) -> f64 {
    let width = |kind: &str, key: &str| {
        made.mm(&made.file["shop"][kind][wanted[key].as_str().expect("a name")]["diameter"]).expect("a diameter")
    };
    (width("collars", collar) - width("cutters", "cutter")) / 2.0
}

/// The template on which a collar runs, laid on the rim of a part and on those of its openings: one sheet.
pub fn on_collar(made: &Made, rings: &[&Path], sheet: &Pattern, wanted: &Json) -> usize {
    beside(rings, sheet, offset(made, wanted, "collar"), wanted["work"] == "inside");
    1
}

/// The edges of a template lie so far off the part's: in the waste, openings of the part among it, or in the wood.
fn beside(rings: &[&Path], sheet: &Pattern, off: f64, in_waste: bool) {
    let closed = |(path, pen): (_, &Pen)| pen.dash.is_empty().then_some(path);
    let own: Vec<&Path> = [Role::Outline, Role::Opening]
        .into_iter()
        .flat_map(|role| strokes(&sheet.items, role))
        .filter_map(closed)
        .collect();
    assert_eq!(own.len(), rings.len(), "{}", sheet.part.name);
    for p in own.iter().flat_map(|path| path.segments()).flat_map(|s| [0.0, 0.25, 0.5, 0.75].map(|t| s.eval(t))) {
        let found = rings.iter().filter_map(|ring| ring.nearest(p)).map(|near| near.0).fold(f64::MAX, f64::min);
        // In an odd number of rims there is wood.
        let in_wood = rings.iter().filter(|ring| ring.encloses(p)).count() % 2 == 1;
        assert!((found - off).abs() < TRUE && in_wood != in_waste, "{p:?} lies {found} off, not {off}");
    }
}
