//! The picture beside a new file: every size by the words of its question.

use super::answered::Answered;
use crate::cli::files::{Form, Output, Product};
use crate::cli::load::Stopped;
use crate::cli::output::{Target, svg_bytes};
use crate::job::Job;
use crate::layout::{Pictured, legend, picture};
use crate::page::Document;
use crate::units::{Length, Quantity};
use crate::write::SvgStyle;
use std::path::{Path, PathBuf};

/// The picture's file beside a project's.
pub fn picture_name(file: &Path) -> PathBuf {
    file.with_extension("sizes.svg")
}

/// The picture as it is written.
///
/// # Errors
/// Where it cannot be drawn.
pub fn sizes_picture(answered: Answered, job: &Job, path: &Path) -> Result<Output, Stopped> {
    let document = meaning(answered, job)?;
    let bytes = svg_bytes(&document, &document.pages, SvgStyle::Picture)?;
    Ok(Output { target: Target::File(path.to_owned()), product: Product::Sizes, form: Form::Svg, bytes })
}

/// The piece with its sizes: those that are drawn by name, and all others in a list with their names and what they mean.
fn meaning(answered: Answered, job: &Job) -> Result<Document, Stopped> {
    let project = job.project();
    let size = |name: &str| {
        let found = project.sizes.iter().find(|(known, _)| known == name).map(|(_, value)| *value);
        match found.map(|value: Quantity| value.to_length(Some(project.notation.units))) {
            Some(Ok(length)) => length.mm(),
            // A starter names only sizes that its own file has.
            _ => 0.0,
        }
    };
    let called = |name: &str| {
        let question = answered.questions().find(|question| question.name == name);
        question.map_or_else(|| name.to_owned(), |question| question.called.to_lowercase())
    };
    let mut named: Vec<String> = Vec::new();
    let document = match answered.starter.dimensions {
        None => job.picture()?.document,
        Some(dimensions) => {
            let drawn = job.drawn_parts()?.iter().map(|pattern| {
                let (mut dimensions, guides) = dimensions(&size);
                for dimension in &mut dimensions {
                    let value = project.notation.length(Length::from_mm(size(&dimension.words)));
                    named.push(std::mem::take(&mut dimension.words));
                    dimension.words = format!("{} {value}", called(named.last().map_or("", String::as_str)));
                }
                Pictured { pattern: pattern.clone(), dimensions, guides, was: Vec::new() }
            });
            picture(&drawn.collect::<Vec<_>>(), &project.title, project.notation.clone())
        }
    };
    let listed = answered.questions().filter(|question| !named.iter().any(|known| known == question.name));
    let lines: Vec<String> = listed
        .map(|question| {
            let meaning =
                if question.meaning.is_empty() { String::new() } else { format!(" ({})", question.meaning) };
            format!("{}: {}{meaning}", question.called, answered.told(question))
        })
        .collect();
    // What does not stand on the first sheet is not part of the picture.
    let pages = document.pages.into_iter().take(1).map(|page| legend(page, &lines)).collect();
    Ok(Document { pages, ..document })
}

#[cfg(test)]
mod tests {
    use super::meaning;
    use crate::cli::ask::Answers;
    use crate::cli::files::Files;
    use crate::cli::new::answered::Answered;
    use crate::cli::new::drafted;
    use crate::cli::new::starters::STARTERS;
    use crate::page::Shape;
    use crate::units::Units;

    /// Whatever is asked stands in the picture by its name, with its value.
    #[test]
    fn the_picture_names_every_size_with_the_words_of_its_question() {
        for (starter, units) in STARTERS.into_iter().flat_map(|one| [(one, Units::Mm), (one, Units::Inch)]) {
            let answers = Answers::default();
            let answered = Answered { starter, answers: &answers, units };
            let drafted = drafted(answered, false, &Files::default()).unwrap_or_else(|_| panic!("{}", starter.kind));
            let job = drafted.job.unwrap_or_else(|| panic!("{}: {:?}", starter.kind, drafted.findings));
            assert!(drafted.findings.is_empty(), "{}: {:?}", starter.kind, drafted.findings);
            let picture = meaning(answered, &job).unwrap_or_else(|_| panic!("{}", starter.kind));
            let words: Vec<String> = picture.pages[0]
                .items
                .iter()
                .filter_map(|item| match &item.shape {
                    Shape::Text(text) => Some(text.content.to_lowercase()),
                    _ => None,
                })
                .collect();
            for question in answered.questions() {
                let (called, value) = (question.called.to_lowercase(), answered.told(question).to_lowercase());
                let named = |words: &&String| words.contains(&called) && words.contains(&value);
                assert!(words.iter().any(|one| named(&one)), "{}: {called} {value} in {words:?}", starter.kind);
            }
        }
    }
}
