//! What the report is about: the car, the day, the use, and how far one looked.

use super::super::Case;
use super::super::document::{Align, Document, Table};
use super::super::found::{Found, by_system};
use super::super::words::{and, count, sentence, within};
use crate::phrase;
use crate::sheet::{System, TagGroup};
use crate::units::Quantity;
use crate::worksheet::{Purpose, WhyNot};

fn or_not_given(case: Case<'_>, text: &str) -> String {
    let text = text.trim();
    if text.is_empty() { case.show.word("not given").to_owned() } else { text.to_owned() }
}

/// The car.
pub fn identity(document: &mut Document, case: Case<'_>) {
    let Case { worksheet, sheet, appraisal, show } = case;
    let car = &worksheet.car;
    document.part("The car");
    let year = car.year.read().map(ToString::to_string).unwrap_or_default();
    let mileage = car.mileage.value().map(|mileage| show.quantity(Quantity::Distance, mileage.0)).unwrap_or_default();
    let author = sheet.author.trim();
    let sheet_name = if author.is_empty() { sheet.name.clone() } else { format!("{} ({author})", sheet.name) };
    let built = TagGroup::ALL.into_iter().filter_map(|group| {
        let tags = appraisal.tags.iter().filter(|tag| tag.group() == group);
        let tags: Vec<String> = tags.map(|tag| within(case.show, tag.name())).collect();
        (!tags.is_empty()).then(|| format!("{}: {}", within(case.show, group.name()), and(show, &tags)))
    });
    document.facts(vec![
        ("Maker", or_not_given(case, &car.maker)),
        ("Model and body", or_not_given(case, &car.model)),
        ("Year made", or_not_given(case, &year)),
        ("Registration mark", or_not_given(case, &car.registration)),
        ("Chassis number, as stamped", or_not_given(case, &car.chassis_number)),
        ("Engine number, as stamped", or_not_given(case, &car.engine_number)),
        ("Colour", or_not_given(case, &car.colour)),
        ("Mileage, as believed", or_not_given(case, &mileage)),
        ("Price asked", car.asked.value().map(|asked| show.whole_money(asked)).unwrap_or_default()),
        ("How it is built", built.collect::<Vec<_>>().join("; ")),
        ("Type sheet", sheet_name),
        ("Note", sentence(&car.note)),
    ]);
}

/// The day, the use and the user.
pub fn occasion(document: &mut Document, case: Case<'_>) {
    let visit = &case.worksheet.visit;
    document.part("Day, purpose and user");
    let day = visit.date.value().map(|date| case.show.date(date)).unwrap_or_default();
    let by = visit.by.trim();
    let user = match (visit.on_behalf_of.trim(), by) {
        ("", "") => case.show.word("not given").to_owned(),
        ("", by) => by.to_owned(),
        (user, _) => user.to_owned(),
    };
    let purpose = match visit.purpose {
        Purpose::Buying => "to decide whether, and at what price, to buy the car",
        Purpose::Selling => "to offer the car for sale with its faults declared",
        Purpose::Appraising => "to give the user named here an opinion of condition and worth",
    };
    document.facts(vec![
        ("Day looked at, and day of valuation", or_not_given(case, &day)),
        ("Place", or_not_given(case, &visit.place)),
        ("Looked at by", or_not_given(case, by)),
        ("Intended user", user),
        ("Purpose", case.show.word(purpose).to_owned()),
        (
            "Interest valued",
            case.show.word("the whole car with a clear title, and what is recorded as belonging to it").to_owned(),
        ),
    ]);
    document.paragraph(
        "The view is of the car as it stood on that day. Nobody but the intended user should rely on this report, and \
         nobody should use it for another purpose.",
    );
}

/// What was and was not looked at, and why.
pub fn scope(document: &mut Document, case: Case<'_>, all: &[Found<'_>]) {
    let condition = &case.appraisal.condition;
    document.part("What was and was not looked at");
    let overall = &condition.overall;
    document.paragraph(phrase!("Of {0} that apply to this car, {1} made. Weighted by how much each counts, that is a cover of {2}. Nothing was \
         taken apart unless a note says so.", count(overall.of, "{0} check", "{0} checks"), count(overall.made, "{0} was", "{0} were"), case.show.share(overall.cover)));
    let mut table = Table::of(
        "Cover by system",
        &[("System", Align::Start), ("Checks made", Align::End), ("Of", Align::End), ("Cover", Align::End)],
    );
    for system in &condition.systems {
        let score = &system.score;
        let cells = [score.made.to_string(), score.of.to_string(), case.show.share(score.cover)];
        table.rows.push(core::iter::once(case.show.word(system.system.name()).to_owned()).chain(cells).collect());
    }
    document.table(table);
    let reasoned: Vec<&Found<'_>> = all.iter().filter(|found| found.why_not().is_some()).collect();
    if !reasoned.is_empty() {
        document.section("Not looked at, with the reason");
        let point = |found: &&Found<'_>| {
            let why = case.show.word(found.why_not().map_or("", WhyNot::name));
            format!("{}: {why}. {}", found.check.name, found.note()).trim_end().to_owned()
        };
        document.list(reasoned.iter().map(point).collect());
    }
    if overall.made == 0 {
        return;
    }
    let silent: usize = silent(all).iter().map(|(_, of)| of.len()).sum();
    if silent > 0 {
        document.paragraph(phrase!(
            "{0} not made and no reason was recorded; the end of this report names them.",
            count(silent, "{0} check was", "{0} checks were")
        ));
    }
}

/// Checks that were not made, without a reason.
fn silent<'f, 'a>(all: &'f [Found<'a>]) -> Vec<(System, Vec<&'f Found<'a>>)> {
    by_system(all, |found| found.is_unseen() && found.why_not().is_none())
}

/// The same by name, at the end, where their number does not bury what was found.
pub fn unmade(document: &mut Document, case: Case<'_>, all: &[Found<'_>]) {
    let silent = silent(all);
    if silent.is_empty() || all.iter().all(|found| found.grade().is_none()) {
        return;
    }
    document.part("Checks that were not made, no reason recorded");
    let names = |of: &[&Found<'_>]| of.iter().map(|found| &*found.check.name).collect::<Vec<_>>().join("; ");
    document
        .list(silent.iter().map(|(system, of)| format!("{}: {}", case.show.word(system.name()), names(of))).collect());
}
