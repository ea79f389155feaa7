//! What may be bid at an auction that charges a premium by steps, with tax on it: equal to core's to the penny, and to an
//! account made out by hand beside.

use kerbworth_core::units::Money;
use kerbworth_tests::app::{App, THREE_SALES};
use kerbworth_tests::browser::PHONE;

const FEES: [(&str, &str); 6] = [
    ("Tax on the premium", "20"),
    ("Charges of the sale", "95.50"),
    ("Getting the car home", "180"),
    ("Step between bids; empty: 50", "20"),
    ("Margin; empty: 50 %", "40"),
    ("Least premium", "150"),
];

#[test]
fn the_top_bid_leaves_room_for_the_premium_its_tax_and_the_way_home() {
    let app = App::open(PHONE);
    app.begin_dated();
    app.go("Sales");
    THREE_SALES.into_iter().for_each(|sale| app.add_sale(sale));
    app.go("Worth");
    let before = bid(&app);
    assert_eq!(before.all_in, before.hammer, "no fees yet");

    app.shows("No premium is entered");
    app.find("button", "Add a step").click();
    app.find("button", "Add a step").click();
    let first = app.find("group", "Step 1");
    first.field("Rate").fill("17.5");
    app.shows("give each step but the last a rising price up to which it holds");
    first.field("up to a price of").fill("5,000");
    app.find("group", "Step 2").field("Rate").fill("12");
    app.no_longer_shows("give each step but the last");
    for (label, text) in FEES {
        app.field(label).fill(text);
    }
    let after = bid(&app);
    let Account { hammer, all_in, limit } = after;
    assert!(hammer < before.hammer, "the fees come out of the bid");
    assert_eq!(all_in, by_hand(hammer), "core's account is the one made out by hand");
    assert!(all_in <= limit, "the outlay stays within the limit");
    assert!(by_hand(Money(hammer.0 + 2_000)) > limit, "one step more would not");
    app.accessible();

    // The rate of the step that is reached, on the whole price.
    app.field("The rate of the step reached is charged on the whole price").click();
    let whole = bid(&app);
    assert_ne!(whole.hammer, hammer);
    let premium = Money((whole.hammer.0 * 12 + 50) / 100);
    assert_eq!(whole.all_in, with_tax_and_way_home(whole.hammer, premium));
    app.clean();
}

struct Account {
    hammer: Money,
    all_in: Money,
    limit: Money,
}

/// The top bid as core has it, and as the screen shows it.
#[track_caller]
fn bid(app: &App) -> Account {
    let twin = app.twin();
    assert!(twin.appraisal.problems.is_empty(), "{:?}", twin.appraisal.problems);
    let bid = twin.appraisal.top_bid.as_ref().and_then(|bid| bid.as_ref().ok()).expect("there is a top bid");
    let hammer = bid.hammer.expect("a bid is within the limit");
    assert_eq!(app.reads("#top-bid"), twin.money(hammer));
    let (all_in, limit) = (bid.all_in, bid.limit);
    let said = format!(
        "The highest hammer price at which the whole outlay, {}, stays within the limit of {}",
        twin.money(all_in),
        twin.money(limit)
    );
    assert!(app.reads("#top-bid + p").contains(&said), "{}", app.reads("#top-bid + p"));
    Account { hammer, all_in, limit }
}

/// The outlay, in pence: 17.5 % up to 5,000, 12 % above, at least 150; 20 % on that; 95.50 and 180.
fn by_hand(hammer: Money) -> Money {
    let (below, above) = (hammer.0.min(500_000), (hammer.0 - 500_000).max(0));
    // Thousandths of a penny, half up to pence.
    let premium = (below * 175 + above * 120 + 500) / 1000;
    with_tax_and_way_home(hammer, Money(premium.max(15_000)))
}

fn with_tax_and_way_home(hammer: Money, premium: Money) -> Money {
    let tax = (premium.0 * 20 + 50) / 100;
    Money(hammer.0 + premium.0 + tax + 9_550 + 18_000)
}

/// The costs of the type sheet are in pounds. In another currency they count once their rate is given, and not before.
#[test]
fn costs_in_another_currency_wait_for_their_rate() {
    let app = App::open(PHONE);
    app.begin_dated();
    app.go("Worth");
    app.unfold("Price of an hour, and currency");
    app.field("Currency, by its three letters").fill("EUR");
    app.go("Sales");
    THREE_SALES.into_iter().for_each(|sale| app.add_sale(sale));
    app.go("Worth");
    app.shows("There is no worth yet: the type sheet's costs have no rate of exchange.");
    assert!(app.twin().appraisal.worth.is_none());
    app.accessible();
    app.find("button", "Give the rate").click();
    let rate = app.field("What you pay in this worksheet's currency for one GBP");
    app.until("the rate has the focus", || rate.has_focus().then_some(()));
    rate.fill("1.17");
    app.no_longer_shows("There is no worth yet");
    let twin = app.twin();
    assert!(twin.appraisal.worth.is_some());
    twin.is_on_worth_screen(&app);
    app.clean();
}
