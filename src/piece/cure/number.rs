//! The numbers of a base and its top by their places in the file.

use crate::model::base::{
    Apron, Base, BoxSize, Curve, FrameTurn, LeaningFrames, Rail, Span, SplayedBox, SplayedLegs, Stretcher,
    Stretchers, Top,
};
use crate::units::{Angle, Length};

/// What a number measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// Millimetres.
    Length,
    /// Degrees.
    Angle,
}

/// A number of the file.
#[derive(Debug)]
pub(super) enum Number<'a> {
    /// A length.
    Length(&'a mut Length),
    /// An angle.
    Angle(&'a mut Angle),
}

impl Number<'_> {
    /// mm or degrees.
    pub(super) fn get(&self) -> f64 {
        match self {
            Number::Length(length) => length.mm(),
            Number::Angle(angle) => angle.degrees(),
        }
    }

    pub(super) fn set(self, value: f64) {
        match self {
            Number::Length(length) => *length = Length::from_mm(value),
            Number::Angle(angle) => *angle = Angle::from_degrees(value),
        }
    }

    pub(super) fn kind(&self) -> Kind {
        match self {
            Number::Length(_) => Kind::Length,
            Number::Angle(_) => Kind::Angle,
        }
    }
}

/// The numbers that stand at a place: none, one, or the two that one overhang gives.
pub(super) fn numbers<'a>(base: Option<&'a mut Base>, top: Option<&'a mut Top>, pointer: &str) -> Vec<Number<'a>> {
    if let Some(field) = pointer.strip_prefix("/top/") {
        return top.and_then(|top| of_top(top, field)).into_iter().collect();
    }
    let Some(field) = pointer.strip_prefix("/base/") else { return Vec::new() };
    let (length, width) = match (base, field) {
        (Some(Base::LeaningFrames(frames)), "overhang") => (&mut frames.length, &mut frames.width),
        (Some(Base::SplayedLegs(legs)), "overhang") => (&mut legs.length, &mut legs.width),
        (Some(Base::LeaningFrames(frames)), _) => return leaning(frames, field).into_iter().collect(),
        (Some(Base::SplayedLegs(legs)), _) => return splayed(legs, field).into_iter().collect(),
        (Some(Base::SplayedBox(sides)), _) => return sloping(sides, field).into_iter().collect(),
        (Some(Base::Boards(_)) | None, _) => return Vec::new(),
    };
    match (length, width) {
        (Span::Overhang(ends), Span::Overhang(sides)) if ends == sides => {
            vec![Number::Length(ends), Number::Length(sides)]
        }
        _ => Vec::new(),
    }
}

/// Between which values, mm or degrees, a cure is looked for: what the file may hold, and no farther than a maker would go
/// unless `far`.
pub(super) fn range(pointer: &str, given: f64, kind: Kind, far: bool) -> (f64, f64) {
    /// No part of a piece of furniture is larger, mm; nor is an angle, degrees.
    const FAR: (f64, f64) = (3000.0, 45.0);
    let (low, high) = near(pointer, given, kind);
    let last = pointer.rsplit('/').next().unwrap_or(pointer);
    match (kind, last) {
        (Kind::Angle, _) if far && given < 0.0 => (low.min(-FAR.1), high),
        (Kind::Angle, _) if far => (low, high.max(FAR.1)),
        (Kind::Length, "rise" | "inset" | "overhang" | "set_back" | "drop") => (low, high),
        (Kind::Length, _) if far => (low, high.max(FAR.0)),
        _ => (low, high),
    }
}

/// As [`range`], no farther than a maker would go.
fn near(pointer: &str, given: f64, kind: Kind) -> (f64, f64) {
    let towards_nothing = (given.min(0.0), given.max(0.0));
    let last = pointer.rsplit('/').next().unwrap_or(pointer);
    match (kind, last) {
        (Kind::Angle, _) | (Kind::Length, "rise") => towards_nothing,
        (Kind::Length, "inset") => (given.clamp(-500.0, 0.0), (given.abs() * 4.0).clamp(300.0, 2000.0)),
        (Kind::Length, "overhang") => (-2000.0, given),
        (Kind::Length, "set_back" | "drop") => (0.0, given),
        (Kind::Length, "thickness" | "depth") => (1.0, (given * 4.0).min(1000.0)),
        (Kind::Length, _) => (1.0, (given * 4.0).clamp(300.0, 5000.0)),
    }
}

fn length(length: &mut Length) -> Option<Number<'_>> {
    Some(Number::Length(length))
}

fn rise(curve: &mut Curve) -> Option<Number<'_>> {
    match curve {
        Curve::Rise(rise) => length(rise),
        Curve::Straight | Curve::Batten(_) => None,
    }
}

/// A size over the legs, where it is given in this way.
fn span<'a>(span: &'a mut Span, field: &str) -> Option<Number<'a>> {
    match (span, field.ends_with("_at_top")) {
        (Span::AtTop(size), true) | (Span::AtFloor(size), false) => length(size),
        _ => None,
    }
}

