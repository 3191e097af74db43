//! What is on one page, as drawing operations.

use super::{face_id, layer_id, points};
use crate::geometry::{Path, Segment};
use crate::page::{Item, Page, Pen, Role, Shape, Text, font};
use crate::tolerance::BELOW_CUTTING;
use printpdf::{
    Color, Greyscale, Line, LineDashPattern, LinePoint, Op, PaintMode, PdfFontHandle, Point, Polygon, PolygonRing,
    Pt, Rect, TextItem, TextMatrix, WindingOrder,
};

/// The operations that draw a page.
pub(super) fn operations(page: &Page) -> Vec<Op> {
    let mut drawing = Drawing::default();
    for item in &page.items {
        drawing.item(item);
    }
    drawing.end_layer();
    drawing.ops
}

/// What the pen is set to; `None` where the page has not set it yet.
#[derive(Debug, Clone, Default)]
struct Setting {
    width: Option<f64>,
    dash: Option<(Vec<f64>, f64)>,
    stroke_grey: Option<f64>,
    fill_grey: Option<f64>,
}

#[derive(Default)]
struct Drawing {
    ops: Vec<Op>,
    setting: Setting,
    layer: Option<Role>,
}

impl Drawing {
    fn item(&mut self, item: &Item) {
        if self.layer != Some(item.role) {
            self.end_layer();
            self.ops.push(Op::BeginLayer { layer_id: layer_id(item.role) });
            self.layer = Some(item.role);
        }
        let Some(clip) = item.clip else { return self.shape(&item.shape) };
        // Restoring the state after the clip also restores the pen.
        let before = self.setting.clone();
        self.ops.push(Op::SaveGraphicsState);
        self.ops.push(clipping(clip));
        self.shape(&item.shape);
        self.ops.push(Op::RestoreGraphicsState);
        self.setting = before;
    }

    fn end_layer(&mut self) {
        if self.layer.take().is_some() {
            self.ops.push(Op::EndLayer);
        }
    }

    fn shape(&mut self, shape: &Shape) {
        match shape {
            Shape::Stroke { path, pen } if !path.segments().is_empty() => {
                self.take(pen);
                self.ops.push(Op::DrawLine { line: Line { points: line_points(path), is_closed: path.is_closed() } });
            }
            Shape::Stroke { .. } => {}
            Shape::Fill { rings, grey } => {
                self.fill_with(*grey);
                let rings = rings.iter().map(|ring| PolygonRing { points: line_points(ring) }).collect();
                let polygon = Polygon { rings, mode: PaintMode::Fill, winding_order: WindingOrder::EvenOdd };
                self.ops.push(Op::DrawPolygon { polygon });
            }
            Shape::Text(text) => self.text(text),
        }
    }

    /// Sets the pen, as far as it differs from what it is set to.
    fn take(&mut self, pen: &Pen) {
        if self.setting.stroke_grey.replace(pen.grey) != Some(pen.grey) {
            self.ops.push(Op::SetOutlineColor { col: colour(pen.grey) });
        }
        if self.setting.width.replace(pen.width) != Some(pen.width) {
            self.ops.push(Op::SetOutlineThickness { pt: Pt(points(pen.width)) });
        }
        let dash = (pen.dash.clone(), pen.phase);
        let solid = self.setting.dash.is_none() && pen.dash.is_empty();
        if !solid && self.setting.dash.as_ref() != Some(&dash) {
            self.ops.push(Op::SetLineDashPattern { dash: dash_pattern(pen) });
            self.setting.dash = Some(dash);
        }
    }

    fn fill_with(&mut self, grey: f64) {
        if self.setting.fill_grey.replace(grey) != Some(grey) {
            self.ops.push(Op::SetFillColor { col: colour(grey) });
        }
    }

    fn text(&mut self, text: &Text) {
        let words: String = font::shown(&text.content).collect();
        if words.trim().is_empty() {
            return;
        }
        self.fill_with(text.grey);
        if let Some(rings) = &text.set_in {
            let rings = rings.iter().map(|ring| PolygonRing { points: line_points(ring) }).collect();
            let polygon = Polygon { rings, mode: PaintMode::Fill, winding_order: WindingOrder::NonZero };
            self.ops.push(Op::DrawPolygon { polygon });
            return;
        }
        let [a, b, c, d, x, y] = text.placement().as_coeffs();
        let matrix = [turn(a), turn(b), turn(c), turn(d), points(x), points(y)];
        self.ops.extend([
            Op::StartTextSection,
            Op::SetFont { font: PdfFontHandle::External(face_id()), size: Pt(points(text.em())) },
            Op::SetTextMatrix { matrix: TextMatrix::Raw(matrix) },
            Op::ShowText { items: vec![TextItem::Text(words)] },
            Op::EndTextSection,
        ]);
    }
}

/// A part of a turn's matrix: six places hold 0.001 mm over a metre of words.
fn turn(coefficient: f64) -> f32 {
    ((coefficient * 1e6).round() / 1e6 + 0.0) as f32
}

fn colour(grey: f64) -> Color {
    Color::Greyscale(Greyscale::new(grey.clamp(0.0, 1.0) as f32, None))
}

/// The dashes in points, the phase within one repeat; none where they have no length, which no reader could draw.
fn dash_pattern(pen: &Pen) -> LineDashPattern {
    let lengths: Vec<f32> = pen.dash.iter().map(|length| points(length.max(0.0))).collect();
    // An odd list is run through twice before it repeats.
    let repeat = pen.dash.iter().sum::<f64>() * if pen.dash.len() % 2 == 1 { 2.0 } else { 1.0 };
    if lengths.iter().sum::<f32>() <= 0.0 {
        return LineDashPattern::new(0.0, &[]);
    }
    LineDashPattern::new(points(pen.phase.rem_euclid(repeat)), &lengths)
}

fn clipping(clip: crate::geometry::Rect) -> Op {
    let (x, y) = (points(clip.min_x()), points(clip.min_y()));
    let (width, height) = (points(clip.width().abs()), points(clip.height().abs()));
    let mode = Some(PaintMode::Clip);
    let rectangle = Rect { x: Pt(x), y: Pt(y), width: Pt(width), height: Pt(height), mode, winding_order: None };
    Op::DrawRectangle { rectangle }
}

/// The path as points, the control points of cubics marked. A closed path ends exactly where it begins; a straight last
/// line is left to the closing itself.
fn line_points(path: &Path) -> Vec<LinePoint> {
    let Some(start) = path.start() else { return Vec::new() };
    let mut line = Vec::with_capacity(3 * path.segments().len() + 1);
    line.push(line_point(start, false));
    for segment in path.segments() {
        match segment {
            Segment::Line(to) => line.push(line_point(to.p1, false)),
            curve => {
                for cubic in curve.to_cubics(BELOW_CUTTING) {
                    line.extend([
                        line_point(cubic.p1, true),
                        line_point(cubic.p2, true),
                        line_point(cubic.p3, false),
                    ]);
                }
            }
        }
    }
    if path.is_closed() {
        let ends_straight = matches!(path.segments().last(), Some(Segment::Line(_)));
        if ends_straight && line.len() > 2 {
            line.pop();
        } else if let Some(last) = line.last_mut() {
            *last = line_point(start, false);
        }
    }
    line
}

fn line_point(at: crate::geometry::Point, bezier: bool) -> LinePoint {
    LinePoint { p: Point { x: Pt(points(at.x)), y: Pt(points(at.y)) }, bezier }
}
