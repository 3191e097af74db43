//! What diagonals of a taped pattern say.

use super::{length, not_written, refuse_scaled};
use crate::cli::args::Shop;
use crate::cli::load::Stopped;
use crate::cli::output::Trouble;
use crate::finding::{nearest, quoted};
use crate::job::{Job, Sheets};
use crate::layout::{Cross, Diagonal, Stretch, TiledPattern};
use crate::model::{Printer, Shop as ShopModel};
use crate::page::Part;
use crate::pattern::Pattern;
use crate::units::{Angle, Length, MM_PER_INCH, Notation, Units};

/// How far a reading may be off on a rule of half millimetres, mm: a quarter at either end.
const READING_ERROR: f64 = 0.5;

/// A pattern that was taped and measured.
pub struct Taped<'a> {
    /// The pattern.
    pub pattern: &'a Pattern,
    /// As its sheets are laid.
    pub plan: &'a TiledPattern,
    /// What was read of each diagonal, rising and falling, with its crosses.
    pub read: Vec<(&'a (Cross, Cross), Length)>,
    /// The pattern of the print that is the longest.
    longest: &'a Pattern,
    notation: &'a Notation,
}

/// What readings say.
pub struct Report {
    /// In words.
    pub words: String,
    /// How the print differs from what is drawn.
    pub stretch: Stretch,
    /// What comes of it.
    pub verdict: Verdict,
}

/// What comes of readings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// The print is as long as it should be.
    True,
    /// The printer's error cannot be told from that of the taping: one diagonal alone was read, or both are off in different ways.
    Open,
    /// Both diagonals are off alike by more than a rule leaves in doubt: the sheets lie square, and the print is too long or too short.
    Off,
}

