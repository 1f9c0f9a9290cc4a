//! The one mechanism behind reading, checking, writing, the bounds table, the schema and the generator:
//! every group names each of its fields once, and a visitor does its work with them.

use alloc::string::String;
use alloc::vec::Vec;
use core::marker::PhantomData;

use super::Ratio;
use crate::measure::{Angle, Bound, Length, Station};

/// What there is to say about a field besides its value.
#[derive(Clone, Copy)]
pub(crate) struct About {
    /// The field's key in the document.
    pub key: &'static str,
    /// One or two sentences for the builder.
    pub doc: &'static str,
    /// Bounds of the number, or of each number of a list.
    pub bound: Option<Bound>,
    /// Unit of the number; empty where it has none.
    pub unit: &'static str,
    /// Bounds of the number of entries of a list or of characters of a text.
    pub size: Option<Bound>,
    /// Why the document has to give it, where it has to.
    pub required: Option<&'static str>,
}

/// What a field of a group may be, for code that has to keep to it: `Allowed::<Nut>::width.within` and
/// `Allowed::<Shaft>::thickness.size` are the bounds that the group's own table names.
pub(crate) struct Allowed<G> {
    pub of: PhantomData<G>,
    /// Bounds of the number.
    pub within: Bound,
    /// Bounds of the number of entries.
    pub size: Bound,
}