fn leaning<'a>(base: &'a mut LeaningFrames, field: &str) -> Option<Number<'a>> {
    let (part, rest) = field.split_once('/').unwrap_or((field, ""));
    match (part, rest) {
        ("height", _) => length(&mut base.height),
        ("length_at_top" | "length_at_floor", _) => span(&mut base.length, field),
        ("width_at_top" | "width_at_floor", _) => span(&mut base.width, field),
        ("lean", _) => Some(Number::Angle(&mut base.lean)),
        ("leg", "splay") => Some(Number::Angle(&mut base.leg.splay)),
        ("leg", "thickness") => length(&mut base.leg.thickness),
        ("leg", "head") => length(&mut base.leg.head),
        ("leg", "foot") => length(&mut base.leg.foot),
        ("leg", "outside_edge/rise") => rise(&mut base.leg.outside_edge),
        ("leg", "inside_edge/rise") => rise(&mut base.leg.inside_edge),
        ("top_rail", _) => rail(base.top_rail.as_mut()?, rest),
        ("bottom_rail", "height") => length(&mut base.bottom_rail.as_mut()?.height),
        ("bottom_rail", _) => rail(base.bottom_rail.as_mut()?, rest),
        ("apron", _) => apron(base.apron.as_mut()?, rest),
        ("stretcher", _) => stretcher(base.stretcher.as_mut()?, rest),
        ("frames", _) => {
            let [left, right] = base.frames.as_mut()?;
            match rest.split_once('/')? {
                ("left", angle) => turn(left, angle),
                (_, angle) => turn(right, angle),
            }
        }
        _ => None,
    }
}

fn turn<'a>(turn: &'a mut FrameTurn, field: &str) -> Option<Number<'a>> {
    match field {
        "lean" => turn.lean.as_mut().map(Number::Angle),
        _ => Some(Number::Angle(&mut turn.twist)),
    }
}

fn rail<'a>(rail: &'a mut Rail, field: &str) -> Option<Number<'a>> {
    match field {
        "thickness" => length(&mut rail.thickness),
        "depth" => length(&mut rail.depth),
        "set_back" => rail.set_back.as_mut().map(Number::Length),
        "lower_edge/rise" => rise(&mut rail.lower_edge),
        "upper_edge/rise" => rise(&mut rail.upper_edge),
        _ => None,
    }
}

fn apron<'a>(apron: &'a mut Apron, field: &str) -> Option<Number<'a>> {
    match field {
        "thickness" => length(&mut apron.thickness),
        "depth" => length(&mut apron.depth),
        "drop" => length(&mut apron.drop),
        "inset" => length(&mut apron.inset),
        _ => None,
    }
}

fn stretcher<'a>(stretcher: &'a mut Stretcher, field: &str) -> Option<Number<'a>> {
    match field {
        "thickness" => length(&mut stretcher.thickness),
        "depth" => length(&mut stretcher.depth),
        "height" => length(&mut stretcher.height),
        _ => None,
    }
}

fn stretchers<'a>(stretchers: &'a mut Stretchers, field: &str) -> Option<Number<'a>> {
    match field {
        "thickness" => length(&mut stretchers.thickness),
        "depth" => length(&mut stretchers.depth),
        "height" => length(&mut stretchers.height),
        "inset" => stretchers.inset.as_mut().map(Number::Length),
        _ => None,
    }
}

fn splayed<'a>(base: &'a mut SplayedLegs, field: &str) -> Option<Number<'a>> {
    let (part, rest) = field.split_once('/').unwrap_or((field, ""));
    match (part, rest) {
        ("height", _) => length(&mut base.height),
        ("length_at_top" | "length_at_floor", _) => span(&mut base.length, field),
        ("width_at_top" | "width_at_floor", _) => span(&mut base.width, field),
        ("splay_front", _) => Some(Number::Angle(&mut base.splay_front)),
        ("splay_side", _) => Some(Number::Angle(&mut base.splay_side)),
        ("leg", "width") => length(&mut base.leg.width),
        ("leg", "thickness") => length(&mut base.leg.thickness),
        ("leg", "taper/from") => base.leg.taper.as_mut().map(|t| Number::Length(&mut t.from)),
        ("leg", "taper/foot_width") => base.leg.taper.as_mut().map(|t| Number::Length(&mut t.foot_width)),
        ("leg", "taper/foot_thickness") => base.leg.taper.as_mut().map(|t| Number::Length(&mut t.foot_thickness)),
        ("apron", _) => apron(base.apron.as_mut()?, rest),
        ("end_apron", _) => apron(base.end_apron.as_mut()?, rest),
        ("stretchers", _) => stretchers(base.stretchers.as_mut()?, rest),
        _ => None,
    }
}

fn sloping<'a>(base: &'a mut SplayedBox, field: &str) -> Option<Number<'a>> {
    match (field, &mut base.size) {
        ("side", BoxSize::Side(size)) | ("across", BoxSize::Across(size)) => length(size),
        ("slope", _) => Some(Number::Angle(&mut base.slope)),
        ("depth", _) => length(&mut base.depth),
        ("thickness", _) => length(&mut base.thickness),
        _ => None,
    }
}

fn of_top<'a>(top: &'a mut Top, field: &str) -> Option<Number<'a>> {
    match field {
        "length" => length(&mut top.length),
        "width" => length(&mut top.width),
        "thickness" => length(&mut top.thickness),
        "long_edges/rise" => rise(&mut top.long_edges),
        "short_edges/rise" => rise(&mut top.short_edges),
        "corner_radius" => top.corner_radius.as_mut().map(Number::Length),
        _ => None,
    }
}
