//! The picture beside a new file: every size at its line, by the words of its question.

use super::starters::{Dimensions, NONE, Question, STARTERS, Starter};
use crate::cli::files::{Form, Output, Product};
use crate::cli::load::{ShopFiles, Stopped};
use crate::cli::output::{Target, svg_bytes};
use crate::job::Job;
use crate::layout::elevation::Named;
use crate::layout::{Pictured, legend, picture};
use crate::model::Project;
use crate::page::Document;
use crate::piece::Value;
use crate::project::{no_drawings, read_in};
use crate::units::{Length, Notation, Quantity};
use crate::write::SvgStyle;
use serde_json::Value as Json;
use std::path::{Path, PathBuf};

/// The picture's file beside a project's.
pub fn picture_name(file: &Path) -> PathBuf {
    file.with_extension("sizes.svg")
}

/// The picture as it is written: of a file that a starter began, and the job on it.
///
/// # Errors
/// Where it cannot be drawn.
pub fn sizes_picture(
    starter: &'static Starter,
    of: (&str, &Job),
    shops: &ShopFiles,
    path: &Path,
) -> Result<Output, Stopped> {
    let document = meaning(starter, of, shops)?;
    let bytes = svg_bytes(&document, &document.pages, SvgStyle::Picture)?;
    Ok(Output { target: Target::File(path.to_owned()), product: Product::Sizes, form: Form::Svg, bytes })
}

/// The starter that began a file, by the sizes that it still has; of several that with the most.
pub fn starter_of(project: &Project) -> Option<&'static Starter> {
    let sizes = &project.sizes;
    let has = |question: &Question| sizes.iter().any(|(name, _)| name == question.name);
    let own = |starter: &&'static Starter| {
        starter.questions.iter().filter(|question| question.is_size() && question.only.is_none()).count()
    };
    let is_of = |starter: &&'static Starter| {
        let mut always = starter.questions.iter().filter(|question| question.is_size() && question.only.is_none());
        starter.dimensions.is_none() == project.base.is_some() && always.all(has)
    };
    STARTERS.into_iter().filter(is_of).max_by_key(own)
}

/// The piece with its sizes at their lines, and those that no line shows in a list with their names and what they mean.
fn meaning(starter: &'static Starter, (text, job): (&str, &Job), shops: &ShopFiles) -> Result<Document, Stopped> {
    let sizes = &job.project().sizes;
    let asked: Vec<(&Question, Quantity)> = starter
        .questions
        .iter()
        .filter(|question| question.is_size())
        .filter_map(|question| Some((question, sizes.iter().find(|(name, _)| name == question.name)?.1)))
        .collect();
    let (document, left) = match starter.dimensions {
        None => of_piece(&asked, (text, job), shops)?,
        Some(dimensions) => of_flat(dimensions, &asked, job)?,
    };
    let notation = &job.project().notation;
    let lines: Vec<String> = asked
        .iter()
        .filter(|(question, _)| left.iter().any(|name| *name == question.called.to_lowercase()))
        .filter_map(|(question, size)| {
            let meaning =
                if question.meaning.is_empty() { String::new() } else { format!(" ({})", question.meaning) };
            let value = value_of(*size, notation)?;
            let said = if is_none(value) { NONE.to_owned() } else { said(value, notation) };
            Some(format!("{}: {said}{meaning}", question.called))
        })
        .collect();
    // What does not stand on the first sheet is not part of the picture.
    let pages = document.pages.into_iter().take(1).map(|page| legend(page, &lines)).collect();
    Ok(Document { pages, ..document })
}

/// A size as a number of the piece.
fn value_of(size: Quantity, notation: &Notation) -> Option<Value> {
    let length = || size.to_length(Some(notation.units)).ok().map(Value::Length);
    length().or_else(|| size.to_angle().ok().map(Value::Angle))
}

/// Whether a size is none of it.
fn is_none(size: Value) -> bool {
    matches!(size, Value::Length(length) if length.mm() == 0.0)
}

fn said(value: Value, notation: &Notation) -> String {
    match value {
        Value::Length(length) | Value::Movement(length) => notation.length(length),
        Value::Angle(angle) => notation.angle(angle),
        Value::Force(force) => force.to_string(),
    }
}

/// By how much the first size is moved, and each one more than that before it: lengths in mm, angles in degrees.
const MOVED: (f64, f64) = (0.02, 0.003);
const TURNED: (f64, f64) = (0.002, 0.0005);

/// The views of a piece; and the names of sizes that none shows.
fn of_piece(
    asked: &[(&Question, Quantity)],
    (text, job): (&str, &Job),
    shops: &ShopFiles,
) -> Result<(Document, Vec<String>), Stopped> {
    let notation = &job.project().notation;
    let name = |question: &Question| question.called.to_lowercase();
    let all = asked.iter().map(|(question, _)| name(question)).collect();
    // Nothing is shown of what is none.
    let is_some = |value: &Value| !is_none(*value);
    let sizes = asked
        .iter()
        .filter_map(|(question, size)| Some((*question, value_of(*size, notation).filter(is_some)?)))
        .collect::<Vec<_>>();
    // One of two sizes that are alike may be the most that the other allows.
    let moved = ["+", "-"].into_iter().find_map(|way| moved_job(&sizes, (text, way), shops));
    let Some(moved) = moved else { return Ok((job.picture()?.document, all)) };
    let numbers: Vec<Named> = sizes
        .iter()
        .filter_map(|(question, value)| {
            let there = &moved.project().sizes;
            let (_, size) = there.iter().find(|(known, _)| known == question.name)?;
            Some(Named { name: name(question), value: *value, moved: value_of(*size, notation)? })
        })
        .collect();
    let (drawing, mut left) = job.picture_naming(&moved, &numbers)?;
    left.extend(
        asked.iter().map(|(question, _)| name(question)).filter(|one| !numbers.iter().any(|n| n.name == *one)),
    );
    Ok((drawing.document, left))
}

