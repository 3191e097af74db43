//! Everything that is drawn at full size, with the names by which it may be asked for, and the revision codes.

use super::{Job, Refusal};
use crate::board::PartRole;
use crate::check::short_grain;
use crate::finding::{Finding, stops};
use crate::model::{DrawnPattern, Mark};
use crate::pattern::{
    Pattern, aid, bevels, cut_lines, draw, draw_board, draw_routed, edge_words, ends, fixings, gauge, half_template,
    joint_revision, mark_top, profile_gauge, strips, template,
};
use crate::piece::{Piece, Spot};
use crate::router::{Routed, TemplateSetting, corner_gauges, edge_sections, part_cautions, routed};

/// The longest pattern that is laid on sheets, mm: twice what a file's lengths can make.
const LARGEST_PATTERN: f64 = 50_000.0;

/// What is told of a part in which the grain runs out, and the place to mark.
pub(super) type ShortGrain = (Finding, Spot);

/// A pattern with the names by which it may be asked for.
#[derive(Debug, Clone, PartialEq)]
pub struct NamedPattern {
    /// Its own name, that of its part, that of its kind (`templates`); a name may be that of several patterns.
    pub names: Vec<String>,
    /// What the part of the piece is whose it is, or a template's, gauge's, end's or strip's of it.
    pub role: Option<PartRole>,
    /// The pattern.
    pub pattern: Pattern,
}

impl NamedPattern {
    fn new<const N: usize>(names: [&str; N], pattern: Pattern) -> NamedPattern {
        NamedPattern { names: names.map(str::to_owned).to_vec(), role: None, pattern }
    }

    /// A pattern that is asked for by its own name and some more.
    fn own<const N: usize>(pattern: Pattern, more: [&str; N]) -> NamedPattern {
        let names = [pattern.part.name.as_str()].into_iter().chain(more).map(str::to_owned).collect();
        NamedPattern { names, role: None, pattern }
    }

    /// A pattern of a part of the piece.
    fn of(self, role: PartRole) -> NamedPattern {
        NamedPattern { role: Some(role), ..self }
    }
}

/// What is cut, drawn.
#[derive(Debug)]
pub(super) struct Drawn {
    /// The boards of the piece, in its order, without what is routed on them.
    boards: Vec<Pattern>,
    /// The parts drawn directly.
    parts: Vec<Pattern>,
}

/// Revision codes.
#[derive(Debug)]
pub(super) struct Codes {
    /// Of the whole.
    pub(super) whole: String,
    /// Of each board of the piece, in its order.
    pub(super) boards: Vec<String>,
    /// Of each part drawn directly.
    pub(super) parts: Vec<String>,
}

impl Job {
    /// Every pattern with the names by which it may be asked for: the boards of the piece and their ends, the parts drawn
    /// directly, templates and gauges, aids, the bevel sheet.
    ///
    /// # Errors
    /// Where a finding stops the work.
    pub fn patterns(&self) -> Result<&[NamedPattern], Refusal> {
        let piece = self.piece()?;
        if stops(self.pattern_findings()) {
            return Err(Refusal::Stopped);
        }
        Ok(self.patterns.get_or_init(|| {
            self.counts.count(|stages| &mut stages.patterned);
            self.all_patterns(piece)
        }))
    }

    /// The patterns of these names; all of them where none is named.
    ///
    /// # Errors
    /// Where a finding stops the work, where no pattern has one of the names, where one is too long to be laid on sheets, and
    /// where there is nothing to draw.
    pub fn patterns_named(&self, asked: &[String]) -> Result<Vec<Pattern>, Refusal> {
        let all = self.patterns()?;
        if let Some(unknown) = asked.iter().find(|asked| all.iter().all(|one| !one.names.contains(asked))) {
            let mut known: Vec<String> = Vec::new();
            for name in all.iter().flat_map(|one| &one.names) {
                if !known.contains(name) {
                    known.push(name.clone());
                }
            }
            return Err(Refusal::UnknownPattern { asked: unknown.clone(), known });
        }
        let wanted = |one: &&NamedPattern| asked.is_empty() || one.names.iter().any(|name| asked.contains(name));
        let chosen: Vec<Pattern> = all.iter().filter(wanted).map(|one| one.pattern.clone()).collect();
        let fits = |side: f64| (0.0..=LARGEST_PATTERN).contains(&side);
        match chosen.iter().find(|one| !(fits(one.bounds.width()) && fits(one.bounds.height()))) {
            Some(beyond) => Err(Refusal::TooLong { pattern: beyond.part.name.clone() }),
            None if chosen.is_empty() => Err(Refusal::NothingToDraw),
            None => Ok(chosen),
        }
    }

