//! Which bars a paper has, and whether a reading can be of the one as which it is told.
//!
//! A reading is of the bar that it is nearest to, and any two bars lie so far apart that none is of both. Which bars there are hangs on the
//! paper: what is of none of them was told by the other bar's name, in other units, or read on other paper, and would have each print
//! corrected the wrong way.

use super::measured::{PRINTER, Way, length, scaled};
use crate::layout::bars_on;
use crate::model::{Printer, RuleBar, Shop as ShopModel};
use crate::project::read_shop;
use crate::units::{Length, Notation, Units};
use serde_json::Value;

/// By which share of its length a reading may be off its own row of a bar before it is asked whether it was not read on the other row: by so
/// much printers are seldom off, though they may be by more (see [`Printer::LARGEST_ERROR`]).
const DOUBTED: f64 = 0.008;

/// Within which share of its length a reading that is doubted is as long as the other row: printers are mostly off by less.
const NEAR: f64 = 0.0025;

/// Readings that are off by a larger share than this are of no scaled print either.
const SCALED: f64 = 0.15;

/// The bars of a paper.
pub struct Bars<'a> {
    shop: &'a ShopModel,
    notation: &'a Notation,
    /// By [`Way`]; `None` where any may stand on it.
    on: Option<[Vec<RuleBar>; 2]>,
    told: TellBy,
}

/// How readings are told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TellBy {
    /// To `--measured`, by what was read: `"bar across=149.8 mm"`.
    Measured,
    /// As a change of the shop file.
    Change,
    /// As the answer to a question.
    Answer,
}

/// One row of a bar, that in millimetres or that in inches, as which something may have been read.
#[derive(Clone, Copy)]
struct Row {
    way: Way,
    bar: RuleBar,
    inches: bool,
}

impl Row {
    /// By which share of its length a reading is longer.
    fn off(&self, reading: Length) -> f64 {
        reading.mm() / self.bar.side(self.inches).mm() - 1.0
    }

    fn fits(&self, reading: Length) -> bool {
        self.off(reading).abs() <= Printer::LARGEST_ERROR
    }

    fn name(&self) -> String {
        if self.inches { format!("{} in", self.bar.inches) } else { format!("{} mm", self.bar.mm) }
    }
}

