//! The effects of numbers in a maker's words: one sentence a part.

use super::measured::{Effect, Effects, PartEffects};
use super::size::SizeOf;
use crate::model::{Kind, Number};
use crate::tolerance::{SHOWN, SHOWN_SQUARE};
use crate::units::{Angle, Length, Notation};

/// So many numbers are told of a part.
const MOST_TOLD: usize = 5;

/// What each number does to each part, and in which order the parts are best cut.
pub fn words(effects: &Effects, heading: &str, say: &Notation) -> String {
    let [length, angle] = usual(effects, say);
    let several = effects.parts.len() > 1;
    let order = match several {
        true => {
            ", in the order in which they are best cut: a part after those that its ends are sawn to fit, what goes between frames after the frames, else that first which hangs on the least"
        }
        false => "",
    };
    let mut out = format!(
        "{heading}: how each part follows the numbers{order}.\nIn brackets: how far the longest side of a part usually comes out \
         otherwise where every number that is not its own is off by {length} or {angle}, some more and some less, as it falls out in \
         work.\n\n"
    );
    for (place, part) in effects.parts.iter().enumerate() {
        let number = if several { format!("{}. ", place + 1) } else { String::new() };
        out.push_str(&format!("{number}{} {}\n", part.label, sentence(effects, part, say)));
    }
    out.push_str(&by_number(effects, say));
    let held: Vec<&str> =
        effects.held.iter().filter_map(|i| effects.numbers.get(*i)).map(|number| number.words.as_str()).collect();
    if !held.is_empty() {
        out.push_str(&format!("\nNot told, since nothing can be made with any more or less: {}.\n", held.join(", ")));
    }
    out
}

/// The other way round: of each number the parts whose length it moves, the one that moves most first.
fn by_number(effects: &Effects, say: &Notation) -> String {
    let [length, angle] = usual(effects, say);
    let line = |(index, number): (usize, &Number)| {
        let mut moved: Vec<(f64, &str)> = effects
            .parts
            .iter()
            .filter_map(|part| Some((told(effects, part, index)?.longer, part.label.as_str())))
            .filter(|(mm, _)| mm.abs() >= SHOWN)
            .collect();
        moved.sort_by(|a, b| b.0.abs().total_cmp(&a.0.abs()));
        let moved = moved.into_iter().map(|(mm, label)| format!("{label} {}", say.length(Length::from_mm(mm.abs()))));
        let moved: Vec<String> = moved.collect();
        let by = if number.kind == Kind::Angle { &angle } else { &length };
        (!moved.is_empty()).then(|| format!("{by} of {}: {}\n", number.words, moved.join(", ")))
    };
    let lines: String = effects.numbers.iter().enumerate().filter_map(line).collect();
    if lines.is_empty() { lines } else { format!("\nWhose length each number moves:\n{lines}") }
}

/// By how much the work usually misses a length and an angle.
fn usual(effects: &Effects, say: &Notation) -> [String; 2] {
    let [length, angle] = effects.usual;
    [say.exact(Length::from_mm(length)), say.angle(Angle::from_degrees(angle))]
}

/// What a number does to a part where it comes out otherwise by what is usual.
struct Told<'a> {
    number: &'a Number,
    /// How much longer its longest side becomes, mm.
    longer: f64,
    /// By how many degrees its ends and edges turn, with their names.
    turned: Vec<(f64, &'a str)>,
    /// Whether it is otherwise for less of the number.
    uneven: bool,
}

impl Told<'_> {
    /// Whether a maker notices.
    fn shows(&self) -> bool {
        self.longer.abs() >= SHOWN || !self.turned.is_empty()
    }
}

