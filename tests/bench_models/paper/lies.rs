//! Every sheet that is laid or stuck on wood is asked, for each hand of its part: which side of the paper goes to the wood, on which face
//! it lies, where head and foot and each edge of it are, and which way a router is fed.

use super::super::made::{Board, Made, Stretch, kept, root};
use super::super::{in_parallel, pieces};
use super::lay::words;
use fullsize::geometry::{Affine, Lies, Path, Point};
use fullsize::pattern::Pattern;

/// What a sheet says, in one line.
fn said(sheet: &Pattern) -> String {
    let all: Vec<&str> = words(&sheet.items).into_iter().map(|(said, _)| said).collect();
    all.join(" ")
}

/// Whether parts of both hands are made of a board.
fn has_two_hands(board: &Board) -> bool {
    [false, true].iter().all(|hand| board.places.iter().any(|(_, at)| at.is_mirrored() == *hand))
}

/// The templates for the router of a board, by its own name.
fn templates<'a>(made: &'a Made, board: &Board) -> Vec<&'a Pattern> {
    let head = format!("{}, ", board.label);
    let is_one = |sheet: &&Pattern| {
        let what = sheet.part.name.strip_prefix(&head).unwrap_or("");
        ["template blank", "collar template", "saw line"].iter().any(|kind| what.starts_with(kind))
    };
    made.sheets.iter().filter(is_one).collect()
}

/// The rim of a board's face side or of its far side, as it is seen from there, by what each stretch is called.
fn rim<'b>(board: &'b Board, side: usize) -> Vec<(&'b str, Path)> {
    let seen = |stretch: &Stretch| {
        let path = Path::open(vec![stretch.segment]);
        match side {
            0 => path,
            _ => path.transformed(Affine::FLIP_X),
        }
    };
    board.rims[side].iter().map(|stretch| (stretch.name.as_str(), seen(stretch))).collect()
}

/// A name on a sheet stands nearer to what it names than to any other stretch of the part's rim.
fn stands_at(rim: &[(&str, Path)], name: &str, at: Point) -> bool {
    let off = |path: &Path| path.nearest(at).map_or(f64::MAX, |found| found.0);
    let nearest = rim.iter().min_by(|a, b| off(&a.1).total_cmp(&off(&b.1)));
    nearest.is_some_and(|(own, _)| *own == name)
}

/// What is missing on a template: told for either hand by face and by side, with the feed of each, the ends and the edges at their places.
fn wanting(board: &Board, sheet: &Pattern) -> Vec<String> {
    let (all, two) = (said(sheet), has_two_hands(board));
    let is_blank = sheet.part.name.contains("template blank");
    let far = all.contains("lies on the far side");
    let face = if far { format!("far side ({})", board.sides[1]) } else { format!("face side ({})", board.sides[0]) };
    let mut wanted = match two {
        true => vec![
            format!("as drawn: on the {face}, this side away from the wood"),
            format!("mirrored: on the {face}, this side to the wood"),
        ],
        false => vec![format!("lies on the {face}, this side away from the wood")],
    };
    if is_blank {
        wanted.push("feed the router this way".to_owned());
        if two {
            wanted.extend(["full arrows", "dashed arrows"].map(str::to_owned));
        }
    } else if sheet.part.name.contains("collar") {
        wanted.push("feed the router ".to_owned());
        wanted.push("clockwise".to_owned());
    }
    let mut missing: Vec<String> = wanted.into_iter().filter(|wanted| !all.contains(wanted.as_str())).collect();
    let rim = rim(board, usize::from(far));
    let places = words(&sheet.items);
    // Of a blank its own edges and the ends beyond them; of what goes round a part all.
    let followed = all.split("for the ").nth(1).unwrap_or("");
    let mut names: Vec<&str> = rim.iter().map(|(name, _)| *name).collect();
    names.dedup();
    for name in names.into_iter().filter(|name| !name.ends_with(" landing") && *name != "corner") {
        let is_end = board.cuts.iter().any(|cut| cut.place == name && cut.is_end);
        if is_blank && !is_end && !followed.starts_with(name) && !followed.contains(&format!(" the {name}")) {
            continue;
        }
        let own = places.iter().filter(|(said, _)| *said == name || said.starts_with(&format!("{name} of part")));
        let own: Vec<Point> = own.map(|(_, at)| *at).collect();
        let told = if is_blank { !own.is_empty() } else { own.iter().any(|at| stands_at(&rim, name, *at)) };
        if !told {
            missing.push(format!("{name} at its place"));
        }
    }
    missing
}

