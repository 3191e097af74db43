//! Routing as the project file asks for it: what is told, and what comes out at full size.

mod as_told;
mod depths;
mod from_svg;
mod hands;
mod held;
mod openings;
mod parts;
mod stock;
mod vanishing;
mod words_apart;

use crate::common::program::program;
use crate::common::routing::{routed, templates as made_templates};
use crate::common::words::InWords;
use fullsize::cli::report;
use fullsize::geometry::{Path, Point, Rect};
use fullsize::model::Project;
use fullsize::page::{Item, Role, Shape};
use fullsize::pattern::{Pattern, draw, gauge, profile_gauge, template};
use fullsize::project::{Reading, read, read_with};
use fullsize::router::{corner_gauges, edge_sections, part_cautions};
use std::fs;
use std::path::{Path as FilePath, PathBuf};

fn fixture(name: &str) -> PathBuf {
    FilePath::new(env!("CARGO_MANIFEST_DIR")).join("fixtures").join(name)
}

fn project(name: &str) -> Project {
    let reading = read("project.json", &fs::read(fixture(name)).unwrap(), None, None);
    let said = report::text(&reading.findings, &reading.sources, false);
    reading.project.unwrap_or_else(|| panic!("{name}:\n{said}"))
}

/// The templates of one part of a file.
fn templates(project: &Project, part: &str) -> Vec<Pattern> {
    let drawn = project.patterns.iter().find(|p| p.name == part).unwrap();
    let made = made_templates(drawn);
    made.iter().map(|made| template(drawn, made, "", &project.title, &project.notation)).collect()
}

/// The rings of a role, in the order drawn.
fn rings(items: &[Item], role: Role) -> Vec<Path> {
    let path = |item: &Item| match &item.shape {
        Shape::Stroke { path, .. } if item.role == role && path.is_closed() => Some(path.clone()),
        _ => None,
    };
    items.iter().filter_map(path).collect()
}

fn words(items: &[Item]) -> Vec<String> {
    let text = |item: &Item| match &item.shape {
        Shape::Text(text) => Some(text.content.to_string()),
        _ => None,
    };
    items.iter().filter_map(text).collect()
}

fn close(found: Rect, wanted: Rect, within: f64) {
    let off = [found.x0 - wanted.x0, found.y0 - wanted.y0, found.x1 - wanted.x1, found.y1 - wanted.y1];
    assert!(off.iter().all(|d| d.abs() < within), "{found:?} is not {wanted:?}");
}

