//! What a file calls its boards, edges, joints, aids, patterns, sizes, variants, cutters and collars is for people: no number
//! hangs on it. Every free name of every file that is read well is changed, to names that the program uses for something else too, and
//! the same is asked for.

use fullsize::board::PartRole;
use fullsize::geometry::Rect;
use fullsize::job::Job;
use fullsize::layout::elevation::{Side, measures};
use fullsize::project::read;
use fullsize::schedule::{json, text};
use serde_json::{Map, Value as Json, json as value};
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// What has a free name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Kind {
    Board,
    Edge,
    Joint,
    Aid,
    Pattern,
    Size,
    Variant,
    Cutter,
    Collar,
}

/// Names that mean something to the program, or hold a word that does.
const NASTY: [&str; 24] = [
    "top",
    "leg",
    "elegant rail",
    "left end",
    "landing",
    "side",
    "apron",
    "head",
    "foot",
    "floor",
    "far",
    "face",
    "corner",
    "right end 2",
    "legend",
    "top rail",
    "stretcher",
    "rim",
    "apron landing",
    "1",
    "board",
    "left leg",
    "upper outside",
    "blank",
];

/// Names for sizes, which are words of sums.
const NASTY_SIZES: [&str; 12] =
    ["top", "leg", "side", "landing", "edge", "floor", "far", "face", "apron", "rail", "width", "head"];

/// Fields whose text is no sum.
const WORDS: [&str; 28] = [
    "show",
    "for",
    "about",
    "shape",
    "title",
    "note",
    "label",
    "text",
    "material",
    "species",
    "name",
    "kind",
    "from",
    "into",
    "part",
    "parts",
    "joint",
    "edge",
    "cut",
    "cutter",
    "collar",
    "large",
    "small",
    "check_cutter",
    "against",
    "paper",
    "$schema",
    "svg",
];

/// A way to name everything: what each name becomes.
type Names = BTreeMap<(Kind, String), String>;

/// A file with other names.
struct Renaming<'a> {
    names: &'a Names,
    /// Whether the base is put together board by board, so that its parts have free names.
    boards: bool,
    /// Whether a top stands beside them.
    top: bool,
    /// The names of the edges of each board.
    edges: BTreeMap<String, Vec<String>>,
}

