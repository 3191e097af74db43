//! Everything that is drawn at full size, with the names by which it may be asked for, and the revision codes.

use super::codes::Codes;
use super::{Job, Refusal};
use crate::board::PartRole;
use crate::check::short_grain;
use crate::finding::{Finding, stops};
use crate::layout::TOGETHER;
use crate::model::{DrawnPattern, InHalf, Laid, Mark};
use crate::page::told_apart;
use crate::pattern::{
    Pattern, aid, bevels, draw, draw_board, draw_from, drawn_revision, edge_words, ends, fixings, gauge,
    half_template, mark_top, profile_gauge, revision, strips, template,
};
use crate::piece::{Piece, Spot};
use crate::router::{
    OnPart, Routed, TemplateSetting, Templates, corner_gauges, edge_sections, part_cautions, routed, templates,
};
use crate::stock::Stocks;

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
    /// The key of the part that it shows, whole or its ends or strips, or what holds a top in it: nothing else is cut by it.
    shows: Option<String>,
    /// The key of the part to which it belongs: a template's, a gauge's.
    goes_with: Option<String>,
    /// The words of which its short code is made, and whether it takes one before those that only go with a part.
    code_of: (String, bool),
}

impl NamedPattern {
    fn new<const N: usize>(names: [&str; N], pattern: Pattern) -> NamedPattern {
        let code_of = (pattern.part.name.clone(), false);
        NamedPattern {
            names: names.map(str::to_owned).to_vec(),
            role: None,
            pattern,
            shows: None,
            goes_with: None,
            code_of,
        }
    }

    /// A pattern that is asked for by its own name and some more.
    fn own<const N: usize>(pattern: Pattern, more: [&str; N]) -> NamedPattern {
        let names = [pattern.part.name.as_str()].into_iter().chain(more).map(str::to_owned).collect();
        let code_of = (pattern.part.name.clone(), false);
        NamedPattern { names, role: None, pattern, shows: None, goes_with: None, code_of }
    }

    /// The whole of a part.
    fn part(mut self) -> NamedPattern {
        self.code_of.1 = true;
        self.drawn()
    }

    /// Whether it is the whole of a part.
    fn is_whole(&self) -> bool {
        self.code_of.1
    }

    /// What shows the part whose key is the first of its names.
    fn drawn(self) -> NamedPattern {
        NamedPattern { shows: self.names.first().cloned(), ..self }
    }

    /// The key of the part that it shows, whole or in part; `None` of what only goes with a part.
    pub fn part_drawn(&self) -> Option<&str> {
        self.shows.as_deref()
    }

    /// The key of the part that it shows, or to which it belongs; `None` of what belongs to the whole piece.
    pub fn part_meant(&self) -> Option<&str> {
        self.shows.as_deref().or(self.goes_with.as_deref())
    }

