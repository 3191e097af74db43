//! Words for what is wrong with drawings of other files.

use crate::finding::{Cures, Said, Words};
use crate::geometry::Point;
use crate::import::{ImportFault, ImportProblem, ImportProblemKind, LARGEST_FILE, NotFollowed};
use crate::project::{DrawingProblem, LetterProblem, Unusable};
use crate::tolerance::NEARLY_CLOSED;
use crate::units::Notation;

/// A place in a drawing's own units, as its file has them.
pub(super) fn spot(at: &Point) -> String {
    let number = |value: f64| {
        let said = format!("{value:.2}");
        let short = said.trim_end_matches('0').trim_end_matches('.');
        if short == "-0" { "0".to_owned() } else { short.to_owned() }
    };
    format!("x {}, y {}", number(at.x), number(at.y))
}

/// Places one after the other.
fn spots(all: &[Point], more: bool) -> String {
    let said: Vec<String> = all.iter().map(spot).collect();
    let more = if more { "; and there may be more places" } else { "" };
    format!("{}{more}", said.join("; "))
}

/// What is amiss with a path or an element of a file.
fn amiss(name: &str, problem: &ImportProblem) -> String {
    let what = match &problem.kind {
        ImportProblemKind::Open { ends, gap } if *gap < NEARLY_CLOSED => {
            format!("the path is left open by {gap:.3} mm at {} of the drawing: close it in the drawing", spot(&ends.0))
        }
        ImportProblemKind::Open { ends, .. } => {
            format!("the path is open, from {} to {} of the drawing: it can be a mark but no outline", spot(&ends.0), spot(&ends.1))
        }
        ImportProblemKind::CrossesItself { at, more } => {
            format!("the path crosses or touches itself at {} of the drawing", spots(at, *more))
        }
        ImportProblemKind::CrossesAnother { at, .. } => format!("the path meets another one at {} of the drawing", spot(at)),
        ImportProblemKind::Tiny { at } => format!("a piece smaller than 0.1 mm at {} of the drawing was left out", spot(at)),
        ImportProblemKind::TooFar => "a path with a coordinate beyond 20 m was left out".to_owned(),
        ImportProblemKind::NotUnderstood { what, whole: false } => format!("not understood, and left out: {what}"),
        ImportProblemKind::NotUnderstood { what, whole: true } => {
            format!("the \"{what}\" of an element is not understood")
        }
        ImportProblemKind::NotFollowed { what } => not_followed(what),
        ImportProblemKind::Unpainted => "an element has neither a fill nor a line, and was left out".to_owned(),
        ImportProblemKind::Paper { is_page: true } => {
            "a white rectangle as large as the page, without a line, lies under everything: it was taken for the paper and left out"
                .to_owned()
        }
        ImportProblemKind::Paper { is_page: false } => {
            "a white rectangle without a line lies under everything: it may be paper, or the part itself".to_owned()
        }
        ImportProblemKind::LeftOut { what } => {
            format!("an element \"{what}\" was left out: turn words and pictures into paths in the drawing")
        }
        ImportProblemKind::Outside => {
            "an element refers to something outside the file and was left out: nothing is ever fetched".to_owned()
        }
        ImportProblemKind::NoSuchElement => {
            "an element refers to one that is not in the file and was left out".to_owned()
        }
    };
    format!("\"{name}\", line {}: {what}", problem.line)
}

/// What a viewer shows otherwise.
fn not_followed(what: &NotFollowed) -> String {
    match what {
        NotFollowed::Property(name) => {
            format!("\"{name}\" is not followed here, and a viewer shows another shape by it")
        }
        NotFollowed::Element(name) => {
            format!("\"{name}\" is not followed here: it changes the shape while one looks")
        }
        NotFollowed::Condition(name) => format!("by \"{name}\" some viewers show this and others do not"),
        NotFollowed::Rule => "a style rule cannot be read, and may change what is shown".to_owned(),
        NotFollowed::OtherSheet => {
            "a style sheet that is elsewhere, or for some viewers only, may change what is shown".to_owned()
        }
        NotFollowed::Page => "the path runs over the edge of the page, where a viewer cuts it off".to_owned(),
        NotFollowed::Frame => {
            "the path runs over the frame of a drawing within the drawing, where a viewer cuts it off".to_owned()
        }
        NotFollowed::FilledRing => {
            "a ring lies within another and is filled like it: a viewer shows no opening there".to_owned()
        }
    }
}

/// What cures it in the drawing program.
fn followed_by(what: &ImportProblemKind) -> &'static str {
    match what {
        ImportProblemKind::NotFollowed { what: NotFollowed::Property("clip-path" | "mask") } => {
            "cut the paths themselves to what is shown and release the clip or mask, then save it anew"
        }
        ImportProblemKind::NotFollowed { what: NotFollowed::Property("filter") } => "take the effect off the path",
        ImportProblemKind::NotFollowed { what: NotFollowed::Page } => {
            "make the page as large as the drawing, or take out what lies off it"
        }
        ImportProblemKind::NotFollowed { what: NotFollowed::FilledRing } => {
            "run the inner ring the other way or set the fill rule to even-odd, where it is an opening; else take it out"
        }
        ImportProblemKind::NotFollowed { what: NotFollowed::Rule | NotFollowed::OtherSheet } => {
            "save it with attributes in place of style sheets"
        }
        ImportProblemKind::NotFollowed { what: NotFollowed::Element(_) | NotFollowed::Condition(_) } => {
            "take it out of the drawing, and keep what is to be cut"
        }
        _ => "flatten it in the drawing program: turn everything into plain paths without transforms or styles",
    }
}

