//! What a whole document has besides its groups.

use super::visit::Group;
use crate::measure::Faults;

/// A whole document: what is read, checked, written and described by itself.
pub(crate) trait Root: Group + Clone + Default {
    /// The format that is written, and the latest that is read.
    const FORMAT: u32;
    /// How messages and the schema speak of it.
    const WORDS: Words;

    /// Notes the fields that contradict each other and those that others call for. Only asked where every field by
    /// itself is right.
    fn together(&self, faults: &mut Faults);
}

/// How messages and the schema speak of a document.
pub(crate) struct Words {
    /// What the document is.
    pub name: &'static str,
    /// What it describes.
    pub subject: &'static str,
    /// The schema's title.
    pub title: &'static str,
    /// A group to show where the braces go.
    pub example: &'static str,
}

/// Writing and reading by serde, through the same writer, reader and checks.
macro_rules! by_serde {
    ($name:ident) => {
        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                $crate::spec::write::document(self).serialize(serializer)
            }
        }

        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                let words = &<Self as $crate::spec::root::Root>::WORDS;
                let document = $crate::spec::document::Document::read(deserializer, words)?;
                $crate::spec::read::document(&document.value, &document.twice)
                    .map_err(serde::de::Error::custom)
            }
        }
    };
}

pub(crate) use by_serde;
