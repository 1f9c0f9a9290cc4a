//! A point of a neck's surface, as a program of another hand reads it.

/// A random point of the surface, by the laws.
pub(crate) struct Found {
    pub kind: String,
    /// 0 for the neck wood, 1 for the board.
    pub solid: u8,
    /// Where around its side's cubic it lies, 0 at the carve line and 1 at the spine, near enough to begin a search from; NaN
    /// off the back.
    pub around: f64,
    pub at: [f64; 3],
}

impl Found {
    pub fn off_the_back(kind: &str, solid: u8, at: [f64; 3]) -> Self {
        Self { kind: kind.into(), solid, around: f64::NAN, at }
    }

    /// 34 bytes, numbers with the least byte first; the kind by its place in a list, which this one joins if it has to.
    pub fn write(&self, kinds: &mut Vec<String>, bytes: &mut Vec<u8>) {
        let known = kinds.iter().position(|kind| *kind == self.kind);
        let kind = known.unwrap_or_else(|| {
            kinds.push(self.kind.clone());
            kinds.len() - 1
        });
        bytes.extend([kind as u8, self.solid]);
        let numbers = [self.around, self.at[0], self.at[1], self.at[2]];
        bytes.extend(numbers.into_iter().flat_map(f64::to_le_bytes));
    }
}
