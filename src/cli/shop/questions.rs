//! What is asked about a shop, and the file that the answers make.

use super::bars::{Bars, TellBy};
use super::measured::Way;
use crate::cli::ask::{Answers, Conversation, Question, Tried, choice};
use crate::cli::load::Stopped;
use crate::cli::new::papers;
use crate::finding::Severity;
use crate::model::Paper;
use crate::project::{Reading, read_shop};
use crate::units::{Sum, Units, with_points};
use serde_json::{Map, Value, json};

/// The most cutters, and the most collars, that are asked for; `shop NAME=VALUE` adds more.
const MOST: usize = 12;

/// What is answered where there is nothing of a kind.
const NONE: &str = "none";

/// What is answered where a bar is as long as it says.
const TRUE: &str = "true";

/// The questions about a shop.
pub struct AboutShop;

impl Conversation for AboutShop {
    fn questions(&self, answers: &Answers) -> Vec<Question<'_>> {
        let units = units(answers);
        let mut all = vec![
            Question {
                accept: choice(vec!["mm".to_owned(), "in".to_owned()]),
                ..question(
                    "units",
                    "Units of your rule: 1 mm, 2 in",
                    "mm",
                    "What a number without a unit is in this file. The file of a piece has units of its own.",
                )
            },
            question("paper", "Paper in your printer", &Paper::usual(units).name(), papers(units)),
            bar(Way::Across, answers),
            bar(Way::Up, answers),
        ];
        (1..=MOST)
            .take_while(|n| is_asked(answers, "cutter", *n))
            .for_each(|n| all.extend(cutter(n, answers, units)));
        (1..=MOST)
            .take_while(|n| is_asked(answers, "collar", *n))
            .for_each(|n| all.extend(collar(n, answers, units)));
        let eighth = in_units(units, "3", "1/8");
        all.push(question(
            "saw",
            "Saw: what a rough board has more on each long edge, for the kerf and for planing it straight",
            eighth,
            "The schedule adds it to each long edge of a rough blank; 0 or none where you buy boards sawn to width.",
        ));
        all.push(question(
            "plane",
            "Planer: what it takes off each face of a rough board",
            eighth,
            "The schedule adds it to each face of a rough blank; 0 or none where you buy boards planed.",
        ));
        all.push(question(
            "ends",
            "Ends: what a rough board has more at each end, for checks and for sawing it square",
            in_units(units, "15", "1/2"),
            "The schedule adds it to both ends of a rough blank; 0 or none where your boards come sawn to length.",
        ));
        all.extend(mortiser(answers, units));
        all
    }

    fn tried(&mut self, answers: &Answers, name: &str, is_meant: bool) -> Result<Tried, Stopped> {
        if let (false, Some(why)) = (is_meant, doubted_bar(answers, name)) {
            return Ok(Tried::Doubted(why));
        }
        if let Some(why) = named_twice(answers, name) {
            return Ok(Tried::Refused(why));
        }
        let Reading { findings, sources, .. } = read_shop("the shop file", text(answers).as_bytes());
        Ok(match findings.iter().find(|finding| finding.severity == Severity::Stop) {
            // No answer to a later question mends it, so that there is no keeping it.
            Some(stop) => Tried::Refused(stop.said(&sources.notation()).in_one_line()),
            None => Tried::Fits(None),
        })
    }
}

/// That a cutter, or a collar, is called as one before it: in the file the later would take the place of the other.
fn named_twice(answers: &Answers, name: &str) -> Option<String> {
    let (what, n) = name.split_once(' ').filter(|(what, _)| ["cutter", "collar"].contains(what))?;
    let n: usize = n.parse().ok()?;
    let called = answers.get(name).filter(|called| *called != NONE)?;
    let is_taken = (1..=MOST).any(|other| other != n && answers.get(&format!("{what} {other}")) == Some(called));
    is_taken.then(|| {
        format!("There is a {what} {called} already: give this one another name, or {NONE}; back leads to that one.")
    })
}

/// Why what was answered can hardly be read on the bar that is asked about.
fn doubted_bar(answers: &Answers, name: &str) -> Option<String> {
    let way = match name {
        "across" => Way::Across,
        "up" => Way::Up,
        _ => return None,
    };
    let reading = answers.get(name).filter(|answer| *answer != TRUE)?;
    let project = read_shop("the shop file", text(&answers.without(name)).as_bytes()).project?;
    let bars = Bars::of(&project.shop, &project.notation, TellBy::Answer);
    bars.believe(way, reading).err().map(|why| format!("{why}."))
}

