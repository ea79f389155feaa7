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

    /// The first answer moves it by 1 / 1.15, the n-th by about 1 / n. Products stay below 2^31.
    fn learn(&mut self, bit: bool, parts: &[u32; TIMES]) {
        let times = self.times();
        let chance = self.0 >> 10;
        let part = parts.get(times as usize).copied().unwrap_or_default();
        let moved =
            if bit { chance + part_of((1 << 22) - 1 - chance, part) * 20 } else { chance - part_of(chance, part) * 20 };
        self.0 = moved << 10 | if times < MOST_TIMES { times + 1 } else { times };
    }
}

/// Numbers of times that are told apart.
const TIMES: usize = MOST_TIMES as usize + 1;

/// Bits of the fraction in [`PARTS`].
const PART_BITS: u32 = 35;

/// What a memory that was asked so many times is moved by, as 2^35 over the divisor, rounded up. Divisions are most of what a bit
/// would take: a product with these is the same quotient to the last digit for anything below 2^22 over a divisor below 2^13.
#[allow(clippy::indexing_slicing, reason = "at compile time, where it cannot stop the program")]
static PARTS: [u32; TIMES] = {
    let mut parts = [0; TIMES];
    let mut times = 0;
    while times < TIMES {
        parts[times] = ((1 << PART_BITS) / (20 * times as u64 + 23) + 1) as u32;
        times += 1;
    }
    parts
};

const fn part_of(whole: u32, part: u32) -> u32 {
    ((whole as u64 * part as u64) >> PART_BITS) as u32
}

/// What one context says of the bit that is guessed.
#[derive(Clone, Copy)]
struct Asked {
    slot: usize,
    memory: Memory,
    /// The memory's chance as log odds, nothing if it was never asked.
    odds: i32,
    /// How far the chance is from even, the less the fewer answers it had.
    leaning: i32,
}

/// What each input counts for: two from each context, and one that is always on.
#[derive(Clone, Copy)]
struct Weights {
    each: [(i32, i32); CONTEXTS],
    always: i32,
}

/// The input that is always on.
const ALWAYS: i32 = 256;

/// The model: what was learnt, and what it said of the bit that was guessed last.
pub struct Model {
    memories: Vec<Memory>,
    weights: [Weights; SETS],
    /// The inverse of [`squash`].
    odds: Vec<i16>,
    asked: [Asked; CONTEXTS],
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
            weights: [Weights { each: [(FIRST_WEIGHT, FIRST_WEIGHT); CONTEXTS], always: FIRST_WEIGHT }; SETS],
            odds,
            asked: [Asked { slot: 0, memory: Memory::NEW, odds: 0, leaning: 0 }; CONTEXTS],
            set: 0,
            chance: 2048,
        }
    }

    /// The chance, in 4096, that the next bit is a one: from 1 to 4095. For letters the set is [`LETTERS`], from which
    /// the one is taken that goes by how many of the contexts but the first were asked before.
    pub fn guess(&mut self, contexts: &[u32; CONTEXTS], set: usize) -> u32 {
        let mut seen = 0;
        for (at, (asked, context)) in self.asked.iter_mut().zip(contexts).enumerate() {
            asked.slot = slot(*context);
            asked.memory = self.memories.get(asked.slot).copied().unwrap_or(Memory::NEW);
            seen += usize::from(at > 0 && asked.memory.times() > 0);
        }
        self.set = if set == LETTERS { set + seen } else { set };
        let Some(weights) = self.weights.get(self.set) else { return 2048 };
        let mut sum = i64::from(ALWAYS) * i64::from(weights.always);
        for (asked, (odds, leaning)) in self.asked.iter_mut().zip(weights.each) {
            let (times, chance) = (asked.memory.times() as i32, asked.memory.chance());
            // What was never asked says nothing; few answers say less than many.
            (asked.odds, asked.leaning) = (0, 0);
            if times > 0 {
                asked.odds = self.odds.get(chance as usize).copied().map_or(0, i32::from);
                asked.leaning = (chance - 2048) * (times + 1).min(8) / 8;
                sum += i64::from(asked.odds) * i64::from(odds) + i64::from(asked.leaning) * i64::from(leaning);
            }
        }
        self.chance = squash((sum >> 16).clamp(-2047, 2047) as i32);
        self.chance as u32
    }

    /// Learns what the bit was that was guessed last.
    pub fn learn(&mut self, bit: bool) {
        let error = ((i32::from(bit) << 12) - self.chance) * RATE;
        let moved = |weight: &mut i32, input: i32| *weight = weight.saturating_add((input * error + 0x8000) >> 16);
        let Some(weights) = self.weights.get_mut(self.set) else { return };
        moved(&mut weights.always, ALWAYS);
        for (asked, (odds, leaning)) in self.asked.iter().zip(&mut weights.each) {
            moved(odds, asked.odds);
            moved(leaning, asked.leaning);
            // Anew, as another context may have the same.
            if let Some(memory) = self.memories.get_mut(asked.slot) {
                memory.learn(bit, &PARTS);
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

    /// Wherever the quotient takes a step, and one before it: between these it cannot differ.
    #[test]
    fn parts_are_quotients() {
        for (times, part) in PARTS.iter().enumerate() {
            let divisor = 20 * times as u32 + 23;
            for whole in (0..1 << 22).step_by(divisor as usize).flat_map(|step| [step, step + divisor - 1]) {
                assert_eq!(part_of(whole, *part), whole / divisor, "{whole} / {divisor}");
            }
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