    /// The parts drawn directly, in the order of the file.
    ///
    /// # Errors
    /// Where a finding of the piece stops the work.
    pub fn drawn_parts(&self) -> Result<&[Pattern], Refusal> {
        Ok(&self.drawn(self.piece()?).parts)
    }

    /// What is to be told about the parts drawn directly and about what is routed on all parts.
    pub fn pattern_findings(&self) -> &[Finding] {
        self.pattern_findings.get_or_init(|| {
            let routed = self.routed().iter().flat_map(|routed| &routed.findings);
            let grain = self.short_grain().iter().flatten().map(|(finding, _)| finding);
            self.worked().routing.findings.iter().chain(routed).chain(grain).cloned().collect()
        })
    }

    /// How the router is set for every template.
    pub fn template_settings(&self) -> &[TemplateSetting] {
        self.settings.get_or_init(|| {
            let all = self.parts().zip(self.routed());
            let settings = |(drawn, routed): (_, &Routed)| -> Vec<TemplateSetting> {
                routed.templates.iter().map(|made| TemplateSetting::new(drawn, made)).collect()
            };
            all.flat_map(settings).collect()
        })
    }

    /// One code for the whole: it changes when that of one board or of one part drawn directly does.
    ///
    /// # Errors
    /// Where a finding of the piece stops the work.
    pub fn revision(&self) -> Result<&str, Refusal> {
        Ok(&self.codes()?.whole)
    }

    /// The codes of the whole, of the boards and of the parts drawn directly.
    pub(super) fn codes(&self) -> Result<&Codes, Refusal> {
        let piece = self.piece()?;
        Ok(self.codes.get_or_init(|| {
            let Drawn { boards, parts } = self.drawn(piece);
            let solved = piece.iter().flat_map(|piece| &piece.boards);
            let boards_cut = boards.iter().zip(solved);
            let items = boards_cut.flat_map(|(drawn, board)| drawn.items.iter().cloned().chain(cut_lines(board)));
            let items = items.chain(parts.iter().flat_map(|part| part.items.iter().cloned()));
            let code = |pattern: &Pattern| pattern.part.revision.clone();
            Codes {
                whole: joint_revision(&items.collect::<Vec<_>>()),
                boards: boards.iter().map(code).collect(),
                parts: parts.iter().map(code).collect(),
            }
        }))
    }

    /// The parts on which something may be routed: those of the piece, then those drawn directly.
    fn parts(&self) -> impl Iterator<Item = &DrawnPattern> {
        self.worked().routing.parts.iter().map(|part| &part.drawn).chain(&self.project.patterns)
    }

    /// What is asked of the router, worked out, in the order of the parts.
    fn routed(&self) -> &[Routed] {
        self.routed.get_or_init(|| {
            self.counts.count(|stages| &mut stages.templated);
            self.parts().map(routed).collect()
        })
    }

    /// Where the grain of a part drawn directly runs out, in the order of those parts.
    fn short_grain(&self) -> &[Option<ShortGrain>] {
        self.short_grain.get_or_init(|| {
            self.counts.count(|stages| &mut stages.grained);
            self.project.patterns.iter().map(short_grain).collect()
        })
    }

