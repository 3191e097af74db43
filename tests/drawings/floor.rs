//! A pile of sheets on the floor: each says whose it is, where it lies, and how its print is checked.

use crate::common::prints::{Print, jobs, laid, on};
use crate::common::program::program;
use crate::common::shop::Shop;
use fullsize::geometry::{Path, Point, Rect, Segment};
use fullsize::job::{Job, NamedPattern};
use fullsize::layout::{Sheet, TiledPattern};
use fullsize::model::{Paper, RuleBar};
use fullsize::page::{About, Item, Page, Role, Shape, Text};
use fullsize::project::{Shops, read_in, read_with};
use fullsize::units::Units;
use fullsize::write::{PdfOptions, pdf};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;

fn codes(patterns: &[NamedPattern]) -> Vec<(String, String)> {
    patterns.iter().map(|one| (one.pattern.part.name.clone(), one.pattern.part.code.clone())).collect()
}

fn texts(page: &Page) -> impl Iterator<Item = &Text> {
    page.items.iter().filter_map(|item| match &item.shape {
        Shape::Text(text) => Some(text),
        _ => None,
    })
}

/// What stays of a sheet, on its page.
fn cell(plan: &TiledPattern, sheet: &Sheet) -> Rect {
    sheet.to_page.transform_rect_bbox(plan.grid.cell(sheet.row, sheet.column))
}

#[test]
fn every_pattern_of_a_piece_has_a_code_of_its_own_whichever_are_printed() {
    for (name, job) in jobs() {
        let all = codes(job.patterns().expect("patterns"));
        let apart: BTreeSet<&String> = all.iter().map(|(_, code)| code).collect();
        assert_eq!(apart.len(), all.len(), "{name}: {all:?}");
        for (part, code) in &all {
            let alone = job.patterns_named(std::slice::from_ref(part)).unwrap_or_default();
            let codes: Vec<&String> = alone.iter().map(|pattern| &pattern.part.code).collect();
            // An end has its board's name, and is asked for by it.
            assert!(codes.is_empty() || codes.contains(&code), "{name}, {part}: {code} is not among {codes:?}");
        }
    }
}

