//! Temperament, scale, frets, strings, fretboard.