    fn drawn(&self, piece: Option<&Piece>) -> &Drawn {
        self.drawn.get_or_init(|| {
            self.counts.count(|stages| &mut stages.drawn);
            let (heading, say) = (&self.heading, &self.project.notation);
            let boards = piece.iter().flat_map(|piece| &piece.boards);
            let parts = self.project.patterns.iter().zip(self.short_grain());
            Drawn {
                boards: boards.map(|board| draw_board(board, heading, say)).collect(),
                parts: parts.map(|(part, short)| draw(&spotted(part, short.as_ref()), heading, say)).collect(),
            }
        })
    }

    fn all_patterns(&self, piece: Option<&Piece>) -> Vec<NamedPattern> {
        let (project, heading, say) = (&self.project, self.heading.as_str(), &self.project.notation);
        let Drawn { boards: plain, parts } = self.drawn(piece);
        let routing = &self.worked().routing;
        let (of_piece, of_parts) = self.routed().split_at(routing.parts.len());
        let boards = || piece.iter().flat_map(|piece| &piece.boards);
        let mut all = Vec::new();
        for (index, (board, plain)) in boards().zip(plain).enumerate() {
            let mut asked = routing.parts.iter().zip(of_piece).filter(|(part, _)| part.board == index);
            let asked = asked.next();
            let mut pattern = match asked {
                Some((part, _)) => draw_routed(board, Some(&part.drawn), heading, say),
                None => plain.clone(),
            };
            if let Some(top) = project.top.as_ref().filter(|_| board.role == PartRole::Top) {
                mark_top(&mut pattern, board, top);
            }
            all.push(NamedPattern::new([board.id.as_str(), &board.label], pattern).of(board.role));
            let routed = asked.into_iter().flat_map(|(part, routed)| self.router_patterns(&part.drawn, routed));
            all.extend(routed.map(|one| one.of(board.role)));
        }
        if let Some((piece, top)) = piece.zip(project.top.as_ref()) {
            let fixed = fixings(piece, top, heading, say).into_iter();
            all.extend(fixed.map(|one| NamedPattern::own(one, ["fixings"])));
            let half = half_template(piece, top).map(|half| draw(&half, heading, say));
            all.extend(half.map(|half| NamedPattern::own(half, ["templates"])));
        }
        for ((drawn, pattern), routed) in project.patterns.iter().zip(parts).zip(of_parts) {
            all.push(NamedPattern::new([&drawn.name], pattern.clone()));
            all.extend(self.router_patterns(drawn, routed));
        }
        for board in boards() {
            let named =
                |kind, pattern| NamedPattern::new([board.id.as_str(), &board.label, kind], pattern).of(board.role);
            all.extend(ends(board, say).into_iter().map(|end| named("ends", end)));
            all.extend(strips(board, say).into_iter().map(|strip| named("strips", strip)));
        }
        let aids = self.aids().iter().map(|made| NamedPattern::new([&made.name, "aids"], aid(made, heading, say)));
        all.extend(aids);
        let sheet = piece.and_then(|piece| bevels(piece, heading, say));
        all.extend(sheet.map(|sheet| NamedPattern {
            names: vec!["bevels".to_owned(), sheet.part.name.clone()],
            role: None,
            pattern: sheet,
        }));
        all
    }

    /// The templates and gauges of one part.
    fn router_patterns(&self, drawn: &DrawnPattern, routed: &Routed) -> Vec<NamedPattern> {
        let say = &self.project.notation;
        let templates = routed.templates.iter().map(|made| ("templates", template(drawn, made, &self.heading, say)));
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
        all.map(|(kind, pattern)| NamedPattern::own(pattern, [&drawn.name, kind])).collect()
    }
}

/// A part that is drawn directly, with where its grain runs out marked.
fn spotted(drawn: &DrawnPattern, short: Option<&ShortGrain>) -> DrawnPattern {
    let mut spotted = drawn.clone();
    let mark = short.map(|(_, spot)| Mark::Cross { at: spot.at, label: Some(spot.words.clone()) });
    spotted.marks.extend(mark);
    spotted
}
