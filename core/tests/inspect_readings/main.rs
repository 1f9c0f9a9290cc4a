//! Reading readings.

mod bad;
#[path = "../seeded/mod.rs"]
mod seeded;
mod whole;