/// What is told about routing is held as text; `FULLSIZE_BLESS=1` writes it anew.
#[test]
fn every_finding_about_routing_reads_well() {
    let bless = std::env::var_os("FULLSIZE_BLESS").is_some();
    let mut files: Vec<PathBuf> =
        fs::read_dir(fixture("routed")).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.retain(|file| file.extension().is_some_and(|extension| extension == "json"));
    files.sort();
    let mut wrong = Vec::new();
    for file in &files {
        let Reading { project, findings, sources } = read("project.json", &fs::read(file).unwrap(), None, None);
        assert!(findings.is_empty(), "{}", report::text(&findings, &sources, false));
        let project = project.unwrap();
        let found: Vec<_> = project.patterns.iter().flat_map(|p| routed(p).findings).collect();
        assert!(
            found.iter().all(|f| !f.words().message.is_empty() && !f.words().remedy.is_empty()),
            "{}",
            file.display()
        );
        let said = report::text(&found, &sources, false);
        let golden = file.with_extension("txt");
        if bless {
            fs::write(&golden, &said).unwrap();
        } else if fs::read_to_string(&golden).ok().as_deref() != Some(said.as_str()) {
            wrong.push(format!("{}:\n{said}", file.display()));
        }
    }
    assert!(!files.is_empty() && wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Half of collar less cutter inside the finished line (references 7.collar_offset): 12 mm for 30 and 6.
#[test]
fn templates_come_out_at_their_size() {
    let project = project("good/router_bracket.json");
    let all = templates(&project, "bracket");
    let names: Vec<&str> = all.iter().map(|p| p.part.name.as_str()).collect();
    assert_eq!(names, ["bracket, collar template", "bracket, saw line", "bracket, template blank"]);
    let bounds = |pattern: &Pattern| rings(&pattern.items, Role::Outline)[0].bounding_box().unwrap();
    close(bounds(&all[0]), Rect::new(12.0, 12.0, 308.0, 188.0), 0.005);
    close(bounds(&all[1]), Rect::new(-3.0, -3.0, 323.0, 203.0), 0.005);
    assert!(
        words(&all[0].items).iter().any(|said| said == "it lies 12 mm inside the finished line (dashed)"),
        "{:?}",
        all[0].items
    );
    assert!(words(&all[0].items).iter().any(|said| said.starts_with("Keep the collar against the template")));
    // Nothing is marked to hold it, so that it says itself at how many places it is to be held; a line to saw along is held by nothing.
    let held = |pattern: &Pattern| words(&pattern.items).iter().any(|said| said.starts_with("hold it at two places"));
    assert!(held(&all[0]) && !held(&all[1]));
    // Screws stand in both tongues and in the area that a joint hides.
    let screws = words(&all[2].items).iter().filter(|said| *said == "screw").count();
    assert_eq!(screws, 3);
    // An ellipse of 120 x 80 set out by half of 28 less 6.
    let inlay = templates(&project, "leaf");
    let opening = rings(&inlay[0].items, Role::Opening)[0].bounding_box().unwrap();
    close(opening, Rect::new(-71.0, -51.0, 71.0, 51.0), 0.005);
    assert!(rings(&inlay[0].items, Role::Outline).is_empty(), "nothing but the opening is cut");
}

/// A hollow of radius 8 under a bearing of radius 11, worked out by hand: the bearing rests on the hollow's two ends, so that
/// its lowest point is 11 - sqrt(121 - 64) = 3.45 mm below them, and the hollow's is 8 mm below.
#[test]
fn what_a_cutter_leaves_is_told_and_drawn() {
    let project = project("routed/reach.json");
    let cradle = &project.patterns[0];
    let found = routed(cradle).findings;
    let left = found.iter().find(|f| f.code == "tool-does-not-fit").unwrap();
    let measured = |name: &str| left.number(name);
    assert!((measured("depth") - (8.0 - (11.0 - 57.0_f64.sqrt()))).abs() < 0.05, "{left:?}");
    assert!((measured("largest") - 16.0).abs() < 0.1, "{left:?}");
    let drawn = draw(cradle, &routed(cradle).on_part, "", &project.title, &project.notation);
    assert!(words(&drawn.items).iter().any(|said| said.starts_with("pare 4.6 mm")), "{:?}", words(&drawn.items));
    let hatched = drawn.items.iter().filter(|item| item.role == Role::Mark).count();
    assert!(hatched > 5, "{hatched}");
}

/// A gauge for each radius and corner: a square corner of radius 12 sets off 12 mm; at 22° from square more or less.
#[test]
fn every_corner_radius_has_its_gauge() {
    let project = project("good/router_bracket.json");
    let bracket = &project.patterns[0];
    let gauges = corner_gauges(bracket);
    let radii: Vec<f64> = gauges.iter().map(|g| (g.radius.mm() * 1000.0).round() / 1000.0).collect();
    assert_eq!(radii, [12.0, 15.0, 14.0]);
    let square = gauges.iter().find(|g| (g.corner.degrees() - 90.0).abs() < 1e-6).unwrap();
    assert!((square.gauge.set_off - square.radius.mm()).abs() < 1e-9);
    let drawn = gauge("bracket", square, "", &project.notation);
    assert!(drawn.small && drawn.part.name == "bracket, radius gauge 14 mm", "{:?}", drawn.part);
    // Two tangent points a corner are ticked on the part.
    let part = draw(bracket, &routed(bracket).on_part, "", &project.title, &project.notation);
    let ticks = part.items.iter().filter(|item| match &item.shape {
        Shape::Stroke { path, .. } => item.role == Role::Mark && (path.length() - 2.5).abs() < 1e-9,
        _ => false,
    });
    assert_eq!(ticks.count(), 6);
    assert!(words(&part.items).iter().any(|said| said == "end grain"), "{:?}", words(&part.items));
}

/// A thumbnail 10 wide and 3 deep below a step of 0.5 on an ellipse of 120 x 80: its line on the face lies 10 mm in, the edge
/// is left from 3.5 mm down, and of the section a quarter ellipse's corner, (1 - π/4) · 10 · 3, and 10 · 0.5 are gone.
#[test]
fn an_edge_profile_is_drawn_on_the_face_and_as_a_gauge() {
    let project = project("good/router_bracket.json");
    let leaf = &project.patterns[1];
    let section = edge_sections(leaf).remove(0).1.unwrap();
    assert!((section.on_face - 10.0).abs() < 1e-9 && (section.edge_from_to.0 - 3.5).abs() < 1e-9);
    let gone = (1.0 - std::f64::consts::FRAC_PI_4) * 30.0 + 5.0;
    let found: f64 = section.removed.iter().map(fullsize::geometry::Path::signed_area).sum();
    assert!((found - gone).abs() < 1e-6, "{found}");
    let gauge = profile_gauge(leaf, None, &section, "", &part_cautions(leaf), &project.notation);
    assert!(gauge.small && words(&gauge.items).iter().any(|said| said == "10 mm in on the face"));
    let part = draw(leaf, &routed(leaf).on_part, "", &project.title, &project.notation);
    let dashed = part.items.iter().filter_map(|item| match &item.shape {
        Shape::Stroke { path, pen } if !pen.dash.is_empty() => path.bounding_box(),
        _ => None,
    });
    close(dashed.reduce(|a, b| a.union(b)).unwrap(), Rect::new(-50.0, -30.0, 50.0, 30.0), 0.005);
}

/// A drawing of 200 x 150 mm with a square and a round opening, scaled to 240, mirrored, turned and laid on the origin: the
/// round one's middle, 55 right and 35 above the drawing's, comes to lie 42 left and 66 below.
#[test]
fn a_drawing_becomes_an_outline_with_openings() {
    let folder = tempfile::tempdir().unwrap();
    fs::copy(fixture("good/svg_plaque.json"), folder.path().join("plaque.json")).unwrap();
    fs::copy(fixture("svg/openings.svg"), folder.path().join("openings.svg")).unwrap();
    let run =
        |file: &str| program().args(["plot", file, "-o", "out.svg"]).current_dir(folder.path()).output().unwrap();
    let done = run("plaque.json");
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    let svg = fs::read_to_string(folder.path().join("out.svg")).unwrap();
    assert!(svg.contains("plaque, saw line"), "{svg}");

    let drawings = |name: &str| fs::read(folder.path().join(name)).map_err(|error| error.to_string());
    let bytes = fs::read(folder.path().join("plaque.json")).unwrap();
    let plaque = read_with("plaque.json", &bytes, None, None, &drawings).project.unwrap().patterns.remove(0);
    close(plaque.built.outline.path().bounding_box().unwrap(), Rect::new(-90.0, -120.0, 90.0, 120.0), 0.001);
    assert_eq!(plaque.openings.len(), 2);
    let round = plaque
        .openings
        .iter()
        .map(|o| o.what.path().bounding_box().unwrap())
        .find(|b| (b.width() - b.height()).abs() < 0.01);
    close(round.unwrap(), Rect::new(-72.0, -96.0, -12.0, -36.0), 0.001);
    let drawn = draw(&plaque, &routed(&plaque).on_part, "", "plaque", &fullsize::units::Notation::default());
    assert_eq!(rings(&drawn.items, Role::Opening).len(), 2);

    let outside = String::from_utf8(bytes).unwrap().replace("openings.svg", "../openings.svg");
    fs::write(folder.path().join("outside.json"), outside).unwrap();
    let done = run("outside.json");
    assert_eq!(done.status.code(), Some(1));
    let said = String::from_utf8_lossy(&done.stderr).into_owned();
    assert!(said.contains("only files in the project file's folder are read"), "{said}");
}

/// A blend runs on from the plumb edge into the level one, a taper from the level one: at the joints nothing turns, and the
/// taper, a cubic parabola, has come away by an eighth of its 30 mm after half of its 120.
#[test]
fn blends_and_tapers_run_on_from_their_neighbours() {
    let project = project("good/blended_foot.json");
    let foot = &project.patterns[0];
    let ring = foot.built.outline.path();
    for at in [(60.0, 30.0), (140.0, 90.0), (180.0, 90.0)].map(Point::from) {
        let pieces = ring.segments();
        let joint = pieces.iter().zip(pieces.iter().cycle().skip(1)).find(|(_, b)| b.start().distance(at) < 1e-9);
        let (before, after) = joint.unwrap();
        assert!(before.tangent(1.0).cross(after.tangent(0.0)).abs() < 1e-6, "{at:?}");
    }
    let (off, _) = ring.nearest(Point::new(240.0, 93.75)).unwrap();
    assert!(off < 1e-6, "{off}");
    let part = draw(foot, &routed(foot).on_part, "", &project.title, &project.notation);
    assert!(words(&part.items).iter().any(|said| said.starts_with("comb: the longest tooth")));
}

/// The half of a part that is drawn for the router shows its half of the profile's line, cut off at its reference edge.
#[test]
fn a_drawn_half_shows_its_half_of_a_profile() {
    let text = r#"{ "fullsize": 1, "title": "Bench", "units": "mm", "patterns": { "edge": { "thickness": 12,
        "half": { "about": "y", "show": "half", "for": "router", "run_on": 80 },
        "outline": [{ "to": [0, 100] }, { "to": [300, 100] }, { "to": [300, 20] }, { "to": [0, 0], "edge": { "batten": [[150, 5]] } }],
        "edge_profile": { "round_over": 10 } } } }"#;
    let project = read("project.json", text.as_bytes(), None, None).project.unwrap();
    let drawn = draw(&project.patterns[0], &routed(&project.patterns[0]).on_part, "", "x", &project.notation);
    let dashed = drawn.items.iter().filter_map(|item| match &item.shape {
        Shape::Stroke { path, pen } if pen.dash == [3.0, 1.5] => path.bounding_box(),
        _ => None,
    });
    let bounds = dashed.reduce(|a, b| a.union(b)).unwrap();
    // From the run-on's end to 10 mm inside the other.
    assert!(bounds.x0 >= -80.0 - 1e-6 && (bounds.x1 - 290.0).abs() < 0.01, "{bounds:?}");
}

