//! Worksheets made to measure and to strain: as full as one asks for, the same each time.

use kerbworth_core::grade::Grade;
use kerbworth_core::sheet::{TypeSheet, demo};
use kerbworth_core::units::{Date, Length, Money};
use kerbworth_core::worksheet::{Entry, Finding, Look, Sale, SaleKind, Seen, Worksheet};

/// The demo with so many findings and sales: every third check has a sign seen, the others came out right.
#[must_use]
pub fn full(sheet: &TypeSheet, findings: usize, sales: usize) -> Worksheet {
    let mut worksheet = demo::worksheet().unwrap_or_default();
    worksheet.findings.clear();
    for (place, check) in sheet.checks.iter().take(findings).enumerate() {
        let seen = check.signs.first().filter(|_| place % 3 == 0);
        let finding = Finding {
            look: Some(Look::Grade(seen.map_or(Grade::Right, |sign| sign.grade))),
            signs: seen.map(|sign| (sign.id.clone(), Seen::Yes)).into_iter().collect(),
            note: format!("looked at in the field, number {place}"),
            ..Finding::default()
        };
        worksheet.findings.insert(check.id.clone(), finding);
    }
    let kinds = SaleKind::ALL.into_iter().cycle();
    worksheet.sales = (0..sales).zip(kinds).map(|(place, kind)| sale(place, kind)).collect();
    worksheet
}

fn sale(place: usize, kind: SaleKind) -> Sale {
    // Spread over price, age, mileage and condition without a pattern that the fit could latch on to.
    let step = (place * 37 % 50) as f64;
    let month = u8::try_from(place % 12).unwrap_or_default() + 1;
    Sale {
        id: format!("s{place}"),
        date: Entry::from(Date::new(2025, month, 15)),
        price: Entry::Read(Money::nearest(1_400_000.0 + 21_000.0 * step)),
        kind,
        mileage: Entry::Read(Length(1.0e8 + 3.0e6 * (place * 17 % 50) as f64)),
        condition: Entry::Read(70.0 + (place * 13 % 28) as f64),
        source: format!("sale number {place}"),
        ..Sale::default()
    }
}
