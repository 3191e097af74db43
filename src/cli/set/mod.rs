//! `set`: changes numbers of a file and nothing else, and says what became of the piece.

mod doubt;
pub mod journal;
pub mod list;
mod news;
pub mod request;
mod told;

use super::args::{Input, Replace, Set};
use super::files::{Files, Product, ReadAs, is_dash, projects_in};
use super::keeping;
use super::load::{ShopFiles, Stopped, mend_by_sizes, own_shop_words, reading};
use super::new::brought;
use super::new::picture::{picture_name, sizes_picture, starter_of};
use super::output::{Trouble, harmless, say, typed};
use crate::change::Kept;
use crate::finding::{Finding, RefusedChange, Severity, shortened};
use crate::model::path::dotted;
use crate::model::problem::Problem;
use crate::project::edit::{self, Made};
use crate::project::{QuantityProblem, Reading, Shops, Sources, is_shop, no_drawings, read_in, read_shop, read_with};
use journal::Step;
use list::Shown;
use std::io::Write;
use std::path::Path;
use told::{Change, Told, is_same, tell_what_it_brings};

/// Runs `set`.
pub fn run(asked: &Set, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    file_first(asked)?;
    let changes = request::changes(&asked.changes);
    match (asked.undo, changes.as_slice()) {
        (true, _) => undo(&asked.file, files, out, err),
        (false, []) => listed(asked, files, out, err),
        (false, _) if is_dash(&asked.file) => filter(&asked.file, &changes, files, out, err),
        (false, _) => change(&asked.file, &changes, files, out, err),
    }
}

/// Refuses a change that stands where the file belongs.
fn file_first(asked: &Set) -> Result<(), Trouble> {
    let change = asked.file.to_string_lossy();
    if !change.contains('=') || asked.file.exists() {
        return Ok(());
    }
    let is_file = |word: &&String| Path::new(word).is_file();
    Err(Trouble::new(match asked.changes.iter().find(is_file) {
        Some(file) => format!("the file comes before its changes: fullsize set {} {change}", typed(Path::new(file))),
        None => format!(
            "{change} is a change, and no file is named before it: fullsize set FILE {change}{}",
            projects_in(Path::new(""))
        ),
    }))
}

/// Lists what can be changed.
fn listed(asked: &Set, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let file = asked.file.as_path();
    let shown = if asked.all { Shown::All } else { Shown::AScreen };
    let text = files.bytes(file, ReadAs::Project)?;
    let is_shop = is_shop(&text);
    let Reading { project, findings, sources } = match is_shop {
        true => read_shop(&file.to_string_lossy(), &text),
        false => {
            let input = Input { file: file.to_owned(), variant: None, shop: None, font: Vec::new() };
            reading(&input, files)?
        }
    };
    let (Some(project), Some(source)) = (project, sources.files().first()) else {
        super::load::say(&findings, &sources, err);
        return Err(Stopped::ByFinding);
    };
    let name = typed(file);
    let words = match is_shop {
        true => list::of_shop(&name, &format!("set {name}"), &source.text, &project),
        false => list::list(&name, &source.text, &project, (ShopFiles::of(None, files)?.shops(), shown)),
    };
    Ok(say(out, words.as_bytes())?)
}

