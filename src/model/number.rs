//! The numbers of a piece by their places in the file: to list, to read and to change them.

use super::Project;
use super::aid::{AidRequest, Wanted};
use super::base::Base;
use super::field::{Field, Leeway, Numbers};
use super::joint::{Joint, JointGiven};
use super::path::named;
use super::top::Top;
use crate::finding::Place;
use crate::units::{Angle, Length};

/// What a number measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A length, in millimetres.
    Length,
    /// An angle, in degrees.
    Angle,
    /// How many.
    Count,
    /// A plain number.
    Share,
}

/// A number of the file.
#[derive(Debug, Clone, PartialEq)]
pub struct Number {
    /// Where it stands, or would stand if it were given.
    pub place: Place,
    /// What it is called: `top rail thickness`.
    pub words: String,
    /// What it measures.
    pub kind: Kind,
    /// Its value: millimetres, degrees, or as it is.
    pub value: f64,
    /// The smallest and the largest that the file may hold.
    pub range: (f64, f64),
    /// How far a maker would change it.
    pub leeway: Leeway,
    /// Whether it is a size of the wood that lies there.
    pub is_of_stock: bool,
}

/// A number of the model that can be changed.
#[derive(Debug)]
pub enum Slot<'a> {
    /// A length.
    Length(&'a mut Length),
    /// An angle.
    Angle(&'a mut Angle),
    /// How many.
    Count(&'a mut u32),
    /// A plain number.
    Share(&'a mut f64),
}

impl Slot<'_> {
    fn get(&self) -> (Kind, f64) {
        match self {
            Slot::Length(length) => (Kind::Length, length.mm()),
            Slot::Angle(angle) => (Kind::Angle, angle.degrees()),
            Slot::Count(count) => (Kind::Count, f64::from(**count)),
            Slot::Share(share) => (Kind::Share, **share),
        }
    }

    /// Whether it took the value: a count takes whole numbers only.
    fn set(self, value: f64) -> bool {
        match self {
            Slot::Length(length) => *length = Length::from_mm(value),
            Slot::Angle(angle) => *angle = Angle::from_degrees(value),
            Slot::Share(share) => *share = value,
            Slot::Count(count) => {
                let whole = value.fract() == 0.0 && (0.0..=f64::from(u32::MAX)).contains(&value);
                *count = if whole { value as u32 } else { *count };
                return whole;
            }
        }
        true
    }
}

/// The steps down to a value of the file.
#[derive(Debug, Clone, Copy)]
pub struct Pointer<'a> {
    above: Option<&'a Pointer<'a>>,
    step: Step<'a>,
}

/// One step.
#[derive(Debug, Clone, Copy)]
enum Step<'a> {
    /// The whole file, or the object itself.
    Stay,
    /// To a field.
    Field(&'static Field),
    /// To an entry by its index.
    Index(usize),
    /// To a named thing.
    Name(&'a str),
}

/// The whole file.
const ROOT: Pointer = Pointer { above: None, step: Step::Stay };

impl<'a> Pointer<'a> {
    /// What stands in the first of these fields.
    pub fn inside(&'a self, fields: &'static [Field]) -> Pointer<'a> {
        Pointer { above: Some(self), step: fields.first().map_or(Step::Stay, Step::Field) }
    }

    /// What stands at an index.
    pub fn entry(&'a self, index: usize) -> Pointer<'a> {
        Pointer { above: Some(self), step: Step::Index(index) }
    }

    /// What has a name.
    pub fn named(&'a self, name: &'a str) -> Pointer<'a> {
        Pointer { above: Some(self), step: Step::Name(name) }
    }

    /// The place.
    pub fn place(&self) -> Place {
        let above = self.above.map_or_else(Place::default, Pointer::place);
        match self.step {
            Step::Stay => above,
            Step::Field(field) => above.child(field.name),
            Step::Index(index) => above.child(index),
            Step::Name(name) => above.child(name),
        }
    }

    /// What is left of a place's pointer after these steps, where it begins with them. Cures ask so often that no pointer is
    /// written out for it.
    fn left_of<'p>(&self, pointer: &'p str) -> Option<&'p str> {
        let rest = self.above.map_or(Some(pointer), |above| above.left_of(pointer))?;
        let rest = match self.step {
            Step::Stay => return Some(rest),
            Step::Field(field) => rest.strip_prefix('/')?.strip_prefix(field.name)?,
            Step::Index(index) => rest.strip_prefix('/')?.strip_prefix(&index.to_string())?,
            Step::Name(name) => rest.strip_prefix(&Place::default().child(name).pointer)?,
        };
        (rest.is_empty() || rest.starts_with('/')).then_some(rest)
    }

    /// Whether these are the steps to a place.
    fn is(&self, place: &Place) -> bool {
        self.left_of(&place.pointer).is_some_and(str::is_empty)
    }

    /// The number there.
    fn number(&self, slot: &Slot) -> Number {
        let (kind, value) = slot.get();
        let field = self.field();
        let (range, leeway) = field.map_or(((0.0, 0.0), Leeway::Size), |field| (field.range, field.leeway));
        let is_of_stock = field.is_some_and(|field| field.is_of_stock);
        Number { place: self.place(), words: self.words(), kind, value, range, leeway, is_of_stock }
    }

    /// What the number there is called: its own name after that of what it belongs to.
    fn words(&self) -> String {
        let mut names = Vec::new();
        let mut at = Some(self);
        while let Some(pointer) = at.filter(|_| names.len() < 2) {
            let name = match pointer.step {
                Step::Stay => String::new(),
                Step::Field(field) => field.called.replace('_', " "),
                Step::Index(index) => (index + 1).to_string(),
                Step::Name(name) => name.to_owned(),
            };
            names.extend(Some(name).filter(|name| !name.is_empty()));
            at = pointer.above;
        }
        names.reverse();
        names.join(" ")
    }

    fn field(&self) -> Option<&'static Field> {
        match self.step {
            Step::Field(field) => Some(field),
            Step::Stay | Step::Index(_) | Step::Name(_) => self.above.and_then(Pointer::field),
        }
    }
}