#[test]
fn a_part_keeps_its_code_when_others_are_added_and_changed() {
    let file = |parts: &[&str]| {
        let part = |name: &&str| format!(r#""{name}": {{ "thickness": 9, "outline": {{ "circle": 90 }} }}"#);
        let parts: Vec<String> = parts.iter().map(part).collect();
        format!(r#"{{ "fullsize": 1, "title": "Toy", "units": "mm", "patterns": {{ {} }} }}"#, parts.join(", "))
    };
    let codes_of = |text: &str| {
        let project = read_with("toy.json", text.as_bytes(), None, None, &|_| Err(String::new())).project;
        codes(Job::new(project.expect("good")).patterns().expect("patterns"))
    };
    let few = codes_of(&file(&["leg", "left leg", "lid"]));
    assert_eq!(few.iter().map(|(_, code)| code.as_str()).collect::<Vec<_>>(), ["L", "LL", "LI"]);
    let more = codes_of(&file(&["leg", "left leg", "lid", "ledge", "lower lid"]));
    assert_eq!(few[..], more[..few.len()]);
    assert_eq!(few, codes_of(&file(&["leg", "left leg", "lid"]).replace("90", "120")));
}

#[test]
fn no_two_places_of_a_print_share_a_name() {
    for Print { name, sheets, .. } in on("a4") {
        let mut places: BTreeMap<String, Point> = BTreeMap::new();
        let mut named: BTreeSet<String> = BTreeSet::new();
        for plan in sheets.manifest.patterns.iter().flatten() {
            let crosses = plan.seams.iter().flat_map(|seam| &seam.crosses);
            for cross in crosses.chain(plan.diagonals.iter().flat_map(|(a, b)| [a, b])) {
                assert!(places.insert(cross.name.clone(), cross.at).is_none(), "{name}: two crosses {}", cross.name);
            }
            for sheet in &plan.sheets {
                assert!(named.insert(sheet.code()), "{name}: two sheets {}", sheet.code());
            }
        }
    }
}

/// The plate of a part says each thing on a line of its own: what runs on behind a dot is read as one. What a thing is made of, and which
/// print it is, go with the line that they belong to.
#[test]
fn each_statement_of_a_plate_has_a_line_of_its_own() {
    let mut plates = 0;
    for Print { name, sheets, document, .. } in on("a4") {
        for (index, pattern) in sheets.patterns.iter().enumerate() {
            let Some(plan) = &sheets.manifest.patterns[index] else { continue };
            let label = |text: &Text| text.label.as_ref().is_some_and(|label| label.about == About::Part);
            let mut said: Vec<&str> = Vec::new();
            let mut more = 0;
            for item in pattern.items.iter() {
                let Shape::Text(text) = &item.shape else { continue };
                if label(text) {
                    more = text.label.as_ref().map_or(0, |label| label.more) + 1;
                }
                if more > 0 {
                    said.push(&text.content);
                    more -= 1;
                }
            }
            plates += usize::from(!said.is_empty());
            for sheet in &plan.sheets {
                for text in texts(&document.pages[sheet.page]).filter(|text| text.content.contains(" · ")) {
                    let parts: Vec<&str> = text.content.split(" · ").collect();
                    let own = |part: &&str| said.iter().filter(|line| line.len() > 3 && *line == part).count();
                    let run: usize = parts.iter().map(own).sum();
                    let is_stamp =
                        text.content.starts_with(&sheet.code()) || parts.contains(&pattern.part.name.as_str());
                    assert!(run < 2 || is_stamp, "{name}, {}: {}", pattern.part.name, text.content);
                }
            }
        }
    }
    assert!(plates > 40, "{plates}");
}

/// The arrow of a bevel stands across the line of its cut, and its words on a sheet that shows it.
#[test]
fn words_of_a_bevel_stand_on_the_sheet_of_its_arrow() {
    let mut told = 0;
    for Print { name, sheets, document, .. } in on("a4") {
        for (index, pattern) in sheets.patterns.iter().enumerate() {
            let Some(plan) = &sheets.manifest.patterns[index] else { continue };
            let mut shaft: Option<(Point, Point)> = None;
            for item in pattern.items.iter() {
                match &item.shape {
                    Shape::Stroke { path, .. } if item.role == Role::Mark => {
                        let ends = path.start().zip(path.end()).filter(|_| path.segments().len() == 1);
                        shaft = ends.filter(|(from, to)| (from.distance(*to) - 12.0).abs() < 1e-6).or(shaft);
                    }
                    Shape::Text(text) if text.content.starts_with("bevel ") => {
                        let Some((from, to)) = shaft.take() else { continue };
                        let shows = |sheet: &Sheet| {
                            let page = &document.pages[sheet.page];
                            let stays = cell(plan, sheet).inflate(1.5, 1.5);
                            let own = page.items.iter().filter(|item| item.part == Some(index));
                            let says = own.into_iter().any(
                                |item| matches!(&item.shape, Shape::Text(said) if said.content.contains(&text.content)),
                            );
                            // Its middle third crosses the cut.
                            says && stays.contains(sheet.to_page * from.lerp(to, 1.0 / 3.0))
                        };
                        assert!(plan.sheets.iter().any(shows), "{name}, {}: {}", pattern.part.name, text.content);
                        told += 1;
                    }
                    _ => {}
                }
            }
        }
    }
    assert!(told > 30, "{told}");
}

/// What a foreign reader finds on each page of the PDF: the sheet's code, and its page.
#[test]
fn page_and_map_name_the_page_that_they_are_printed_on() {
    for paper in ["a4", "roll:610mm"] {
        for Print { name, sheets, document, .. } in on(paper) {
            let bytes = pdf(document, &PdfOptions::default()).expect("a PDF");
            let read = lopdf::Document::load_mem(&bytes).expect("readable");
            let pages = read.get_pages().len();
            let maps: Vec<u32> = (1..=sheets.manifest.map_pages as u32).collect();
            let maps = read.extract_text(&maps).expect("words");
            for (pattern, plan) in sheets.patterns.iter().zip(&sheets.manifest.patterns) {
                let plan = plan.as_ref().expect("sheets");
                let map = format!("{}: {}", pattern.part.code, pattern.part.name);
                assert!(maps.contains(&map), "{name} on {paper}: no map of {map}");
                for sheet in &plan.sheets {
                    let page = sheet.page as u32 + 1;
                    let words = read.extract_text(&[page]).expect("words");
                    let code = format!("{} {}-{}", pattern.part.code, sheet.row + 1, sheet.column + 1);
                    for said in [&code, &format!("page {page} of {pages}"), &pattern.part.revision] {
                        assert!(words.contains(said), "{name} on {paper}, {code}: no \"{said}\"");
                    }
                }
                let (first, last) = (plan.sheets[0].page + 1, plan.sheets[plan.sheets.len() - 1].page + 1);
                let told = if first == last { format!("page {first}") } else { format!("pages {first} to {last}") };
                assert!(maps.contains(&told), "{name} on {paper}: the map does not say {told}");
            }
        }
    }
}

/// Strokes and words of a page, as boxes of short pieces.
fn inked(items: &[&Item], wanted: Rect) -> bool {
    items.iter().any(|item| match &item.shape {
        Shape::Stroke { path, .. } => passes(path, wanted),
        Shape::Text(text) => text.bounding_box().overlaps(wanted),
        Shape::Fill { rings, .. } => rings.iter().filter_map(Path::bounding_box).any(|b| b.overlaps(wanted)),
    })
}

fn passes(path: &Path, wanted: Rect) -> bool {
    path.segments().iter().filter(|segment| segment.bounding_box().inflate(0.1, 0.1).overlaps(wanted)).any(
        |segment| {
            let looks = (segment.length() / 0.2).ceil().max(1.0) as usize;
            (0..=looks).any(|k| wanted.contains(segment.eval(k as f64 / looks as f64)))
        },
    )
}

/// What is left of a sheet when its strips are cut away still says whose it is, and lies on nothing.
#[test]
fn a_trimmed_sheet_says_whose_it_is_clear_of_everything() {
    let (mut silent, mut short, mut all) = (Vec::new(), 0, 0);
    for paper in ["a4"] {
        for Print { name, sheets, document, .. } in on(paper) {
            for (pattern, plan) in sheets.patterns.iter().zip(sheets.manifest.patterns.iter().flatten()) {
                for sheet in &plan.sheets {
                    let (page, stays) = (&document.pages[sheet.page], cell(plan, sheet));
                    let inside = |text: &&Text| stays.contains_rect(text.bounding_box());
                    let own = |text: &&Text| text.content.starts_with(&sheet.code()) && inside(text);
                    all += 1;
                    let Some(code) = texts(page).find(own) else {
                        silent.push(format!("{name} on {paper}: {}", sheet.code()));
                        continue;
                    };
                    let said = |words: &str| {
                        texts(page).filter(|text| inside(text)).any(|text| text.content.contains(words))
                    };
                    short +=
                        usize::from(!(said(&format!("page {} of", sheet.page + 1)) && said(&pattern.part.revision)));
                    let others: Vec<&Item> =
                        page.items.iter().filter(|item| item.part.is_some() || beside(item)).collect();
                    assert!(
                        !inked(&others, code.bounding_box()),
                        "{name} on {paper}: {} lies on something",
                        sheet.code()
                    );
                }
            }
        }
    }
    assert!(all > 400, "{all}");
    assert!(silent.is_empty(), "{} of {all} sheets are nameless once trimmed: {silent:#?}", silent.len());
    assert!(short * 20 <= all, "{short} of {all} sheets say no more than their code");
}

/// What is left of a sheet still says what its solid line is and, at an arrow, which way it lies.
#[test]
fn a_trimmed_sheet_says_what_its_solid_line_is_and_which_way_it_lies() {
    let (mut unsaid, mut wayless, mut all) = (Vec::new(), Vec::new(), 0);
    for Print { name, sheets, document, .. } in on("a4") {
        for (pattern, plan) in sheets.patterns.iter().zip(sheets.manifest.patterns.iter().flatten()) {
            let of_ways = pattern.items.iter().filter_map(|item| match &item.shape {
                Shape::Text(text) => text
                    .label
                    .as_ref()
                    .filter(|label| label.about == About::Way && label.again)
                    .map(|_| &text.content),
                _ => None,
            });
            let ways: Vec<&String> = of_ways.collect();
            let is_made =
                pattern.items.iter().any(|item| matches!(&item.shape, Shape::Text(text) if text.label.is_some()));
            for sheet in &plan.sheets {
                let stays = cell(plan, sheet);
                let inside =
                    || texts(&document.pages[sheet.page]).filter(|text| stays.contains_rect(text.bounding_box()));
                all += 1;
                if !inside().any(|text| text.content.contains("solid = ")) {
                    unsaid.push(format!("{name}: {}", sheet.code()));
                }
                if is_made && !inside().any(|text| ways.contains(&&text.content) || text.content == "this way up") {
                    wayless.push(format!("{name}: {}", sheet.code()));
                }
            }
        }
    }
    assert!(all > 400, "{all}");
    assert!(unsaid.is_empty(), "{} of {all}: {unsaid:?}", unsaid.len());
    assert!(wayless.is_empty(), "{} of {all}: {wayless:?}", wayless.len());
}

/// A centre line is named on each sheet on which a stretch of it is seen.
#[test]
fn centre_lines_are_named_on_every_sheet() {
    let (mut nameless, mut all) = (Vec::new(), 0);
    for Print { name, sheets, document, .. } in on("a4") {
        for (pattern, plan) in sheets.patterns.iter().zip(sheets.manifest.patterns.iter().flatten()) {
            let lines = pattern.items.iter().filter_map(|item| match &item.shape {
                Shape::Text(text) => {
                    match text.label.as_ref().filter(|label| label.again).map(|label| &label.about) {
                        Some(About::Along(path)) => Some((&text.content, path)),
                        _ => None,
                    }
                }
                _ => None,
            });
            for (said, path) in lines {
                for sheet in &plan.sheets {
                    let stays = cell(plan, sheet);
                    let steps = path.length().ceil() as usize;
                    let at = |k: usize| path.segments()[0].eval(k as f64 / steps as f64);
                    let seen = (0..=steps).filter(|k| stays.contains(sheet.to_page * at(*k))).count();
                    if seen < 30 {
                        continue;
                    }
                    all += 1;
                    let inside = |text: &Text| stays.contains_rect(text.bounding_box());
                    if !texts(&document.pages[sheet.page]).any(|text| text.content == *said && inside(text)) {
                        nameless.push(format!("{name}: {}: {said}", sheet.code()));
                    }
                }
            }
        }
    }
    assert!(all > 20, "{all}");
    // A line on which a seam runs bears its name on one side of the seam.
    assert!(nameless.len() <= 3, "{} of {all}: {nameless:?}", nameless.len());
}

/// What stands on a sheet beside the pattern.
fn beside(item: &Item) -> bool {
    matches!(item.role, Role::Registration | Role::Trim | Role::Datum)
}

/// The words at the end of every bar on a page, and how long the longest line of its role beside them is, mm.
fn bars(page: &Page) -> BTreeMap<bool, f64> {
    let mut found = BTreeMap::new();
    for item in page.items.iter().filter(|item| item.role == Role::Scale) {
        if let Shape::Stroke { path, .. } = &item.shape {
            let size = path.bounding_box().unwrap().size();
            let (up, long) = (size.height > size.width, size.width.max(size.height));
            let known: &mut f64 = found.entry(up).or_default();
            *known = known.max(long);
        }
    }
    found.retain(|_, long| *long > 50.0);
    found
}

#[test]
fn every_sheet_has_both_bars_as_long_as_it_holds() {
    for paper in ["letter", "roll:610mm"] {
        for Print { name, sheets, document, .. } in on(paper) {
            for plan in sheets.manifest.patterns.iter().flatten() {
                for sheet in &plan.sheets {
                    let found = bars(&document.pages[sheet.page]);
                    // In the pattern's own millimetres: what a printer's error stretches is stretched with the pattern.
                    let [x, _, _, y, ..] = sheet.to_page.as_coeffs();
                    for (up, room, scale) in [(false, sheet.clip.width(), x), (true, sheet.clip.height(), y)] {
                        let long = found.get(&up).copied().unwrap_or_default() / scale;
                        let holds = RuleBar::ALL.iter().map(|bar| f64::from(bar.inches) * 25.4);
                        let holds = holds.filter(|bar| bar + 15.0 <= room / scale + 1e-9).fold(0.0, f64::max);
                        let is_it = long > 101.0 && (long - holds).abs() < 1e-6;
                        assert!(is_it, "{name} on {paper}, {}: {long} of {holds}", sheet.code());
                    }
                }
            }
            let first = texts(&document.pages[0]).map(|text| text.content.as_str()).collect::<Vec<_>>().join(" ");
            let own = bars(&document.pages[0]);
            for (_, long) in own {
                let near = |bar: &&RuleBar| (f64::from(bar.inches) * 25.4 / long - 1.0).abs() < 0.1;
                let bar = RuleBar::ALL.iter().find(near).unwrap();
                assert!(
                    first.contains(&format!("{} mm", bar.mm)),
                    "{name} on {paper}: page 1 tells no bar of {} mm",
                    bar.mm
                );
            }
        }
    }
}

/// On a roll, and where one sheet holds all, the print is measured from end to end.
#[test]
fn a_pattern_on_one_sheet_has_check_marks_at_full_length() {
    let (mut without, mut all) = (Vec::new(), 0);
    for paper in ["a4", "roll:610mm"] {
        for Print { name, sheets, .. } in on(paper) {
            for (pattern, plan) in sheets.patterns.iter().zip(sheets.manifest.patterns.iter().flatten()) {
                all += 1;
                let long = plan.sheets.iter().map(|sheet| plan.grid.cell(sheet.row, sheet.column));
                let long = long.reduce(|a, b| a.union(b)).unwrap();
                let reach = plan.diagonals.iter().map(|(a, b)| a.at.distance(b.at)).fold(0.0, f64::max);
                if reach < 0.75 * long.width().hypot(long.height()) {
                    without.push(format!("{name} on {paper}: {}, {reach:.0}", pattern.part.name));
                }
            }
        }
    }
    assert!(all > 100 && without.len() * 20 <= all, "{} of {all}: {without:#?}", without.len());
}

/// Each bar says how it lies as the sheet is held. The bar that is told as across is as long as the printer's correction across makes it, whichever way the page lies.
#[test]
fn each_bar_bears_the_name_of_the_reading_that_it_gives() {
    let (mut broad, mut upright) = (0, 0);
    for paper in ["a4", "roll:610mm"] {
        for (name, mut job) in jobs().into_iter().take(8) {
            job.set_paper(Paper::read(paper, Units::Mm).unwrap());
            let mut project = job.project().clone();
            (project.shop.printer.across.0, project.shop.printer.up.0) = (1.004, 0.997);
            let job = Job::new(project);
            let sheets = laid(&job);
            for page in sheets.document().pages {
                let bars = bars(&page);
                for text in texts(&page).filter(|text| text.content.contains(": \"bar ")) {
                    let (lies, told) = text.content.split_once(": ").expect("two");
                    let stands = text.angle != 0.0;
                    assert_eq!(lies, if stands { "stands" } else { "lies" });
                    let long = bars[&stands];
                    let factors = RuleBar::ALL.iter().map(|bar| long / (f64::from(bar.inches) * 25.4));
                    let factor = factors.into_iter().find(|factor| (factor - 1.0).abs() < 0.01);
                    let expected = if told == "\"bar across\"" { 1.004 } else { 0.997 };
                    assert!(
                        factor.is_some_and(|factor| (factor - expected).abs() < 1e-3),
                        "{name} on {paper}, {}: {} {long}",
                        page.name,
                        text.content
                    );
                    let is_broad = (told == "\"bar across\"") == stands;
                    *(if is_broad { &mut broad } else { &mut upright }) += 1;
                }
            }
        }
    }
    assert!(broad > 40 && upright > 40, "{broad}, {upright}");
}

#[test]
fn a_reading_is_of_the_bar_that_it_is_near_to() {
    let across = |reading: &str| {
        let text = format!(
            r#"{{ "fullsize": 1, "title": "t", "units": "mm", "shop": {{ "printer": {{ "bar_across": "{reading}" }} }},
                "patterns": {{ "disc": {{ "thickness": 9, "outline": {{ "circle": 90 }} }} }} }}"#
        );
        let read = read_with("t.json", text.as_bytes(), None, None, &|_| Err(String::new()));
        read.project.map(|project| project.shop.printer.across.0)
    };
    for (reading, factor) in
        [("99.4 mm", 100.0 / 99.4), ("149.1 mm", 150.0 / 149.1), ("201 mm", 200.0 / 201.0), ("5.964 in", 6.0 / 5.964)]
    {
        let found = across(reading).expect("a reading");
        assert!((found - factor).abs() < 1e-12, "{reading}: {found}");
    }
    assert_eq!(across("120 mm"), None);
    // No reading is within a tenth of two bars.
    for (a, b) in RuleBar::ALL.iter().zip(&RuleBar::ALL[1..]) {
        assert!(
            f64::from(a.mm) * 1.1 < f64::from(b.mm) * 0.9
                && f64::from(a.inches) * 1.1 < f64::from(b.inches) * 0.9 + 1e-9
        );
    }
}

