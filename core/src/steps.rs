//! Steps back and forth through what a person changed, whatever it is that they changed.
//!
//! What is changed is known here by its JSON. A step is the one stretch in which the texts before and after differ, so it
//! is as small as what was typed, is stored as it is, and fits on nothing but the text that it was taken from.

use serde::Serialize;

use crate::restore::record;

/// Most steps in one direction; the oldest go first.
pub const MOST_STEPS: usize = 100;

/// Most bytes of all steps together, so that they never take the room of what they are steps of.
pub const MOST_BYTES: usize = 200_000;

/// One step: at a place of the text, this stretch becomes that one.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
struct Step {
    at: u32,
    from: String,
    to: String,
}

record! { Step { at, from, to } }

impl Step {
    /// What leads from one text to another; nothing if they are the same.
    fn between(from: &str, to: &str) -> Option<Self> {
        if from == to {
            return None;
        }
        let begins = |(a, b): &(char, char)| a == b;
        let at: usize = from.chars().zip(to.chars()).take_while(begins).map(|(sign, _)| sign.len_utf8()).sum();
        let (from, to) = (from.get(at..)?, to.get(at..)?);
        let same: usize =
            from.chars().rev().zip(to.chars().rev()).take_while(begins).map(|(sign, _)| sign.len_utf8()).sum();
        let cut = |text: &str| text.get(..text.len() - same).map(ToOwned::to_owned);
        Some(Self { at: at.try_into().ok()?, from: cut(from)?, to: cut(to)? })
    }

    /// The text after the step; nothing if the text before it is another one.
    fn apply(&self, text: &str) -> Option<String> {
        let (before, rest) = text.split_at_checked(usize::try_from(self.at).ok()?)?;
        let after = rest.strip_prefix(self.from.as_str())?;
        Some([before, &self.to, after].concat())
    }

    fn turned(self) -> Self {
        Self { at: self.at, from: self.to, to: self.from }
    }

    fn bytes(&self) -> usize {
        self.from.len() + self.to.len()
    }
}

/// Steps back and forth.
///
/// ```
/// use kerbworth_core::steps::Steps;
/// let mut steps = Steps::default();
/// steps.begin("rus".into());
/// assert_eq!(steps.back("rust"), Some("rus".into()));
/// assert_eq!(steps.forth("rus"), Some("rust".into()));
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Steps {
    back: Vec<Step>,
    forth: Vec<Step>,
    /// The text as it was when the step began that may still grow.
    #[serde(skip)]
    begun: Option<String>,
}

record! { Steps { back, forth } without { begun } }

impl Steps {
    /// How many there are back and forth.
    #[must_use]
    pub fn can(&self) -> (usize, usize) {
        (self.back.len() + usize::from(self.begun.is_some()), self.forth.len())
    }

    /// A step begins: the text as it is before it. It grows with every change until the next one begins or one is gone.
    pub fn begin(&mut self, text: String) {
        self.end(&text);
        self.forth.clear();
        self.begun = Some(text);
    }

    /// The step that may still grow ends with this text.
    pub fn end(&mut self, text: &str) {
        self.back.extend(self.begun.take().and_then(|from| Step::between(&from, text)).map(Step::turned));
        let mut bytes: usize = self.back.iter().chain(&self.forth).map(Step::bytes).sum();
        // The last one is always kept: a person who clears everything can have it back.
        while self.back.len() > MOST_STEPS || bytes > MOST_BYTES && self.back.len() > 1 {
            bytes -= self.back.remove(0).bytes();
        }
    }

    /// The text a step before this one. Nothing, and no steps from then on, if they are not steps of this text.
    pub fn back(&mut self, text: &str) -> Option<String> {
        self.end(text);
        let step = self.back.pop()?;
        let gone = step.apply(text);
        self.forth.push(step.turned());
        self.unless_lost(gone)
    }

    /// The text a step after this one, as [`Steps::back`].
    pub fn forth(&mut self, text: &str) -> Option<String> {
        self.end(text);
        let step = self.forth.pop()?;
        let gone = step.apply(text);
        self.back.push(step.turned());
        self.unless_lost(gone)
    }

    fn unless_lost(&mut self, gone: Option<String>) -> Option<String> {
        if gone.is_none() {
            *self = Self::default();
        }
        gone
    }

