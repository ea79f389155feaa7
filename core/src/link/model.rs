//! The guess at the next bit: many small memories, each asked by its own context, mixed by what has served.
//!
//! This is context mixing as the PAQ programs do it (M. Mahoney, *Adaptive weighing of context models for lossless data
//! compression*, Florida Tech technical report CS-2005-16), cut to what short worksheets want. All of it is
//! whole-number arithmetic, so that native and wasm agree to the bit. Every constant here belongs to the first version
//! of the link: with another one, links that were sent would read as nonsense.

/// Contexts that are asked for each bit.
pub const CONTEXTS: usize = 7;

/// Sets of weights: eight for what is told by structure, eight for letters.
const SETS: usize = 16;

/// The first of the sets for letters.
pub const LETTERS: usize = 8;

/// Memories, as a power of two: 4 MB, while a link is made or read.
const SLOTS: u32 = 20;

/// Inputs to the mixer: two from each context, and one that is always on.
const INPUTS: usize = CONTEXTS * 2 + 1;

/// Answers after which a memory learns no slower.
const MOST_TIMES: u32 = 255;

/// How fast weights move.
const RATE: i32 = 16;

/// Weight that each input has before anything is learnt, of 65536.
const FIRST_WEIGHT: i32 = 13_107;

/// What a context remembers: the chance of a one in the upper 22 bits, how often it was asked in the lower ten.
#[derive(Clone, Copy)]
struct Memory(u32);

impl Memory {
    const NEW: Self = Self(1 << 31);

    /// The chance of a one, in 4096.
    const fn chance(self) -> i32 {
        (self.0 >> 20) as i32
    }

    const fn times(self) -> u32 {
        self.0 & 1023
    }

    const fn learn(&mut self, bit: bool) {
        let times = self.times();
        let chance = (self.0 >> 10) as i32;
        let goal = if bit { (1 << 22) - 1 } else { 0 };
        // The first answer moves it by 1 / 1.15, the n-th by about 1 / n. Products stay below 2^31.
        let moved = chance + (goal - chance) / (20 * times as i32 + 23) * 20;
        let times = if times < MOST_TIMES { times + 1 } else { times };
        self.0 = (moved as u32) << 10 | times;
    }
}

/// The model: what was learnt, and what it said of the bit that was guessed last.
pub struct Model {
    memories: Vec<Memory>,
    weights: Vec<i32>,
    /// The inverse of [`squash`].
    odds: Vec<i16>,
    asked: [usize; CONTEXTS],
    inputs: [i32; INPUTS],
    set: usize,
    chance: i32,
}

/// The logistic curve: from log odds, 256 to one, to a chance in 4096.
fn squash(odds: i32) -> i32 {
    const CURVE: [i32; 33] = [
        1, 2, 3, 6, 10, 16, 27, 45, 73, 120, 194, 310, 488, 747, 1101, 1546, 2047, 2549, 2994, 3348, 3607, 3785, 3901,
        3975, 4022, 4050, 4068, 4079, 4085, 4089, 4092, 4093, 4094,
    ];
    let odds = odds.clamp(-2047, 2047);
    let (place, part) = (((odds >> 7) + 16) as usize, odds & 127);
    let at = |place: usize| CURVE.get(place).copied().unwrap_or_default();
    (at(place) * (128 - part) + at(place + 1) * part + 64) >> 7
}

impl Model {
    /// A model that has learnt nothing.
    pub fn new() -> Self {
        let mut odds = vec![2047_i16; 4096];
        let mut from = 0;
        for each in -2047_i16..=2047 {
            let chance = squash(i32::from(each)) as usize;
            if let Some(range) = odds.get_mut(from..=chance) {
                range.fill(each);
                from = chance + 1;
            }
        }
        Self {
            memories: vec![Memory::NEW; 1 << SLOTS],
            weights: vec![FIRST_WEIGHT; SETS * INPUTS],
            odds,
            asked: [0; CONTEXTS],
            inputs: [0; INPUTS],
            set: 0,
            chance: 2048,
        }
    }

    /// The chance, in 4096, that the next bit is a one: from 1 to 4095. For letters the set is [`LETTERS`], from which
    /// the one is taken that goes by how many of the contexts but the first were asked before.
    pub fn guess(&mut self, contexts: &[u32; CONTEXTS], set: usize) -> u32 {
        self.asked = contexts.map(slot);
        let memories = self.asked.map(|asked| self.memories.get(asked).copied().unwrap_or(Memory::NEW));
        let seen = memories.iter().skip(1).filter(|memory| memory.times() > 0).count();
        self.set = if set == LETTERS { set + seen } else { set } * INPUTS;
        let mut sum = 0_i64;
        let mut weights = self.weights.iter().skip(self.set);
        let mut inputs = self.inputs.iter_mut();
        let mut put = |value: i32| {
            if let (Some(input), Some(weight)) = (inputs.next(), weights.next()) {
                *input = value;
                sum += i64::from(value) * i64::from(*weight);
            }
        };
        for memory in memories {
            let times = memory.times() as i32;
            let odds = self.odds.get(memory.chance() as usize).copied().map_or(0, i32::from);
            // What was never asked says nothing; few answers say less than many.
            put(if times == 0 { 0 } else { odds });
            put((memory.chance() - 2048) * if times == 0 { 0 } else { (times + 1).min(8) } / 8);
        }
        put(256);
        self.chance = squash((sum >> 16).clamp(-2047, 2047) as i32);
        self.chance as u32
    }

    /// Learns what the bit was that was guessed last.
    pub fn learn(&mut self, bit: bool) {
        let error = ((i32::from(bit) << 12) - self.chance) * RATE;
        for (input, weight) in self.inputs.iter().zip(self.weights.iter_mut().skip(self.set)) {
            *weight = weight.saturating_add((input * error + 0x8000) >> 16);
        }
        for asked in self.asked {
            if let Some(memory) = self.memories.get_mut(asked) {
                memory.learn(bit);
            }
        }
    }
}

const fn slot(context: u32) -> usize {
    (context.wrapping_mul(0x9E37_79B1) >> (32 - SLOTS)) as usize
}

/// A context made of another and one thing more.
pub const fn with(context: u32, more: u32) -> u32 {
    (context ^ more.wrapping_mul(0x85EB_CA6B)).wrapping_mul(0xC2B2_AE35).rotate_left(13)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_curve_and_its_inverse_agree() {
        let model = Model::new();
        assert_eq!(squash(0), 2047);
        for odds in -2046..=2047 {
            assert!(squash(odds) >= squash(odds - 1) && (1..=4095).contains(&squash(odds)), "{odds}");
            let back = i32::from(model.odds[squash(odds) as usize]);
            assert_eq!(squash(back), squash(odds), "{odds}");
        }
    }

    #[test]
    fn what_always_follows_is_soon_expected() {
        let mut model = Model::new();
        for _ in 0..30 {
            model.guess(&[1, 2, 3, 4, 5, 6, 7], 0);
            model.learn(true);
        }
        assert!(model.guess(&[1, 2, 3, 4, 5, 6, 7], 0) > 4000);
        // The others are told by the weights alone, which were learnt from answers that are not theirs.
        assert!((1500..3500).contains(&model.guess(&[11, 12, 13, 14, 15, 16, 17], 1)));
    }
}