/// Where the value of a field lives.
pub(crate) enum Slot<'a> {
    Flag(&'a mut bool),
    Count(&'a mut u32),
    Number(&'a mut f64),
    Length(&'a mut Length),
    Angle(&'a mut Angle),
    Station(&'a mut Station),
    Ratio(&'a mut Ratio),
    Text(&'a mut String),
    Choice(&'a mut dyn Choice),
    LengthOr(&'a mut dyn LengthOr),
    Group(&'a mut dyn Group),
    List(&'a mut dyn List),
    Maybe(&'a mut dyn Maybe),
}

impl Slot<'_> {
    /// The same slot for a shorter time.
    pub(crate) fn reborrow(&mut self) -> Slot<'_> {
        match self {
            Self::Flag(value) => Slot::Flag(value),
            Self::Count(value) => Slot::Count(value),
            Self::Number(value) => Slot::Number(value),
            Self::Length(value) => Slot::Length(value),
            Self::Angle(value) => Slot::Angle(value),
            Self::Station(value) => Slot::Station(value),
            Self::Ratio(value) => Slot::Ratio(value),
            Self::Text(value) => Slot::Text(value),
            Self::Choice(value) => Slot::Choice(*value),
            Self::LengthOr(value) => Slot::LengthOr(*value),
            Self::Group(value) => Slot::Group(*value),
            Self::List(value) => Slot::List(*value),
            Self::Maybe(value) => Slot::Maybe(*value),
        }
    }
}

/// Something that has a slot.
pub(crate) trait Value: Default {
    fn slot(&mut self) -> Slot<'_>;
}

/// Fields that belong together.
pub(crate) trait Group {
    /// Names every field once, in the order of the document.
    fn visit(&mut self, visitor: &mut dyn Visitor);
}

/// Work to be done on every field.
pub(crate) trait Visitor {
    fn field(&mut self, about: &About, slot: Slot<'_>);
}

/// One word out of a few.
pub(crate) trait Choice {
    fn names(&self) -> &'static [&'static str];
    fn index(&self) -> usize;
    /// Does nothing where there is no such name.
    fn choose(&mut self, index: usize);
}

/// A length, or a word that stands for another rule.
pub(crate) trait LengthOr {
    fn word(&self) -> &'static str;
    /// The length, or `None` where the word holds.
    fn length(&self) -> Option<Length>;
    fn set(&mut self, length: Option<Length>);
}

/// A list of values of one sort.
pub(crate) trait List {
    fn len(&self) -> usize;
    fn item(&mut self, index: usize) -> Option<Slot<'_>>;
    /// Adds a default value and hands out its slot.
    fn push(&mut self) -> Slot<'_>;
    fn clear(&mut self);
}

/// A value that may be absent.
pub(crate) trait Maybe {
    fn get(&mut self) -> Option<Slot<'_>>;
    /// Puts the default value there and hands out its slot.
    fn fill(&mut self) -> Slot<'_>;
}

impl<T: Value> List for Vec<T> {
    fn len(&self) -> usize {
        self.as_slice().len()
    }

    fn item(&mut self, index: usize) -> Option<Slot<'_>> {
        self.get_mut(index).map(Value::slot)
    }

    fn push(&mut self) -> Slot<'_> {
        let at = self.as_slice().len();
        Vec::push(self, T::default());
        self[at].slot()
    }

    fn clear(&mut self) {
        Vec::clear(self);
    }
}

impl<T: Value> Maybe for Option<T> {
    fn get(&mut self) -> Option<Slot<'_>> {
        self.as_mut().map(Value::slot)
    }

    fn fill(&mut self) -> Slot<'_> {
        self.insert(T::default()).slot()
    }
}

macro_rules! slots {
    ($($type:ty => $slot:ident),* $(,)?) => {
        $(impl Value for $type {
            fn slot(&mut self) -> Slot<'_> {
                Slot::$slot(self)
            }
        })*
    };
}

slots! {
    bool => Flag,
    u32 => Count,
    f64 => Number,
    Length => Length,
    Angle => Angle,
    Station => Station,
    Ratio => Ratio,
    String => Text,
}

impl<T: Value> Value for Vec<T> {
    fn slot(&mut self) -> Slot<'_> {
        Slot::List(self)
    }
}

impl<T: Value> Value for Option<T> {
    fn slot(&mut self) -> Slot<'_> {
        Slot::Maybe(self)
    }
}

/// A group: the struct, its defaults and its visit from one table.
///
/// `within` bounds the number (of a list: each number), `size` the entries of a list or the characters of a
/// text, and `required` says why a document has to give the field.
macro_rules! group {
    (
        $(#[doc = $group_doc:literal])+
        $name:ident {
            $(
                $(#[doc = $doc:literal])+
                $field:ident : $type:ty = $default:expr
                $(, within $lowest:literal to $highest:literal $unit:literal because $why:literal)?
                $(, size $least:literal to $most:literal because $size_why:literal)?
                $(, required because $required:literal)?
                ;
            )+
        }
    ) => {
        $(#[doc = $group_doc])+
        #[derive(Clone, Debug, PartialEq)]
        pub struct $name {
            $(
                $(#[doc = $doc])+
                $(#[doc = ""]
                  #[doc = concat!(" Allowed: ", $lowest, " to ", $highest, " ", $unit, ", because ", $why, ".")])?
                $(#[doc = ""]
                  #[doc = concat!(" Size: ", $least, " to ", $most, ", because ", $size_why, ".")])?
                $(#[doc = ""]
                  #[doc = concat!(" A document has to give it: ", $required, ".")])?
                pub $field: $type,
            )+
        }

        impl Default for $name {
            fn default() -> Self {
                Self { $($field: $default,)+ }
            }
        }

        /// What each field may be, by its name.
        #[allow(non_upper_case_globals, dead_code)]
        impl $crate::spec::visit::Allowed<$name> {
            $(
                pub(crate) const $field: Self = Self {
                    of: core::marker::PhantomData,
                    within: $crate::spec::visit::limit!($($lowest, $highest, $why)?),
                    size: $crate::spec::visit::limit!($($least, $most, $size_why)?),
                };
            )+
        }

        impl $crate::spec::visit::Group for $name {
            // Whole numbers in the tables are `i32` literals.
            #[allow(clippy::useless_conversion)]
            fn visit(&mut self, visitor: &mut dyn $crate::spec::visit::Visitor) {
                $(
                    let about = $crate::spec::visit::About {
                        key: stringify!($field),
                        doc: concat!($($doc),+),
                        bound: $crate::spec::visit::bound!($($lowest, $highest, $why)?),
                        unit: concat!($($unit)?),
                        size: $crate::spec::visit::bound!($($least, $most, $size_why)?),
                        required: $crate::spec::visit::required!($($required)?),
                    };
                    visitor.field(&about, $crate::spec::visit::Value::slot(&mut self.$field));
                )+
            }
        }

        impl $crate::spec::visit::Value for $name {
            fn slot(&mut self) -> $crate::spec::visit::Slot<'_> {
                $crate::spec::visit::Slot::Group(self)
            }
        }
    };
}

macro_rules! bound {
    () => {
        None
    };
    ($lowest:expr, $highest:expr, $why:expr) => {
        Some($crate::measure::Bound { lowest: f64::from($lowest), highest: f64::from($highest), why: $why })
    };
}

/// The same where the code wants it: a field without bounds may be anything.
macro_rules! limit {
    () => {
        $crate::measure::Bound { lowest: f64::NEG_INFINITY, highest: f64::INFINITY, why: "" }
    };
    ($lowest:expr, $highest:expr, $why:expr) => {
        $crate::measure::Bound { lowest: $lowest as f64, highest: $highest as f64, why: $why }
    };
}

macro_rules! required {
    () => {
        None
    };
    ($why:expr) => {
        Some($why)
    };
}

/// A choice of words: the enum, its names, and its slot from one table. The first is the default.
macro_rules! choice {
    (
        $(#[doc = $choice_doc:literal])+
        $name:ident {
            $(#[doc = $first_doc:literal])+
            $first:ident = $first_word:literal,
            $(
                $(#[doc = $doc:literal])+
                $variant:ident = $word:literal,
            )*
        }
    ) => {
        $(#[doc = $choice_doc])+
        #[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
        pub enum $name {
            $(#[doc = $first_doc])+
            #[default]
            $first,
            $(
                $(#[doc = $doc])+
                $variant,
            )*
        }

        impl $name {
            /// All of them.
            pub const ALL: &'static [Self] = &[Self::$first, $(Self::$variant),*];

            const NAMES: &'static [&'static str] = &[$first_word, $($word),*];

            /// The word that stands for it in a document.
            #[must_use]
            pub const fn name(self) -> &'static str {
                match self {
                    Self::$first => $first_word,
                    $(Self::$variant => $word,)*
                }
            }
        }

        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.serialize_str(self.name())
            }
        }

        impl $crate::spec::visit::Choice for $name {
            fn names(&self) -> &'static [&'static str] {
                Self::NAMES
            }

            fn index(&self) -> usize {
                *self as usize
            }

            fn choose(&mut self, index: usize) {
                if let Some(choice) = Self::ALL.get(index) {
                    *self = *choice;
                }
            }
        }

        impl $crate::spec::visit::Value for $name {
            fn slot(&mut self) -> $crate::spec::visit::Slot<'_> {
                $crate::spec::visit::Slot::Choice(self)
            }
        }
    };
}

pub(crate) use {bound, choice, group, limit, required};
