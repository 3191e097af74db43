//! `as-built`: how a dry assembly stands by what was read on it, and the parts that are still to be made for it.

use super::args::{AsBuilt, Format};
use super::files::{Files, Form, Output, Product, is_dash};
use super::load::{Loaded, Stopped, load, say as say_findings};
use super::output::{Target, Trouble, harmless, held_words, keeps_promise, pretty, say, sheets_bytes};
use crate::job::Refusal;
use crate::pattern::Pattern;
use crate::remaining::{Remaining, RemainingPart, Unsolved, json, sheet_words, words};
use std::io::Write;
use std::path::Path;

/// Runs `as-built`.
pub fn run(asked: &AsBuilt, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    if let Some(out) = &asked.out {
        files.was_not_read(out)?;
        keeps_promise(out, &["pdf"])?;
    }
    let loaded = load(&asked.input, files, err)?;
    if let Some(path) = asked.out.as_ref().filter(|_| asked.rod) {
        return rod(asked, path, loaded, files, out);
    }
    let job = &loaded.job;
    let mut remaining = match Remaining::of(job) {
        Ok(remaining) => remaining,
        Err(Unsolved::Refused(refusal)) => return Err(refusal.into()),
        Err(Unsolved::NothingRead) => return Err(Trouble::new(NOTHING_READ).into()),
        Err(Unsolved::Stops(stops)) => {
            let _ =
                err.write_all(b"As the piece stands, its stretcher and aprons cannot be made as they are drawn:\n\n");
            say_findings(&stops, &loaded.sources, err);
            return Err(Stopped::ByFinding);
        }
    };
    let bytes = match asked.format {
        Format::Json => pretty(&json(&remaining, job.heading())),
        Format::Text => harmless(&words(&remaining, job.heading(), &job.project().notation)).into_bytes(),
    };
    let Some(path) = &asked.out else { return Ok(say(out, &bytes)?) };
    remaining.job.limit_sheets(asked.limit.sheets);
    let (names, left) = named(asked, &remaining)?;
    let mut patterns = remaining.job.patterns_named(&names)?;
    let own = mark(&remaining, &mut patterns)?;
    if let Some(why) = remaining.not_drawn(&own) {
        say_findings(&[why], &loaded.sources, err);
        return Err(Stopped::ByFinding);
    }
    let sheets = remaining.job.sheets(patterns)?;
    let drawn = sheets_bytes(&sheets, loaded.lettering.as_ref())?;
    let output = Output { target: Target::named(path), product: Product::AsBuilt, form: Form::Pdf, bytes: drawn };
    let written = files.write(vec![output], &asked.replace, out)?;
    let told = format!("{}{}", String::from_utf8_lossy(&bytes), held_words(&left));
    if is_dash(path) { Ok(()) } else { Ok(written.tell("", &told, out)?) }
}

/// The names of the patterns to draw, and of the parts that are left out since they wait for a number.
fn named(asked: &AsBuilt, remaining: &Remaining) -> Result<(Vec<String>, Vec<String>), Trouble> {
    if !asked.pattern.is_empty() {
        return Ok((asked.pattern.clone(), Vec::new()));
    }
    let [free, held] = remaining.names();
    match (free.is_empty(), held.is_empty()) {
        (false, _) => Ok((free, held)),
        (true, true) => {
            Err(Trouble::new("no stretcher and no apron is left to make, so that there is nothing to draw"))
        }
        (true, false) => Err(Trouble::new(
            "each part that is left to make waits for a number that is not decided, so that nothing is drawn: --pattern with a name draws \
             one all the same",
        )),
    }
}

/// Marks the patterns of remaining parts with how far over each is cut; which parts these are.
fn mark<'r>(remaining: &'r Remaining, patterns: &mut [Pattern]) -> Result<Vec<&'r RemainingPart>, Refusal> {
    let notation = &remaining.job.project().notation;
    let mut drawn = Vec::new();
    for part in &remaining.parts {
        let own = remaining.job.patterns_named(std::slice::from_ref(&part.label))?;
        let is_own = |one: &&mut Pattern| own.iter().any(|own| own.part.name == one.part.name);
        let mut is_drawn = false;
        let words = sheet_words(part, notation);
        for pattern in patterns.iter_mut().filter(is_own) {
            let plain = pattern.clone();
            *pattern =
                if part.waits_for.is_empty() { plain.heeding(words.clone()) } else { plain.instead(words.clone()) };
            is_drawn = true;
        }
        drawn.extend(is_drawn.then_some(part));
    }
    Ok(drawn)
}

/// Draws the strips of pinch rods.
fn rod(asked: &AsBuilt, path: &Path, mut loaded: Loaded, files: &Files, out: &mut dyn Write) -> Result<(), Stopped> {
    loaded.job.limit_sheets(asked.limit.sheets);
    let strips = loaded.job.pinch_rods()?;
    if strips.is_empty() {
        return Err(Trouble::new("the piece has no stretcher long enough for a pinch rod").into());
    }
    let bytes = sheets_bytes(&loaded.job.sheets(strips)?, loaded.lettering.as_ref())?;
    let output = Output { target: Target::named(path), product: Product::PinchRod, form: Form::Pdf, bytes };
    Ok(files.write(vec![output], &asked.replace, out)?.tell("", "", out)?)
}

/// Why there is nothing to tell.
const NOTHING_READ: &str = "the file has no \"as_built\": write into it what rule and bevel gauge read on the dry assembly, \
    for example \"as_built\": { \"distances\": { \"A-C\": \"1879.5 mm\" } } by the letters of the assembly sheet \
    (fullsize draw FILE --view assembly)";
