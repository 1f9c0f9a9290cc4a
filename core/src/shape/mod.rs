//! Sections, shaft, headstock, volute, heel, rod, and the neck that joins them.
