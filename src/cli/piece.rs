//! From a project to its solved piece and all its patterns; `schedule` and `model`.

use super::args::{Model, Schedule as ScheduleAsked, ScheduleFormat};
use super::load::{Loaded, Stopped, load, say as say_findings};
use super::output::{Target, Trouble, is_kind, write_all};
use super::print::{output_file, pretty};
use super::small::told;
use crate::board::SawCut;
use crate::check::{check, short_grain};
use crate::finding::{Finding, stops};
use crate::joinery::aids::{Aid, Bench, aids};
use crate::joinery::join;
use crate::model::{DrawnPattern, Mark, Project};
use crate::pattern::{
    Pattern, aid, bevels, cut_lines, draw, draw_board, draw_routed, edge_words, ends, fixings, gauge, half_template,
    joint_revision, mark_top, profile_gauge, strips, template,
};
use crate::piece::{Piece, SolvedBoard, solve_or_cure};
use crate::router::{TemplateSetting, corner_gauges, edge_sections, part_cautions, routed, routed_parts};
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
    // An aid for a joint that cannot be made would be told for the joint's fault.
    if !stops(&piece.findings) {
        let found = made_aids(&piece, project).1;
        piece.findings.extend(found);
    }
    if stops(&piece.findings) {
        return Err(piece.findings);
    }
    for part in routed_parts(&project.routing, &piece, &project.notation).parts {
        let fact = part.profile_fact();
        piece.boards.get_mut(part.board).into_iter().for_each(|board| board.facts.extend(fact.clone()));
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
    let routing = piece.map(|piece| routed_parts(&project.routing, piece, &project.notation)).unwrap_or_default();
    for (index, board) in boards().enumerate() {
        let names = vec![board.id.clone(), board.label.clone()];
        let part = routing.parts.iter().find(|part| part.board == index).map(|part| &part.drawn);
        let mut pattern = draw_routed(board, part, &heading, &project.notation);
        if let Some(top) = project.top.as_ref().filter(|_| board.id == "top") {
            mark_top(&mut pattern, board, top);
        }
        all.push((names, pattern));
        all.extend(part.map(|part| router_patterns(part, project)).unwrap_or_default());
    }
    if let Some((piece, top)) = piece.zip(project.top.as_ref()) {
        let fixed = fixings(piece, top, &heading, &project.notation);
        all.extend(fixed.into_iter().map(|one| (vec![one.part.name.clone(), "fixings".to_owned()], one)));
        let half = half_template(piece, top).map(|half| draw(&half, &heading, &project.notation));
        all.extend(half.map(|half| (vec![half.part.name.clone(), "templates".to_owned()], half)));
    }
    for drawn in &project.patterns {
        all.push((vec![drawn.name.clone()], draw(&spotted(drawn, project), &heading, &project.notation)));
        all.extend(router_patterns(drawn, project));
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

/// A part that is drawn directly, with what the rules found on it marked.
fn spotted(drawn: &DrawnPattern, project: &Project) -> DrawnPattern {
    let mut spotted = drawn.clone();
    let spot = short_grain(drawn, &project.notation).map(|(_, spot)| spot);
    spotted.marks.extend(spot.map(|spot| Mark::Cross { at: spot.at, label: Some(spot.words) }));
    spotted
}

/// The templates and gauges of one part.
fn router_patterns(drawn: &DrawnPattern, project: &Project) -> Vec<(Vec<String>, Pattern)> {
    let say = &project.notation;
    let templates = routed(drawn, say).templates;
    let templates = templates.iter().map(|made| ("templates", template(drawn, made, &project.heading(), say)));
    let corners = corner_gauges(drawn);
    let corners = corners.iter().map(|made| ("gauges", gauge(&drawn.name, made, say)));
    let cautions = part_cautions(drawn);
    let profiles = edge_sections(drawn).into_iter().enumerate().filter_map(|(index, (worked, section))| {
        let edge = worked.edge.as_ref().map(edge_words);
        // Said once a part.
        let cautions = if index == 0 { cautions.as_slice() } else { &[] };
        Some(("gauges", profile_gauge(&drawn.name, edge.as_deref(), &section.ok()?, cautions, say)))
    });
    let all = templates.chain(corners).chain(profiles);
    all.map(|(kind, pattern)| (vec![pattern.part.name.clone(), drawn.name.clone(), kind.to_owned()], pattern))
        .collect()
}

/// The revision code of each board's pattern, in the order of the piece's boards.
fn revisions(piece: &Piece, project: &Project) -> Vec<String> {
    let heading = project.heading();
    piece.boards.iter().map(|board| draw_board(board, &heading, &project.notation).part.revision).collect()
}

/// One code for the whole: it changes when that of one board or of one part drawn directly does.
pub fn whole_revision(piece: &Piece, project: &Project) -> String {
    let (heading, say) = (project.heading(), &project.notation);
    let board = |board| draw_board(board, &heading, say).items.into_iter().chain(cut_lines(board));
    let parts = project.patterns.iter().flat_map(|part| draw(part, &heading, say).items);
    joint_revision(&piece.boards.iter().flat_map(board).chain(parts).collect::<Vec<_>>())
}

/// Refuses a schedule said in one way and named as another is.
fn named_as_said(asked: &ScheduleAsked) -> Result<(), Trouble> {
    let own = match asked.format {
        ScheduleFormat::Text => "txt",
        ScheduleFormat::Csv => "csv",
        ScheduleFormat::Json => "json",
    };
    let other = ["csv", "json"].into_iter().find(|kind| *kind != own && is_kind(&asked.out, kind));
    let Some(other) = other else { return Ok(()) };
    let (out, right) = (asked.out.display(), asked.out.with_extension(own));
    Err(Trouble::new(format!(
        "{out} promises {}: say --format {other}, or name it {}",
        other.to_uppercase(),
        right.display()
    )))
}

/// Runs `schedule`.
pub fn schedule(asked: &ScheduleAsked, out: &mut dyn Write, err: &mut dyn Write) -> Result<(), Stopped> {
    named_as_said(asked)?;
    let loaded = load(&asked.input, err)?;
    let piece = solved_aloud(&loaded, err)?;
    let project = &loaded.project;
    let templates = template_settings(project, piece.as_ref());
    // A file of parts that are drawn directly has no piece.
    let piece = piece.unwrap_or(Piece { boards: Vec::new(), facts: Vec::new(), findings: Vec::new() });
    let revisions = revisions(&piece, project);
    let heading = project.heading();
    let drawn = project.patterns.iter().map(|part| (part, draw(part, &heading, &project.notation).part.revision));
    let whole = whole_revision(&piece, project);
    let findings: Vec<Finding> =
        piece.findings.iter().cloned().chain(pattern_findings(project, Some(&piece))).collect();
    let schedule = Schedule {
        title: &project.title,
        variant: project.variant.as_deref(),
        revision: &whole,
        revisions: &revisions,
        piece: &piece,
        top: project.top.as_ref(),
        drawn: &drawn.collect::<Vec<_>>(),
        aids: &made_aids(&piece, project).0,
        templates: &templates,
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
    let target = Target::named(&output_file(&asked.input, asked.out.as_deref(), "glb", &["glb"])?);
    write_all(&[(target.clone(), bytes)], out)?;
    told(&target, out)
}

/// The piece, which a command cannot do without.
///
/// # Errors
/// Where the file has neither base nor top.
pub fn need_piece(piece: Option<Piece>) -> Result<Piece, Stopped> {
    let none =
        "the file has no base and no top, so there is no piece; print, plot and schedule make what it draws directly";
    piece.ok_or_else(|| Trouble::new(none).into())
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
    match solved(project) {
        Ok(piece) => {
            let found = piece.as_ref().map_or_else(Vec::new, |piece| piece.findings.clone());
            found.into_iter().chain(pattern_findings(project, piece.as_ref())).collect()
        }
        Err(findings) => findings.into_iter().chain(pattern_findings(project, None)).collect(),
    }
}

/// How the router is set for every template of a project.
fn template_settings(project: &Project, piece: Option<&Piece>) -> Vec<TemplateSetting> {
    let say = &project.notation;
    let routing = piece.map(|piece| routed_parts(&project.routing, piece, say)).unwrap_or_default();
    let parts: Vec<&DrawnPattern> = routing.parts.iter().map(|part| &part.drawn).chain(&project.patterns).collect();
    let settings = parts.iter().flat_map(|drawn| {
        let made = routed(drawn, say).templates;
        made.iter().map(|made| TemplateSetting::new(drawn, made)).collect::<Vec<_>>()
    });
    settings.collect()
}

/// What is to be told about the patterns that are drawn directly and about the routing of all parts.
pub fn pattern_findings(project: &Project, piece: Option<&Piece>) -> Vec<Finding> {
    let say = &project.notation;
    let routing = piece.map(|piece| routed_parts(&project.routing, piece, say)).unwrap_or_default();
    let parts = routing.parts.iter().map(|part| &part.drawn).chain(&project.patterns);
    let grain = project.patterns.iter().filter_map(|drawn| short_grain(drawn, say)).map(|(finding, _)| finding);
    routing.findings.into_iter().chain(parts.flat_map(|drawn| routed(drawn, say).findings)).chain(grain).collect()
}
