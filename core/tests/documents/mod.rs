//! The two documents, so that one test serves both.
#![allow(dead_code)]

use std::fmt::Debug;

use neckwright::measure::Error;
use neckwright::spec::{BoundRow, Specification, Stock};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

/// What a whole document offers.
pub trait Document: Clone + Debug + Default + PartialEq + Serialize + DeserializeOwned {
    /// What its schema and its messages call it.
    const NAME: &str;

    /// As the type's own.
    fn from_json(text: &str) -> Result<Self, Error>;
    /// As the type's own.
    fn from_value(value: &Value) -> Result<Self, Error>;
    /// As the type's own.
    fn to_json(&self) -> String;
    /// As the type's own.
    fn check(&self) -> Result<(), Error>;
    /// As the type's own.
    fn schema() -> Value;
    /// As the type's own.
    fn bounds() -> Vec<BoundRow>;
    /// As the type's own.
    fn random(next: &mut dyn FnMut() -> u64) -> Self;
    /// As the type's own.
    fn plausible(next: &mut dyn FnMut() -> u64) -> Self;
}

macro_rules! document {
    ($name:ident, $text:literal) => {
        impl Document for $name {
            const NAME: &str = $text;

            fn from_json(text: &str) -> Result<Self, Error> {
                Self::from_json(text)
            }
            fn from_value(value: &Value) -> Result<Self, Error> {
                Self::from_value(value)
            }
            fn to_json(&self) -> String {
                self.to_json()
            }
            fn check(&self) -> Result<(), Error> {
                self.check()
            }
            fn schema() -> Value {
                Self::schema()
            }
            fn bounds() -> Vec<BoundRow> {
                Self::bounds()
            }
            fn random(next: &mut dyn FnMut() -> u64) -> Self {
                Self::random(next)
            }
            fn plausible(next: &mut dyn FnMut() -> u64) -> Self {
                Self::plausible(next)
            }
        }
    };
}

document!(Specification, "specification");
document!(Stock, "stock");

/// Equal in every bit: `==` would take -0 for 0.
pub fn same<D: Document>(a: &D, b: &D) -> bool {
    a == b && format!("{a:?}") == format!("{b:?}")
}