/// What page 1 and the proof sheet say is to be typed does what it says: into the person's own shop file, unless the piece itself says
/// what its bars read, which would go before that.
#[test]
fn the_command_that_page_one_tells_writes_the_reading() {
    let bench = include_str!("../../templates-demo/hall_bench.json");
    let stool = include_str!("../../templates-demo/saddle_stool.json");
    let own = bench.replacen("\"shop\": {", "\"shop\": { \"printer\": { \"bar_up\": \"200 mm\" },", 1);
    assert_ne!(own, bench);
    let files = [(bench, "shop"), (stool, "shop"), (own.as_str(), "set FILE")];
    for (made, (file, command)) in ["print", "proof"].into_iter().flat_map(|made| files.map(|file| (made, file))) {
        let shop = Shop::new();
        shop.file("piece.json", file);
        let run = |line: &[&str]| {
            let mut run = program();
            run.env("FULLSIZE_SHOP", shop.path("own.json")).args(line).current_dir(shop.path(""));
            let done = run.output().expect("it runs");
            assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
        };
        let pdf = format!("{made}.pdf");
        run(&[made, "piece.json", "-o", &pdf]);
        let words = || {
            let read = lopdf::Document::load(shop.path(&pdf)).expect("readable");
            let words = read.extract_text(&[1]).expect("words");
            words.split_whitespace().collect::<Vec<_>>().join(" ")
        };
        let before = words();
        let (_, told) = before.split_once(&format!("fullsize {command} ")).expect("a command");
        let reading = told.split('"').nth(1).expect("a reading");
        match command {
            "shop" => run(&["shop", reading]),
            _ => run(&["set", "piece.json", reading]),
        }
        let [piece, own] = ["piece.json", "own.json"].map(|name| fs::read(shop.path(name)).ok());
        let own = own.as_deref().map(|bytes| ("own.json", bytes));
        let read = read_in("p", &piece.expect("a file"), Shops { own, named: None }, None, &|_| Err(String::new()));
        let across = read.project.expect("good").shop.printer.across.0;
        assert!((across - 1.0 / 0.994).abs() < 1e-3, "{made}, {reading}: {across}");
        // Printed again, it says so.
        run(&[made, "piece.json", "-o", &pdf]);
        assert!(words().contains("This print is corrected, as "), "{}", words());
    }
}

