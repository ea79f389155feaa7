//! The bargaining sheet: what a buyer keeps in the pocket.
//!
//! Three figures for the whole outlay, each by a rule that the sheet states. *Walk-away*: the limit that the settings'
//! margin sets between the middle of the worth and its low end. *Opening*: the low end of the 80 % range, rounded as the
//! worth is, and never above the walk-away. *Aim*: halfway between them. Where the settings name fees or transport, each is
//! also given as the highest bid, or price to the seller, whose whole outlay keeps within it.

use super::Case;
use super::document::{Align, Block, Document, Table};
use super::found::{Found, found, names};
use super::report::{certainty, driving_in_words, hold_in_words, worth_in_words};
use super::words::{count, sentence};
use crate::appraise::buying::{self, TopBid};
use crate::appraise::repairs::{Repair, Work};
use crate::appraise::valuation::Worth;
use crate::bid::FeesError;
use crate::market::range::Range;
use crate::ordered;
use crate::units::Money;
use crate::worksheet::{Entry, SaleFees, Settings};
use crate::{phrase, say};

/// Faults listed, at most.
const MOST_LISTED: usize = 12;

/// The general sheet's check of the registers of finance and theft.
const REGISTERS: &str = "papers-registers";

/// Unmade checks listed, at most.
const MOST_UNSEEN: usize = 6;

/// The three figures, as whole outlays in the worksheet's currency.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Figures {
    /// Where to begin.
    pub opening: Money,
    /// Where to end, if it goes well.
    pub aim: Money,
    /// Where to stop.
    pub walk_away: Money,
}

impl Figures {
    /// By the rules that the module's page states.
    ///
    /// ```
    /// use kerbworth_core::hand_over::bargaining::Figures;
    /// use kerbworth_core::units::Money;
    /// let figures = Figures::of(Money(1_060_000), Money(1_284_834));
    /// assert_eq!(figures.aim, Money(1_172_417));
    /// // A buyer who will pay no more than the low end has one figure only.
    /// assert_eq!(Figures::of(Money(1_060_000), Money(1_050_000)).opening, Money(1_050_000));
    /// ```
    #[must_use]
    pub fn of(low_end: Money, limit: Money) -> Self {
        let opening = low_end.min(limit);
        let aim = Money(opening.0.midpoint(limit.0));
        Self { opening, aim, walk_away: limit }
    }
}

/// The bargaining sheet.
#[must_use]
pub fn bargaining(case: Case<'_>) -> Document {
    let mut document = Document::titled(
        phrase!("Bargaining sheet: {0}", case.show.word(&case.worksheet.title()).to_owned()),
        case.show,
    );
    document.paragraph("For the buyer's own pocket. An opinion on the day, not a certificate.");
    let visit = &case.worksheet.visit;
    let day = visit.date.value().map(|date| case.show.date(date)).unwrap_or_default();
    document.facts(vec![
        ("Day", day),
        ("Place", visit.place.trim().to_owned()),
        ("Registration mark", case.worksheet.car.registration.trim().to_owned()),
        ("Chassis number, as stamped", case.worksheet.car.chassis_number.trim().to_owned()),
    ]);
    figures(&mut document, case);
    before_anything(&mut document, case);
    let all = found(case);
    faults(&mut document, case, &all);
    unseen(&mut document, case);
    document
}

fn figures(document: &mut Document, case: Case<'_>) {
    let Case { worksheet, appraisal, .. } = case;
    document.part("Figures");
    let (Some(worth), Some(bid)) = (&appraisal.worth, &appraisal.top_bid) else {
        document.paragraph(phrase!("There are no figures, since the worth is {0}.", worth_in_words(case)));
        return;
    };
    document.facts(vec![("Worth as it stands", worth_in_words(case))]);
    let bid = match bid {
        Ok(bid) => bid,
        Err(error) => {
            document.paragraph(phrase!("The limit cannot be reckoned: {0}.", error));
            return;
        }
    };
    let figures = Figures::of(worth.rounded.low, bid.limit);
    document.table(table(case, &figures));
    rules(document, case, worth);
    if let Some(asked) = worksheet.car.asked.value() {
        document.paragraph(against_asked(case, asked, &figures));
    }
    if bid.hammer.is_none() {
        document.paragraph("Fees and transport alone leave no room within the walk-away figure: do not bid.");
    } else if has_fees(&worksheet.settings.fees) {
        document.block(Block::Figure(bid.working.clone()));
    }
}