/// A small leaf with a profile and a part that a large cutter is to follow: what to mind stands on their own pages, each deferring
/// to the tool's manual and local rules; a saw line has none.
#[test]
fn cautions_stand_on_the_pages_where_they_apply() {
    let project = project("good/router_bracket.json");
    let leaf = &project.patterns[1];
    let section = edge_sections(leaf).remove(0).1.unwrap();
    let said = words(&profile_gauge(leaf, None, &section, "", &part_cautions(leaf), &project.notation).items);
    assert!(
        said.iter().any(|line| line.starts_with("Small part: fix it to a carrier at least 300 mm long")),
        "{said:?}"
    );
    let text = fs::read_to_string(fixture("routed/reach.json")).unwrap();
    let large = read(
        "project.json",
        text.replace("\"diameter\": 19, \"bearing\": 22", "\"diameter\": 40, \"bearing\": 40").as_bytes(),
        None,
        None,
    );
    let large = large.project.unwrap();
    let said = words(&draw(&large.patterns[0], &routed(&large.patterns[0]).on_part, "", "x", &large.notation).items);
    let wanted = ["Large cutter: in a table only, at the reduced speed", "Start against a pin or a fence"];
    assert!(wanted.iter().all(|start| said.iter().any(|line| line.starts_with(start))), "{said:?}");
    assert!(said.iter().filter(|line| line.contains("come first.")).count() >= 2, "{said:?}");
    let bracket = &templates(&project, "bracket")[1];
    assert!(bracket.part.name.ends_with("saw line"));
    assert!(!words(&bracket.items).iter().any(|line| line.contains("manual")));
}