/// The head of a sheet calls its solid line an edge only where something is cut out.
#[test]
fn sheets_on_which_nothing_is_cut_speak_of_no_finished_edge() {
    let mut asked = 0;
    for (name, job) in jobs() {
        for NamedPattern { pattern, .. } in job.patterns().expect("patterns") {
            let cuts = pattern.items.iter().any(|item| matches!(item.role, Role::Outline | Role::Opening));
            let said = pattern.solid.words(&job.project().notation);
            asked += usize::from(!cuts);
            assert_eq!(cuts, said != "line to set a gauge by", "{name}: {}: {said}", pattern.part.name);
        }
    }
    assert!(asked > 5, "{asked}");
}

/// Small patterns are set together on one sheet, so that none of them is cut by a seam.
#[test]
fn small_patterns_lie_together_on_one_sheet() {
    let mut asked = 0;
    for paper in ["a4", "letter", "a5"] {
        for Print { name, sheets, own, .. } in on(paper) {
            let laid = sheets.patterns.iter().zip(&sheets.manifest.patterns);
            for (pattern, plan) in laid.filter(|(pattern, _)| !own.contains(&pattern.part.name)) {
                let count = plan.as_ref().expect("a plan").sheets.len();
                assert_eq!(count, 1, "{name} on {paper}: {}: {}", pattern.part.name, pattern.make);
                asked += 1;
            }
        }
    }
    assert!(asked > 60, "{asked}");
}