impl Renaming<'_> {
    fn new<'a>(file: &Json, names: &'a Names) -> Renaming<'a> {
        let boards = file["base"]["boards"].as_object();
        let edges = boards.into_iter().flatten().map(|(id, board)| (id.clone(), edges(&board["outline"])));
        Renaming { names, boards: boards.is_some(), top: file["top"].is_object(), edges: edges.collect() }
    }

    fn name(&self, kind: Kind, name: &str) -> String {
        self.names.get(&(kind, name.to_owned())).cloned().unwrap_or_else(|| name.to_owned())
    }

    /// A part as a file refers to it: the top keeps its own name, to which a board of that name gives way.
    fn part(&self, name: &str) -> String {
        if !self.boards || self.top && name == "top" {
            return name.to_owned();
        }
        let bare =
            if self.top { name.strip_prefix("board ").filter(|bare| *bare == "top").unwrap_or(name) } else { name };
        refer(&self.name(Kind::Board, bare), self.top)
    }

    /// An edge of a board, or what stands in place of one.
    fn edge(&self, own: &[String], name: &str) -> String {
        match own.iter().any(|edge| edge == name) {
            true => self.name(Kind::Edge, name),
            false => name.to_owned(),
        }
    }

    /// `ID.far` or `ID.edge.NAME`, or `ID.edge.SHORT` of an edge called `SHORT edge`.
    fn against(&self, text: &str) -> String {
        let (board, surface) = text.split_once('.').expect("a surface");
        let edge = surface.strip_prefix("edge.").map(|edge| {
            let own = &self.edges[board];
            let whole = format!("{edge} edge");
            self.edge(own, if own.contains(&whole) { &whole } else { edge })
        });
        let surface = edge.map_or_else(|| surface.to_owned(), |edge| format!("edge.{edge}"));
        format!("{}.{surface}", self.name(Kind::Board, board))
    }

    /// Everything that is a list by name.
    fn keys(&self, kind: Kind, all: &Json, inside: impl Fn(&str, &Json) -> Json) -> Json {
        match all {
            Json::Object(all) => all.iter().map(|(name, of)| (self.name(kind, name), inside(name, of))).collect(),
            other => other.clone(),
        }
    }

    fn file(&self, file: &Json) -> Json {
        let Json::Object(fields) = file else { return file.clone() };
        let field = |(name, value): (&String, &Json)| {
            let value = match name.as_str() {
                "sizes" => self.keys(Kind::Size, value, |_, size| self.sums("", size)),
                "joints" => self.keys(Kind::Joint, value, |_, joint| self.parts(joint)),
                "aids" => self.keys(Kind::Aid, value, |_, aid| self.parts(aid)),
                "patterns" => self.keys(Kind::Pattern, value, |_, part| self.routed(part, &edges(&part["outline"]))),
                "variants" => self.keys(Kind::Variant, value, |_, patch| self.file(patch)),
                "routing" => self.routing(value),
                "base" if self.boards => self.base(value),
                "shop" => self.shop(value),
                _ => self.sums(name, value),
            };
            (name.clone(), value)
        };
        fields.iter().map(field).collect()
    }

    fn base(&self, base: &Json) -> Json {
        let mut base = base.clone();
        base["boards"] = self.keys(Kind::Board, &base["boards"], |_, board| {
            let mut board = self.routed(board, &edges(&board["outline"]));
            for cut in board.get_mut("cuts").and_then(Json::as_array_mut).into_iter().flatten() {
                if let Some(text) = cut["against"].as_str().map(|text| self.against(text)) {
                    cut["against"] = value!(text);
                }
            }
            board
        });
        base
    }

    fn routing(&self, all: &Json) -> Json {
        let all = all.as_object().expect("parts by name").iter();
        all.map(|(part, on)| {
            let own = self.edges.get(part).cloned().unwrap_or_default();
            (self.part(part), self.routed(on, &own))
        })
        .collect()
    }

    /// An outline and what is routed on it, whose edges have these names.
    fn routed(&self, part: &Json, own: &[String]) -> Json {
        let mut part = self.sums("", part);
        for corner in part.get_mut("outline").and_then(Json::as_array_mut).into_iter().flatten() {
            if let Some(name) = corner["name"].as_str().map(|name| self.name(Kind::Edge, name)) {
                corner["name"] = value!(name);
            }
        }
        if let Some(profiles) = part.get("edge_profiles").and_then(Json::as_object) {
            let renamed: Map<String, Json> =
                profiles.iter().map(|(edge, profile)| (self.edge(own, edge), profile.clone())).collect();
            part["edge_profiles"] = Json::Object(renamed);
        }
        if let Some(cutter) = part["check_cutter"].as_str().map(|name| self.name(Kind::Cutter, name)) {
            part["check_cutter"] = value!(cutter);
        }
        if let Some(template) = part.get_mut("template") {
            *template = match &*template {
                Json::Array(all) => all.iter().map(|one| self.template(one, own)).collect(),
                one => self.template(one, own),
            };
        }
        part
    }

    fn template(&self, template: &Json, own: &[String]) -> Json {
        let mut template = template.clone();
        let kinds =
            [("cutter", Kind::Cutter), ("collar", Kind::Collar), ("large", Kind::Collar), ("small", Kind::Collar)];
        for (field, kind) in kinds {
            if let Some(name) = template[field].as_str().map(|name| self.name(kind, name)) {
                template[field] = value!(name);
            }
        }
        let named = |edge: &Json| edge.as_str().map_or(edge.clone(), |name| value!(self.edge(own, name)));
        if let Some(edge) = template.get_mut("edge") {
            *edge = match &*edge {
                Json::Array(all) => all.iter().map(named).collect(),
                one => named(one),
            };
        }
        template
    }

    /// A joint or an aid with the parts and joints that it means.
    fn parts(&self, of: &Json) -> Json {
        let mut of = self.sums("", of);
        for field in ["from", "into", "part"] {
            if let Some(part) = of[field].as_str().map(|part| self.part(part)) {
                of[field] = value!(part);
            }
        }
        for part in of.get_mut("parts").and_then(Json::as_array_mut).into_iter().flatten() {
            *part = value!(self.part(part.as_str().expect("a part")));
        }
        if let Some(joint) = of["joint"].as_str().map(|joint| self.name(Kind::Joint, joint)) {
            of["joint"] = value!(joint);
        }
        of
    }

    fn shop(&self, shop: &Json) -> Json {
        let mut shop = shop.clone();
        for (field, kind) in [("cutters", Kind::Cutter), ("collars", Kind::Collar)] {
            if shop[field].is_object() {
                shop[field] = self.keys(kind, &shop[field], |_, tool| tool.clone());
            }
        }
        shop
    }

    /// The sums in a value, by the new names of sizes.
    fn sums(&self, field: &str, value: &Json) -> Json {
        match value {
            Json::String(sum) if !WORDS.contains(&field) => value!(self.sum(sum)),
            // A list of names is one of parts; else it holds places.
            Json::Array(all) if field != "parts" => all.iter().map(|one| self.sums("", one)).collect(),
            Json::Object(all) => all.iter().map(|(name, one)| (name.clone(), self.sums(name, one))).collect(),
            other => other.clone(),
        }
    }

    fn sum(&self, sum: &str) -> String {
        let is_word = |c: char| c.is_ascii_alphanumeric() || c == '_';
        let mut said = String::new();
        let mut rest = sum;
        while let Some(first) = rest.chars().next() {
            let length = rest.find(|c| is_word(c) != is_word(first)).unwrap_or(rest.len());
            let (token, after) = rest.split_at(length);
            said += &self.name(Kind::Size, token);
            rest = after;
        }
        said
    }
}

