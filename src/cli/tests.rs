//! What a command makes: each stage of the work once, and cures only where they are shown.

use crate::job::{Stages, taken};
use std::fs;
use std::path::Path;

const TABLE: &str = include_str!("../../templates-demo/reading_table.json");

/// The table with numbers that stand for their cells already (`Length::settled`): 610 mm stands nearly on a 64th of an inch, and
/// its codes would be made of a second piece.
fn table() -> String {
    let unsettled = "\"width_at_top\": 610";
    assert!(TABLE.contains(unsettled));
    TABLE.replace(unsettled, "\"width_at_top\": 612")
}

/// Runs a command on a file in a folder; its exit code, and how often each stage ran.
fn run(folder: &Path, file: &str, words: &[&str]) -> (u8, Stages) {
    fs::write(folder.join("table.json"), file).expect("a file");
    let at = |name: &str| folder.join(name).to_string_lossy().into_owned();
    let mut line = vec!["fullsize".to_owned(), words[0].to_owned(), at("table.json")];
    line.extend(words[1..].iter().map(|word| word.strip_prefix('@').map_or((*word).to_owned(), at)));
    taken();
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = super::run(line.into_iter().map(Into::into), &mut out, &mut err);
    (code, taken())
}

const COMMANDS: [&[&str]; 10] = [
    &["check"],
    &["check", "--format", "json"],
    &["show", "-o", "@picture.svg"],
    &["print", "-o", "@out.pdf"],
    &["print", "--pattern", "apron", "-o", "@out.pdf"],
    &["plot", "-o", "@out.svg"],
    &["draw", "--section", "x=0", "-o", "@views.pdf"],
    &["draw", "--rod", "-o", "@rod.pdf"],
    &["schedule", "-o", "@out.txt"],
    &["model", "-o", "@out.glb"],
];

fn at_most_once(words: &[&str], stages: &Stages) {
    for (stage, runs) in stages.all() {
        assert!(runs <= 1, "{words:?}: {stage} {runs} times");
    }
}

#[test]
fn a_command_makes_each_stage_once_and_searches_no_cures_of_a_good_file() {
    let folder = tempfile::tempdir().expect("a folder");
    for words in COMMANDS {
        let (code, stages) = run(folder.path(), &table(), words);
        assert_eq!(code, 0, "{words:?}");
        at_most_once(words, &stages);
        assert_eq!((stages.solved, stages.joined, stages.checked, stages.cured), (1, 1, 1, 0), "{words:?}");
    }
}

/// Numbers between the cells cost a second piece for the codes, and no more.
#[test]
fn numbers_between_the_cells_of_codes_are_solved_twice_at_most() {
    let folder = tempfile::tempdir().expect("a folder");
    for words in COMMANDS {
        let (code, stages) = run(folder.path(), TABLE, words);
        assert_eq!((code, stages.cured), (0, 0), "{words:?}");
        assert!(stages.all().into_iter().all(|(_, runs)| runs <= 2), "{words:?}");
        // What a cutter cannot reach is in no code.
        assert!(stages.reached <= 1, "{words:?}");
    }
}

/// A tenon 20 thick leaves walls of 5 in a rail of 30: the cure is told where the warning is, and there alone it is searched.
#[test]
fn the_cure_of_a_thin_wall_is_searched_once_and_only_where_it_is_shown() {
    let tenon = "\"thickness\": 10, \"width\": 40";
    assert!(TABLE.contains(tenon));
    let thin = table().replace(tenon, "\"thickness\": 20, \"width\": 40");
    let folder = tempfile::tempdir().expect("a folder");
    for words in COMMANDS {
        let (code, stages) = run(folder.path(), &thin, words);
        assert_eq!(code, 0, "{words:?}");
        at_most_once(words, &stages);
        assert_eq!(stages.cured, 1, "{words:?}");
    }
    // Before anything is written, so that a name of no part is refused; then as it was and as it is, to tell what the change
    // brings; the wall is thin in both.
    let (code, stages) = run(folder.path(), &thin, &["set", "top.thickness=28"]);
    assert_eq!((code, stages.solved, stages.cured), (0, 3, 0));
}

#[test]
fn the_cure_of_what_stops_the_work_is_searched_once() {
    let rail = "\"depth\": 72, \"height\": 150";
    assert!(TABLE.contains(rail));
    let high = TABLE.replace(rail, "\"depth\": 72, \"height\": 620");
    let folder = tempfile::tempdir().expect("a folder");
    for words in COMMANDS {
        let (code, stages) = run(folder.path(), &high, words);
        assert_eq!(code, 1, "{words:?}");
        at_most_once(words, &stages);
        assert_eq!((stages.solved, stages.joined, stages.cured), (1, 0, 1), "{words:?}");
    }
}
