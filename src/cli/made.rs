//! `made`: which parts exist already, and what becomes of them.

mod offers;
mod shims;

use super::args::{Input, Made, Replace};
use super::files::{Files, ReadAs};
use super::keeping;
use super::load::{ShopFiles, Stopped, reading};
use super::output::{Trouble, harmless, say, typed, typed_word};
use super::records;
use super::set;
use crate::change::{Given, Kept, MadeProblem, Snapshot, Wood, measured};
use crate::finding::{Finding, Names, RefusedChange, nearest, quoted};
use crate::job::Job;
use crate::model::path::dotted;
use crate::project::edit::{set_in, standing};
use crate::project::{Reading, no_drawings, read_in};
use serde_json::{Value, json};
use std::io::Write;
use std::path::Path;

/// What takes an entry back, and what says that nothing was measured.
const NONE: &str = "none";
const AS_DRAWN: [&str; 2] = ["as-drawn", "as drawn"];

/// Where parts that exist stand in a file.
const MADE: &str = "made";

/// The fields of an entry that say something of one end or edge: what a person says behind its name, and where it stands.
const OF_A_SURFACE: [(&str, &str); 6] = [
    (" mitre", "mitres"),
    (" bevel", "bevels"),
    (" width", WIDTHS),
    (" on the far side", "far_lengths"),
    (" trimmed", "trimmed"),
    (" trimmed straight", "trimmed_straight"),
];

/// The field for a name alone: the length of an edge, or the width at an end.
const LENGTHS: &str = "lengths";
const WIDTHS: &str = "widths";

/// The other fields of an entry.
const FIELDS: [&str; 5] = ["thickness", "worked", "tolerance", "short_at", "narrow_at"];

/// Runs `made`.
pub fn run(asked: &Made, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    if asked.undo {
        return set::undo(&asked.file, files, out, err);
    }
    if asked.offers {
        return offers::run(&asked.file, files, out, err);
    }
    if let Some(path) = &asked.shims {
        return shims::run(asked, path, files, out, err);
    }
    match Said::of(&asked.words) {
        None => list(&asked.file, files, out, err),
        Some(said) => record(asked, &said, files, out, err),
    }
}

/// What is said of a part.
struct Said {
    part: String,
    readings: Vec<String>,
    is_as_drawn: bool,
    is_none: bool,
}

impl Said {
    /// In the words of a command line; `None` where there are none.
    fn of(words: &[String]) -> Option<Said> {
        let begins =
            |word: &&String| word.contains('=') || word.as_str() == NONE || AS_DRAWN.contains(&word.as_str());
        let name: Vec<&str> = words.iter().take_while(|word| !begins(word)).map(String::as_str).collect();
        let rest = &words[name.len()..];
        let is = |what: &str| rest.iter().any(|word| word == what);
        let readings: Vec<String> = rest.iter().filter(|word| word.contains('=')).cloned().collect();
        (!words.is_empty()).then(|| Said {
            part: name.join(" "),
            readings: set::request::changes(&readings),
            is_as_drawn: AS_DRAWN.iter().any(|words| is(words)),
            is_none: is(NONE),
        })
    }
}

