//! Marking a finding: what one tap on a grade, a sign or a reason does.

use super::{Finding, Look, Seen, WhyNot};
use crate::grade::Grade;
use crate::sheet::Sign;

impl Finding {
    /// Gives a grade; the grade that it has already is taken back.
    pub fn press_grade(&mut self, grade: Grade) {
        self.look = if self.grade() == Some(grade) { None } else { Some(Look::Grade(grade)) };
    }

    /// Says why the check was not made; nothing takes the reason back and leaves a grade as it is.
    pub fn not_looked(&mut self, why: Option<WhyNot>) {
        match (why, self.look) {
            (Some(why), _) => self.look = Some(Look::NotLooked(why)),
            (None, Some(Look::NotLooked(_))) => self.look = None,
            (None, _) => {}
        }
    }

    /// Marks a sign, or takes back the mark that it has already.
    ///
    /// A sign that is there also gives its usual grade where the check has none yet or is graded right, which it
    /// then is not; taking back the last such sign takes back the grade that it gave, so that a slip of the thumb
    /// is undone by a second tap.
    pub fn press_sign(&mut self, sign: &Sign, seen: Seen) {
        let was = self.signs.get(&sign.id).copied();
        if was == Some(seen) {
            self.signs.remove(&sign.id);
        } else {
            self.signs.insert(sign.id.clone(), seen);
        }
        let is_there = self.signs.get(&sign.id) == Some(&Seen::Yes);
        if is_there {
            if self.grade().is_none_or(|grade| grade == Grade::Right) {
                self.look = Some(Look::Grade(sign.grade));
            }
        } else if was == Some(Seen::Yes) {
            let others = self.signs.values().any(|seen| *seen == Seen::Yes);
            if !others && self.grade() == Some(sign.grade) {
                self.look = None;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sign(id: &str, grade: Grade) -> Sign {
        Sign { id: id.to_owned(), name: id.to_owned(), leak: 0.01, grade, is_unsafe: false }
    }

    /// Presses signs one after another and gives the grade after each.
    #[track_caller]
    fn pressed(begin: Option<Look>, presses: &[(&str, Grade, Seen)], want: &[Option<Grade>]) {
        let mut finding = Finding { look: begin, ..Finding::default() };
        let grades: Vec<Option<Grade>> = presses
            .iter()
            .map(|(id, grade, seen)| {
                finding.press_sign(&sign(id, *grade), *seen);
                finding.grade()
            })
            .collect();
        assert_eq!(grades, want);
    }

    #[test]
    fn a_sign_gives_its_usual_grade_where_there_is_none() {
        use Grade::{Failed, Moderate, Serious};
        let yes = Seen::Yes;
        pressed(None, &[("rust", Serious, yes)], &[Some(Serious)]);
        pressed(Some(Look::NotLooked(WhyNot::NoTime)), &[("rust", Serious, yes)], &[Some(Serious)]);
        pressed(Some(Look::Grade(Grade::Right)), &[("rust", Serious, yes)], &[Some(Serious)]);
        pressed(Some(Look::Grade(Moderate)), &[("rust", Failed, yes)], &[Some(Moderate)]);
        pressed(None, &[("rust", Serious, Seen::Unsure)], &[None]);
        pressed(None, &[("rust", Serious, Seen::No)], &[None]);
    }

    #[test]
    fn a_second_tap_undoes_a_slip() {
        use Grade::{Moderate, Serious};
        let yes = Seen::Yes;
        pressed(None, &[("rust", Serious, yes), ("rust", Serious, yes)], &[Some(Serious), None]);
        pressed(None, &[("rust", Serious, yes), ("rust", Serious, Seen::Unsure)], &[Some(Serious), None]);
        // The grade that the person gave stays.
        pressed(
            Some(Look::Grade(Moderate)),
            &[("rust", Serious, yes), ("rust", Serious, yes)],
            &[Some(Moderate), Some(Moderate)],
        );
        // While another sign is there, the check is graded.
        pressed(
            None,
            &[("rust", Serious, yes), ("hole", Serious, yes), ("rust", Serious, yes)],
            &[Some(Serious), Some(Serious), Some(Serious)],
        );
    }

    #[test]
    fn a_grade_and_a_reason_take_each_others_place() {
        let mut finding = Finding::default();
        finding.press_grade(Grade::Slight);
        finding.not_looked(None);
        assert_eq!(finding.grade(), Some(Grade::Slight));
        finding.not_looked(Some(WhyNot::NoAccess));
        assert_eq!(finding.look, Some(Look::NotLooked(WhyNot::NoAccess)));
        finding.not_looked(None);
        assert_eq!(finding.look, None);
        finding.press_grade(Grade::Right);
        finding.press_grade(Grade::Right);
        assert!(finding.is_blank());
    }
}
