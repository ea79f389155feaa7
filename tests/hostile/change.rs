//! Changes at random, the same for the same seed.

use kerbworth_tests::scatter::Scatter;

/// What parsers trip over: edges of numbers, brackets, quotes, line ends, signs of several bytes, ends of text.
const TRIPS: [&[u8]; 34] = [
    b"\"",
    b"\\",
    b"{",
    b"}",
    b"[",
    b"]",
    b":",
    b",",
    b";",
    b"\t",
    b"\n",
    b"\r\n",
    b"\0",
    b"null",
    b"true",
    b"-1",
    b"0",
    b"1e999",
    b"-1e-999",
    b"NaN",
    b"18446744073709551616",
    b"-9223372036854775809",
    b"4294967296",
    b"0.1",
    b".",
    b"\xFF",
    b"\xEF\xBB\xBF",
    "½".as_bytes(),
    "\u{202e}".as_bytes(),
    "\u{1d54f}".as_bytes(),
    b"\\ud800",
    b"=cmd()",
    b"{\"unread\":",
    b"{\"format\":2,",
];

/// A stream of changed inputs.
pub struct Changes(Scatter);

impl Changes {
    pub fn new(seed: u64) -> Self {
        Self(Scatter(seed))
    }

    /// One of the seeds with one to eight changes.
    pub fn of(&mut self, seeds: &[Vec<u8>]) -> Vec<u8> {
        let mut input = seeds[self.0.below(seeds.len())].clone();
        for _ in 0..=self.0.below(8) {
            self.change(&mut input, seeds);
        }
        input
    }

    fn change(&mut self, input: &mut Vec<u8>, seeds: &[Vec<u8>]) {
        let at = self.0.below(input.len() + 1);
        let end = at + self.0.below((input.len() - at).min(64) + 1);
        match self.0.below(9) {
            0 | 1 if at < input.len() => input[at] ^= 1 << self.0.below(8),
            2 if at < input.len() => input[at] = u8::try_from(self.0.below(256)).unwrap_or_default(),
            3 => drop(input.drain(at..end)),
            4 => input.truncate(at),
            5 => {
                let part = input[at..end].to_vec();
                input.splice(at..at, part);
            }
            // Deep or long: the same many times over.
            6 => {
                let part = TRIPS[self.0.below(TRIPS.len())].repeat(1 << self.0.below(12));
                input.splice(at..at, part);
            }
            7 => {
                let other = &seeds[self.0.below(seeds.len())];
                let from = self.0.below(other.len() + 1);
                input.splice(at.., other[from..].iter().copied());
            }
            _ => {
                let trip = TRIPS[self.0.below(TRIPS.len())];
                input.splice(at..end, trip.iter().copied());
            }
        }
    }
}
