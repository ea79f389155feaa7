//! In which order to eliminate the faults of a component: greedily, least fill first.
//!
//! Eliminating a fault makes a table over it and the faults that it then meets; the order decides how large the
//! tables grow. The best order is hard to find (NP-hard); taking each time the fault whose neighbours need the
//! fewest new links among themselves, ties to the fewer neighbours and then to the lower index, is the usual
//! rule and does well on networks that are nearly trees, as those of a car are.

use crate::ordered;

/// Eliminate `fault`; its table also spans the faults that it `meets`, in the order of their own elimination.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Step {
    pub fault: usize,
    pub meets: Vec<usize>,
}

/// A full order and the entries of all its tables together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Order {
    pub steps: Vec<Step>,
    pub entries: usize,
}

impl Order {
    /// The faults of the largest table.
    pub fn largest(&self) -> Vec<usize> {
        let mut crowd = Vec::new();
        for step in &self.steps {
            if step.meets.len() + 1 > crowd.len() {
                crowd = step.meets.clone();
                crowd.push(step.fault);
            }
        }
        crowd
    }
}

struct Graph {
    size: usize,
    linked: Vec<bool>,
    neighbours: Vec<Vec<usize>>,
}

impl Graph {
    fn linked(&self, a: usize, b: usize) -> bool {
        self.linked.get(a * self.size + b).copied().unwrap_or(false)
    }

    fn link(&mut self, a: usize, b: usize) {
        if a == b || self.linked(a, b) {
            return;
        }
        for (from, to) in [(a, b), (b, a)] {
            if let Some(cell) = self.linked.get_mut(from * self.size + to) {
                *cell = true;
            }
            if let Some(list) = self.neighbours.get_mut(from) {
                list.push(to);
            }
        }
    }

    fn neighbours(&self, fault: usize) -> &[usize] {
        self.neighbours.get(fault).map_or(&[], Vec::as_slice)
    }

    /// Links missing among the neighbours, and how many neighbours; `None` if they are too many for a table.
    fn cost(&self, fault: usize, most_faults: usize) -> Option<(usize, usize)> {
        let around = self.neighbours(fault);
        if around.len() >= most_faults {
            return None;
        }
        let mut missing = 0;
        for (place, &a) in around.iter().enumerate() {
            missing += around.iter().skip(place + 1).filter(|&&b| !self.linked(a, b)).count();
        }
        Some((missing, around.len()))
    }

    fn remove(&mut self, fault: usize) -> Vec<usize> {
        let around = self.neighbours.get_mut(fault).map(core::mem::take).unwrap_or_default();
        for &other in &around {
            if let Some(list) = self.neighbours.get_mut(other) {
                list.retain(|&known| known != fault);
            }
        }
        around
    }
}

/// Orders the faults `0..size` that meet in the given `scopes`. No table may span more than `most_faults`.
///
/// # Errors
/// If every way on passes `most_faults`: the faults that crowd together where the least crowded one is, or a scope that
/// passes it by itself.
pub(super) fn greedy(size: usize, scopes: &[Vec<usize>], most_faults: usize) -> Result<Order, Vec<usize>> {
    // All of a scope meet in one table, whatever the order: told before the square of it is linked.
    if let Some(scope) = scopes.iter().find(|scope| scope.len() > most_faults) {
        return Err(scope.clone());
    }
    let mut graph = Graph { size, linked: vec![false; size * size], neighbours: vec![Vec::new(); size] };
    for scope in scopes {
        for (place, &a) in scope.iter().enumerate() {
            for &b in scope.iter().skip(place + 1) {
                graph.link(a, b);
            }
        }
    }
    let mut left: Vec<(usize, Option<(usize, usize)>)> =
        (0..size).map(|fault| (fault, graph.cost(fault, most_faults))).collect();
    let mut steps: Vec<Step> = Vec::with_capacity(size);
    while !left.is_empty() {
        let next = left.iter().filter_map(|&(fault, cost)| cost.map(|cost| (cost, fault))).min();
        let Some((_, fault)) = next else {
            let crowded = left.iter().map(|&(fault, _)| fault).min_by_key(|&fault| graph.neighbours(fault).len());
            return Err(crowded.map_or(Vec::new(), |fault| {
                let mut crowd = graph.neighbours(fault).to_vec();
                crowd.push(fault);
                crowd
            }));
        };
        let meets = graph.remove(fault);
        for (place, &a) in meets.iter().enumerate() {
            for &b in meets.iter().skip(place + 1) {
                graph.link(a, b);
            }
        }
        left.retain(|&(other, _)| other != fault);
        // Only the neighbours and whoever has two of them as neighbours can have changed.
        for (other, cost) in &mut left {
            if meets.contains(other) || meets.iter().any(|&near| graph.linked(near, *other)) {
                *cost = graph.cost(*other, most_faults);
            }
        }
        steps.push(Step { fault, meets });
    }
    let mut position = vec![0; size];
    for (place, step) in steps.iter().enumerate() {
        if let Some(slot) = position.get_mut(step.fault) {
            *slot = place;
        }
    }
    let mut entries = 0_usize;
    for step in &mut steps {
        ordered::sort(&mut step.meets, |&a, &b| position.get(a).cmp(&position.get(b)));
        entries = entries.saturating_add(1_usize.checked_shl(step.meets.len() as u32 + 1).unwrap_or(usize::MAX));
    }
    Ok(Order { steps, entries })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_chain_needs_tables_of_two() {
        let links: Vec<Vec<usize>> = (0..9).map(|place| vec![place, place + 1]).collect();
        let order = greedy(10, &links, 16).unwrap();
        assert_eq!(order.entries, 9 * 4 + 2);
        assert_eq!(order.largest().len(), 2);
    }

    #[test]
    fn a_ring_needs_tables_of_three() {
        let links: Vec<Vec<usize>> = (0..8).map(|place| vec![place, (place + 1) % 8]).collect();
        let order = greedy(8, &links, 16).unwrap();
        assert_eq!(order.largest().len(), 3);
        for step in &order.steps {
            let later = order.steps.iter().skip_while(|other| *other != step).skip(1);
            let later: Vec<usize> = later.map(|other| other.fault).collect();
            assert!(step.meets.iter().all(|fault| later.contains(fault)), "{step:?}");
        }
    }

    #[test]
    fn a_crowd_is_refused_and_named() {
        let crowd: Vec<usize> = (0..6).collect();
        let refused = greedy(7, &[crowd.clone(), vec![5, 6]], 4).unwrap_err();
        let mut named = refused.clone();
        named.sort_unstable();
        assert_eq!(named, crowd, "the pair is eliminated first, then nothing fits");
    }
}
