//! From a project to its solved piece and all its patterns; `schedule` and `model`.

use super::args::{Model, Schedule as ScheduleAsked, ScheduleFormat};
use super::load::{Loaded, Stopped, load, say as say_findings};
use super::output::{Target, write_all};
use super::print::{output_file, pretty};
use super::small::told;
use crate::board::SawCut;
use crate::check::check;
use crate::finding::{Finding, stops};
use crate::joinery::aids::{Aid, Bench, aids};
use crate::joinery::join;
use crate::pattern::{
    Pattern, aid, bevels, cut_lines, draw, draw_board, ends, fixings, gauge, half_template, joint_revision, mark_top,
    profile_gauge, strips, template,
};
use crate::piece::{Piece, SolvedBoard, solve_or_cure};
use crate::project::Project;
use crate::router::{corner_gauges, edge_section, routed};
use crate::schedule::{self, Schedule, tables};
use crate::write::{csv, gltf};
use std::io::Write;

/// The piece of a project, where it has a base or a top.
///
/// # Errors
/// Every finding, where one stops the work.
pub fn solved(project: &Project) -> Result<Option<Piece>, Vec<Finding>> {
    if project.base.is_none() && project.top.is_none() {
        return Ok(None);
    }
    let mut piece = solve_or_cure(project.base.as_ref(), project.top.as_ref(), &project.notation)?;
    let found = join(&mut piece, &project.joints, project.top.as_ref(), &project.notation);
    piece.findings.extend(found);
    let found = made_aids(&piece, project).1;
    piece.findings.extend(found);
    if stops(&piece.findings) {
        return Err(piece.findings);
    }
    let found = check(&mut piece, project);
    piece.findings.extend(found);
    Ok(Some(piece))
}

/// The angled aids of a project on its solved piece, and what was found.
fn made_aids(piece: &Piece, project: &Project) -> (Vec<Aid>, Vec<Finding>) {
    aids(
        &project.aids,
        &Bench { piece, joints: &project.joints, top: project.top.as_ref(), notation: &project.notation },
    )
}

/// As [`solved`], with everything found said to the person.
///
/// # Errors
/// Where a finding stops the work.
pub fn solved_aloud(loaded: &Loaded, err: &mut dyn Write) -> Result<Option<Piece>, Stopped> {
    match solved(&loaded.project) {
        Ok(piece) => {
            let findings = piece.as_ref().map_or(&[][..], |piece| &piece.findings);
            say_findings(findings, &loaded.sources, err);
            Ok(piece)
        }
        Err(findings) => {
            say_findings(&findings, &loaded.sources, err);
            Err(Stopped::ByFinding)
        }
    }
}

/// Every pattern of a project with the names by which it may be asked for: the boards of the piece and their ends, the
/// parts drawn directly, the bevel sheet.
pub fn all_patterns(project: &Project, piece: Option<&Piece>) -> Vec<(Vec<String>, Pattern)> {
    let heading = project.heading();
    let mut all = Vec::new();
    let boards = || piece.iter().flat_map(|piece| &piece.boards);
    for board in boards() {
        let names = vec![board.id.clone(), board.label.clone()];
        let mut pattern = draw_board(board, &heading, &project.notation);
        if let Some(top) = project.top.as_ref().filter(|_| board.id == "top") {
            mark_top(&mut pattern, board, top);
        }
        all.push((names, pattern));
    }
    if let Some((piece, top)) = piece.zip(project.top.as_ref()) {
        let fixed = fixings(piece, top, &heading, &project.notation);
        all.extend(fixed.into_iter().map(|one| (vec![one.part.name.clone(), "fixings".to_owned()], one)));
        let half = half_template(piece, top).map(|half| draw(&half, &heading, &project.notation));
        all.extend(half.map(|half| (vec![half.part.name.clone(), "templates".to_owned()], half)));
    }
    for drawn in &project.patterns {
        all.push((vec![drawn.name.clone()], draw(drawn, &heading, &project.notation)));
        for made in routed(drawn, &project.notation).templates {
            let pattern = template(drawn, &made, &heading, &project.notation);
            all.push((vec![pattern.part.name.clone(), drawn.name.clone(), "templates".to_owned()], pattern));
        }
        for made in corner_gauges(drawn) {
            let pattern = gauge(&drawn.name, &made, &project.notation);
            all.push((vec![pattern.part.name.clone(), drawn.name.clone(), "gauges".to_owned()], pattern));
        }
        if let Some(Ok(section)) = edge_section(drawn) {
            let pattern = profile_gauge(&drawn.name, &section, &project.notation);
            all.push((vec![pattern.part.name.clone(), drawn.name.clone(), "gauges".to_owned()], pattern));
        }
    }
    for board in boards() {
        let names = |kind: &str| vec![board.id.clone(), board.label.clone(), kind.to_owned()];
        all.extend(ends(board, &project.notation).into_iter().map(|end| (names("ends"), end)));
        all.extend(strips(board, &project.notation).into_iter().map(|strip| (names("strips"), strip)));
    }
    for made in piece.map_or_else(Vec::new, |piece| made_aids(piece, project).0) {
        let names = vec![made.name.clone(), "aids".to_owned()];
        all.push((names, aid(&made, &heading, &project.notation)));
    }
    let sheet = piece.and_then(|piece| bevels(piece, &heading, &project.notation));
    all.extend(sheet.map(|sheet| (vec!["bevels".to_owned(), sheet.part.name.clone()], sheet)));
    all
}