/// A question whose answer is taken as it is, and tried in the file.
fn question<'q>(name: &str, ask: &str, default: &str, help: &str) -> Question<'q> {
    // What is no number has no comma between digits, but a paper's sides: these are read alike.
    let accept =
        Box::new(|answer: &str| with_points(answer).map_err(|fault| format!("{}.", fault.kind.said().in_one_line())));
    Question {
        name: name.to_owned(),
        ask: ask.to_owned(),
        default: default.to_owned(),
        help: help.to_owned(),
        accept,
        is_kept: true,
    }
}

/// The units of the answers so far.
fn units(answers: &Answers) -> Units {
    if answers.get("units") == Some("in") { Units::Inch } else { Units::Mm }
}

fn in_units<'w>(units: Units, mm: &'w str, inches: &'w str) -> &'w str {
    if units == Units::Inch { inches } else { mm }
}

fn bar<'q>(way: Way, answers: &Answers) -> Question<'q> {
    let example = in_units(units(answers), "149.1 mm", "5 31/32 in");
    let (name, lies) = match way {
        Way::Across => ("across", "lies"),
        Way::Up => ("up", "stands"),
    };
    // The sizes of its rows hang on the paper.
    let without = answers.without("across").without("up");
    let long = read_shop("the shop file", text(&without).as_bytes()).project.map_or_else(String::new, |project| {
        format!(", whose rows are {}", Bars::of(&project.shop, &project.notation, TellBy::Answer).rows_of(way))
    });
    question(
        name,
        &format!("What the bar \"{name}\" of the proof sheet reads{long}, or {TRUE}"),
        TRUE,
        &format!(
            "fullsize proof prints the sheet; on an upright one this bar {lies}. Lay a steel rule on either of its rows and write what that reads, \
             with its unit, such as {example}; {TRUE} where it reads what it says, or where you have not tried yet."
        ),
    )
}

/// Whether there is a further one of something: the first, and each behind one that has a name.
fn is_asked(answers: &Answers, what: &str, n: usize) -> bool {
    n == 1 || answers.get(&format!("{what} {}", n - 1)).is_some_and(|name| name != NONE)
}

/// The name of the nth of something; a question about it alone where it has none.
fn named<'q>(what: &str, n: usize, like: &str) -> Question<'q> {
    let which = if n == 1 { format!("A {what} for your router") } else { format!("Another {what}") };
    let ask = format!("{which}: its name, as you call it, or {NONE}");
    let help =
        format!("A word by which the file of a piece names it, such as {like}; {NONE} where there are no more.");
    let (taken, example) = (what.to_owned(), like.to_owned());
    Question {
        accept: Box::new(move |answer| match answer.trim_matches('"') {
            "" => Err(format!("Please name the {taken}, or answer {NONE}.")),
            // Between quotes it is meant as a name.
            name if name == answer && Sum::read(name).is_ok_and(|sum| sum.names().next().is_none()) => Err(format!(
                "{name} is a size: how large the {taken} is, is asked next. Here goes what you call it, such as {example}, or {NONE}."
            )),
            name => Ok(name.chars().filter(|c| !c.is_control()).collect()),
        }),
        ..question(&format!("{what} {n}"), &ask, NONE, &help)
    }
}

/// The questions about the nth cutter.
fn cutter<'q>(n: usize, answers: &Answers, units: Units) -> Vec<Question<'q>> {
    let name = format!("cutter {n}");
    let mut all = vec![named("cutter", n, "trimmer")];
    let Some(of) = answers.get(&name).filter(|of| *of != NONE) else { return all };
    let usual = in_units(units, "19", "3/4");
    let diameter = answers.get(&format!("{name} diameter")).unwrap_or(usual);
    all.push(question(
        &format!("{name} diameter"),
        &format!("Diameter of {of}"),
        usual,
        "The circle in which it cuts, measured with a caliper.",
    ));
    all.push(question(
        &format!("{name} bearing"),
        &format!("Diameter of its bearing, or {NONE}"),
        diameter,
        "A bearing of the cutter's own diameter follows a template flush.",
    ));
    if answers.get(&format!("{name} bearing")).is_some_and(|bearing| bearing != NONE) {
        all.push(Question {
            accept: choice(vec!["tip".to_owned(), "shank".to_owned()]),
            ..question(
                &format!("{name} bearing at"),
                "Where its bearing sits: 1 tip, 2 shank",
                "tip",
                "At the tip the template lies on the far side of the work; at the shank between router and work.",
            )
        });
    }
    let help = "How deep it cuts at most: by it is told where a cutter is too short.";
    all.push(question(&format!("{name} length"), &format!("Its cutting length, or {NONE}"), NONE, help));
    all
}

