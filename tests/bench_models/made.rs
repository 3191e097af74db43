//! A file made as the program makes it, and what its paper says; the one place that asks the library for it.

use crate::common::stock::plain_stock;
use fullsize::board::{Role, Source};
use fullsize::geometry::{Placement, Point, Point3, Segment, Vec3};
use fullsize::job::Job;
use fullsize::joinery::aids::Aid;
use fullsize::model::Project;
use fullsize::pattern::{Pattern, bevels, draw_board, ends, fixings, strips};
use fullsize::piece::{Piece, SolvedBoard};
use fullsize::project::{read, read_with};
use fullsize::schedule::{json, text};
use serde_json::Value as Json;
use std::path::{Path, PathBuf};

/// Nearer than this, mm, a corner lies in a plane: far more than arithmetic adds.
const ON: f64 = 1e-5;

/// A piece as solved, its schedule as data and as text.
pub struct Made {
    /// What it is called where something of it is wrong.
    pub name: String,
    /// As it was written.
    pub file: Json,
    pub project: Project,
    pub piece: Piece,
    pub aids: Vec<Aid>,
    pub json: Json,
    pub text: String,
    /// The pattern of each board, drawn once for all models.
    patterns: Vec<Pattern>,
    /// Every sheet that the program prints of a file that is taken as it is; none of random numbers, which are drawn part by part.
    pub sheets: Vec<Pattern>,
}

/// A file solved, joined, checked and told; `None` where its numbers do not fit.
pub fn made(file: &Json) -> Option<Made> {
    let reading = read("bench.json", file.to_string().as_bytes(), None, None);
    let project = reading.project.unwrap_or_else(|| panic!("{file:#}\n{:#?}", reading.findings));
    told(file.clone(), format!("{} {file}", file["title"]), &Job::new(project))
}

/// A kept file as it is, with every sheet that the program prints of it; `None` where nothing may be made of it.
pub fn kept(path: &Path) -> Option<Made> {
    let bytes = std::fs::read(path).expect("a file");
    let beside = |name: &str| {
        let folders = [path.parent().expect("a folder").to_owned(), root().join("fixtures/svg")];
        let found = folders.iter().find_map(|folder| std::fs::read(folder.join(name)).ok());
        found.ok_or_else(|| "none".to_owned())
    };
    let file: Json = serde_json::from_slice(&bytes).ok()?;
    let name = path.strip_prefix(root()).expect("a file of ours").display().to_string();
    let job = Job::new(read_with(&name, &bytes, None, None, &beside).project?);
    let sheets: Vec<Pattern> = job.patterns().ok()?.iter().map(|named| named.pattern.clone()).collect();
    let mut made = told(file, name, &job)?;
    let own = |board: &SolvedBoard| sheets.iter().find(|sheet| sheet.part.name == board.label).cloned();
    made.patterns = made.piece.boards.iter().map(|board| own(board).expect("a sheet of every board")).collect();
    Some(Made { sheets, ..made })
}

/// The folder of the program.
pub fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn told(file: Json, name: String, job: &Job) -> Option<Made> {
    let schedule = job.schedule().ok()?;
    let notation = &job.project().notation;
    let drawn =
        schedule.piece.boards.iter().map(|board| draw_board(board, None, &plain_stock(board), "", "bench", notation));
    Some(Made {
        name,
        file,
        patterns: drawn.collect(),
        piece: schedule.piece.clone(),
        aids: schedule.aids.to_vec(),
        json: json(&schedule),
        text: text(&schedule),
        project: job.project().clone(),
        sheets: Vec::new(),
    })
}

/// A piece of a rim on one of a board's faces.
pub struct Stretch {
    pub segment: Segment,
    pub name: String,
    /// The cut that left it.
    pub cut: Option<usize>,
}

/// A finding as it is told.
pub struct Told<'a> {
    pub message: String,
    pub remedy: String,
    measured: &'a Json,
}

impl Told<'_> {
    pub fn measure(&self, name: &str) -> f64 {
        self.measured[name].as_f64().unwrap_or_else(|| panic!("{name}: {}", self.message))
    }
}

/// A plane that a board is cut by.
pub struct Cut {
    pub place: String,
    /// Out of the wood, of length 1.
    pub normal: Vec3,
    pub offset: f64,
    pub is_end: bool,
}

/// A solved board: what a bench model's board is held against.
pub struct Board<'a> {
    pub solved: &'a SolvedBoard,
    /// As the schedule has it.
    pub json: &'a Json,
    pub label: String,
    /// What a maker calls the face side and the far side.
    pub sides: [String; 2],
    pub thickness: f64,
    /// Around the face side and around the far side, anticlockwise as seen from the face side.
    pub rims: [Vec<Stretch>; 2],
    pub cuts: Vec<Cut>,
    pub places: Vec<(String, Placement)>,
}