fn sentence(effects: &Effects, part: &PartEffects, say: &Notation) -> String {
    let length = |mm: f64| say.length(Length::from_mm(mm));
    let hangs = if part.hangs_by < SHOWN { "nothing".to_owned() } else { length(part.hangs_by) };
    let longest = part.longest.and_then(|index| part.sizes.get(index));
    let own =
        longest.map_or_else(String::new, |size| format!(", {} along its {}", length(size.size.value), size.place));
    let mut all: Vec<Told> = (0..effects.numbers.len()).filter_map(|number| told(effects, part, number)).collect();
    all.retain(Told::shows);
    // Those of which the length hangs most stand first.
    all.sort_by(|a, b| b.longer.abs().total_cmp(&a.longer.abs()));
    let clauses: Vec<String> = all.iter().take(MOST_TOLD).map(|told| clause(effects, told, say)).collect();
    let less: Vec<&str> = all.iter().skip(MOST_TOLD).map(|told| told.number.words.as_str()).collect();
    let more = if less.is_empty() { String::new() } else { format!("; the {} less than these", less.join(", the ")) };
    match clauses.is_empty() {
        true => format!("({hangs}){own}: no number changes its longest side or an angle."),
        false => format!("({hangs}){own}: {}{more}.", clauses.join("; ")),
    }
}

fn told<'a>(effects: &'a Effects, part: &'a PartEffects, number: usize) -> Option<Told<'a>> {
    let of = |by: &[Effect]| by.iter().find(|effect| effect.number == number).copied();
    let longest = part.longest.and_then(|index| of(&part.sizes.get(index)?.by));
    let angles = part.sizes.iter().filter(|one| one.size.of.is_angle());
    let turned = angles.filter_map(|one| Some((effects.usually(&of(&one.by)?).abs(), one.place.as_str())));
    let mut turned: Vec<(f64, &str)> = turned.filter(|(degrees, _)| *degrees >= SHOWN_SQUARE).collect();
    // Mitre and bevel of one end: the larger.
    turned.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut seen: Vec<&str> = Vec::new();
    turned.retain(|(_, place)| {
        !seen.contains(place) && {
            seen.push(place);
            true
        }
    });
    Some(Told {
        number: effects.numbers.get(number)?,
        longer: longest.map_or(0.0, |effect| effects.usually(&effect)),
        turned,
        uneven: longest.is_some_and(|effect| effect.ways.is_some()),
    })
}

fn clause(effects: &Effects, told: &Told, say: &Notation) -> String {
    let [length, angle] = usual(effects, say);
    let by = if told.number.kind == Kind::Angle { angle } else { length };
    let longer = (told.longer.abs() >= SHOWN).then(|| {
        let way = if told.longer > 0.0 { "longer" } else { "shorter" };
        format!("makes it {} {way}", say.length(Length::from_mm(told.longer.abs())))
    });
    let turned = told.turned.first().map(|(most, place)| {
        let most_words = say.angle(Angle::from_degrees(*most));
        let as_much = told.turned.iter().filter(|(other, _)| (other - most).abs() < SHOWN_SQUARE).count();
        match (told.turned.len(), as_much) {
            (1, _) => format!("turns its {place} by {most_words}"),
            (2, 2) => {
                let other = told.turned.last().map_or("", |(_, place)| place);
                format!("turns its {place} and its {other} by {most_words}")
            }
            _ => format!("turns ends and edges by up to {most_words}"),
        }
    });
    let does: Vec<String> = longer.into_iter().chain(turned).collect();
    let uneven = if told.uneven { " (less of it does not do the opposite)" } else { "" };
    format!("{by} more in the {} {}{uneven}", told.number.words, does.join(" and "))
}

/// What a size is called beside its part: `length along the lower edge, far side`.
pub(super) fn size_words(of: SizeOf, place: &str) -> String {
    match of {
        SizeOf::Thickness => "thickness".to_owned(),
        SizeOf::OnFace => format!("{place}, along it on the face side"),
        SizeOf::OnFar => format!("{place}, along it on the far side"),
        SizeOf::Mitre => format!("{place}, mitre"),
        SizeOf::Bevel => format!("{place}, bevel"),
    }
}