/// The questions about the nth collar.
fn collar<'q>(n: usize, answers: &Answers, units: Units) -> Vec<Question<'q>> {
    let name = format!("collar {n}");
    let mut all = vec![named("collar", n, "large")];
    if let Some(of) = answers.get(&name).filter(|of| *of != NONE) {
        let usual = in_units(units, "30", "1 1/8");
        let ask = format!("Outside diameter of {of}");
        all.push(question(&format!("{name} diameter"), &ask, usual, "That which runs along the template."));
        let help = "How far it stands out below the router's base: a template is thicker than that.";
        all.push(question(&format!("{name} projection"), &format!("How far it stands out, or {NONE}"), NONE, help));
    }
    all
}

/// The questions about the mortiser.
fn mortiser<'q>(answers: &Answers, units: Units) -> Vec<Question<'q>> {
    let mut all = vec![question(
        "mortiser",
        &format!("Mortiser: how far from an edge its fence lets it work, or {NONE}"),
        NONE,
        &format!(
            "Such as {}. With it the schedule says which mortises the machine reaches.",
            in_units(units, "60", "2 3/8")
        ),
    )];
    if answers.get("mortiser").is_some_and(|reach| reach != NONE) {
        let help = "The deepest mortise that it cuts.";
        all.push(question("mortiser depth", &format!("How deep it cuts, or {NONE}"), NONE, help));
        all.push(question(
            "mortiser from",
            "Smallest angle of its fence, in degrees",
            "90",
            "90 where the fence cannot be tilted.",
        ));
        all.push(question(
            "mortiser to",
            "Largest angle of its fence, in degrees",
            "90",
            "90 where it cannot be tilted.",
        ));
    }
    all
}

/// The file that answers make; what is not answered yet is left out.
pub fn text(answers: &Answers) -> String {
    let given = |name: &str| answers.get(name).filter(|answer| ![NONE, TRUE].contains(answer)).map(literal);
    let mut file = Map::new();
    file.insert("units".to_owned(), answers.get("units").unwrap_or("mm").into());
    file.extend(answers.get("paper").map(|paper| ("paper".to_owned(), paper.into())));
    let bars = object([("bar_across", given("across")), ("bar_up", given("up"))]);
    file.extend(some("printer", bars));
    file.extend(some("cutters", all(answers, "cutter", &["diameter", "bearing", "bearing at", "length"])));
    file.extend(some("collars", all(answers, "collar", &["diameter", "projection"])));
    // None of an allowance is a number like any other: left out it would be the usual one.
    let allowed = |name: &str| {
        answers.get(name).map(|answer| if answer.eq_ignore_ascii_case(NONE) { json!(0) } else { literal(answer) })
    };
    let allowances = ["saw", "plane", "ends"].map(|name| (name, allowed(name)));
    file.extend(some("allowances", object(allowances)));
    let angles = given("mortiser from").zip(given("mortiser to")).map(|(from, to)| json!([from, to]));
    let reach = given("mortiser").is_some();
    let mortiser = object([("reach", given("mortiser")), ("depth", given("mortiser depth")), ("angles", angles)]);
    file.extend(some("mortiser", mortiser).filter(|_| reach));
    format!("{:#}\n", Value::Object(file))
}

/// All of one kind that were named, each with its sizes.
fn all(answers: &Answers, what: &str, sizes: &[&str]) -> Map<String, Value> {
    let numbered = (1..=MOST).map(|n| format!("{what} {n}"));
    let named = numbered.filter_map(|number| {
        let name = answers.get(&number).filter(|name| *name != NONE)?;
        let size = |size: &&str| {
            let answer = answers.get(&format!("{number} {size}")).filter(|answer| *answer != NONE)?;
            Some((size.replace(' ', "_"), literal(answer)))
        };
        let sizes: Map<String, Value> = sizes.iter().filter_map(size).collect();
        // Until its diameter is told it is no cutter yet.
        (!sizes.is_empty()).then(|| (name.to_owned(), Value::Object(sizes)))
    });
    named.collect()
}

fn object<const N: usize>(members: [(&str, Option<Value>); N]) -> Map<String, Value> {
    members.into_iter().filter_map(|(name, value)| Some((name.to_owned(), value?))).collect()
}

/// A member of the file, where it holds anything.
fn some(name: &str, object: Map<String, Value>) -> Option<(String, Value)> {
    (!object.is_empty()).then(|| (name.to_owned(), Value::Object(object)))
}

/// A number as it is, anything else as a text.
fn literal(answer: &str) -> Value {
    serde_json::from_str::<Value>(answer).ok().filter(Value::is_number).unwrap_or_else(|| answer.into())
}
