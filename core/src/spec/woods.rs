//! What the neck is made of.

use alloc::string::{String, ToString};

use super::visit::group;

group! {
    /// A wood.
    Wood {
        /// The wood's name, as in the handbook's tables: kind first, then which.
        species: String = "maple, sugar".to_string(),
            size 1 to 120 because "a wood needs a name, and one that fits on a drawing";
        /// Its density, where the piece at hand has been weighed.
        density: Option<f64> = None,
            within 100 to 1500 "kg/m³" because "the lightest balsa weighs more and the heaviest ironwood less";
    }
}

group! {
    /// The woods.
    Woods {
        /// Wood of the shaft, headstock and heel.
        neck: Wood = Wood { species: "cherry, black".to_string(), density: None };
        /// Wood of the fretboard.
        fretboard: Wood = Wood::default();
    }
}
