//! What was measured on a print, put into the shop file.

use super::ShopFile;
use crate::cli::args::{Input, Shop};
use crate::cli::files::{Files, ReadAs, only_project};
use crate::cli::load::{Stopped, load, paper, say as say_findings};
use crate::cli::output::{Trouble, harmless, say, typed};
use crate::cli::set::journal;
use crate::finding::{nearest, quoted};
use crate::job::{Job, Sheets};
use crate::layout::{Cross, Diagonal, Stretch, TiledPattern};
use crate::model::{Printer, ReadingsFrom, RuleBar, Shop as ShopModel};
use crate::pattern::Pattern;
use crate::project::read_shop;
use crate::units::{Angle, Length, Notation, Sum, Units};
use std::io::Write;
use std::path::PathBuf;

/// How far a reading may be off on a rule of half millimetres, mm: a quarter at either end.
const READING_ERROR: f64 = 0.5;

/// The same on a bar, whose one end lies at the rule's own: a quarter, mm.
const BAR_ERROR: f64 = 0.25;

/// The bar as whose reading a correction is written down where none was measured: that of the smallest usual sheets.
const USUAL_BAR: RuleBar = RuleBar::ALL[1];

/// What was measured.
enum Told {
    /// A bar, up or else across, and its reading.
    Bar { is_up: bool, reading: String },
    /// The distance of two ringed crosses, by their names as they were written.
    Crosses { names: [String; 2], reading: String },
}

