//! `compare`: what differs is told as a maker would find it, rule in hand.

mod command;
mod made;
mod made_command;
mod offers;
mod planted;
mod printed;
mod readings;
mod rescues;
mod whole;

pub use crate::common::changed::changed;
use crate::common::shop::{Shop, text};
use fullsize::change::{Compared, Differences, Fate, How, Snapshot};
use fullsize::job::Job;
use fullsize::project::read;
use serde_json::Value as Json;
use std::process::Output;

const TABLE: &str = include_str!("../../templates-demo/reading_table.json");

/// A folder with the demo's table in it.
fn shop() -> Shop {
    let shop = Shop::new();
    shop.file("table.json", TABLE);
    shop
}

/// A command that does what it is told.
fn ran(shop: &Shop, line: &[&str]) -> Output {
    let done = shop.run(line);
    assert_eq!(done.status.code(), Some(0), "{line:?}: {}{}", text(&done.stdout), text(&done.stderr));
    done
}

/// A piece as it is read and made.
pub fn snapshot(file: &Json) -> Snapshot {
    let reading = read("piece.json", file.to_string().as_bytes(), None, None);
    let job = Job::new(reading.project.unwrap_or_else(|| panic!("{:#?}", reading.findings)));
    Snapshot::of(&job).unwrap_or_else(|refusal| panic!("{refusal}: {:#?}", job.findings().collect::<Vec<_>>()))
}

pub fn desk() -> Json {
    serde_json::from_str(include_str!("../../fixtures/codes/desk.json")).expect("a file")
}

pub fn table() -> Json {
    serde_json::from_str(TABLE).expect("a file")
}

/// In what the part with a key differs; `None` where it does not.
pub fn differences(compared: &Compared, id: &str) -> Option<Differences> {
    let met = compared.parts.iter().find(|met| met.wood().is_some_and(|wood| wood.id == id)).expect("such a part");
    match &met.fate {
        Fate::Changed(differences) => Some((**differences).clone()),
        Fate::Same | Fate::AsGood => None,
        other => panic!("{id}: {other:?}"),
    }
}

/// The ends and edges that moved, each with from where to where, mm.
pub fn moved(differences: &Differences) -> Vec<(String, [f64; 2])> {
    let out = |how: &How| match how {
        How::Moved { out, .. } | How::Bent { out, .. } => *out,
        How::Gone | How::New => [f64::NAN; 2],
    };
    differences.surfaces.iter().map(|surface| (surface.name.clone(), out(&surface.how))).collect()
}
