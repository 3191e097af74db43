//! The piece of a file as a job makes it: solved, joined and looked at by the rules.

use fullsize::job::Job;
use fullsize::model::Project;
use fullsize::piece::Piece;

pub fn piece(project: &Project) -> Piece {
    let job = Job::new(project.clone());
    job.needed_piece().unwrap_or_else(|refusal| panic!("{refusal}: {:#?}", job.piece_findings())).clone()
}