/// Why a file is refused whole.
fn refused(name: &str, fault: &ImportFault) -> Said {
    match fault {
        ImportFault::TooLarge { .. } => Said::new(
            format!("\"{name}\" is larger than {} megabytes", LARGEST_FILE >> 20),
            "take pictures and what is not needed out of the drawing",
        ),
        ImportFault::NotText => {
            Said::new(format!("\"{name}\" is not an SVG text file"), "save it as plain SVG, not compressed")
        }
        ImportFault::Entities => Said::new(
            format!("\"{name}\" declares entities, which are never followed"),
            "save it as plain SVG from the drawing program",
        ),
        ImportFault::NotXml { what, line } => {
            Said::new(format!("\"{name}\" is broken on line {line}: {what}"), "save it anew from the drawing program")
        }
        ImportFault::NotSvg => Said::new(format!("\"{name}\" is not an SVG drawing"), "give the name of an SVG file"),
        ImportFault::TooManyPieces { most } => Said::new(
            format!("the paths of \"{name}\" have more than {most} pieces"),
            "simplify them in the drawing program: points closer than 0.01 mm to a line between others are seen by no tool",
        ),
        ImportFault::TooMuch => Said::new(
            format!("\"{name}\" holds more elements than can be looked at"),
            "take what is not needed out of the drawing",
        ),
    }
}

impl Words for LetterProblem {
    fn say(&self, _notation: &Notation, _cures: &Cures) -> Said {
        let LetterProblem::Lacking { letters, more, others, fonts } = self;
        let more = if *more > 0 { format!(" and {more} more") } else { String::new() };
        let others = match others {
            0 => String::new(),
            1 => ", here and in one other place".to_owned(),
            others => format!(", here and in {others} other places"),
        };
        let face = match fonts {
            0 => "the program's lettering does not have",
            1 => "neither the program's lettering nor the font that is given has",
            _ => "neither the program's lettering nor any of the fonts that are given has",
        };
        Said::new(
            format!("empty boxes are printed for letters that {face}: {letters}{more}{others}"),
            "name a font file that has them, outlines and all, with --font FILE; or write the words in other letters",
        )
    }
}

impl Words for DrawingProblem {
    fn say(&self, _notation: &Notation, _cures: &Cures) -> Said {
        match self {
            DrawingProblem::NoWidth {} => {
                Said::new("this drawing has no width to scale", "leave \"width\" out, or draw a shape that has one")
            }
            DrawingProblem::Unusable { why: Unusable::Path } => Said::new(
                "a path of this drawing crosses itself, encloses nothing or lies beyond 20 m",
                "mend the path in the drawing",
            ),
            DrawingProblem::Unusable { why: Unusable::File(name, fault) } => refused(name, fault),
            DrawingProblem::NotRead { name, why } => Said::new(
                format!("\"{name}\" cannot be read: {why}"),
                "put the SVG file beside the project file, and give its name",
            ),
            DrawingProblem::NoOutline { id: Some(id), ids } => Said::new(
                format!("nothing closed in this drawing has the id \"{id}\""),
                match ids.0.as_slice() {
                    [] => "leave \"id\" out".to_owned(),
                    ids => format!("its ids are {}", ids.join(", ")),
                },
            ),
            DrawingProblem::NoOutline { id: None, .. } => {
                Said::new("this drawing has no closed path", "close the path that is the edge of the part")
            }
            DrawingProblem::Crosses { name, what } => {
                Said::new(amiss(name, what), "mend it in the drawing, or choose another path by its \"id\"")
            }
            DrawingProblem::Open { name, what } => {
                Said::new(amiss(name, what), "close it in the drawing, if it is meant to be cut; it is left out now")
            }
            DrawingProblem::NotFollowed { name, what } => Said::new(amiss(name, what), followed_by(&what.kind)),
            DrawingProblem::Unpainted { name, what } => {
                Said::new(amiss(name, what), "give it a fill or a line in the drawing, where it is to be cut")
            }
            DrawingProblem::PaperLeftOut { name, what } => {
                Said::new(amiss(name, what), "give it a line in the drawing, where it is the edge of the part")
            }
            DrawingProblem::PaperOrPart { name, what } => Said::new(
                amiss(name, what),
                "take it out of the drawing, where it is paper; give it a line, where it is the edge of the part",
            ),
            DrawingProblem::LeftOut { name, what } => {
                Said::new(amiss(name, what), "look whether anything is missing; it is left out now")
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::amiss;
    use crate::geometry::Point;
    use crate::import::{ImportProblem, ImportProblemKind};

    #[test]
    fn a_gap_that_is_not_meant_is_told_apart_from_an_open_path() {
        let said = |gap: f64| {
            let ends = (Point::new(1.0, 2.0), Point::new(1.0, 2.0 + gap));
            amiss("a.svg", &ImportProblem { line: 7, path: Some(0), kind: ImportProblemKind::Open { ends, gap } })
        };
        let close = "\"a.svg\", line 7: the path is left open by 0.300 mm at x 1, y 2 of the drawing: close it in the drawing";
        assert_eq!(said(0.3), close);
        let open = "\"a.svg\", line 7: the path is open, from x 1, y 2 to x 1, y 2.5 of the drawing: it can be a mark but no outline";
        assert_eq!(said(0.5), open);
    }
}
