//! The piece: solved, joined, with its aids, routed and checked.

use super::{HeldBack, Job, Refusal};
use crate::as_built::{Found, find};
use crate::check::{Checked, check};
use crate::finding::{Finding, stops};
use crate::geometry::Scene;
use crate::joinery::aids::{Aid, Bench, aids};
use crate::joinery::{Joined, join};
use crate::model::Project;
use crate::piece::{Piece, Refused, solve_to_cure};
use crate::router::{PieceRouting, routed_parts};

/// The piece with everything that is worked out on its boards.
#[derive(Debug, Default)]
pub(super) struct Worked {
    /// The piece as far as it was made; `None` where the file has none, or its numbers cannot be solved.
    piece: Option<Piece>,
    /// The angled aids.
    aids: Vec<Aid>,
    /// What is routed on its parts.
    pub(super) routing: PieceRouting,
    /// How the piece stands, where it was measured.
    pub(super) as_found: Option<Found>,
    /// The parts that hang on numbers that are not decided.
    pub(super) held_back: Vec<HeldBack>,
    /// Everything that was found, without cures.
    findings: Vec<Finding>,
    /// What of it may be cured.
    found: FoundBy,
    /// Whether something of it stops the work.
    stopped: bool,
}

/// What was found, by who found it.
#[derive(Debug, Default)]
struct FoundBy {
    /// Why the numbers could not be solved.
    refused: Option<Refused>,
    /// What was found in solving.
    solved: Vec<Finding>,
    /// In making joints.
    joined: Joined,
    /// In making aids.
    aids: Vec<Finding>,
    /// By the rules.
    checked: Checked,
    /// In what was measured on the dry assembly.
    as_built: Vec<Finding>,
    /// In the numbers that the file names as not decided, or fixed.
    named: Vec<Finding>,
}

impl FoundBy {
    /// Whether there is a cure to search.
    fn asks_for_cures(&self) -> bool {
        let refused = self.refused.as_ref().is_some_and(Refused::asks_for_cures);
        refused || self.joined.asks_for_cures() || self.checked.asks_for_cures()
    }

    /// Everything that was found, as it was found.
    fn all(&self) -> Vec<Finding> {
        match &self.refused {
            Some(refused) => refused.findings.clone(),
            None => self.with(self.joined.findings.clone(), self.checked.findings.clone()),
        }
    }

    /// Everything that was found, with its cures.
    fn cured(&self, piece: Option<&Piece>, job: &Job) -> Vec<Finding> {
        let project = &job.project;
        let (base, top, say) = (project.base.as_ref(), project.top.as_ref(), &project.notation);
        match (&self.refused, piece) {
            (Some(refused), _) => refused.cured_whole(base, top, say, &|base, top| job.stop_with(base, top)),
            (None, Some(piece)) => self.with(self.joined.cured(piece, say), self.checked.cured(piece, project)),
            (None, None) => self.all(),
        }
    }

    fn with(&self, joined: Vec<Finding>, checked: Vec<Finding>) -> Vec<Finding> {
        [self.solved.clone(), joined, self.aids.clone(), checked, self.as_built.clone(), self.named.clone()].concat()
    }
}

impl Worked {
    /// Whether something of it stops the work.
    pub(super) fn stops(&self) -> bool {
        self.stopped
    }
}

impl Job {
    /// The piece with its joints, its measures and the places to look at: `None` where the file has neither base nor top.
    ///
    /// # Errors
    /// Where a finding of the piece stops the work.
    pub fn piece(&self) -> Result<Option<&Piece>, Refusal> {
        let worked = self.worked();
        if worked.stopped { Err(Refusal::Stopped) } else { Ok(worked.piece.as_ref()) }
    }

    /// The piece, where there must be one.
    ///
    /// # Errors
    /// As [`Job::piece`]; and where the file has neither base nor top.
    pub fn needed_piece(&self) -> Result<&Piece, Refusal> {
        self.piece()?.ok_or(Refusal::NoPiece)
    }

    /// The angled aids; none where something stops the work.
    pub fn aids(&self) -> &[Aid] {
        if self.worked().stopped { &[] } else { &self.worked().aids }
    }

    /// What is routed on the parts of the piece; nothing where something stops the work before that.
    pub fn routing(&self) -> &PieceRouting {
        &self.worked().routing
    }

    /// What was found about the piece, without the cures that have to be searched.
    pub fn piece_findings(&self) -> &[Finding] {
        &self.worked().findings
    }

    /// What was found about the piece, each with what cures it.
    pub fn cured_piece_findings(&self) -> &[Finding] {
        let worked = self.worked();
        if !worked.found.asks_for_cures() {
            return &worked.findings;
        }
        self.cured.get_or_init(|| {
            self.counts.count(|stages| &mut stages.cured);
            let mut cured = worked.found.cured(worked.piece.as_ref(), self);
            if worked.found.refused.is_none() {
                self.hold_cures(&mut cured);
            }
            cured
        })
    }

    /// The piece as a model in space: a closed surface a board, with the places of its copies.
    ///
    /// # Errors
    /// As [`Job::needed_piece`], and, without [`Job::allow_stops`], where any finding stops the work.
    pub fn scene(&self) -> Result<Scene, Refusal> {
        self.cleared()?;
        Ok(self.needed_piece()?.scene(&self.project.title))
    }

    pub(super) fn worked(&self) -> &Worked {
        self.worked.get_or_init(|| {
            let mut worked = self.work();
            (worked.held_back, worked.found.named) = self.named_numbers(worked.piece.as_ref());
            worked.findings = worked.found.all();
            worked.stopped = stops(&worked.findings);
            worked
        })
    }

    fn work(&self) -> Worked {
        let Project { base, top, notation, .. } = &self.project;
        let mut worked = Worked::default();
        if base.is_none() && top.is_none() {
            return worked;
        }
        self.counts.count(|stages| &mut stages.solved);
        match solve_to_cure(base.as_ref(), top.as_ref(), notation) {
            Ok(piece) => {
                let mut piece = piece.made_in(&self.project.shop);
                self.complete(&mut piece, &mut worked);
                worked.found.solved.clone_from(&piece.findings);
                worked.piece = Some(piece);
            }
            Err(refused) => worked.found.refused = Some(refused),
        }
        worked
    }

    /// Joints, aids, what is routed, rules: each only where nothing stopped the work before it, for it would be told for that.
    fn complete(&self, piece: &mut Piece, worked: &mut Worked) {
        let project = &self.project;
        let (top, notation) = (project.top.as_ref(), &project.notation);
        self.counts.count(|stages| &mut stages.joined);
        worked.found.joined = join(piece, &project.joints, top, notation);
        if stops(&worked.found.joined.findings) {
            return;
        }
        self.counts.count(|stages| &mut stages.aided);
        let bench = Bench { piece, joints: &project.joints, top, notation };
        (worked.aids, worked.found.aids) = aids(&project.aids, &bench);
        if stops(&worked.found.aids) {
            return;
        }
        self.counts.count(|stages| &mut stages.routed);
        worked.routing = routed_parts(&project.routing, piece);
        for part in &worked.routing.parts {
            if let Some(board) = piece.boards.get_mut(part.board) {
                board.facts.extend(part.profile_fact());
                board.left_long = part.left_long(board);
                board.worked = part.worked();
            }
        }
        if self.for_codes {
            return;
        }
        self.counts.count(|stages| &mut stages.checked);
        worked.found.checked = check(piece, project);
        (worked.as_found, worked.found.as_built) = find(project, piece);
    }
}