impl Numbers for Length {
    fn each(&mut self, fields: &'static [Field], object: &Pointer, visit: &mut dyn FnMut(&Pointer, Slot)) {
        visit(&object.inside(fields), Slot::Length(self));
    }
}

impl Numbers for Angle {
    fn each(&mut self, fields: &'static [Field], object: &Pointer, visit: &mut dyn FnMut(&Pointer, Slot)) {
        visit(&object.inside(fields), Slot::Angle(self));
    }
}

impl Numbers for u32 {
    fn each(&mut self, fields: &'static [Field], object: &Pointer, visit: &mut dyn FnMut(&Pointer, Slot)) {
        visit(&object.inside(fields), Slot::Count(self));
    }
}

impl Numbers for f64 {
    fn each(&mut self, fields: &'static [Field], object: &Pointer, visit: &mut dyn FnMut(&Pointer, Slot)) {
        visit(&object.inside(fields), Slot::Share(self));
    }
}

impl Numbers for Vec<String> {
    fn each(&mut self, _: &'static [Field], _: &Pointer, _: &mut dyn FnMut(&Pointer, Slot)) {}
}

impl Numbers for String {
    fn each(&mut self, _: &'static [Field], _: &Pointer, _: &mut dyn FnMut(&Pointer, Slot)) {}
}

impl<T: Numbers> Numbers for Vec<(String, T)> {
    fn each(&mut self, fields: &'static [Field], object: &Pointer, visit: &mut dyn FnMut(&Pointer, Slot)) {
        let all = object.inside(fields);
        for (name, value) in self.iter_mut() {
            value.each(&[], &all.named(name), visit);
        }
    }
}

impl Numbers for [Length; 2] {
    fn each(&mut self, fields: &'static [Field], object: &Pointer, visit: &mut dyn FnMut(&Pointer, Slot)) {
        let list = object.inside(fields);
        for (index, length) in self.iter_mut().enumerate() {
            visit(&list.entry(index), Slot::Length(length));
        }
    }
}

impl Numbers for [Angle; 2] {
    fn each(&mut self, fields: &'static [Field], object: &Pointer, visit: &mut dyn FnMut(&Pointer, Slot)) {
        let list = object.inside(fields);
        for (index, angle) in self.iter_mut().enumerate() {
            visit(&list.entry(index), Slot::Angle(angle));
        }
    }
}

impl Numbers for Vec<Length> {
    fn each(&mut self, fields: &'static [Field], object: &Pointer, visit: &mut dyn FnMut(&Pointer, Slot)) {
        let list = object.inside(fields);
        for (index, length) in self.iter_mut().enumerate() {
            visit(&list.entry(index), Slot::Length(length));
        }
    }
}

impl Numbers for Vec<[Length; 2]> {
    fn each(&mut self, fields: &'static [Field], object: &Pointer, visit: &mut dyn FnMut(&Pointer, Slot)) {
        let list = object.inside(fields);
        for (index, pair) in self.iter_mut().enumerate() {
            for (k, length) in pair.iter_mut().enumerate() {
                visit(&list.entry(index).entry(k), Slot::Length(length));
            }
        }
    }
}

/// The fields of a project that hold numbers.
static BASE: [Field; 1] = [Field { called: "", ..Field::new("base", "Base", "", "") }];
static TOP: [Field; 1] = [Field::new("top", "Top", "", "")];
static SHOP: [Field; 1] = [Field::new("shop", "Shop", "", "")];
static JOINTS: [Field; 1] = [Field::new("joints", "Joints", "", "")];
static AIDS: [Field; 1] = [Field::new("aids", "Aids", "", "")];

fn each(base: Option<&mut Base>, top: Option<&mut Top>, visit: &mut dyn FnMut(&Pointer, Slot)) {
    if let Some(base) = base {
        base.each(&BASE, &ROOT, visit);
    }
    if let Some(top) = top {
        top.each(&TOP, &ROOT, visit);
    }
}

fn each_aid(aids: &mut [AidRequest], visit: &mut dyn FnMut(&Pointer, Slot)) {
    let all = ROOT.inside(&AIDS);
    for AidRequest { name, wanted, .. } in aids {
        wanted.each(&[], &all.named(name), visit);
    }
}

/// Every number of a base and its top, in the order of their fields; numbers that are not given and have a usual value among them.
pub fn numbers(base: Option<&Base>, top: Option<&Top>) -> Vec<Number> {
    let (mut base, mut top) = (base.cloned(), top.cloned());
    let mut all = Vec::new();
    each(base.as_mut(), top.as_mut(), &mut |at, slot| all.push(at.number(&slot)));
    all
}

/// The number of a base or its top that stands at a place; `None` where none does.
pub fn number_at(base: Option<&Base>, top: Option<&Top>, place: &Place) -> Option<Number> {
    let (mut base, mut top) = (base.cloned(), top.cloned());
    let mut found = None;
    each(base.as_mut(), top.as_mut(), &mut |at, slot| {
        if at.is(place) {
            found = Some(at.number(&slot));
        }
    });
    found
}

/// Gives the number at a place another value: millimetres, degrees, or as it is. Whether there is such a number, and it took it.
pub fn set_number(base: Option<&mut Base>, top: Option<&mut Top>, place: &Place, value: f64) -> bool {
    let mut set = false;
    each(base, top, &mut |at, slot| {
        if at.is(place) {
            set |= slot.set(value);
        }
    });
    set
}

impl Project {
    /// Every number of base, top, joints, aids and shop, with place, words, value and range.
    pub fn numbers(&self) -> Vec<Number> {
        let mut all = numbers(self.base.as_ref(), self.top.as_ref());
        let mut list = |at: &Pointer, slot: Slot| all.push(at.number(&slot));
        self.joints_given.clone().each(&JOINTS, &ROOT, &mut list);
        each_aid(&mut self.aids.clone(), &mut list);
        self.shop.clone().each(&SHOP, &ROOT, &mut list);
        all
    }