/// Lists what exists and what becomes of it.
fn list(file: &Path, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let input = Input { file: file.to_owned(), variant: None, shop: None, font: Vec::new() };
    let Reading { project, findings, sources } = reading(&input, files)?;
    let Some(project) = project else {
        super::load::say(&findings, &sources, err);
        return Err(Stopped::ByFinding);
    };
    let kept = keeping::of(Some(&project), file, files)?;
    let job = Job::new(project);
    let now = Snapshot::of(&job)?;
    let (made, notation) = (&job.project().made, &job.project().notation);
    if made.is_empty() {
        let names: Vec<String> = now.parts.iter().map(|wood| quoted(&wood.id)).collect();
        let words = format!(
            "{} says of no part that it is made already. Once one is: fullsize made {} PART, with one of {}.\n",
            file.display(),
            typed(file),
            names.join(", ")
        );
        return Ok(say(out, harmless(&words).as_bytes())?);
    }
    let verdicts = keeping::verdicts(&job, &kept);
    let mut words = String::new();
    for finding in &verdicts.findings {
        let said = finding.said(notation);
        let cure = if said.remedy.is_empty() { String::new() } else { format!("\n  {}", said.remedy) };
        words.push_str(&format!("{}{cure}\n", capital(&said.message)));
    }
    let rest = now.parts.iter().filter(|wood| !made.iter().any(|made| wood.is_called(&made.part)));
    let rest: Vec<String> = rest.map(|wood| quoted(&wood.id)).collect();
    if !rest.is_empty() {
        words.push_str(&format!("Not said to be made: {}.\n", rest.join(", ")));
    }
    Ok(say(out, harmless(&words).as_bytes())?)
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// A part as it was drawn, with the copies that are meant by its name.
struct Found {
    wood: Wood,
    copies: Vec<String>,
    /// The name of the entry that says of it already that it is made.
    key: Option<String>,
    /// Where it was drawn, in words.
    of: String,
    /// The numbers of the piece of which it was drawn.
    numbers: Vec<Given>,
}

/// Says that a part exists, or takes that back.
fn record(asked: &Made, said: &Said, files: &Files, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let text = files.bytes(&asked.file, ReadAs::Project)?;
    let text = String::from_utf8_lossy(&text).into_owned();
    if said.is_none && (said.is_as_drawn || !said.readings.is_empty()) {
        return Err(Trouble::new("none takes the whole entry back: give no readings with it".to_owned()).into());
    }
    if said.is_none {
        let key = entry_called(&text, &said.part, &asked.copy).ok_or_else(|| {
            Trouble::new(format!("{} says nothing of {}", asked.file.display(), quoted(&said.part)))
        })?;
        return set::change(&asked.file, &[format!("{}={NONE}", dotted(&[MADE.to_owned(), key]))], files, out, err);
    }
    let mut kept = keeping::read(&asked.file, files)?;
    let found = match made_before(asked, said, &text, &kept) {
        Some(found) => found,
        None => found(asked, (&said.part, &text), files, err)?,
    };
    let key = key_of(&found);
    still_known(asked, (&text, &key), &found, &kept)?;
    let changes = changes(&text, &key, &found, said)?;
    fits(asked, (&text, &key), &found, &changes, files, err)?;
    kept.keep(&found.wood, &found.numbers);
    let kept = vec![keeping::output(&asked.file, &kept)];
    files.write(kept, &Replace { force: false }, &mut std::io::sink()).map(|_| ())?;
    say(
        out,
        harmless(&format!("{} as {} has it, rev {}.\n", found.wood.name, found.of, found.wood.revision)).as_bytes(),
    )?;
    set::change(&asked.file, &changes, files, out, err)
}

/// The part as which an entry of the file has it that is read again, or read as drawn: wood does not change with a later print. `None` where
/// nothing is said of it yet, or a print is named, or nothing is read, so that it is one made anew.
fn made_before(asked: &Made, said: &Said, text: &str, kept: &Kept) -> Option<Found> {
    if asked.by.is_some() || said.readings.is_empty() && !said.is_as_drawn {
        return None;
    }
    let key = entry_called(text, &said.part, &asked.copy)?;
    let root: Value = serde_json::from_str(text).ok()?;
    let entry = root.get(MADE)?.get(&key)?;
    let words = |field: &str| entry.get(field).and_then(Value::as_str);
    let part = kept.part(words("part").unwrap_or(&key), words("code")?)?;
    let only = entry.get("only").and_then(Value::as_array);
    let copies = only.into_iter().flatten().filter_map(Value::as_str).map(str::to_owned).collect();
    let of = format!("its entry in {}", asked.file.display());
    Some(Found { wood: part.wood.clone(), copies, key: Some(key), of, numbers: part.numbers.clone() })
}

/// The name of an entry for a part, or for some copies of it.
fn key_of(found: &Found) -> String {
    if let Some(key) = &found.key {
        return key.clone();
    }
    let parts = std::iter::once(&found.wood.id).chain(&found.copies).map(String::as_str);
    parts.collect::<Vec<&str>>().join(", ")
}

/// The name of the entry in a file that is meant.
fn entry_called(text: &str, part: &str, copies: &[String]) -> Option<String> {
    let root: Value = serde_json::from_str(text).ok()?;
    let entries = root.get(MADE)?.as_object()?;
    let whole = std::iter::once(part).chain(copies.iter().map(String::as_str)).collect::<Vec<&str>>().join(", ");
    let plain = |name: &str| name.replace('_', " ");
    let is_of = |(name, entry): &(&String, &Value)| {
        let only = entry.get("only").and_then(Value::as_array);
        let is_copy = only.is_some_and(|only| only.len() == 1 && only[0].as_str() == Some(part));
        plain(name) == plain(&whole) || is_copy
    };
    entries.iter().find(is_of).map(|(name, _)| name.clone())
}

/// Refuses to say of a part that was made by a code of which nothing is known here that it was made by another, unless a print is named.
fn still_known(asked: &Made, (text, key): (&str, &str), found: &Found, kept: &Kept) -> Result<(), Trouble> {
    let root: Value = serde_json::from_str(text).unwrap_or_default();
    let code = root.get(MADE).and_then(|made| made.get(key)?.get("code")?.as_str());
    let Some(code) = code.filter(|code| !code.eq_ignore_ascii_case(&found.wood.revision)) else { return Ok(()) };
    if asked.by.is_some() || kept.part(&found.wood.id, code).is_some() {
        return Ok(());
    }
    Err(Trouble::new(format!(
        "{} is said to be made by rev {code}, of which nothing is known here, and {} has it as rev {}: name the print by which it was made \
         with --by, or, where it was made anew, take the entry back first: fullsize made {} {} none",
        found.wood.name,
        found.of,
        found.wood.revision,
        typed(&asked.file),
        typed_word(key)
    )))
}

/// The part that is meant, as it was drawn: by the print that is named, by the prints beside the file, or as the file has it.
fn found(asked: &Made, (part, text): (&str, &str), files: &Files, err: &mut dyn Write) -> Result<Found, Stopped> {
    if part.is_empty() {
        return Err(Trouble::new(format!("say which part is made: fullsize made {} PART", typed(&asked.file))).into());
    }
    if let Some(print) = &asked.by {
        let piece = records::read(print, files)?.record.piece;
        let found = one_called(&piece, part, &asked.copy, &print.display().to_string());
        return Ok(found.ok_or_else(|| no_part(part, &piece, &print.display().to_string()))?);
    }
    let title = serde_json::from_str::<Value>(text).ok();
    let title = title.as_ref().and_then(|root| root.get("title")?.as_str());
    let beside = records::of_piece(&asked.file, title, files);
    let printed = beside.iter().filter_map(|pdf| {
        let record = records::left(pdf, files)?.record;
        let found = one_called(&record.piece, part, &asked.copy, &pdf.display().to_string())?;
        // Of a print without the part nothing was cut.
        let mut shown = record.laid.iter().flat_map(|laid| &laid.shows);
        shown.any(|one| one.revision == found.wood.revision).then_some(found)
    });
    let mut printed: Vec<Found> = printed.collect();
    printed.sort_by(|one, other| one.wood.revision.cmp(&other.wood.revision));
    printed.dedup_by(|one, other| one.wood.revision == other.wood.revision);
    if let [first, second, ..] = printed.as_slice() {
        return Err(Trouble::new(format!(
            "{} is rev {} on {} and rev {} on {}: say by which it was made, with --by",
            first.wood.name, first.wood.revision, first.of, second.wood.revision, second.of
        ))
        .into());
    }
    if let Some(found) = printed.pop() {
        return Ok(found);
    }
    let input = Input { file: asked.file.clone(), variant: None, shop: None, font: Vec::new() };
    let Reading { project, findings, sources } = reading(&input, files)?;
    let Some(project) = project else {
        super::load::say(&findings, &sources, err);
        return Err(Stopped::ByFinding);
    };
    let piece = Snapshot::of(&Job::new(project))?;
    let name = asked.file.display().to_string();
    Ok(one_called(&piece, part, &asked.copy, &name).ok_or_else(|| no_part(part, &piece, &name))?)
}

/// A part of a piece by its name, or by that of a copy.
fn one_called(piece: &Snapshot, part: &str, copies: &[String], of: &str) -> Option<Found> {
    let own = piece.parts.iter().find(|wood| wood.is_called(part));
    let copy = || piece.parts.iter().find(|wood| wood.copies.iter().any(|copy| copy == part));
    let is_copy = own.is_none();
    let wood = own.or_else(copy)?.clone();
    let is_first = |(index, copy): &(usize, &String)| !copies[..*index].contains(copy);
    let named = copies.iter().enumerate().filter(is_first).map(|(_, copy)| copy.clone()).collect();
    let copies = if is_copy { vec![part.to_owned()] } else { named };
    Some(Found { wood, copies, key: None, of: of.to_owned(), numbers: piece.numbers.clone() })
}

fn no_part(part: &str, piece: &Snapshot, of: &str) -> Trouble {
    let names: Vec<&str> = piece.parts.iter().map(|wood| wood.id.as_str()).collect();
    let near = nearest(part, names.iter().copied())
        .map_or_else(String::new, |near| format!("did you mean {}? ", quoted(near)));
    let names: Vec<String> = names.into_iter().map(quoted).collect();
    Trouble::new(format!("{of} has no part {}: {near}it has {}", quoted(part), names.join(", ")))
}

/// The changes of the file that say it.
fn changes(text: &str, key: &str, found: &Found, said: &Said) -> Result<Vec<String>, Trouble> {
    let entry = [MADE.to_owned(), key.to_owned()];
    let path = |steps: &[&str]| {
        let steps: Vec<String> = entry.iter().cloned().chain(steps.iter().map(|step| (*step).to_owned())).collect();
        dotted(&steps)
    };
    let mut changes = Vec::new();
    let mut read: Vec<Vec<String>> = Vec::new();
    if standing(text, &entry).is_none() || said.is_as_drawn || said.readings.is_empty() {
        let mut whole = serde_json::Map::new();
        if key != found.wood.id {
            whole.insert("part".to_owned(), json!(found.wood.id));
        }
        whole.insert("code".to_owned(), json!(found.wood.revision));
        if !found.copies.is_empty() {
            whole.insert("only".to_owned(), json!(found.copies));
        }
        changes.push(format!("{}={}", path(&[]), spaced(&Value::Object(whole))));
    } else {
        changes.push(format!("{}={}", path(&["code"]), found.wood.revision));
    }
    for reading in &said.readings {
        let (name, value) = reading.split_once('=').unwrap_or((reading.as_str(), ""));
        let (name, value) = (name.trim(), value.trim());
        let steps = field_of(name, &found.wood)?;
        if read.contains(&steps) {
            return Err(Trouble::new(format!("{} is read twice here: say one", quoted(name))));
        }
        read.push(steps.clone());
        let steps: Vec<&str> = steps.iter().map(String::as_str).collect();
        changes.push(format!("{}={value}", path(&steps)));
    }
    Ok(changes)
}

/// An object as a person writes it in one line.
fn spaced(value: &Value) -> String {
    match value {
        Value::Object(members) => {
            let members: Vec<String> =
                members.iter().map(|(name, value)| format!("{}: {}", json!(name), spaced(value))).collect();
            format!("{{ {} }}", members.join(", "))
        }
        Value::Array(entries) => format!("[{}]", entries.iter().map(spaced).collect::<Vec<String>>().join(", ")),
        other => other.to_string(),
    }
}

/// Where a reading stands in its entry: `lower edge` among the lengths, `right end mitre` among the mitres.
fn field_of(name: &str, wood: &Wood) -> Result<Vec<String>, Trouble> {
    let surfaces: Vec<String> = wood.surfaces().into_iter().map(|source| wood.name_of(source)).collect();
    let is_end = |name: &str| wood.surfaces().into_iter().any(|one| wood.is_end(one) && wood.name_of(one) == name);
    let is_surface = |name: &str| surfaces.iter().any(|surface| surface == name);
    let of_surface = OF_A_SURFACE.iter().find_map(|(behind, field)| {
        let surface = name.strip_suffix(behind)?;
        is_surface(surface).then(|| vec![(*field).to_owned(), surface.to_owned()])
    });
    let own = FIELDS.contains(&name.replace(' ', "_").as_str()).then(|| vec![name.replace(' ', "_")]);
    // What is read along an end is the part's width there.
    let field = if is_end(name) { WIDTHS } else { LENGTHS };
    let length = is_surface(name).then(|| vec![field.to_owned(), name.to_owned()]);
    of_surface.or(own).or(length).ok_or_else(|| {
        let names: Vec<&str> = surfaces.iter().map(String::as_str).collect();
        let known = Names::instead_of(name, names.iter().copied()).0;
        let near = known.near.map_or_else(String::new, |near| format!("did you mean {}? ", quoted(&near)));
        Trouble::new(format!(
            "{} is nothing that is measured on {}: {near}write the length of an edge by its name ({}), \"… on the far side\", \"… mitre\", \
             \"… bevel\", \"… width\" of an end, \"… trimmed\" for what was taken off all along it, thickness, worked=false or tolerance",
            quoted(name),
            wood.name,
            names.join(", ")
        ))
    })
}

/// Refuses readings that do not go with the part, before anything is written.
fn fits(
    asked: &Made,
    (text, key): (&str, &str),
    found: &Found,
    changes: &[String],
    files: &Files,
    err: &mut dyn Write,
) -> Result<(), Stopped> {
    let shops = ShopFiles::of(None, files)?;
    let name = asked.file.to_string_lossy();
    let changes: Vec<&str> = changes.iter().map(String::as_str).collect();
    // What is refused for other reasons is told where the change is made.
    let Ok(changed) = set_in(&name, text, &changes, shops.shops()) else { return Ok(()) };
    let reading = read_in(&name, changed.text.as_bytes(), shops.shops(), None, &no_drawings);
    let Some(project) = &reading.project else { return Ok(()) };
    let Some(made) = project.made.iter().find(|made| made.name == key) else { return Ok(()) };
    let copy = made.only.iter().find(|copy| !found.wood.copies.contains(copy));
    let problem = match (copy, measured(&found.wood, made)) {
        (Some(copy), _) => {
            let copies = Names::instead_of(copy, found.wood.copies.iter().map(String::as_str));
            MadeProblem::NoCopy { part: found.wood.name.clone(), copy: copy.clone(), copies }
        }
        (None, Err(why)) => MadeProblem::unfits(&found.wood, made, why),
        (None, Ok(_)) => return Ok(()),
    };
    let finding = Finding::of(problem, made.place.clone());
    let finding = Finding { refused: Some(RefusedChange::Itself), ..finding };
    super::load::say(&[finding], &reading.sources, err);
    Err(Stopped::ByFinding)
}