/// The table of settings, text and data: half of collar less cutter (references 7.collar_offset) 12 mm for 30 and 6, and what the
/// sleeve adds, 28 less 16; a template of 12 mm is 6 thicker than a collar stands out that does so by 6; a part of 22 is cut 24
/// deep, and the cutter stands out by that and the template.
#[test]
fn the_schedule_has_a_table_of_templates() {
    let run = |format: &str| {
        let file = fixture("good/router_bracket.json");
        let done = program().arg("schedule").arg(file).args(["--format", format, "-o", "-"]).output().unwrap();
        assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
        String::from_utf8(done.stdout).unwrap()
    };
    let data: serde_json::Value = serde_json::from_str(&run("json")).unwrap();
    let all = data["templates"].as_array().unwrap();
    assert_eq!(all.len(), 4);
    let number = |row: &serde_json::Value, name: &str| row[name].as_f64();
    assert_eq!(number(&all[0], "offset"), Some(12.0));
    assert_eq!(number(&all[0], "above_collar"), Some(6.0));
    assert_eq!((number(&all[0], "must_cut"), number(&all[0], "must_reach")), (Some(24.0), Some(36.0)));
    assert!(all[1]["cutter"].is_null() && all[1]["must_cut"].is_null(), "a saw line");
    assert_eq!((number(&all[3], "offset"), number(&all[3], "sleeve")), (Some(11.0), Some(12.0)));
    let csv = run("csv");
    let heads = csv.lines().skip_while(|line| *line != "Router templates").nth(1).unwrap();
    assert!(heads.starts_with("Part,Template,Collar,Cutter,Offset"), "{csv}");
    assert!(csv.contains("leaf,inlay template,\"sleeve 28 mm, then small 16 mm\",spiral 6 mm,11 mm,12 mm"), "{csv}");
    let text = run("text");
    assert!(
        text.contains(
            "  bracket, collar template\n    collar large 30 mm\n    cutter spiral 6 mm\n    offset 12 mm\n"
        ),
        "{text}"
    );
    // No bearing guides here: what is told of one stands nowhere.
    assert!(text.contains("Keep the collar against the template"), "{text}");
    assert!(!text.contains("onto the bearing"), "{text}");
}