impl Made {
    /// The boards as solved.
    pub fn boards(&self) -> Vec<Board<'_>> {
        let all = self.json["boards"].as_array().expect("boards").iter();
        self.piece.boards.iter().zip(all).map(|(solved, json)| Board::of(solved, json)).collect()
    }

    pub fn board(&self, label: &str) -> Board<'_> {
        let found = self.boards().into_iter().find(|board| board.label == label);
        found.unwrap_or_else(|| panic!("no {label}"))
    }

    /// The lines of the schedule's text that belong to a board.
    /// What the schedule says of a part, line by line; of a joint, which has a statement a line, all in one line.
    pub fn said_of(&self, label: &str) -> Vec<String> {
        let head = format!("{label} (revision");
        let own = self.text.lines().skip_while(|line| !line.starts_with(&head)).skip(1);
        let mut said: Vec<String> = Vec::new();
        for line in own.take_while(|line| line.starts_with("  ")) {
            match (said.last_mut(), line.strip_prefix("    ")) {
                (Some(last), Some(more)) if last.starts_with("  joint ") => last.push_str(&format!("; {more}")),
                _ => said.push(line.to_owned()),
            }
        }
        said
    }

    pub fn bevel_sheet(&self) -> Option<Pattern> {
        bevels(&self.piece, &self.piece, "bench", &self.project.notation)
    }

    /// What the file asks of an aid; one that is drawn several times has a number behind its name.
    pub fn asked(&self, aid: &Aid) -> &Json {
        let all = self.file["aids"].as_object().into_iter().flatten();
        let own = all.filter(|(name, _)| aid.name.starts_with(name.as_str())).max_by_key(|(name, _)| name.len());
        own.map_or(&Json::Null, |(_, asked)| asked)
    }

    /// A length as the file writes it, mm: a number in its units, or words such as `1 7/16` or `-1/8 in`; none of other words.
    pub fn mm(&self, written: &Json) -> Option<f64> {
        let own = if self.file["units"] == "in" { 25.4 } else { 1.0 };
        let Some(words) = written.as_str() else { return Some(written.as_f64()? * own) };
        let unit = [(" mm", 1.0), (" cm", 10.0), (" in", 25.4)].into_iter().find(|(unit, _)| words.ends_with(unit));
        let (words, unit) = unit.map_or((words, own), |(unit, mm)| (&words[..words.len() - unit.len()], mm));
        let (words, sign) = words.strip_prefix('-').map_or((words, 1.0), |rest| (rest, -1.0));
        let part = |part: &str| -> Option<f64> {
            match part.split_once('/') {
                Some((above, below)) => Some(above.parse::<f64>().ok()? / below.parse::<f64>().ok()?),
                None => part.parse().ok(),
            }
        };
        let parts: Option<Vec<f64>> = words.split(' ').map(part).collect();
        Some(parts?.iter().sum::<f64>() * sign * unit)
    }

    /// What fastens a top, on paper.
    pub fn fixings(&self) -> Vec<Pattern> {
        if !self.sheets.is_empty() {
            return self.sheets.clone();
        }
        let own = self.project.top.as_ref().map(|top| (&self.piece, top));
        let all = own.map_or_else(Vec::new, |own| fixings(own, own, "bench", &self.project.notation));
        all.into_iter().map(|one| one.pattern).collect()
    }

    /// What is told under a code, as a script reads it.
    pub fn told(&self, code: &str) -> Vec<Told<'_>> {
        let all = self.json["findings"].as_array().expect("findings").iter();
        let words = |finding: &'_ Json, name: &str| finding[name].as_str().expect("words").to_owned();
        let own = all.filter(|finding| finding["code"] == code);
        own.map(|finding| Told {
            message: words(finding, "message"),
            remedy: words(finding, "remedy"),
            measured: &finding["measured"],
        })
        .collect()
    }
}