impl<'a> Bars<'a> {
    /// Those of a shop's paper.
    pub fn of(shop: &'a ShopModel, notation: &'a Notation, told: TellBy) -> Bars<'a> {
        Bars { shop, notation, on: bars_on(shop, notation), told }
    }

    /// Refuses a reading that is of no bar that bears the name, or more likely of another.
    ///
    /// # Errors
    /// What it is taken for and how that is told, without a full stop.
    pub fn believe(&self, way: Way, words: &str) -> Result<(), String> {
        let Ok((read, inches)) = length(words, self.notation.units) else { return Ok(()) };
        if let Some(parts) = parts(words).filter(|parts| inches && !is_on_a_rule(*parts)) {
            return Err(self.of_odd_parts(way, words, parts));
        }
        let rows = self.rows(inches);
        let own = rows.iter().filter(|row| row.way == way && row.fits(read));
        let why = match own.min_by(|a, b| a.off(read).abs().total_cmp(&b.off(read).abs())) {
            Some(own) => match self.other_row(own, read) {
                Some(other) => self.of_other_row(own, &other, read),
                None => return Ok(()),
            },
            None => match rows.iter().find(|row| row.way != way && row.fits(read)) {
                Some(other) => self.of_other_bar(way, other, read),
                None => match self.slip(way, read, inches) {
                    Some(meant) => self.slipped(way, (read, inches), meant, words),
                    None => self.of_none(way, read, inches),
                },
            },
        };
        Err(why)
    }

    /// The rows in inches, or in millimetres, of all bars.
    fn rows(&self, inches: bool) -> Vec<Row> {
        let on = |way: Way| match &self.on {
            Some(on) => on[way as usize].clone(),
            None => RuleBar::ALL.to_vec(),
        };
        Way::BOTH.into_iter().flat_map(|way| on(way).into_iter().map(move |bar| Row { way, bar, inches })).collect()
    }

    /// The other row of the same bar, where a reading that is far off its own is as long as that.
    fn other_row(&self, own: &Row, read: Length) -> Option<Row> {
        let other = Row { inches: !own.inches, ..*own };
        (own.off(read).abs() > DOUBTED && other.off(read).abs() <= NEAR).then_some(other)
    }

    fn of_other_row(&self, own: &Row, other: &Row, read: Length) -> String {
        let (said, as_other) = (self.said(read, own.inches), self.said(read, other.inches));
        format!(
            "the {bar} has two rows: {said} is {off} as a reading of its row of {row}, and as long as its row of {other_row} should be. If you read \
             that row, tell it in its own units: {told}; if it was the row of {row}, tell what the row of {other_row} reads",
            bar = own.way.bar(),
            off = share(own.off(read)),
            row = own.name(),
            other_row = other.name(),
            told = self.told(own.way, &as_other),
        )
    }

    fn of_other_bar(&self, way: Way, other: &Row, read: Length) -> String {
        let said = self.said(read, other.inches);
        format!(
            "{said} is no reading of the {bar}, whose rows are {lengths} on {paper}; as a reading of the {other_bar}, which is {length} long, it is \
             {off}. If the bar that you read bears that name, {tell}; if it was printed on other paper, {cure}",
            bar = way.bar(),
            lengths = self.rows_of(way),
            paper = self.paper(),
            other_bar = other.way.bar(),
            length = other.name(),
            off = share(other.off(read)),
            tell = match self.told {
                TellBy::Answer => "the next question is about it".to_owned(),
                _ => format!("tell it so: {}", self.told(other.way, &said)),
            },
            cure = self.paper_cure(),
        )
    }

    /// What was meant by a number in other units than it is taken in, or with its point elsewhere, of the bar of that name.
    fn slip(&self, way: Way, read: Length, inches: bool) -> Option<(Length, bool)> {
        let number = if inches { read.inches() } else { read.mm() };
        let meant = [inches, !inches].into_iter().flat_map(|inches| {
            let of = move |number: f64| if inches { Length::from_inches(number) } else { Length::from_mm(number) };
            [1.0, 10.0, 0.1].map(|times| (of(number * times), inches))
        });
        let fits = meant.flat_map(|(meant, inches)| {
            let own = self.rows(inches).into_iter().filter(|row| row.way == way && row.fits(meant));
            own.map(|row| (row.off(meant).abs(), meant, inches)).collect::<Vec<_>>()
        });
        let nearest = fits.min_by(|(a, ..), (b, ..)| a.total_cmp(b));
        nearest.map(|(_, meant, inches)| (meant, inches))
    }

    fn slipped(
        &self,
        way: Way,
        (read, inches): (Length, bool),
        (meant, in_inches): (Length, bool),
        words: &str,
    ) -> String {
        let is_bare = !words.contains(|c: char| c.is_alphabetic() || c == '"');
        let taken = if is_bare { format!(" (a bare number is in {} here)", self.units()) } else { String::new() };
        let meant = self.said(meant, in_inches);
        format!(
            "{read} is no reading of the {bar}, whose rows are {lengths} on {paper}{taken}. {meant}? Then write {told}",
            read = self.said(read, inches),
            bar = way.bar(),
            lengths = self.rows_of(way),
            paper = self.paper(),
            told = self.told(way, &meant),
        )
    }

    fn of_none(&self, way: Way, read: Length, inches: bool) -> String {
        let rows = self.rows(inches);
        let own = rows.iter().filter(|row| row.way == way);
        let near = own.min_by(|a, b| a.off(read).abs().total_cmp(&b.off(read).abs()));
        let said = self.said(read, inches);
        match near.filter(|near| near.off(read).abs() <= SCALED) {
            Some(near) => scaled(&format!("the {} of {}", way.bar(), near.name()), near.off(read)),
            None => format!(
                "{said} is no reading of the {bar}, whose rows are {lengths} on {paper}; if it was printed on other paper, {cure}",
                bar = way.bar(),
                lengths = self.rows_of(way),
                paper = self.paper(),
                cure = self.paper_cure(),
            ),
        }
    }

    fn of_odd_parts(&self, way: Way, words: &str, parts: u32) -> String {
        let near = HALVED.into_iter().min_by_key(|near| near.abs_diff(parts)).unwrap_or(parts);
        let near = words.trim().replacen(&format!("/{parts}"), &format!("/{near}"), 1).replace('"', " in");
        format!(
            "no rule has {parts} parts to the inch, as {words} would be read on. {near}? Then write {}",
            self.told(way, &near)
        )
    }

    fn units(&self) -> &'static str {
        if self.notation.units == Units::Inch { "inches" } else { "millimetres" }
    }

    /// A length in units in which it can be typed back.
    fn said(&self, length: Length, inches: bool) -> String {
        let units = if inches { Units::Inch } else { Units::Mm };
        // The sign for inches would end the quotes.
        Notation { units, ..self.notation.clone() }.exact(length).replace('"', " in")
    }

    fn told(&self, way: Way, said: &str) -> String {
        match self.told {
            TellBy::Answer => said.to_owned(),
            _ => format!("\"{}={said}\"", way.bar()),
        }
    }

    /// How long the two rows of a bar are: `150 mm and 6 in`, of several bars `150 mm and 6 in, or 250 mm and 10 in`.
    pub fn rows_of(&self, way: Way) -> String {
        let mut bars: Vec<RuleBar> =
            self.rows(false).iter().filter(|row| row.way == way).map(|row| row.bar).collect();
        bars.sort_by_key(|bar| bar.mm);
        let both = |RuleBar { mm, inches }: &RuleBar| match self.notation.units {
            Units::Mm => format!("{mm} mm and {inches} in"),
            Units::Inch => format!("{inches} in and {mm} mm"),
        };
        bars.iter().map(both).collect::<Vec<String>>().join(", or ")
    }

    fn paper(&self) -> String {
        match &self.on {
            Some(_) => format!("sheets of {}", self.shop.paper.name()),
            None => "a roll".to_owned(),
        }
    }

    fn paper_cure(&self) -> &'static str {
        match self.told {
            TellBy::Measured => "say which with --paper",
            TellBy::Change => "say which first: paper=a3",
            TellBy::Answer => "go back and say which",
        }
    }
}

