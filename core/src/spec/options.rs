//! Small documents: the options of one computation.

/// Reading, writing and checking of a group that is a document by itself and in which nothing has to hold between fields.
macro_rules! options {
    ($name:ident, name: $word:literal, subject: $subject:literal, title: $title:literal, example: $example:literal) => {
        impl $name {
            /// The format that this library writes, and the latest that it reads.
            pub const FORMAT: u32 = 1;

            /// Reads them from JSON; what the document leaves out keeps its default.
            ///
            /// # Errors
            /// - all faults that are found, as [`Stock::from_json`](crate::spec::Stock::from_json) tells them.
            pub fn from_json(text: &str) -> Result<Self, $crate::measure::Error> {
                $crate::spec::read::json(text)
            }

            /// Reads them from JSON that has been parsed already.
            ///
            /// # Errors
            /// - as [`Self::from_json`].
            pub fn from_value(value: &serde_json::Value) -> Result<Self, $crate::measure::Error> {
                $crate::spec::read::document(value, &[])
            }

            /// As JSON, indented, with absent fields left out; [`Self::from_json`] reads it back bit for bit.
            #[must_use]
            pub fn to_json(&self) -> alloc::string::String {
                $crate::spec::write::json(self)
            }

            /// Checks what was made in code, by the same bounds as what is read.
            ///
            /// # Errors
            /// - every number out of its bounds.
            pub fn check(&self) -> Result<(), $crate::measure::Error> {
                $crate::spec::check::document(self)
            }

            /// The table of bounds: every field, in the order of the document.
            #[must_use]
            pub fn bounds() -> alloc::vec::Vec<$crate::spec::BoundRow> {
                $crate::spec::table::rows::<Self>()
            }
        }

        impl $crate::spec::root::Root for $name {
            const FORMAT: u32 = Self::FORMAT;
            const WORDS: $crate::spec::root::Words = $crate::spec::root::Words {
                name: $word,
                subject: $subject,
                title: $title,
                example: $example,
            };

            fn together(&self, _: &mut $crate::measure::Faults) {}
        }

        $crate::spec::root::by_serde!($name);
    };
}

pub(crate) use options;
