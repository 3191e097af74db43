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
use crate::change::{Given, Kept, MadeProblem, Outcome, Snapshot, Verdict, Wood, measured};
use crate::finding::{Finding, Names, RefusedChange, capital, nearest, quoted};
use crate::job::Job;
use crate::model::made::MadePart;
use crate::model::path::dotted;
use crate::project::edit::{set_in, standing};
use crate::project::{Reading, no_drawings, read_in};
use serde_json::{Value, json};
use std::io::Write;
use std::path::Path;

/// What takes an entry back, and what says that nothing was measured.
const NONE: &str = "none";
const AS_DRAWN: [&str; 2] = ["as-drawn", "as drawn"];

/// What says that all is done which was told: the part is as the file has it now. And what means every part.
const DONE: &str = "done";
const ALL: &str = "all";

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
    is_done: bool,
    is_none: bool,
}

impl Said {
    /// In the words of a command line; `None` where there are none.
    fn of(words: &[String]) -> Option<Said> {
        let begins = |word: &&String| {
            word.contains('=') || [NONE, DONE].contains(&word.as_str()) || AS_DRAWN.contains(&word.as_str())
        };
        let name: Vec<&str> = words.iter().take_while(|word| !begins(word)).map(String::as_str).collect();
        let rest = &words[name.len()..];
        let is = |what: &str| rest.iter().any(|word| word == what);
        let readings: Vec<String> = rest.iter().filter(|word| word.contains('=')).cloned().collect();
        (!words.is_empty()).then(|| Said {
            part: name.join(" "),
            readings: set::request::changes(&readings),
            is_as_drawn: AS_DRAWN.iter().any(|words| is(words)),
            is_done: is(DONE),
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
    let to_do = |verdict: &&Verdict| matches!(verdict.outcome(), Outcome::Trim | Outcome::Rescue);
    if let Some(part) = verdicts.all.iter().filter(to_do).find_map(|verdict| verdict.part.as_ref()) {
        words.push_str(&format!(
            "Once what is told of a part is done, say so: fullsize made {} {} {DONE}.\n",
            typed(file),
            typed_word(part)
        ));
    }
    let rest: Vec<String> = now.parts.iter().filter_map(|wood| not_made(wood, made)).collect();
    if !rest.is_empty() {
        words.push_str(&format!("Not said to be made: {}.\n", rest.join(", ")));
    }
    Ok(say(out, harmless(&words).as_bytes())?)
}

/// A part of which nothing is said, or its copies of which nothing is; `None` where all of it is said to be made.
fn not_made(wood: &Wood, made: &[MadePart]) -> Option<String> {
    let own: Vec<&MadePart> = made.iter().filter(|made| wood.is_called(&made.part)).collect();
    if own.iter().any(|made| made.only.is_empty()) {
        return None;
    }
    let is_said = |copy: &&String| own.iter().any(|made| made.only.contains(copy));
    let left: Vec<&str> = wood.copies.iter().filter(|copy| !is_said(copy)).map(String::as_str).collect();
    match (own.is_empty(), left.is_empty()) {
        (true, _) => Some(quoted(&wood.id)),
        (false, false) => Some(format!("{} ({})", quoted(&wood.id), left.join(", "))),
        (false, true) => None,
    }
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
    if said.part == ALL && (said.is_none || said.is_done) {
        return Err(Trouble::new(format!(
            "{} is said of one part at a time: name it in the place of {ALL}",
            if said.is_none { NONE } else { DONE }
        ))
        .into());
    }
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
    if said.is_done {
        return done(asked, said, (&text, kept), files, out, err);
    }
    if said.part == ALL {
        return all(asked, said, (&text, kept), files, out, err);
    }
    let found = match made_before(asked, said, &text, &kept) {
        Some(found) => found,
        None => found(asked, (&said.part, &text), files, err)?,
    };
    let key = key_of(&found);
    still_known(asked, (&text, &key), &found, &kept)?;
    told_once(asked, (&text, &key), &found)?;
    let changes = changes(&text, &key, &found, said)?;
    fits(asked, (&text, &key), &found, &changes, files, err)?;
    kept.keep(&found.wood, &found.numbers);
    keep(asked, &kept, files)?;
    say(
        out,
        harmless(&format!("{} as {} has it, rev {}.\n", found.wood.name, found.of, found.wood.revision)).as_bytes(),
    )?;
    set::change(&asked.file, &changes, files, out, err)
}

/// Says that all is done which was told of a part: it is as the file has it now.
fn done(
    asked: &Made,
    said: &Said,
    (text, mut kept): (&str, Kept),
    files: &Files,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Stopped> {
    if !said.readings.is_empty() || said.is_as_drawn || asked.by.is_some() {
        return Err(Trouble::new(format!(
            "{DONE} says that a part is as the file has it: give nothing else with it"
        ))
        .into());
    }
    let key = entry_called(text, &said.part, &asked.copy)
        .ok_or_else(|| Trouble::new(format!("{} says nothing of {}", asked.file.display(), quoted(&said.part))))?;
    let root: Value = serde_json::from_str(text).unwrap_or_default();
    let entry = root.get(MADE).and_then(|made| made.get(&key)).cloned().unwrap_or_default();
    let part = entry.get("part").and_then(Value::as_str).unwrap_or(&key);
    let only = entry.get("only").and_then(Value::as_array).into_iter().flatten();
    let copies: Vec<String> = only.filter_map(Value::as_str).map(str::to_owned).collect();
    let now = as_the_file_has_it(asked, part, files, err)?;
    let found = Found { copies, key: Some(key.clone()), ..now };
    kept.keep(&found.wood, &found.numbers);
    let anew =
        Said { part: part.to_owned(), readings: Vec::new(), is_as_drawn: false, is_done: true, is_none: false };
    let changes = changes(text, &key, &found, &anew)?;
    keep(asked, &kept, files)?;
    set::change(&asked.file, &changes, files, out, err)
}

/// Says of every part that it is made.
fn all(
    asked: &Made,
    said: &Said,
    (text, mut kept): (&str, Kept),
    files: &Files,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Stopped> {
    if !said.readings.is_empty() || !asked.copy.is_empty() {
        return Err(
            Trouble::new(format!("what was measured is said of one part: name it in the place of {ALL}")).into()
        );
    }
    let mut changed = Vec::new();
    let mut told = String::new();
    for part in snapshot(asked, files, err)?.parts {
        let found = found(asked, (&part.id, text), files, err)?;
        let key = key_of(&found);
        still_known(asked, (text, &key), &found, &kept)?;
        told_once(asked, (text, &key), &found)?;
        told.push_str(&format!("{} as {} has it, rev {}.\n", found.wood.name, found.of, found.wood.revision));
        changed.extend(changes(text, &key, &found, said)?);
        kept.keep(&found.wood, &found.numbers);
    }
    keep(asked, &kept, files)?;
    say(out, harmless(&told).as_bytes())?;
    set::change(&asked.file, &changed, files, out, err)
}

/// Writes the wood of parts that exist beside the file.
fn keep(asked: &Made, kept: &Kept, files: &Files) -> Result<(), Trouble> {
    let output = keeping::output(&asked.file, kept);
    files.write(vec![output], &Replace { force: false }, &mut std::io::sink()).map(|_| ())
}

/// The piece as its file has it.
fn snapshot(asked: &Made, files: &Files, err: &mut dyn Write) -> Result<Snapshot, Stopped> {
    let input = Input { file: asked.file.clone(), variant: None, shop: None, font: Vec::new() };
    let Reading { project, findings, sources } = reading(&input, files)?;
    let Some(project) = project else {
        super::load::say(&findings, &sources, err);
        return Err(Stopped::ByFinding);
    };
    Ok(Snapshot::of(&Job::new(project))?)
}

/// A part as its file has it.
fn as_the_file_has_it(asked: &Made, part: &str, files: &Files, err: &mut dyn Write) -> Result<Found, Stopped> {
    let piece = snapshot(asked, files, err)?;
    let name = asked.file.display().to_string();
    Ok(one_called(&piece, part, &asked.copy, &name).ok_or_else(|| no_part(part, &piece, &name))?)
}

/// Refuses to say of a copy that it is made of which another entry says so already: of two none could be told to be right.
fn told_once(asked: &Made, (text, key): (&str, &str), found: &Found) -> Result<(), Trouble> {
    let root: Value = serde_json::from_str(text).unwrap_or_default();
    let entries = root.get(MADE).and_then(Value::as_object).into_iter().flatten();
    for (other, entry) in entries.filter(|(other, _)| *other != key) {
        let part = entry.get("part").and_then(Value::as_str).unwrap_or(other);
        let only: Vec<&str> =
            entry.get("only").and_then(Value::as_array).into_iter().flatten().filter_map(Value::as_str).collect();
        let Some(copy) = found.copies.iter().find(|copy| only.contains(&copy.as_str())) else { continue };
        if found.wood.is_called(part) {
            return Err(Trouble::new(format!(
                "{copy} is said to be made already, in {}: take that back first (fullsize made {} {} none), or say it of that alone",
                quoted(other),
                typed(&asked.file),
                typed_word(other)
            )));
        }
    }
    Ok(())
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
    as_the_file_has_it(asked, part, files, err)
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