/// A board of this name as a file refers to it beside a top.
fn refer(board: &str, beside_top: bool) -> String {
    if beside_top && board == PartRole::Top.key() { "board top".to_owned() } else { board.to_owned() }
}

/// The names that an outline gives its edges.
fn edges(outline: &Json) -> Vec<String> {
    let corners = outline.as_array().into_iter().flatten();
    corners.filter_map(|corner| corner["name"].as_str().map(str::to_owned)).collect()
}

/// Every free name of a file.
fn free(file: &Json) -> Vec<(Kind, String)> {
    let mut found = Vec::new();
    let keys = |all: &Json| all.as_object().map_or_else(Vec::new, |all| all.keys().cloned().collect::<Vec<_>>());
    let lists = [
        (Kind::Size, &file["sizes"]),
        (Kind::Joint, &file["joints"]),
        (Kind::Aid, &file["aids"]),
        (Kind::Pattern, &file["patterns"]),
        (Kind::Variant, &file["variants"]),
        (Kind::Board, &file["base"]["boards"]),
        (Kind::Cutter, &file["shop"]["cutters"]),
        (Kind::Collar, &file["shop"]["collars"]),
    ];
    for (kind, all) in lists {
        // A remark may stand anywhere.
        found.extend(keys(all).into_iter().filter(|name| name != "note").map(|name| (kind, name)));
    }
    let outlines = [&file["base"]["boards"], &file["patterns"]].into_iter().filter_map(Json::as_object).flatten();
    found.extend(outlines.flat_map(|(_, part)| edges(&part["outline"])).map(|name| (Kind::Edge, name)));
    found.sort();
    found.dedup();
    found
}

/// Names that are met nowhere else: `zqx3`.
fn strange(free: &[(Kind, String)]) -> Names {
    free.iter().cloned().enumerate().map(|(i, key)| (key, format!("zqx{}", letters(i)))).collect()
}

/// A number in letters, all of one length.
fn letters(mut number: usize) -> String {
    let mut said = String::new();
    for _ in 0..3 {
        said.insert(0, char::from(b'a' + (number % 26) as u8));
        number /= 26;
    }
    said
}

/// Names out of the worst, another choice for each `turn`; each once for one kind, and after them some that are met nowhere else.
fn nasty(free: &[(Kind, String)], turn: usize) -> Names {
    let mut used: BTreeMap<Kind, usize> = BTreeMap::new();
    let name = |key: &(Kind, String)| {
        let pool: &[&str] = if key.0 == Kind::Size { &NASTY_SIZES } else { &NASTY };
        let next = used.entry(key.0).or_default();
        let name = match pool.len() > *next {
            true => pool[(*next + turn * 11) % pool.len()].to_owned(),
            false => format!("plain{next}"),
        };
        *next += 1;
        (key.clone(), name)
    };
    free.iter().map(name).collect()
}

