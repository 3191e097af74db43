//! No paper that lies on wood goes without a model that lays it.

use super::super::random;
use fullsize::geometry::Lies;
use fullsize::job::Job;
use fullsize::piece::SolvedBoard;
use fullsize::project::read;

/// The model that lays a paper of a piece, by what the paper is called; `None` of one that nobody lays.
fn model(name: &str, boards: &[SolvedBoard], aids: &[(String, &'static str)]) -> Option<&'static str> {
    if let Some((_, kind)) = aids.iter().find(|(own, _)| own == name) {
        return ["block", "caul", "wedges", "template", "sightline"].into_iter().find(|known| known == kind);
    }
    if ["breadboard end", "tongue of the top"].contains(&name) || name.starts_with("button for the ") {
        return Some("fixed");
    }
    let part = boards.iter().filter(|board| name.starts_with(&board.label)).max_by_key(|board| board.label.len())?;
    let what = name[part.label.len()..].trim_start_matches(", ");
    let is_end = |place: &str| part.board.cuts.iter().any(|cut| cut.place.words() == place);
    match what {
        "" => Some("faces"),
        "fastener slots" | "screw holes" | "pockets" | "mortises for buttons" => Some("fixed"),
        _ if what.ends_with(" laid flat") => Some("strips"),
        _ if what.split(" and ").all(is_end) => Some("ends"),
        _ => None,
    }
}

#[test]
fn no_paper_lies_on_wood_that_no_model_lays() {
    let mut laid = 0;
    for file in random(2) {
        let reading = read("piece.json", file.to_string().as_bytes(), None, None);
        let job = Job::new(reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings)));
        let (Ok(piece), Ok(patterns)) = (job.needed_piece(), job.patterns()) else { continue };
        let aids: Vec<(String, &str)> = job.aids().iter().map(|aid| (aid.name.clone(), aid.kind)).collect();
        for pattern in patterns.iter().map(|named| &named.pattern) {
            let name = &pattern.part.name;
            let known = model(name, &piece.boards, &aids);
            match pattern.items.lies() {
                Lies::OnTheWood => assert!(known.is_some(), "nobody lays the {name}"),
                Lies::EitherWay => assert!(known.is_none_or(|kind| ["wedges", "caul"].contains(&kind)), "{name}"),
            }
            laid += usize::from(known.is_some());
        }
    }
    assert!(laid > 60, "{laid}");
}
