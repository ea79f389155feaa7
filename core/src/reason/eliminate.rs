//! Elimination: sum the faults of a component out one at a time.
//!
//! Bucket elimination (R. Dechter 1996) with its reverse pass (A. Darwiche 2003): the probability is linear in
//! each fault's two weights, so one pass forward and one backward give every fault's share. All numbers are
//! positive and only added and multiplied: nothing cancels. The tables together never hold more than twice the
//! 2^faults states of plain enumeration.
//!
//! A bucket's table spans its own fault (bit 0 of an entry's number) and the faults that it meets, in the order
//! in which those are eliminated. Summing its own fault out halves the table into a message, which goes to the
//! bucket of the first fault it meets.

use super::component::{Part, Weight};
use super::joint::Pairs;
use super::network::either;
use super::order::Order;
use super::sweep::Sweep;

#[derive(Debug, Clone)]
struct Bucket {
    fault: usize,
    /// Product of the seen signs that belong here, scaled so that the message at the base weights peaks at 1.
    base: Vec<f64>,
    /// Buckets that send here, each with the entry of its message for every entry of this table.
    children: Vec<(usize, Vec<u32>)>,
}

/// The tables of one component, ready for any weights.
#[derive(Debug, Clone)]
pub(super) struct Elimination {
    buckets: Vec<Bucket>,
    faults: usize,
    log_scale: f64,
}

struct Forward {
    tables: Vec<Vec<f64>>,
    messages: Vec<Vec<f64>>,
    total: f64,
}

impl Elimination {
    /// Lays out the tables of a part, which must hang together, in a given order.
    pub fn new(part: &Part, order: &Order) -> Self {
        let faults = part.faults.len();
        let mut position = vec![0; faults];
        for (place, step) in order.steps.iter().enumerate() {
            if let Some(slot) = position.get_mut(step.fault) {
                *slot = place;
            }
        }
        let at = |fault: usize| position.get(fault).copied().unwrap_or(0);
        let scopes: Vec<Vec<usize>> = order
            .steps
            .iter()
            .map(|step| core::iter::once(step.fault).chain(step.meets.iter().copied()).collect())
            .collect();
        let mut buckets: Vec<Bucket> = order
            .steps
            .iter()
            .map(|step| Bucket { fault: step.fault, base: vec![1.0; 2 << step.meets.len()], children: Vec::new() })
            .collect();
        for sign in &part.signs {
            let Some(place) = sign.parents.iter().map(|&(fault, _)| at(fault)).min() else { continue };
            let (Some(bucket), Some(scope)) = (buckets.get_mut(place), scopes.get(place)) else { continue };
            let bits: Vec<(usize, f64)> = sign
                .parents
                .iter()
                .filter_map(|&(fault, strength)| Some((scope.iter().position(|&other| other == fault)?, strength)))
                .collect();
            for (number, entry) in bucket.base.iter_mut().enumerate() {
                let there = bits.iter().filter(|(bit, _)| number >> bit & 1 == 1);
                *entry *= there.fold(sign.none, |seen, &(_, strength)| either(seen, strength));
            }
        }
        for (child, step) in order.steps.iter().enumerate() {
            let Some(parent) = step.meets.first().map(|&fault| at(fault)) else { continue };
            let (Some(bucket), Some(scope)) = (buckets.get_mut(parent), scopes.get(parent)) else { continue };
            let bits: Vec<usize> =
                step.meets.iter().filter_map(|fault| scope.iter().position(|other| other == fault)).collect();
            let gather = |number: usize| {
                bits.iter().enumerate().fold(0_u32, |message, (to, from)| message | ((number >> from & 1) as u32) << to)
            };
            let gathered = (0..bucket.base.len()).map(gather).collect();
            bucket.children.push((child, gathered));
        }
        let mut elimination = Self { buckets, faults, log_scale: 0.0 };
        elimination.scale(&part.weights);
        elimination
    }

    /// Divides each bucket's table so that its message at these weights peaks at 1; the last message, the
    /// total, then is 1.
    fn scale(&mut self, weights: &[Weight]) {
        let mut messages: Vec<Vec<f64>> = Vec::with_capacity(self.buckets.len());
        for bucket in &mut self.buckets {
            let mut message = bucket.sum_out(&bucket.table(&messages), weights);
            let peak = message.iter().copied().fold(0.0, f64::max);
            if peak > 0.0 {
                for entry in bucket.base.iter_mut().chain(&mut message) {
                    *entry /= peak;
                }
                self.log_scale += libm::log(peak);
            }
            messages.push(message);
        }
    }

