//! Parts of two hands: wherever a number of them is told, it is told how many are made each way round.

use crate::bench_models::random;
use fullsize::job::Job;
use fullsize::project::read;
use fullsize::schedule::{json as data, parts, tables, text};

/// The good files, and pieces of random numbers.
fn files() -> Vec<(String, Vec<u8>)> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/fixtures/good");
    let mut names: Vec<_> =
        std::fs::read_dir(folder).expect("a folder").map(|one| one.expect("a file").path()).collect();
    names.sort();
    let good = names.iter().filter(|path| path.extension().is_some_and(|kind| kind == "json"));
    let good = good.map(|path| (path.display().to_string(), std::fs::read(path).expect("a file")));
    good.chain(random(3).into_iter().map(|file| ("random".to_owned(), file.to_string().into_bytes()))).collect()
}

/// Whether words tell both numbers, each with its hand.
fn tells(said: &str, [drawn, mirrored]: [u64; 2]) -> bool {
    let over = [format!("{mirrored} mirrored"), format!("{mirrored} turned over")];
    said.contains(&format!("{drawn} as drawn")) && over.iter().any(|over| said.contains(over))
}

#[test]
fn a_number_of_parts_of_two_hands_says_how_many_of_each() {
    let (mut parts_seen, mut papers, mut fastened) = (0, 0, 0);
    for (name, bytes) in files() {
        let Some(project) = read(&name, &bytes, None, None).project else { continue };
        let job = Job::new(project);
        let (Ok(schedule), Ok(patterns)) = (job.schedule(), job.patterns()) else { continue };
        let (json, text, tables) = (data(&schedule), text(&schedule), tables(&schedule));
        let list = parts(schedule.piece, schedule.stocks, &schedule.notation);
        for board in schedule.piece.boards.iter().filter(|board| board.handed.is_some()) {
            let label = &board.label;
            let mirrored = board.copies.iter().filter(|copy| copy.placement.is_mirrored()).count() as u64;
            let hands = [u64::from(board.count) - mirrored, mirrored];
            assert!(mirrored > 0, "{name}: {label}");
            let own = json["boards"].as_array().expect("boards").iter().find(|one| one["id"] == board.id.as_str());
            let own = &own.expect("the board")["handed"];
            assert!(own["as_drawn"] == hands[0] && own["mirrored"] == hands[1], "{name}: {label}: {own}");
            let head = text.lines().find(|line| line.starts_with(&format!("{label} (revision "))).expect("a head");
            assert!(tells(head, hands), "{name}: {head}");
            let line = list.lines().find(|line| line.contains(&format!(" {label}"))).expect("a line");
            assert!(tells(line, hands), "{name}: {line}");
            for table in &tables {
                let Some(made) = table.columns.iter().position(|column| column == "Make") else { continue };
                for row in table.rows.iter().filter(|row| row[0] == *label) {
                    assert!(tells(&row[made], hands), "{name}, {}: {row:?}", table.title);
                    fastened += usize::from(table.title.to_lowercase().contains("fasteners"));
                }
            }
            // Its sheet, its ends and its strips.
            for one in patterns.iter().map(|named| &named.pattern).filter(|one| {
                let rest = one.part.name.strip_prefix(label.as_str());
                rest.is_some_and(|rest| rest.is_empty() || rest.ends_with(" laid flat") || rest.contains(" end"))
            }) {
                let each = one.part.name.matches(" and ").count() as u64 + 1;
                assert!(tells(&one.make, hands.map(|hand| each * hand)), "{name}, {}: {}", one.part.name, one.make);
                papers += 1;
            }
            parts_seen += 1;
        }
    }
    assert!(parts_seen > 12 && papers > 15 && fastened > 0, "{parts_seen} {papers} {fastened}");
}