/// Whether anything comes on top of the price.
fn has_fees(fees: &SaleFees) -> bool {
    let nothing = SaleFees { increment: fees.increment.clone(), ..SaleFees::default() };
    *fees != nothing
}

/// The bid, or price to the seller, whose whole outlay keeps within an amount.
fn bid_within(settings: &Settings, outlay: Money) -> Result<TopBid, FeesError> {
    // With no margin the limit is the middle itself.
    let settings = Settings { margin: Entry::Read(0.0), ..settings.clone() };
    let exactly = Range { low: outlay.minor(), middle: outlay.minor(), high: outlay.minor(), cover: 0.8 };
    buying::top_bid(&settings, &exactly)
}

fn price_within(case: Case<'_>, outlay: Money) -> Option<Money> {
    bid_within(&case.worksheet.settings, outlay).ok()?.hammer
}

fn table(case: Case<'_>, figures: &Figures) -> Table {
    let show = case.show;
    let mut heads = vec![("Figure", Align::Start), ("Bid, or price to name", Align::End)];
    let fees = has_fees(&case.worksheet.settings.fees);
    if fees {
        heads.push(("Whole outlay within", Align::End));
    }
    let mut table = Table::of("Opening, aim and walk-away", &heads);
    for (name, outlay) in [("Opening", figures.opening), ("Aim", figures.aim), ("Walk away above", figures.walk_away)] {
        let price = price_within(case, outlay)
            .map_or_else(|| case.show.word("no room").to_owned(), |price| show.whole_money(price));
        let mut row = vec![case.show.word(name).to_owned(), price];
        if fees {
            row.push(show.whole_money(outlay));
        }
        table.rows.push(row);
    }
    table
}

fn rules(document: &mut Document, case: Case<'_>, worth: &Worth) {
    let show = case.show;
    let margin = case.worksheet.settings.margin.value().unwrap_or(crate::bid::USUAL_MARGIN);
    let mut points = vec![
        say!(
            case.show,
            "Walk away: {0} of the way from the middle of the worth down to its low end, the margin that you set.",
            show.share(margin.clamp(0.0, 1.0))
        ),
        say!(
            case.show,
            "Opening: the low end of the worth, {0}; never above the walk-away.",
            show.whole_money(worth.rounded.low)
        ),
        case.show.word("Aim: halfway between the two.").to_owned(),
        case.show.word("Each price is rounded down to a step between bids.").to_owned(),
    ];
    if has_fees(&case.worksheet.settings.fees) {
        points.push(
            case.show.word("The price to name is what leaves the premium, its tax, the charges and the transport inside the outlay.").to_owned(),
        );
    }
    points.push(
        case.show.word("The figures take every fault below into account already, once. Use the faults to explain your price, and do not \
         take them off again.").to_owned(),
    );
    document.list(points);
}

/// How the price asked lies to the figures.
fn against_asked(case: Case<'_>, asked: Money, figures: &Figures) -> String {
    let show = case.show;
    let amount = show.whole_money(asked);
    let price = |outlay| price_within(case, outlay);
    match (price(figures.opening), price(figures.walk_away)) {
        (Some(opening), _) if asked <= opening => say!(
            case.show,
            "The price asked, {0}, is no more than your opening. Ask why, and look again at what was not looked at \
             before you say yes.",
            amount
        ),
        (_, Some(walk_away)) if asked <= walk_away => {
            say!(case.show, "The price asked, {0}, is within your walk-away figure: there is a deal to be had.", amount)
        }
        (_, Some(walk_away)) => say!(
            case.show,
            "The price asked, {0}, is {1} above your walk-away figure. Unless it comes down by that much, leave it.",
            amount,
            show.whole_money(asked - walk_away)
        ),
        (_, None) => String::new(),
    }
}

/// What stands before any talk of money.
fn before_anything(document: &mut Document, case: Case<'_>) {
    let Case { appraisal, worksheet, .. } = case;
    document.part("Before any money moves");
    let mut points = Vec::new();
    if appraisal.holds.is_empty() {
        points.push(sentence(&say!(case.show, "driving: {0}", driving_in_words(case))));
    } else {
        document.caution("Not to be driven until put right: it goes home on a trailer.");
        points.extend(appraisal.holds.iter().map(|hold| hold_in_words(case, hold)));
    }
    let asked = worksheet.findings.get(REGISTERS).is_some_and(|finding| finding.grade().is_some());
    if !asked && case.sheet.check(REGISTERS).is_some() {
        points.push(
            case.show.word("The registers of finance, theft and write-offs in your country have not been asked: do that first.").to_owned(),
        );
    }
    document.list(points);
}

