//! The specification document: groups, defaults, reading, schema.
