//! The bits: one walk that writes, reads or only learns, so that reading cannot drift from writing.

use super::model::{CONTEXTS, Model};

/// Most bits that are told one by one, some 22 KB of letters: bounds the time and the room that any link can take. The
/// fullest worksheet that is tested has 64 000, and in Chromium a bit took 0.14 µs, so that these and the sample's are told
/// in 45 ms.
const MOST_BITS: u32 = 200_000;

/// There is more than a link can hold. Small, as there is one answer a bit.
pub struct Full;

enum Way<'a> {
    /// Nothing goes in or out: the model gets to know the sample.
    Learn,
    Write(Vec<u8>),
    Read(&'a [u8]),
}

/// An arithmetic coder over the model's guesses: the range from `low` to `high` is cut where the guess says, and the
/// part that the bit names is kept.
pub struct Stream<'a> {
    model: Model,
    way: Way<'a>,
    low: u32,
    high: u32,
    given: u32,
    left: u32,
}

impl<'a> Stream<'a> {
    /// Goes nowhere; the model learns.
    pub fn learning() -> Self {
        Self::over(Model::new(), Way::Learn)
    }

    /// Whether nothing goes in or out.
    pub const fn is_learning(&self) -> bool {
        matches!(self.way, Way::Learn)
    }

    /// Writes, by what was learnt.
    pub fn writing(self) -> Stream<'static> {
        Stream::over(self.model, Way::Write(Vec::new()))
    }

    /// Reads these bytes, by what was learnt.
    pub fn reading(self, bytes: &[u8]) -> Stream<'_> {
        let mut stream = Stream::over(self.model, Way::Read(bytes));
        for _ in 0..4 {
            stream.given = stream.given << 8 | stream.next();
        }
        stream
    }

    const fn over(model: Model, way: Way<'a>) -> Self {
        Self { model, way, low: 0, high: u32::MAX, given: 0, left: MOST_BITS }
    }

    /// The next byte; past the end it is as if zeros followed.
    fn next(&mut self) -> u32 {
        let Way::Read(bytes) = &mut self.way else { return 0 };
        let Some((first, rest)) = bytes.split_first() else { return 0 };
        *bytes = rest;
        u32::from(*first)
    }

    /// Tells one bit: the one given, or when reading the one that was written, whatever is given.
    ///
    /// # Errors
    /// [`Full`] after [`MOST_BITS`].
    pub fn bit(&mut self, given: bool, contexts: &[u32; CONTEXTS], set: usize) -> Result<bool, Full> {
        self.left = self.left.checked_sub(1).ok_or(Full)?;
        let chance = self.model.guess(contexts, set);
        let range = self.high - self.low;
        let middle = self.low + (range >> 12) * chance + (((range & 0xFFF) * chance) >> 12);
        let bit = if matches!(self.way, Way::Read(_)) { self.given <= middle } else { given };
        self.model.learn(bit);
        if bit {
            self.high = middle;
        } else {
            self.low = middle + 1;
        }
        while (self.low ^ self.high) >> 24 == 0 {
            if let Way::Write(out) = &mut self.way {
                out.push((self.high >> 24) as u8);
            }
            self.given = self.given << 8 | self.next();
            self.low <<= 8;
            self.high = self.high << 8 | 0xFF;
        }
        Ok(bit)
    }

    /// The bytes written, with the fewest that tell the last bits; nothing if it did not write.
    pub fn into_bytes(self) -> Vec<u8> {
        let Way::Write(mut out) = self.way else { return Vec::new() };
        // As zeros are read past the end, a number within the range that ends in zeros needs only its beginning.
        let within = |kept: &u32| {
            let unit = 1_u64 << (32 - 8 * kept);
            u64::from(self.low).div_ceil(unit) * unit <= u64::from(self.high)
        };
        let kept = (0..4).find(within).unwrap_or(4);
        let unit = 1_u64 << (32 - 8 * kept);
        let number = u64::from(self.low).div_ceil(unit) * unit;
        out.extend((number as u32).to_be_bytes().into_iter().take(kept as usize));
        while out.last() == Some(&0) {
            out.pop();
        }
        out
    }
}
