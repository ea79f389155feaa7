//! In the evening: the cars of the day side by side, each figure as core has it.

use kerbworth_core::appraise::side_by_side::{car, lines, systems};
use kerbworth_core::sheet::{demo, extend::extend, general};
use kerbworth_core::worksheet::Worksheet;
use kerbworth_tests::app::App;
use kerbworth_tests::browser::PHONE;
use kerbworth_tests::twin::Twin;
use kerbworth_tests::worksheets::full;
use serde_json::Value;

#[test]
fn three_cars_side_by_side_show_the_figures_that_core_has() {
    let app = App::open(PHONE);
    let sheet = extend(&general::general().expect("the general sheet"), &demo::curlew().expect("the demonstration's"));
    let named = |model: &str, worksheet: Worksheet| {
        let mut worksheet = worksheet;
        worksheet.car.model = model.into();
        worksheet
    };
    for worksheet in [
        named("Curlew, the red one", demo::worksheet().expect("the demonstration")),
        named("Curlew, looked at in haste", full(&sheet, 12, 4)),
        named("Curlew, looked at with care", full(&sheet, 120, 30)),
    ] {
        app.open_worksheet(&worksheet);
        app.saved();
        app.to_shelf();
    }
    app.find("link", "Compare worksheets").click();
    app.at("Compare");

    let twins: Vec<Twin> = on_the_shelf(&app).iter().map(|id| Twin::of(&app, id)).collect();
    assert_eq!(twins.len(), 3);
    let cars: Vec<_> = twins.iter().map(|twin| car(&twin.worksheet, &twin.appraisal)).collect();
    let show = &twins[0].show;
    let names = std::iter::once(String::new()).chain(cars.iter().map(|car| car.title.clone()));
    let mut wanted: Vec<Vec<String>> = vec![names.collect()];
    wanted.extend(lines(&cars, show).into_iter().map(|line| [vec![line.label.to_owned()], line.cells].concat()));
    wanted.push(vec!["Score by system, furthest apart first".into()]);
    let score = |score: &Option<f64>| score.map_or("not looked at".to_owned(), |score| show.number(score, 0));
    wanted.extend(
        systems(&cars)
            .into_iter()
            .map(|line| std::iter::once(line.system.name().to_owned()).chain(line.scores.iter().map(score)).collect()),
    );
    assert_eq!(app.table(".beside table"), wanted);
    app.accessible();

    // Without the last, and on to the first.
    app.field(&format!("{} {}", cars[2].title, about(&twins[2]))).click();
    app.until("two are left", || (app.table(".beside table")[0].len() == 3).then_some(()));
    app.find("link", &cars[0].title).click();
    app.at("Worth");
    Twin::of(&app, &cars[0].id).is_on_worth_screen(&app);
    app.clean();
}

/// Ids of the worksheets on the shelf, in its order.
fn on_the_shelf(app: &App) -> Vec<String> {
    let shelf: Value = serde_json::from_str(&app.stored("kerbworth/shelf").expect("there is a shelf")).expect("JSON");
    let cards = shelf.pointer("/body/cards").and_then(Value::as_array).cloned().unwrap_or_default();
    cards.iter().filter_map(|card| card.get("id")?.as_str().map(ToOwned::to_owned)).collect()
}

/// Day and place, as the choice says them.
fn about(twin: &Twin) -> String {
    let day = twin.worksheet.visit.date.value().map(|date| twin.show.date(date));
    let place = Some(twin.worksheet.visit.place.clone()).filter(|place| !place.is_empty());
    day.into_iter().chain(place).collect::<Vec<_>>().join(" · ")
}
