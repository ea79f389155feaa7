//! The gate before the road test in a sentence.

use super::driving::Gate;

impl Gate {
    /// How it stands, and what to do about it.
    #[must_use]
    pub fn sentence(&self) -> &'static str {
        match (self.is_clear(), self.is_open(), self.no_hold) {
            (true, ..) => "Open: the safety checks are made and nothing holds the car.",
            (false, true, _) => {
                "Passed over: the road test is open for the reason written below, and the report shows it."
            }
            (false, false, true) => "Shut: the road test opens when the safety checks are made.",
            (false, false, false) => {
                "Shut: an unsafe car is not driven. It opens when what holds the car is put right."
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn begins(to_make: &[&str], no_hold: bool, passed_over: &str, want: &str) {
        let to_make = to_make.iter().map(|id| (*id).to_owned()).collect();
        let said = Gate { to_make, no_hold, passed_over: passed_over.to_owned() }.sentence();
        assert!(said.starts_with(want), "{said}");
    }

    #[test]
    fn says_how_the_gate_stands() {
        begins(&[], true, "", "Open");
        begins(&[], true, "kept from before", "Open");
        begins(&["brakes"], true, "  ", "Shut: the road test opens");
        begins(&["brakes"], false, "", "Shut: an unsafe car");
        begins(&[], false, "to the trailer, at walking pace", "Passed over");
    }
}