impl<'a> Taped<'a> {
    /// The pattern that was measured, with its readings.
    ///
    /// # Errors
    /// Where none, or more than one, may be meant, or a reading is none.
    pub fn of(
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
            let (a, b) = diagonal(names, pattern, plan)?;
            let drawn = Length::from_mm(a.at.distance(b.at));
            if let Some(meant) = meant_otherwise(reading, (length, drawn), notation) {
                let read = format!("{}-{}", a.name, b.name);
                return Err(not_written(in_other_units(&read, &meant, (length, drawn), notation)).into());
            }
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
    pub fn reads_as_of(&self, made_for: &Printer, (is, shop): (&Printer, &ShopModel)) -> bool {
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

    /// The first diagonal that was read, by its crosses.
    pub fn first(&self) -> String {
        self.read.first().map_or_else(String::new, |((a, b), _)| format!("{} to {}", a.name, b.name))
    }

    /// What was read.
    pub fn told(&self) -> String {
        let one = |((a, b), read): &(&(Cross, Cross), Length)| {
            format!("{} to {} = {}", a.name, b.name, self.notation.exact(*read))
        };
        self.read.iter().map(one).collect::<Vec<_>>().join(" and ")
    }

    /// How far a reading leaves the length of what was read in doubt, as a share of it.
    pub fn in_doubt(&self) -> f64 {
        self.read.iter().map(|((a, b), _)| READING_ERROR / a.at.distance(b.at)).fold(0.0, f64::max)
    }

    /// What the readings say; `again` is the command that tells them once more, but for the diagonal that was not read.
    ///
    /// # Errors
    /// Where they are of a print that was scaled, or of more than two diagonals.
    pub fn report(&self, again: &str) -> Result<Report, Trouble> {
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
        let sure = self.in_doubt();
        let share = shares.iter().sum::<f64>() / shares.len().max(1) as f64;
        let is_true = share.abs() <= sure;
        words.push_str(&match is_true {
            true => format!(
                "A rule of half millimetres tells no more than {:.2} % of it: the print is as long as it should be, and nothing was written.\n",
                sure * 100.0
            ),
            false => format!(
                "So the pattern as it is taped is {}: from {:.2} to {:.2} %, since a rule of half millimetres tells no more.\n",
                off(share),
                ((share.abs() - sure) * 100.0).max(0.0),
                (share.abs() + sure) * 100.0
            ),
        });
        let askew = if self.read.len() > 1 { self.skew()? } else { None };
        let verdict = match (is_true, askew.is_some(), self.read.len()) {
            (_, true, _) | (false, _, 1) => Verdict::Open,
            (true, ..) => Verdict::True,
            (false, ..) => Verdict::Off,
        };
        if verdict == Verdict::Off {
            words.push_str(&self.other_way(stretch));
        }
        words.push_str(&match (askew, self.read.len()) {
            (Some(askew), _) => askew,
            (None, 1) if verdict == Verdict::Open => self.other_diagonal(stretch, again),
            (None, 1) => String::new(),
            (None, _) => {
                "The two diagonals are off alike, as far as such a rule tells: the sheets lie square.\n".to_owned()
            }
        });
        Ok(Report { words, stretch, verdict })
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

    /// That one diagonal alone tells nothing sure, and what the other must read if it is the print that is off and not the taping.
    fn other_diagonal(&self, stretch: Stretch, again: &str) -> String {
        let open = "One diagonal cannot tell a print that is too long or too short from sheets that are taped askew: nothing was written.";
        let told = |pair: &&(Cross, Cross)| !self.read.iter().any(|(known, _)| std::ptr::eq(*known, *pair));
        let Some((a, b)) = self.plan.diagonals.iter().find(told) else {
            return format!(
                "{open} This pattern has no other diagonal: lay a rule on the bars of its sheets instead.\n"
            );
        };
        let expected = self.notation.length(Length::from_mm(stretch.of(b.at - a.at).hypot()));
        let (a, b) = (&a.name, &b.name);
        format!(
            "{open} Read the other one too: if the sheets lie square, then {a} to {b} reads {expected}, give or take half a millimetre. Tell \
             both at once:\n  {again} --measured {a}-{b}=…\n"
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

/// The units in which a bare number may have been read: `mm`, `cm` and `in`, mm.
const UNITS: [(&str, f64); 3] = [("mm", 1.0), ("cm", 10.0), ("in", MM_PER_INCH)];

/// A reading with the unit in which it is as long as what is drawn, where it is not so in the units that it is taken in.
fn meant_otherwise(reading: &str, (read, drawn): (Length, Length), notation: &Notation) -> Option<String> {
    let is_near = |mm: f64| (mm / drawn.mm() - 1.0).abs() <= Printer::LARGEST_ERROR;
    let (_, own) = UNITS.into_iter().find(|(unit, _)| *unit == unit_of(notation))?;
    let number = read.mm() / own;
    // What says its unit, and is another length all the same, was read elsewhere.
    let is_bare = !reading.contains(|c: char| c.is_alphabetic() || ['"', '″', '”', '\''].contains(&c));
    if !is_bare || is_near(read.mm()) {
        return None;
    }
    let (unit, _) = UNITS.into_iter().find(|(_, mm)| is_near(number * mm))?;
    Some(format!("{} {unit}", reading.trim()))
}

/// The units of bare numbers.
fn unit_of(notation: &Notation) -> &'static str {
    if notation.units == Units::Inch { "in" } else { "mm" }
}

/// That a bare number is a length in other units, and how it is told with its own.
fn in_other_units(between: &str, meant: &str, (read, drawn): (Length, Length), notation: &Notation) -> String {
    let units = if notation.units == Units::Inch { "inches" } else { "millimetres" };
    format!(
        "a bare number is in {units} here, and {} is no reading of {between}, which should read {}. {meant}? Then tell it with its unit: \
         \"{between}={meant}\"",
        notation.exact(read),
        notation.length(drawn),
    )
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
    // By the name or the code that stands on its sheets, or by the name of what it goes with.
    let is_own = |of: &String, part: &Part| part.code == *of || part.name == *of;
    let is_laid = |of: &String| laid.iter().any(|(pattern, _)| is_own(of, &pattern.part));
    let named = match asked.of.as_ref().filter(|of| !is_laid(of)) {
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
        (Some(of), None) => is_own(of, &pattern.part),
        (_, named) => named.as_ref().is_none_or(|named| named.iter().any(|one| one.part.code == pattern.part.code)),
    };
    let is_measured = |(pattern, plan): &&(&Pattern, &TiledPattern)| {
        !plan.diagonals.is_empty() && is_named(pattern) && bears(pattern)
    };
    let measured: Vec<_> = laid.iter().filter(is_measured).collect();
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