/// The revision code of each board's pattern, in the order of the piece's boards.
fn revisions(piece: &Piece, project: &Project) -> Vec<String> {
    let heading = project.heading();
    piece.boards.iter().map(|board| draw_board(board, &heading, &project.notation).part.revision).collect()
}

/// One code for the whole piece: it changes when that of one board does.
pub fn whole_revision(piece: &Piece, project: &Project) -> String {
    let heading = project.heading();
    let drawn = |board| draw_board(board, &heading, &project.notation).items.into_iter().chain(cut_lines(board));
    joint_revision(&piece.boards.iter().flat_map(drawn).collect::<Vec<_>>())
}

/// Runs `schedule`.
pub fn schedule(asked: &ScheduleAsked, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let loaded = load(&asked.input, err)?;
    let piece = need_piece(solved_aloud(&loaded, err)?)?;
    let project = &loaded.project;
    let revisions = revisions(&piece, project);
    let whole = whole_revision(&piece, project);
    let findings: Vec<Finding> = piece.findings.iter().cloned().chain(routing_findings(project)).collect();
    let schedule = Schedule {
        title: &project.title,
        variant: project.variant.as_deref(),
        revision: &whole,
        revisions: &revisions,
        piece: &piece,
        aids: &made_aids(&piece, project).0,
        findings: &findings,
        notation: project.notation,
    };
    let bytes = match asked.format {
        ScheduleFormat::Text => schedule::text(&schedule).into_bytes(),
        ScheduleFormat::Csv => csv(&tables(&schedule)).into_bytes(),
        ScheduleFormat::Json => pretty(&schedule::json(&schedule)),
    };
    let target = Target::named(&asked.out);
    write_all(&[(target.clone(), bytes)], out)?;
    told(&target, out)
}

/// Runs `model`.
pub fn model(asked: &Model, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    let loaded = load(&asked.input, err)?;
    let piece = need_piece(solved_aloud(&loaded, err)?)?;
    let bytes = gltf(&piece.scene(&loaded.project.title));
    let target = Target::named(&output_file(&asked.input, asked.out.as_deref(), "glb")?);
    write_all(&[(target.clone(), bytes)], out)?;
    told(&target, out)
}

/// The piece, which a command cannot do without.
///
/// # Errors
/// Where the file has neither base nor top.
pub fn need_piece(piece: Option<Piece>) -> Result<Piece, Stopped> {
    piece.ok_or_else(|| super::output::Trouble::new("the file has no base and no top, so there is no piece").into())
}

/// What hurried practice would have cost at its worst joint, in one line; `None` where no joint would stand open.
pub fn naive_cost(piece: &Piece, project: &Project) -> Option<String> {
    // Joints between parts: a head or foot that stands open is seen before it is glued.
    let joint = |board: &SolvedBoard, cut: &SawCut| {
        let against = board.board.cuts.get(cut.cut).and_then(|cut| cut.against.as_deref());
        against.is_some_and(|against| against != "floor" && !against.starts_with("top"))
    };
    let gaps = piece.boards.iter().flat_map(|board| board.cuts.iter().map(move |cut| (board, cut)));
    let gaps = gaps.filter(|(board, cut)| joint(board, cut));
    let worst = gaps
        .flat_map(|(board, cut)| cut.naive_gap.iter().map(move |gap| (board, cut, gap)))
        .max_by(|a, b| a.2.open.total_cmp(&b.2.open))?;
    let (board, cut, gap) = worst;
    let nominal = cut.nominal?;
    (gap.open > 0.05).then(|| {
        let notation = project.notation;
        let blade = match cut.bevel.degrees() {
            bevel if bevel < 0.05 => "blade square".to_owned(),
            _ => format!("blade tilted {}", notation.angle(cut.bevel)),
        };
        format!(
            "Sawn at {} with a square blade, by the number alone, the {} would stand {:.1} mm open at its {} corner. True: mitre {}, {blade}.",
            notation.angle(nominal.mitre),
            board.label,
            gap.open,
            gap.corner,
            notation.angle(cut.mitre()),
        )
    })
}

/// What the numbers of the piece and the tools of its patterns come to: warnings, or what stops the work.
pub fn findings_of(project: &Project) -> Vec<Finding> {
    let mut found = match solved(project) {
        Ok(Some(piece)) => piece.findings,
        Ok(None) => Vec::new(),
        Err(findings) => findings,
    };
    found.extend(routing_findings(project));
    found
}

/// What is to be told about the routing of the patterns.
pub fn routing_findings(project: &Project) -> Vec<Finding> {
    project.patterns.iter().flat_map(|drawn| routed(drawn, &project.notation).findings).collect()
}
