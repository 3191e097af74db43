//! A page as SVG, in millimetres: for a pen plotter or a cutter, or as a picture to look at.
//!
//! Ids are unique in a file: a role's group is `outline`, `opening` …; in it a pattern's group is
//! `pattern-<name>-<role>`, where `<name>` is the pattern's name in small letters, figures and hyphens, numbered where two
//! patterns would share it. `data-name`, `data-code` and `data-revision` hold the true name, the short code and the revision.

mod dashes;
mod groups;

use super::error::{WriteError, check};
use crate::geometry::svg_data::{self, number, path_data};
use crate::geometry::{Affine, Path, Rect};
use crate::page::{Document, Item, Page, Pen, Shape, Text, font, outlines, strokes};
use svg::node::element;
use svg::node::element::Element;

/// The longest side of a page, mm: far beyond any bed, and still exact in a reader's single precision to 0.01 mm.
const LONGEST_SIDE: f64 = 100_000.0;

/// Line width of lettering against its height (ISO 3098, type B).
const LETTER_LINE: f64 = 0.1;

/// Line width of outlines that only guide a pen or cutter, mm.
const GUIDE_LINE: f64 = 0.1;

/// The mitre limit of PDF, so that both writers draw the same corners.
const MITRE_LIMIT: f64 = 10.0;

/// How words are put into a plot.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum PlotText {
    /// As single pen strokes.
    #[default]
    Strokes,
    /// As the outlines of letters.
    Outlines,
    /// As words, for a program that has its own lettering.
    Plain,
    /// Not at all.
    None,
}

/// What the SVG is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SvgStyle {
    /// For a plotter or cutter: lines only, grouped by role and pattern, filled areas as their outlines.
    Plot(PlotText),
    /// To look at: a white sheet, areas filled, words as filled outlines, in the order of drawing.
    Picture,
}

/// One page of the document as SVG, one unit a millimetre, y down as SVG has it.
///
/// Arcs stay arcs; coordinates are rounded to 0.0001 mm; a closed outline is one closed path. In a plot a dashed line is
/// drawn dash by dash, since plotters and cutters take no notice of SVG's own dashes.
///
/// # Errors
/// A page with a side of nothing or of more than 100 m; a number that is not finite.
pub fn svg(document: &Document, page: &Page, style: SvgStyle) -> Result<String, WriteError> {
    check(page, LONGEST_SIDE)?;
    let (width, height) = (number(page.width), number(page.height));
    let mut root = ::svg::Document::new()
        .set("width", format!("{width}mm"))
        .set("height", format!("{height}mm"))
        .set("viewBox", format!("0 0 {width} {height}"))
        .set("stroke-linecap", "butt")
        .set("stroke-linejoin", "miter")
        .set("stroke-miterlimit", MITRE_LIMIT)
        .set("fill", "none")
        .add(element::Title::new(title(document, page)));
    let mut writer = Writer { flip: Affine::new([1.0, 0.0, 0.0, -1.0, 0.0, page.height]), style, clips: Vec::new() };
    let content: Vec<Element> = match style {
        SvgStyle::Plot(_) => groups::by_role(document, page, |item| writer.item(item)),
        SvgStyle::Picture => page.items.iter().filter_map(|item| writer.item(item)).collect(),
    };
    if !writer.clips.is_empty() {
        root = root.add(writer.definitions());
    }
    if style == SvgStyle::Picture {
        let sheet = element::Rectangle::new().set("width", width).set("height", height).set("fill", "#ffffff");
        root = root.add(sheet);
    }
    for element in content {
        root = root.add(element);
    }
    Ok(format!("{root}\n"))
}

fn title(document: &Document, page: &Page) -> String {
    let title: String = font::shown(&document.title).collect();
    let name: String = font::shown(&page.name).collect();
    if name.is_empty() || name == title { title } else { format!("{title}: {name}") }
}

struct Writer {
    /// From the page, y up, to the file, y down.
    flip: Affine,
    style: SvgStyle,
    /// The rectangles outside which something is not shown; a rectangle's place in the list makes its id.
    clips: Vec<Rect>,
}