/// What the schedule says of a file as data and to be read, findings included, and the dimensions of its drawings.
fn said(file: &Json) -> String {
    let reading = read("file.json", file.to_string().as_bytes(), None, None);
    let mut job = Job::new(reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings)));
    // A file that stops says its numbers too, and the findings are part of them.
    job.allow_stops();
    let schedule = job.schedule().unwrap_or_else(|_| panic!("{:#?}", job.findings().collect::<Vec<_>>()));
    format!("{:#}\n{}{}", json(&schedule), text(&schedule), dimensions(&job))
}

/// The dimensions that views show.
fn dimensions(job: &Job) -> String {
    let Ok(subject) = job.needed_subject() else { return String::new() };
    let notation = &job.project().notation;
    let bounds = Rect::new(-1000.0, -1000.0, 1000.0, 1000.0);
    let sides = [Side::Front, Side::Right, Side::Left, Side::Above, Side::Below];
    let all = sides.into_iter().map(|side| (side, measures(subject, notation, side, bounds)));
    let told = |(side, all): (Side, Vec<_>)| format!("{side:?}\n{all:#?}\n");
    all.map(told).collect()
}

/// A text in which strange names are replaced by those that stand for the same.
fn mapped(text: &str, strange: &Names, names: &Names, beside_top: bool) -> String {
    let mut text = text.to_owned();
    for (key, name) in strange {
        let other = names.get(key).unwrap_or(&key.1);
        if key.0 == Kind::Board && beside_top && other == PartRole::Top.key() {
            // Where it stands in the file it has its name; as a part it gives way to the top.
            text = text.replace(&format!("/base/boards/{name}"), &format!("/base/boards/{other}"));
            text = text.replace(name.as_str(), "board top");
        }
        text = text.replace(name.as_str(), other);
    }
    text
}

/// The first line in which two texts differ.
fn first_difference(a: &str, b: &str) -> Option<String> {
    let mut lines = a.lines().zip(b.lines());
    let found = lines.find(|(a, b)| a != b).map(|(a, b)| format!("{a}\n{b}"));
    found.or_else(|| (a != b).then(|| "one is longer".to_owned()))
}

/// The files that are read well: fixtures, what the guide shows, the starters.
fn files() -> Vec<(String, Json)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut paths: Vec<PathBuf> = ["fixtures/good", "fixtures/routed", "fixtures/names", "templates-demo"]
        .iter()
        .flat_map(|folder| fs::read_dir(root.join(folder)).expect("a folder"))
        .map(|entry| entry.expect("a file").path())
        .filter(|path| path.extension().is_some_and(|kind| kind == "json"))
        .collect();
    paths.sort();
    let text = |path: &PathBuf| fs::read_to_string(path).expect("a text");
    let mut files: Vec<(String, String)> =
        paths.iter().map(|path| (path.display().to_string(), text(path))).collect();
    files.extend(crate::common::guide::examples());
    let read = |(name, text): (String, String)| {
        // Drawings that a file names lie beside it.
        let file: Json = serde_json::from_str(text.trim_start_matches('\u{feff}')).ok()?;
        (!text.contains(".svg\"")).then_some((name, file))
    };
    files.into_iter().filter_map(read).collect()
}

#[test]
fn no_number_hangs_on_a_free_name() {
    let mut failed = Vec::new();
    for (count, (name, file)) in files().into_iter().enumerate() {
        let free = free(&file);
        if free.is_empty() {
            continue;
        }
        let strange = strange(&free);
        let beside_top = file["top"].is_object();
        let plain = said(&Renaming::new(&file, &strange).file(&file));
        let as_written = free.iter().map(|key| (key.clone(), key.1.clone())).collect();
        let mut others: Vec<(String, Names)> = vec![("as written".to_owned(), as_written)];
        let turn = count % 2;
        others.push((format!("turn {turn}"), nasty(&free, turn)));
        for (what, names) in others {
            let renamed = said(&Renaming::new(&file, &names).file(&file));
            let renamed = renamed.replace("board_top", "board top");
            if let Some(lines) = first_difference(&mapped(&plain, &strange, &names, beside_top), &renamed) {
                failed.push(format!("{name}, {what}:\n{lines}\n{names:?}"));
            }
        }
    }
    assert!(failed.is_empty(), "{} differ\n{}", failed.len(), failed.join("\n\n"));
}