/// A straight line of the pattern that runs beside a seam may be taken for it, and cut. Where many lines run both ways, as under a top,
/// some are left: their sheets have no room to spare by which seams could move, and more sheets are not taken for it.
#[test]
fn few_lines_of_a_part_run_beside_a_seam() {
    let (mut beside, mut seams) = (Vec::new(), 0);
    for paper in ["a4", "letter"] {
        for Print { name, sheets, .. } in on(paper) {
            for (pattern, plan) in sheets.patterns.iter().zip(sheets.manifest.patterns.iter().flatten()) {
                for seam in &plan.seams {
                    seams += 1;
                    let [a, b] = [&seam.crosses[0], &seam.crosses[1]].map(|cross| cross.at);
                    let way = (b - a).normalize();
                    let runs_beside = |piece: &Segment| {
                        let Segment::Line(line) = piece else { return false };
                        let [from, to] = [line.p0 - a, line.p1 - a];
                        let near = way.cross(from).abs().max(way.cross(to).abs()) < 7.0;
                        let (low, high) = (from.dot(way).min(to.dot(way)), from.dot(way).max(to.dot(way)));
                        near && high.min((b - a).dot(way)) - low.max(0.0) > 60.0
                    };
                    let strokes = pattern.items.iter().filter_map(|item| match &item.shape {
                        Shape::Stroke { path, .. } => Some(path),
                        _ => None,
                    });
                    if strokes.flat_map(|path| path.segments().to_vec()).any(|piece| runs_beside(&piece)) {
                        beside.push(format!("{name} on {paper}: {} {}", pattern.part.name, seam.letters));
                    }
                }
            }
        }
    }
    assert!(
        beside.len() <= 20 && beside.iter().all(|where_it| !where_it.starts_with("planter")),
        "{} of {seams}: {beside:?}",
        beside.len()
    );
}
