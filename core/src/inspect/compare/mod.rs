//! Two necks, or a neck and its left-handed twin, compared over their whole surface.
//!
//! ```
//! use neckwright::{measure::Length, shape::Neck, spec::{Hand, Specification}};
//!
//! let spec = Specification::default();
//! let neck = Neck::new(&spec)?;
//! let twin = Neck::new(&Specification { hand: Hand::Left, ..spec.clone() })?;
//! assert_eq!(neck.compare(&twin).greatest.proven_mm, 0.0);
//!
//! let mut fuller = spec.clone();
//! for given in &mut fuller.shaft.thickness {
//!     given.thickness = Length::from_mm(given.thickness.mm() + 0.1);
//! }
//! let found = neck.compare(&Neck::new(&fuller)?);
//! let row = &found.rows[7];
//! assert!((row.greatest.difference_mm + 0.1).abs() < 1e-9, "the other stands out by 0.1 mm at the spine");
//! assert!(found.greatest.proven_mm - found.greatest.size_mm() <= 1e-6);
//! # Ok::<(), neckwright::measure::Error>(())
//! ```

mod apart;
mod back;
mod comparison;
mod crown;
mod difference;
mod ends;
mod parts;
mod row;
mod sheet;
mod skin;

pub use comparison::Comparison;
pub use difference::{Difference, Surface};
pub use ends::{CutDifference, Ends, FretDifference, RodDifference};
pub use row::ComparedRow;
