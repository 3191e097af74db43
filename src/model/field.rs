//! Fields of the file: one declaration gives the member of the model, its row in the table that drives reader, messages, schema
//! and help, and where its number stands.

use super::number::{Pointer, Slot};

/// What a field's number measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// Nothing: the field holds no number.
    None,
    /// A length; the range is in millimetres.
    Length,
    /// An angle; the range is in degrees.
    Angle,
    /// A plain number.
    Number,
    /// A length or an angle; the range is in millimetres and not asked of an angle.
    Size,
}

/// How far from its value a maker would change a length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Leeway {
    /// A size of the piece or a width: to a few times its own.
    Size,
    /// A side of a part's section: to a few times its own, and no thicker than a beam.
    Section,
    /// The rise of a curve: towards straight.
    Rise,
    /// How far something stands in: either way.
    Inset,
    /// How far a top stands over: less, and under the base.
    Overhang,
    /// A distance that may be left out: less.
    Less,
}

/// One field of an object.
#[derive(Debug)]
pub struct Field {
    /// Its name in the file.
    pub name: &'static str,
    /// Its name in words.
    pub title: &'static str,
    /// What its number is called beside its part's name, `_` for a blank; its name unless told.
    pub called: &'static str,
    /// What it means.
    pub meaning: &'static str,
    /// What its number measures.
    pub unit: Unit,
    /// Smallest and largest number, in the unit.
    pub range: (f64, f64),
    /// How far a maker would change it.
    pub leeway: Leeway,
    /// Whether it is a size of the wood that lies there, planed: no other is taken to spare what is made of it.
    pub is_of_stock: bool,
    /// A value that can stand there, as JSON.
    pub example: &'static str,
}

impl Field {
    /// A field that holds no number.
    pub const fn new(name: &'static str, title: &'static str, meaning: &'static str, example: &'static str) -> Field {
        let (unit, range, leeway) = (Unit::None, (0.0, 0.0), Leeway::Size);
        Field { name, title, called: name, meaning, unit, range, leeway, is_of_stock: false, example }
    }

    /// Marks it as a size of the wood that lies there.
    pub const fn stock(&mut self) {
        self.is_of_stock = true;
    }
}

/// Something that stands in the file, with the numbers in it.
pub trait Numbers {
    /// Shows every number with its place: `fields` are those in which the value stands, `object` is the object that has them.
    fn each(&mut self, fields: &'static [Field], object: &Pointer, visit: &mut dyn FnMut(&Pointer, Slot));
}

/// One of a few words.
pub trait Choice: Copy + std::fmt::Debug + 'static {
    /// The words, each with what it chooses.
    const WORDS: &'static [(&'static str, Self)];
}

impl<T: Choice> Numbers for T {
    fn each(&mut self, _: &'static [Field], _: &Pointer, _: &mut dyn FnMut(&Pointer, Slot)) {}
}

impl<T: Numbers> Numbers for Option<T> {
    fn each(&mut self, fields: &'static [Field], object: &Pointer, visit: &mut dyn FnMut(&Pointer, Slot)) {
        if let Some(value) = self {
            value.each(fields, object, visit);
        }
    }
}

/// Declares that an enumeration is written as one of a few words.
macro_rules! choice {
    ($Choice:ty { $($word:literal => $value:expr),* $(,)? }) => {
        impl $crate::model::field::Choice for $Choice {
            const WORDS: &'static [(&'static str, Self)] = &[$(($word, $value)),*];
        }
    };
}

/// One row of a table of fields.
macro_rules! field {
    (
        $name:expr, $title:literal $(called $called:literal)?, $meaning:literal,
        $($unit:ident $low:literal..=$high:literal $(($leeway:ident))? $(of $stock:ident)?,)? $example:literal
    ) => {{
        #[allow(unused_mut, reason = "only some fields hold a number")]
        let mut field = $crate::model::field::Field::new($name, $title, $meaning, $example);
        $(field.called = $called;)?
        $(
            field.unit = $crate::model::field::Unit::$unit;
            field.range = ($low, $high);
            $(field.leeway = $crate::model::field::Leeway::$leeway;)?
            $(field.$stock();)?
        )?
        field
    }};
}

/// A field's name in the file: that of the member unless another is given.
macro_rules! key {
    ($name:ident) => {
        stringify!($name)
    };
    ($name:ident $key:literal) => {
        $key
    };
}

/// Declares an object of the file: its members with their types, defaults, titles, meanings, ranges and examples.
///
/// A member whose type reads several fields (`a: T = as "x", … | as "y", …;`) has a row for each. `or DEFAULT` is the value of a
/// member that is not there, `usual [MM, INCHES]` the value in a file of
/// millimetres and in one of inches, `usual (FUNCTION)` one that is made of its units, and
/// `usual nothing` an object in which nothing is written. `called` is what a number is called where its name does not say it, the word after a range how
/// far a maker would change it, and `of stock` that it is a size of the wood that lies there. The declaration is kept under the first name in front, for
/// the reader, who calls the text of such an object by the second: see `project::given`.
macro_rules! record {
    (
        ($d:tt) $shape:ident $Text:ident
        $(#[doc = $doc:literal])*
        $(#[derive($($derive:ident),*)])?
        $Record:ident { $(
            $name:ident: $type:ty $(, or $default:path)? $(, usual $usual:tt)? = $(
                $(as $key:literal,)? $title:literal $(called $called:literal)?, $meaning:literal,
                $($unit:ident $low:literal..=$high:literal $(($leeway:ident))? $(of $stock:ident)?,)? $example:literal
            )|+;
        )* }
    ) => {
        $(#[doc = $doc])*
        #[derive(Debug, Clone, PartialEq $(, $($derive),*)?)]
        pub struct $Record { $($(#[doc = $meaning])+ pub $name: $type),* }

        impl $Record {
            /// The fields in which each member stands.
            pub const FIELDS: &'static [&'static [$crate::model::field::Field]] = &[$(&[$(
                $crate::model::field::field!(
                    $crate::model::field::key!($name $($key)?), $title $(called $called)?, $meaning,
                    $($unit $low..=$high $(($leeway))? $(of $stock)?,)? $example
                )
            ),+]),*];
        }

        impl $crate::model::field::Numbers for $Record {
            fn each(
                &mut self,
                fields: &'static [$crate::model::field::Field],
                object: &$crate::model::number::Pointer,
                visit: &mut dyn FnMut(&$crate::model::number::Pointer, $crate::model::number::Slot),
            ) {
                let own = object.inside(fields);
                let mut members = Self::FIELDS.iter();
                $(if let Some(fields) = members.next() { self.$name.each(fields, &own, visit); })*
            }
        }

        macro_rules! $shape {
            ($d then:ident $d($d with:tt)*) => { $d then! {
                $d($d with)*
                $(#[doc = $doc])*
                $Record $Text { $($name: $type $(, or $default)? $(, usual $usual)? = $(
                    $(as $key,)? $title, $meaning, $($unit $low..=$high,)? $example
                )|+;)* }
            } };
        }
        pub(crate) use $shape;
    };
}

pub(crate) use {choice, field, key, record};
