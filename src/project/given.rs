//! Objects of the model as the file gives them: their text, and how it is worked out, from the declarations in `model`.

use super::field::{Field, Opened, Read, Reader, described};
use super::resolve::Resolver;
use super::value::{Named, Pair, Written};
use crate::model::field::Choice;
use crate::units::{Angle, Length};
use serde_json::{Map, Value as Json};

/// A value of the model that stands in one field.
pub trait Given: Sized {
    /// Its text.
    type Text: Read + std::fmt::Debug + Clone;

    /// Works it out; what is wrong with it is told to the resolver, and then there is none.
    fn work_out(text: &Self::Text, resolver: &mut Resolver) -> Option<Self>;

    /// The text of an object in which nothing is written; `None` where something must be.
    fn of_nothing() -> Option<Self::Text> {
        None
    }
}

/// A value of the model that stands in one field of an object or in several.
pub trait Member: Sized {
    /// Its text.
    type Text: std::fmt::Debug + Clone;

    /// Reads its fields; what is wrong with them is told to the reader.
    fn read(object: &Opened, fields: &'static [Field], reader: &mut Reader) -> Option<Self::Text>;

    /// Works it out; `name` is that of the member, and what is wrong with it is told to the resolver.
    fn work_out_as(text: &Self::Text, name: &'static str, resolver: &mut Resolver) -> Option<Self>;

    /// Adds its fields to the schema of the object.
    fn schema(fields: &'static [Field], object: &mut Properties, definitions: &mut Map<String, Json>);

    /// Its text where none of its fields is written; `None` where one must be.
    fn nothing() -> Option<Self::Text> {
        None
    }
}

impl<T: Given> Member for T {
    type Text = T::Text;

    fn read(object: &Opened, fields: &'static [Field], reader: &mut Reader) -> Option<T::Text> {
        object.field(fields.first()?, reader)
    }

    fn work_out_as(text: &T::Text, _: &'static str, resolver: &mut Resolver) -> Option<Self> {
        <T as Given>::work_out(text, resolver)
    }

    fn schema(fields: &'static [Field], object: &mut Properties, definitions: &mut Map<String, Json>) {
        if let Some(field) = fields.first() {
            object.add::<T::Text>(field, definitions);
        }
    }

    fn nothing() -> Option<T::Text> {
        T::Text::absent()
    }
}

/// The properties of an object's schema.
#[derive(Debug, Default)]
pub struct Properties {
    /// The properties by name.
    pub all: Map<String, Json>,
    /// The names of those that must be there.
    pub required: Vec<&'static str>,
}

impl Properties {
    /// Adds a field with the schema of its text.
    pub fn add<T: Read>(&mut self, field: &'static Field, definitions: &mut Map<String, Json>) {
        self.all.insert(field.name.to_owned(), described(T::schema(field, definitions), field));
        if T::REQUIRED {
            self.required.push(field.name);
        }
    }
}

impl Given for Length {
    type Text = Written;

    fn work_out(text: &Written, resolver: &mut Resolver) -> Option<Self> {
        resolver.length(text)
    }
}

impl Given for Angle {
    type Text = Written;

    fn work_out(text: &Written, resolver: &mut Resolver) -> Option<Self> {
        resolver.angle(text)
    }
}

impl Given for f64 {
    type Text = Written;

    fn work_out(text: &Written, resolver: &mut Resolver) -> Option<Self> {
        resolver.number(text)
    }
}

impl Given for [Length; 2] {
    type Text = Pair;

    fn work_out(text: &Pair, resolver: &mut Resolver) -> Option<Self> {
        let (first, second) = (resolver.length(&text.0), resolver.length(&text.1));
        Some([first?, second?])
    }
}

impl Given for u32 {
    type Text = u32;

    fn work_out(text: &u32, _: &mut Resolver) -> Option<Self> {
        Some(*text)
    }
}

impl Given for String {
    type Text = String;

    fn work_out(text: &String, _: &mut Resolver) -> Option<Self> {
        Some(text.clone())
    }
}

impl<T: Choice> Given for T {
    type Text = T;

    fn work_out(text: &T, _: &mut Resolver) -> Option<Self> {
        Some(*text)
    }
}

impl<T: Given> Given for Option<T> {
    type Text = Option<T::Text>;

    fn work_out(text: &Self::Text, resolver: &mut Resolver) -> Option<Self> {
        text.as_ref().map_or(Some(None), |text| T::work_out(text, resolver).map(Some))
    }
}

impl<T: Given> Given for Vec<T> {
    type Text = Vec<T::Text>;

    fn work_out(text: &Self::Text, resolver: &mut Resolver) -> Option<Self> {
        // Every entry is worked out before the first bad one ends the work.
        let all: Vec<Option<T>> = text.iter().map(|text| T::work_out(text, resolver)).collect();
        all.into_iter().collect()
    }
}

/// Named things in the order written; none where the field is not there.
impl<T: Given> Given for Vec<(String, T)> {
    type Text = Option<Named<T::Text>>;

    fn work_out(text: &Self::Text, resolver: &mut Resolver) -> Option<Self> {
        // Every entry is worked out before the first bad one ends the work.
        let all = text.iter().flat_map(|named| &named.0);
        let all: Vec<Option<(String, T)>> =
            all.map(|(name, text)| T::work_out(text, resolver).map(|value| (name.clone(), value))).collect();
        all.into_iter().collect()
    }
}

/// What an object is in which nothing is written.
pub fn out_of_nothing<T: Given>(resolver: &mut Resolver) -> Option<T> {
    T::work_out(&T::of_nothing()?, resolver)
}

/// The type that reads a member: one that has a default may be left out.
macro_rules! member {
    ($type:ty) => {
        $type
    };
    ($type:ty, or $default:path) => {
        Option<$type>
    };
    ($type:ty, usual $usual:tt) => {
        Option<$type>
    };
}

/// A member that was worked out, or its default.
macro_rules! or_default {
    ($resolver:ident, $worked:expr) => {
        $worked
    };
    ($resolver:ident, $worked:expr, or $default:path) => {
        $worked.map(|given| given.unwrap_or($default))
    };
    ($resolver:ident, $worked:expr, usual [$mm:literal, $inches:literal]) => {
        $worked.map(|given| given.unwrap_or_else(|| $resolver.either($mm, $inches)))
    };
    ($resolver:ident, $worked:expr, usual nothing) => {
        $worked.and_then(|given| given.map_or_else(|| $crate::project::given::out_of_nothing($resolver), Some))
    };
    ($resolver:ident, $worked:expr, usual ($usual:path)) => {
        $worked.map(|given| given.unwrap_or_else(|| $usual($resolver.notation.units)))
    };
}

/// Makes the text of an object that `model` declares, reads it, describes it, and works it out.
///
/// In front may stand how the object says of which kind it is: the kinds, the index of its own, and what the field means.
macro_rules! given {
    (
        $([$Kinds:ident $kind:literal $kind_meaning:literal $kind_example:literal])?
        $(#[doc = $doc:literal])*
        $Record:ident $Text:ident { $(
            $name:ident: $type:ty $(, or $default:path)? $(, usual $usual:tt)? = $(
                $(as $key:literal,)? $title:literal, $meaning:literal,
                $($unit:ident $low:literal..=$high:literal,)? $example:literal
            )|+;
        )* }
    ) => {
        $(#[doc = $doc])*
        #[derive(Debug, Clone)]
        pub struct $Text {
            $(
                $(#[doc = $meaning])+
                pub $name: <$crate::project::given::member!($type $(, or $default)? $(, usual $usual)?) as $crate::project::given::Member>::Text
            ),*
        }

        impl $Text {
            /// The field that says of which kind the object is, where there is one.
            const KIND: &'static [$crate::project::field::Field] =
                &[$($crate::project::field::Field::new("kind", "Kind", $kind_meaning, $kind_example))?];

            /// The fields in the order of the table.
            fn fields() -> impl Iterator<Item = &'static $crate::project::field::Field> + Clone {
                Self::KIND.iter().chain($Record::FIELDS.iter().copied().flatten())
            }
        }

        impl $crate::project::field::Read for $Text {
            fn read(
                node: &$crate::project::json::Node,
                _: &'static $crate::project::field::Field,
                reader: &mut $crate::project::field::Reader,
            ) -> Option<Self> {
                let opened = $crate::project::field::open(node, Self::fields(), reader)?;
                let mut members = $Record::FIELDS.iter();
                // Every field is read before the first missing one ends the reading.
                $(let $name = <$crate::project::given::member!($type $(, or $default)? $(, usual $usual)?) as $crate::project::given::Member>::read(&opened, members.next()?, reader);)*
                Some($Text { $($name: $name?),* })
            }

            fn schema(
                _: &'static $crate::project::field::Field,
                definitions: &mut serde_json::Map<String, serde_json::Value>,
            ) -> serde_json::Value {
                use $crate::project::given::Properties;
                let name = stringify!($Record).trim_end_matches("Given");
                if !definitions.contains_key(name) {
                    // Stands in its place at once, so that an object inside itself ends.
                    definitions.insert(name.to_owned(), serde_json::Value::Null);
                    let mut object = Properties::default();
                    $(if let Some(field) = Self::KIND.first() {
                        object.add::<$crate::project::kind::KindWord<$Kinds, $kind>>(field, definitions);
                    })?
                    let mut members = $Record::FIELDS.iter();
                    $(if let Some(fields) = members.next() {
                        <$crate::project::given::member!($type $(, or $default)? $(, usual $usual)?) as $crate::project::given::Member>::schema(fields, &mut object, definitions);
                    })*
                    let schema = $crate::project::field::object_schema(concat!($($doc),*), object.all, &object.required);
                    definitions.insert(name.to_owned(), schema);
                }
                serde_json::json!({ "$ref": format!("#/$defs/{name}") })
            }
        }

        impl $crate::project::given::Given for $Record {
            type Text = $Text;

            fn work_out(text: &$Text, resolver: &mut $crate::project::resolve::Resolver) -> Option<Self> {
                // Every member is worked out before the first bad one ends the work.
                $(let $name = $crate::project::given::or_default!(
                    resolver,
                    <$crate::project::given::member!($type $(, or $default)? $(, usual $usual)?) as $crate::project::given::Member>::work_out_as(&text.$name, stringify!($name), resolver)
                    $(, or $default)? $(, usual $usual)?
                );)*
                Some($Record { $($name: $name?),* })
            }

            fn of_nothing() -> Option<$Text> {
                Some($Text {
                    $($name: <$crate::project::given::member!($type $(, or $default)? $(, usual $usual)?) as $crate::project::given::Member>::nothing()?),*
                })
            }
        }
    };
}

pub(crate) use {given, member, or_default};