/// What is missing on the paper of an end, a strip or an edge of a top: the side that goes to the wood for each hand, and the names at it.
fn wanting_stuck(board: &Board, sheet: &Pattern, is_end: bool) -> Vec<String> {
    let (all, two) = (said(sheet), has_two_hands(board));
    let mut missing = Vec::new();
    if !all.contains("this side away from the wood") {
        missing.push("the side away from the wood".to_owned());
    }
    if two != all.contains("turned over, this side to the wood") {
        missing.push("what is turned over".to_owned());
    }
    let places = words(&sheet.items);
    let has = |name: &str| places.iter().any(|(said, _)| *said == name);
    if !board.sides.iter().any(|side| has(side)) {
        missing.push("a face".to_owned());
    }
    if is_end {
        // The rim of an end meets edges or tapers between the faces: one of them has its name there.
        let edges = board.rims.iter().flatten().map(|stretch| stretch.name.as_str());
        let cuts = board.cuts.iter().map(|cut| cut.place.as_str());
        if !edges.chain(cuts).any(has) {
            missing.push("an edge".to_owned());
        }
    } else if board.cuts.iter().filter(|cut| has(&cut.place)).count() < 2 {
        missing.push("both ends".to_owned());
    }
    missing
}

/// What is missing on the sheets of a piece, and how many templates and how many papers to stick on were asked.
fn ask(made: &Made) -> (Vec<String>, [usize; 2]) {
    let (mut missing, mut asked) = (Vec::new(), [0; 2]);
    for board in made.boards().iter().filter(|board| board.solved.turned.is_none()) {
        let mut tell = |sheet: &Pattern, wanting: Vec<String>| {
            let name = &sheet.part.name;
            missing.extend(wanting.into_iter().map(|what| format!("{}, {name}: no {what}", made.name)));
        };
        for sheet in templates(made, board) {
            tell(sheet, wanting(board, sheet));
            asked[0] += 1;
        }
        for (is_end, sheets) in [(true, board.ends(made)), (false, board.strips(made))] {
            for sheet in &sheets {
                tell(sheet, wanting_stuck(board, sheet, is_end));
                asked[1] += 1;
            }
        }
    }
    (missing, asked)
}

/// Templates, ends and strips of demos and kept files, and ends and strips of all random pieces.
#[test]
fn every_template_end_and_strip_says_how_it_lies_for_either_hand() {
    let folders = ["templates-demo", "fixtures/good", "fixtures/codes", "fixtures/names"];
    let entries = folders.iter().flat_map(|folder| std::fs::read_dir(root().join(folder)).expect("a folder"));
    let mut files: Vec<_> = entries.map(|entry| entry.expect("an entry").path()).collect();
    files.retain(|path| path.extension().is_some_and(|kind| kind == "json"));
    files.sort();
    let kept = in_parallel(&files, |path| kept(path).map(|made| ask(&made)));
    let random = pieces().iter().map(|made| Some(ask(made)));
    let (mut missing, mut asked) = (Vec::new(), [0; 2]);
    for (own, counts) in kept.into_iter().chain(random).flatten() {
        missing.extend(own);
        asked = [asked[0] + counts[0], asked[1] + counts[1]];
    }
    assert!(missing.is_empty(), "{}:\n{}", missing.len(), missing.join("\n"));
    assert!(asked[0] > 8 && asked[1] > 100, "{asked:?}");
}

/// The small sheets for fastenings and what is laid on a face: where a sheet is laid on wood its words tell the side that goes to it.
#[test]
fn every_small_sheet_that_is_laid_on_wood_says_which_side_goes_to_it() {
    let mut asked = 0;
    for name in ["potting_bench", "porch_bench", "kindling_box", "tea_table", "harbour_console"] {
        let made = kept(&root().join(format!("fixtures/good/{name}.json"))).expect("a piece");
        let kinds = ["fastener slots", "screw holes", "pockets", "mortises for buttons"];
        let own = made.sheets.iter().filter(|sheet| kinds.iter().any(|kind| sheet.part.name.ends_with(kind)));
        for sheet in own {
            assert_eq!(sheet.items.lies(), Lies::OnTheWood, "{}", sheet.part.name);
            let all = said(sheet);
            assert!(all.contains("this side away from the wood"), "{name}, {}: {all}", sheet.part.name);
            asked += 1;
        }
    }
    assert!(asked > 8, "{asked}");
}
