//! The browser of these tests against pages made to be found fault with: a check that could not fail would prove nothing.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;

use kerbworth_tests::browser::{A4, Browser, DARK, Key, LIGHT, PHONE};
use kerbworth_tests::host::Host;

const FORM: &str = r#"<!doctype html><html lang="en"><head><title>Form</title>
<meta name="viewport" content="width=device-width">
<style>
  body { margin: 0 0 5rem; background: #fff; color: #111 }
  @media (prefers-color-scheme: dark) { p { color: #ddd } }
  .strip { position: fixed; inset: auto 0 0; block-size: 5rem; background: #eee }
  .space { block-size: 200vh }
</style></head><body><main>
<h1>Form</h1>
<label for="miles">Counter</label> <input id="miles" value="12" aria-describedby="hint"> <span id="hint">as it reads</span>
<label>Kind <select id="kind"><option value="a">auction hammer</option><option value="p">private</option></select></label>
<label><input type="checkbox" id="seen"> Looked at</label>
<p>The counter reads <output id="shown">12</output>, sold <output id="sold">auction hammer</output></p>
<div class="space"></div>
<button type="button" id="far">Far down</button>
<p id="note" hidden>Pressed</p>
</main><div class="strip">Worth</div>
<script>
  const id = (name) => document.getElementById(name);
  id("miles").addEventListener("input", () => { id("shown").value = id("miles").value; localStorage.setItem("miles", id("miles").value) });
  id("kind").addEventListener("change", () => { id("sold").value = id("kind").selectedOptions[0].label });
  id("far").addEventListener("click", () => setTimeout(() => { id("note").hidden = false }, 300));
  if (localStorage.getItem("miles")) id("miles").value = localStorage.getItem("miles");
</script></body></html>"#;

#[test]
fn finds_and_acts_as_a_person_would() {
    let (host, mut browser) = page(FORM);
    browser.screen(PHONE);
    browser.visit("page.html");
    let counter = browser.field("Counter");
    assert_eq!((counter.value(), counter.described()), ("12".into(), "as it reads".into()));
    counter.fill("61,240");
    assert_eq!(counter.value(), "61,240");
    browser.shows("The counter reads 61,240");
    browser.field("Kind").choose("private");
    browser.shows("sold private");

    browser.tab_to("checkbox", "Looked at");
    browser.press(Key::Space);
    assert!(browser.field("Looked at").is_checked());

    // Under a strip that stays at the bottom of the window, and with an answer that takes its time.
    browser.find("button", "Far down").click();
    browser.shows("Pressed");

    assert!(browser.print(A4).starts_with(b"%PDF"));

    browser.restart();
    browser.visit("page.html");
    assert_eq!(browser.stored("miles").as_deref(), Some("61,240"), "what was stored outlives the browser");
    drop(host);
}

#[test]
fn says_what_was_there_instead() {
    let (_host, browser) = page(FORM);
    browser.visit("page.html");
    browser.find("button", "Far down");
    let told = complaint(|| browser.field("Kind").choose("barter"));
    assert!(told.contains("auction hammer | private"), "{told}");
}

#[test]
fn hears_of_foreign_requests_and_complaints() {
    let elsewhere = Host::of(Path::new(env!("CARGO_MANIFEST_DIR")));
    let markup = format!(
        "<!doctype html><html lang=en><title>Asks</title><img alt=x src='{}/absent.png'><script>console.error('oh')</script>",
        elsewhere.origin()
    );
    let (_host, browser) = page(&markup);
    browser.visit("page.html");
    let told = complaint(|| browser.asks_nobody_else());
    assert!(told.contains("/absent.png"), "{told}");
    assert!(browser.console().iter().any(|line| line.contains("oh")), "{:?}", browser.console());
    assert!(complaint(|| browser.clean()).contains("the console has"));
}

#[test]
fn sees_broken_accessibility_in_one_scheme_alone() {
    let (_host, browser) = page(FORM);
    browser.visit("page.html");
    browser.prefer(LIGHT);
    assert!(!ids(&browser).contains(&"color-contrast".to_owned()), "{:?}", ids(&browser));
    browser.prefer(DARK);
    assert!(ids(&browser).contains(&"color-contrast".to_owned()), "{:?}", ids(&browser));
    assert!(complaint(|| browser.accessible()).contains("color-contrast"));
}

#[test]
fn sees_what_a_phone_does_not_suit() {
    let markup = r#"<!doctype html><html lang="en"><title>Phone</title><meta name="viewport" content="width=device-width">
        <style>body { margin: 0 } button { inline-size: 6rem; block-size: 3rem } .low { block-size: 2rem }
        .far { inline-size: 30rem } .rolls { overflow-x: auto } .off { position: absolute; inset-inline-start: -100vw }</style>
        <a class="off" href="main">Skip</a><button>Tall</button><button class="low">Low</button>
        <p>Words and a <a href="x">link</a> among them.</p><p><a href="x">Alone</a></p>
        <label style="display: block; block-size: 3rem"><input type="checkbox"> In its label</label>
        <div class="rolls"><p class="far">scrolls by itself</p></div>"#;
    let (host, browser) = page(markup);
    browser.screen(PHONE);
    browser.visit("page.html");
    let small: Vec<String> = browser.too_small_for_a_thumb();
    let [low, alone] = &small[..] else { panic!("two are too small: {small:?}") };
    assert_eq!(low, "button “Low” is 96 × 32");
    assert!(alone.starts_with("a “Alone” is "), "{alone}");
    assert!(browser.wider_than(PHONE.width).is_empty(), "{:?}", browser.wider_than(PHONE.width));

    host.replace("/page.html", markup.replace("class=\"rolls\"", "class=\"flows\""));
    browser.visit("page.html");
    let wide = browser.wider_than(PHONE.width);
    assert!(wide.iter().any(|part| part.contains("class=\"far\"")), "{wide:?}");
}

#[test]
fn sees_what_is_faint_and_what_spills() {
    let markup = r#"<!doctype html><html lang="en"><title>Faint</title><style>body { background: #fff; color: #000 }
        .half { opacity: 1; color: rgb(0 0 0 / 0.4) } .large { font-size: 30px; color: #8a8a8a } .laid { background: rgb(0 0 0 / 0.6) }
        input { border: 0; border-block-end: 1px solid #ddd } button { inline-size: 3rem; padding: 0; white-space: nowrap }</style>
        <p>Black on white</p><p class="half">Half</p><p class="large">Large</p><p class="laid">Laid over</p>
        <p hidden style="color: #fff">Hidden</p><svg width="60" height="20"><text y="15" fill="silver">Drawn</text></svg>
        <label>Miles <input value="12"></label> <button>Far too long for it</button> <button>Fits</button>"#;
    let (_host, browser) = page(markup);
    browser.visit("page.html");
    let faint = browser.too_faint(4.5, 3.0);
    let told = |what: &str| faint.iter().any(|it| it.contains(what));
    assert!(told("“Half”") && told("“Laid over”") && told("“Drawn”") && told("boundary"), "{faint:?}");
    assert!(!told("“Black on white”") && !told("“Large”") && !told("“Hidden”"), "{faint:?}");
    assert!(browser.too_faint(7.0, 7.0).iter().any(|it| it.contains("“Large”")), "a higher bar catches more");
    let [spills] = &browser.spilling()[..] else { panic!("one button spills: {:?}", browser.spilling()) };
    assert!(spills.starts_with("button “Far too long for it” is "), "{spills}");
}

/// A page of its own, in a browser that has not opened it yet.
pub fn page(markup: &str) -> (Host, Browser) {
    let host = Host::of(Path::new(env!("CARGO_MANIFEST_DIR")));
    host.replace("/page.html", markup);
    host.replace("/favicon.ico", *b"");
    let browser = Browser::start(&host);
    (host, browser)
}

fn ids(browser: &Browser) -> Vec<String> {
    browser.violations().into_iter().map(|violation| violation.id).collect()
}

/// What a check says as it stops the test.
#[track_caller]
pub fn complaint(check: impl FnOnce()) -> String {
    let stopped = catch_unwind(AssertUnwindSafe(check)).expect_err("the check should have stopped here");
    stopped.downcast_ref::<String>().cloned().unwrap_or_default()
}
