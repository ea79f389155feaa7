//! Numbers without a pattern, the same for the same seed on every machine.

/// SplitMix64 (G. L. Steele, D. Lea and C. H. Flood, *Fast splittable pseudorandom number generators*, OOPSLA 2014).
pub struct Scatter(pub u64);

impl Scatter {
    /// The next number: a method and no iterator, which would end.
    #[allow(clippy::should_implement_trait, reason = "it never ends")]
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mixed = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    /// A number below this one; nothing is below nothing but nothing itself.
    pub fn below(&mut self, end: usize) -> usize {
        usize::try_from(self.next() % end.max(1) as u64).unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use super::Scatter;

    /// The first numbers for the seed 1234567 that other implementations of it give (from memory).
    #[test]
    fn is_splitmix64() {
        let mut scatter = Scatter(1_234_567);
        assert_eq!(
            [scatter.next(), scatter.next(), scatter.next()],
            [6_457_827_717_110_365_317, 3_203_168_211_198_807_973, 9_817_491_932_198_370_423]
        );
    }
}