    /// Logarithm of the probability that a sweep at the base weights would have without the scaling.
    pub fn log_scale(&self) -> f64 {
        self.log_scale
    }

    fn forward(&self, weights: &[Weight]) -> Forward {
        let mut tables = Vec::with_capacity(self.buckets.len());
        let mut messages = Vec::with_capacity(self.buckets.len());
        for bucket in &self.buckets {
            let table = bucket.table(&messages);
            messages.push(bucket.sum_out(&table, weights));
            tables.push(table);
        }
        let total = messages.last().and_then(|last| last.first()).copied().unwrap_or(1.0);
        Forward { tables, messages, total }
    }

    /// The probability of what the weights say.
    pub fn total(&self, weights: &[Weight]) -> f64 {
        self.forward(weights).total
    }

    /// The same, and together with each fault being there.
    pub fn sweep(&self, weights: &[Weight]) -> Sweep {
        let Forward { tables, messages, total } = self.forward(weights);
        let mut present = vec![0.0; self.faults];
        // For each message: what one unit of each entry adds to the total.
        let mut worth: Vec<Vec<f64>> = vec![vec![1.0]; self.buckets.len()];
        for (place, (bucket, mut table)) in self.buckets.iter().zip(tables).enumerate().rev() {
            let worth_here = worth.get_mut(place).map(core::mem::take).unwrap_or_default();
            let weight = bucket.weight(weights);
            // Turn the table into its entries' parts of the total.
            let mut there = 0.0;
            for ([absent, with], worth) in table.as_chunks_mut::<2>().0.iter_mut().zip(&worth_here) {
                *absent *= weight.absent * worth;
                *with *= weight.present * worth;
                there += *with;
            }
            if let Some(slot) = present.get_mut(bucket.fault) {
                *slot = there;
            }
            for (child, gathered) in &bucket.children {
                let Some(message) = messages.get(*child) else { continue };
                let mut parts = vec![0.0; message.len()];
                for (entry, &to) in table.iter().zip(gathered) {
                    if let Some(part) = parts.get_mut(to as usize) {
                        *part += entry;
                    }
                }
                // Each entry of the message is a factor of its parts; one that is 0 has no part in the total.
                for (part, entry) in parts.iter_mut().zip(message) {
                    *part = if *entry > 0.0 { *part / entry } else { 0.0 };
                }
                if let Some(slot) = worth.get_mut(*child) {
                    *slot = parts;
                }
            }
        }
        Sweep { total, present }
    }

    /// The probability that both are there, for every pair of faults: one sweep a fault, with it there.
    pub fn pairs(&self, weights: &[Weight]) -> Pairs {
        let mut clamped = weights.to_vec();
        let mut rows: Vec<Vec<f64>> = Vec::with_capacity(weights.len());
        for (fault, weight) in weights.iter().enumerate() {
            if let Some(slot) = clamped.get_mut(fault) {
                *slot = weight.only_present();
            }
            rows.push(self.sweep(&clamped).present);
            if let Some(slot) = clamped.get_mut(fault) {
                *slot = *weight;
            }
        }
        Pairs::fill(weights.len(), |i, j| rows.get(i).and_then(|row| row.get(j)).copied().unwrap_or(0.0))
    }
}

impl Bucket {
    fn weight(&self, weights: &[Weight]) -> Weight {
        weights.get(self.fault).copied().unwrap_or(Weight { absent: 1.0, present: 0.0 })
    }

    /// The table with the messages that came in.
    fn table(&self, messages: &[Vec<f64>]) -> Vec<f64> {
        let mut table = self.base.clone();
        for (child, gathered) in &self.children {
            let Some(message) = messages.get(*child) else { continue };
            for (entry, &from) in table.iter_mut().zip(gathered) {
                *entry *= message.get(from as usize).copied().unwrap_or(0.0);
            }
        }
        table
    }

    fn sum_out(&self, table: &[f64], weights: &[Weight]) -> Vec<f64> {
        let weight = self.weight(weights);
        table.as_chunks::<2>().0.iter().map(|[absent, with]| weight.absent * absent + weight.present * with).collect()
    }
}
