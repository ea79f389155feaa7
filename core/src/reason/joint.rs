//! A symmetric table of pairs, such as the probabilities that two faults are both there.

/// One number for each unordered pair of `0..size`, a thing with itself included.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Pairs {
    size: usize,
    /// The upper triangle row by row: (0,0), (0,1), …, (1,1), (1,2), …
    upper: Vec<f64>,
}

impl Pairs {
    /// Fills the table; `of(i, j)` is asked once for each pair with i ≤ j, row by row.
    pub fn fill(size: usize, mut of: impl FnMut(usize, usize) -> f64) -> Self {
        let mut upper = Vec::with_capacity(size * (size + 1) / 2);
        for row in 0..size {
            upper.extend((row..size).map(|column| of(row, column)));
        }
        Self { size, upper }
    }

    /// How many things are paired.
    #[must_use]
    pub fn size(&self) -> usize {
        self.size
    }

    fn place(&self, i: usize, j: usize) -> Option<usize> {
        let (row, column) = if i <= j { (i, j) } else { (j, i) };
        // Rows above hold size, size − 1, … numbers.
        (column < self.size).then(|| row * self.size - row * row.saturating_sub(1) / 2 + (column - row))
    }

    /// The number of a pair; 0 for a pair that is not in the table.
    #[must_use]
    pub fn get(&self, i: usize, j: usize) -> f64 {
        self.place(i, j).and_then(|place| self.upper.get(place)).copied().unwrap_or(0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_pair_has_its_own_number() {
        let table = Pairs::fill(5, |i, j| (10 * i + j) as f64);
        for i in 0..5 {
            for j in 0..5 {
                assert_eq!(table.get(i, j), (10 * i.min(j) + i.max(j)) as f64, "{i} {j}");
            }
        }
        assert_eq!((table.size(), table.get(5, 0)), (5, 0.0));
    }
}
