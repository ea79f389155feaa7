//! Every screen, empty and full, closed and opened: axe-core finds nothing in any look, every text can be read, a phone held
//! upright does not scroll it sideways nor does a zoom of 200 or 400 %, and a thumb hits all that is to be pressed.

use kerbworth_tests::app::App;
use kerbworth_tests::browser::{DARK, FORCED, LIGHT, NARROW, PHONE, ZOOMED};

use crate::sights;

/// Rules that hang on the look; all others were asked in the first one.
const OF_COLOURS: [&str; 2] = ["color-contrast", "link-in-text-block"];

/// Looks at what is on the screen now, and tells what is wrong with it.
fn look(app: &App) -> Vec<String> {
    app.prefer(LIGHT);
    let mut wrong: Vec<String> = app.violations().iter().map(ToString::to_string).collect();
    wrong.extend(app.too_faint(4.5, 3.0));
    wrong.extend(app.wider_than(PHONE.width));
    wrong.extend(app.too_small_for_a_thumb());
    wrong.extend(app.spilling());
    let mut within = |look: &str, more: Vec<String>| wrong.extend(more.into_iter().map(|it| format!("{look}: {it}")));
    let colours = |least: f64, large: f64| {
        let broken = app.violations_of(&OF_COLOURS);
        broken.iter().map(ToString::to_string).chain(app.too_faint(least, large)).collect::<Vec<_>>()
    };
    app.prefer(DARK);
    within("in the dark", colours(4.5, 3.0));
    app.prefer(LIGHT);
    wear(app, "sun");
    within("in full sun", colours(7.0, 7.0));
    within("in full sun", app.wider_than(PHONE.width));
    within("in full sun", app.too_small_for_a_thumb());
    within("in full sun", app.spilling());
    wear(app, "device");
    for (screen, zoom) in [(ZOOMED, "at 200 %"), (NARROW, "at 400 %")] {
        app.screen(screen);
        within(zoom, app.wider_than(screen.width));
        within(zoom, app.spilling());
    }
    app.screen(PHONE);
    wrong
}

/// Puts on a look without leaving the screen; that the switch does so is tried by itself.
fn wear(app: &App, look: &str) {
    app.run("document.documentElement.dataset.theme = arguments[0]", &[look.into()]);
}

/// Walks through the sights and looks at each.
#[track_caller]
fn looked_at(walk: sights::Walk) {
    let app = App::open(PHONE);
    let (mut wrong, mut count) = (Vec::new(), 0);
    walk(&app, &mut |app, sight| {
        count += 1;
        wrong.extend(look(app).into_iter().map(|wrong| format!("{sight}: {wrong}")));
        app.screenshot(&format!("screen-{}", sight.replace([' ', ',', ':'], "-")));
    });
    assert!(count > 2, "there was something to look at");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    app.clean();
}

#[test]
fn those_before_any_worksheet() {
    looked_at(sights::before_any_worksheet);
}

#[test]
fn those_of_the_walk() {
    looked_at(|app, at| sights::of_the_demo(app, sights::of_the_walk, at));
}

#[test]
fn those_beside_the_walk() {
    looked_at(|app, at| sights::of_the_demo(app, sights::beside_the_walk, at));
}

#[test]
fn those_of_the_figures() {
    looked_at(|app, at| sights::of_the_demo(app, sights::of_the_figures, at));
}

#[test]
fn those_handed_over_compared_and_kept() {
    looked_at(|app, at| sights::of_the_demo(app, sights::handed_over_compared_and_kept, at));
}

#[test]
fn those_of_the_type_sheets() {
    looked_at(sights::of_the_type_sheets);
}

/// In the person's own colours backgrounds and shadows are gone: what is chosen, and where the focus is, still has a line.
#[test]
fn what_is_chosen_shows_in_forced_colours() {
    let app = App::open(PHONE);
    app.demo();
    app.stage(kerbworth_core::sheet::Stage::WalkRound);
    app.prefer(FORCED);
    assert_eq!(app.run("return matchMedia('(forced-colors: active)').matches", &[]), true, "the colours are forced");
    let unmarked = "return [...document.querySelectorAll('button[aria-pressed=true], a[aria-current=page]')]
        .filter((it) => it.checkVisibility()).filter((it) => {
            const { outlineStyle, outlineWidth } = getComputedStyle(it);
            return outlineStyle === 'none' || parseFloat(outlineWidth) < 2;
        }).map((it) => it.innerText)";
    assert_eq!(app.run(unmarked, &[]), serde_json::json!([]), "what is chosen has no line");
    let strokes = "return [...document.querySelectorAll('.grades path')]
        .filter((it) => getComputedStyle(it).stroke === getComputedStyle(it.closest('button')).backgroundColor).length";
    assert_eq!(app.run(strokes, &[]), 0, "tally strokes are drawn in another colour than their box");
    app.tab_to("link", "Lamps");
    let focus = "const { outlineStyle, outlineWidth } = getComputedStyle(document.activeElement);
        return outlineStyle !== 'none' && parseFloat(outlineWidth) >= 2";
    assert_eq!(app.run(focus, &[]), true, "the focus is seen");
    app.screenshot("forced-colours");
}

/// Who wants no motion gets none.
#[test]
fn nothing_moves_for_who_wants_no_motion() {
    let app = App::open(PHONE);
    app.demo();
    app.prefer(kerbworth_tests::browser::STILL);
    let moving = "return [...document.querySelectorAll('*')].filter((it) => {
        const { animationName, transitionDuration, scrollBehavior } = getComputedStyle(it);
        return animationName !== 'none' || parseFloat(transitionDuration) > 0 || scrollBehavior === 'smooth';
    }).length";
    for place in ["Checks", "Sales", "Worth"] {
        app.go(place);
        assert_eq!(app.run(moving, &[]), 0, "{place}");
        assert_eq!(app.run("return document.getAnimations().length", &[]), 0, "{place}");
    }
}
