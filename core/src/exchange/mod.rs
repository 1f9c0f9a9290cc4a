//! What other programs read: STEP.

mod step;

pub use step::{StepOptions, StepProtocol, step};