/// Changes standard input to standard output.
fn filter(
    file: &Path,
    changes: &[String],
    files: &Files,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Stopped> {
    let before = files.bytes(file, ReadAs::Project)?;
    let shops = ShopFiles::of(None, files)?;
    let changed = changed(file, &before, (changes, shops.shops()), err)?;
    say(out, changed.text.as_bytes())?;
    if is_shop(&before) {
        return Ok(());
    }
    let read = |text: &[u8]| {
        let drawings = |name: &str| files.drawing(Path::new(""), name);
        read_in(&file.to_string_lossy(), text, shops.shops(), None, &drawings)
    };
    let kept = Kept::default();
    let was = String::from_utf8_lossy(&before);
    let (before, now) = (Told::of(read(&before), &kept), Told::of(read(changed.text.as_bytes()), &kept));
    let change = Change { made: &changed.made, before: &was, earlier: &[], file: None, mend: &|_, _| {} };
    tell_what_it_brings(&before, &now, &change, err)
}

/// Changes a file where it stands: a piece's, or a shop's.
///
/// # Errors
/// Where it cannot be read or written, where a change is refused, and where with it something stops the work.
pub fn change(
    file: &Path,
    changes: &[String],
    files: &Files,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Stopped> {
    let (mut before, mut made) = (Vec::new(), Vec::new());
    let mut kept = Ok(());
    let shops = ShopFiles::of(None, files)?;
    files.change(file, |text| {
        before = text.to_vec();
        let changed = changed(file, text, (changes, shops.shops()), err)?;
        made = changed.made;
        kept = remember(files, file, text, &changed.text, &made);
        Ok(changed.text.into_bytes())
    })?;
    let done: Vec<String> = made.iter().map(told_change).collect();
    let unlinked = unlinked(&made, file);
    let words = format!("Changed in {}: {}\n{unlinked}", file.display(), done.join(", "));
    if let Err(trouble) = kept {
        // Where not even standard error can be written there is no one left to tell.
        let _ = writeln!(err, "fullsize: the change cannot be taken back with --undo: {trouble}");
    }
    report(file, (&before, &made), &words, files, out, err)
}

/// Takes the last change back.
///
/// # Errors
/// Where there is none, and as [`change`].
pub fn undo(file: &Path, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let (mut before, mut taken, mut stands) = (Vec::new(), None, String::new());
    files.change(file, |text| {
        before = text.to_vec();
        let now = String::from_utf8_lossy(text);
        let steps = journal::steps_to(files, file, &now);
        let back = steps.last().and_then(|step| Some((step.clone(), step.taken_back(&now)?)));
        let Some((step, back)) = back else { return Err(no_way_back(file).into()) };
        taken = Some(step);
        stands = stands_now(&now, &back);
        // The step stays written down: should the file not be written, it can still be taken back.
        journal::keep(files, file, &steps, (steps.len() - 1, &back))?;
        Ok(back.into_bytes())
    })?;
    let changes = taken.map(|step| step.changes.join(", ")).unwrap_or_default();
    let words = format!("Taken back in {}: {}\n{stands}", file.display(), shortened(&changes));
    report(file, (&before, &[]), &words, files, out, err)
}

/// So many fields are told that stand otherwise now.
const STANDING: usize = 8;

/// What stands in a text where it differs from another.
fn stands_now(before: &str, now: &str) -> String {
    let (old, new) = (edit::entries(before), edit::entries(now));
    let given = new
        .iter()
        .filter(|entry| !old.contains(entry))
        .map(|(path, value)| format!("{}={}", dotted(path), shortened(value)));
    let gone = old.iter().filter(|(path, _)| !new.iter().any(|(other, _)| other == path));
    let gone = gone.map(|(path, _)| format!("{} is not given", dotted(path)));
    let mut told: Vec<String> = given.chain(gone).collect();
    let more = told.len().saturating_sub(STANDING);
    told.truncate(STANDING);
    if more > 0 {
        told.push(format!("and {more} more"));
    }
    if told.is_empty() { String::new() } else { format!("Now it says: {}\n", told.join(", ")) }
}

fn no_way_back(file: &Path) -> Trouble {
    let (name, journal) = (file.display(), journal::path_of(file));
    let why = match journal.exists() {
        true => format!("{name} is not as the last set left it, or all its changes were taken back"),
        false => format!("set has changed nothing in {name} of which it knows ({} is not there)", journal.display()),
    };
    Trouble::new(format!("there is nothing to take back: {why}"))
}

/// Writes down what a change replaces.
fn remember(files: &Files, file: &Path, before: &[u8], after: &str, made: &[Made]) -> Result<(), Trouble> {
    let Ok(before) = std::str::from_utf8(before) else { return Ok(()) };
    let mut steps = journal::steps_to(files, file, before);
    steps.push(Step::between(before, after, made.iter().map(|made| made.written.clone()).collect()));
    journal::keep(files, file, &steps, (steps.len(), after))
}

/// So many characters of a change are told.
const TOLD: usize = 120;

/// A change with what it took the place of.
fn told_change(made: &Made) -> String {
    let before = made.before.as_ref().map_or_else(|| "new".to_owned(), |old| format!("was {}", shortened(old)));
    // An object is told by its beginning.
    let written = if made.written.chars().count() > TOLD { shortened(&made.written) } else { made.written.clone() };
    format!("{written} ({before})")
}

/// Which fields follow a size no more that they followed: who meant all that goes by it is told how that is said.
fn unlinked(made: &[Made], file: &Path) -> String {
    let all = made.iter().flat_map(|made| made.unlinked.iter().map(|size| (&made.path, size)));
    let told = all.map(|(path, (size, way))| {
        format!(
            "{path} follows {size} no more, all else that does still does; to change that, take this back (--undo) and give \
             fullsize set {} {way}=…\n",
            typed(file)
        )
    });
    told.collect()
}

/// Says what was done, what moved because of it, and what is to be minded now.
fn report(
    file: &Path,
    (before, made): (&[u8], &[Made]),
    done: &str,
    files: &Files,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Stopped> {
    if is_shop(before) {
        return Ok(say(out, harmless(done).as_bytes())
            .map_err(|trouble| trouble.although(&format!("{} was changed", file.display())))?);
    }
    let folder = file.parent().unwrap_or(Path::new(""));
    let drawings = |name: &str| files.drawing(folder, name);
    let shops = ShopFiles::of(None, files)?;
    let was = String::from_utf8_lossy(before);
    let read = |text: &[u8]| read_in(&file.to_string_lossy(), text, shops.shops(), None, &drawings);
    let before = read(before);
    let input = Input { file: file.to_owned(), variant: None, shop: None, font: Vec::new() };
    let now = reading(&input, files)?;
    let is_made =
        [&before, &now].into_iter().any(|one| one.project.as_ref().is_some_and(|project| !project.made.is_empty()));
    let kept = if is_made { keeping::read(file, files)? } else { Kept::default() };
    let (before, now) = (Told::of(before, &kept), Told::of(now, &kept));
    // Where not even standard error can be written there is no one left to tell.
    let _ = err.write_all(own_shop_words(&now.reading.sources, files).as_bytes());
    let bench = now.bench(&file.with_extension("pdf"), files);
    // What was taken back leads to an earlier state, before which there is nothing to hold it against.
    let text = now.reading.sources.files().first().map_or("", |source| source.text.as_str());
    let earlier = if made.is_empty() { Vec::new() } else { journal::texts_before(files, file, text) };
    let stood = |text: &String| Told::of(read(text.as_bytes()), &kept);
    let moved = match now.moved_from(&before, file, bench.as_ref()) {
        Some(words) => words,
        None => now.moved_since_a_piece(earlier.iter().skip(1).map(stood), file, bench.as_ref()),
    };
    let moved = moved + &drawn_again(file, &now, &shops, files);
    let told = say(out, harmless(&format!("{done}{moved}")).as_bytes())
        .map_err(|trouble| trouble.although(&format!("{} was changed", file.display())));
    let mend = |found: &mut [Finding], sources: &Sources| mend_by_sizes(found, sources, &input, files);
    let change = Change { made, before: &was, earlier: &earlier, file: Some(file), mend: &mend };
    let brought = tell_what_it_brings(&before, &now, &change, err);
    told?;
    brought
}

/// Draws the picture of sizes again that `new` left beside the file; what is to be said of that.
fn drawn_again(file: &Path, now: &Told, shops: &ShopFiles, files: &Files) -> String {
    let picture = picture_name(file);
    if !files.is_left(&picture, Product::Sizes) {
        return String::new();
    }
    let name = picture.display();
    let job = now.job.as_ref().filter(|job| !job.stops());
    let of = job.and_then(|job| Some((starter_of(job.project())?, &now.reading.sources.files().first()?.text, job)));
    let drawn = of.map(|(starter, text, job)| {
        let output = sizes_picture(starter, (text, job), shops, &picture)?;
        Ok(files.write(vec![output], &Replace { force: false }, &mut std::io::sink())?)
    });
    match drawn {
        Some(Ok::<_, Stopped>(_)) => format!("Drawn again: {name}\n"),
        _ => format!("{name} shows the sizes as they were before.\n"),
    }
}

/// A text with the changes that are asked for; where a part is taken away, the joints that hold it go with it.
fn changed(
    file: &Path,
    text: &[u8],
    (changes, shops): (&[String], Shops),
    err: &mut dyn Write,
) -> Result<edit::Changed, Stopped> {
    let changes = brought_back(text, (changes, shops))?;
    let changes = changes.as_slice();
    let made = asked_for(file, text, (changes, shops), err)?;
    if is_shop(text) {
        return Ok(made);
    }
    if !made.made.iter().any(|made| made.removes) {
        refuse_names_of_nothing(file, &made, shops, err)?;
        return Ok(made);
    }
    let made =
        with_more(file, text, (changes, "joints", joints_left(text, &made.text, shops)), shops).unwrap_or(made);
    // What was used by what goes alone has no use any more.
    let all: Vec<String> = made.made.iter().map(|made| made.written.clone()).collect();
    let unused = sizes_left(text, &made.text, shops);
    Ok(with_more(file, text, (&all, "sizes", unused), shops).unwrap_or(made))
}

/// A text with its changes, and without what else of a section goes by them, where that brings no new stop.
fn with_more(
    file: &Path,
    text: &[u8],
    (changes, section, names): (&[String], &str, Vec<String>),
    shops: Shops,
) -> Option<edit::Changed> {
    let more = names.iter().map(|name| format!("{}=none", dotted(&[section.to_owned(), name.clone()])));
    let all: Vec<String> = changes.iter().cloned().chain(more).collect();
    if names.is_empty() {
        return None;
    }
    let with_them = asked_for(file, text, (&all, shops), &mut std::io::sink()).ok()?;
    new_stops(text, &with_them.text, shops).is_empty().then_some(with_them)
}

/// The sizes that nothing uses since a text was changed.
fn sizes_left(before: &[u8], after: &str, shops: Shops) -> Vec<String> {
    let unused = |text: &[u8]| -> Vec<String> {
        let findings = read_in("", text, shops, None, &no_drawings).findings;
        let name = |finding: &Finding| match finding.problem() {
            Some(QuantityProblem::UnusedSize { name, .. }) => Some(name.clone()),
            _ => None,
        };
        findings.iter().filter_map(name).collect()
    };
    let known = unused(before);
    unused(after.as_bytes()).into_iter().filter(|name| !known.contains(name)).collect()
}

/// Refuses a change that names a part of which the piece has none, at the very field that was changed: no other number mends that.
fn refuse_names_of_nothing(
    file: &Path,
    changed: &edit::Changed,
    shops: Shops,
    err: &mut dyn Write,
) -> Result<(), Stopped> {
    let is_named = |finding: &Finding| matches!(finding.problem(), Some(Problem::UnknownPart { .. }));
    let is_changed = |finding: &Finding| {
        let steps: Vec<String> = finding.place.steps().collect();
        changed.made.iter().any(|made| made.path == dotted(&steps))
    };
    let name = format!("{} with this change", file.display());
    let told = Told::of(read_in(&name, changed.text.as_bytes(), shops, None, &no_drawings), &Kept::default());
    let mut wrong = told.findings();
    wrong.retain(|finding| is_named(finding) && is_changed(finding));
    if wrong.is_empty() {
        return Ok(());
    }
    let wrong: Vec<Finding> =
        wrong.into_iter().map(|finding| Finding { refused: Some(RefusedChange::Outcome), ..finding }).collect();
    super::load::say(&wrong, &told.reading.sources, err);
    Err(Stopped::ByFinding)
}

/// The changes, with those in the place of an answer to a question of `new` that make what goes by it.
fn brought_back(text: &[u8], (changes, shops): (&[String], Shops)) -> Result<Vec<String>, Trouble> {
    let project = (!is_shop(text)).then(|| read_in("", text, shops, None, &no_drawings).project).flatten();
    match (project, std::str::from_utf8(text)) {
        (Some(project), Ok(text)) => brought::changes(text, &project, changes),
        _ => Ok(changes.to_vec()),
    }
}

/// The joints at which the work stops since a text was changed, where it stops at nothing else.
fn joints_left(before: &[u8], after: &str, shops: Shops) -> Vec<String> {
    let joint = |stop: &Finding| match stop.place.steps().collect::<Vec<_>>().as_slice() {
        [joints, name, ..] if joints == "joints" => Some(name.clone()),
        _ => None,
    };
    let names: Option<Vec<String>> = new_stops(before, after, shops).iter().map(joint).collect();
    let mut names = names.unwrap_or_default();
    names.dedup();
    names
}

/// What stops the work on a text and did not on that before.
fn new_stops(before: &[u8], after: &str, shops: Shops) -> Vec<Finding> {
    let stops = |text: &[u8]| {
        let mut found = Told::of(read_in("", text, shops, None, &no_drawings), &Kept::default()).findings();
        found.retain(|finding| finding.severity == Severity::Stop);
        found
    };
    let known = stops(before);
    stops(after.as_bytes()).into_iter().filter(|stop| !known.iter().any(|old| is_same(old, stop))).collect()
}

/// A text with the changes that are asked for, and no others.
fn asked_for(
    file: &Path,
    text: &[u8],
    (changes, shops): (&[String], Shops),
    err: &mut dyn Write,
) -> Result<edit::Changed, Stopped> {
    let name = file.to_string_lossy();
    let Ok(text) = std::str::from_utf8(text) else {
        // The reader says what is wrong with the text itself.
        let reading = read_with(&name, text, None, None, &no_drawings);
        super::load::say(&reading.findings, &reading.sources, err);
        return Err(Stopped::ByFinding);
    };
    let changes: Vec<&str> = changes.iter().map(String::as_str).collect();
    let changed = match is_shop(text.as_bytes()) {
        true => edit::set_shop(&name, text, &changes),
        false => edit::set_in(&name, text, &changes, shops),
    };
    changed.map_err(|refused| {
        super::load::say(&refused.findings, &refused.sources, err);
        Stopped::ByFinding
    })
}