/// Refuses a change of a shop file's text that writes a reading of a bar which its paper, as the text then says, has not. However the change
/// was asked for: what is told by its name, with all of the printer or behind its paper is looked at where it stands.
///
/// # Errors
/// As [`Bars::believe`].
pub fn believe_written(before: &str, after: &str) -> Result<(), String> {
    let file = |text: &str| serde_json::from_str::<Value>(text).ok();
    let reading = |file: &Option<Value>, way: Way| match file.as_ref()?.pointer(&way.pointer())? {
        Value::String(words) => Some(words.clone()),
        other => Some(other.to_string()),
    };
    let (before, after) = (file(before), file(after));
    let is_new = |way: Way| reading(&after, way).filter(|now| reading(&before, way).as_ref() != Some(now));
    let new: Vec<(Way, String)> = Way::BOTH.into_iter().filter_map(|way| Some((way, is_new(way)?))).collect();
    // Without its readings: those that no printer gives are refused here in more words than the reader has.
    let bare = after.map(|mut file| {
        file.as_object_mut().map(|file| file.remove(PRINTER));
        file.to_string()
    });
    // What else is wrong with the file is told where it is changed.
    let Some(project) = bare.and_then(|bare| read_shop("", bare.as_bytes()).project) else { return Ok(()) };
    let bars = Bars::of(&project.shop, &project.notation, TellBy::Change);
    new.iter().try_for_each(|(way, reading)| bars.believe(*way, reading))
}

/// Into how many parts rules are parted by halves.
const HALVED: [u32; 6] = [2, 4, 8, 16, 32, 64];

/// Into how many parts the fraction of a reading parts its unit.
fn parts(words: &str) -> Option<u32> {
    let behind = words.split_once('/')?.1.trim_start();
    let digits = behind.find(|c: char| !c.is_ascii_digit()).unwrap_or(behind.len());
    behind.get(..digits)?.parse().ok()
}

/// Whether inches of rules are so parted: by halves, in tenths and hundredths, in twelfths (common practice, no source).
fn is_on_a_rule(parts: u32) -> bool {
    parts > 0 && [128, 100, 48].into_iter().any(|finest: u32| finest.is_multiple_of(parts))
}

/// `0.9 % long`.
fn share(off: f64) -> String {
    match format!("{:.1}", off.abs() * 100.0) {
        none if none == "0.0" => "as long as it should be".to_owned(),
        percent => format!("{percent} % {}", if off > 0.0 { "long" } else { "short" }),
    }
}