impl<'a> Board<'a> {
    fn of(solved: &'a SolvedBoard, json: &'a Json) -> Board<'a> {
        let board = &solved.board;
        let stretch = |(segment, source): (&Segment, Source)| Stretch {
            segment: *segment,
            name: board.name_of(source).to_string(),
            cut: if let Source::Cut(cut) = source { Some(cut) } else { None },
        };
        let cut = |(index, cut): (usize, &fullsize::board::Cut)| Cut {
            place: board.name_of(Source::Cut(index)).to_string(),
            normal: cut.plane.normal(),
            offset: cut.plane.offset(),
            is_end: cut.role == Role::End,
        };
        Board {
            label: solved.label.clone(),
            sides: [board.sides[0].to_string(), board.sides[1].to_string()],
            thickness: board.thickness,
            rims: [&solved.solid.face, &solved.solid.far].map(|ring| ring.pieces().map(stretch).collect()),
            cuts: board.cuts.iter().enumerate().map(cut).collect(),
            places: solved.copies.iter().map(|copy| (copy.label.clone(), copy.placement)).collect(),
            solved,
            json,
        }
    }

    /// How deep a face lies below the face side, mm.
    fn depth(&self, side: usize) -> f64 {
        if side == 0 { 0.0 } else { -self.thickness }
    }

    /// The corners of a face, in board axes.
    pub fn corners_of(&self, side: usize) -> Vec<Point3> {
        let z = self.depth(side);
        self.rims[side].iter().map(|stretch| stretch.segment.start()).map(|p| Point3::new(p.x, p.y, z)).collect()
    }

    /// The corners of both faces that lie in a cut.
    pub fn corners_in(&self, cut: &Cut) -> Vec<Point3> {
        let all = [0, 1].into_iter().flat_map(|side| self.corners_of(side));
        all.filter(|p| (cut.normal.dot(p.to_vec()) - cut.offset).abs() < ON).collect()
    }

    /// The corners of the surface that a cut leaves, those where it meets no face included.
    pub fn corners_of_cut(&self, cut: usize) -> Vec<Point3> {
        self.solved.solid.ends[cut].corners().into_iter().map(|(p, _, _)| p).collect()
    }

    /// Where a rim ends on a cut, beside a straight edge of a name: on the face side and on the far side.
    pub fn beside(&self, cut: usize, edge: &str) -> [Option<Point3>; 2] {
        [0, 1].map(|side| {
            let rim = &self.rims[side];
            let own = (0..rim.len()).find_map(|i| {
                let (a, b) = (&rim[i], &rim[(i + 1) % rim.len()]);
                let meet = (a.cut == Some(cut) && b.name == edge) || (b.cut == Some(cut) && a.name == edge);
                meet.then(|| b.segment.start())
            });
            own.map(|p| Point3::new(p.x, p.y, self.depth(side)))
        })
    }

    /// The direction of a straight edge of the face side, towards a point.
    pub fn along(&self, edge: &str, towards: Point3) -> Vec3 {
        let stretch = self.rims[0].iter().find(|s| s.name == edge).unwrap_or_else(|| panic!("no {edge}"));
        let (a, b) = (stretch.segment.start(), stretch.segment.end());
        let p = Point::new(towards.x, towards.y);
        let way = if p.distance(a) < p.distance(b) { a - b } else { b - a };
        Vec3::new(way.x, way.y, 0.0).unit().expect("a direction")
    }

    /// The middle of the face side.
    pub fn middle(&self) -> Point3 {
        let all = self.corners_of(0);
        let sum = all.iter().fold(Vec3::new(0.0, 0.0, 0.0), |sum, p| sum + p.to_vec());
        Point3::ORIGIN + sum * (1.0 / all.len() as f64)
    }

    /// The direction out of the wood of what has a name: a side, an end or an edge.
    pub fn out_of(&self, name: &str) -> Vec3 {
        if let Some(side) = self.sides.iter().position(|side| side == name) {
            return if side == 0 { Vec3::Z } else { -Vec3::Z };
        }
        if let Some(cut) = self.cuts.iter().find(|cut| cut.place == name) {
            return cut.normal;
        }
        let own: Vec<&Stretch> = self.rims.iter().flatten().filter(|stretch| stretch.name == name).collect();
        let (Some(first), Some(last)) = (own.first(), own.last()) else { panic!("no {name} on the {}", self.label) };
        // The outline runs anticlockwise: outside lies to the right.
        let way =
            if own.len() == 1 { first.segment.tangent(0.5) } else { last.segment.end() - first.segment.start() };
        let way = if own.len() > 1 && way.hypot() < 1.0 { first.segment.tangent(0.5) } else { way };
        Vec3::new(way.y, -way.x, 0.0).unit().expect("a direction")
    }

    pub fn pattern<'m>(&self, made: &'m Made) -> &'m Pattern {
        let own = made.piece.boards.iter().position(|board| board.label == self.label);
        &made.patterns[own.expect("a board of this piece")]
    }

    pub fn ends(&self, made: &Made) -> Vec<Pattern> {
        if made.sheets.is_empty() {
            return ends(self.solved, self.solved, &made.project.notation);
        }
        let is_end = |place: &str| self.cuts.iter().any(|cut| cut.place == place);
        self.sheets(made, |what| what.split(" and ").all(is_end))
    }

    pub fn strips(&self, made: &Made) -> Vec<Pattern> {
        if made.sheets.is_empty() {
            return strips(self.solved, self.solved, &made.project.notation);
        }
        self.sheets(made, |what| what.ends_with(" laid flat"))
    }

    /// The board's own sheets, by what of it they are.
    fn sheets(&self, made: &Made, wanted: impl Fn(&str) -> bool) -> Vec<Pattern> {
        let head = format!("{}, ", self.label);
        let own = |sheet: &&Pattern| sheet.part.name.strip_prefix(&head).is_some_and(&wanted);
        made.sheets.iter().filter(own).cloned().collect()
    }
}