impl Writer {
    /// What is drawn for an item; nothing for one that the style leaves out.
    fn item(&mut self, item: &Item) -> Option<Element> {
        let mut element = match &item.shape {
            Shape::Stroke { path, pen } => self.stroke(path, pen),
            Shape::Fill { rings, grey } => self.fill(rings, *grey),
            Shape::Text(text) => self.text(text)?,
        };
        if let Some(clip) = item.clip {
            let place = self.clips.iter().position(|known| *known == clip).unwrap_or_else(|| {
                self.clips.push(clip);
                self.clips.len() - 1
            });
            let mut group = element::Group::new().set("clip-path", format!("url(#clip-{})", place + 1));
            group = group.add(element);
            element = group.into();
        }
        Some(element)
    }

    fn stroke(&self, path: &Path, pen: &Pen) -> Element {
        match (self.style, dashes::dashes(path, pen)) {
            (_, None) => self.line([path], pen.width, pen.grey).into(),
            (SvgStyle::Plot(_), Some(dashes)) => self.line(&dashes, pen.width, pen.grey).into(),
            (SvgStyle::Picture, Some(_)) => {
                let lengths: Vec<String> = pen.dash.iter().map(|length| number(length.max(0.0))).collect();
                self.line([path], pen.width, pen.grey)
                    .set("stroke-dasharray", lengths.join(" "))
                    .set("stroke-dashoffset", number(pen.phase))
                    .into()
            }
        }
    }

    fn fill(&self, rings: &[Path], grey: f64) -> Element {
        match self.style {
            SvgStyle::Picture => self.area(rings, grey).set("fill-rule", "evenodd").into(),
            SvgStyle::Plot(_) => self.line(rings, GUIDE_LINE, grey).into(),
        }
    }

    fn text(&self, text: &Text) -> Option<Element> {
        let words: String = font::shown(&text.content).collect();
        if words.trim().is_empty() {
            return None;
        }
        match self.style {
            SvgStyle::Plot(PlotText::None) => None,
            SvgStyle::Plot(PlotText::Strokes) => {
                Some(self.line(&strokes(text), text.height * LETTER_LINE, text.grey).into())
            }
            SvgStyle::Plot(PlotText::Outlines) => Some(self.line(&outlines(text), GUIDE_LINE, text.grey).into()),
            SvgStyle::Plot(PlotText::Plain) => Some(self.words(text, words)),
            SvgStyle::Picture => Some(self.area(&outlines(text), text.grey).into()),
        }
    }

    /// Words for the reader's own lettering; they begin where the embedded face would begin them.
    fn words(&self, text: &Text, words: String) -> Element {
        let start = self.flip * (text.placement() * crate::geometry::Point::ORIGIN);
        let mut element = element::Text::new(words)
            .set("x", number(start.x))
            .set("y", number(start.y))
            .set("font-family", format!("'{}', sans-serif", font::FAMILY))
            .set("font-size", number(text.em()))
            .set("xml:space", "preserve")
            .set("fill", colour(text.grey));
        if text.angle != 0.0 {
            let turn = svg_data::angle(-text.angle);
            element = element.set("transform", format!("rotate({turn} {} {})", number(start.x), number(start.y)));
        }
        element.into()
    }

    fn line<'p>(&self, paths: impl IntoIterator<Item = &'p Path>, width: f64, grey: f64) -> element::Path {
        let data = path_data(paths, self.flip);
        element::Path::new().set("d", data).set("stroke", colour(grey)).set("stroke-width", number(width))
    }

    fn area(&self, rings: &[Path], grey: f64) -> element::Path {
        element::Path::new().set("d", path_data(rings, self.flip)).set("fill", colour(grey))
    }

    fn definitions(&self) -> element::Definitions {
        self.clips.iter().enumerate().fold(element::Definitions::new(), |definitions, (place, clip)| {
            let clip = self.flip.transform_rect_bbox(*clip);
            let rectangle = element::Rectangle::new()
                .set("x", number(clip.x0))
                .set("y", number(clip.y0))
                .set("width", number(clip.width()))
                .set("height", number(clip.height()));
            definitions.add(element::ClipPath::new().set("id", format!("clip-{}", place + 1)).add(rectangle))
        })
    }
}

fn colour(grey: f64) -> String {
    let level = (grey.clamp(0.0, 1.0) * 255.0).round() as u8;
    format!("#{level:02x}{level:02x}{level:02x}")
}