    /// A pattern that belongs to the part with a key.
    fn beside(self, part: &str) -> NamedPattern {
        NamedPattern { goes_with: Some(part.to_owned()), ..self }
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

/// Names that are each that of a pattern, or of none: a list of them in one (`leg, head`) is taken apart at its commas. A name may hold
/// commas itself.
fn one_by_one(names: &[String], all: &[NamedPattern]) -> Vec<String> {
    let is_known = |name: &str| all.iter().any(|one| one.names.iter().any(|known| known == name));
    let parts = |name: &String| match is_known(name) {
        true => vec![name.clone()],
        false => name.split(',').map(|part| part.trim().to_owned()).filter(|part| !part.is_empty()).collect(),
    };
    names.iter().flat_map(parts).collect()
}

impl Job {
    /// Every pattern with the names by which it may be asked for: the boards of the piece and their ends, the parts drawn
    /// directly, templates and gauges, aids, the bevel sheet.
    ///
    /// # Errors
    /// Where a finding stops the work.
    pub fn patterns(&self) -> Result<&[NamedPattern], Refusal> {
        let (piece, codes, stocks) = (self.piece()?, self.codes()?, self.stocks()?);
        if stops(self.pattern_findings()) {
            return Err(Refusal::Stopped);
        }
        Ok(self.patterns.get_or_init(|| {
            self.counts.count(|stages| &mut stages.patterned);
            self.all_patterns(piece, codes, stocks)
        }))
    }

    /// The patterns of these names; all of them where none is named.
    ///
    /// # Errors
    /// Where a finding stops the work, where no pattern has one of the names, where one is too long to be laid on sheets, and
    /// where there is nothing to draw.
    pub fn patterns_named(&self, asked: &[String]) -> Result<Vec<Pattern>, Refusal> {
        self.patterns_but(asked, &[])
    }

    /// The patterns of these names, all of them where none is named, without some others.
    ///
    /// # Errors
    /// As [`Job::patterns_named`].
    pub fn patterns_but(&self, asked: &[String], without: &[String]) -> Result<Vec<Pattern>, Refusal> {
        let all = self.patterns()?;
        let [asked, without] = [asked, without].map(|names| one_by_one(names, all));
        let is_of = |one: &NamedPattern, names: &[String]| one.names.iter().any(|name| names.contains(name));
        let unknown = asked.iter().chain(&without).find(|asked| all.iter().all(|one| !one.names.contains(asked)));
        if let Some(unknown) = unknown {
            let mut known: Vec<String> = Vec::new();
            for name in all.iter().flat_map(|one| &one.names) {
                if !known.contains(name) {
                    known.push(name.clone());
                }
            }
            return Err(Refusal::UnknownPattern { asked: unknown.clone(), known });
        }
        let wanted = |one: &&NamedPattern| (asked.is_empty() || is_of(one, &asked)) && !is_of(one, &without);
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
    /// Where a finding stops the work: one of the piece, or, without [`Job::allow_stops`], any.
    pub fn drawn_parts(&self) -> Result<&[Pattern], Refusal> {
        self.cleared()?;
        Ok(&self.drawn(self.piece()?, self.codes()?, self.stocks()?).parts)
    }

    /// What is to be told about the parts drawn directly and about what is routed on all parts.
    pub fn pattern_findings(&self) -> &[Finding] {
        self.pattern_findings.get_or_init(|| {
            let routed = self.routed().iter().flat_map(|routed| &routed.findings);
            let grain = self.short_grain().iter().flatten().map(|(finding, _)| finding);
            let mut told: Vec<Finding> = Vec::new();
            for finding in self.worked().routing.findings.iter().chain(routed).chain(grain) {
                // Two legs of one routing say the same.
                if !told.contains(finding) {
                    told.push(finding.clone());
                }
            }
            told
        })
    }

    /// How the router is set for every template.
    pub fn template_settings(&self) -> &[TemplateSetting] {
        self.settings.get_or_init(|| {
            let all = self.parts().zip(self.templates());
            let settings = |(drawn, templates): (_, &Templates)| -> Vec<TemplateSetting> {
                templates.made().map(|made| TemplateSetting::new(drawn, made)).collect()
            };
            all.flat_map(settings).collect()
        })
    }

    /// The parts on which something may be routed: those of the piece, then those drawn directly.
    pub(super) fn parts(&self) -> impl Iterator<Item = &DrawnPattern> {
        self.worked().routing.parts.iter().map(|part| &part.drawn).chain(&self.project.patterns)
    }

    /// The templates of each part, in the order of the parts.
    pub(super) fn templates(&self) -> &[Templates] {
        self.templates.get_or_init(|| {
            self.counts.count(|stages| &mut stages.templated);
            self.parts().map(templates).collect()
        })
    }

    /// What else is asked of the router, worked out, in the order of the parts.
    fn routed(&self) -> &[Routed] {
        self.routed.get_or_init(|| {
            self.counts.count(|stages| &mut stages.reached);
            self.parts().zip(self.templates()).map(|(part, templates)| routed(part, templates)).collect()
        })
    }

    /// Where the grain of a part drawn directly runs out, in the order of those parts.
    fn short_grain(&self) -> &[Option<ShortGrain>] {
        self.short_grain.get_or_init(|| {
            self.counts.count(|stages| &mut stages.grained);
            self.project.patterns.iter().map(short_grain).collect()
        })
    }

    fn drawn(&self, piece: Option<&Piece>, codes: &Codes, stocks: &Stocks) -> &Drawn {
        self.drawn.get_or_init(|| {
            self.counts.count(|stages| &mut stages.drawn);
            let (heading, say) = (&self.heading, &self.project.notation);
            let boards = piece.iter().flat_map(|piece| &piece.boards);
            let routed = self.routed().iter().skip(self.worked().routing.parts.len());
            let parts = self.project.patterns.iter().zip(self.short_grain()).zip(routed);
            Drawn {
                boards: boards
                    .zip(stocks.boards.iter().zip(&codes.boards))
                    .map(|(board, (stock, code))| draw_board(&self.as_made(board), None, stock, code, heading, say))
                    .collect(),
                parts: parts
                    .zip(stocks.drawn.iter().zip(&codes.parts))
                    .map(|(((part, short), routed), (stock, code))| {
                        let part = spotted(part, short.as_ref());
                        draw_from(&part, &routed.on_part, Some(stock), code, heading, say)
                    })
                    .collect(),
            }
        })
    }

    fn all_patterns(&self, piece: Option<&Piece>, codes: &Codes, stocks: &Stocks) -> Vec<NamedPattern> {
        let (project, heading, say) = (&self.project, self.heading.as_str(), &self.project.notation);
        let Drawn { boards: plain, parts } = self.drawn(piece, codes, stocks);
        let routing = &self.worked().routing;
        let of_piece = self.routable(codes);
        let (of_piece, of_parts) = of_piece.split_at(routing.parts.len());
        let boards = || piece.iter().flat_map(|piece| &piece.boards);
        let mut all = Vec::new();
        let drawn = plain.iter().zip(stocks.boards.iter().zip(&codes.boards));
        for (index, (board, (plain, (stock, code)))) in boards().zip(drawn).enumerate() {
            let mut asked = routing.parts.iter().zip(of_piece).filter(|(part, _)| part.board == index);
            let asked = asked.next();
            let mut pattern = match asked {
                Some((_, part)) => draw_board(
                    &self.as_made(board),
                    Some((part.drawn, &part.routed.on_part)),
                    stock,
                    code,
                    heading,
                    say,
                ),
                None => plain.clone(),
            };
            if let Some(top) = project.top.as_ref().filter(|_| board.role == PartRole::Top) {
                mark_top(&mut pattern, board, top);
            }
            all.push(NamedPattern::new([board.id.as_str(), &board.label], pattern).part().of(board.role));
            let routed = asked.into_iter().flat_map(|(_, part)| self.router_patterns(part));
            all.extend(routed.map(|one| one.of(board.role).beside(board.id.as_str())));
        }
        // What is drawn of the piece beside its parts has its codes of the piece as they take it.
        let coded = self.coded();
        let settled = coded.piece().ok().flatten();
        if let (Some((piece, top)), Some(settled)) =
            (piece.zip(project.top.as_ref()), settled.zip(coded.project.top.as_ref()))
        {
            let fixed = fixings((piece, top), settled, heading, say).into_iter();
            all.extend(
                fixed.map(|one| NamedPattern { shows: one.cuts, ..NamedPattern::own(one.pattern, ["fixings"]) }),
            );
            let code = half_template(settled.0, settled.1).map(|half| drawn_revision(&half)).unwrap_or_default();
            let half = half_template(piece, top).map(|half| draw(&half, &OnPart::default(), &code, heading, say));
            let half = half.zip(piece.top());
            all.extend(half.map(|(half, top)| NamedPattern::own(half, ["templates"]).beside(top.id.as_str())));
        }
        for ((drawn, pattern), part) in project.patterns.iter().zip(parts).zip(of_parts) {
            all.push(NamedPattern::new([&drawn.name], pattern.clone()).part());
            all.extend(self.router_patterns(part).into_iter().map(|one| one.beside(&drawn.name)));
        }
        for (board, settled) in boards().zip(settled.iter().flat_map(|piece| &piece.boards)) {
            let named = |kind, pattern: Pattern| {
                let own = pattern.part.name.clone();
                NamedPattern::new([board.id.as_str(), &board.label, kind, &own], pattern).drawn().of(board.role)
            };
            let end = |end| NamedPattern { code_of: (format!("{} end", board.label), false), ..named("ends", end) };
            let made = self.as_made(board);
            all.extend(ends(&made, settled, say).into_iter().map(end));
            all.extend(strips(&made, settled, say).into_iter().map(|strip| named("strips", strip)));
        }
        let aids = self.aids().iter().zip(&codes.aids);
        all.extend(aids.map(|(made, code)| NamedPattern::new([&made.name, "aids"], aid(made, code, heading, say))));
        let sheet = piece.zip(settled).and_then(|(piece, settled)| bevels(piece, settled, heading, say));
        all.extend(sheet.map(|sheet| {
            let name = sheet.part.name.clone();
            NamedPattern::new(["bevels", &name], sheet)
        }));
        give_codes(&mut all);
        for one in &mut all {
            // What hangs on a number that is not decided is not to be cut at all.
            let in_full = if self.is_held_back(one) { Vec::new() } else { self.made_in_full(one) };
            let (words, is_to_cut) = self.told_first(one, !in_full.is_empty());
            if !words.is_empty() {
                let pattern = one.pattern.clone();
                one.pattern = if is_to_cut { pattern.heeding(words) } else { pattern.instead(words) };
            }
            if one.is_whole() {
                one.pattern.in_full = in_full;
            }
        }
        all
    }

    /// What a pattern says before all else, and whether it is one to cut by: that it hangs on what is not decided, that its part exists
    /// already. First what must not be left out where a sheet has no room for all. `is_more` is whether more is to be done to that part than
    /// every sheet says.
    fn told_first(&self, pattern: &NamedPattern, is_more: bool) -> (Vec<String>, bool) {
        let (not_decided, waits_for) = self.undecided_words(pattern).unzip();
        let is_to_cut = not_decided.is_none() && !self.is_kept(pattern);
        let more = is_more.then(|| match pattern.is_whole() {
            true => "told in full on these sheets".to_owned(),
            false => "told in full on the sheets of the whole part".to_owned(),
        });
        let words = not_decided.into_iter().chain(self.made_words(pattern)).chain(waits_for).chain(more);
        (words.collect(), is_to_cut)
    }

    /// The parts on which something may be routed, with what is routed on each, as they are and as codes take them.
    fn routable<'a>(&'a self, codes: &'a Codes) -> Vec<Routable<'a>> {
        let settled = self.coded().parts();
        let all = self.parts().zip(self.templates().iter().zip(self.routed())).zip(settled.zip(&codes.templates));
        all.map(|((drawn, (templates, routed)), (settled, codes))| Routable {
            drawn,
            templates,
            routed,
            settled,
            codes,
        })
        .collect()
    }

    /// The templates and gauges of one part.
    fn router_patterns(&self, Routable { drawn, templates, settled, codes, .. }: &Routable) -> Vec<NamedPattern> {
        let say = &self.project.notation;
        let templates = templates.made().zip(*codes);
        let templates = templates.map(|(made, code)| ("templates", template(drawn, made, code, &self.heading, say)));
        let (corners, settled_corners) = (corner_gauges(drawn), corner_gauges(settled));
        let corners = corners.iter().enumerate().map(|(index, made)| {
            let code = revision::corner_gauge(settled_corners.get(index).unwrap_or(made));
            ("gauges", gauge(&drawn.name, made, &code, say))
        });
        let cautions = part_cautions(drawn);
        let settled_sections = edge_sections(settled).into_iter().map(|(_, section)| section.ok());
        let sections = edge_sections(drawn).into_iter().zip(settled_sections).enumerate();
        let profiles = sections.filter_map(|(index, ((worked, section), settled))| {
            let edge = worked.edge.as_ref().map(edge_words);
            let section = section.ok()?;
            let code = revision::profile_gauge(settled.as_ref().unwrap_or(&section));
            // Said once a part.
            let cautions = if index == 0 { cautions.as_slice() } else { &[] };
            Some(("gauges", profile_gauge(drawn, edge.as_deref(), &section, &code, cautions, say)))
        });
        let all = templates.chain(corners).chain(profiles);
        all.map(|(kind, pattern)| NamedPattern::own(pattern, [&drawn.name, kind])).collect()
    }
}

/// Gives every pattern a short code of its own, whichever of them are asked for: parts of the piece first, then parts drawn
/// directly, then what goes with them. So a part keeps its code whatever is made for it, and whatever part comes after it.
fn give_codes(all: &mut [NamedPattern]) {
    let (parts, others): (Vec<usize>, Vec<usize>) = (0..all.len()).partition(|index| all[*index].code_of.1);
    let order: Vec<usize> = parts.into_iter().chain(others).collect();
    let codes = told_apart(order.iter().map(|index| all[*index].code_of.0.as_str()), TOGETHER);
    for (index, code) in order.into_iter().zip(codes) {
        all[index].pattern.part.code = code;
    }
}

/// A part on which something may be routed.
struct Routable<'a> {
    drawn: &'a DrawnPattern,
    templates: &'a Templates,
    routed: &'a Routed,
    /// It as codes take it.
    settled: &'a DrawnPattern,
    /// The codes of its templates.
    codes: &'a [String],
}

/// A part that is drawn directly, with where its grain runs out marked.
fn spotted(drawn: &DrawnPattern, short: Option<&ShortGrain>) -> DrawnPattern {
    let mut spotted = drawn.clone();
    let mark = short.map(|(_, spot)| Mark::Cross { at: spot.at, label: Some(spot.words.clone()) });
    let (entry, half) = (spotted.marks.len(), InHalf::Both);
    spotted.marks.extend(mark.map(|what| Laid { what, entry, half }));
    spotted
}