    /// Whether a step can bring these words back.
    #[must_use]
    pub fn hold(&self, words: &str) -> bool {
        let texts = self.back.iter().chain(&self.forth).map(|step| &step.to);
        texts.chain(&self.begun).any(|text| text.contains(words))
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::restore::restore;

    /// Through all of these texts, each a step.
    fn through<'a>(texts: impl IntoIterator<Item = &'a str>) -> (Steps, &'a str) {
        let mut steps = Steps::default();
        let mut now = "";
        for text in texts {
            steps.begin(now.to_owned());
            now = text;
        }
        (steps, now)
    }

    #[test]
    fn a_step_is_as_small_as_what_differs() {
        for (from, to, want) in [
            ("grey", "grey", None),
            ("rus", "rust", Some((3, "", "t"))),
            ("a hole in it", "a big hole in it", Some((2, "", "big "))),
            ("aa", "aaa", Some((2, "", "a"))),
            ("£9", "€9", Some((0, "£", "€"))),
            ("sills: rust", "", Some((0, "sills: rust", ""))),
        ] {
            let want = want.map(|(at, from, to): (_, &str, &str)| Step { at, from: from.into(), to: to.into() });
            assert_eq!(Step::between(from, to), want, "{from} to {to}");
        }
    }

    #[test]
    fn what_grows_is_one_step_and_a_change_takes_away_what_was_undone() {
        let (mut steps, _) = through(["maker", "maker model"]);
        assert_eq!(steps.can(), (2, 0));
        assert_eq!(steps.back("maker model and body").as_deref(), Some("maker"));
        assert_eq!(steps.can(), (1, 1));
        steps.begin("maker".into());
        assert_eq!(steps.can(), (2, 0));
        assert_eq!(steps.forth("other"), None);
    }

    #[test]
    fn a_change_of_nothing_is_no_step() {
        let (mut steps, now) = through(["maker", "maker"]);
        assert_eq!(steps.back(now).as_deref(), Some(""));
    }

    #[test]
    fn a_hundred_are_kept_and_the_oldest_go() {
        let texts: Vec<String> = (0..150).map(|at| format!("line {at}")).collect();
        let (mut steps, now) = through(texts.iter().map(String::as_str));
        let mut now = now.to_owned();
        let mut count = 0;
        while let Some(before) = steps.back(&now) {
            (now, count) = (before, count + 1);
        }
        assert_eq!((now.as_str(), count), ("line 49", MOST_STEPS));
    }

    #[test]
    fn they_are_bounded_in_bytes_but_for_the_last() {
        let (long, longer) = ("x".repeat(MOST_BYTES / 2 - 9), "y".repeat(2 * MOST_BYTES));
        let (mut steps, now) = through(["a", &long, "b", &long, "c"]);
        steps.end(now);
        assert_eq!(steps.can().0, 2);
        let (mut steps, now) = through(["a", &longer]);
        assert_eq!(steps.back(now).as_deref(), Some("a"));
    }

    #[test]
    fn they_fit_on_no_other_text() {
        let (mut steps, _) = through(["maker", "maker model"]);
        assert_eq!(steps.back("maker model").as_deref(), Some("maker"));
        assert_eq!(steps.back("made"), None);
        assert_eq!(steps.can(), (0, 0));
    }

    #[test]
    fn what_they_can_bring_back_is_known() {
        let (mut steps, now) = through(["photo-7", ""]);
        assert!(steps.hold("photo-7"));
        steps.end(now);
        assert!(steps.hold("photo-7") && !steps.hold("photo-8"));
    }

    proptest! {
        #[test]
        fn all_the_way_back_and_forth_again_even_when_stored(texts in prop::collection::vec("[aé\u{1F697}]{0,6}", 0..20)) {
            let (mut steps, now) = through(texts.iter().map(String::as_str));
            let mut now = now.to_owned();
            let end = now.clone();
            let mut passed = Vec::new();
            while let Some(before) = steps.back(&now) {
                passed.push(now);
                now = before;
                let stored = serde_json::to_string(&steps).expect("steps are plain data");
                let (again, unread) = restore::<Steps>(&stored, 1).expect("what is stored is read");
                prop_assert_eq!(&again, &steps);
                prop_assert_eq!(unread, []);
            }
            prop_assert_eq!(&now, "");
            let (steps, _) = through(texts.iter().map(String::as_str));
            let mut steps = steps;
            let mut now = end.clone();
            for _ in &passed { now = steps.back(&now).expect("there were so many"); }
            while let Some(then) = passed.pop() {
                now = steps.forth(&now).expect("as many forth as back");
                prop_assert_eq!(&now, &then);
            }
            prop_assert_eq!(now, end);
        }
    }
}
