//! How paper that is stuck or laid on wood lies on parts of either hand.

use super::lines::wrapped;
use crate::piece::SolvedBoard;

/// How many of a paper for `each` places of every part: those as drawn, and those of the other hand, for which it is turned over.
pub fn counted(solved: &SolvedBoard, verb: &str, each: u32) -> String {
    match solved.handed {
        Some(handed) => made(verb, [each * handed.as_drawn, each * handed.mirrored]),
        None => made(verb, [each * solved.count, 0]),
    }
}

/// How many prints of a paper are stuck on so many ends of every part: those as drawn, and those turned over.
fn stuck(solved: &SolvedBoard, ends: u32) -> [u32; 2] {
    match solved.handed {
        Some(handed) => [ends * handed.as_drawn, ends * handed.mirrored],
        None => [ends * solved.count, 0],
    }
}

/// How many prints of a paper that is stuck on each of so many ends of every part are wanted.
pub fn prints(solved: &SolvedBoard, ends: u32) -> u32 {
    stuck(solved, ends).into_iter().sum::<u32>().max(1)
}

/// The same in words, and which way they go: `for 4 ends: 4 prints of it: 2 as drawn, 2 turned over`. On how many pages it lies, and with what
/// else, is not known where it is said.
pub fn prints_told(solved: &SolvedBoard, ends: u32) -> String {
    let [drawn, over] = stuck(solved, ends);
    match (drawn + over, over) {
        (1, _) => "for 1 end".to_owned(),
        (all, 0) => format!("for {all} ends: {all} prints of it"),
        (all, over) => format!("for {all} ends: {all} prints of it: {} as drawn, {over} turned over", all - over),
    }
}

/// So many as drawn and so many turned over: `make 2 as drawn, 2 turned over`.
pub fn made(verb: &str, [drawn, over]: [u32; 2]) -> String {
    match over {
        0 => format!("{verb} {drawn}"),
        over => format!("{verb} {drawn} as drawn, {over} turned over"),
    }
}

/// Which side of the paper goes to the wood, for parts of either hand with what these are called, in lines.
pub fn lies(solved: &SolvedBoard) -> Vec<String> {
    match solved.handed {
        Some(_) => side_to_wood([copies(solved, false), copies(solved, true)]),
        None => side_to_wood([Vec::new(), Vec::new()]),
    }
}

/// The same of parts that are called so: those as drawn, then those for which it is turned over.
pub fn side_to_wood([drawn, over]: [Vec<String>; 2]) -> Vec<String> {
    if over.is_empty() {
        return vec!["this side away from the wood".to_owned()];
    }
    let said = |how: &str, names: Vec<String>| match names.is_empty() {
        true => how.to_owned(),
        false => format!("{how}: {}", names.join("; ")),
    };
    let [drawn, over] =
        [said("as drawn, this side away from the wood", drawn), said("turned over, this side to the wood", over)];
    [drawn, over].iter().flat_map(|said| wrapped(said)).collect()
}

/// What each board that is made from the pattern is called, as it is chalked on: those as drawn, then the mirrored ones.
pub fn chalked(solved: &SolvedBoard) -> Vec<String> {
    let named = |mirrored: bool| {
        let names = copies(solved, mirrored);
        (!names.is_empty()).then(|| names.join("; "))
    };
    let said = |how: &str, names: Option<String>| names.map(|names| format!("{how}{names}"));
    let (drawn, mirrored) = match solved.handed {
        Some(_) => ("as drawn: ", "mirrored: "),
        None => ("", ""),
    };
    [said(drawn, named(false)), said(mirrored, named(true))].into_iter().flatten().collect()
}

/// What the copies of one hand are called, where that is not what the part is called.
pub fn copies(solved: &SolvedBoard, mirrored: bool) -> Vec<String> {
    let own = solved.copies.iter().filter(|copy| copy.placement.is_mirrored() == mirrored);
    own.map(|copy| copy.label.clone()).filter(|name| *name != solved.label).collect()
}