/// Runs `shop --measured`.
pub fn run(
    asked: &Shop,
    file: &ShopFile,
    files: &Files,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Stopped> {
    let told = asked.measured.iter().map(|words| Told::read(words)).collect::<Result<Vec<_>, _>>()?;
    let bars: Vec<(bool, &str)> = told.iter().filter_map(Told::bar).collect();
    let crosses: Vec<(&[String; 2], &str)> = told.iter().filter_map(Told::crosses).collect();
    match (bars.as_slice(), crosses.as_slice()) {
        (bars, []) => of_bars(asked, bars, file, files, out, err),
        ([], crosses) => of_crosses(asked, crosses, file, files, out, err),
        _ => Err(Trouble::new("bars and diagonals tell the same thing twice: give one or the other").into()),
    }
}

impl Told {
    fn read(words: &str) -> Result<Told, Trouble> {
        let unclear = || {
            Trouble::new(format!(
                "\"{words}\" tells no measure; write P-Q=1759 for the distance from ringed cross P to Q, or \"bar across=149.8\""
            ))
        };
        let (name, reading) = words.split_once('=').ok_or_else(unclear)?;
        let (name, reading) = (name.trim().to_lowercase(), reading.trim().to_owned());
        if reading.is_empty() {
            return Err(unclear());
        }
        match name.trim_start_matches("bar").trim_matches([' ', '_']) {
            "across" => return Ok(Told::Bar { is_up: false, reading }),
            "up" => return Ok(Told::Bar { is_up: true, reading }),
            _ => {}
        }
        let parts: Vec<String> = name
            .replace(" to ", "-")
            .split(['-', '–'])
            .map(|part| part.trim().to_uppercase())
            .filter(|part| !part.is_empty())
            .collect();
        <[String; 2]>::try_from(parts).map(|names| Told::Crosses { names, reading }).map_err(|_| unclear())
    }

    fn bar(&self) -> Option<(bool, &str)> {
        if let Told::Bar { is_up, reading } = self { Some((*is_up, reading)) } else { None }
    }

    fn crosses(&self) -> Option<(&[String; 2], &str)> {
        if let Told::Crosses { names, reading } = self { Some((names, reading)) } else { None }
    }
}

/// A length as it was typed, and whether it was told in inches.
fn length(words: &str, units: Units) -> Result<(Length, bool), Trouble> {
    let unclear =
        || Trouble::new(format!("\"{words}\" is no length; write for example 1759, 1759.5 mm or 69 1/4 in"));
    let sum = Sum::read(words).map_err(|_| unclear())?;
    let value = sum.value(Some(units), |_| None).map_err(|_| unclear())?;
    let length = value.to_length(Some(units)).map_err(|_| unclear())?;
    Ok((length, sum.written_units().unwrap_or(units) == Units::Inch))
}

/// Refuses a print that was scaled.
fn refuse_scaled(what: &str, share: f64) -> Result<(), Trouble> {
    if share.abs() <= Printer::LARGEST_ERROR {
        return Ok(());
    }
    let off = share.abs() * 100.0;
    let way = if share > 0.0 { "long" } else { "short" };
    Err(Trouble::new(format!(
        "{what} is {off:.1} % too {way}, and no printer or paper does so much: a scaling setting (\"fit to page\") was left on, or another \
         line was measured. Nothing was written; print page 1 again at 100 % (\"actual size\") and lay a rule on its bars"
    )))
}

/// Mends the readings of the shop file by what bars of a print read that was corrected by it.
fn of_bars(
    asked: &Shop,
    bars: &[(bool, &str)],
    file: &ShopFile,
    files: &Files,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Stopped> {
    let (shop, notation) = shop_of(file, files, err)?;
    let (mut printer, mut written_as) = (shop.printer, [USUAL_BAR; 2]);
    for (is_up, reading) in bars {
        let (read, inches) = length(reading, notation.units)?;
        let bar = RuleBar::read(read, inches);
        let (name, drawn) = (if *is_up { "bar up" } else { "bar across" }, bar.side(inches).mm());
        let share = read.mm() / drawn - 1.0;
        refuse_scaled(&format!("the {name}"), share)?;
        let along = |printer: &Printer| if *is_up { printer.up.0 } else { printer.across.0 };
        let before = |old: &Printer| drawn * along(old) / along(&shop.printer);
        if !asked.printed_since {
            refuse_counted(name, (drawn, read.mm(), BAR_ERROR), &earlier(file, files)?, before)?;
        }
        let factor = if *is_up { &mut printer.up.0 } else { &mut printer.across.0 };
        *factor /= 1.0 + share;
        written_as[usize::from(*is_up)] = bar;
    }
    write(file, (printer, written_as), notation.units, files, (out, err))
}

/// The printers for which the shop file corrected prints before it was as it is, as far as that is known; before all else for none.
fn earlier(file: &ShopFile, files: &Files) -> Result<Vec<Printer>, Trouble> {
    let mut all = vec![Printer::TRUE];
    if file.path.exists() {
        let bytes = files.bytes(&file.regular()?, ReadAs::Shop)?;
        let texts = journal::texts_before(files, &file.path, &String::from_utf8_lossy(&bytes));
        let read = |text: &String| Some(read_shop("", text.as_bytes()).project?.shop.printer);
        all.extend(texts.iter().filter_map(read));
    }
    Ok(all)
}

/// Refuses a reading of a print that was made before an earlier reading was counted: such a print reads just so, since its error is
/// what the shop file corrects since. `is_before` is what a print reads that was corrected for an earlier printer.
fn refuse_counted(
    what: &str,
    (drawn, read, sure): (f64, f64, f64),
    earlier: &[Printer],
    is_before: impl Fn(&Printer) -> f64,
) -> Result<(), Trouble> {
    let reads_so = |old: &Printer| {
        let then = is_before(old);
        (then - drawn).abs() > sure && (then - read).abs() <= sure
    };
    if earlier.iter().any(reads_so) { Err(counted_already(what)) } else { Ok(()) }
}

/// Why a reading of an older print is refused.
fn counted_already(what: &str) -> Trouble {
    Trouble::new(format!(
        "a print that was made before the readings of your shop file last changed reads just that on {what}, and it is counted already: \
         nothing was written. Print page 1 or the proof sheet again and measure that; if this print was made since, add --printed-since"
    ))
}

/// What the shop file says by itself.
fn shop_of(file: &ShopFile, files: &Files, err: &mut dyn Write) -> Result<(ShopModel, Notation), Stopped> {
    let bytes = if file.path.exists() { files.bytes(&file.regular()?, ReadAs::Shop)? } else { b"{}".to_vec() };
    let reading = read_shop(&file.path.to_string_lossy(), &bytes);
    say_findings(&reading.findings, &reading.sources, err);
    let project = reading.project.ok_or(Stopped::ByFinding)?;
    Ok((project.shop, project.notation))
}

/// Mends the readings of the shop file by diagonals of a taped pattern.
fn of_crosses(
    asked: &Shop,
    crosses: &[(&[String; 2], &str)],
    file: &ShopFile,
    files: &Files,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Stopped> {
    let piece = asked.piece.clone().map_or_else(|| at_hand(asked), Ok)?;
    let input = Input {
        file: piece.clone(),
        variant: asked.variant.clone(),
        shop: (!file.is_own && file.path.exists()).then(|| file.path.clone()),
        font: Vec::new(),
    };
    let mut loaded = load(&input, files, err)?;
    if let Some(paper) = paper(asked.paper.as_deref())? {
        loaded.job.set_paper(paper);
    }
    if !asked.printed_since && loaded.job.project().readings_from != Some(ReadingsFrom::Piece) {
        refuse_counted_crosses(asked, crosses, &mut loaded.job, &earlier(file, files)?)?;
    }
    let job = &loaded.job;
    let sheets = job.sheets(loaded.job.patterns_named(&[])?)?;
    let taped = Taped::of(asked, crosses, job, &sheets)?;
    let report = taped.report()?;
    say(out, harmless(&report.words).as_bytes())?;
    let project = job.project();
    if report.is_true || report.lies_askew {
        return Ok(());
    }
    let corrected = report.stretch.corrected(&project.shop, taped.plan);
    let mut bars = taped.plan.bars().map(|bar| bar.unwrap_or(USUAL_BAR));
    if !Stretch::lies_across(&project.shop, taped.plan) {
        bars.reverse();
    }
    write(file, (corrected, bars), project.notation.units, files, (out, err))?;
    if project.readings_from == Some(ReadingsFrom::Piece) {
        let words = format!(
            "But {} says itself what its printer's bars read, and that goes before: take it away with  fullsize set {} shop.printer=none\n",
            piece.display(),
            typed(&piece)
        );
        say(out, harmless(&words).as_bytes())?;
    }
    Ok(())
}

/// Refuses readings of a print that was made before earlier ones were counted. Its sheets may lie otherwise, so that they are laid
/// again as they were.
fn refuse_counted_crosses(
    asked: &Shop,
    crosses: &[(&[String; 2], &str)],
    job: &mut Job,
    earlier: &[Printer],
) -> Result<(), Stopped> {
    let is = job.project().shop.printer;
    let mut found = None;
    for made_for in earlier.iter().filter(|printer| **printer != is) {
        job.set_printer(*made_for);
        let sheets = job.sheets(job.patterns_named(&[])?)?;
        // A print that had no such crosses is not the one.
        let Ok(taped) = Taped::of(asked, crosses, job, &sheets) else { continue };
        if taped.reads_as_of(made_for, (&is, &job.project().shop)) {
            found = taped.read.first().map(|((a, b), _)| format!("{} to {}", a.name, b.name));
            break;
        }
    }
    job.set_printer(is);
    found.map_or(Ok(()), |what| Err(counted_already(&what).into()))
}

/// The one piece in this folder.
fn at_hand(asked: &Shop) -> Result<PathBuf, Trouble> {
    only_project().map_err(|several| {
        let of = asked.of.as_deref().map_or_else(String::new, |of| format!(" that \"{of}\" is a part of"));
        Trouble::new(format!("which piece was printed? Name the file{of} with --in FILE{several}"))
    })
}

/// A pattern that was taped and measured.
struct Taped<'a> {
    pattern: &'a Pattern,
    plan: &'a TiledPattern,
    /// What was read of each diagonal, rising and falling, with its crosses.
    read: Vec<(&'a (Cross, Cross), Length)>,
    /// The pattern of the print that is the longest.
    longest: &'a Pattern,
    notation: &'a Notation,
}

/// What readings say.
struct Report {
    words: String,
    stretch: Stretch,
    /// Whether nothing is to be mended.
    is_true: bool,
    /// Whether the sheets lie out of square, by more than a rule leaves in doubt.
    lies_askew: bool,
}

impl<'a> Taped<'a> {
    fn of(
        asked: &Shop,
        crosses: &[(&[String; 2], &str)],
        job: &'a Job,
        sheets: &'a Sheets,
    ) -> Result<Taped<'a>, Stopped> {
        let laid: Vec<(&Pattern, &TiledPattern)> = sheets
            .patterns
            .iter()
            .zip(&sheets.manifest.patterns)
            .filter_map(|(pattern, plan)| Some((pattern, plan.as_ref()?)))
            .collect();
        let (pattern, plan) = chosen(asked, crosses, job, &laid)?;
        let notation = &job.project().notation;
        let mut read = Vec::new();
        for (names, reading) in crosses {
            let (length, _) = length(reading, notation.units)?;
            read.push((diagonal(names, pattern, plan)?, length));
        }
        if let [(first, _), (second, _)] = read.as_slice()
            && std::ptr::eq(*first, *second)
        {
            return Err(
                Trouble::new("both readings are of the same diagonal: the other one is wanted beside it").into()
            );
        }
        let long = |pattern: &&Pattern| pattern.bounds.width().max(pattern.bounds.height());
        let longest = laid.iter().map(|(pattern, _)| *pattern).max_by(|a, b| long(a).total_cmp(&long(b)));
        Ok(Taped { pattern, plan, read, longest: longest.unwrap_or(pattern), notation })
    }

    /// Whether readings are those of a print that was corrected for one printer, by one that is as another says.
    fn reads_as_of(&self, made_for: &Printer, (is, shop): (&Printer, &ShopModel)) -> bool {
        let [across, up] = [made_for.across.0 / is.across.0, made_for.up.0 / is.up.0];
        let (x, y) = if Stretch::lies_across(shop, self.plan) { (across, up) } else { (up, across) };
        self.read.iter().all(|((a, b), read)| {
            let drawn = b.at - a.at;
            let then = (drawn.x * x).hypot(drawn.y * y);
            (then - drawn.hypot()).abs() > READING_ERROR && (then - read.mm()).abs() <= READING_ERROR
        })
    }

    /// The stretch that explains readings which are off by some errors, mm.
    fn stretch(&self, errors: [f64; 2]) -> Result<Stretch, Trouble> {
        let diagonals: Vec<Diagonal> = self
            .read
            .iter()
            .zip(errors)
            .map(|(((a, b), read), error)| Diagonal { drawn: b.at - a.at, read: read.mm() + error })
            .collect();
        Stretch::explaining(&diagonals)
            .ok_or_else(|| Trouble::new("at most the two diagonals P-Q and R-S can be told at once"))
    }

    fn report(&self) -> Result<Report, Trouble> {
        let stretch = self.stretch([0.0; 2])?;
        let mut words = String::new();
        let mut shares = Vec::new();
        for ((a, b), read) in &self.read {
            let drawn = Length::from_mm(a.at.distance(b.at));
            let share = read.mm() / drawn.mm() - 1.0;
            refuse_scaled(&format!("{} to {} of {}", a.name, b.name, self.pattern.part.name), share)?;
            shares.push(share);
            let (drawn, read) = (self.notation.length(drawn), self.notation.exact(*read));
            words.push_str(&format!(
                "{} to {} of {} should read {drawn} and reads {read}: {}.\n",
                a.name,
                b.name,
                self.pattern.part.name,
                off(share)
            ));
        }
        words.push_str(
            "Page 1 of your print says the same numbers; if it says others, it was made with other readings or on other paper: print it \
             again before you measure.\n",
        );
        let sure = self.read.iter().map(|((a, b), _)| READING_ERROR / a.at.distance(b.at)).fold(0.0, f64::max);
        let share = shares.iter().sum::<f64>() / shares.len().max(1) as f64;
        let is_true = share.abs() <= sure;
        words.push_str(&match is_true {
            true => format!(
                "A rule of half millimetres tells no more than {:.2} % of it: the print is as long as it should be, and nothing was written.\n",
                sure * 100.0
            ),
            false => format!(
                "So the print is {}: from {:.2} to {:.2} %, since a rule of half millimetres tells no more.\n",
                off(share),
                ((share.abs() - sure) * 100.0).max(0.0),
                (share.abs() + sure) * 100.0
            ),
        });
        if !is_true {
            words.push_str(&self.other_way(stretch));
        }
        let askew = if self.read.len() > 1 { self.skew()? } else { None };
        let lies_askew = askew.is_some();
        words.push_str(&match (askew, self.read.len()) {
            (Some(askew), _) => askew,
            (None, 1) => self.other_diagonal(stretch),
            (None, _) => {
                "The two diagonals are off alike, as far as such a rule tells: the sheets lie square.\n".to_owned()
            }
        });
        Ok(Report { words, stretch, is_true, lies_askew })
    }

    /// That a long narrow pattern tells nothing of the way across it.
    fn other_way(&self, stretch: Stretch) -> String {
        if !stretch.is_of_one_way() {
            return String::new();
        }
        let way = if stretch.x.abs() > stretch.y.abs() { "lying" } else { "standing" };
        format!(
            "That is of the {way} way alone: so narrow a pattern tells next to nothing of the other, which is left as it is. The bars of a \
             sheet tell both.\n"
        )
    }

    /// What the diagonal that was not told must read, if it is the print that is off and not the taping.
    fn other_diagonal(&self, stretch: Stretch) -> String {
        let told = |pair: &&(Cross, Cross)| !self.read.iter().any(|(known, _)| std::ptr::eq(*known, *pair));
        let Some((a, b)) = self.plan.diagonals.iter().find(told) else { return String::new() };
        let expected = self.notation.length(Length::from_mm(stretch.of(b.at - a.at).hypot()));
        format!(
            "This takes the sheets to be taped square. See to it: then {} to {} reads {expected}; where it is off by more than half a \
             millimetre from that, tell both readings, since the sheets lie askew.\n",
            a.name, b.name
        )
    }

    /// How far out of square the sheets lie, and what that does to the longest pattern; `None` where a rule tells of none.
    fn skew(&self) -> Result<Option<String>, Trouble> {
        let skews = [[0.0, 0.0], [READING_ERROR, -READING_ERROR], [-READING_ERROR, READING_ERROR]];
        let [found, one, other] = skews.map(|errors| self.stretch(errors).map(|stretch| stretch.skew));
        let (found, one, other) = (found?, one?, other?);
        let (low, high) = (one.min(other), one.max(other));
        if low <= 0.0 && high >= 0.0 {
            return Ok(None);
        }
        let angle = |skew: f64| format!("{:.2}°", Angle::from_radians(skew.abs().atan()).degrees());
        let (least, most) = if found > 0.0 { (low, high) } else { (-high, -low) };
        let side = if found > 0.0 { "right" } else { "left" };
        let height = self.longest.bounds.height();
        let shift = self.notation.length(Length::from_mm(found.abs() * height));
        let high = self.notation.length(Length::from_mm(height));
        Ok(Some(format!(
            "The two diagonals are not off alike: what is drawn square stands {} off ({} to {}), its upper side pushed to the {side}. On {}, the \
             longest pattern, which is {high} high as it lies on the map, the upper edge stands {shift} too far to the {side}. Nothing was \
             written: mostly it is the taping, so part a seam, lay it again and measure both anew. If the diagonal of a proof sheet is off too, the printer feeds its sheets askew: set its guides to the paper.\n",
            angle(found),
            angle(least),
            angle(most),
            self.longest.part.name,
        )))
    }
}

/// `0.52 % short`.
fn off(share: f64) -> String {
    match format!("{:.2}", share.abs() * 100.0) {
        none if none == "0.00" => "as it should".to_owned(),
        percent => format!("{percent} % {}", if share > 0.0 { "too long" } else { "too short" }),
    }
}

/// The pattern that was measured: the one that is named, or that whose code the crosses bear.
fn chosen<'a>(
    asked: &Shop,
    crosses: &[(&[String; 2], &str)],
    job: &Job,
    laid: &[(&'a Pattern, &'a TiledPattern)],
) -> Result<(&'a Pattern, &'a TiledPattern), Stopped> {
    // By its name, or by the code that stands on its sheets.
    let is_code = |of: &String| laid.iter().any(|(pattern, _)| pattern.part.code == *of);
    let named = match asked.of.as_ref().filter(|of| !is_code(of)) {
        Some(of) => Some(job.patterns_named(std::slice::from_ref(of))?),
        None => None,
    };
    let bears = |pattern: &Pattern| {
        let name = |cross: &String| {
            cross.strip_suffix(LETTERS).is_none_or(|code| code.is_empty() || code == pattern.part.code)
        };
        crosses.iter().flat_map(|(names, _)| names.iter()).all(name)
    };
    let is_named = |pattern: &Pattern| match (&asked.of, &named) {
        (Some(code), None) => pattern.part.code == *code,
        (_, named) => named.as_ref().is_none_or(|named| named.iter().any(|one| one.part.code == pattern.part.code)),
    };
    let is_measured = |(pattern, plan): &&(&Pattern, &TiledPattern)| {
        !plan.diagonals.is_empty() && is_named(pattern) && bears(pattern)
    };
    let mut measured: Vec<_> = laid.iter().filter(is_measured).collect();
    // What goes with a part answers to its name too.
    if measured.iter().filter(|(pattern, _)| asked.of.as_ref() == Some(&pattern.part.name)).count() == 1 {
        measured.retain(|(pattern, _)| asked.of.as_ref() == Some(&pattern.part.name));
    }
    let names = |all: &[&(&Pattern, &TiledPattern)]| {
        all.iter().map(|(pattern, _)| quoted(&pattern.part.name)).collect::<Vec<_>>().join(", ")
    };
    match (measured.as_slice(), &asked.of) {
        ([only], _) => Ok(**only),
        ([], Some(of)) => Err(Trouble::new(format!(
            "\"{of}\" has no ringed crosses of these names on sheets of its own: take the names that stand above its map on page 1"
        ))
        .into()),
        ([], None) => Err(Trouble::new("no pattern has ringed crosses of these names: take those that stand on the sheets").into()),
        (several, _) => Err(Trouble::new(format!(
            "the crosses may be of several patterns: {names}; say which with --of, or write the whole names that stand beside the crosses, \
             such as {code}P-{code}Q",
            names = names(several),
            code = several.first().map_or("", |(pattern, _)| pattern.part.code.as_str()),
        ))
        .into()),
    }
}

/// The last letters of ringed crosses.
const LETTERS: [char; 4] = ['P', 'Q', 'R', 'S'];

/// The diagonal between two crosses.
fn diagonal<'a>(
    names: &[String; 2],
    pattern: &Pattern,
    plan: &'a TiledPattern,
) -> Result<&'a (Cross, Cross), Trouble> {
    let is =
        |cross: &Cross, name: &String| cross.name == *name || cross.name == format!("{}{name}", pattern.part.code);
    let [one, other] = names;
    let joins = |(a, b): &&(Cross, Cross)| (is(a, one) && is(b, other)) || (is(a, other) && is(b, one));
    plan.diagonals.iter().find(joins).ok_or_else(|| {
        let all: Vec<String> = plan.diagonals.iter().map(|(a, b)| format!("{}-{}", a.name, b.name)).collect();
        let asked = format!("{one}-{other}");
        let meant = nearest(&asked, all.iter().map(String::as_str)).map(str::to_owned);
        let there = meant.map_or_else(|| all.join(" and "), |meant| format!("{meant} (of {})", all.join(" and ")));
        Trouble::new(format!("{asked} is no diagonal of {}: measured are {there}", pattern.part.name))
    })
}

/// Writes what a printer's bars read, of those bars across and up, into the shop file.
fn write(
    file: &ShopFile,
    (printer, bars): (Printer, [RuleBar; 2]),
    units: Units,
    files: &Files,
    (out, err): (&mut dyn Write, &mut dyn Write),
) -> Result<(), Stopped> {
    let inches = units == Units::Inch;
    let reading = |name: &str, factor: f64, bar: RuleBar| {
        let read = bar.side(inches).mm() / factor;
        match inches {
            true => format!("printer.bar_{name}={:.4} in", Length::from_mm(read).inches()),
            false => format!("printer.bar_{name}={read:.3} mm"),
        }
    };
    let [across, up] = bars;
    // Both, since what is written goes before all of another file's readings.
    let changes = [reading("across", printer.across.0, across), reading("up", printer.up.0, up)];
    file.change(&changes, units, files, out, err)?;
    let words = "So these bars read on a print that is corrected for nothing; with that your prints are corrected. Print page 1 or the proof \
                 sheet again: its bars read what they say.\n";
    Ok(say(out, words.as_bytes())?)
}