    /// The numbers that may be changed to spare parts that exist: those of base and top, spelt out, but for sizes of the wood that lies
    /// there, and for what the file says is fixed.
    pub fn free_numbers(&self) -> Vec<Number> {
        let spelt = self.spelt_out();
        let all = numbers(spelt.base.as_ref(), spelt.top.as_ref());
        let fixed: Vec<&Number> = self.fixed.iter().flat_map(|path| named(&all, path)).collect();
        let is_free = |number: &&Number| !number.is_of_stock && !fixed.contains(number);
        all.iter().filter(is_free).cloned().collect()
    }

    /// Gives the number at a place another value: millimetres, degrees, or as it is. Whether there is such a number, and it took
    /// it. What follows from it of joints and aids is made anew, and a number with which a joint cannot be made is not taken. What
    /// else has to agree with it is not looked at: read the file again for that.
    pub fn set_number(&mut self, place: &Place, value: f64) -> bool {
        self.settled = None;
        let is_length = self.numbers().iter().any(|number| number.place == *place && number.kind == Kind::Length);
        let mut set = set_number(self.base.as_mut(), self.top.as_mut(), place, value);
        let mut change = |at: &Pointer, slot: Slot| {
            if at.is(place) {
                set |= slot.set(value);
            }
        };
        each_aid(&mut self.aids, &mut change);
        self.shop.each(&SHOP, &ROOT, &mut change);
        let mut given = self.joints_given.clone();
        given.each(&JOINTS, &ROOT, &mut change);
        if given != self.joints_given && !self.take_joints(given) {
            return false;
        }
        self.follow_base();
        if set && is_length {
            self.notation.given = self.notation.given.with(Length::from_mm(value));
        }
        set
    }

    /// Takes other numbers for the joints, where they make joints; whether they do.
    fn take_joints(&mut self, given: Vec<(String, JointGiven)>) -> bool {
        let made: Option<Vec<Joint>> = given.iter().map(|(name, given)| given.joint(name).ok()).collect();
        let Some(mut made) = made else { return false };
        made.extend(self.joints.iter().filter(|joint| joint.is_turned_leg()).cloned());
        (self.joints_given, self.joints) = (given, made);
        true
    }

    /// Makes anew what follows from the base of joints and aids: the joint of its turned legs, and the holes for their tenons.
    pub fn follow_base(&mut self) {
        let leg = match &self.base {
            Some(Base::SplayedLegs(legs)) => legs.leg.round(),
            _ => None,
        };
        let Some(leg) = leg else { return };
        self.joints.iter_mut().filter(|joint| joint.is_turned_leg()).for_each(|joint| *joint = leg.joint());
        for aid in &mut self.aids {
            if let Wanted::Sightline(given, diameter) = &mut aid.wanted {
                *diameter = given.diameter.unwrap_or(leg.tenon);
            }
        }
    }
}