/// A job on the file with each size moved by another amount, to more or to less of it; `None` where that cannot be made.
fn moved_job(sizes: &[(&Question, Value)], (text, way): (&str, &str), shops: &ShopFiles) -> Option<Job> {
    let mut file: Json = serde_json::from_str(text).ok()?;
    let there = file.get_mut("sizes")?.as_object_mut()?;
    for (k, (question, value)) in sizes.iter().enumerate() {
        let by = |(first, each): (f64, f64)| first + each * k as f64;
        let more = match value {
            Value::Angle(_) => format!("{} deg", by(TURNED)),
            _ => format!("{} mm", by(MOVED)),
        };
        let size = there.get_mut(question.name)?;
        let written = size.as_str().map_or_else(|| size.to_string(), str::to_owned);
        *size = Json::from(format!("{written} {way} {more}"));
    }
    let project = read_in("", file.to_string().as_bytes(), shops.shops(), None, &no_drawings).project?;
    let job = Job::new(project);
    (!job.stops()).then_some(job)
}

/// The patterns of flat parts with their dimensions; and the names of sizes that are none of these.
fn of_flat(
    dimensions: Dimensions,
    asked: &[(&Question, Quantity)],
    job: &Job,
) -> Result<(Document, Vec<String>), Stopped> {
    let project = job.project();
    let question = |name: &str| asked.iter().find(|(question, _)| question.name == name);
    let size = |name: &str| {
        let length = question(name).map(|(_, size)| size.to_length(Some(project.notation.units)));
        // A starter names only sizes that its own file has.
        length.and_then(Result::ok).map_or(0.0, Length::mm)
    };
    let mut named: Vec<&str> = Vec::new();
    let drawn = job.drawn_parts()?.iter().map(|pattern| {
        let (mut dimensions, guides) = dimensions(&size);
        for dimension in &mut dimensions {
            let value = project.notation.length(Length::from_mm(size(&dimension.words)));
            let Some((question, _)) = question(&dimension.words) else { continue };
            named.push(question.name);
            dimension.words = format!("{} {value}", question.called.to_lowercase());
        }
        Pictured { pattern: pattern.clone(), dimensions, guides, was: Vec::new() }
    });
    let document = picture(&drawn.collect::<Vec<_>>(), &project.title, project.notation.clone());
    let left = asked.iter().filter(|(question, _)| !named.contains(&question.name));
    Ok((document, left.map(|(question, _)| question.called.to_lowercase()).collect()))
}

#[cfg(test)]
mod tests {
    use super::{meaning, starter_of};
    use crate::cli::ask::Answers;
    use crate::cli::load::ShopFiles;
    use crate::cli::new::answered::Answered;
    use crate::cli::new::drafted;
    use crate::cli::new::starters::STARTERS;
    use crate::page::{Document, Shape};
    use crate::units::Units;

    fn words(picture: &Document) -> Vec<String> {
        let words = picture.pages[0].items.iter().filter_map(|item| match &item.shape {
            Shape::Text(text) => Some(text.content.to_lowercase()),
            _ => None,
        });
        words.collect()
    }

    /// Whatever size is asked for stands in the picture by its name, with its value.
    #[test]
    fn the_picture_names_every_size_with_the_words_of_its_question() {
        for (starter, units) in STARTERS.into_iter().flat_map(|one| [(one, Units::Mm), (one, Units::Inch)]) {
            let (answers, proposed, shops) = (Answers::default(), Answers::default(), ShopFiles::default());
            let answered = Answered { starter, answers: &answers, proposed: &proposed, units };
            let drafted = drafted(answered, false, &shops);
            assert!(drafted.findings.is_empty(), "{}: {:?}", starter.kind, drafted.findings);
            let job = drafted.job.unwrap_or_else(|| panic!("{}", starter.kind));
            assert_eq!(starter_of(job.project()).map(|one| one.kind), Some(starter.kind));
            let picture = meaning(starter, (&drafted.text, &job), &shops).expect(starter.kind);
            let words = words(&picture);
            for question in answered.questions().filter(|question| question.is_size()) {
                let called = question.called.to_lowercase();
                let value = answered.told(question).to_lowercase();
                let named = |words: &&String| words.contains(&called) && words.contains(&value);
                assert!(words.iter().any(|one| named(&one)), "{}: {called} {value} in {words:?}", starter.kind);
            }
        }
    }

    /// A size stands at the line that shows it, not in the list under the views: of the table all but what no view shows.
    #[test]
    fn sizes_stand_at_their_lines() {
        let starter = STARTERS.into_iter().find(|one| one.kind == "leaning-frames").expect("the table");
        let (mut answers, proposed, shops) = (Answers::default(), Answers::default(), ShopFiles::default());
        answers.keep("leaning-frames top_corners", "40".to_owned());
        let answered = Answered { starter, answers: &answers, proposed: &proposed, units: Units::Mm };
        let drafted = drafted(answered, false, &shops);
        let job = drafted.job.expect("a job");
        let picture = meaning(starter, (&drafted.text, &job), &shops).unwrap_or_else(|_| panic!("a picture"));
        let listed: Vec<String> = words(&picture).into_iter().filter(|line| line.contains(": ")).collect();
        let names = ["leg curve: none", "tenon thickness: 8 mm (of all tenons)", "tenon width: 38 mm"];
        for line in &listed {
            assert!(names.iter().any(|name| line.starts_with(name)), "{line} in {listed:?}");
        }
    }
}