/// What was found, in order of money.
fn faults(document: &mut Document, case: Case<'_>, all: &[Found<'_>]) {
    let show = case.show;
    document.part("Faults, in order of money");
    let raised: Vec<&Repair> =
        case.appraisal.repairs.items.iter().filter(|repair| repair.raised && repair.mean > Money::ZERO).collect();
    if raised.is_empty() {
        document.paragraph("Nothing was found that costs money.");
        return;
    }
    let mut table = Table::of(
        "Faults in order of money",
        &[
            ("To be done", Align::Start),
            ("What shows it", Align::Start),
            ("Needed", Align::End),
            ("Cost, likely", Align::End),
            ("Low to high", Align::End),
        ],
    );
    for repair in raised.iter().take(MOST_LISTED) {
        table.rows.push(vec![
            repair.name.clone(),
            evidence(case, all, repair),
            certainty(case, repair),
            show.whole_money(repair.likely),
            say!(case.show, "{0} to {1}", show.whole_money(repair.low), show.whole_money(repair.high)),
        ]);
    }
    document.table(table);
    let more = raised.len().saturating_sub(MOST_LISTED);
    if more > 0 {
        document.paragraph(phrase!(
            "And {0}; the report lists them.",
            count(more, "{0} smaller or less likely thing", "{0} smaller or less likely things")
        ));
    }
    document.paragraph(
        "The order is by mean cost times how likely the work is needed. Costs are estimates; a written quotation for the dearest \
         of them is worth more than any of these figures.",
    );
}

/// The signs that call for work, and the causes behind it that are confirmed.
fn evidence(case: Case<'_>, all: &[Found<'_>], repair: &Repair) -> String {
    let calls = |jobs: &[String]| match &repair.work {
        Work::Job(id) => jobs.contains(id),
        Work::Access(id) => {
            let shares = |job: &String| case.sheet.job(job).is_some_and(|job| job.access.as_deref() == Some(id));
            jobs.iter().any(shares)
        }
    };
    let behind = |fault: &&crate::sheet::Fault| calls(&fault.jobs);
    let mut said: Vec<String> = Vec::new();
    let mut confirmed: Vec<&crate::sheet::Fault> = Vec::new();
    for fault in all.iter().flat_map(|found| found.confirmed.iter().copied()).filter(behind) {
        if confirmed.iter().all(|known| known.id != fault.id) {
            confirmed.push(fault);
        }
    }
    if !confirmed.is_empty() {
        said.push(say!(case.show, "Confirmed: {0}", names(&confirmed)));
    }
    for found in all {
        let links = |sign: &str| {
            let shows =
                |fault: &crate::sheet::Fault| calls(&fault.jobs) && fault.links.iter().any(|link| link.sign == sign);
            case.sheet.faults.iter().any(shows)
        };
        for (sign, _) in found.seen.iter().filter(|(sign, _)| links(&sign.id)) {
            if !said.contains(&sign.name) {
                said.push(sign.name.clone());
            }
        }
    }
    said.join("\n")
}

/// What nobody has looked at and would move the worth most.
fn unseen(document: &mut Document, case: Case<'_>) {
    let Case { sheet, appraisal, show, .. } = case;
    let mut next: Vec<_> = appraisal.looking.next.iter().filter(|look| look.swing > Money::ZERO).collect();
    ordered::sort(&mut next, |a, b| b.swing.cmp(&a.swing).then_with(|| a.check.cmp(&b.check)));
    document.part("Not looked at, and worth asking about");
    document.paragraph(phrase!("Weighted by what counts, {0} has been looked at. Of the rest, these would move the worth most; the amount is the difference \
         between finding something there and finding nothing.", show.share(appraisal.condition.overall.cover)));
    let points = next.iter().take(MOST_UNSEEN).filter_map(|look| {
        let check = sheet.check(&look.check)?;
        Some(say!(
            case.show,
            "{0}: {1}, {2} to look",
            check.name,
            show.whole_money(look.swing),
            count(libm::ceil(look.minutes) as usize, "{0} minute", "{0} minutes")
        ))
    });
    document.list(points.map(|point| sentence(&point)).collect());
}
